# SPDX-License-Identifier: Apache-2.0
"""What all example sheets share: named styles, layout, inputs, charts, print pages.

A sheet is described by a Python file beside this one and written by Calc itself, so that every value in the saved
file was computed by Calc with the extension. Formulas are given in English with semicolons.
"""

import datetime

import uno
from com.sun.star.awt import Rectangle, Size
from com.sun.star.chart.ChartLegendPosition import BOTTOM
from com.sun.star.chart2 import Symbol
from com.sun.star.chart2.SymbolStyle import STANDARD
from com.sun.star.drawing.FillStyle import NONE as NO_FILL
from com.sun.star.drawing.LineStyle import NONE as NO_LINE
from com.sun.star.sheet.ConditionOperator import BETWEEN, FORMULA
from com.sun.star.sheet.ValidationType import DECIMAL, LIST
from com.sun.star.table import BorderLine2
from com.sun.star.table.CellHoriJustify import CENTER, LEFT, RIGHT
from com.sun.star.table.CellVertJustify2 import CENTER as MIDDLE

from office import property_value

INK = 0x20303A
PAPER = 0xFFFFFF
RULE = 0x9AA8AE
BAND = 0x2F5D62
BAND_SOFT = 0xE3ECEB
INPUT_PAPER = 0xFFF6DC
INPUT_INK = 0x1B3FA0
GOOD = 0xDDEFD8
BAD = 0xF6D5CE
SERIES_COLOURS = [0x2F5D62, 0xC8743A, 0x6B8E4E, 0x7B5EA7, 0xB03A48, 0x3C79B4]
# Of lines in the background of symbols, from light to dark.
LINE_COLOURS = [0xC9D1D4, 0xB2BDC1, 0x9AA8AE, 0x82929A, 0x6B7C85, 0x556670]

CAUTIONS = [
    "Figures are estimates from the inputs stated and never a release for road use.",
    "Raising power or removing emission equipment is subject to type approval, registration and emission law: "
    "ask the local authority and a licensed engineer before the work is done.",
    "Ethanol fuels are flammable and attack unsuited seals, hoses and tanks; use rated parts and keep sparks away.",
    "Relieve the fuel pressure before opening a line; a high-pressure jet goes through skin and needs surgery at once.",
    "Rollers and full-load runs need guards, restraint, ventilation for exhaust gas and nobody in line with the wheels.",
    "Speed tests belong on a closed course.",
]


def symbol(shape, colour):
    """One of the standard symbols of a chart, filled."""
    result = Symbol()
    result.Style = STANDARD
    result.StandardSymbol = shape
    result.Size = Size(230, 230)
    result.FillColor = result.BorderColor = colour
    return result


def column_name(index):
    name = ""
    index += 1
    while index:
        index, rest = divmod(index - 1, 26)
        name = chr(65 + rest) + name
    return name


class Book:
    """A new spreadsheet document with the named styles of all example sheets."""

    def __init__(self, desktop, title, subject):
        self.doc = desktop.loadComponentFromURL("private:factory/scalc", "_blank", 0, ())
        info = self.doc.DocumentProperties
        info.Title = title
        info.Subject = subject
        info.Author = "Pullsheet"
        self.title = title
        locale = uno.createUnoStruct("com.sun.star.lang.Locale")
        locale.Language, locale.Country = "en", "GB"
        self.locale = locale
        self.styles = self.doc.StyleFamilies.getByName("CellStyles")
        default = self.styles.getByName("Default")
        default.CharFontName = "Liberation Sans"
        default.CharHeight = 9.5
        default.CharColor = INK
        default.CharLocale = locale
        default.VertJustify = MIDDLE
        self._formats = {}
        self._make_styles()
        self._sheets_made = 0

    def _style(self, name, parent="Default", **properties):
        style = self.doc.createInstance("com.sun.star.style.CellStyle")
        self.styles.insertByName(name, style)
        style.ParentStyle = parent
        for key, value in properties.items():
            style.setPropertyValue(key, value)
        return style

    def number_format(self, code):
        if code not in self._formats:
            formats = self.doc.NumberFormats
            key = formats.queryKey(code, self.locale, False)
            self._formats[code] = key if key != -1 else formats.addNew(code, self.locale)
        return self._formats[code]

    def _make_styles(self):
        line = BorderLine2()
        line.Color, line.OuterLineWidth, line.LineWidth = RULE, 9, 9
        boxed = {side: line for side in ("TopBorder", "BottomBorder", "LeftBorder", "RightBorder")}
        self._style("Page title", CharHeight=17, CharWeight=150.0, CharColor=BAND)
        self._style("Subtitle", CharHeight=10.5, CharColor=0x5B6B72)
        self._style("Section", HoriJustify=LEFT, ParaIndent=100, CharHeight=11, CharWeight=150.0, CharColor=PAPER, CellBackColor=BAND)
        self._style("Column head", CharWeight=150.0, CellBackColor=BAND_SOFT, IsTextWrapped=True, HoriJustify=CENTER, **boxed)
        self._style("Row head", HoriJustify=LEFT, ParaIndent=100, CharWeight=150.0, CellBackColor=BAND_SOFT, IsTextWrapped=True, **boxed)
        self._style("Label", IsTextWrapped=False)
        self._style("Unit", CharColor=0x5B6B72, HoriJustify=LEFT, ParaIndent=150)
        self._style("Remark", CharColor=0x5B6B72, CharHeight=8.5, HoriJustify=LEFT, ParaIndent=100, IsTextWrapped=True)
        self._style("Body", HoriJustify=LEFT, IsTextWrapped=True)
        self._style("Caution", CharHeight=8.5, IsTextWrapped=True, CharColor=0x7A2E1D)
        self._style("Input", CellBackColor=INPUT_PAPER, CharColor=INPUT_INK, **boxed)
        self._style("Input text", "Input", IsTextWrapped=True)
        self._style("Computed", HoriJustify=RIGHT, **boxed)
        self._style("Computed text", "Computed", HoriJustify=CENTER, IsTextWrapped=True)
        self._style("Computed note", "Computed", CharHeight=8.5, HoriJustify=LEFT, ParaIndent=100, IsTextWrapped=True)
        self._style("Quiet", "Computed", CharColor=0x5B6B72, CharHeight=8.5, HoriJustify=CENTER, ShrinkToFit=True)
        self._style("Quiet row head", "Row head", CharColor=0x5B6B72, CharHeight=8.5, CharWeight=100.0, HoriJustify=RIGHT)
        self._style("Headline", "Computed", CharWeight=150.0, CharHeight=11.5, HoriJustify=CENTER)
        self._style("Agrees", "Computed", CellBackColor=GOOD, HoriJustify=CENTER, CharWeight=150.0)
        self._style("Stands out", "Computed", CellBackColor=BAD, HoriJustify=CENTER, CharWeight=150.0)

    def sheet(self, name, widths):
        """A new sheet; widths of the columns in millimetres."""
        sheets = self.doc.Sheets
        if self._sheets_made == 0:
            first = sheets.getByIndex(0)
            first.Name = name
        else:
            sheets.insertNewByName(name, sheets.Count)
        self._sheets_made += 1
        page = Page(self, sheets.getByName(name))
        for index, width in enumerate(widths):
            page.sheet.Columns.getByIndex(index).Width = int(width * 100)
        return page

    def name(self, name, page, address):
        """A named range, document-wide."""
        names = self.doc.NamedRanges
        cell = page.sheet.getCellRangeByName(address)
        origin = page.sheet.getCellByPosition(0, 0).CellAddress
        names.addNewByName(name, "$'%s'.%s" % (page.sheet.Name, absolute(address)), origin, 0)
        return cell

    def move_before(self, name, other):
        """Moves a sheet before another one. A chart that stands before the sheet with its data loses touch with it when Calc reads
        a flat file, and no longer follows the inputs."""
        self.doc.Sheets.moveByName(name, self.doc.Sheets.getByName(other).RangeAddress.Sheet)

    def save(self, path):
        controller = self.doc.CurrentController
        if controller is not None:
            controller.setActiveSheet(self.doc.Sheets.getByIndex(0))
        self.doc.calculateAll()
        url = uno.systemPathToFileUrl(path)
        self.doc.storeToURL(url, (property_value("FilterName", "OpenDocument Spreadsheet Flat XML"), property_value("Overwrite", True)))

    def close(self):
        self.doc.close(True)


def absolute(address):
    """A1:B2 → $A$1:$B$2"""
    parts = []
    for part in address.split(":"):
        letters = "".join(c for c in part if c.isalpha())
        digits = "".join(c for c in part if c.isdigit())
        parts.append("$%s$%s" % (letters, digits))
    return ":".join(parts)


class Page:
    """One sheet and what is written on it. Addresses are written as in Calc ("B4")."""

    def __init__(self, book, sheet):
        self.book = book
        self.sheet = sheet

    def range(self, address):
        return self.sheet.getCellRangeByName(address)

    def put(self, address, content, style=None, number_format=None, name=None):
        """Writes a number, a text or a formula (a text that begins with =)."""
        cell = self.range(address)
        if isinstance(content, datetime.date):
            number_format = number_format or "YYYY-MM-DD"
        # The look first: a formula in a cell without a number format of its own takes that of the cells it reads.
        if style:
            cell.CellStyle = style
        if number_format:
            cell.NumberFormat = self.book.number_format(number_format)
        if isinstance(content, datetime.date):
            cell.setFormula(content.isoformat())
        elif isinstance(content, (int, float)):
            cell.setValue(content)
        elif isinstance(content, str) and content.startswith("="):
            cell.setFormula(content)
        elif content is not None:
            cell.setString(content)
        if name:
            self.book.name(name, self, address)
        return cell

    def array(self, address, formula, style=None, number_format=None):
        """An array formula over the range."""
        area = self.range(address)
        if style:
            area.CellStyle = style
        if number_format:
            area.NumberFormat = self.book.number_format(number_format)
        area.setArrayFormula(formula)
        return area

    def style(self, address, style, number_format=None):
        area = self.range(address)
        area.CellStyle = style
        if number_format:
            area.NumberFormat = self.book.number_format(number_format)

    def merge(self, address, content=None, style=None, height=None):
        area = self.range(address)
        area.merge(True)
        first = address.split(":")[0]
        if content is not None:
            self.put(first, content)
        if style:
            area.CellStyle = style
        if height:
            self.height(first, height)

    def height(self, address, millimetres):
        row = self.range(address).Rows.getByIndex(0)
        row.OptimalHeight = False
        row.Height = int(millimetres * 100)

    def section(self, address, text):
        """A heading over the width of the range."""
        self.range(address).CellStyle = "Section"
        self.put(address.split(":")[0], text)

    def heads(self, first, texts, style="Column head", height=None):
        """Column heads from `first` to the right."""
        cell = self.range(first)
        column, row = cell.CellAddress.Column, cell.CellAddress.Row
        for offset, text in enumerate(texts):
            self.put("%s%d" % (column_name(column + offset), row + 1), text, style)
        if height:
            self.height(first, height)

    def input(self, address, value, number_format=None, name=None, low=None, high=None, choices=None, help=None):
        """An input cell in the input style, with its validity and help text."""
        style = "Input text" if isinstance(value, str) and not choices else "Input"
        cell = self.put(address, value, style, number_format, name)
        self.validity(address, low=low, high=high, choices=choices, help=help)
        return cell

    def validity(self, address, low=None, high=None, choices=None, help=None):
        area = self.range(address)
        validation = area.Validation
        if choices:
            validation.Type = LIST
            if isinstance(choices, str):
                validation.setFormula1(choices)
            else:
                validation.setFormula1(";".join('"%s"' % choice for choice in choices))
            validation.ErrorMessage = "Choose one of the list."
            validation.ShowErrorMessage = True
        elif low is not None:
            validation.Type = DECIMAL
            validation.setOperator(BETWEEN)
            validation.setFormula1(repr(low))
            validation.setFormula2(repr(high))
            validation.ErrorMessage = "Allowed is %g to %g." % (low, high)
            validation.ShowErrorMessage = True
        if help:
            validation.InputTitle = "Pullsheet"
            validation.InputMessage = help
            validation.ShowInputMessage = True
        area.Validation = validation

    def conditional(self, address, formula, style):
        """The style where the formula (relative to the first cell) holds."""
        area = self.range(address)
        conditions = area.ConditionalFormat
        conditions.addNew(
            (
                property_value("Operator", FORMULA),
                property_value("Formula1", formula),
                property_value("StyleName", style),
                property_value("SourcePosition", self.range(address.split(":")[0]).CellAddress),
            )
        )
        area.ConditionalFormat = conditions

    def freeze(self, columns, rows):
        controller = self.book.doc.CurrentController
        if controller is not None:
            controller.setActiveSheet(self.sheet)
            controller.freezeAtPosition(columns, rows)

    def print_page(self, address, landscape=False, pages_wide=1, pages_high=1, repeat_rows=None, scale=None):
        """An A4 page with a footer that carries date, version and page. `scale` in per cent in place of a number of pages, where rows
        begin new pages."""
        styles = self.book.doc.StyleFamilies.getByName("PageStyles")
        name = "Page of " + self.sheet.Name
        style = self.book.doc.createInstance("com.sun.star.style.PageStyle")
        styles.insertByName(name, style)
        style = styles.getByName(name)
        style.IsLandscape = landscape
        style.Width, style.Height = (29700, 21000) if landscape else (21000, 29700)
        for margin in ("LeftMargin", "RightMargin"):
            style.setPropertyValue(margin, 1500)
        style.TopMargin, style.BottomMargin = 1300, 1000
        if scale:
            style.PageScale = scale
        else:
            style.ScaleToPagesX, style.ScaleToPagesY = pages_wide, pages_high
        style.CenterHorizontally = True
        style.HeaderOn = False
        style.FooterOn = True
        footer = style.RightPageFooterContent
        footer.LeftText.String = self.book.title
        cursor = footer.CenterText.createTextCursor()
        footer.CenterText.String = ""
        date = self.book.doc.createInstance("com.sun.star.text.TextField.DateTime")
        date.IsDate = True
        cursor = footer.CenterText.createTextCursor()
        footer.CenterText.insertTextContent(cursor, date, False)
        footer.RightText.String = "Pullsheet " + self.book.version + ", page "
        cursor = footer.RightText.createTextCursor()
        cursor.gotoEnd(False)
        number = self.book.doc.createInstance("com.sun.star.text.TextField.PageNumber")
        footer.RightText.insertTextContent(cursor, number, False)
        style.RightPageFooterContent = footer
        self.sheet.PageStyle = name
        area = self.range(address).RangeAddress
        self.sheet.setPrintAreas((area,))
        if repeat_rows:
            self.sheet.setPrintTitleRows(True)
            self.sheet.setTitleRows(self.range(repeat_rows).RangeAddress)

    def for_customer(self, address):
        """Marks the page as one that a customer's copy holds: its name is what the extension looks for."""
        self.book.name("customer_page", self, address)

    def no_print(self):
        """Keeps this sheet off the printer: the customer takes only the pages meant for them."""
        self.sheet.setPrintAreas(())

    def _anywhere(self, address):
        """A range of this sheet, or of another one where the address names it ("$Inputs.A1:B2")."""
        sheet, dot, area = address.rpartition(".")
        return self.book.doc.Sheets.getByName(sheet.strip("$'")).getCellRangeByName(area) if dot else self.range(area)

    def chart(self, name, anchor, size, ranges, kind="xy", title=None, x_title=None, y_title=None,
              lines=True, symbols=False, columns_head=True, legend=True, x_range=None, y_range=None,
              symbols_for=()):
        """A chart from cell ranges. `kind`: "xy" (first range is x) or "column". `anchor` is the top left cell, size in
        millimetres. `symbols_for`: the series of an xy chart that are drawn as symbols without a line."""
        position = self.range(anchor).Position
        box = Rectangle(position.X, position.Y, int(size[0] * 100), int(size[1] * 100))
        addresses = tuple(self._anywhere(address).RangeAddress for address in ranges)
        charts = self.sheet.Charts
        charts.addNewByName(name, box, addresses, columns_head, kind == "column")
        chart = charts.getByName(name).EmbeddedObject
        diagram_service = "com.sun.star.chart.XYDiagram" if kind == "xy" else "com.sun.star.chart.BarDiagram"
        diagram = chart.createInstance(diagram_service)
        chart.setDiagram(diagram)
        if kind == "xy":
            diagram.Lines = lines
            diagram.SymbolType = -3 if not symbols else -1
        if title:
            chart.HasMainTitle = True
            chart.Title.String = title
            chart.Title.CharHeight = 11
        else:
            chart.HasMainTitle = False
        chart.HasLegend = legend
        if legend:
            chart.Legend.Alignment = BOTTOM
            chart.Legend.CharHeight = 8.5
            chart.Legend.FillStyle = NO_FILL
            chart.Legend.LineStyle = NO_LINE
        if x_title:
            diagram.HasXAxisTitle = True
            diagram.XAxisTitle.String = x_title
            diagram.XAxisTitle.CharHeight = 9
        if y_title:
            diagram.HasYAxisTitle = True
            diagram.YAxisTitle.String = y_title
            diagram.YAxisTitle.CharHeight = 9
        diagram.Wall.FillStyle = NO_FILL
        chart.Area.LineStyle = NO_LINE
        diagram.HasXAxisGrid = kind == "xy"
        diagram.HasYAxisGrid = True
        for grid in ([diagram.XMainGrid] if kind == "xy" else []) + [diagram.YMainGrid]:
            grid.LineColor = 0xD5DCDE
        series = chart.getFirstDiagram().getCoordinateSystems()[0].getChartTypes()[0].getDataSeries()
        for index, one in enumerate(series):
            if symbols_for and index not in symbols_for:
                colour = LINE_COLOURS[index % len(LINE_COLOURS)]
            else:
                colour = SERIES_COLOURS[(index - min(symbols_for, default=0)) % len(SERIES_COLOURS)]
            one.setPropertyValue("Color", colour)
            if kind != "xy":
                continue
            one.setPropertyValue("LineWidth", 60)
            if index in symbols_for:
                one.setPropertyValue("LineStyle", NO_LINE)
                one.setPropertyValue("Symbol", symbol(index - min(symbols_for), colour))
        for axis, limits in ((diagram.XAxis, x_range), (diagram.YAxis, y_range)):
            axis.CharHeight = 8.5
            if limits:
                axis.Min, axis.Max = limits
        return chart


def input_row(page, row, label, value, unit, name, low, high, code, note):
    """A row of an inputs page: label, value, unit, and a remark in column G."""
    page.put("A%d" % row, label, "Label")
    page.input("B%d" % row, value, code, name, low, high)
    page.put("C%d" % row, unit, "Unit")
    page.put("G%d" % row, note, "Remark")


def about_page(book, paragraphs, steps, invented):
    """The first sheet of every example: what it is for, how to use it, and whether the extension is there."""
    page = book.sheet("About", [6, 160])
    page.put("B1", book.title, "Page title")
    page.height("B1", 11)
    page.put("B2", book.doc.DocumentProperties.Subject, "Subtitle")
    # A function that is not there makes its whole formula an error, so that the words stand in a cell of their own;
    # NOW() has that cell computed at every load, also where Calc trusts the values in the file.
    page.put("B5", "=FUNCTION.VERSION()&LEFT(NOW();0)", "Remark")
    page.put(
        "B4",
        '=IF(ISERROR(B5);"The Pullsheet extension is not installed in this Calc: the cells of this file cannot be computed and '
        'show #NAME? or old figures. Install pullsheet.oxt (Tools, Extension Manager), close all windows, open the file again.";'
        '"The Pullsheet extension is installed, version "&B5&": every figure in this file is computed by it.")&LEFT(NOW();0)',
        "Row head", name="extension_state",
    )
    page.height("B4", 10)
    row = 7
    for paragraph in paragraphs:
        page.put("B%d" % row, paragraph, "Body")
        page.height("B%d" % row, 5.0 * (1 + len(paragraph) // 105))
        row += 1
    row += 1
    page.section("B%d:B%d" % (row, row), "How to use it")
    row += 1
    for number, step in enumerate(steps, 1):
        page.put("A%d" % row, number, "Unit")
        page.put("B%d" % row, step, "Body")
        page.height("B%d" % row, 5.0 * (1 + len(step) // 105))
        row += 1
    row += 1
    page.section("B%d:B%d" % (row, row), "Whose data this is")
    row += 1
    page.put("B%d" % row, invented, "Body")
    page.height("B%d" % row, 5.0 * (1 + len(invented) // 105))
    row += 2
    page.section("B%d:B%d" % (row, row), "Cautions")
    row += 1
    for caution in CAUTIONS:
        page.put("B%d" % row, caution, "Caution")
        page.height("B%d" % row, 4.6 * (1 + len(caution) // 115))
        row += 1
    page.put("B%d" % (row + 1), "What the functions rest on, what was measured against them and what nobody has checked yet: menu Pullsheet, "
             "About Pullsheet, How we know.", "Remark")
    page.height("B%d" % (row + 1), 10)
    page.put("B%d" % (row + 2), "Cells on yellow paper are inputs; everything else is computed.", "Remark")
    page.print_page("A1:B%d" % (row + 2))
    return page


def checks_page(book, rows, number_format="0.000000", pages_high=1):
    """The last sheet: what is expected beside what is computed, and one cell that says that all agree.

    `rows`: (what, formula, expected, relative tolerance, where the expected value comes from). Expected is a number, a
    formula that gives one, or a text."""
    page = book.sheet("Checks", [78, 26, 26, 26, 26, 70])
    page.put("A1", "Checks", "Page title")
    page.put("A2", "Expected values beside computed ones: independent of the inputs unless a row says so.", "Subtitle")
    page.put("A4", "All checks agree", "Row head")
    first = 7
    last = first + len(rows) - 1
    page.put("B4", '=IF(ISERROR($About.B5);"no";IF(SUMPRODUCT(--(E%d:E%d="agrees"))=%d;"yes";"no"))&LEFT(NOW();0)' % (first, last, len(rows)), "Headline",
             name="all_checks_agree")
    page.conditional("B4", '$B$4="yes"', "Agrees")
    page.conditional("B4", '$B$4<>"yes"', "Stands out")
    page.heads("A6", ["what is checked", "computed", "expected", "tolerance", "verdict", "where the expected value comes from"])
    page.style("A%d:A%d" % (first, last), "Body")
    page.style("B%d:C%d" % (first, last), "Computed", number_format)
    page.style("D%d:D%d" % (first, last), "Computed", "0.0E+00")
    page.style("E%d:E%d" % (first, last), "Computed text")
    page.style("F%d:F%d" % (first, last), "Remark")
    for index, (what, formula, expected, tolerance, origin) in enumerate(rows):
        row = first + index
        is_text = isinstance(expected, str) and not expected.startswith("=")
        page.range("A%d:F%d" % (row, row)).setDataArray(((what, "", expected if is_text else "", tolerance, "", origin),))
        page.put("B%d" % row, formula)
        if not is_text:
            page.put("C%d" % row, expected)
        if is_text:
            verdict = '=IF(IFERROR(B%d=C%d;FALSE());"agrees";"differs")' % (row, row)
        else:
            verdict = '=IF(IFERROR(ABS(B%d-C%d)<=D%d*MAX(1E-9;ABS(C%d));FALSE());"agrees";"differs")' % ((row,) * 4)
        page.put("E%d" % row, verdict)
    page.range("A%d:A%d" % (first, last)).Rows.Height = 850
    page.conditional("E%d:E%d" % (first, last), 'E%d="agrees"' % first, "Agrees")
    page.conditional("E%d:E%d" % (first, last), 'E%d<>"agrees"' % first, "Stands out")
    page.print_page("A1:F%d" % last, landscape=True, pages_high=pages_high, repeat_rows="A6:F6" if pages_high != 1 else None)
    return page
