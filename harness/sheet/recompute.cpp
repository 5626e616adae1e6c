// SPDX-License-Identifier: Apache-2.0
#include "harness/sheet/recompute.hpp"

#include <algorithm>
#include <cerrno>
#include <com/sun/star/lang/DisposedException.hpp>
#include <cstring>
#include <filesystem>
#include <nlohmann/json.hpp>
#include <sstream>

#include "addin/office/text.hpp"
#include "harness/new_file.hpp"
#include "harness/sheet/document.hpp"
#include "harness/sheet/office.hpp"

namespace pullsheet::harness {
namespace {

using catalogue::Language;
namespace fs = std::filesystem;

/// So many error cells are said with their reason.
constexpr std::size_t most_explained = 20;

// What can be refused before an office is started.
void refuse_wrong_use(const SheetRequest& request, Language language) {
    std::error_code error;
    if (!request.save.empty()) refuse_other_endings(request.save, language);
    for (const std::string& output : {request.pdf, request.csv, request.save}) {
        if (output.empty()) continue;
        if (is_one_file(output, request.path))
            throw WrongUse(say(language,
                               "{file} is the sheet itself, which is never written; name another file",
                               {{"file", output}}));
        const fs::path folder = fs::absolute(output).parent_path();
        if (!fs::is_directory(folder, error))
            throw FileNotReadable(say(language, "{file} cannot be written: there is no folder {folder}",
                                      {{"file", output}, {"folder", folder.string()}}));
    }
    const std::pair<std::string_view, const std::string&> outputs[] = {
        {"--pdf", request.pdf}, {"--csv", request.csv}, {"--save", request.save}};
    for (const auto& one : outputs)
        for (const auto& other : outputs)
            if (&one < &other && !one.second.empty() && !other.second.empty() &&
                is_one_file(one.second, other.second))
                throw WrongUse(say(language, "{one} and {other} name the same file: {file}",
                                   {{"one", std::string(one.first)},
                                    {"other", std::string(other.first)},
                                    {"file", other.second}}));
    for (const std::string& assignment : request.set) name_and_value(assignment, language);
    if (!fs::exists(request.path, error))
        throw FileNotReadable(say(language, "{file} cannot be read: {reason}",
                                  {{"file", request.path},
                                   {"reason", std::string(translated(language, "there is no such file"))}}));
}

// One line a row, columns that show nothing left out.
void print_shown(const SheetTable& table, std::ostream& out) {
    std::vector<std::size_t> kept;
    for (std::size_t c = 0; c < table.is_number.size(); ++c)
        if (std::any_of(table.shown.begin(), table.shown.end(),
                        [&](const Record& row) { return !row[c].empty(); }))
            kept.push_back(c);
    std::vector<Record> rows;
    std::vector<bool> to_right;
    for (const std::size_t c : kept) to_right.push_back(table.is_number[c]);
    for (const Record& row : table.shown) {
        rows.emplace_back();
        for (const std::size_t c : kept) {
            std::string text = row[c];
            std::replace(text.begin(), text.end(), '\n', ' ');
            rows.back().push_back(std::move(text));
        }
    }
    write_columns(out, rows, to_right);
}

void write_csv(const SheetTable& table, const std::string& path, int digits, Language language) {
    std::ostringstream text;
    write_table(text, table.values, {Format::csv, digits});
    NewFile file(path, language);
    file.write(text.str());
    file.put_in_place();
}

void print_json(const SheetTable& table, const std::vector<ErrorCell>& errors, std::optional<bool> checks,
                int digits, std::ostream& out) {
    nlohmann::ordered_json json;
    json["range"] = table.address;
    json["rows"] = nlohmann::ordered_json::array();
    for (std::size_t r = 0; r < table.values.rows(); ++r) {
        auto row = nlohmann::ordered_json::array();
        for (std::size_t c = 0; c < table.values.columns(); ++c)
            row.push_back(cell_json(table.values.at(r, c), digits));
        json["rows"].push_back(std::move(row));
    }
    json["errors"] = nlohmann::ordered_json::array();
    for (const ErrorCell& error : errors)
        json["errors"].push_back({{"cell", error.address}, {"shown", error.code}, {"why", error.sentence}});
    json["all_checks_agree"] = checks ? nlohmann::ordered_json(*checks) : nlohmann::ordered_json();
    out << json_line(json) << '\n';
}

int recompute_in(Office& office, const SheetRequest& request, const Output& output, const Streams& streams) {
    const Language language = streams.language;
    Document document(office.context(), request.path, language);
    // A wrong name is found before anything is computed.
    const bool prints = !request.range.empty() || !request.sheet.empty() || !request.csv.empty() ||
                        output.format != Format::people ||
                        (request.pdf.empty() && request.save.empty() && !request.customer_copy);
    Document::Cells cells;
    if (prints)
        cells = request.range.empty() ? document.used_cells(request.sheet) : document.cells(request.range);
    for (const std::string& assignment : request.set) document.set(assignment);
    if (document.is_empty())
        throw FileNotReadable(say(language, "{file}: no cell holds anything", {{"file", request.path}}));
    document.compute();

    std::optional<SheetTable> table;
    if (prints) table = document.table(cells);
    const auto errors = document.errors(most_explained);
    std::string said;
    const auto checks = document.checks_agree(said);
    if (request.checks_wanted && !checks)
        throw WrongUse(
            say(language, "{file}: the sheet has no cell named all_checks_agree", {{"file", request.path}}));

    if (!request.csv.empty()) write_csv(*table, request.csv, output.digits, language);
    // What goes out of the shop waits for the checks.
    const bool may_go_out = checks.value_or(true) || request.despite_checks;
    const bool is_to_go_out = !request.pdf.empty() || request.customer_copy;
    if (!request.pdf.empty() && may_go_out) document.write_pdf(request.pdf, request.sheet);
    std::string refusal;
    std::vector<std::string> copies;
    if (request.customer_copy && may_go_out)
        copies = document.customer_copy(request.sheet, request.despite_checks, refusal);
    if (!request.save.empty()) document.save(request.save);
    if (output.format == Format::json) {
        print_json(*table, errors, checks, output.digits, streams.out);
    } else if (output.format != Format::people) {
        write_table(streams.out, table->values, output);
    } else if (table && (request.csv.empty() || !request.range.empty() || !request.sheet.empty())) {
        print_shown(*table, streams.out);
    }
    streams.out.flush();

    for (std::size_t i = 0; i < std::min(errors.size(), most_explained); ++i)
        streams.error << request.path << ", " << errors[i].address << " (" << errors[i].code << ")"
                      << (errors[i].sentence.empty() ? "" : ": " + errors[i].sentence) << '\n';
    if (errors.size() > most_explained)
        streams.error << translated(language, "further cells that show an error are not listed here") << '\n';
    if (errors.size() == 1)
        streams.error << translated(language, "1 cell shows an error") << '\n';
    else if (!errors.empty())
        streams.error << say(language, "{count} cells show an error",
                             {{"count", std::to_string(errors.size())}})
                      << '\n';
    for (const std::string& copy : copies)
        streams.error << say(language, "written: {file}", {{"file", copy}}) << '\n';
    if (!refusal.empty())
        streams.error << say(language, "{file}: no customer copy was written: {reason}",
                             {{"file", request.path}, {"reason", refusal}})
                      << '\n';
    if (!checks.value_or(true))
        for (const std::string& check : document.failed_checks()) streams.error << check << '\n';
    if (is_to_go_out && !may_go_out)
        streams.error << translated(
                             language,
                             "no PDF and no customer copy was written; --despite-checks writes them all "
                             "the same")
                      << '\n';
    if (checks) {
        if (*checks)
            streams.error << translated(language, "all checks of the sheet agree") << '\n';
        else
            streams.error << say(language,
                                 "{file}: the checks of the sheet do not agree (all_checks_agree shows "
                                 "\"{shown}\")",
                                 {{"file", request.path}, {"shown", said}})
                          << '\n';
    }
    if (!refusal.empty()) return some_failed;
    return errors.empty() && checks.value_or(true) ? done : some_failed;
}

}  // namespace

int recompute(const SheetRequest& request, const Output& output, const Streams& streams) {
    const Language language = streams.language;
    refuse_wrong_use(request, language);
    const std::string folder = office_folder();
    if (folder.empty())
        throw FileNotReadable(say(language, "LibreOffice is missing: install libreoffice-calc", {}));
    const fs::path extension = find_extension(folder, request.extension, language);
    try {
        Office office(
            folder, extension, std::chrono::seconds(request.timeout),
            say(language,
                "{file}: LibreOffice was not done within {timeout} s and was ended; --timeout gives "
                "it more",
                {{"file", request.path}, {"timeout", std::to_string(request.timeout)}}),
            language);
        return recompute_in(office, request, output, streams);
    } catch (const com::sun::star::lang::DisposedException&) {
        throw FileNotReadable(
            say(language, "{file}: LibreOffice ended while it was at work", {{"file", request.path}}));
    } catch (const com::sun::star::uno::Exception& error) {
        throw FileNotReadable(say(language, "{file}: LibreOffice says: {reason}",
                                  {{"file", request.path}, {"reason", office::to_utf8(error.Message)}}));
    }
}

}  // namespace pullsheet::harness
