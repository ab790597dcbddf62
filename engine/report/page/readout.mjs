// What the place reads: every quantity there, and each lamp's part of the one that is shown.
import {cellAt, cellCentre} from "./data.mjs";
import {el, named, show} from "./dom.mjs";
import {percent} from "./numbers.mjs";
import {shownQuantities} from "./look.mjs";

export function makeReadout(page) {
  const {data, state, light, words} = page;
  const spoken = el("p", {class: "unseen", role: "status"}), shown = el("div", {class: "read"});
  const element = el("div", {class: "readout"}, shown, spoken);
  let timer = 0;

  // One word for everybody a moment after the last move, so that nobody is talked over.
  function say(text) {
    clearTimeout(timer);
    timer = setTimeout(() => { if (spoken.textContent !== text) spoken.textContent = text; }, 400);
  }

  function parts(cell) {
    const shares = light.cellShares(cell, state.quantity), sum = shares.reduce((a, b) => a + b, 0);
    if (!(sum > 0)) return null;
    return el("ul", {class: "parts"}, shares.map((share, i) => el("li", {},
      named(data.sources[i].name, 24), " ", el("span", {class: "num"}, percent(share / sum)),
      el("span", {class: "part-bar", "aria-hidden": "true", style: {width: `${100 * share / sum}%`}}))));
  }

  // A named place has a reading of its own, just there and turned as it asks.
  function namedReading() {
    const i = data.results.readings.findIndex(({at, kind}) => kind !== "plant" &&
      Math.hypot(...at.map((c, axis) => c - state.place[axis])) < 0.002);
    if (i < 0) return null;
    const {name, facing} = data.results.readings[i], figure = page.findings.value(i, state.quantity);
    return figure && el("p", {}, named(name, 30), ", read at that very place",
      facing === "brightest" ? " and turned to the brightest" : "", ": ", el("strong", {}, words.figure(state.quantity, figure.value)));
  }

  function update() {
    const cell = cellAt(data.grid, state.place);
    if (cell < 0 || data.grid.free[cell] === 0) {
      show(shown, el("p", {class: "big"}, cell < 0 ? "Outside" : "No free space here"));
      say("No reading here");
      return;
    }
    const value = (quantity) => light.field(quantity)[cell], where = words.place(cellCentre(data.grid, cell));
    show(shown,
      el("p", {class: "big", "data-quantity": state.quantity, "data-value": value(state.quantity)},
        words.figure(state.quantity, value(state.quantity))),
      el("p", {class: "note"}, `facing up, in the cell around ${where}`),
      namedReading(),
      el("dl", {class: "all"}, shownQuantities(page).filter((name) => name !== state.quantity).map((name) =>
        el("div", {}, el("dt", {}, words.label(name)), el("dd", {class: "num"}, words.amount(name, value(name)))))),
      el("p", {class: "legend-title"}, "Where it comes from"), parts(cell) ?? el("p", {class: "note"}, "No lamp gives any."));
    say(`${words.figure(state.quantity, value(state.quantity))} at ${where}`);
  }
  return {element, update};
}
