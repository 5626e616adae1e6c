# SPDX-License-Identifier: Apache-2.0
"""Calc with German menus: descriptions and sentences in German, values as in English."""

import subprocess
import unittest

from calc import BUILD, EXTENSION, WRONG_ARGUMENT, CalcTestCase, catalogue

from office import Office

COMMAND = BUILD / "harness" / "pullsheet"


def listed(office):
    """What the function wizard shows, by the name of the function."""
    service = office.create("com.sun.star.sheet.FunctionDescriptions")
    functions = {}
    for index in range(service.Count):
        properties = {item.Name: item.Value for item in service.getByIndex(index)}
        functions[properties["Name"]] = properties
    return functions


class German(CalcTestCase):
    language = "de"
    functions = catalogue()

    @classmethod
    def setUpClass(cls):
        super().setUpClass()
        cls.english = Office(cls.folder / "english", EXTENSION, seconds=120)
        cls.english.__enter__()
        cls.addClassCleanup(cls.english.stop)

    def test_the_office_speaks_german(self):
        names = listed(self.office)
        self.assertIn("SUMME", names, "install libreoffice-l10n-de")
        self.assertNotIn("SUM", names)

    def test_descriptions_are_german_and_names_are_not(self):
        german, english = listed(self.office), listed(self.english)
        for function in self.functions:
            name = function["name"]
            with self.subTest(name):
                self.assertIn(name, german)
                self.assertTrue(english[name]["Description"].startswith(function["summary"]))
                self.assertFalse(german[name]["Description"].startswith(function["summary"]), german[name]["Description"])
                self.assertIn("Ergebnis: ", german[name]["Description"])
                shown = german[name]["Arguments"] or ()
                self.assertEqual([argument.Name for argument in shown],
                                 [parameter["name"] for parameter in function["parameters"]])
        density = german["AIR.DENSITY"]
        self.assertEqual(density["Description"], "Dichte feuchter Luft. Ergebnis: Dichte [kg/m³].")
        self.assertTrue(density["Arguments"][0].Description.startswith("Lufttemperatur [°C]; erforderlich, obwohl Calc "),
                        density["Arguments"][0].Description)

    def test_why_answers_in_german(self):
        self.assertEqual(self.put("A1", '=UNIT.CONVERT(1;"PS";"bar")').getError(), WRONG_ARGUMENT)
        self.assertEqual(self.put("B1", "=FUNCTION.WHY(A1)").String,
                         "UNIT.CONVERT: PS ist eine Einheit für Leistung, bar eine für Druck; sie lassen sich nicht umrechnen")
        self.put("A2", "=A1*2")
        self.assertTrue(self.put("B2", "=FUNCTION.WHY(A2)").String.startswith("der Fehler kommt aus "), self.cell("B2").String)
        self.put("A3", "=1/0")
        self.assertEqual(self.put("B3", "=FUNCTION.WHY(A3)").String, "Division durch null")
        self.put("A4", '=DYNO.FACTOR("ISO 1585";60;70;0.1)')
        self.assertIn("den Grenzen", self.put("B4", "=FUNCTION.WHY(A4)").String)
        self.assertEqual(self.put("B5", '=FUNCTION.ERROR("AIR.DENSITY";"22 psi";97.9)').String,
                         "AIR.DENSITY: temperature ist „22 psi“; psi ist eine Einheit für Druck, erwartet wird Temperatur "
                         "(°C, °F, K)")

    def test_the_same_sheet_has_the_same_values(self):
        """Every example as an array formula wide enough for its table, once in each office."""
        values = []
        for office in (self.office, self.english):
            document = self.document if office is self.office else office.new_document()
            self.sheet, self.spare_row = document.Sheets.getByIndex(0), 1000
            shown = {}
            for function in self.functions:
                name = function["name"]
                if name == "FUNCTION.ERROR" or any(parameter["kind"] == "cell" for parameter in function["parameters"]):
                    continue
                cells = self.array("A1:R30", "=" + self.call(function, function["example"]["arguments"]))
                shown[name] = cells.getDataArray()
                cells.clearContents(1023)
            values.append(shown)
            if office is self.english:
                document.close(True)
        self.assertGreater(len(values[0]), 100)
        for name, german in values[0].items():
            with self.subTest(name):
                self.assertEqual(german, values[1][name])

    def test_a_document_is_the_same_in_both(self):
        """Written by the German office, it computes the same in the English one, without a word changed."""
        self.put("A1", "=AIR.DENSITY(22;97.9;0.55)")
        self.put("A2", '=ENGINE.POWER(350;5500;"PS")')
        self.array("A3:C7", "=PULL.GAIN({1;2;3;4};{2;3;4;6})")
        path = self.office.store(self.document, self.folder / "both.ods")
        document = self.english.load(path)
        self.addCleanup(document.close, True)
        document.calculateAll()
        cells = document.Sheets.getByIndex(0).getCellRangeByName("A1:C7")
        self.assertEqual(cells.getDataArray(), self.cell("A1:C7").getDataArray())
        self.assertEqual(cells.getCellByPosition(0, 3).String, "gain")

    def test_the_command_says_the_same_sentence(self):
        said = subprocess.run([str(COMMAND), "--language", "de", "eval", "UNIT.CONVERT", "1", "PS", "bar"], capture_output=True,
                              text=True, timeout=60).stderr.strip()
        self.put("A1", '=UNIT.CONVERT(1;"PS";"bar")')
        self.assertEqual(self.put("B1", "=FUNCTION.WHY(A1)").String, said)


if __name__ == "__main__":
    unittest.main()
