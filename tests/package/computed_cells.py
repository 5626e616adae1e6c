# SPDX-License-Identifier: Apache-2.0
"""Writes as JSON what an office computes: every function's worked example, refused calls, every cell of the sheets.

    computed_cells.py PROFILE OUTPUT SHEET…      in the installed office
    computed_cells.py PROFILE OUTPUT SHEET…      in another one, if OFFICE_ROOT names the folder it is unpacked in
"""

import json
import os
import pathlib
import sys

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parents[1] / "calc"))

from calc import EXTENSION, catalogue, literal  # noqa: E402
from office import Office  # noqa: E402

ERRORS = 4  # com.sun.star.sheet.FormulaResult.ERROR
REFUSED = ('=UNIT.CONVERT(1;"PS";"bar")', '=INJECTOR.SIZE(;4;0.85)', '=AIR.DENSITY("20 furlongs";101.325)',
           '=FUNCTION.ERROR("UNIT.CONVERT";;"PS";"kW")', "=FUNCTION.WHY(A1)", "=FUNCTION.WHY(A2)", "=A3+1")


def cells_of(document):
    """Value, text or error of each cell that is not empty, by sheet and address."""
    found = {}
    for name in document.Sheets.ElementNames:
        sheet = document.Sheets.getByName(name)
        cursor = sheet.createCursor()
        cursor.gotoEndOfUsedArea(False)
        last = cursor.RangeAddress
        used = sheet.getCellRangeByPosition(0, 0, last.EndColumn, last.EndRow)
        for row, contents in enumerate(used.getDataArray()):
            for column, content in enumerate(contents):
                if content != "":
                    found["%s R%dC%d" % (name, row + 1, column + 1)] = content
        errors = sheet.queryFormulaCells(ERRORS).getCells().createEnumeration()
        while errors.hasMoreElements():
            cell = errors.nextElement()
            address = cell.CellAddress
            found["%s R%dC%d" % (name, address.Row + 1, address.Column + 1)] = "error %d" % cell.getError()
    return found


def examples(office):
    document = office.new_document()
    sheet = document.Sheets.getByIndex(0)
    row = 0
    for formula in REFUSED:
        sheet.getCellByPosition(0, row).Formula = formula
        row += 1
    for function in catalogue():
        if any(parameter["kind"] == "cell" for parameter in function["parameters"]):
            continue
        arguments = []
        for value in function["example"]["arguments"]:
            if isinstance(value, list):
                cells = sheet.getCellRangeByPosition(20, row, 20 + len(value[0]) - 1, row + len(value) - 1)
                cells.setDataArray(tuple(tuple("" if item is None else item for item in line) for line in value))
                arguments.append(cells.AbsoluteName.split(".")[-1])
                row += len(value)
            else:
                arguments.append(literal(value))
        call = "=%s(%s)" % (function["name"], ";".join(arguments))
        if function["result"]["kind"] == "table":
            sheet.getCellRangeByPosition(0, row, 9, row + 39).setArrayFormula(call)
            row += 40
        else:
            sheet.getCellByPosition(0, row).Formula = call
            row += 1
    document.calculateAll()
    found = cells_of(document)
    document.close(True)
    return found


def computed_sheet(office, path):
    document = office.load(path)
    document.calculateAll()
    found = cells_of(document)
    document.close(True)
    return found


def main():
    profile, output, *sheets = map(pathlib.Path, sys.argv[1:])
    where = {}
    if "OFFICE_ROOT" in os.environ:
        libraries = pathlib.Path(os.environ["OFFICE_ROOT"]) / "usr" / "lib"
        where = {"folder": libraries / "libreoffice", "libraries": libraries / "x86_64-linux-gnu"}
    with Office(profile, EXTENSION, seconds=240, **where) as office:
        computed = {"version": office.version(), "examples": examples(office),
                    "sheets": {path.name: computed_sheet(office, path) for path in sheets}}
    output.write_text(json.dumps(computed), encoding="utf-8")


if __name__ == "__main__":
    main()
