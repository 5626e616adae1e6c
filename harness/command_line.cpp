// SPDX-License-Identifier: Apache-2.0
#include "harness/command_line.hpp"

#include <CLI/CLI.hpp>
#include <algorithm>
#include <charconv>
#include <cstdlib>
#include <new>
#include <nlohmann/json.hpp>

#include "core/catalogue/catalogue.hpp"
#include "harness/batch.hpp"
#include "harness/description.hpp"
#include "harness/eval.hpp"
#include "harness/formula.hpp"
#include "harness/input.hpp"
#include "harness/list.hpp"
#include "harness/output.hpp"
#include "harness/show.hpp"
#include "harness/verify.hpp"

namespace pullsheet::harness {
namespace {

using catalogue::Language;

// A text in the language of the command.
class Words {
  public:
    explicit Words(Language language) : language_(language) {}
    std::string operator()(std::string_view text, catalogue::Fill fill = {}) const {
        return say(language_, text, fill);
    }

  private:
    Language language_;
};

void add_digits_option(CLI::App& command, int& chosen, const Words& words) {
    command.add_option("--digits", chosen, words("significant digits of numbers"))
        ->check([words](const std::string& given) {
            int digits = 0;
            const char* end = given.data() + given.size();
            const auto [stopped, error] = std::from_chars(given.data(), end, digits);
            const bool is_good = error == std::errc{} && stopped == end && digits >= 1 && digits <= 17;
            return is_good ? std::string()
                           : words("\"{given}\" is not a number of digits from 1 to 17", {{"given", given}});
        })
        ->capture_default_str();
}

// The options that choose how data is written, on each command that writes data.
void add_output_options(CLI::App& command, Output& output, const Words& words) {
    auto* csv = command.add_flag_callback(
        "--csv", [&] { output.format = Format::csv; }, words("write CSV"));
    auto* tsv = command.add_flag_callback(
        "--tsv", [&] { output.format = Format::tsv; }, words("write TSV (tab separated)"));
    auto* json = command.add_flag_callback(
        "--json", [&] { output.format = Format::json; }, words("write JSON"));
    csv->excludes(tsv)->excludes(json);
    tsv->excludes(json);
    add_digits_option(command, output.digits, words);
}

const CLI::Validator row_format_check = CLI::IsMember({"csv", "tsv", "json", "jsonl"});

// The options that say how files are read, on each command that reads some.
void add_input_options(CLI::App& command, InputFormat& input, const Words& words) {
    command
        .add_option_function<std::string>(
            "--input-format", [&](const std::string& format) { input.format = row_format_named(format); },
            words("how the file is written: csv, tsv, json, jsonl (an object a line); else its name or "
                  "beginning "
                  "says so"))
        ->check(row_format_check);
    command
        .add_option_function<std::string>(
            "--encoding", [&](const std::string& encoding) { input.is_windows_1252 = encoding != "utf-8"; },
            words("of CSV and TSV: utf-8 (as if omitted), windows-1252 or latin-1"))
        ->check(CLI::IsMember({"utf-8", "windows-1252", "latin-1"}, CLI::ignore_case));
}

void add_json_option(CLI::App& command, Output& output, const std::string& text) {
    command.add_flag_callback(
        "--json", [&] { output.format = Format::json; }, text);
}

// The words of the parser's help.
void put_into_words(CLI::App& app, const Words& words) {
    app.option_defaults()->group(words("Options"));
    app.set_help_flag("-h,--help", words("print this help"));
    const auto formatter = app.get_formatter();
    formatter->label("Usage", words("Usage"));
    formatter->label("OPTIONS", words("OPTIONS"));
    formatter->label("Positionals", words("Arguments"));
    formatter->label("SUBCOMMAND", words("COMMAND"));
    formatter->label("REQUIRED", words("(required)"));
    formatter->label("Excludes", words("not with"));
}

// The sentence for what the parser refuses.
std::string sentence(const CLI::ParseError& error, const CLI::App& app, const Words& words) {
    const std::string said = error.what();
    if (dynamic_cast<const CLI::ExtrasError*>(&error)) {
        std::string unexpected;
        for (const std::string& word : app.remaining(true))
            unexpected.append(unexpected.empty() ? "" : " ").append(word);
        return words("not expected here: {words}; see pullsheet --help", {{"words", unexpected}});
    }
    if (dynamic_cast<const CLI::RequiredError*>(&error)) {
        const auto unknown = app.remaining(true);
        if (app.get_subcommands().empty() && unknown.empty())
            return words("a command is missing; see pullsheet --help");
        if (app.get_subcommands().empty())
            return words("there is no command \"{word}\"; see pullsheet --help", {{"word", unknown.front()}});
        return words("{argument} is missing; see pullsheet {command} --help",
                     {{"argument", said.substr(0, said.find(' '))},
                      {"command", app.get_subcommands().front()->get_name()}});
    }
    if (dynamic_cast<const CLI::ArgumentMismatch*>(&error))
        return words("{option} needs a value", {{"option", said.substr(0, said.find_first_of(": "))}});
    if (dynamic_cast<const CLI::ExcludesError*>(&error)) {
        const std::string excludes = " excludes ";
        const auto at = said.find(excludes);
        if (at != std::string::npos)
            return words("{option} and {other} exclude each other",
                         {{"option", said.substr(0, at)}, {"other", said.substr(at + excludes.size())}});
    }
    return said;
}

// Takes "--language de" out of the words, wherever it stands before "--", since it decides in which language
// the rest is answered.
Language take_language(std::vector<std::string>& arguments, Language otherwise) {
    const std::string option = "--language";
    Language language = otherwise;
    for (auto word = arguments.begin(); word != arguments.end() && *word != "--";) {
        if (*word != option && !word->starts_with(option + "=")) {
            ++word;
            continue;
        }
        std::string wanted;
        if (*word == option) {
            word = arguments.erase(word);
            if (word != arguments.end()) wanted = *word;
        } else {
            wanted = word->substr(option.size() + 1);
        }
        if (word != arguments.end()) word = arguments.erase(word);
        if (wanted == "de")
            language = Language::german;
        else if (wanted == "en")
            language = Language::english;
        else
            throw WrongUse(say(language, "--language takes en or de, not \"{given}\"", {{"given", wanted}}));
    }
    return language;
}

// What the command line does not know as an option is an argument; a misspelt option is not.
std::vector<std::string> arguments_of(const CLI::App& command, const Words& words) {
    std::vector<std::string> arguments = command.remaining();
    const auto misspelt = std::find_if(arguments.begin(), arguments.end(),
                                       [](const std::string& word) { return word.starts_with("--"); });
    if (misspelt != arguments.end())
        throw WrongUse(words("there is no option {option}; see pullsheet {command} --help",
                             {{"option", *misspelt}, {"command", command.get_name()}}));
    return arguments;
}

/// The commands with their options, and what is done with the words of one call.
class Commands {
  public:
    Commands(const Streams& streams, const SheetCommand& sheet, SheetRequest sheet_request)
        : streams_(streams),
          words_(streams.language),
          sheet_command_(sheet),
          sheet_request_(std::move(sheet_request)),
          app_(words("Engine, fuel and road maths: the functions of the spreadsheet extension on the command "
                     "line."),
               "pullsheet") {
        put_into_words(app_, words_);
        add_own_options();
        add_list();
        add_show();
        add_eval();
        add_batch();
        add_sheet();
        add_verify();
    }

    /// Parses the words and runs the command; returns the exit code.
    int run(std::vector<std::string> arguments) {
        // What follows "--" is an argument, whatever it looks like.
        std::vector<std::string> literal;
        if (const auto mark = std::find(arguments.begin(), arguments.end(), "--");
            mark != arguments.end() && arguments.front() == "eval") {
            literal.assign(mark + 1, arguments.end());
            arguments.erase(mark, arguments.end());
        }
        std::reverse(arguments.begin(), arguments.end());
        try {
            app_.parse(arguments);
        } catch (const CLI::ParseError& error) {
            if (dynamic_cast<const CLI::Success*>(&error)) {
                app_.exit(error, streams_.out, streams_.error);
                return done;
            }
            streams_.error << sentence(error, app_, words_) << '\n';
            return wrong_use;
        }
        const int code = run_command(literal);
        streams_.out.flush();
        if (!streams_.out) throw FileNotReadable(words("the output cannot be written"));
        return code;
    }

  private:
    std::string words(std::string_view text, catalogue::Fill fill = {}) const { return words_(text, fill); }

    int run_command(const std::vector<std::string>& literal) {
        if (*list_) return list(family_, output_, streams_);
        if (*show_) return show(name_, output_, streams_);
        if (*eval_) return run_eval(literal);
        if (*batch_) {
            batch_request_.name = name_;
            batch_request_.unit = unit_;
            batch_request_.input = input_;
            return batch(batch_request_, streams_);
        }
        if (*sheet_) return sheet_command_(sheet_request_, output_, streams_);
        return verify(checked_, output_, streams_);
    }

    int run_eval(const std::vector<std::string>& literal) {
        std::vector<std::string> call = arguments_of(*eval_, words_);
        if (!name_.empty()) call.insert(call.begin(), name_);
        call.insert(call.end(), literal.begin(), literal.end());
        if (call.size() == 1)
            if (auto words_of_call = words_of_formula(call.front(), streams_.language))
                call = std::move(*words_of_call);
        if (call.empty())
            throw WrongUse(words("eval needs the name of a function (pullsheet list shows all)"));
        return eval({call.front(), {call.begin() + 1, call.end()}, unit_, input_}, output_, streams_);
    }

    CLI::App* add_command(const std::string& name, const std::string& description) {
        CLI::App* command = app_.add_subcommand(name, description)->group(words("Commands"));
        command->get_help_ptr()->group(words("Options"));
        return command;
    }

    void add_own_options() {
        app_.set_version_flag("--version", std::string(catalogue::version()), words("print the version"));
        app_.add_flag_callback(
                "--describe-commands",
                [&] { throw CLI::CallForVersion(json_line(describe_commands(app_)), done); },
                words("print the commands and their options as JSON"))
            ->group("");  // for the manual page and the completion, not for people
        app_.require_subcommand(1);
        // For the help: take_language has taken it out before.
        app_.add_option("--language", taken_before_,
                        words("language of help and messages: en or de; if omitted, that of the system"));
    }

    void add_list() {
        list_ = add_command("list", words("list the functions, one line each"));
        list_->add_option("FAMILY", family_, words("only this family, for example AIR"));
        add_json_option(*list_, output_, words("write all that show says as JSON, one function a line"));
    }

    void add_show() {
        show_ = add_command("show",
                            words("show the parameters, method, sources and worked example of a function"));
        show_->add_option("NAME", name_, words("the function, for example AIR.DENSITY"))->required();
        add_json_option(*show_, output_, words("write JSON"));
    }

    void add_eval() {
        eval_ = add_command("eval", words("evaluate one call: pullsheet eval NAME ARG..."));
        eval_->add_option("NAME", name_, words("the function"));
        eval_->add_option("--unit", unit_, words("unit of the result"));
        add_output_options(*eval_, output_, words_);
        add_input_options(*eval_, input_, words_);
        // The arguments are no option of the parser, so that negative numbers pass.
        eval_->allow_extras();
        eval_->footer(words(
            "ARG: the arguments in the cell's order, numbers or texts with a unit (\"22 psi\"); - leaves one "
            "out;\n"
            "{{30|15}} is a range, @FILE.csv a block or a range from a file (CSV, TSV, JSON), @- from "
            "standard "
            "input.\n"
            "A whole formula may stand in place of name and arguments: \"=AIR.DENSITY(22; 97.9; 0.55)\"."));
    }

    void add_batch() {
        batch_ = add_command("batch", words("evaluate one call for each row of a file"));
        batch_->add_option("NAME", name_, words("the function"))->required();
        batch_
            ->add_option(
                "FILE", batch_request_.path,
                words(
                    "CSV, TSV, JSON or JSON Lines with the parameters as column names; - is standard input"))
            ->required();
        batch_
            ->add_option("--set", batch_request_.set,
                         words("NAME=VALUE: a parameter that is the same in every row"))
            ->allow_extra_args(false);
        batch_->add_option("--unit", unit_, words("unit of the result"));
        batch_->add_flag("--keep-others", batch_request_.keep_others,
                         words("accept columns that are not parameters, and copy them"));
        add_input_options(*batch_, input_, words_);
        auto* batch_format =
            batch_
                ->add_option_function<std::string>(
                    "--format",
                    [&](const std::string& format) { batch_request_.format = row_format_named(format); },
                    words(
                        "how the output is written: csv, tsv, json, jsonl; else as its name says, or as the "
                        "input"))
                ->check(row_format_check);
        auto* batch_tsv = batch_->add_flag_callback(
            "--tsv", [&] { input_.format = batch_request_.format = RowFormat::tsv; },
            words("the file is TSV, and so is the output"));
        auto* batch_json = batch_->add_flag_callback(
            "--json", [&] { batch_request_.format = RowFormat::json_lines; },
            words("write JSON, one object a line"));
        batch_format->excludes(batch_tsv)->excludes(batch_json);
        batch_tsv->excludes(batch_json);
        batch_->add_option(
            "--output", batch_request_.output,
            words("the file to be written instead of standard output; it takes its name when it "
                  "is whole"));
        batch_->add_flag("--append", batch_request_.append,
                         words("add the rows to the file that --output names (csv, tsv, jsonl)"));
        add_digits_option(*batch_, batch_request_.digits, words_);
        batch_->add_flag("--quiet", batch_request_.quiet, words("show no progress on the terminal"));
        batch_->footer(words(
            "A column may name the unit of its numbers: \"temperature [°F]\". An empty field leaves the "
            "argument "
            "out;\n"
            "@FILE.csv is a block or a range; in JSON a field may be an array, which is given to the "
            "function as "
            "a "
            "range\n"
            "or answered with a row an element. The input columns are kept, except arrays; the result, error "
            "and "
            "warning\n"
            "are added. A row that fails, or that is too large (a million values), does not stop the rest."));
    }

    void add_sheet() {
        sheet_ = add_command("sheet", words("recompute a sheet with the installed LibreOffice, print a "
                                            "table of it, write it as PDF or CSV"));
        sheet_
            ->add_option("FILE", sheet_request_.path,
                         words("the sheet (ods, fods, xlsx); it is never written"))
            ->required();
        auto* sheet_range =
            sheet_->add_option("--range", sheet_request_.range,
                               words("print these cells: a named range or an address (\"Quote.A6:F18\")"));
        sheet_
            ->add_option("--sheet", sheet_request_.sheet,
                         words("print the used cells of this sheet; --pdf then writes what is printed of it"))
            ->excludes(sheet_range);
        sheet_
            ->add_option(
                "--set", sheet_request_.set,
                words("NAME=VALUE: an input cell, by name or address, before computing; may be repeated"))
            ->allow_extra_args(false);
        sheet_->add_option("--pdf", sheet_request_.pdf, words("write the document as PDF"));
        sheet_->add_option("--csv", sheet_request_.csv, words("write the table as CSV"));
        sheet_->add_option("--save", sheet_request_.save, words("write a recomputed copy (ods, fods, xlsx)"));
        sheet_->add_flag("--customer-copy", sheet_request_.customer_copy,
                         words("write the pages for the customer beside the sheet (NAME-customer.ods, "
                               ".xlsx, .pdf); with --sheet, "
                               "that page"));
        sheet_->add_flag("--despite-checks", sheet_request_.despite_checks,
                         words("write the PDF or the customer copy even where checks of the sheet fail"));
        auto* sheet_format =
            sheet_
                ->add_option_function<std::string>(
                    "--format",
                    [&](const std::string& format) {
                        output_.format = format == "csv"   ? Format::csv
                                         : format == "tsv" ? Format::tsv
                                                           : Format::json;
                    },
                    words("how the table is printed: csv, tsv, json; else in columns, as the sheet shows it"))
                ->check(CLI::IsMember({"csv", "tsv", "json"}));
        sheet_
            ->add_flag_callback(
                "--json", [&] { output_.format = Format::json; }, words("print the table as JSON"))
            ->excludes(sheet_format);
        add_digits_option(*sheet_, output_.digits, words_);
        sheet_->add_flag(
            "--checks", sheet_request_.checks_wanted,
            words(
                "fail if the sheet has no cell named all_checks_agree; where it has one, it is read anyway"));
        sheet_->add_option("--timeout", sheet_request_.timeout, words("give up after so many seconds"))
            ->check(CLI::Range(1, 86400))
            ->capture_default_str();
        sheet_->add_option(
            "--extension", sheet_request_.extension,
            words("the folder with the unpacked extension; else the one beside the program or installed "
                  "in LibreOffice"));
        sheet_->footer(
            words("LibreOffice runs unseen with a profile of its own that is gone afterwards. Cells that "
                  "show an error "
                  "are\n"
                  "said on standard error with the reason. Exit: 0 all is well, 1 a cell shows an error, a "
                  "check fails "
                  "or the\n"
                  "time is over, 2 wrong use, 3 a file, LibreOffice or the extension is missing."));
    }

    void add_verify() {
        verify_ = add_command(
            "verify",
            words(
                "compute every check value, compare, and count what is printed, independent or an identity"));
        verify_->add_option("NAME", checked_, words("only this function or family"));
        add_output_options(*verify_, output_, words_);
    }

    const Streams& streams_;
    Words words_;
    const SheetCommand& sheet_command_;
    // What the parser fills in.
    SheetRequest sheet_request_;
    BatchRequest batch_request_;
    Output output_;
    InputFormat input_;
    std::string family_, name_, unit_, checked_, taken_before_;
    CLI::App app_;
    CLI::App *list_ = nullptr, *show_ = nullptr, *eval_ = nullptr, *batch_ = nullptr, *sheet_ = nullptr,
             *verify_ = nullptr;
};

}  // namespace

catalogue::Language language_of_environment() {
    for (const char* variable : {"LC_ALL", "LC_MESSAGES", "LANG"})
        if (const char* locale = std::getenv(variable); locale && *locale)
            return catalogue::language_of(locale);
    return Language::english;
}

int run(std::vector<std::string> arguments, const Streams& streams, const SheetCommand& sheet) {
    try {
        SheetRequest sheet_request;
        sheet_request.words = arguments;
        Streams in_language = streams;
        in_language.language = take_language(arguments, streams.language);
        try {
            return Commands(in_language, sheet, std::move(sheet_request)).run(std::move(arguments));
        } catch (const std::bad_alloc&) {
            throw FileNotReadable(
                std::string(translated(in_language.language, "this needs more memory than there is")));
        }
    } catch (const WrongUse& error) {
        streams.error << error.what() << '\n';
        return wrong_use;
    } catch (const FileNotReadable& error) {
        streams.out.flush();
        streams.error << error.what() << '\n';
        return file_not_readable;
    }
}

}  // namespace pullsheet::harness
