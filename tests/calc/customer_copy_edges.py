# SPDX-License-Identifier: Apache-2.0
"""The customer copy where a page ends and where its formats come from elsewhere: what runs into the page, what is cut by its edge, lists in
shapes, number formats that a condition sets."""

import unittest

import uno
from com.sun.star.sheet.ConditionOperator import FORMULA, GREATER

from copies import CopyTestCase, everything_in, pictures, pixels_apart
from office import property_value


class Edges(CopyTestCase):
    def area(self, address):
        self.sheet.setPrintAreas((self.cell(address).RangeAddress,))

    def assert_copy_looks_the_same(self):
        original = self.pdf_of(self.document, None, "original.pdf")
        ods, xlsx, pdf = self.copy(Sheets=["Sheet1"])
        self.assert_same_pages(original, pdf)
        self.assert_same_pages(original, self.pdf_of(self.seen(ods), None, "again.pdf"))
        return ods, xlsx, pdf

    def number_format(self, code):
        formats, locale = self.document.NumberFormats, uno.createUnoStruct("com.sun.star.lang.Locale")
        known = formats.queryKey(code, locale, False)
        return formats.addNew(code, locale) if known == -1 else known

    # Texts that begin beside the page.

    LONG = "a text much longer than its own cell, up to Geheim47q"

    def test_a_text_that_runs_into_the_page_is_named(self):
        """From the left, from the right, from the middle, over empty cells; each alone."""
        for place, alignment, named in (("A3", "STANDARD", True), ("A3", "LEFT", True), ("A3", "CENTER", True), ("F3", "RIGHT", True),
                                        ("F3", "CENTER", True), ("G3", "RIGHT", True), ("B3", "RIGHT", False), ("F3", "LEFT", False),
                                        ("F3", "STANDARD", False), ("A3", "REPEAT", False), ("A9", "LEFT", False)):
            with self.subTest(place=place, alignment=alignment):
                self.put("D5", "on the page")
                self.area("C2:E8")
                cell = self.put(place, "")
                without = self.pdf_of(self.document, None, "without.pdf")
                cell.HoriJustify = uno.Enum("com.sun.star.table.CellHoriJustify", alignment)
                cell.String = self.LONG
                try:
                    self.save()
                    original = self.pdf_of(self.document, None, "original.pdf")
                    seen = any(pixels_apart(*pages) for pages in zip(pictures(original), pictures(without)))
                    self.assertEqual(seen, named, "what the page shows")
                    if named:
                        self.assertIn("the text of Sheet1.%s, which" % place, self.refused("copy"))
                        self.assertEqual(list(self.work.glob("*-customer*")), [])
                    else:
                        self.assert_same_pages(original, self.copy(Formats=["pdf"])[0])
                    for path in self.copy(WithoutParts=True):
                        self.assertNotIn("Geheim47q", everything_in(path))
                        path.unlink()
                finally:
                    cell.String = ""

    def test_how_long_a_text_may_be_beside_the_page(self):
        """Letter by letter longer, in three sizes: named from the first one that is seen on the page."""
        for size in (8, 10, 18):
            cell = self.put("A3", "")
            cell.CharHeight = size
            self.area("C2:E8")
            self.put("D5", "on the page")
            self.sheet.Rows.getByIndex(2).Height = 900
            empty = pictures(self.pdf_of(self.document, None, "empty.pdf"))
            length = 5
            while not pixels_apart(pictures(self.pdf_of(self.document, None, "text.pdf"))[0], empty[0]):
                length += 1
                self.assertLess(length, 60)
                cell.String = "n" * length
            self.save()
            self.assertIn("the text of Sheet1.A3, which", self.refused("copy"), (size, length))
            # The office measures for the screen, which is a little wider.
            cell.String = "n" * int(length * 0.85)
            self.copy(Formats=["pdf"])

    def test_a_text_beside_the_page_that_stays_there(self):
        """Short, wrapped, cut by its neighbour, a number, hidden, on a hidden row: it is not on the page and nothing is said."""
        self.put("D5", "on the page")
        self.put("B2", "short")
        self.put("B3", self.LONG)
        self.cell("B3").IsTextWrapped = True
        self.put("A4", self.LONG)
        self.put("B4", "x")
        self.put("B5", 1234567.0)
        self.put("B6", self.LONG)
        self.put("C6", "in its way")
        self.put("B7", self.LONG)
        self.sheet.Rows.getByIndex(6).IsVisible = False
        self.area("C2:E8")
        self.save()
        for path in self.assert_copy_looks_the_same():
            self.assertNotIn("Geheim47q", everything_in(path))

    # Shapes that are cut by the edge of the page.

    def test_a_shape_cut_by_the_edge_is_named(self):
        self.put("A1", "on the page")
        self.area("A1:D20")
        right = sum(self.sheet.Columns.getByIndex(column).Width for column in range(4))
        for kind in ("TextShape", "RectangleShape", "GraphicObjectShape", "Chart"):
            with self.subTest(kind):
                if kind == "Chart":
                    self.put("A2", 4711.8023)
                    self.put("A3", 2.0)
                    self.chart(self.sheet, "cut", "A2:A3", (right - 2000, 1000, 6000, 4000))
                else:
                    shape = self.shape(kind, right - 1000, 1000, 4000, 2000)
                    if kind == "GraphicObjectShape":
                        shape.Graphic = self.picture("x")
                    else:
                        shape.String = "one and Geheim47q"
                self.save()
                self.assertIn("a drawing, picture or chart of Sheet1 that the edge of the print range cuts", self.refused("copy"))
                self.assertEqual(list(self.work.glob("*-customer*")), [])
                for path in self.copy(WithoutParts=True):
                    self.assertNotIn("Geheim47q", everything_in(path))
                    path.unlink()
                if kind == "Chart":
                    self.sheet.Charts.removeByName("cut")
                else:
                    self.sheet.DrawPage.remove(shape)

    def test_a_shape_over_two_print_ranges_is_whole(self):
        self.put("A1", "first")
        self.put("A12", "second")
        self.sheet.setPrintAreas((self.cell("A1:D10").RangeAddress, self.cell("A11:D20").RangeAddress))
        shape = self.shape("RectangleShape", 500, 3500, 3000, 3000)
        shape.String = "over both"
        at_the_edge = self.shape("RectangleShape", 0, 0, sum(self.sheet.Columns.getByIndex(column).Width for column in range(4)), 400)
        at_the_edge.FillColor = 0xDDEEFF
        self.save()
        self.assert_copy_looks_the_same()

    # Lists in shapes.

    LISTS = """<?xml version="1.0" encoding="UTF-8"?>
<office:document xmlns:office="urn:oasis:names:tc:opendocument:xmlns:office:1.0" xmlns:table="urn:oasis:names:tc:opendocument:xmlns:table:1.0"
 xmlns:text="urn:oasis:names:tc:opendocument:xmlns:text:1.0" xmlns:style="urn:oasis:names:tc:opendocument:xmlns:style:1.0"
 xmlns:fo="urn:oasis:names:tc:opendocument:xmlns:xsl-fo-compatible:1.0" xmlns:draw="urn:oasis:names:tc:opendocument:xmlns:drawing:1.0"
 xmlns:svg="urn:oasis:names:tc:opendocument:xmlns:svg-compatible:1.0" office:version="1.3"
 office:mimetype="application/vnd.oasis.opendocument.spreadsheet"><office:automatic-styles>
<text:list-style style:name="Geheim47q bullets"><text:list-level-style-bullet text:level="1" text:bullet-char="●"><style:list-level-properties
 text:space-before="0.3cm" text:min-label-width="0.6cm"/><style:text-properties fo:font-family="OpenSymbol" fo:color="#aa0000" fo:font-size="80%%"/>
</text:list-level-style-bullet><text:list-level-style-bullet text:level="2" text:bullet-char="–"><style:list-level-properties
 text:space-before="1cm" text:min-label-width="0.6cm"/></text:list-level-style-bullet></text:list-style>
<text:list-style style:name="numbers"><text:list-level-style-number text:level="1" style:num-format="1" style:num-suffix=")" text:start-value="3">
<style:list-level-properties text:space-before="0.3cm" text:min-label-width="0.8cm"/></text:list-level-style-number>
<text:list-level-style-number text:level="2" style:num-format="i" style:num-prefix="(" style:num-suffix=")"><style:list-level-properties
 text:space-before="1.2cm" text:min-label-width="0.8cm"/></text:list-level-style-number></text:list-style></office:automatic-styles>
<office:body><office:spreadsheet><table:table table:name="Sheet1" table:print-ranges="Sheet1.A1:Sheet1.H60"><table:shapes>%s</table:shapes>
<table:table-column/><table:table-row><table:table-cell/></table:table-row></table:table></office:spreadsheet></office:body></office:document>"""

    def test_lists_in_shapes(self):
        """Bullets, numbers, a list in a list, in text boxes and in shapes: drawn as the office draws the original."""
        self.document.close(True)
        item = "<text:list-item><text:p>%s</text:p>%s</text:list-item>"
        shapes = ""
        for number, (style, shape) in enumerate((("Geheim47q bullets", "box"), ("numbers", "box"), ("Geheim47q bullets", "rect"), ("numbers", "rect"))):
            inner = "<text:list>%s</text:list>" % (item % ("below the second", "") + item % ("and another", ""))
            texts = '<text:p>What it is about:</text:p><text:list text:style-name="%s">%s</text:list>' % (
                style, item % ("first thing", "") + item % ("second thing", inner) +
                item % ("third thing, which is so long that it goes on in a second line of the list, and still further", ""))
            place = 'svg:x="1cm" svg:y="%dcm" svg:width="8cm" svg:height="5cm"' % (1 + 6 * number)
            shapes += '<draw:frame %s><draw:text-box>%s</draw:text-box></draw:frame>' % (place, texts) if shape == "box" else \
                '<draw:rect %s>%s</draw:rect>' % (place, texts)
        path = self.work / "lists.fods"
        path.write_text(self.LISTS % shapes, encoding="utf-8")
        self.document = self.office.load(path)
        self.save()
        # LibreOffice 7.4 draws the texts alone; whatever an office draws of the lists, the copy has.
        for copied in self.assert_copy_looks_the_same():
            self.assertNotIn("Geheim47q", everything_in(copied))

    # Number formats that a condition sets.

    def test_a_number_format_set_by_a_condition(self):
        styles = self.document.StyleFamilies.getByName("CellStyles")
        for name, code in (("Large", '0.0" kW"'), ("Small", '0.000'), ("Hidden", ';;;'), ("Words", '"on request"'), ("Day", "YYYY-MM-DD"),
                           ("Share", "0.0%"), ("Text", '"<"@">"')):
            style = self.document.createInstance("com.sun.star.style.CellStyle")
            styles.insertByName("Own " + name, style)
            style.NumberFormat = self.number_format(code)
        rows = (("A1", 1234.5678, "Large"), ("A2", 0.123456, "Small"), ("A3", 4711.8023, "Hidden"), ("A4", 4711.8023, "Words"), ("A5", 46000.75, "Day"),
                ("A6", 0.123456, "Share"), ("A8", -3.25, "Large"), ("A9", "=1234.5678*2", "Small"))
        for address, value, style in rows:
            cell = self.put(address, value)
            cell.NumberFormat = self.number_format("0.00")
            conditions = cell.ConditionalFormat
            conditions.addNew((property_value("Operator", FORMULA), property_value("Formula1", "1=1"), property_value("StyleName", "Own " + style),
                               property_value("SourcePosition", cell.CellAddress)))
            cell.ConditionalFormat = conditions
        cell = self.put("A7", "words")
        conditions = cell.ConditionalFormat
        conditions.addNew((property_value("Operator", FORMULA), property_value("Formula1", "1=1"), property_value("StyleName", "Own Text"),
                           property_value("SourcePosition", cell.CellAddress)))
        cell.ConditionalFormat = conditions
        for row, value in enumerate((5.0, 15.0, 25.0), 9):
            self.sheet.getCellByPosition(1, row).Value = value
        conditions = self.cell("B10:B12").ConditionalFormat
        conditions.addNew((property_value("Operator", GREATER), property_value("Formula1", "10"), property_value("StyleName", "Own Large"),
                           property_value("SourcePosition", self.cell("B10").CellAddress)))
        self.cell("B10:B12").ConditionalFormat = conditions
        self.area("A1:D20")
        self.save()
        for path in self.assert_copy_looks_the_same():
            text = everything_in(path)
            for hidden in ("4711", "1234.5678", "0.123456"):
                self.assertNotIn(hidden, text, path.name)


if __name__ == "__main__":
    unittest.main()
