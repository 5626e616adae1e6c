// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstddef>
#include <optional>
#include <vector>

#include "core/cycle/boost_limit.hpp"
#include "core/plan/limits.hpp"

namespace pullsheet::plan {

/// A fuel on offer.
struct OfferedFuel {
    fuel::Fuel fuel{};
    double lambda = 0.85;  ///< at full load
};

/// The latest half-burned angle over engine speed, that of the measured fuel and stage at the gas temperature
/// of the measured point: other fuels and stages run no later.
struct CalibratedBurn {
    std::vector<double> speeds;  ///< rad/s, rising
    std::vector<double> angles;  ///< rad after top dead centre
    /// Linear between the speeds, the end values held outside.
    double at(double speed) const;
};

/// Relative standard uncertainty of the power of a cycle to which nothing was measured. Common practice.
inline constexpr double usual_uncalibrated_uncertainty = 0.08;

/// The cycle of an engine, what it bears, and what it was calibrated to. As it stands it is not calibrated;
/// `calibrated` makes one that is.
struct CalibratedEngine {
    cycle::Cylinder cylinder{};  ///< with octane offset and efficiency factor
    /// Relative standard uncertainty of the power to which it was calibrated.
    double power_uncertainty = usual_uncalibrated_uncertainty;
    /// What the engine bears where a stage does not state it: assumptions.
    double latest_half_burned = 35.0 * pi / 180.0;  ///< rad after top dead centre
    double gas_temperature = 1323.15;               ///< K, as a probe before the turbine reads it
    double peak_pressure = 140e5;                   ///< Pa in the cylinder
    std::optional<CalibratedBurn> burn{};
    std::vector<Warning> warnings{};  ///< of the calibration
};

/// What a prediction at one speed stands on.
struct StageBase {
    Engine engine{};                  ///< for the chain; its efficiency only starts the iteration
    CalibratedEngine engine_model{};  ///< the cycle
    Weather weather{};
};

/// The base with the compression ratio that the parts of a stage state.
StageBase for_stage(const StageBase& base, const Parts& parts);

/// The share of dry air in the pressure of the day: the cycle knows no water vapour.
double dry_share(const Weather& weather);

/// What of the engine limits a stage on a fuel where no part does.
enum class EngineBound { knock, exhaust_temperature, peak_pressure, assumed_peak_pressure };

/// What limits a stage on a fuel.
struct LimitedBy {
    std::optional<std::size_t> part{};  ///< index of the limiting part; none: `engine`
    EngineBound engine = EngineBound::knock;
    std::optional<Warning> data_end{};  ///< the part is not known beyond, and why; it is not at its limit
};

/// The limit of one stage on one fuel at one speed.
struct StageLimit {
    double power = 0.0;  ///< W
    LimitedBy limited_by{};
    double manifold_pressure = 0.0;  ///< Pa
    double spark_angle = 0.0;        ///< rad before top dead centre
    double efficiency = 0.0;         ///< brake, share
    double gas_temperature = 0.0;    ///< K, as a probe before the turbine reads it
    double peak_pressure = 0.0;      ///< Pa in the cylinder
    double half_burned_angle = 0.0;  ///< rad after top dead centre
    std::vector<Warning> warnings;
};

/// Initial guess of a limit; the search leaves there what it found, the guess for the next speed.
struct InitialGuess {
    Engine engine;                   ///< with the efficiency
    double power;                    ///< W
    double manifold_pressure = 0.0;  ///< Pa of dry air where the engine is the limit; 0: not known
    double slope = -1.4;             ///< of the fuel iteration there
    double half_burned = 0.0;        ///< rad, there; 0: not known
};

/// The limit of the engine at an angular speed, rad/s, whatever the parts carry: cycle::boost_limit at the
/// charge temperature that the chain of parts gives. Charge temperature, fuel burned and efficiency depend on
/// one another; they are iterated on the fuel burned to 1e-3, which leaves the power within some 2e-4. Throws
/// NoSolution(charge_too_hot, charge_too_cold, no_charge_agreement or efficiency_beyond_engines), and what
/// boost_limit() throws. At most 30 iterations.
StageLimit limit_by_engine(const StageBase& base, InitialGuess& guess, const Parts& parts,
                           const OfferedFuel& fuel, double speed);

/// The lower of that limit and of what the parts carry (plan::limits). Power 0 where the engine does not turn
/// by itself. Throws as limit_by_engine and limits() do. At most 90 iterations.
StageLimit stage_limit(const StageBase& base, InitialGuess& guess, const Parts& parts,
                       const OfferedFuel& fuel, double speed);

}  // namespace pullsheet::plan
