// The page's modules by themselves: they are joined into one scope, so no name may be declared twice; and their figures
// are written as the program writes its own.
import assert from "node:assert/strict";
import {readdirSync, readFileSync} from "node:fs";
import {test} from "node:test";
import {Script} from "node:vm";
import {contourLines} from "../../engine/report/page/contour.mjs";
import {halvesOf} from "../../engine/report/page/data.mjs";
import {countedHours, litShare, spansNow} from "../../engine/report/page/hours.mjs";
import {clock, number} from "../../engine/report/page/numbers.mjs";
import {judge} from "../../engine/report/page/verdicts.mjs";

const FOLDER = new URL("../../engine/report/page/", import.meta.url);
const modules = readdirSync(FOLDER).filter((name) => name.endsWith(".mjs"));

test("no name is declared twice, and every import is there", () => {
  const owners = new Map();
  for (const name of modules)
    for (const [, declared] of readFileSync(new URL(name, FOLDER), "utf8").matchAll(/^(?:export )?(?:async )?(?:function|const|let) (\w+)/gm)) {
      assert.ok(!owners.has(declared), `'${declared}' is declared in ${owners.get(declared)} and in ${name}`);
      owners.set(declared, name);
    }
  for (const name of modules)
    for (const [, list, from] of readFileSync(new URL(name, FOLDER), "utf8").matchAll(/^import \{([^}]*)\} from "\.\/([\w.]+)";/gm))
      for (const imported of list.split(",").map((one) => one.trim()).filter(Boolean))
        assert.equal(owners.get(imported), from, `${name} imports '${imported}'`);
});

test("joined into one scope they are one program", () => {
  const joined = modules.map((name) => readFileSync(new URL(name, FOLDER), "utf8")
    .replace(/^import [^;]*;/gm, "").replace(/^export /gm, "")).join("\n");
  new Script(`(() => {"use strict";\n${joined}\n})`);
});

// As in tests/units/print_number_test.cpp.
test("figures are written as the program writes them", () => {
  for (const [value, text] of [[0, "0"], [0.0123, "0.0123"], [4.567, "4.57"], [151, "151"], [9.996, "10"], [1234, "1230"], [-0.5, "-0.5"]])
    assert.equal(number(value), text);
  assert.equal(number(12345).replace(/\s/gu, " "), "12 300");
  assert.equal(clock(8.5), "08:30");
  assert.equal(clock(24), "24:00");
});

test("16-bit floats are unpacked as IEEE 754 says", () => {
  // 1, 0.5, 65504 (the greatest), 2^-24 (the least), 0: the standard's own examples.
  const bytes = Buffer.from([0x00, 0x3c, 0x00, 0x38, 0xff, 0x7b, 0x01, 0x00, 0x00, 0x00]);
  assert.deepEqual([...halvesOf({scale: 1, half: bytes.toString("base64")})], [1, 0.5, 65504, 2 ** -24, 0]);
});

test("limits are inclusive, open inside the interval, and a lower limit of 0 is none", () => {
  const figure = (value, se = 0) => ({value, se});
  assert.equal(judge(figure(3), {min: 3, max: 5}, 2.13), "met");
  assert.equal(judge(figure(2.9), {min: 3, max: 5}, 2.13), "below");
  assert.equal(judge(figure(2.9, 0.1), {min: 3, max: 5}, 2.13), "unsure");
  assert.equal(judge(figure(5.1), {min: 3, max: 5}, 2.13), "above");
  assert.equal(judge(figure(0), {min: 0}, 2.13), "met");
});

test("a contour of a cone is a circle", () => {
  const size = 41, value = new Float32Array(size * size);
  for (let j = 0; j < size; ++j) for (let i = 0; i < size; ++i) value[i + size * j] = 20 - Math.hypot(i - 20, j - 20);
  const runs = contourLines({u0: 0, v0: 0, du: 1, dv: 1, columns: size, rows: size, value}, 8);
  assert.equal(runs.length, 1);
  assert.deepEqual(runs[0][0], runs[0].at(-1));
  // Straight pieces of at most a knot's step inside a circle of 12: their sag is step^2 / (8 radius).
  for (const [u, v] of runs[0]) assert.ok(Math.abs(Math.hypot(u - 20, v - 20) - 12) < 0.03);
});

test("hours are taken from the day's end, and given after it, before it and in its gaps", () => {
  const source = {lit: [[9, 12], [14, 17]], hours: 6}, night = {lit: [[0, 6], [20, 24]], hours: 10};
  assert.deepEqual(spansNow(source, 6), [[9, 12], [14, 17]]);
  assert.deepEqual(spansNow(source, 4), [[9, 12], [14, 15]]);
  assert.deepEqual(spansNow(source, 2), [[9, 11]]);
  assert.deepEqual(spansNow(source, 0), []);
  assert.deepEqual(spansNow(source, 10), [[9, 12], [14, 21]]);
  assert.deepEqual(spansNow(source, 23), [[0, 12], [13, 24]]);
  assert.deepEqual(spansNow(source, 24), [[0, 24]]);
  assert.deepEqual(spansNow(night, 10), [[20, 30]]);
  assert.deepEqual(spansNow(night, 3), [[20, 23]]);
  assert.equal(night.lit.length, 2);
});

test("a ramp rises evenly, takes half a short span, and counts by its share", () => {
  assert.deepEqual([8, 8.25, 8.5, 12, 17.75, 18, 7].map((hour) => litShare([[8, 18]], 0.5, hour)), [0, 0.5, 1, 1, 0.5, 0, 0]);
  assert.equal(litShare([[20, 30]], 0, 3), 1);
  assert.equal(litShare([[0, 24]], 1, 0), 1);
  assert.equal(countedHours([[8, 12], [14, 18]], 0.5, 0.5), 7);
  assert.equal(countedHours([[8, 8.5]], 1, 0.25), 0.125);
});
