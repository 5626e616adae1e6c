#!/usr/bin/python3
# SPDX-License-Identifier: Apache-2.0
"""Turns a text catalogue into the table that the program looks texts up in.

    table.py de.po german german.cpp        (catalogue, name of the function, file to write)

Refuses a translation that does not name the same {placeholders} as its English text.
"""

import pathlib
import sys

sys.dont_write_bytecode = True
sys.path.insert(0, str(pathlib.Path(__file__).resolve().parent))

import polib  # noqa: E402

from texts import placeholders  # noqa: E402


def literal(text):
    return '"%s"' % text.replace("\\", "\\\\").replace('"', '\\"').replace("\n", "\\n")


def main(catalogue, name, target):
    entries = {entry.msgid: entry.msgstr for entry in polib.pofile(catalogue, encoding="utf-8").translated_entries()
               if not entry.obsolete}
    for english, translated in entries.items():
        if placeholders(english) != placeholders(translated):
            sys.exit("%s: \"%s\" and its translation do not name the same placeholders" % (catalogue, english))
    with open(target, "w", encoding="utf-8") as out:
        out.write("// Generated from %s.\n" % catalogue.rsplit("/", 1)[-1])
        out.write('#include "core/catalogue/languages/table.hpp"\n\nnamespace pullsheet::catalogue::languages {\n\n')
        out.write("std::span<const Translation> %s() {\n    static constexpr Translation table[] = {\n" % name)
        for english in sorted(entries, key=lambda text: text.encode()):
            out.write("        {%s, %s},\n" % (literal(english), literal(entries[english])))
        out.write("    };\n    return table;\n}\n\n}  // namespace pullsheet::catalogue::languages\n")


if __name__ == "__main__":
    main(*sys.argv[1:])
