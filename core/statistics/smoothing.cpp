// SPDX-License-Identifier: Apache-2.0
#include "core/statistics/smoothing.hpp"

#include <Eigen/QR>
#include <algorithm>
#include <cmath>
#include <optional>

#include "core/series.hpp"

namespace pullsheet::statistics {

namespace {

// The Legendre polynomials of the degrees 0 … order at u in [−1, 1]: a basis that is well conditioned for any
// window.
Eigen::VectorXd legendre(double u, std::size_t order) {
    const auto terms = static_cast<Eigen::Index>(order + 1);
    Eigen::VectorXd p = Eigen::VectorXd::Ones(terms);
    if (terms > 1) p(1) = u;
    for (Eigen::Index k = 2; k < terms; ++k) {
        const auto n = static_cast<double>(k);
        // Recurrence of Bonnet: n P_n = (2n − 1) u P_(n−1) − (n − 1) P_(n−2).
        p(k) = ((2.0 * n - 1.0) * (u * p(k - 1)) - (n - 1.0) * p(k - 2)) / n;
    }
    return p;
}

// The least-squares fit of a polynomial to those rows of a window that hold a number.
class WindowFit {
  public:
    WindowFit(const std::vector<std::size_t>& rows, std::size_t window, std::size_t order)
        : middle_(0.5 * static_cast<double>(window - 1)),
          half_(std::max(middle_, 0.5)),
          order_(order),
          qr_(design(rows)) {}

    // The polynomial fitted to `values` of the rows: its coefficients in the Legendre basis.
    Eigen::VectorXd fitted(std::span<const double> values) const {
        return qr_.solve(
            Eigen::Map<const Eigen::VectorXd>(values.data(), static_cast<Eigen::Index>(values.size())));
    }
    // Its value at a row.
    double value(const Eigen::VectorXd& polynomial, std::size_t position) const {
        return basis_at(position).dot(polynomial);
    }

    // The weights by which the values of the rows are multiplied to give the polynomial's value at a row.
    std::vector<double> weights(std::size_t position) const {
        const Eigen::VectorXd weight = qr_.transpose().solve(basis_at(position));
        return {weight.begin(), weight.end()};
    }

  private:
    Eigen::VectorXd basis_at(std::size_t row) const {
        return legendre((static_cast<double>(row) - middle_) / half_, order_);
    }
    Eigen::MatrixXd design(const std::vector<std::size_t>& rows) const {
        Eigen::MatrixXd matrix(static_cast<Eigen::Index>(rows.size()), static_cast<Eigen::Index>(order_ + 1));
        for (std::size_t i = 0; i < rows.size(); ++i)
            matrix.row(static_cast<Eigen::Index>(i)) = basis_at(rows[i]).transpose();
        return matrix;
    }

    double middle_;
    double half_;
    std::size_t order_;
    Eigen::ColPivHouseholderQR<Eigen::MatrixXd> qr_;
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

// Each row takes one product a row of its window, each window with a gap a fit of its own.
void refuse_too_long(std::span<const double> y, std::size_t width, std::size_t order) {
    constexpr double most_products = 1e9;
    constexpr double products_of_fit = 60.0;  // a row and a term, against one product; measured
    std::size_t with_gaps = 0;
    std::size_t gaps = 0;
    for (std::size_t end = 0; end < y.size(); ++end) {
        if (!std::isfinite(y[end])) ++gaps;
        if (end >= width && !std::isfinite(y[end - width])) --gaps;
        if (end + 1 >= width && gaps > 0) ++with_gaps;
    }
    const auto window = static_cast<double>(width);
    const double products =
        window * (static_cast<double>(y.size()) +
                  products_of_fit * static_cast<double>(order + 1) * static_cast<double>(with_gaps));
    if (products > most_products)
        throw InvalidArgument("window", Reason::smoothing_too_long,
                              {counted(y.size()), counted(width), counted(with_gaps)});
}

}  // namespace

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
    require_points(numbers, 3);
    const std::size_t width = whole_odd_window(window, degree, n);

    Smoothed result{std::vector<double>(n), start, {}};
    if (n < values.size())
        result.warnings.push_back({Reason::rows_not_numeric, {counted(values.size() - n)}});
    if (numbers < n) result.warnings.push_back({Reason::rows_filled, {counted(n - numbers)}});

    const std::size_t half = width / 2;
    refuse_too_long(y, width, degree);
    const WindowFit full(all_rows(width), width, degree);
    const std::vector<double> centre = full.weights(half);
    // The rows of an end share one window, and with it one polynomial.
    std::optional<WindowFit> fit;
    Eigen::VectorXd polynomial;
    std::size_t fitted_at = n;
    for (std::size_t i = 0; i < n; ++i) {
        const std::size_t begin = std::min(i > half ? i - half : 0, n - width);
        const std::span<const double> in_window = y.subspan(begin, width);
        const bool in_the_middle = i - begin == half;
        const bool has_gaps = numbers < n && !std::all_of(in_window.begin(), in_window.end(), is_number);
        if (in_the_middle && !has_gaps) {
            result.values[i] = weighted(centre, in_window);
            continue;
        }
        if (fitted_at != begin) {
            std::vector<std::size_t> rows;
            std::vector<double> held;
            for (std::size_t k = 0; k < width; ++k) {
                if (!is_number(in_window[k])) continue;
                rows.push_back(k);
                held.push_back(in_window[k]);
            }
            require_points(rows.size(), degree + 1);
            fit.emplace(rows, width, degree);
            polynomial = fit->fitted(held);
            fitted_at = begin;
        }
        result.values[i] = fit->value(polynomial, i - begin);
    }
    return result;
}

}  // namespace pullsheet::statistics
