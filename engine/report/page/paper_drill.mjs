// The drilling plan: where each lamp hangs, from the left and the front edge of the top below it.
import {aimText, alongText} from "./directions.mjs";
import {el, named, svg} from "./dom.mjs";
import {clock, number} from "./numbers.mjs";
import {spansNow} from "./hours.mjs";

const PLAN_WIDTH = 620, PLAN_MARGIN = 44;

// The highest box below a lamp, else the highest of all.
function topBelow(data, lamp) {
  const tops = data.scene.boxes.filter(({corner, size}) =>
    [0, 1].every((axis) => lamp.at[axis] >= corner[axis] && lamp.at[axis] <= corner[axis] + size[axis]));
  const height = (box) => box.corner[2] + box.size[2];
  return (tops.length ? tops : data.scene.boxes).reduce((a, b) => (height(b) > height(a) ? b : a));
}

// The top with its lamps; below it and to its left one measure a lamp, each on a line of its own.
function planDrawing(page, top, lamps) {
  const {lengths} = page, STEP = 19, beside = STEP * (lamps.length + 1) + 14;
  const scale = Math.min((PLAN_WIDTH - beside - PLAN_MARGIN) / top.size[0], 300 / top.size[1]);
  const [width, height] = [top.size[0] * scale, top.size[1] * scale], ROOM = 40;
  const [left, bottom] = [beside + 8, ROOM + height];
  const x = (at) => left + (at - top.corner[0]) * scale, y = (at) => bottom - (at - top.corner[1]) * scale;
  const level = (to, row, text) => {
    const at = bottom + 12 + STEP * row;
    return [svg("path", {class: "dimension", d: `M${left} ${at - 4} v8 M${to} ${at - 4} v8 M${left} ${at} H${to}`}),
      svg("path", {class: "extension", d: `M${to} ${bottom} V${at}`}),
      svg("text", {class: "dimension-text", x: (left + to) / 2, y: at + 4, "text-anchor": "middle"}, text)];
  };
  const upright = (to, row, text) => {
    const at = left - 12 - STEP * row;
    return [svg("path", {class: "dimension", d: `M${at - 4} ${bottom} h8 M${at - 4} ${to} h8 M${at} ${bottom} V${to}`}),
      svg("path", {class: "extension", d: `M${left} ${to} H${at}`}),
      svg("text", {class: "dimension-text", "text-anchor": "middle", transform: `translate(${at + 4} ${(bottom + to) / 2}) rotate(-90)`}, text)];
  };
  return svg("svg", {viewBox: `0 0 ${left + width + PLAN_MARGIN} ${bottom + STEP * (lamps.length + 1) + 22}`, class: "plan", role: "img",
    "aria-label": `The top from above with ${lamps.length} lamps; the table holds the measures`},
    svg("rect", {class: "top-outline", x: left, y: ROOM, width, height}),
    svg("text", {x: left + width / 2, y: 14, "text-anchor": "middle"}, "back"),
    svg("text", {x: left + width + 6, y: bottom + 16}, "front"),
    lamps.map(({lamp, label}, i) => {
      const [cx, cy] = [x(lamp.at[0]), y(lamp.at[1])];
      const outline = lamp.outlines.plan.map(([u, v], k) => `${k ? "L" : "M"}${(cx + u * scale).toFixed(1)} ${(cy - v * scale).toFixed(1)}`);
      return svg("g", {},
        svg("path", {class: "lamp-outline", d: outline.join("") + "Z"}),
        svg("path", {class: "extension", d: `M${cx} ${cy} V${bottom} M${left} ${cy} H${cx}`}),
        level(cx, i, `${label} ${lengths.number(lamp.at[0] - top.corner[0])}`),
        upright(cy, i, `${label} ${lengths.number(lamp.at[1] - top.corner[1])}`),
        svg("path", {class: "centre", d: `M${cx - 6} ${cy} h12 M${cx} ${cy - 6} v12`}),
        svg("text", {class: "lamp-letter", x: cx + 8, y: cy - 8}, label));
    }),
    level(left + width, lamps.length, lengths.text(top.size[0])), upright(ROOM, lamps.length, lengths.text(top.size[1])));
}

export function drillSheet(page) {
  const {data, state, lengths} = page;
  const lamps = data.scene.lamps.map((lamp, i) => ({lamp, setting: state.lamps[i], source: data.sources[i],
    label: String.fromCharCode(65 + (i % 26)), top: topBelow(data, lamp)}));
  if (!lamps.length) return [el("p", {}, "No lamps are declared.")];
  const tops = [...new Set(lamps.map(({top}) => top))];
  const rows = lamps.map(({lamp, setting, source, label, top}) => el("tr", {},
    el("th", {scope: "row"}, label, " ", named(lamp.name, 30)),
    el("td", {}, lengths.text(lamp.at[0] - top.corner[0])), el("td", {}, lengths.text(lamp.at[1] - top.corner[1])),
    el("td", {}, lamp.gap === null ? `inside or beside: its middle ${lengths.text(lamp.at[2])} up` : lengths.text(lamp.gap)),
    el("td", {}, lamp.shape === "tube" || lamp.shape === "rectangle" ? alongText(lamp.along) : "–"),
    el("td", {}, aimText(lamp.aim)),
    el("td", {}, !setting ? `${number(100 * lamp.dim)} %` : setting.on ? `${number(100 * setting.dim)} %` : "off"),
    el("td", {}, source?.lit ? spansNow(source, setting.hours).map(([a, b]) => `${clock(a)}–${clock(b)}`).join(", ") : "–"),
    el("td", {}, lamp.power_w === null ? "–" : `${number(lamp.power_w)} W`)));
  return [
    el("p", {}, `Measures in ${lengths.unit()}, to the middle of what shines (not of the housing), from the left and the front `,
      "edge of the top, seen from above. The gap runs from the lowest point of what shines to the mesh."),
    tops.map((top) => planDrawing(page, top, lamps.filter((one) => one.top === top))),
    el("table", {}, el("thead", {}, el("tr", {}, ["Lamp", "From left", "From front", "Gap", "Lies", "Points", "Dimmer", "Lit", "Takes"]
      .map((head) => el("th", {scope: "col"}, head)))), el("tbody", {}, rows)),
    el("ul", {class: "small"}, ["Before drilling, hold the lamp there and look along it at the perch.",
      "Each lamp gets a second, independent fixing, and a ceramic holder where it is hot; keep the maker's distances to wood, mesh and leaves.",
      "Mains off while you work; drip loops and residual-current protection; fixed wiring is an electrician's."]
      .map((text) => el("li", {}, text)))];
}
