# SPDX-License-Identifier: Apache-2.0
"""function-guide.fods: every function of the catalogue with its live example, made from the catalogue itself."""

import math
import pathlib
import sys

from com.sun.star.beans.PropertyAttribute import REMOVABLE
from com.sun.star.table import CellRangeAddress
from com.sun.star.table.CellHoriJustify import LEFT

from paper import Book, about_page, checks_page, column_name

ROOT = pathlib.Path(__file__).resolve().parents[2]
sys.path.append(str(ROOT / "harness" / "guide"))

from catalogue import Catalogue, is_series, is_table, literal, parameter_of  # noqa: E402

TITLE = "Function guide"
FINGERPRINT = "Made from catalogue"
WIDTHS = [38, 66, 20, 46, 34, 28, 33]
PAGE_HEIGHT = 174
LINE = 4.4


def build(desktop, version):
    catalogue = Catalogue(ROOT / "build" / "harness" / "pullsheet")
    book = Book(desktop, TITLE, "All %d functions with live examples, ranges and sources" % len(catalogue.functions))
    book.version = version
    book.doc.DocumentProperties.UserDefinedProperties.addProperty(FINGERPRINT, REMOVABLE, catalogue.fingerprint())
    book.doc.enableAutomaticCalculation(False)  # everything is computed once, when the book is saved
    book._style("Typed", CharFontName="Liberation Mono", CharHeight=9, HoriJustify=LEFT, ParaIndent=100, IsTextWrapped=True)
    book._style("Link", "Label", CharColor=0x1B3FA0)
    about_page(
        book,
        [
            "For whoever looks for a function, or wants to know whether to trust it: what it answers, what it takes, in which unit "
            "and range, how it computes, from which published source, and how closely published values were met.",
            "Every function is computed here, live, beside the value that is expected. The example's arguments stand in yellow "
            "cells: change them and watch the answer. The checks then say that the answer differs from the example's, as it should.",
        ],
        [
            "Overview: all functions by family; a click on a name leads to its entry.",
            "One sheet a family: arguments, answer, example, method, accuracy seen, sources.",
            "Data: the ranges that the examples read.",
            "Checks: every example computed against its expected value, and one cell that says whether all agree.",
            "In any cell: =FUNCTION.WHY(B7) says why B7 fails, =FUNCTION.SOURCE(\"AIR.DENSITY\") names the sources.",
        ],
        "The shops, cars, parts and measurements in the examples are invented; published values are named with their source.",
    )
    # The sheets first, in their order: the overview links to rows that are only known once the families are written.
    overview = book.sheet("Overview", [62, 130, 36, 24])
    pages = {family["name"]: book.sheet(family["name"], WIDTHS) for family in catalogue.families}
    data = Data(book)
    entries = []
    for family in catalogue.families:
        entries += family_page(pages[family["name"]], family, data)
    data.finish()
    overview_page(overview, catalogue, entries)
    checks(book, entries)
    book.doc.enableAutomaticCalculation(True)
    return book


class Data:
    """The ranges of the examples, each once, under a name."""

    def __init__(self, book):
        self.book = book
        self.page = book.sheet("Data", [24] * 12)
        self.page.put("A1", "Data", "Page title")
        self.page.put("A2", "The ranges that the examples read; all of it is invented.", "Subtitle")
        self.names = {}
        self.row = 4
        self.series = []

    def name(self, parameter, rows):
        """The name of the range with this content, written when it is met for the first time."""
        key = repr(rows)
        if key not in self.names:
            known = set(self.names.values())
            name = base = "example_" + parameter
            number = 1
            while name in known:
                number += 1
                name = "%s_%d" % (base, number)
            self.names[key] = name
            if is_series(rows):
                self.series.append((name, rows))
            else:
                self._write(name, rows)
        return self.names[key]

    def _write(self, name, rows):
        page = self.page
        page.section("A%d:L%d" % (self.row, self.row), name)
        address = self._fill(0, self.row + 1, rows)
        self.book.name(name, page, address)
        self.row += len(rows) + 2

    def _fill(self, column, row, rows):
        address = "%s%d:%s%d" % (column_name(column), row, column_name(column + len(rows[0]) - 1), row + len(rows) - 1)
        self.page.style(address, "Input")
        self.page.range(address).setDataArray(tuple(tuple("" if cell is None else cell for cell in line) for line in rows))
        return address

    def finish(self):
        """The rows and columns of numbers, side by side under their names."""
        across = 12
        for start in range(0, len(self.series), across):
            group = self.series[start:start + across]
            self.page.section("A%d:L%d" % (self.row, self.row), "Columns of numbers")
            for column, (name, rows) in enumerate(group):
                self.page.put("%s%d" % (column_name(column), self.row + 1), name, "Column head")
                self.book.name(name, self.page, self._fill(column, self.row + 2, rows))
            self.page.height("A%d" % (self.row + 1), 2.2 * LINE)
            self.row += 3 + max(len(rows) for name, rows in group)
        self.page.print_page("A1:L%d" % (self.row - 1), landscape=True, pages_high=0)


def lines(text, width, per_character=1.72):
    """How many lines a text takes in a cell of that width [mm]."""
    if not text:
        return 1
    return sum(max(1, math.ceil(len(part) * per_character / (width - 3))) for part in text.split("\n"))


class Entry:
    """Where a function stands in the guide."""

    def __init__(self, function, sheet, row, answer_row):
        self.function = function
        self.sheet = sheet
        self.row = row
        self.answer_row = answer_row


def family_page(page, family, data):
    page.put("A1", family["name"], "Page title")
    page.height("A1", 11)
    page.put("A2", family["text"], "Subtitle")
    page.put("G2", '=HYPERLINK("#$Overview.A1";"all functions")', "Link")
    grid = Grid(page)
    row, used = 3, 24.0
    entries, new_pages = [], []
    for function in family["functions"]:
        entry = FunctionEntry(grid, function, data, row)
        height = entry.write()
        if used + height > PAGE_HEIGHT and used > 24.0:
            new_pages.append(row)
            used = 0.0
        used += height
        entries.append(Entry(function, family["name"], row + 1, entry.answer_row + 1))
        row = entry.row
    grid.write()
    for begins in new_pages:
        page.sheet.Rows.getByIndex(begins).IsStartOfNewPage = True
    verdicts = "F4:F%d" % row
    page.conditional(verdicts, 'F4="agrees"', "Agrees")
    page.conditional(verdicts, 'F4="differs"', "Stands out")
    page.freeze(0, 2)
    page.print_page("A1:G%d" % (row - 1), landscape=True, pages_high=0)
    return entries


class Grid:
    """What is written on a page, collected first and then written with few calls: the office answers each one by one."""

    def __init__(self, page):
        self.page = page
        self.texts = {}
        self.numbers = {}
        self.formulas = {}
        self.styles = {}
        self.merged = []
        self.heights = []

    def put(self, column, row, content, style):
        """A number, a text (also one that begins with =), or a Formula."""
        if isinstance(content, Formula):
            self.formulas[column, row] = content
        elif isinstance(content, (int, float)):
            self.numbers[column, row] = content
        elif content:
            self.texts[column, row] = content
        self.style(style, column, row)

    def style(self, style, column, row, last_column=None):
        self.styles.setdefault(style, []).append((column, row, last_column or column))

    def merge(self, column, row, last_column):
        self.merged.append((column, row, last_column))

    def write(self):
        sheet, book = self.page.sheet, self.page.book
        last = max(row for _, row in self.texts)
        cells = {**self.texts, **self.numbers}
        for start in range(0, last + 1):
            line = [cells.get((column, start), "") for column in range(7)]
            if any(value != "" for value in line):
                sheet.getCellRangeByPosition(0, start, 6, start).setDataArray((tuple(line),))
        index = sheet.RangeAddress.Sheet
        for style, places in self.styles.items():
            ranges = book.doc.createInstance("com.sun.star.sheet.SheetCellRanges")
            addresses = []
            for column, row, last_column in places:
                address = CellRangeAddress()
                address.Sheet = index
                address.StartColumn, address.EndColumn, address.StartRow, address.EndRow = column, last_column, row, row
                addresses.append(address)
            ranges.addRangeAddresses(tuple(addresses), False)
            ranges.CellStyle = style
        for column, row, last_column in self.merged:
            sheet.getCellRangeByPosition(column, row, last_column, row).merge(True)
        rows = sheet.Rows
        for row, millimetres in self.heights:
            rows.getByIndex(row).Height = int(millimetres * 100)
        for (column, row), formula in self.formulas.items():
            cell = sheet.getCellByPosition(column, row)
            if formula.number_format:
                cell.NumberFormat = book.number_format(formula.number_format)
            cell.setFormula(formula.text)


class Formula:
    def __init__(self, text, number_format=None):
        self.text = text
        self.number_format = number_format


class FunctionEntry:
    """Writes one function from a row on. Rows are counted from 0, as the office does."""

    def __init__(self, grid, function, data, row):
        self.grid = grid
        self.function = function
        self.data = data
        self.row = row
        self.height = 0.0
        self.arguments = []
        self.answer_row = None

    def take(self, millimetres):
        self.grid.heights.append((self.row, millimetres))
        self.height += millimetres
        self.row += 1

    def write(self):
        grid, function = self.grid, self.function
        grid.put(0, self.row, "%s:  %s" % (function["name"], function["summary"]), "Section")
        grid.style("Section", 1, self.row, 6)
        self.take(6.5)
        self.wide("in a cell", "=" + self.written_call(), "Typed")
        if function["parameters"]:
            self.heads(["argument", "meaning", "unit", "allowed, else an error", "without a warning", "when left out",
                        "example"], 9)
            self.parameters()
        self.answer()
        if function["formula"]:
            self.wide("equation", "%s\n%s" % (function["formula"].replace("; ", "\n"), function["symbols"]))
        self.wide("method", function["method"])
        accuracy = ([function["accuracy"]] if function["accuracy"] else []) + [seen["text"] for seen in function["seen"]]
        if accuracy:
            self.wide("accuracy seen", "\n".join(accuracy))
        self.wide("sources" if len(function["sources"]) > 1 else "source", "\n".join(s["citation"] for s in function["sources"]))
        self.take(5)
        return self.height

    def heads(self, texts, height):
        for column, text in enumerate(texts):
            self.grid.put(column, self.row, text, "Column head")
        self.take(height)

    def wide(self, title, text, style="Computed note"):
        """A row with one text over the columns behind its title."""
        self.grid.put(0, self.row, title, "Quiet row head")
        self.grid.put(1, self.row, text, style)
        self.grid.style(style, 2, self.row, 6)
        self.grid.merge(1, self.row, 6)
        self.take(1.2 + (LINE - 0.4) * lines(text, sum(WIDTHS[1:]), 1.95 if style == "Typed" else 1.45))

    def written_call(self):
        """The call of the example as one would type it, with the names of the ranges."""
        arguments = list(self.function["example"]["arguments"])
        while arguments and arguments[-1] is None:
            arguments.pop()
        if any(parameter["kind"] == "cell" for parameter in self.function["parameters"]):
            return "%s(B7)" % self.function["name"]
        return "%s(%s)" % (self.function["name"], ";".join(
            self.data.name(parameter_of(self.function, position)["name"], argument) if is_table(argument) else literal(argument)
            for position, argument in enumerate(arguments)))

    def parameters(self):
        grid, function = self.grid, self.function
        given = list(function["example"]["arguments"])
        for position in range(max(len(function["parameters"]), len(given))):
            parameter = parameter_of(function, position)
            is_further = position >= len(function["parameters"])
            allowed = parameter["takes"]
            if parameter["choices"]:
                allowed = "one of " + ", ".join(parameter["choices"])
            elif parameter["allowed"]:
                allowed = (allowed + "; " if allowed else "") + parameter["allowed"]
            omitted = "required" if parameter["required"] else parameter["omitted"] or "no effect"
            texts = ["" if is_further else text for text in (parameter["meaning"], parameter["unit"], allowed,
                                                             parameter["unwarned"], omitted)]
            grid.put(0, self.row, "…" if is_further else parameter["name"], "Row head")
            for column, text in enumerate(texts, 1):
                grid.put(column, self.row, text, "Computed note")
            self.example_cell(parameter, given[position] if position < len(given) else None)
            shown = max([lines(parameter["name"], WIDTHS[0], 2.0)] + [lines(text, WIDTHS[column], 1.6)
                                                                      for column, text in enumerate(texts, 1)])
            self.take(1.2 + (LINE - 0.4) * shown)

    def example_cell(self, parameter, value):
        """The argument of the example in the last column; what the formula writes for it is remembered."""
        here = "G%d" % (self.row + 1)
        if is_table(value):
            here = self.data.name(parameter["name"], value)
            self.grid.put(6, self.row, Formula('=HYPERLINK("#%s";"%s")' % (here, here)), "Quiet")
        elif parameter["kind"] == "cell":
            self.grid.put(6, self.row, 1.0, "Input")
        elif value is None:
            here = ""
            self.grid.put(6, self.row, "", "Computed note")
        else:
            self.grid.put(6, self.row, value, "Input text" if isinstance(value, str) else "Input")
        self.arguments.append(here)

    def call(self):
        arguments = list(self.arguments)
        while arguments and not arguments[-1]:
            arguments.pop()
        return "%s(%s)" % (self.function["name"], ";".join(arguments))

    def answer(self):
        grid, function = self.grid, self.function
        example, result = function["example"], function["result"]
        self.heads(["", "answer", "unit", "expected", "deviation", "verdict", "computed now"], 5.5)
        self.answer_row = self.row
        here = self.row + 1
        meaning, call = result["meaning"], self.call()
        if result["kind"] == "table":
            call = "INDEX(%s;%d;%d)" % (call, example["row"] + 1, example["column"] + 1)
            meaning += " (a table; here row %d, column %d)" % (example["row"] + 1, example["column"] + 1)
        is_text = isinstance(example["expected"], str)
        style = "Computed note" if is_text else "Computed"
        grid.put(0, self.row, "answer", "Row head")
        grid.put(1, self.row, meaning, "Computed note")
        grid.put(2, self.row, example["unit"], "Computed note")
        grid.put(3, self.row, example["expected"], style)
        grid.put(6, self.row, Formula("=" + call), style)
        if is_text:
            grid.put(4, self.row, "", "Computed")
            verdict = '=IF(EXACT(G%d;D%d);"agrees";"differs")' % (here, here)
        else:
            grid.put(4, self.row, Formula("=G%d-D%d" % (here, here), "0.0E+00"), "Computed")
            verdict = '=IF(ABS(E%d)<=%r*MAX(1E-9;ABS(D%d));"agrees";"differs")' % (here, example["tolerance"], here)
        grid.put(5, self.row, Formula(verdict), "Computed text")
        texts = [(meaning, WIDTHS[1])] + ([(example["expected"], WIDTHS[3]), (example["expected"], WIDTHS[6])] if is_text else [])
        self.take(1.2 + (LINE - 0.4) * max(lines(text, width, 1.6) for text, width in texts))
        if result["kind"] == "table":
            columns = ", ".join(column["name"] + (" [%s]" % column["unit"] if column["unit"] else "") for column in result["columns"])
            self.wide("columns", "%s. Entered as an array formula, under a header row." % columns)


def overview_page(page, catalogue, entries):
    page.put("A1", "Overview", "Page title")
    page.put("A2", "A click on a name (with Ctrl held) leads to its entry; Ctrl+F finds any word.", "Subtitle")
    page.put("A3", '="All examples agree: "&all_checks_agree', "Row head")
    page.heads("A5", ["function", "what it answers", "answer of the example", "unit"])
    by_name = {entry.function["name"]: entry for entry in entries}
    row = 6
    for family in catalogue.families:
        page.section("A%d:D%d" % (row, row), "%s:  %s" % (family["name"], family["text"]))
        first = row + 1
        lines_here = []
        for function in family["functions"]:
            entry = by_name[function["name"]]
            lines_here.append(('=HYPERLINK("#$%s.A%d";"%s")' % (entry.sheet, entry.row, function["name"]), function["summary"],
                               "=$%s.G%d" % (entry.sheet, entry.answer_row), function["example"]["unit"]))
        row += len(lines_here)
        page.style("A%d:A%d" % (first, row), "Link")
        page.style("C%d:C%d" % (first, row), "Computed", "General")
        page.style("D%d:D%d" % (first, row), "Unit")
        page.range("A%d:D%d" % (first, row)).setFormulaArray(tuple(lines_here))
        row += 1
    page.freeze(0, 5)
    page.print_page("A1:D%d" % (row - 1), pages_high=0, repeat_rows="A5:D5")


def checks(book, entries):
    rows = []
    for entry in entries:
        expected = entry.function["example"]["expected"]
        rows.append((entry.function["name"], "=$%s.G%d" % (entry.sheet, entry.answer_row),
                     expected if isinstance(expected, str) else "=$%s.D%d" % (entry.sheet, entry.answer_row),
                     entry.function["example"]["tolerance"] or 1e-9,
                     "; ".join(source["key"] for source in entry.function["sources"])))
    checks_page(book, rows, number_format="General", pages_high=0)
