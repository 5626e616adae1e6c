// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cmath>
#include <string>
#include <vector>

#include "core/catalogue/call.hpp"
#include "core/catalogue/catalogue.hpp"

/// Functions for tests of the catalogue itself, so that these stand whatever the families hold.
namespace pullsheet::catalogue::sample {

inline const BlockSchema& schema() {
    static const BlockSchema schema{
        "sample",
        {Label("mass", "mass with driver", Quantity::mass, "kg", positive),
         Label("temperature", "of the air", Quantity::temperature, "°C", between(-100.0, 200.0))
             .otherwise(15.0),
         Label("front share", "of the mass", Quantity::share, "", unit_share).otherwise(0.55),
         Label("gear #", "ratio of a gear", Quantity::ratio, "", positive).optional(),
         Label("bore", "of a cylinder", Quantity::length, "mm", positive).optional(),
         Label("stroke", "of the piston", Quantity::length, "mm", positive).optional(),
         Label("tyre", "size as written on it").optional()},
        {{"bore", "stroke"}}};
    return schema;
}

/// SAMPLE.POWER(torque [N·m]; speed [rpm]; share = 1; unit) in kW.
inline const Function& power() {
    static const Function function = [] {
        Function made{
            .name = "SAMPLE.POWER",
            .summary = "Power of a torque at a speed",
            .parameters = {number("torque", "torque", Quantity::torque, "N·m", from(0.0)),
                           number("speed", "engine speed", Quantity::angular_speed, "rpm", positive)
                               .established({0.0, 9000.0}),
                           share("loss_share", "what is lost").otherwise(0.0)},
            .result = Result::number("power", Quantity::power, "kW"),
            .method = "P = T·ω",
            .sources = {"Pullsheet"},
            .example = {{350.0, 5500.0}, 201.585529},
            .compute = [](Call& call) -> Answer { return call.si(0) * call.si(1) * (1.0 - call.si(2)); },
        };
        Parameter unit = text("unit", "unit of the result");
        unit.kind = Kind::unit;
        unit.required = false;
        made.parameters.push_back(unit);
        for (Parameter& parameter : made.parameters)
            if (!parameter.unit.empty()) parameter.default_unit = find_unit(parameter.unit);
        made.result.default_unit = find_unit(made.result.unit);
        return made;
    }();
    return function;
}

inline Value call(std::vector<Value> arguments) {
    return evaluate(power(), arguments).value;
}

inline std::string sentence(const Value& value) {
    const auto* failure = std::get_if<Failure>(&value);
    return failure ? failure->sentence : std::string();
}

inline bool contains(const std::string& text, const std::string& part) {
    return text.find(part) != std::string::npos;
}

}  // namespace pullsheet::catalogue::sample
