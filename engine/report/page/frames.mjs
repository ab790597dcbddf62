// Where the three views lie: one scale for all, the front above the plan and beside the side, so that the same place
// stands at the same spot of neighbouring views.
import {AXES} from "./slice.mjs";

// Metres to be covered along x, y and z: the boxes, the lamps and points close by.
export function extents(data) {
  const {boxes, lamps} = data.scene;
  const low = [0, 1, 2].map((axis) => Math.min(...boxes.map((box) => box.corner[axis])));
  const high = [0, 1, 2].map((axis) => Math.max(...boxes.map((box) => box.corner[axis] + box.size[axis])));
  const size = Math.max(...low.map((from, axis) => high[axis] - from));
  const near = (at, margin) => at.every((c, axis) => c > low[axis] - margin && c < high[axis] + margin);
  const bounds = [low.slice(), high.slice()];
  const include = (at, reach = [0, 0, 0]) => at.forEach((c, axis) => {
    bounds[0][axis] = Math.min(bounds[0][axis], c - reach[axis]);
    bounds[1][axis] = Math.max(bounds[1][axis], c + reach[axis]);
  });
  // What hangs or lies far outside would shrink the enclosure to nothing and is left out.
  for (const lamp of lamps) {
    if (!near(lamp.at, size / 2)) continue;
    const most = (outline, k) => Math.max(...outline.map((corner) => Math.abs(corner[k])));
    include(lamp.at, [most(lamp.outlines.plan, 0), most(lamp.outlines.plan, 1), most(lamp.outlines.front, 1)]);
  }
  for (const {kind, at} of data.results.readings) if (kind === "point" && near(at, size / 4)) include(at);
  const margin = 0.035 * Math.max(...bounds[0].map((from, axis) => bounds[1][axis] - from));
  return bounds[0].map((from, axis) => [from - margin, bounds[1][axis] + margin]);
}

// Room around the plots for ticks and names of axes, px.
export const RIM = {left: 46, right: 34, top: 6, bottom: 40};

// Pixels to a metre so that the front and the side fit beside each other.
export function scaleFor(extent, width, height) {
  const length = extent.map(([from, to]) => to - from);
  const across = (width - 2 * (RIM.left + RIM.right)) / (length[0] + length[1]);
  const alone = (width - RIM.left - RIM.right) / Math.max(length[0], length[1]);
  const stacked = across < 130 && alone > across;
  return {scale: Math.max(40, Math.min(stacked ? alone : across, height / length[2])), stacked};
}

export function frameOf(view, extent, scale) {
  const [u, v, n] = AXES[view];
  const [u0, u1] = extent[u], [v0, v1] = extent[v];
  const plot = {x: RIM.left, y: RIM.top, width: Math.round((u1 - u0) * scale), height: Math.round((v1 - v0) * scale)};
  return {
    view, axes: {u, v, n}, scale, plot, u0, u1, v0, v1,
    width: plot.width + RIM.left + RIM.right, height: plot.height + RIM.top + RIM.bottom,
    x: (at) => plot.x + (at - u0) * scale,
    y: (at) => plot.y + (v1 - at) * scale,
    spot(place) { return [this.x(place[u]), this.y(place[v])]; },
    uAt: (x) => u0 + (x - plot.x) / scale,
    vAt: (y) => v1 - (y - plot.y) / scale,
  };
}
