// SPDX-License-Identifier: Apache-2.0
// The command "Customer copy": its dialogue, its refusals and its final message.
#include "addin/command.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <com/sun/star/container/XNamed.hpp>
#include <com/sun/star/frame/XController.hpp>
#include <com/sun/star/frame/XStorable.hpp>
#include <com/sun/star/sheet/XSpreadsheet.hpp>
#include <com/sun/star/sheet/XSpreadsheetView.hpp>
#include <rtl/uri.hxx>

#include "addin/convert.hpp"
#include "addin/customer_copy/copy.hpp"
#include "addin/customer_copy/files.hpp"
#include "addin/dialog.hpp"

namespace pullsheet::addin {
namespace {

namespace uno = com::sun::star::uno;
using customer_copy::Copy;
using customer_copy::LeftOut;
using customer_copy::NotWritten;
using customer_copy::Original;

constexpr std::size_t most_named = 12;

/// The selection for the customer.
struct Wish {
    std::vector<std::string> sheets;
    std::vector<std::string> formats = {"ods", "xlsx", "pdf"};
    std::string password;  ///< of the copies; empty for none
};

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

uno::Any to_sequence(const std::vector<std::string>& texts) {
    uno::Sequence<rtl::OUString> result(static_cast<sal_Int32>(texts.size()));
    for (std::size_t i = 0; i < texts.size(); ++i) result[static_cast<sal_Int32>(i)] = to_unicode(texts[i]);
    return uno::Any(result);
}

/// The display name of a file: the last part of its URL.
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
Wish usual_wish(const Command& command, const Original& original) {
    Wish wish;
    wish.sheets = original.marked_sheets();
    if (wish.sheets.empty()) wish.sheets = {active_sheet(command)};
    return wish;
}

std::string with_names(const std::string& sentence, const std::vector<std::string>& names,
                       std::string_view between) {
    const std::vector<std::string> named(
        names.begin(), names.begin() + static_cast<std::ptrdiff_t>(std::min(names.size(), most_named)));
    return sentence + " " + joined(named, between) + (names.size() > named.size() ? " …" : "");
}

std::string in_words(const Command& command, const LeftOut& part) {
    const auto sentence = [&] {
        switch (part.what) {
            case LeftOut::What::control: return command.words("a control on {0}");
            case LeftOut::What::object: return command.words("an embedded document or object on {0}");
            case LeftOut::What::picture: return command.words("a picture on {0} that cannot be read");
            case LeftOut::What::comments: return command.words("the comments that {0} prints");
            case LeftOut::What::scale: return command.words("colour scales, data bars or icons on {0}");
            case LeftOut::What::drawing_on_chart: return command.words("what is drawn on a chart of {0}");
            case LeftOut::What::cut:
                return command.words(
                    "a drawing, picture or chart of {0} that the edge of the print range cuts");
            case LeftOut::What::text:
                return command.words("the text of {0}, which stands beside the print range and runs into it");
            case LeftOut::What::sparkline: return command.words("sparklines on {0}");
        }
        return std::string();
    };
    return fmt::format(fmt::runtime(sentence()), part.place);
}

std::vector<std::string> in_words(const Command& command, const std::vector<LeftOut>& parts) {
    std::vector<std::string> words;
    for (const LeftOut& part : parts) words.push_back(in_words(command, part));
    return words;
}

void check(const Command& command, const Original& original, const Wish& wish) {
    if (wish.sheets.empty()) throw Refusal(command.words("Choose at least one sheet."));
    if (wish.formats.empty()) throw Refusal(command.words("Choose at least one kind of file."));
    const auto visible = original.sheets();
    for (const std::string& name : wish.sheets) {
        if (!original.has_sheet(name))
            throw Refusal(fmt::format(fmt::runtime(command.words("There is no sheet {0}.")), name));
        if (std::find(visible.begin(), visible.end(), name) == visible.end())
            throw Refusal(fmt::format(
                fmt::runtime(command.words("The sheet {0} is hidden and has no page; show it first.")),
                name));
    }
    for (const std::string& format : wish.formats)
        if (format != "ods" && format != "xlsx" && format != "pdf")
            throw Refusal(
                fmt::format(fmt::runtime(command.words("A copy cannot be written as {0}.")), format));
    for (const std::string& name : original.protected_by_password(wish.sheets))
        throw Refusal(fmt::format(
            fmt::runtime(command.words("{0} is protected by a password; take the protection off first.")),
            name.empty() ? command.words("The document") : name));
}

std::string why_not_written(const Command& command, const std::string& folder, const NotWritten& failure) {
    switch (failure.why) {
        case NotWritten::Why::write_protected:
            return fmt::format(
                fmt::runtime(command.words("The folder {0} is write-protected; no copy was written.")),
                folder);
        case NotWritten::Why::no_space:
            return fmt::format(fmt::runtime(command.words("The disk is full; no copy was written in {0}.")),
                               folder);
        case NotWritten::Why::exists:
            return fmt::format(
                fmt::runtime(command.words(
                    "Meanwhile {0} has a file with the name of the copy; no copy was written. Try again.")),
                folder);
        case NotWritten::Why::other: break;
    }
    return fmt::format(fmt::runtime(command.words("No copy could be written in {0} ({1}).")), folder,
                       failure.what());
}

uno::Any write(const Command& command, const Original& original, const Copy& copy, const Wish& wish) {
    const std::string url = original.free_url(wish.formats);
    try {
        return to_sequence(copy.write(url, wish.formats, wish.password));
    } catch (const NotWritten& failure) {
        throw Refusal(why_not_written(command, folder_name(url), failure));
    } catch (const uno::Exception& failure) {
        throw Refusal(fmt::format(fmt::runtime(command.words("No copy could be written in {0} ({1}).")),
                                  folder_name(url), to_utf8(failure.Message)));
    }
}

bool is_set(const Command& command, std::string_view name) {
    bool set = false;
    value_of(command.arguments, name) >>= set;
    return set;
}

uno::Any without_dialogue(const Command& command, const Original& original) {
    Wish wish = usual_wish(command, original);
    uno::Sequence<rtl::OUString> given;
    rtl::OUString password;
    if (value_of(command.arguments, "Sheets") >>= given) wish.sheets = strings(given);
    if (value_of(command.arguments, "Formats") >>= given) wish.formats = strings(given);
    if (value_of(command.arguments, "Password") >>= password) wish.password = to_utf8(password);
    check(command, original, wish);
    if (original.has_password() && wish.password.empty())
        throw Refusal(command.words("The document has a password; give one for the copies, too."));
    if (const auto failed = original.failed_checks(); !failed.empty() && !is_set(command, "WithFailedChecks"))
        throw Refusal(with_names(command.words("The checks of the document say no:"), failed, "; "));
    const Copy copy(original, wish.sheets);
    if (!copy.errors().empty() && !is_set(command, "WithErrors"))
        throw Refusal(with_names(command.words("The copy would show cells in error:"), copy.errors(), ", "));
    if (!copy.left_out().empty() && !is_set(command, "WithoutParts"))
        throw Refusal(
            with_names(command.words("The copy cannot hold:"), in_words(command, copy.left_out()), "; "));
    return write(command, original, copy, wish);
}

/// Asks what to copy; false if the user cancelled.
bool ask(const Command& command, const Original& original, Wish& wish) {
    const auto names = original.sheets();
    std::vector<bool> chosen;
    for (const std::string& name : names)
        chosen.push_back(std::find(wish.sheets.begin(), wish.sheets.end(), name) != wish.sheets.end());

    const std::string url = original.free_url(wish.formats);
    Dialog dialog(command.context, command.window(), command.words("Customer copy"));
    dialog.text(command.words(
        "A copy of the printed pages for people without Pullsheet: what is seen on them, and nothing "
        "else. This document stays as it is."));
    dialog.heading(command.words("Sheets in the copy"));
    const std::size_t sheets = dialog.list(names, chosen);
    dialog.text(original.marked_sheets().empty()
                    ? command.words("The sheet in view is chosen. Check that no sheet with purchase prices "
                                    "or margins is among them.")
                    : command.words("The pages made for the customer are chosen. Other sheets may hold "
                                    "purchase prices and margins."));
    dialog.heading(command.words("Files"));
    const auto has = [&](const char* format) {
        return std::find(wish.formats.begin(), wish.formats.end(), format) != wish.formats.end();
    };
    const auto formats =
        dialog.ticks_in_a_row({{"ODS", has("ods")}, {"XLSX", has("xlsx")}, {"PDF", has("pdf")}});
    dialog.text(fmt::format(fmt::runtime(command.words("{0} in {1}")), file_name(url), folder_name(url)));
    std::size_t password = 0;
    if (original.has_password()) {
        dialog.text(command.words("The document has a password. The copies get one, too:"));
        password = dialog.secret();
    }
    if (dialog.run({command.words("Write the copy"), command.words("Cancel")}) != 0) return false;

    wish.sheets.clear();
    const auto now_chosen = dialog.chosen(sheets);
    for (std::size_t i = 0; i < names.size(); ++i)
        if (now_chosen[i]) wish.sheets.push_back(names[i]);
    wish.formats.clear();
    const char* endings[] = {"ods", "xlsx", "pdf"};
    for (std::size_t i = 0; i < formats.size(); ++i)
        if (dialog.is_ticked(formats[i])) wish.formats.emplace_back(endings[i]);
    if (original.has_password()) {
        wish.password = dialog.typed(password);
        if (wish.password.empty())
            throw Refusal(command.words("The document has a password; give one for the copies, too."));
    }
    return true;
}

/// Shows the objections to the copy; true if the user wants it written nevertheless.
bool goes_on(const Command& command, const std::string& heading, const std::vector<std::string>& lines,
             const std::string& advice) {
    if (lines.empty()) return true;
    Dialog dialog(command.context, command.window(), command.words("Customer copy"));
    dialog.heading(heading);
    dialog.passage(joined(lines, "\n"), 6);
    if (!advice.empty()) dialog.text(advice);
    return dialog.run({command.words("Cancel"), command.words("Write it all the same")}) == 1;
}

}  // namespace

uno::Any failed_checks(const Command& command) {
    return to_sequence(Original(command.context, command.document()).failed_checks());
}

uno::Any write_customer_copy(const Command& command) {
    const auto document = command.document();
    if (!uno::Reference<com::sun::star::frame::XStorable>(document, uno::UNO_QUERY_THROW)->hasLocation())
        throw Refusal(command.words("Save the document first: the copy is written beside it."));
    const Original original(command.context, document);
    if (command.is_silent()) return without_dialogue(command, original);

    Wish wish = usual_wish(command, original);
    if (!ask(command, original, wish)) return {};
    check(command, original, wish);
    if (!goes_on(command, command.words("The checks of the document say no:"), original.failed_checks(),
                 command.words("A customer may hold these pages against you; put them right first.")))
        return {};
    const Copy copy(original, wish.sheets);
    if (!goes_on(command, command.words("The copy would show cells in error:"), copy.errors(),
                 command.words("Select such a cell and choose Why this error? to learn the reason.")) ||
        !goes_on(command, command.words("The copy cannot hold:"), in_words(command, copy.left_out()),
                 command.words("The page goes out without it.")))
        return {};
    uno::Sequence<rtl::OUString> written;
    write(command, original, copy, wish) >>= written;
    const auto urls = strings(written);
    std::vector<std::string> names;
    for (const std::string& url : urls) names.push_back(file_name(url));
    Dialog done(command.context, command.window(), command.words("Customer copy"));
    done.text(fmt::format(fmt::runtime(command.words("Written in {0}:")), folder_name(urls.front())));
    done.heading(joined(names, "\n"));
    done.text(command.words("Look through the copy before it goes to the customer."));
    done.run({command.words("Close")});
    return uno::Any(written);
}

}  // namespace pullsheet::addin
