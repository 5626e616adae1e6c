// SPDX-License-Identifier: Apache-2.0
#include "core/catalogue/families/families.hpp"
#include "core/catalogue/reader.hpp"

namespace pullsheet::catalogue::families {
namespace {

Answer convert(Call& call) {
    const auto refuse = [&](Phrase phrase, Fill fill) {
        return Refused{FailureKind::wrong_argument, say(call.language(), phrase, fill)};
    };
    const Unit* from = find_unit(call.text(1));
    const Unit* to = find_unit(call.text(2));
    if (!from) throw refuse(Phrase::convert_unknown, {{"unit", std::string(call.text(1))}});
    if (!to) throw refuse(Phrase::convert_unknown, {{"unit", std::string(call.text(2))}});
    if (from->quantity != to->quantity)
        throw refuse(Phrase::convert_quantities,
                     {{"from", std::string(from->symbol)},
                      {"quantity", std::string(translated(call.language(), quantity_name(from->quantity)))},
                      {"to", std::string(to->symbol)},
                      {"other", std::string(translated(call.language(), quantity_name(to->quantity)))}});
    const auto counts_from_vacuum = [](const Unit& unit) {
        return unit.pressure_kind == PressureKind::absolute;
    };
    if (counts_from_vacuum(*from) != counts_from_vacuum(*to) && from->pressure_kind != PressureKind::unsaid &&
        to->pressure_kind != PressureKind::unsaid)
        throw refuse(Phrase::convert_pressure_kinds,
                     {{"from", std::string(from->symbol)}, {"to", std::string(to->symbol)}});
    if (from->quantity == Quantity::temperature && !(from->to_si(call.si(0), from->quantity) >= 0.0))
        throw InvalidArgument("value", call.si(0), Interval{-from->offset});
    // Absolute pressure cannot be negative: a gauge pressure is at least minus the ambient pressure, which is
    // at most 110 kPa on land.
    const double lowest = from->pressure_kind == PressureKind::absolute ? 0.0 : -110e3;
    if (from->quantity == Quantity::pressure &&
        (from->pressure_kind == PressureKind::absolute || from->pressure_kind == PressureKind::gauge) &&
        !(from->to_si(call.si(0), from->quantity) >= lowest))
        throw InvalidArgument("value", call.si(0), Interval{from->from_si(lowest, from->quantity)});
    if (from == to || from->symbol == to->symbol) return call.si(0);
    return to->from_si(from->to_si(call.si(0), from->quantity), to->quantity);
}

}  // namespace

std::vector<Function> unit() {
    return {
        {
            .name = "UNIT.CONVERT",
            .summary = "A value in another unit of the same quantity",
            .parameters =
                {plain("value", "the number to convert", Quantity::number, finite).of(figures::anything),
                 text("from", "the unit it is in, for example \"PS\""),
                 text("to", "the unit wanted, for example \"kW\"")},
            .result = Result::plain("the value in the unit wanted", Quantity::number).of(figures::anything),
            .method = "Exact definitions; temperatures with their zero, PS (75 kgf·m/s) and hp (550 "
                      "ft·lbf/s) kept apart; inHg and mmHg are the conventional columns at 0 °C. Gauge "
                      "pressure is not converted to absolute pressure.",
            .formula = "y = (x + a)·f/g - b",
            .symbols = "x value, f and g the factors of the two units to SI, a and b the zeros of their "
                       "scales, 0 but for temperatures",
            .sources = {"SI Brochure 2019", "NIST SP 811"},
            .example = {{750.0, "PS", "kW"}, 551.6240625},
            .compute = convert,
        },
    };
}

}  // namespace pullsheet::catalogue::families
