// The title, and how the page shows itself: unit, colours, print.
import {clipped, choices, el, press} from "./dom.mjs";
import {unitChoices} from "./lengths.mjs";

export const THEMES = [["auto", "Auto"], ["light", "Light"], ["dark", "Dark"]];

// At once, since drawings take their colours from what this sets.
export function chooseTheme(state, theme) {
  state.theme = theme;
  if (theme === "auto") delete document.documentElement.dataset.theme;
  else document.documentElement.dataset.theme = theme;
}

export function makeHeader(page) {
  const {data, state} = page, {results} = data;
  const title = results.title || results.scene;
  const units = choices("Lengths in", unitChoices(data.scene.length_unit).map((value) => ({value, text: value})), state.unit,
    (value) => page.change("unit", () => { state.unit = value; }));
  const degrees = results.warmth && choices("Temperatures in", [{value: "C", text: "°C"}, {value: "F", text: "°F"}], state.degrees,
    (value) => page.change("unit", () => { state.degrees = value; }));
  const themes = choices("Colours", THEMES.map(([value, text]) => ({value, text})), state.theme,
    (value) => page.change("theme", () => chooseTheme(state, value)));
  matchMedia("(prefers-color-scheme: dark)").addEventListener("change", () => page.change("theme", () => {}));
  const element = el("header", {},
    el("a", {class: "skip", href: "#glance"}, "To the answers"),
    el("div", {class: "titles"},
      el("h1", {}, el("bdi", {title: title.length > 90 ? title : null}, clipped(title, 90))),
      el("p", {class: "note"}, el("bdi", {}, clipped(results.scene, 60)), `, Boughlight ${results.version}`)),
    el("div", {class: "tools"}, units, degrees, themes,
      el("button", {type: "button", on: {click: () => window.print()}}, "Print")));
  return {element, follows: ["unit", "theme"], update() {
    press(themes, state.theme);
    press(units, state.unit);
    if (degrees) press(degrees, state.degrees);
  }};
}
