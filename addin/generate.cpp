// SPDX-License-Identifier: Apache-2.0
// Generates from the catalogue the description of its functions for Calc: the interface (IDL), names and help
// (CalcAddIns.xcu), and the methods of the component (functions.inc).
#include <fmt/format.h>
#include <fmt/ostream.h>

#include <filesystem>
#include <fstream>
#include <iostream>
#include <stdexcept>
#include <string>
#include <utility>
#include <vector>

#include "addin/menu_entries.hpp"
#include "core/catalogue/catalogue.hpp"
#include "core/catalogue/describe.hpp"

namespace {

using namespace pullsheet;
using namespace pullsheet::catalogue;

// The name of a parameter in the interface: the third, dew_point, is cDewPoint. The letter keeps the order
// where the office sorts by name, and keeps clear of the reserved words of IDL and C++.
std::string interface_name(const Function& function, const Parameter& parameter) {
    std::string name(1, static_cast<char>('a' + (&parameter - function.parameters.data())));
    bool begins_word = true;
    for (const char c : parameter.name) {
        if (c != '_') name += begins_word && c >= 'a' && c <= 'z' ? static_cast<char>(c - 'a' + 'A') : c;
        begins_word = c == '_';
    }
    return name;
}

std::string interface_type(const Parameter& parameter) {
    switch (parameter.kind) {
        case Kind::list: return "sequence<any>";
        case Kind::cell: return "com::sun::star::table::XCellRange";
        default: return "any";
    }
}

std::string method_type(const Parameter& parameter) {
    switch (parameter.kind) {
        case Kind::list: return "Further";
        case Kind::cell: return "CellRange";
        default: return "Any";
    }
}

bool looks_at_a_cell(const Function& function) {
    for (const Parameter& parameter : function.parameters)
        if (parameter.kind == Kind::cell) return true;
    return false;
}

void write_interface(std::ostream& out) {
    fmt::print(
        out,
        "// Generated from the catalogue.\n"
        "#include <com/sun/star/beans/XPropertySet.idl>\n#include <com/sun/star/table/XCellRange.idl>\n\n"
        "module pullsheet {{\n\ninterface XFunctions {{\n");
    for (const Function& function : functions()) {
        std::string parameters;
        // Calc supplies this argument itself and does not show it.
        if (looks_at_a_cell(function)) parameters = "[in] com::sun::star::beans::XPropertySet document";
        for (const Parameter& parameter : function.parameters)
            parameters += fmt::format("{}[in] {} {}", parameters.empty() ? "" : ", ",
                                      interface_type(parameter), interface_name(function, parameter));
        fmt::print(out, "    any {}({});\n", function.identifier(), parameters);
    }
    fmt::print(out, "}};\n\nservice Functions : XFunctions;\n\n}};\n");
}

void write_methods(std::ostream& out) {
    fmt::print(out, "// Generated from the catalogue.\n");
    for (std::size_t i = 0; i < functions().size(); ++i) {
        const Function& function = functions()[i];
        std::string parameters;
        std::string arguments;
        if (looks_at_a_cell(function)) {
            parameters = "const Document& document";
            arguments = "document";
        }
        std::string further;
        for (const Parameter& parameter : function.parameters) {
            const std::string name = interface_name(function, parameter);
            parameters +=
                fmt::format("{}const {}& {}", parameters.empty() ? "" : ", ", method_type(parameter), name);
            if (parameter.kind == Kind::list)
                further = ", " + name;
            else
                arguments += fmt::format("{}{}", arguments.empty() ? "" : ", ", name);
        }
        std::string call;
        if (looks_at_a_cell(function))
            call = fmt::format("answer_cell({})", arguments);
        else
            call = fmt::format("{}({}{}{}{})", further.empty() ? "answer" : "answer_list", i, further,
                               arguments.empty() ? "" : ", ", arguments);
        fmt::print(out, "Any SAL_CALL {}({}) override {{ return {}; }}\n", function.identifier(), parameters,
                   call);
    }
}

std::string escaped(std::string_view text) {
    std::string result;
    for (const char c : text) {
        switch (c) {
            case '&': result += "&amp;"; break;
            case '<': result += "&lt;"; break;
            case '>': result += "&gt;"; break;
            case '"': result += "&quot;"; break;
            default: result += c;
        }
    }
    return result;
}

// A text in both languages; the second only where it differs.
template <class Write>
std::string property(std::string_view name, Write write) {
    const std::string english = write(Language::english);
    const std::string german = write(Language::german);
    std::string result =
        fmt::format("<prop oor:name=\"{}\"><value xml:lang=\"en-US\">{}</value>", name, escaped(english));
    if (german != english) result += fmt::format("<value xml:lang=\"de\">{}</value>", escaped(german));
    return result + "</prop>\n";
}

// "Density of moist air. Result: density [kg/m³]."
std::string description(const Function& function, Language language) {
    const Result& result = function.result;
    std::string text =
        fmt::format("{}. {}: {}{}", translated(language, function.summary), translated(language, "Result"),
                    translated(language, result.meaning), in_brackets(result.unit));
    if (result.kind == ResultKind::table) {
        std::string columns;
        for (const Column& column : result.columns)
            columns +=
                fmt::format("{}{}{}", columns.empty() ? "" : ", ", column.name, in_brackets(column.unit));
        text += fmt::format(" ({}: {}; {})", translated(language, "columns"), columns,
                            translated(language, "enter as an array formula"));
    }
    return text + ".";
}

// "temperature of the air [°C]; allowed: -50 to 60 °C; omitted: 15 °C". The function wizard shows
// "(optional)" for every parameter of the type any, so the description of a required one says that it is
// required, and why.
std::string description(const Function& function, const Parameter& parameter, Language language) {
    Conditions said = conditions(function, parameter, language);
    const bool is_needed = std::exchange(said.required, false);
    std::string text(translated(language, parameter.meaning));
    text.append(in_brackets(parameter.unit));
    if (is_needed)
        text.append("; ").append(
            translated(language, "required, although Calc marks every argument of an extension as optional"));
    if (const std::string more = in_one_line(said, language, is_needed); !more.empty())
        text.append("; ").append(more);
    return text;
}

void write_configuration(std::ostream& out) {
    fmt::print(out,
               "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n"
               "<oor:component-data xmlns:oor=\"http://openoffice.org/2001/registry\" "
               "xmlns:xs=\"http://www.w3.org/2001/XMLSchema\" oor:name=\"CalcAddIns\" "
               "oor:package=\"org.openoffice.Office\">\n"
               "<node oor:name=\"AddInInfo\">\n<node oor:name=\"pullsheet.Functions\" oor:op=\"replace\">\n"
               "<node oor:name=\"AddInFunctions\">\n");
    for (const Function& function : functions()) {
        // The displayed name is the same in every language, so that formulas can be exchanged between users.
        const auto name = [&](Language) { return std::string(function.name.view()); };
        fmt::print(
            out, "<node oor:name=\"{}\" oor:op=\"replace\">\n{}{}{}", function.identifier(),
            property("DisplayName", name),
            property("Description", [&](Language language) { return description(function, language); }),
            property("CompatibilityName", name));
        fmt::print(
            out,
            "<prop oor:name=\"Category\"><value>Add-In</value></prop>\n<node oor:name=\"Parameters\">\n");
        for (const Parameter& parameter : function.parameters)
            fmt::print(out, "<node oor:name=\"{}\" oor:op=\"replace\">\n{}{}</node>\n",
                       interface_name(function, parameter),
                       property("DisplayName", [&](Language) { return std::string(parameter.name); }),
                       property("Description", [&](Language language) {
                           return description(function, parameter, language);
                       }));
        fmt::print(out, "</node>\n</node>\n");
    }
    fmt::print(out, "</node>\n</node>\n</node>\n</oor:component-data>\n");
}

// The menu, as the office merges it into the one of Calc.
void write_menu_entry(std::ostream& out, const addin::MenuEntry& english, const addin::MenuEntry& german,
                      int& number) {
    fmt::print(out, "<node oor:name=\"entry{:02}\" oor:op=\"replace\">\n", ++number);
    if (english.title.empty()) {
        fmt::print(out, "<prop oor:name=\"URL\"><value>private:separator</value></prop>\n</node>\n");
        return;
    }
    fmt::print(out, "{}", property("Title", [&](Language language) {
                   return language == Language::german ? german.title : english.title;
               }));
    if (!english.command.empty())
        fmt::print(out,
                   "<prop oor:name=\"URL\"><value>{}</value></prop>\n<prop "
                   "oor:name=\"Target\"><value>_self</value></prop>\n",
                   escaped(english.command));
    if (!english.below.empty()) {
        fmt::print(out, "<node oor:name=\"Submenu\">\n");
        for (std::size_t i = 0; i < english.below.size(); ++i)
            write_menu_entry(out, english.below[i], german.below.at(i), number);
        fmt::print(out, "</node>\n");
    }
    fmt::print(out, "</node>\n");
}

void write_menu(std::ostream& out) {
    const auto english = addin::menu_entries(Language::english);
    const auto german = addin::menu_entries(Language::german);
    fmt::print(out,
               "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n"
               "<oor:component-data xmlns:oor=\"http://openoffice.org/2001/registry\" "
               "xmlns:xs=\"http://www.w3.org/2001/XMLSchema\" oor:name=\"Addons\" "
               "oor:package=\"org.openoffice.Office\">\n"
               "<node oor:name=\"AddonUI\">\n<node oor:name=\"OfficeMenuBar\">\n"
               "<node oor:name=\"pullsheet.menu\" oor:op=\"replace\">\n"
               "<prop oor:name=\"Title\"><value xml:lang=\"en-US\">Pullsheet</value></prop>\n"
               "<prop oor:name=\"Context\"><value>com.sun.star.sheet.SpreadsheetDocument</value></prop>\n"
               "<node oor:name=\"Submenu\">\n");
    int number = 0;
    for (std::size_t i = 0; i < english.size(); ++i) write_menu_entry(out, english[i], german.at(i), number);
    fmt::print(out, "</node>\n</node>\n</node>\n</node>\n</oor:component-data>\n");
}

void write_file(const std::filesystem::path& path, void (*write)(std::ostream&)) {
    std::ofstream out(path);
    write(out);
    if (!out.flush()) throw std::runtime_error("cannot write " + path.string());
}

}  // namespace

int main(int count, char** arguments) {
    try {
        if (count != 2) throw std::runtime_error("usage: generate FOLDER");
        const std::filesystem::path folder = arguments[1];
        write_file(folder / "Functions.idl", write_interface);
        write_file(folder / "functions.inc", write_methods);
        write_file(folder / "CalcAddIns.xcu", write_configuration);
        write_file(folder / "Addons.xcu", write_menu);
        return 0;
    } catch (const std::exception& error) {
        std::cerr << error.what() << '\n';
        return 1;
    }
}
