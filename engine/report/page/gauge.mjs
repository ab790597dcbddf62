// A reading against what is wanted: the wanted stretch as a bar, the reading as a mark with its doubt. A picture of
// what the words beside it say.
import {svg} from "./dom.mjs";
import {number, niceTicks} from "./numbers.mjs";

const SPAN = 300, TALL = 46, START = 8, END = 292, LINE = 24;

// `doubt`: half width of the interval around `value` that the computation itself leaves; `band`: {low, high}, where the
// true figure lies if what was declared varies.
export function gauge({value, text = number(value), doubt = 0, band = null, min, max, status}) {
  const greatest = Math.max(value + doubt, band?.high ?? 0, max ?? 0, min ?? 0) * 1.1 || 1;
  const x = (amount) => START + (END - START) * Math.min(amount / greatest, 1);
  const from = x(min > 0 ? min : 0), to = max === undefined ? END : x(max);
  const ends = [min > 0 ? min : null, max].filter((end) => end !== null && end !== undefined);
  const mark = x(value);
  return svg("svg", {viewBox: `0 0 ${SPAN} ${TALL}`, class: `gauge ${status}`, "aria-hidden": "true", focusable: "false"},
    svg("path", {class: "rule", d: `M${START} ${LINE} H${END}`}),
    niceTicks(0, greatest, 6).map((tick) => svg("path", {class: "rule", d: `M${x(tick)} ${LINE - 3} v6`})),
    svg("rect", {class: "wanted", x: from, y: LINE - 6, width: Math.max(0, to - from), height: 12}),
    ends.map((end) => [
      svg("path", {class: "end", d: `M${x(end)} ${LINE - 10} v20`}),
      svg("text", {x: x(end), y: TALL - 2, "text-anchor": "middle"}, number(end)),
    ]),
    band && svg("path", {class: "band", d: `M${x(band.low)} ${LINE - 4} v8 M${x(band.low)} ${LINE} H${x(band.high)} M${x(band.high)} ${LINE - 4} v8`}),
    doubt > 0 && svg("path", {class: "doubt", d: `M${x(Math.max(0, value - doubt))} ${LINE} H${x(value + doubt)}`}),
    svg("path", {class: "value", d: `M${mark} ${LINE - 9} l7 9 l-7 9 l-7 -9 Z`}),
    svg("text", {class: "figure", x: Math.min(Math.max(mark, 20), SPAN - 20), y: 11, "text-anchor": "middle"},
      text));
}
