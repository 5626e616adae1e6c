// SPDX-License-Identifier: Apache-2.0
#pragma once

namespace pullsheet {

/// Why an error was thrown or a warning given. The catalogue holds one sentence for each reason and language;
/// the numbers that belong to it follow as details, in the order written here.
enum class Reason {
    out_of_range,                ///< the value lies outside what is allowed (InvalidArgument only)
    not_finite,                  ///< the result is not a finite number
    lengths_differ,              ///< two series that belong together differ in length: length, length
    too_few_points,              ///< fewer points than needed: given, needed
    colder_than_isentropic,      ///< a compressor outlet colder than without losses: outlet, coldest possible
    no_temperature_difference,   ///< two temperatures are equal whose difference is wanted: the temperature
    effectiveness_out_of_reach,  ///< no cooler of this arrangement reaches it: wanted, highest
    turbine_power_out_of_reach,  ///< the exhaust gas does not carry the power: wanted, greatest
    expansion_ratio_high,        ///< warning: above what turbines of one stage are measured at: ratio, usual
                                 ///< highest
    turbine_off_design,  ///< warning: so far from the best blade speed that the lowest efficiency is taken:
                         ///< ratio, efficiency
    turbine_missing,     ///< no turbine among the parts
    turbine_without_compressor,  ///< a turbine among parts that hold no compressor
    no_exhaust_system,           ///< warning: nothing is known of what follows the turbine: pressure taken
    pipe_choked,                 ///< more than passes at the speed of sound: flow asked, greatest flow
    pipe_loss_too_great,         ///< the pressure loss would exceed the pressure: loss, pressure
    pipe_fast,        ///< Mach number above 0.3, where air no longer flows like a liquid: Mach number
    pipe_loss_large,  ///< loss above a tenth of the pressure, so density changes on the way: loss, pressure
    map_too_small,    ///< a compressor map with too few speed lines: given, needed
    map_line_too_short,    ///< a speed line with too few points: shaft speed, given, needed
    map_line_shape,        ///< a speed line that does not fall from small to large flow: shaft speed
    map_point_twice,       ///< two points of a speed line at one place: shaft speed, flow
    map_lines_cross,       ///< a faster speed line that is not above a slower one: slower, faster shaft speed
    map_ends_left,         ///< left of the map: pressure ratio, flow at which it begins, flow asked
    map_ends_right,        ///< right of the map: pressure ratio, flow at which it ends, flow asked
    map_ends_above,        ///< above the map: its highest pressure ratio, ratio asked
    map_begins_above,      ///< below the map: pressure ratio of its slowest line there, ratio asked
    near_surge,            ///< warning: little way to the surge side of the map: margin
    near_choke,            ///< warning: little way to the choke side of the map: margin
    near_highest_speed,    ///< warning: little way to the fastest speed line of the map: margin
    nothing_to_burn,       ///< a formula holds at least as much oxygen as it can burn
    nothing_to_mix,        ///< the volumes to be mixed add up to nothing
    blend_out_of_reach,    ///< a blend cannot be reached: lowest, highest ethanol share within reach
    no_carbon_in_exhaust,  ///< neither carbon dioxide nor carbon monoxide in the exhaust
    not_whole,             ///< a count that is not a whole number: given
    neither_two_nor_four,  ///< strokes of a cycle: given
    no_clearance_volume,   ///< the volume at top dead centre is not above zero: volume
    speed_needed,          ///< a dead time counts only together with an engine speed
    volumetric_efficiency_ends,  ///< outside the curve of volumetric efficiency: speed, first, last speed
    value_twice,                 ///< the same value twice where each may stand once: value
    pump_curve_ends,       ///< beyond a pump's curve: wanted, highest pressure of the curve (differences)
    injector_always_open,  ///< a duty above one cannot be held: duty
    dew_point_above_temperature,  ///< the air would be oversaturated: dew point, temperature
    vapour_reaches_pressure,   ///< the water vapour alone has the whole pressure: vapour pressure, pressure
    density_without_altitude,  ///< the standard atmosphere has it nowhere: density, lowest, highest altitude
    factor_outside_standard,   ///< power correction outside its standard's limits: factor, low, high
    test_temperature_outside_standard,  ///< temperature, low, high
    test_pressure_outside_standard,     ///< dry pressure, low, high
    not_increasing,        ///< a series that must increase does not at a row (counted from 1): row
    gears_not_descending,  ///< a gear is not longer than the gear below it: gear
    speed_beyond_gearing,  ///< a speed lies above the rev limit in the longest gear: speed at that limit
    speed_not_reached,     ///< resistance takes all the power before the speed sought: speed reached
    car_does_not_move,     ///< grip or torque is not enough to move the car at all: force available, force
                           ///< needed
    time_not_reached,  ///< no power gives the time sought; the shortest time that grip and shifts allow: time
    time_skipped,      ///< the time jumps as the power grows, past the one sought: time just above the jump
    trap_speed_not_reached,  ///< no power gives the trap speed sought; the greatest that grip and gearing
                             ///< allow: speed
    rollout_not_passed,      ///< the run ends before the clock starts: rollout
    integration_failed,      ///< the integration took more steps than allowed: steps
    no_run_in_log,           ///< a log holds no run between the two speeds: highest speed in it
    log_too_coarse,          ///< the rows around a crossing lie too far apart: interval, longest allowed
    slope_over_limit,        ///< a run rises or falls more than allowed: mean slope, limit
    evidence_needs_vehicle,  ///< road evidence without the car and the shape of its torque curve
    errors_not_independent,  ///< some values share all of their errors, so they cannot be weighed
    part_twice,              ///< a second part of a kind of which a build has one
    charge_below_coolant,    ///< a charge cooler would have to cool below its coolant: allowed, coolant
    throttled,               ///< warning: less manifold pressure needed than there is: needed, at hand
    above_redline,           ///< warning: speed above the redline: speed, redline
    part_overloaded,         ///< warning: a part is asked for more than it has: number in the list, use
    no_injection_pressure,   ///< boost as high as the fuel rail: rail pressure (difference), boost
    no_pressure_ratio,       ///< no pressure ratio feeds the engine at this power: power
    no_limit,                ///< none of the parts states a limit
    map_missed,             ///< the operating points of a speed do not pass through the compressor map: speed
    too_rich_for_gas,       ///< so rich that soot would form, burned gas is not defined
    no_equilibrium,         ///< no chemical equilibrium found: temperature, pressure
    no_cylinder_state,      ///< the gas in the cylinder has no pressure and temperature: crank angle
    too_much_residual_gas,  ///< too much burned gas stays in the cylinder: residual share, exhaust pressure
    no_indicated_work,      ///< the cycle gives no work
    octane_outside_correlation,  ///< octane number outside the range of the delay: number, lowest, highest
                                 ///< (warning)
    knocks,  ///< the knock integral reaches 1 before the charge is burned: knock integral (warning)
    knocks_at_any_spark,     ///< knocks however late the spark: manifold pressure, octane number
    knocks_at_any_pressure,  ///< knocks at the lowest pressure searched: manifold pressure, half-burned angle
    bound_broken_at_any_pressure,  ///< a bound other than knock is broken there: manifold pressure,
                                   ///< half-burned angle
    gas_too_hot,                   ///< no spark keeps the gas temperature: bound, reading, manifold pressure,
                                   ///< half-burned angle
    no_best_torque,                ///< no spark of best torque found: manifold pressure
    no_boost_limit,                ///< no boost limit found between two manifold pressures: lowest, highest
    octane_offset_out_of_reach,    ///< the measured point would need an impossible octane: offset, knock
                                   ///< integral
    efficiency_factor_out_of_reach,  ///< the measured power would need an impossible factor: factor, lowest,
                                     ///< highest
    efficiency_beyond_engines,       ///< the cycle is more efficient than engines are: efficiency, highest
    spark_before_best_torque,  ///< the measured spark is earlier than best torque: spark, best (warning)
    gas_temperature_not_met,   ///< warning: computed otherwise than measured all the same: measured, computed
    octane_index_out_of_reach,   ///< warning: two fuels ask for an impossible K: wanted, lowest, highest
    fuel_octane_differs,         ///< warning: a measured fuel has more octane than stated: difference
    measured_lambda_differs,     ///< warning: lambda of a measured map, that of its fuel
    knock_did_not_begin,         ///< warning: no measured point of the calibration had knock
    charge_temperature_differs,  ///< warning: manifold temperature measured, by the parts
    peak_pressure_not_told,  ///< warning: a map without knock has less than others: its peak pressure, theirs
    measured_filling_impossible,  ///< warning: volumetric efficiency by a measured air flow: it, lowest,
                                  ///< highest
    measured_burn_impossible,     ///< warning: burn duration by a measured angle: it, shortest, longest
    rows_not_numeric,             ///< warning: rows left out because a cell is empty or text: count
    rows_repeated,                ///< warning: rows averaged into another at the same place: count
    rows_sorted,                  ///< warning: rows out of order, sorted into place: count
    rows_before_run,              ///< warning: rows left out before the run begins: count
    rows_after_run,               ///< warning: rows left out after the run ends: count
    rows_spikes,                  ///< warning: rows left out as spikes: count
    too_many_spikes,              ///< so many spikes that no curve remains: spikes, rows
    series_starts_again,          ///< a column that goes back and runs again: row, value before, value there
    never_rises,    ///< a roller speed that does not rise from its lowest to its highest: lowest, highest
    never_falls,    ///< a roller speed that does not fall after its highest: highest, last
    noisy_log,      ///< warning: what noise remains in the power: relative standard uncertainty
    rows_filled,    ///< warning: missing values filled from the fit: count
    not_odd,        ///< a window that is not an odd whole number: given
    too_many_rows,  ///< more rows asked for than a sheet should hold: rows, allowed
    rows_outside_curve,    ///< warning: rows outside what was measured, left empty: count, lowest, highest
                           ///< speed
    band_reaches_end,      ///< warning: the band is still held where the curve ends: speed there
    band_interrupted,      ///< warning: the level is held again outside the band: number of other stretches
    no_peak_above_zero,    ///< a share of a peak that is not above zero: the peak
    no_scatter,            ///< repeated values without any scatter, from which no interval follows
    target_not_reached,    ///< no solution between the bounds: lowest, highest value found there
    several_solutions,     ///< warning: more than one solution between the bounds: number found, the next one
    strongly_curved,       ///< warning: first order falls short for an argument: its position, share missed
    one_sided_difference,  ///< warning: an argument at the edge of what is allowed: its position
    smoothing_too_long,    ///< more work than is done at once: rows, rows of the window, windows with gaps
    charge_too_cold,  ///< the charge is colder than the cycle can be computed for: temperature, lowest, speed
    charge_too_hot,  ///< the charge is hotter than the cycle can be computed for: temperature, highest, speed
    no_charge_agreement,   ///< charge temperature and knock limit agree at no power: speed
    no_pressure_balance,   ///< engine and turbine agree on no pressure before the turbine: speed
    inertia_needed,        ///< how fast a shaft gathers speed needs its moment of inertia
    shaft_speed_unknown,   ///< the speed of the shaft needs a compressor map or the diameter of its wheel
    shaft_speed_by_wheel,  ///< warning: without a map it follows from the wheel alone: coefficient
    boost_below_spring,    ///< warning: less boost than the spring of the wastegate holds: boost, spring
    boost_not_reached,     ///< the boost does not build up within a minute: torque wanted, torque reached
    no_power,              ///< what parts and knock allow gives no power at any speed looked at
};

}  // namespace pullsheet
