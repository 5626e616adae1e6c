// SPDX-License-Identifier: Apache-2.0
#include "harness/sheet/document.hpp"

#include <unistd.h>

#include <fmt/format.h>
#include <algorithm>
#include <cerrno>
#include <charconv>
#include <cmath>
#include <com/sun/star/beans/XPropertySet.hpp>
#include <com/sun/star/container/XIndexAccess.hpp>
#include <com/sun/star/container/XNameAccess.hpp>
#include <com/sun/star/container/XNamed.hpp>
#include <com/sun/star/document/UpdateDocMode.hpp>
#include <com/sun/star/frame/Desktop.hpp>
#include <com/sun/star/frame/DispatchHelper.hpp>
#include <com/sun/star/frame/DispatchResultEvent.hpp>
#include <com/sun/star/frame/DispatchResultState.hpp>
#include <com/sun/star/frame/XDispatchProvider.hpp>
#include <com/sun/star/frame/XModel.hpp>
#include <com/sun/star/frame/XStorable.hpp>
#include <com/sun/star/io/IOException.hpp>
#include <com/sun/star/lang/XMultiServiceFactory.hpp>
#include <com/sun/star/lang/XServiceInfo.hpp>
#include <com/sun/star/reflection/XIdlClass.hpp>
#include <com/sun/star/reflection/XIdlMethod.hpp>
#include <com/sun/star/reflection/theCoreReflection.hpp>
#include <com/sun/star/sheet/CellFlags.hpp>
#include <com/sun/star/sheet/FormulaResult.hpp>
#include <com/sun/star/sheet/XArrayFormulaRange.hpp>
#include <com/sun/star/sheet/XCalculatable.hpp>
#include <com/sun/star/sheet/XCellRangeAddressable.hpp>
#include <com/sun/star/sheet/XCellRangeReferrer.hpp>
#include <com/sun/star/sheet/XCellRangesQuery.hpp>
#include <com/sun/star/sheet/XPrintAreas.hpp>
#include <com/sun/star/sheet/XSheetCellRangeContainer.hpp>
#include <com/sun/star/sheet/XSpreadsheet.hpp>
#include <com/sun/star/table/CellContentType.hpp>
#include <com/sun/star/text/XText.hpp>
#include <com/sun/star/util/XCloseable.hpp>
#include <cstring>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <osl/file.hxx>

#include "addin/office/cells.hpp"
#include "addin/office/filters.hpp"
#include "addin/office/services.hpp"
#include "addin/office/text.hpp"
#include "core/catalogue/block.hpp"
#include "core/catalogue/reader.hpp"
#include "harness/new_file.hpp"
#include "harness/rows.hpp"
#include "harness/streams.hpp"

namespace pullsheet::harness {
namespace {

namespace fs = std::filesystem;
namespace beans = com::sun::star::beans;
namespace container = com::sun::star::container;
namespace frame = com::sun::star::frame;
namespace lang = com::sun::star::lang;
namespace reflection = com::sun::star::reflection;
namespace sheet = com::sun::star::sheet;
namespace table = com::sun::star::table;
namespace text = com::sun::star::text;
namespace uno = com::sun::star::uno;
namespace util = com::sun::star::util;

using catalogue::Language;
using office::cell_name;
using office::sheet_named;
using office::to_unicode;
using office::to_utf8;

rtl::OUString url_of(const std::string& path, Language language) {
    rtl::OUString url;
    if (osl::FileBase::getFileURLFromSystemPath(to_unicode(fs::absolute(path).lexically_normal().string()),
                                                url) != osl::FileBase::E_None)
        throw FileNotReadable(say(language, "{file} is not a file name", {{"file", path}}));
    return url;
}

table::CellRangeAddress address_of(const Document::Cells& cells) {
    return uno::Reference<sheet::XCellRangeAddressable>(cells, uno::UNO_QUERY_THROW)->getRangeAddress();
}

bool is_date(std::string_view text) {
    if (text.size() != 10 || text[4] != '-' || text[7] != '-') return false;
    return std::all_of(text.begin(), text.end(), [](char c) { return c == '-' || (c >= '0' && c <= '9'); });
}

// A number with a comma: in which way it is meant cannot be told.
bool has_comma_for_point(std::string_view text) {
    return text.find(',') != std::string_view::npos &&
           text.find_first_not_of("0123456789.,+- ") == std::string_view::npos;
}

// What a file of comma-separated values begins with; nothing for another file. Throws FileNotReadable.
std::optional<CsvBeginning> beginning_of_csv(const std::string& path, Language language) {
    const auto format = row_format_of_file(path);
    const bool is_text = fs::path(path).extension() == ".txt";
    if (format != RowFormat::csv && format != RowFormat::tsv && !is_text) return std::nullopt;
    std::ifstream file(path, std::ios::binary);
    std::string text((std::istreambuf_iterator<char>(file)), std::istreambuf_iterator<char>());
    if (text.starts_with("\xEF\xBB\xBF")) text.erase(0, 3);
    if (!is_utf8(text))
        throw FileNotReadable(say(
            language, "{file} cannot be read: {reason}",
            {{"file", path}, {"reason", std::string(translated(language, "these bytes are not UTF-8"))}}));
    CsvBeginning beginning = csv_beginning(text);
    if (format == RowFormat::tsv && !beginning.has_separator_line) beginning.delimiter = '\t';
    return beginning;
}

// How Calc is told to read it: delimiter, quotation mark, UTF-8, first line, formats of columns, language of
// the numbers.
std::string csv_options(const CsvBeginning& beginning) {
    constexpr int english = 2057;
    constexpr int german = 1031;
    return fmt::format("{},34,76,{},,{}", static_cast<int>(beginning.delimiter),
                       beginning.has_separator_line ? 2 : 1, beginning.has_decimal_comma ? german : english);
}

std::string message_of(const uno::Exception& error) {
    const std::string text = to_utf8(error.Message);
    return text.empty() ? std::string() : ": " + text;
}

}  // namespace

struct Document::Parts {
    Context context;
    uno::Reference<sheet::XSpreadsheetDocument> document;
    uno::Reference<beans::XPropertySet> properties;

    uno::Reference<container::XNameAccess> names(const char* property) const {
        return {properties->getPropertyValue(to_unicode(property)), uno::UNO_QUERY_THROW};
    }
    std::vector<std::string> sheet_names() const { return office::sheet_names(document); }
    uno::Reference<sheet::XSpreadsheet> sheet_named(const std::string& name) const {
        return office::sheet_named(document, name);
    }
    /// Calls `at` for each cell with a formula in error: the sheet's name, the sheet, column, row.
    template <class At>
    void each_error(At at) const {
        for (const std::string& name : sheet_names()) {
            const auto sheet = sheet_named(name);
            const auto areas = uno::Reference<sheet::XCellRangesQuery>(sheet, uno::UNO_QUERY_THROW)
                                   ->queryFormulaCells(sheet::FormulaResult::ERROR)
                                   ->getRangeAddresses();
            for (sal_Int32 i = 0; i < areas.getLength(); ++i)
                for (sal_Int32 row = areas[i].StartRow; row <= areas[i].EndRow; ++row)
                    for (sal_Int32 column = areas[i].StartColumn; column <= areas[i].EndColumn; ++column)
                        at(name, sheet, column, row);
        }
    }
    std::string address_text(const table::CellRangeAddress& address) const {
        const std::string first = cell_name(address.StartColumn, address.StartRow);
        const std::string last = cell_name(address.EndColumn, address.EndRow);
        return sheet_names().at(static_cast<std::size_t>(address.Sheet)) + "." + first +
               (first == last ? "" : ":" + last);
    }
    /// Gives a command of the menu without its dialogue; the texts that it answers with, or why it was
    /// refused.
    std::vector<std::string> command(const char* name, office::Properties how, Language language,
                                     std::string& refusal) const {
        office::add(how, "Silent", uno::Any(true));
        office::add(how, "Language", uno::Any(to_unicode(language == Language::german ? "de" : "en")));
        const uno::Reference<frame::XDispatchProvider> window(
            uno::Reference<frame::XModel>(document, uno::UNO_QUERY_THROW)->getCurrentController()->getFrame(),
            uno::UNO_QUERY_THROW);
        frame::DispatchResultEvent event;
        frame::DispatchHelper::create(context)->executeDispatch(
            window, to_unicode(std::string("vnd.pullsheet:") + name), {}, 0, how) >>= event;
        uno::Sequence<rtl::OUString> answer;
        std::vector<std::string> texts;
        rtl::OUString sentence;
        if (event.State != frame::DispatchResultState::SUCCESS) {
            event.Result >>= sentence;
            refusal = to_utf8(sentence);
        } else if (event.Result >>= answer) {
            for (sal_Int32 i = 0; i < answer.getLength(); ++i) texts.push_back(to_utf8(answer[i]));
        }
        return texts;
    }
    void store(const std::string& path, const office::Properties& how, Language language) const {
        NewFile file(path, language);
        try {
            uno::Reference<frame::XStorable>(document, uno::UNO_QUERY_THROW)
                ->storeToURL(url_of(file.beside(), language), how);
        } catch (const com::sun::star::io::IOException&) {
            throw FileNotReadable(not_written(path, 0, language));
        }
        file.put_in_place();
    }
};

Document::Document(Context context, const std::string& path, Language language)
    : parts_(std::make_unique<Parts>()), path_(path), language_(language) {
    const auto refuse = [&](std::string_view why) {
        return FileNotReadable(say(language_, "{file} cannot be read: {reason}",
                                   {{"file", path_}, {"reason", std::string(why)}}));
    };
    std::error_code ignored;
    if (::access(path.c_str(), R_OK) != 0) throw refuse(std::strerror(errno));
    if (fs::is_directory(path, ignored)) throw refuse(translated(language_, "it is a folder"));
    // The office takes a file of no bytes for a new, empty document.
    if (fs::file_size(path, ignored) == 0 && !ignored) throw refuse(translated(language_, "it is empty"));
    const auto csv = beginning_of_csv(path, language_);
    parts_->context = std::move(context);
    auto how = office::properties(
        {{"Hidden", uno::Any(true)},
         {"ReadOnly", uno::Any(true)},
         {"UpdateDocMode", uno::Any(sal_Int16{com::sun::star::document::UpdateDocMode::NO_UPDATE})}});
    if (csv) {
        office::add(how, "FilterName", uno::Any(office::filter_of(".csv")));
        office::add(how, "FilterOptions", uno::Any(to_unicode(csv_options(*csv))));
    }
    uno::Reference<lang::XComponent> component;
    std::string reason;
    try {
        component = frame::Desktop::create(parts_->context)
                        ->loadComponentFromURL(url_of(path, language_), to_unicode("_blank"), 0, how);
    } catch (const com::sun::star::io::IOException& error) {
        reason = message_of(error);
    } catch (const lang::IllegalArgumentException& error) {
        reason = message_of(error);
    }
    parts_->document.set(component, uno::UNO_QUERY);
    if (!parts_->document.is()) {
        if (const uno::Reference<util::XCloseable> other(component, uno::UNO_QUERY); other.is())
            other->close(true);
        throw FileNotReadable(
            say(language_, "{file} is not a sheet that LibreOffice can open (damaged, or with a password?)",
                {{"file", path_}}));
    }
    parts_->properties.set(component, uno::UNO_QUERY_THROW);
    // Inputs are set together, before anything is computed.
    uno::Reference<sheet::XCalculatable>(parts_->document, uno::UNO_QUERY_THROW)
        ->enableAutomaticCalculation(false);
}

Document::~Document() {
    try {
        uno::Reference<util::XCloseable>(parts_->document, uno::UNO_QUERY_THROW)->close(true);
    } catch (const uno::Exception&) {
        // The office is gone, or keeps the document until it ends: it is ended next.
    }
}

Document::Cells Document::cells(const std::string& name) const {
    const rtl::OUString wanted = to_unicode(name);
    std::vector<std::string> known;
    for (const char* kind : {"NamedRanges", "DatabaseRanges"}) {
        const auto names = parts_->names(kind);
        if (names->hasByName(wanted)) {
            const uno::Reference<sheet::XCellRangeReferrer> referrer(names->getByName(wanted),
                                                                     uno::UNO_QUERY_THROW);
            if (Cells found = referrer->getReferredCells(); found.is()) return found;
            throw WrongUse(say(language_, "{file}: the name \"{name}\" does not stand for cells",
                               {{"file", path_}, {"name", name}}));
        }
        const auto list = names->getElementNames();
        for (sal_Int32 i = 0; i < list.getLength(); ++i) known.push_back(to_utf8(list[i]));
    }
    // "Quote.A6:F18", 'My sheet'.B5, a name of one sheet
    const auto dot = name.rfind('.');
    std::string sheet_name = dot == std::string::npos ? parts_->sheet_names().at(0) : name.substr(0, dot);
    if (sheet_name.size() > 1 && sheet_name.front() == '\'' && sheet_name.back() == '\'')
        sheet_name = sheet_name.substr(1, sheet_name.size() - 2);
    if (sheet_name.starts_with('$')) sheet_name.erase(0, 1);
    if (parts_->document->getSheets()->hasByName(to_unicode(sheet_name))) {
        try {
            return parts_->sheet_named(sheet_name)
                ->getCellRangeByName(dot == std::string::npos ? wanted : to_unicode(name.substr(dot + 1)));
        } catch (const uno::RuntimeException&) {
            // Neither an address nor a name of that sheet.
        }
    }
    const bool has_names = !known.empty();
    if (!has_names) known = parts_->sheet_names();
    const std::vector<std::string_view> views(known.begin(), known.end());
    const auto near = has_names ? catalogue::nearest(name, views) : std::string_view{};
    if (!near.empty())
        throw WrongUse(say(
            language_, "{file}: \"{name}\" is neither a named range nor an address; did you mean \"{near}\"?",
            {{"file", path_}, {"name", name}, {"near", std::string(near)}}));
    if (has_names)
        throw WrongUse(say(
            language_, "{file}: \"{name}\" is neither a named range nor an address; the names are {names}",
            {{"file", path_}, {"name", name}, {"names", catalogue::joined(views)}}));
    throw WrongUse(say(language_,
                       "{file}: \"{name}\" is neither a named range nor an address; there are no names, the "
                       "sheets are {sheets}",
                       {{"file", path_}, {"name", name}, {"sheets", catalogue::joined(views)}}));
}

Document::Cells Document::used_cells(const std::string& name) const {
    const std::vector<std::string> names = parts_->sheet_names();
    const std::string wanted = name.empty() ? names.at(0) : name;
    if (std::find(names.begin(), names.end(), wanted) == names.end()) {
        const std::vector<std::string_view> views(names.begin(), names.end());
        throw WrongUse(say(language_, "{file}: there is no sheet \"{name}\"; the sheets are {sheets}",
                           {{"file", path_}, {"name", name}, {"sheets", catalogue::joined(views)}}));
    }
    return office::used_cells(parts_->sheet_named(wanted));
}

void Document::set(const std::string& assignment) {
    const auto [name, value] = name_and_value(assignment, language_);
    const Cells found = cells(name);
    const auto address = address_of(found);
    if (address.StartColumn != address.EndColumn || address.StartRow != address.EndRow)
        throw WrongUse(say(language_,
                           "{file}: \"{name}\" stands for several cells ({address}); --set takes one, as in "
                           "\"Inputs.B5=1.5\"",
                           {{"file", path_}, {"name", name}, {"address", parts_->address_text(address)}}));
    const auto cell = found->getCellByPosition(0, 0);
    if (cell->getType() == table::CellContentType_FORMULA)
        throw WrongUse(say(language_,
                           "{file}: \"{name}\" ({address}) is computed by a formula and is not an input",
                           {{"file", path_}, {"name", name}, {"address", parts_->address_text(address)}}));
    if (has_comma_for_point(value))
        throw WrongUse(
            say(language_, "--set {given}: write the number with a decimal point", {{"given", assignment}}));
    double number = 0.0;
    const char* end = value.data() + value.size();
    const auto [stopped, error] = std::from_chars(value.data(), end, number);
    const bool is_number = !value.empty() && error == std::errc{} && stopped == end && std::isfinite(number);
    if (is_number) {
        cell->setValue(number);
    } else if (is_date(value)) {
        cell->setFormula(to_unicode(value));
    } else {
        uno::Reference<text::XText>(cell, uno::UNO_QUERY_THROW)->setString(to_unicode(value));
    }
    const bool is_set = is_number        ? cell->getValue() == number
                        : is_date(value) ? cell->getType() == table::CellContentType_VALUE
                                         : shown_text(cell) == value;
    if (!is_set)
        throw WrongUse(say(
            language_, "{file}: \"{name}\" ({address}) does not take the value; the cell may be protected",
            {{"file", path_}, {"name", name}, {"address", parts_->address_text(address)}}));
}

// A function whose name a file holds as people write it, not as files do, is not found when the file is read;
// the office that wrote it had no Pullsheet, and has changed its case. Typed anew, it is found.
bool Document::name_functions() {
    bool any = false;
    parts_->each_error([&](const std::string&, const auto& sheet, sal_Int32 column, sal_Int32 row) {
        any = name_functions(sheet, column, row) || any;
    });
    return any;
}

bool Document::name_functions(const uno::Reference<sheet::XSpreadsheet>& sheet, sal_Int32 column,
                              sal_Int32 row) {
    constexpr sal_Int32 no_such_name = 525;
    const auto cells = sheet->getCellRangeByPosition(column, row, column, row);
    const auto cell = cells->getCellByPosition(0, 0);
    if (cell->getError() != no_such_name) return false;
    const auto cursor =
        sheet->createCursorByRange(uno::Reference<sheet::XSheetCellRange>(cells, uno::UNO_QUERY_THROW));
    cursor->collapseToCurrentArray();
    const uno::Reference<sheet::XArrayFormulaRange> array(cursor, uno::UNO_QUERY_THROW);
    std::string formula = to_utf8(array->getArrayFormula());
    const bool is_array = formula.size() > 2 && formula.front() == '{';
    if (!is_array) {
        cell->setFormula(cell->getFormula());
        return cell->getError() != no_such_name;
    }
    const auto place = address_of({cursor, uno::UNO_QUERY_THROW});
    if (place.StartColumn != column || place.StartRow != row) return false;
    formula = formula.substr(1, formula.size() - 2);
    array->setArrayFormula(to_unicode(formula));
    return cell->getError() != no_such_name;
}

bool Document::is_empty() const {
    for (const std::string& name : parts_->sheet_names()) {
        const auto used = office::used_cells(parts_->sheet_named(name));
        using namespace sheet::CellFlags;
        if (uno::Reference<sheet::XCellRangesQuery>(used, uno::UNO_QUERY_THROW)
                ->queryContentCells(VALUE | DATETIME | STRING | FORMULA)
                ->getRangeAddresses()
                .getLength() > 0)
            return false;
    }
    return true;
}

void Document::compute() {
    const uno::Reference<sheet::XCalculatable> calculation(parts_->document, uno::UNO_QUERY_THROW);
    calculation->calculateAll();
    if (name_functions()) calculation->calculateAll();
}

SheetTable Document::table(const Cells& cells) const {
    return table_of(parts_->document, parts_->address_text(address_of(cells)), cells);
}

std::vector<ErrorCell> Document::errors(std::size_t explained) const {
    // FUNCTION.WHY, called in the office itself; its interface is not known on this side.
    const uno::Any named_language(to_unicode(language_ == Language::german ? "de" : "en"));
    const auto functions = parts_->context->getServiceManager()->createInstanceWithArgumentsAndContext(
        to_unicode("pullsheet.Functions"), {&named_language, 1}, parts_->context);
    const auto type =
        reflection::theCoreReflection::get(parts_->context)->forName(to_unicode("pullsheet.XFunctions"));
    const auto method = functions.is() && type.is() ? type->getMethod(to_unicode("functionWhy"))
                                                    : uno::Reference<reflection::XIdlMethod>();
    const auto why = [&](const Cells& cell) -> std::string {
        if (!method.is()) return {};
        uno::Sequence<uno::Any> arguments(2);
        arguments[0] <<= parts_->properties;
        arguments[1] <<= cell;
        rtl::OUString sentence;
        try {
            method->invoke(uno::Any(functions), arguments) >>= sentence;
        } catch (const uno::Exception&) {
            // Its code is said without a reason.
        }
        return to_utf8(sentence);
    };
    std::vector<ErrorCell> result;
    parts_->each_error([&](const std::string& name, const auto& sheet, sal_Int32 column, sal_Int32 row) {
        ErrorCell error{name + "." + cell_name(column, row), {}, {}};
        if (result.size() < explained) {
            const Cells cell = sheet->getCellRangeByPosition(column, row, column, row);
            error.code = shown_text(cell->getCellByPosition(0, 0));
            error.sentence = why(cell);
        }
        result.push_back(std::move(error));
    });
    return result;
}

std::optional<bool> Document::checks_agree(std::string& said) const {
    if (!parts_->names("NamedRanges")->hasByName(to_unicode("all_checks_agree"))) return std::nullopt;
    const auto cell = cells("all_checks_agree")->getCellByPosition(0, 0);
    said = shown_text(cell);
    return cell->getError() == 0 && (cell->getValue() == 1.0 || catalogue::normal_label(said) == "yes");
}

void Document::write_pdf(const std::string& path, const std::string& name) const {
    auto how = office::properties(
        {{"FilterName", uno::Any(office::filter_of(".pdf"))}, {"Overwrite", uno::Any(true)}});
    if (!name.empty()) {
        const Cells used = used_cells(name);
        const uno::Reference<sheet::XPrintAreas> printed(parts_->sheet_named(name), uno::UNO_QUERY_THROW);
        const auto areas = printed->getPrintAreas();
        const uno::Reference<sheet::XSheetCellRangeContainer> ranges(
            uno::Reference<lang::XMultiServiceFactory>(parts_->document, uno::UNO_QUERY_THROW)
                ->createInstance(to_unicode("com.sun.star.sheet.SheetCellRanges")),
            uno::UNO_QUERY_THROW);
        if (areas.getLength() > 0)
            ranges->addRangeAddresses(areas, false);
        else
            ranges->addRangeAddress(address_of(used), false);
        office::add(how, "FilterData", uno::Any(office::properties({{"Selection", uno::Any(ranges)}})));
    }
    parts_->store(path, how, language_);
}

std::pair<std::string, std::string> name_and_value(const std::string& assignment, Language language) {
    const auto equals = assignment.find('=');
    if (equals == std::string::npos)
        throw WrongUse(say(language, "--set takes NAME=VALUE, not \"{given}\"", {{"given", assignment}}));
    return {assignment.substr(0, equals), assignment.substr(equals + 1)};
}

void refuse_other_endings(const std::string& path, Language language) {
    const std::string ending = fs::path(path).extension().string();
    if (ending != ".ods" && ending != ".fods" && ending != ".xlsx")
        throw WrongUse(say(language, "{file}: a copy is written as .ods, .fods or .xlsx", {{"file", path}}));
}

std::vector<std::string> Document::failed_checks() const {
    std::string refusal;
    return parts_->command("checks", {}, language_, refusal);
}

std::vector<std::string> Document::customer_copy(const std::string& name, bool despite_checks,
                                                 std::string& refusal) const {
    auto how = office::properties({{"WithFailedChecks", uno::Any(despite_checks)}});
    if (!name.empty()) {
        const rtl::OUString wanted = to_unicode(name);
        office::add(how, "Sheets", uno::Any(uno::Sequence<rtl::OUString>(&wanted, 1)));
    }
    auto files = parts_->command("copy", how, language_, refusal);
    for (std::string& file : files) {
        rtl::OUString path;
        if (osl::FileBase::getSystemPathFromFileURL(to_unicode(file), path) == osl::FileBase::E_None)
            file = to_utf8(path);
    }
    return files;
}

void Document::save(const std::string& path) const {
    refuse_other_endings(path, language_);
    const auto filter = office::filter_of(fs::path(path).extension().string());
    parts_->store(path, office::properties({{"FilterName", uno::Any(filter)}, {"Overwrite", uno::Any(true)}}),
                  language_);
}

}  // namespace pullsheet::harness
