# SPDX-License-Identifier: Apache-2.0
"""Fewer column elements in a flat spreadsheet.

Calc writes neighbouring columns as one element only where their width and their most frequent cell style agree. Reading, it
lays all 16,384 columns out anew for each element, so that columns of equal width are better one element: then a cell of
another style than its element's names it.
"""

import itertools
import re

CHARTS = re.compile(r"<table:shapes>.*?</table:shapes>", re.DOTALL)  # a chart carries tables of its own
TABLE = re.compile(r"<table:table .*?</table:table>", re.DOTALL)
COLUMNS = re.compile(r"(?:\s*<table:table-column [^>]*/>)+")
COLUMN = re.compile(r"<table:table-column ([^>]*)/>")
ROW = re.compile(r"<table:table-row.*?</table:table-row>", re.DOTALL)
CELL = re.compile(r"<(table:(?:covered-)?table-cell)([^>]*?)(/>|>.*?</\1>)", re.DOTALL)
ATTRIBUTE = re.compile(r'([\w:-]+)="([^"]*)"')
STYLE, REPEATED = "table:style-name", "table:number-columns-repeated"
DEFAULT = "table:default-cell-style-name"


def runs(items):
    """[(item, how many times in a row)]"""
    return [(item, len(list(same))) for item, same in itertools.groupby(items)]


def tag(attributes, style, count):
    """The attributes with this style and this number of repetitions; a style of None is left out."""
    rest = [(name, value) for name, value in attributes if name not in (STYLE, REPEATED)]
    first = [(STYLE, style)] if style else []
    times = [(REPEATED, str(count))] if count > 1 else []
    return "".join(' %s="%s"' % pair for pair in first + times + rest)


def join_table(match):
    text = match.group()
    columns = COLUMNS.search(text)
    old = []  # of each column: the attributes but the style of its cells, and this style
    for element in COLUMN.finditer(columns.group()):
        attributes = dict(ATTRIBUTE.findall(element.group(1)))
        count, style = int(attributes.pop(REPEATED, 1)), attributes.pop(DEFAULT)
        old += [(tuple(attributes.items()), style)] * count
    elements, new = [], []  # new: of each column the style that its cells have unless they name another
    begin = 0
    for attributes, count in runs(attributes for attributes, style in old):
        styles = [style for _, style in old[begin:begin + count]]
        most = max(styles, key=styles.count)
        new += [most] * count
        begin += count
        shape = dict(attributes)[STYLE]
        others = [pair for pair in attributes if pair[0] != STYLE] + [(DEFAULT, most)]
        elements.append("\n    <table:table-column%s/>" % tag(others, shape, count))
    if len(elements) == len(runs(old)):
        return text

    def name_styles(row):
        at = 0

        def name_style(cell):
            nonlocal at
            name, attributes, end = cell.groups()
            attributes = ATTRIBUTE.findall(attributes)
            count = int(dict(attributes).get(REPEATED, 1))
            first, at = at, at + count
            if STYLE in dict(attributes):
                return cell.group()
            needed = runs(None if old[i][1] == new[i] else old[i][1] for i in range(first, first + count))
            if needed == [(None, count)]:
                return cell.group()
            return "".join("<" + name + tag(attributes, style, times) + end for style, times in needed)

        return CELL.sub(name_style, row.group())

    head, body = text[:columns.start()], text[columns.end():]
    return head + "".join(elements) + ROW.sub(name_styles, body)


def join_columns(text):
    """The same spreadsheet with neighbouring columns of equal width in one element."""
    charts = CHARTS.findall(text)
    text = TABLE.sub(join_table, CHARTS.sub("<table:shapes/>", text))
    return re.sub("<table:shapes/>", lambda _: charts.pop(0), text)
