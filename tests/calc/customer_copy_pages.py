# SPDX-License-Identifier: Apache-2.0
"""The customer copy of every page of the example sheets, in both languages: it looks as the original and shows the same in every cell."""

import shutil
import unittest

from calc import BUILD, ROOT
from copies import CopyTestCase, everything_in

NAMES = ["customer-quote", "dyno-day", "fuel-system", "air-path", "road-runs", "fuel-potential", "function-guide"]


class Pages(CopyTestCase):
    def check(self, path):
        shutil.copy(path, self.work)
        original = self.office.load(self.work / path.name)
        try:
            pages = [name for name in original.Sheets.ElementNames
                     if original.Sheets.getByName(name).IsVisible and original.Sheets.getByName(name).getPrintAreas()]
            ods, xlsx, pdf = self.copy(original, Sheets=pages, WithFailedChecks=True)
            self.assert_same_pages(self.pdf_of(original, pages, "original.pdf"), pdf)
            for copied in (ods, xlsx):
                self.assertNotIn("pullsheet.functions", everything_in(copied).lower())
                document = self.seen(copied)
                self.assertEqual(list(self.visible_sheets(document)), pages)
                for name in pages:
                    page, copied_page = original.Sheets.getByName(name), document.Sheets.getByName(name)
                    self.assertEqual(copied_page.Charts.Count, page.Charts.Count)
                    for chart, before in zip(copied_page.Charts, page.Charts):
                        self.assertEqual(self.plotted(chart), self.plotted(before), (path.name, name))
                    for area in page.getPrintAreas():
                        for row in range(area.StartRow, area.EndRow + 1):
                            for column in range(area.StartColumn, area.EndColumn + 1):
                                shown = page.getCellByPosition(column, row).String
                                if shown:
                                    self.assertEqual(copied_page.getCellByPosition(column, row).String, shown, (path.name, name, column, row))
        finally:
            original.close(True)

    def plotted(self, chart):
        """The numbers that a chart draws, by series: (what they are for, numbers); a file keeps fifteen digits of each."""
        series = chart.EmbeddedObject.getFirstDiagram().getCoordinateSystems()[0].getChartTypes()[0].getDataSeries()
        return [sorted((sequence.Values.Role, ["%.9g" % value if isinstance(value, float) and value == value else ""
                                               for value in sequence.Values.getData()])
                       for sequence in one.getDataSequences()) for one in series]

    def test_english(self):
        for name in NAMES:
            with self.subTest(name):
                self.check(ROOT / "example-sheets" / (name + ".fods"))

    def test_german(self):
        for name in NAMES[:-1]:
            with self.subTest(name):
                self.check(BUILD / "addin" / "package" / "templates" / "de" / "Pullsheet (Deutsch)" / (name + ".ots"))


if __name__ == "__main__":
    unittest.main()
