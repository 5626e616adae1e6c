# SPDX-License-Identifier: Apache-2.0
"""The files of the customer copy: all or none, whatever the disk does; nothing of the shop's computer in them; nothing fetched for them."""

import http.server
import os
import re
import subprocess
import threading
import unittest

import uno

from copies import CopyTestCase, everything_in
from office import property_value


class Files(CopyTestCase):
    @classmethod
    def setUpClass(cls):
        super().setUpClass()
        # An office that knows a printer.
        printers = cls.office.profile / "user" / "psprint" / "psprint.conf"
        printers.parent.mkdir(exist_ok=True)
        printers.write_text("[Drucker47q]\nPrinter=SGENPRT/Drucker47q\nDefaultPrinter=1\nLocation=\nCommand=true\n", encoding="utf-8")
        cls.office.stop()
        cls.office.start()

    def mounted(self, options, source="tmpfs"):
        """A folder that is a file system of its own; the test is skipped where there can be none."""
        folder = self.work / "disk"
        folder.mkdir()
        made = subprocess.run(["mount", "-t", "tmpfs", "-o", options, str(source), str(folder)], capture_output=True, text=True, timeout=60)
        if made.returncode != 0:
            self.skipTest("a file system of its own needs the right to mount one: " + made.stderr.strip())
        self.addCleanup(subprocess.run, ["umount", str(folder)], check=True, timeout=60)
        return folder

    def content(self, folder):
        return {path.name: path.read_bytes() for path in folder.iterdir() if not path.name.startswith(".~lock.")}

    def test_a_full_disk(self):
        """Full from the first byte on, and at every place in the three files."""
        folder = self.mounted("size=512k")
        for row in range(200):
            self.sheet.getCellByPosition(row % 7, row // 7).String = "line %d %s" % (row, os.urandom(12).hex())
        self.save("disk/sheet.ods")
        filler = folder / "filler"
        written = 0
        for free in range(0, 120, 8):
            filler.write_bytes(b"")
            usage = os.statvfs(folder)
            filler.write_bytes(b"x" * (usage.f_bavail * usage.f_frsize - free * 1024))
            before = self.content(folder)
            answer, is_done = self.give("copy")
            if is_done:
                written += 1
                for path in self.paths(answer):
                    path.unlink()
            else:
                self.assertIn("disk is full", answer)
                self.assertIn(str(folder), answer)
            self.assertEqual(self.content(folder), before, free)
            if not written:
                self.assertLess(free, 104, "enough room, but: %s" % answer)
        self.assertGreater(written, 0)
        self.assertLess(written, 12)

    def test_a_folder_that_cannot_be_written(self):
        folder = self.work / "folder"
        folder.mkdir()
        self.put("A1", 1.0)
        self.save("folder/sheet.ods")
        if os.getuid() == 0:
            # Nobody keeps root from writing but the file system.
            there = self.mounted("bind,ro", folder)
        else:
            there = folder
            folder.chmod(0o555)
            self.addCleanup(folder.chmod, 0o755)
        document = self.office.load(there / "sheet.ods")
        try:
            before = self.content(folder)
            self.assertEqual(self.refused("copy", document), "The folder %s is write-protected; no copy was written." % there)
            self.assertEqual(self.content(folder), before)
        finally:
            document.close(True)

    def test_nothing_is_overwritten_and_nothing_left(self):
        self.put("A1", 1.0)
        self.save("Müller & 100 % #1.ods")
        taken = self.work / "Müller & 100 % #1-customer.pdf"
        taken.write_text("of somebody else")
        self.assertEqual([path.name for path in self.copy()],
                         ["Müller & 100 % #1-customer-2." + ending for ending in ("ods", "xlsx", "pdf")])
        self.assertEqual(taken.read_text(), "of somebody else")
        self.assertEqual(len(self.content(self.work)), 5)

    def test_a_name_too_long_for_the_disk(self):
        self.put("A1", 1.0)
        self.save("x" * 242 + ".ods")
        self.assertIn("No copy could be written in %s" % self.work, self.refused("copy"))
        self.assertEqual(len(self.content(self.work)), 1)

    def set(self, place, name, value):
        """A setting of the office."""
        access = self.office.create("com.sun.star.configuration.ConfigurationProvider").createInstanceWithArguments(
            "com.sun.star.configuration.ConfigurationUpdateAccess", (property_value("nodepath", place),))
        uno.invoke(access, "setPropertyValue", (name, value))
        access.commitChanges()

    # What the files say of the computer they come from.

    def test_nothing_of_the_computer_goes_out(self):
        self.put("A1", 1.0)
        self.sheet.setPrintAreas((self.cell("A1:C9").RangeAddress,))
        settings = self.document.createInstance("com.sun.star.document.Settings")
        settings.PrinterName = "Drucker47q"
        self.assertEqual(settings.PrinterName, "Drucker47q")
        data = self.document.DocumentProperties
        data.TemplateURL, data.TemplateName, data.Author, data.PrintedBy = "file:///home/Geheim47q/a.ots", "Geheim47q", "Geheim47q", "Geheim47q"
        self.save()
        for path in self.copy():
            text = everything_in(path)
            for said in ("Drucker47q", "Geheim47q", 'PrinterName" config:type="string">', 'PrinterSetup" config:type="base64Binary">',
                         "printerSettings", str(self.work), self.work.name, "file:///", "/work/",
                         "initial-creator", "TemplateURL", "meta:template"):
                found = re.search(".{0,80}" + re.escape(said) + ".{0,80}", text)
                self.assertIsNone(found, "%s: %r" % (path.name, found and found.group()))
            self.assertIsNone(re.search(r"dc:creator>[^<]|/Author|lastModifiedBy>[^<]", text), path.name)

    # What is asked of others.

    def test_nothing_is_fetched_or_run(self):
        """The conditions of a page are evaluated in a second document: it asks no server, runs nothing and updates nothing."""
        asked = []

        class Answer(http.server.BaseHTTPRequestHandler):
            def do_GET(self):
                asked.append(self.path)
                self.send_response(200)
                self.end_headers()
                self.wfile.write(b"<v>7</v>")

            do_HEAD = do_OPTIONS = do_PROPFIND = do_GET

            def log_message(self, *_):
                pass

        server = http.server.ThreadingHTTPServer(("127.0.0.1", 0), Answer)
        threading.Thread(target=server.serve_forever, daemon=True).start()
        self.addCleanup(server.server_close)
        self.set("/org.openoffice.Office.Common/Security/Scripting", "SecureURL", uno.Any("[]string", (self.work.as_uri(),)))
        self.set("/org.openoffice.Office.Calc/Content/Update", "Link", 0)
        self.addCleanup(server.shutdown)
        address = "http://127.0.0.1:%d/" % server.server_port
        ran = self.work / "ran"
        source = '''<?xml version="1.0" encoding="UTF-8"?>
<office:document xmlns:office="urn:oasis:names:tc:opendocument:xmlns:office:1.0" xmlns:table="urn:oasis:names:tc:opendocument:xmlns:table:1.0"
 xmlns:text="urn:oasis:names:tc:opendocument:xmlns:text:1.0" xmlns:style="urn:oasis:names:tc:opendocument:xmlns:style:1.0"
 xmlns:fo="urn:oasis:names:tc:opendocument:xmlns:xsl-fo-compatible:1.0" xmlns:xlink="http://www.w3.org/1999/xlink"
 xmlns:draw="urn:oasis:names:tc:opendocument:xmlns:drawing:1.0" xmlns:svg="urn:oasis:names:tc:opendocument:xmlns:svg-compatible:1.0"
 xmlns:script="urn:oasis:names:tc:opendocument:xmlns:script:1.0" xmlns:ooo="http://openoffice.org/2004/office"
 xmlns:calcext="urn:org:documentfoundation:names:experimental:calc:xmlns:calcext:1.0" xmlns:of="urn:oasis:names:tc:opendocument:xmlns:of:1.2"
 office:version="1.3" office:mimetype="application/vnd.oasis.opendocument.spreadsheet">
<office:scripts><office:script script:language="ooo:Basic"><ooo:libraries><ooo:library-embedded ooo:name="Standard">
<ooo:module ooo:name="Module1"><ooo:source-code>Sub Run
Open "%(ran)s" For Output As #1
Print #1, "ran"
Close #1
End Sub
Function Told(x)
Run
Told = x
End Function</ooo:source-code></ooo:module></ooo:library-embedded></ooo:libraries></office:script>
<office:event-listeners><script:event-listener script:language="ooo:script" script:event-name="dom:load"
 xlink:href="vnd.sun.star.script:Standard.Module1.Run?language=Basic&amp;location=document" xlink:type="simple"/></office:event-listeners></office:scripts>
<office:styles><style:style style:name="Warned" style:family="table-cell"><style:table-cell-properties fo:background-color="#ffccaa"/></style:style></office:styles>
<office:automatic-styles><style:page-layout style:name="P1"><style:page-layout-properties><style:background-image
 xlink:href="%(address)sbackground.png" xlink:type="simple" xlink:actuate="onLoad"/></style:page-layout-properties></style:page-layout></office:automatic-styles>
<office:master-styles><style:master-page style:name="Default" style:page-layout-name="P1"/></office:master-styles>
<office:body><office:spreadsheet>
<table:table table:name="Page"><table:shapes><draw:frame svg:x="1cm" svg:y="6cm" svg:width="2cm" svg:height="2cm"><draw:image
 xlink:href="%(address)spicture.png" xlink:type="simple" xlink:actuate="onLoad"/></draw:frame></table:shapes><table:table-column/>
<table:table-row><table:table-cell office:value-type="float" office:value="5"><text:p>5</text:p></table:table-cell></table:table-row>
<table:table-row><table:table-cell table:formula="of:=WEBSERVICE(&quot;%(address)sservice&quot;)" office:value-type="string"
 office:string-value="said before"><text:p>said before</text:p></table:table-cell></table:table-row>
<table:table-row><table:table-cell table:formula="of:=['%(address)sprices.ods'#$Sheet1.A1]" office:value-type="float" office:value="9"><text:p>9</text:p></table:table-cell></table:table-row>
<table:table-row><table:table-cell table:formula="of:=TOLD(3)" office:value-type="float" office:value="3"><text:p>3</text:p></table:table-cell></table:table-row>
<table:table-row><table:table-cell office:value-type="string"><table:cell-range-source table:name="A1" xlink:type="simple" xlink:href="%(address)sarea.ods"
 table:filter-name="calc8" table:refresh-delay="PT00H00M01S" table:last-column-spanned="1" table:last-row-spanned="1"/><text:p>linked</text:p></table:table-cell></table:table-row>
<calcext:conditional-formats><calcext:conditional-format calcext:target-range-address="Page.A1:Page.A5"><calcext:condition
 calcext:apply-style-name="Warned" calcext:value="&gt;4" calcext:base-cell-address="Page.A1"/></calcext:conditional-format>
<calcext:conditional-format calcext:target-range-address="Page.B1:Page.B5"><calcext:condition
 calcext:apply-style-name="Warned" calcext:value="formula-is(LEN(WEBSERVICE(&quot;%(address)scondition&quot;))&gt;0)" calcext:base-cell-address="Page.B1"/></calcext:conditional-format>
</calcext:conditional-formats></table:table>
<table:table table:name="Costs"><table:table-source xlink:type="simple" xlink:href="%(address)ssheet.ods" table:filter-name="calc8"
 table:table-name="Sheet1" table:refresh-delay="PT00H00M01S"/><table:table-column/><table:table-row><table:table-cell/></table:table-row></table:table>
</office:spreadsheet></office:body></office:document>''' % {"address": address, "ran": ran}
        for name, update, macros, text in (("untrusted", 0, 0, source),
                                           ("trusted", 3, 4, source.replace('table:refresh-delay="PT00H00M01S"', ""))):
            with self.subTest(name):
                path = self.work / (name + ".fods")
                path.write_text(text, encoding="utf-8")
                document = self.office.desktop.loadComponentFromURL(path.as_uri(), "_blank", 0, (
                    property_value("Hidden", True), property_value("UpdateDocMode", update), property_value("MacroExecutionMode", macros)))
                try:
                    if name == "trusted":
                        document.calculateAll()
                        self.assertTrue(ran.exists())
                        self.assertLessEqual({"/prices.ods", "/sheet.ods", "/area.ods"}, set(asked))
                        ran.unlink()
                    # What the office asks for when it opens the document is its own affair.
                    shown = [document.Sheets.getByName("Page").getCellByPosition(0, row).String for row in range(5)]
                    del asked[:]
                    answer, is_done = self.give("copy", document, Sheets=["Page"], WithErrors=True, WithoutParts=True)
                    self.assertTrue(is_done, answer)
                    self.assertEqual(asked, [])
                    self.assertFalse(ran.exists())
                    copied = self.seen(self.paths(answer)[0]).Sheets.getByName("Page")
                    self.assertEqual([copied.getCellByPosition(0, row).String for row in range(5)], shown)
                    self.assertEqual(copied.getCellByPosition(0, 0).CellBackColor, 0xFFCCAA)
                    for one in self.paths(answer):
                        self.assertNotIn("127.0.0.1", everything_in(one))
                finally:
                    document.close(True)


if __name__ == "__main__":
    unittest.main()
