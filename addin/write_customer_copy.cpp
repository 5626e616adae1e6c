// SPDX-License-Identifier: Apache-2.0
// The command "Customer copy": what is asked, what is refused, what is said in the end.
#include <fmt/format.h>

#include <algorithm>
#include <com/sun/star/container/XNamed.hpp>
#include <com/sun/star/frame/XController.hpp>
#include <com/sun/star/frame/XStorable.hpp>
#include <com/sun/star/sheet/XSpreadsheetView.hpp>
#include <rtl/uri.hxx>

#include "addin/convert.hpp"
#include "addin/customer_copy.hpp"
#include "addin/dialog.hpp"

namespace pullsheet::addin {
namespace {

namespace uno = com::sun::star::uno;

constexpr std::size_t most_errors_named = 12;

std::string joined(const std::vector<std::string>& parts, std::string_view between) {
    std::string text;
    for (const std::string& part : parts) text += (text.empty() ? "" : std::string(between)) + part;
    return text;
}

std::vector<std::string> strings(const uno::Sequence<rtl::OUString>& sequence) {
    std::vector<std::string> result;
    for (sal_Int32 i = 0; i < sequence.getLength(); ++i) result.push_back(to_utf8(sequence[i]));
    return result;
}

/// The name of a file as it is read: the last part of its URL.
std::string file_name(const std::string& url) {
    return to_utf8(rtl::Uri::decode(to_unicode(url.substr(url.rfind('/') + 1)), rtl_UriDecodeWithCharset,
                                    RTL_TEXTENCODING_UTF8));
}

std::string folder_name(const std::string& url) {
    const std::string folder = url.substr(0, url.rfind('/'));
    return to_utf8(rtl::Uri::decode(to_unicode(folder.starts_with("file://") ? folder.substr(7) : folder),
                                    rtl_UriDecodeWithCharset, RTL_TEXTENCODING_UTF8));
}

std::string active_sheet(const Command& command) {
    const uno::Reference<com::sun::star::sheet::XSpreadsheetView> view(command.frame->getController(),
                                                                       uno::UNO_QUERY_THROW);
    return to_utf8(
        uno::Reference<com::sun::star::container::XNamed>(view->getActiveSheet(), uno::UNO_QUERY_THROW)
            ->getName());
}

/// The pages marked for the customer, otherwise the sheet in view: never more than was meant to be shown.
CopyWish usual_wish(const Command& command, const Spreadsheet& document) {
    CopyWish wish;
    wish.sheets = customer_sheets(document);
    if (wish.sheets.empty()) wish.sheets = {active_sheet(command)};
    return wish;
}

std::string with_error_names(const std::string& sentence, const std::vector<std::string>& errors) {
    std::vector<std::string> named(errors.begin(), errors.begin() + static_cast<std::ptrdiff_t>(std::min(
                                                                        errors.size(), most_errors_named)));
    return sentence + " " + joined(named, ", ") + (errors.size() > named.size() ? " …" : "");
}

void check(const Command& command, const Spreadsheet& document, const CopyWish& wish) {
    if (wish.sheets.empty()) throw Refusal(command.words("Choose at least one sheet."));
    if (wish.formats.empty()) throw Refusal(command.words("Choose at least one kind of file."));
    const auto known = sheet_names(document, true);
    for (const std::string& name : wish.sheets)
        if (std::find(known.begin(), known.end(), name) == known.end())
            throw Refusal(fmt::format(fmt::runtime(command.words("There is no sheet {0}.")), name));
    for (const std::string& format : wish.formats)
        if (format != "ods" && format != "xlsx" && format != "pdf")
            throw Refusal(
                fmt::format(fmt::runtime(command.words("A copy cannot be written as {0}.")), format));
}

uno::Any names_of(const std::vector<std::string>& urls) {
    uno::Sequence<rtl::OUString> result(static_cast<sal_Int32>(urls.size()));
    for (std::size_t i = 0; i < urls.size(); ++i) result[static_cast<sal_Int32>(i)] = to_unicode(urls[i]);
    return uno::Any(result);
}

uno::Any without_dialogue(const Command& command, const Spreadsheet& document) {
    CopyWish wish = usual_wish(command, document);
    uno::Sequence<rtl::OUString> given;
    if (value_of(command.arguments, "Sheets") >>= given) wish.sheets = strings(given);
    if (value_of(command.arguments, "Formats") >>= given) wish.formats = strings(given);
    value_of(command.arguments, "OnlyPrinted") >>= wish.only_printed;
    bool with_errors = false;
    value_of(command.arguments, "WithErrors") >>= with_errors;
    check(command, document, wish);
    if (const auto errors = errors_in_copy(document, wish); !errors.empty() && !with_errors)
        throw Refusal(with_error_names(command.words("The copy would show cells in error:"), errors));
    return names_of(write_copy(command, document, wish));
}

/// Asks what is to be copied; false if the user did not want to.
bool ask(const Command& command, const Spreadsheet& document, CopyWish& wish) {
    const auto names = sheet_names(document, false);
    std::vector<bool> chosen;
    for (const std::string& name : names)
        chosen.push_back(std::find(wish.sheets.begin(), wish.sheets.end(), name) != wish.sheets.end());

    const std::string url = copy_url(command.context, document, wish);
    Dialog dialog(command.context, command.window(), command.words("Customer copy"));
    dialog.text(
        command.words("A copy that holds values and no formulas, for people without Pullsheet. This document "
                      "stays as it is."));
    dialog.heading(command.words("Sheets in the copy"));
    const std::size_t sheets = dialog.list(names, chosen);
    dialog.text(customer_sheets(document).empty()
                    ? command.words("The sheet in view is chosen. Check that no sheet with purchase prices "
                                    "or margins is among them.")
                    : command.words("The pages made for the customer are chosen. Other sheets may hold "
                                    "purchase prices and margins."));
    const std::size_t printed = dialog.tick(command.words("Only what is printed: no cells outside the print "
                                                          "ranges, no hidden rows or columns, no comments"),
                                            wish.only_printed);
    dialog.heading(command.words("Files"));
    const auto has = [&](const char* format) {
        return std::find(wish.formats.begin(), wish.formats.end(), format) != wish.formats.end();
    };
    const auto formats =
        dialog.ticks_in_a_row({{"ODS", has("ods")}, {"XLSX", has("xlsx")}, {"PDF", has("pdf")}});
    dialog.text(fmt::format(fmt::runtime(command.words("{0} in {1}")), file_name(url), folder_name(url)));
    if (dialog.run({command.words("Write the copy"), command.words("Cancel")}) != 0) return false;

    wish.sheets.clear();
    const auto now_chosen = dialog.chosen(sheets);
    for (std::size_t i = 0; i < names.size(); ++i)
        if (now_chosen[i]) wish.sheets.push_back(names[i]);
    wish.only_printed = dialog.is_ticked(printed);
    wish.formats.clear();
    const char* endings[] = {"ods", "xlsx", "pdf"};
    for (std::size_t i = 0; i < formats.size(); ++i)
        if (dialog.is_ticked(formats[i])) wish.formats.emplace_back(endings[i]);
    return true;
}

bool goes_with_errors(const Command& command, const std::vector<std::string>& errors) {
    Dialog dialog(command.context, command.window(), command.words("Customer copy"));
    dialog.heading(command.words("The copy would show cells in error:"));
    dialog.passage(joined(errors, "\n"), 6);
    dialog.text(command.words("Select such a cell and choose Why this error? to learn the reason."));
    return dialog.run({command.words("Cancel"), command.words("Write it all the same")}) == 1;
}

}  // namespace

uno::Any write_customer_copy(const Command& command) {
    const auto document = command.document();
    if (!uno::Reference<com::sun::star::frame::XStorable>(document, uno::UNO_QUERY_THROW)->hasLocation())
        throw Refusal(command.words("Save the document first: the copy is written beside it."));
    if (command.is_silent()) return without_dialogue(command, document);

    CopyWish wish = usual_wish(command, document);
    if (!ask(command, document, wish)) return {};
    check(command, document, wish);
    if (const auto errors = errors_in_copy(document, wish);
        !errors.empty() && !goes_with_errors(command, errors))
        return {};
    const auto written = write_copy(command, document, wish);
    std::vector<std::string> names;
    for (const std::string& url : written) names.push_back(file_name(url));
    Dialog done(command.context, command.window(), command.words("Customer copy"));
    done.text(fmt::format(fmt::runtime(command.words("Written in {0}:")), folder_name(written.front())));
    done.heading(joined(names, "\n"));
    done.text(command.words("Look through the copy before it goes to the customer."));
    done.run({command.words("Close")});
    return names_of(written);
}

}  // namespace pullsheet::addin
