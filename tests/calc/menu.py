# SPDX-License-Identifier: Apache-2.0
"""The menu "Pullsheet": every command, given without its dialogue; the customer copy has tests of its own."""

import pathlib
import re
import unittest

import uno
from calc import BUILD, ROOT
from commands import MenuTestCase
from office import property_value

ERROR_RESULT = 4  # com.sun.star.sheet.FormulaResult.ERROR
TEMPLATES = ["customer-quote", "dyno-day", "fuel-system", "air-path", "road-runs", "fuel-potential"]

PS_TO_BAR = "UNIT.CONVERT: PS is a unit of power, bar one of pressure; they cannot be converted"


def errors_in(document):
    return [name for name in document.Sheets.ElementNames if document.Sheets.getByName(name).queryFormulaCells(ERROR_RESULT).Count]


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
        for part in ("Apache-2.0", "never a release for road use", "type approval", "ISO 2533", "Heywood", "page How we know"):
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


if __name__ == "__main__":
    unittest.main()
