# SPDX-License-Identifier: Apache-2.0
"""Calc's own tools over our functions: goal seek, multiple operations, solver, conditions, names, sorting, copied sheets, macros."""

import unittest

import uno
from com.sun.star.sheet.ConditionOperator import FORMULA
from com.sun.star.sheet.TableOperationMode import BOTH, COLUMN
from com.sun.star.sheet.ValidationType import CUSTOM

from calc import CalcTestCase
from office import property_value


def kilowatts(torque, speed):
    """Power from N·m and rpm: P = T·ω."""
    return torque * speed * 3.141592653589793 / 30.0 / 1000.0


class Tools(CalcTestCase):
    def test_goal_seek(self):
        self.put("B1", 300.0)
        self.put("B2", 6000.0)
        self.put("B3", "=ENGINE.POWER(B1;B2)")
        found = self.document.seekGoal(self.cell("B3").CellAddress, self.cell("B1").CellAddress, "250")
        self.assertAlmostEqual(kilowatts(found.Result, 6000.0), 250.0, places=3)
        # On the way it may ask for what is not allowed; the answer is where the function answers.
        self.put("C1", 20.0)
        self.put("C3", "=AIR.DENSITY(C1;101.325)")
        found = self.document.seekGoal(self.cell("C3").CellAddress, self.cell("C1").CellAddress, "1.2")
        self.put("C1", found.Result)
        self.assertAlmostEqual(self.cell("C3").Value, 1.2, places=3)

    def test_multiple_operations_over_one_and_two_inputs(self):
        self.put("A1", 400.0)
        self.put("B1", 5000.0)
        self.put("C1", "=ENGINE.POWER(A1;B1)")
        for row, torque in enumerate((300.0, 350.0, 420.0)):
            self.put("E%d" % (3 + row), torque)
        formula = self.cell("C1").RangeAddress
        self.cell("E3:F5").setTableOperation(formula, COLUMN, self.cell("A1").CellAddress, self.cell("A1").CellAddress)
        for row, torque in enumerate((300.0, 350.0, 420.0)):
            self.assertAlmostEqual(self.cell("F%d" % (3 + row)).Value, kilowatts(torque, 5000.0), places=9)
        for row, torque in enumerate((300.0, 350.0, 420.0)):
            self.put("H%d" % (4 + row), torque)
        for column, speed in zip("IJ", (3000.0, 6500.0)):
            self.put(column + "3", speed)
        self.put("H3", "=C1")
        self.cell("H3:J6").setTableOperation(formula, BOTH, self.cell("A1").CellAddress, self.cell("B1").CellAddress)
        for row, torque in enumerate((300.0, 350.0, 420.0)):
            for column, speed in zip("IJ", (3000.0, 6500.0)):
                self.assertAlmostEqual(self.cell("%s%d" % (column, 4 + row)).Value, kilowatts(torque, speed), places=9)

    def test_solver(self):
        self.put("A1", 10.0)
        self.put("A2", "=ENGINE.POWER(300;A1)")
        solver = self.office.create("com.sun.star.comp.Calc.CoinMPSolver")
        if solver is None:
            self.skipTest("this office has no linear solver")
        solver.Document = self.document
        solver.Objective = self.cell("A2").CellAddress
        solver.Variables = (self.cell("A1").CellAddress,)
        solver.Maximize = True
        limit = uno.createUnoStruct("com.sun.star.sheet.SolverConstraint")
        limit.Left = self.cell("A1").CellAddress
        limit.Operator = uno.Enum("com.sun.star.sheet.SolverConstraintOperator", "LESS_EQUAL")
        limit.Right = 7000.0
        solver.Constraints = (limit,)
        solver.solve()
        self.assertTrue(solver.Success)
        self.assertAlmostEqual(solver.ResultValue, kilowatts(300.0, 7000.0), places=6)

    def test_conditions_and_validity(self):
        good = self.document.createInstance("com.sun.star.style.CellStyle")
        self.document.StyleFamilies.getByName("CellStyles").insertByName("Enough", good)
        self.put("A1", 400.0)
        area = self.cell("A1")
        conditions = area.ConditionalFormat
        conditions.addNew((property_value("Operator", FORMULA), property_value("Formula1", "ENGINE.POWER(A1;5000)>200"), property_value("StyleName", "Enough")))
        area.ConditionalFormat = conditions
        self.assertEqual(area.ConditionalFormat.Count, 1)
        validation = area.Validation
        validation.Type = CUSTOM
        validation.setFormula1("ISNUMBER(ENGINE.POWER(A1;5000))")
        area.Validation = validation
        again = self.office.store(self.document, self.folder / "conditions.ods")
        loaded = self.office.load(again)
        try:
            cell = loaded.Sheets.getByIndex(0).getCellRangeByName("A1")
            formula = cell.ConditionalFormat.getByIndex(0).Formula1
            self.assertIn("5000", formula)
            self.assertNotIn("#NAME", formula)
            self.assertIn("5000", cell.Validation.getFormula1())
        finally:
            loaded.close(True)

    def test_a_formula_by_name(self):
        here = self.cell("A1").CellAddress
        self.document.NamedRanges.addNewByName("power_here", "ENGINE.POWER($Sheet1.$A$1;$Sheet1.$B$1)", here, 0)
        self.put("A1", 350.0)
        self.put("B1", 5500.0)
        self.put("C1", "=power_here*2")
        self.assertAlmostEqual(self.cell("C1").Value, 2.0 * kilowatts(350.0, 5500.0), places=9)

    def test_rows_are_sorted_inserted_and_removed(self):
        for row, torque in enumerate((420.0, 300.0, 350.0), 1):
            self.put("A%d" % row, torque)
            self.put("B%d" % row, "=ENGINE.POWER(A%d;5000)" % row)
        field = uno.createUnoStruct("com.sun.star.table.TableSortField")
        field.Field, field.IsAscending = 0, True
        self.cell("A1:B3").sort((property_value("SortFields", uno.Any("[]com.sun.star.table.TableSortField", (field,))),))
        for row, torque in enumerate((300.0, 350.0, 420.0), 1):
            self.assertEqual(self.cell("A%d" % row).Value, torque)
            self.assertAlmostEqual(self.cell("B%d" % row).Value, kilowatts(torque, 5000.0), places=9)
        self.sheet.Rows.insertByIndex(1, 2)
        self.assertAlmostEqual(self.cell("B5").Value, kilowatts(420.0, 5000.0), places=9)
        self.sheet.Rows.removeByIndex(0, 1)
        self.put("A3", 360.0)
        self.assertAlmostEqual(self.cell("B3").Value, kilowatts(360.0, 5000.0), places=9)

    def test_a_sheet_is_copied_into_another_document(self):
        self.put("A1", 350.0)
        self.put("B1", "=ENGINE.POWER(A1;5500)")
        self.array("D1:D2", "=ENGINE.POWER({300|400};5000)")
        self.put("B2", '=FUNCTION.WHY(B1)')
        other = self.office.new_document()
        try:
            other.Sheets.importSheet(self.document, self.sheet.Name, 0)
            copied = other.Sheets.getByIndex(0)
            self.assertAlmostEqual(copied.getCellRangeByName("B1").Value, kilowatts(350.0, 5500.0), places=9)
            copied.getCellRangeByName("A1").Formula = "bar"
            self.assertNotEqual(copied.getCellRangeByName("B1").getError(), 0)
            self.assertNotEqual(copied.getCellRangeByName("B2").String, "")
            self.assertAlmostEqual(copied.getCellRangeByName("D2").Value, kilowatts(400.0, 5000.0), places=9)
            self.assertAlmostEqual(self.cell("B1").Value, kilowatts(350.0, 5500.0), places=9)
        finally:
            other.close(True)

    def test_functions_of_a_macro(self):
        access = self.office.create("com.sun.star.sheet.FunctionAccess")
        self.assertAlmostEqual(access.callFunction("pullsheet.functions.enginePower", (350.0, 5500.0)), kilowatts(350.0, 5500.0), places=9)


if __name__ == "__main__":
    unittest.main()
