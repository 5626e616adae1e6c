# SPDX-License-Identifier: Apache-2.0
"""The German templates: every text is translated, and what is computed is what the English sheet computes."""

import pathlib
import re
import shutil
import sys
import unittest
import xml.etree.ElementTree as ElementTree

import polib

from calc import BUILD, EXTENSION, ROOT
from office import PROGRAM, Office, property_value

sys.path.insert(0, str(ROOT / "example-sheets" / "make"))

from texts import Sheet, tag, texts_in  # noqa: E402

CATALOGUE = ROOT / "example-sheets" / "make" / "languages" / "de.po"
TEMPLATES = BUILD / "addin" / "package" / "templates" / "de" / "Pullsheet (Deutsch)"
ENGLISH = BUILD / "addin" / "package" / "templates" / "en" / "Pullsheet"
ERROR_RESULT = 4  # com.sun.star.sheet.FormulaResult.ERROR


def german_sheets():
    return [ROOT / "example-sheets" / (template.stem + ".fods") for template in sorted(TEMPLATES.glob("*.ots"))]


class Catalogue(unittest.TestCase):
    def test_every_template_is_there_in_german(self):
        english = sorted(template.name for template in ENGLISH.glob("*.ots"))
        self.assertEqual(len(english), 6)
        self.assertEqual(sorted(template.name for template in TEMPLATES.glob("*.ots")), english)

    def test_every_text_has_a_translation_and_none_is_left_over(self):
        texts = set()
        for sheet in german_sheets():
            texts.update(Sheet(sheet).messages())
        entries = {entry.msgid: entry.msgstr for entry in polib.pofile(str(CATALOGUE)) if not entry.obsolete}
        self.assertGreater(len(texts), 100)
        self.assertEqual(sorted(text for text in texts if not entries.get(text)), [])
        self.assertEqual(sorted(set(entries) - texts), [])

    def test_blanks_at_the_ends_and_places_of_numbers_stay(self):
        for entry in polib.pofile(str(CATALOGUE)):
            with self.subTest(entry.msgid):
                for end in (0, -1):
                    self.assertEqual(entry.msgid[end] == " ", entry.msgstr[end] == " ")
                self.assertEqual(sorted(re.findall(r"\{\d\}", entry.msgid)), sorted(re.findall(r"\{\d\}", entry.msgstr)))

    def test_what_functions_read_stays(self):
        self.stay("customer-quote", "Inputs.A14", "Inputs.C14", "Inputs.B10", "Inputs.B19", "Inputs.A24", "Inputs.C24")
        self.stay("air-path", "Inputs.A28", "Points.A26", "Points.A62", "Points.A66", "Stages.A39")
        self.stay("dyno-day", "Inputs.B26", "Inputs.B36", "Day.B7")
        self.stay("road-runs", "Inputs.A6", "Behind.S54")

    def test_what_a_reader_sees_is_translated(self):
        self.change("customer-quote", "Inputs.A5", "Inputs.B7", "Inputs.G14", "Inputs.B37", "About.B7")
        self.change("air-path", "Pipes.A1", "Pipes.E7", "Map.C35", "Points.A39")
        self.change("dyno-day", "Inputs.B7", "Day.A18", "Day.A33", "Report.A6")
        self.change("road-runs", "Runs.A11", "Measured.B6")

    def places(self, name):
        return {where for where, _, put in Sheet(ROOT / "example-sheets" / (name + ".fods")).texts() if put}

    def stay(self, name, *wanted):
        self.assertEqual(self.places(name) & set(wanted), set(), name)

    def change(self, name, *wanted):
        self.assertEqual(set(wanted) - self.places(name), set(), name)

    def test_a_verdict_and_what_it_is_looked_up_by_stay(self):
        texts = Sheet(ROOT / "example-sheets" / "dyno-day.fods").messages()
        for text in ("stands out: left out", "stands out*", "alone in its group", "peak torque"):
            self.assertNotIn(text, texts)
        self.assertIn("No pull stands out.", texts)
        self.assertNotIn("surge margin", [text for _, text, _ in self.formula_texts("air-path")])

    def formula_texts(self, name):
        sheet = Sheet(ROOT / "example-sheets" / (name + ".fods"))
        return [(place, text, cell) for place, cell, text in sheet.literals(sheet.read())]

    def test_which_texts_of_a_formula_are_seen(self):
        formula = 'of:=IF([.A1]="yes";"pull "&MATCH("peak";heads;0)&" of "&IFERROR(UNIT.CONVERT([.B1];"kW";unit);"none");LEFT([.C1]&"x";2))'
        self.assertEqual({text: (part.seen, part.joined) for text, part in texts_in(formula)},
                         {"yes": (False, False), "pull ": (True, True), "peak": (False, False), " of ": (True, True),
                          "kW": (False, False), "none": (True, False), "x": (False, True)})

    def test_a_compared_text_in_a_formula_stays(self):
        path = BUILD / "calc-tests" / "compared.fods"
        path.parent.mkdir(parents=True, exist_ok=True)
        shutil.copy(ROOT / "example-sheets" / "customer-quote.fods", path)
        sheet = Sheet(path)
        cell = next(cell for cell in sheet.cells.values() if "Nothing measured yet." in cell.get(tag("table:formula"), ""))
        self.assertIn("Nothing measured yet.", sheet.messages())
        other = ElementTree.SubElement(cell, "other")
        other.set(tag("table:formula"), 'of:=IF([.A57]="Nothing measured yet.";1;2)')
        sheet.cells["Quote", 50, 300] = other
        self.assertNotIn("Nothing measured yet.", sheet.messages())


class InGerman(unittest.TestCase):
    @classmethod
    def setUpClass(cls):
        folder = BUILD / "calc-tests" / pathlib.Path(sys.argv[0]).stem
        shutil.rmtree(folder, ignore_errors=True)
        cls.office = Office(folder / "profile", EXTENSION, locale="de-DE", seconds=120)
        cls.office.__enter__()
        cls.addClassCleanup(cls.office.stop)

    def test_each_template_computes_what_the_english_sheet_does(self):
        for path in german_sheets():
            with self.subTest(path.stem):
                english, german = self.office.load(path), self.office.load(TEMPLATES / (path.stem + ".ots"))
                try:
                    self.compare(english, german)
                finally:
                    english.close(True)
                    german.close(True)

    def test_numbers_are_written_as_in_german(self):
        for name, sheet, cell, shown in (("customer-quote", "Angebot", "F23", "3.400"), ("dyno-day", "Eingaben", "B12", "1016,0"),
                                         ("air-path", "Eingaben", "A20", "Leistung bei 4000 rpm")):
            document = self.office.load(TEMPLATES / (name + ".ots"))
            try:
                self.assertEqual(document.Sheets.getByName(sheet).getCellRangeByName(cell).String, shown)
            finally:
                document.close(True)

    def compare(self, english, german):
        for document in (english, german):
            document.calculateAll()
        self.assertEqual(len(english.Sheets.ElementNames), len(german.Sheets.ElementNames))
        agree = german.NamedRanges.getByName("all_checks_agree").getReferredCells().getCellByPosition(0, 0)
        self.assertEqual(agree.String, "yes")
        numbers = 0
        for before, after in zip(map(english.Sheets.getByName, english.Sheets.ElementNames), map(german.Sheets.getByName, german.Sheets.ElementNames)):
            self.assertEqual(after.queryFormulaCells(ERROR_RESULT).Count, 0, after.Name)
            cursor = before.createCursor()
            cursor.gotoEndOfUsedArea(False)
            address = (0, 0, cursor.RangeAddress.EndColumn, cursor.RangeAddress.EndRow)
            rows = zip(before.getCellRangeByPosition(*address).getDataArray(), after.getCellRangeByPosition(*address).getDataArray())
            for row, (left, right) in enumerate(rows, 1):
                for column, (one, other) in enumerate(zip(left, right)):
                    if isinstance(one, float) or isinstance(other, float):
                        self.assertEqual(one, other, (after.Name, column, row))
                        numbers += 1
            self.assertEqual(after.Charts.Count, before.Charts.Count)
        self.assertGreater(numbers, 50)


@unittest.skipUnless((PROGRAM.parents[1] / "share" / "registry" / "res" / "registry_de.xcd").exists(), "the office has no German here")
class WithGermanMenus(unittest.TestCase):
    @classmethod
    def setUpClass(cls):
        profile = BUILD / "calc-tests" / (pathlib.Path(sys.argv[0]).stem + " menus") / "profile"
        shutil.rmtree(profile, ignore_errors=True)
        cls.office = Office(profile, EXTENSION, locale="de-DE", language="de", seconds=120)
        cls.office.__enter__()
        cls.addClassCleanup(cls.office.stop)

    def test_they_are_in_the_dialogue_of_templates(self):
        listed = self.office.create("com.sun.star.util.PathSettings").getPropertyValue("Template_internal")
        self.assertTrue(any("templates/de" in path for path in listed), listed)

    def test_the_menu_opens_them(self):
        document = self.office.new_document()
        helper = self.office.create("com.sun.star.frame.DispatchHelper")
        for path in german_sheets():
            event = helper.executeDispatch(document.CurrentController.Frame, "vnd.pullsheet:new?" + path.stem, "", 0,
                                           (property_value("Silent", True), property_value("Hidden", True)))
            opened = event.Result
            self.assertEqual(opened.Sheets.ElementNames[0], "Info")
            self.assertFalse(opened.hasLocation())
            opened.close(True)
        document.close(True)


if __name__ == "__main__":
    unittest.main()
