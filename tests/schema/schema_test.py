"""The JSON Schemas that the program writes, by a validator of others: every file of ours is valid, what is wrong is not.

Run by CTest with BOUGHLIGHT_PROGRAM and BOUGHLIGHT_SOURCE set.
"""

import copy
import json
import os
import pathlib
import re
import subprocess
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
    return [block for block in blocks if block.startswith(start)]


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
