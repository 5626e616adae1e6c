# SPDX-License-Identifier: Apache-2.0
"""What our functions cost in real Calc, against everything else that could do the same job, in one interleaved run.

    /usr/bin/python3 tests/bench/calc.py [--quick] [BUILD_FOLDER]

A benchmark, not a test; tests/bench/README.md holds its tables and says how to read them.
"""

import pathlib
import re
import shutil
import statistics
import subprocess
import sys
import tempfile
import time
import zipfile

HERE = pathlib.Path(__file__).resolve().parent
ROOT = HERE.parents[1]
sys.path.insert(0, str(ROOT / "example-sheets"))

import uno  # noqa: E402,F401
from com.sun.star.beans import NamedValue  # noqa: E402
from com.sun.star.sheet.FillDirection import TO_BOTTOM  # noqa: E402
from office import PROGRAM, Office, _Approve, property_value  # noqa: E402

CELLS = 10_000 if "--quick" in sys.argv else 100_000
ROUNDS = 3 if "--quick" in sys.argv else 9
REFERENCE = "Analysis add-in, MROUND"
ARRAY = True
ALWAYS_RUN_MACROS = 4

BASIC = """Function BasicPower(torque As Double, speed As Double) As Double
    BasicPower = torque * speed * 2 * Pi / 60 / 1000
End Function
"""
# CIPM-2007, equation (A1.1): saturation vapour pressure of water in Pa, temperature in K.
VAPOUR = "=B1*EXP(1.2378847E-5*(A1+273.15)^2-1.9121316E-2*(A1+273.15)+33.93711047-6343.1645/(A1+273.15))/1000"

# Columns: A and B numbers, D and E the same as texts with a unit.
CASES = [
    ("plain cells, A1+B1", "=A1+B1", None),
    (REFERENCE, "=MROUND(A1;B1)", None),
    ("ENGINE.POWER, numbers", "=ENGINE.POWER(A1;B1)", None),
    ("AIR.VAPOUR.PRESSURE, numbers", "=AIR.VAPOUR.PRESSURE(A1;B1)", None),
    ("AIR.DENSITY, numbers", "=AIR.DENSITY(A1;100;B1)", None),
    ("UNIT.CONVERT, two units", '=UNIT.CONVERT(A1;"PS";"kW")', None),
    ("ENGINE.POWER, texts with units", "=ENGINE.POWER(D1;E1)", None),
    ("ENGINE.POWER, one array formula", "=ENGINE.POWER(A1:A%d;B1:B%d)" % (CELLS, CELLS), ARRAY),
    ("AIR.DENSITY, one array formula", "=AIR.DENSITY(A1:A%d;100;B1:B%d)" % (CELLS, CELLS), ARRAY),
    ("ENGINE.POWER, array formula, texts", "=ENGINE.POWER(D1:D%d;E1:E%d)" % (CELLS, CELLS), ARRAY),
    ("the same power, plain cells", "=A1*B1*2*PI()/60/1000", None),
    ("the same vapour pressure, plain cells", VAPOUR, None),
    ("the same power, Python add-in", "=COMPARISON.POWER(A1;B1)", None),
    ("the same power, Basic macro", "=BASICPOWER(A1;B1)", None),
]


def python_addin(folder):
    """The comparison add-in as an extension."""
    sdk = PROGRAM.parents[1] / "sdk" / "bin" / "unoidl-write"
    rdb = folder / "comparison.rdb"
    subprocess.run([str(sdk), str(PROGRAM.parent / "types.rdb"), str(PROGRAM.parent / "types" / "offapi.rdb"),
                    str(HERE / "python_addin" / "Comparison.idl"), str(rdb)], check=True)
    path = folder / "comparison.oxt"
    with zipfile.ZipFile(path, "w") as package:
        package.write(rdb, "comparison.rdb")
        package.write(HERE / "python_addin" / "manifest.xml", "META-INF/manifest.xml")
        for name in ("comparison.py", "CalcAddIns.xcu"):
            package.write(HERE / "python_addin" / name, name)
    return path


def install(office, path):
    manager = office.context.getValueByName("/singletons/com.sun.star.deployment.ExtensionManager")
    manager.addExtension(path.as_uri(), (NamedValue("SUPPRESS_LICENSE", "1"),), "user", manager.createAbortChannel(), _Approve())
    office.stop()
    office.start()


def new_document(office):
    return office.desktop.loadComponentFromURL(
        "private:factory/scalc", "_blank", 0,
        (property_value("Hidden", True), property_value("MacroExecutionMode", ALWAYS_RUN_MACROS)))


def document_with(office, formula, kind, cells=CELLS):
    document = new_document(office)
    libraries = document.BasicLibraries
    if "BASIC" in formula:
        if not libraries.hasByName("Standard"):
            libraries.createLibrary("Standard")
        libraries.getByName("Standard").insertByName("Comparison", BASIC)
    sheet = document.Sheets.getByIndex(0)
    numbers = [(1.0 + row % 40, 0.01 + (row % 97) / 100.0) for row in range(cells)]
    sheet.getCellRangeByName("A1:B%d" % cells).setDataArray(tuple(numbers))
    if "D1" in formula:
        sheet.getCellRangeByName("D1:E%d" % cells).setDataArray(tuple(("%.6g N·m" % a, "%.6g rpm" % b) for a, b in numbers))
    if kind is ARRAY:
        sheet.getCellRangeByName("C1:C%d" % cells).setArrayFormula(formula)
    else:
        sheet.getCellRangeByName("C1").Formula = formula
        if cells > 1:
            sheet.getCellRangeByName("C1:C%d" % cells).fillAuto(TO_BOTTOM, 1)
    document.calculateAll()
    last = sheet.getCellByPosition(2, cells - 1)
    if last.getError():
        document.close(True)
        raise RuntimeError("%s shows %s" % (formula, last.String))
    return document


def seconds(work):
    start = time.perf_counter()
    work()
    return time.perf_counter() - start


def rounds(work, count=ROUNDS):
    """The times of each piece of work, all of them in every round."""
    times = {name: [] for name in work}
    for _ in range(count):
        for name, piece in work.items():
            times[name].append(seconds(piece))
    return times


def ratio(times, name, to):
    # Round by round: steadier than the ratio of two medians when the machine is busy.
    return statistics.median(one / base for one, base in zip(times[name], times[to]))


def cells(office):
    documents = {}
    for name, formula, kind in CASES:
        try:
            documents[name] = document_with(office, formula, kind)
        except RuntimeError as error:
            print("left out: %s" % error)
    times = rounds({name: document.calculateAll for name, document in documents.items()})
    print("\n| %d cells | µs a cell, median | best | ratio to Analysis |\n|---|---|---|---|" % CELLS)
    for name, measured in times.items():
        print("| %s | %.3f | %.3f | %.2f |" % (name, 1e6 * statistics.median(measured) / CELLS, 1e6 * min(measured) / CELLS,
                                              ratio(times, name, REFERENCE)))
    return documents


def own_share(office, document, name):
    """The part of the processor's time that is spent in our library, by perf."""
    if not shutil.which("perf"):
        print("\nperf is not installed: no profile.")
        return
    with tempfile.TemporaryDirectory() as folder:
        data = pathlib.Path(folder) / "perf.data"
        recording = subprocess.Popen(["perf", "record", "-q", "-e", "cpu-clock", "-F", "2000", "-o", str(data), "-p", str(office.process.pid)],
                                     stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
        time.sleep(0.5)
        for _ in range(10):
            document.calculateAll()
        recording.send_signal(2)
        recording.wait(60)
        report = subprocess.run(["perf", "report", "-i", str(data), "--stdio", "--sort", "dso"], capture_output=True, text=True).stdout
    lines = [line.split() for line in report.splitlines() if line.strip() and not line.startswith("#")]
    print("\n| %s: part of the time | in |\n|---|---|" % name)
    for line in lines[:8]:
        print("| %s | %s |" % (line[0], line[-1]))


def growth(office):
    """Time against length, parts and stages: what grows in line with the work shows the same cost a piece everywhere."""
    print("\n| growth | size | ms | µs a piece |\n|---|---|---|---|")

    def show(what, size, formula, fill):
        document = new_document(office)
        sheet = document.Sheets.getByIndex(0)
        fill(sheet, size)
        sheet.getCellRangeByName("Z1").Formula = formula % {"n": size, "m": size + 1}
        if sheet.getCellRangeByName("Z1").getError():
            print("| %s | %d | %s | |" % (what, size, sheet.getCellRangeByName("Z1").String))
        else:
            best = min(seconds(document.calculateAll) for _ in range(3 if size > 100_000 else 5))
            print("| %s | %d | %.2f | %.2f |" % (what, size, 1e3 * best, 1e6 * best / size))
        document.close(True)

    def curve(sheet, size):
        sheet.getCellRangeByName("A1:B%d" % size).setDataArray(tuple((1000.0 + 6000.0 * row / size, 200.0 + row % 7) for row in range(size)))

    def log(sheet, size):
        sheet.getCellRangeByName("A1:B%d" % size).setDataArray(tuple((row * 20.0 / size, 20.0 + 200.0 * row / size) for row in range(size)))

    for size in (1000, 10_000, 100_000, 1_000_000):
        show("range: SUM(ENGINE.POWER(…))", size, "=SUM(ENGINE.POWER(B1:B%(n)d;A1:A%(n)d))", curve)
    for size in (1000, 10_000, 100_000):
        show("series: PULL.AT", size, "=PULL.AT(A1:A%(n)d;B1:B%(n)d;4000.5)", curve)
        show("series: PULL.SMOOTH, window 11", size, "=INDEX(PULL.SMOOTH(B1:B%(n)d;11);2;1)", curve)
        show("log: ROAD.LOG.TIME", size, "=ROAD.LOG.TIME(A1:A%(n)d;B1:B%(n)d;60;200)", log)

    engine = (("displacement", 2.0, "L"), ("cylinders", 4.0, ""), ("compression ratio", 9.5, ""), ("redline", 6800.0, "rpm"))
    pipe = ("pipe", "pipe", 50.0, "mm", 0.3, "", "charge", "")

    def parts(sheet, size):
        sheet.getCellRangeByName("A1:C4").setDataArray(engine)
        sheet.getCellRangeByName("E1:G1").setDataArray((("part", "kind", "value"),))
        sheet.getCellRangeByName("E2:G%d" % (size + 1)).setDataArray(tuple(("clutch %d" % row, "clutch", 400.0 + row) for row in range(size)))

    for size in (10, 100, 1000):
        show("parts: BUILD.LIMITS", size, "=INDEX(BUILD.LIMITS(A1:C4;E1:G%(m)d;0);2;2)", parts)


def start_and_first_use(folder, extension):
    """The start of the office with and without the extension, and the first call in a fresh process."""
    offices = {"without": Office(folder / "without", seconds=120), "with": Office(folder / "with", extension, seconds=120)}
    for office in offices.values():
        office.__enter__()
        office.stop()
    starts = {name: [] for name in offices}
    first = {"first call of ours": [], "second call": [], "first call of Analysis after it": [],
             "first call of Analysis, without the extension": []}
    for _ in range(ROUNDS):
        for name, office in offices.items():
            # Until a new, empty spreadsheet stands.
            def start(office=office):
                office.start()
                office.new_document()
            starts[name].append(seconds(start))
            sheet = office.desktop.CurrentComponent.Sheets.getByIndex(0) if office.desktop.CurrentComponent else office.new_document().Sheets.getByIndex(0)
            cell = sheet.getCellRangeByName("A1")
            cell.Formula = "=1+1"

            def put(formula, cell=cell):
                def work():
                    cell.Formula = formula
                    if cell.getError():
                        raise RuntimeError("%s shows %s" % (formula, cell.String))
                return work
            put("=SUM(1;2)")()
            if name == "with":
                first["first call of ours"].append(seconds(put("=ENGINE.POWER(300;6000)")))
                first["second call"].append(seconds(put("=ENGINE.POWER(301;6000)")))
                first["first call of Analysis after it"].append(seconds(put("=MROUND(7;2)")))
            else:
                first["first call of Analysis, without the extension"].append(seconds(put("=MROUND(7;2)")))
            office.stop()
    print("\n| start and first use | ms, median | best |\n|---|---|---|")
    for name, measured in starts.items():
        print("| start to an empty sheet, %s the extension | %.1f | %.1f |" % (name, 1e3 * statistics.median(measured), 1e3 * min(measured)))
    difference = statistics.median(a - b for a, b in zip(starts["with"], starts["without"]))
    print("| difference, round by round | %.1f | %.1f |" % (1e3 * difference, 1e3 * (min(starts["with"]) - min(starts["without"]))))
    for name, measured in first.items():
        print("| %s | %.2f | %.2f |" % (name, 1e3 * statistics.median(measured), 1e3 * min(measured)))


def without_formulas(path, folder):
    """The same sheet with the values that its formulas had."""
    text = path.read_text(encoding="utf-8")
    text = re.sub(r' table:formula="[^"]*"| table:number-matrix-(columns|rows)-spanned="[^"]*"', "", text)
    copy = folder / path.name
    copy.write_text(text, encoding="utf-8")
    return copy


def example_sheets(folder, extension):
    """Loading (which computes everything, by the settings of the profile) and computing anew, each in a process that knows
    nothing yet, beside what the office takes to load the same sheets with values in place of the formulas."""
    paths = sorted((ROOT / "example-sheets").glob("*.fods"))
    copies = folder / "values"
    copies.mkdir()
    values = {path: without_formulas(path, copies) for path in paths}
    times = {path: ([], [], []) for path in paths}
    for _ in range(min(ROUNDS, 5)):
        with Office(folder / "with", extension, seconds=120) as office:
            office.load(values[paths[0]]).close(True)
            for path in paths:
                start = time.perf_counter()
                document = office.load(values[path])
                times[path][0].append(time.perf_counter() - start)
                document.close(True)
                start = time.perf_counter()
                document = office.load(path)
                times[path][1].append(time.perf_counter() - start)
                times[path][2].append(seconds(document.calculateAll))
                document.close(True)
    print("\n| example sheet | kB | load, values only, ms | load, ms | recalculate, ms |\n|---|---|---|---|---|")
    for path in paths:
        print("| %s | %d | %.0f | %.0f | %.0f |" % ((path.name, path.stat().st_size / 1000) +
                                                    tuple(1e3 * statistics.median(part) for part in times[path])))
    six = [measured for path, measured in times.items() if path.name != "function-guide.fods"]
    for what, pick in (("median", statistics.median), ("best", min)):
        print("| six together without the guide, %s | | %.0f | %.0f | %.0f |" % (
            (what,) + tuple(1e3 * sum(pick(measured[i]) for measured in six) for i in range(3))))


def main():
    sys.stdout.reconfigure(line_buffering=True)
    given = [argument for argument in sys.argv[1:] if not argument.startswith("--")]
    build = pathlib.Path(given[0] if given else ROOT / "build").resolve()
    extension = build / "addin" / "pullsheet.oxt"
    with tempfile.TemporaryDirectory() as name:
        folder = pathlib.Path(name)
        with Office(folder / "profile", extension, seconds=120) as office:
            install(office, python_addin(folder))
            documents = cells(office)
            for case in ("ENGINE.POWER, numbers", "AIR.DENSITY, numbers"):
                own_share(office, documents[case], case)
            for document in documents.values():
                document.close(True)
            growth(office)
        start_and_first_use(folder, extension)
        example_sheets(folder, extension)


if __name__ == "__main__":
    main()
