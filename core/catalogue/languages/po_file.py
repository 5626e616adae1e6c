# SPDX-License-Identifier: Apache-2.0
"""A text catalogue of a language (gettext), kept in line with the texts that it is for."""

import polib

WRAP = 118


def update(path, header, entries):
    """Writes the catalogue anew: of the entries, without a translation, those that it had before get theirs back; others that
    it had are dropped. Says what has changed."""
    old = {entry.msgid: entry.msgstr for entry in polib.pofile(str(path), encoding="utf-8")} if path.exists() else {}
    catalogue = polib.POFile(wrapwidth=WRAP)
    catalogue.header = header
    catalogue.metadata = {"Project-Id-Version": "pullsheet", "Language": path.stem, "MIME-Version": "1.0",
                          "Content-Type": "text/plain; charset=UTF-8", "Content-Transfer-Encoding": "8bit"}
    for entry in entries:
        entry.msgstr = old.get(entry.msgid, "")
        catalogue.append(entry)
    catalogue.save(str(path))
    new = {entry.msgid for entry in catalogue}
    print("%s: %d texts, %d new, %d dropped, %d to translate"
          % (path.name, len(new), len(new - old.keys()), len(old.keys() - new), sum(1 for entry in catalogue if not entry.msgstr)))
