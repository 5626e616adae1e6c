# SPDX-License-Identifier: Apache-2.0
"""Many cells written at once: one call for a table where a call for each cell takes its time."""

from paper import column_name


def fill(page, first, rows, style=None, number_format=None):
    """Writes rows of numbers, texts and formulas (texts that begin with =) from the cell `first` on."""
    cell = page.range(first).CellAddress
    address = "%s:%s%d" % (first, column_name(cell.Column + len(rows[0]) - 1), cell.Row + len(rows))
    if style:
        page.style(address, style, number_format)
    page.range(address).setFormulaArray(tuple(tuple(repr(x) if isinstance(x, (int, float)) else x for x in row) for row in rows))
    return address
