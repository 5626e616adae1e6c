// SPDX-License-Identifier: Apache-2.0
#include "core/statistics/smoothing.hpp"

#include <algorithm>
#include <cmath>
#include <optional>
#include <utility>

#include "core/statistics/reflections.hpp"

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

    // The polynomial through `values` of the rows, as multiples of the Legendre polynomials.
    Eigen::VectorXd fitted(std::span<const double> values) const {
        return least_squares_solution(
            qr_, Eigen::Map<const Eigen::VectorXd>(values.data(), static_cast<Eigen::Index>(values.size())));
    }
    // Its value at a row.
    double value(const Eigen::VectorXd& polynomial, std::size_t position) const {
        return legendre(scaled(position), order_, 0).dot(polynomial);
    }

    // What the values of the rows are multiplied by to give the polynomial, or a derivative of it, at a row.
    std::vector<double> weights(std::size_t derivative, std::size_t position) const {
        // The fit is b = P R⁻¹ Qᵀ y, and what is wanted is vᵀb = (Q R⁻ᵀ Pᵀ v)ᵀ y.
        const auto terms = static_cast<Eigen::Index>(order_ + 1);
        const Eigen::VectorXd wanted =
            legendre(scaled(position), order_, derivative) / std::pow(half_, static_cast<double>(derivative));
        Eigen::VectorXd weight = Eigen::VectorXd::Zero(qr_.rows());
        const Eigen::VectorXd pivoted = qr_.colsPermutation().transpose() * wanted;
        weight.head(terms) = qr_.matrixR()
                                 .topLeftCorner(terms, terms)
                                 .triangularView<Eigen::Upper>()
                                 .transpose()
                                 .solve(pivoted);
        weight = q_times(qr_, std::move(weight));
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
    PivotedQr qr_;
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
    if (n < values.size())
        result.warnings.push_back({Reason::rows_not_numeric, {counted(values.size() - n)}});
    if (numbers < n) result.warnings.push_back({Reason::rows_filled, {counted(n - numbers)}});

    const std::size_t half = width / 2;
    refuse_too_long(y, width, degree);
    const WindowFit full(all_rows(width), width, degree);
    const std::vector<double> centre = full.weights(0, half);
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
            if (rows.size() < degree + 1)
                throw NoData(Reason::too_few_points, {counted(rows.size()), counted(degree + 1)});
            fit.emplace(rows, width, degree);
            polynomial = fit->fitted(held);
            fitted_at = begin;
        }
        result.values[i] = fit->value(polynomial, i - begin);
    }
    return result;
}

}  // namespace pullsheet::statistics
