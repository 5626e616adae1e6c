// SPDX-License-Identifier: Apache-2.0
#include "core/statistics/gain.hpp"

#include <array>
#include <boost/math/distributions/students_t.hpp>
#include <cmath>

#include "core/error.hpp"
#include "core/series.hpp"
#include "core/statistics/repeatability.hpp"

namespace pullsheet::statistics {

double effective_freedom(std::span<const double> uncertainties, std::span<const double> freedoms) {
    require_length("freedoms", uncertainties.size(), freedoms);
    double largest = 0.0;
    for (const double u : uncertainties)
        largest = std::max(largest, require("uncertainties", u, not_negative));
    require("uncertainties", largest, positive);
    double squares = 0.0;
    double fourths = 0.0;
    for (std::size_t i = 0; i < uncertainties.size(); ++i) {
        const double square = std::pow(uncertainties[i] / largest, 2);
        squares += square;
        fourths += square * square / require("freedoms", freedoms[i], positive);
    }
    return squares * squares / fourths;
}

Gain gain(const Summary& before, const Summary& after, double confidence) {
    const auto error_of_mean = [](const Summary& s) {
        return s.standard_deviation / std::sqrt(static_cast<double>(s.count));
    };
    const std::array errors{error_of_mean(before), error_of_mean(after)};
    const double standard_error = std::hypot(errors[0], errors[1]);
    if (!(standard_error > 0.0)) throw NoSolution(Reason::no_scatter);
    Gain result{};
    result.gain = after.mean - before.mean;
    result.freedom = effective_freedom(
        errors, std::array{static_cast<double>(before.count - 1), static_cast<double>(after.count - 1)});
    result.t = result.gain / standard_error;
    const double half_width = student_t(confidence, result.freedom) * standard_error;
    result.low = result.gain - half_width;
    result.high = result.gain + half_width;
    const ::boost::math::students_t distribution(result.freedom);
    result.p = 2.0 * ::boost::math::cdf(::boost::math::complement(distribution, std::abs(result.t)));
    return result;
}

Gain gain(std::span<const double> before, std::span<const double> after, double confidence) {
    return gain(summarise(before, "before"), summarise(after, "after"), confidence);
}

}  // namespace pullsheet::statistics
