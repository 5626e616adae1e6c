// SPDX-License-Identifier: Apache-2.0
// The same physical input in any unit gives the same answer, and an answer asked for in any unit is the same
// answer.
#include <fmt/format.h>

#include <algorithm>

#include "tests/catalogue/all_functions.hpp"
#include "tests/properties/points.hpp"
#include "tests/properties/random.hpp"

namespace pullsheet::catalogue::properties {
namespace {

constexpr double precision = 1e-12;
/// Converting a number and writing it out may change its last bits: so many, and what they do to the answer
/// is allowed too. At the examples that is more than the precision only where an integrator chooses its
/// steps: up to 1e-9 in ROAD, 1e-11 in CYCLE.
constexpr double written = 8.0 * std::numeric_limits<double>::epsilon();

/// Every way to write a unit of `quantity`, the kinds of pressure included.
std::vector<std::string> units_of(Quantity quantity) {
    std::vector<std::string> result;
    for (const auto symbol : unit_symbols(quantity)) {
        result.emplace_back(symbol);
        if (quantity == Quantity::pressure) result.push_back(std::string(symbol) + "a");
        if (quantity == Quantity::pressure_difference) result.push_back(std::string(symbol) + "d");
    }
    if (quantity == Quantity::share) result.emplace_back("%");
    return result;
}

double in_unit(double value, const Unit* from, const Unit& to, Quantity quantity) {
    const double si = from ? from->to_si(value, quantity) : value;
    return to.from_si(si, quantity);
}

std::string with_unit(double value, const Unit* from, const std::string& unit, Quantity quantity) {
    return fmt::format("{:.17g} {}", in_unit(value, from, *find_unit(unit), quantity), unit);
}

/// The numbers of an answer in their order; none for a failure.
std::vector<double> numbers_of(const Value& value) {
    std::vector<double> result;
    if (const auto* one = std::get_if<double>(&value)) result.push_back(*one);
    if (const auto* table = std::get_if<Table>(&value))
        for (std::size_t r = 0; r < table->rows(); ++r)
            for (std::size_t c = 0; c < table->columns(); ++c)
                if (const auto* number = std::get_if<double>(&table->at(r, c))) result.push_back(*number);
    return result;
}

bool failed(const Value& value) {
    return std::holds_alternative<Failure>(value);
}

/// What is wrong with the answer to `rewritten`, empty if it is the answer to `plain`. `nearby` are calls
/// whose arguments differ by what writing and converting may change.
std::string difference(const Function& function, const std::vector<Value>& plain,
                       const std::vector<Value>& rewritten, const std::vector<std::vector<Value>>& nearby) {
    const Value expected = evaluate(function, plain).value;
    const Value got = evaluate(function, rewritten).value;
    std::vector<std::vector<double>> around;
    for (const auto& arguments : nearby) {
        const Value value = evaluate(function, arguments).value;
        // At the very edge of what is possible rounding decides between an answer and an error.
        if (failed(value) != failed(expected)) return {};
        around.push_back(numbers_of(value));
    }
    if (failed(expected) != failed(got))
        return fmt::format("{} = {}\n{} = {}", shown(function, plain), shown(expected),
                           shown(function, rewritten), shown(got));
    const auto a = numbers_of(expected);
    const auto b = numbers_of(got);
    if (a.size() != b.size()) return shown(function, rewritten) + " answers with another table";
    double largest = 0.0;
    for (const double number : a) largest = std::max(largest, std::abs(number));
    for (std::size_t k = 0; k < a.size(); ++k) {
        double allowed = precision * std::abs(a[k]);
        for (const auto& numbers : around) {
            if (numbers.size() != a.size()) return {};
            allowed += std::abs(numbers[k] - a[k]);
        }
        // A number of a table may be a difference of much larger ones.
        if (a.size() > 1) allowed = std::max(allowed, 1e-15 * largest);
        if (!(std::abs(a[k] - b[k]) <= allowed))
            return fmt::format("{} = {:.17g}\n{} = {:.17g}, relative difference {:.3g}",
                               shown(function, plain), a[k], shown(function, rewritten), b[k],
                               b[k] / a[k] - 1.0);
    }
    return {};
}

/// Rewrites argument `i` in every unit of its quantity; what is wrong, or empty.
std::string check_argument(const Function& function, const std::vector<Value>& plain, std::size_t i) {
    const Parameter& parameter = function.parameters[i];
    const auto value = number_in(parameter, plain[i]);
    if (parameter.kind != Kind::number || !value) return {};
    std::vector<std::vector<Value>> nearby;
    const double si =
        parameter.default_unit ? parameter.default_unit->to_si(*value, parameter.quantity) : *value;
    for (const double sign : {-1.0, 1.0}) {
        nearby.push_back(plain);
        const double beside = si * (1.0 + sign * written);
        nearby.back()[i] =
            parameter.default_unit ? parameter.default_unit->from_si(beside, parameter.quantity) : beside;
        if (!parameter.range.contains(std::get<double>(nearby.back()[i]))) nearby.pop_back();
    }
    for (const auto& unit : units_of(parameter.quantity)) {
        std::vector<Value> rewritten = plain;
        rewritten[i] = with_unit(*value, parameter.default_unit, unit, parameter.quantity);
        const auto wrong = difference(function, plain, rewritten, nearby);
        if (!wrong.empty()) return wrong;
    }
    return {};
}

class UnitInvariance : public testing::TestWithParam<const Function*> {
  protected:
    const Function& function() const { return *GetParam(); }
};

INSTANTIATE_TEST_SUITE_P(Catalogue, UnitInvariance, testing::ValuesIn(all_functions()), test_name);

TEST_P(UnitInvariance, OfEachArgumentOfTheExample) {
    const auto plain = example_arguments(function());
    for (std::size_t i = 0; i < function().parameters.size(); ++i)
        EXPECT_EQ(check_argument(function(), plain, i), "");
}

TEST_P(UnitInvariance, OfEachArgumentAnywhereInItsRange) {
    const auto at = [this](std::span<const double> shares, Reach reach) {
        const auto plain = arguments_at(function(), shares, reach);
        for (std::size_t i = 0; i < function().parameters.size(); ++i) {
            const auto wrong = check_argument(function(), plain, i);
            if (!wrong.empty()) return wrong;
        }
        return std::string();
    };
    if (takes_long(function())) {
        EXPECT_EQ(at(LatinHypercube(7, function().parameters.size()).shares(0), Reach::established), "");
        return;
    }
    EXPECT_TRUE(holds([&] {
        const auto shares = random_shares(function());
        const auto wrong = at(shares, random_position(2) ? Reach::whole : Reach::established);
        if (!wrong.empty()) property_fails(wrong);
    }));
}

/// A table of a sheet with its numbers written in another unit: the unit beside a number in a block, or
/// behind each number.
TEST_P(UnitInvariance, OfBlocksAndTables) {
    const auto plain = example_arguments(function());
    for (std::size_t i = 0; i < function().parameters.size(); ++i) {
        const auto* table = std::get_if<Table>(&plain[i]);
        if (!table || function().parameters[i].kind == Kind::series) continue;
        for (std::size_t r = 0; r < table->rows(); ++r) {
            for (std::size_t c = 1; c + 1 < table->columns(); ++c) {
                const auto* value = std::get_if<double>(&table->at(r, c));
                const auto* unit_text = std::get_if<std::string>(&table->at(r, c + 1));
                const Unit* unit =
                    value && unit_text && !unit_text->empty() ? find_unit(*unit_text) : nullptr;
                if (!unit) continue;
                std::vector<std::vector<Value>> nearby(2, plain);
                for (const std::size_t k : {0u, 1u})
                    std::get<Table>(nearby[k][i]).at(r, c) = *value * (1.0 + (k == 0 ? -written : written));
                for (const auto symbol : unit_symbols(unit->quantity)) {
                    std::vector<Value> rewritten = plain;
                    auto& other = std::get<Table>(rewritten[i]);
                    other.at(r, c) = in_unit(*value, unit, *find_unit(symbol), unit->quantity);
                    other.at(r, c + 1) = std::string(symbol);
                    // A standard uncertainty beside it is a difference, so it scales without the zero of a
                    // temperature.
                    if (c + 2 < table->columns() && std::holds_alternative<double>(table->at(r, c + 2)) &&
                        function().parameters[i].kind == Kind::block)
                        other.at(r, c + 2) =
                            std::get<double>(table->at(r, c + 2)) * unit->factor / find_unit(symbol)->factor;
                    EXPECT_EQ(difference(function(), plain, rewritten, nearby), "")
                        << "row " << r + 1 << " in " << symbol;
                    if (takes_long(function()) && HasFailure()) return;
                }
            }
        }
    }
}

TEST_P(UnitInvariance, OfColumns) {
    const auto plain = example_arguments(function());
    for (std::size_t i = 0; i < function().parameters.size(); ++i) {
        const Parameter& parameter = function().parameters[i];
        const auto* table = std::get_if<Table>(&plain[i]);
        if (!table || parameter.kind != Kind::series) continue;
        for (const auto& unit : units_of(parameter.quantity)) {
            std::vector<Value> rewritten = plain;
            std::vector<std::vector<Value>> nearby(2, plain);
            for (std::size_t r = 0; r < table->rows(); ++r) {
                const double value = std::get<double>(table->at(r, 0));
                std::get<Table>(rewritten[i]).at(r, 0) =
                    with_unit(value, parameter.default_unit, unit, parameter.quantity);
                // Rounding goes either way from row to row.
                for (const std::size_t k : {0u, 1u})
                    std::get<Table>(nearby[k][i]).at(r, 0) =
                        value * (1.0 + ((r + k) % 2 == 0 ? -written : written));
            }
            EXPECT_EQ(difference(function(), plain, rewritten, nearby), "") << "in " << unit;
        }
    }
}

TEST_P(UnitInvariance, OfTheAnswer) {
    const Result& result = function().result;
    if (result.kind != ResultKind::number || !sample::has_units(result.quantity)) return;
    const auto same_in_all = [&](std::span<const Value> given) {
        std::vector<Value> arguments(given.begin(), given.end());
        const Value plain = evaluate(function(), arguments).value;
        if (failed(plain)) return std::string();
        const double expected = result.default_unit->to_si(std::get<double>(plain), result.quantity);
        for (const auto& unit : units_of(result.quantity)) {
            arguments.back() = unit;
            const Value asked = evaluate(function(), arguments).value;
            if (failed(asked)) return shown(asked);
            const double got = find_unit(unit)->to_si(std::get<double>(asked), result.quantity);
            // Near 0 °C the digits of a temperature are those of its kelvin.
            if (!(std::abs(got - expected) <= precision * std::abs(expected)))
                return fmt::format("{} = {:.17g} in SI, in the default unit {:.17g}",
                                   shown(function(), arguments), got, expected);
        }
        return std::string();
    };
    ASSERT_EQ(function().parameters.back().kind, Kind::unit);
    EXPECT_EQ(same_in_all(example_arguments(function())), "");
    if (takes_long(function())) return;
    EXPECT_TRUE(holds([&] {
        const auto wrong = same_in_all(arguments_at(function(), random_shares(function()), Reach::whole));
        if (!wrong.empty()) property_fails(wrong);
    }));
}

}  // namespace
}  // namespace pullsheet::catalogue::properties
