// Perches, points, the place with the most in reach, axes and names on a view.
import {clipped} from "./dom.mjs";
import {number} from "./numbers.mjs";
import {cased} from "./draw_field.mjs";

function diamond(x, y, r) {
  return new Path2D(`M${x} ${y - r} L${x + r} ${y} L${x} ${y + r} L${x - r} ${y} Z`);
}
function square(x, y, r) {
  return new Path2D(`M${x - r} ${y - r} h${2 * r} v${2 * r} h${-2 * r} Z`);
}

export function drawMarks(ctx, frame, page, at, near, labels, style) {
  const {data, state} = page, {n} = frame.axes, names = [];
  const section = frame.view !== "plan";
  for (const {name, kind, at: place} of data.results.readings) {
    if (kind === "plant") continue;
    const [x, y] = frame.spot(place), here = Math.abs(place[n] - at) <= near, {plot} = frame;
    if (x < plot.x || x > plot.x + plot.width || y < plot.y || y > plot.y + plot.height) continue;
    const shape = kind === "perch" ? diamond : square, r = (kind === "perch" ? 7 : 5) * (here ? 1 : 0.8);
    cased(ctx, shape(x, y, r), {width: 1.6, colour: style.ink, halo: style.halo});
    ctx.fillStyle = here ? style.ink : style.halo;
    ctx.fill(shape(x, y, r));
    if (here) {
      ctx.fillStyle = style.halo;
      ctx.fill(shape(x, y, r * 0.4));
    }
    labels.block(x, y, r + 1);
    if (here || section) names.push({text: clipped(name, 20), x, y, r, here});
  }
  const hottest = {uvi: "uvi", irradiance: "irradiance"}[state.quantity];
  const found = hottest && page.findings.hottest(hottest);
  if (found && Math.abs(found.at[n] - at) <= near) {
    const [x, y] = frame.spot(found.at), cross = new Path2D(`M${x - 6} ${y - 6} l12 12 m0 -12 l-12 12`);
    cased(ctx, cross, {width: 2.6, colour: style.never, halo: style.halo});
    labels.block(x, y, 8);
    names.push({text: page.words.figure(hottest, found.value), x, y, r: 8, here: true});
  }
  names.sort((a, b) => b.here - a.here);
  for (const {text, x, y, r, here} of names)
    labels.beside(text, x, y, r, {...style.label, colour: here ? style.ink : style.muted});
}

export function writeNames(labels, names, style) {
  for (const {text, x, y} of names) {
    const short = clipped(text, 18), look = {...style.label, colour: style.leaf};
    if (!labels.at(short, x, y, look)) labels.beside(short, x, y, 8, look);
  }
}

export function writeContourLabels(labels, list, style) {
  for (const {text, along} of list)
    for (const share of [0.5, 0.35, 0.65, 0.2, 0.8, 0.1, 0.9]) {
      const [x, y] = along[Math.floor(share * (along.length - 1))];
      if (labels.at(text, x, y, {...style.label, colour: style.ink})) break;
    }
}

const AXIS_NAMES = ["left to right", "front to back", "height"];

export function drawAxes(ctx, frame, lengths, style) {
  const {plot, axes} = frame, bottom = plot.y + plot.height + 2, left = plot.x - 2;
  ctx.strokeStyle = ctx.fillStyle = style.outside;
  ctx.lineWidth = 1;
  ctx.font = style.label.font;
  ctx.textBaseline = "top";
  ctx.textAlign = "center";
  ctx.beginPath();
  for (const u of lengths.ticks(frame.u0, frame.u1, Math.max(2, Math.floor(plot.width / 44)))) {
    const x = frame.x(u);
    ctx.moveTo(x, bottom), ctx.lineTo(x, bottom + 5);
    ctx.fillText(number(u / lengths.size(), 4), x, bottom + 7);
  }
  ctx.textAlign = "right";
  ctx.textBaseline = "middle";
  for (const v of lengths.ticks(frame.v0, frame.v1, Math.max(2, Math.floor(plot.height / 34)))) {
    const y = frame.y(v);
    ctx.moveTo(left, y), ctx.lineTo(left - 5, y);
    ctx.fillText(number(v / lengths.size(), 4), left - 7, y);
  }
  ctx.stroke();
  ctx.fillStyle = style.outsideMuted;
  ctx.textAlign = "center";
  ctx.textBaseline = "top";
  ctx.fillText(`${AXIS_NAMES[axes.u]}, ${lengths.unit()}`, plot.x + plot.width / 2, bottom + 22);
  ctx.save();
  ctx.translate(1, plot.y + plot.height / 2);
  ctx.rotate(-Math.PI / 2);
  ctx.fillText(`${AXIS_NAMES[axes.v]}, ${lengths.unit()}`, 0, 0);
  ctx.restore();
}
