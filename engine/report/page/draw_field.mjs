// A quantity on a slice: colours, and lines at limits.
import {contourLines} from "./contour.mjs";
import {clamp, number} from "./numbers.mjs";

function hatch(ctx, frame, patch, style) {
  const [x, y] = [frame.x(patch.u0), frame.y(patch.v0 + patch.nv * patch.dv)];
  const width = patch.nu * patch.du * frame.scale, height = patch.nv * patch.dv * frame.scale;
  ctx.fillStyle = style.hatchGround;
  ctx.fillRect(x, y, width, height);
  ctx.strokeStyle = style.hatch;
  ctx.lineWidth = 1;
  ctx.beginPath();
  for (let d = -height; d < width; d += 7) ctx.moveTo(x + d, y + height), ctx.lineTo(x + d + height, y);
  ctx.stroke();
}

function rectOf(frame, patch) {
  const [x, y] = [frame.x(patch.u0), frame.y(patch.v0 + patch.nv * patch.dv)];
  return [x, y, patch.nu * patch.du * frame.scale, patch.nv * patch.dv * frame.scale];
}

// Knots to a cell's edge: some four pixels apart.
export function finenessFor(slice, frame) {
  const cell = Math.min(...slice.patches.map((patch) => Math.min(patch.du, patch.dv))) * frame.scale;
  return clamp(Math.round(cell / 4), 1, 6);
}

export function drawColours(ctx, frame, lattices, quantity, colours, style) {
  for (const lattice of lattices) {
    const {columns, rows, value, patch} = lattice;
    const image = new ImageData(columns, rows);
    let blocked = false;
    for (let j = 0; j < rows; ++j)
      for (let i = 0; i < columns; ++i) {
        const here = value[i + columns * j];
        const to = 4 * (i + columns * (rows - 1 - j));
        if (Number.isNaN(here)) {
          blocked = true;
          continue;
        }
        const from = colours.step(quantity, here);
        image.data[to] = colours.ramp[from];
        image.data[to + 1] = colours.ramp[from + 1];
        image.data[to + 2] = colours.ramp[from + 2];
        image.data[to + 3] = 255;
      }
    const small = document.createElement("canvas");
    small.width = columns, small.height = rows;
    small.getContext("2d").putImageData(image, 0, 0);
    ctx.save();
    ctx.beginPath();
    ctx.rect(...rectOf(frame, patch));
    ctx.clip();
    if (blocked) hatch(ctx, frame, patch, style);
    // A pixel's middle is a knot, so the picture reaches half a step past the outermost ones.
    const step = lattice.du * frame.scale, rise = lattice.dv * frame.scale;
    const [x, y] = rectOf(frame, patch);
    ctx.imageSmoothingEnabled = true;
    ctx.drawImage(small, x - step / 2, y - rise / 2, columns * step, rows * rise);
    ctx.restore();
  }
}

export function cased(ctx, path, {width, colour, halo, dash = []}) {
  ctx.lineJoin = ctx.lineCap = "round";
  ctx.setLineDash([]);
  ctx.strokeStyle = halo;
  ctx.lineWidth = width + 3;
  ctx.stroke(path);
  ctx.setLineDash(dash);
  ctx.strokeStyle = colour;
  ctx.lineWidth = width;
  ctx.stroke(path);
  ctx.setLineDash([]);
}

export const LIMIT_SIGNS = {at_least: "≥", at_most: "≤", never: "never >"};

function pathOf(frame, run) {
  const path = new Path2D();
  run.forEach(([u, v], i) => (i ? path.lineTo(frame.x(u), frame.y(v)) : path.moveTo(frame.x(u), frame.y(v))));
  return path;
}

// Limits as strong lines, the scale's ticks as thin ones; returns the labels' places, for after the scene is drawn.
export function drawContours(ctx, frame, lattices, data, quantity, style) {
  const limits = data.limits[quantity] ?? [], ticks = data.scales[quantity].ticks;
  const labels = [];
  const lines = (level) => lattices.flatMap((lattice) => contourLines(lattice, level)).filter((run) => run.length > 3)
    .sort((a, b) => b.length - a.length);
  for (const tick of ticks) {
    if (limits.some((limit) => limit.value === tick) || tick <= 0) continue;
    ctx.strokeStyle = style.thin;
    ctx.lineWidth = 1;
    for (const run of lines(tick)) ctx.stroke(pathOf(frame, run));
  }
  for (const limit of limits) {
    const never = limit.kind === "never", runs = lines(limit.value);
    for (const run of runs)
      cased(ctx, pathOf(frame, run), {width: never ? 3.4 : 2, colour: never ? style.never : style.ink, halo: style.halo});
    const [longest] = runs;
    if (longest) labels.push({text: `${LIMIT_SIGNS[limit.kind]} ${number(limit.value)}`,
      along: longest.map(([u, v]) => [frame.x(u), frame.y(v)])});
  }
  return labels;
}
