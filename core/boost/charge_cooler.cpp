// SPDX-License-Identifier: Apache-2.0
#include "core/boost/charge_cooler.hpp"

#include <boost/math/special_functions/gamma.hpp>
#include <cmath>

#include "core/error.hpp"
#include "core/solve.hpp"

namespace pullsheet::boost {

namespace {

double counterflow(double n, double c) {
    if (c == 1.0) return n / (1.0 + n);
    // 1 − e^(−N(1−C)) without loss of digits near C = 1.
    const double filled = -std::expm1(-n * (1.0 - c));
    return filled / (1.0 - c + c * filled);
}

double parallel_flow(double n, double c) {
    return -std::expm1(-n * (1.0 + c)) / (1.0 + c);
}

/// ε = 1/(C·N)·Σ P(k+1, N)·P(k+1, C·N), k = 0, 1, …, with P the regularised lower incomplete gamma function.
double crossflow(double n, double c) {
    if (n == 0.0) return 0.0;
    if (c * n < 1e-12) return -std::expm1(-n);
    double sum = 0.0;
    for (int k = 0; k < 4000; ++k) {
        const double term = ::boost::math::gamma_p(k + 1.0, n) * ::boost::math::gamma_p(k + 1.0, c * n);
        sum += term;
        if (term < 1e-16 * sum) break;
    }
    return sum / (c * n);
}

}  // namespace

double charge_temperature(double compressor_temperature, double coolant_temperature, double effectiveness) {
    require("inlet_temperature", compressor_temperature, positive);
    require("coolant_temperature", coolant_temperature, positive);
    require("effectiveness", effectiveness, unit_share);
    return compressor_temperature - effectiveness * (compressor_temperature - coolant_temperature);
}

double charge_effectiveness(double inlet, double outlet, double coolant) {
    require("inlet_temperature", inlet, positive);
    require("coolant_temperature", coolant, positive);
    if (inlet == coolant) {
        throw InvalidArgument("coolant_temperature", Reason::no_temperature_difference,
                              {{inlet, Quantity::temperature}});
    }
    require("outlet_temperature", outlet, {std::fmin(inlet, coolant), std::fmax(inlet, coolant)});
    return (inlet - outlet) / (inlet - coolant);
}

double effectiveness(double transfer_units, double capacity_ratio, FlowArrangement arrangement) {
    require("transfer_units", transfer_units, {0.0, 1000.0});
    require("capacity_ratio", capacity_ratio, unit_share);
    switch (arrangement) {
        case FlowArrangement::counterflow: return counterflow(transfer_units, capacity_ratio);
        case FlowArrangement::parallel_flow: return parallel_flow(transfer_units, capacity_ratio);
        case FlowArrangement::crossflow: break;
    }
    // The sum of a long series may end a rounding above the whole.
    return std::fmin(1.0, crossflow(transfer_units, capacity_ratio));
}

double transfer_units(double effectiveness, double capacity_ratio, FlowArrangement arrangement) {
    require("effectiveness", effectiveness, {0.0, 1.0, false, true});
    require("capacity_ratio", capacity_ratio, unit_share);
    constexpr double most = 1000.0;
    const double highest = boost::effectiveness(most, capacity_ratio, arrangement);
    return root_between(
        [&](double n) { return boost::effectiveness(n, capacity_ratio, arrangement) - effectiveness; }, 0.0,
        most, Reason::effectiveness_out_of_reach,
        {{effectiveness, Quantity::share}, {highest, Quantity::share}});
}

}  // namespace pullsheet::boost
