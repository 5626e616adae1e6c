// SPDX-License-Identifier: Apache-2.0
// Whatever stands in a cell, every function answers with finite values or with an error that says why, in
// bounded time.
#include <gtest/gtest.h>

#include <cmath>
#include <limits>

#include "core/catalogue/catalogue.hpp"
#include "core/catalogue/units.hpp"
#include "tests/catalogue/all_functions.hpp"
#include "tests/watched.hpp"

namespace pullsheet::catalogue {
namespace {

/// One call may take this long, in seconds of the processor: in a release, and in this build.
constexpr double longest_in_release = 5.0;
constexpr double longest_call = tests::slowed_down(longest_in_release);
constexpr std::size_t long_range = 10000;

class Boundary : public testing::TestWithParam<const Function*> {
  protected:
    const Function& function() const { return *GetParam(); }
    std::string name() const { return std::string(function().name.view()); }

    void expect_sentence(const Failure& failure, const std::string& what) const {
        EXPECT_TRUE(failure.sentence.starts_with(name() + ": ")) << what << ": " << failure.sentence;
        EXPECT_GT(failure.sentence.size(), name().size() + 8) << what << ": " << failure.sentence;
        for (const char* mark : {"{parameter}", "{value}", "{allowed}", "{wanted}"})
            EXPECT_EQ(failure.sentence.find(mark), std::string::npos) << what << ": " << failure.sentence;
    }

    /// A finite value, a text, or an error with a sentence; for a table, in each of its cells.
    void expect_sound(const Value& value, const std::string& what) const {
        if (const auto* number = std::get_if<double>(&value)) {
            EXPECT_TRUE(std::isfinite(*number)) << what;
        } else if (const auto* failure = std::get_if<Failure>(&value)) {
            expect_sentence(*failure, what);
        } else if (const auto* table = std::get_if<Table>(&value)) {
            EXPECT_FALSE(table->empty()) << what;
            for (std::size_t r = 0; r < table->rows(); ++r)
                for (std::size_t c = 0; c < table->columns(); ++c) {
                    if (std::holds_alternative<std::monostate>(table->at(r, c))) continue;
                    expect_sound(to_value(table->at(r, c)), what);
                    if (HasFailure()) return;
                }
        } else {
            EXPECT_TRUE(std::holds_alternative<std::string>(value)) << what << ": nothing came back";
        }
    }

    /// The arguments of the example, with room for those it leaves out.
    std::vector<Value> arguments() const {
        std::vector<Value> result = function().example.arguments;
        result.resize(std::max(result.size(), function().parameters.size()));
        return result;
    }

    Outcome timed(const std::vector<Value>& given, const std::string& what) const {
        const double before = tests::processor_seconds();
        Outcome outcome = evaluate(function(), given);
        EXPECT_LT(tests::processor_seconds() - before, longest_call) << what;
        return outcome;
    }

    Value with(std::size_t position, Value value, const std::string& what) const {
        std::vector<Value> given = arguments();
        given[position] = std::move(value);
        const std::string where = name() + ", argument " + std::to_string(position + 1) + ": " + what;
        Outcome outcome = timed(given, where);
        expect_sound(outcome.value, where);
        for (const auto& warning : outcome.warnings) EXPECT_FALSE(warning.empty()) << where;
        return outcome.value;
    }

    bool is_number(std::size_t position) const {
        return position < function().parameters.size() &&
               function().parameters[position].kind == Kind::number;
    }

    void expect_refused(std::size_t position, Value value, const std::string& what) const {
        const Value answer = with(position, std::move(value), what);
        if (is_number(position)) {
            EXPECT_TRUE(std::holds_alternative<Failure>(answer))
                << name() << ", argument " << position + 1 << " takes " << what;
        }
    }
};

INSTANTIATE_TEST_SUITE_P(Catalogue, Boundary, testing::ValuesIn(sample::all_functions()), sample::test_name);

constexpr double infinity = std::numeric_limits<double>::infinity();

TEST_P(Boundary, NoArgumentAtAll) {
    expect_sound(evaluate(function(), {}).value, name() + "()");
    std::vector<Value> omitted(function().parameters.size());
    expect_sound(evaluate(function(), omitted).value, name() + " with all omitted");
}

TEST_P(Boundary, OneArgumentTooMany) {
    std::vector<Value> given = arguments();
    given.resize(function().parameters.size());
    given.emplace_back(1.0);
    const Value answer = evaluate(function(), given).value;
    expect_sound(answer, name() + " with one argument too many");
    if (!function().takes_list()) {
        EXPECT_TRUE(std::holds_alternative<Failure>(answer));
    }
}

TEST_P(Boundary, OmittedOrEmpty) {
    for (std::size_t i = 0; i < arguments().size(); ++i) {
        const Value omitted = with(i, std::monostate{}, "omitted");
        if (i < function().parameters.size() && function().parameters[i].required) {
            EXPECT_TRUE(std::holds_alternative<Failure>(omitted)) << name() << ", argument " << i + 1;
        }
        expect_refused(i, std::string(), "an empty text");
        expect_refused(i, std::string("  \t"), "blanks");
        const Value zero = with(i, 0.0, "0");
        if (is_number(i) && !function().parameters[i].range.contains(0.0)) {
            ASSERT_TRUE(std::holds_alternative<Failure>(zero)) << name() << ", argument " << i + 1;
            EXPECT_NE(std::get<Failure>(zero).sentence.find("0 or empty"), std::string::npos)
                << std::get<Failure>(zero).sentence;
        }
    }
}

TEST_P(Boundary, Text) {
    for (std::size_t i = 0; i < arguments().size(); ++i) {
        expect_refused(i, std::string("hello"), "a word");
        expect_refused(i, std::string("12 foobars"), "an unknown unit");
        expect_refused(i, std::string("1.000.000"), "separators between thousands");
        expect_refused(i, std::string("nan"), "\"nan\"");
        expect_refused(i, std::string("1e999"), "a number that is too large");
        with(i, std::string("{0} {x} {} %s %n"), "a text with marks of a format");
        with(i, std::string("\xff\xfe\x80 broken"), "bytes that are no UTF-8");
        with(i, std::string(100000, 'x'), "a very long text");
        with(i, std::string("1") + std::string(5000, '0'), "a number of 5000 digits");
    }
}

TEST_P(Boundary, WrongDimension) {
    for (std::size_t i = 0; i < arguments().size(); ++i) {
        const bool is_mass = is_number(i) && function().parameters[i].quantity == Quantity::mass;
        expect_refused(i, std::string(is_mass ? "5 kPa" : "5 kg"), "a unit of another quantity");
    }
}

TEST_P(Boundary, NumbersThatAreNone) {
    for (std::size_t i = 0; i < arguments().size(); ++i) {
        expect_refused(i, std::numeric_limits<double>::quiet_NaN(), "NaN");
        expect_refused(i, infinity, "infinity");
        expect_refused(i, -infinity, "minus infinity");
    }
}

TEST_P(Boundary, ExtremeNumbers) {
    for (std::size_t i = 0; i < arguments().size(); ++i) {
        for (const double value :
             {1e308, -1e308, 1e-308, -1e-308, 5e-324, 1e15, -1.0, 1.0, 85.0, 1e-9, -0.0}) {
            const Value answer = with(i, value, std::to_string(value));
            if (is_number(i) && !function().parameters[i].range.contains(value)) {
                EXPECT_TRUE(std::holds_alternative<Failure>(answer))
                    << name() << ", argument " << i + 1 << ": " << value;
            }
        }
        // The ends of the range themselves, and what lies just beside them.
        if (!is_number(i)) continue;
        const Interval range = function().parameters[i].range;
        for (const double end : {range.low, range.high})
            for (const double value : {end, std::nextafter(end, infinity), std::nextafter(end, -infinity)})
                with(i, value, "an end of its range");
    }
}

TEST_P(Boundary, AnErrorStaysOne) {
    for (std::size_t i = 0; i < arguments().size(); ++i) {
        const Value answer = with(i, Failure{FailureKind::no_data, "no data there"}, "an error");
        if (!is_number(i)) continue;
        const auto* failure = std::get_if<Failure>(&answer);
        ASSERT_NE(failure, nullptr) << name() << ", argument " << i + 1;
        EXPECT_EQ(failure->kind, FailureKind::no_data);
    }
}

TEST_P(Boundary, RangesOfAnyShape) {
    for (std::size_t i = 0; i < arguments().size(); ++i) {
        with(i, Table(), "a range of no cells");
        with(i, Table(0, 3), "a range of no rows");
        with(i, Table(3, 0), "a range of no columns");
        with(i, Table(1, 1), "one empty cell");
        with(i, Table{{1.0}}, "one cell");
        with(i, Table{{std::string("word")}}, "one cell with a word");
        with(i, Table{{Failure{FailureKind::no_solution, "none"}}}, "one cell with an error");
        with(i, Table{{1.0, 2.0, 3.0}}, "a row");
        with(i, Table{{1.0}, {infinity}, {std::string("x")}, {Failure{}}, {std::monostate{}}},
             "a mixed column");
        with(i, Table{{std::string("ethanol share"), std::string("85"), std::string("%")}},
             "a block of one row");
        with(i, Table{{std::string("mass"), 1.0}, {std::string("mass"), 2.0}}, "a doubled label");
        with(i, Table{{std::string("a"), 1.0, 2.0, 3.0, 4.0}}, "a range of five columns");
        with(i, Table(2, 2), "empty cells");
        with(i, Table(5, 7), "many empty cells");
    }
}

TEST_P(Boundary, ShapesThatDoNotFit) {
    for (std::size_t i = 0; i + 1 < function().parameters.size(); ++i) {
        std::vector<Value> given = arguments();
        given[i] = Table{{1.0}, {2.0}, {3.0}};
        given[i + 1] = Table{{1.0}, {2.0}};
        expect_sound(timed(given, name()).value,
                     name() + ": columns of unequal length at " + std::to_string(i + 1));
        given[i + 1] = Table{{1.0, 2.0}, {1.0, 2.0}};
        expect_sound(timed(given, name()).value, name() + ": unequal tables at " + std::to_string(i + 1));
    }
}

TEST_P(Boundary, LongRanges) {
    // As many elements as fit into the time of one call of a release, at most 10,000.
    const double before = tests::processor_seconds();
    evaluate(function(), arguments());
    const double one = std::max(tests::processor_seconds() - before, 1e-6);
    const auto fitting = static_cast<std::size_t>(0.1 * longest_in_release / one);
    const std::size_t length = std::min(long_range, std::max(fitting, tests::fewer<std::size_t>(10)));
    for (std::size_t i = 0; i < arguments().size(); ++i) {
        const Value plain = arguments()[i];
        const double start = std::holds_alternative<double>(plain) ? std::get<double>(plain) : 1.0;
        Table column(length, 1);
        for (std::size_t r = 0; r < length; ++r) column.at(r, 0) = start;
        const Value answer = with(i, column, "a column of " + std::to_string(length));
        if (is_number(i) && function().result.kind == ResultKind::number) {
            const auto* table = std::get_if<Table>(&answer);
            ASSERT_NE(table, nullptr) << name() << ", argument " << i + 1;
            EXPECT_EQ(table->rows(), length);
            EXPECT_EQ(table->columns(), 1u);
        }
        Table row(1, length);
        for (std::size_t c = 0; c < length; ++c) row.at(0, c) = static_cast<double>(c);
        with(i, std::move(row), "a row of " + std::to_string(length));
    }
}

TEST_P(Boundary, TheSameCallGivesTheSameAnswer) {
    const Value first = evaluate(function(), arguments()).value;
    const Value second = evaluate(function(), arguments()).value;
    ASSERT_EQ(first.index(), second.index());
    if (const auto* number = std::get_if<double>(&first)) {
        EXPECT_EQ(*number, std::get<double>(second));
    }
}

}  // namespace
}  // namespace pullsheet::catalogue
