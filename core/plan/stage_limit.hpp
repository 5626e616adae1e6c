// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstddef>
#include <optional>
#include <vector>

#include "core/cycle/boost_limit.hpp"
#include "core/plan/calibrated_engine.hpp"
#include "core/plan/limits.hpp"

namespace pullsheet::plan {

/// What a prediction at one speed stands on.
struct StageBase {
    Engine engine{};                  ///< for the chain; its efficiency only starts the iteration
    CalibratedEngine engine_model{};  ///< the cycle
    Weather weather{};
};

/// The base of a stage on a fuel: with the compression ratio that its parts state, and the engine as it is
/// calibrated for it.
StageBase for_cell(const StageBase& base, const Parts& parts, const OfferedFuel& fuel);

/// The cycle of a stage on a fuel, its spark not set. `manifold_pressure`: Pa of dry air.
cycle::CyclePoint cycle_point(const StageBase& base, const OfferedFuel& fuel, double speed,
                              double manifold_pressure, double manifold_temperature);

/// The chain of parts at a power, W, at a speed: the engine of `engine` with the filling and the charge that
/// calibration and exhaust pressure give it there. `manifold_pressure`: Pa of dry air, by which the exhaust
/// pressure follows; 0: not known.
void fill_as_the_cycle(const StageBase& base, Engine& engine, const OfferedFuel& fuel, double speed,
                       double manifold_pressure);

/// The share of dry air in the pressure of the day: the cycle knows no water vapour.
double dry_share(const Weather& weather);

/// What of the engine limits a stage on a fuel where no part does.
enum class EngineBound {
    knock,
    exhaust_temperature,
    peak_pressure,
    assumed_peak_pressure,
    measured_power_peak,  ///< the power of a measured pull peaked at a lower speed
};

/// What the engine of a stage may be asked to bear at a speed, rad/s.
cycle::BoostBounds boost_bounds(const StageBase& base, const Parts& parts, double speed);

/// The bound of the engine at which such a limit stands.
EngineBound engine_bound(const StageBase& base, const cycle::BoostLimit& limit, const Parts& parts);

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
    bool coarse = false;             ///< for differences: the power may err by a thousandth
    std::optional<double> peak{};    ///< W at the speed where the power of the measured pull peaked
};

/// The limit of the engine at an angular speed, rad/s, whatever the parts carry: cycle::boost_limit at the
/// charge temperature that the chain of parts gives. Charge temperature, fuel burned and efficiency depend on
/// one another; they are iterated on the fuel burned to 1e-3, which leaves the power within some 2e-4. Throws
/// NoSolution(charge_too_hot, charge_too_cold, no_charge_agreement or efficiency_beyond_engines), and what
/// boost_limit() throws. At most 30 iterations. With a turbine among the parts by BoostedSpeed::engine_limit:
/// the exhaust pressure is that before the turbine, not that of the rule.
StageLimit limit_by_engine(const StageBase& base, InitialGuess& guess, const Parts& parts,
                           const OfferedFuel& fuel, double speed);

/// The lower of that limit and of what the parts carry (plan::limits), with a turbine plan::full_load; above
/// the speed where the power of the measured pull peaked no more power than there. Power 0 where the engine
/// does not turn by itself. Throws as limit_by_engine and limits() do. At most 90 iterations, twice as many
/// above that speed.
StageLimit stage_limit(const StageBase& base, InitialGuess& guess, const Parts& parts,
                       const OfferedFuel& fuel, double speed);

}  // namespace pullsheet::plan
