// What must be said beside any figure.
import {el} from "./dom.mjs";

export function cautionsSection(page) {
  const {cautions} = page.data.results;
  if (!cautions.length) return null;
  const element = el("section", {id: "cautions", "aria-labelledby": "cautions-title"},
    el("h2", {id: "cautions-title"}, "Cautions"),
    el("ul", {class: "cautions"}, cautions.map(({kind, text, reason}) => el("li", {"data-kind": kind}, text,
      reason && el("details", {}, el("summary", {}, "Why", el("span", {class: "unseen"}, ` it is said: ${text}`)), el("p", {}, reason))))));
  return {element, update() {}, follows: []};
}
