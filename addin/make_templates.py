# SPDX-License-Identifier: Apache-2.0
"""Writes the templates of the extension from the example sheets, with a private Calc that has its functions.

    make_templates.py EXTENSION PROFILE_FOLDER SHEET TEMPLATE [SHEET TEMPLATE …]
"""

import pathlib
import shutil
import sys
import tempfile

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parents[1] / "example-sheets"))
sys.dont_write_bytecode = True

from office import Office, OfficeError, property_value  # noqa: E402

TEMPLATE_FILTER = "calc8_template"


def write(office, sheet, template):
    document = office.load(sheet)
    for name in document.Sheets.ElementNames:
        for chart in document.Sheets.getByName(name).Charts:
            # A chart that stands before the sheet with its data loses touch with it while a flat file is read.
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
            for sheet, template in zip(files[::2], files[1::2]):
                write(office, sheet, template)
    finally:
        shutil.rmtree(profile, ignore_errors=True)
    return 0


if __name__ == "__main__":
    try:
        sys.exit(main())
    except OfficeError as error:
        print(error, file=sys.stderr)
        sys.exit(1)
