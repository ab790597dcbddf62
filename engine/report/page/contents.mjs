// What is further down, as links.
import {el} from "./dom.mjs";

export function makeContents(sections) {
  return el("nav", {class: "contents", "aria-label": "Further down"}, el("ul", {}, sections.map(({element}) =>
    el("li", {}, el("a", {href: `#${element.id}`}, element.querySelector("h2").textContent)))));
}
