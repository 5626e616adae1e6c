# SPDX-License-Identifier: Apache-2.0
"""FUNCTION.WHY: one sentence for an error or a warning, wherever it came from."""

import unittest

import uno  # noqa: F401
from com.sun.star.sheet.FillDirection import TO_BOTTOM

from calc import NO_DATA, WRONG_ARGUMENT, CalcTestCase, catalogue, literal

PS_TO_BAR = "UNIT.CONVERT: PS is a unit of power, bar one of pressure; they cannot be converted"


def no_number(text):
    return 'UNIT.CONVERT: value is "%s", which is not a number; it must be a number' % text


class Why(CalcTestCase):
    def why(self, address):
        cell = self.put("Z99", "=FUNCTION.WHY(%s)" % address)
        self.assertEqual(cell.getError(), 0, "FUNCTION.WHY(%s) shows %s" % (address, cell.String))
        return cell.String

    def assert_why(self, formula, sentence, error=WRONG_ARGUMENT):
        cell = self.put("A1", formula)
        self.assertEqual(cell.getError(), error, formula)
        self.assertEqual(self.why("A1"), sentence, formula)

    # All is well.

    def test_nothing_to_say(self):
        self.put("A1", 5.0)
        self.put("A2", "'text")
        self.put("A3", '=UNIT.CONVERT(A1;"km";"m")')
        self.put("A4", "=A1*2")
        self.put("A5", '=IFERROR(UNIT.CONVERT(1;"PS";"bar");0)')
        self.put("A6", '=IF(TRUE();1;UNIT.CONVERT(1;"PS";"bar"))')
        self.put("A7", "=RAND()")
        for address in ("A1", "A2", "A3", "A4", "A5", "A6", "A7", "A8", "A1:A8", "XFD1048576"):
            self.assertEqual(self.why(address), "", address)

    # The call itself.

    def test_the_call_alone(self):
        self.assert_why('=UNIT.CONVERT(1;"PS";"bar")', PS_TO_BAR)
        self.assert_why('=UNIT.CONVERT("abc";"PS";"kW")', no_number("abc"))
        self.assert_why('=UNIT.CONVERT(;"PS";"kW")', "UNIT.CONVERT: value is missing; it must be a number")

    def test_inside_other_formulas(self):
        for formula in ('=1+2*UNIT.CONVERT(1;"PS";"bar")', '=-UNIT.CONVERT(1;"PS";"bar")%', '=SUM(1;UNIT.CONVERT(1;"PS";"bar"))',
                        '=(((UNIT.CONVERT(1;"PS";"bar"))))^2', '="x"&UNIT.CONVERT(1;"PS";"bar")', '=UNIT.CONVERT(1;"PS";"bar")>3',
                        '=IF(UNIT.CONVERT(1;"PS";"bar")>3;1;2)', '=IF(1>2;0;UNIT.CONVERT(1;"PS";"bar"))',
                        '=IF(1;UNIT.CONVERT(1;"PS";"bar"))', '=CHOOSE(2;5;UNIT.CONVERT(1;"PS";"bar"))',
                        '=ROUND(UNIT.CONVERT(1;"PS";"bar");2)', '=UNIT.CONVERT(UNIT.CONVERT(1;"PS";"bar");"km";"m")',
                        '=IFERROR(UNIT.CONVERT("abc";"m";"km");UNIT.CONVERT(1;"PS";"bar"))',
                        '=IFS(FALSE();UNIT.CONVERT("abc";"m";"km");TRUE();UNIT.CONVERT(1;"PS";"bar"))',
                        '=SWITCH(2;1;UNIT.CONVERT("abc";"m";"km");2;UNIT.CONVERT(1;"PS";"bar"))',
                        '=MROUND(UNIT.CONVERT(1;"PS";"bar");2)', '=RAND()+UNIT.CONVERT(1;"PS";"bar")',
                        '=IFNA(UNIT.CONVERT(1;"PS";"bar");0)', '= UNIT.CONVERT( 1 ; "PS" ; "bar" ) + 1'):
            self.assert_why(formula, PS_TO_BAR)

    def test_only_the_branch_that_was_taken(self):
        self.put("B1", 3.0)
        formula = '=IF(B1>2;UNIT.CONVERT(1;"PS";"bar");UNIT.CONVERT("abc";"PS";"kW"))'
        self.assert_why(formula, PS_TO_BAR)
        self.put("B1", 1.0)
        self.assertEqual(self.why("A1"), no_number("abc"))

    def test_the_first_of_two(self):
        self.assert_why('=UNIT.CONVERT("abc";"PS";"kW")+UNIT.CONVERT(1;"PS";"bar")', no_number("abc"))

    # Where the arguments come from.

    def test_arguments_from_cells(self):
        self.put("B1", "'12 parsec")
        self.put("B2", "PS")
        self.put("B3", "=\"b\"&\"ar\"")
        self.put("B4", 7.0)
        self.assert_why("=UNIT.CONVERT(B4;B2;B3)", PS_TO_BAR)
        self.assert_why('=UNIT.CONVERT(B1;"PS";"kW")',
                        'UNIT.CONVERT: value is "12 parsec"; this argument is a plain number without a unit')
        self.assert_why("=UNIT.CONVERT(B4;B2;B9)", 'UNIT.CONVERT: to is 0; a text is wanted')

    def test_arguments_computed_on_the_way(self):
        self.put("B1", 2.0)
        self.put("B2", "PS")
        self.put("B3", "bar")
        for formula in ('=UNIT.CONVERT(B1^2+3*-B1;B2;B3)', '=UNIT.CONVERT(SQRT(B1);UPPER("ps");LOWER("BAR"))',
                        '=UNIT.CONVERT(SUM(B1:B1);INDEX(B1:B3;2);INDEX(B1:B3;3;1))', '=UNIT.CONVERT(1;LEFT(B2&"x";2);B3)',
                        '=UNIT.CONVERT(1;VLOOKUP("PS";B2:C3;1;0);B3)', '=UNIT.CONVERT(1;OFFSET(B1;1;0);OFFSET(B1;2;0;1;1))',
                        '=UNIT.CONVERT(1;INDIRECT("B2");INDIRECT("B"&ROW(B3)))', '=UNIT.CONVERT(50%;IF(B1=2;B2;B3);B3)',
                        '=UNIT.CONVERT(COLUMN();B2;B3)', '=UNIT.CONVERT(MROUND(7;2);B2;CHOOSE(1;B3;B2))',
                        '=UNIT.CONVERT(SUM(INDEX(B1:B3;1):B1);B2;B3)', '=UNIT.CONVERT(COUNTIF(B1:B3;"PS");B2;B3)',
                        '=UNIT.CONVERT(ISERROR(1/0);B2;B3)', '=UNIT.CONVERT(1;TRIM(" PS ");B3)',
                        '=UNIT.CONVERT(INDEX(B1:B3;1;1);INDEX(B1:C3;2;COLUMN());INDEX(B1:B3;3;1))',
                        '=UNIT.CONVERT(INDEX(PULL.PEAK({1000;2000;3000};{1;3;2});3;2);B2;INDEX(B1:C3;3;1))',
                        '=UNIT.CONVERT(1;B1:B3 ! A2:C2;B3)'):
            with self.subTest(formula):
                if "!" in formula:
                    # Not computed here, so the code is told.
                    cell = self.put("A1", formula)
                    self.assertEqual(cell.getError(), WRONG_ARGUMENT)
                    self.assertNotEqual(self.why("A1"), "")
                else:
                    self.assert_why(formula, PS_TO_BAR)

    def test_other_sheets(self):
        self.document.Sheets.insertNewByName("Fuel data", 1)
        self.put("Fuel data.B3", "bar")
        self.assert_why("=UNIT.CONVERT(1;\"PS\";$'Fuel data'.B3)", PS_TO_BAR)
        self.put("Fuel data.B4", '=UNIT.CONVERT(1;"PS";B3)')
        self.assert_why("=$'Fuel data'.B4*2", "the error comes from 'Fuel data'.B4: " + PS_TO_BAR)
        self.assertEqual(self.why("$'Fuel data'.B4"), PS_TO_BAR)

    def test_named_ranges(self):
        position = self.sheet.getCellByPosition(0, 0).CellAddress
        self.put("C1", "bar")
        names = self.document.NamedRanges
        names.addNewByName("wanted_unit", "$Sheet1.$C$1", position, 0)
        names.addNewByName("twice", "2*3", position, 0)
        names.addNewByName("left_of_it", "$Sheet1.A1", self.sheet.getCellByPosition(1, 0).CellAddress, 0)
        self.sheet.NamedRanges.addNewByName("own_unit", "$Sheet1.$C$1", position, 0)
        self.assert_why('=UNIT.CONVERT(twice;"PS";wanted_unit)', PS_TO_BAR)
        self.assert_why('=UNIT.CONVERT(1;"PS";own_unit)', PS_TO_BAR)
        self.document.Sheets.insertNewByName("Fuel data", 1)
        self.document.Sheets.getByName("Fuel data").NamedRanges.addNewByName("own_unit", "$Sheet1.$C$2", position, 0)
        self.put("C2", "K")
        self.assert_why('=UNIT.CONVERT(1;"PS";$\'Fuel data\'.own_unit)', PS_TO_BAR.replace("bar one of pressure", "K one of temperature"))
        self.put("D7", "bar")
        self.assertEqual(self.put("E7", '=UNIT.CONVERT(1;"PS";left_of_it)').getError(), WRONG_ARGUMENT)
        self.assertEqual(self.why("E7"), PS_TO_BAR)

    # Errors from elsewhere.

    def test_an_error_from_another_cell_is_followed_there(self):
        self.put("B3", '=UNIT.CONVERT(1;"PS";"bar")')
        self.put("B4", "=B3+1")
        self.put("B5", '=UNIT.CONVERT(B4;"km";"m")')
        self.put("B6", "=SUM(B1:B5)")
        for address in ("B4", "B5", "B6"):
            self.assertEqual(self.why(address), "the error comes from Sheet1.B3: " + PS_TO_BAR, address)
        self.assertEqual(self.why("B1:B6"), "Sheet1.B3: " + PS_TO_BAR)

    def test_an_error_inside_a_range(self):
        self.put("B1", 1.0)
        self.put("B2", "=1/0")
        self.put("B3", 3.0)
        cell = self.put("A1", '=UNIT.CONVERT(B1:B3;"km";"m")')
        self.assertNotEqual(cell.getError(), 0)
        self.assertEqual(self.why("A1"), "the error comes from Sheet1.B2: division by zero")

    def test_a_long_chain(self):
        self.put("A1", '=UNIT.CONVERT(1;"PS";"bar")')
        self.put("A2", "=A1+1")
        self.sheet.getCellRangeByName("A2:A2000").fillAuto(TO_BOTTOM, 1)
        self.assertEqual(self.why("A2000"), "the error comes from Sheet1.A1: " + PS_TO_BAR)

    def test_plain_errors_in_plain_words(self):
        self.assert_why("=1/0", "division by zero", 532)
        self.assert_why("=SQRT(-1)", "an argument of a function is not allowed (Err:502)", 502)
        self.assert_why("=NA()", "the value wanted is not there (#N/A)", NO_DATA)
        self.assert_why('="abc"*2', '"abc" is a text where a number is wanted', 519)
        self.assert_why("=#REF!.A1", "the formula refers to a cell, row, column or sheet that is gone", 524)
        self.assert_why('=MATCH("x";{1;2};0)', "the value wanted is not there (#N/A)", NO_DATA)
        self.assert_why("=1+", "the formula could not be read (Err:520)", 520)
        self.assert_why("=A1+1", "the formula refers to itself, directly or by other cells (Err:522)", 522)
        self.assert_why('=UNIT.CONVERT(1/0;"km";"m")', "division by zero", 532)
        self.assert_why('=UNIT.CONVERT(NA();"km";"m")', "the value wanted is not there (#N/A)", NO_DATA)

    def test_a_circle_of_cells(self):
        self.put("B1", "=B2+1")
        self.put("B2", '=UNIT.CONVERT(B1;"km";"m")')
        self.assertIn("refers to itself", self.why("B1"))
        self.assertIn("refers to itself", self.why("B2"))

    def test_asking_about_oneself(self):
        self.assertIn("refers to itself", self.put("A1", "=FUNCTION.WHY(A1)").String)
        self.put("B1", "=FUNCTION.WHY(B2)")
        self.put("B2", "=FUNCTION.WHY(B1)")
        self.document.calculateAll()
        self.assertEqual(self.put("A3", "=1+1").Value, 2.0)

    def test_an_unknown_name(self):
        self.assert_why('=UNIT.CONVRT(1;"km";"m")', 'there is no function "unit.convrt"; did you mean UNIT.CONVERT?', 525)
        self.assert_why("=1+nowhere", 'there is no function "nowhere"', 525)

    def test_too_many_arguments(self):
        self.assert_why('=UNIT.CONVERT(1;"km";"m";"x")', "UNIT.CONVERT: 4 arguments were given; at most 3 are taken", 504)

    # Array formulas.

    def test_an_array_formula_explains_the_element_of_the_cell(self):
        self.sheet.getCellRangeByName("B1:B4").setDataArray(((1.0,), ("abc",), (3.0,), ("def",)))
        self.array("C1:C6", '=UNIT.CONVERT(B1:B4;"km";"m")')
        self.assertEqual([self.why("C%d" % row) for row in range(1, 5)], ["", no_number("abc"), "", no_number("def")])
        self.assertEqual(self.why("C5"), "the array formula covers more cells than its result has (4 × 1)")
        self.assertEqual(self.why("C1:C4"), "Sheet1.C2: " + no_number("abc"))

    def test_an_array_formula_with_operators(self):
        self.sheet.getCellRangeByName("B1:C2").setDataArray(((1.0, "abc"), ("def", 4.0)))
        self.array("E1:F2", '=2*UNIT.CONVERT(B1:C2;"km";"m")+1')
        self.assertEqual([self.why(address) for address in ("E1", "F1", "E2", "F2")], ["", no_number("abc"), no_number("def"), ""])
        self.array("H1:H2", '=IF(B1:B2=1;5;UNIT.CONVERT(1;"PS";"bar"))')
        self.assertEqual((self.why("H1"), self.why("H2")), ("", PS_TO_BAR))

    def test_an_array_formula_with_a_column_of_a_table(self):
        resampled = "PULL.RESAMPLE({1000;2000;3000;4000};{1;3;2;1};1000;4000;1000)"
        self.array("A1:A3", '=UNIT.CONVERT(INDEX(%s;0;2);"PS";"bar")' % resampled)
        self.assertEqual(self.why("A2"), PS_TO_BAR)
        self.array("B1:B3", '=UNIT.CONVERT(1;INDEX({"kW";"PS";"PS"};0;1);INDEX(%s;0;1))' % resampled)
        self.assertEqual(self.why("B2"), "UNIT.CONVERT: to is 1000; a text is wanted")

    def test_an_array_formula_over_a_range_with_an_error(self):
        self.put("B1", 1.0)
        self.put("B2", '=UNIT.CONVERT(1;"PS";"bar")')
        self.array("C1:C2", '=UNIT.CONVERT(B1:B2;"km";"m")')
        self.assertEqual(self.why("C1"), "the error comes from Sheet1.B2: " + PS_TO_BAR)

    def test_a_table_function_in_an_array_formula(self):
        self.array("A1:D3", "=FUNCTION.LIST()")
        self.assertEqual(self.why("A1"), "")
        self.assertEqual(self.cell("D1").getError(), NO_DATA)
        self.assertIn("covers more cells than its result has", self.why("D1"))

    def test_two_thousand_questions(self):
        self.sheet.getCellRangeByName("B1:B2000").setDataArray(tuple(("abc",) for _ in range(2000)))
        self.array("C1:C2000", '=UNIT.CONVERT(B1:B2000;"km";"m")')
        self.put("D1", "=FUNCTION.WHY(C1)")
        self.sheet.getCellRangeByName("D1:D2000").fillAuto(TO_BOTTOM, 1)
        self.assertEqual(self.cell("D2000").String, no_number("abc"))

    # Every function of the catalogue.

    def test_every_function_says_why(self):
        asked = 0
        for function in catalogue():
            example = function["example"]["arguments"]
            for position, parameter in enumerate(function["parameters"][:len(example)]):
                if parameter["kind"] not in ("number", "fuel") or isinstance(example[position], list):
                    continue
                for wrong in ("no number", parameter["range"]["low"] and parameter["range"]["low"] - 1.0,
                              parameter["range"]["high"] and parameter["range"]["high"] * 2.0 + 1.0):
                    if wrong is None or wrong == 0.0:
                        continue
                    arguments = list(example)
                    arguments[position] = wrong
                    with self.subTest(function["name"], argument=parameter["name"], value=wrong):
                        asked += 1
                        written = [self.argument(value) for value in arguments]
                        cell = self.put("A1", "=%s(%s)" % (function["name"], ";".join(written)))
                        told = self.put("A2", "=FUNCTION.ERROR(%s)" % ";".join([literal(function["name"])] + written))
                        self.assertEqual(cell.getError(), WRONG_ARGUMENT)
                        self.assertTrue(told.String.startswith(function["name"] + ": " + parameter["name"]), told.String)
                        self.assertEqual(self.why("A1"), told.String)
        self.assertGreater(asked, 0)

    def test_warnings_of_calls_that_succeed(self):
        for function in catalogue():
            example = function["example"]["arguments"]
            for position, parameter in enumerate(function["parameters"][:len(example)]):
                established, allowed = parameter["established"], parameter["range"]
                if not established or parameter["kind"] != "number":
                    continue
                for side, sign in (("low", -1.0), ("high", 1.0)):
                    if established[side] is None:
                        continue
                    beyond = established[side] + sign * (1e-3 * abs(established[side]) + 1e-3)
                    if allowed[side] is not None and sign * (allowed[side] - beyond) <= 0.0:
                        continue
                    arguments = list(example)
                    arguments[position] = beyond
                    with self.subTest(function["name"], argument=parameter["name"], value=beyond):
                        cell = self.put("A1", "=1+N(%s)" % self.call(function, arguments))
                        if cell.getError():
                            continue
                        self.assertIn("%s: %s is" % (function["name"], parameter["name"]), self.why("A1"))
                        self.assertIn("established", self.why("A1"))

    # The document.

    def test_the_document_is_not_changed(self):
        self.put("A1", '=UNIT.CONVERT(1;"PS";"bar")')
        self.put("B1", "=FUNCTION.WHY(A1)")
        before = [sheet for sheet in self.document.Sheets.ElementNames], self.sheet.createCursor()
        self.document.setModified(False)
        self.document.calculateAll()
        self.assertEqual(self.cell("B1").String, PS_TO_BAR)
        self.assertEqual(list(self.document.Sheets.ElementNames), before[0])
        self.assertEqual(self.cell("A1").Formula.upper(), '=PULLSHEET.FUNCTIONS.UNITCONVERT(1;"PS";"BAR")')

    def test_it_follows_a_change(self):
        self.put("B1", "bar")
        self.put("A1", '=UNIT.CONVERT(1;"PS";B1)')
        answer = self.put("C1", "=FUNCTION.WHY(A1)")
        self.assertEqual(answer.String, PS_TO_BAR)
        self.put("B1", "kW")
        self.assertEqual(answer.String, "")

    def test_it_may_stand_above_what_it_asks_about(self):
        self.put("A1", "=FUNCTION.WHY(A5)")
        self.put("A5", '=UNIT.CONVERT(A6;"PS";A7)')
        self.put("A6", "=A8*2")
        self.put("A7", "=\"bar\"")
        self.put("A8", 3.0)
        self.document.calculateAll()
        self.assertEqual(self.cell("A1").String, PS_TO_BAR)


if __name__ == "__main__":
    unittest.main()
