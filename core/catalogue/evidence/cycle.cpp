// SPDX-License-Identifier: Apache-2.0
#include "core/catalogue/evidence/evidence.hpp"

namespace pullsheet::catalogue::evidence {
namespace {

// An invented engine; what is printed holds for engines in general.
Table an_engine(double compression_ratio, double coolant_temperature = 90.0) {
    return {{std::string("bore"), 84.0, std::string("mm")},
            {std::string("stroke"), 90.0, std::string("mm")},
            {std::string("rod length"), 148.0, std::string("mm")},
            {std::string("cylinders"), 4.0},
            {std::string("volumetric efficiency"), 0.9},
            {std::string("compression ratio"), compression_ratio},
            {std::string("coolant temperature"), coolant_temperature, std::string("°C")}};
}

// Full load of a naturally aspirated engine near best torque.
std::vector<Value> full_load(double speed, double spark, double lambda = 0.9) {
    return {an_engine(10.0), speed, 98.0, 40.0, spark, 0.0, lambda};
}

}  // namespace

std::vector<Check> cycle() {
    const Reference heywood{citation("Heywood 1988")};
    const std::string_view range = "the middle of the printed range; its half is the tolerance";
    return {
        printed("CYCLE.RESULT", full_load(3000.0, 24.0), 9.5, 0, heywood,
                "section 2.7: naturally aspirated spark ignition, 850 to 1050 kPa")
            .within(Tolerance::absolute(1.0), range)
            .at(2, 1),
        printed("CYCLE.RESULT", full_load(5000.0, 28.0), 900.0, -2, heywood,
                "section 11.5: exhaust of spark-ignition engines, about 900 °C at high power")
            .at(21, 1),
        printed("CYCLE.RESULT", full_load(3000.0, 24.0, 1.0), 0.30, 1, heywood,
                "section 2.9: brake efficiency of spark-ignition engines, best 0.25 to 0.35")
            .within(Tolerance::absolute(0.05), range)
            .at(12, 1),
    };
}

// How much octane the engine needs more when a condition changes.
std::vector<Check> knock() {
    const Reference russ{
        "S. Russ, A review of the effect of engine operating conditions on borderline knock, SAE 960497, "
        "1996",
        "the abstract"};
    const Reference remembered{
        "S. Russ, A review of the effect of engine operating conditions on borderline knock, SAE 960497, "
        "1996"};
    const std::string_view range =
        "the middle of the printed range, 3 to 4; its half and half a digit are the tolerance";
    const std::string_view steeper = "the model rises more steeply by a fifth";
    const auto at = [](double compression_ratio, double pressure, double temperature, double spark,
                       double coolant_temperature = 90.0) -> std::vector<Value> {
        return {an_engine(compression_ratio, coolant_temperature), 2500.0, pressure, temperature, spark};
    };
    const std::vector<Value> before = at(10.0, 100.0, 40.0, 18.0);
    return {
        printed("KNOCK.CALIBRATE", at(10.0, 100.0, 40.0, 19.0), 1.0, 0, russ,
                "one octane number for a degree of spark")
            .change(before, 1.0),
        printed("KNOCK.CALIBRATE", at(10.0, 100.0, 47.0, 18.0), 1.0, 0, russ,
                "one octane number for 7 K of intake air")
            .change(before, 1.0),
        printed("KNOCK.CALIBRATE", at(10.0, 100.0, 40.0, 18.0, 100.0), 1.0, 0, remembered,
                "one octane number for 10 K of coolant")
            .change(before, 1.0),
        printed("KNOCK.CALIBRATE", at(10.0, 110.0, 40.0, 18.0), 3.5, 1, russ,
                "3 to 4 octane numbers for 10 kPa of manifold pressure")
            .within(Tolerance::absolute(1.1), range)
            .change(before, 1.0),
        printed("KNOCK.CALIBRATE", at(11.0, 100.0, 40.0, 18.0), 5.0, 0, remembered,
                "5 octane numbers for a unit of compression ratio")
            .within(Tolerance::relative(0.2), steeper)
            .change(before, 1.0),
    };
}

}  // namespace pullsheet::catalogue::evidence
