# SPDX-License-Identifier: Apache-2.0
"""What was not tested, and why; how far the fuzz targets came. Read from what ctest wrote with --output-junit.

    remarks.py FILE
"""

import pathlib
import re
import sys
import xml.etree.ElementTree as ElementTree

GTEST_REASON = re.compile(r": Skipped\n(.+)\n")
UNITTEST_REASON = re.compile(r"^(?:(\w+) \(.*\)(?:\n.*)? \.\.\. )?skipped (['\"])(.*)\2$", re.MULTILINE)
FUZZ = re.compile(r"^\w+: \d+ executions, .* a second.*$", re.MULTILINE)


def remarks(report):
    """One line each, from the text of the file."""
    for case in ElementTree.fromstring(report).iter("testcase"):
        name, said = case.get("name"), case.findtext("system-out") or ""
        parts = [(part, reason) for part, _, reason in UNITTEST_REASON.findall(said)]
        if case.find("skipped") is not None:
            reason = GTEST_REASON.search(said)
            lines = said.strip().splitlines() or ["it says no reason"]
            yield "skipped: %s: %s" % (name, reason.group(1) if reason else lines[-1])
        else:
            for part, reason in parts:
                yield "skipped: %s: %s" % (".".join(filter(None, (name, part))), reason)
        for line in FUZZ.findall(said):
            yield "fuzz: " + line


if __name__ == "__main__":
    path = pathlib.Path(sys.argv[1])
    if path.exists():
        print(*remarks(path.read_text(encoding="utf-8", errors="replace")), sep="\n", end="\n")
