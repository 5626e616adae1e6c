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
        """With the ranges of an example in named cells, as the page shows them."""
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
