// SPDX-License-Identifier: Apache-2.0
#pragma once

#include "core/fuel/fuel.hpp"
#include "core/plan/parts.hpp"
#include "tests/boost/invented_map.hpp"
#include "tests/quantities.hpp"

namespace pullsheet::plan {

inline const fuel::Fuel gasoline{};
inline const fuel::Fuel e85{0.85};
using tests::cc_per_minute;
using tests::litre_per_hour;
using tests::rpm;

/// A two-litre engine made up for tests: INVENTED.
inline Engine invented_engine() {
    Engine engine{};
    engine.displacement = 1.984e-3;
    engine.volumetric_efficiency = {{2000 * rpm, 4000 * rpm, 5500 * rpm, 6500 * rpm, 7500 * rpm},
                                    {0.88, 0.97, 1.00, 0.98, 0.90}};
    engine.lambda = 0.85;
    engine.efficiency = 0.31;
    engine.redline = 7500 * rpm;
    return engine;
}

/// Ten parts around it, all kinds: INVENTED.
inline Parts invented_parts() {
    Injectors injectors{4, 1050 * cc_per_minute};
    injectors.fuel_pressure = 4e5;
    injectors.dead_time = 0.9e-3;
    Pump pump{{{1e5, 3e5, 4e5, 5e5, 6e5, 7e5},
               {420 * litre_per_hour, 365 * litre_per_hour, 335 * litre_per_hour, 300 * litre_per_hour,
                260 * litre_per_hour, 205 * litre_per_hour}}};
    pump.fuel_pressure = 4e5;
    Compressor compressor{};
    compressor.map.emplace(boost::invented_map(0.75));
    compressor.max_shaft_speed = 148e3 * rpm;
    ChargeCooler cooler{0.78};
    cooler.pressure_loss = 4e3;
    cooler.reference_flow = 0.25;
    cooler.max_charge_temperature = 273.15 + 60.0;
    PlacedPipe intake{{0.080, 0.6, 1.5}, PipePlace::intake};
    PlacedPipe hot{{0.057, 0.8, 0.6}, PipePlace::hot};
    PlacedPipe charge{{0.063, 1.2, 1.4}, PipePlace::charge};
    return {injectors,
            pump,
            HighPressurePump{0.009, 0.0048, 4},
            compressor,
            cooler,
            intake,
            hot,
            charge,
            Clutch{620.0},
            EngineStrength{.max_power = {}, .max_torque = 640.0, .max_bmep = 42e5}};
}

}  // namespace pullsheet::plan
