// SPDX-License-Identifier: Apache-2.0
#include "harness/command_line.hpp"

#include <CLI/CLI.hpp>
#include <algorithm>
#include <nlohmann/json.hpp>

#include "core/catalogue/catalogue.hpp"
#include "harness/batch.hpp"
#include "harness/description.hpp"
#include "harness/eval.hpp"
#include "harness/input.hpp"
#include "harness/list.hpp"
#include "harness/output.hpp"
#include "harness/show.hpp"
#include "harness/verify.hpp"

namespace pullsheet::harness {
namespace {

// The options that choose how data is written, on each command that writes data.
void add_output_options(CLI::App& command, Output& output) {
    auto* csv = command.add_flag_callback(
        "--csv", [&] { output.format = Format::csv; }, "write CSV");
    auto* tsv = command.add_flag_callback(
        "--tsv", [&] { output.format = Format::tsv; }, "write TSV (tab separated)");
    auto* json = command.add_flag_callback(
        "--json", [&] { output.format = Format::json; }, "write JSON");
    csv->excludes(tsv)->excludes(json);
    tsv->excludes(json);
    command.add_option("--digits", output.digits, "significant digits of numbers")
        ->check(CLI::Range(1, 17))
        ->capture_default_str();
}

const CLI::Validator row_format_check = CLI::IsMember({"csv", "tsv", "json", "jsonl"});

// The options that say how files are read, on each command that reads some.
void add_input_options(CLI::App& command, InputFormat& input) {
    command
        .add_option_function<std::string>(
            "--input-format", [&](const std::string& format) { input.format = row_format_named(format); },
            "how the file is written: csv, tsv, json, jsonl (an object a line); else its name or beginning "
            "says so")
        ->check(row_format_check);
    command
        .add_option_function<std::string>(
            "--encoding", [&](const std::string& encoding) { input.is_windows_1252 = encoding != "utf-8"; },
            "of CSV and TSV: utf-8 (as if omitted), windows-1252 or latin-1")
        ->check(CLI::IsMember({"utf-8", "windows-1252", "latin-1"}, CLI::ignore_case));
}

void add_json_option(CLI::App& command, Output& output, const std::string& text) {
    command.add_flag_callback(
        "--json", [&] { output.format = Format::json; }, text);
}

// What the command line does not know as an option is an argument; a misspelt option is not.
std::vector<std::string> arguments_of(const CLI::App& command) {
    std::vector<std::string> arguments = command.remaining();
    const auto misspelt = std::find_if(arguments.begin(), arguments.end(),
                                       [](const std::string& word) { return word.starts_with("--"); });
    if (misspelt != arguments.end())
        throw WrongUse("there is no option " + *misspelt + "; see pullsheet " + command.get_name() +
                       " --help");
    return arguments;
}

}  // namespace

int run(std::vector<std::string> arguments, const Streams& streams, const SheetCommand& sheet) {
    SheetRequest sheet_request;
    sheet_request.words = arguments;
    CLI::App app(
        "Engine, fuel and road maths: the functions of the spreadsheet extension on the command line.",
        "pullsheet");
    app.set_version_flag("--version", std::string(catalogue::version()), "print the version");
    app.add_flag_callback(
           "--describe-commands", [&] { throw CLI::CallForVersion(json_line(describe_commands(app)), done); },
           "print the commands and their options as JSON")
        ->group("");  // for the manual page and the completion, not for people
    app.require_subcommand(1);

    Output output;

    std::string family;
    CLI::App* list_command = app.add_subcommand("list", "list the functions, one line each");
    list_command->add_option("FAMILY", family, "only this family, for example AIR");
    add_json_option(*list_command, output, "write all that show says as JSON, one function a line");

    std::string name;
    CLI::App* show_command =
        app.add_subcommand("show", "show the parameters, method, sources and worked example of a function");
    show_command->add_option("NAME", name, "the function, for example AIR.DENSITY")->required();
    add_json_option(*show_command, output, "write JSON");

    std::string unit;
    CLI::App* eval_command = app.add_subcommand("eval", "evaluate one call: pullsheet eval NAME ARG...");
    eval_command->add_option("NAME", name, "the function");
    eval_command->add_option("--unit", unit, "the unit in which the result is wanted");
    add_output_options(*eval_command, output);
    InputFormat input;
    add_input_options(*eval_command, input);
    // The arguments are no option of the parser, so that negative numbers pass.
    eval_command->allow_extras();
    eval_command->footer(
        "ARG: the arguments in the cell's order, numbers or texts with a unit (\"22 psi\"); - leaves one "
        "out;\n"
        "@FILE.csv is a block or a range from a file (CSV, TSV, JSON), @- from standard input.");

    BatchRequest batch_request;
    CLI::App* batch_command = app.add_subcommand("batch", "evaluate one call for each row of a file");
    batch_command->add_option("NAME", name, "the function")->required();
    batch_command
        ->add_option("FILE", batch_request.path,
                     "CSV, TSV, JSON or JSON Lines with the parameters as column names; - is standard input")
        ->required();
    batch_command
        ->add_option("--set", batch_request.set, "NAME=VALUE: a parameter that is the same in every row")
        ->allow_extra_args(false);
    batch_command->add_option("--unit", unit, "the unit in which the result is wanted");
    batch_command->add_flag("--keep-others", batch_request.keep_others,
                            "accept columns that are no parameters, and copy them");
    add_input_options(*batch_command, input);
    auto* batch_format =
        batch_command
            ->add_option_function<std::string>(
                "--format",
                [&](const std::string& format) { batch_request.format = row_format_named(format); },
                "how the output is written: csv, tsv, json, jsonl; else as its name says, or as the input")
            ->check(row_format_check);
    auto* batch_tsv = batch_command->add_flag_callback(
        "--tsv", [&] { input.format = batch_request.format = RowFormat::tsv; },
        "the file is TSV, and so is the output");
    auto* batch_json = batch_command->add_flag_callback(
        "--json", [&] { batch_request.format = RowFormat::json_lines; }, "write JSON, one object a line");
    batch_format->excludes(batch_tsv)->excludes(batch_json);
    batch_tsv->excludes(batch_json);
    batch_command->add_option("--output", batch_request.output,
                              "the file to be written instead of standard output");
    batch_command->add_option("--digits", batch_request.digits, "significant digits of numbers")
        ->check(CLI::Range(1, 17))
        ->capture_default_str();
    batch_command->add_flag("--quiet", batch_request.quiet, "show no progress on the terminal");
    batch_command->footer(
        "A column may name the unit of its numbers: \"temperature [°F]\". An empty field leaves the argument "
        "out;\n"
        "@FILE.csv is a block or a range; in JSON a field may be an array. The input columns are kept; the "
        "result,\n"
        "error and warning are added. A row that fails does not stop the rest.");

    CLI::App* sheet_command = app.add_subcommand(
        "sheet",
        "recompute a sheet with the installed LibreOffice, print a table of it, write it as PDF or CSV");
    sheet_command->add_option("FILE", sheet_request.path, "the sheet (ods, fods, xlsx); it is never written")
        ->required();
    auto* sheet_range = sheet_command->add_option(
        "--range", sheet_request.range, "print these cells: a named range or an address (\"Quote.A6:F18\")");
    sheet_command
        ->add_option("--sheet", sheet_request.sheet,
                     "print the used cells of this sheet; --pdf then writes what is printed of it")
        ->excludes(sheet_range);
    sheet_command
        ->add_option("--set", sheet_request.set,
                     "NAME=VALUE: an input cell, by name or address, before computing; may be repeated")
        ->allow_extra_args(false);
    sheet_command->add_option("--pdf", sheet_request.pdf, "write the document as PDF");
    sheet_command->add_option("--csv", sheet_request.csv, "write the table as CSV");
    sheet_command->add_option("--save", sheet_request.save, "write a recomputed copy (ods, fods, xlsx)");
    auto* sheet_format =
        sheet_command
            ->add_option_function<std::string>(
                "--format",
                [&](const std::string& format) {
                    output.format = format == "csv"   ? Format::csv
                                    : format == "tsv" ? Format::tsv
                                                      : Format::json;
                },
                "how the table is printed: csv, tsv, json; else in columns, as the sheet shows it")
            ->check(CLI::IsMember({"csv", "tsv", "json"}));
    sheet_command
        ->add_flag_callback(
            "--json", [&] { output.format = Format::json; }, "print the table as JSON")
        ->excludes(sheet_format);
    sheet_command->add_option("--digits", output.digits, "significant digits of numbers in CSV, TSV and JSON")
        ->check(CLI::Range(1, 17))
        ->capture_default_str();
    sheet_command->add_flag(
        "--checks", sheet_request.checks_wanted,
        "fail if the sheet has no cell named all_checks_agree; where it has one, it is read anyway");
    sheet_command->add_option("--timeout", sheet_request.timeout, "give up after so many seconds")
        ->check(CLI::Range(1, 86400))
        ->capture_default_str();
    sheet_command->add_option(
        "--extension", sheet_request.extension,
        "the folder with the unpacked extension; else the one beside the program or installed "
        "in LibreOffice");
    sheet_command->footer(
        "LibreOffice runs unseen with a profile of its own that is gone afterwards. Cells that show an error "
        "are\n"
        "said on standard error with the reason. Exit: 0 all is well, 1 a cell shows an error, a check fails "
        "or the\n"
        "time is over, 2 wrong use, 3 a file, LibreOffice or the extension is missing.");

    std::string checked;
    CLI::App* verify_command =
        app.add_subcommand("verify", "compute every published check value and compare");
    verify_command->add_option("NAME", checked, "only this function or family");
    add_output_options(*verify_command, output);

    // Words behind "--" are arguments whatever they look like.
    std::vector<std::string> literal;
    if (const auto mark = std::find(arguments.begin(), arguments.end(), "--");
        mark != arguments.end() && arguments.front() == "eval") {
        literal.assign(mark + 1, arguments.end());
        arguments.erase(mark, arguments.end());
    }
    std::reverse(arguments.begin(), arguments.end());
    try {
        app.parse(arguments);
    } catch (const CLI::ParseError& error) {
        const bool is_help = app.exit(error, streams.out, streams.error) == 0;
        return is_help ? done : wrong_use;
    }

    try {
        int code = done;
        if (*list_command) {
            code = list(family, output, streams);
        } else if (*show_command) {
            code = show(name, output, streams);
        } else if (*eval_command) {
            std::vector<std::string> words = arguments_of(*eval_command);
            if (!name.empty()) words.insert(words.begin(), name);
            words.insert(words.end(), literal.begin(), literal.end());
            if (words.empty()) throw WrongUse("eval needs the name of a function (pullsheet list shows all)");
            code = eval({words.front(), {words.begin() + 1, words.end()}, unit, input}, output, streams);
        } else if (*batch_command) {
            batch_request.name = name;
            batch_request.unit = unit;
            batch_request.input = input;
            code = batch(batch_request, streams);
        } else if (*sheet_command) {
            code = sheet(sheet_request, output, streams);
        } else {
            code = verify(checked, output, streams);
        }
        streams.out.flush();
        if (!streams.out) throw FileNotReadable("the output cannot be written");
        return code;
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
