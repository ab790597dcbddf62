// What stands in and around the enclosure on a view: walls, branches, boards, crowns and lamps.
import {clipped} from "./dom.mjs";
import {cased} from "./draw_field.mjs";

function lines(frame, places, close = false) {
  const path = new Path2D();
  places.forEach((place, i) => (i ? path.lineTo(...frame.spot(place)) : path.moveTo(...frame.spot(place))));
  if (close) path.closePath();
  return path;
}

// The part of a straight piece whose distance from the cut is at most `within`, or null.
function nearPart(p, q, n, at, within) {
  const [a, b] = [p[n] - at, q[n] - at], slope = b - a;
  let [from, to] = [0, 1];
  if (Math.abs(slope) < 1e-12) {
    if (Math.abs(a) > within) return null;
  } else {
    const [s, t] = [(-within - a) / slope, (within - a) / slope];
    from = Math.max(0, Math.min(s, t)), to = Math.min(1, Math.max(s, t));
    if (from >= to) return null;
  }
  return [from, to].map((share) => p.map((c, axis) => c + share * (q[axis] - c)));
}

export function drawBranches(ctx, frame, data, at, near, style) {
  const {n} = frame.axes;
  for (const {path, diameter} of data.scene.branches) {
    cased(ctx, lines(frame, path), {width: 1.4, colour: style.bark, halo: style.halo, dash: [3, 4]});
    const width = Math.max(3, diameter * frame.scale);
    for (let i = 0; i + 1 < path.length; ++i) {
      const part = nearPart(path[i], path[i + 1], n, at, near + diameter / 2);
      if (!part) continue;
      ctx.lineCap = "round";
      for (const [w, colour] of [[width + 3.5, style.halo], [width + 1.5, style.ink], [width, style.bark]]) {
        ctx.lineWidth = w;
        ctx.strokeStyle = colour;
        ctx.stroke(lines(frame, part));
      }
    }
  }
  for (const {corner, edges: [e, f]} of data.scene.boards) {
    const add = (a, b) => a.map((c, axis) => c + b[axis]);
    const corners = [corner, add(corner, e), add(add(corner, e), f), add(corner, f)];
    const off = corners.map((place) => place[n] - at);
    if (Math.min(...off) > near || Math.max(...off) < -near) continue;
    const outline = lines(frame, corners, true);
    ctx.fillStyle = style.bark + "8c";
    ctx.fill(outline);
    cased(ctx, outline, {width: 2.4, colour: style.bark, halo: style.halo});
  }
}

// Returns the names to be written and where.
export function drawCrowns(ctx, frame, data, at, style) {
  const {u, v, n} = frame.axes, names = [];
  for (const {name, at: centre, radii} of data.scene.plants) {
    const relative = (centre[n] - at) / radii[n];
    if (Math.abs(relative) >= 1) continue;
    const shrunk = Math.sqrt(1 - relative * relative) * frame.scale;
    const [x, y] = frame.spot(centre), outline = new Path2D();
    outline.ellipse(x, y, radii[u] * shrunk, radii[v] * shrunk, 0, 0, 2 * Math.PI);
    cased(ctx, outline, {width: 2, colour: style.leafEdge, halo: style.halo, dash: [8, 5]});
    names.push({text: name, x, y});
  }
  return names;
}

const WALLS = {matte: {width: 3.2}, leaf: {width: 3.2}, mesh: {width: 2.4, dash: [5, 4]}, pane: {width: 1.6},
  open: {width: 1.2, dash: [1, 5]}};

export function drawWalls(ctx, frame, data, at, style) {
  const {n} = frame.axes;
  ctx.lineCap = "butt";
  for (const {corner, size} of data.scene.boxes) {
    if (corner[n] <= at && at <= corner[n] + size[n]) continue;
    ctx.strokeStyle = style.muted;
    ctx.lineWidth = 1.2;
    ctx.setLineDash([6, 5]);
    const far = corner.map((c, axis) => c + size[axis]);
    const [x0, y1] = frame.spot(corner), [x1, y0] = frame.spot(far);
    ctx.strokeRect(x0, y0, x1 - x0, y1 - y0);
    ctx.setLineDash([]);
  }
  for (const {corner, edges: [e, f], kind} of data.scene.faces) {
    const far = corner.map((c, axis) => c + e[axis] + f[axis]);
    const [low, high] = [Math.min(corner[n], far[n]), Math.max(corner[n], far[n])];
    // A face that the cut meets is seen as a line.
    if (high - low < 1e-9 || low > at || high < at) continue;
    cased(ctx, lines(frame, [corner, far]), {...WALLS[kind], colour: style.ink, halo: style.halo});
    if (kind === "pane") {
      ctx.lineWidth = 0.8;
      ctx.strokeStyle = style.halo;
      ctx.stroke(lines(frame, [corner, far]));
    }
  }
}

function arrow(ctx, frame, lamp, style) {
  const {u, v} = frame.axes, [x, y] = frame.spot(lamp.at);
  const [dx, dy] = [lamp.aim[u], -lamp.aim[v]], length = Math.hypot(dx, dy);
  if (length < 0.3) return;
  const start = lamp.half_size[2] * frame.scale + 4;
  const [fx, fy] = [x + dx * start, y + dy * start], [tx, ty] = [fx + 15 * dx, fy + 15 * dy];
  const [ex, ey] = [dx / length, dy / length], path = new Path2D();
  path.moveTo(fx, fy), path.lineTo(tx, ty);
  path.moveTo(tx - 5 * ex - 4 * ey, ty - 5 * ey + 4 * ex), path.lineTo(tx, ty);
  path.lineTo(tx - 5 * ex + 4 * ey, ty - 5 * ey - 4 * ex);
  cased(ctx, path, {width: 1.6, colour: style.lampEdge, halo: style.halo});
}

export function drawLamps(ctx, frame, data, lamps, labels, style) {
  data.scene.lamps.forEach((lamp, i) => {
    const [x, y] = frame.spot(lamp.at), outline = new Path2D(), setting = lamps[i];
    const {plot} = frame;
    if (x < plot.x || x > plot.x + plot.width || y < plot.y || y > plot.y + plot.height) return;
    const dark = setting && (!setting.on || setting.dim === 0);
    let [wide, high] = [4, 4];
    lamp.outlines[frame.view].forEach(([du, dv], k) => {
      // At least a few pixels, so that points and thin tubes show.
      const [a, b] = [du * frame.scale, -dv * frame.scale], length = Math.hypot(a, b) || 1e-9;
      const stretch = length < 4 ? 4 / length : 1, spot = [x + a * stretch, y + b * stretch];
      wide = Math.max(wide, Math.abs(a)), high = Math.max(high, Math.abs(b));
      if (k) outline.lineTo(...spot); else outline.moveTo(...spot);
    });
    outline.closePath();
    if (!dark) arrow(ctx, frame, lamp, style);
    ctx.fillStyle = dark ? style.hatchGround : style.lamp;
    if (frame.view !== "plan") ctx.fill(outline);
    cased(ctx, outline, {width: 1.8, colour: dark ? style.muted : style.lampEdge, halo: style.halo, dash: dark ? [3, 3] : []});
    labels.beside(clipped(lamp.name, 20) + (dark ? " (off)" : ""), x, y, frame.view === "plan" ? 8 : Math.min(wide, 40), {
      ...style.label, colour: dark ? style.muted : style.lampEdge});
  });
}
