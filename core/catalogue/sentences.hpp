// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <initializer_list>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "core/catalogue/units.hpp"
#include "core/error.hpp"

namespace pullsheet::catalogue {

/// The languages of the catalogue. Names of functions, parameters, labels, choices and units are
/// the same in all of them, and so is every value of a cell.
enum class Language { english, german };

/// The language for a locale ("de", "de-AT", "de_DE.UTF-8"): English unless there are texts in its own.
Language language_of(std::string_view locale);

/// The messages of the catalogue itself, from reading arguments and writing results.
enum class Phrase {
    wanted,
    missing,
    empty,
    zero_or_empty,
    outside,
    not_a_number,
    bad_number,
    unknown_unit,
    wrong_quantity,
    unit_not_wanted,
    gauge_for_absolute,
    absolute_for_gauge,
    absolute_for_difference,
    difference_for_absolute,
    gauge_for_difference,
    gauge_over_manifold,
    flow_by_mass,
    rating_by_mass,
    result_by_mass,
    rollout_twice,
    percent_meant,
    fuel_name,
    not_finite_argument,
    error_in_argument,
    text_wanted,
    unknown_choice,
    unknown_choice_near,
    single_value_wanted,
    shapes_differ,
    range_wanted,
    one_row_or_column,
    too_many_arguments,
    unknown_function,
    unknown_function_near,
    only_in_calc,
    answer_too_large,
    explains_itself,
    result_unit_unknown,
    result_unit_wrong,
    result_not_finite,
    established,
    unusual,
    result_impossible,
    result_unusual,
    figure_impossible,
    figure_unusual,
    column_unusual,
    more_warnings,
    mon_above_ron,
    allowed_between,
    allowed_above,
    allowed_below,
    allowed_from,
    allowed_up_to,
    allowed_any,
    allowed_share,
    block_two_columns,
    block_label_missing,
    block_label_doubled,
    block_label_unknown,
    block_label_unknown_near,
    block_unit_twice,
    block_value,
    block_one_of,
    block_uncertainty,
    convert_quantities,
    convert_pressure_kinds,
    convert_unknown,
    internal,
    column_missing,
    column_unknown,
    column_unknown_near,
    column_doubled,
    column_without_heading,
    part_value_foreign,
    element,
    element_of_column,
    element_of_row,
    not_a_number_parameter,
    not_a_scalar_function,
    map_columns,
    engine_displacement,
    engine_square,
    engine_rod,
    one_point_curve,
    stage_missing,
    fuel_missing,
    column_value,
    column_value_missing,
    measured_without_power,
    measured_without_rows,
    measured_power_and_torque,
    yes_or_no,
    stage_unknown,
    fuel_unknown,
    redline_needed,
    pipe_place,
    part_kind,
    parts_columns,
    speed_or_redline,
    weather_elevation_missing,
    tyre_size,
    vehicle_drive,
    engine_injection,
    vehicle_tyre,
    vehicle_gear_missing,
    part_named,
    price_of,
};

using Fill = std::initializer_list<std::pair<std::string_view, std::string>>;

/// The phrase in `language`, with each {name} replaced by its value in `fill`.
std::string say(Language language, Phrase phrase, Fill fill = {});

/// The text, or its first `most` bytes (whole characters only) and an ellipsis.
std::string shortened(std::string text, std::size_t most);

/// The sentence of a reason in `language`; details are written in the trade's units.
std::string say(Language language, Reason reason, const std::vector<Detail>& details);

/// `text` in `language`, with each {name} replaced by its value in `fill`.
std::string say(Language language, std::string_view text, Fill fill);

/// `text` in `language`: texts are written in English and looked up by it.
std::string_view translated(Language language, std::string_view text);

/// Marks a text that is translated later, so that the list of texts includes it.
constexpr std::string_view marked(std::string_view text) {
    return text;
}

/// The English texts of phrases and reasons; empty for a number that stands for none.
std::string_view english(Phrase phrase);
std::string_view english(Reason reason);

/// A number as a person would write it: up to six significant digits, with the decimal mark of the language,
/// so that it can be typed as it is read.
std::string number_text(double value, Language language);

/// The same followed by the unit, where there is one.
std::string number_text(double value, const Unit* unit, Language language);

/// Figures of a text with the decimal mark of the language: a point between two digits becomes a comma in
/// German. Not for a text with versions, sections or names of functions in it.
std::string with_decimal_mark(std::string text, Language language);

/// A number with all its digits, so that it can be read back.
std::string exact_text(double value);

/// A number of the core with the unit that the trade uses first for the quantity ("95 kPa").
std::string quantity_text(double si, Quantity quantity, Language language);

}  // namespace pullsheet::catalogue
