# SPDX-License-Identifier: Apache-2.0
"""A private headless Calc with the extension: its own profile, its own process, never the user's.

    with Office(profile, extension) as office:
        document = office.load("sheet.fods")

Runs with the system's Python and python3-uno. Everything waits with a time limit, and only the process started here
is ever ended.
"""

import ctypes
import hashlib
import locale
import os
import pathlib
import re
import signal
import subprocess
import threading
import time
import uuid

import uno
import unohelper
from com.sun.star.beans import NamedValue, PropertyValue
from com.sun.star.connection import NoConnectException
from com.sun.star.lang import DisposedException
from com.sun.star.task import XInteractionHandler
from com.sun.star.ucb import XCommandEnvironment

FOLDER = pathlib.Path(os.environ.get("PULLSHEET_OFFICE", "/usr/lib/libreoffice"))
PROGRAM = FOLDER / "program" / "soffice.bin"

# The exit code with which the office asks to be started again.
START_AGAIN = 81

# A profile that looks as if it had been started before: no first-start work, no recovery, no tip, no update check.
SETTINGS = """<?xml version="1.0" encoding="UTF-8"?>
<oor:items xmlns:oor="http://openoffice.org/2001/registry" xmlns:xs="http://www.w3.org/2001/XMLSchema" xmlns:xsi="http://www.w3.org/2001/XMLSchema-instance">
<item oor:path="/org.openoffice.Setup/Product"><prop oor:name="ooSetupLastVersion" oor:op="fuse"><value>{version}</value></prop></item>
<item oor:path="/org.openoffice.Office.Common/Misc"><prop oor:name="FirstRun" oor:op="fuse"><value>false</value></prop></item>
<item oor:path="/org.openoffice.Office.Common/Misc"><prop oor:name="ShowTipOfTheDay" oor:op="fuse"><value>false</value></prop></item>
<item oor:path="/org.openoffice.Office.Recovery/RecoveryInfo"><prop oor:name="Enabled" oor:op="fuse"><value>false</value></prop></item>
<item oor:path="/org.openoffice.Office.Recovery/AutoSave"><prop oor:name="Enabled" oor:op="fuse"><value>false</value></prop></item>
<item oor:path="/org.openoffice.Office.Calc/Formula/Load"><prop oor:name="ODFRecalcMode" oor:op="fuse"><value>0</value></prop></item>
<item oor:path="/org.openoffice.Office.Calc/Formula/Load"><prop oor:name="OOXMLRecalcMode" oor:op="fuse"><value>0</value></prop></item>
<item oor:path="/org.openoffice.Setup/L10N"><prop oor:name="ooSetupSystemLocale" oor:op="fuse"><value>{locale}</value></prop></item>
<item oor:path="/org.openoffice.Office.Linguistic/General"><prop oor:name="UILocale" oor:op="fuse"><value>{language}</value></prop></item>
</oor:items>
"""


PR_SET_PDEATHSIG = 1


def _end_with_parent():
    """The office is ended by the system if the program that started it is killed."""
    ctypes.CDLL(None).prctl(PR_SET_PDEATHSIG, signal.SIGKILL)


def _reads_any_path():
    """Whether the locale of the environment is there and takes all letters: in another one the office finds no file whose path
    is not ASCII."""
    try:
        locale.setlocale(locale.LC_CTYPE, "")
    except locale.Error:
        return False
    return locale.nl_langinfo(locale.CODESET) == "UTF-8"


class OfficeError(RuntimeError):
    """What went wrong, in one sentence."""


def property_value(name, value):
    item = PropertyValue()
    item.Name = name
    item.Value = value
    return item


class _Approve(unohelper.Base, XInteractionHandler, XCommandEnvironment):
    """Says yes when the office asks whether to install: of its two answers, yes comes first."""

    def getInteractionHandler(self):
        return self

    def getProgressHandler(self):
        return None

    def handle(self, request):
        request.getContinuations()[0].select()


class Office:
    """`folder` is the office's installation, `libraries` a folder with libraries that it needs and the system has not,
    `bootstrap` its bootstrap variables that are to be others than in its installation, `language` that of its menus
    (that of the system if empty)."""

    def __init__(self, profile, extension=None, locale="en-GB", seconds=60, folder=FOLDER, libraries=None, bootstrap=None,
                 language="en-US"):
        self.profile = pathlib.Path(profile).resolve()
        self.extension = pathlib.Path(extension).resolve() if extension else None
        self.locale = locale
        self.seconds = seconds
        self.program = pathlib.Path(folder) / "program" / "soffice.bin"
        self.libraries = libraries
        self.bootstrap = dict(bootstrap or {})
        self.language = language
        self.process = None
        self.context = None
        self.desktop = None

    def __enter__(self):
        if not self.program.exists():
            raise OfficeError("LibreOffice is missing (%s); install libreoffice-calc." % self.program)
        if self.extension and not self.extension.exists():
            raise OfficeError("The extension %s is missing; build it first." % self.extension)
        try:
            self._prepare_profile()
            self.start()
            if self.extension and self._installed() != self._fingerprint():
                self._install()
                self.stop()
                self.start()
        except BaseException:
            self.stop()
            raise
        return self

    def __exit__(self, *_):
        self.stop()

    # The profile and the extension in it.

    def _prepare_profile(self):
        settings = self.profile / "user" / "registrymodifications.xcu"
        if not settings.exists():
            settings.parent.mkdir(parents=True, exist_ok=True)
            settings.write_text(SETTINGS.format(version=self.version(), locale=self.locale,
                                                language=self.language), encoding="utf-8")

    def version(self):
        """The version as two numbers, for example 7.4."""
        found = re.search(r"^ProductKey=.* (\d+\.\d+)$", self.program.with_name("bootstraprc").read_text(), re.MULTILINE)
        if found is None:
            raise OfficeError("The office in %s does not say its version." % self.program.parent)
        return found.group(1)

    def _record(self):
        return self.profile / "installed-extension.txt"

    def _fingerprint(self):
        return hashlib.sha256(self.extension.read_bytes()).hexdigest()

    def _installed(self):
        return self._record().read_text() if self._record().exists() else None

    def _install(self):
        self._record().unlink(missing_ok=True)
        manager = self.context.getValueByName("/singletons/com.sun.star.deployment.ExtensionManager")
        environment = _Approve()
        abort = manager.createAbortChannel()
        try:
            manager.removeExtension("pullsheet", self.extension.name, "user", abort, environment)
        except Exception:  # it was not there: what the office throws then differs between versions
            pass
        package = manager.addExtension(self.extension.as_uri(), (NamedValue("SUPPRESS_LICENSE", "1"),), "user", abort,
                                       environment)
        if package is None:
            raise OfficeError("The office did not take the extension %s." % self.extension)
        registered = package.isRegistered(abort, environment)
        if not (registered.IsPresent and registered.Value.Value):
            raise OfficeError("The extension was installed but the office did not register it.")
        self._record().write_text(self._fingerprint())

    # The process.

    def start(self):
        if in_use(self.profile):
            raise OfficeError("An office is running with the profile %s; close it first." % self.profile)
        pipe = "pullsheet-" + uuid.uuid4().hex
        command = [str(self.program), "--headless", "--invisible", "--norestore", "--nologo", "--nodefault", "--nolockcheck",
                   "-env:UserInstallation=" + self.profile.as_uri(), "--accept=pipe,name=%s;urp" % pipe]
        command += ["-env:%s=%s" % setting for setting in self.bootstrap.items()]
        self.log = open(self.profile / "office.log", "ab")
        deadline = time.monotonic() + self.seconds
        self.process = self._run(command)
        resolver = uno.getComponentContext().ServiceManager.createInstanceWithContext(
            "com.sun.star.bridge.UnoUrlResolver", uno.getComponentContext())
        url = "uno:pipe,name=%s;urp;StarOffice.ComponentContext" % pipe
        while True:
            try:
                self.context = resolver.resolve(url)
                break
            except NoConnectException:
                pass
            code = self.process.poll()
            if code == START_AGAIN:
                self.process = self._run(command)
            elif code is not None:
                raise OfficeError("LibreOffice ended with code %s before it could be reached; see %s." % (code, self.log.name))
            if time.monotonic() > deadline:
                raise OfficeError("LibreOffice did not answer within %d seconds; see %s." % (self.seconds, self.log.name))
            time.sleep(0.02)
        self.desktop = self.create("com.sun.star.frame.Desktop")

    def _run(self, command):
        environment = dict(os.environ, SAL_USE_VCLPLUGIN="svp")
        if not _reads_any_path():
            environment["LC_ALL"] = "C.UTF-8"
        if self.libraries:
            environment["LD_LIBRARY_PATH"] = "%s:%s" % (self.program.parent, self.libraries)
        return subprocess.Popen(command, stdin=subprocess.DEVNULL, stdout=self.log, stderr=self.log,
                                env=environment, preexec_fn=_end_with_parent)

    def stop(self):
        if self.process is None:
            return
        if self.desktop is not None and self.process.poll() is None:
            asked = threading.Thread(target=self._terminate, daemon=True)
            asked.start()
            asked.join(10)
        try:
            self.process.wait(10)
        except subprocess.TimeoutExpired:
            self.process.kill()
            self.process.wait(10)
        self.process = self.context = self.desktop = None
        self.log.close()

    def _terminate(self):
        try:
            self.desktop.terminate()
        except DisposedException:
            pass

    @property
    def is_alive(self):
        return self.process is not None and self.process.poll() is None

    def create(self, service):
        return self.context.ServiceManager.createInstanceWithContext(service, self.context)

    # Documents.

    def new_document(self):
        return self.desktop.loadComponentFromURL("private:factory/scalc", "_blank", 0, (property_value("Hidden", True),))

    def load(self, path):
        """Opens a sheet to be read and computed; it may be open elsewhere, and is never written back."""
        path = pathlib.Path(path).resolve()
        if not path.exists():
            raise OfficeError("The sheet %s is missing." % path)
        document = self.desktop.loadComponentFromURL(path.as_uri(), "_blank", 0,
                                                     (property_value("Hidden", True), property_value("ReadOnly", True)))
        if document is None or not document.supportsService("com.sun.star.sheet.SpreadsheetDocument"):
            raise OfficeError("%s is not a sheet that Calc can open." % path)
        return document

    FILTERS = {".ods": "calc8", ".fods": "OpenDocument Spreadsheet Flat XML", ".xlsx": "Calc MS Excel 2007 XML",
               ".pdf": "calc_pdf_Export"}

    def store(self, document, path):
        """Writes a copy in the format that the name's ending says."""
        path = pathlib.Path(path).resolve()
        path.parent.mkdir(parents=True, exist_ok=True)
        document.storeToURL(path.as_uri(), (property_value("FilterName", self.FILTERS[path.suffix]),
                                            property_value("Overwrite", True)))
        return path


def named_cells(document, name):
    """The cells behind a named range."""
    names = document.NamedRanges
    if not names.hasByName(name):
        raise OfficeError("The sheet has no named range \"%s\"." % name)
    cells = names.getByName(name).getReferredCells()
    if cells is None:
        raise OfficeError("The named range \"%s\" does not point at cells." % name)
    return cells


def shown(cells):
    """What the cells of a range show, as rows of texts."""
    return [[cells.getCellByPosition(column, row).String for column in range(cells.Columns.Count)]
            for row in range(cells.Rows.Count)]


def in_use(profile):
    """True if an office runs with this profile. A second one would only pass its arguments on to it."""
    setting = b"-env:UserInstallation=" + pathlib.Path(profile).resolve().as_uri().encode()
    for command in pathlib.Path("/proc").glob("[0-9]*/cmdline"):
        try:
            if setting in command.read_bytes().split(b"\0"):
                return True
        except OSError:  # it ended meanwhile, or is not ours to look at
            continue
    return False


def show_sheet(path, profile, extension):
    """Opens a sheet in a window of Calc with the extension in `profile`, and does not wait for it."""
    profile = pathlib.Path(profile).resolve()
    if not in_use(profile):
        with Office(profile, extension, language=""):
            pass
    subprocess.Popen([str(PROGRAM.with_name("soffice")), "--norestore", "--nologo",
                      "-env:UserInstallation=" + profile.as_uri(), "--calc", str(path)],
                     stdin=subprocess.DEVNULL, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL, start_new_session=True)
