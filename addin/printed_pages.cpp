// SPDX-License-Identifier: Apache-2.0
#include "addin/printed_pages.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <com/sun/star/beans/XPropertySet.hpp>
#include <com/sun/star/container/XIndexAccess.hpp>
#include <com/sun/star/container/XNamed.hpp>
#include <com/sun/star/document/XEmbeddedObjectSupplier.hpp>
#include <com/sun/star/sheet/CellFlags.hpp>
#include <com/sun/star/sheet/XCellRangeMovement.hpp>
#include <com/sun/star/sheet/XCellRangeReferrer.hpp>
#include <com/sun/star/sheet/XCellRangesQuery.hpp>
#include <com/sun/star/sheet/XConditionEntry.hpp>
#include <com/sun/star/sheet/XConditionalFormat.hpp>
#include <com/sun/star/sheet/XConditionalFormats.hpp>
#include <com/sun/star/sheet/XNamedRange.hpp>
#include <com/sun/star/sheet/XNamedRanges.hpp>
#include <com/sun/star/sheet/XPrintAreas.hpp>
#include <com/sun/star/sheet/XSheetCellRanges.hpp>
#include <com/sun/star/sheet/XSheetOperation.hpp>
#include <com/sun/star/sheet/XUsedAreaCursor.hpp>
#include <com/sun/star/table/XTableChart.hpp>
#include <com/sun/star/table/XTableChartsSupplier.hpp>

#include "addin/convert.hpp"
#include "addin/rectangles.hpp"

namespace pullsheet::addin {
namespace {

namespace uno = com::sun::star::uno;
namespace sheet = com::sun::star::sheet;
namespace table = com::sun::star::table;
using uno::Any;

constexpr sal_Int32 all_contents = sheet::CellFlags::VALUE | sheet::CellFlags::DATETIME |
                                   sheet::CellFlags::STRING | sheet::CellFlags::ANNOTATION |
                                   sheet::CellFlags::FORMULA | sheet::CellFlags::OBJECTS;

std::string name_of_sheet(const Book& book, sal_Int32 index) {
    return to_utf8(uno::Reference<com::sun::star::container::XNamed>(book.sheet(index), uno::UNO_QUERY_THROW)
                       ->getName());
}

sal_Int32 index_of_sheet(const Book& book, const std::string& name) {
    for (sal_Int32 index = 0; index < book.sheet_count(); ++index)
        if (name_of_sheet(book, index) == name) return index;
    throw uno::RuntimeException("There is no sheet " + to_unicode(name) + ".", {});
}

Area whole_area(const Book& book, sal_Int32 index) {
    return area_of(uno::Reference<table::XCellRange>(book.sheet(index), uno::UNO_QUERY_THROW));
}

void clear(const Book& book, const Area& area, sal_Int32 contents) {
    uno::Reference<sheet::XSheetOperation>(book.range(area), uno::UNO_QUERY_THROW)->clearContents(contents);
}

/// What a chart on one of these sheets shows of cells that are about to go moves to a hidden sheet behind
/// them. Calc has the charts follow their cells.
class ChartData {
  public:
    explicit ChartData(const Book& book) : book_(book) {}

    /// `staying` are the cells of the document that stay where they are.
    void keep(sal_Int32 index, const std::vector<Area>& staying) {
        const auto charts =
            uno::Reference<table::XTableChartsSupplier>(book_.sheet(index), uno::UNO_QUERY_THROW)
                ->getCharts();
        const uno::Reference<com::sun::star::container::XIndexAccess> list(charts, uno::UNO_QUERY_THROW);
        for (sal_Int32 i = 0; i < list->getCount(); ++i) {
            const uno::Reference<table::XTableChart> chart(list->getByIndex(i), uno::UNO_QUERY_THROW);
            // A chart is read from the file when it is first asked for, and only then follows its cells.
            uno::Reference<com::sun::star::document::XEmbeddedObjectSupplier>(chart, uno::UNO_QUERY_THROW)
                ->getEmbeddedObject();
            charts_.push_back(chart);
        }
        staying_.insert(staying_.end(), staying.begin(), staying.end());
    }

    void move() {
        // A range that two charts share has moved by the time the second one is asked.
        for (const auto& chart : charts_) {
            const auto ranges = chart->getRanges();
            for (sal_Int32 i = 0; i < ranges.getLength(); ++i) {
                const Area wanted = area_of(chart->getRanges()[i]);
                if (wanted.first.sheet != sheet_ && !lies_in_staying(wanted)) move(wanted);
            }
        }
    }

    sal_Int32 sheet() const { return sheet_; }

  private:
    bool lies_in_staying(const Area& wanted) const {
        std::vector<Area> rest{wanted};
        for (const Area& area : staying_)
            if (area.first.sheet == wanted.first.sheet) rest = without(std::move(rest), {area});
        return rest.empty();
    }

    void move(const Area& area) {
        if (sheet_ < 0) {
            std::string name = "Chart data";
            while (book_.document()->getSheets()->hasByName(to_unicode(name))) name += "'";
            sheet_ = book_.sheet_count();
            book_.document()->getSheets()->insertNewByName(to_unicode(name), static_cast<sal_Int16>(sheet_));
        }
        const table::CellAddress to(static_cast<sal_Int16>(sheet_), 0, row_);
        const table::CellRangeAddress from(static_cast<sal_Int16>(area.first.sheet), area.first.column,
                                           area.first.row, area.last.column, area.last.row);
        uno::Reference<sheet::XCellRangeMovement>(book_.sheet(sheet_), uno::UNO_QUERY_THROW)
            ->moveRange(to, from);
        row_ += area.rows() + 1;
    }

    const Book& book_;
    std::vector<uno::Reference<table::XTableChart>> charts_;
    std::vector<Area> staying_;
    sal_Int32 sheet_ = -1;
    sal_Int32 row_ = 0;
};

/// The formulas by which cells of these sheets change their look.
std::string conditions(const Book& book, const std::vector<std::string>& sheets) {
    std::string text;
    for (const std::string& name : sheets) {
        uno::Reference<sheet::XConditionalFormats> formats;
        uno::Reference<com::sun::star::beans::XPropertySet>(book.sheet(index_of_sheet(book, name)),
                                                            uno::UNO_QUERY_THROW)
            ->getPropertyValue("ConditionalFormats") >>= formats;
        if (!formats.is()) continue;
        const auto list = formats->getConditionalFormats();
        for (sal_Int32 i = 0; i < list.getLength(); ++i) {
            const uno::Reference<com::sun::star::container::XIndexAccess> entries(list[i], uno::UNO_QUERY);
            for (sal_Int32 k = 0; entries.is() && k < entries->getCount(); ++k) {
                const uno::Reference<com::sun::star::beans::XPropertySet> entry(entries->getByIndex(k),
                                                                                uno::UNO_QUERY);
                for (const char* property : {"Formula1", "Formula2"}) {
                    if (!entry.is() || !entry->getPropertySetInfo()->hasPropertyByName(
                                           rtl::OUString::createFromAscii(property)))
                        continue;
                    rtl::OUString formula;
                    entry->getPropertyValue(rtl::OUString::createFromAscii(property)) >>= formula;
                    text += to_utf8(formula) + "\n";
                }
            }
        }
    }
    return text;
}

bool is_part_of_name(char c) {
    return c == '_' || c == '.' || (c & 0x80) || (c >= '0' && c <= '9') || (c >= 'a' && c <= 'z') ||
           (c >= 'A' && c <= 'Z');
}

bool names(std::string_view formulas, std::string_view name) {
    for (std::size_t at = formulas.find(name); at != std::string_view::npos;
         at = formulas.find(name, at + 1)) {
        const std::size_t end = at + name.size();
        if ((at == 0 || !is_part_of_name(formulas[at - 1])) &&
            (end == formulas.size() || !is_part_of_name(formulas[end])))
            return true;
    }
    return false;
}

/// A constant as a formula writes it.
std::string literal(const catalogue::Cell& content) {
    if (const double* number = std::get_if<double>(&content)) return fmt::format("{}", *number);
    if (const std::string* text = std::get_if<std::string>(&content)) {
        std::string quoted = "\"";
        for (const char c : *text) quoted += c == '"' ? "\"\"" : std::string(1, c);
        return quoted + "\"";
    }
    return "\"\"";
}

/// Of the names, those of cells that stay remain; one that the look of a remaining cell depends on becomes
/// the constant that its cell holds.
void leave_names(const Book& book, const std::vector<Area>& staying, const std::string& formulas) {
    uno::Reference<sheet::XNamedRanges> all;
    uno::Reference<com::sun::star::beans::XPropertySet>(book.document(), uno::UNO_QUERY_THROW)
        ->getPropertyValue("NamedRanges") >>= all;
    const auto list = all->getElementNames();
    for (sal_Int32 i = 0; i < list.getLength(); ++i) {
        const uno::Reference<sheet::XNamedRange> named(all->getByName(list[i]), uno::UNO_QUERY_THROW);
        const auto cells =
            uno::Reference<sheet::XCellRangeReferrer>(named, uno::UNO_QUERY_THROW)->getReferredCells();
        if (cells.is()) {
            const Area area = area_of(cells);
            if (std::any_of(staying.begin(), staying.end(), [&](const Area& there) {
                    return there.first.sheet == area.first.sheet && without({area}, {there}).empty();
                }))
                continue;
            if (area.is_single() && names(formulas, to_utf8(list[i]))) {
                named->setContent(to_unicode(literal(book.content(area.first))));
                continue;
            }
        }
        all->removeByName(list[i]);
    }
}

void leave(const Book& book, const std::vector<std::string>& sheets, bool only_printed) {
    std::vector<Area> staying;
    ChartData chart_data(book);
    for (const std::string& name : sheets) {
        const sal_Int32 index = index_of_sheet(book, name);
        const auto areas =
            only_printed ? printed_areas(book, index) : std::vector<Area>{whole_area(book, index)};
        staying.insert(staying.end(), areas.begin(), areas.end());
        chart_data.keep(index, areas);
    }
    chart_data.move();
    leave_names(book, staying, conditions(book, sheets));
    if (only_printed)
        for (const std::string& name : sheets) {
            const sal_Int32 index = index_of_sheet(book, name);
            std::vector<Area> here;
            for (const Area& area : staying)
                if (area.first.sheet == index) here.push_back(area);
            for (const Area& area : without({whole_area(book, index)}, here)) clear(book, area, all_contents);
            clear(book, whole_area(book, index), sheet::CellFlags::ANNOTATION);
        }
    const std::string hidden =
        chart_data.sheet() < 0 ? std::string() : name_of_sheet(book, chart_data.sheet());
    for (sal_Int32 index = book.sheet_count() - 1; index >= 0; --index) {
        const std::string name = name_of_sheet(book, index);
        const uno::Reference<com::sun::star::beans::XPropertySet> look(book.sheet(index),
                                                                       uno::UNO_QUERY_THROW);
        if (std::find(sheets.begin(), sheets.end(), name) != sheets.end())
            look->setPropertyValue("IsVisible", Any(true));
        else if (name == hidden)
            look->setPropertyValue("IsVisible", Any(false));
    }
    for (sal_Int32 index = book.sheet_count() - 1; index >= 0; --index) {
        const std::string name = name_of_sheet(book, index);
        if (name != hidden && std::find(sheets.begin(), sheets.end(), name) == sheets.end())
            book.document()->getSheets()->removeByName(to_unicode(name));
    }
}

}  // namespace

Area used_area(const Book& book, sal_Int32 index) {
    const auto cursor = book.sheet(index)->createCursor();
    const uno::Reference<sheet::XUsedAreaCursor> used(cursor, uno::UNO_QUERY_THROW);
    used->gotoStartOfUsedArea(false);
    used->gotoEndOfUsedArea(true);
    return area_of(uno::Reference<table::XCellRange>(cursor, uno::UNO_QUERY_THROW));
}

std::vector<Area> printed_areas(const Book& book, sal_Int32 index) {
    const uno::Reference<sheet::XPrintAreas> print(book.sheet(index), uno::UNO_QUERY_THROW);
    const auto ranges = print->getPrintAreas();
    std::vector<Area> printed;
    for (sal_Int32 i = 0; i < ranges.getLength(); ++i) {
        const Area area = area_of(ranges[i]);
        printed.push_back(area);
        if (print->getPrintTitleRows()) {
            const Area rows = area_of(print->getTitleRows());
            printed.push_back(
                {{index, area.first.column, rows.first.row}, {index, area.last.column, rows.last.row}});
        }
        if (print->getPrintTitleColumns()) {
            const Area columns = area_of(print->getTitleColumns());
            printed.push_back(
                {{index, columns.first.column, area.first.row}, {index, columns.last.column, area.last.row}});
        }
    }
    if (printed.empty()) printed.push_back(used_area(book, index));
    std::vector<Area> visible;
    for (const Area& area : printed) {
        const auto found = uno::Reference<sheet::XCellRangesQuery>(book.range(area), uno::UNO_QUERY_THROW)
                               ->queryVisibleCells()
                               ->getRangeAddresses();
        for (sal_Int32 i = 0; i < found.getLength(); ++i) visible.push_back(area_of(found[i]));
    }
    return visible;
}

void leave_printed_pages(const Book& book, const std::vector<std::string>& sheets) {
    leave(book, sheets, true);
}

void leave_sheets(const Book& book, const std::vector<std::string>& sheets) {
    leave(book, sheets, false);
}

}  // namespace pullsheet::addin
