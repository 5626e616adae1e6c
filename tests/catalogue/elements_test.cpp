// SPDX-License-Identifier: Apache-2.0
// A scalar function over ranges: element by element, as Calc's own functions do in array formulas.
#include <gtest/gtest.h>

#include <stdexcept>

#include "tests/catalogue/sample.hpp"
#include "tests/watched.hpp"

namespace pullsheet::catalogue {
namespace {

using sample::contains;

const Table& table(const Value& value) {
    const auto* found = std::get_if<Table>(&value);
    if (!found) throw std::runtime_error("no table: " + sample::sentence(value));
    return *found;
}

double number(const Table& table, std::size_t row, std::size_t column) {
    return std::get<double>(table.at(row, column));
}

constexpr double kilowatt_per_newton_metre_and_rpm = 3.14159265358979323846 / 30000.0;

TEST(Elements, AColumnAnswersWithAColumn) {
    const Value answer = sample::call({Table{{100.0}, {200.0}, {300.0}}, 5000.0});
    const Table& powers = table(answer);
    ASSERT_EQ(powers.rows(), 3u);
    ASSERT_EQ(powers.columns(), 1u);
    for (std::size_t r = 0; r < 3; ++r)
        EXPECT_NEAR(number(powers, r, 0),
                    100.0 * static_cast<double>(r + 1) * 5000.0 * kilowatt_per_newton_metre_and_rpm, 1e-9);
}

TEST(Elements, TwoColumnsGoTogether) {
    const Value answer = sample::call({Table{{100.0}, {200.0}}, Table{{1000.0}, {2000.0}}});
    const Table& powers = table(answer);
    EXPECT_NEAR(number(powers, 1, 0), 200.0 * 2000.0 * kilowatt_per_newton_metre_and_rpm, 1e-9);
}

TEST(Elements, ARowAndAColumnSpanATable) {
    const Value answer = sample::call({Table{{100.0}, {200.0}}, Table{{1000.0, 2000.0, 3000.0}}});
    const Table& powers = table(answer);
    ASSERT_EQ(powers.rows(), 2u);
    ASSERT_EQ(powers.columns(), 3u);
    EXPECT_NEAR(number(powers, 1, 2), 200.0 * 3000.0 * kilowatt_per_newton_metre_and_rpm, 1e-9);
    EXPECT_NEAR(number(powers, 0, 1), 100.0 * 2000.0 * kilowatt_per_newton_metre_and_rpm, 1e-9);
    const Value turned = sample::call({Table{{100.0, 200.0}}, Table{{1000.0}, {2000.0}, {3000.0}}});
    EXPECT_EQ(table(turned).rows(), 3u);
    EXPECT_EQ(table(turned).columns(), 2u);
}

TEST(Elements, ATableTakesARowOrAColumnBesideIt) {
    const Value answer =
        sample::call({Table{{100.0, 200.0}, {300.0, 400.0}}, Table{{1000.0, 2000.0}}, Table{{0.0}, {0.5}}});
    EXPECT_NEAR(number(table(answer), 1, 1), 400.0 * 2000.0 * 0.5 * kilowatt_per_newton_metre_and_rpm, 1e-9);
}

TEST(Elements, OneCellIsASingleValue) {
    EXPECT_TRUE(std::holds_alternative<double>(sample::call({Table{{100.0}}, 5000.0})));
    const Value answer = sample::call({Table{{100.0}, {200.0}}, Table{{5000.0}}});
    EXPECT_EQ(table(answer).rows(), 2u);
}

TEST(Elements, TextsAndTheUnitHoldForEach) {
    const Value answer = sample::call({Table{{std::string("100 lb-ft")}, {200.0}}, "5000 1/min", {}, "PS"});
    const Table& powers = table(answer);
    EXPECT_NEAR(number(powers, 0, 0), 100.0 * 1.3558179483314004 * 5000.0 / 7023.4957020246, 1e-8);
    EXPECT_NEAR(number(powers, 1, 0), 200.0 * 5000.0 / 7023.4957020246, 1e-8);
}

TEST(Elements, ABadOneFailsAloneAndSaysWhereItStands) {
    const Value answer =
        sample::call({Table{{100.0}, {std::string("x")}, {-1.0}, {std::monostate{}}, {500.0}}, 5000.0});
    const Table& powers = table(answer);
    EXPECT_GT(number(powers, 0, 0), 0.0);
    EXPECT_GT(number(powers, 4, 0), 0.0);
    for (const std::size_t r : {1u, 2u, 3u}) {
        const auto* failure = std::get_if<Failure>(&powers.at(r, 0));
        ASSERT_NE(failure, nullptr) << r;
        EXPECT_TRUE(
            failure->sentence.starts_with("SAMPLE.POWER: row " + std::to_string(r + 1) + ", column 1: "))
            << failure->sentence;
    }
}

TEST(Elements, AnErrorInsideKeepsItsKind) {
    const Value answer =
        sample::call({Table{{100.0}, {Failure{FailureKind::no_data, "nothing measured"}}}, 5000.0});
    const auto* failure = std::get_if<Failure>(&table(answer).at(1, 0));
    ASSERT_NE(failure, nullptr);
    EXPECT_EQ(failure->kind, FailureKind::no_data);
    EXPECT_TRUE(contains(failure->sentence, "nothing measured"));
}

TEST(Elements, ShapesMustFit) {
    EXPECT_TRUE(contains(sample::sentence(sample::call({Table{{1.0}, {2.0}}, Table{{1.0}, {2.0}, {3.0}}})),
                         "same shape"));
    EXPECT_TRUE(
        contains(sample::sentence(sample::call({Table{{1.0, 2.0}}, Table{{1.0, 2.0, 3.0}}})), "same shape"));
    EXPECT_FALSE(sample::sentence(sample::call({Table(), 5000.0})).empty());
}

// A row against a column is answered with their product, which may be more than any machine holds.
TEST(Elements, AnAnswerHasBounds) {
    EXPECT_TRUE(contains(sample::sentence(sample::call({Table(1, 100000), Table(100000, 1)})),
                         "100000 × 100000 cells"));
}

TEST(Elements, AWarningIsSaidOnce) {
    const Outcome outcome = evaluate(sample::power(), std::vector<Value>{Table{{1.0}, {2.0}, {3.0}}, 9500.0});
    ASSERT_EQ(outcome.warnings.size(), 1u);
    EXPECT_TRUE(contains(outcome.warnings[0], "9500 rpm")) << outcome.warnings[0];
    // Different warnings of many elements are bounded.
    Table speeds(1000, 1);
    for (std::size_t r = 0; r < 1000; ++r) speeds.at(r, 0) = 10000.0 + static_cast<double>(r);
    EXPECT_LE(evaluate(sample::power(), std::vector<Value>{1.0, speeds}).warnings.size(), 10u);
}

TEST(Elements, AValueIsTheSameWithoutItsWarnings) {
    const std::vector<Value> arguments{350.0, 9500.0};
    const Outcome outcome = evaluate(sample::power(), arguments);
    ASSERT_FALSE(outcome.warnings.empty());
    EXPECT_EQ(std::get<double>(value_of(sample::power(), arguments)), std::get<double>(outcome.value));
}

// A long range mostly ends in empty cells. They may not take longer than numbers do.
TEST(Elements, EmptyCellsAreRefusedAsQuicklyAsNumbersAreComputed) {
    constexpr std::size_t rows = 200000;
    const auto seconds = [&](const Table& torques) {
        const double before = tests::processor_seconds();
        const Value answer = value_of(sample::power(), std::vector<Value>{torques, 5000.0});
        EXPECT_EQ(table(answer).rows(), rows);
        return tests::processor_seconds() - before;
    };
    Table numbers(rows, 1);
    for (std::size_t r = 0; r < rows; ++r) numbers.at(r, 0) = static_cast<double>(r);
    const Table empty(rows, 1);
    EXPECT_LT(seconds(empty), 5.0 * seconds(numbers) + 0.02);
}

TEST(Elements, TheSameContentsAgainHaveTheSameAnswer) {
    const Table torques{{100.0},
                        {100.0},
                        {std::string("100 lb-ft")},
                        {std::string("100 lb-ft")},
                        {100.0},
                        {std::string("x")},
                        {std::string("x")},
                        {std::monostate{}},
                        {std::monostate{}},
                        {Failure{FailureKind::no_data, {}}},
                        {Failure{FailureKind::no_solution, {}}}};
    const Table speeds{{5000.0, 5000.0, 2000.0}};
    const Value answer = value_of(sample::power(), std::vector<Value>{torques, speeds});
    const Table& powers = table(answer);
    for (std::size_t r = 0; r < torques.rows(); ++r)
        for (std::size_t c = 0; c < 3; ++c) {
            const Value alone = std::visit(
                [&](const auto& torque) {
                    return value_of(sample::power(),
                                    std::vector<Value>{torque, std::get<double>(speeds.at(0, c))});
                },
                torques.at(r, 0));
            if (const auto* power = std::get_if<double>(&alone)) {
                EXPECT_EQ(number(powers, r, c), *power);
            } else {
                const auto* failure = std::get_if<Failure>(&powers.at(r, c));
                ASSERT_NE(failure, nullptr) << r << ' ' << c;
                EXPECT_EQ(failure->kind, std::get<Failure>(alone).kind);
            }
        }
}

TEST(Elements, AnOmittedArgumentTakesItsDefault) {
    EXPECT_EQ(std::get<double>(sample::call({100.0, 5000.0})),
              std::get<double>(sample::call({100.0, 5000.0, {}, {}})));
    EXPECT_EQ(std::get<double>(sample::call({100.0, 5000.0})),
              std::get<double>(sample::call({100.0, 5000.0, 0.0})));
    EXPECT_TRUE(contains(sample::sentence(sample::call({std::monostate{}, 5000.0})), "torque is missing"));
    EXPECT_TRUE(contains(sample::sentence(sample::call({100.0})), "speed is missing"));
}

}  // namespace
}  // namespace pullsheet::catalogue
