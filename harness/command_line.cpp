// SPDX-License-Identifier: Apache-2.0
#include "harness/command_line.hpp"

#include <CLI/CLI.hpp>
#include <algorithm>

#include "core/catalogue/catalogue.hpp"
#include "harness/batch.hpp"
#include "harness/eval.hpp"
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

int run(std::vector<std::string> arguments, const Streams& streams) {
    CLI::App app(
        "Engine, fuel and road maths: the functions of the spreadsheet extension on the command line.",
        "pullsheet");
    app.set_version_flag("--version", std::string(catalogue::version()), "print the version");
    app.require_subcommand(1);

    Output output;

    std::string family;
    CLI::App* list_command = app.add_subcommand("list", "list the functions, one line each");
    list_command->add_option("FAMILY", family, "only this family, for example AIR");

    std::string name;
    CLI::App* show_command =
        app.add_subcommand("show", "show the parameters, method, sources and worked example of a function");
    show_command->add_option("NAME", name, "the function, for example AIR.DENSITY")->required();

    std::string unit;
    CLI::App* eval_command = app.add_subcommand("eval", "evaluate one call: pullsheet eval NAME ARG...");
    eval_command->add_option("NAME", name, "the function");
    eval_command->add_option("--unit", unit, "the unit in which the result is wanted");
    add_output_options(*eval_command, output);
    // The arguments are no option of the parser, so that negative numbers pass.
    eval_command->allow_extras();
    eval_command->footer(
        "ARG: the arguments in the cell's order, numbers or texts with a unit (\"22 psi\"); - leaves one "
        "out;\n"
        "@FILE.csv is a block or a range from a file, @- from standard input.");

    BatchRequest batch_request;
    bool input_is_tsv = false;
    CLI::App* batch_command = app.add_subcommand("batch", "evaluate one call for each row of a file");
    batch_command->add_option("NAME", name, "the function")->required();
    batch_command
        ->add_option("FILE", batch_request.path,
                     "CSV or TSV with the parameters as column names; - is standard input")
        ->required();
    batch_command->add_option("--set", batch_request.set,
                              "NAME=VALUE: a parameter that is the same in every row");
    batch_command->add_option("--unit", unit, "the unit in which the result is wanted");
    batch_command->add_flag("--keep-others", batch_request.keep_others,
                            "accept columns that are no parameters, and copy them");
    batch_command->add_flag("--tsv", input_is_tsv, "the file is TSV, and so is the output");
    batch_command->add_flag_callback(
        "--json", [&] { output.format = Format::json; }, "write JSON, one object a line");
    batch_command->add_option("--digits", output.digits, "significant digits of numbers")
        ->check(CLI::Range(1, 17))
        ->capture_default_str();
    batch_command->footer(
        "A column may name the unit of its numbers: \"temperature [°F]\". An empty field leaves the argument "
        "out;\n"
        "@FILE.csv is a block or a range. The input columns are kept; the result, error and warning are "
        "added.");

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
            code = list(family, streams);
        } else if (*show_command) {
            code = show(name, streams);
        } else if (*eval_command) {
            std::vector<std::string> words = arguments_of(*eval_command);
            if (!name.empty()) words.insert(words.begin(), name);
            words.insert(words.end(), literal.begin(), literal.end());
            if (words.empty()) throw WrongUse("eval needs the name of a function (pullsheet list shows all)");
            code = eval({words.front(), {words.begin() + 1, words.end()}, unit}, output, streams);
        } else if (*batch_command) {
            batch_request.name = name;
            batch_request.unit = unit;
            batch_request.is_tsv = input_is_tsv;
            code = batch(batch_request, output, streams);
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
