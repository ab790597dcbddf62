// A choice by name, with its label.
import {el, freshId} from "./dom.mjs";

// `options`: texts; `pick` gets the number of the one that is chosen.
export function picker(label, options, chosen, pick) {
  const id = freshId("pick");
  const select = el("select", {id, on: {change: () => pick(Number(select.value))}},
    options.map((text, i) => el("option", {value: i, selected: i === chosen}, text)));
  return el("span", {class: "picker"}, el("label", {for: id}, label, " "), select);
}
