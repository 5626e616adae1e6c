# SPDX-License-Identifier: Apache-2.0
"""`pullsheet sheet` with the real office: what it prints and writes, what it says, and that nothing of it is left."""

import contextlib
import csv
import hashlib
import http.server
import json
import os
import pathlib
import shutil
import signal
import subprocess
import tempfile
import threading
import time
import unittest
import urllib.parse
import urllib.request
from xml.sax.saxutils import quoteattr

from calc import BUILD, ROOT

COMMAND = os.environ.get("PULLSHEET_COMMAND", str(BUILD / "harness" / "pullsheet"))
OFFICE = pathlib.Path(os.environ.get("PULLSHEET_OFFICE", "/usr/lib/libreoffice"))
SHEETS = ROOT / "example-sheets"
FUEL_SYSTEM = SHEETS / "fuel-system.fods"
# Where an office puts its pipes, whatever TMPDIR says.
PIPES = (pathlib.Path("/tmp"), pathlib.Path("/var/tmp"))

FLAT = """<?xml version="1.0" encoding="UTF-8"?>
<office:document xmlns:office="urn:oasis:names:tc:opendocument:xmlns:office:1.0" xmlns:table="urn:oasis:names:tc:opendocument:xmlns:table:1.0"
 xmlns:of="urn:oasis:names:tc:opendocument:xmlns:of:1.2" xmlns:draw="urn:oasis:names:tc:opendocument:xmlns:drawing:1.0"
 xmlns:xlink="http://www.w3.org/1999/xlink" xmlns:svg="urn:oasis:names:tc:opendocument:xmlns:svg-compatible:1.0" office:version="1.3"
 office:mimetype="application/vnd.oasis.opendocument.spreadsheet"><office:body><office:spreadsheet><table:table table:name="A"><table:shapes>%s</table:shapes>
<table:table-row>%s</table:table-row></table:table></office:spreadsheet></office:body></office:document>
"""


def running_in(folder):
    """The processes that have the folder in their command line, as a path or as a URL."""
    found = []
    for command in pathlib.Path("/proc").glob("[0-9]*/cmdline"):
        try:
            if str(folder).encode() in urllib.parse.unquote_to_bytes(command.read_bytes()):
                found.append(command.parent.name)
        except OSError:
            continue
    return found


class SheetCommand(unittest.TestCase):
    def setUp(self):
        self.folder = pathlib.Path(tempfile.mkdtemp(prefix="pullsheet Prüfung-"))
        self.addCleanup(shutil.rmtree, self.folder, True)
        # Where the command makes its temporary folder; nothing may be left there.
        self.temporary = self.folder / "temporary"
        self.temporary.mkdir()
        self.out = self.folder / "out"
        self.out.mkdir()
        self.homes, self.pipes = set(), set()

    def environment(self, **more):
        return dict(os.environ, TMPDIR=str(self.temporary), **more)

    def run_command(self, *words, code=0, **environment):
        command = [COMMAND, "sheet", *map(str, words)]
        with subprocess.Popen(command, env=self.environment(**environment), stdin=subprocess.DEVNULL, stdout=subprocess.PIPE,
                              stderr=subprocess.PIPE, encoding="utf-8") as process:
            with self.watched():
                try:
                    out, error = process.communicate(timeout=300)
                except subprocess.TimeoutExpired:
                    process.kill()
                    raise
        result = subprocess.CompletedProcess(command, process.returncode, out, error)
        self.assertEqual(result.returncode, code, result.stderr + result.stdout)
        self.assert_nothing_is_left()
        return result

    @contextlib.contextmanager
    def watched(self):
        """Takes down the command's temporary folders, and the office's pipes, which bear their names and lie elsewhere."""
        done = threading.Event()

        def look():
            while not done.wait(0.01):
                self.homes.update(path.name for path in self.temporary.iterdir())
                self.pipes.update(self.pipes_there())

        watching = threading.Thread(target=look)
        watching.start()
        try:
            yield
        finally:
            done.set()
            watching.join()

    def pipes_there(self):
        """The pipes of the offices that this test has started; others run theirs beside it."""
        return {pipe for folder in PIPES for home in self.homes for pipe in folder.glob("OSL_PIPE_*_" + home)}

    def assert_nothing_is_left(self):
        self.assertEqual(list(self.temporary.iterdir()), [])
        self.assertEqual(self.pipes_there(), set())
        self.assertEqual(running_in(self.temporary), [])

    def test_prints_the_named_table(self):
        before = hashlib.sha256(FUEL_SYSTEM.read_bytes()).hexdigest()
        shown = self.run_command(SHEETS / "customer-quote.fods", "--range", "quote_table")
        self.assertIn("all checks of the sheet agree", shown.stderr)
        self.assertGreater(len(shown.stdout.splitlines()), 8)
        self.assertNotIn("Err:", shown.stdout)
        self.assertIn("Stage", shown.stdout)
        # The used cells of a sheet, of the first one if none is named.
        first = self.run_command(FUEL_SYSTEM)
        self.assertTrue(first.stdout.strip())
        named = self.run_command(FUEL_SYSTEM, "--sheet", "Inputs")
        self.assertNotEqual(first.stdout, named.stdout)
        self.assertEqual(hashlib.sha256(FUEL_SYSTEM.read_bytes()).hexdigest(), before)
        # Each time an office was started, and its pipe was seen: that nothing of it is left is not said of nothing.
        self.assertEqual((len(self.homes), len(self.pipes)), (3, 3))

    def test_formats_hold_the_same_cells(self):
        written = self.out / "table.csv"
        result = self.run_command(FUEL_SYSTEM, "--range", "pump_flows", "--json", "--csv", written)
        answer = json.loads(result.stdout)
        self.assertEqual(answer["errors"], [])
        self.assertIs(answer["all_checks_agree"], True)
        self.assertTrue(answer["range"].startswith("Inputs."))
        with open(written, newline="", encoding="utf-8") as file:
            rows = list(csv.reader(file))
        self.assertEqual([[float(field) for field in row] for row in rows], answer["rows"])
        table = self.run_command(FUEL_SYSTEM, "--range", "pump_flows", "--format", "tsv").stdout
        self.assertEqual([line.split("\t") for line in table.splitlines()], rows)

    def test_an_input_is_set_and_the_copy_keeps_it(self):
        before = FUEL_SYSTEM.read_bytes()
        plain = json.loads(self.run_command(FUEL_SYSTEM, "--range", "speeds", "--json").stdout)
        for ending in ("ods", "fods", "xlsx"):
            copy = self.out / ("copy." + ending)
            changed = self.run_command(FUEL_SYSTEM, "--set", "tank_volume=33.5", "--range", "tank_volume", "--json", "--save",
                                       copy)
            self.assertEqual(json.loads(changed.stdout)["rows"], [[33.5]])
            again = self.run_command(copy, "--range", "tank_volume", "--format", "csv")
            self.assertEqual(again.stdout, "33.5\n")
            speeds = json.loads(self.run_command(copy, "--range", "speeds", "--json").stdout)
            self.assertEqual(speeds["rows"], plain["rows"])
        self.assertEqual(FUEL_SYSTEM.read_bytes(), before)
        # A date and a text, by name and by address.
        quote = SHEETS / "customer-quote.fods"
        cell = json.loads(self.run_command(quote, "--range", "quote_date", "--json").stdout)
        self.assertRegex(cell["rows"][0][0], r"^\d{4}-\d\d-\d\d$")
        dated = self.run_command(quote, "--set", "quote_date=2031-05-17", "--set", "customer=Ünal, 2nd car", "--range",
                                 "Inputs.B7:B8", "--json")
        self.assertEqual(json.loads(dated.stdout)["rows"], [["Ünal, 2nd car"], ["2031-05-17"]])

    def test_pdf_of_the_document_and_of_a_sheet(self):
        whole, one = self.out / "whole.pdf", self.out / "one.pdf"
        self.assertEqual(self.run_command(FUEL_SYSTEM, "--pdf", whole).stdout, "")
        self.run_command(FUEL_SYSTEM, "--sheet", "Inputs", "--pdf", one)
        pages = []
        for pdf in (whole, one):
            self.assertTrue(pdf.read_bytes().startswith(b"%PDF-"))
            info = subprocess.run(["pdfinfo", str(pdf)], check=True, capture_output=True, timeout=60, encoding="utf-8").stdout
            pages.append(int(next(line for line in info.splitlines() if line.startswith("Pages:")).split()[1]))
        self.assertGreater(pages[0], pages[1])
        self.assertGreaterEqual(pages[1], 1)

    def test_error_cells_are_said_with_their_reason(self):
        # A share above 1, and the sentence of the function that refuses it.
        result = self.run_command(FUEL_SYSTEM, "--set", "max_duty=85", "--sheet", "Inputs", code=1)
        self.assertRegex(result.stderr, r"fuel-system\.fods, \w+\.[A-Z]+\d+ \(Err:502\): [A-Z]+\.[A-Z_]+: .*85 %")
        self.assertRegex(result.stderr, r"\d+ cells show an error")
        answer = json.loads(self.run_command(FUEL_SYSTEM, "--set", "boost=22 furlongs", "--json", code=1).stdout)
        self.assertTrue(answer["errors"])
        self.assertIn("furlongs", "".join(error["why"] for error in answer["errors"]))

    def test_customer_copy(self):
        quote = self.out / "quote.fods"
        shutil.copy(SHEETS / "customer-quote.fods", quote)
        before = quote.read_bytes()
        result = self.run_command(quote, "--set", "customer=Ünal, 2nd car", "--customer-copy")
        self.assertEqual(result.stdout, "")
        copies = [self.out / ("quote-customer." + ending) for ending in ("ods", "xlsx", "pdf")]
        for copy in copies:
            self.assertTrue(copy.is_file())
            self.assertIn("written: %s" % copy, result.stderr)
        text = subprocess.run(["pdftotext", "-layout", str(copies[2]), "-"], check=True, capture_output=True, timeout=60, encoding="utf-8").stdout
        self.assertIn("Ünal, 2nd car", text)
        self.assertEqual(quote.read_bytes(), before)
        self.run_command(quote, "--customer-copy", "--sheet", "Checks")
        self.assertTrue((self.out / "quote-customer-2.pdf").is_file())

    def test_what_goes_out_waits_for_the_checks(self):
        """A figure expected otherwise than computed: no page leaves unless it is told to."""
        quote, pdf = self.out / "quote.fods", self.out / "quote.pdf"
        shutil.copy(SHEETS / "customer-quote.fods", quote)
        wrong = [quote, "--set", "Checks.C7=5", "--pdf", pdf, "--customer-copy"]
        for language, sentence in (("en", "no PDF and no customer copy was written"), ("de", "weder PDF noch Kundenkopie")):
            result = self.run_command(*wrong, "--language", language, code=1)
            self.assertIn(sentence, result.stderr)
            self.assertIn("Checks.E7: 750 PS in kW: differs", result.stderr)
            self.assertEqual([path.name for path in self.out.iterdir()], ["quote.fods"])
        result = self.run_command(*wrong, "--despite-checks", code=1)
        self.assertEqual(sorted(path.name for path in self.out.iterdir()),
                         ["quote-customer.ods", "quote-customer.pdf", "quote-customer.xlsx", "quote.fods", "quote.pdf"])
        self.assertIn("Checks.E7: 750 PS in kW: differs", result.stderr)

    def test_wrong_use(self):
        for words, sentence in (
                (["--range", "pump_flow"], 'did you mean "pump_flows"?'),
                (["--sheet", "Nothing"], "the sheets are"),
                (["--set", "boost"], "NAME=VALUE"),
                (["--set", "bost=1"], 'did you mean "boost"?'),
                (["--set", "speeds=1"], "several cells"),
                (["--set", "all_checks_agree=1"], "computed by a formula"),
                (["--set", "boost=1,5"], "decimal point"),
                (["--save", "copy.txt"], ".ods, .fods or .xlsx"),
                (["--save", str(FUEL_SYSTEM)], "never written"),
                (["--pdf", str(FUEL_SYSTEM)], "never written")):
            with self.subTest(words):
                result = self.run_command(FUEL_SYSTEM, *words, code=2)
                self.assertIn(sentence, result.stderr)
                self.assertEqual(result.stdout, "")

    def test_sentences_in_german(self):
        """The reasons of error cells, too; what the cells show is the same in every language."""
        for words, code, sentence in (
                (["--range", "pump_flow"], 2, "weder ein benannter Bereich noch eine Adresse; ist „pump_flows“ gemeint?"),
                (["--set", "speeds=1"], 2, "steht für mehrere Zellen (Inputs."),
                (["--save", "copy.txt"], 2, "eine Kopie wird als .ods, .fods oder .xlsx geschrieben"),
                (["--pdf", self.folder / "none" / "a.pdf"], 3, "es gibt keinen Ordner"),
                (["--range", "speeds"], 0, "alle Prüfungen des Dokuments stimmen überein")):
            with self.subTest(words):
                self.assertIn(sentence, self.run_command(FUEL_SYSTEM, *words, "--language", "de", code=code).stderr)
        wrong = [FUEL_SYSTEM, "--set", "max_duty=85", "--sheet", "Inputs", "--json"]
        english = self.run_command(*wrong, code=1)
        german = self.run_command(*wrong, code=1, LC_ALL="de_DE.UTF-8")
        self.assertIn("ein Anteil liegt zwischen 0 und 1, sind 85 % gemeint?", german.stderr)
        self.assertNotIn("a share", german.stderr)
        self.assertRegex(german.stderr, r"(?m)^\d+ Zellen zeigen einen Fehler$")
        answers = [json.loads(result.stdout) for result in (english, german)]
        self.assertNotEqual(answers[0]["errors"], answers[1]["errors"])
        for answer in answers:
            for error in answer["errors"]:
                del error["why"]
        self.assertEqual(*answers)

    def test_files_that_cannot_be_read_or_written(self):
        (self.folder / "text.ods").write_text("no sheet at all\n")
        (self.folder / "cut.xlsx").write_bytes(b"PK\x03\x04 cut off")
        for words in ([self.folder / "none.ods"], [self.folder], [self.folder / "cut.xlsx"],
                      [FUEL_SYSTEM, "--pdf", self.folder / "none" / "a.pdf"], [FUEL_SYSTEM, "--csv", "/dev/full"],
                      [FUEL_SYSTEM, "--extension", self.folder]):
            with self.subTest(words):
                result = self.run_command(*words, code=3)
                self.assertEqual(len(result.stderr.splitlines()), 1, result.stderr)
        self.assertIn("LibreOffice", self.run_command(FUEL_SYSTEM, code=3, PULLSHEET_OFFICE=str(self.folder)).stderr)

    def test_checks_that_are_wanted_but_not_there(self):
        table = self.folder / "table.csv"
        table.write_text("1,2\n3,4\n")
        self.assertEqual(self.run_command(table, "--format", "csv").stdout, "1,2\n3,4\n")
        self.assertIn("all_checks_agree", self.run_command(table, "--checks", code=2).stderr)

    def sleeping_office(self):
        """An office that is started and never answers."""
        program = self.folder / "office" / "program"
        program.mkdir(parents=True)
        for item in (OFFICE / "program").iterdir():
            if item.name != "soffice.bin":
                (program / item.name).symlink_to(item)
        (self.folder / "office" / "share").symlink_to(OFFICE / "share")
        sleeper = program / "soffice.bin"
        sleeper.write_text("#!/bin/sh\nsleep 600 & wait\n")
        sleeper.chmod(0o755)
        return str(self.folder / "office")

    def flat(self, name, cells, shapes=""):
        """A flat document with these formulas in its first row."""
        path = self.folder / name
        path.parent.mkdir(exist_ok=True)
        row = "".join("<table:table-cell table:formula=%s/>" % quoteattr("of:=" + cell) for cell in cells)
        path.write_text(FLAT % (shapes, row), encoding="utf-8")
        return path

    def test_names_of_files_in_any_locale(self):
        for locale in ("C", "POSIX", "xx_YY.UTF-8", "de_DE.UTF-8", "C.UTF-8"):
            with self.subTest(locale):
                folder = self.folder / ("maß %s" % locale)
                source = self.flat("maß %s/prüfstand €.fods" % locale, ["2+2"])
                outputs = [folder / name for name in ("ö 1.pdf", "ü 2.ods", "ä 3.csv")]
                shown = self.run_command(source, "--range", "A1", "--pdf", outputs[0], "--save", outputs[1], "--csv", outputs[2],
                                         LC_ALL=locale)
                self.assertEqual(shown.stdout, "4\n")
                self.assertEqual(sorted(folder.iterdir()), sorted([source, *outputs]))
                self.assertEqual(outputs[2].read_text(), "4\n")
                self.assertTrue(outputs[0].read_bytes().startswith(b"%PDF"))

    def test_nothing_is_fetched(self):
        asked = []

        class Server(http.server.BaseHTTPRequestHandler):
            def answer(self):
                asked.append(self.command + " " + self.path)
                self.send_response(200)
                self.end_headers()

            do_GET = do_HEAD = do_OPTIONS = do_PROPFIND = answer

            def log_message(self, *_):
                pass

        with http.server.ThreadingHTTPServer(("127.0.0.1", 0), Server) as server:
            threading.Thread(target=server.serve_forever, daemon=True).start()
            self.addCleanup(server.shutdown)
            address = "http://127.0.0.1:%d/" % server.server_port
            frame = '<draw:frame svg:width="5cm" svg:height="5cm" svg:x="1cm" svg:y="1cm"><draw:%s xlink:href="%s" xlink:type="simple" ' \
                    'xlink:show="embed" xlink:actuate="onLoad"/></draw:frame>'
            shapes = "".join(frame % (kind, address + name) for kind, name in
                             (("image", "picture.png"), ("object", "object.ods"), ("floating-frame", "frame.ods"), ("plugin", "film.mp4")))
            source = self.flat("linked.fods", ["2+2", "['%sother.ods'#$Sheet1.A1]" % address,
                                               'COM.MICROSOFT.WEBSERVICE("%sservice")' % address], shapes)
            shown = self.run_command(source, "--pdf", self.out / "a.pdf", "--save", self.out / "a.ods", "--range", "A1", code=1)
            self.assertEqual(shown.stdout, "4\n")
            self.assertEqual(asked, [])
            # The same server is reached by who may reach it.
            with urllib.request.urlopen(address + "reached", timeout=20):
                self.assertEqual(asked, ["GET /reached"])
            server.shutdown()

    def test_an_empty_file_is_not_done(self):
        for name in ("empty.ods", "empty.fods", "empty.xlsx", "empty.csv"):
            path = self.folder / name
            path.write_bytes(b"")
            self.assertIn("it is empty", self.run_command(path, "--pdf", self.out / "a.pdf", code=3).stderr)
        blank = self.flat("blank.fods", [])
        self.assertIn("no cell holds anything", self.run_command(blank, "--save", self.out / "a.ods", code=3).stderr)
        self.assertEqual(self.run_command(blank, "--set", "A1=5").stdout, "5\n")
        self.assertEqual(list(self.out.iterdir()), [])

    def test_csv_with_its_separator(self):
        for name, text in (("sep.csv", "sep=;\na;b\n1;2,5\n"), ("sep.tsv", "sep=;\r\na;b\r\n1;2,5\r\n"),
                           ("semicolon.csv", "a;b\n1;2,5\n"), ("comma.csv", "a,b\n1,2.5\n"), ("tab.tsv", "a\tb\n1\t2.5\n"),
                           ("mark.csv", "\ufeffsep=|\na|b\n1|2.5\n")):
            with self.subTest(name):
                path = self.folder / name
                path.write_bytes(text.encode())
                self.assertEqual(json.loads(self.run_command(path, "--json").stdout)["rows"], [["a", "b"], [1, 2.5]])
        latin = self.folder / "latin.csv"
        latin.write_bytes("Öl;1\n".encode("latin-1"))
        self.assertIn("UTF-8", self.run_command(latin, code=3).stderr)

    def test_functions_are_found_by_the_names_that_people_write(self):
        """As an office without Pullsheet stores what was typed in it: the name as it was written, in small letters."""
        source = self.flat("typed.fods", ['function.solve("INJECTOR.SIZE";1;550;50;150;;4)', "air.density(22;97.9;0.55)",
                                          "PULLSHEET.FUNCTIONS.AIRDENSITY(22;97.9;0.55)", "[.B1]-[.C1]", "Air.Density(22;97.9;0.55)"])
        shown = json.loads(self.run_command(source, "--json", "--digits", "5").stdout)["rows"][0]
        self.assertEqual(shown, [83.589, 1.1494, 1.1494, 0, 1.1494])
        unknown = self.run_command(self.flat("unknown.fods", ["air.densty(22;97.9;0.55)"]), code=1)
        self.assertIn('there is no function "air.densty"; did you mean AIR.DENSITY?', unknown.stderr)

    def test_two_outputs_of_one_name_are_refused(self):
        source = self.flat("a.fods", ["2+2"])
        (self.folder / "link").symlink_to(self.out)
        for words in (("--pdf", self.out / "a.ods", "--save", self.out / "a.ods"),
                      ("--csv", self.out / "a.ods", "--save", self.out / ".." / "out" / "a.ods"),
                      ("--csv", self.out / "a.pdf", "--pdf", self.folder / "link" / "a.pdf")):
            refused = self.run_command(source, *words, code=2)
            self.assertIn("name the same file", refused.stderr)
        self.assertEqual(list(self.out.iterdir()), [])

    def test_an_output_that_cannot_be_whole_leaves_the_old_one(self):
        source = self.flat("a.fods", ["2+2"])
        old = self.out / "a.pdf"
        old.write_text("old")
        self.run_command(source, "--pdf", old, "--range", "nosuch", code=2)
        self.assertEqual(old.read_text(), "old")
        self.run_command(source, "--pdf", old)
        self.assertTrue(old.read_bytes().startswith(b"%PDF"))
        self.assertEqual(list(self.out.iterdir()), [old])

    def test_the_time_is_over(self):
        began = time.monotonic()
        result = self.run_command(FUEL_SYSTEM, "--timeout", 2, code=1, PULLSHEET_OFFICE=self.sleeping_office())
        self.assertLess(time.monotonic() - began, 60)
        self.assertIn("not done within 2 s", result.stderr)

    def interrupt(self, number, **environment):
        process = subprocess.Popen([COMMAND, "sheet", str(SHEETS / "customer-quote.fods")], env=self.environment(**environment),
                                   stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
        self.addCleanup(process.wait, 60)
        self.addCleanup(process.kill)
        deadline = time.monotonic() + 60
        with self.watched():
            while len(running_in(self.temporary)) == 0:
                self.assertLess(time.monotonic(), deadline, "no office was started")
                time.sleep(0.02)
            if not environment:
                time.sleep(1.5)  # the office is under way, or has the document open
            process.send_signal(number)
            return process.wait(60)

    def test_interrupted_by_the_user(self):
        office = self.sleeping_office()
        for number in (signal.SIGINT, signal.SIGTERM, signal.SIGHUP):
            with self.subTest(number):
                self.assertEqual(self.interrupt(number, PULLSHEET_OFFICE=office), 128 + number)
                self.assert_nothing_is_left()
        with self.subTest("at work"):
            self.assertIn(self.interrupt(signal.SIGINT), (128 + signal.SIGINT, 0))
            self.assert_nothing_is_left()


if __name__ == "__main__":
    unittest.main()
