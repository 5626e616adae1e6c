# SPDX-License-Identifier: Apache-2.0
"""What the README says of the product is so: its formulas, commands, tables, pictures and links."""

import os
import pathlib
import re
import shutil
import subprocess
import sys
import tempfile
import unittest

sys.dont_write_bytecode = True

from formulas import compute, name_of  # noqa: E402
from tables import COMMAND, NUMBER, README, ROOT, ROW, SOURCES, sources_table  # noqa: E402

from catalogue import Catalogue, german  # noqa: E402  (its folder is known by tables)

TEXT = README.read_text(encoding="utf-8")
IN_CODE = re.compile(r"`(=[^`]+)`")
# Formulas that say how a formula begins or that need the cells of a sheet; the second is tested in Calc by calc/why.py.
NOT_COMPUTED = {"=AIR.", "=FUNCTION.WHY(B7)"}

# Entries of the bibliography that no function rests on: sources of check values.
ONLY_IN_CHECKS = {"Fox 1973"}


def printed_precision(number):
    """Half a unit of the last digit printed."""
    return 0.5 * 10 ** -len(number.partition(".")[2]) * (1 + 1e-9)


class Formulas(unittest.TestCase):
    def test_every_value_beside_a_formula_is_what_it_gives(self):
        rows = list(ROW.finditer(TEXT))
        self.assertGreater(len(rows), 40)
        for row in rows:
            formula = row["formula"].replace("\\|", "|")
            with self.subTest(formula=formula):
                value, said = compute(COMMAND, formula)
                if value is None:
                    self.assertTrue(row["value"].startswith(name_of(formula) + ": "), said)
                    self.assertEqual(row["value"], said)
                elif isinstance(value, str):
                    self.assertEqual(row["value"], value)
                else:
                    number = NUMBER.match(row["value"])
                    self.assertIsNotNone(number, row["value"])
                    self.assertLessEqual(abs(value - float(number[0])), printed_precision(number[0]))

    def test_a_formula_stands_there_for_a_german_calc_too(self):
        for row in ROW.finditer(TEXT):
            formula = row["formula"]
            self.assertEqual(row["german"], None if german(formula) == formula else german(formula), formula)

    def test_every_other_formula_is_accepted(self):
        beside = {row[kind] for row in ROW.finditer(TEXT) for kind in ("formula", "german")}
        for formula in set(IN_CODE.findall(TEXT)) - beside - NOT_COMPUTED:
            with self.subTest(formula=formula):
                value, said = compute(COMMAND, formula)
                self.assertIsNotNone(value, said)


class Tables(unittest.TestCase):
    @classmethod
    def setUpClass(cls):
        cls.catalogue = Catalogue(COMMAND)

    def test_the_sources_are_those_of_the_catalogue(self):
        begin, end = (TEXT.index(mark) for mark in SOURCES)
        self.assertEqual(TEXT[begin + len(SOURCES[0]):end].strip(), sources_table(self.catalogue).strip(),
                         "run tests/readme/tables.py")

    def test_every_entry_of_the_bibliography_is_in_the_table(self):
        written = re.findall(r'^    \{"([^"]+)",', (ROOT / "core" / "catalogue" / "sources.cpp").read_text(encoding="utf-8"), re.MULTILINE)
        self.assertGreater(len(written), 40)
        used = {source["key"] for source in self.catalogue.sources()}
        self.assertEqual(set(written) - used, ONLY_IN_CHECKS)

    def test_a_sheet_named_beside_a_function_uses_it(self):
        identifiers = {function["name"]: function["identifier"].lower() for function in self.catalogue.functions}
        rows = re.findall(r"^\| [^|]+ \| ((?:`[A-Z.]+`(?:, )?)+) \| `([a-z-]+\.fods)` \|$", TEXT, re.MULTILINE)
        self.assertGreater(len(rows), 8)
        for names, sheet in rows:
            formulas = (ROOT / "example-sheets" / sheet).read_text(encoding="utf-8").lower()
            for name in re.findall(r"[A-Z.]+", names):
                self.assertIn(identifiers[name] + "(", formulas, "%s in %s" % (name, sheet))

    def test_every_family_has_its_line(self):
        for family in self.catalogue.families:
            self.assertTrue("`%s`" % family["name"] in TEXT, family["name"])


class Files(unittest.TestCase):
    def test_every_picture_and_link_is_there(self):
        links = re.findall(r"\]\(([^)#]+)\)", TEXT)
        self.assertGreater(len(links), 4)
        for link in links:
            self.assertTrue((ROOT / link).is_file(), link)

    def test_the_pictures_are_small_and_all_are_shown(self):
        for picture in (ROOT / "example-sheets" / "pictures").glob("*.png"):
            self.assertLessEqual(picture.stat().st_size, 150_000, picture.name)
            self.assertTrue("(example-sheets/pictures/%s)" % picture.name in TEXT, picture.name)


class Commands(unittest.TestCase):
    def test_every_command_line_runs(self):
        """The blocks with the command `pullsheet`, in their order, in a folder of their own."""
        blocks = [re.sub(r"^ *", "", block, flags=re.MULTILINE) for block in re.findall(r"^ *```sh\n(.*?)^ *```$", TEXT, re.MULTILINE | re.DOTALL)]
        blocks = [block for block in blocks if "pullsheet " in block]
        self.assertGreaterEqual(len(blocks), 2)
        with tempfile.TemporaryDirectory() as folder:
            (pathlib.Path(folder) / "example-sheets").symlink_to(ROOT / "example-sheets")
            environment = dict(os.environ, PATH=str(pathlib.Path(COMMAND).parent) + os.pathsep + os.environ["PATH"])
            done = subprocess.run([shutil.which("bash"), "-euo", "pipefail", "-c", "".join(blocks)], cwd=folder, env=environment, timeout=900,
                                  stdin=subprocess.DEVNULL, capture_output=True, encoding="utf-8")
            self.assertEqual(done.returncode, 0, done.stderr + done.stdout)
            for made in ("factors.json", "quote.pdf"):
                self.assertGreater((pathlib.Path(folder) / made).stat().st_size, 0, made)


if __name__ == "__main__":
    unittest.main()
