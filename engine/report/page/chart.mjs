// Axes and lines for charts.
import {svg} from "./dom.mjs";
import {number} from "./numbers.mjs";

const WIDTH = 400, HEIGHT = 240, LEFT = 56, RIGHT = 380, TOP = 14, BOTTOM = 196;

// `x`, `y`: {low, high, logarithmic, ticks, label, text?}. Colours and dashes come from classes.
export function makeChart({x, y, label}) {
  const place = (axis, from, to) => (value) => {
    const share = axis.logarithmic ? Math.log(value / axis.low) / Math.log(axis.high / axis.low)
      : (value - axis.low) / (axis.high - axis.low);
    return from + (to - from) * Math.min(Math.max(share, 0), 1);
  };
  const px = place(x, LEFT, RIGHT), py = place(y, BOTTOM, TOP);
  const root = svg("svg", {viewBox: `0 0 ${WIDTH} ${HEIGHT}`, class: "chart", role: "img", "aria-label": label},
    y.ticks.map((tick) => [
      svg("path", {class: "grid", d: `M${LEFT} ${py(tick)} H${RIGHT}`}),
      svg("text", {x: LEFT - 6, y: py(tick) + 4, "text-anchor": "end"}, (y.text ?? number)(tick))]),
    x.ticks.map((tick) => [
      svg("path", {class: "tick", d: `M${px(tick)} ${BOTTOM} v5`}),
      svg("text", {x: px(tick), y: BOTTOM + 19, "text-anchor": "middle"}, (x.text ?? number)(tick))]),
    svg("path", {class: "axis", d: `M${LEFT} ${TOP} V${BOTTOM} H${RIGHT}`}),
    svg("text", {class: "axis-name", x: (LEFT + RIGHT) / 2, y: HEIGHT - 6, "text-anchor": "middle"}, x.label),
    svg("text", {class: "axis-name", transform: `translate(11 ${(TOP + BOTTOM) / 2}) rotate(-90)`, "text-anchor": "middle"}, y.label));
  const line = (points) => points.map(([a, b], i) => `${i ? "L" : "M"}${px(a).toFixed(1)} ${py(b).toFixed(1)}`).join("");

  return {
    root, px, py, right: RIGHT, bottom: BOTTOM, top: TOP,
    line: (points, kind) => { if (points.length) root.append(svg("path", {class: `curve ${kind}`, d: line(points)})); },
    area(points, kind) {
      if (points.length)
        root.append(svg("path", {class: `area ${kind}`,
          d: `${line(points)}L${px(points.at(-1)[0]).toFixed(1)} ${BOTTOM}L${px(points[0][0]).toFixed(1)} ${BOTTOM}Z`}));
    },
    // Steps of one width: values[i] from x0 + i step to x0 + (i + 1) step.
    steps(values, x0, step, kind) {
      this.area(values.flatMap((value, i) => [[x0 + i * step, value], [x0 + (i + 1) * step, value]]), kind);
    },
    mark: (a, b, kind, text) => root.append(svg("circle", {class: `dot ${kind}`, cx: px(a), cy: py(b), r: 4}),
      ...(text ? [svg("text", {x: px(a) + 7, y: py(b) - 6}, text)] : [])),
    rule: (a, text) => root.append(svg("path", {class: "mark-rule", d: `M${px(a)} ${TOP} V${BOTTOM}`}),
      svg("text", {x: px(a) + 4, y: TOP + 10}, text)),
  };
}

export function decades(low, high) {
  const ticks = [];
  for (let n = Math.ceil(Math.log10(low) - 1e-9); n <= Math.log10(high) + 1e-9; ++n) ticks.push(10 ** n);
  return ticks;
}
