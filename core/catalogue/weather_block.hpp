// SPDX-License-Identifier: Apache-2.0
#pragma once

#include "core/catalogue/block.hpp"
#include "core/road/vehicle.hpp"

namespace pullsheet::catalogue {

/// The schema of the weather block.
const BlockSchema& weather_schema();

/// The weather in SI units. Default: the standard atmosphere at sea level, dry, without wind.
struct Day {
    double temperature = 288.15;  ///< K
    double pressure = 101325.0;   ///< Pa, at the station
    double humidity = 0.0;        ///< share
    double headwind = 0.0;        ///< m/s
    double slope = 0.0;           ///< rise / run
};

/// The weather from its block; a sea-level pressure is reduced to station pressure. Throws Refused.
Day day_from(const Block& block, std::string_view parameter, Language language);

/// The ambient conditions for the vehicle. Adds a warning outside the range of the density formula.
road::Surroundings road_weather(const Day& day);

}  // namespace pullsheet::catalogue
