// SPDX-License-Identifier: Apache-2.0
#include "harness/sheet/recompute.hpp"

#include <algorithm>
#include <cerrno>
#include <com/sun/star/lang/DisposedException.hpp>
#include <cstring>
#include <filesystem>
#include <fstream>
#include <nlohmann/json.hpp>

#include "harness/sheet/document.hpp"
#include "harness/sheet/office.hpp"
#include "harness/sheet/text.hpp"

namespace pullsheet::harness {
namespace {

namespace fs = std::filesystem;

/// So many error cells are said with their reason.
constexpr std::size_t most_explained = 20;

// What can be refused before an office is started.
void refuse_wrong_use(const SheetRequest& request) {
    std::error_code error;
    if (!request.save.empty()) filter_of(request.save);
    for (const std::string& output : {request.pdf, request.csv, request.save}) {
        if (output.empty()) continue;
        if (fs::equivalent(output, request.path, error))
            throw WrongUse(output + " is the sheet itself, which is never written; name another file");
        const fs::path folder = fs::absolute(output).parent_path();
        if (!fs::is_directory(folder, error))
            throw FileNotReadable(output + " cannot be written: there is no folder " + folder.string());
    }
    for (const std::string& assignment : request.set)
        if (assignment.find('=') == std::string::npos)
            throw WrongUse("--set takes NAME=VALUE, not \"" + assignment + "\"");
    if (!fs::exists(request.path, error))
        throw FileNotReadable(request.path + " cannot be read: there is no such file");
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

void write_csv(const SheetTable& table, const std::string& path, int digits) {
    errno = 0;
    std::ofstream file(path, std::ios::binary);
    if (file) write_table(file, table.values, {Format::csv, digits});
    file.close();
    if (!file)
        throw FileNotReadable(path + " cannot be written" +
                              (errno ? std::string(": ") + std::strerror(errno) : std::string()));
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
    Document document(office.context(), request.path);
    // A wrong name is found before anything is computed.
    const bool prints = !request.range.empty() || !request.sheet.empty() || !request.csv.empty() ||
                        output.format != Format::people || (request.pdf.empty() && request.save.empty());
    Document::Cells cells;
    if (prints)
        cells = request.range.empty() ? document.used_cells(request.sheet) : document.cells(request.range);
    for (const std::string& assignment : request.set) document.set(assignment);
    document.compute();

    std::optional<SheetTable> table;
    if (prints) table = document.table(cells);
    const auto errors = document.errors(most_explained);
    std::string said;
    const auto checks = document.checks_agree(said);
    if (request.checks_wanted && !checks)
        throw WrongUse(request.path + ": the sheet has no cell named all_checks_agree");

    if (!request.csv.empty()) write_csv(*table, request.csv, output.digits);
    if (!request.pdf.empty()) document.write_pdf(request.pdf, request.sheet);
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
        streams.error << "further cells that show an error are not listed here\n";
    if (!errors.empty())
        streams.error << errors.size() << (errors.size() == 1 ? " cell shows" : " cells show")
                      << " an error\n";
    if (checks) {
        if (*checks)
            streams.error << "all checks of the sheet agree\n";
        else
            streams.error << request.path
                          << ": the checks of the sheet do not agree (all_checks_agree shows \"" << said
                          << "\")\n";
    }
    return errors.empty() && checks.value_or(true) ? done : some_failed;
}

}  // namespace

int recompute(const SheetRequest& request, const Output& output, const Streams& streams) {
    refuse_wrong_use(request);
    const std::string folder = office_folder();
    if (folder.empty()) throw FileNotReadable("LibreOffice is missing: install libreoffice-calc");
    const fs::path extension = find_extension(folder, request.extension);
    try {
        Office office(folder, extension, std::chrono::seconds(request.timeout),
                      request.path + ": LibreOffice was not done within " + std::to_string(request.timeout) +
                          " s and was ended; --timeout gives it more");
        return recompute_in(office, request, output, streams);
    } catch (const com::sun::star::lang::DisposedException&) {
        throw FileNotReadable(request.path + ": LibreOffice ended while it was at work");
    } catch (const com::sun::star::uno::Exception& error) {
        throw FileNotReadable(request.path + ": LibreOffice says: " + to_utf8(error.Message));
    }
}

}  // namespace pullsheet::harness
