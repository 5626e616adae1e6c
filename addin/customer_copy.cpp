// SPDX-License-Identifier: Apache-2.0
#include "addin/customer_copy.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <com/sun/star/beans/MethodConcept.hpp>
#include <com/sun/star/beans/XIntrospectionAccess.hpp>
#include <com/sun/star/beans/XPropertyContainer.hpp>
#include <com/sun/star/beans/XPropertySet.hpp>
#include <com/sun/star/beans/theIntrospection.hpp>
#include <com/sun/star/container/XIndexAccess.hpp>
#include <com/sun/star/container/XNameContainer.hpp>
#include <com/sun/star/container/XNamed.hpp>
#include <com/sun/star/document/XDocumentPropertiesSupplier.hpp>
#include <com/sun/star/document/XEventsSupplier.hpp>
#include <com/sun/star/frame/Desktop.hpp>
#include <com/sun/star/frame/XComponentLoader.hpp>
#include <com/sun/star/frame/XModel.hpp>
#include <com/sun/star/frame/XStorable.hpp>
#include <com/sun/star/io/TempFile.hpp>
#include <com/sun/star/reflection/XIdlMethod.hpp>
#include <com/sun/star/script/XLibraryContainer.hpp>
#include <com/sun/star/sheet/FormulaResult.hpp>
#include <com/sun/star/sheet/SheetLinkMode.hpp>
#include <com/sun/star/sheet/XAreaLinks.hpp>
#include <com/sun/star/sheet/XCalculatable.hpp>
#include <com/sun/star/sheet/XCellRangeReferrer.hpp>
#include <com/sun/star/sheet/XCellRangesQuery.hpp>
#include <com/sun/star/sheet/XNamedRanges.hpp>
#include <com/sun/star/sheet/XPrintAreas.hpp>
#include <com/sun/star/sheet/XSheetCellRanges.hpp>
#include <com/sun/star/sheet/XSpreadsheetView.hpp>
#include <com/sun/star/ucb/SimpleFileAccess.hpp>
#include <com/sun/star/util/XCloseable.hpp>
#include <com/sun/star/util/XProtectable.hpp>

#include "addin/convert.hpp"
#include "addin/printed_pages.hpp"
#include "addin/values_only.hpp"

namespace pullsheet::addin {
namespace {

namespace uno = com::sun::star::uno;
namespace beans = com::sun::star::beans;
namespace container = com::sun::star::container;
namespace frame = com::sun::star::frame;
namespace io = com::sun::star::io;
namespace sheet = com::sun::star::sheet;
namespace util = com::sun::star::util;
using uno::Any;

std::string name_of(const uno::Reference<sheet::XSpreadsheet>& on_sheet) {
    return to_utf8(uno::Reference<container::XNamed>(on_sheet, uno::UNO_QUERY_THROW)->getName());
}

bool is_visible(const uno::Reference<sheet::XSpreadsheet>& on_sheet) {
    bool visible = true;
    uno::Reference<beans::XPropertySet>(on_sheet, uno::UNO_QUERY_THROW)->getPropertyValue("IsVisible") >>=
        visible;
    return visible;
}

const char* filter_of(const std::string& format) {
    if (format == "ods") return "calc8";
    if (format == "xlsx") return "Calc MS Excel 2007 XML";
    if (format == "pdf") return "calc_pdf_Export";
    return nullptr;
}

/// A document that is closed when it is no longer needed.
class Hidden {
  public:
    explicit Hidden(Spreadsheet document) : document_(std::move(document)) {}
    ~Hidden() {
        try {
            uno::Reference<util::XCloseable>(document_, uno::UNO_QUERY_THROW)->close(true);
        } catch (...) {
            // It closes with the office.
        }
    }
    Hidden(const Hidden&) = delete;
    Hidden& operator=(const Hidden&) = delete;
    const Spreadsheet& get() const { return document_; }

  private:
    Spreadsheet document_;
};

/// The document once more, as it is on the screen, in a window that nobody sees. Its macros do not run and
/// its links are not followed.
Spreadsheet second_of(const Context& context, const Spreadsheet& document) {
    const auto file = io::TempFile::create(context);
    const uno::Reference<frame::XStorable> storable(document, uno::UNO_QUERY_THROW);
    storable->storeToURL(
        "private:stream",
        properties({{"FilterName", Any(rtl::OUString("calc8"))},
                    {"OutputStream", Any(uno::Reference<io::XOutputStream>(file, uno::UNO_QUERY_THROW))}}));
    file->seek(0);
    const uno::Reference<frame::XComponentLoader> desktop(frame::Desktop::create(context),
                                                          uno::UNO_QUERY_THROW);
    return {
        desktop->loadComponentFromURL(
            "private:stream", "_blank", 0,
            properties({{"FilterName", Any(rtl::OUString("calc8"))},
                        {"InputStream", Any(uno::Reference<io::XInputStream>(file, uno::UNO_QUERY_THROW))},
                        {"Hidden", Any(true)},
                        {"MacroExecutionMode", Any(sal_Int16(0))},
                        {"UpdateDocMode", Any(sal_Int16(0))}})),
        uno::UNO_QUERY_THROW};
}

void unprotect(const Command& command, const uno::Reference<uno::XInterface>& part, const std::string& name) {
    const uno::Reference<util::XProtectable> protectable(part, uno::UNO_QUERY);
    if (!protectable.is() || !protectable->isProtected()) return;
    try {
        protectable->unprotect("");
    } catch (const uno::Exception&) {
        // Told below.
    }
    if (protectable->isProtected())
        throw Refusal(fmt::format(
            fmt::runtime(command.words("{0} is protected by a password; take the protection off first.")),
            name));
}

void remove_events(const uno::Reference<uno::XInterface>& part) {
    const uno::Reference<com::sun::star::document::XEventsSupplier> supplier(part, uno::UNO_QUERY);
    if (!supplier.is()) return;
    const auto events = supplier->getEvents();
    const auto names = events->getElementNames();
    for (sal_Int32 i = 0; i < names.getLength(); ++i) {
        Properties bound;
        if ((events->getByName(names[i]) >>= bound) && bound.getLength() > 0)
            events->replaceByName(names[i], Any(Properties()));
    }
}

void remove_libraries(const uno::Reference<beans::XPropertySet>& document, const char* property) {
    uno::Reference<com::sun::star::script::XLibraryContainer> libraries;
    document->getPropertyValue(rtl::OUString::createFromAscii(property)) >>= libraries;
    if (!libraries.is()) return;
    const auto names = libraries->getElementNames();
    for (sal_Int32 i = 0; i < names.getLength(); ++i) {
        if (names[i] != "Standard") {
            libraries->removeLibrary(names[i]);
            continue;
        }
        libraries->loadLibrary(names[i]);
        const uno::Reference<container::XNameContainer> modules(libraries->getByName(names[i]),
                                                                uno::UNO_QUERY_THROW);
        const auto parts = modules->getElementNames();
        for (sal_Int32 k = 0; k < parts.getLength(); ++k) modules->removeByName(parts[k]);
    }
}

void remove_links(const Context& context, const Book& copy) {
    const auto introspection = beans::theIntrospection::get(context);
    for (sal_Int32 index = 0; index < copy.sheet_count(); ++index) {
        // By its name, since the interface is called deprecated and no other one cuts the link of a sheet.
        const Any on_sheet(copy.sheet(index));
        const auto method =
            introspection->inspect(on_sheet)->getMethod("setLinkMode", beans::MethodConcept::ALL);
        uno::Sequence<Any> arguments(1);
        arguments[0] <<= sheet::SheetLinkMode_NONE;
        method->invoke(on_sheet, arguments);
    }
    uno::Reference<sheet::XAreaLinks> links;
    uno::Reference<beans::XPropertySet>(copy.document(), uno::UNO_QUERY_THROW)
        ->getPropertyValue("AreaLinks") >>= links;
    const uno::Reference<container::XIndexAccess> counted(links, uno::UNO_QUERY);
    while (counted.is() && counted->getCount() > 0) links->removeByIndex(counted->getCount() - 1);
}

/// Who worked on the document, for how long and from which template; properties of the user's own.
void remove_personal_data(const Spreadsheet& copy) {
    const auto data =
        uno::Reference<com::sun::star::document::XDocumentPropertiesSupplier>(copy, uno::UNO_QUERY_THROW)
            ->getDocumentProperties();
    data->resetUserData("");
    data->setTemplateName("");
    data->setTemplateURL("");
    const auto own = data->getUserDefinedProperties();
    const auto list =
        uno::Reference<beans::XPropertySet>(own, uno::UNO_QUERY_THROW)->getPropertySetInfo()->getProperties();
    for (sal_Int32 i = 0; i < list.getLength(); ++i) own->removeProperty(list[i].Name);
}

/// A sheet without print ranges is not printed as soon as another one has some.
void have_every_sheet_printed(const Book& copy) {
    for (sal_Int32 index = 0; index < copy.sheet_count(); ++index) {
        const uno::Reference<sheet::XPrintAreas> print(copy.sheet(index), uno::UNO_QUERY_THROW);
        if (!is_visible(copy.sheet(index)) || print->getPrintAreas().getLength() > 0) continue;
        uno::Sequence<com::sun::star::table::CellRangeAddress> areas(1);
        const Area used = used_area(copy, index);
        areas[0] = {static_cast<sal_Int16>(index), used.first.column, used.first.row, used.last.column,
                    used.last.row};
        print->setPrintAreas(areas);
    }
}

void show_first_sheet(const Book& copy) {
    const uno::Reference<sheet::XSpreadsheetView> view(
        uno::Reference<frame::XModel>(copy.document(), uno::UNO_QUERY_THROW)->getCurrentController(),
        uno::UNO_QUERY);
    for (sal_Int32 index = 0; view.is() && index < copy.sheet_count(); ++index)
        if (is_visible(copy.sheet(index))) {
            view->setActiveSheet(copy.sheet(index));
            return;
        }
}

std::string base_of(const Spreadsheet& document) {
    const std::string url =
        to_utf8(uno::Reference<frame::XStorable>(document, uno::UNO_QUERY_THROW)->getLocation());
    const auto dot = url.rfind('.');
    return dot != std::string::npos && dot > url.rfind('/') ? url.substr(0, dot) : url;
}

}  // namespace

std::vector<std::string> sheet_names(const Spreadsheet& document, bool hidden_too) {
    const Book book(document);
    std::vector<std::string> names;
    for (sal_Int32 index = 0; index < book.sheet_count(); ++index)
        if (hidden_too || is_visible(book.sheet(index))) names.push_back(name_of(book.sheet(index)));
    return names;
}

std::vector<std::string> customer_sheets(const Spreadsheet& document) {
    const Book book(document);
    uno::Reference<sheet::XNamedRanges> all;
    uno::Reference<beans::XPropertySet>(document, uno::UNO_QUERY_THROW)->getPropertyValue("NamedRanges") >>=
        all;
    const auto list = all->getElementNames();
    std::vector<bool> marked(static_cast<std::size_t>(book.sheet_count()));
    for (sal_Int32 i = 0; i < list.getLength(); ++i) {
        if (!to_utf8(list[i]).starts_with("customer_page")) continue;
        const auto cells =
            uno::Reference<sheet::XCellRangeReferrer>(all->getByName(list[i]), uno::UNO_QUERY_THROW)
                ->getReferredCells();
        if (cells.is()) marked.at(static_cast<std::size_t>(area_of(cells).first.sheet)) = true;
    }
    std::vector<std::string> names;
    for (std::size_t index = 0; index < marked.size(); ++index)
        if (marked[index]) names.push_back(name_of(book.sheet(static_cast<sal_Int32>(index))));
    return names;
}

std::vector<std::string> errors_in_copy(const Spreadsheet& document, const CopyWish& wish) {
    const Book book(document);
    std::vector<std::string> errors;
    for (sal_Int32 index = 0; index < book.sheet_count(); ++index) {
        if (std::find(wish.sheets.begin(), wish.sheets.end(), name_of(book.sheet(index))) ==
            wish.sheets.end())
            continue;
        const auto areas =
            wish.only_printed ? printed_areas(book, index) : std::vector<Area>{used_area(book, index)};
        for (const Area& area : areas) {
            const auto found = uno::Reference<sheet::XCellRangesQuery>(book.range(area), uno::UNO_QUERY_THROW)
                                   ->queryFormulaCells(sheet::FormulaResult::ERROR)
                                   ->getRangeAddresses();
            for (sal_Int32 i = 0; i < found.getLength(); ++i)
                for (sal_Int32 row = found[i].StartRow; row <= found[i].EndRow; ++row)
                    for (sal_Int32 column = found[i].StartColumn; column <= found[i].EndColumn; ++column)
                        errors.push_back(book.name_of({index, column, row}));
        }
    }
    return errors;
}

std::string copy_url(const Context& context, const Spreadsheet& document, const CopyWish& wish) {
    const std::string base = base_of(document) + "-customer";
    for (int number = 1;; ++number) {
        const std::string url = number == 1 ? base : fmt::format("{}-{}", base, number);
        if (std::none_of(wish.formats.begin(), wish.formats.end(),
                         [&](const std::string& format) { return exists(context, url + "." + format); }))
            return url;
    }
}

std::vector<std::string> write_copy(const Command& command, const Spreadsheet& document,
                                    const CopyWish& wish) {
    const std::string url = copy_url(command.context, document, wish);
    const Hidden hidden(second_of(command.context, document));
    const Book copy(hidden.get());
    const uno::Reference<beans::XPropertySet> settings(hidden.get(), uno::UNO_QUERY_THROW);
    uno::Reference<sheet::XCalculatable>(hidden.get(), uno::UNO_QUERY_THROW)
        ->enableAutomaticCalculation(false);
    unprotect(command, hidden.get(), command.words("The document"));
    for (sal_Int32 index = 0; index < copy.sheet_count(); ++index)
        unprotect(command, copy.sheet(index), name_of(copy.sheet(index)));
    // What was recorded of changes goes with the recording.
    settings->setPropertyValue("RecordChanges", Any(false));
    for (const char* libraries : {"BasicLibraries", "DialogLibraries"}) remove_libraries(settings, libraries);
    remove_events(hidden.get());
    for (sal_Int32 index = 0; index < copy.sheet_count(); ++index) remove_events(copy.sheet(index));
    remove_links(command.context, copy);
    replace_formulas(copy, Book(document));
    if (wish.only_printed)
        leave_printed_pages(copy, wish.sheets);
    else
        leave_sheets(copy, wish.sheets);
    have_every_sheet_printed(copy);
    remove_personal_data(hidden.get());
    show_first_sheet(copy);

    std::vector<std::string> written;
    try {
        for (const std::string& format : wish.formats) {
            const std::string file = url + "." + format;
            uno::Reference<frame::XStorable>(hidden.get(), uno::UNO_QUERY_THROW)
                ->storeToURL(
                    to_unicode(file),
                    properties({{"FilterName", Any(rtl::OUString::createFromAscii(filter_of(format)))},
                                {"Overwrite", Any(false)}}));
            written.push_back(file);
        }
    } catch (const uno::Exception& failure) {
        // All or nothing.
        for (const std::string& file : written)
            com::sun::star::ucb::SimpleFileAccess::create(command.context)->kill(to_unicode(file));
        throw Refusal(
            fmt::format(fmt::runtime(command.words("The copy could not be written beside the document; is "
                                                   "the folder write-protected or the disk full? ({0})")),
                        to_utf8(failure.Message)));
    }
    return written;
}

}  // namespace pullsheet::addin
