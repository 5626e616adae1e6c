// SPDX-License-Identifier: Apache-2.0
// What must rise when something rises, and why.
#include <cctype>

#include "tests/pattern.hpp"
#include "tests/properties/points.hpp"
#include "tests/properties/random.hpp"

namespace pullsheet::catalogue::properties {
namespace {

enum class Sense { rises, falls };
using enum Sense;

/// The answer of `function` rises or falls with `parameter`, all else equal, wherever the formula is
/// established.
struct Statement {
    const char* function;
    const char* parameter;
    Sense sense;
    const char* reason;
};

const Statement statements[] = {
    {"AIR.VAPOUR.PRESSURE", "temperature", rises, "warm air holds more water"},
    {"AIR.VAPOUR.PRESSURE", "humidity", rises, "it is that share of the saturation pressure"},
    {"AIR.HUMIDITY", "temperature", falls, "the same water in air that could hold more"},
    {"AIR.HUMIDITY", "dew_point", rises, "more water"},
    {"AIR.STATION.PRESSURE", "sea_level_pressure", rises, "the same column on a higher base"},
    {"AIR.STATION.PRESSURE", "elevation", falls, "less air above"},
    {"AIR.DENSITY", "temperature", falls, "gas expands"},
    {"AIR.DENSITY", "pressure", rises, "gas is compressed"},
    {"AIR.DENSITY", "humidity", falls, "water vapour is lighter than air"},
    {"AIR.STANDARD.PRESSURE", "altitude", falls, "less air above"},
    {"AIR.STANDARD.TEMPERATURE", "altitude", falls, "the lapse rate of the troposphere"},
    {"AIR.PRESSURE.ALTITUDE", "pressure", falls, "less air above"},
    {"AIR.DENSITY.ALTITUDE", "temperature", rises, "thin air is found high up"},
    {"AIR.DENSITY.ALTITUDE", "pressure", falls, "dense air is found low down"},
    {"AIR.DENSITY.ALTITUDE", "humidity", rises, "moist air is thinner"},

    {"DYNO.FACTOR", "temperature", rises, "a hot day takes more away"},
    {"DYNO.FACTOR", "pressure", falls, "dense air gives more of itself"},
    {"DYNO.FACTOR", "humidity", rises, "vapour displaces air"},
    {"DYNO.FACTOR.DIESEL", "temperature", rises, "a hot day takes more away"},
    {"DYNO.FACTOR.DIESEL", "pressure", falls, "dense air gives more of itself"},
    {"DYNO.RESTATE", "power", rises, "both factors are above zero"},
    {"DYNO.CRANK.POWER", "wheel_power", rises, "the loss comes on top"},
    {"DYNO.CRANK.POWER", "loss_share", rises, "the loss comes on top"},
    {"DYNO.CRANK.POWER", "fixed_loss", rises, "the loss comes on top"},

    {"ENGINE.POWER", "torque", rises, "P = T·ω"},
    {"ENGINE.POWER", "speed", rises, "P = T·ω"},
    {"ENGINE.TORQUE", "power", rises, "T = P/ω"},
    {"ENGINE.TORQUE", "speed", falls, "T = P/ω"},
    {"ENGINE.SPEED", "power", rises, "ω = P/T"},
    {"ENGINE.SPEED", "torque", falls, "ω = P/T"},
    {"ENGINE.DISPLACEMENT", "bore", rises, "a larger cylinder"},
    {"ENGINE.DISPLACEMENT", "stroke", rises, "a longer cylinder"},
    {"ENGINE.DISPLACEMENT", "cylinders", rises, "more of them"},
    {"ENGINE.COMPRESSION.RATIO", "stroke", rises, "more volume into the same chamber"},
    {"ENGINE.COMPRESSION.RATIO", "chamber_volume", falls, "more room at top dead centre"},
    {"ENGINE.COMPRESSION.RATIO", "gasket_bore", falls, "more room at top dead centre"},
    {"ENGINE.COMPRESSION.RATIO", "gasket_thickness", falls, "more room at top dead centre"},
    {"ENGINE.COMPRESSION.RATIO", "deck_clearance", falls, "more room at top dead centre"},
    {"ENGINE.COMPRESSION.RATIO", "piston_volume", falls, "a dish is room at top dead centre"},
    {"ENGINE.PISTON.SPEED", "stroke", rises, "a longer way in the same time"},
    {"ENGINE.PISTON.SPEED", "speed", rises, "the same way in a shorter time"},
    {"ENGINE.PISTON.ACCELERATION", "stroke", rises, "a larger circle"},
    {"ENGINE.PISTON.ACCELERATION", "rod_length", falls, "a long rod swings less"},
    {"ENGINE.PISTON.ACCELERATION", "speed", rises, "with its square"},
    {"ENGINE.BMEP", "torque", rises, "work of a cycle"},
    {"ENGINE.BMEP", "displacement", falls, "the same work from more volume"},
    {"ENGINE.AIR.FLOW", "displacement", rises, "more volume"},
    {"ENGINE.AIR.FLOW", "speed", rises, "more fillings"},
    {"ENGINE.AIR.FLOW", "manifold_pressure", rises, "denser air"},
    {"ENGINE.AIR.FLOW", "manifold_temperature", falls, "thinner air"},
    {"ENGINE.AIR.FLOW", "volumetric_efficiency", rises, "fuller fillings"},
    {"ENGINE.VOLUMETRIC.EFFICIENCY", "air_flow", rises, "fuller fillings"},
    {"ENGINE.VOLUMETRIC.EFFICIENCY", "displacement", falls, "the same air in more volume"},
    {"ENGINE.VOLUMETRIC.EFFICIENCY", "speed", falls, "the same air in more fillings"},
    {"ENGINE.VOLUMETRIC.EFFICIENCY", "manifold_pressure", falls, "denser air would have given more"},
    {"ENGINE.VOLUMETRIC.EFFICIENCY", "manifold_temperature", rises, "thinner air gave as much"},
    {"ENGINE.MANIFOLD.PRESSURE", "air_flow", rises, "more air in the same volume"},
    {"ENGINE.MANIFOLD.PRESSURE", "displacement", falls, "the same air in more volume"},
    {"ENGINE.MANIFOLD.PRESSURE", "speed", falls, "the same air in more fillings"},
    {"ENGINE.MANIFOLD.PRESSURE", "manifold_temperature", rises, "warm air takes more room"},
    {"ENGINE.MANIFOLD.PRESSURE", "volumetric_efficiency", falls, "fuller fillings need less"},
    {"ENGINE.AIR.FOR.POWER", "power", rises, "more fuel to burn"},
    {"ENGINE.AIR.FOR.POWER", "lambda", rises, "more air to the same fuel"},
    {"ENGINE.AIR.FOR.POWER", "efficiency", falls, "less fuel for the same power"},
    {"ENGINE.POWER.FROM.AIR", "air_flow", rises, "more air burns more fuel"},
    {"ENGINE.POWER.FROM.AIR", "lambda", falls, "less fuel to the same air"},
    {"ENGINE.POWER.FROM.AIR", "efficiency", rises, "more of the same heat"},
    {"ENGINE.BSFC", "fuel_flow", rises, "more fuel for the same power"},
    {"ENGINE.BSFC", "power", falls, "more power from the same fuel"},
    {"ENGINE.EFFICIENCY", "fuel_flow", falls, "more fuel for the same power"},
    {"ENGINE.EFFICIENCY", "power", rises, "more power from the same fuel"},
    {"ENGINE.EFFICIENCY", "fuel", rises, "ethanol brings less heat"},

    {"FUEL.STOICH", "fuel", falls, "ethanol brings its own oxygen"},
    {"FUEL.STOICH.FORMULA", "oxygen", falls, "oxygen of the fuel's own, and more weight"},
    {"FUEL.DENSITY", "fuel", rises, "ethanol is denser than gasoline"},
    {"FUEL.DENSITY", "temperature", falls, "liquids expand"},
    {"FUEL.HEATING.VALUE", "fuel", falls, "ethanol is partly burnt already"},
    {"FUEL.ENERGY.DENSITY", "fuel", falls, "ethanol is partly burnt already"},
    {"FUEL.ENERGY.DENSITY", "temperature", falls, "liquids expand"},
    {"FUEL.OXYGEN", "fuel", rises, "only ethanol has any"},
    {"FUEL.ETHANOL.MASS", "fuel", rises, "more of it"},
    {"FUEL.LATENT.HEAT", "fuel", rises, "ethanol takes more heat to evaporate"},
    {"FUEL.OCTANE", "base_ron", rises, "a better base"},
    {"FUEL.OCTANE", "ethanol_ron", rises, "a better component"},
    {"FUEL.AKI", "ron", rises, "a mean"},
    {"FUEL.AKI", "mon", rises, "a mean"},
    {"FUEL.CHARGE.COOLING", "fuel", rises, "more fuel of higher latent heat"},
    {"FUEL.CHARGE.COOLING", "lambda", falls, "less fuel to the same air"},
    {"FUEL.CHARGE.COOLING", "evaporated", rises, "more of it evaporates"},
    {"FUEL.LAMBDA", "air_fuel_ratio", rises, "more air"},
    {"FUEL.LAMBDA", "fuel", rises, "ethanol needs less of it"},
    {"FUEL.AIR.FUEL.RATIO", "lambda", rises, "more air"},
    {"FUEL.AIR.FUEL.RATIO", "fuel", falls, "ethanol needs less of it"},
    {"FUEL.EXHAUST.LAMBDA", "o2", rises, "oxygen left over"},
    {"FUEL.EXHAUST.LAMBDA", "hydrocarbons", falls, "fuel left over"},
    {"FUEL.SENSOR.ETHANOL", "frequency", rises, "as the sensor is made"},
    {"FUEL.FLOW", "power", rises, "more power from more fuel"},
    {"FUEL.FLOW", "fuel", rises, "ethanol brings less heat"},
    {"FUEL.FLOW", "efficiency", falls, "less fuel for the same power"},
    {"FUEL.VOLUME.FLOW", "fuel_flow", rises, "more fuel"},
    {"FUEL.VOLUME.FLOW", "fuel", falls, "ethanol is denser"},
    {"FUEL.VOLUME.FLOW", "temperature", rises, "liquids expand"},

    {"INJECTOR.FLOW", "rated_flow", rises, "a larger orifice"},
    {"INJECTOR.FLOW", "rated_pressure", falls, "the rating was helped by more pressure"},
    {"INJECTOR.FLOW", "fuel_pressure", rises, "more pressure pushes more through"},
    {"INJECTOR.FLOW", "rated_density", rises, "the rating was held back by a heavier fluid"},
    {"INJECTOR.FLOW", "density", falls, "a heavier fluid is slower"},
    {"INJECTOR.DUTY", "fuel_flow", rises, "more fuel"},
    {"INJECTOR.DUTY", "count", falls, "more injectors share it"},
    {"INJECTOR.DUTY", "injector_flow", falls, "larger injectors"},
    {"INJECTOR.DUTY", "fuel", falls, "ethanol is denser"},
    {"INJECTOR.DUTY", "dead_time", rises, "time lost"},
    {"INJECTOR.SIZE", "fuel_flow", rises, "more fuel"},
    {"INJECTOR.SIZE", "count", falls, "more injectors share it"},
    {"INJECTOR.SIZE", "largest_duty", falls, "open for longer"},
    {"INJECTOR.POWER", "injector_flow", rises, "more fuel"},
    {"INJECTOR.POWER", "count", rises, "more injectors"},
    {"INJECTOR.POWER", "largest_duty", rises, "open for longer"},
    {"INJECTOR.POWER", "fuel", falls, "ethanol brings less heat"},
    {"INJECTOR.POWER", "efficiency", rises, "more of the same heat"},
    {"INJECTOR.WINDOW", "opening_angle", rises, "opens earlier"},
    {"INJECTOR.WINDOW", "closing_angle", falls, "an angle before top dead centre: closes earlier"},
    {"INJECTOR.WINDOW", "speed", falls, "less time for the same angle"},
    {"PUMP.DEMAND", "fuel_flow", rises, "more fuel"},
    {"PUMP.DEMAND", "margin", rises, "the margin comes on top"},
    {"PUMP.POWER", "pump_pressure", falls, "the pump of the example delivers less against more pressure"},
    {"PUMP.POWER", "efficiency", rises, "more of the same heat"},
    {"PUMP.POWER", "count", rises, "more pumps"},
    {"PUMP.PLUNGER.FLOW", "plunger_diameter", rises, "a larger plunger"},
    {"PUMP.PLUNGER.FLOW", "lift", rises, "a longer stroke"},
    {"PUMP.PLUNGER.FLOW", "lobes", rises, "more strokes"},
    {"PUMP.PLUNGER.FLOW", "speed", rises, "more strokes"},
    {"PUMP.PLUNGER.FLOW", "filling", rises, "fuller strokes"},
    {"PUMP.PLUNGER.FLOW", "cam_ratio", rises, "more strokes"},

    {"COMPRESSOR.PRESSURE.RATIO", "boost", rises, "more pressure behind"},
    {"COMPRESSOR.PRESSURE.RATIO", "intake_loss", rises, "less pressure ahead"},
    {"COMPRESSOR.PRESSURE.RATIO", "charge_loss", rises, "more pressure behind"},
    {"COMPRESSOR.TEMPERATURE", "inlet_temperature", rises, "it is a factor"},
    {"COMPRESSOR.TEMPERATURE", "pressure_ratio", rises, "more work"},
    {"COMPRESSOR.TEMPERATURE", "compressor_efficiency", falls, "less work for the same ratio"},
    {"COMPRESSOR.EFFICIENCY", "outlet_temperature", falls, "more work for the same ratio"},
    {"COMPRESSOR.EFFICIENCY", "pressure_ratio", rises, "a greater ratio for the same work"},
    {"COMPRESSOR.CORRECTED.FLOW", "air_flow", rises, "it is a factor"},
    {"COMPRESSOR.CORRECTED.FLOW", "inlet_temperature", rises, "thin air is more volume"},
    {"COMPRESSOR.CORRECTED.FLOW", "inlet_pressure", falls, "dense air is less volume"},
    {"COMPRESSOR.CORRECTED.FLOW", "reference_temperature", falls, "the reference is divided by"},
    {"COMPRESSOR.CORRECTED.FLOW", "reference_pressure", rises, "the pressure is over the reference"},
    {"COMPRESSOR.POWER", "air_flow", rises, "more air to compress"},
    {"COMPRESSOR.POWER", "inlet_temperature", rises, "warm air takes more work"},
    {"COMPRESSOR.POWER", "pressure_ratio", rises, "more work"},
    {"COMPRESSOR.POWER", "compressor_efficiency", falls, "less work for the same ratio"},
    {"CHARGE.TEMPERATURE", "inlet_temperature", rises, "hotter charge"},
    {"CHARGE.TEMPERATURE", "coolant_temperature", rises, "warmer coolant"},
    {"TURBINE.FLOW", "gas_temperature", falls, "hot gas is thin"},
    {"TURBINE.FLOW", "inlet_pressure", rises, "denser gas, more drop"},
    {"TURBINE.FLOW", "effective_area", rises, "it is a factor"},
    {"TURBINE.AREA", "gas_flow", rises, "more gas at the same pressures"},
    {"TURBINE.AREA", "gas_temperature", rises, "hot gas is thin"},
    {"TURBINE.AREA", "inlet_pressure", falls, "denser gas, more drop"},
    {"TURBINE.INLET.PRESSURE", "gas_flow", rises, "more gas through the same area"},
    {"TURBINE.INLET.PRESSURE", "gas_temperature", rises, "hot gas is thin"},
    {"TURBINE.INLET.PRESSURE", "outlet_pressure", rises, "a choked nozzle does not feel it"},
    {"TURBINE.INLET.PRESSURE", "effective_area", falls, "more room"},
    {"TURBINE.CORRECTED.FLOW", "gas_flow", rises, "it is a factor"},
    {"TURBINE.CORRECTED.FLOW", "gas_temperature", rises, "thin gas is more volume"},
    {"TURBINE.CORRECTED.FLOW", "inlet_pressure", falls, "dense gas is less volume"},
    {"TURBINE.CORRECTED.FLOW", "reference_temperature", falls, "the reference is divided by"},
    {"TURBINE.CORRECTED.FLOW", "reference_pressure", rises, "the pressure is over the reference"},
    {"TURBINE.POWER", "gas_flow", rises, "it is a factor"},
    {"TURBINE.POWER", "gas_temperature", rises, "hot gas carries more work"},
    {"TURBINE.POWER", "pressure_ratio", rises, "more of the heat becomes work"},
    {"TURBINE.POWER", "turbine_efficiency", rises, "it is a factor"},
    {"TURBINE.BLADE.SPEED.RATIO", "diameter", rises, "a faster tip"},
    {"TURBINE.BLADE.SPEED.RATIO", "shaft_speed", rises, "a faster tip"},
    {"TURBINE.BLADE.SPEED.RATIO", "gas_temperature", falls, "faster gas"},
    {"TURBINE.BLADE.SPEED.RATIO", "pressure_ratio", falls, "faster gas"},
    {"TURBINE.EFFICIENCY", "peak_efficiency", rises, "it is a factor"},
    {"TURBINE.PRESSURE.RATIO", "compressor_power", rises, "more work from the gas"},
    {"TURBINE.PRESSURE.RATIO", "gas_flow", falls, "more gas for the same work"},
    {"TURBINE.PRESSURE.RATIO", "gas_temperature", falls, "hot gas carries more work"},
    {"TURBINE.PRESSURE.RATIO", "turbine_efficiency", falls, "more of the same work"},
    {"PIPE.VELOCITY", "air_flow", rises, "more air"},
    {"PIPE.VELOCITY", "diameter", falls, "a wider pipe"},
    {"PIPE.VELOCITY", "temperature", rises, "thinner air is more volume"},
    {"PIPE.VELOCITY", "pressure", falls, "denser air is less volume"},
    {"PIPE.MACH", "air_flow", rises, "more air"},
    {"PIPE.MACH", "diameter", falls, "a wider pipe"},
    {"PIPE.MACH", "temperature", rises, "volume grows faster than the speed of sound"},
    {"PIPE.MACH", "pressure", falls, "denser air is less volume"},
    {"PIPE.DIAMETER", "air_flow", rises, "more air"},
    {"PIPE.DIAMETER", "mach_number", falls, "faster air"},
    {"PIPE.DIAMETER", "temperature", rises, "thinner air is more volume"},
    {"PIPE.DIAMETER", "pressure", falls, "denser air is less volume"},
    {"PIPE.PRESSURE.LOSS", "diameter", falls, "slower air"},
    {"PIPE.PRESSURE.LOSS", "length", rises, "more wall"},
    {"PIPE.PRESSURE.LOSS", "pressure", falls, "slower air"},
    {"PIPE.PRESSURE.LOSS", "loss_coefficient", rises, "more bends"},
    {"PIPE.PRESSURE.LOSS", "roughness", rises, "rougher wall"},

    {"KNOCK.INTEGRAL", "manifold_pressure", rises, "a denser end gas ignites sooner"},
    {"KNOCK.INTEGRAL", "manifold_temperature", rises, "a hotter end gas ignites sooner"},
    {"KNOCK.INTEGRAL", "speed", falls, "less time to ignite"},
    {"KNOCK.INTEGRAL", "fuel", falls, "ethanol resists knock"},
    {"KNOCK.INTEGRAL", "spark_angle", rises, "an earlier burn presses the end gas harder"},
    {"ROAD.TIME", "from", falls, "less speed to gain"},
    {"ROAD.TIME", "to", rises, "more speed to gain"},
    {"ROAD.POWER.FOR.TIME", "time", falls, "a shorter time takes more power"},
};

class Monotonicity : public testing::TestWithParam<Statement> {};

std::string statement_name(const testing::TestParamInfo<Statement>& info) {
    return tests::in_test_name(std::string(info.param.function) + "_" + info.param.parameter);
}

INSTANTIATE_TEST_SUITE_P(Catalogue, Monotonicity, testing::ValuesIn(statements), statement_name);

std::size_t position_of(const Function& function, std::string_view name) {
    for (std::size_t i = 0; i < function.parameters.size(); ++i)
        if (function.parameters[i].name == name) return i;
    throw std::invalid_argument(std::string(name));
}

/// What is wrong between two places of one parameter, all else equal; empty if nothing, or if one of them has
/// no answer.
std::string wrong_way(const Function& function, std::vector<Value> arguments, std::size_t i, double low,
                      double high, Sense sense) {
    if (low > high) std::swap(low, high);
    const Parameter& parameter = function.parameters[i];
    const Value example = example_arguments(function)[i];
    arguments[i] = argument_at(parameter, example, low, Reach::established);
    const Value at_low = evaluate(function, arguments).value;
    const std::string low_call = shown(function, arguments);
    arguments[i] = argument_at(parameter, example, high, Reach::established);
    const Value at_high = evaluate(function, arguments).value;
    const auto* a = std::get_if<double>(&at_low);
    const auto* b = std::get_if<double>(&at_high);
    if (!a || !b) return {};
    const double rise = sense == rises ? *b - *a : *a - *b;
    if (rise >= -1e-12 * std::abs(*a)) return {};
    return low_call + " = " + shown(at_low) + "\n" + shown(function, arguments) + " = " + shown(at_high);
}

TEST_P(Monotonicity, Holds) {
    const Statement& statement = GetParam();
    const Function& function = *find_function(statement.function);
    const std::size_t i = position_of(function, statement.parameter);
    if (takes_long(function)) {
        // From the example, in three steps through the range of the parameter.
        for (const double share : {0.1, 0.3, 0.45})
            EXPECT_EQ(
                wrong_way(function, example_arguments(function), i, share, share + 0.15, statement.sense), "")
                << statement.reason;
        return;
    }
    EXPECT_TRUE(holds([&] {
        const auto arguments = arguments_at(function, random_shares(function), Reach::established);
        const auto wrong = wrong_way(function, arguments, i, random_share(), random_share(), statement.sense);
        if (!wrong.empty()) property_fails(wrong);
    })) << statement.reason;
}

/// A statement would hold for a function that never answers, or never moves, as well.
TEST_P(Monotonicity, IsOfAnAnswerThatMoves) {
    const Statement& statement = GetParam();
    const Function& function = *find_function(statement.function);
    const std::size_t i = position_of(function, statement.parameter);
    auto arguments = example_arguments(function);
    // The density of the fluid counts only where it is not that of the rating.
    if (statement.function == std::string_view("INJECTOR.FLOW")) arguments[4] = 720.0;
    const Value example = arguments[i];
    std::vector<double> answers;
    for (std::size_t k = 0; k <= 12; ++k) {
        arguments[i] =
            argument_at(function.parameters[i], example, static_cast<double>(k) / 12.0, Reach::established);
        const Value value = evaluate(function, arguments).value;
        if (const auto* number = std::get_if<double>(&value)) answers.push_back(*number);
    }
    ASSERT_GE(answers.size(), 2u);
    if (statement.sense == rises) {
        EXPECT_GT(answers.back(), answers.front());
    } else {
        EXPECT_LT(answers.back(), answers.front());
    }
}

}  // namespace
}  // namespace pullsheet::catalogue::properties
