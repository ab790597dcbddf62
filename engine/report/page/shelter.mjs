// Shade along what the animal can sit on, and the way from the sun perch to a refuge.
import {declaredNote} from "./declared_note.mjs";
import {el, named, show, svg} from "./dom.mjs";
import {percent} from "./numbers.mjs";
import {sign} from "./sign.mjs";

const SHADES = [["below_10", "shade", "below a tenth"], ["from_10_to_50", "half", "a tenth to half"], ["above_50", "sun", "above half"]];

// Shares of one length as parts of a bar, each with a pattern of its own.
function shareBar(split, label) {
  let at = 0;
  return svg("svg", {viewBox: "0 0 300 16", class: "share-bar", role: "img", "aria-label": label, preserveAspectRatio: "none"},
    SHADES.map(([key, kind]) => {
      const from = at;
      at += 300 * split[key];
      return svg("rect", {class: `light-${kind}`, x: from, y: 0, width: Math.max(0, at - from), height: 16});
    }));
}
const shadesText = (split) => SHADES.map(([key, , text]) => `${percent(split[key])} ${text}`).join(", ");

export function wayLine(page, shelter) {
  const {way} = shelter, {lengths} = page, sun = () => named(shelter.sun_perch, 30);
  if (!way) return ["No refuge can be reached from ", sun(), " along branches and boards."];
  const where = [" to a refuge on ", named(way.refuge_on, 30), ` (${page.words.place(way.refuge_at)})`];
  return way.covered
    ? ["A covered way leads from ", sun(), where, `, ${lengths.text(way.length)} long: once in the half-shade it stays there.`]
    : ["The most covered way from ", sun(), where, ` is ${lengths.text(way.length)} long and passes places with ${percent(way.worst_share)} of the sun perch's UV index.`];
}

export function withoutHeatLine(page, shelter) {
  const found = shelter.uv_without_heat;
  if (!found) return null;
  const best = found.best_place === undefined ? null : shelter.places[found.best_place];
  return best ? [`UV without the heat is to be had along ${page.lengths.text(found.length)}, best on `, named(best.on, 30), `, ${page.words.place(best.at)}: `,
    page.words.figure("uvi", best.values.uvi.value), "."] : ["UV without the heat is nowhere to be had on branches and boards."];
}

// Neighbouring levels of one kind together, from the top down: {from, to, length, and the shares}.
function runsOf(levels) {
  const alike = (a, b) => SHADES.every(([key]) => Math.abs(a[key] - b[key]) < 0.01);
  return levels.slice().reverse().reduce((runs, level) => {
    const last = runs.at(-1);
    if (last && alike(last, level)) Object.assign(last, {to: level.z, length: last.length + level.length});
    else runs.push({...level, from: level.z, to: level.z});
    return runs;
  }, []);
}

export function shelterSection(page) {
  const shelter = page.data.results.animal?.shelter;
  if (!shelter) return null;
  const body = el("div", {}), note = declaredNote(page);
  const element = el("section", {id: "shelter", "aria-labelledby": "shelter-title"},
    el("h2", {id: "shelter-title"}, "Shade, and the way to it"),
    el("p", {class: "lead"}, "How much of what it can sit on gets which share of the sun perch's UV index, level by level from the top. ",
      "Each place is judged at the brightest orientation."), body, note.element);

  function update() {
    const {lengths, words} = page, without = withoutHeatLine(page, shelter);
    const runs = runsOf(shelter.levels), whole = runs.reduce((sum, {length}) => sum + length, 0);
    const between = (from, to) => (from === to ? `${lengths.text(from)} up` : `${lengths.number(to)} to ${lengths.text(from)} up`);
    const reached = shelter.refuges.reduce((sum, {length}) => sum + length, 0);
    show(body,
      el("ul", {class: "keys"}, SHADES.map(([, kind, text]) => el("li", {}, el("span", {class: `key light-${kind}`, "aria-hidden": "true"}), text))),
      el("table", {class: "shares"}, el("thead", {}, el("tr", {}, ["Level", "Length", "Shares of it"].map((head) => el("th", {scope: "col"}, head)))),
        el("tbody", {}, el("tr", {class: "whole"}, el("th", {scope: "row"}, "All of it"),
          el("td", {class: "num"}, lengths.text(whole)), el("td", {}, shareBar(shelter.fraction, shadesText(shelter.fraction)))),
        runs.map((run) => el("tr", {"data-length": run.length}, el("th", {scope: "row"}, between(run.from, run.to)),
          el("td", {class: "num"}, lengths.text(run.length)), el("td", {}, shareBar(run, shadesText(run))))))),
      el("ul", {class: "facts"},
        el("li", {}, sign(shelter.way?.covered ? "good" : "unsure", null), wayLine(page, shelter)),
        shelter.refuges.length > 0 && el("li", {}, `Covered ways lead to ${lengths.text(reached)} of refuge, ${
          between(shelter.refuges.at(-1).z, shelter.refuges[0].z)}.`),
        without && el("li", {}, sign(shelter.uv_without_heat.best_place === undefined ? "unsure" : "good", null), without)));
    note.update();
  }
  return {element, update, follows: ["light", "unit"]};
}
