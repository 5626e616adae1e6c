// SPDX-License-Identifier: Apache-2.0
// What dimensional analysis says: with every length twice as long, or every mass twice as heavy, the answer
// changes by a power of two that is known beforehand (Buckingham 1914).
#include <cmath>

#include "tests/pattern.hpp"
#include "tests/properties/points.hpp"
#include "tests/properties/random.hpp"

namespace pullsheet::catalogue::properties {
namespace {

struct Scaled {
    const char* parameter;
    double power;
};

/// With each of the parameters times k^power, the answer is k^answer times what it was.
struct Law {
    const char* function;
    std::vector<Scaled> parameters;
    double answer;
    const char* what;
};

const std::vector<Law>& laws() {
    static const std::vector<Law> all{
        {"ENGINE.POWER", {{"torque", 1}}, 1, "torque"},
        {"ENGINE.POWER", {{"torque", 2}, {"speed", -1}}, 1, "a longer lever, slower"},
        {"ENGINE.TORQUE", {{"power", 1}, {"speed", 1}}, 0, "time"},
        {"ENGINE.SPEED", {{"power", 1}, {"torque", 1}}, 0, "force"},
        {"ENGINE.DISPLACEMENT", {{"bore", 1}, {"stroke", 1}}, 3, "length"},
        {"ENGINE.COMPRESSION.RATIO",
         {{"bore", 1},
          {"stroke", 1},
          {"chamber_volume", 3},
          {"gasket_bore", 1},
          {"gasket_thickness", 1},
          {"deck_clearance", 1},
          {"piston_volume", 3}},
         0,
         "length"},
        {"ENGINE.PISTON.SPEED", {{"stroke", 1}, {"speed", -1}}, 0, "a larger engine turns slower"},
        {"ENGINE.PISTON.ACCELERATION", {{"stroke", 1}, {"rod_length", 1}}, 1, "length"},
        {"ENGINE.PISTON.ACCELERATION", {{"speed", 1}}, 2, "time"},
        {"ENGINE.BMEP", {{"torque", 3}, {"displacement", 3}}, 0, "length at equal pressure"},
        {"ENGINE.BMEP", {{"torque", 1}}, 1, "force"},
        {"ENGINE.AIR.FLOW", {{"displacement", 1}, {"speed", 1}}, 2, "volume, and time"},
        {"ENGINE.AIR.FLOW", {{"manifold_pressure", 1}}, 1, "density"},
        {"ENGINE.AIR.FLOW", {{"volumetric_efficiency", 1}}, 1, "filling"},
        {"ENGINE.VOLUMETRIC.EFFICIENCY", {{"air_flow", 1}, {"displacement", 1}}, 0, "volume"},
        {"ENGINE.VOLUMETRIC.EFFICIENCY", {{"air_flow", 1}, {"speed", 1}}, 0, "time"},
        {"ENGINE.MANIFOLD.PRESSURE", {{"air_flow", 1}, {"displacement", 1}}, 0, "volume"},
        {"ENGINE.MANIFOLD.PRESSURE", {{"air_flow", 1}}, 1, "density"},
        {"ENGINE.AIR.FOR.POWER", {{"power", 1}}, 1, "size of the engine"},
        {"ENGINE.AIR.FOR.POWER", {{"lambda", 1}, {"efficiency", 1}}, 0, "fuel saved is air saved"},
        {"ENGINE.POWER.FROM.AIR", {{"air_flow", 1}}, 1, "size of the engine"},
        {"ENGINE.BSFC", {{"fuel_flow", 1}, {"power", 1}}, 0, "size of the engine"},
        {"ENGINE.EFFICIENCY", {{"fuel_flow", 1}, {"power", 1}}, 0, "size of the engine"},
        {"FUEL.STOICH.FORMULA", {{"carbon", 1}, {"hydrogen", 1}, {"oxygen", 1}}, 0, "size of the molecule"},
        {"FUEL.AKI", {{"ron", 1}, {"mon", 1}}, 1, "a mean"},
        {"FUEL.FLOW", {{"power", 1}}, 1, "size of the engine"},
        {"FUEL.VOLUME.FLOW", {{"fuel_flow", 1}}, 1, "size of the engine"},
        {"FUEL.BLEND.ADD", {{"tank_volume", 1}}, 1, "size of the tank"},
        {"INJECTOR.FLOW", {{"rated_flow", 1}}, 1, "size of the injector"},
        {"INJECTOR.FLOW", {{"rated_pressure", 1}, {"fuel_pressure", 1}}, 0, "both pressures"},
        {"INJECTOR.FLOW", {{"rated_density", 1}, {"density", 1}}, 0, "both densities"},
        {"INJECTOR.FLOW", {{"fuel_pressure", 2}}, 1, "Bernoulli's root"},
        {"INJECTOR.DUTY", {{"fuel_flow", 1}, {"injector_flow", 1}}, 0, "size of the engine"},
        {"INJECTOR.SIZE", {{"fuel_flow", 1}}, 1, "size of the engine"},
        {"INJECTOR.POWER", {{"injector_flow", 1}}, 1, "size of the injector"},
        {"INJECTOR.WINDOW", {{"speed", 1}}, -1, "time"},
        {"PUMP.DEMAND", {{"fuel_flow", 1}}, 1, "size of the engine"},
        {"PUMP.PLUNGER.FLOW", {{"plunger_diameter", 1}, {"lift", 1}}, 3, "length"},
        {"PUMP.PLUNGER.FLOW", {{"speed", 1}}, 1, "time"},
        {"COMPRESSOR.PRESSURE.RATIO",
         {{"boost", 1}, {"ambient_pressure", 1}, {"intake_loss", 1}, {"charge_loss", 1}},
         0,
         "every pressure"},
        {"COMPRESSOR.CORRECTED.FLOW",
         {{"inlet_pressure", 1}, {"reference_pressure", 1}},
         0,
         "every pressure"},
        {"COMPRESSOR.CORRECTED.FLOW", {{"air_flow", 1}}, 1, "size of the compressor"},
        {"COMPRESSOR.POWER", {{"air_flow", 1}}, 1, "size of the compressor"},
        {"TURBINE.FLOW", {{"effective_area", 1}}, 1, "size of the turbine"},
        {"TURBINE.FLOW", {{"inlet_pressure", 1}, {"outlet_pressure", 1}}, 1, "density"},
        {"TURBINE.AREA", {{"gas_flow", 1}}, 1, "size of the turbine"},
        {"TURBINE.AREA", {{"inlet_pressure", 1}, {"outlet_pressure", 1}}, -1, "density"},
        {"TURBINE.INLET.PRESSURE", {{"gas_flow", 1}, {"effective_area", 1}}, 0, "size of the turbine"},
        {"TURBINE.INLET.PRESSURE", {{"gas_flow", 1}, {"outlet_pressure", 1}}, 1, "density"},
        {"TURBINE.CORRECTED.FLOW", {{"gas_flow", 1}}, 1, "size of the turbine"},
        {"TURBINE.CORRECTED.FLOW", {{"inlet_pressure", 1}, {"reference_pressure", 1}}, 0, "every pressure"},
        {"TURBINE.POWER", {{"gas_flow", 1}}, 1, "size of the turbine"},
        {"TURBINE.BLADE.SPEED.RATIO", {{"diameter", 1}, {"shaft_speed", -1}}, 0, "speed of the tip"},
        {"TURBINE.PRESSURE.RATIO", {{"compressor_power", 1}, {"gas_flow", 1}}, 0, "size of the turbine"},
        {"PIPE.VELOCITY", {{"air_flow", 2}, {"diameter", 1}}, 0, "width of the pipe"},
        {"PIPE.VELOCITY", {{"air_flow", 1}, {"pressure", 1}}, 0, "density"},
        {"PIPE.MACH", {{"air_flow", 2}, {"diameter", 1}}, 0, "width of the pipe"},
        {"PIPE.DIAMETER", {{"air_flow", 2}}, 1, "width of the pipe"},
        {"PIPE.DIAMETER", {{"air_flow", 1}, {"pressure", 1}}, 0, "density"},
        {"PIPE.PRESSURE.LOSS",
         {{"air_flow", 1}, {"diameter", 1}, {"length", 1}, {"roughness", 1}, {"pressure", 0}},
         -2,
         "length at equal Reynolds number"},
        {"DYNO.RESTATE", {{"power", 1}}, 1, "size of the engine"},
        {"DYNO.CRANK.POWER", {{"wheel_power", 1}, {"fixed_loss", 1}}, 1, "size of the engine"},
    };
    return all;
}

std::string law_name(const testing::TestParamInfo<Law>& info) {
    return tests::in_test_name(std::string(info.param.function) + "_" + info.param.what);
}

class ScaleInvariance : public testing::TestWithParam<Law> {};

INSTANTIATE_TEST_SUITE_P(Catalogue, ScaleInvariance, testing::ValuesIn(laws()), law_name);

TEST_P(ScaleInvariance, Holds) {
    const Law& law = GetParam();
    const Function& function = *find_function(law.function);
    int answered = 0;
    const bool held = holds([&] {
        const auto plain = arguments_at(function, random_shares(function), Reach::established);
        const double k = 0.5 + 2.0 * random_share();
        auto scaled = plain;
        for (const Scaled& one : law.parameters)
            for (std::size_t i = 0; i < function.parameters.size(); ++i)
                if (function.parameters[i].name == one.parameter)
                    scaled[i] = std::get<double>(plain[i]) * std::pow(k, one.power);
        const Value before = evaluate(function, plain).value;
        const Value after = evaluate(function, scaled).value;
        const auto* a = std::get_if<double>(&before);
        const auto* b = std::get_if<double>(&after);
        if (!a || !b) return;  // out of the range of one of them
        ++answered;
        const double expected = *a * std::pow(k, law.answer);
        if (!(std::abs(*b - expected) <= 1e-11 * std::abs(expected)))
            property_fails(shown(function, plain) + " = " + shown(before) + "\n" + shown(function, scaled) +
                           " = " + shown(after));
    });
    EXPECT_TRUE(held);
    EXPECT_GT(answered, 20) << "hardly a point of the sample has an answer";
}

/// Ranges: the curve of a pull in other units of torque and speed, a day's values in another unit.
Table times(Table column, double factor, double plus = 0.0) {
    for (std::size_t r = 0; r < column.rows(); ++r)
        if (auto* number = std::get_if<double>(&column.at(r, 0))) *number = *number * factor + plus;
    return column;
}

Table column_of(const char* function, std::size_t position) {
    return std::get<Table>(find_function(function)->example.arguments[position]);
}

TEST(ScaleOfCurves, APeakMovesWithItsUnits) {
    const Table speeds = column_of("PULL.PEAK", 0);
    const Table values = column_of("PULL.PEAK", 1);
    for (const double k : {0.1047, 0.7376, 3.0}) {
        EXPECT_NEAR(cell("PULL.PEAK", {speeds, times(values, k)}, 1, 1),
                    k * cell("PULL.PEAK", {speeds, values}, 1, 1), 1e-10);
        EXPECT_NEAR(cell("PULL.PEAK", {times(speeds, k), values}, 2, 1),
                    k * cell("PULL.PEAK", {speeds, values}, 2, 1), 1e-9);
        EXPECT_NEAR(number("PULL.MEAN", {times(speeds, k), values, k * 2700.0, k * 6100.0}),
                    number("PULL.MEAN", {speeds, values, 2700.0, 6100.0}), 1e-9);
        EXPECT_NEAR(number("PULL.AT", {times(speeds, k), times(values, 1.0 / k), k * 4321.0}),
                    number("PULL.AT", {speeds, values, 4321.0}) / k, 1e-9);
        EXPECT_NEAR(cell("PULL.BAND", {times(speeds, k), values, 0.93}, 3, 1),
                    k * cell("PULL.BAND", {speeds, values, 0.93}, 3, 1), 1e-8);
    }
}

TEST(ScaleOfCurves, StatisticsMoveWithUnitAndZero) {
    const Table before = column_of("PULL.GAIN", 0);
    const Table after = column_of("PULL.GAIN", 1);
    for (const double k : {0.7376, 1.3596}) {
        EXPECT_NEAR(cell("PULL.GAIN", {times(before, k, 40.0), times(after, k, 40.0)}, 1, 1),
                    k * cell("PULL.GAIN", {before, after}, 1, 1), 1e-10);
        EXPECT_NEAR(cell("PULL.GAIN", {times(before, k, 40.0), times(after, k, 40.0)}, 4, 1),
                    cell("PULL.GAIN", {before, after}, 4, 1), 1e-10);
        EXPECT_NEAR(cell("PULL.REPEATABILITY", {times(before, k, -9.0)}, 2, 1),
                    k * cell("PULL.REPEATABILITY", {before}, 2, 1), 1e-11);
    }
    const Table values = column_of("CHECK.AGREEMENT", 0);
    const Table uncertainties = column_of("CHECK.AGREEMENT", 1);
    EXPECT_NEAR(cell("CHECK.AGREEMENT", {times(values, 1.3596), times(uncertainties, 1.3596)}, 1, 1),
                1.3596 * cell("CHECK.AGREEMENT", {values, uncertainties}, 1, 1), 1e-9);
    EXPECT_NEAR(cell("CHECK.AGREEMENT", {times(values, 1.3596), times(uncertainties, 1.3596)}, 2, 1),
                cell("CHECK.AGREEMENT", {values, uncertainties}, 2, 1), 1e-10);
}

/// A pull of rollers of twice the inertia is twice the power; a log in half the time base is eight times.
TEST(ScaleOfCurves, PowerOfAPullGrowsWithInertiaAndWithTheCubeOfTheRate) {
    const Table time = column_of("DYNO.ROLLER.PULL", 0);
    const Table speed = column_of("DYNO.ROLLER.PULL", 1);
    const double power = cell("DYNO.ROLLER.PULL", {time, speed, 20.0}, 20, 1);
    EXPECT_NEAR(cell("DYNO.ROLLER.PULL", {time, speed, 50.0}, 20, 1), 2.5 * power, 1e-9 * power);
    EXPECT_NEAR(cell("DYNO.ROLLER.PULL", {times(time, 0.5), times(speed, 2.0), 20.0}, 20, 1), 8.0 * power,
                1e-9 * power);
}

/// Newton: every mass, inertia, torque and drag twice as large, and nothing has changed.
TEST(ScaleOfCurves, ACarTwiceAsHeavyWithTwiceTheForcesIsAsQuick) {
    const auto car = std::get<Table>(find_function("ROAD.TIME")->example.arguments[0]);
    const Table speeds = column_of("ROAD.TIME", 1);
    const Table torques = column_of("ROAD.TIME", 2);
    Table heavy = car;
    for (std::size_t r = 0; r < heavy.rows(); ++r) {
        const auto label = std::get<std::string>(heavy.at(r, 0));
        if (label == "mass" || label == "drag area") heavy.at(r, 1) = 2.0 * std::get<double>(heavy.at(r, 1));
    }
    heavy.add_row({std::string("engine inertia"), 0.4, std::string("kg·m²")});
    heavy.add_row({std::string("wheel inertia"), 2.0, std::string("kg·m²")});
    for (const double from : {0.0, 60.0})
        EXPECT_NEAR(number("ROAD.TIME", {heavy, speeds, times(torques, 2.0), from, 180.0}),
                    number("ROAD.TIME", {car, speeds, torques, from, 180.0}), 1e-8);
}

}  // namespace
}  // namespace pullsheet::catalogue::properties
