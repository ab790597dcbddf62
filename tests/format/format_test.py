"""Every C++ file is as clang-format lays it out by .clang-format.

Run by CTest with BOUGHLIGHT_SOURCE set. The version is Debian 12's: another one lays out otherwise.
"""

import os
import pathlib
import subprocess
import unittest

SOURCE = pathlib.Path(os.environ["BOUGHLIGHT_SOURCE"])
FORMATTER = "clang-format-14"


class Format(unittest.TestCase):
    def test_every_file_is_laid_out(self):
        files = sorted(file for room in ("engine", "cli", "tests") for ending in ("*.cpp", "*.h")
                       for file in (SOURCE / room).rglob(ending) if "node_modules" not in file.parts)
        self.assertGreater(len(files), 500)
        run = subprocess.run([FORMATTER, "--dry-run", "--Werror", "--ferror-limit=1", *files], capture_output=True, text=True)
        self.assertEqual(run.returncode, 0, run.stderr[:3000])


if __name__ == "__main__":
    unittest.main()
