# SPDX-License-Identifier: Apache-2.0
"""The packages as people get them: their contents, lintian, installing into a private root, Calc with the extension as a
part of the office, the command, and removing without a trace."""

import os
import pathlib
import re
import shutil
import subprocess
import tempfile
import sys
import tarfile
import unittest
import zipfile

ROOT = pathlib.Path(__file__).resolve().parents[2]
BUILD = pathlib.Path(os.environ.get("PULLSHEET_BUILD", ROOT / "build"))
sys.path.insert(0, str(ROOT / "example-sheets"))

from office import Office  # noqa: E402

EXTENSION = "usr/lib/libreoffice/share/extensions/pullsheet"
DOC = "usr/share/doc/pullsheet"
HAS_GUIDE = (ROOT / "harness" / "guide").exists()


def run(*command, **options):
    return subprocess.run([str(word) for word in command], check=True, capture_output=True, text=True, timeout=300, **options).stdout


class Packages(unittest.TestCase):
    @classmethod
    def setUpClass(cls):
        cls.folder = BUILD / "package-tests"
        shutil.rmtree(cls.folder, ignore_errors=True)
        cls.folder.mkdir(parents=True)
        run("cpack", "--config", BUILD / "CPackConfig.cmake", "-B", cls.folder / "packages")
        (cls.deb,) = (cls.folder / "packages").glob("*.deb")
        (cls.archive,) = (cls.folder / "packages").glob("*.tar.gz")
        cls.unpacked = cls.folder / "unpacked"
        run("dpkg-deb", "--extract", cls.deb, cls.unpacked)

    def control(self, field):
        return run("dpkg-deb", "--field", self.deb, field).strip()

    def test_control(self):
        self.assertEqual(self.control("Package"), "pullsheet")
        self.assertRegex(self.control("Version"), r"^\d+\.\d+\.\d+-\d+$")
        depends = self.control("Depends")
        for needed in ("libreoffice-calc (>= 4:7.4)", "libc6", "libstdc++6", "libuno-cppu3", "libuno-sal3"):
            self.assertIn(needed, depends)
        self.assertTrue(self.control("Description").startswith("engine, fuel and road maths"))

    def test_contents(self):
        wanted = ["usr/bin/pullsheet", EXTENSION + "/description.xml", EXTENSION + "/CalcAddIns.xcu", EXTENSION + "/pullsheet.rdb",
                  EXTENSION + "/Linux_x86_64/pullsheet.uno.so", DOC + "/copyright", DOC + "/changelog.Debian.gz",
                  DOC + "/changelog.gz", DOC + "/README.md", DOC + "/examples/customer-quote.fods"]
        if HAS_GUIDE:
            wanted += ["usr/share/man/man1/pullsheet.1.gz", "usr/share/bash-completion/completions/pullsheet",
                       "usr/share/zsh/vendor-completions/_pullsheet", DOC + "/html/index.html"]
        for path in wanted:
            self.assertTrue((self.unpacked / path).is_file(), path)

    def test_the_extension_is_the_one_of_the_oxt(self):
        run("unzip", "-q", BUILD / "addin" / "pullsheet.oxt", "-d", self.folder / "oxt")
        names = {path.relative_to(self.folder / "oxt") for path in (self.folder / "oxt").rglob("*") if path.is_file()}
        extension = self.unpacked / EXTENSION
        self.assertEqual({path.relative_to(extension) for path in extension.rglob("*") if path.is_file()}, names)
        for name in names:
            if name.suffix != ".so":  # stripped in the package
                self.assertEqual((extension / name).read_bytes(), (self.folder / "oxt" / name).read_bytes(), name)

    def test_the_licences_of_what_is_linked_in(self):
        """The licence of pugixml asks for its notice in every copy; where the header ends, it says it."""
        header = pathlib.Path("/usr/include/pugixml.hpp").read_text(encoding="utf-8")
        comment = re.sub(r"^ \*/? ?", "", header[header.rindex("/**") + 4:], flags=re.MULTILINE)
        owner, permission = " ".join(comment.split()).split(" Permission is hereby granted", 1)
        with zipfile.ZipFile(BUILD / "addin" / "pullsheet.oxt") as oxt:
            notices = [oxt.read("NOTICE").decode()]
        notices.append((self.unpacked / EXTENSION / "NOTICE").read_text(encoding="utf-8"))
        notices.append(re.sub(r"^ \.$", "", (self.unpacked / DOC / "copyright").read_text(encoding="utf-8"), flags=re.MULTILINE))
        for notice in notices:
            said = " ".join(notice.split())
            self.assertIn(owner.split(")")[-1].strip(), said)
            self.assertIn("Permission is hereby granted" + permission, said)
            for other in ("Niels Lohmann", "University of Cincinnati", "Redistribution and use in source and binary forms", "https://eigen.tuxfamily.org"):
                self.assertIn(other, said)

    def test_permissions(self):
        for line in run("dpkg-deb", "--contents", self.deb).splitlines():
            mode, owner = line.split()[:2]
            self.assertEqual(owner, "root/root", line)
            executable = "usr/bin/" in line or "usr/libexec/" in line
            wanted = "drwxr-xr-x" if mode[0] == "d" else "lrwxrwxrwx" if mode[0] == "l" else "-rwxr-xr-x" if executable else "-rw-r--r--"
            self.assertEqual(mode, wanted, line)

    def test_no_path_of_the_build_machine(self):
        for path in self.unpacked.rglob("*"):
            if path.is_file():
                self.assertNotIn(str(ROOT).encode(), path.read_bytes(), path)

    def test_lintian(self):
        unwritten = [] if HAS_GUIDE else ["--suppress-tags", "no-manual-page"]
        # lintian does not read back what it unpacked where the path has a letter that is not ASCII: it gets the folder by another name.
        folder = os.open(tempfile.gettempdir(), os.O_RDONLY | os.O_DIRECTORY)
        self.addCleanup(os.close, folder)
        complaints = subprocess.run(["lintian", "--pedantic", "--display-info", "--fail-on", "error,warning", *unwritten,
                                     str(self.deb)], capture_output=True, text=True, timeout=300,
                                    env=dict(os.environ, TMPDIR="/proc/%d/fd/%d" % (os.getpid(), folder)))
        print(complaints.stdout, end="")
        self.assertEqual(complaints.returncode, 0, complaints.stdout + complaints.stderr)

    def test_archive(self):
        with tarfile.open(self.archive) as archive:
            names = archive.getnames()
        top = {name.split("/")[0] for name in names}
        self.assertEqual(len(top), 1)
        self.assertTrue(any(name.endswith("/usr/share/pullsheet/pullsheet.oxt") for name in names))
        self.assertTrue(any(name.endswith("/usr/bin/pullsheet") for name in names))

    def test_install_use_and_remove(self):
        root = self.folder / "root"
        for folder in ("info", "updates", "triggers"):
            (root / "var/lib/dpkg" / folder).mkdir(parents=True)
        (root / "var/lib/dpkg/status").touch()
        # Whatever the machine's own settings leave out, here nothing is left out.
        dpkg = ["dpkg", "--root=%s" % root, "--force-not-root", "--force-bad-path", "--path-include=*"]
        if os.getuid() != 0:
            dpkg.insert(0, "fakeroot")
        run(*dpkg, "--force-depends", "--install", self.deb)
        self.assertIn("install ok installed", run("dpkg-query", "--admindir", root / "var/lib/dpkg", "-s", "pullsheet"))
        files = {path.relative_to(root) for path in root.rglob("*") if path.is_file() and "var/lib/dpkg" not in str(path)}
        self.assertIn(pathlib.Path("usr/bin/pullsheet"), files)
        run("md5sum", "--quiet", "--check", root / "var/lib/dpkg/info/pullsheet.md5sums", cwd=root)

        self.assertAlmostEqual(float(run(root / "usr/bin/pullsheet", "eval", "AIR.DENSITY", "15", "101.325", "0").split()[0]),
                               1.22552134, delta=5e-6)
        for number in (1, 2):  # a profile that is new, and the same once more
            with Office(self.folder / "profile", bootstrap={"BUNDLED_EXTENSIONS": (root / EXTENSION).parent.as_uri()},
                        seconds=120) as office:
                document = office.new_document()
                cell = document.Sheets.getByIndex(0).getCellRangeByName("A1")
                cell.Formula = "=AIR.DENSITY(15;101.325;0)"
                self.assertEqual(cell.getError(), 0, "start %d: %s" % (number, cell.String))
                self.assertAlmostEqual(cell.Value, 1.22552134, delta=5e-9)  # Picard et al. 2008
                document.close(True)

        run(*dpkg, "--purge", "pullsheet")
        left = [path for path in root.rglob("*") if "var/lib/dpkg" not in str(path) and not path.is_dir()]
        self.assertEqual(left, [])
        self.assertFalse((root / EXTENSION).exists())

    def test_cmake_install(self):
        prefix = self.folder / "prefix"
        said = run("cmake", "--install", BUILD, "--prefix", prefix)
        self.assertIn("Calc does not look for extensions under %s" % prefix, said)
        self.assertTrue(run(prefix / "bin/pullsheet", "--version").strip())
        self.assertTrue((prefix / "share/pullsheet/pullsheet.oxt").is_file())
        self.assertTrue((prefix / "lib/libreoffice/share/extensions/pullsheet/Linux_x86_64/pullsheet.uno.so").is_file())


if __name__ == "__main__":
    unittest.main()
