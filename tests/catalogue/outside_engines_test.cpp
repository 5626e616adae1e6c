// SPDX-License-Identifier: Apache-2.0
// Full load of engines that nothing here was ever adjusted to: what an engine that is not calibrated is
// predicted to give at its boost, and how often the printed band holds what happened.
//
// Production engines: bore, stroke, compression ratio, kind of injection, octane number, largest boost and
// rated torque with the speed at which its plateau ends, as makers' catalogues of their time print them. All
// from memory; boost is printed to a tenth of a bar, which alone is 5 % of torque. The inputs were written
// down and the predictions made before the two were compared; the ratings were known to the writer.
//
// A research engine: D. Splitter, J. Szybist, Experimental investigation of spark-ignited combustion with
// high-octane biofuels and EGR, part 1 (2014): single cylinder, compression ratio 11.85, stoichiometric; from
// its abstract, read before the prediction was made: 20 bar of gross indicated mean effective pressure with
// 30 % ethanol, twice that of the 87 AKI gasoline alone. The bore and stroke are from memory.
//
// Looked for in vain: a full-load curve of a boosted engine with its boost and spark, in open data sets and
// reports of national laboratories. Of the spark sweep in Acta Univ. Agric. Silvic. Mendel. Brun. 65 (2017)
// 545 only the abstract could be read, which has no figures to compare with.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <iostream>
#include <string>
#include <vector>

#include "core/catalogue/catalogue.hpp"

namespace pullsheet::catalogue {
namespace {

std::string label(const char* text) {
    return std::string(text);
}

Outcome answer_of(const char* function, const std::vector<Value>& arguments) {
    return evaluate(*find_function(function), arguments);
}

struct ProductionEngine {
    const char* name;
    double bore, stroke, cylinders, compression_ratio;
    const char* injection;
    double ron;
    double manifold_pressure;  // kPa, at the largest boost printed
    double speed;              // rpm, where the plateau of rated torque ends
    double rated_torque;       // N·m
};

// Of the seven: to be raised when the band of an engine that is not calibrated holds more.
constexpr std::size_t least_held = 7;

constexpr ProductionEngine engines[] = {
    {"1.4 L, four cylinders, 2007", 76.5, 75.6, 4, 10.0, "direct", 95, 180, 4000, 200},
    {"1.6 L, four cylinders, 2006", 77.0, 85.8, 4, 10.5, "direct", 95, 180, 5000, 240},
    {"3.0 L, six cylinders, 2006", 84.0, 89.6, 6, 10.2, "direct", 98, 160, 5000, 400},
    {"1.8 L, four cylinders, 1996", 81.0, 86.4, 4, 9.5, "port", 95, 155, 4600, 210},
    {"3.0 L, six cylinders, 1993", 86.0, 86.0, 6, 8.5, "port", 100, 175, 3600, 431},
    {"2.0 L, four cylinders, 1996", 85.0, 88.0, 4, 8.5, "port", 98, 190, 3000, 353},
    {"2.0 L, four cylinders opposed, 1999", 92.0, 75.0, 4, 8.0, "port", 98, 195, 4000, 343},
};

Table block_of(const ProductionEngine& engine) {
    return {{label("bore"), engine.bore, label("mm")},
            {label("stroke"), engine.stroke, label("mm")},
            {label("rod length"), 1.65 * engine.stroke, label("mm")},
            {label("cylinders"), engine.cylinders},
            {label("compression ratio"), engine.compression_ratio},
            {label("injection"), label(engine.injection)},
            {label("redline"), engine.speed, label("rpm")}};
}

struct Prediction {
    double power, low, high;  // kW
};

// The only stage is the engine as delivered, with its boost and a cooler of 0.7, at the end of its torque
// plateau.
Prediction predicted(const ProductionEngine& engine) {
    const std::string boost = std::to_string(engine.manifold_pressure - 101.325) + " kPa";
    const Table stages = {{label("stage"), label("part"), label("kind"), label("price"),
                           label("largest boost"), label("effectiveness")},
                          {label("as delivered"), label("boost"), label("boost control"), 0.0, boost, {}},
                          {label("as delivered"), label("cooler"), label("charge cooler"), 0.0, {}, 0.7}};
    const Table fuels = {{label("name"), label("ethanol share"), label("ron")},
                         {label("as rated"), 0.0, engine.ron}};
    const Outcome outcome = answer_of("BUILD.TABLE", {block_of(engine), stages, fuels});
    const auto* table = std::get_if<Table>(&outcome.value);
    if (!table) {
        const auto* failure = std::get_if<Failure>(&outcome.value);
        ADD_FAILURE() << engine.name << ": " << (failure ? failure->sentence : std::string());
        return {};
    }
    const auto column = [&](const char* name) {
        for (std::size_t c = 0; c < table->columns(); ++c)
            if (std::get<std::string>(table->at(0, c)).starts_with(name))
                return std::get<double>(table->at(1, c));
        ADD_FAILURE() << name;
        return 0.0;
    };
    return {column("power [kW]"), column("power low"), column("power high")};
}

TEST(OutsideEnginesFromMemory, UncalibratedTorqueAtTheBoostOfProductionEngines) {
    std::vector<double> ratios;
    std::size_t held = 0;
    for (const ProductionEngine& engine : engines) {
        const Prediction p = predicted(engine);
        const double rated = engine.rated_torque * engine.speed * 3.14159265358979 / 30000.0;
        const bool is_held = p.low <= rated && rated <= p.high;
        held += is_held ? 1 : 0;
        ratios.push_back(p.power / rated);
        std::cout << engine.name << ": rated " << rated << " kW, predicted " << p.power << " kW (" << p.low
                  << " to " << p.high << "), ratio " << ratios.back() << (is_held ? ", held" : ", NOT HELD")
                  << " by the band\n";
        // A tenth of a bar of boost, and what a cooler and the filling of another engine may be: 15 %.
        EXPECT_GT(ratios.back(), 0.85) << engine.name;
        EXPECT_LT(ratios.back(), 1.15) << engine.name;
    }
    std::sort(ratios.begin(), ratios.end());
    std::cout << "the band holds " << held << " of " << std::size(engines)
              << "; median of predicted over rated " << ratios[ratios.size() / 2] << '\n';
    EXPECT_NEAR(ratios[ratios.size() / 2], 1.0, 0.05);
    EXPECT_GE(held, least_held);
}

// Knock-limited load of the research engine. A miss, and stated as one: without a calibration the model
// allows the gasoline alone far more than it got, so that ethanol gains 1.3 instead of 2.
double indicated_at_the_limit(double ethanol_share) {
    const Table engine = {{label("bore"), 86.0, label("mm")},        {label("stroke"), 94.6, label("mm")},
                          {label("rod length"), 152.0, label("mm")}, {label("cylinders"), 1.0},
                          {label("compression ratio"), 11.85},       {label("injection"), label("direct")}};
    const Table fuel = {{label("ethanol share"), ethanol_share}, {label("ron"), 91.0}, {label("mon"), 83.0}};
    const auto value = [](const Outcome& outcome, const char* quantity) {
        const Table& table = std::get<Table>(outcome.value);
        for (std::size_t r = 1; r < table.rows(); ++r)
            if (std::get<std::string>(table.at(r, 0)) == quantity) return std::get<double>(table.at(r, 1));
        ADD_FAILURE() << quantity;
        return 0.0;
    };
    const Outcome limit = answer_of("KNOCK.BOOST.LIMIT", {engine, 2000.0, 35.0, fuel, 1.0});
    const Outcome cycle = answer_of("CYCLE.RESULT", {engine, 2000.0, value(limit, "manifold pressure"), 35.0,
                                                     value(limit, "spark angle"), fuel, 1.0});
    return value(cycle, "indicated mean effective pressure");
}

TEST(OutsideEngines, KnockLimitedLoadOfAResearchEngine) {
    const double gasoline = indicated_at_the_limit(0.0);
    const double blend = indicated_at_the_limit(0.3);
    std::cout << "research engine: gasoline " << gasoline << " bar, measured 10; 30 % ethanol " << blend
              << " bar, measured 20; gain " << blend / gasoline << ", measured 2\n";
    const int held =
        (std::abs(gasoline - 10.0) <= 0.35 * gasoline) + (std::abs(blend - 20.0) <= 0.35 * blend);
    std::cout << "the 35 % of a guess hold " << held << " of 2\n";
    EXPECT_EQ(held, 1);
    // What holds: the load with ethanol, within the 35 % of an engine that is not calibrated.
    EXPECT_NEAR(blend, 20.0, 0.35 * 20.0);
    // What does not: the load with gasoline is too high, by less than the factor of two.
    EXPECT_GT(gasoline, 10.0);
    EXPECT_LT(gasoline, 20.0);
    EXPECT_GT(blend / gasoline, 1.2);
}

}  // namespace
}  // namespace pullsheet::catalogue
