#!/usr/bin/python3
# SPDX-License-Identifier: Apache-2.0
"""The tables of the README that are computed: the values beside the formulas, and the sources with the functions that use them.

    tests/readme/tables.py        writes both into README.md anew, by build/harness/pullsheet

The test beside this file compares them with what is computed.
"""

import math
import os
import pathlib
import re
import sys

sys.dont_write_bytecode = True
ROOT = pathlib.Path(__file__).resolve().parents[2]
sys.path.insert(0, str(ROOT / "harness" / "guide"))

from catalogue import Catalogue, german  # noqa: E402
from formulas import compute, name_of  # noqa: E402

README = ROOT / "README.md"
COMMAND = os.environ.get("PULLSHEET_COMMAND", ROOT / "build" / "harness" / "pullsheet")
SOURCES = ("<!-- sources: written by tests/readme/tables.py -->\n", "<!-- end of the sources -->\n")

# A row of a table: what is wanted, the formula, the same for a German Calc where it is another, what it gives and the unit.
ROW = re.compile(r"^(?P<indent> *)\| (?P<want>[^|]+) \| `(?P<formula>=[^`]+)`(?:<br>`(?P<german>=[^`]+)`)? \| (?P<value>[^`]*?) \|$",
                 re.MULTILINE)
NUMBER = re.compile(r"-?\d+(\.\d+)?")
DIGITS = 4


def formulas_in_table(formula):
    """The formula for an English Calc, and for a German one where that takes another."""
    shown = dict.fromkeys((formula, german(formula)))
    return "<br>".join("`%s`" % in_table(one) for one in shown)


def in_table(formula):
    """A vertical bar would end the cell of the table."""
    return formula.replace("|", "\\|")


def sources_table(catalogue):
    lines = ["| source | used by |", "|---|---|"]
    for source in catalogue.sources():
        used = ", ".join("`%s`" % name for name in source["functions"])
        lines.append("| %s | %s |" % (source["citation"].replace("|", "\\|"), used))
    return "\n".join(lines) + "\n"


def rounded(value):
    """Four digits, or all digits before the point, as a plain number."""
    places = max(0, DIGITS - 1 - math.floor(math.log10(abs(value)))) if value else 0
    text = "%.*f" % (places, value)
    return text.rstrip("0").rstrip(".") if "." in text else text


def with_values(text):
    def row(found):
        formula = found["formula"].replace("\\|", "|")
        value, said = compute(COMMAND, formula)
        if value is None and found["value"].startswith(name_of(formula) + ": "):  # the row is about the error
            value = said
        if value is None:
            sys.exit("%s: %s" % (formula, said))
        if isinstance(value, str):
            return "%s| %s | %s | %s |" % (found["indent"], found["want"], formulas_in_table(formula), value)
        unit = NUMBER.sub("", found["value"], count=1).replace("?", "").strip()
        return "%s| %s | %s | %s |" % (found["indent"], found["want"], formulas_in_table(formula), (rounded(value) + " " + unit).strip())

    return ROW.sub(row, text)


def with_sources(text, table):
    begin, end = (text.index(mark) for mark in SOURCES)
    return text[:begin + len(SOURCES[0])] + "\n" + table + "\n" + text[end:]


def main():
    text = README.read_text(encoding="utf-8")
    README.write_text(with_sources(with_values(text), sources_table(Catalogue(COMMAND))), encoding="utf-8")


if __name__ == "__main__":
    main()
