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
        """From the left, from the right, over an empty cell, in a merged cell; each alone."""
        for place, alignment, named in (("A3", "STANDARD", True), ("A3", "LEFT", True), ("A3", "CENTER", True), ("F3", "RIGHT", True), ("F3", "CENTER", True),
                                        ("B3", "RIGHT", False), ("F3", "LEFT", False), ("A3", "BLOCK", False), ("A9", "LEFT", False)):
            with self.subTest(place=place, alignment=alignment):
                cell = self.put(place, self.LONG)
                cell.HoriJustify = uno.Enum("com.sun.star.table.CellHoriJustify", alignment)
                self.put("D5", "on the page")
                self.area("C2:E8")
                self.save()
                original = self.pdf_of(self.document, None, "original.pdf")
                cell.String = ""
                without = self.pdf_of(self.document, None, "without.pdf")
                cell.String = self.LONG
                seen = any(pixels_apart(*pages) for pages in zip(pictures(original), pictures(without)))
                self.assertEqual(seen, named, "what the page shows")
                if named:
                    self.assertIn("Sheet1.%s" % place, self.refused("copy"))
                    self.assertEqual(list(self.work.glob("*-customer*")), [])
                else:
                    self.assert_same_pages(original, self.copy(Formats=["pdf"])[0])
                for path in self.copy(WithoutParts=True):
                    self.assertNotIn("Geheim47q", everything_in(path))
                cell.String = ""

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
                self.assertIn("cut", self.refused("copy"))
                self.assertEqual(list(self.work.glob("*-customer*")), [])
                for path in self.copy(WithoutParts=True):
                    self.assertNotIn("Geheim47q", everything_in(path))
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

    def test_lists_in_shapes(self):
        self.put("A1", "a page")
        self.area("A1:H50")
        rules = []
        for level in range(2):
            for kind in ("bullet", "number", "roman"):
                rule = [property_value("NumberingType", {"bullet": 6, "number": 4, "roman": 3}[kind]), property_value("LeftMargin", 800 + 500 * level),
                        property_value("FirstLineOffset", -600)]
                if kind == "bullet":
                    rule += [property_value("BulletChar", "•–"[level]), property_value("BulletColor", 0xAA0000)]
                else:
                    rule += [property_value("Suffix", ")"), property_value("StartWith", 3)]
                rules.append((level, kind, tuple(rule)))
        for number, kind in enumerate(("bullet", "number", "roman")):
            shape = self.shape("TextShape" if number != 1 else "RectangleShape", 500, 1500 + 4000 * number, 8000, 3500)
            shape.String = "first thing\nsecond thing\nbelow the second\nthird thing, which is so long that it goes on in a second line of the list"
            paragraphs = shape.createEnumeration()
            row = 0
            while paragraphs.hasMoreElements():
                paragraph = paragraphs.nextElement()
                level = 1 if row == 2 else 0
                own = paragraph.NumberingRules
                print(own, own and own.getCount())
                if not own: own = self.document.createInstance('com.sun.star.text.NumberingRules')
                for at, which, rule in rules:
                    if which == kind:
                        uno.invoke(own, "replaceByIndex", (at, uno.Any("[]com.sun.star.beans.PropertyValue", rule)))
                paragraph.NumberingRules = own
                paragraph.NumberingLevel = level
                paragraph.NumberingIsNumber = True
                row += 1
        self.save()
        self.assert_copy_looks_the_same()

    # Number formats that a condition sets.

    def test_a_number_format_set_by_a_condition(self):
        styles = self.document.StyleFamilies.getByName("CellStyles")
        for name, code in (("Large", '0.0" kW"'), ("Small", '0.000'), ("Hidden", ';;;'), ("Words", '"on request"'), ("Day", "YYYY-MM-DD"),
                           ("Share", "0.0%"), ("Text", '"<"@">"')):
            style = self.document.createInstance("com.sun.star.style.CellStyle")
            styles.insertByName(name, style)
            style.NumberFormat = self.number_format(code)
        rows = (("A1", 1234.5678, "Large"), ("A2", 0.123456, "Small"), ("A3", 4711.8023, "Hidden"), ("A4", 4711.8023, "Words"), ("A5", 46000.75, "Day"),
                ("A6", 0.123456, "Share"), ("A8", -3.25, "Large"), ("A9", "=1234.5678*2", "Small"))
        for address, value, style in rows:
            cell = self.put(address, value)
            cell.NumberFormat = self.number_format("0.00")
            conditions = cell.ConditionalFormat
            conditions.addNew((property_value("Operator", FORMULA), property_value("Formula1", "1=1"), property_value("StyleName", style),
                               property_value("SourcePosition", cell.CellAddress)))
            cell.ConditionalFormat = conditions
        cell = self.put("A7", "words")
        conditions = cell.ConditionalFormat
        conditions.addNew((property_value("Operator", FORMULA), property_value("Formula1", "1=1"), property_value("StyleName", "Text"),
                           property_value("SourcePosition", cell.CellAddress)))
        cell.ConditionalFormat = conditions
        for row, value in enumerate((5.0, 15.0, 25.0), 9):
            self.sheet.getCellByPosition(1, row).Value = value
        conditions = self.cell("B10:B12").ConditionalFormat
        conditions.addNew((property_value("Operator", GREATER), property_value("Formula1", "10"), property_value("StyleName", "Large"),
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
