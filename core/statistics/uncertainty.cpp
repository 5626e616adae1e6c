// SPDX-License-Identifier: Apache-2.0
#include "core/statistics/uncertainty.hpp"

#include <algorithm>
#include <cmath>

#include "core/series.hpp"

namespace pullsheet::statistics {

namespace {

// What one argument does: effect of one standard uncertainty, and the curvature of the model over it.
struct Difference {
    double effect;
    double bend;
    bool one_sided;
};

Difference difference(const Model& model, std::vector<double>& x, std::size_t i, double u, double at_x) {
    const double middle = x[i];
    const auto moved = [&](double by) {
        x[i] = middle + by;
        const double value = model(x);
        x[i] = middle;
        return value;
    };
    double above = std::nan("");
    double below = std::nan("");
    for (const double part : {1.0, 0.01}) {
        above = moved(part * u);
        below = moved(-part * u);
        if (std::isfinite(above) && std::isfinite(below))
            return {0.5 * (above - below) / part, 0.5 * std::abs(above - 2.0 * at_x + below) / (part * part),
                    false};
    }
    if (std::isfinite(above)) return {(above - at_x) / 0.01, 0.0, true};
    if (std::isfinite(below)) return {(at_x - below) / 0.01, 0.0, true};
    throw NoSolution(Reason::not_finite);
}

}  // namespace

Uncertain propagate(const Model& model, std::span<const double> arguments,
                    std::span<const double> standard_uncertainties) {
    constexpr double much_bent = 0.1;
    constexpr double matters = 0.05;
    const std::size_t n = arguments.size();
    require_length("standard_uncertainties", n, standard_uncertainties);
    require_all("standard_uncertainties", standard_uncertainties, not_negative);

    std::vector<double> x(arguments.begin(), arguments.end());
    Uncertain result{model(x), 0.0, std::vector<Contribution>(n), {}};
    if (!std::isfinite(result.value)) throw NoSolution(Reason::not_finite);

    std::vector<Difference> differences(n);
    double largest = 0.0;
    for (std::size_t i = 0; i < n; ++i) {
        if (standard_uncertainties[i] > 0.0)
            differences[i] = difference(model, x, i, standard_uncertainties[i], result.value);
        result.contributions[i].effect = differences[i].effect;
        largest = std::max({largest, std::abs(differences[i].effect), differences[i].bend});
    }
    if (!(largest > 0.0)) return result;

    double squares = 0.0;
    for (const Difference& d : differences) squares += std::pow(d.effect / largest, 2);
    result.uncertainty = largest * std::sqrt(squares);
    for (std::size_t i = 0; i < n; ++i) {
        const auto& [effect, bend, one_sided] = differences[i];
        if (squares > 0.0) result.contributions[i].share = std::pow(effect / largest, 2) / squares;
        const Detail position = counted(i + 1);
        if (one_sided) result.warnings.push_back({Reason::one_sided_difference, {position}});
        if (bend > much_bent * std::abs(effect) && bend > matters * result.uncertainty) {
            const double missed = bend / std::max(std::abs(effect), bend);
            result.warnings.push_back({Reason::strongly_curved, {position, {missed, Quantity::share}}});
        }
    }
    return result;
}

}  // namespace pullsheet::statistics
