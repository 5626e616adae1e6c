// SPDX-License-Identifier: Apache-2.0
#include "addin/why/why.hpp"

#include <fmt/format.h>

#include <com/sun/star/beans/XPropertySet.hpp>
#include <set>

#include "addin/convert.hpp"
#include "addin/why/book.hpp"
#include "addin/why/sheet_evaluation.hpp"

namespace pullsheet::addin {
namespace {

namespace uno = com::sun::star::uno;
using Context = uno::Reference<uno::XComponentContext>;
using catalogue::Language;
using catalogue::say;

// An error is followed from cell to cell at most this far.
constexpr int max_hops = 10'000;
// The number of cells of a range that are evaluated for warnings.
constexpr std::size_t max_formula_cells = 1000;

// Calc's own codes, in plain words.
std::string in_words(int code, Language language) {
    const auto words = [&](std::string_view text) {
        return say(language, text, {{"code", std::to_string(code)}});
    };
    switch (code) {
        case 501: return words("the formula holds a character that does not belong there (Err:501)");
        case 502: return words("an argument of a function is not allowed (Err:502)");
        case 503:
            return words(
                "the result is not a number that can be shown, for example the root of a negative number "
                "(#NUM!)");
        case 504:
            return words(
                "a function got a kind of argument that it does not take, or a range with an error in it "
                "(Err:504)");
        case 507:
        case 508: return words("a bracket is missing or too many (Err:508)");
        case 509: return words("an operator is missing between two values (Err:509)");
        case 510:
        case 511: return words("a value is missing beside an operator or in a function (Err:511)");
        case 512: return words("the formula is too long (Err:512)");
        case 513: return words("a text is too long (Err:513)");
        case 514: return words("the formula needs more space than there is (Err:514)");
        case 516:
        case 517:
        case 518:
        case 521: return words("the formula could not be computed (Err:{code})");
        case 519: return words("a text stands where a number is wanted (#VALUE!)");
        case 520: return words("the formula could not be read (Err:520)");
        case 522: return words("the formula refers to itself, directly or by other cells (Err:522)");
        case 523: return words("no solution was found (Err:523)");
        case 524: return words("the formula refers to a cell, row, column or sheet that is gone (#REF!)");
        case 525: return words("the formula holds a name that is not known (#NAME?)");
        case 526:
        case 527: return words("the references are nested too deeply (Err:{code})");
        case 530:
        case 531: return words("a function of an extension is not there (Err:531)");
        case 532: return words("division by zero (#DIV/0!)");
        case 533: return words("an array stands inside an array (Err:533)");
        case 538:
        case 539: return words("the shape of an array does not fit (Err:{code})");
        case 540: return words("content from outside the document is blocked until it is allowed (Err:540)");
        case 32767: return words("the value wanted is not there (#N/A)");
        default: return words("Calc shows the error {code}");
    }
}

// The cell with an error on which this formula depends, if any.
std::optional<Address> failed_precedent(const Book& book, const SheetEvaluation& evaluation,
                                        const Address& cell) {
    for (const Area& area : evaluation.references())
        if (book.has(area))
            if (const auto found = book.first_error(area); found && *found != cell) return found;
    return std::nullopt;
}

std::string warnings_text(const SheetEvaluation& evaluation) {
    std::string text;
    for (const std::string& warning : evaluation.warnings())
        text.append(text.empty() ? "" : "; ").append(warning);
    return text;
}

// The parts in braces outside quotation marks.
std::string in_braces(const std::string& formula) {
    std::string result;
    bool quoted = false;
    int depth = 0;
    for (const char c : formula) {
        if (c == '"') quoted = !quoted;
        if (quoted) continue;
        if (c == '{') ++depth;
        if (c == '}') --depth;
        if (depth > 0) result += c;
    }
    return result;
}

// A number typed with a point into an array, where the decimal mark is the comma: there the point separates
// columns.
bool has_point_in_array(const Book& book, const Address& cell) {
    const auto content = book.cell(cell);
    rtl::OUString shown;
    uno::Reference<com::sun::star::beans::XPropertySet>(content, uno::UNO_QUERY_THROW)
        ->getPropertyValue("FormulaLocal") >>= shown;
    const std::string local = in_braces(to_utf8(shown));
    return local.find('.') != std::string::npos && local.find(',') == std::string::npos &&
           in_braces(to_utf8(content->getFormula())).find(';') != std::string::npos;
}

std::string why_cell(const Context& context, const Book& book, Address cell, Language language) {
    std::set<Address> seen;
    for (int hop = 0; hop < max_hops; ++hop) {
        const int code = book.error(cell);
        SheetEvaluation evaluation(context, book, cell, language);
        const Evaluated result = evaluation.run();
        if (code == 0) return hop == 0 ? warnings_text(evaluation) : std::string();
        seen.insert(cell);

        std::optional<Address> origin;
        std::string sentence;
        if (result.failed()) {
            origin = result.origin;
            sentence = std::get<catalogue::Failure>(result.value).sentence;
        }
        if (!origin && sentence.empty()) sentence = evaluation.first_failure();
        if (!origin && sentence.empty() && code != 522) origin = failed_precedent(book, evaluation, cell);
        if (origin && !seen.contains(*origin)) {
            cell = *origin;
            continue;
        }
        if (sentence.empty()) sentence = in_words(code, language);
        if (has_point_in_array(book, cell))
            sentence += say(
                language,
                "; in this Calc the decimal mark is the comma, and a point in braces separates columns", {});
        if (hop == 0) return sentence;
        return say(language, "the error comes from {cell}: {sentence}",
                   {{"cell", book.name_of(cell)}, {"sentence", sentence}});
    }
    return say(language, "the error comes from {cell}, or from further away", {{"cell", book.name_of(cell)}});
}

}  // namespace

std::string why(const Context& context, const uno::Reference<com::sun::star::beans::XPropertySet>& document,
                const uno::Reference<com::sun::star::table::XCellRange>& cell, Language language) {
    const Book book(Spreadsheet(document, uno::UNO_QUERY_THROW));
    const Area area = area_of(cell);
    if (area.is_single()) return why_cell(context, book, area.first, language);
    const auto named = [&](const Address& address, const std::string& sentence) {
        return fmt::format("{}: {}", book.name_of(address), sentence);
    };
    if (const auto failed = book.first_error(area))
        return named(*failed, why_cell(context, book, *failed, language));
    const Book::Calls calls = book.calls_of_the_catalogue(area, max_formula_cells);
    for (const Address& address : calls.cells)
        if (const std::string warnings = why_cell(context, book, address, language); !warnings.empty())
            return named(address, warnings);
    if (calls.count > calls.cells.size())
        return say(language, "no error here; {asked} of {count} cells were asked for warnings and have none",
                   {{"asked", std::to_string(calls.cells.size())}, {"count", std::to_string(calls.count)}});
    return {};
}

}  // namespace pullsheet::addin
