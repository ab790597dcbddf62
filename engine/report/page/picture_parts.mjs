// What the turnable picture is made of, as the lamps are set and in the chosen colours.
import {cellAt} from "./data.mjs";
import {makeSlice} from "./slice.mjs";
import {addBall, addBranch, addLamp, addLeaves, makeMesh, TONES} from "./solids.mjs";

// The colour that the shown quantity has at a place; `otherwise` where it is not known.
export function colourBy(page) {
  const {data, state, light, colours} = page, {grid} = data;
  const values = light.field(state.quantity);
  return (place, otherwise) => {
    const cell = cellAt(grid, place);
    return cell < 0 ? otherwise : [...colours.of(state.quantity, values[cell]).map((c) => c / 255), 1];
  };
}

export function thingsMesh(page, byReading) {
  const {data, state} = page, mesh = makeMesh(), at = colourBy(page);
  const colour = (own) => (place) => (byReading ? at(place, own) : own);
  for (const branch of data.scene.branches) addBranch(mesh, branch, colour(TONES.bark));
  for (const {corner, edges: [e, f]} of data.scene.boards) {
    const place = (a, b) => corner.map((c, i) => c + a * e[i] + b * f[i]);
    const PIECES = 6;
    for (let i = 0; i < PIECES; ++i)
      for (let j = 0; j < PIECES; ++j) {
        const corners = [[i, j], [i + 1, j], [i + 1, j + 1], [i, j + 1]].map(([a, b]) => place(a / PIECES, b / PIECES));
        mesh.quad(...corners, [0, 0, 1], corners.map(colour(TONES.board)));
      }
  }
  for (const plant of data.scene.plants) addLeaves(mesh, plant, colour(TONES.leaf));
  data.scene.lamps.forEach((lamp, i) => {
    const setting = state.lamps[i], lit = !setting || (setting.on && setting.dim > 0);
    addLamp(mesh, lamp, lit ? TONES.lamp : TONES.dark);
  });
  for (const {kind, at: place} of data.results.readings)
    if (kind === "perch") addBall(mesh, place, 0.017, byReading ? at(place, TONES.perch) : TONES.perch);
  return mesh;
}

// The slice from above, seen through.
export function sliceMesh(page) {
  const {data, state, light, colours} = page, mesh = makeMesh(), z = state.place[2];
  const slice = makeSlice(data.grid, light.field(state.quantity), "plan", z), FINE = 2, ALPHA = 0.82;
  for (const {u0, v0, du, dv, columns, rows, value} of slice.lattices(FINE))
    for (let j = 0; j + 1 < rows; ++j)
      for (let i = 0; i + 1 < columns; ++i) {
        const knots = [[i, j], [i + 1, j], [i + 1, j + 1], [i, j + 1]], values = knots.map(([a, b]) => value[a + columns * b]);
        if (values.some(Number.isNaN)) continue;
        mesh.quad(...knots.map(([a, b]) => [u0 + a * du, v0 + b * dv, z]), [0, 0, 0],
          values.map((one) => [...colours.of(state.quantity, one).map((c) => c / 255), ALPHA]));
      }
  return mesh;
}

const FACE_ALPHA = {matte: 0.9, leaf: 0.9, mesh: 0.28, pane: 0.16, open: 0};
const OUTWARD = {floor: [0, 0, -1], top: [0, 0, 1], front: [0, -1, 0], back: [0, 1, 0], left: [-1, 0, 0], right: [1, 0, 0]};

// Only the sides that are turned away, so that one can see in; and all edges.
export function shellMeshes(page, back, tones) {
  const walls = makeMesh(), edges = makeMesh();
  for (const {corner, edges: [e, f], kind, side} of page.data.scene.faces) {
    const outward = OUTWARD[side], place = (a, b) => corner.map((c, i) => c + a * e[i] + b * f[i]);
    const corners = [place(0, 0), place(1, 0), place(1, 1), place(0, 1)];
    const towards = outward.reduce((sum, c, i) => sum + c * back[i], 0);
    if (towards < 0 && FACE_ALPHA[kind]) walls.quad(...corners, outward, [...tones.wall, FACE_ALPHA[kind]]);
    corners.forEach((from, i) => edges.line(from, corners[(i + 1) % 4], [...tones.edge, towards < 0 ? 0.55 : 1]));
  }
  return {walls, edges};
}
