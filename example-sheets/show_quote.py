# SPDX-License-Identifier: Apache-2.0
"""Computes a quote sheet in a private Calc, prints its table, writes its PDF, and opens it where there is a display.

    show_quote.py SHEET BUILD_FOLDER
"""

import os
import pathlib
import sys

from office import Office, OfficeError, named_cells, show_sheet, shown


def print_table(rows):
    rows = [[" ".join(text.split()) for text in row] for row in rows]
    keep = [column for column in range(len(rows[0])) if any(row[column] for row in rows)]
    widths = [max(len(row[column]) for row in rows) for column in keep]
    for row in rows:
        print("  ".join(row[column].ljust(width) for column, width in zip(keep, widths)).rstrip())


def main():
    sheet = pathlib.Path(sys.argv[1]).resolve()
    build = pathlib.Path(sys.argv[2]).resolve()
    extension = build / "addin" / "pullsheet.oxt"
    pdf = build / (sheet.stem + ".pdf")
    print("\n== Computing the quote in Calc", flush=True)
    with Office(build / "office" / "computing", extension, seconds=120) as office:
        document = office.load(sheet)
        document.calculateAll()
        print_table(shown(named_cells(document, "quote_table")))
        office.store(document, pdf)
        document.close(True)
    print("\nPDF: %s" % pdf)
    if os.environ.get("DISPLAY"):
        show_sheet(sheet, build / "office" / "window", extension)
        print("The sheet opens in a window of Calc, with a profile of its own.")
    else:
        print("There is no display, so the sheet was not opened in a window.")
    return 0


if __name__ == "__main__":
    try:
        sys.exit(main())
    except OfficeError as error:
        print(error, file=sys.stderr)
        sys.exit(1)
