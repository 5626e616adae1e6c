// SPDX-License-Identifier: Apache-2.0
#pragma once

namespace pullsheet {

/// Why an error was thrown or a warning given. The catalogue holds one sentence for each reason and language;
/// the numbers that belong to it follow as details, in the order written here.
enum class Reason {
    out_of_range,             ///< the value lies outside what is allowed (InvalidArgument only)
    not_finite,               ///< the result is not a finite number
    lengths_differ,           ///< two series that belong together differ in length: length, length
    too_few_points,           ///< fewer points than needed: given, needed
    colder_than_isentropic,       ///< a compressor outlet colder than without losses: outlet, coldest possible
    no_temperature_difference,    ///< two temperatures are equal whose difference is wanted: the temperature
    effectiveness_out_of_reach,   ///< no cooler of this arrangement reaches it: wanted, highest
    turbine_power_out_of_reach,   ///< the exhaust gas does not carry the power: wanted, greatest
    pipe_choked,                  ///< more than passes at the speed of sound: flow asked, greatest flow
    pipe_loss_too_great,          ///< the pressure loss would exceed the pressure: loss, pressure
    pipe_fast,                    ///< Mach number above 0.3, where air no longer flows like a liquid: Mach number
    pipe_loss_large,              ///< loss above a tenth of the pressure, so density changes on the way: loss, pressure
    map_too_small,                ///< a compressor map with too few speed lines: given, needed
    map_line_too_short,           ///< a speed line with too few points: shaft speed, given, needed
    map_line_shape,               ///< a speed line that does not fall from small to large flow: shaft speed
    map_point_twice,              ///< two points of a speed line at one place: shaft speed, flow
    map_lines_cross,              ///< a faster speed line that is not above a slower one: slower, faster shaft speed
    map_ends_left,                ///< left of the map: pressure ratio, flow at which it begins, flow asked
    map_ends_right,               ///< right of the map: pressure ratio, flow at which it ends, flow asked
    map_ends_above,               ///< above the map: its highest pressure ratio, ratio asked
    map_begins_above,             ///< below the map: pressure ratio of its slowest line there, ratio asked
    near_surge,                   ///< warning: little way to the surge side of the map: margin
    near_choke,                   ///< warning: little way to the choke side of the map: margin
    near_highest_speed,           ///< warning: little way to the fastest speed line of the map: margin
};

}  // namespace pullsheet
