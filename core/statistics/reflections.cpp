// SPDX-License-Identifier: Apache-2.0
#include "core/statistics/reflections.hpp"

namespace pullsheet::statistics {

namespace {

void reflect(const PivotedQr& qr, Eigen::Index k, Eigen::VectorXd& y) {
    const Eigen::Index below = qr.rows() - k - 1;
    double workspace = 0.0;
    y.tail(below + 1).applyHouseholderOnTheLeft(qr.matrixQR().col(k).tail(below), qr.hCoeffs().coeff(k),
                                                &workspace);
}

}  // namespace

Eigen::VectorXd q_times(const PivotedQr& qr, Eigen::VectorXd y) {
    for (Eigen::Index k = qr.hCoeffs().size(); k-- > 0;) reflect(qr, k, y);
    return y;
}

Eigen::VectorXd least_squares_solution(const PivotedQr& qr, const Eigen::VectorXd& y) {
    const Eigen::Index columns = qr.cols();
    Eigen::VectorXd projected = y;  // Qᵀ·y
    for (Eigen::Index k = 0; k < columns; ++k) reflect(qr, k, projected);
    const Eigen::VectorXd pivoted = qr.matrixR()
                                        .topLeftCorner(columns, columns)
                                        .triangularView<Eigen::Upper>()
                                        .solve(projected.head(columns));
    return qr.colsPermutation() * pivoted;
}

}  // namespace pullsheet::statistics
