# SPDX-License-Identifier: Apache-2.0
"""Every function of the catalogue, called in Calc."""

import time
import unittest

from calc import NO_DATA, WRONG_ARGUMENT, CalcTestCase, catalogue


def is_number(value):
    return isinstance(value, float) or (isinstance(value, int) and not isinstance(value, bool))


class Functions(CalcTestCase):
    functions = catalogue()

    def scalar_functions(self):
        """Those that answer with one number."""
        for function in self.functions:
            if function["result"]["kind"] == "number" and is_number(function["example"]["expected"]):
                yield function

    def test_every_example(self):
        self.assertGreaterEqual(len(self.functions), 6)
        for index, function in enumerate(self.functions):
            example = function["example"]
            with self.subTest(function["name"]):
                if any(parameter["kind"] == "cell" for parameter in function["parameters"]):
                    self.assert_shows(self.put("A%d" % (index + 1), "=%s(Z1)" % function["name"]), "")
                    continue
                call = self.call(function, example["arguments"])
                if function["result"]["kind"] == "table":
                    call = "INDEX(%s;%d;%d)" % (call, example["row"] + 1, example["column"] + 1)
                self.assert_shows(self.put("A%d" % (index + 1), "=" + call), example["expected"],
                                  example["tolerance"] or 1e-12)

    def test_tables_fill_an_array_formula_with_their_header(self):
        tables = 0
        for function in self.functions:
            if function["result"]["kind"] != "table":
                continue
            with self.subTest(function["name"]):
                tables += 1
                example = function["example"]
                row, column = example["row"], example["column"]
                cells = self.array("A1:%s%d" % ("ABCDEFGHIJKLMNOP"[max(column, 1)], max(row + 1, 2)),
                                   "=" + self.call(function, example["arguments"]))
                self.assertNotEqual(cells.getCellByPosition(0, 0).String, "")
                self.assert_shows(cells.getCellByPosition(column, row), example["expected"], example["tolerance"] or 1e-12)
                cells.clearContents(1023)
        self.assertGreater(tables, 0)

    def test_text_with_the_default_unit_is_the_plain_number(self):
        for function in self.scalar_functions():
            example = function["example"]
            for position, (parameter, value) in enumerate(zip(function["parameters"], example["arguments"])):
                if parameter["kind"] != "number" or not parameter["unit"] or not is_number(value):
                    continue
                for text in ("%r %s" % (value, parameter["unit"]), ("%r%s" % (value, parameter["unit"])).replace(".", ",")):
                    with self.subTest(function["name"], argument=text):
                        arguments = list(example["arguments"])
                        arguments[position] = text
                        self.assert_shows(self.put("A1", "=" + self.call(function, arguments)), example["expected"],
                                          max(example["tolerance"], 1e-9))

    def test_arguments_omitted_in_the_middle(self):
        for function in self.scalar_functions():
            parameters = function["parameters"]
            if not parameters or parameters[-1]["kind"] != "unit":
                continue
            for position, parameter in enumerate(parameters[:-1]):
                if parameter["default"] is None or parameter["required"]:
                    continue
                arguments = list(function["example"]["arguments"][:len(parameters) - 1])
                arguments += [None] * (len(parameters) - 1 - len(arguments)) + [function["result"]["unit"]]
                arguments[position] = None
                written = list(arguments)
                written[position] = parameter["default"]
                with self.subTest(function["name"], omitted=parameter["name"]):
                    omitted = self.put("A1", "=" + self.call(function, arguments))
                    given = self.put("A2", "=" + self.call(function, written))
                    self.assertEqual(omitted.getError(), given.getError())
                    self.assertAlmostEqual(omitted.Value, given.Value, delta=1e-12 * abs(given.Value))
        # Calc hands these on as omitted, not as 0 or empty.
        self.assert_shows(self.put("A3", '=FUNCTION.ERROR("UNIT.CONVERT";;"PS";"kW")'),
                          "UNIT.CONVERT: value is missing; it must be a number")
        self.assertEqual(self.put("A4", '=UNIT.CONVERT(;"PS";"kW")').getError(), WRONG_ARGUMENT)
        self.assertEqual(self.put("A5", '=UNIT.CONVERT(1;;"kW")').getError(), WRONG_ARGUMENT)

    def test_a_column_is_answered_element_by_element(self):
        for function in self.scalar_functions():
            example = function["example"]
            for position, (parameter, value) in enumerate(zip(function["parameters"], example["arguments"])):
                if parameter["kind"] not in ("number", "fuel") or not is_number(value):
                    continue
                with self.subTest(function["name"], argument=parameter["name"]):
                    arguments = list(example["arguments"])
                    arguments[position] = [[value], [value], ["no number"], [value]]
                    cells = self.array("A1:A4", "=" + self.call(function, arguments))
                    for row in (0, 1, 3):
                        self.assert_shows(cells.getCellByPosition(0, row), example["expected"], max(example["tolerance"], 1e-12))
                    self.assertEqual(cells.getCellByPosition(0, 2).getError(), WRONG_ARGUMENT)
                    cells.clearContents(1023)
                    break

    def test_a_row_and_a_table(self):
        self.sheet.getCellRangeByName("A1:C2").setDataArray(((1.0, 2.0, 3.0), (4.0, "5", "")))
        cells = self.array("E1:G2", '=UNIT.CONVERT(A1:C2;"km";"m")')
        self.assertEqual([[cells.getCellByPosition(column, row).Value for column in range(3)] for row in range(2)][0],
                         [1000.0, 2000.0, 3000.0])
        self.assert_shows(cells.getCellByPosition(1, 1), 5000.0)
        self.assertEqual(cells.getCellByPosition(2, 1).getError(), WRONG_ARGUMENT)
        self.assert_shows(self.put("A5", '=SUM(UNIT.CONVERT(A1:C1;"km";"m"))'), 6000.0)
        self.assert_shows(self.put("A6", '=INDEX(UNIT.CONVERT(A1:C2;"km";"m");1;3)'), 3000.0)
        # A range with a failed element: the answer of a whole column fails in that place only.
        self.assertEqual(self.put("A7", '=SUM(UNIT.CONVERT(A1:C2;"km";"m"))').getError(), WRONG_ARGUMENT)

    def test_ten_thousand_rows_in_one_formula(self):
        rows = 10000
        self.sheet.getCellRangeByName("A1:A%d" % rows).setDataArray(tuple((float(row),) for row in range(rows)))
        cells = self.array("B1:B%d" % rows, '=UNIT.CONVERT(A1:A%d;"km";"m")' % rows)
        self.assert_shows(cells.getCellByPosition(0, rows - 1), 1000.0 * (rows - 1))

    def test_inline_arrays_and_repeated_units(self):
        cells = self.array("A1:B2", '=UNIT.CONVERT({1;2|3;4};"km";{"m";"km"})')
        self.assertEqual([[cells.getCellByPosition(column, row).Value for column in range(2)] for row in range(2)],
                         [[1000.0, 2.0], [3000.0, 4.0]])

    def test_errors_are_calcs_own_and_propagate(self):
        self.assertEqual(self.put("A1", '=UNIT.CONVERT(1;"PS";"bar")').getError(), WRONG_ARGUMENT)
        self.assertEqual(self.put("A2", "=A1+1").getError(), WRONG_ARGUMENT)
        self.assertEqual(self.put("A3", '=UNIT.CONVERT(A1;"km";"m")').getError(), WRONG_ARGUMENT)
        self.assert_shows(self.put("A4", "=IFERROR(A1;7)"), 7.0)
        self.assert_shows(self.put("A5", "=ISERROR(A1)"), 1.0)
        self.assertEqual(self.put("A6", '=UNIT.CONVERT(NA();"km";"m")').getError(), NO_DATA)
        self.assertEqual(self.put("A7", "=SUM(A1:A3)").getError(), WRONG_ARGUMENT)

    def test_no_argument_ends_the_office_or_yields_a_number_that_is_not_finite(self):
        # The catalogue's own tests go through every kind of value; here it is what Calc may hand over.
        quick = [None, 1e308, -1e-308, "", "abc", "ä€😀\"'<&", "x" * 5000, [[1.0]], [["", 2.0], [None, "x"]]]
        few = [None, "abc", [["", 2.0], [None, "x"]]]
        count = 0
        for function in self.functions:
            if any(parameter["kind"] == "cell" for parameter in function["parameters"]):
                continue
            example = list(function["example"]["arguments"])
            start = time.monotonic()
            self.put("A1", "=" + self.call(function, example))
            values = few if time.monotonic() - start > 0.1 else quick
            for position in range(max(1, len(function["parameters"]))):
                for value in values:
                    arguments = example + [None] * (position + 1 - len(example))
                    arguments[position] = value
                    if isinstance(value, str) and len(value) > 200:
                        self.cell("T1").String = value
                        formula = "=%s(%s)" % (function["name"], ";".join(
                            "T1" if index == position else self.argument(one) for index, one in enumerate(arguments)))
                    else:
                        formula = "=" + self.call(function, arguments)
                    cell = self.put("A1", formula)
                    with self.subTest(formula[:200]):
                        count += 1
                        if cell.getError() == 0:
                            self.assertTrue(abs(cell.Value) < float("inf"))
                        else:
                            self.assertIn(cell.getError(), (WRONG_ARGUMENT, 523, NO_DATA, 504))
        self.assertGreater(count, 100)

    def test_too_many_and_too_few_arguments(self):
        self.assertEqual(self.put("A1", '=UNIT.CONVERT(1;"km";"m";"x";"y")').getError(), 504)
        self.assertEqual(self.put("A2", "=UNIT.CONVERT()").getError(), WRONG_ARGUMENT)

    def test_function_list_with_descriptions(self):
        service = self.office.create("com.sun.star.sheet.FunctionDescriptions")
        listed = {}
        for index in range(service.Count):
            properties = {item.Name: item.Value for item in service.getByIndex(index)}
            listed[properties["Name"]] = properties
        for function in self.functions:
            with self.subTest(function["name"]):
                self.assertIn(function["name"], listed)
                properties = listed[function["name"]]
                self.assertTrue(properties["Description"].startswith(function["summary"]), properties["Description"])
                if function["result"]["unit"]:
                    self.assertIn("[%s]" % function["result"]["unit"], properties["Description"])
                shown = properties["Arguments"] or ()
                self.assertEqual([argument.Name for argument in shown],
                                 [parameter["name"] for parameter in function["parameters"]])
                for argument, parameter in zip(shown, function["parameters"]):
                    self.assertTrue(argument.Description.startswith(parameter["meaning"]), argument.Description)
                    # Calc writes "(optional)" above each of them: the text must not simply deny it.
                    self.assertNotIn("must be given", argument.Description)
                    self.assertEqual("Calc marks every argument of an extension as optional" in argument.Description,
                                     parameter["required"], argument.Description)
                    self.assertTrue(argument.IsOptional or parameter["kind"] == "cell", argument.Name)

    def test_the_extension_calls_itself_by_its_version(self):
        self.assert_shows(self.put("A1", "=FUNCTION.VERSION()"), self.function("FUNCTION.VERSION")["example"]["expected"])
        manager = self.office.context.getValueByName("/singletons/com.sun.star.deployment.PackageInformationProvider")
        versions = dict((identifier, version) for identifier, version in manager.getExtensionList())
        self.assertEqual(versions["pullsheet"], self.cell("A1").String)

    def function(self, name):
        return next(function for function in self.functions if function["name"] == name)


if __name__ == "__main__":
    unittest.main()
