# SPDX-License-Identifier: Apache-2.0
"""What is saved comes back: every example, arguments omitted in the middle, array formulas, errors, FUNCTION.WHY."""

import unittest

from calc import CalcTestCase, catalogue


class Files(CalcTestCase):
    def fill(self):
        """Puts one formula of each kind into the first column and returns the number of rows."""
        row = 0
        for function in catalogue():
            row += 1
            if any(parameter["kind"] == "cell" for parameter in function["parameters"]):
                self.put("A%d" % row, "=%s(A1)" % function["name"])
                continue
            example = function["example"]
            call = self.call(function, example["arguments"])
            if function["result"]["kind"] == "table":
                call = "INDEX(%s;%d;%d)" % (call, example["row"] + 1, example["column"] + 1)
            self.put("A%d" % row, "=" + call)
        for formula in ('=UNIT.CONVERT(1;"PS";"bar")', '=FUNCTION.ERROR("UNIT.CONVERT";;"PS";"kW")', '=UNIT.CONVERT("1,5";"km";"m")',
                        "=FUNCTION.WHY(A%d)" % (row + 1), '=IF(TRUE();UNIT.CONVERT(UNIT.CONVERT(1;"km";"m");"m";"km");0)'):
            row += 1
            self.put("A%d" % row, formula)
        self.sheet.getCellRangeByName("C1:C3").setDataArray(((1.0,), ("x",), (3.0,)))
        self.array("A%d:A%d" % (row + 1, row + 3), '=UNIT.CONVERT(C1:C3;"km";"m")')
        return row + 3

    @staticmethod
    def contents(document, rows):
        sheet = document.Sheets.getByIndex(0)
        cells = [sheet.getCellByPosition(0, row) for row in range(rows)]
        return [(cell.Formula, cell.getError(), cell.String) for cell in cells]

    def save_and_reload(self, ending):
        rows = self.fill()
        before = self.contents(self.document, rows)
        self.assertTrue(all(formula.startswith(("=", "{=")) for formula, _, _ in before))
        path = self.office.store(self.document, self.folder / ("saved" + ending))
        again = self.office.load(path)
        try:
            self.assertEqual(self.contents(again, rows), before)
            again.calculateAll()
            self.assertEqual(self.contents(again, rows), before)
        finally:
            again.close(True)

    def test_ods(self):
        self.save_and_reload(".ods")

    def test_fods(self):
        self.save_and_reload(".fods")

    def test_xlsx(self):
        self.save_and_reload(".xlsx")

    def test_a_file_stores_the_names_of_the_interface(self):
        self.put("A1", '=UNIT.CONVERT(1;"km";"m")')
        path = self.office.store(self.document, self.folder / "names.fods")
        self.assertIn('table:formula="of:=PULLSHEET.FUNCTIONS.UNITCONVERT(1;&quot;km&quot;;&quot;m&quot;)"',
                      path.read_text(encoding="utf-8"))


if __name__ == "__main__":
    unittest.main()
