"""README, guides and reference pages: every link leads somewhere, and every command does what is said.

Run by CTest, one class at a time, with BOUGHLIGHT_PROGRAM and BOUGHLIGHT_SOURCE set.

A block ```sh is run, in the order of the page, in one folder of its own for each page; a block with a file's name behind
its language (```yaml my-tube.yaml) is written there first; the project's scenes/ lie there too. Before a block may stand
<!-- not run: why -->, or what holds of it, one or more with "; " between:
  exit codes: 0 1   what its commands may end with (0 alone, if not said)
  prints: words     what they print, white space aside
  until: FILE       its last command goes on until Ctrl-C, which comes once that file is there
"""

import os
import pathlib
import re
import shutil
import signal
import subprocess
import tempfile
import time
import unittest

PROGRAM = os.environ["BOUGHLIGHT_PROGRAM"]
SOURCE = pathlib.Path(os.environ["BOUGHLIGHT_SOURCE"])
GUIDES = [SOURCE / "README.md", *sorted((SOURCE / "cli" / "guides").glob("*.md"))]
PAGES = [*GUIDES, SOURCE / "DEVELOPERS.md", *sorted((SOURCE / "cli" / "reference").glob("*.md"))]

BLOCK = re.compile(r"(?:^<!-- (?P<note>.*?) -->\n)?^```(?P<language>\w+)?(?: (?P<file>\S+))?\n(?P<text>.*?)^```$",
                   re.MULTILINE | re.DOTALL)

# The guides' commands are those of a user with time; here the same are run roughly. What a command line says itself goes
# before.
WRAPPER = r"""#!/bin/bash
has() { local word; for word in "${words[@]}"; do [[ $word == "$1" ]] && return 0; done; return 1; }
words=("$@")
more=()
case $1 in
  survey|watch|place|window|tune|compare|fit|outlook|new)
    has --tolerance || more+=(--tolerance 20%)
    has --spacing || more+=(--spacing 15) ;;
esac
case $1 in
  place) has --step || more+=(--step 12); has --gaps || more+=(--gaps 15) ;;
  window) has --gaps || more+=(--gaps 10,20); has --depths || more+=(--depths 20,25) ;;
esac
"$PROGRAM" "$@" "${more[@]}" > "$PRINTED.$$" 2>&1
code=$?
cat "$PRINTED.$$" >> "$PRINTED"
[[ " $CODES " == *" $code "* ]] || { cat "$PRINTED.$$" >&2; echo "boughlight $*: exit code $code, not $CODES" >&2; exit 99; }
"""

# A batch scheduler that runs its tasks here, one by one: sbatch --array=1-20 SCRIPT ARGUMENTS...
SCHEDULER = r"""#!/bin/bash
tasks=${1#--array=1-}
shift
for ((i = 1; i <= tasks; ++i)); do SLURM_ARRAY_TASK_ID=$i SLURM_ARRAY_TASK_COUNT=$tasks bash "$@" || exit; done
"""


def headings(page):
    """The anchors of a page, as web sites make them of headings."""
    text = re.sub(r"^```.*?^```$", "", page.read_text(), flags=re.MULTILINE | re.DOTALL)
    names = re.findall(r"^#+ (.*)$", text, flags=re.MULTILINE)
    return {re.sub(r"[^\w\- ]", "", name.lower()).replace(" ", "-") for name in names}


class Links(unittest.TestCase):
    def test_every_link_leads_somewhere(self):
        found = 0
        for page in PAGES:
            for target in re.findall(r"\]\(([^)\s]+)\)", page.read_text()):
                if target.startswith("https://"):
                    continue
                found += 1
                file, _, anchor = target.partition("#")
                there = (page.parent / file).resolve() if file else page
                self.assertTrue(there.exists(), f"{page}: {target}")
                if anchor:
                    self.assertIn(anchor, headings(there), f"{page}: {target}")
        self.assertGreater(found, 50)

    def test_every_guide_can_be_reached_from_the_readme(self):
        readme = (SOURCE / "README.md").read_text()
        for page in [*GUIDES[1:], *sorted((SOURCE / "cli" / "reference").glob("*.md"))]:
            self.assertIn(f"({page.relative_to(SOURCE)})", readme)


class CommandsSlow(unittest.TestCase):
    def run_page(self, page):
        folder = pathlib.Path(tempfile.mkdtemp(prefix="boughlight-"))
        self.addCleanup(shutil.rmtree, folder)
        tools = folder / "bin"
        tools.mkdir()
        for name, script in {"boughlight": WRAPPER, "sbatch": SCHEDULER}.items():
            (tools / name).write_text(script)
            (tools / name).chmod(0o755)
        (folder / "work").mkdir()
        (folder / "work" / "scenes").symlink_to(SOURCE / "scenes")
        run = 0
        for block in BLOCK.finditer(page.read_text()):
            note = block["note"] or ""
            if block["file"]:
                (folder / "work" / block["file"]).write_text(block["text"])
            if block["language"] != "sh" or note.startswith("not run: "):
                continue
            held = dict(part.split(": ", 1) for part in note.split("; ")) if note else {}
            self.assertLessEqual(held.keys(), {"exit codes", "prints", "until"}, f"{page}: {note}")
            printed = folder / "printed"
            printed.write_text("")
            environment = {**os.environ, "PATH": f"{tools}:{os.environ['PATH']}", "PROGRAM": PROGRAM,
                           "CODES": held.get("exit codes", "0"), "PRINTED": str(printed),
                           "XDG_CACHE_HOME": str(folder / "cache")}
            with subprocess.Popen(["bash", "-euo", "pipefail", "-c", block["text"]], cwd=folder / "work",
                                  env=environment, text=True, stdin=subprocess.PIPE, stdout=subprocess.PIPE,
                                  stderr=subprocess.PIPE, start_new_session=True) as done:
                if "until" in held:
                    self.wait_for(folder / "work" / held["until"], done)
                    os.killpg(done.pid, signal.SIGINT)
                # Enter, all the way, where questions are asked.
                out, err = done.communicate("\n" * 60)
            self.assertEqual(done.returncode, 0, f"{page}:\n{block['text']}\n{out}\n{err}")
            if "prints" in held:
                self.assertIn(" ".join(held["prints"].split()), " ".join((printed.read_text() + out).split()), page)
            run += 1
        return run

    def wait_for(self, file, process):
        end = time.monotonic() + 60
        while not file.exists() and process.poll() is None and time.monotonic() < end:
            time.sleep(0.1)

    def test_every_command_runs(self):
        counts = {}
        for page in GUIDES:
            with self.subTest(page=page.name):
                counts[page.name] = self.run_page(page)
        for name in ["README.md", "first-enclosure.md", "report.md", "lamp-file.md", "calibrating.md", "planning.md",
                     "many.md", "scene.md", "results.md"]:
            self.assertGreater(counts[name], 0, name)


if __name__ == "__main__":
    unittest.main()
