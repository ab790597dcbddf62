// Signs that tell a verdict by shape and letter as well as by colour.
import {el, svg} from "./dom.mjs";

const SHAPES = {
  bad: ["M12 1.5 L23 21.5 L1 21.5 Z", "M12 8.5 V15 M12 17.6 V19.2"],
  unsure: ["M12 1 L23 12 L12 23 L1 12 Z", "M9 9.5 a3 3 0 1 1 4.4 2.6 q-1.4 .8 -1.4 2.2 M12 16.4 V18"],
  good: ["M12 1.5 a10.5 10.5 0 1 0 .01 0 Z", "M6.8 12.4 L10.6 16.2 L17.4 8.2"],
  none: ["M2 4 H22 V20 H2 Z", "M7.5 12 H16.5"],
};
export const SIGN_WORDS = {bad: "Not as wanted", unsure: "Too close to call", good: "As wanted", none: "Not asked"};

// `word`: what a screen reader says for it; null where a text beside it says so.
export function sign(status, word = SIGN_WORDS[status]) {
  const [outline, mark] = SHAPES[status];
  const drawing = svg("svg", {viewBox: "0 0 24 24", class: `sign ${status}`, "aria-hidden": "true", focusable: "false"},
    svg("path", {class: "shape", d: outline}), svg("path", {class: "mark", d: mark}));
  return word ? [drawing, el("span", {class: "unseen"}, word + ": ")] : [drawing];
}
