// SPDX-License-Identifier: Apache-2.0
#include "core/catalogue/families/end_of_data.hpp"

#include "core/catalogue/families/families.hpp"

namespace pullsheet::catalogue::families {

std::string end_of_data(const Warning& why, Language language) {
    const auto shown = [&](std::size_t detail, Quantity quantity, std::string_view symbol) {
        const Unit* unit = symbol.empty() ? nullptr : find_unit(symbol);
        const double si = why.details[detail].value;
        return number_text(unit ? unit->from_si(si, quantity) : si, unit, language);
    };
    switch (why.reason) {
        case Reason::pump_curve_ends:
            return say(language, "the curve ends at {end}",
                       {{"end", shown(1, Quantity::pressure_difference, "bar")}});
        case Reason::map_ends_right:
            return say(language, "the map ends at {end}", {{"end", shown(1, Quantity::mass_flow, "g/s")}});
        case Reason::map_ends_left:
            return say(language, "the map begins at {end}", {{"end", shown(1, Quantity::mass_flow, "g/s")}});
        case Reason::map_ends_above:
            return say(language, "the map ends at a pressure ratio of {end}",
                       {{"end", shown(0, Quantity::ratio, "")}});
        default: return say(language, why.reason, why.details);
    }
}

std::string not_known_beyond(double power, Language language) {
    if (!(power > 0.0)) return std::string(translated(language, "not known at any power"));
    const Unit* kilowatt = find_unit("kW");
    return say(language, "not known beyond {power}",
               {{"power", number_text(kilowatt->from_si(power, Quantity::power), kilowatt, language)}});
}

std::string limited_by(const plan::LimitedBy& limit, const std::vector<std::string>& names) {
    if (!limit.part) switch (limit.engine) {
            case plan::EngineBound::knock: return "knock";
            case plan::EngineBound::exhaust_temperature: return "exhaust temperature";
            case plan::EngineBound::peak_pressure: return "peak pressure";
            case plan::EngineBound::assumed_peak_pressure: return "peak pressure (assumed)";
            case plan::EngineBound::measured_power_peak: return "power peak of the measured pull";
        }
    return (limit.data_end ? "missing data: " : "") + names[*limit.part];
}

}  // namespace pullsheet::catalogue::families
