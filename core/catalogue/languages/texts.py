# SPDX-License-Identifier: Apache-2.0
"""Every text of the product that is shown in each language: those of the catalogue, and those written in the code."""

import pathlib
import re
import subprocess

import polib

ROOT = pathlib.Path(__file__).resolve().parents[3]

# Where texts stand in the code, and the functions that take them: translated(language, "…"), say(language, "…", …),
# words("…"), marked("…").
CODE = ["core/catalogue", "addin", "harness"]
FUNCTIONS = ["translated:2", "say:2", "words:1", "marked:1"]


def placeholders(text):
    """The names in braces that are filled in when the text is said."""
    return sorted(set(re.findall(r"\{([a-z0-9_]*)\}", text)))


def of_the_catalogue(list_texts):
    """(text, where) for each text that the catalogue holds as data."""
    written = subprocess.run([str(list_texts)], check=True, capture_output=True, timeout=60).stdout
    parts = written.decode().split("\0")[:-1]
    return list(zip(parts[1::2], parts[0::2]))


def of_the_code():
    """(text, file) for each text written where it is said."""
    files = sorted(str(path.relative_to(ROOT)) for folder in CODE for path in (ROOT / folder).rglob("*.cpp"))
    command = ["xgettext", "--language=C++", "--from-code=UTF-8", "--no-wrap", "--output=-", "--keyword"]
    command += ["--keyword=" + function for function in FUNCTIONS] + files
    written = subprocess.run(command, check=True, capture_output=True, cwd=ROOT, timeout=60).stdout.decode()
    return [(entry.msgid, file) for entry in polib.pofile(written) for file, _ in entry.occurrences]


def everything(list_texts):
    """Each text once, in the order of the catalogue and the files, with the places where it is said."""
    places = {}
    for text, where in of_the_catalogue(list_texts) + of_the_code():
        known = places.setdefault(text, [])
        if where not in known:
            known.append(where)
    return places
