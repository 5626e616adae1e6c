// SPDX-License-Identifier: Apache-2.0
#include "harness/batch.hpp"

#include <fcntl.h>
#include <unistd.h>

#include <algorithm>
#include <map>
#include <new>
#include <utility>

#include "core/catalogue/block.hpp"
#include "core/catalogue/catalogue.hpp"
#include "core/catalogue/reader.hpp"
#include "harness/argument.hpp"
#include "harness/interrupt.hpp"
#include "harness/output.hpp"
#include "harness/progress.hpp"
#include "harness/row_writer.hpp"
#include "harness/rows.hpp"

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
/// So many failed rows are said on standard error; all of them stand in the column error.
constexpr std::size_t most_said = 10;
/// So many failures of one row, where it has many results.
constexpr std::size_t most_said_of_a_row = 3;

/// What a column of the file is for.
struct InputColumn {
    std::size_t parameter = no_parameter;
    std::string unit;  ///< of its plain numbers, from "temperature [°F]"
};

/// A file that is read would be the output, too.
struct OwnOutput : WrongUse {
    using WrongUse::WrongUse;
};

// Throws OwnOutput if the file is the output.
void refuse_own_output(const std::string& path, const FileBuffer* file, const BatchRequest& request,
                       const Streams& streams) {
    const auto refuse = [&](std::string_view output) {
        throw OwnOutput(say(streams.language, "{file} is the input and {output}, too; write to another file",
                            {{"file", path}, {"output", std::string(output)}}));
    };
    if (!request.output.empty()) {
        const int output = ::open(request.output.c_str(), O_RDONLY | O_CLOEXEC | O_NONBLOCK);
        if (output < 0) return;
        const FileBuffer other(output, true);
        if (is_same_file(file, output)) refuse(translated(streams.language, "the output"));
    } else if (streams.is_command && is_same_file(file, STDOUT_FILENO)) {
        refuse(translated(streams.language, "standard output"));
    }
}

/// The calls of one file.
class Batch : public RowSink {
  public:
    Batch(const Function& function, const BatchRequest& request, const Streams& streams,
          const std::string& file, RowWriter& writer, Progress& progress, const FileBuffer* input)
        : function_(function),
          request_(request),
          streams_(streams),
          file_(file),
          writer_(writer),
          progress_(progress),
          input_(input),
          reader_(streams, {std::nullopt, request.input.is_windows_1252}) {
        reader_.before_reading = [this](const std::string& path, const FileBuffer* read) {
            refuse_own_output(path, read, request_, streams_);
        };
        arguments_.resize(function.parameters.size());
        is_set_.resize(function.parameters.size());
        for (const std::string& assignment : request.set) set(assignment);
        if (!request.unit.empty()) put(unit_position(function, streams.language), request.unit);
    }

    // The first row: what each column is for, and the titles of the output.
    void titles(const Record& titles, RowFormat format, char delimiter) override {
        format_ = request_.format.value_or(format);
        delimiter_ = format_ == RowFormat::tsv ? '\t' : format == RowFormat::csv ? delimiter : ',';
        read_titles(titles);
        refuse_missing_columns();
        if (request_.append && format_ == RowFormat::json)
            throw WrongUse(words("rows cannot be added to one array of JSON; say --format jsonl"));
        writer_.open(output_titles());
    }

    bool row(Row& row) override {
        if (interrupted()) return false;
        call(row);
        writer_.end_row();
        if (progress_.is_wanted() && input_) progress_.update(input_->consumed(), called_);
        return true;
    }

    void flush() override { writer_.flush(); }

    /// Writes what is left; returns the exit code.
    int end() {
        if (format_ == RowFormat::json) writer_.text() += is_first_ ? "[]\n" : "\n]\n";
        std::string kept;
        if (interrupted())
            kept = writer_.close_unfinished();
        else
            writer_.close();
        progress_.clear();
        if (failed_ > most_said)
            streams_.error << words("further rows that failed are not listed here") << '\n';
        if (failed_ > 0)
            streams_.error << words(
                                  "{failed} of {called} rows failed; see the column error",
                                  {{"failed", std::to_string(failed_)}, {"called", std::to_string(called_)}})
                           << '\n';
        if (!interrupted()) return failed_ == 0 ? done : some_failed;
        const std::string called = std::to_string(called_);
        streams_.error
            << (kept.empty()
                    ? words("interrupted after {called} rows; what is written is whole rows",
                            {{"called", called}})
                    : words("interrupted after {called} rows, which are whole in {kept}; {file} is as "
                            "it was",
                            {{"called", called}, {"kept", kept}, {"file", request_.output}}))
            << '\n';
        return interrupted_by + interrupted();
    }

  private:
    std::string words(std::string_view text, catalogue::Fill fill = {}) const {
        return catalogue::say(streams_.language, text, fill);
    }
    // The same with the name of the function before it.
    std::string said(const std::string& sentence) const {
        return std::string(function_.name.view()) + ": " + sentence;
    }
    // The same with the column of the file before it, counted from 0.
    std::string said_of(std::size_t column, const std::string& sentence) const {
        return words("{file}, column {column}: {sentence}",
                     {{"file", file_}, {"column", std::to_string(column + 1)}, {"sentence", sentence}});
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

    std::string no_such_parameter(const std::string& name) const {
        const auto near = catalogue::nearest(name, names());
        if (near.empty())
            return said(words("\"{name}\" is not a parameter; the parameters are {names}",
                              {{"name", name}, {"names", catalogue::joined(names())}}));
        return said(words("\"{name}\" is not a parameter; did you mean \"{near}\"?",
                          {{"name", name}, {"near", std::string(near)}}));
    }

    void put(std::size_t position, Value value) {
        if (is_set_[position])
            throw WrongUse(said(words("the parameter \"{name}\" is given twice",
                                      {{"name", std::string(function_.parameters[position].name)}})));
        is_set_[position] = true;
        arguments_[position] = std::move(value);
    }

    void set(const std::string& assignment) {
        const auto equals = assignment.find('=');
        if (equals == std::string::npos)
            throw WrongUse(words("--set takes NAME=VALUE, not \"{given}\"", {{"given", assignment}}));
        const std::string name = assignment.substr(0, equals);
        const std::size_t position = find(name);
        if (position == no_parameter) throw WrongUse(no_such_parameter(name));
        put(position, reader_.read(function_.parameters[position], assignment.substr(equals + 1)));
    }

    // "temperature [°F]" → temperature, °F
    void read_titles(const Record& titles) {
        titles_ = titles;
        std::map<std::string_view, std::size_t> seen;
        for (std::size_t c = 0; c < titles.size(); ++c) {
            const std::string& title = titles[c];
            if (const auto [other, is_new] = seen.emplace(title, c); !title.empty() && !is_new)
                throw WrongUse(
                    said_of(c, words("\"{title}\" is already the title of column {column}",
                                     {{"title", title}, {"column", std::to_string(other->second + 1)}})));
            InputColumn column;
            std::string name = title;
            const auto bracket = title.find('[');
            if (bracket != std::string::npos && title.back() == ']') {
                name = title.substr(0, bracket);
                column.unit = title.substr(bracket + 1, title.size() - bracket - 2);
            }
            column.parameter = find(name);
            if (column.parameter == no_parameter) {
                if (!request_.keep_others)
                    throw WrongUse(said_of(c, words("{sentence} (--keep-others copies such columns)",
                                                    {{"sentence", no_such_parameter(title)}})));
            } else {
                if (!column.unit.empty() && !catalogue::find_unit(column.unit))
                    throw WrongUse(
                        said_of(c, said(words("the column \"{title}\" names a unit that is not known",
                                              {{"title", title}}))));
                put(column.parameter, Value{});
            }
            columns_.push_back(std::move(column));
        }
    }

    // Said once, not in every row.
    void refuse_missing_columns() const {
        for (std::size_t i = 0; i < function_.parameters.size(); ++i)
            if (function_.parameters[i].required && !is_set_[i])
                throw WrongUse(
                    file_ + ": " +
                    said(words("there is no column \"{name}\" ({meaning})",
                               {{"name", std::string(function_.parameters[i].name)},
                                {"meaning", std::string(translated(streams_.language,
                                                                   function_.parameters[i].meaning))}})));
    }

    std::vector<std::string> result_titles() const {
        std::vector<std::string> result;
        const auto with_unit = [](std::string_view name, std::string_view unit) {
            return unit.empty() ? std::string(name) : std::string(name) + " [" + std::string(unit) + "]";
        };
        for (const auto& column : function_.result.columns)
            result.push_back(with_unit(column.name, column.unit));
        if (function_.result.kind == ResultKind::table) return result;
        std::string_view unit = function_.result.unit;
        for (std::size_t i = 0; i < function_.parameters.size(); ++i)
            if (function_.parameters[i].kind == Kind::unit && is_set_[i]) {
                // In a column of the file: each row says its own.
                const auto* asked = std::get_if<std::string>(&arguments_[i]);
                const Unit* wanted = asked ? catalogue::find_unit(*asked) : nullptr;
                unit = wanted ? wanted->symbol : std::string_view{};
            }
        result.push_back(with_unit(function_.name, unit));
        return result;
    }

    // Titles of the output stand once: a file may be the output of another batch. Returns the row of titles
    // that CSV and TSV have.
    std::string output_titles() {
        Record added = result_titles();
        result_columns_ = added.size();
        added.insert(added.end(), {"error", "warning"});
        Record all = titles_;
        for (const std::string& title : added) {
            std::string free = title;
            for (int n = 2; std::find(all.begin(), all.end(), free) != all.end(); ++n)
                free = title + " (" + std::to_string(n) + ")";
            all.push_back(free);
        }
        if (format_ == RowFormat::csv || format_ == RowFormat::tsv) {
            std::string text;
            add_record(text, all, delimiter_);
            return text;
        }
        for (std::size_t i = 0; i < all.size(); ++i)
            keys_.push_back(json_text(all[i].empty() ? "column " + std::to_string(i + 1) : all[i]) + ":");
        return {};
    }

    Value argument(const InputColumn& column, const std::string& field) {
        if (field.empty()) return {};
        Value value = reader_.read(function_.parameters[column.parameter], field);
        if (!column.unit.empty() && std::holds_alternative<double>(value)) return field + " " + column.unit;
        return value;
    }

    void call(Row& row) {
        ++called_;
        Outcome outcome;
        std::size_t column = columns_.size();  // the one at fault, if it is known
        try {
            if (!row.fault.empty()) throw WrongUse(row.fault);
            if (row.fields.size() > titles_.size()) {
                std::string rest;
                for (std::size_t i = titles_.size(); i < row.fields.size(); ++i)
                    rest += (rest.empty() ? "" : ", ") + row.fields[i];
                throw WrongUse(
                    words("the row has {fields} fields, the first row {titles}; too many are: {rest}",
                          {{"fields", std::to_string(row.fields.size())},
                           {"titles", std::to_string(titles_.size())},
                           {"rest", rest}}));
            }
            for (column = 0; column < columns_.size(); ++column)
                if (columns_[column].parameter != no_parameter)
                    arguments_[columns_[column].parameter] =
                        column < row.fields.size() ? argument(columns_[column], row.fields[column]) : Value{};
            for (auto& [i, table] : row.tables)
                if (columns_[i].parameter != no_parameter)
                    arguments_[columns_[i].parameter] = std::move(table);
            outcome =
                evaluate(function_, std::span<const Value>(arguments_).first(given()), streams_.language);
            if (outcome.refused) column = column_of(*outcome.refused);
        } catch (const OwnOutput&) {
            throw;
        } catch (const WrongUse& error) {
            outcome.value = Failure{catalogue::FailureKind::wrong_argument, said(error.what())};
        } catch (const FileNotReadable& error) {
            outcome.value = Failure{catalogue::FailureKind::no_data, said(error.what())};
        } catch (const std::bad_alloc&) {
            outcome = {};
            outcome.value = Failure{catalogue::FailureKind::no_data,
                                    said(words("the row needs more memory than there is"))};
        }
        row.fields.resize(titles_.size());
        row.json.resize(row.json.empty() ? 0 : titles_.size(), "null");
        write(row, outcome, column);
    }

    std::size_t column_of(std::size_t parameter) const {
        std::size_t column = 0;
        while (column < columns_.size() && columns_[column].parameter != parameter) ++column;
        return column;
    }

    // The arguments up to the last that stands in the file or in --set.
    std::size_t given() const {
        std::size_t count = is_set_.size();
        while (count > 0 && !is_set_[count - 1]) --count;
        return count;
    }

    void write(const Row& row, const Outcome& outcome, std::size_t column) {
        std::string warnings;
        for (const auto& warning : outcome.warnings) warnings += (warnings.empty() ? "" : "; ") + warning;
        std::string errors;
        std::size_t failures = 0;
        const auto write_one = [&](std::vector<Cell> cells) {
            const std::string error = write_row(row, std::move(cells), {}, warnings);
            if (!error.empty() && ++failures <= most_said_of_a_row)
                errors += (errors.empty() ? "" : "; ") + error;
            writer_.end_row();
        };
        if (const auto* table = std::get_if<Table>(&outcome.value)) {
            // A table result has a header row, and its rows become rows; the answer to a range in a field is
            // a row an element.
            const bool is_table = function_.result.kind == ResultKind::table;
            for (std::size_t r = is_table ? 1 : 0; r < table->rows(); ++r) {
                std::vector<Cell> cells;
                for (std::size_t c = 0; c < table->columns(); ++c) {
                    cells.push_back(table->at(r, c));
                    if (!is_table) write_one(std::exchange(cells, {}));
                }
                if (is_table) write_one(std::move(cells));
            }
            if (failures > most_said_of_a_row)
                errors += words("; {count} results of this row failed, see the column error",
                                {{"count", std::to_string(failures)}});
        } else if (const auto* failure = std::get_if<Failure>(&outcome.value)) {
            errors = write_row(row, {}, failure->sentence, warnings);
        } else {
            const auto* number = std::get_if<double>(&outcome.value);
            write_row(row, {number ? Cell(*number) : Cell(std::get<std::string>(outcome.value))}, {},
                      warnings);
        }
        if (errors.empty()) return;
        if (++failed_ > most_said) return;
        progress_.clear();
        streams_.error << place(row, column) << ": " << errors << '\n';
    }

    // days.csv, line 5, column 3 (pressure)
    std::string place(const Row& row, std::size_t column) const {
        const std::string at =
            row.line > 0
                ? words("{file}, line {line}", {{"file", file_}, {"line", std::to_string(row.line)}})
                : words("{file}, object {number}", {{"file", file_}, {"number", std::to_string(row.number)}});
        if (column >= columns_.size()) return at;
        if (!row.json.empty())
            return words("{place}, key \"{title}\"", {{"place", at}, {"title", titles_[column]}});
        return words("{place}, column {column} ({title})",
                     {{"place", at}, {"column", std::to_string(column + 1)}, {"title", titles_[column]}});
    }

    // Returns the sentences of the errors.
    std::string write_row(const Row& row, std::vector<Cell> cells, std::string error,
                          const std::string& warnings) {
        for (const Cell& cell : cells)
            if (const auto* failure = std::get_if<Failure>(&cell))
                error += (error.empty() ? "" : "; ") + failure->sentence;
        cells.resize(result_columns_);
        std::string& text = writer_.text();
        if (format_ == RowFormat::json || format_ == RowFormat::json_lines) {
            if (format_ == RowFormat::json) text += is_first_ ? "[\n" : ",\n";
            is_first_ = false;
            std::size_t key = 0;
            const auto add = [&](const std::string& value) {
                text += key == 0 ? "{" : ",";
                text += keys_[key++];
                text += value;
            };
            for (std::size_t i = 0; i < titles_.size(); ++i)
                add(row.json.empty() ? json_field(row.fields[i]) : row.json[i]);
            for (const Cell& cell : cells) {
                const auto* content = std::get_if<std::string>(&cell);
                const auto* number = std::get_if<double>(&cell);
                add(number ? number_text(*number, request_.digits) : content ? json_text(*content) : "null");
            }
            add(json_text(error));
            add(json_text(warnings));
            text += format_ == RowFormat::json ? "}" : "}\n";
        } else {
            for (const std::string& field : row.fields) {
                add_field(text, field, delimiter_);
                text += delimiter_;
            }
            for (const Cell& cell : cells) {
                add_field(text, cell_text(cell, request_.digits), delimiter_);
                text += delimiter_;
            }
            add_field(text, error, delimiter_);
            text += delimiter_;
            add_field(text, warnings, delimiter_);
            text += '\n';
        }
        return error;
    }

    const Function& function_;
    const BatchRequest& request_;
    Streams streams_;
    const std::string& file_;
    RowWriter& writer_;
    Progress& progress_;
    const FileBuffer* input_;
    ArgumentReader reader_;
    std::vector<Value> arguments_;
    std::vector<bool> is_set_;
    Record titles_;
    std::vector<InputColumn> columns_;
    std::size_t result_columns_ = 0;
    Record keys_;  ///< of JSON, written out
    RowFormat format_ = RowFormat::csv;
    char delimiter_ = ',';
    bool is_first_ = true;
    std::size_t called_ = 0;
    std::size_t failed_ = 0;
};

}  // namespace

int batch(const BatchRequest& request, const Streams& streams) {
    const Function& function = function_named(request.name, streams.language);
    const auto file = request.path == "-" ? nullptr : open_file(request.path, streams.language);
    std::istream& in = file ? *file : streams.in;
    const std::string name = shown_name(request.path, streams.language);
    FileBuffer* input = file_behind(in);
    refuse_own_output(request.path, input, request, streams);
    if (request.append && request.output.empty())
        throw WrongUse(
            say(streams.language, "--append needs --output, the file to which rows are added", {}));

    BatchRequest asked = request;
    if (!asked.format && !request.output.empty()) asked.format = row_format_of_file(request.output);
    RowWriter writer(request, streams);
    // Rows that run over the same terminal are progress enough.
    const bool shows_progress =
        !request.quiet && streams.error_is_terminal && (!streams.out_is_terminal || !request.output.empty());
    Progress progress(streams.error, shows_progress, input ? input->size() : std::nullopt, streams.language);
    Batch calls(function, asked, streams, name, writer, progress, input);
    // What is computed is not held back while more is waited for.
    if (input) input->before_waiting = [&] { writer.flush(); };
    if (streams.is_command) catch_interrupts();
    // The good rows stay whatever comes.
    const auto end = [&] {
        if (input) input->before_waiting = nullptr;
        return calls.end();
    };
    try {
        read_rows(in, name, request.input, streams.language, calls);
    } catch (const OwnOutput&) {
        writer.abandon();
        throw;
    } catch (const std::bad_alloc&) {
        end();
        throw FileNotReadable(say(streams.language,
                                  "{file} needs more memory than there is; the rows before are written",
                                  {{"file", name}}));
    } catch (const std::exception&) {
        const int code = end();
        // An interrupted file only looks cut off.
        if (interrupted()) return code;
        throw;
    }
    return end();
}

}  // namespace pullsheet::harness
