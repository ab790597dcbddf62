"""The JSON Schemas that the program writes, by a validator of others: every file of ours is valid, what is wrong is not.

Run by CTest with BOUGHLIGHT_PROGRAM and BOUGHLIGHT_SOURCE set.
"""

import copy
import json
import os
import pathlib
import re
import subprocess
import tempfile
import unittest

import jsonschema
import yaml

PROGRAM = os.environ["BOUGHLIGHT_PROGRAM"]
SOURCE = pathlib.Path(os.environ["BOUGHLIGHT_SOURCE"])


class Yaml12(yaml.SafeLoader):
    """Numbers and booleans as YAML 1.2 has them, which editors go by: no base sixty, no yes and no."""


Yaml12.yaml_implicit_resolvers = {}
Yaml12.add_implicit_resolver("tag:yaml.org,2002:bool", re.compile(r"^(true|True|TRUE|false|False|FALSE)$"), None)
Yaml12.add_implicit_resolver("tag:yaml.org,2002:int", re.compile(r"^[-+]?[0-9]+$"), None)
Yaml12.add_implicit_resolver(
    "tag:yaml.org,2002:float", re.compile(r"^[-+]?(\.[0-9]+|[0-9]+(\.[0-9]*)?)([eE][-+]?[0-9]+)?$"), None)
Yaml12.add_implicit_resolver("tag:yaml.org,2002:null", re.compile(r"^(~|null|Null|NULL|)$"), None)


def load(text):
    return yaml.load(text, Yaml12)


def schema(what):
    return json.loads(subprocess.run([PROGRAM, "schema", what], capture_output=True, check=True).stdout)


SCENE = schema("scene")
FIXTURE = schema("fixture")
MATERIAL = schema("material")


def mistakes(of_schema, document):
    validator = jsonschema.Draft7Validator(of_schema)
    return [f"{list(error.absolute_path)}: {error.message}" for error in validator.iter_errors(document)]


def yaml_blocks(file, start):
    blocks = re.findall(r"```yaml[^\n]*\n(.*?)```", file.read_text(), re.DOTALL)
    return [block for block in blocks if re.sub(r"^(#.*\n)+", "", block).startswith(start)]


class Files(unittest.TestCase):
    def expect_valid(self, of_schema, files):
        self.assertTrue(files)
        for file in files:
            with self.subTest(file=str(file)):
                self.assertEqual(mistakes(of_schema, load(file.read_text())), [])

    def test_every_scene_is_valid(self):
        self.expect_valid(SCENE, [*sorted((SOURCE / "scenes").glob("*.yaml")), SOURCE / "cli" / "starter.yaml"])

    def test_every_lamp_is_valid(self):
        self.expect_valid(FIXTURE, sorted((SOURCE / "fixtures" / "lamps").glob("*.yaml")))
        self.expect_valid(FIXTURE, sorted((SOURCE / "scenes" / "lamps").glob("*.yaml")))

    def test_every_material_is_valid(self):
        self.expect_valid(MATERIAL, sorted((SOURCE / "fixtures" / "materials").glob("*.yaml")))

    def test_what_the_guides_show_is_valid(self):
        pages = [SOURCE / "README.md", *sorted((SOURCE / "cli" / "guides").glob("*.md"))]
        scenes = [block for page in pages for block in yaml_blocks(page, "boughlight: 1")]
        lamps = [block for page in pages for block in yaml_blocks(page, "fixture: 1")]
        self.assertTrue(scenes)
        self.assertTrue(lamps)
        for block in scenes:
            self.assertEqual(mistakes(SCENE, load(block)), [])
        for block in lamps:
            self.assertEqual(mistakes(FIXTURE, load(block)), [])


class Schemas(unittest.TestCase):
    def test_they_are_schemas(self):
        for one in (SCENE, FIXTURE, MATERIAL):
            jsonschema.Draft7Validator.check_schema(one)

    def test_every_reference_leads_somewhere(self):
        for one in (SCENE, FIXTURE, MATERIAL):
            for name in re.findall(r'"#/definitions/([^"]+)"', json.dumps(one)):
                self.assertIn(name, one["definitions"])

    def test_every_field_says_what_it_means(self):
        for one in (SCENE, FIXTURE, MATERIAL):
            for mapping in [one, *one["definitions"].values()]:
                for name, field in mapping.get("properties", {}).items():
                    self.assertRegex(field.get("description", ""), r"\w", name)

    def test_defaults_are_valid_where_they_stand(self):
        found = 0
        for one in (SCENE, FIXTURE, MATERIAL):
            for mapping in [one, *one["definitions"].values()]:
                fields = dict(mapping.get("properties", {}))
                for branch in mapping.get("allOf", []):
                    fields.update(branch["then"]["properties"])
                for name, field in fields.items():
                    if "default" not in field:
                        continue
                    found += 1
                    alone = {**field, "definitions": one["definitions"]}
                    self.assertEqual(mistakes(alone, field["default"]), [], name)
        self.assertGreater(found, 20)


def closed(part):
    """The same schema, that takes no field and no word which it does not tell of."""
    if isinstance(part, list):
        return [closed(one) for one in part]
    if not isinstance(part, dict):
        return part
    words = part.get("examples")
    part = {name: closed(one) for name, one in part.items() if name != "examples"}
    if isinstance(words, list):
        part["enum"] = words
    if isinstance(part.get("properties"), dict):
        part.setdefault("additionalProperties", False)
    return part


def told(part, path=""):
    """The path of every field that a schema tells of, each definition's from its own name on."""
    fields = set()
    if isinstance(part, list):
        for one in part:
            fields |= told(one, path)
    elif isinstance(part, dict):
        for name, one in part.get("properties", {}).items():
            fields |= {f"{path}.{name}"} | told(one, f"{path}.{name}")
        for name, one in part.get("$defs", {}).items():
            fields |= told(one, name)
        for name in ("items", "additionalProperties"):
            fields |= told(part.get(name), path)
    return fields


def written(whole, part, document, path=""):
    """Those of `told` that a document has."""
    if "$ref" in part:
        path = part["$ref"].rsplit("/", 1)[1]
        part = whole["$defs"][path]
    fields = set()
    if isinstance(document, list):
        for one in document:
            fields |= written(whole, part["items"], one, path)
    elif isinstance(document, dict):
        for name, one in document.items():
            if name in part.get("properties", {}):
                fields |= {f"{path}.{name}"} | written(whole, part["properties"][name], one, f"{path}.{name}")
            else:
                fields |= written(whole, part["additionalProperties"], one, path)
    return fields


class Results(unittest.TestCase):
    """What surveys write is what the published schemas tell of, field by field."""

    @classmethod
    def setUpClass(cls):
        cls.folder = tempfile.TemporaryDirectory()
        cls.addClassCleanup(cls.folder.cleanup)
        results = pathlib.Path(cls.folder.name) / "results"
        wrong = pathlib.Path(cls.folder.name) / "wrong.yaml"
        wrong.write_text("boughlight: 1\n")
        # What no scene asks for: shares with an upper limit and at each level, a named range.
        asking = pathlib.Path(cls.folder.name) / "asking.yaml"
        shelf = (SOURCE / "scenes" / "small-shelf.yaml").read_text()
        named = shelf.replace("wants: {uvi: [0.5, 1.5]}", "wants: {uvi: {range: ferguson-zone-2-mean}}")
        assert named != shelf
        asking.write_text(named + "zones: {refuge: {volume: [1 %, 99 %], each_level: {min: 1 %}}}\n")
        scenes = [*sorted((SOURCE / "scenes").glob("*.yaml")), asking, wrong]
        cls.outcome = subprocess.run(
            [PROGRAM, "survey", *map(str, scenes), "-o", str(results), "--quiet", "--spacing", "20cm", "--tolerance",
             "30%"], capture_output=True, text=True)
        cls.files = {"readings": sorted(results.glob("*/readings.json")), "index": [results / "index.json"]}
        cls.expected = len(scenes) - 1

    def test_only_the_wrong_scene_was_refused(self):
        self.assertEqual(self.outcome.returncode, 2, self.outcome.stderr)
        self.assertGreaterEqual(self.expected, 4)
        self.assertEqual(len(self.files["readings"]), self.expected)

    def test_results_are_valid_and_no_field_or_word_is_untold(self):
        for what, files in self.files.items():
            validator = jsonschema.Draft202012Validator(closed(schema(what)))
            for file in files:
                with self.subTest(file=file.parent.name + "/" + file.name):
                    found = [f"{list(error.absolute_path)}: {error.message[:300]}"
                             for error in validator.iter_errors(json.loads(file.read_text()))]
                    self.assertEqual(found, [])

    def test_every_field_that_is_told_is_written(self):
        for what, files in self.files.items():
            of_schema = schema(what)
            found = set()
            for file in files:
                found |= written(of_schema, of_schema, json.loads(file.read_text()))
            self.assertEqual(told(of_schema) - found, set())

    def test_the_schema_names_the_number_of_the_format(self):
        for what, files in self.files.items():
            of_schema = schema(what)
            number = of_schema["properties"]["boughlight"]["const"]
            self.assertEqual(of_schema["$id"], f"urn:boughlight:{what}:{number}")
            self.assertEqual(of_schema["title"], f"Boughlight {what}.json, format {number}")
            self.assertIn("boughlight", of_schema["required"])
            for file in files:
                self.assertEqual(json.loads(file.read_text())["boughlight"], number)

    def test_a_change_that_breaks_readers_is_refused_and_a_new_field_is_not(self):
        of_schema = schema("readings")
        validator = jsonschema.Draft202012Validator(of_schema)
        whole = json.loads(self.files["readings"][0].read_text())
        self.assertTrue(validator.is_valid({**whole, "a_new_field": 1}))
        self.assertFalse(validator.is_valid({**whole, "boughlight": 2}))
        self.assertFalse(validator.is_valid({**whole, "readings": None}))
        self.assertFalse(validator.is_valid({name: one for name, one in whole.items() if name != "verdict"}))


PLANS = ("place", "window", "compare", "outlook", "fit", "tune")

# What may be left out of all that the scenes below bring about: a chart that ends before anything fails, and figures that a
# lamp does not change which have a lower limit or are a share.
NOT_BROUGHT_ABOUT = {"window": {"end.then", "figure.min", "figure.share"}}


class Plans(unittest.TestCase):
    """What the planning commands write is what their schemas tell of."""

    @classmethod
    def setUpClass(cls):
        folder = tempfile.TemporaryDirectory()
        cls.addClassCleanup(folder.cleanup)
        cls.folder = pathlib.Path(folder.name)
        scene = (SOURCE / "cli" / "starter.yaml").read_text()

        def changed(name, *changes):
            text = scene
            for before, after in changes:
                assert before in text, before
                text = text.replace(before, after)
            (cls.folder / name).write_text(text)
            return name

        cage = changed("cage.yaml")
        # A reading that the lamp does not change.
        behind = changed("behind.yaml", ("\nanimal:", """
points: [{name: behind, at: [30, 100, 10], facing: [0, 1, 0], wants: {lux: {max: 5000}}}]
animal:"""))
        # Limits that exclude each other, and shares that nothing can keep.
        never = changed("never.yaml", ("never: {uvi: 7,", "never: {uvi: 1,"), ("volume: {min: 15 %}", "volume: [98 %, 99 %]"))
        other = changed("other.yaml", ("gap: 12", "gap: 25"), ("high bough", "tall bough"), ("low perch", "log"))
        ahead = changed("ahead.yaml", ("perches:", """outlook:
  fouling: {mesh-fine: 5 %}
  growing: {fern: {form: logistic, rate: 60 %, largest: 3}}
  animal: [{month: 2, back: 6}]
perches:"""), ("volume: {min: 15 %}", "volume: [15 %, 90 %]"), ("uvi: [1.5, 4], irradiance", "uvi: [2, 4], irradiance"))
        readings = cls.folder / "readings.csv"
        readings.write_text("place,quantity,reading,lamps,fogger\nsun perch,uvi,2.2,,on\nsun perch,lux,90000,,\n"
                            "low perch,lux,500,uv tube,\nlow perch,lux,900,,\nsun perch,uvi,2.1,,\n")
        cls.written = {what: [] for what in PLANS}
        for what, *call in (
                ("place", cage, "uv tube", "--gaps", "10,20", "--step", "15"),
                ("place", never, "uv tube", "--gaps", "10,20", "--step", "15"),
                ("window", behind, "uv tube", "--gaps", "6,12,30", "--depths", "15,25,40"),
                ("window", never, "uv tube", "--gaps", "10,20", "--depths", "20,25"),
                ("compare", cage, other), ("outlook", ahead, "--months", "6", "--step", "3"),
                ("fit", cage, "readings.csv"), ("fit", cage, "readings.csv", "--heights", "--overwrite"),
                ("tune", cage), ("tune", changed("dark.yaml", ("dim: 40 %", "dim: 5 %"), ("irradiance: {max: 400}", "irradiance: [70, 400]")),
                 "--only", "dim")):
            run = subprocess.run([PROGRAM, what, *call, "--json", "--tolerance", "30%", "--spacing", "20"], cwd=cls.folder,
                                 capture_output=True, text=True)
            assert run.returncode <= 1, (what, call, run.stderr)
            cls.written[what].append(json.loads(run.stdout))

    def test_they_are_valid_and_no_field_or_word_is_untold(self):
        for what, documents in self.written.items():
            validator = jsonschema.Draft202012Validator(closed(schema(what)))
            for document in documents:
                with self.subTest(what=what):
                    self.assertEqual([f"{list(error.absolute_path)}: {error.message[:300]}"
                                      for error in validator.iter_errors(document)], [])

    def test_every_field_that_is_told_is_written(self):
        for what, documents in self.written.items():
            of_schema = schema(what)
            found = set().union(*(written(of_schema, of_schema, document) for document in documents))
            with self.subTest(what=what):
                self.assertEqual(told(of_schema) - found - NOT_BROUGHT_ABOUT.get(what, set()), set())

    def test_the_schema_names_the_number_of_the_format(self):
        for what, documents in self.written.items():
            of_schema = schema(what)
            number = of_schema["properties"]["boughlight"]["const"]
            self.assertEqual(of_schema["$id"], f"urn:boughlight:{what}:{number}")
            self.assertIn("boughlight", of_schema["required"])
            for document in documents:
                self.assertEqual(document["boughlight"], number)


class ResultsSchemas(unittest.TestCase):
    def test_they_are_schemas_and_kept_as_they_are_printed_but_for_the_quantities(self):
        for what in ("readings", "index", *PLANS):
            printed = schema(what)
            jsonschema.Draft202012Validator.check_schema(printed)
            del printed["$defs"]["quantity"]["examples"]
            if what == "readings":
                del printed["$defs"]["figures_by_quantity"]["properties"]
            kept = SOURCE / "engine" / "report" / f"{what}.schema.json"
            self.assertEqual(json.loads(kept.read_text()), printed)

    def test_every_field_says_what_it_is(self):
        def look(part, path):
            if isinstance(part, list):
                for one in part:
                    look(one, path)
            elif isinstance(part, dict):
                for name, one in part.get("properties", {}).items():
                    self.assertRegex(one.get("description", ""), r"\w", path + [name])
                for name, one in part.items():
                    look(one, path + [name])
        for what in ("readings", "index", *PLANS):
            look(schema(what), [what])

    def test_quantities_are_those_of_the_program_with_their_units(self):
        page = subprocess.run([PROGRAM, "reference", "quantities"], capture_output=True, check=True, text=True).stdout
        units = dict(re.findall(r"^\| `(\w+)` \|.*\| (?:in )?([^;|]+?)(?:;.*)? \|$", page, re.MULTILINE))
        self.assertGreater(len(units), 10)
        for what in ("readings", "index", *PLANS):
            self.assertEqual(schema(what)["$defs"]["quantity"]["examples"], list(units))
        figures = schema("readings")["$defs"]["figures_by_quantity"]["properties"]
        self.assertEqual(list(figures), list(units))
        for name, unit in units.items():
            self.assertTrue(figures[name]["description"].endswith(", 1" if unit == "no unit" else f", {unit}"), name)


class Wrong(unittest.TestCase):
    """What the loader refuses for its form, the schema refuses."""

    BASE = """
boughlight: 1
length_unit: cm
enclosure: [{box: cage, size: [60, 45, 100], faces: {floor: soil, top: mesh-fine, front: open, back: cork, left: cork, right: cork}}]
lamps: [{name: tube, fixture: tube-uv-55, at: [30, 20, 110], dim: 80 %, lit: "08:00-18:00"}]
perches: [{name: bough, at: [30, 20, 60], wants: {uvi: [1, 4], uvb: {min: 5 uW/cm2}}}]
materials: {fine: {surface: mesh, wire: 0.5 mm, pitch: [2 mm, 3 mm], reflectance: 0.4}}
"""

    def setUp(self):
        self.scene = load(self.BASE)
        self.assertEqual(mistakes(SCENE, self.scene), [])

    def refused(self, change):
        scene = copy.deepcopy(self.scene)
        change(scene)
        found = mistakes(SCENE, scene)
        # The loader must agree, or the schema would be stricter than it.
        file = pathlib.Path(os.environ.get("TMPDIR", "/tmp")) / f"boughlight-schema-{os.getpid()}.yaml"
        file.write_text(yaml.safe_dump(scene))
        try:
            outcome = subprocess.run([PROGRAM, "check", str(file)], capture_output=True)
        finally:
            file.unlink()
        self.assertEqual(outcome.returncode, 2, outcome.stdout)
        self.assertNotEqual(found, [], scene)

    def test_wrong_scenes(self):
        def put(path, value):
            def change(scene):
                part = scene
                for step in path[:-1]:
                    part = part[step]
                part[path[-1]] = value
            return change

        def drop(path):
            def change(scene):
                part = scene
                for step in path[:-1]:
                    part = part[step]
                del part[path[-1]]
            return change

        for change in [
                put(["lamp"], []),
                put(["boughlight"], 2),
                put(["length_unit"], "feet"),
                drop(["enclosure"]),
                put(["enclosure"], []),
                put(["enclosure", 0, "size"], [60, 45]),
                put(["enclosure", 0, "size", 0], -60),
                put(["enclosure", 0, "size", 0], "60 parsecs"),
                put(["enclosure", 0, "faces", "roof"], "cork"),
                put(["lamps", 0, "dim"], 1.5),
                put(["lamps", 0, "dim"], "bright"),
                put(["lamps", 0, "burned"], 500),
                put(["lamps", 0, "lit"], "all day"),
                put(["lamps", 0, "over"], {"x": 1, "y": 1, "gap": 1}),
                drop(["lamps", 0, "at"]),
                drop(["lamps", 0, "name"]),
                put(["perches", 0, "wants", "brightness"], [1, 2]),
                put(["perches", 0, "wants", "uvi"], {"least": 1}),
                put(["perches", 0, "wants", "uvi"], {}),
                put(["perches", 0, "wants", "uvi"], [-1, 4]),
                put(["perches", 0, "wants", "uvi"], {"range": "no-such-range"}),
                put(["animal"], {"never": {"lux": 5}}),
                put(["animal"], {"basking": {"dli": [1, 2]}}),
                put(["materials", "fine", "transmittance"], 0.6),
                put(["materials", "fine", "index"], 1.5),
                drop(["materials", "fine", "wire"]),
                put(["materials", "fine", "surface"], "net"),
                put(["materials", "fine", "reflectance"], 1.2),
                put(["survey"], {"seed": 1.5}),
                put(["air"], {"day": 24}),
        ]:
            with self.subTest():
                self.refused(change)


if __name__ == "__main__":
    unittest.main()
