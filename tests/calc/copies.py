# SPDX-License-Identifier: Apache-2.0
"""What the tests of the customer copy share: giving the command, opening copies without Pullsheet, looking through files, comparing pages."""

import base64
import functools
import io
import pathlib
import re
import shutil
import struct
import subprocess
import zipfile
import zlib

import numpy
import uno
from com.sun.star.awt import Point, Rectangle, Size

from commands import MenuTestCase
from office import Office, property_value


class CopyTestCase(MenuTestCase):
    @classmethod
    def setUpClass(cls):
        super().setUpClass()
        cls.bare = Office(cls.folder / "bare profile", seconds=120)
        cls.bare.__enter__()
        cls.addClassCleanup(cls.bare.stop)

    def setUp(self):
        super().setUp()
        self.work = self.folder / "work" / self.id().rsplit(".", 1)[-1]
        shutil.rmtree(self.work, ignore_errors=True)
        self.work.mkdir(parents=True)

    def save(self, name="sheet.ods", document=None, **more):
        path = self.work / name
        document = document or self.document
        document.storeAsURL(path.as_uri(), (property_value("FilterName", "calc8"),
                                            *(property_value(key, value) for key, value in more.items())))
        return path

    def paths(self, urls):
        return [pathlib.Path(uno.fileUrlToSystemPath(url)) for url in urls]

    def copy(self, document=None, **arguments):
        return self.paths(self.done("copy", document, **arguments))

    def seen(self, path, **more):
        """The copy, opened without Pullsheet."""
        document = self.bare.desktop.loadComponentFromURL(
            path.as_uri(), "_blank", 0, (property_value("Hidden", True), *(property_value(*item) for item in more.items())))
        self.assertIsNotNone(document, path)
        self.addCleanup(document.close, True)
        document.calculateAll()
        return document

    def shown(self, document, sheet, address):
        return document.Sheets.getByName(sheet).getCellRangeByName(address).String

    def visible_sheets(self, document):
        return tuple(name for name in document.Sheets.ElementNames if document.Sheets.getByName(name).IsVisible)

    def pdf_of(self, document, sheets, name):
        """The printed pages of these sheets of a document, or of all, as PDF."""
        path = self.work / name
        if sheets is None:
            document.storeToURL(path.as_uri(), (property_value("FilterName", "calc_pdf_Export"),))
            return path
        ranges = document.createInstance("com.sun.star.sheet.SheetCellRanges")
        for sheet in map(document.Sheets.getByName, sheets):
            areas = sheet.getPrintAreas()
            if areas:
                ranges.addRangeAddresses(areas, False)
        data = uno.Any("[]com.sun.star.beans.PropertyValue",
                       (property_value("Selection", ranges if ranges.Count else document.Sheets.getByName(sheets[0])),
                        property_value("ExportNotes", False)))
        document.storeToURL(path.as_uri(), (property_value("FilterName", "calc_pdf_Export"), property_value("FilterData", data)))
        return path

    def chart(self, sheet, name, source, place, headers=(True, False)):
        sheet.Charts.addNewByName(name, Rectangle(*place), (sheet.getCellRangeByName(source).RangeAddress if isinstance(source, str) else source,),
                                  *headers)
        return sheet.Charts.getByName(name)

    def picture(self, text):
        """A PNG of 40 × 20 dots whose file says something that is not seen."""
        def chunk(kind, data):
            return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))
        rows = b"".join(b"\0" + bytes((200, x * 6, y * 12)[i] for x in range(40) for i in range(3)) for y in range(20))
        path = self.work / "picture.png"
        path.write_bytes(b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", struct.pack(">IIBBBBB", 40, 20, 8, 2, 0, 0, 0)) +
                         chunk(b"tEXt", b"Comment\0" + text.encode()) + chunk(b"IDAT", zlib.compress(rows)) + chunk(b"IEND", b""))
        return self.office.create("com.sun.star.graphic.GraphicProvider").queryGraphic((property_value("URL", path.as_uri()),))

    def shape(self, kind, x, y, width, height, sheet=None, **properties):
        shape = self.document.createInstance("com.sun.star.drawing." + kind)
        shape.Position, shape.Size = Point(x, y), Size(width, height)
        (sheet or self.sheet).DrawPage.add(shape)
        for name, value in properties.items():
            shape.setPropertyValue(name, value)
        return shape

    def assert_same_pages(self, one, other):
        """Two PDFs look the same at 100 dots per inch, but for how edges are smoothed."""
        pages = [pictures(path) for path in (one, other)]
        self.assertEqual(len(pages[0]), len(pages[1]), "the number of pages of %s" % other)
        for number, (a, b) in enumerate(zip(*pages), 1):
            self.assertEqual(a[:2], b[:2], "the size of page %d" % number)
            wrong = pixels_apart(a, b)
            self.assertLessEqual(len(wrong), 0, "page %d of %s: %d dots differ, the first at %r" % (number, other.name, len(wrong), wrong[:3]))


def pictures(pdf):
    """The pages of a PDF in grey at 100 dots per inch: (width, height, bytes)."""
    prefix = pdf.with_suffix("")
    for old in pdf.parent.glob(pdf.stem + "-page-*.pgm"):
        old.unlink()
    subprocess.run(["pdftoppm", "-r", "100", "-gray", str(pdf), str(prefix) + "-page"], check=True, timeout=300)
    pages = []
    for path in sorted(pdf.parent.glob(pdf.stem + "-page-*.pgm")):
        head, size, _, data = path.read_bytes().split(b"\n", 3)
        assert head == b"P5"
        width, height = map(int, size.split())
        pages.append((width, height, data))
        path.unlink()
    return pages


def pixels_apart(one, other, tolerance=80, shade=6):
    """The dots of a page that no dot of the other page, at most one dot away, resembles, in either direction; and those in an even area
    that has another shade there."""
    width, height, _ = one
    a, b = (numpy.frombuffer(page[2], numpy.uint8, width * height).reshape(height, width).astype(numpy.int16) for page in (one, other))

    def around(page, extreme):
        edged = numpy.pad(page, 1, mode="edge")
        return functools.reduce(extreme, [edged[y:y + height, x:x + width] for y in range(3) for x in range(3)])

    low_a, high_a, low_b, high_b = (around(page, extreme) for page in (a, b) for extreme in (numpy.minimum, numpy.maximum))
    is_even = (high_a - low_a <= shade) & (high_b - low_b <= shade)
    unlike = (low_b - tolerance > a) | (high_b + tolerance < a) | (low_a - tolerance > b) | (high_a + tolerance < b)
    apart = (abs(a - b) > shade) & (is_even | unlike)
    return [(int(x), int(y)) for y, x in numpy.argwhere(apart)]


def everything_in(path):
    """All that a file says, as one text: parts of archives, streams of a PDF and its page texts, data in base64."""
    data = path.read_bytes()
    parts = [path.name.encode()]
    if path.suffix == ".pdf":
        parts.append(data)
        for stream in re.finditer(rb"stream\r?\n(.*?)endstream", data, re.DOTALL):
            try:
                parts.append(zlib.decompressobj().decompress(stream.group(1)))
            except zlib.error:
                pass
        parts.append(subprocess.run(["pdftotext", "-layout", str(path), "-"], check=True, capture_output=True, timeout=60).stdout)
        for hexadecimal in re.findall(rb"<([0-9A-Fa-f]{8,})>", data):
            parts.append(bytes.fromhex(hexadecimal.decode()[:len(hexadecimal) // 2 * 2]))
    else:
        unpack(data, parts)
    text = "\n".join(part.decode("utf-8", "replace") for part in parts)
    text += "\n".join(part.decode("utf-16-be", "replace") + part.decode("utf-16-le", "replace") for part in parts if b"\0" in part)
    return text


def unpack(data, parts):
    if not zipfile.is_zipfile(io.BytesIO(data)):
        parts.append(data)
        for encoded in re.findall(rb">\s*([A-Za-z0-9+/=\s]{200,})<", data):
            try:
                parts.append(base64.b64decode(encoded))
            except ValueError:
                pass
        return
    with zipfile.ZipFile(io.BytesIO(data)) as archive:
        for name in archive.namelist():
            parts.append(name.encode())
            unpack(archive.read(name), parts)
