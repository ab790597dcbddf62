"""Doxygen makes the pages of the library's interface without a warning, and they say what the headers say.

Run by CTest with BOUGHLIGHT_SOURCE set.
"""

import html
import os
import pathlib
import re
import shutil
import subprocess
import tempfile
import unittest

ENGINE = pathlib.Path(os.environ["BOUGHLIGHT_SOURCE"]) / "engine"
DOXYFILE = (ENGINE / "Doxyfile").read_text()


def headers_reached():
    """boughlight.h and every header that it leads to."""
    waiting, found = ["boughlight.h"], set()
    while waiting:
        header = waiting.pop()
        if header not in found:
            found.add(header)
            waiting += re.findall(r'^#include "(.*)"', (ENGINE / header).read_text(), flags=re.MULTILINE)
    return found


class Pages(unittest.TestCase):
    def setUp(self):
        self.folder = pathlib.Path(tempfile.mkdtemp(prefix="boughlight-"))
        self.addCleanup(shutil.rmtree, self.folder)

    def doxygen(self, more=""):
        return subprocess.run(["doxygen", "-"], cwd=ENGINE, text=True, capture_output=True,
                              input=f"{DOXYFILE}\nOUTPUT_DIRECTORY = {self.folder}\n{more}\n")

    def page(self, name):
        return html.unescape(re.sub(r"<[^>]+>", "", (self.folder / "html" / name).read_text()))

    def test_are_made_without_a_warning_from_every_public_header(self):
        listed = re.search(r"^INPUT += ((?:.*\\\n)*.*)$", DOXYFILE, flags=re.MULTILINE)[1].replace("\\\n", " ").split()
        self.assertEqual(set(listed), headers_reached())
        done = self.doxygen()
        self.assertEqual((done.returncode, done.stderr), (0, ""))
        # Plain comments have become the pages' text: of a file, a function, a member and what stands behind it.
        self.assertIn("traces every receiver, judges every want", self.page("survey_8h.html"))
        self.assertIn("Throws InputError with all mistakes of the file", self.page("load_8h.html"))
        self.assertIn("the sensor's outward normal", self.page("structboughlight_1_1Reading.html"))
        self.assertIn("no ray is traced", self.page("classboughlight_1_1SensorTracer.html"))
        self.assertIn("find_package(boughlight)", self.page("index.html"))
        # The example is a program that tests/install builds and runs.
        self.assertIn('boughlight::load_scene("my-cage.yaml")', self.page("index.html"))

    def test_a_warning_is_an_error(self):
        wrong = self.folder / "wrong.h"
        wrong.write_text("/// @file\n/// Wrong.\n\n/// Does.\n/// @param there is none\nint f(int given);\n")
        self.assertNotEqual(self.doxygen(f"INPUT = {wrong}").returncode, 0)


if __name__ == "__main__":
    unittest.main()
