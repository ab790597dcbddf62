// The outline of a body with its readings, and the stretches of light along it, to one scale.
import {svg} from "./dom.mjs";
import {NO_BREAK, number} from "./numbers.mjs";
import {RAIL} from "./rail.mjs";

const BEAMS = [["lux", "bright light", "beam-light"], ["uvi", "ultraviolet", "beam-uv"], ["infrared", "heat", "beam-heat"]];

export function bodyDrawing(page, body, quantity) {
  const {words, lengths, colours} = page, {length, height} = body, {left, right} = RAIL, top = 30;
  const beams = BEAMS.filter(([name]) => body.beams[name]).map(([name, text, kind]) => ({text, kind, ...body.beams[name]}));
  // What is asked is the body; stretches that go on beyond the picture end in arrows.
  const reach = Math.max(0.75 * length, ...beams.flatMap(({from, to}) => [-from, to].map((end) => Math.min(end, 1.6 * length))));
  const x = (along) => left + (right - left) * (Math.min(Math.max(along, -reach), reach) + reach) / (2 * reach);
  const scale = (right - left) / (2 * reach), tall = Math.max(height * scale, 34), flankY = top + tall;
  const places = body.places.filter(({values}) => values[quantity]);
  const text = ({values}) => words.amount(quantity, values[quantity].value).split(NO_BREAK)[0];
  // Figures where there is room: along each row every so many places.
  const every = Math.max(1, Math.ceil(34 / Math.max(1, (length * scale) / 8)));
  const [bodyFrom, bodyTo] = [x(-length / 2), x(length / 2)];
  let y = flankY + 34;
  const bars = beams.map((beam) => {
    const at = y;
    y += 34;
    const [a, b] = [x(beam.from), x(beam.to)];
    const arrow = (end, way) => svg("path", {class: "beam-end", d: `M${end} ${at + 4} l${8 * way} 5 l${-8 * way} 5`});
    return [
      svg("text", {class: "row-name", x: left, y: at}, beam.text),
      svg("text", {class: "row-text", x: right, y: at, "text-anchor": "end"},
        `${beam.open_from || beam.open_to ? "more than " : ""}${lengths.text(beam.to - beam.from)} wide`),
      svg("rect", {class: beam.kind, x: a, y: at + 5, width: Math.max(2, b - a), height: 9}),
      (beam.open_from || beam.from < -reach) && arrow(a, -1), (beam.open_to || beam.to > reach) && arrow(b, 1),
      svg("path", {class: "beam-peak", d: `M${x(beam.greatest_at)} ${at + 3} v13`})];
  });
  const bottom = y - 6, ticks = lengths.ticks(-reach, reach, 7);
  const mark = (place, i) => {
    const [cx, cy] = [x(place.along), place.row === "flank" ? flankY : top];
    const fill = `rgb(${colours.of(quantity, place.values[quantity].value).join(" ")})`, numbered = i % every === 0;
    return [
      place.wants_met === false
        ? svg("circle", {class: "place off", cx, cy, r: 6}) : svg("circle", {class: "place", cx, cy, r: 7, fill}),
      numbered && svg("text", {x: cx, y: cy + (place.row === "flank" ? 21 : -12), "text-anchor": "middle"}, text(place))];
  };
  const rowOf = (row) => places.filter((place) => place.row === row);
  const say = (row) => rowOf(row).map(text).join(", ");
  return svg("svg", {viewBox: `0 0 ${RAIL.width} ${bottom + 40}`, class: "chart body", role: "img",
    "aria-label": `${words.heading(quantity)} on ${body.perch}, along the back: ${say("back")}; along the flank: ${say("flank")}. ` +
      beams.map((beam) => `${beam.text} is at least half of its greatest over ${lengths.text(beam.to - beam.from)}`).join("; ")},
  svg("rect", {class: "under-body", x: bodyFrom, y: top, width: bodyTo - bodyFrom, height: bottom - top}),
  svg("rect", {class: "outline", x: bodyFrom, y: top, width: bodyTo - bodyFrom, height: tall, rx: 12}),
  rowOf("back").map(mark), rowOf("flank").map(mark), bars,
  ticks.map((tick) => [svg("path", {class: "tick", d: `M${x(tick)} ${bottom} v5`}),
    svg("text", {x: x(tick), y: bottom + 18, "text-anchor": "middle"}, number(tick / lengths.size(), 4))]),
  svg("path", {class: "axis", d: `M${left} ${bottom} H${right}`}),
  svg("text", {class: "axis-name", x: (left + right) / 2, y: bottom + 35, "text-anchor": "middle"}, `along the body from the perch's reading, ${lengths.unit()}`));
}
