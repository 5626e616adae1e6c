// SPDX-License-Identifier: Apache-2.0
#include "core/cycle/burned_gas.hpp"

#include <algorithm>
#include <cmath>

#include "core/error.hpp"

namespace pullsheet::cycle {

namespace {

constexpr std::size_t n_species = burned_species_count;
enum : std::size_t { CO, CO2, H2, H2O, H, OH, N2, NO, O2, O, AR };

using Row = std::array<double, n_species>;

/// The polynomials of the burned species transposed: one coefficient of all species in a row.
struct PolynomialTable {
    std::array<Row, 7> low;
    std::array<Row, 7> high;
};

PolynomialTable transposed_polynomials() {
    PolynomialTable table{};
    for (std::size_t i = 0; i < n_species; ++i) {
        const Polynomial& p = polynomial(static_cast<Species>(i));
        for (std::size_t k = 0; k < 7; ++k) {
            table.low[k][i] = p.low[k];
            table.high[k][i] = p.high[k];
        }
    }
    return table;
}

double dot(const Row& a, const Row& b) {
    double sum = 0.0;
    for (std::size_t i = 0; i < n_species; ++i) sum += a[i] * b[i];
    return sum;
}

double sum(const Row& a) {
    double total = 0.0;
    for (const double x : a) total += x;
    return total;
}

/// Oxygen atoms held by the amounts `n`.
double oxygen_atoms(const Row& n) {
    return n[CO] + 2 * n[CO2] + n[H2O] + n[OH] + n[NO] + 2 * n[O2] + n[O];
}

constexpr int most_iterations = 100;
// Newton's method doubles the correct digits with each step, and the last step is applied to the results as
// well.
constexpr double small_step = 1e-5;
constexpr double rounding = 1e-13;

/// Dimensionless molar properties of the species at one temperature.
struct SpeciesProperties {
    Row heat_capacity;    // c_p/R
    Row enthalpy;         // h/(R T)
    Row gibbs;            // g°/(R T)
    Row internal_energy;  // u/(R T)
};

SpeciesProperties species_properties(double t) {
    static const PolynomialTable table = transposed_polynomials();
    const std::array<Row, 7>& a = t < polynomial_break ? table.low : table.high;
    const double log_t = std::log(t);
    SpeciesProperties p;
    for (std::size_t i = 0; i < n_species; ++i) {
        p.heat_capacity[i] = a[0][i] + t * (a[1][i] + t * (a[2][i] + t * (a[3][i] + t * a[4][i])));
        p.enthalpy[i] = a[0][i] +
                        t * (a[1][i] / 2 + t * (a[2][i] / 3 + t * (a[3][i] / 4 + t * a[4][i] / 5))) +
                        a[5][i] / t;
        const double entropy = a[0][i] * log_t +
                               t * (a[1][i] + t * (a[2][i] / 2 + t * (a[3][i] / 3 + t * a[4][i] / 4))) +
                               a[6][i];
        p.gibbs[i] = p.enthalpy[i] - entropy;
        p.internal_energy[i] = p.enthalpy[i] - 1.0;
    }
    return p;
}

/// The equilibrium of a reaction.
struct Reaction {
    double constant;  // K, partial pressures divided by the standard pressure
    double slope;     // d ln K/dT, 1/K (van 't Hoff)
};

/// The reactions that make each of these species.
struct Reactions {
    Reaction co2, h2o, o, h, oh, no;
};

Reactions reactions(const SpeciesProperties& species, double t) {
    const Row& g = species.gibbs;
    const Row& h = species.enthalpy;
    return {
        {std::exp(g[CO] + 0.5 * g[O2] - g[CO2]), (h[CO2] - h[CO] - 0.5 * h[O2]) / t},    // CO + ½ O2 = CO2
        {std::exp(g[H2] + 0.5 * g[O2] - g[H2O]), (h[H2O] - h[H2] - 0.5 * h[O2]) / t},    // H2 + ½ O2 = H2O
        {std::exp(0.5 * g[O2] - g[O]), (h[O] - 0.5 * h[O2]) / t},                        // ½ O2 = O
        {std::exp(0.5 * g[H2] - g[H]), (h[H] - 0.5 * h[H2]) / t},                        // ½ H2 = H
        {std::exp(0.5 * (g[H2] + g[O2]) - g[OH]), (h[OH] - 0.5 * (h[H2] + h[O2])) / t},  // ½ H2 + ½ O2 = OH
        {std::exp(0.5 * (g[N2] + g[O2]) - g[NO]), (h[NO] - 0.5 * (h[N2] + h[O2])) / t},  // ½ N2 + ½ O2 = NO
    };
}

/// The unknowns of Newton's method.
struct Unknowns {
    double log_oxygen;  // ½ ln n(O2)
    double log_amount;  // ln n
};

/// The initial guess without an equilibrium nearby: as if carbon and hydrogen were oxidised alike.
Unknowns without_guess(const Elements& elements, double k_co2, double log_pressure) {
    const double missing = 2.0 * elements.carbon + 0.5 * elements.hydrogen - elements.oxygen;
    const double gas = elements.carbon + 0.5 * (elements.hydrogen + elements.nitrogen) + elements.argon;
    const double log_amount = std::log(gas + std::max(0.0, -0.5 * missing));
    const double half_log_density = 0.5 * (log_pressure - log_amount);
    const double oxidised =
        std::clamp(1.0 - missing / (elements.carbon + 0.5 * elements.hydrogen), 0.01, 0.999);
    const double log_oxygen = missing < 0.0
                                  ? 0.5 * std::log(-0.5 * missing)
                                  : std::log(oxidised / (1.0 - oxidised) / k_co2) - half_log_density;
    // Not more O2 than half of all oxygen.
    return {std::min(log_oxygen, 0.5 * std::log(0.25 * elements.oxygen)), log_amount};
}

/// The initial guess by a Taylor step from an equilibrium nearby.
Unknowns from_guess(const EquilibriumGuess& guess, double temperature, double log_pressure) {
    const double dt = guess.temperature * (1.0 - guess.temperature / temperature);  // linear in 1/T
    const double dp = log_pressure - guess.log_pressure;
    return {guess.log_oxygen + guess.log_oxygen_by_temperature * dt + guess.log_oxygen_by_log_pressure * dp,
            guess.log_amount + guess.log_amount_by_temperature * dt + guess.log_amount_by_log_pressure * dp};
}

/// Amounts in equilibrium with a trial of the unknowns, carbon, hydrogen and nitrogen balanced, and their
/// derivatives.
struct Amounts {
    Row amounts;              // mol/kg
    Row by_log_oxygen;        // derivative by ½ ln n(O2)
    Row by_half_log_density;  // derivative by ½ ln (p/p° / n)
    Row by_temperature;       // derivative by T, both others kept
};

/// `total`: the trial of the total amount, mol/kg.
void set_amounts(Amounts& s, const Elements& elements, const Reactions& k, double log_oxygen, double total,
                 double relative_pressure) {
    const double root_o2 = std::exp(log_oxygen);
    const double root_density = std::sqrt(relative_pressure / total);
    Row& n = s.amounts;
    const double z_co2 = k.co2.constant * root_density * root_o2;
    n[CO] = elements.carbon / (1.0 + z_co2);
    n[CO2] = n[CO] * z_co2;
    const double z_h2o = k.h2o.constant * root_density * root_o2;
    const double a_h = 2.0 * (1.0 + z_h2o);
    const double b_h = k.h.constant / root_density + k.oh.constant * root_o2;
    const double root_h2 =
        2.0 * elements.hydrogen / (b_h + std::sqrt(b_h * b_h + 4.0 * a_h * elements.hydrogen));
    n[H2] = root_h2 * root_h2;
    n[H2O] = z_h2o * n[H2];
    n[H] = root_h2 * k.h.constant / root_density;
    n[OH] = root_h2 * k.oh.constant * root_o2;
    const double b_n = k.no.constant * root_o2;
    const double root_n2 = 2.0 * elements.nitrogen / (b_n + std::sqrt(b_n * b_n + 8.0 * elements.nitrogen));
    n[N2] = root_n2 * root_n2;
    n[NO] = b_n * root_n2;
    n[O2] = root_o2 * root_o2;
    n[O] = k.o.constant * root_o2 / root_density;
    n[AR] = elements.argon;

    const double w = z_co2 / (1.0 + z_co2);
    const double d_h = 4.0 * (n[H2] + n[H2O]) + n[H] + n[OH];
    const double d_n = 4.0 * n[N2] + n[NO];
    const double h_o = d_h > 0.0 ? -(2.0 * n[H2O] + n[OH]) / d_h : 0.0;
    const double h_d = d_h > 0.0 ? -(2.0 * n[H2O] - n[H]) / d_h : 0.0;
    const double h_t =
        d_h > 0.0 ? -(2.0 * n[H2O] * k.h2o.slope + n[H] * k.h.slope + n[OH] * k.oh.slope) / d_h : 0.0;
    const double n_o = d_n > 0.0 ? -n[NO] / d_n : 0.0;
    s.by_log_oxygen = {-n[CO] * w,
                       n[CO2] * (1.0 - w),
                       2.0 * n[H2] * h_o,
                       n[H2O] * (1.0 + 2.0 * h_o),
                       n[H] * h_o,
                       n[OH] * (1.0 + h_o),
                       2.0 * n[N2] * n_o,
                       n[NO] * (1.0 + n_o),
                       2.0 * n[O2],
                       n[O],
                       0.0};
    s.by_half_log_density = {-n[CO] * w,
                             n[CO2] * (1.0 - w),
                             2.0 * n[H2] * h_d,
                             n[H2O] * (1.0 + 2.0 * h_d),
                             n[H] * (h_d - 1.0),
                             n[OH] * h_d,
                             0.0,
                             0.0,
                             0.0,
                             -n[O],
                             0.0};
    s.by_temperature = {-n[CO] * w * k.co2.slope,
                        n[CO2] * (1.0 - w) * k.co2.slope,
                        2.0 * n[H2] * h_t,
                        n[H2O] * (k.h2o.slope + 2.0 * h_t),
                        n[H] * (k.h.slope + h_t),
                        n[OH] * (k.oh.slope + h_t),
                        2.0 * n[N2] * n_o * k.no.slope,
                        n[NO] * k.no.slope * (1.0 + n_o),
                        0.0,
                        n[O] * k.o.slope,
                        0.0};
}

struct Solution : Amounts {
    SpeciesProperties species;
    double oxygen_step, amount_step;  // last Newton step, not yet in `amounts`
};

Solution solve(const Elements& elements, double temperature, double pressure, EquilibriumGuess& guess) {
    Solution s;
    s.species = species_properties(temperature);
    const Reactions k = reactions(s.species, temperature);
    const double relative_pressure = pressure / standard_pressure;
    const double log_pressure = std::log(relative_pressure);
    Unknowns at = guess.known ? from_guess(guess, temperature, log_pressure)
                              : without_guess(elements, k.co2.constant, log_pressure);
    for (int iteration = 0;; ++iteration) {
        const double total = std::exp(at.log_amount);
        set_amounts(s, elements, k, at.log_oxygen, total, relative_pressure);
        // Two equations are left: f, oxygen balance, and g, total amount.
        const double f = oxygen_atoms(s.amounts) - elements.oxygen;
        const double g = sum(s.amounts) - total;
        const double f_o = oxygen_atoms(s.by_log_oxygen);
        const double f_d = oxygen_atoms(s.by_half_log_density);
        const double g_o = sum(s.by_log_oxygen);
        const double g_d = sum(s.by_half_log_density);
        const double f_n = -0.5 * f_d;
        const double g_n = -0.5 * g_d - total;
        const double determinant = f_o * g_n - f_n * g_o;
        s.oxygen_step = std::clamp((-f * g_n + g * f_n) / determinant, -3.0, 3.0);
        s.amount_step = std::clamp((-g * f_o + f * g_o) / determinant, -0.2, 0.2);
        at.log_oxygen += s.oxygen_step;
        at.log_amount += s.amount_step;
        // Cold and almost stoichiometric gas has so little O2 and CO that rounding hides how much.
        const bool balanced = std::abs(f) < rounding * elements.oxygen && std::abs(g) < rounding * total;
        if (balanced || (std::abs(s.oxygen_step) < small_step && std::abs(s.amount_step) < small_step)) {
            const double f_t = oxygen_atoms(s.by_temperature);
            const double g_t = sum(s.by_temperature);
            guess.known = true;
            guess.temperature = temperature;
            guess.log_pressure = log_pressure;
            guess.log_oxygen = at.log_oxygen;
            guess.log_amount = at.log_amount;
            guess.log_oxygen_by_temperature = (-f_t * g_n + g_t * f_n) / determinant;
            guess.log_amount_by_temperature = (-g_t * f_o + f_t * g_o) / determinant;
            guess.log_oxygen_by_log_pressure = 0.5 * (-f_d * g_n + g_d * f_n) / determinant;
            guess.log_amount_by_log_pressure = 0.5 * (-g_d * f_o + f_d * g_o) / determinant;
            return s;
        }
        if (!(iteration < most_iterations))
            throw NoSolution(Reason::no_equilibrium,
                             {{temperature, Quantity::temperature}, {pressure, Quantity::pressure}});
    }
}

}  // namespace

BurnedGas::BurnedGas(const Elements& elements) : elements_(elements) {
    if (!(elements.oxygen > elements.carbon)) throw InvalidArgument("lambda", Reason::too_rich_for_gas);
}

BurnedProperties BurnedGas::properties(double temperature, double pressure, EquilibriumGuess& guess) const {
    const Solution s = solve(elements_, temperature, pressure, guess);
    const double rt = molar_gas_constant * temperature;
    const double u_o = dot(s.by_log_oxygen, s.species.internal_energy);
    const double u_d = dot(s.by_half_log_density, s.species.internal_energy);
    const double u_t = dot(s.by_temperature, s.species.internal_energy);
    const double amount = std::exp(guess.log_amount);
    BurnedProperties p;
    p.gas_constant = molar_gas_constant * amount;
    p.gas_constant_by_temperature = p.gas_constant * guess.log_amount_by_temperature;
    p.gas_constant_by_log_pressure = p.gas_constant * guess.log_amount_by_log_pressure;
    p.internal_energy =
        rt * (dot(s.amounts, s.species.internal_energy) + u_o * s.oxygen_step - 0.5 * u_d * s.amount_step);
    p.internal_energy_by_temperature =
        molar_gas_constant * (dot(s.amounts, s.species.heat_capacity) - amount) +
        rt * (u_t + u_o * guess.log_oxygen_by_temperature - 0.5 * u_d * guess.log_amount_by_temperature);
    p.internal_energy_by_log_pressure =
        rt * (u_o * guess.log_oxygen_by_log_pressure + 0.5 * u_d * (1.0 - guess.log_amount_by_log_pressure));
    return p;
}

Composition BurnedGas::composition(double temperature, double pressure) const {
    EquilibriumGuess guess;
    const Solution s = solve(elements_, temperature, pressure, guess);
    Composition n = s.amounts;
    for (std::size_t i = 0; i < n_species; ++i)
        n[i] += s.by_log_oxygen[i] * s.oxygen_step - 0.5 * s.by_half_log_density[i] * s.amount_step;
    return n;
}

Polynomial frozen(const Composition& composition) {
    Polynomial mixture{};
    for (std::size_t i = 0; i < n_species; ++i)
        mixture.add(polynomial(static_cast<Species>(i)), composition[i] * molar_gas_constant);
    return mixture;
}

double gas_constant(const Composition& composition) {
    return molar_gas_constant * sum(composition);
}

}  // namespace pullsheet::cycle
