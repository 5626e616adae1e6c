# SPDX-License-Identifier: Apache-2.0
"""The reference, the manual page, the completions and the guide sheet: complete, up to date, and good without a network."""

import html.parser
import os
import pathlib
import re
import shutil
import subprocess
import sys
import unittest
import urllib.parse

sys.dont_write_bytecode = True
ROOT = pathlib.Path(__file__).resolve().parents[2]
sys.path.insert(0, str(ROOT / "harness" / "guide"))

from catalogue import Catalogue  # noqa: E402
import how_we_know  # noqa: E402
import how_we_know_german  # noqa: E402
from mathematics import NotAnEquation, equations, mathml  # noqa: E402

BUILD = pathlib.Path(os.environ.get("PULLSHEET_BUILD", ROOT / "build"))
COMMAND = os.environ.get("PULLSHEET_COMMAND", BUILD / "harness" / "pullsheet")
HTML = BUILD / "guide" / "html"
MANUAL = BUILD / "guide" / "man" / "pullsheet.1"
COMPLETION = BUILD / "guide" / "completion"
SHEET = ROOT / "example-sheets" / "function-guide.fods"


class Page(html.parser.HTMLParser):
    """The places and the links of a page, what it loads, and its text."""

    def __init__(self, path):
        super().__init__()
        self.places, self.links, self.loaded, self.words = set(), [], [], []
        self.feed(path.read_text(encoding="utf-8"))
        self.text = " ".join(" ".join(self.words).split())

    def handle_starttag(self, tag, attributes):
        attributes = dict(attributes)
        if attributes.get("id"):
            self.places.add(attributes["id"])
        if tag == "a" and attributes.get("href"):
            self.links.append(attributes["href"])
        for name in ("src", "data", "srcset", "action", "poster"):
            if attributes.get(name):
                self.loaded.append(attributes[name])
        if tag == "link" and attributes.get("href"):
            self.loaded.append(attributes["href"])

    def handle_data(self, text):
        self.words.append(text)


class Reference(unittest.TestCase):
    @classmethod
    def setUpClass(cls):
        cls.catalogue = Catalogue(COMMAND)
        cls.pages = {path.name: Page(path) for path in HTML.glob("*.html")}

    def test_every_function_has_its_page_with_all_that_is_known(self):
        for function in self.catalogue.functions:
            with self.subTest(function["name"]):
                text = self.pages[function["name"] + ".html"].text
                for said in [function["summary"], function["method"], function["signature"], function["result"]["meaning"],
                             *(parameter["meaning"] for parameter in function["parameters"]),
                             *(source["citation"] for source in function["sources"]),
                             *(seen["text"] for seen in function["seen"])]:
                    self.assertIn(" ".join(said.split()), text)

    def test_how_we_know_says_it_of_every_family_in_both_languages(self):
        for name, known in (("how-we-know.html", how_we_know.KNOWN), ("how-we-know-de.html", how_we_know_german.KNOWN)):
            text = self.pages[name].text
            for family in self.catalogue.families:
                for said in known[family["name"]]:
                    self.assertIn(said, text)
            for check in self.catalogue.printed_values():
                self.assertIn(" ".join(check["source"].split()), text)
            self.assertEqual(sorted(known), sorted(family["name"] for family in self.catalogue.families))
        self.assertIn("how-we-know.html", self.pages["index.html"].links)

    def test_links_lead_somewhere_and_nothing_is_loaded_from_elsewhere(self):
        self.assertGreater(len(self.pages), len(self.catalogue.functions))
        for name, page in self.pages.items():
            for link in page.links + page.loaded:
                with self.subTest(name, link=link):
                    self.assertNotRegex(link, r"^([a-z]+:)?//")
                    path, _, place = urllib.parse.unquote(link).partition("#")
                    if path:
                        self.assertTrue((HTML / path.partition("?")[0]).exists())
                    if place and (path or name).endswith(".html"):
                        self.assertIn(place, self.pages[path or name].places)

    def test_style_sheets_load_nothing_from_elsewhere(self):
        for path in HTML.glob("_static/**/*.css"):
            self.assertNotRegex(path.read_text(encoding="utf-8"), r"(url\(|@import)\s*['\"]?(https?:)?//", path.name)

    def test_search_finds_every_function(self):
        index = (HTML / "searchindex.js").read_text(encoding="utf-8")
        for function in self.catalogue.functions:
            self.assertIn('"%s"' % function["name"], index)


class Equations(unittest.TestCase):
    def test_every_equation_of_the_catalogue_can_be_read(self):
        count = 0
        for function in Catalogue(COMMAND).functions:
            self.assertEqual(bool(function["formula"]), bool(function["symbols"]), function["name"])
            for equation in equations(function["formula"]):
                count += 1
                self.assertIn("<mo>=</mo>", mathml(equation), function["name"])
        self.assertGreater(count, 80)

    def test_brackets_stand_where_the_meaning_needs_them(self):
        self.assertIn("<mo>(</mo><mrow><mi>a</mi><mo>+</mo><mi>b</mi></mrow><mo>)</mo>", mathml("y = c·(a + b)"))
        self.assertNotIn("<mo>(</mo>", mathml("y = (a + b)/c"))
        self.assertIn("<mo>(</mo><mfrac>", mathml("y = (a/b)^2"))
        self.assertIn("<msub><mi>ṁ</mi><mi>f</mi></msub>", mathml("ṁ_f = P"))

    def test_what_cannot_be_read_is_refused(self):
        for text in ("y = a +", "y = a, b", "y = f(a, b)", "y = [a]"):
            with self.assertRaises(NotAnEquation):
                mathml(text)


class Manual(unittest.TestCase):
    def test_commands_options_functions(self):
        catalogue = Catalogue(COMMAND)
        text = MANUAL.read_text(encoding="utf-8").replace("\\", "")
        for command in catalogue.command["commands"]:
            self.assertIn("pullsheet %s" % command["name"], text)
            for option in command["options"]:
                for name in option["names"]:
                    self.assertIn(name, text)
        for function in catalogue.functions:
            self.assertIn(function["name"], text)
        self.assertIn("EXIT STATUS", text.upper())

    @unittest.skipUnless(shutil.which("mandoc"), "mandoc is not installed")
    def test_mandoc_has_nothing_to_warn_of(self):
        said = subprocess.run(["mandoc", "-T", "lint", "-W", "warning", str(MANUAL)], capture_output=True, text=True)
        self.assertEqual(said.stdout + said.stderr, "")

    @unittest.skipUnless(shutil.which("groff"), "groff is not installed")
    def test_groff_has_nothing_to_warn_of(self):
        said = subprocess.run(["groff", "-man", "-ww", "-K", "utf8", "-T", "utf8", "-rLL=100n", str(MANUAL)], capture_output=True)
        self.assertEqual(said.stderr, b"")


class BashCompletion(unittest.TestCase):
    def complete(self, *words):
        """What bash offers for the last of the words, as the shell itself would ask."""
        script = """source "$1"; shift
            COMP_WORDS=("$@"); COMP_CWORD=$(($# - 1)); COMP_LINE="$*"; COMP_POINT=${#COMP_LINE}
            $(complete -p pullsheet | sed 's/.*-F \\([^ ]*\\).*/\\1/') pullsheet "${COMP_WORDS[COMP_CWORD]}" "${COMP_WORDS[COMP_CWORD - 1]}"
            printf '%s\\n' "${COMPREPLY[@]}\""""
        done = subprocess.run(["bash", "-c", script, "bash", str(COMPLETION / "pullsheet.bash"), "pullsheet", *words],
                              capture_output=True, text=True, check=True, cwd=ROOT, env={**os.environ, "LC_ALL": "C.UTF-8"})
        self.assertEqual(done.stderr, "")
        return done.stdout.split("\n")[:-1]

    def test_commands_and_options(self):
        self.assertEqual(self.complete("ev"), ["eval"])
        self.assertIn("verify", self.complete(""))
        self.assertIn("--unit", self.complete("eval", "AIR.DENSITY", "--"))
        self.assertEqual(self.complete("batch", "--ke"), ["--keep-others"])

    def test_names_of_functions_in_any_case(self):
        self.assertEqual(self.complete("show", "air.dens"), ["AIR.DENSITY", "AIR.DENSITY.ALTITUDE"])
        self.assertEqual(self.complete("eval", "TYRE."), ["TYRE.RADIUS"])
        self.assertEqual(self.complete("list", "in"), ["INJECTOR"])
        self.assertEqual(self.complete("eval", "FUNCTION.SOURCE", "TYRE."), ["TYRE.RADIUS"])

    def test_choices_and_units_at_their_place(self):
        self.assertEqual(self.complete("eval", "DYNO.FACTOR", "SAE"), ["SAE\\ J1349", "SAE\\ J607"])
        self.assertEqual(self.complete("eval", "dyno.factor", '"ISO'), ["ISO\\ 1585"])
        self.assertEqual(self.complete("eval", "DYNO.FACTOR", "--digits", "5", "DIN"), ["DIN\\ 70020"])
        self.assertEqual(self.complete("eval", "ENGINE.POWER", "350", "5500", "--unit", "P"), ["PS"])
        self.assertEqual(self.complete("eval", "UNIT.CONVERT", "1", "lb-f"), ["lb-ft"])
        self.assertEqual(self.complete("batch", "AIR.DENSITY", "--set", "hum"), ["humidity="])

    def test_files(self):
        self.assertEqual(self.complete("batch", "AIR.DENSITY", "READ"), ["README.md"])
        self.assertEqual(self.complete("eval", "PULL.PEAK", "@READ"), ["@README.md"])

    def test_the_other_shells_can_read_theirs(self):
        for shell, name in (("bash", "pullsheet.bash"), ("zsh", "_pullsheet"), ("fish", "pullsheet.fish")):
            if shutil.which(shell):
                done = subprocess.run([shell, "-n", str(COMPLETION / name)], capture_output=True, text=True)
                self.assertEqual((done.returncode, done.stderr), (0, ""), shell)


@unittest.skipUnless(SHEET.exists(), "there is no guide sheet")
class GuideSheet(unittest.TestCase):
    def test_is_up_to_date_with_the_catalogue(self):
        text = SHEET.read_text(encoding="utf-8")
        made_from = re.search(r'meta:name="Made from catalogue"[^>]*>([0-9a-f]+)<', text)
        self.assertIsNotNone(made_from)
        self.assertEqual(made_from.group(1), Catalogue(COMMAND).fingerprint(),
                         "example-sheets/function-guide.fods is older than the catalogue: run example-sheets/make/make function_guide")


if __name__ == "__main__":
    unittest.main()
