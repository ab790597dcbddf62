// Surveys for the other tests: the demo scene; a small one with lamps as declared and the same with a lamp dimmed; one
// whose names would break a careless page.
import {execFileSync} from "node:child_process";
import {mkdirSync, readdirSync, renameSync, rmSync, writeFileSync} from "node:fs";
import {join} from "node:path";
import {HOSTILE_NAMES} from "./hostile_names.mjs";

const {BOUGHLIGHT_PROGRAM: program, BOUGHLIGHT_SOURCE: source, BOUGHLIGHT_REPORTS: folder} = process.env;

// 1 is a result all the same: not every want is met.
function run(...call) {
  runWith([0, 1], ...call);
}
function runWith(codes, ...call) {
  try {
    execFileSync(program, [...call, "--quiet"], {stdio: ["ignore", "inherit", codes.includes(2) ? "ignore" : "inherit"]});
  } catch (error) {
    if (!codes.includes(error.status)) throw error;
  }
}
const survey = (scene, name) => run("survey", scene, "-o", join(folder, name));

// The page of a planning command, where openReport() looks for it.
function plan(name, command, ...call) {
  const to = join(folder, name);
  run(command, ...call, "-o", to);
  renameSync(join(to, readdirSync(to).find((file) => file.endsWith(".html"))), join(to, "report.html"));
}

// A tube, a filament and a leafy corner that filters it, in a small box; hours for all.
const closet = ({floodDim, tubeDim}) => `
boughlight: 1
title: Small closet
length_unit: cm
enclosure: [{box: closet, size: [40, 40, 60], faces: {floor: soil, back: white-paint, left: birch-ply, right: birch-ply, front: glass-4mm, top: mesh-fine}}]
branches: [{name: bough, path: [[5, 20, 35], [35, 20, 38]], diameter: 2, material: bark}]
plants:
  - name: fern
    crown: {at: [12, 22, 12], radii: [9, 9, 9], leaf_area: 0.12 m2, seed: 3}
    leaf: {length: 3, width: 1.5, material: broad-leaf}
    needs: {dli: [0.5, 20]}
perches:
  - {name: perch, at: [20, 20, 36.5], wants: {uvi: [1, 3], irradiance: [100, 600], lux: {min: 2000}}}
points: [{name: under leaves, at: [12, 22, 4]}]
animal: {back: 4, reach: 2, basking: {uvi: [1, 3]}, refuge: {uvi: {max: 0.5}}, never: {uvi: 6}}
lamps:
  - {name: tube, fixture: tube-uv-55-mild, over: {x: 20, y: 22, gap: 14}, along: y, dim: ${tubeDim}, lit: "08:00-18:00"}
  - {name: flood, fixture: halogen-flood-50, over: {x: 22, y: 20, gap: 20}, dim: ${floodDim}, lit: "09:00-15:00"}
room: {lux: 150, lit: "07:00-21:00"}
survey: {spacing: 5, tolerance: 2 %, seed: 4}
`;

// Nothing but a box in a room, and the same with a lamp that has no hours and nothing wanted anywhere.
const empty = `
boughlight: 1
enclosure: [{box: box, size: [40, 40, 60], faces: {floor: soil, back: white-paint, left: birch-ply, right: birch-ply, front: glass-4mm, top: open}}]
room: {lux: 300}
survey: {spacing: 10, tolerance: 10 %, seed: 4}
`;
const bare = empty + `
points: [{name: middle, at: [20, 20, 30]}]
lamps: [{name: bar, fixture: led-bar-24, at: [20, 20, 70]}]
`;

const quoted = (name) => JSON.stringify(name);
const {title, box, branch, plant, perch, point, lamp} = HOSTILE_NAMES;
const hostile = `
boughlight: 1
title: ${quoted(title)}
length_unit: in
enclosure: [{box: ${quoted(box)}, size: [20, 16, 30], faces: {floor: soil, back: birch-ply, left: birch-ply, right: birch-ply, front: glass-4mm, top: mesh-fine}}]
branches: [{name: ${quoted(branch)}, path: [[3, 8, 18], [17, 8, 20]], diameter: 1, material: bark}]
plants: [{name: ${quoted(plant)}, crown: {at: [6, 8, 6], radii: [4, 4, 4], leaf_area: 0.05 m2}, leaf: {length: 2, width: 1, material: broad-leaf}, needs: {ppfd: {min: 1}}}]
perches: [{name: ${quoted(perch)}, at: [10, 8, 19], wants: {uvi: [5, 9], lux: {min: 100}}}]
points: [{name: ${quoted(point)}, at: [10, -3, 10]}]
animal: {back: 2, reach: 1, never: {uvi: 1}, refuge: {uvi: {max: 0.2}}}
lamps: [{name: ${quoted(lamp)}, fixture: tube-uv-55-mild, over: {x: 10, y: 8, gap: 6}, along: y}]
survey: {spacing: 3, tolerance: 10 %, seed: 1}
`;

rmSync(folder, {recursive: true, force: true});
mkdirSync(folder, {recursive: true});
survey(join(source, "scenes/fern-tower.yaml"), "demo");
for (const [name, text] of Object.entries({
  closet: closet({floodDim: "100 %", tubeDim: "100 %"}),
  dimmed: closet({floodDim: "40 %", tubeDim: "60 %"}),
  hostile, empty, bare,
})) {
  writeFileSync(join(folder, `${name}.yaml`), text);
  survey(join(folder, `${name}.yaml`), name);
}
// Many scenes side by side: met or not, with hostile names, and one that is no scene.
writeFileSync(join(folder, "wrong.yaml"), "boughlight: 1\n<b>: 2\n");
runWith([2], "survey", ...["closet", "empty", "hostile", "wrong"].map((name) => join(folder, `${name}.yaml`)), "-o", join(folder, "many"));
plan("place", "place", join(folder, "closet.yaml"), "tube", "--gaps", "14,20", "--step", "8");
plan("place-hostile", "place", join(folder, "hostile.yaml"), lamp, "--gaps", "6,10", "--step", "4");
plan("ahead", "outlook", join(folder, "closet.yaml"), "--months", "6", "--step", "3");
