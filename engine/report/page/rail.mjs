// Figures side by side on one scale: a row each, with a band where there is one, over zones that say what it means.
import {clipped, svg} from "./dom.mjs";
import {number} from "./numbers.mjs";

// Of every drawing that is made of rows, in units of its own: wide enough for a phone's letters.
export const RAIL = {width: 420, left: 12, right: 408};
const RAIL_ROW = 38, RAIL_HEAD = 22, RAIL_FOOT = 40;

// `axis`: {low, high, logarithmic, ticks, text, label}. `zones`: [{from, to, name, kind}]. `rows`: [{name, value, low,
// high, text, kind}], `low` and `high` the ends of a band, `value` left out where there is none.
export function railChart({label, axis, zones = [], rows}) {
  const {left, right} = RAIL;
  const x = (value) => {
    const share = axis.logarithmic ? Math.log(Math.max(value, axis.low) / axis.low) / Math.log(axis.high / axis.low)
      : (value - axis.low) / (axis.high - axis.low);
    return left + (right - left) * Math.min(Math.max(share, 0), 1);
  };
  const top = zones.length ? RAIL_HEAD : 4, bottom = top + RAIL_ROW * rows.length, height = bottom + RAIL_FOOT;
  const room = (zone) => x(zone.to) - x(zone.from);
  return svg("svg", {viewBox: `0 0 ${RAIL.width} ${height}`, class: "chart rail", role: "img", "aria-label": label},
    zones.map((zone) => [
      svg("rect", {class: `zone ${zone.kind}`, x: x(zone.from), y: top, width: Math.max(0, room(zone)), height: bottom - top}),
      room(zone) > 6.5 * zone.name.length && svg("text", {class: "zone-name", x: (x(zone.from) + x(zone.to)) / 2, y: top - 7,
        "text-anchor": "middle"}, zone.name)]),
    axis.ticks.map((tick) => [
      svg("path", {class: "grid", d: `M${x(tick)} ${top} V${bottom}`}),
      svg("text", {x: x(tick), y: bottom + 15, "text-anchor": "middle"}, (axis.text ?? number)(tick))]),
    svg("path", {class: "axis", d: `M${left} ${bottom} H${right}`}),
    svg("text", {class: "axis-name", x: (left + right) / 2, y: height - 5, "text-anchor": "middle"}, axis.label),
    rows.map(({name, value, low, high, text, kind = ""}, i) => {
      const y = top + RAIL_ROW * i + 27, line = top + RAIL_ROW * i + 15;
      return [
        svg("text", {class: "row-name", x: left + 2, y: line}, clipped(name, 34)),
        svg("text", {class: "row-text", x: right - 2, y: line, "text-anchor": "end"}, text),
        low !== undefined && svg("path", {class: `row-band ${kind}`, d: `M${x(low)} ${y} H${x(high)} M${x(low)} ${y - 5} v10 M${x(high)} ${y - 5} v10`}),
        value !== undefined && svg("path", {class: `row-value ${kind}`, d: `M${x(value)} ${y - 7} l6 7 l-6 7 l-6 -7 Z`})];
    }));
}
