// SPDX-License-Identifier: Apache-2.0
#include "harness/batch.hpp"

#include <algorithm>
#include <nlohmann/json.hpp>

#include "core/catalogue/block.hpp"
#include "core/catalogue/catalogue.hpp"
#include "core/catalogue/reader.hpp"
#include "harness/argument.hpp"
#include "harness/csv.hpp"

namespace pullsheet::harness {
namespace {

using catalogue::Cell;
using catalogue::Failure;
using catalogue::Function;
using catalogue::Kind;
using catalogue::Outcome;
using catalogue::Parameter;
using catalogue::ResultKind;
using catalogue::Table;
using catalogue::Unit;
using catalogue::Value;

constexpr std::size_t no_parameter = static_cast<std::size_t>(-1);

/// What a column of the file is for.
struct InputColumn {
    std::size_t parameter = no_parameter;
    std::string unit;  ///< of its plain numbers, from "temperature [°F]"
};

/// The calls of one file.
class Batch {
  public:
    Batch(const Function& function, const BatchRequest& request, const Output& output, const Streams& streams)
        : function_(function), request_(request), output_(output), streams_(streams), reader_(streams) {
        arguments_.resize(function.parameters.size());
        is_set_.resize(function.parameters.size());
        for (const std::string& assignment : request.set) set(assignment);
        if (!request.unit.empty()) put(unit_position(function), request.unit);
    }

    int run(CsvReader& rows) {
        Record row;
        if (!rows.next(row))
            throw WrongUse(request_.path + " is empty; the first row must name the parameters");
        read_header(row);
        refuse_missing_columns();
        delimiter_ = rows.delimiter();
        write_header();
        while (rows.next(row)) call(std::move(row));
        if (failed_ > 0)
            streams_.error << failed_ << " of " << called_ << " rows failed; see the column error\n";
        return failed_ == 0 ? done : some_failed;
    }

  private:
    std::string said(const std::string& sentence) const {
        return std::string(function_.name.view()) + ": " + sentence;
    }

    std::vector<std::string_view> names() const {
        std::vector<std::string_view> result;
        for (const Parameter& parameter : function_.parameters)
            if (parameter.kind != Kind::list) result.push_back(parameter.name);
        return result;
    }

    std::size_t find(std::string_view name) const {
        for (std::size_t i = 0; i < function_.parameters.size(); ++i)
            if (function_.parameters[i].kind != Kind::list &&
                catalogue::normal_label(function_.parameters[i].name) == catalogue::normal_label(name))
                return i;
        return no_parameter;
    }

    WrongUse no_such_parameter(const std::string& what, const std::string& name) const {
        const auto near = catalogue::nearest(name, names());
        return WrongUse(said(what + " \"" + name + "\" is no parameter; " +
                             (near.empty() ? "known are " + catalogue::joined(names())
                                           : "did you mean \"" + std::string(near) + "\"?")));
    }

    void put(std::size_t position, Value value) {
        if (is_set_[position])
            throw WrongUse(said("the parameter \"" + std::string(function_.parameters[position].name) +
                                "\" is given twice"));
        is_set_[position] = true;
        arguments_[position] = std::move(value);
    }

    void set(const std::string& assignment) {
        const auto equals = assignment.find('=');
        if (equals == std::string::npos) throw WrongUse("--set takes NAME=VALUE, not \"" + assignment + "\"");
        const std::string name = assignment.substr(0, equals);
        const std::size_t position = find(name);
        if (position == no_parameter) throw no_such_parameter("--set", name);
        put(position, reader_.read(function_.parameters[position], assignment.substr(equals + 1)));
    }

    // "temperature [°F]" → temperature, °F
    void read_header(const Record& header) {
        header_ = header;
        for (const std::string& title : header) {
            InputColumn column;
            std::string name = title;
            const auto bracket = title.find('[');
            if (bracket != std::string::npos && title.back() == ']') {
                name = title.substr(0, bracket);
                column.unit = title.substr(bracket + 1, title.size() - bracket - 2);
            }
            column.parameter = find(name);
            if (column.parameter == no_parameter) {
                if (!request_.keep_others) throw no_such_parameter("the column", title);
            } else {
                if (!column.unit.empty() && !catalogue::find_unit(column.unit))
                    throw WrongUse(said("the column \"" + title + "\" names a unit that is not known"));
                put(column.parameter, Value{});
            }
            columns_.push_back(std::move(column));
        }
    }

    // Said once, not in every row.
    void refuse_missing_columns() const {
        for (std::size_t i = 0; i < function_.parameters.size(); ++i)
            if (function_.parameters[i].required && !is_set_[i])
                throw WrongUse(said("there is no column \"" + std::string(function_.parameters[i].name) +
                                    "\" (" + std::string(function_.parameters[i].meaning) + ")"));
    }

    std::vector<std::string> result_titles() const {
        std::vector<std::string> titles;
        const auto with_unit = [](std::string_view name, std::string_view unit) {
            return unit.empty() ? std::string(name) : std::string(name) + " [" + std::string(unit) + "]";
        };
        for (const auto& column : function_.result.columns)
            titles.push_back(with_unit(column.name, column.unit));
        if (function_.result.kind == ResultKind::table) return titles;
        std::string_view unit = function_.result.unit;
        for (std::size_t i = 0; i < function_.parameters.size(); ++i)
            if (function_.parameters[i].kind == Kind::unit && is_set_[i]) {
                // In a column of the file: each row says its own.
                const auto* asked = std::get_if<std::string>(&arguments_[i]);
                const Unit* wanted = asked ? catalogue::find_unit(*asked) : nullptr;
                unit = wanted ? wanted->symbol : std::string_view{};
            }
        titles.push_back(with_unit(function_.name, unit));
        return titles;
    }

    void write_header() {
        result_titles_ = result_titles();
        if (output_.format == Format::json) return;
        Record record = header_;
        record.insert(record.end(), result_titles_.begin(), result_titles_.end());
        record.insert(record.end(), {"error", "warning"});
        write_record(streams_.out, record, delimiter_);
    }

    Value argument(const InputColumn& column, const std::string& field) {
        if (field.empty()) return {};
        Value value = reader_.read(function_.parameters[column.parameter], field);
        if (!column.unit.empty() && std::holds_alternative<double>(value)) return field + " " + column.unit;
        return value;
    }

    void call(Record row) {
        ++called_;
        Outcome outcome;
        try {
            if (row.size() > header_.size()) {
                std::string rest;
                for (std::size_t i = header_.size(); i < row.size(); ++i)
                    rest += (rest.empty() ? "" : ", ") + row[i];
                throw WrongUse(said("the row has " + std::to_string(row.size()) + " fields, the first row " +
                                    std::to_string(header_.size()) + "; too many are: " + rest));
            }
            for (std::size_t i = 0; i < columns_.size(); ++i)
                if (columns_[i].parameter != no_parameter)
                    arguments_[columns_[i].parameter] =
                        i < row.size() ? argument(columns_[i], row[i]) : Value{};
            outcome = evaluate(function_, std::span<const Value>(arguments_).first(given()));
        } catch (const WrongUse& error) {
            outcome.value = Failure{catalogue::FailureKind::wrong_argument, error.what()};
        } catch (const FileNotReadable& error) {
            outcome.value = Failure{catalogue::FailureKind::no_data, said(error.what())};
        }
        row.resize(header_.size());
        write(row, outcome);
    }

    // The arguments up to the last that stands in the file or in --set.
    std::size_t given() const {
        std::size_t count = is_set_.size();
        while (count > 0 && !is_set_[count - 1]) --count;
        return count;
    }

    void write(const Record& row, const Outcome& outcome) {
        std::string warnings;
        for (const auto& warning : outcome.warnings) warnings += (warnings.empty() ? "" : "; ") + warning;
        if (const auto* table = std::get_if<Table>(&outcome.value)) {
            // A table result has a header row; an answer to a range in a field has none.
            const bool has_header = function_.result.kind == ResultKind::table;
            bool failed = false;
            for (std::size_t r = has_header ? 1 : 0; r < table->rows(); ++r) {
                std::vector<Cell> cells;
                for (std::size_t c = 0; c < table->columns(); ++c) cells.push_back(table->at(r, c));
                failed |= write_row(row, cells, {}, warnings);
            }
            if (failed) ++failed_;
            return;
        }
        if (const auto* failure = std::get_if<Failure>(&outcome.value)) {
            write_row(row, {}, failure->sentence, warnings);
            ++failed_;
            return;
        }
        const auto* number = std::get_if<double>(&outcome.value);
        write_row(row, {number ? Cell(*number) : Cell(std::get<std::string>(outcome.value))}, {}, warnings);
    }

    // Returns true if a cell of the result is an error.
    bool write_row(const Record& row, std::vector<Cell> cells, std::string error,
                   const std::string& warnings) {
        const bool was_good = error.empty();
        for (const Cell& cell : cells)
            if (const auto* failure = std::get_if<Failure>(&cell))
                error += (error.empty() ? "" : "; ") + failure->sentence;
        cells.resize(result_titles_.size());
        if (output_.format == Format::json) {
            nlohmann::ordered_json json;
            for (std::size_t i = 0; i < header_.size(); ++i)
                json[header_[i]] = cell_json(cell_from(row[i]), output_.digits);
            for (std::size_t i = 0; i < cells.size(); ++i)
                json[result_titles_[i]] = cell_json(cells[i], output_.digits);
            json["error"] = error;
            json["warning"] = warnings;
            streams_.out << json_line(json) << '\n';
        } else {
            Record record = row;
            for (const Cell& cell : cells) record.push_back(cell_text(cell, output_.digits));
            record.push_back(error);
            record.push_back(warnings);
            write_record(streams_.out, record, delimiter_);
        }
        return was_good && !error.empty();
    }

    const Function& function_;
    const BatchRequest& request_;
    const Output& output_;
    Streams streams_;
    ArgumentReader reader_;
    std::vector<Value> arguments_;
    std::vector<bool> is_set_;
    Record header_;
    std::vector<InputColumn> columns_;
    std::vector<std::string> result_titles_;
    char delimiter_ = ',';
    std::size_t called_ = 0;
    std::size_t failed_ = 0;
};

}  // namespace

int batch(const BatchRequest& request, const Output& output, const Streams& streams) {
    const Function& function = function_named(request.name);
    const bool is_tsv = request.is_tsv || is_tsv_name(request.path);
    const auto file = request.path == "-" ? nullptr : open_file(request.path);
    CsvReader rows(file ? *file : streams.in, request.path == "-" ? "standard input" : request.path,
                   is_tsv ? std::optional('\t') : std::nullopt);
    return Batch(function, request, output, streams).run(rows);
}

}  // namespace pullsheet::harness
