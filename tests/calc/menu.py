# SPDX-License-Identifier: Apache-2.0
"""The menu "Pullsheet": every command, given without its dialogue; and what the customer's copy holds for someone who has no Pullsheet."""

import pathlib
import re
import shutil
import subprocess
import unittest
import zipfile

import uno
from com.sun.star.sheet.ConditionOperator import FORMULA

from calc import BUILD, ROOT, CalcTestCase
from office import Office, property_value

SUCCESS = 1
ERROR_RESULT = 4  # com.sun.star.sheet.FormulaResult.ERROR
FORMULA_CELLS = 16  # com.sun.star.sheet.CellFlags.FORMULA
TEMPLATES = ["customer-quote", "dyno-day", "fuel-system", "air-path", "road-runs", "fuel-potential"]

PS_TO_BAR = "UNIT.CONVERT: PS is a unit of power, bar one of pressure; they cannot be converted"


def cells_with(sheet, flags):
    return sheet.queryContentCells(flags).getRangeAddresses()


def errors_in(document):
    return [name for name in document.Sheets.ElementNames if document.Sheets.getByName(name).queryFormulaCells(ERROR_RESULT).Count]


class MenuTestCase(CalcTestCase):
    def give(self, command, document=None, **arguments):
        """Gives a command of the menu without its dialogue; the answer and whether it was done."""
        values = []
        for name, value in dict(arguments, Silent=True).items():
            if isinstance(value, (list, tuple)):
                value = uno.Any("[]string", tuple(value))
            values.append(property_value(name, value))
        frame = (document or self.document).CurrentController.Frame
        helper = self.office.create("com.sun.star.frame.DispatchHelper")
        event = helper.executeDispatch(frame, "vnd.pullsheet:" + command, "", 0, tuple(values))
        self.assertTrue(self.office.is_alive)
        return event.Result, event.State == SUCCESS

    def done(self, command, document=None, **arguments):
        result, is_done = self.give(command, document, **arguments)
        self.assertTrue(is_done, result)
        return result

    def refused(self, command, document=None, **arguments):
        result, is_done = self.give(command, document, **arguments)
        self.assertFalse(is_done, result)
        return result

    def select(self, address):
        self.document.CurrentController.select(self.cell(address))


class Menu(MenuTestCase):
    def entries(self):
        access = self.office.create("com.sun.star.configuration.ConfigurationProvider").createInstanceWithArguments(
            "com.sun.star.configuration.ConfigurationAccess", (property_value("nodepath", "/org.openoffice.Office.Addons/AddonUI/OfficeMenuBar"),))
        return access.getByName("pullsheet.menu")

    def test_the_menu_is_there_and_each_entry_is_answered(self):
        menu = self.entries()
        self.assertEqual(menu.getByName("Title"), "Pullsheet")
        self.assertEqual(menu.getByName("Context"), "com.sun.star.sheet.SpreadsheetDocument")
        found = []

        def walk(submenu):
            for name in submenu.ElementNames:
                entry = submenu.getByName(name)
                below = entry.getByName("Submenu")
                if below is not None and below.ElementNames:
                    walk(below)
                elif entry.getByName("URL") != "private:separator":
                    found.append((entry.getByName("Title"), entry.getByName("URL")))

        walk(menu.getByName("Submenu"))
        self.assertEqual([url for _, url in found if "?" in url], ["vnd.pullsheet:new?" + name for name in TEMPLATES])
        self.assertEqual([url.partition(":")[2] for _, url in found if "?" not in url], ["why", "copy", "guide", "about"])
        transformer = self.office.create("com.sun.star.util.URLTransformer")
        frame = self.document.CurrentController.Frame
        for title, complete in found:
            self.assertTrue(title)
            url = uno.createUnoStruct("com.sun.star.util.URL")
            url.Complete = complete
            _, url = transformer.parseStrict(url)
            self.assertIsNotNone(frame.queryDispatch(url, "", 0), complete)

    def test_a_command_that_there_is_not(self):
        for command in ("", "nonsense", "new?", "new?../../description", "why?x", "copy?%00"):
            self.give(command)

    def test_about(self):
        text = self.done("about")
        version = re.search(r"project\(pullsheet VERSION ([0-9.]+)", (ROOT / "CMakeLists.txt").read_text()).group(1)
        self.assertIn("Pullsheet " + version, text)
        for part in ("Apache-2.0", "never a release for road use", "type approval", "ISO 2533", "Heywood"):
            self.assertIn(part, text)


class WhyThisError(MenuTestCase):
    def test_the_selected_cell(self):
        self.put("A1", '=UNIT.CONVERT(1;"PS";"bar")')
        self.select("A1")
        self.assertEqual(self.done("why"), PS_TO_BAR)

    def test_an_error_from_another_cell(self):
        self.put("A1", '=UNIT.CONVERT(1;"PS";"bar")')
        self.put("C7", "=A1*2")
        self.select("C7")
        self.assertEqual(self.done("why"), "the error comes from Sheet1.A1: " + PS_TO_BAR)

    def test_a_cell_without_error(self):
        self.put("A1", "=1+1")
        self.select("A1")
        self.assertEqual(self.done("why"), "")
        self.select("XFD1048576" if self.sheet.Columns.Count > 1024 else "AMJ1048576")
        self.assertEqual(self.done("why"), "")

    def test_several_cells(self):
        self.put("B2", '=UNIT.CONVERT(1;"PS";"bar")')
        self.select("A1:C3")
        self.assertEqual(self.done("why"), "Sheet1.B2: " + PS_TO_BAR)
        several = self.document.createInstance("com.sun.star.sheet.SheetCellRanges")
        for address in ("B2", "D9:E12"):
            several.addRangeAddress(self.cell(address).RangeAddress, False)
        self.document.CurrentController.select(several)
        self.assertIn(PS_TO_BAR, self.done("why"))

    def test_the_document_is_not_touched(self):
        self.put("A1", '=UNIT.CONVERT(1;"PS";"bar")')
        self.select("A1")
        self.document.setModified(False)
        self.done("why")
        self.assertFalse(self.document.isModified())


class Guide(MenuTestCase):
    def test_the_page_of_the_function_in_the_cell(self):
        if not (BUILD / "guide" / "html").exists():
            self.skipTest("the guide is not built here")
        self.put("A1", '=2*ROUND(air.density(20;100;0.5);3)')
        self.put("A2", "=SUM(1;2)")
        self.array("B1:B2", '=UNIT.CONVERT({1;2};"PS";"kW")')
        for address, page in (("A1", "AIR.DENSITY.html"), ("A2", "index.html"), ("B2", "UNIT.CONVERT.html")):
            self.select(address)
            url = self.done("guide")
            self.assertTrue(url.endswith("/guide/en/" + page), url)
            self.assertTrue(pathlib.Path(uno.fileUrlToSystemPath(url)).is_file(), url)
            self.assertEqual(self.done("help"), url if page != "index.html" else ".uno:HelpIndex")

    def test_f1_is_the_offices_own_help_where_no_function_of_ours_is(self):
        self.put("A1", "=SUM(1;2)")
        self.put("A2", 5.0)
        for address in ("A1", "A2", "A3", "A1:B9"):
            self.select(address)
            self.assertEqual(self.done("help"), ".uno:HelpIndex")

    def test_f1_is_bound(self):
        access = self.office.create("com.sun.star.configuration.ConfigurationProvider").createInstanceWithArguments(
            "com.sun.star.configuration.ConfigurationAccess",
            (property_value("nodepath", "/org.openoffice.Office.Accelerators/PrimaryKeys/Modules/com.sun.star.sheet.SpreadsheetDocument"),))
        self.assertEqual(access.getByName("F1").getByName("Command"), "vnd.pullsheet:help")


class Templates(MenuTestCase):
    def test_each_template(self):
        for name in TEMPLATES:
            with self.subTest(name):
                document = self.done("new?" + name, Hidden=True)
                try:
                    self.assertFalse(document.hasLocation(), "the new document is not untitled")
                    self.assertFalse(document.isReadonly())
                    document.calculateAll()
                    self.assertEqual(errors_in(document), [])
                    agree = document.NamedRanges.getByName("all_checks_agree").getReferredCells().getCellByPosition(0, 0)
                    self.assertEqual(agree.String, "yes")
                    about = document.Sheets.getByIndex(0)
                    rows = [" ".join(map(str, row)) for row in about.getCellRangeByName("A1:B60").getDataArray()]
                    self.assertTrue(any("invented" in row and "eplace" in row for row in rows), "About does not say whose data these are")
                    for sheet in map(document.Sheets.getByName, document.Sheets.ElementNames):
                        for chart in sheet.Charts:
                            self.assertFalse(chart.EmbeddedObject.hasInternalDataProvider(), "a chart does not follow its cells")
                finally:
                    document.close(True)

    def test_they_are_in_the_dialogue_of_templates(self):
        listed = self.office.create("com.sun.star.util.PathSettings").getPropertyValue("Template_internal")
        self.assertTrue(any("templates/en" in path for path in listed), listed)

    def test_one_that_there_is_not(self):
        self.assertIn("no such template", self.refused("new?nonsense"))
        self.assertIn("no such template", self.refused("new?../../description"))


class CustomerCopy(MenuTestCase):
    """What a shop hands out, seen with an office that has no Pullsheet."""

    @classmethod
    def setUpClass(cls):
        super().setUpClass()
        cls.bare = Office(cls.folder / "bare profile", seconds=120)
        cls.bare.__enter__()
        cls.addClassCleanup(cls.bare.stop)

    def setUp(self):
        super().setUp()
        self.work = self.folder / "work" / self.id().rsplit(".", 1)[-1]
        shutil.rmtree(self.work, ignore_errors=True)
        self.work.mkdir(parents=True)

    def save(self, name="sheet.ods", document=None):
        path = self.work / name
        document = document or self.document
        document.storeAsURL(path.as_uri(), (property_value("FilterName", "calc8"),))
        return path

    def paths(self, urls):
        return [pathlib.Path(uno.fileUrlToSystemPath(url)) for url in urls]

    def copy(self, document=None, **arguments):
        return self.paths(self.done("copy", document, **arguments))

    def seen(self, path):
        document = self.bare.load(path)
        self.addCleanup(document.close, True)
        document.calculateAll()
        return document

    def shown(self, document, sheet, address):
        return document.Sheets.getByName(sheet).getCellRangeByName(address).String

    def whole_text(self, path):
        """Everything that an .ods or .xlsx holds, to look for what must not be in it."""
        with zipfile.ZipFile(path) as archive:
            return "\n".join(archive.read(name).decode("utf-8", "replace") for name in archive.namelist())

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
            self.assertNotIn("pullsheet.functions", self.whole_text(path).lower())
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

    def secret_book(self):
        """A page for the customer beside a sheet with purchase prices, and much else on the page that is nobody's business."""
        sheets = self.document.Sheets
        sheets.insertNewByName("Costs", 0)
        self.put("Costs.A1", "bought at 4711")
        self.put("Costs.B1", 4711.25)
        self.put("Costs.B2", 0.815)
        names = self.document.NamedRanges
        origin = self.cell("Costs.A1").CellAddress
        names.addNewByName("purchase_price", "$Costs.$B$1", origin, 0)
        names.addNewByName("limit", "$Costs.$B$2", origin, 0)
        names.addNewByName("on_page", "$Sheet1.$A$1:$B$2", origin, 0)
        names.addNewByName("margin_formula", "$Costs.$B$1*1.3733", origin, 0)
        self.put("A1", "=purchase_price*2")
        self.put("A2", "plain")
        self.put("B1", 1.0)
        self.put("B2", 0.5)
        self.put("D9", "outside 9183")
        self.put("A4", "hidden row 5522")
        self.sheet.Rows.getByIndex(3).IsVisible = False
        self.sheet.setPrintAreas((self.cell("A1:B5").RangeAddress,))
        self.sheet.Annotations.insertNew(self.cell("A2").CellAddress, "comment 6644")
        conditions = self.cell("B1:B2").ConditionalFormat
        conditions.addNew((property_value("Operator", FORMULA), property_value("Formula1", "B1>limit"), property_value("StyleName", "Good"),
                           property_value("SourcePosition", self.cell("B1").CellAddress)))
        self.cell("B1:B2").ConditionalFormat = conditions
        self.document.DocumentProperties.Author = "Secret Author 3377"
        self.document.DocumentProperties.UserDefinedProperties.addProperty("own", 128, "property 2288")

    SECRETS = ("4711.25", "bought at", "9183", "5522", "6644", "3377", "2288", "1.3733", "purchase_price")

    def test_only_what_is_printed_goes_out(self):
        self.secret_book()
        self.document.CurrentController.setActiveSheet(self.sheet)
        self.save()
        for path in self.copy(Formats=["ods", "xlsx"]):
            text = self.whole_text(path)
            for secret in self.SECRETS:
                self.assertNotIn(secret, text, path.name)
            document = self.seen(path)
            self.assertEqual(document.Sheets.ElementNames, ("Sheet1",))
            self.assertEqual(self.shown(document, "Sheet1", "A1"), "9422.5")
            self.assertEqual(self.shown(document, "Sheet1", "A2"), "plain")
            self.assertIn("on_page", document.NamedRanges.ElementNames)
            # What the look of a cell depends on stays as a number.
            self.assertEqual(document.NamedRanges.getByName("limit").Content, "0.815")

    def test_everything_goes_out_if_asked_for(self):
        self.secret_book()
        self.save()
        document = self.seen(self.copy(Formats=["ods"], Sheets=["Costs", "Sheet1"], OnlyPrinted=False)[0])
        self.assertEqual(document.Sheets.ElementNames, ("Costs", "Sheet1"))
        self.assertEqual(self.shown(document, "Sheet1", "D9"), "outside 9183")
        self.assertEqual(self.shown(document, "Sheet1", "A4"), "hidden row 5522")
        self.assertTrue(set(document.NamedRanges.ElementNames) >= {"purchase_price", "limit", "on_page"})

    def test_the_marked_page_is_what_goes_out_without_asking(self):
        self.secret_book()
        self.document.NamedRanges.addNewByName("customer_page", "$Sheet1.$A$1:$B$5", self.cell("A1").CellAddress, 0)
        self.document.CurrentController.setActiveSheet(self.document.Sheets.getByName("Costs"))
        self.save()
        self.assertEqual(self.seen(self.copy(Formats=["ods"])[0]).Sheets.ElementNames, ("Sheet1",))

    def test_recorded_changes_do_not_go_out(self):
        self.document.RecordChanges = True
        self.put("A1", "first price 8123")
        self.put("A1", "second price")
        path = self.save()
        self.assertIn("8123", self.whole_text(path))
        copied = self.copy(Formats=["ods"])[0]
        self.assertNotIn("8123", self.whole_text(copied))
        self.assertTrue(self.document.RecordChanges)

    def test_links_and_macros_do_not_go_out(self):
        other = self.office.new_document()
        other.Sheets.getByIndex(0).getCellRangeByName("A1").Value = 40.0
        self.save("supplier.ods", other)
        other.close(True)
        self.put("A1", "='%s'#$Sheet1.A1+2" % (self.work / "supplier.ods").as_uri())
        libraries = self.document.BasicLibraries
        if not libraries.hasByName("Standard"):
            libraries.createLibrary("Standard")
        libraries.loadLibrary("Standard")
        libraries.getByName("Standard").insertByName("Module1", "Sub Secret9911\nEnd Sub\n")
        self.sheet.setName("Page")
        path = self.save()
        if self.cell("Page.A1").getError():
            self.skipTest("this office does not follow the link")
        self.assertIn("Secret9911", self.whole_text(path))
        for path in self.copy(Formats=["ods", "xlsx"]):
            text = self.whole_text(path)
            self.assertNotIn("Secret9911", text, path.name)
            self.assertNotIn("supplier", text, path.name)
            self.assertEqual(self.shown(self.seen(path), "Page", "A1"), "42")

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

    # The example sheets.

    def test_the_example_sheets(self):
        for name, pages in (("customer-quote", ("Quote",)), ("dyno-day", ("Report",)), ("road-runs", ("Runs",)), ("fuel-potential", ("Potential",))):
            with self.subTest(name):
                shutil.copy(ROOT / "example-sheets" / (name + ".fods"), self.work)
                original = self.office.load(self.work / (name + ".fods"))
                try:
                    ods, xlsx, pdf = self.copy(original)
                    for path in (ods, xlsx):
                        document = self.seen(path)
                        visible = tuple(sheet for sheet in document.Sheets.ElementNames if document.Sheets.getByName(sheet).IsVisible)
                        self.assertEqual(visible, pages)
                        page, copied = original.Sheets.getByName(pages[0]), document.Sheets.getByName(pages[0])
                        area = page.getPrintAreas()[0]
                        for row in range(area.EndRow + 1):
                            for column in range(area.EndColumn + 1):
                                self.assertEqual(copied.getCellByPosition(column, row).String, page.getCellByPosition(column, row).String,
                                                 (path.name, column, row))
                        self.assertEqual(copied.Charts.Count, page.Charts.Count)
                        for chart, before in zip(copied.Charts, page.Charts):
                            self.assertEqual(self.plotted(chart), self.plotted(before), path.name)
                    text = subprocess.run(["pdftotext", "-layout", str(pdf), "-"], check=True, capture_output=True, timeout=60).stdout
                    self.assertNotIn(b"#NAME?", text)
                finally:
                    original.close(True)

    def plotted(self, chart):
        """The numbers that a chart draws, by series: (what they are for, numbers); a file keeps fifteen digits of each."""
        series = chart.EmbeddedObject.getFirstDiagram().getCoordinateSystems()[0].getChartTypes()[0].getDataSeries()
        return [sorted((sequence.Values.Role, ["%.9g" % value if isinstance(value, float) and value == value else ""
                                               for value in sequence.Values.getData()])
                       for sequence in one.getDataSequences()) for one in series]


if __name__ == "__main__":
    unittest.main()
