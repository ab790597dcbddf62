"""What is installed works from wherever it lies, other programs can use it, and its Debian packages come and go whole.

Run by CTest, one class at a time, with BOUGHLIGHT_BUILD, BOUGHLIGHT_SOURCE and BOUGHLIGHT_CXX set.
"""

import json
import os
import pathlib
import re
import shutil
import subprocess
import tempfile
import time
import unittest

BUILD = pathlib.Path(os.environ["BOUGHLIGHT_BUILD"])
SOURCE = pathlib.Path(os.environ["BOUGHLIGHT_SOURCE"])
ENVIRONMENT = {name: value for name, value in os.environ.items() if not name.startswith("BOUGHLIGHT_")}

# Small and quick: what is surveyed here is only to be the same everywhere.
COARSE = "survey: {spacing: 12, tolerance: 10 %, seed: 1}"


def run(*command, codes=(0,), **options):
    done = subprocess.run([str(word) for word in command], env=ENVIRONMENT, text=True, capture_output=True, **options)
    if done.returncode not in codes:
        raise AssertionError(f"{command} ended with {done.returncode}\n{done.stdout}\n{done.stderr}")
    return done.stdout


def coarse_scene(scenes, lamp="tube-uv-55-mild"):
    """A coarse scene beside the demo's own, under another lamp if asked."""
    text = (scenes / "small-shelf.yaml").read_text()
    text, changed = re.subn(r"^survey: .*$", COARSE, text, flags=re.MULTILINE)
    assert changed == 1 and "tube-uv-55-mild" in text
    scene = scenes / "coarse.yaml"
    scene.write_text(text.replace("tube-uv-55-mild", lamp))
    return scene


def readings_of(program, scene, folder):
    """The figures of a survey; a want of the scene that is not met (exit code 1) is no matter here."""
    run(program, "survey", scene, "-o", folder, "--quiet", codes=(0, 1))
    return json.loads((folder / "readings.json").read_text())


class Installed(unittest.TestCase):
    def setUp(self):
        self.folder = pathlib.Path(tempfile.mkdtemp(prefix="boughlight-"))
        self.addCleanup(shutil.rmtree, self.folder)
        first = self.folder / "first"
        run("cmake", "--install", BUILD, "--prefix", first)
        # It must not matter where it was installed to.
        self.prefix = self.folder / "moved elsewhere"
        first.rename(self.prefix)
        self.program = self.prefix / "bin" / "boughlight"
        self.share = self.prefix / "share"

    def add_own_lamp(self):
        """A lamp that no other library of fixtures has."""
        lamps = self.share / "boughlight" / "fixtures" / "lamps"
        shutil.copy(lamps / "tube-uv-55-mild.yaml", lamps / "only-here.yaml")


class Prefix(Installed):
    def test_everything_is_there_and_works_where_it_was_moved_to(self):
        for file in ["man/man1/boughlight.1", "man/man5/boughlight-scene.5", "man/man5/boughlight-fixture.5",
                     "man/man5/boughlight-material.5", "man/man7/boughlight-quantities.7",
                     "bash-completion/completions/boughlight", "zsh/site-functions/_boughlight",
                     "fish/vendor_completions.d/boughlight.fish", "doc/boughlight/copyright",
                     "doc/boughlight/README.md", "doc/boughlight/cli/guides/first-enclosure.md",
                     "doc/boughlight/cli/reference/scene.md", "doc/boughlight/scenes/demo-map.png"]:
            self.assertGreater((self.share / file).stat().st_size, 500, file)
        self.add_own_lamp()
        self.assertIn("only-here", run(self.program, "library"))
        for scene in sorted((self.share / "boughlight" / "scenes").glob("*.yaml")):
            run(self.program, "check", scene)

    def test_an_installed_header_names_no_library_that_it_should_not(self):
        headers = list((self.prefix / "include" / "boughlight").rglob("*.h"))
        self.assertGreater(len(headers), 20)
        for header in headers:
            for hidden in ["yaml-cpp", "tiny_obj", "embree", "rtcore", "nlohmann/json.hpp", "pugi", "nlopt", "CLI/"]:
                self.assertNotRegex(header.read_text(), rf"#include [<\"]{re.escape(hidden)}", header)


class ConsumerSlow(Installed):
    def test_a_program_of_others_finds_the_same_figures(self):
        self.add_own_lamp()
        scene = coarse_scene(self.share / "boughlight" / "scenes", "only-here")
        build = self.folder / "consumer"
        run("cmake", "-S", SOURCE / "tests" / "consumer", "-B", build, "-G", "Ninja", "-DCMAKE_BUILD_TYPE=Release",
            f"-DCMAKE_CXX_COMPILER={os.environ['BOUGHLIGHT_CXX']}", f"-DCMAKE_PREFIX_PATH={self.prefix}")
        run("cmake", "--build", build)
        printed = [line.split("\t") for line in run(build / "consumer", scene, "0.1", self.folder).splitlines()]

        expected = readings_of(self.program, scene, self.folder / "by program")
        written = json.loads((self.folder / "readings.json").read_text())
        self.assertEqual(written, expected)
        uvi = {reading["name"]: reading["values"]["uvi"] for reading in expected["readings"]}
        self.assertEqual({name: float(value) for kind, name, value, *_ in printed if kind == "survey"},
                         {name: figure["value"] for name, figure in uvi.items()})

        # A sensor of its own at the first reading: other random numbers, so the same within both errors (5 of them).
        figures = {row[0]: (float(row[1]), float(row[2])) for row in printed if row[0] != "survey"}
        survey = uvi[expected["readings"][0]["name"]]
        value, error = figures["traced"]
        self.assertLess(abs(value - survey["value"]), 5 * (error**2 + survey["se"]**2) ** 0.5)
        # Light is linear in the lamp; what is left without it is the room's. Printed to six digits.
        off = figures["off"][0]
        self.assertGreater(off, 0)
        self.assertLess(off, 0.02 * value)
        self.assertAlmostEqual(figures["dimmed"][0], 0.5 * (value + off), delta=1e-5 * value)

        # What the pages of the interface show runs as it stands.
        (self.folder / "my-cage.yaml").write_text(scene.read_text())
        shown = run(build / "example", cwd=self.folder)
        for name, figure in uvi.items():
            self.assertIn(f"{name}: UV index {figure['value']:.2f}\n", shown)
        self.assertRegex(shown, r"there: UV index [0-9.]+, with all lamps off 0[.]0")
        self.assertEqual(json.loads((self.folder / "my-cage" / "readings.json").read_text())["readings"], expected["readings"])


class PackageSlow(unittest.TestCase):
    """As root with the system's own dpkg; else into a folder, with a copy of the system's list of packages."""

    def setUp(self):
        self.folder = pathlib.Path(tempfile.mkdtemp(prefix="boughlight-"))
        self.addCleanup(shutil.rmtree, self.folder)
        self.dpkg = ["dpkg", f"--log={self.folder}/log"]
        there = subprocess.run(["dpkg-query", "-W", "boughlight", "boughlight-dev"], capture_output=True).stdout
        if os.geteuid() == 0 and not there:
            self.root = pathlib.Path("/")
            self.addCleanup(self.ask_dpkg, "-P", "boughlight-dev", "boughlight")
        else:
            self.root = self.folder / "root"
            state = self.root / "var" / "lib" / "dpkg"
            for name in ["info", "updates", "triggers"]:
                (state / name).mkdir(parents=True)
            status = pathlib.Path("/var/lib/dpkg/status").read_text()
            (state / "status").write_text(re.sub(r"Package: boughlight(-dev)?\n(.+\n)*\n", "", status))
            self.dpkg += ["--force-not-root", "--force-script-chrootless", f"--root={self.root}"]

    def ask_dpkg(self, *arguments):
        # Somebody else's installation may be going on.
        for attempt in range(60):
            done = subprocess.run([*self.dpkg, *map(str, arguments)], env=ENVIRONMENT, text=True, capture_output=True)
            if done.returncode == 0 or "lock" not in done.stderr:
                break
            time.sleep(2)
        self.assertEqual(done.returncode, 0, done.stderr)
        return done.stdout

    def test_it_installs_runs_the_demo_and_leaves_nothing(self):
        run("cpack", "-G", "DEB", "--config", BUILD / "CPackConfig.cmake", "-B", self.folder)
        packages = sorted(self.folder.glob("*.deb"), key=lambda package: package.name.split("_"))
        self.assertEqual([package.name.split("_")[0] for package in packages], ["boughlight", "boughlight-dev"])
        needs = run("dpkg-deb", "-f", packages[0], "Depends")
        for library in ["libembree", "libtbb", "libyaml-cpp", "libc6"]:
            self.assertIn(library, needs)
        files = [self.root / line.split(None, 5)[5].lstrip("./")
                 for package in packages for line in run("dpkg-deb", "-c", package).splitlines()]
        before = {file for file in files if file.exists()}
        self.assertFalse([file for file in before if not file.is_dir()])

        self.ask_dpkg("-i", *packages)
        self.assertFalse([file for file in files if not file.exists()])
        program = self.root / "usr" / "bin" / "boughlight"
        scenes = self.folder / "scenes"
        shutil.copytree(self.root / "usr" / "share" / "boughlight" / "scenes", scenes)
        scene = coarse_scene(scenes)
        self.assertEqual(readings_of(program, scene, self.folder / "installed"),
                         readings_of(BUILD / "boughlight", scene, self.folder / "built"))
        # The demo as it comes: all its wants are met.
        run(program, "survey", scenes / "fern-tower.yaml", "-o", self.folder / "demo", "--quiet")
        self.assertGreater((self.folder / "demo" / "report.html").stat().st_size, 500_000)

        self.ask_dpkg("-P", "boughlight-dev", "boughlight")
        self.assertEqual({file for file in files if file.exists()}, before)
        self.assertEqual(list((self.root / "var" / "lib" / "dpkg" / "info").glob("boughlight*")), [])


if __name__ == "__main__":
    unittest.main()
