# SPDX-License-Identifier: Apache-2.0
"""The customer copy: what it is called, what it holds, what must not be in it, and that its pages look as those of the original. Seen with an
office that has no Pullsheet."""

import re
import subprocess
import unittest
import zipfile

import uno
from com.sun.star.awt import Point, Size
from com.sun.star.sheet.ConditionOperator import GREATER
from com.sun.star.sheet.ValidationType import LIST

from copies import CopyTestCase, everything_in
from office import property_value

FORMULA_CELLS = 16  # com.sun.star.sheet.CellFlags.FORMULA


def cells_with(sheet, flags):
    return sheet.queryContentCells(flags).getRangeAddresses()


class CustomerCopy(CopyTestCase):
    # What it is called and where it stands.

    def test_an_unsaved_document_is_told_to_be_saved(self):
        self.put("A1", 1.0)
        self.assertIn("Save the document first", self.refused("copy"))

    def test_names_and_numbers(self):
        self.put("A1", "=UNIT.CONVERT(100;\"PS\";\"kW\")")
        self.save("Kunde Müller.ods")
        first = self.copy()
        self.assertEqual([path.name for path in first], ["Kunde Müller-customer.ods", "Kunde Müller-customer.xlsx", "Kunde Müller-customer.pdf"])
        before = [path.read_bytes() for path in first]
        second = self.copy(Formats=["pdf"])
        self.assertEqual([path.name for path in second], ["Kunde Müller-customer-2.pdf"])
        self.assertEqual([path.read_bytes() for path in first], before)

    def test_the_original_stays(self):
        self.put("A1", "=UNIT.CONVERT(100;\"PS\";\"kW\")")
        path = self.save()
        before = path.read_bytes()
        self.copy()
        self.assertFalse(self.document.isModified())
        self.assertEqual(path.read_bytes(), before)
        self.assertTrue(self.cell("A1").Formula.startswith("="))
        self.assertEqual(self.document.Location, path.as_uri())
        # What is not saved yet is copied too, and stays unsaved.
        self.put("A2", 77.0)
        self.assertTrue(self.document.isModified())
        copied = self.seen(self.copy(Formats=["ods"])[0])
        self.assertEqual(self.shown(copied, "Sheet1", "A2"), "77")
        self.assertTrue(self.document.isModified())

    def test_a_folder_that_cannot_be_written(self):
        self.put("A1", 1.0)
        self.save()
        target = self.work / "sheet-customer.ods"
        target.mkdir()  # something is in the way that is no file
        urls = self.copy(Formats=["ods"])
        self.assertEqual(urls[0].name, "sheet-customer-2.ods")

    # What it holds.

    def test_values_in_place_of_formulas(self):
        texts = {"A1": '=UNIT.CONVERT(750;"PS";"kW")', "A2": "=TODAY()", "A3": "=1=1", "A4": "=A1/1000", "A5": '="é; ""x"""',
                 "A6": '="00123"', "A7": '="a"&CHAR(10)&"b"', "A8": "=10%", "A9": '=""', "A10": "=A11*2", "A11": "12:30", "A12": "=SUM(A1;A4)"}
        for address, formula in texts.items():
            self.put(address, formula)
        self.cell("A4").NumberFormat = self.document.NumberFormats.addNew('0.000" MW"', uno.createUnoStruct("com.sun.star.lang.Locale"))
        self.array("C1:D2", "=A1:A2*2")
        self.array("F1:H5", "=ROW(F1:H5)*COLUMN(F1:H5)")
        self.save()
        expected = {address: self.cell(address).String for address in [*texts, "C1", "D2", "F1", "G3", "H5"]}
        ods, xlsx, pdf = self.copy()
        for path in (ods, xlsx):
            document = self.seen(path)
            for sheet in map(document.Sheets.getByName, document.Sheets.ElementNames):
                # Calc reads a truth value of an .xlsx as the formula that stands for it.
                found = [sheet.getCellByPosition(area.StartColumn, area.StartRow).Formula for area in cells_with(sheet, FORMULA_CELLS)]
                self.assertEqual(found, ["=TRUE()"] if path == xlsx else [], path)
            for address, text in expected.items():
                self.assertEqual(self.shown(document, "Sheet1", address), text, (path.name, address))
            self.assertNotIn("pullsheet.functions", everything_in(path).lower())
        self.assertTrue(pdf.read_bytes().startswith(b"%PDF-"))

    def test_cells_in_error_are_named_and_refused(self):
        self.put("A1", '=UNIT.CONVERT(1;"PS";"bar")')
        self.put("B3", "=1/0")
        self.put("C3", "fine")
        self.save()
        sentence = self.refused("copy")
        for address in ("Sheet1.A1", "Sheet1.B3"):
            self.assertIn(address, sentence)
        self.assertEqual(list(self.work.glob("*-customer*")), [])
        document = self.seen(self.copy(WithErrors=True)[0])
        self.assertEqual(self.shown(document, "Sheet1", "A1"), "Err:502")
        self.assertEqual(self.shown(document, "Sheet1", "B3"), "#DIV/0!")

    def test_an_error_that_is_not_copied_does_not_matter(self):
        self.document.Sheets.insertNewByName("Inside", 1)
        self.put("Inside.A1", "=1/0")
        self.put("A1", "fine")
        self.save()
        self.copy(Sheets=["Sheet1"])
        self.assertIn("Inside.A1", self.refused("copy", Sheets=["Sheet1", "Inside"]))

    # What must not go out.

    SECRET = "Geheim47q"
    NUMBER = 4711.8023

    def secrets_left(self, path):
        """The secrets of secret_book() that a file holds."""
        text = everything_in(path)
        return sorted(set(re.findall(self.SECRET + r"\w*|4711[.,]80\w*|sx%09\d+", text)))

    def assert_no_secret(self, path):
        self.assertEqual(self.secrets_left(path), [], path.name)

    def put_into(self, path, name, text):
        """Adds a file to a document."""
        with zipfile.ZipFile(path) as archive:
            files = {one: archive.read(one) for one in archive.namelist()}
        manifest = "META-INF/manifest.xml"
        entry = '<manifest:file-entry manifest:full-path="%s" manifest:media-type=""/></manifest:manifest>' % name
        files[manifest] = files[manifest].replace(b"</manifest:manifest>", entry.encode())
        files[name] = text.encode()
        with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as archive:
            for one, content in files.items():
                archive.writestr(one, content, zipfile.ZIP_STORED if one == "mimetype" else None)

    def secret_book(self):
        """A page, and beside, behind and under what is seen of it a secret text and a secret number in every place there is."""
        doc, sheet, secret, number = self.document, self.sheet, self.SECRET, self.NUMBER
        sheet.setName("Page")
        sheets = doc.Sheets
        origin = sheet.getCellRangeByName("A1").CellAddress
        locale = uno.createUnoStruct("com.sun.star.lang.Locale")

        # What is seen.
        for row in range(1, 9):
            self.put("Page.A%d" % row, "line %d" % row)
            self.put("Page.B%d" % row, 10.5 * row)
        sheet.setPrintAreas((sheet.getCellRangeByName("A1:F30").RangeAddress,))

        sheet.Rows.getByIndex(27).Height = 6000

        # Other cells: another sheet, a hidden sheet, beyond the print range, hidden and filtered rows and columns, under a merged cell.
        for name in ("Costs", "Attic"):
            sheets.insertNewByName(name, 1)
            self.put(name + ".A1", secret + "sheet")
            self.put(name + ".B1", number)
        sheets.getByName("Attic").IsVisible = False
        self.put("Page.H3", secret + "beyond")
        self.put("Page.A40", number)
        self.put("Page.C5", number)
        self.put("Page.C6", secret + "column")
        sheet.Columns.getByIndex(2).IsVisible = False
        self.put("Page.A9", secret + "row")
        sheet.Rows.getByIndex(8).IsVisible = False
        self.put("Page.D2", "merged")
        self.put("Page.E2", secret + "covered")
        self.put("Page.D3", number)
        self.cell("Page.D2:E3").merge(True)
        self.assertNotEqual(self.cell("Page.E2").String, "")

        # In cells that are seen: behind a number format, behind the digits, not printed, hidden under protection, in formulas and links.
        formats = doc.NumberFormats
        self.put("Page.D5", number)
        self.cell("Page.D5").NumberFormat = formats.addNew('"on request"', locale)
        self.put("Page.D6", number)
        self.cell("Page.D6").NumberFormat = formats.addNew('0;"%sother section"0' % secret, locale)
        self.put("Page.D7", number)
        self.cell("Page.D7").NumberFormat = formats.addNew('[>=9999]0" big";[<%r]"%sother"0;0' % (number - 4000, secret), locale)
        self.put("Page.D8", "a text")
        self.cell("Page.D8").NumberFormat = formats.addNew('0.00" %sfor numbers"' % secret, locale)
        formats.addNew('0.000" %sunused"' % secret, locale)
        self.cell("Page.F20").NumberFormat = formats.addNew('0.0" %sempty"' % secret, locale)
        for address, attribute in (("E5", "IsPrintHidden"), ("E6", "IsHidden")):
            self.put("Page." + address, secret + attribute)
            protection = self.cell("Page." + address).CellProtection
            setattr(protection, attribute, True)
            self.cell("Page." + address).CellProtection = protection
        self.put("Page.E7", '=IF(%r>1;"seen";"%sformula")' % (number, secret))
        link = doc.createInstance("com.sun.star.text.TextField.URL")
        link.Representation, link.URL = "the shop", "https://%s.example/%r" % (secret, number)
        self.cell("Page.E8").insertTextContent(self.cell("Page.E8").createTextCursor(), link, False)
        self.put("Page.A11", 1.0)
        self.cell("Page.A11").UserDefinedAttributes.insertByName(
            "own:mark", uno.createUnoStruct("com.sun.star.xml.AttributeData", "urn:own", "CDATA", secret + "attribute")) \
            if self.cell("Page.A11").UserDefinedAttributes is not None else None
        self.sheet.Annotations.insertNew(self.cell("Page.A2").CellAddress, secret + "comment")

        # Validation, conditions, styles.
        validation = self.cell("Page.B1").Validation
        validation.Type = LIST
        validation.setFormula1('"%slist";"%r"' % (secret, number))
        validation.InputTitle = validation.InputMessage = validation.ErrorTitle = validation.ErrorMessage = secret + "message"
        validation.ShowInputMessage = validation.ShowErrorMessage = True
        self.cell("Page.B1").Validation = validation
        styles = doc.StyleFamilies.getByName("CellStyles")
        for name, colour in ((secret + "used", 0xFFEECC), (secret + "by condition", 0xCCFFCC), (secret + "unused", 0xEEEEEE)):
            style = doc.createInstance("com.sun.star.style.CellStyle")
            styles.insertByName(name, style)
            style.CellBackColor = colour
        self.cell("Page.B2:B3").CellStyle = secret + "used"
        conditions = self.cell("Page.B1:B8").ConditionalFormat
        conditions.addNew((property_value("Operator", GREATER), property_value("Formula1", "$B$4+%r-%r" % (number, number)),
                           property_value("StyleName", secret + "by condition"), property_value("SourcePosition", self.cell("Page.B1").CellAddress)))
        self.cell("Page.B1:B8").ConditionalFormat = conditions

        # Names, ranges of data, filters, scenarios, tables of other tables, links.
        names = doc.NamedRanges
        names.addNewByName(secret + "constant", repr(number), origin, 0)
        names.addNewByName(secret + "text", '"%s"' % secret, origin, 0)
        sheet.NamedRanges.addNewByName(secret + "local", "%r*2" % number, origin, 0)
        sheet.NamedRanges.addNewByName(secret + "path", "'file:///home/%s/prices.ods'#$Sheet1.$A$1" % secret, origin, 0)
        doc.DatabaseRanges.addNewByName(secret + "data", sheet.getCellRangeByName("A1:B8").RangeAddress)
        field = uno.createUnoStruct("com.sun.star.sheet.TableFilterField")
        field.Field, field.IsNumeric, field.StringValue = 0, False, secret + "criterion"
        field.Operator = uno.Enum("com.sun.star.sheet.FilterOperator", "NOT_EQUAL")
        descriptor = doc.DatabaseRanges.getByName(secret + "data").getFilterDescriptor()
        descriptor.setFilterFields((field,))
        descriptor.ContainsHeader = False
        doc.DatabaseRanges.getByName(secret + "data").refresh()
        scenario = sheets.getByName("Costs")
        scenario.Scenarios.addNewByName(secret + "scenario", (scenario.getCellRangeByName("A1:B1").RangeAddress,), secret + "what if")
        tables = sheets.getByName("Costs").DataPilotTables
        self.put("Costs.D1", "group")
        self.put("Costs.E1", "sum")
        self.put("Costs.D2", secret + "group")
        self.put("Costs.E2", number)
        pivot = tables.createDataPilotDescriptor()
        pivot.setSourceRange(self.cell("Costs.D1:E2").RangeAddress)
        pivot.DataPilotFields.getByName("group").Orientation = uno.Enum("com.sun.star.sheet.DataPilotFieldOrientation", "ROW")
        pivot.DataPilotFields.getByName("sum").Orientation = uno.Enum("com.sun.star.sheet.DataPilotFieldOrientation", "DATA")
        tables.insertNewByName(secret + "pivot", self.cell("Page.A50").CellAddress, pivot)
        other = self.office.new_document()
        other.Sheets.getByIndex(0).getCellRangeByName("A1").String = "from elsewhere"
        self.save(secret + "supplier.ods", other)
        other.close(True)
        url = (self.work / (secret + "supplier.ods")).as_uri()
        self.put("Page.A12", "=IFERROR('%s'#$Sheet1.A1;\"from elsewhere\")" % url)
        doc.AreaLinks.insertAtPosition(self.cell("Page.A14").CellAddress, url, "A1", "calc8", "")

        # Texts of the document, its events, macros and forms.
        data = doc.DocumentProperties
        for name in ("Title", "Subject", "Description", "Author", "ModifiedBy", "PrintedBy", "TemplateName"):
            setattr(data, name, secret + name)
        data.Keywords = (secret + "keyword",)
        data.UserDefinedProperties.addProperty(secret + "property", 128, secret + "value")
        event = uno.Any("[]com.sun.star.beans.PropertyValue", (
            property_value("EventType", "Script"),
            property_value("Script", "vnd.sun.star.script:Standard.%s.Run?language=Basic&location=document" % secret)))
        for holder in (doc.Events, sheet.Events):
            uno.invoke(holder, "replaceByName", (holder.ElementNames[0], event))
        if not doc.BasicLibraries.hasByName("Standard"):
            doc.BasicLibraries.createLibrary("Standard")
        doc.BasicLibraries.loadLibrary("Standard")
        doc.BasicLibraries.getByName("Standard").insertByName(secret + "module", "Sub Run ' %r\nEnd Sub\n" % number)
        form = doc.createInstance("com.sun.star.form.component.DataForm")
        sheet.DrawPage.Forms.insertByName(secret + "form", form)
        form.DataSourceName, form.Command, form.CommandType = secret + "database", "SELECT %s WHERE price > %r" % (secret, number), 2
        control = doc.createInstance("com.sun.star.form.component.TextField")
        form.insertByName("field", control)
        control.DataField = control.DefaultText = control.HelpText = secret + "field"
        shape = self.shape("ControlShape", 500, 9000, 3000, 600)
        shape.Control = control

        # Shapes.
        hidden = self.shape("RectangleShape", 500, 6000, 2000, 800, Visible=False)
        hidden.String = secret + "invisible"
        unprinted = self.shape("TextShape", 500, 7000, 2000, 800, Printable=False)
        unprinted.String = secret + "unprinted"
        far = self.shape("TextShape", 60000, 60000, 2000, 800)
        far.String = secret + "far"
        seen = self.shape("RectangleShape", 500, 8000, 4000, 800, Name=secret + "name", Title=secret + "title", Description=secret + "description",
                          Hyperlink="file:///home/%s/%r.ods" % (secret, number))
        seen.String = "a box that is seen"
        seen.FillColor = 0xDDEEFF
        picture = self.shape("GraphicObjectShape", 500, 10000, 3000, 1500, Name=secret + "picture", Graphic=self.picture(secret + "metadata"))
        crop = uno.createUnoStruct("com.sun.star.text.GraphicCrop")
        crop.Left, crop.Right, crop.Top, crop.Bottom = 200, 0, 100, 0
        picture.GraphicCrop = crop
        embedded = self.shape("OLE2Shape", 5000, 10000, 3000, 1500)
        embedded.CLSID = "47BBB4CB-CE4C-4E80-a591-42d9ae74950f"
        embedded.Model.Sheets.getByIndex(0).getCellRangeByName("A1").String = secret + "embedded"

        # Charts: one far from the page, one on it over another sheet, with a hidden row and hidden cells left out, and a text among its numbers.
        self.chart(sheet, secret + "far chart", "A1:B8", (70000, 1000, 6000, 4000))
        self.put("Costs.G1", "name")
        self.put("Costs.H1", "values")
        for row, value in enumerate((3.0, number, 5.0, 4.0), 2):
            self.put("Costs.G%d" % row, secret + "bar" if value == number else "bar %d" % row)
            self.put("Costs.H%d" % row, value)
        sheets.getByName("Costs").Rows.getByIndex(2).IsVisible = False
        chart = self.chart(sheet, secret + "chart", sheets.getByName("Costs").getCellRangeByName("G1:H5").RangeAddress, (500, 12000, 8000, 5000), (True, True))
        chart.EmbeddedObject.Diagram.IncludeHiddenCells = False

        # Page styles, headers that are not printed.
        style = doc.StyleFamilies.getByName("PageStyles").getByName(sheet.PageStyle)
        unused = doc.createInstance("com.sun.star.style.PageStyle")
        doc.StyleFamilies.getByName("PageStyles").insertByName(secret + "page", unused)
        for page, name, on in ((style, "LeftPageFooterContent", True), (style, "FirstPageHeaderContent", False), (unused, "RightPageHeaderContent", True)):
            page.HeaderIsOn = page.FooterIsOn = True
            page.FooterIsShared = False
            content = page.getPropertyValue(name)
            content.CenterText.String = secret + name
            page.setPropertyValue(name, content)
        content = style.RightPageFooterContent
        content.CenterText.String = "the footer that is seen"
        style.RightPageFooterContent = content
        style.HeaderIsOn = False

        # What was written before.
        doc.RecordChanges = True
        self.put("Page.A13", secret + "first price")
        self.put("Page.A13", "second price")
        path = self.save("book.ods", VersionComment=secret + "version")
        self.put_into(path, "Scripts/python/own.py", "# %smacro %r\n" % (secret, number))
        self.document.close(True)
        update = (property_value("Hidden", True), property_value("UpdateDocMode", 3))
        self.document = self.office.desktop.loadComponentFromURL(path.as_uri(), "_blank", 0, update)
        self.sheet = self.document.Sheets.getByName("Page")
        self.sheet.protect("")
        self.assertGreater(len(self.secrets_left(path)), 40)

    def test_no_secret_goes_out(self):
        profile = self.office.create("com.sun.star.configuration.ConfigurationProvider").createInstanceWithArguments(
            "com.sun.star.configuration.ConfigurationUpdateAccess", (property_value("nodepath", "/org.openoffice.UserProfile/Data"),))
        for name in ("givenname", "sn", "o", "mail"):
            profile.setPropertyValue(name, self.SECRET + name)
        profile.commitChanges()
        self.secret_book()
        sentence = self.refused("copy", Sheets=["Page"])
        for part in ("a control on Page", "an embedded document or object on Page"):
            self.assertIn(part, sentence)
        self.assertEqual(list(self.work.glob("*-customer*")), [])
        copies = self.copy(Sheets=["Page"], WithoutParts=True)
        for path in copies:
            self.assert_no_secret(path)
        for path in copies[:2]:
            document = self.seen(path)
            self.assertEqual(self.visible_sheets(document), ("Page",))
            for address, text in {"A1": "line 1", "B8": "84", "D2": "merged", "D5": "on request", "D6": "4712", "D7": "4712", "D8": "a text", "E7": "seen",
                                  "E8": "the shop", "A12": "from elsewhere", "A13": "second price", "A14": "from elsewhere"}.items():
                self.assertEqual(self.shown(document, "Page", address), text, (path.name, address))
            self.assertEqual(document.Sheets.getByName("Page").Charts.Count, 1)
        text = everything_in(copies[2])
        for part in ("line 8", "a box that is seen", "the footer that is seen", "bar 4"):
            self.assertIn(part, text)

    def test_the_page_with_secrets_looks_the_same(self):
        self.secret_book()
        # What a copy cannot hold, and what a PDF shows though it is not to be printed.
        self.sheet.unprotect("")
        page = self.sheet.DrawPage
        for shape in [page.getByIndex(number) for number in range(page.Count)]:
            embedded = shape.supportsService("com.sun.star.drawing.OLE2Shape") and shape.CLSID.lower().startswith("47bbb4cb")
            if embedded or shape.supportsService("com.sun.star.drawing.ControlShape") or not shape.Printable:
                page.remove(shape)
        self.sheet.protect("")
        original = self.pdf_of(self.document, ["Page"], "original.pdf")
        self.assert_same_pages(original, self.copy(Sheets=["Page"], Formats=["pdf"])[0])

    def test_the_marked_page_is_what_goes_out_without_asking(self):
        self.put("A1", "for the customer")
        self.document.Sheets.insertNewByName("Costs", 0)
        self.document.NamedRanges.addNewByName("customer_page", "$Sheet1.$A$1:$B$5", self.cell("A1").CellAddress, 0)
        self.document.CurrentController.setActiveSheet(self.document.Sheets.getByName("Costs"))
        self.save()
        self.assertEqual(self.seen(self.copy(Formats=["ods"])[0]).Sheets.ElementNames, ("Sheet1",))

    # Charts.

    def test_a_chart_over_its_own_page(self):
        """Its source on the page, a row and a column of it hidden or beyond the print range: nothing of the page goes."""
        self.put("A1", "speed")
        self.put("B1", "power")
        self.put("C1", "torque")
        for row in range(2, 12):
            self.put("A%d" % row, 500.0 * row)
            self.put("B%d" % row, 30.0 * row - row * row)
            self.put("C%d" % row, 200.0 + row)
        chart = self.chart(self.sheet, "curve", "A1:C11", (500, 7000, 10000, 6000), (True, True))
        self.assertIsNotNone(chart)
        # It stands whole on the page, in each print range.
        self.sheet.Columns.getByIndex(0).Width = 11500
        for number, (hide, area) in enumerate((((4, None), "A1:F40"), ((None, 2), "A1:F40"), ((5, 1), "A1:B40"), ((None, None), "B3:F40"))):
            with self.subTest(hide=hide, area=area):
                row, column = hide
                for index in range(12):
                    self.sheet.Rows.getByIndex(index).IsVisible = index != row
                for index in range(3):
                    self.sheet.Columns.getByIndex(index).IsVisible = index != column
                self.sheet.setPrintAreas((self.cell(area).RangeAddress,))
                self.sheet.DrawPage.getByIndex(0).Position = Point(500 if area.startswith("A") else 12000, 7000)
                for include in (True, False):
                    chart.EmbeddedObject.Diagram.IncludeHiddenCells = include
                    self.save("chart-%d-%d.ods" % (number, include))
                    original = self.pdf_of(self.document, ["Sheet1"], "original-%d-%d.pdf" % (number, include))
                    ods, xlsx, pdf = self.copy(Sheets=["Sheet1"])
                    self.assert_same_pages(original, pdf)
                    document = self.seen(ods)
                    page = document.Sheets.getByName("Sheet1")
                    printed = self.cell(area).RangeAddress
                    for r in range(printed.StartRow, 11):
                        for c in range(printed.StartColumn, min(printed.EndColumn, 2) + 1):
                            shown = "" if r == row or c == column else self.sheet.getCellByPosition(c, r).String
                            self.assertEqual(page.getCellByPosition(c, r).String, shown, (c, r))
                    self.assert_same_pages(original, self.pdf_of(document, ["Sheet1"], "again-%d-%d.pdf" % (number, include)))

    def test_a_chart_over_a_hidden_row_of_another_sheet(self):
        """The bar that is not drawn is not drawn, and its value is in no file."""
        self.document.Sheets.insertNewByName("Costs", 1)
        for row, (name, value) in enumerate((("a", 3.0), ("b", self.NUMBER), ("c", 5.0)), 1):
            self.put("Costs.A%d" % row, name if value != self.NUMBER else self.SECRET)
            self.put("Costs.B%d" % row, value)
        self.document.Sheets.getByName("Costs").Rows.getByIndex(1).IsVisible = False
        self.put("A1", "page")
        chart = self.chart(self.sheet, "bars", self.cell("Costs.A1:B3").RangeAddress, (500, 2000, 9000, 6000), (False, True))
        chart.EmbeddedObject.Diagram.IncludeHiddenCells = False
        self.save()
        original = self.pdf_of(self.document, ["Sheet1"], "original.pdf")
        ods, xlsx, pdf = self.copy(Sheets=["Sheet1"])
        self.assert_same_pages(original, pdf)
        for path in (ods, xlsx, pdf):
            self.assert_no_secret(path)
        self.assert_same_pages(original, self.pdf_of(self.seen(ods), ["Sheet1"], "again.pdf"))

    def test_a_page_of_many_things(self):
        """Formats, lines, merged cells, rich texts, shapes, charts of every kind, print titles, headers: the copy looks the same."""
        doc, sheet = self.document, self.sheet
        sheet.setName("Page of 'many'")
        sheet.Columns.getByIndex(6).Width = 8000
        locale = uno.createUnoStruct("com.sun.star.lang.Locale")
        formats = doc.NumberFormats
        for row, (value, code) in enumerate((
                (1234.567, "#,##0.00"), (-1234.567, "#,##0.00;[RED]-#,##0.00"), (-3.0, '0.0;"minus "0.0'), (0.1234, "0.0%"), (46000.75, "YYYY-MM-DD"),
                (46000.75, "D MMM YYYY HH:MM"), (0.52, "HH:MM:SS"), (1.5, "[HH]:MM"), (12345678.9, "0.00E+00"), (3.75, "# ?/?"), (1.0, "BOOLEAN"),
                (1234567.0, "#,##0,"), (-0.001, "0.00"), (12.5, '[$€-407] #,##0.00;[RED]-[$€-407] #,##0.00'), (7.0, '"no. "0'), (1 / 3, "General"),
                (123456789012.0, "General"), (0.0, "0;-0;\"none\""), (99.96, "0.0"), (2.5, "0"))):
            cell = sheet.getCellByPosition(0, row)
            cell.Value = value
            cell.NumberFormat = formats.addNew(code, locale) if formats.queryKey(code, locale, False) == -1 else formats.queryKey(code, locale, False)
        sheet.getCellByPosition(0, 20).String = "note"
        sheet.getCellByPosition(0, 20).NumberFormat = formats.addNew('0;-0;0;"text: "@', locale)
        border = uno.createUnoStruct("com.sun.star.table.BorderLine2")
        border.OuterLineWidth = border.LineWidth = 50
        double = uno.createUnoStruct("com.sun.star.table.BorderLine2")
        double.OuterLineWidth, double.InnerLineWidth, double.LineDistance, double.LineStyle, double.Color = 30, 30, 60, 3, 0x0044AA
        cells = self.sheet.getCellRangeByName("B1:C6")
        cells.TopBorder = cells.BottomBorder = double
        cells.LeftBorder = cells.RightBorder = border
        sheet.getCellRangeByName("B2").DiagonalTLBR = border
        # Of the neighbours of the page, the line at its edge.
        sheet.getCellRangeByName("H2:H5").LeftBorder = border
        text = sheet.getCellRangeByName("B8")
        text.String = "Water H2O\nand two  spaces"
        cursor = text.createTextCursor()
        cursor.gotoStart(False)
        cursor.goRight(5, True)
        cursor.CharWeight, cursor.CharColor = 150.0, 0xAA0000
        cursor.gotoStart(False)
        cursor.goRight(7, False)
        cursor.goRight(1, True)
        cursor.CharEscapement, cursor.CharEscapementHeight = -33, 58
        for address, name, value in (("B9", "RotateAngle", 3000), ("B10", "IsTextWrapped", True), ("B11", "ShrinkToFit", True), ("B12", "ParaIndent", 500),
                                     ("C9", "CellBackColor", 0xFFEEAA), ("C10", "CharFontName", "Liberation Serif"), ("C11", "CharUnderline", 2),
                                     ("C12", "CharStrikeout", 1)):
            sheet.getCellRangeByName(address).String = "a text that is long for its cell"
            sheet.getCellRangeByName(address).setPropertyValue(name, value)
        sheet.getCellRangeByName("D1").String = "merged over a hidden row"
        sheet.getCellRangeByName("D1:E4").merge(True)
        sheet.getCellRangeByName("D6").String = "from a hidden row"
        sheet.getCellRangeByName("D6:E8").merge(True)
        sheet.Rows.getByIndex(5).IsVisible = False
        sheet.Columns.getByIndex(4).IsVisible = False
        sheet.getCellRangeByName("F1").String = "runs over into the next cells, as far as it goes"
        sheet.Rows.getByIndex(30).IsStartOfNewPage = True
        sheet.getCellRangeByName("A31").String = "on the next page"

        # Shapes, two of them anchored to cells.
        line = self.shape("LineShape", 9000, 500, 3000, 1500)
        line.LineWidth, line.LineColor = 80, 0x008800
        arrow = doc.createInstance("com.sun.star.drawing.MarkerTable")
        line.LineEndName = arrow.ElementNames[0] if arrow.ElementNames else ""
        ellipse = self.shape("EllipseShape", 9000, 2500, 2500, 1500)
        gradient = uno.createUnoStruct("com.sun.star.awt.Gradient")
        gradient.StartColor, gradient.EndColor, gradient.Angle, gradient.StartIntensity, gradient.EndIntensity = 0xFF8800, 0x0088FF, 450, 100, 100
        ellipse.FillStyle = uno.Enum("com.sun.star.drawing.FillStyle", "GRADIENT")
        ellipse.FillGradient = gradient
        turned = self.shape("RectangleShape", 12500, 2500, 2000, 1200)
        turned.RotateAngle, turned.Shadow, turned.FillTransparence, turned.CornerRadius = 3000, True, 40, 300
        turned.String = "turned"
        star = self.shape("CustomShape", 12500, 500, 1800, 1800)
        star.CustomShapeGeometry = (property_value("Type", "star5"),)
        hatch = uno.createUnoStruct("com.sun.star.drawing.Hatch")
        hatch.Color, hatch.Distance, hatch.Angle = 0x444444, 150, 450
        star.FillStyle = uno.Enum("com.sun.star.drawing.FillStyle", "HATCH")
        star.FillHatch = hatch
        group = self.office.create("com.sun.star.drawing.ShapeCollection")
        for x in (9000, 10000):
            part = self.shape("RectangleShape", x, 4500, 900, 700)
            part.FillColor = 0x88CC88
            group.add(part)
        sheet.DrawPage.group(group)
        for number, (crop, angle) in enumerate(((0, 0), (500, 0), (300, 1500))):
            picture = self.shape("GraphicObjectShape", 9000 + 2500 * number, 5800, 2000, 1200, Graphic=self.picture("x"))
            value = uno.createUnoStruct("com.sun.star.text.GraphicCrop")
            value.Left = value.Top = crop // 4
            picture.GraphicCrop = value
            picture.RotateAngle = angle
        anchored = self.shape("RectangleShape", 15500, 600, 1500, 900)
        anchored.String = "in a cell"
        anchored.Anchor = sheet.getCellRangeByName("G3")

        # Charts.
        data = doc.Sheets
        data.insertNewByName("Data", 1)
        for row in range(8):
            data.getByName("Data").getCellByPosition(0, row).Formula = "step %d" % row if row else ""
            for column in range(1, 4):
                data.getByName("Data").getCellByPosition(column, row).Formula = str(row * column + row * row % 5) if row else "series %d" % column
        source = data.getByName("Data").getCellRangeByName("A1:D8").RangeAddress
        for number, kind in enumerate(("Bar", "Line", "Pie", "Area", "Net", "XY")):
            chart = self.chart(sheet, kind, source, (500 + number % 3 * 6000, 13500 + number // 3 * 5200, 5700, 5000), (True, True)).EmbeddedObject
            chart.setDiagram(chart.createInstance("com.sun.star.chart.%sDiagram" % kind))
            chart.HasMainTitle, chart.HasLegend = True, number % 2 == 0
            chart.Title.String = "A chart of %s" % kind
            if kind == "Bar":
                chart.Diagram.Stacked, chart.Diagram.Vertical = True, True
            if kind == "Line":
                chart.Diagram.SymbolType = -3
                chart.Diagram.getDataRowProperties(0).ErrorIndicator = uno.Enum("com.sun.star.chart.ChartErrorIndicatorType", "TOP_AND_BOTTOM")
                chart.Diagram.getDataRowProperties(0).ErrorCategory = uno.Enum("com.sun.star.chart.ChartErrorCategory", "CONSTANT_VALUE")
                chart.Diagram.getDataRowProperties(0).ConstantErrorLow = chart.Diagram.getDataRowProperties(0).ConstantErrorHigh = 1.5
            if kind in ("Pie", "Area"):
                chart.Diagram.DataCaption = 1
            if kind == "XY":
                chart.Diagram.getDataRowProperties(0).RegressionCurves = uno.Enum("com.sun.star.chart.ChartRegressionCurveType", "LINEAR")
                chart.Diagram.HasXAxisTitle = True
                chart.Diagram.XAxisTitle.String = "along"

        data.getByName("Data").IsVisible = False

        # The page.
        style = doc.StyleFamilies.getByName("PageStyles").getByName(sheet.PageStyle)
        style.BackColor, style.ScaleToPagesX, style.ScaleToPagesY, style.PrintGrid, style.PrintHeaders, style.CenterHorizontally = 0xFCFCF4, 1, 0, True, True, True
        content = style.RightPageHeaderContent
        content.LeftText.String = "left"
        for text, field in ((content.CenterText, "SheetName"), (content.RightText, "FileName"), (content.RightText, "PageNumber")):
            text.insertTextContent(text.createTextCursor(), doc.createInstance("com.sun.star.text.TextField." + field), False)
        style.RightPageHeaderContent = content
        sheet.setTitleRows(sheet.getCellRangeByName("A1:A2").RangeAddress)
        sheet.setPrintTitleRows(True)
        sheet.setPrintAreas((sheet.getCellRangeByName("A1:G60").RangeAddress, sheet.getCellRangeByName("B9:C40").RangeAddress))
        self.save("many.ods")
        ods, xlsx, pdf = self.copy(Sheets=[sheet.Name])
        original = self.pdf_of(doc, None, "original.pdf")
        self.assert_same_pages(original, pdf)
        self.assert_same_pages(original, self.pdf_of(self.seen(ods), None, "again.pdf"))

    # Where something speaks against it.

    def test_checks_that_say_no(self):
        for row, (what, verdict) in enumerate((("what is checked", "verdict"), ("1 hp in kW", "agrees"), ("power on two benches", "differs")), 1):
            self.put("A%d" % row, what)
            self.put("E%d" % row, verdict)
        self.put("B5", '=IF(SUMPRODUCT(--(E2:E3="agrees"))=2;"yes";"no")')
        self.document.NamedRanges.addNewByName("all_checks_agree", "$Sheet1.$B$5", self.cell("A1").CellAddress, 0)
        self.save()
        sentence = self.refused("copy")
        self.assertIn("The checks of the document say no: Sheet1.E3: power on two benches: differs", sentence)
        self.assertNotIn("1 hp", sentence)
        self.assertEqual(list(self.work.glob("*-customer*")), [])
        self.assertEqual(len(self.copy(WithFailedChecks=True)), 3)
        self.put("E3", "agrees")
        self.assertEqual(len(self.copy()), 3)

    def test_a_document_with_a_password(self):
        self.put("A1", "behind a password")
        path = self.save("locked.ods", Password="word")
        locked = self.office.desktop.loadComponentFromURL(path.as_uri(), "_blank", 0, (property_value("Hidden", True), property_value("Password", "word")))
        try:
            self.assertIn("has a password", self.refused("copy", locked))
            self.assertEqual(list(self.work.glob("*-customer*")), [])
            ods, xlsx, pdf = self.copy(locked, Password="another")
        finally:
            locked.close(True)
        for copied in (ods, xlsx):
            self.assertNotIn("behind a password", everything_in(copied))
            self.assertEqual(self.shown(self.seen(copied, Password="another"), "Sheet1", "A1"), "behind a password")
        opened = subprocess.run(["pdftotext", str(pdf), "-"], capture_output=True, timeout=60)
        self.assertNotEqual(opened.returncode, 0)
        opened = subprocess.run(["pdftotext", "-upw", "another", str(pdf), "-"], capture_output=True, timeout=60, check=True)
        self.assertIn(b"behind a password", opened.stdout)

    def test_a_password_to_change_the_document(self):
        self.put("A1", 1.0)
        bits = uno.ByteSequence(b"0123456789abcdef")
        information = uno.Any("[]com.sun.star.beans.PropertyValue", (
            property_value("algorithm-name", "PBKDF2"), property_value("salt", bits), property_value("iteration-count", 1000),
            property_value("hash", bits)))
        path = self.save(ModifyPasswordInfo=information)
        locked = self.office.load(path)
        try:
            self.assertIn("has a password", self.refused("copy", locked))
            self.assertEqual(list(self.work.glob("*-customer*")), [])
            self.assertEqual(len(self.copy(locked, Password="another")), 3)
        finally:
            locked.close(True)

    def test_what_is_drawn_on_a_chart_is_named(self):
        self.put("A1", 1.0)
        self.put("A2", 2.0)
        chart = self.chart(self.sheet, "bars", "A1:A2", (500, 2000, 8000, 5000)).EmbeddedObject
        box = chart.createInstance("com.sun.star.drawing.RectangleShape")
        chart.DrawPage.add(box)
        box.Position, box.Size = Point(1000, 1000), Size(2000, 1000)
        self.save()
        self.assertIn("what is drawn on a chart of Sheet1", self.refused("copy"))
        self.assertEqual(list(self.work.glob("*-customer*")), [])
        self.assertEqual(len(self.copy(WithoutParts=True)), 3)

    def test_a_hidden_sheet_has_no_page(self):
        self.document.Sheets.insertNewByName("Attic", 1)
        self.document.Sheets.getByName("Attic").IsVisible = False
        self.save()
        self.assertIn("Attic is hidden", self.refused("copy", Sheets=["Attic"]))

    def test_protected_sheets(self):
        self.put("A1", "=1+1")
        self.sheet.protect("")
        self.save()
        self.assertEqual(self.shown(self.seen(self.copy(Formats=["ods"])[0]), "Sheet1", "A1"), "2")
        self.sheet.unprotect("")
        self.sheet.protect("word")
        self.save()
        self.assertIn("password", self.refused("copy", Formats=["ods"]))
        self.sheet.unprotect("word")

    def test_odd_wishes(self):
        self.put("A1", 1.0)
        self.save()
        self.assertIn("There is no sheet Nonsense", self.refused("copy", Sheets=["Nonsense"]))
        self.assertIn("at least one sheet", self.refused("copy", Sheets=[]))
        self.assertIn("at least one kind", self.refused("copy", Formats=[]))
        self.assertIn("cannot be written as exe", self.refused("copy", Formats=["exe"]))

if __name__ == "__main__":
    unittest.main()
