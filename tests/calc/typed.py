# SPDX-License-Identifier: Apache-2.0
"""The formulas of the README and of the guide, typed as a person types them into an English and into a German Calc."""

import pathlib
import re
import sys
import tempfile
import unittest

from calc import EXTENSION, ROOT, catalogue

sys.path[:0] = [str(ROOT / "tests" / "readme"), str(ROOT / "harness" / "guide")]

import write_pages  # noqa: E402
from catalogue import is_table  # noqa: E402
from tables import NUMBER, README, ROW  # noqa: E402

from office import Office  # noqa: E402

LOCALES = {"en": ("en-US", "en-US"), "de": ("de", "de-DE")}


def described(office):
    """What the function wizard shows."""
    service = office.create("com.sun.star.sheet.FunctionDescriptions")
    for index in range(service.Count):
        yield {item.Name: item.Value for item in service.getByIndex(index)}


class Typed(unittest.TestCase):
    @classmethod
    def setUpClass(cls):
        cls.functions = catalogue()
        cls.offices, cls.sheets = {}, {}
        for name, (language, locale) in LOCALES.items():
            folder = tempfile.TemporaryDirectory()
            cls.addClassCleanup(folder.cleanup)
            office = Office(pathlib.Path(folder.name), EXTENSION, seconds=120, language=language, locale=locale)
            office.__enter__()
            cls.addClassCleanup(office.stop)
            cls.offices[name] = office
            cls.sheets[name] = office.new_document().Sheets.getByIndex(0)

    def typed(self, language, formula):
        cell = self.sheets[language].getCellRangeByName("A1")
        cell.FormulaLocal = formula
        return cell

    def why(self):
        """Why the formula typed last into the German Calc fails."""
        cell = self.sheets["de"].getCellRangeByName("B1")
        cell.Formula = "=FUNCTION.WHY(A1)"
        return cell.String

    def test_a_number_typed_with_a_point(self):
        self.assertEqual(self.typed("de", "=AIR.DENSITY(22;97,9;0,55)").String, "1,1494417787628")
        for formula, number in (("=AIR.DENSITY(22;97.9;0,55)", "97.9"), ("=AIR.DENSITY(22;97,9;0.55)", "0.55"), ("=1.5+2", "1.5")):
            self.assertEqual(self.typed("de", formula).String, "#NAME?")
            self.assertEqual(self.why(),
                             "%s ist mit Punkt geschrieben; in diesem Calc trennt das Komma die Dezimalstellen, richtig ist %s"
                             % (number, number.replace(".", ",")))
        self.typed("de", "=FUEL.BLEND.ETHANOL({30|15};{0.05|0.8})")
        self.assertTrue(self.why().endswith(
            "; in diesem Calc trennt das Komma die Dezimalstellen, ein Punkt in geschweiften Klammern trennt Spalten"),
            self.why())
        self.assertEqual(self.typed("de", "=FUEL.BLEND.ETHANOL({30|15};{0,05|0,8})").String, "0,3")
        self.typed("de", "=FUEL.BLEND.ETHANOL({30|15};{0,05|80})")
        self.assertNotIn("Dezimal", self.why())

    def test_numbers_of_sentences_can_be_typed(self):
        self.typed("de", "=AIR.DENSITY(22;997,9;0,55)")
        sentence = self.why()
        self.assertIn("pressure ist 997,9 kPa; ", sentence)
        self.assertNotRegex(sentence, r"\d\.\d")
        for function in described(self.offices["de"]):
            if not re.fullmatch(r"[A-Z]+(\.[A-Z0-9]+)+", function["Name"]):
                continue
            for text in [function["Description"], *(argument.Description for argument in function["Arguments"] or ())]:
                self.assertNotRegex(text, r"\d\.\d", function["Name"])

    def test_formulas_of_the_readme(self):
        rows = list(ROW.finditer(README.read_text(encoding="utf-8")))
        self.assertGreater(len([row for row in rows if row["german"]]), 25)
        for row in rows:
            english = row["formula"].replace("\\|", "|")
            for language, formula in (("en", english), ("de", (row["german"] or row["formula"]).replace("\\|", "|"))):
                with self.subTest(language=language, formula=formula):
                    cell = self.typed(language, formula)
                    said = re.match(r"[A-Z.]+: ", row["value"])
                    if said and not formula.startswith("=FUNCTION.ERROR"):
                        self.assertEqual(cell.getError(), 502, cell.String)
                        continue
                    self.assertEqual(cell.getError(), 0, cell.String)
                    number = NUMBER.match(row["value"])
                    if number and number[0] == row["value"].split(" ")[0]:
                        self.assertLessEqual(abs(cell.Value - float(number[0])),
                                             0.5 * 10 ** -len(number[0].partition(".")[2]) * (1 + 1e-9))
                    elif language == "en":
                        self.assertEqual(cell.String, row["value"])
                    else:
                        self.assertNotEqual(cell.String, "")

    def test_examples_of_the_guide(self):
        """Those whose arguments are single values; ranges stand in cells."""
        tried = 0
        for function in self.functions:
            example = function["example"]
            if any(parameter["kind"] == "cell" for parameter in function["parameters"]) or function["result"]["kind"] == "table":
                continue
            if any(is_table(argument) for argument in example["arguments"]):
                continue
            english = write_pages.example_call(function)
            for language, formula in (("en", english), ("de", write_pages.german_example_call(function) or english)):
                with self.subTest(language=language, formula=formula):
                    cell = self.typed(language, formula)
                    tried += 1
                    self.assertEqual(cell.getError(), 0, cell.String)
                    if not isinstance(example["expected"], str):
                        self.assertLessEqual(abs(cell.Value - example["expected"]),
                                             example["tolerance"] * abs(example["expected"]) + 1e-300)
        self.assertGreater(tried, 80)


if __name__ == "__main__":
    unittest.main()
