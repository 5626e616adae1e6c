// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <optional>
#include <variant>
#include <vector>

#include "core/boost/compressor_map.hpp"
#include "core/boost/exhaust_system.hpp"
#include "core/boost/pipe.hpp"
#include "core/boost/turbine.hpp"
#include "core/engine/volumetric_efficiency.hpp"
#include "core/injection/injector.hpp"
#include "core/injection/pump.hpp"

namespace pullsheet::plan {

/// A four-stroke engine as the chain of equations needs it.
struct Engine {
    double displacement;                                        ///< m³, of all cylinders
    engine::VolumetricEfficiency volumetric_efficiency = 0.95;  ///< ratio, above 0 to 2
    double lambda = 0.85;                                       ///< ratio
    double efficiency = 0.30;  ///< brake power divided by fuel flow times lower heating value, share
    /// K, of the air in the manifold. Left out, it follows from compressor and charge cooler; given, it holds
    /// where the parts have no charge cooler.
    std::optional<double> charge_temperature{};
    std::optional<double> redline{};  ///< rad/s; above it a warning
    /// K, of the gas before the turbine, for the load of a turbine. The default is common
    /// practice for full load.
    double gas_temperature = 1173.15;
    /// What a measurement in the manifold showed of the charge: its rise over the coolant of the cooler (over
    /// the air outside where there is none) divided by the one that compressor and cooler give, at least 0,
    /// and K on top of that.
    double charge_rise_factor = 1.0;
    double charge_heating = 0.0;
};

/// The day.
struct Weather {
    double temperature = 298.15;  ///< K
    double pressure = 100e3;      ///< Pa, of the station, absolute
    double humidity = 0.0;        ///< relative, 0 … 1
};

/// The reference of the fuel pressure regulator.
enum class RailReference {
    manifold,  ///< it follows the boost: the pressure across the injector is constant, that of the pump rises
    surroundings,  ///< fixed: boost reduces the pressure across the injector
};

/// Injectors, one set, as rated on a bench. They carry the fuel that flows at the greatest duty.
struct Injectors {
    double count;
    double rated_flow;            ///< m³/s each
    double rated_pressure = 3e5;  ///< Pa, at which the flow was rated
    double fuel_pressure = 3e5;   ///< Pa, of the rail over `reference`
    RailReference reference = RailReference::manifold;
    double max_duty = injection::usual_highest_duty;       ///< share of the time
    double dead_time = 0.0;                                ///< s a cycle in which nothing flows yet
    double rated_density = injection::test_fluid_density;  ///< kg/m³ of the bench's fluid

    bool operator==(const Injectors&) const = default;
};

/// Fuel pumps by their own curve. They carry the fuel that the curve gives at the rail pressure, less the
/// margin.
struct Pump {
    injection::PumpCurve curve;  ///< of each, over the pressure over the surroundings
    double count = 1.0;
    double fuel_pressure = 3e5;  ///< Pa, of the rail over `reference`
    RailReference reference = RailReference::manifold;
    double margin = 0.1;  ///< flow of the pump / flow of the fuel − 1

    bool operator==(const Pump&) const = default;
};

/// A cam-driven plunger pump for direct injection. It carries its displacement, less filling loss and
/// margin.
struct HighPressurePump {
    double diameter;         ///< m, of the plunger
    double lift;             ///< m
    double lobes;            ///< on the cam
    double filling = 0.9;    ///< share of the displacement that is delivered
    double cam_ratio = 0.5;  ///< cam speed / engine speed
    double margin = 0.1;     ///< flow of the pump / flow of the fuel − 1, kept for control

    bool operator==(const HighPressurePump&) const = default;
};

/// A compressor (or equal ones in parallel), by a greatest flow, by its map, or by both. It carries what
/// keeps the operating point inside the map and below each limit given.
struct Compressor {
    std::optional<boost::CompressorMap> map{};   ///< of one compressor
    double efficiency = 0.70;                    ///< share; used where there is no map
    std::optional<double> max_corrected_flow{};  ///< kg/s of one compressor
    boost::Reference reference{};  ///< of max_corrected_flow; where there is a map, the map's holds
    std::optional<double> max_pressure_ratio{};  ///< ratio
    std::optional<double> max_shaft_speed{};     ///< rad/s, real, not corrected; counts with a map or the
                                                 ///< diameter of the wheel
    double count = 1.0;
    /// m, of the compressor wheel; without a map the shaft speed follows from it (boost::wheel_speed).
    std::optional<double> wheel_diameter{};

    bool operator==(const Compressor&) const = default;
};

/// A charge cooler. It carries the power at which the charge reaches the temperature allowed, if one is
/// given.
struct ChargeCooler {
    double effectiveness;                         ///< share
    std::optional<double> coolant_temperature{};  ///< K; left out: the air outside
    double pressure_loss = 0.0;                   ///< Pa at reference_flow; grows with flow²/density
    double reference_flow = 0.1;                  ///< kg/s
    boost::Reference reference{};  ///< state of the air in that measurement; a flow bench's unless stated
    std::optional<double> max_charge_temperature{};  ///< K, above that of the coolant

    bool operator==(const ChargeCooler&) const = default;
};

/// Where a pipe lies.
enum class PipePlace {
    intake,   ///< before the compressor
    hot,      ///< between compressor and charge cooler
    charge,   ///< between charge cooler and manifold, throttle included
    exhaust,  ///< after the turbine, at the pressure of the surroundings
};

/// A pipe (or equal ones in parallel). Pipes of one place follow one another in the order of the list. It
/// carries the power at which its Mach number reaches the one allowed.
struct PlacedPipe {
    boost::Pipe geometry;
    PipePlace place = PipePlace::charge;
    double max_mach = 0.4;             ///< common practice: 0.3 to 0.4
    double gas_temperature = 1073.15;  ///< K, exhaust only
    double count = 1.0;

    bool operator==(const PlacedPipe&) const = default;
};

struct Clutch {
    double max_torque;  ///< N·m

    bool operator==(const Clutch&) const = default;
};

struct Gearbox {
    double max_torque;  ///< N·m at its input

    bool operator==(const Gearbox&) const = default;
};

/// What the engine is trusted with, and what a stage changes of it: any of them.
struct EngineStrength {
    std::optional<double> max_power{};            ///< W
    std::optional<double> max_torque{};           ///< N·m
    std::optional<double> max_bmep{};             ///< Pa
    std::optional<double> max_peak_pressure{};    ///< Pa in the cylinder
    std::optional<double> max_gas_temperature{};  ///< K, as a probe before the turbine reads it
    std::optional<double> latest_half_burned{};   ///< rad after top dead centre
    std::optional<double> compression_ratio{};    ///< of this stage, geometric

    bool operator==(const EngineStrength&) const = default;
};

/// What the boost control is set to: any of the three.
struct BoostControl {
    std::optional<double> max_boost{};        ///< Pa over the surroundings, in the manifold
    std::optional<double> max_torque{};       ///< N·m
    std::optional<double> spring_pressure{};  ///< Pa over the surroundings: less boost cannot be held

    bool operator==(const BoostControl&) const = default;
};

/// A turbine is a boost::Turbine, what follows it a boost::ExhaustSystem. A turbine carries the power at
/// which its own power, with the wastegate shut, is what the compressor takes up; an exhaust system states no
/// limit.
using Part = std::variant<Injectors, Pump, HighPressurePump, Compressor, ChargeCooler, PlacedPipe, Clutch,
                          Gearbox, EngineStrength, boost::Turbine, boost::ExhaustSystem, BoostControl>;

/// Checks the numbers of a part that its formulas do not check themselves. Throws InvalidArgument.
void require_possible(const Part& part);

/// The parts of one build. At most one compressor entry, one charge cooler, one turbine entry, one exhaust
/// system and one boost control; any number of the rest. A turbine wants a compressor.
using Parts = std::vector<Part>;

}  // namespace pullsheet::plan
