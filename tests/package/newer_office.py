# SPDX-License-Identifier: Apache-2.0
"""The extension, built against the SDK of the installed office, gives the same results in the newer office of Debian's
backports: every function's example, refusals, FUNCTION.WHY, and every cell of every example sheet.

    newer_office.py FOLDER      FOLDER is what fetch_newer_office has filled in the set-up; ends with 77 where it has not
"""

import json
import os
import pathlib
import shutil
import subprocess
import sys
import unittest

HERE = pathlib.Path(__file__).resolve().parent
ROOT = HERE.parents[1]
BUILD = pathlib.Path(os.environ.get("PULLSHEET_BUILD", ROOT / "build"))
SHEETS = sorted((ROOT / "example-sheets").glob("*.fods"))


def environment_of(root):
    """The newer office is driven by its own Python bridge: an older one does not know all of its types."""
    libraries = root / "usr" / "lib"
    program = libraries / "libreoffice" / "program"
    return {"OFFICE_ROOT": str(root), "PYTHONPATH": "%s:%s" % (libraries / "python3" / "dist-packages", program),
            "LD_LIBRARY_PATH": "%s:%s" % (program, libraries / "x86_64-linux-gnu")}


def is_same(one, other):
    """Numbers agree but for the last digits, which a sum taken in another order changes; texts and errors are the same."""
    if isinstance(one, float) and isinstance(other, float):
        return abs(one - other) <= 1e-12 * max(abs(one), abs(other))
    return type(one) is type(other) and one == other


class BothOffices(unittest.TestCase):
    @classmethod
    def setUpClass(cls):
        folder = BUILD / "calc-tests" / "newer-office"
        shutil.rmtree(folder, ignore_errors=True)
        folder.mkdir(parents=True)
        cls.computed = {}
        for name, environment in (("installed", {}), ("newer", environment_of(NEWER / "root"))):
            subprocess.run(["/usr/bin/python3", "-B", str(HERE / "computed_cells.py"), str(folder / name),
                            str(folder / (name + ".json")), *map(str, SHEETS)],
                           env=dict(os.environ, **environment), check=True, timeout=600)
            cls.computed[name] = json.loads((folder / (name + ".json")).read_text(encoding="utf-8"))
        cls.installed, cls.newer = cls.computed["installed"], cls.computed["newer"]
        print("The offices: %s and %s" % (cls.installed["version"], cls.newer["version"]))

    def assert_same(self, what, installed, newer):
        different = ["%s: %r, in the newer office %r" % (cell, installed.get(cell), newer.get(cell))
                     for cell in sorted(installed.keys() | newer.keys()) if not is_same(installed.get(cell), newer.get(cell))]
        self.assertEqual(different, [], "%s: %d of %d cells differ" % (what, len(different), len(installed)))
        print("%s: %d cells are the same" % (what, len(installed)))

    def test_the_newer_office_is_newer(self):
        installed, newer = (tuple(map(int, computed["version"].split("."))) for computed in self.computed.values())
        self.assertGreater(newer, installed)

    def test_every_example(self):
        self.assertGreater(len(self.installed["examples"]), 100)
        self.assert_same("Examples", self.installed["examples"], self.newer["examples"])

    def test_the_functions_are_there(self):
        for computed in self.computed.values():
            self.assertEqual(computed["examples"]["Sheet1 R1C1"], "error 502")
            self.assertRegex(computed["examples"]["Sheet1 R5C1"], "UNIT.CONVERT")

    def test_every_example_sheet(self):
        self.assertGreater(len(SHEETS), 0)
        for path in SHEETS:
            with self.subTest(path.name):
                self.assertGreater(len(self.installed["sheets"][path.name]), 50)
                self.assert_same(path.name, self.installed["sheets"][path.name], self.newer["sheets"][path.name])

    def test_the_comparison_would_find_a_difference(self):
        self.assertFalse(is_same(1.0, 1.0 + 1e-9))
        self.assertFalse(is_same(1.0, "error 502"))
        self.assertFalse(is_same("error 502", "error 523"))
        self.assertFalse(is_same(None, 0.0))


if __name__ == "__main__":
    NEWER = pathlib.Path(sys.argv.pop(1)).resolve()
    if not (NEWER / "complete").exists():
        print("the office of Debian's backports is not in %s; .setup/prepare fetches it" % NEWER)
        sys.exit(77)
    unittest.main()
