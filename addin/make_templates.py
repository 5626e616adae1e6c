# SPDX-License-Identifier: Apache-2.0
"""Writes the templates of the extension from the example sheets, with a private Calc that has its functions.

    make_templates.py EXTENSION PROFILE_FOLDER SHEET CATALOGUE TEMPLATE [SHEET CATALOGUE TEMPLATE …]

CATALOGUE is the gettext file with the texts of the template's language, or "-" for the language of the sheet.
"""

import pathlib
import shutil
import sys
import tempfile

SHEETS = pathlib.Path(__file__).resolve().parents[1] / "example-sheets"
sys.path[:0] = [str(SHEETS), str(SHEETS / "make")]
sys.dont_write_bytecode = True

from office import Office, OfficeError, property_value  # noqa: E402
from texts import Sheet, read_catalogue  # noqa: E402

COUNTRIES = {"de": "DE"}  # whose decimal sign and dates a language takes
TEMPLATE_FILTER = "calc8_template"


def write(office, sheet, catalogue, template, folder):
    renamed = []
    if catalogue.name != "-":
        translated = Sheet(sheet)
        renamed = translated.translate(read_catalogue(catalogue), catalogue.stem, COUNTRIES[catalogue.stem])
        sheet = folder / sheet.name
        translated.write(sheet)
        document = office.desktop.loadComponentFromURL(sheet.resolve().as_uri(), "_blank", 0, (property_value("Hidden", True),))
    else:
        document = office.load(sheet)
    for old, new in renamed:
        document.Sheets.getByName(old).setName(new)
    if renamed:
        # Another language takes more lines of the first sheet's prose.
        document.Sheets.getByIndex(0).getCellRangeByName("A7:B60").Rows.OptimalHeight = True
    for name in document.Sheets.ElementNames:
        for chart in document.Sheets.getByName(name).Charts:
            # A chart placed before the sheet with its data loses the reference while a flat file is read.
            if chart.EmbeddedObject.hasInternalDataProvider():
                raise OfficeError("%s: a chart on the sheet %s does not follow its cells; its data must stand on a sheet before it."
                                  % (sheet, name))
    template.parent.mkdir(parents=True, exist_ok=True)
    document.storeToURL(template.resolve().as_uri(), (property_value("FilterName", TEMPLATE_FILTER), property_value("Overwrite", True)))
    document.close(True)


def main():
    extension, profiles, *files = [pathlib.Path(argument) for argument in sys.argv[1:]]
    profiles.mkdir(parents=True, exist_ok=True)
    profile = tempfile.mkdtemp(dir=profiles)
    try:
        with Office(profile, extension, seconds=120) as office:
            for sheet, catalogue, template in zip(files[::3], files[1::3], files[2::3]):
                write(office, sheet, catalogue, template, pathlib.Path(profile))
    finally:
        shutil.rmtree(profile, ignore_errors=True)
    return 0


if __name__ == "__main__":
    try:
        sys.exit(main())
    except OfficeError as error:
        print(error, file=sys.stderr)
        sys.exit(1)
