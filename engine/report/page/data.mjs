// What the page shows: the text of readings.json, and the data beside it, unpacked once.

function bytesOf(base64) {
  const text = atob(base64);
  const bytes = new Uint8Array(text.length);
  for (let i = 0; i < text.length; ++i) bytes[i] = text.charCodeAt(i);
  return bytes;
}

export function floatsOf(base64) {
  const view = new DataView(bytesOf(base64).buffer);
  const values = new Float32Array(view.byteLength / 4);
  for (let i = 0; i < values.length; ++i) values[i] = view.getFloat32(4 * i, true);
  return values;
}

// IEEE 754 binary16 times a scale.
export function halvesOf({scale, half}) {
  const view = new DataView(bytesOf(half).buffer);
  const values = new Float32Array(view.byteLength / 2);
  for (let i = 0; i < values.length; ++i) {
    const bits = view.getUint16(2 * i, true), exponent = bits >> 10, mantissa = bits & 1023;
    values[i] = scale * (exponent ? 2 ** (exponent - 25) * (1024 + mantissa) : 2 ** -24 * mantissa);
  }
  return values;
}

// 16-bit shares of the way from low to high.
export function sharesOf(base64, low, high) {
  const view = new DataView(bytesOf(base64).buffer);
  const values = new Float32Array(view.byteLength / 2);
  for (let i = 0; i < values.length; ++i) values[i] = low + (high - low) * (view.getUint16(2 * i, true) / 65535);
  return values;
}

function unpackedGrid(grid) {
  if (!grid) return null;
  const cells = grid.boxes.reduce((sum, box) => sum + box.count[0] * box.count[1] * box.count[2], 0);
  const values = new Map();
  for (const [quantity, sources] of Object.entries(grid.values)) values.set(quantity, sources.map(halvesOf));
  return {boxes: grid.boxes, joined: grid.joined, cells, free: sharesOf(grid.free, 0, 1), values};
}

const parsed = (root, id) => JSON.parse(root.getElementById(id).textContent);
// The text of readings.json, or of a planning command's own file.
export const parsedFindings = (root) => parsed(root, "readings");
export const parsedData = (root) => parsed(root, "data");

export function loadData(root) {
  const results = parsedFindings(root);
  const {scene, light, lamps} = parsedData(root);
  const quantities = new Map(light.quantities.map((about) => [about.name, about]));
  const instants = light.quantities.filter((about) => !about.of).map((about) => about.name);
  return {
    results, scene, lamps, quantities, instants,
    hasDay: light.has_day,
    interval: light.interval,
    ramp: bytesOf(light.ramp),
    style: light.style,
    scales: light.scales,
    limits: light.limits,
    sources: light.sources,
    hottestShares: light.hottest ?? null,
    replicates: light.readings.replicates,
    readingShares: floatsOf(light.readings.floats),
    grid: unpackedGrid(light.grid),
  };
}

// The cell of a box's grid that holds a place, or -1.
export function cellAt(grid, place) {
  for (const box of grid.boxes) {
    const index = [0, 1, 2].map((axis) => {
      const at = (place[axis] - box.corner[axis]) / box.cell[axis];
      return at < -1e-9 || at > box.count[axis] + 1e-9 ? -1 :
        Math.min(Math.max(Math.floor(at), 0), box.count[axis] - 1);
    });
    if (index.every((i) => i >= 0))
      return box.first + index[0] + box.count[0] * (index[1] + box.count[1] * index[2]);
  }
  return -1;
}

// The middle of a cell, m.
export function cellCentre(grid, cell) {
  const box = grid.boxes.findLast((one) => one.first <= cell);
  const inBox = cell - box.first, row = Math.floor(inBox / box.count[0]);
  const index = [inBox % box.count[0], row % box.count[1], Math.floor(row / box.count[1])];
  return index.map((i, axis) => box.corner[axis] + (i + 0.5) * box.cell[axis]);
}
