# SPDX-License-Identifier: Apache-2.0
"""The texts of an example sheet that a reader sees, and the sheet in another language.

Works on the flat file. Not translated: a text that a formula, a condition or a list of choices reads (block labels, choices,
units, heads of tables), names of functions and of ranges, numbers.
"""

import collections
import re
import xml.etree.ElementTree as ElementTree

import polib

SPACES = {
    "office": "urn:oasis:names:tc:opendocument:xmlns:office:1.0",
    "table": "urn:oasis:names:tc:opendocument:xmlns:table:1.0",
    "text": "urn:oasis:names:tc:opendocument:xmlns:text:1.0",
    "style": "urn:oasis:names:tc:opendocument:xmlns:style:1.0",
    "chart": "urn:oasis:names:tc:opendocument:xmlns:chart:1.0",
    "calcext": "urn:org:documentfoundation:names:experimental:calc:xmlns:calcext:1.0",
    "dc": "http://purl.org/dc/elements/1.1/",
    "fo": "urn:oasis:names:tc:opendocument:xmlns:xsl-fo-compatible:1.0",
    "number": "urn:oasis:names:tc:opendocument:xmlns:datastyle:1.0",
}
WORD = re.compile(r"[a-z]{3}|[A-Z][a-z]|\b(at|by|in|of|on|to)\b|\d\.\d")  # not a unit
STRING = re.compile(r'"((?:[^"]|"")*)"')
REFERENCE = re.compile(r"\[((?:\$?'(?:[^']|'')*'|\$?[^.:\[\]']*)?)\.\$?([A-Z]+)\$?(\d+)(?::((?:\$?'[^']*'|[^.\]]*)?)\.\$?([A-Z]+)\$?(\d+))?\]")
NAME = re.compile(r"(?<![\w.$])[a-z_][a-z0-9_]*(?![\w.(])")
# The parts of a formula that matter here; the rest is taken a character at a time.
PART = re.compile(r'"(?:[^"]|"")*"|\[[^\]]*\]|[A-Za-z_][\w.]*\(?|<>|<=|>=|.', re.DOTALL)
# A cell of a named range by its number is a reference like any other.
ITEM = re.compile(r"INDEX\([a-z_][a-z0-9_]*;[0-9]+(?:;[0-9]+)?\)")
# What these are given is their answer, as it is; IF has a condition before.
SHOWING = {"", "IF", "IFERROR", "IFNA", "CONCATENATE"}
# To these one text is as good as another.
COUNTING = {"COUNT", "ISNUMBER", "ISERROR", "ISTEXT", "ISBLANK", "SUM", "MIN", "MAX", "SMALL", "LARGE", "AVERAGE", "ROW", "ROWS", "COLUMNS"}
# Answers that are values, the same in every language.
VALUES = {"yes", "no", "agrees", "differs"}
# A formula that looks at how an answer begins: LEFT(…;6)="stands", COUNTIF(…;"stands*").
BEGINNING = re.compile(r'LEFT\((?:[^"()]|\([^"()]*\))*\)="([^"]+)"|"([^"]+)\*"')

# A number format with decimals in TEXT(): Calc reads it by the decimal sign of its language.
FORMAT = re.compile(r'"([+0]*0)\.(0+(?: ?%)?)"')
# Texts with numbers in them stand in the catalogue once.
PATTERNS = {
    "Allowed is {0} to {1}.": re.compile(r"Allowed is (\S+) to (\S+)\.$"),
    "Pullsheet {0}, page ": re.compile(r"Pullsheet (\S+), page $"),
}


def numbers_apart(text):
    """The text as the catalogue has it, and the numbers to put into it."""
    for pattern, expression in PATTERNS.items():
        if match := expression.match(text):
            return pattern, match.groups()
    return text, ()


Part = collections.namedtuple("Part", "text seen counted joined instead")


def parts(formula):
    """The texts, references and names in a formula: is each of them (a part of) what the cell shows, and is it joined to others
    by &? What a condition, a function or a comparison reads is not seen; a function may only count it. Does it stand
    in the place of an error?"""
    formula = ITEM.sub(lambda match: "[%s]" % match[0], formula.removeprefix("of:="))
    tokens = PART.findall(formula)
    found = []
    levels = [{"call": "", "argument": 0, "compares": False}]
    for index, token in enumerate(tokens):
        if token[0] in '"[' or re.fullmatch(r"[a-z_][a-z0-9_]*", token):
            joined = "&" in (tokens[index - 1:index] + tokens[index + 1:index + 2])
            found.append((token, list(levels), joined))
        elif token[-1] == "(" or token == "{":
            levels.append({"call": token[:-1] if token != "{" else token, "argument": 0, "compares": False})
        elif token in ")}":
            levels.pop()
        elif token == ";":
            levels[-1] = {"call": levels[-1]["call"], "argument": levels[-1]["argument"] + 1, "compares": False}
        elif token[0] in "=<>":
            levels[-1]["compares"] = True
    for token, around, joined in found:
        seen = all(level["call"] in SHOWING and not level["compares"] and (level["call"] != "IF" or level["argument"] > 0)
                   for level in around)
        yield Part(token[1:-1] if token.startswith("[INDEX(") else token, seen, around[-1]["call"] in COUNTING, joined,
                   around[-1]["call"] == "IFERROR" and around[-1]["argument"] == 1)


def texts_in(formula):
    return [(part.text[1:-1], part) for part in parts(formula) if part.text.startswith('"')]


def tag(name):
    prefix, _, local = name.partition(":")
    return "{%s}%s" % (SPACES[prefix], local)


def column_number(letters):
    number = 0
    for letter in letters:
        number = 26 * number + ord(letter) - 64
    return number - 1


def column_letters(number):
    letters = ""
    number += 1
    while number:
        number, rest = divmod(number - 1, 26)
        letters = chr(65 + rest) + letters
    return letters


class Sheet:
    """A flat file, its cells by place."""

    def __init__(self, path):
        self.spaces = {}
        with open(path, encoding="utf-8") as file:
            for _, (prefix, uri) in ElementTree.iterparse(file, events=["start-ns"]):
                ElementTree.register_namespace(prefix, uri)
                self.spaces[prefix] = uri
        self.name = path.stem
        self.tree = ElementTree.parse(path)
        self.body = self.tree.getroot().find("office:body/office:spreadsheet", SPACES)
        self.tables = self.body.findall("table:table", SPACES)
        self.cells = {}  # (sheet, column, row): cell
        for table in self.tables:
            self._walk(table)
        self.names = {each.get(tag("table:name")): each.get(tag("table:cell-range-address"))
                      for each in self.body.iter(tag("table:named-range"))}

    def _rows(self, part):
        """The rows of a table; not those of the tables that its charts hold."""
        for child in part:
            if child.tag == tag("table:table-row"):
                yield child
            elif child.tag in (tag("table:table-rows"), tag("table:table-header-rows"), tag("table:table-row-group")):
                yield from self._rows(child)

    def _walk(self, table):
        row_number = 0
        name = table.get(tag("table:name"))
        for row in self._rows(table):
            column = 0
            for cell in row:
                if cell.tag not in (tag("table:table-cell"), tag("table:covered-table-cell")):
                    continue
                repeated = int(cell.get(tag("table:number-columns-repeated"), 1))
                if len(cell):
                    for offset in range(min(repeated, 200)):
                        self.cells[name, column + offset, row_number] = cell
                column += repeated
            row_number += int(row.get(tag("table:number-rows-repeated"), 1))

    def results(self):
        """The places that an array formula fills beside its own cell."""
        places = set()
        for (sheet, column, row), cell in self.cells.items():
            if tag("table:number-matrix-columns-spanned") not in cell.attrib:
                continue
            columns = int(cell.get(tag("table:number-matrix-columns-spanned"), 1))
            rows = int(cell.get(tag("table:number-matrix-rows-spanned"), 1))
            places.update((sheet, column + right, row + down) for right in range(columns) for down in range(rows))
        return places

    def areas(self, formula, here):
        """The areas a formula reads: (sheet, first column, first row, last column, last row)."""
        bare = STRING.sub('""', formula)
        found = []
        for sheet, column, row, _, last_column, last_row in REFERENCE.findall(bare):
            sheet = sheet.strip("$'") or here
            found.append((sheet, column_number(column), int(row) - 1, column_number(last_column or column), int(last_row or row) - 1))
        for name in NAME.findall(REFERENCE.sub("", bare)):
            if name in self.names:
                address = self.names[name]
                first, _, last = address.partition(":")
                match = re.match(r"\$?'?([^.']*)'?\.\$?([A-Z]+)\$?(\d+)$", first)
                end = re.search(r"\.\$?([A-Z]+)\$?(\d+)$", last or first)
                if match and end:
                    found.append((match[1], column_number(match[2]), int(match[3]) - 1, column_number(end[1]), int(end[2]) - 1))
        return found

    def read(self):
        """The places of the cells that something computes with, be it by way of a cell that shows them."""
        places = set()
        shown = collections.defaultdict(set)  # a place: those that its formula shows

        def cells(formula, here):
            return {(sheet, column, row) for sheet, left, top, right, bottom in self.areas(formula, here)
                    for column in range(left, right + 1) for row in range(top, bottom + 1) if (sheet, column, row) in self.cells}

        for place, cell in self.cells.items():
            formula = cell.get(tag("table:formula"))
            if not formula:
                continue
            for part in parts(formula):
                if part.text.startswith('"'):
                    continue
                if part.seen:
                    shown[place] |= cells(part.text, place[0])
                elif not part.counted:
                    places |= cells(part.text, place[0])
        for validity in self.body.iter(tag("table:content-validation")):
            base = validity.get(tag("table:base-cell-address"), "").split(".")[0].strip("$'")
            places |= cells(validity.get(tag("table:condition"), ""), base)
        # What a list offers stays as it is, and so does a cell with such a list.
        listed = {validity.get(tag("table:name")) for validity in self.body.iter(tag("table:content-validation"))
                  if "cell-content-is-in-list" in validity.get(tag("table:condition"), "")}
        places.update(place for place, cell in self.cells.items() if cell.get(tag("table:content-validation-name")) in listed)
        waiting = list(places)
        while waiting:
            new = shown[waiting.pop()] - places
            places |= new
            waiting += new
        return places

    def literals(self, read_places):
        """The texts in formulas that are seen and that nothing compares or reads: [(place, its cell, text)]."""
        formulas = [(place, cell, cell.get(tag("table:formula"))) for place, cell in self.cells.items() if cell.get(tag("table:formula"))]
        read = set()
        beginnings = set()
        for _, _, formula in formulas:
            read.update(text for text, part in texts_in(formula) if not part.seen)
            beginnings.update(one or other for one, other in BEGINNING.findall(formula))
        found = []
        for place, cell, formula in formulas:
            seen = [(text, part) for text, part in texts_in(formula) if part.seen and WORD.search(text)]
            if any(text.startswith(beginning) for text, _ in seen for beginning in beginnings):
                continue  # a verdict
            found += [(place, cell, text) for text, part in seen if text not in read and (part.joined or text not in VALUES)
                      and (place not in read_places or part.instead)]  # no label that a function reads
        return found

    def texts(self):
        """(where, text, how to write another one in its place)."""
        root = self.tree.getroot()
        for element in root.findall("office:meta/*", SPACES):
            if element.tag in (tag("dc:title"), tag("dc:description"), tag("dc:subject")) and element.text:
                yield "document", element.text, lambda text, element=element: setattr(element, "text", text)
        for table in self.tables:
            yield "name of sheet", table.get(tag("table:name")), None
        read = self.read()
        fixed = read | self.results()
        done = set()
        for place, cell in self.cells.items():
            if place in fixed or id(cell) in done:
                continue
            done.add(id(cell))
            if cell.get(tag("office:value-type")) == "string" and not cell.get(tag("table:formula")):
                paragraphs = cell.findall("text:p", SPACES)
                yield self.where(place), "\n".join("".join(p.itertext()) for p in paragraphs), lambda text, cell=cell: write(cell, text)
        for place, cell, text in self.literals(read):
            def replace(translated, cell=cell, text=text):
                formula = cell.get(tag("table:formula"))
                translated = '"%s"' % translated.replace('"', '""')
                cell.set(tag("table:formula"), formula.replace('"%s"' % text, translated))
                # A look that depends on the text.
                for kind, attribute in (("calcext:condition", "calcext:value"), ("style:map", "style:condition")):
                    for condition in root.iter(tag(kind)):
                        condition.set(tag(attribute), condition.get(tag(attribute), "").replace('="%s"' % text, "=" + translated))
            yield self.where(place), text.replace('""', '"'), replace
        for kind in ("table:error-message", "table:help-message"):
            for message in self.body.iter(tag(kind)):
                yield "message at an input", "".join(message.itertext()).strip(), lambda text, message=message: write(message, text)
        for annotation in self.body.iter(tag("office:annotation")):
            yield "comment", "".join(annotation.itertext()).strip(), lambda text, annotation=annotation: write(annotation, text)
        for kind in ("chart:title", "chart:subtitle"):
            for title in self.body.iter(tag(kind)):
                yield "chart", "".join(title.itertext()).strip(), lambda text, title=title: write(title, text)
        for part in root.iter(tag("number:text")):
            if part.text:
                yield "format of a number", part.text, lambda text, part=part: setattr(part, "text", text)
        for kind in ("style:header", "style:footer"):
            for part in root.iter(tag(kind)):
                for paragraph in part.iter(tag("text:p")):
                    for element in paragraph.iter():
                        if element.text and element.tag in (tag("text:p"), tag("text:span")):
                            yield "footer", element.text, lambda text, element=element: setattr(element, "text", text)

    def where(self, place):
        return "%s.%s%d" % (place[0], column_letters(place[1]), place[2] + 1)

    def messages(self):
        """Every text to translate once: {text: places}."""
        found = {}
        for where, text, _ in self.texts():
            if WORD.search(text):
                found.setdefault(numbers_apart(text)[0], []).append("%s.fods: %s" % (self.name, where))
        return found

    def translate(self, catalogue, language, country):
        """Puts the catalogue's texts in place of the English ones, and numbers are written as the language does; returns the sheets
        to rename: [(old, new)]."""
        renamed = []
        for element in self.tree.getroot().iter():
            for prefix in ("number", "fo"):
                if element.get(tag(prefix + ":language")) == "en":
                    element.set(tag(prefix + ":language"), language)
                    element.set(tag(prefix + ":country"), country)
        for cell in self.cells.values():
            if "TEXT(" in (formula := cell.get(tag("table:formula"), "")):
                cell.set(tag("table:formula"), FORMAT.sub(r'"\1,\2"', formula))
        for where, text, put in list(self.texts()):
            pattern, numbers = numbers_apart(text)
            translated = catalogue.get(pattern)
            if translated and numbers:
                translated = translated.format(*numbers)
            if not translated:
                continue
            if put is None:
                renamed.append((text, translated))
            else:
                put(translated)
        return renamed

    def write(self, path):
        text = ElementTree.tostring(self.tree.getroot(), encoding="unicode")
        # Formulas begin with a prefix that no element has; its declaration is needed all the same.
        start, end = text.index("<office:document"), text.index(">")
        declared = text[start:end]
        missing = "".join(' xmlns:%s="%s"' % item for item in self.spaces.items() if item[0] and " xmlns:%s=" % item[0] not in declared)
        path.write_text('<?xml version="1.0" encoding="UTF-8"?>\n' + declared + missing + text[end:], encoding="utf-8")


def write(element, text):
    """Puts a text in place of the paragraphs of an element, in the style of the first."""
    paragraphs = [child for child in element if child.tag == tag("text:p")]
    style = paragraphs[0].attrib if paragraphs else {}
    position = list(element).index(paragraphs[0]) if paragraphs else len(element)
    for paragraph in paragraphs:
        element.remove(paragraph)
    for offset, line in enumerate(text.split("\n")):
        paragraph = ElementTree.Element(tag("text:p"), style)
        paragraph.text = line
        element.insert(position + offset, paragraph)


def read_catalogue(path):
    return {entry.msgid: entry.msgstr for entry in polib.pofile(str(path)) if entry.msgstr and not entry.obsolete}
