// SPDX-License-Identifier: Apache-2.0
#include "core/catalogue/sentences.hpp"

#include <fmt/args.h>
#include <fmt/format.h>

#include <algorithm>

#include "core/catalogue/languages/table.hpp"

namespace pullsheet::catalogue {

// One sentence per phrase. The caller supplies the values of the names in braces.
std::string_view english(Phrase phrase) {
    switch (phrase) {
        case Phrase::wanted: return "it must be {allowed}";
        case Phrase::missing: return "{parameter} is missing; {wanted}";
        case Phrase::empty: return "{parameter} is empty; {wanted}";
        case Phrase::zero_or_empty: return "{parameter} is 0 or empty; it must be {allowed}";
        case Phrase::outside: return "{parameter} is {value}; it must be {allowed}";
        case Phrase::not_a_number: return "{parameter} is \"{value}\", which is not a number; {wanted}";
        case Phrase::bad_number:
            return "{parameter} is \"{value}\"; write one number with a decimal point or comma and no "
                   "separator between thousands";
        case Phrase::unknown_unit:
            return "{parameter} is \"{value}\"; the unit \"{unit}\" is not known, use {units}";
        case Phrase::wrong_quantity:
            return "{parameter} is \"{value}\"; {unit} is a unit of {quantity}, but a unit of {wanted} is "
                   "wanted ({units})";
        case Phrase::unit_not_wanted:
            return "{parameter} is \"{value}\"; this argument is a plain number without a unit";
        case Phrase::gauge_for_absolute:
            return "{parameter} is \"{value}\"; {unit} is a gauge unit, but an absolute pressure is wanted "
                   "(bara, kPaa, psia), or the plain unit for an absolute pressure";
        case Phrase::absolute_for_gauge:
            return "{parameter} is \"{value}\"; {unit} is an absolute unit, but a pressure above ambient is "
                   "wanted (barg, kPag, psig), or the plain unit for a difference";
        case Phrase::absolute_for_difference:
            return "{parameter} is \"{value}\"; {unit} is an absolute unit, but a pressure difference is "
                   "wanted (bard, kPad, psid), or the plain unit for a difference";
        case Phrase::difference_for_absolute:
            return "{parameter} is \"{value}\"; {unit} is a unit of a pressure difference, but an absolute "
                   "pressure is wanted (bara, kPaa, psia), or the plain unit for an absolute pressure";
        case Phrase::gauge_for_difference:
            return "{parameter} is \"{value}\"; {unit} counts from ambient pressure, but the difference "
                   "between two points is wanted (bard, kPad, psid), or the plain unit for a difference";
        case Phrase::gauge_over_manifold:
            return "{parameter} is \"{value}\"; {unit} counts from ambient pressure, but this pressure "
                   "counts from manifold pressure: the two are equal only where the manifold is at ambient "
                   "pressure";
        case Phrase::flow_by_mass:
            return "{parameter} is \"{value}\", a mass flow; it is taken as {flow} of a test fluid of "
                   "{density} kg/m³ (n-heptane, SAE J1832)";
        case Phrase::rating_by_mass:
            return "rated_flow is \"{value}\", a mass flow; it is taken as {flow} of a test fluid of "
                   "{density} "
                   "kg/m³, the rated_density";
        case Phrase::result_by_mass:
            return "the result is a mass flow of a test fluid of {density} kg/m³ (n-heptane, SAE J1832)";
        case Phrase::rollout_twice:
            return "the rollout is given twice: {value} as an argument and {other} in the vehicle block; the "
                   "argument is used";
        case Phrase::percent_meant:
            return "{parameter} is {value}; a share lies between 0 and 1, did you mean {value} %?";
        case Phrase::fuel_name:
            return "{parameter} is \"{value}\", a name and not a share: the ethanol content sold under it "
                   "varies (51 to 83 % for E85 by ASTM D5798); give the measured ethanol share by volume, "
                   "for example 85 %";
        case Phrase::not_finite_argument: return "{parameter} is not a finite number; {wanted}";
        case Phrase::error_in_argument: return "{parameter} holds an error: {value}";
        case Phrase::text_wanted: return "{parameter} is {value}; a text is wanted";
        case Phrase::unknown_choice: return "{parameter} is \"{value}\"; choose one of {choices}";
        case Phrase::unknown_choice_near:
            return "{parameter} is \"{value}\"; did you mean \"{near}\"? Choose one of {choices}";
        case Phrase::single_value_wanted:
            return "{parameter} is a range of {rows} × {columns} cells; one value is wanted";
        case Phrase::shapes_differ:
            return "{parameter} is a range of {rows} × {columns} cells, another argument one of {other_rows} "
                   "× {other_columns}; ranges must have the same shape";
        case Phrase::range_wanted:
            return "{parameter} is a single value; a range of cells is wanted ({wanted})";
        case Phrase::one_row_or_column:
            return "{parameter} is a range of {rows} × {columns} cells; one row or one column is wanted";
        case Phrase::too_many_arguments: return "{given} arguments were given; at most {allowed} are taken";
        case Phrase::unknown_function: return "there is no function \"{value}\"";
        case Phrase::unknown_function_near: return "there is no function \"{value}\"; did you mean {near}?";
        case Phrase::only_in_calc: return "this function reads a cell of a sheet and works in Calc only";
        case Phrase::answer_too_large:
            return "the ranges give an answer of {rows} × {columns} cells; at most {allowed} are computed at "
                   "once";
        case Phrase::explains_itself: return "{function} explains other functions, not itself";
        case Phrase::result_unit_unknown: return "the wanted unit \"{unit}\" is not known, use {units}";
        case Phrase::result_unit_wrong:
            return "{unit} is a unit of {quantity}; the result needs a unit of {wanted}, use {units}";
        case Phrase::result_not_finite: return "the result is not a finite number for these arguments";
        case Phrase::established: return "{parameter} is {value}; the formula was established for {allowed}";
        case Phrase::unusual: return "{parameter} is {value}; in practice it is {allowed}: check it";
        case Phrase::result_impossible:
            return "these arguments give {value}, which is not possible ({allowed}); check each of them";
        case Phrase::result_unusual:
            return "the result is {value}; in practice it is {allowed}: check the arguments";
        case Phrase::figure_impossible:
            return "{parameter} comes to {value}, which is not possible ({allowed}); check the arguments";
        case Phrase::figure_unusual:
            return "{parameter} comes to {value}; in practice it is {allowed}: check the arguments";
        case Phrase::column_unusual:
            return "{parameter} comes to {value} in row {row}, and is unusual in rows: {count}; in practice "
                   "it "
                   "is {allowed}: check the arguments";
        case Phrase::more_warnings: return "further warnings: {count}";
        case Phrase::mon_above_ron:
            return "{parameter}: the MON of {value} is above the RON of {other}; of motor fuels it is 5 to "
                   "12 "
                   "below: check both";
        case Phrase::allowed_between: return "{low} to {high}{unit}";
        case Phrase::allowed_above: return "above {low}{unit}";
        case Phrase::allowed_below: return "below {high}{unit}";
        case Phrase::allowed_from: return "{low}{unit} or more";
        case Phrase::allowed_up_to: return "up to {high}{unit}";
        case Phrase::allowed_any: return "a number";
        case Phrase::allowed_share: return "{low} to {high} (a share: 85 % or 0.85)";
        case Phrase::block_two_columns:
            return "{parameter} has {columns} columns; a block has label, value and, if wanted, unit";
        case Phrase::block_label_missing: return "{parameter} has no row \"{label}\" ({meaning}); {wanted}";
        case Phrase::block_label_doubled: return "{parameter} has the row \"{label}\" twice";
        case Phrase::block_label_unknown:
            return "{parameter} has a row \"{label}\" that is not known; the labels are {labels}";
        case Phrase::block_label_unknown_near:
            return "{parameter} has a row \"{label}\" that is not known; did you mean \"{near}\"?";
        case Phrase::block_unit_twice:
            return "{parameter}, row \"{label}\": the value \"{value}\" carries a unit and the third column "
                   "says \"{unit}\"";
        case Phrase::block_value: return "{parameter}, row \"{label}\"";
        case Phrase::block_one_of:
            return "{parameter} has the rows \"{label}\" and \"{other}\"; give one of them";
        case Phrase::block_uncertainty: return "uncertainty of {parameter}, row \"{label}\"";
        case Phrase::convert_quantities:
            return "{from} is a unit of {quantity}, {to} one of {other}; they cannot be converted";
        case Phrase::convert_pressure_kinds:
            return "{from} and {to} count from different zeros; add or subtract the pressure of the "
                   "surroundings";
        case Phrase::convert_unknown: return "the unit \"{unit}\" is not known";
        case Phrase::internal: return "the computation failed: {what}";
        case Phrase::column_missing: return "{parameter} has no column \"{label}\"";
        case Phrase::column_unknown:
            return "{parameter} has a column \"{label}\" that is not known; the columns are {labels}";
        case Phrase::column_unknown_near:
            return "{parameter} has a column \"{label}\" that is not known; did you mean \"{near}\"?";
        case Phrase::column_doubled: return "{parameter} has the column \"{label}\" twice";
        case Phrase::column_without_heading:
            return "{parameter}: \"{value}\" is in column {column}, which has no heading";
        case Phrase::part_value_foreign:
            return "{parameter}: the kind {kind} takes no {label}, but \"{value}\" is given";
        case Phrase::element: return "row {row}, column {column}: {sentence}";
        case Phrase::element_of_column: return "{parameter}, row {position}";
        case Phrase::element_of_row: return "{parameter}, column {position}";
        case Phrase::not_a_number_parameter:
            return "{parameter} of {function} is not a number; it cannot be varied";
        case Phrase::not_a_scalar_function: return "{function} does not return a single number";
        case Phrase::map_columns:
            return "{parameter} has {columns} columns; a compressor map has shaft speed, corrected flow, "
                   "pressure ratio, efficiency";
        case Phrase::engine_displacement: return "{parameter} needs the displacement, or bore and stroke";
        case Phrase::engine_square: return "{parameter} has no bore and stroke; bore = stroke is assumed";
        case Phrase::engine_rod: return "{parameter} has no rod length; 1.7 times the stroke is assumed";
        case Phrase::one_point_curve:
            return "{parameter}: a single row \"{label} at # rpm\" is not a curve; give a second speed, or "
                   "the row \"{label}\" for all speeds";
        case Phrase::stage_missing: return "{parameter} names no stage";
        case Phrase::fuel_missing: return "{parameter} names no fuel";
        case Phrase::column_value: return "{parameter}, column \"{label}\"";
        case Phrase::column_value_missing:
            return "{parameter} has nothing in the column \"{label}\" ({meaning}); {wanted}";
        case Phrase::measured_without_power: return "{parameter} has neither power nor torque";
        case Phrase::measured_without_rows: return "{parameter} holds no row with numbers";
        case Phrase::measured_power_and_torque:
            return "{parameter}: the torque of {torque} is {power} at that engine speed, but the power is "
                   "{other}; give one of them";
        case Phrase::yes_or_no: return "{parameter} is \"{value}\"; write yes or no";
        case Phrase::stage_unknown:
            return "{parameter}: there is no stage \"{value}\"; choose one of {choices}";
        case Phrase::fuel_unknown:
            return "{parameter}: there is no fuel \"{value}\"; choose one of {choices}";
        case Phrase::redline_needed: return "{parameter} needs the redline";
        case Phrase::pipe_place:
            return "{parameter}: \"{value}\" is not a place of a pipe; choose one of intake, hot, charge, "
                   "exhaust";
        case Phrase::part_kind:
            return "{parameter}: \"{value}\" is not a kind of part; choose one of {choices}";
        case Phrase::parts_columns:
            return "{parameter} has {columns} columns; a parts table has part, kind, value, unit, second "
                   "value, unit and so on";
        case Phrase::speed_or_redline: return "give the speed, or the redline in the engine block";
        case Phrase::weather_elevation_missing:
            return "{parameter} has a sea level pressure but no elevation; give the elevation, or the "
                   "station pressure";
        case Phrase::tyre_size: return "{parameter}: \"{value}\" is not a tyre size; write it as 255/35 R19";
        case Phrase::vehicle_drive:
            return "{parameter}, row \"drive\": \"{value}\" is not known; choose one of front, rear, all";
        case Phrase::engine_injection:
            return "{parameter}, row \"injection\": \"{value}\" is not known; choose one of direct, port";
        case Phrase::vehicle_tyre:
            return "{parameter} has neither a row \"tyre\" nor a row \"rolling radius\"";
        case Phrase::vehicle_gear_missing: return "{parameter} has no row \"gear {gear}\"";
        case Phrase::part_named: return "{parameter}, part \"{name}\"";
        case Phrase::price_of: return "{parameter}, price of \"{name}\"";
    }
    return "";
}

// One sentence per reason. {0}, {1} … are the details in the order of core/reason.hpp.
std::string_view english(Reason reason) {
    switch (reason) {
        case Reason::out_of_range: return "the value is outside the allowed range";
        case Reason::not_finite: return "the result is not a finite number";
        case Reason::lengths_differ: return "the two series differ in length: {0} and {1} values";
        case Reason::too_few_points: return "there are {0} points; at least {1} are needed";
        case Reason::colder_than_isentropic:
            return "an outlet temperature of {0} is below that of a compressor without losses ({1}); check "
                   "temperatures and pressure ratio";
        case Reason::no_temperature_difference:
            return "the charge enters the cooler at coolant temperature ({0}), so the effectiveness cannot "
                   "be determined";
        case Reason::effectiveness_out_of_reach:
            return "no cooler of this design reaches {0}, whatever its size; the highest is {1}";
        case Reason::turbine_power_out_of_reach:
            return "the turbine would have to give {0}; this gas flow gives at most {1}";
        case Reason::expansion_ratio_high:
            return "the expansion ratio of {0} is above {1}: turbines of one stage are hardly measured there";
        case Reason::turbine_off_design:
            return "a blade speed ratio of {0} is far from the best one: the lowest efficiency, {1}, is "
                   "taken";
        case Reason::turbine_missing:
            return "there is no turbine among the parts: nothing is known of the boost that it gives";
        case Reason::turbine_without_compressor:
            return "a turbine drives a compressor, and there is none among the parts";
        case Reason::no_exhaust_system:
            return "no exhaust system among the parts: the pressure after the turbine is taken as {0}";
        case Reason::pipe_choked: return "the pipe cannot pass {0}; at the speed of sound it passes {1}";
        case Reason::pipe_loss_too_great:
            return "the pressure loss would be {0}, but the pressure is only {1}";
        case Reason::pipe_fast:
            return "the Mach number is {0}; above 0.3 the density changes along the pipe and the loss is an "
                   "estimate";
        case Reason::pipe_loss_large:
            return "the loss of {0} is more than a tenth of the pressure ({1}); it is an estimate and too "
                   "low";
        case Reason::map_too_small: return "the compressor map has {0} speed lines; at least {1} are needed";
        case Reason::map_line_too_short:
            return "the speed line at {0} of the compressor map has {1} points; at least {2} are needed";
        case Reason::map_line_shape:
            return "the pressure ratio of the speed line at {0} of the compressor map must fall as the flow "
                   "rises";
        case Reason::map_point_twice:
            return "the speed line at {0} of the compressor map has two points at {1}";
        case Reason::map_lines_cross:
            return "the speed lines at {0} and {1} of the compressor map cross; the faster one must lie "
                   "above the slower";
        case Reason::map_ends_left:
            return "at pressure ratio {0} the compressor map begins at {1} (surge line); the point is at {2}";
        case Reason::map_ends_right:
            return "at pressure ratio {0} the compressor map ends at {1}; the point is at {2}";
        case Reason::map_ends_above:
            return "the compressor map ends at pressure ratio {0}; the point is at {1}";
        case Reason::map_begins_above:
            return "at this flow the compressor map begins at pressure ratio {0}; the point is at {1}";
        case Reason::near_surge: return "the surge line of the compressor map is only {0} of the flow away";
        case Reason::near_choke: return "the choke line of the compressor map is only {0} of the flow away";
        case Reason::near_highest_speed:
            return "the highest shaft speed of the compressor map is only {0} of the flow away";
        case Reason::nothing_to_burn:
            return "the fuel contains all the oxygen it can use: there is nothing to burn";
        case Reason::nothing_to_mix: return "the volumes add up to zero";
        case Reason::blend_out_of_reach:
            return "the target is out of reach: the blend can hold {0} to {1} ethanol";
        case Reason::no_carbon_in_exhaust: return "there is neither CO2 nor CO: this is not exhaust gas";
        case Reason::not_whole: return "{0} is not a whole number";
        case Reason::neither_two_nor_four: return "{0} strokes are neither 2 nor 4";
        case Reason::no_clearance_volume:
            return "there is no volume above the piston at top dead centre: the result is {0}";
        case Reason::speed_needed: return "a dead time needs the engine speed; give the speed too";
        case Reason::value_twice: return "{0} is listed twice";
        case Reason::part_twice:
            return "there can be one part of this kind; enter equal parts in parallel as one part with a "
                   "count";
        case Reason::charge_below_coolant:
            return "the largest charge temperature, {0}, must be above that of the coolant, {1}";
        case Reason::throttled:
            return "the engine needs {0} in the manifold and the intake delivers {1}: the throttle is partly "
                   "closed, and there is no boost";
        case Reason::above_redline: return "{0} is above the redline of {1}";
        case Reason::part_overloaded: return "part {0} is loaded to {1} of its limit";
        case Reason::no_injection_pressure:
            return "the rail pressure is {0} above ambient and the boost is {1}: nothing is injected";
        case Reason::no_pressure_ratio:
            return "no pressure ratio up to 50 gives the engine air for {0}; the losses are too large";
        case Reason::no_limit: return "none of the parts states a limit";
        case Reason::map_missed:
            return "at {0} the engine has no operating point on the compressor map at any power";
        case Reason::volumetric_efficiency_ends:
            return "the volumetric efficiency at {0} is not known: its curve runs from {1} to {2}";
        case Reason::pump_curve_ends: return "{0} lies beyond the pump's curve, which ends at {1}";
        case Reason::injector_always_open: return "a duty of {0} cannot be held: the injectors are too small";
        case Reason::dew_point_above_temperature: return "the dew point {0} is above the temperature {1}";
        case Reason::vapour_reaches_pressure:
            return "at this temperature and humidity the vapour pressure alone is {0}, but the pressure is "
                   "only {1}";
        case Reason::density_without_altitude:
            return "no altitude from {1} to {2} of the standard atmosphere has a density of {0}";
        case Reason::factor_outside_standard:
            return "the factor {0} lies outside {1} to {2}, the limits of its standard; state the test "
                   "conditions beside the corrected power";
        case Reason::test_temperature_outside_standard:
            return "the temperature {0} lies outside {1} to {2}, the limits of the standard for a test";
        case Reason::test_pressure_outside_standard:
            return "the dry pressure {0} lies outside {1} to {2}, the limits of the standard for a test";
        case Reason::not_increasing: return "the values must increase; row {0} does not";
        case Reason::gears_not_descending:
            return "gear {0} is not longer than the gear below it; ratios must fall from gear to gear";
        case Reason::speed_beyond_gearing: return "the car is geared for at most {0} at the rev limit";
        case Reason::speed_not_reached:
            return "the car gets no faster than {0}: drag, rolling and slope take all the power, or it runs "
                   "out of gears";
        case Reason::car_does_not_move:
            return "the car does not move: the wheels pull with {0} against a resistance of {1}";
        case Reason::time_not_reached:
            return "no power gives this time; with this grip and gearbox the shortest found is {0}";
        case Reason::time_skipped:
            return "no power gives exactly this time: with a little less the car takes longer or does not "
                   "reach the speed, with a little more it takes {0}";
        case Reason::trap_speed_not_reached:
            return "no power gives this trap speed; with this grip and gearing the greatest found is {0}";
        case Reason::rollout_not_passed:
            return "the run ends within the rollout of {0}, before timing starts; give a smaller rollout";
        case Reason::integration_failed: return "the run could not be integrated";
        case Reason::no_run_in_log:
            return "the log holds no run from the one speed to the other; its highest speed is {0}";
        case Reason::log_too_coarse:
            return "the rows around the start or the end of the run lie {0} apart; at most {1} is allowed";
        case Reason::slope_over_limit: return "the run has a mean slope of {0}; the limit given is {1}";
        case Reason::too_rich_for_gas:
            return "the mixture is so rich that soot would form; burned gas is not computed for it";
        case Reason::no_equilibrium: return "no chemical equilibrium was found at {0} and {1}";
        case Reason::no_cylinder_state:
            return "the cycle has no pressure and temperature at {0} after top dead centre";
        case Reason::too_much_residual_gas:
            return "{0} of the charge would be residual gas (exhaust pressure {1}); it would not burn";
        case Reason::no_indicated_work: return "the cycle does no work at this point, so there is no factor";
        case Reason::octane_outside_correlation:
            return "the octane number of {0} lies outside {1} to {2}, where the knock delay was measured";
        case Reason::knocks: return "it knocks: the knock integral reaches {0} (1 is the limit)";
        case Reason::knocks_at_any_spark:
            return "at {0} and an octane number of {1} it knocks at any spark, however late";
        case Reason::knocks_at_any_pressure:
            return "it knocks even at {0} with the 50 % burned angle {1} after top dead centre";
        case Reason::bound_broken_at_any_pressure:
            return "the limit of peak pressure is exceeded even at {0} with the 50 % burned angle {1} after "
                   "top "
                   "dead centre";
        case Reason::gas_too_hot:
            return "the exhaust temperature before the turbine cannot be kept at {0}: with the spark of best "
                   "torque (50 % burned angle {3} after top dead centre) it reads {1} at {2}; a richer "
                   "mixture, a cooler charge or less boost helps";
        case Reason::no_best_torque: return "no best-torque (MBT) spark was found at {0}";
        case Reason::no_boost_limit: return "no boost limit was found between {0} and {1}";
        case Reason::octane_offset_out_of_reach:
            return "the measured point would need an octane offset of {0} (knock integral {1}); check the "
                   "point";
        case Reason::efficiency_factor_out_of_reach:
            return "the measured power would need {0} times the work of the computed cycle ({1} to {2} is "
                   "possible); check the power and the engine block";
        case Reason::efficiency_beyond_engines:
            return "the computed cycle has an efficiency of {0}, more than an engine reaches ({1}); check "
                   "the measured power or the efficiency factor";
        case Reason::spark_before_best_torque:
            return "the measured spark of {0} is earlier than best-torque (MBT) spark ({1}), so knock hardly "
                   "limited it";
        case Reason::gas_temperature_not_met:
            return "the measured gas temperature of {0} is not met: the calibrated model gives {1}; check "
                   "the probe, lambda and spark";
        case Reason::octane_index_out_of_reach:
            return "the measured fuels would need an octane index K of {0} ({1} to {2} is possible); check "
                   "RON and MON of both";
        case Reason::fuel_octane_differs:
            return "the measured fuel resists knock {0} octane numbers better than its RON states; its own "
                   "octane is used";
        case Reason::measured_lambda_differs:
            return "it was measured at lambda {0}, not {1} as in the fuels table; the measured lambda is "
                   "used "
                   "for this fuel";
        case Reason::knock_did_not_begin:
            return "knock did not begin, so the fuel allows more than was measured; the predictions are low";
        case Reason::charge_temperature_differs:
            return "the manifold temperature was measured at {0}; by compressor and charge cooler it would "
                   "be "
                   "{1}; check both";
        case Reason::peak_pressure_not_told:
            return "its peak pressure of {0} is not above the {1} of other measured maps, so the largest "
                   "peak "
                   "pressure stays an assumption";
        case Reason::measured_filling_impossible:
            return "the measured air would need a volumetric efficiency of {0} ({1} to {2} is possible); "
                   "that "
                   "of the engine block is used";
        case Reason::measured_burn_impossible:
            return "the measured 50 % burned angle would need a burn duration of {0} ({1} to {2} is "
                   "possible); it is not used";
        case Reason::rows_not_numeric:
            return "rows left out because they hold no number (empty, text or heading): {0}";
        case Reason::rows_repeated: return "rows averaged with another at the same value: {0}";
        case Reason::rows_sorted: return "rows out of order, sorted into place: {0}";
        case Reason::rows_before_run: return "rows left out before the run begins: {0}";
        case Reason::rows_after_run: return "rows left out after the run ends (lift-off and later): {0}";
        case Reason::rows_spikes: return "rows left out as spikes: {0}";
        case Reason::too_many_spikes:
            return "{0} of {1} rows deviate far from their neighbours; no curve is left";
        case Reason::series_starts_again:
            return "row {0} goes back from {1} to {2}: the log holds a second run; give one run at a time";
        case Reason::never_rises:
            return "the roller speed does not rise: lowest {0}, highest after it {1}; in a pull it must rise";
        case Reason::never_falls:
            return "the roller speed does not fall after its highest of {0}; it ends at {1}";
        case Reason::noisy_log: return "the log is noisy: the standard uncertainty of each power is {0}";
        case Reason::rows_filled: return "missing values filled from the fit through their neighbours: {0}";
        case Reason::not_odd: return "{0} is not an odd whole number; a window needs a middle row";
        case Reason::too_many_rows: return "this would be {0} rows; at most {1} are returned";
        case Reason::rows_outside_curve:
            return "the curve was measured from {1} to {2} only; rows left empty outside: {0}";
        case Reason::band_reaches_end:
            return "the curve ends at {0} still inside the band, which may reach farther";
        case Reason::band_interrupted: return "separate stretches on which the level is also held: {0}";
        case Reason::no_peak_above_zero: return "the peak is {0}; a share of it is defined only above zero";
        case Reason::no_scatter:
            return "neither the values before nor those after scatter, so there is no interval";
        case Reason::target_not_reached:
            return "no argument between the bounds gives the target; the values there run from {0} to {1}";
        case Reason::several_solutions:
            return "there are {0} solutions between the bounds; the lowest is given, the next is {1}";
        case Reason::strongly_curved:
            return "the result is not linear in argument {0} ({1}); first-order uncertainty does not hold";
        case Reason::one_sided_difference:
            return "argument {0} is at the edge of the allowed range; its effect was computed on one side "
                   "only";
        case Reason::evidence_needs_vehicle:
            return "a road time or a trap speed needs the vehicle and its torque curve to give a power";
        case Reason::charge_too_cold:
            return "at {2} the charge would be at {0}; the cycle is not computed below {1}";
        case Reason::charge_too_hot:
            return "at {2} the charge would be at {0}; the cycle is not computed above {1}: is a charge "
                   "cooler missing among the parts?";
        case Reason::no_charge_agreement:
            return "at {0} there is no power at which the charge has the temperature for which the knock "
                   "limit holds";
        case Reason::no_pressure_balance:
            return "engine and turbine agree on no pressure before the turbine at {0}";
        case Reason::inertia_needed:
            return "the inertia of the turbine is missing: without it nothing is known of the build-up of "
                   "boost";
        case Reason::shaft_speed_unknown:
            return "the shaft speed is not known: it takes a compressor map or the wheel diameter of the "
                   "compressor";
        case Reason::shaft_speed_by_wheel:
            return "without a map the shaft speed is estimated from the wheel diameter of the compressor, "
                   "with a "
                   "head coefficient of {0}";
        case Reason::boost_below_spring:
            return "the boost of {0} is below the {1} at which the spring of the wastegate opens: boost "
                   "control does not hold it";
        case Reason::boost_not_reached:
            return "the boost does not build up within a minute: {0} wanted, {1} reached";
        case Reason::no_power:
            return "the limits of the parts and of knock leave no power at any speed examined";
        case Reason::smoothing_too_long:
            return "{0} rows with a window of {1} rows, of which {2} have gaps, are too many for one fit; "
                   "take a smaller window, or fewer rows";
        case Reason::errors_not_independent:
            return "some values share all of their uncertainty, so they cannot be weighed against each other";
    }
    return "";
}

namespace {

std::string fill_in(std::string_view text, const fmt::dynamic_format_arg_store<fmt::format_context>& store) {
    return fmt::vformat(text, store);
}

}  // namespace

Language language_of(std::string_view locale) {
    const bool is_german =
        locale.starts_with("de") && (locale.size() == 2 || locale.find_first_of("-_.@") == 2);
    return is_german ? Language::german : Language::english;
}

std::string shortened(std::string text, std::size_t most) {
    if (text.size() <= most) return text;
    // Not in the middle of a character: the bytes that continue one begin with the bits 10.
    while (most > 0 && (static_cast<unsigned char>(text[most]) & 0xC0u) == 0x80u) --most;
    text.resize(most);
    return text + "…";
}

std::string_view translated(Language language, std::string_view text) {
    if (language == Language::english) return text;
    const auto table = languages::german();
    const auto found =
        std::lower_bound(table.begin(), table.end(), text,
                         [](const auto& entry, std::string_view wanted) { return entry.english < wanted; });
    return found != table.end() && found->english == text ? found->translated : text;
}

std::string say(Language language, std::string_view text, Fill fill) {
    // The text of a cell is quoted at limited length, so that it does not hide the sentence. All other texts
    // are limited too.
    constexpr std::size_t longest_quotation = 200;
    constexpr std::size_t longest_value = 1500;
    const bool holds_a_sentence = text == english(Phrase::error_in_argument);
    const auto is_quoted = [](std::string_view name) {
        return name == "value" || name == "label" || name == "unit";
    };
    fmt::dynamic_format_arg_store<fmt::format_context> store;
    for (const auto& [name, value] : fill)
        store.push_back(fmt::arg(
            std::string(name).c_str(),
            shortened(value, is_quoted(name) && !holds_a_sentence ? longest_quotation : longest_value)));
    return fill_in(translated(language, text), store);
}

std::string say(Language language, Phrase phrase, Fill fill) {
    return say(language, english(phrase), fill);
}

namespace {

// Fuel pressures are given in bar, unlike those of the air.
bool of_the_fuel(Reason reason) {
    return reason == Reason::pump_curve_ends || reason == Reason::no_injection_pressure;
}

}  // namespace

std::string say(Language language, Reason reason, const std::vector<Detail>& details) {
    fmt::dynamic_format_arg_store<fmt::format_context> store;
    for (const Detail& detail : details) {
        if (detail.quantity == Quantity::pressure_difference && of_the_fuel(reason)) {
            const Unit* bar = find_unit("bar");
            store.push_back(number_text(bar->from_si(detail.value, detail.quantity), bar, language));
        } else {
            store.push_back(quantity_text(detail.value, detail.quantity, language));
        }
    }
    return fill_in(translated(language, english(reason)), store);
}

std::string with_decimal_mark(std::string text, Language language) {
    const auto is_digit = [&](std::size_t i) { return i < text.size() && text[i] >= '0' && text[i] <= '9'; };
    if (language == Language::german)
        for (std::size_t i = 1; i < text.size(); ++i)
            if (text[i] == '.' && is_digit(i - 1) && is_digit(i + 1)) text[i] = ',';
    return text;
}

std::string number_text(double value, Language language) {
    if (value == 0.0) return "0";
    return with_decimal_mark(fmt::format("{:.6g}", value), language);
}

std::string number_text(double value, const Unit* unit, Language language) {
    const std::string number = number_text(value, language);
    return unit ? fmt::format("{} {}", number, unit->symbol) : number;
}

std::string exact_text(double value) {
    return fmt::format("{}", value);
}

std::string quantity_text(double si, Quantity quantity, Language language) {
    if (quantity == Quantity::share) return fmt::format("{} %", number_text(si * 100.0, language));
    const auto symbols = unit_symbols(quantity);
    if (symbols.empty()) return number_text(si, language);
    const Unit* unit = find_unit(symbols.front());
    return number_text(unit->from_si(si, quantity), unit, language);
}

}  // namespace pullsheet::catalogue
