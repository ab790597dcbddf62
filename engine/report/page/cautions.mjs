// What must be said beside any figure.
import {el} from "./dom.mjs";

export function cautionsSection(page) {
  const {cautions} = page.data.results;
  if (!cautions.length) return null;
  const element = el("section", {id: "cautions", "aria-labelledby": "cautions-title"},
    el("h2", {id: "cautions-title"}, "Cautions"),
    el("ul", {class: "cautions"}, cautions.map(({text}) => el("li", {}, text))));
  return {element, update() {}, follows: []};
}
