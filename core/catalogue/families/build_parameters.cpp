// SPDX-License-Identifier: Apache-2.0
#include "core/catalogue/families/build_parameters.hpp"

#include <algorithm>

#include "core/catalogue/compressor_map_table.hpp"
#include "core/catalogue/engine_block.hpp"
#include "core/catalogue/turbine_map_table.hpp"
#include "core/catalogue/weather_block.hpp"

namespace pullsheet::catalogue::families {

Parameter engine_parameter() {
    return block("engine", "the engine, as an engine block", engine_schema());
}
Parameter weather_parameter() {
    return block("weather", "the day, as a weather block", weather_schema())
        .optional("15 °C, 101.325 kPa, dry");
}
Parameter parts_parameter() {
    Parameter parts =
        table("parts",
              "header row, then one row per part: part, kind and its values, either in the order of its kind "
              "(value, unit, value 2, unit …) or in columns named for them (rated flow [cc/min])");
    parts.details = part_kind_lines;
    return parts;
}
Parameter optional_map() {
    return table("map",
                 "compressor map: columns shaft speed [rpm], corrected flow [g/s], pressure ratio, "
                 "efficiency; 25 °C, 100 kPa")
        .optional("compressor described by its largest flow and one efficiency");
}

Parameter optional_turbine_map() {
    return table(
               "turbine_map",
               "turbine map: columns pressure ratio, corrected flow [g/s], and where known shaft speed [rpm] "
               "and efficiency; 15 °C, 101.325 kPa; one turbine")
        .optional("turbine described by its effective area and one efficiency");
}

plan::Engine engine_at(Call& call, std::size_t i) {
    return engine_from(call.block(i), call.function().parameters[i].name, call.language());
}

plan::Weather weather_at(Call& call, std::size_t i) {
    Day day;
    if (call.given(i)) day = day_from(call.block(i), call.function().parameters[i].name, call.language());
    return {day.temperature, day.pressure, day.humidity};
}

std::optional<boost::CompressorMap> map_at(Call& call, std::size_t i) {
    if (!call.given(i)) return std::nullopt;
    return read_compressor_map(std::get<Table>(call.value(i)), call.function().parameters[i].name, {},
                               call.language(), call.warnings);
}

NamedParts parts_at(Call& call, std::size_t i, const std::optional<boost::CompressorMap>& map) {
    NamedParts parts;
    if (call.given(i))
        parts = read_parts(std::get<Table>(call.value(i)), map ? &*map : nullptr,
                           call.function().parameters[i].name, call.language(), call.warnings);
    // A map without a compressor among the parts is a compressor of its own.
    if (map) {
        bool has_compressor = false;
        for (const auto& part : parts.parts)
            has_compressor = has_compressor || std::holds_alternative<plan::Compressor>(part);
        if (!has_compressor) {
            plan::Compressor compressor{};
            compressor.map = *map;
            parts.names.emplace_back("compressor");
            parts.kinds.emplace_back("compressor");
            parts.parts.emplace_back(compressor);
        }
    }
    return parts;
}

void add_turbine_map(Call& call, std::size_t i, NamedParts& parts) {
    if (!call.given(i)) return;
    const std::string_view name = call.function().parameters[i].name;
    const auto turbine = std::find_if(parts.parts.begin(), parts.parts.end(), [](const plan::Part& part) {
        return std::holds_alternative<boost::Turbine>(part);
    });
    if (turbine == parts.parts.end())
        throw Refused{
            FailureKind::wrong_argument,
            say(call.language(), "{parameter}: there is no turbine among the parts that it belongs to",
                {{"parameter", std::string(name)}})};
    std::get<boost::Turbine>(*turbine).map =
        read_turbine_map(std::get<Table>(call.value(i)), name, call.language(), call.warnings);
}

}  // namespace pullsheet::catalogue::families
