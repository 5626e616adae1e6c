# SPDX-License-Identifier: Apache-2.0
"""Every example sheet is a test: it is computed anew, shows no error anywhere, its checks agree, its PDF is written."""

import re
import shutil
import subprocess
import unittest

from calc import ROOT, CalcTestCase

ERROR_RESULT = 4  # com.sun.star.sheet.FormulaResult.ERROR

SHEETS = sorted((ROOT / "example-sheets").glob("*.fods"))


def error_cells(document):
    """The addresses of all cells that show an error."""
    found = []
    for name in document.Sheets.ElementNames:
        sheet = document.Sheets.getByName(name)
        ranges = sheet.queryFormulaCells(ERROR_RESULT)
        for index in range(ranges.Count):
            found.append(ranges.getByIndex(index).AbsoluteName)
    return found


class Sheets(CalcTestCase):
    def check(self, path):
        document = self.office.load(path)
        try:
            document.calculateAll()
            self.assertEqual(error_cells(document), [])
            names = document.NamedRanges
            self.assertTrue(names.hasByName("all_checks_agree"), "the sheet has no cell named all_checks_agree")
            cell = names.getByName("all_checks_agree").getReferredCells().getCellByPosition(0, 0)
            self.assertTrue(cell.Value == 1.0 or cell.String.strip().lower() == "yes", "the checks say %r" % cell.String)
            pdf = self.office.store(document, self.folder / (path.stem + ".pdf"))
            self.assertTrue(pdf.read_bytes().startswith(b"%PDF-"))
            if shutil.which("pdftotext"):
                text = subprocess.run(["pdftotext", "-layout", str(pdf), "-"], check=True, capture_output=True, timeout=60).stdout
                self.assertNotIn(b"#NAME?", text)
                self.assertNotIn(b"Err:5", text)
        finally:
            document.close(True)

    def test_example_sheets(self):
        for path in SHEETS:
            with self.subTest(path.name):
                self.check(path)

    def test_no_figure_in_a_text_depends_on_the_language_of_the_office(self):
        # TEXT reads its code as the office writes numbers: "0.0" prints wrong figures where the comma is the mark. FIXED does not.
        for path in SHEETS:
            with self.subTest(path.name):
                codes = re.findall(r";&quot;([^&;]*)&quot;\)", path.read_text(encoding="utf-8"))
                self.assertEqual([code for code in codes if re.search(r"[0#][.,][0#]|YY", code)], [])

    def test_the_check_would_find_a_failure(self):
        self.put("B2", '=UNIT.CONVERT(1;"PS";"bar")')
        self.assertEqual(error_cells(self.document), ["$Sheet1.$B$2"])


if __name__ == "__main__":
    unittest.main()
