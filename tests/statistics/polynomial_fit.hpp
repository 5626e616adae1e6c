// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <Eigen/QR>
#include <vector>

namespace pullsheet::tests {

/// The coefficients, from the constant up, of the polynomial of `order` fitted to (x, y) by least squares: by
/// Eigen alone.
inline Eigen::VectorXd polynomial_fit(const std::vector<double>& x, const std::vector<double>& y, int order) {
    const auto rows = static_cast<Eigen::Index>(x.size());
    Eigen::MatrixXd design = Eigen::MatrixXd::Ones(rows, order + 1);
    for (Eigen::Index power = 1; power <= order; ++power)
        design.col(power) =
            design.col(power - 1).cwiseProduct(Eigen::Map<const Eigen::VectorXd>(x.data(), rows));
    return design.colPivHouseholderQr().solve(Eigen::Map<const Eigen::VectorXd>(y.data(), rows));
}

}  // namespace pullsheet::tests
