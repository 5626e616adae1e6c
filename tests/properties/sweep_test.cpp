// SPDX-License-Identifier: Apache-2.0
// Every function swept over its whole domain, blocks and columns included: it answers with finite values or
// says why not, in bounded time. The solvers themselves are swept in solver_sweep_test.cpp, stages and fuels
// of BUILD.TABLE in stage_table_sweep_test.cpp.
#include <algorithm>
#include <cctype>
#include <cmath>

#include "core/catalogue/block.hpp"
#include "tests/properties/points.hpp"
#include "tests/watched.hpp"

namespace pullsheet::catalogue::properties {
namespace {

/// What one call may take at most, in seconds of the processor.
constexpr double longest_call = tests::slowed_down(2.0);

/// The table that any example of the catalogue has under the name of a parameter, so that optional blocks are
/// swept too.
const Table* sample_table(std::string_view parameter_name) {
    for (const Function& function : functions())
        for (std::size_t i = 0; i < function.parameters.size() && i < function.example.arguments.size(); ++i)
            if (function.parameters[i].name == parameter_name)
                if (const auto* table = std::get_if<Table>(&function.example.arguments[i])) return table;
    return nullptr;
}

bool has_parameter(const Function& function, std::string_view name) {
    return std::ranges::any_of(function.parameters, [&](const Parameter& p) { return p.name == name; });
}

/// A sample without the column of this heading filled in.
void clear_column(Table& table, std::string_view heading) {
    for (std::size_t c = 0; c < table.columns(); ++c)
        if (const auto* text = std::get_if<std::string>(&table.at(0, c)); text && *text == heading)
            for (std::size_t r = 1; r < table.rows(); ++r) table.at(r, c) = Cell{};
}

const Label* label_of(const BlockSchema& schema, const Cell& cell) {
    const auto* written = std::get_if<std::string>(&cell);
    if (!written) return nullptr;
    std::string name;
    for (const char letter : normal_label(*written))
        if (!std::isdigit(static_cast<unsigned char>(letter)))
            name += letter;
        else if (!name.ends_with('#'))
            name += '#';
    for (const Label& label : schema.labels)
        if (normal_label(label.name) == name) return &label;
    return nullptr;
}

/// A number of a block at `share` of the way through what its label allows.
double label_number(const Label& label, double near, double share, Reach reach) {
    // Gears stand in an order, and a curve has its shape: all of them together, up to twice or half.
    if (label.is_numbered()) return near * std::pow(2.0, 2.0 * share - 1.0);
    Parameter parameter = plain("label", "a number of a block", label.quantity, label.range);
    parameter.established_range = label.established_range;
    // Where a label has no established range, the whole of it is rarely a car: from three quarters to four
    // thirds.
    if (reach == Reach::established && !label.established_range) {
        const double number = near * std::pow(4.0 / 3.0, 2.0 * share - 1.0);
        return std::clamp(number, label.range.low, label.range.high);
    }
    return number_at(parameter, near, share, reach);
}

/// A call of the sweep: the numbers, choices, blocks and columns of a function, each at its share of the way.
class Sweep {
  public:
    explicit Sweep(const Function& function) : function_(function), arguments_(example_arguments(function)) {
        for (std::size_t i = 0; i < function.parameters.size(); ++i) {
            const Parameter& parameter = function.parameters[i];
            if (std::holds_alternative<std::monostate>(arguments_[i]) &&
                (parameter.kind == Kind::block || parameter.kind == Kind::table ||
                 parameter.kind == Kind::series))
                if (const Table* table = sample_table(parameter.name)) {
                    Table sample = *table;
                    // Stages and fuels are named only where the function has tables of them.
                    if (!has_parameter(function, "stages")) clear_column(sample, "stage");
                    if (!has_parameter(function, "fuels")) clear_column(sample, "fuel");
                    arguments_[i] = std::move(sample);
                }
            if (is_varied(parameter, arguments_[i])) ++dimensions_;
            if (parameter.kind == Kind::series) ++dimensions_;
            if (parameter.kind == Kind::block) dimensions_ += parameter.schema->labels.size();
        }
    }

    std::size_t dimensions() const { return dimensions_; }

    std::vector<Value> at(std::span<const double> shares, Reach reach) const {
        std::vector<Value> result = arguments_;
        std::size_t d = 0;
        for (std::size_t i = 0; i < function_.parameters.size(); ++i) {
            const Parameter& parameter = function_.parameters[i];
            auto* table = std::get_if<Table>(&result[i]);
            if (is_varied(parameter, result[i])) {
                // What may be left out and is left out in the example is so in half of the calls.
                const double share = shares[d++];
                const bool may_be_left_out =
                    std::holds_alternative<std::monostate>(result[i]) && !parameter.required;
                if (!may_be_left_out)
                    result[i] = argument_at(parameter, result[i], share, reach);
                else if (share >= 0.5)
                    result[i] = argument_at(parameter, result[i], 2.0 * share - 1.0, reach);
            } else if (parameter.kind == Kind::series) {
                const double factor = std::pow(reach == Reach::whole ? 100.0 : 2.0, 2.0 * shares[d++] - 1.0);
                if (table)
                    for (std::size_t r = 0; r < table->rows(); ++r)
                        if (auto* number = std::get_if<double>(&table->at(r, 0))) *number *= factor;
            } else if (parameter.kind == Kind::block) {
                const auto first = d;
                d += parameter.schema->labels.size();
                if (!table) continue;
                for (std::size_t r = 0; r < table->rows(); ++r) {
                    const Label* label = label_of(*parameter.schema, table->at(r, 0));
                    auto* number = std::get_if<double>(&table->at(r, 1));
                    if (!label || !number) continue;
                    const auto which = static_cast<std::size_t>(label - parameter.schema->labels.data());
                    *number = label_number(*label, *number, shares[first + which], reach);
                }
            }
        }
        return result;
    }

  private:
    const Function& function_;
    std::vector<Value> arguments_;
    std::size_t dimensions_ = 0;
};

class SweptFunctions : public testing::TestWithParam<const Function*> {
  protected:
    const Function& function() const { return *GetParam(); }

    void expect_sound(const Value& value, const std::string& call) {
        if (const auto* number = std::get_if<double>(&value)) {
            EXPECT_TRUE(std::isfinite(*number)) << call;
        } else if (const auto* failure = std::get_if<Failure>(&value)) {
            EXPECT_GT(failure->sentence.size(), function().name.view().size() + 8) << call;
            // An exception that nobody has given a reason.
            EXPECT_EQ(failure->sentence.find("the computation failed"), std::string::npos)
                << call << ": " << failure->sentence;
        } else if (const auto* table = std::get_if<Table>(&value)) {
            for (std::size_t r = 0; r < table->rows(); ++r)
                for (std::size_t c = 0; c < table->columns(); ++c)
                    if (!std::holds_alternative<std::monostate>(table->at(r, c)))
                        expect_sound(to_value(table->at(r, c)), call);
        }
    }

    void call(const std::vector<Value>& arguments) {
        const double before = tests::processor_seconds();
        const Outcome outcome = evaluate(function(), arguments);
        const double taken = tests::processor_seconds() - before;
        const std::string text = shown(function(), arguments);
        EXPECT_LT(taken, longest_call) << text;
        longest_ = std::max(longest_, taken);
        expect_sound(outcome.value, text);
        if (!std::holds_alternative<Failure>(outcome.value)) ++answered_;
    }

    double longest_ = 0.0;
    int answered_ = 0;
};

INSTANTIATE_TEST_SUITE_P(Catalogue, SweptFunctions, testing::ValuesIn(all_functions()), test_name);

TEST_P(SweptFunctions, AnswerOrSayWhyNot) {
    const Sweep sweep(function());
    if (sweep.dimensions() == 0) return;
    const std::size_t count = takes_long(function()) ? 40 : 400;
    for (const Reach reach : {Reach::established, Reach::whole}) {
        const LatinHypercube points(count, sweep.dimensions());
        for (std::size_t k = 0; k < points.count(); ++k) {
            call(sweep.at(points.shares(k), reach));
            if (HasFailure()) return;
        }
    }
    RecordProperty("answered", answered_);
    RecordProperty("longest_call_microseconds", static_cast<int>(1e6 * longest_));
    const bool may_refuse_all = function().parameters[0].kind == Kind::cell;
    EXPECT_GT(answered_, may_refuse_all ? -1 : 0) << "no point of the sweep has an answer";
}

/// Every corner of the box of ranges; of a box with many sides a sample of the corners.
TEST_P(SweptFunctions, AnswerOrSayWhyNotAtTheCorners) {
    const Sweep sweep(function());
    const std::size_t sides = sweep.dimensions();
    if (sides == 0) return;
    const std::size_t most = takes_long(function()) ? 32 : 256;
    for (const Reach reach : {Reach::established, Reach::whole}) {
        const bool all = sides < 9 && (std::size_t{1} << sides) <= most;
        const LatinHypercube points(most, sides);
        const std::size_t count = all ? std::size_t{1} << sides : points.count();
        for (std::size_t k = 0; k < count; ++k) {
            std::vector<double> corner;
            for (std::size_t d = 0; d < sides; ++d) {
                const bool high = all ? ((k >> d) & 1) != 0 : points.share(k, d) > 0.5;
                corner.push_back(high ? 1.0 : 0.0);
            }
            call(sweep.at(corner, reach));
            if (HasFailure()) return;
        }
    }
}

}  // namespace
}  // namespace pullsheet::catalogue::properties
