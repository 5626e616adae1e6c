// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <Eigen/QR>

namespace pullsheet::statistics {

using PivotedQr = Eigen::ColPivHouseholderQR<Eigen::MatrixXd>;

// Reflections are applied one after another. Eigen's own product with its householderQ() takes them in
// blocks, which brings nothing for the few columns of a fit, and takes seconds to compile.

/// Q·y of a decomposition A·P = Q·R.
Eigen::VectorXd q_times(const PivotedQr& qr, Eigen::VectorXd y);

/// The b for which A·b comes nearest to y; A must have full rank.
Eigen::VectorXd least_squares_solution(const PivotedQr& qr, const Eigen::VectorXd& y);

}  // namespace pullsheet::statistics
