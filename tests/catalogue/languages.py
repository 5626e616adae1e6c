# SPDX-License-Identifier: Apache-2.0
"""The text catalogues of the languages against the program: nothing missing, nothing stale, nothing misformed.

PULLSHEET_TEXTS is the built program that lists the texts of the catalogue.
"""

import os
import pathlib
import re
import subprocess
import sys
import tempfile
import unittest

ROOT = pathlib.Path(__file__).resolve().parents[2]
LANGUAGES = ROOT / "core" / "catalogue" / "languages"
sys.dont_write_bytecode = True
sys.path.insert(0, str(LANGUAGES))

import polib  # noqa: E402

import texts  # noqa: E402


class LanguagesTest(unittest.TestCase):
    @classmethod
    def setUpClass(cls):
        cls.said = texts.everything(os.environ.get("PULLSHEET_TEXTS", ROOT / "build" / "core" / "pullsheet_list_texts"))
        cls.catalogues = {path: polib.pofile(str(path), encoding="utf-8") for path in sorted(LANGUAGES.glob("*.po"))}

    def test_there_is_german(self):
        self.assertIn("de.po", [path.name for path in self.catalogues])

    def test_the_texts_of_the_code_are_found(self):
        places = [place for where in self.said.values() for place in where]
        for file in ("addin/why/why.cpp", "addin/why/sheet_evaluation.cpp", "addin/generate.cpp", "harness/command_line.cpp",
                     "harness/batch.cpp", "harness/input.cpp", "harness/verify.cpp", "harness/sheet/document.cpp", "core/catalogue/reader.cpp"):
            self.assertIn(file, places)
        self.assertIn("the array formula covers more cells than the range {rows} × {columns}", self.said)

    def test_every_text_is_translated(self):
        for path, catalogue in self.catalogues.items():
            translated = {entry.msgid for entry in catalogue if entry.msgstr and not entry.obsolete and not entry.fuzzy}
            self.assertEqual([text for text in self.said if text not in translated], [],
                             "%s: run core/catalogue/languages/update and translate these" % path.name)

    def test_no_translation_is_stale(self):
        for path, catalogue in self.catalogues.items():
            self.assertEqual([entry.msgid for entry in catalogue if entry.msgid not in self.said], [],
                             "%s: run core/catalogue/languages/update" % path.name)
            self.assertEqual([entry.msgid for entry in catalogue if entry.fuzzy or entry.obsolete], [])

    def test_placeholders_are_the_same(self):
        for catalogue in self.catalogues.values():
            for entry in catalogue:
                self.assertEqual(texts.placeholders(entry.msgid), texts.placeholders(entry.msgstr), entry.msgid)

    def test_lines_and_ends_are_the_same(self):
        for catalogue in self.catalogues.values():
            for entry in catalogue:
                self.assertEqual(entry.msgid.count("\n"), entry.msgstr.count("\n"), entry.msgid)
                self.assertEqual(entry.msgid.endswith("."), entry.msgstr.endswith("."), entry.msgid)
                self.assertEqual(entry.msgstr, entry.msgstr.strip(), entry.msgid)

    def test_numbers_and_function_names_are_the_same(self):
        """What is a number or the name of a function in the English text is the same in the other language, but for the
        decimal mark: a number is typed as it is read."""
        pattern = re.compile(r"\b[A-Z]{3,}(?:\.[A-Z]+)+\b|(?<![\w.,^])\d+(?:[.,]\d+)?(?:e-?\d+)?")
        decimal = re.compile(r"(?<![\d.])(\d+)\.(\d+)(?!\.?\d)")
        # Sections, versions, and what is typed on the command line.
        kept = {"11.1", "2.0"}
        for catalogue in self.catalogues.values():
            for entry in catalogue:
                if "Inputs.B5=1.5" in entry.msgid:
                    continue
                in_their_way = decimal.sub(lambda number: number[0] if number[0] in kept else "%s,%s" % number.groups(), entry.msgid)
                self.assertEqual({number[0] for number in decimal.finditer(entry.msgstr)} - kept, set(),
                                 "write the decimal comma: " + entry.msgstr)
                found = [set(pattern.findall(text)) for text in (in_their_way, entry.msgstr)]
                self.assertLessEqual(found[0], found[1], entry.msgid)

    def test_gettext_finds_nothing_wrong(self):
        for path in self.catalogues:
            checked = subprocess.run(["msgfmt", "--check", "--output-file=/dev/null", str(path)], capture_output=True, text=True,
                                     timeout=60)
            self.assertEqual(checked.returncode, 0, checked.stderr)

    def test_a_translation_that_loses_a_placeholder_does_not_build(self):
        with tempfile.TemporaryDirectory() as folder:
            broken = pathlib.Path(folder) / "xx.po"
            broken.write_text('msgid ""\nmsgstr "Content-Type: text/plain; charset=UTF-8\\n"\n\n'
                              'msgid "{file} is a folder"\nmsgstr "ein Ordner"\n', encoding="utf-8")
            made = subprocess.run(["/usr/bin/python3", str(LANGUAGES / "table.py"), str(broken), "other",
                                   str(pathlib.Path(folder) / "other.cpp")], capture_output=True, text=True, timeout=60)
            self.assertNotEqual(made.returncode, 0)
            self.assertIn("placeholders", made.stderr)

    def test_no_sentence_of_the_command_is_in_english_only(self):
        """What is thrown at the user was looked up."""
        thrown = re.compile(r"\b(?:WrongUse|FileNotReadable)\(\s*(?:std::string\(|[\w.()]+ \+ )*\"[^\"]*[a-z]{2}[^\"]*\"|"
                            r"\b(?:error|cerr) << (?:[\w.()\[\]]+ << )*\"[^\"]*[a-z]{2}[^\"]*\"[^;]*;")
        for example in ('throw WrongUse("no");', 'throw WrongUse(name + " is bad");', 'throw WrongUse(\n    "no");',
                        'throw FileNotReadable(std::string("no: ") + why);', 'streams.error << count << " cells\\n";'):
            self.assertIsNotNone(thrown.search(example), example)
        for path in sorted([*(ROOT / "harness").glob("*.cpp"), *(ROOT / "harness" / "sheet").glob("*.cpp")]):
            found = [match.group() for match in thrown.finditer(path.read_text(encoding="utf-8"))]
            # The command's name before what no one foresaw.
            found = [text for text in found if '"pullsheet: " << error.what()' not in text]
            self.assertEqual(found, [], path.name)


if __name__ == "__main__":
    unittest.main()
