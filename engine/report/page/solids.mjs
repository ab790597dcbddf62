// The enclosure as triangles and lines for the turnable picture. A vertex is a place, a normal and a colour.
import {sharesOf} from "./data.mjs";
import {add, cross, scaled, unit} from "./camera.mjs";

export function makeMesh() {
  const SIZE = 10;  // numbers to a vertex
  let values = new Float32Array(SIZE * 3000), count = 0;
  return {
    vertex([x, y, z], [u, v, w], [r, g, b, a]) {
      if (SIZE * (count + 1) > values.length) {
        const more = new Float32Array(2 * values.length);
        more.set(values);
        values = more;
      }
      let at = SIZE * count;
      for (const one of [x, y, z, u, v, w, r, g, b, a]) values[at++] = one;
      ++count;
    },
    quad(a, b, c, d, normal, colours) {
      const corner = [a, b, c, d], colour = (i) => (Array.isArray(colours[0]) ? colours[i] : colours);
      for (const i of [0, 1, 2, 0, 2, 3]) this.vertex(corner[i], normal, colour(i));
    },
    line(a, b, colour) {
      this.vertex(a, [0, 0, 0], colour);
      this.vertex(b, [0, 0, 0], colour);
    },
    data: () => values.subarray(0, SIZE * count),
    count: () => count,
  };
}

const tone = (r, g, b, a = 1) => [r / 255, g / 255, b / 255, a];
export const TONES = {bark: tone(112, 84, 62), lamp: tone(255, 226, 138), dark: tone(140, 140, 136), board: tone(150, 116, 84),
  leaf: tone(66, 132, 62), perch: tone(28, 40, 46)};

// A round stick along a path, its colour by the place.
export function addBranch(mesh, {path, diameter}, colourOf) {
  const SIDES = 10, PIECES = 8;
  for (let i = 0; i + 1 < path.length; ++i) {
    const way = path[i + 1].map((c, axis) => c - path[i][axis]), axis = unit(way);
    const side = unit(cross(axis, Math.abs(axis[2]) < 0.9 ? [0, 0, 1] : [1, 0, 0])), other = cross(axis, side);
    const round = (k) => {
      const angle = (2 * Math.PI * k) / SIDES;
      return add(scaled(side, Math.cos(angle)), scaled(other, Math.sin(angle)));
    };
    for (let piece = 0; piece < PIECES; ++piece) {
      const [from, to] = [piece / PIECES, (piece + 1) / PIECES].map((share) => add(path[i], scaled(way, share)));
      const [near, far] = [colourOf(from), colourOf(to)];
      for (let k = 0; k < SIDES; ++k) {
        const [n0, n1] = [round(k), round(k + 1)], r = diameter / 2;
        mesh.quad(add(from, scaled(n0, r)), add(from, scaled(n1, r)), add(to, scaled(n1, r)), add(to, scaled(n0, r)),
          n0, [near, near, far, far]);
      }
    }
  }
}

// Leaves as they hang in the survey.
export function addLeaves(mesh, {at, leaves}, colourOf) {
  const all = sharesOf(leaves.shares, leaves.low, leaves.high);
  for (let i = 0; i < leaves.count; ++i) {
    const part = (k) => [all[9 * i + 3 * k], all[9 * i + 3 * k + 1], all[9 * i + 3 * k + 2]];
    const centre = add(at, part(0)), long = part(1), wide = part(2), normal = unit(cross(long, wide));
    // A pointed leaf of the rectangle's length and width.
    const colour = colourOf(centre), tips = [scaled(long, -1), wide, long, scaled(wide, -1)].map((way) => add(centre, way));
    mesh.quad(...tips, normal, colour);
  }
}

export function addBall(mesh, centre, radius, colour) {
  const RINGS = 8, SIDES = 12;
  const place = (ring, side) => {
    const [theta, phi] = [(Math.PI * ring) / RINGS, (2 * Math.PI * side) / SIDES];
    return [Math.sin(theta) * Math.cos(phi), Math.sin(theta) * Math.sin(phi), Math.cos(theta)];
  };
  for (let ring = 0; ring < RINGS; ++ring)
    for (let side = 0; side < SIDES; ++side) {
      const n = [place(ring, side), place(ring + 1, side), place(ring + 1, side + 1), place(ring, side + 1)];
      mesh.quad(...n.map((way) => add(centre, scaled(way, radius))), n[1], colour);
    }
}

// A lamp's emitter by its half sizes: a round body for tubes and spheres, a flat one for what shines to one side.
export function addLamp(mesh, lamp, colour) {
  const third = cross(lamp.aim, lamp.along), half = lamp.half_size.map((size) => Math.max(size, 0.004));
  const flat = lamp.shape === "disc" || lamp.shape === "rectangle";
  const corner = (i, j, k) => [0, 1, 2].map((c) => lamp.at[c] + i * half[0] * lamp.along[c] + j * half[1] * third[c] +
    k * (flat ? 0.012 : half[2]) * lamp.aim[c]);
  const SIDES = 16;
  if (lamp.shape === "rectangle") {
    for (const k of [-1, 0])
      mesh.quad(corner(-1, -1, k), corner(1, -1, k), corner(1, 1, k), corner(-1, 1, k), scaled(lamp.aim, k || 1), colour);
    return;
  }
  for (let s = 0; s < SIDES; ++s) {
    const [a, b] = [s, s + 1].map((n) => (2 * Math.PI * n) / SIDES);
    if (lamp.shape === "disc") {
      const rim = (angle, k) => corner(Math.cos(angle), Math.sin(angle), k);
      for (const k of [-1, 0]) mesh.quad(corner(0, 0, k), rim(a, k), rim(b, k), corner(0, 0, k), scaled(lamp.aim, k || 1), colour);
      mesh.quad(rim(a, -1), rim(b, -1), rim(b, 0), rim(a, 0), lamp.along, colour);
    } else if (lamp.shape === "tube") {
      const rim = (angle, i) => corner(i, Math.cos(angle), Math.sin(angle));
      const normal = add(scaled(third, Math.cos(a)), scaled(lamp.aim, Math.sin(a)));
      mesh.quad(rim(a, -1), rim(b, -1), rim(b, 1), rim(a, 1), normal, colour);
      for (const i of [-1, 1]) mesh.quad(corner(i, 0, 0), rim(a, i), rim(b, i), corner(i, 0, 0), scaled(lamp.along, i), colour);
    }
  }
  if (lamp.shape === "sphere" || lamp.shape === "point") addBall(mesh, lamp.at, Math.max(half[0], 0.01), colour);
}
