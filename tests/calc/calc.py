# SPDX-License-Identifier: Apache-2.0
"""What the tests in Calc share: one private office for a test file, the catalogue's examples, cells by address."""

import json
import os
import pathlib
import shutil
import subprocess
import sys
import unittest

ROOT = pathlib.Path(__file__).resolve().parents[2]
sys.path.insert(0, str(ROOT / "example-sheets"))

from office import Office  # noqa: E402

BUILD = pathlib.Path(os.environ.get("PULLSHEET_BUILD", ROOT / "build"))
EXTENSION = BUILD / "addin" / "pullsheet.oxt"
COMMAND = os.environ.get("PULLSHEET_COMMAND", BUILD / "harness" / "pullsheet")

WRONG_ARGUMENT, NO_SOLUTION, NO_DATA = 502, 523, 32767


def catalogue():
    """Every function with its parameters and its worked example."""
    listed = subprocess.run([str(COMMAND), "list", "--json"], check=True, capture_output=True, timeout=60).stdout
    return [json.loads(line) for line in listed.splitlines()]


def literal(value):
    """A number or a text as a formula writes it; an omitted argument is nothing."""
    if value is None:
        return ""
    if isinstance(value, str):
        return '"%s"' % value.replace('"', '""')
    return repr(float(value))


class CalcTestCase(unittest.TestCase):
    """One office for all tests of a class; one document for each test."""

    language = "en-US"

    @classmethod
    def setUpClass(cls):
        cls.folder = BUILD / "calc-tests" / pathlib.Path(sys.argv[0]).stem
        shutil.rmtree(cls.folder, ignore_errors=True)
        cls.office = Office(cls.folder / "profile", EXTENSION, seconds=120, language=cls.language)
        cls.office.__enter__()
        cls.addClassCleanup(cls.office.stop)

    def setUp(self):
        self.assertTrue(self.office.is_alive, "the office has ended")
        self.document = self.office.new_document()
        self.sheet = self.document.Sheets.getByIndex(0)
        self.spare_row = 1000

    def tearDown(self):
        self.assertTrue(self.office.is_alive, "the office did not survive the test")
        self.document.close(True)

    def cell(self, address):
        if "." in address:
            sheet, address = address.rsplit(".", 1)
            return self.document.Sheets.getByName(sheet).getCellRangeByName(address)
        return self.sheet.getCellRangeByName(address)

    def put(self, address, content):
        """Writes a formula, a number or a text and returns the cell."""
        cell = self.cell(address)
        if isinstance(content, str):
            cell.Formula = content
        else:
            cell.Value = content
        return cell

    def array(self, address, formula):
        cells = self.cell(address)
        cells.setArrayFormula(formula)
        return cells

    def argument(self, value):
        """An argument as a formula writes it; a table is put into spare cells."""
        if not isinstance(value, list):
            return literal(value)
        rows, columns = len(value), len(value[0])
        cells = self.sheet.getCellRangeByPosition(20, self.spare_row, 20 + columns - 1, self.spare_row + rows - 1)
        cells.setDataArray(tuple(tuple("" if content is None else content for content in row) for row in value))
        address = cells.AbsoluteName.split(".")[-1]
        self.spare_row += rows + 1
        return address

    def call(self, function, arguments):
        """The call of a function with these arguments, without the equals sign."""
        while arguments and arguments[-1] is None:
            arguments = arguments[:-1]
        return "%s(%s)" % (function["name"], ";".join(self.argument(value) for value in arguments))

    def assert_shows(self, cell, expected, tolerance=0.0, message=None):
        self.assertEqual(cell.getError(), 0, "%s shows %s" % (message or cell.Formula, cell.String))
        if isinstance(expected, str):
            self.assertEqual(cell.String, expected, message)
        else:
            self.assertLessEqual(abs(cell.Value - expected), tolerance * abs(expected) + 1e-300,
                                 "%s: %r instead of %r" % (message or cell.Formula, cell.Value, expected))
