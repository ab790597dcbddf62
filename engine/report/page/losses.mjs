// What is lost on the way from a lamp to a place, step by step on a logarithmic scale: each step takes or gives a factor.
import {decades} from "./chart.mjs";
import {declaredNote} from "./declared_note.mjs";
import {clipped, el, named, show, svg} from "./dom.mjs";
import {NO_BREAK, number} from "./numbers.mjs";
import {picker} from "./picker.mjs";
import {RAIL} from "./rail.mjs";

const LOSSES = {
  age: "its age", dimmer: "the dimmer", distance_and_shape: "distance and shape of the lamp", slant: "light from the side",
  mesh: "the mesh", panes: "panes", leaves_and_branches: "leaves and branches", reflection_gained: "reflected light comes on top",
};
const LOSS_ROW = 36;

// One row each: {text, from, to, factor}. Steps that change nothing are left out.
function lossRows(page, chain, whole) {
  const {words, lengths} = page, rows = [];
  let at = chain.start;
  rows.push({text: `new, at full, in free air ${lengths.text(chain.start_m)} away`, from: at, to: at, amount: words.figure(chain.quantity, at)});
  for (const [name, factor] of Object.entries(chain.losses)) {
    if (factor === null || Math.abs(factor - 1) < 0.005) continue;
    const to = at * factor;
    rows.push({name, text: LOSSES[name] ?? name, from: at, to, factor, amount: `×${NO_BREAK}${number(factor)}`});
    at = to;
  }
  rows.push({text: "this lamp gives", from: chain.value, to: chain.value, amount: words.figure(chain.quantity, chain.value)});
  if (whole > 1.005 * chain.value)
    rows.push({text: "the other lamps add to that", from: chain.value, to: whole, factor: whole / chain.value, amount: words.figure(chain.quantity, whole)});
  return rows;
}

function waterfall(rows, label) {
  const {left, right} = RAIL;
  const all = rows.flatMap(({from, to}) => [from, to]).filter((value) => value > 0);
  const low = Math.min(...all) / 1.4, high = Math.max(...all) * 1.4;
  const ticks = decades(low / 10, high).flatMap((decade) => [decade, 2 * decade, 3 * decade, 5 * decade]).filter((tick) => tick >= low && tick <= high);
  const x = (value) => left + (right - left) * Math.log(Math.max(value, low) / low) / Math.log(high / low);
  const bottom = LOSS_ROW * rows.length + 4;
  return svg("svg", {viewBox: `0 0 ${RAIL.width} ${bottom + 36}`, class: "chart losses", role: "img", "aria-label": label},
    ticks.map((tick) => [svg("path", {class: "grid", d: `M${x(tick)} 0 V${bottom}`}),
      svg("text", {x: x(tick), y: bottom + 15, "text-anchor": "middle"}, number(tick))]),
    svg("path", {class: "axis", d: `M${left} ${bottom} H${right}`}),
    rows.map(({text, from, to, factor, amount}, i) => {
      const y = LOSS_ROW * i + 20, [a, b] = [x(Math.min(from, to)), x(Math.max(from, to))];
      return [
        svg("text", {class: "row-name", x: left + 2, y: y - 5}, clipped(text, 44)),
        svg("text", {class: "row-text", x: right - 2, y: y - 5, "text-anchor": "end"}, amount),
        factor === undefined
          ? svg("path", {class: "row-value", d: `M${a} ${y - 1} l6 7 l-6 7 l-6 -7 Z`})
          : svg("rect", {class: factor < 1 ? "loss" : "gain", x: a, y: y + 1, width: Math.max(1, b - a), height: 11}),
        i + 1 < rows.length && svg("path", {class: "tick-down", d: `M${x(to)} ${y + 12} v${LOSS_ROW - 10}`})];
    }));
}

export function lossesSection(page) {
  const {readings} = page.data.results;
  const chains = readings.flatMap((reading, i) => (reading.chains ?? []).map((chain) => ({reading, i, ...chain})))
    .filter(({start}) => start > 0);
  if (!chains.length) return null;
  const first = chains.reduce((best, chain, k) => (chain.quantity === "uvi" && chain.reading.kind === "perch" &&
    !(chains[best].quantity === "uvi" && chains[best].reading.kind === "perch" && chains[best].value >= chain.value) ? k : best), 0);
  let chosen = first;
  const body = el("div", {}), note = declaredNote(page);
  const element = el("section", {id: "losses", "aria-labelledby": "losses-title"},
    el("h2", {id: "losses-title"}, "Where the light goes"),
    el("p", {class: "lead"}, "From what the lamp gives in free air, step by step, to what arrives. Bars to the left are losses; each step says what it leaves."),
    el("div", {class: "row"}, picker("Way", chains.map((chain) =>
      `${clipped(chain.lamp, 30)} to ${clipped(chain.reading.name, 30)}, ${page.words.label(chain.quantity)}`), chosen, (k) => { chosen = k; update(); })),
    body, note.element);

  function update() {
    const chain = chains[chosen], {words} = page, whole = chain.reading.values[chain.quantity].value;
    const straight = Object.values(chain.losses).every((factor) => factor !== null);
    const rows = lossRows(page, chain, whole);
    show(body, el("figure", {class: "chart-block wide"},
      waterfall(rows, `From ${chain.lamp} to ${chain.reading.name}: ${rows.map(({text, amount}) => `${text} ${amount}`).join(", ")}`),
      el("p", {class: "note"}, `${words.heading(chain.quantity)}${words.unit(chain.quantity) ? `, ${words.unit(chain.quantity)}` : ""}, logarithmic scale. `,
        straight ? "" : "Nothing comes straight: all of it is reflected. ",
        chain.declared ? "The first figure is the one that the lamp's file declares. " : "The first figure is computed from what the lamp's file declares. ",
        chain.value > 0 ? ["Of what arrives from ", named(chain.lamp, 30), `, ${words.percent(chain.reflected / chain.value)} is reflected.`] : "")));
    note.update();
  }
  return {element, update, follows: ["light", "unit"]};
}
