# SPDX-License-Identifier: Apache-2.0
"""A formula as the README writes it, computed by the command `pullsheet`."""

import json
import os
import pathlib
import re
import subprocess
import tempfile

CALL = re.compile(r"=(?:INDEX\()?([A-Z]+(?:\.[A-Z0-9]+)+)\((.*?)\)(?:;\s*(\d+);\s*(\d+)\))?")


class NotAFormula(ValueError):
    """What is written there cannot be read as a call of one function."""


def split(text, separator):
    """Splits at a separator outside texts in quotes and outside braces."""
    parts, depth, quoted, part = [], 0, False, ""
    for letter in text:
        if letter == '"':
            quoted = not quoted
        elif not quoted:
            depth += {"{": 1, "}": -1}.get(letter, 0)
        if letter == separator and not quoted and depth == 0:
            parts.append(part.strip())
            part = ""
        else:
            part += letter
    parts.append(part.strip())
    return parts


def literal(text):
    return text[1:-1].replace('""', '"') if text.startswith('"') else text


def argument(text, folder, number):
    """What the command takes for an argument in a cell: an inline array becomes a file."""
    if not text.startswith("{"):
        return literal(text) if text else "-"
    path = pathlib.Path(folder) / ("argument%d.json" % number)
    rows = [[json.loads(value) for value in split(row, ";")] for row in split(text[1:-1], "|")]
    path.write_text(json.dumps(rows), encoding="utf-8")
    return "@" + str(path)


def name_of(formula):
    found = CALL.fullmatch(formula)
    if found is None:
        raise NotAFormula(formula)
    return found.group(1)


def compute(command, formula):
    """The value that the formula's cell shows: number or text; and what the command said of it."""
    found = CALL.fullmatch(formula)
    if found is None:
        raise NotAFormula(formula)
    name, arguments, row, column = found.groups()
    with tempfile.TemporaryDirectory() as folder:
        given = [argument(text, folder, number) for number, text in enumerate(split(arguments, ";"))] if arguments.strip() else []
        done = subprocess.run([str(command), "eval", "--digits", "17", "--json", "--", name, *given], capture_output=True, encoding="utf-8",
                              timeout=120, env=dict(os.environ, LC_ALL="C.UTF-8"))
    if done.returncode:
        return None, done.stderr.strip()
    answer = json.loads(done.stdout)
    if "rows" in answer:
        return answer["rows"][int(row or 1) - 1][int(column or 1) - 1], done.stderr.strip()
    return answer["value"], done.stderr.strip()
