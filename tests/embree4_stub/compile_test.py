"""Every source that calls Embree compiles against Embree 4's interface as well, by the stand-in beside this.

Run by CTest with BOUGHLIGHT_SOURCE, BOUGHLIGHT_CXX and BOUGHLIGHT_INCLUDES (folders joined by semicolons) set.
"""

import os
import pathlib
import re
import subprocess
import unittest

SOURCE = pathlib.Path(os.environ["BOUGHLIGHT_SOURCE"])
STUB = SOURCE / "tests" / "embree4_stub"
INCLUDES = [f"-isystem{folder}" for folder in dict.fromkeys(os.environ["BOUGHLIGHT_INCLUDES"].split(";")) if folder]
EMBREE = re.compile(r"\brtc[A-Z]|\bRTC[A-Z]|\bembree::|geometry/embree\.h|geometry/tree\.h")


def compile_source(*arguments, text=None):
    return subprocess.run(
        [os.environ["BOUGHLIGHT_CXX"], "-std=c++20", "-fsyntax-only", "-Wall", "-Wextra", "-Werror", f"-I{STUB}",
         f"-I{SOURCE / 'engine'}", f"-I{SOURCE / 'tests'}", *INCLUDES, *map(str, arguments)],
        input=text, text=True, capture_output=True)


class Embree4(unittest.TestCase):
    def test_every_source_that_calls_it_compiles(self):
        sources = [file for room in [SOURCE / "engine", SOURCE / "tests", SOURCE / "cli"]
                   for file in sorted(room.rglob("*.cpp")) if EMBREE.search(file.read_text())]
        names = {file.name for file in sources}
        self.assertLessEqual({"tree.cpp", "world.cpp"}, names)
        for file in sources:
            done = compile_source(file)
            self.assertEqual(done.returncode, 0, f"{file}\n{done.stderr}")

    def test_it_is_the_branch_for_4_that_is_compiled_and_calls_of_3_do_not(self):
        include = "#include \"geometry/embree.h\"\nstatic_assert(BOUGHLIGHT_EMBREE == 4);\n"
        good = compile_source("-xc++", "-", text=include)
        self.assertEqual(good.returncode, 0, good.stderr)
        old = "void f(RTCScene s, RTCRay* r) { RTCIntersectContext c; rtcOccluded1(s, &c, r); }\n"
        self.assertNotEqual(compile_source("-xc++", "-", text=include + old).returncode, 0)


if __name__ == "__main__":
    unittest.main()
