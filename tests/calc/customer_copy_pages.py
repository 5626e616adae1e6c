# SPDX-License-Identifier: Apache-2.0
"""The customer copy of every page of the example sheets, in both languages: it looks as the original and shows the same in every cell."""

import re
import subprocess
import unittest
from collections import Counter

from calc import BUILD, ROOT
from copies import CopyTestCase, everything_in

NAMES = ["customer-quote", "dyno-day", "fuel-system", "air-path", "road-runs", "fuel-potential", "function-guide"]

# The line at the foot of a printed page.
FOOTER = re.compile(r"^.*\b(?:page|Seite) \d+\s*$", re.MULTILINE)


class Pages(CopyTestCase):
    def check(self, path):
        # Saved as the user's own document, which a new one from a template is not yet.
        template = self.office.load(path)
        try:
            saved = self.office.store(template, self.work / (path.stem + ".ods"))
        finally:
            template.close(True)
        original = self.office.load(saved)
        try:
            pages = [name for name in original.Sheets.ElementNames
                     if original.Sheets.getByName(name).IsVisible and original.Sheets.getByName(name).getPrintAreas()]
            ods, xlsx, pdf = self.copy(original, Sheets=pages, WithFailedChecks=True)
            printed = self.pdf_of(original, None, path.stem + "-original.pdf")
            self.assert_same_pages(printed, pdf)
            for copied in (ods, xlsx):
                self.assertNotIn("pullsheet.functions", everything_in(copied).lower())
                document = self.seen(copied)
                self.assertEqual(list(self.visible_sheets(document)), pages)
                texts = [self.printed_text(pdf) for pdf in (self.pdf_of(document, None, copied.name + ".pdf"), printed)]
                # Excel's columns have other widths: a long word breaks elsewhere, and so may a page with its footer.
                if copied == xlsx:
                    texts = [Counter(FOOTER.sub("", text)) for text in texts]
                    texts = [Counter({mark: count for mark, count in text.items() if not mark.isspace()}) for text in texts]
                else:
                    texts = [Counter(text.split()) for text in texts]
                missing, added = texts[1] - texts[0], texts[0] - texts[1]
                self.assertFalse(missing or added, "%s lacks %r and has %r" % (copied.name, missing, added))
                for name in pages:
                    page, copied_page = original.Sheets.getByName(name), document.Sheets.getByName(name)
                    self.assertEqual(copied_page.Charts.Count, page.Charts.Count)
                    for chart, before in zip(copied_page.Charts, page.Charts):
                        self.assertEqual(self.plotted(chart), self.plotted(before), (path.name, name))
        finally:
            original.close(True)

    def printed_text(self, pdf):
        return subprocess.run(["pdftotext", "-layout", str(pdf), "-"], check=True, capture_output=True, timeout=120, encoding="utf-8").stdout

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
