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
    const levels = shelter.levels.slice().reverse();
    show(body,
      el("ul", {class: "keys"}, SHADES.map(([, kind, text]) => el("li", {}, el("span", {class: `key light-${kind}`, "aria-hidden": "true"}), text))),
      el("table", {class: "shares"}, el("thead", {}, el("tr", {}, ["Level", "Length", "Share of the sun perch's UV index"].map((head) => el("th", {scope: "col"}, head)))),
        el("tbody", {}, el("tr", {class: "whole"}, el("th", {scope: "row"}, "All of it"),
          el("td", {class: "num"}, lengths.text(levels.reduce((sum, {length}) => sum + length, 0))), el("td", {}, shareBar(shelter.fraction, shadesText(shelter.fraction)))),
        levels.map((level) => el("tr", {}, el("th", {scope: "row"}, `${lengths.text(level.z)} up`), el("td", {class: "num"}, lengths.text(level.length)),
          el("td", {}, shareBar(level, shadesText(level))))))),
      el("ul", {class: "facts"},
        el("li", {}, sign(shelter.way?.covered ? "good" : "unsure", null), wayLine(page, shelter)),
        shelter.refuges.length > 0 && el("li", {}, "Refuge that a covered way leads to: ",
          shelter.refuges.slice().reverse().map(({z, length}, i) => `${i ? ", " : ""}${lengths.text(length)} at ${lengths.text(z)} up`), "."),
        without && el("li", {}, sign(shelter.uv_without_heat.best_place === undefined ? "unsure" : "good", null), without)));
    note.update();
  }
  return {element, update, follows: ["light", "unit"]};
}
