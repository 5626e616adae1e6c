// SPDX-License-Identifier: Apache-2.0
// BUILD.TABLE with stages, parts and fuels of all sorts, as in a workshop and as nobody would write them:
// every row holds its figures, or errors that say why; or the table says what is wrong with its arguments.
#include <fmt/format.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <map>
#include <random>
#include <set>

#include "core/catalogue/block.hpp"
#include "core/catalogue/families/examples.hpp"
#include "core/catalogue/parts_table.hpp"
#include "tests/properties/points.hpp"
#include "tests/watched.hpp"

namespace pullsheet::catalogue::properties {
namespace {

/// The label of a row.
std::string text(const Table& table, std::size_t row) {
    const auto* written = std::get_if<std::string>(&table.at(row, 0));
    return written ? *written : std::string();
}

/// Tables of stages and fuels, drawn.
class Drawn {
  public:
    Drawn(unsigned long seed, bool ordinary) : random_(seed), ordinary_(ordinary) {}

    double share() { return static_cast<double>(random_() >> 11) * 0x1p-53; }
    bool happens(double probability) { return share() < probability; }
    std::size_t one_of(std::size_t count) {
        return std::min(count - 1, static_cast<std::size_t>(share() * static_cast<double>(count)));
    }
    double near(double number, double factor) { return number * std::pow(factor, 2.0 * share() - 1.0); }

    /// A number from the whole of a range, over decades where it has no end or spans many.
    double within(const Interval& range) {
        const double low = std::isfinite(range.low) ? range.low : -1e6;
        const double high = std::isfinite(range.high) ? range.high : 1e6;
        if (happens(0.05)) return happens(0.5) ? low : high;
        if (low >= 0.0 && high > 1e3 * std::max(low, 1e-3)) {
            const double bottom = std::max(low, 1e-4 * high);
            return bottom * std::pow(high / bottom, share());
        }
        return low + share() * (high - low);
    }

    Table engine() {
        Table table = examples::measured_engine();
        if (ordinary_) {
            for (std::size_t r = 0; r < table.rows(); ++r) {
                auto& number = std::get<double>(table.at(r, 1));
                number = r == 3 ? static_cast<double>(1 + one_of(8)) : near(number, r < 2 ? 1.15 : 1.1);
            }
            // The rod stays in proportion to the stroke.
            table.at(2, 1) = 1.75 * std::get<double>(table.at(1, 1));
            return table;
        }
        Table drawn;
        for (const Label& label : find_function("BUILD.TABLE")->parameters[0].schema->labels) {
            if (label.is_numbered() || label.name == "displacement" || happens(0.8)) continue;
            const double number = within(label.range);
            drawn.add_row({std::string(label.name),
                           label.quantity == Quantity::count ? std::round(number) : number, std::string()});
        }
        // What may not be missing, so that most tables get so far as to be computed.
        for (std::size_t r = 0; r < table.rows(); ++r)
            if (happens(0.97)) {
                bool there = false;
                for (std::size_t d = 0; d < drawn.rows(); ++d) there |= text(drawn, d) == text(table, r);
                if (!there) drawn.add_row({table.at(r, 0), table.at(r, 1), table.at(r, 2)});
            }
        return drawn;
    }

    /// A row of the stages table: name, part, kind, six values with their units, price.
    std::vector<Cell> part(const std::string& stage, const PartKind& kind, double size) {
        std::vector<Cell> row(16);
        row[0] = stage;
        row[1] = std::string(kind.name);
        row[2] = std::string(kind.name);
        for (std::size_t v = 0; v < kind.values.size() && v < 6; ++v) {
            const PartValue& value = kind.values[v];
            Cell& cell = row[3 + 2 * v];
            row[4 + 2 * v] = std::string(value.unit);
            if (value.name == "place") {
                const char* places[] = {"intake", "hot", "charge", "exhaust", "roof"};
                cell = std::string(places[one_of(ordinary_ || happens(0.98) ? 4 : 5)]);
            } else if (ordinary_) {
                cell = usual(kind, v, size);
            } else if (happens(0.01)) {
                cell = happens(0.5) ? Cell(std::string("much")) : Cell(happens(0.5) ? -1.0 : 1e300);
            } else if (value.required ? happens(0.98) : happens(0.6)) {
                const double number = within(value.range);
                cell = value.quantity == Quantity::count ? std::max(1.0, std::round(number)) : number;
            }
        }
        if (happens(0.3)) row[15] = ordinary_ ? near(900.0, 5.0) : within({0.0, 1e6});
        return row;
    }

    /// Parts for an engine of this size (1: two litres), from too small to too large.
    Cell usual(const PartKind& kind, std::size_t v, double size) {
        const auto of_size = [&](double number) { return Cell(near(number * size, 3.0)); };
        if (kind.name == "injectors") {
            if (v == 0) return of_size(600.0);
            if (v == 1) return 4.0;
            return v == 2 ? Cell(3.0) : v == 3 ? Cell(near(4.0, 1.5)) : Cell();
        }
        if (kind.name == "pump")
            return v == 0 ? of_size(250.0) : v == 1 ? Cell(7.0) : v == 2 ? Cell(1.0) : Cell();
        if (kind.name == "high-pressure pump")
            return v == 0   ? Cell(near(9.0, 1.4))
                   : v == 1 ? Cell(near(4.5, 1.3))
                   : v == 2 ? Cell(3.0)
                            : Cell();
        if (kind.name == "compressor")
            return v == 0 ? of_size(250.0) : v == 1 ? Cell(near(0.68, 1.15)) : Cell();
        if (kind.name == "charge cooler") {
            if (v == 0) return 0.4 + 0.5 * share();
            return v == 1                   ? Cell(near(6.0, 2.0))
                   : v == 2                 ? of_size(220.0)
                   : v == 4 && happens(0.3) ? Cell(near(60.0, 1.2))
                                            : Cell();
        }
        if (kind.name == "pipe")
            return v == 0   ? Cell(near(60.0, 1.4))
                   : v == 2 ? Cell(near(1.0, 3.0))
                   : v == 3 ? Cell(share())
                            : Cell();
        if (kind.name == "engine")
            return v == 1 && happens(0.7) ? of_size(500.0) : v == 2 ? Cell(near(30.0, 1.4)) : Cell();
        if (kind.name == "turbine") return v == 0 ? of_size(10.0) : v == 1 ? Cell(near(0.68, 1.1)) : Cell();
        if (kind.name == "exhaust system")
            return v == 0 ? Cell(near(20.0, 2.0)) : v == 1 ? of_size(250.0) : Cell();
        if (kind.name == "boost control") return v == 0 ? Cell(near(1.2, 1.6)) : Cell();
        return of_size(500.0);
    }

    Table stages(double size) {
        Table table;
        std::vector<Cell> header = {std::string("stage"), std::string("part"), std::string("kind")};
        for (int v = 1; v <= 6; ++v) {
            header.emplace_back(v == 1 ? std::string("value") : fmt::format("value {}", v));
            header.emplace_back(std::string("unit"));
        }
        header.emplace_back(std::string("price"));
        table.add_row(header);
        const std::size_t count = 1 + one_of(4);
        bool has_compressor = false;
        for (std::size_t s = 0; s < count; ++s) {
            const std::string stage = fmt::format("Stage {}", s + 1);
            std::set<std::size_t> kinds;
            const std::size_t parts = 1 + one_of(6);
            for (std::size_t p = 0; p < parts; ++p) {
                const std::size_t kind = one_of(part_kinds().size());
                // A turbine without a compressor is a mistake too.
                if (part_kinds()[kind].name == "compressor") has_compressor = true;
                if (part_kinds()[kind].name == "turbine" && !has_compressor && (ordinary_ || happens(0.9))) {
                    has_compressor = true;
                    const auto compressor = static_cast<std::size_t>(
                        std::find_if(part_kinds().begin(), part_kinds().end(),
                                     [](const PartKind& one) { return one.name == "compressor"; }) -
                        part_kinds().begin());
                    kinds.insert(compressor);
                    table.add_row(part(stage, part_kinds()[compressor], size));
                }
                // Two of a kind in one stage are a mistake.
                if (!kinds.insert(kind).second && (ordinary_ || happens(0.97))) continue;
                table.add_row(part(stage, part_kinds()[kind], size));
            }
            if (!ordinary_ && happens(0.05)) table.add_row({std::string(), std::string(), std::string()});
        }
        return table;
    }

    Table fuels() {
        Table table;
        table.add_row({std::string("name"), std::string("ethanol share"), std::string("RON"),
                       std::string("density"), std::string("heating value"), std::string("lambda")});
        const std::size_t count = 1 + one_of(3);
        for (std::size_t f = 0; f < count; ++f) {
            const auto name = fmt::format("fuel {}", f + 1);
            if (ordinary_)
                table.add_row({name, share() * (happens(0.5) ? 0.2 : 0.9), 91.0 + 9.0 * share(),
                               near(745.0, 1.03), near(42.7, 1.02), 0.78 + 0.2 * share()});
            else
                table.add_row({name, share(), within({20.0, 150.0}), within({600.0, 900.0}),
                               within({30.0, 50.0}), within({0.6, 1.5})});
        }
        return table;
    }

    Table vehicle() {
        Table table = examples::vehicle();
        for (std::size_t r = 0; r < table.rows(); ++r)
            if (auto* number = std::get_if<double>(&table.at(r, 1)); number && !is_gear(table, r))
                *number = near(*number, text(table, r) == "driveline efficiency" ? 1.05
                                        : ordinary_                              ? 1.1
                                                                                 : 1.6);
        return table;
    }

    Table weather() {
        return {{std::string("temperature"), ordinary_ ? 5.0 + 30.0 * share() : within({-60.0, 60.0}),
                 std::string("°C")},
                {std::string("pressure"), ordinary_ ? 85.0 + 18.0 * share() : within({40.0, 115.0}),
                 std::string("kPa")},
                {std::string("humidity"), share(), std::string()}};
    }

    /// Of the first stage that the table has: one whose parts were all left out is none.
    Table measured(double size, const Table& stages) {
        const auto number = [&](double usual, Interval whole) {
            return ordinary_ ? near(usual, 1.1) : within(whole);
        };
        return {{std::string("stage"), stages.rows() > 1 ? stages.at(1, 0) : Cell(std::string("Stage 1")),
                 std::string()},
                {std::string("fuel"), std::string("fuel 1"), std::string()},
                {std::string("power"), number(95.0 * 2.0 * size, {1.0, 3000.0}), std::string("kW")},
                {std::string("engine speed"), number(5500.0, {500.0, 20000.0}), std::string("rpm")},
                {std::string("manifold pressure"), number(190.0, {50.0, 800.0}), std::string("kPa")},
                {std::string("manifold temperature"), number(45.0, {-40.0, 200.0}), std::string("°C")},
                {std::string("lambda"), number(0.83, {0.6, 1.5}), std::string()},
                {std::string("knock-limited spark"), ordinary_ ? 4.0 + 8.0 * share() : within({-30.0, 60.0}),
                 std::string("°")}};
    }

    bool ordinary() const { return ordinary_; }

  private:
    static bool is_gear(const Table& table, std::size_t r) {
        return text(table, r).starts_with("gear") || text(table, r).starts_with("final");
    }

    std::mt19937_64 random_;
    bool ordinary_;
};

/// The number that stands beside a label of a block; 1 where there is none.
double beside(const Table& block, std::string_view label) {
    for (std::size_t r = 0; r < block.rows(); ++r)
        if (text(block, r) == label)
            if (const auto* number = std::get_if<double>(&block.at(r, 1))) return *number;
    return 1.0;
}

class SweptStageTable : public testing::TestWithParam<bool> {};

INSTANTIATE_TEST_SUITE_P(Domain, SweptStageTable, testing::Bool(),
                         [](const auto& domain) { return domain.param ? "Ordinary" : "Whole"; });

TEST_P(SweptStageTable, RowsHoldFiguresOrSayWhyNot) {
    const Function& function = *find_function("BUILD.TABLE");
    constexpr std::size_t power = 3, price = 8, low = 10, high = 11;
    int figures = 0, errors = 0, refused = 0;
    std::map<std::string, int> sentences;
    const int count = tests::fewer(GetParam() ? 120 : 800);
    for (int k = 0; k < count; ++k) {
        Drawn drawn(static_cast<unsigned long>(2 * k + GetParam()), GetParam());
        const Table engine = drawn.engine();
        const double bore = beside(engine, "bore"), stroke = beside(engine, "stroke");
        const double size = bore * bore * stroke * beside(engine, "cylinders") / (4.0 * 86.0 * 86.0 * 86.0);
        std::vector<Value> arguments = {engine, drawn.stages(size), drawn.fuels()};
        arguments.resize(7);
        if (drawn.happens(0.5)) arguments[3] = drawn.vehicle();
        if (drawn.happens(0.5)) arguments[4] = drawn.weather();
        if (drawn.happens(0.3)) arguments[5] = drawn.measured(size, std::get<Table>(arguments[1]));
        if (drawn.happens(0.3)) arguments[6] = drawn.near(120.0, 2.0);
        const Outcome outcome = evaluate(function, arguments);
        if (const auto* failure = std::get_if<Failure>(&outcome.value)) {
            ++refused;
            ++sentences[failure->sentence];
            EXPECT_GT(failure->sentence.size(), 20u) << k;
            EXPECT_EQ(failure->sentence.find("the computation failed"), std::string::npos) << k;
            continue;
        }
        const auto& table = std::get<Table>(outcome.value);
        const auto stages_and_fuels = [&](std::size_t argument) {
            std::set<std::string> names;
            const auto& named = std::get<Table>(arguments[argument]);
            for (std::size_t r = 1; r < named.rows(); ++r)
                if (!is_blank(named.at(r, 0))) names.insert(text(named, r));
            return names.size();
        };
        ASSERT_EQ(table.rows(), 1 + stages_and_fuels(1) * stages_and_fuels(2)) << k;
        for (std::size_t r = 1; r < table.rows(); ++r) {
            const bool failed = std::holds_alternative<Failure>(table.at(r, power));
            ++(failed ? errors : figures);
            for (std::size_t c = 2; c < table.columns(); ++c) {
                const Cell& cell = table.at(r, c);
                if (const auto* number = std::get_if<double>(&cell)) {
                    EXPECT_TRUE(std::isfinite(*number)) << k << ", row " << r << ", column " << c;
                }
                const auto* failure = std::get_if<Failure>(&cell);
                // A figure that no machine gives is refused by itself.
                const bool is_impossible =
                    failure && failure->sentence.find("not possible") != std::string::npos;
                if (c != price && !is_impossible) {
                    EXPECT_EQ(failure != nullptr, failed) << k << ", row " << r << ", column " << c;
                }
                if (failure) {
                    EXPECT_GT(failure->sentence.size(), 40u) << k;
                    EXPECT_EQ(failure->sentence.find("the computation failed"), std::string::npos) << k;
                    if (c == power) ++sentences[failure->sentence.substr(failure->sentence.rfind("fuel "))];
                }
            }
            if (failed) continue;
            const auto number = [&](std::size_t c) { return std::get<double>(table.at(r, c)); };
            EXPECT_GT(number(power), 0.0) << k;
            EXPECT_LT(number(low), number(power)) << k;
            EXPECT_GT(number(high), number(power)) << k;
        }
    }
    RecordProperty("figures", figures);
    RecordProperty("errors", errors);
    RecordProperty("refused", refused);
    if (std::getenv("PULLSHEET_SENTENCES"))
        for (const auto& [sentence, times] : sentences) std::printf("%4d %s\n", times, sentence.c_str());
    EXPECT_GT(figures, tests::fewest(GetParam() ? 400 : 150));
    if (GetParam()) {
        EXPECT_EQ(refused, 0);
    } else {
        EXPECT_GT(errors, tests::fewest(100));
        EXPECT_GT(refused, tests::fewest(100));
    }
}

}  // namespace
}  // namespace pullsheet::catalogue::properties
