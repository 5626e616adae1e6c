// SPDX-License-Identifier: Apache-2.0
#include "core/statistics/smoothing.hpp"

#include <Eigen/QR>
#include <algorithm>
#include <cmath>

namespace pullsheet::statistics {

namespace {

// Legendre polynomials as a basis: well conditioned for any window. Returns the value or a derivative of each
// at u in [−1, 1].
Eigen::VectorXd legendre(double u, std::size_t order, std::size_t derivative) {
    const auto terms = static_cast<Eigen::Index>(order + 1);
    // Column d: the d-th derivative of each polynomial.
    Eigen::MatrixXd p = Eigen::MatrixXd::Zero(terms, static_cast<Eigen::Index>(derivative + 1));
    for (Eigen::Index d = 0; d < p.cols(); ++d) {
        for (Eigen::Index k = 0; k < terms; ++k) {
            const auto n = static_cast<double>(k);
            if (k == 0) {
                p(k, d) = d == 0 ? 1.0 : 0.0;
            } else if (k == 1) {
                p(k, d) = d == 0 ? u : (d == 1 ? 1.0 : 0.0);
            } else {
                // n P_n = (2n − 1) u P_(n−1) − (n − 1) P_(n−2), differentiated d times.
                const double of_lower = d > 0 ? static_cast<double>(d) * p(k - 1, d - 1) : 0.0;
                p(k, d) = ((2.0 * n - 1.0) * (u * p(k - 1, d) + of_lower) - (n - 1.0) * p(k - 2, d)) / n;
            }
        }
    }
    return p.col(p.cols() - 1);
}

// The fit of a polynomial to those rows of a window that hold a number.
class WindowFit {
  public:
    WindowFit(const std::vector<std::size_t>& rows, std::size_t window, std::size_t order)
        : middle_(0.5 * static_cast<double>(window - 1)),
          half_(std::max(middle_, 0.5)),
          order_(order),
          qr_(design(rows)) {}

    // What the values of the rows are multiplied by to give the polynomial, or a derivative of it, at a row.
    std::vector<double> weights(std::size_t derivative, std::size_t position) const {
        // The fit is b = (QR)⁺y, and what is wanted is vᵀb = (Q R⁻ᵀ v)ᵀ y.
        const auto terms = static_cast<Eigen::Index>(order_ + 1);
        const Eigen::VectorXd wanted =
            legendre(scaled(position), order_, derivative) / std::pow(half_, static_cast<double>(derivative));
        Eigen::VectorXd weight = Eigen::VectorXd::Zero(qr_.rows());
        weight.head(terms) = qr_.matrixQR()
                                 .topLeftCorner(terms, terms)
                                 .triangularView<Eigen::Upper>()
                                 .transpose()
                                 .solve(wanted);
        weight.applyOnTheLeft(qr_.householderQ());
        return {weight.begin(), weight.end()};
    }

  private:
    double scaled(std::size_t row) const { return (static_cast<double>(row) - middle_) / half_; }
    Eigen::MatrixXd design(const std::vector<std::size_t>& rows) const {
        Eigen::MatrixXd matrix(static_cast<Eigen::Index>(rows.size()), static_cast<Eigen::Index>(order_ + 1));
        for (std::size_t i = 0; i < rows.size(); ++i)
            matrix.row(static_cast<Eigen::Index>(i)) = legendre(scaled(rows[i]), order_, 0).transpose();
        return matrix;
    }

    double middle_;
    double half_;
    std::size_t order_;
    Eigen::HouseholderQR<Eigen::MatrixXd> qr_;
};

std::vector<std::size_t> all_rows(std::size_t window) {
    std::vector<std::size_t> rows(window);
    for (std::size_t i = 0; i < window; ++i) rows[i] = i;
    return rows;
}

double weighted(const std::vector<double>& weight, std::span<const double> values) {
    double sum = 0.0;
    for (std::size_t i = 0; i < weight.size(); ++i) sum += weight[i] * values[i];
    return sum;
}

std::size_t whole_odd_window(double window, std::size_t order, std::size_t rows) {
    if (!(std::isfinite(window) && window == std::floor(window) && std::fmod(window, 2.0) == 1.0))
        throw InvalidArgument("window", Reason::not_odd, {{window, Quantity::number}});
    require("window", window, {static_cast<double>(order + 1), static_cast<double>(rows)});
    return static_cast<std::size_t>(window);
}

}  // namespace

std::vector<double> savitzky_golay_weights(std::size_t window, std::size_t order, std::size_t derivative,
                                           std::size_t position) {
    require("order", static_cast<double>(order), {0.0, static_cast<double>(highest_smoothing_order)});
    whole_odd_window(static_cast<double>(window), order, window);
    return WindowFit(all_rows(window), window, order).weights(derivative, position);
}

Smoothed smooth(std::span<const double> values, double window, double order) {
    require("order", order, {0.0, static_cast<double>(highest_smoothing_order)});
    if (order != std::floor(order)) throw InvalidArgument("order", Reason::not_whole, {{order}});
    const auto degree = static_cast<std::size_t>(order);

    const auto is_number = [](double value) { return std::isfinite(value); };
    const auto first = std::find_if(values.begin(), values.end(), is_number);
    const auto last = std::find_if(values.rbegin(), values.rend(), is_number).base();
    const auto start = static_cast<std::size_t>(first - values.begin());
    const std::size_t n = first < last ? static_cast<std::size_t>(last - first) : 0;
    const std::span<const double> y = values.subspan(n > 0 ? start : 0, n);
    const auto numbers = static_cast<std::size_t>(std::count_if(y.begin(), y.end(), is_number));
    if (numbers < 3) throw NoData(Reason::too_few_points, {counted(numbers), counted(3)});
    const std::size_t width = whole_odd_window(window, degree, n);

    Smoothed result{std::vector<double>(n), start, {}};
    if (n < values.size()) result.warnings.push_back({Reason::rows_not_numeric, {counted(values.size() - n)}});
    if (numbers < n) result.warnings.push_back({Reason::rows_filled, {counted(n - numbers)}});

    const std::size_t half = width / 2;
    const WindowFit full(all_rows(width), width, degree);
    const std::vector<double> centre = full.weights(0, half);
    for (std::size_t i = 0; i < n; ++i) {
        const std::size_t begin = std::min(i > half ? i - half : 0, n - width);
        const std::span<const double> in_window = y.subspan(begin, width);
        if (numbers == n || std::all_of(in_window.begin(), in_window.end(), is_number)) {
            const bool in_the_middle = i - begin == half;
            result.values[i] = weighted(in_the_middle ? centre : full.weights(0, i - begin), in_window);
            continue;
        }
        std::vector<std::size_t> rows;
        std::vector<double> held;
        for (std::size_t k = 0; k < width; ++k) {
            if (!is_number(in_window[k])) continue;
            rows.push_back(k);
            held.push_back(in_window[k]);
        }
        if (rows.size() < degree + 1)
            throw NoData(Reason::too_few_points, {counted(rows.size()), counted(degree + 1)});
        result.values[i] = weighted(WindowFit(rows, width, degree).weights(0, i - begin), held);
    }
    return result;
}

}  // namespace pullsheet::statistics
