# SPDX-License-Identifier: Apache-2.0
"""What a call from a cell costs: 100,000 scalar calls of ours against the same number of calls into the Analysis
add-in that comes with Calc, and against a plain formula, in the same run. A benchmark, not a test.

    /usr/bin/python3 tests/bench/calc.py [BUILD_FOLDER]
"""

import pathlib
import statistics
import sys
import tempfile
import time

ROOT = pathlib.Path(__file__).resolve().parents[2]
sys.path.insert(0, str(ROOT / "example-sheets"))

import uno  # noqa: E402,F401
from com.sun.star.sheet.FillDirection import TO_BOTTOM  # noqa: E402
from office import Office  # noqa: E402

CELLS = 100_000
ROUNDS = 7
CASES = {
    "plain =A1+B1": "=A1+B1",
    "Analysis MROUND(A1;B1)": "=MROUND(A1;B1)",
    "AIR.VAPOUR.PRESSURE(A1;B1)": "=AIR.VAPOUR.PRESSURE(A1;B1)",
    "ENGINE.POWER(A1;B1)": "=ENGINE.POWER(A1;B1)",
    "AIR.DENSITY(A1;100;B1)": "=AIR.DENSITY(A1;100;B1)",
    "UNIT.CONVERT(A1;\"PS\";\"kW\")": "=UNIT.CONVERT(A1;\"PS\";\"kW\")",
}
REFERENCE = "Analysis MROUND(A1;B1)"


def main():
    build = pathlib.Path(sys.argv[1] if len(sys.argv) > 1 else ROOT / "build")
    with tempfile.TemporaryDirectory() as profile, Office(profile, build / "addin" / "pullsheet.oxt") as office:
        documents = {}
        for name, formula in CASES.items():
            document = office.new_document()
            sheet = document.Sheets.getByIndex(0)
            sheet.getCellRangeByName("A1:B%d" % CELLS).setDataArray(
                tuple((1.0 + row % 40, 0.01 + (row % 97) / 100.0) for row in range(CELLS)))
            sheet.getCellRangeByName("C1").Formula = formula
            sheet.getCellRangeByName("C1:C%d" % CELLS).fillAuto(TO_BOTTOM, 1)
            document.calculateAll()
            if sheet.getCellByPosition(2, CELLS - 1).getError():
                print("%s is not there" % name)
                document.close(True)
                continue
            documents[name] = document
        times = {name: [] for name in documents}
        for _ in range(ROUNDS):
            for name, document in documents.items():
                start = time.perf_counter()
                document.calculateAll()
                times[name].append(time.perf_counter() - start)
        print("%-32s %10s %10s %22s" % ("%d cells" % CELLS, "median s", "best s", "ratio to Analysis"))
        for name, measured in times.items():
            # The ratio round by round is steadier than that of the medians when the machine is busy.
            ratio = statistics.median(one / base for one, base in zip(measured, times[REFERENCE]))
            print("%-32s %10.4f %10.4f %22.2f" % (name, statistics.median(measured), min(measured), ratio))
        for document in documents.values():
            document.close(True)


if __name__ == "__main__":
    main()
