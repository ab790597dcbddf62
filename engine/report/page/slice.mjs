// Flat cuts through the grid, as the maps draw them: bilinear between the middles of cells, straight on from the
// outermost ones to the walls, across the joint of two boxes too.
import {clamp} from "./numbers.mjs";

// Along the picture's right, its up, and across the cut.
export const AXES = {front: [0, 2, 1], side: [1, 2, 0], plan: [0, 1, 2]};

// On the straight line through a (at 0) and b (at 1), beyond them too; whichever there is where one is missing.
function onLine(a, b, t) {
  if (a === undefined) return b;
  if (b === undefined) return a;
  return Math.max(0, a + (b - a) * t);
}

// The slab of cells of one box that a cut at `at` goes through, or null.
function patchOf(grid, values, box, view, at) {
  const [u, v, n] = AXES[view];
  const layer = (at - box.corner[n]) / box.cell[n];
  if (layer < -1e-9 || layer > box.count[n] + 1e-9) return null;
  const index = [0, 0, 0];
  index[n] = clamp(Math.floor(layer), 0, box.count[n] - 1);
  const nu = box.count[u], nv = box.count[v], value = new Array(nu * nv);
  for (let j = 0; j < nv; ++j)
    for (let i = 0; i < nu; ++i) {
      index[u] = i, index[v] = j;
      const cell = box.first + index[0] + box.count[0] * (index[1] + box.count[1] * index[2]);
      if (grid.free[cell] > 0) value[i + nu * j] = values[cell];
    }
  return {u0: box.corner[u], v0: box.corner[v], du: box.cell[u], dv: box.cell[v], nu, nv, value};
}

function rowValue(patch, u, j) {
  if (j < 0 || j >= patch.nv) return undefined;
  const at = (u - patch.u0) / patch.du - 0.5;
  const i = clamp(Math.floor(at), 0, Math.max(0, patch.nu - 2));
  const row = patch.value, first = patch.nu * j;
  return onLine(row[first + i], i + 1 < patch.nu ? row[first + i + 1] : undefined, at - i);
}

export function makeSlice(grid, values, view, at) {
  const patches = grid.boxes.map((box) => patchOf(grid, values, box, view, at)).filter(Boolean);
  const patchAt = (u, v) => patches.find((patch) => u >= patch.u0 && u <= patch.u0 + patch.nu * patch.du &&
    v >= patch.v0 && v <= patch.v0 + patch.nv * patch.dv);

  // `patch`: the one that holds the place.
  function valueIn(patch, u, v) {
    const i = Math.min(Math.floor((u - patch.u0) / patch.du), patch.nu - 1);
    const own = Math.min(Math.floor((v - patch.v0) / patch.dv), patch.nv - 1);
    if (patch.value[i + patch.nu * own] === undefined) return undefined;
    const at = (v - patch.v0) / patch.dv - 0.5, top = patch.nv - 1;
    if (at < 0 || at > top) {
      const other = patchAt(u, at < 0 ? patch.v0 - 1e-6 : patch.v0 + patch.nv * patch.dv + 1e-6);
      if (other && other !== patch) {
        const beyond = (at < 0 ? -at : at - top) * patch.dv;
        return onLine(rowValue(patch, u, at < 0 ? 0 : top), rowValue(other, u, at < 0 ? other.nv - 1 : 0),
          beyond / ((patch.dv + other.dv) / 2));
      }
    }
    const below = clamp(Math.floor(at), 0, Math.max(0, top - 1));
    return onLine(rowValue(patch, u, below), rowValue(patch, u, below + 1), at - below);
  }

  // Values at the knots of each patch, `fine` of them to a cell's edge: {u0, v0, du, dv, columns, rows, value, patch}.
  function lattices(fine) {
    return patches.map((patch) => {
      const columns = patch.nu * fine + 1, rows = patch.nv * fine + 1;
      const value = new Float32Array(columns * rows);
      for (let j = 0; j < rows; ++j)
        for (let i = 0; i < columns; ++i)
          value[i + columns * j] = valueIn(patch, patch.u0 + (i / fine) * patch.du, patch.v0 + (j / fine) * patch.dv) ?? NaN;
      return {u0: patch.u0, v0: patch.v0, du: patch.du / fine, dv: patch.dv / fine, columns, rows, value, patch};
    });
  }

  return {
    patches, lattices,
    value(u, v) {
      const patch = patchAt(u, v);
      return patch && valueIn(patch, u, v);
    },
  };
}
