// Look inside: three slices that belong together, the place that they meet in, and what it reads.
import {choices, el, press} from "./dom.mjs";
import {extents, frameOf, scaleFor} from "./frames.mjs";
import {lampPanel} from "./lamp_panel.mjs";
import {makeLegend} from "./legend.mjs";
import {makeReadout} from "./readout.mjs";
import {placePanel} from "./place_panel.mjs";
import {makeView} from "./view.mjs";

const FIRST = ["uvi", "irradiance", "infrared", "lux", "ppfd", "dli"];
const SHORT = {uvi: "UV index", irradiance: "All radiation", infrared: "Infrared", lux: "Lux", ppfd: "PPFD", dli: "DLI"};

// Quantities that the page has a grid of, the usual ones first.
export function shownQuantities(page) {
  const all = [...page.data.quantities.keys()].filter((name) => page.light.hasField(name));
  return [...FIRST.filter((name) => all.includes(name)), ...all.filter((name) => !FIRST.includes(name))];
}

export function lookSection(page) {
  if (!page.data.grid) return null;
  const {state} = page;
  const extent = extents(page.data);
  const moved = (place) => page.change("place", () => { state.place = place; });
  const views = ["front", "side", "plan"].map((view) => makeView(page, view, moved));
  const legend = makeLegend(page), readout = makeReadout(page), panel = placePanel(page, moved);
  const lamps = lampPanel(page);
  const shown = shownQuantities(page), usual = shown.filter((name) => FIRST.includes(name));
  const pick = (value) => page.change("quantity", () => { state.quantity = value; });
  const quantities = choices("What is shown", usual.map((name) => ({value: name, text: SHORT[name],
    title: page.data.quantities.get(name).meaning})), state.quantity, pick);
  const others = el("select", {"aria-label": "Another quantity", on: {change: () => others.value && pick(others.value)}},
    el("option", {value: ""}, "Another …"), shown.filter((name) => !usual.includes(name)).map((name) =>
      el("option", {value: name}, page.words.label(name))));
  const drawings = el("div", {class: "drawings"}, views.map((view) => view.element),
    el("div", {class: "reading-panel"}, panel.element, readout.element), el("div", {class: "beside"}, legend.element, lamps.element));
  const element = el("section", {id: "look", "aria-labelledby": "look-title"},
    el("h2", {id: "look-title"}, "Look inside"),
    el("p", {class: "lead"}, "Three slices through one place. Click or tap to move the place; the lines in each view " +
      "show where the other two slices cut. Switch and dim the lamps: every figure on this page follows at once."),
    el("div", {class: "row"}, quantities, others), drawings);

  function redraw() {
    const width = drawings.clientWidth;
    if (!width) return;
    const {scale, stacked} = scaleFor(extent, Math.min(width, 860) - 12, Math.max(380, Math.min(0.78 * window.innerHeight, 720)));
    drawings.classList.toggle("stacked", stacked);
    for (const view of views) view.draw(frameOf(view.view, extent, scale));
  }
  function update() {
    press(quantities, state.quantity);
    others.value = usual.includes(state.quantity) ? "" : state.quantity;
    redraw();
    legend.update();
    lamps.update();
    panel.update();
    readout.update();
  }
  new ResizeObserver(redraw).observe(element);
  return {element, update, follows: ["light", "quantity", "place", "unit", "theme"]};
}
