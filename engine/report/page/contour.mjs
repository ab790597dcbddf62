// Lines of equal value on a lattice: marching squares, joined into runs. Squares with a missing knot have none.

// Runs of places [u, v] in the lattice's own lengths.
export function contourLines({u0, v0, du, dv, columns, rows, value}, level) {
  const links = new Map();  // edge: its neighbours along the line
  const link = (a, b) => {
    for (const [from, to] of [[a, b], [b, a]]) {
      if (!links.has(from)) links.set(from, []);
      links.get(from).push(to);
    }
  };
  // An edge by its left or lower knot: 2 n goes right from it, 2 n + 1 goes up.
  for (let j = 0; j + 1 < rows; ++j)
    for (let i = 0; i + 1 < columns; ++i) {
      const knot = j * columns + i;
      const corner = [value[knot], value[knot + 1], value[knot + columns + 1], value[knot + columns]];
      let kind = 0, missing = false;
      for (let k = 0; k < 4; ++k) {
        missing ||= Number.isNaN(corner[k]);
        if (corner[k] >= level) kind |= 1 << k;
      }
      if (missing || kind === 0 || kind === 15) continue;
      const low = 2 * knot, left = low + 1, high = 2 * (knot + columns), right = 2 * (knot + 1) + 1;
      if (kind === 5 || kind === 10) {
        // A saddle: the mean of the corners says which two opposite ones are joined.
        const joined = (corner[0] + corner[1] + corner[2] + corner[3] >= 4 * level) === (kind === 5);
        link(low, joined ? right : left);
        link(high, joined ? left : right);
        continue;
      }
      const bit = (k) => (kind >> k) & 1, ends = [];
      if (bit(0) !== bit(1)) ends.push(low);
      if (bit(1) !== bit(2)) ends.push(right);
      if (bit(2) !== bit(3)) ends.push(high);
      if (bit(3) !== bit(0)) ends.push(left);
      link(ends[0], ends[1]);
    }

  const place = (edge) => {
    const knot = edge >> 1, up = edge & 1, other = up ? knot + columns : knot + 1;
    const t = (level - value[knot]) / (value[other] - value[knot]);
    const i = knot % columns, j = Math.floor(knot / columns);
    return [u0 + (i + (up ? 0 : t)) * du, v0 + (j + (up ? t : 0)) * dv];
  };
  const seen = new Set(), runs = [];
  const follow = (start) => {
    const run = [start];
    seen.add(start);
    for (let at = start;;) {
      const next = links.get(at).find((edge) => !seen.has(edge));
      if (next === undefined) break;
      run.push(next);
      seen.add(next);
      at = next;
    }
    return run;
  };
  // Open runs from their ends first; what is left goes round.
  for (const [edge, neighbours] of links) if (neighbours.length === 1 && !seen.has(edge)) runs.push(follow(edge));
  for (const edge of links.keys())
    if (!seen.has(edge)) {
      const run = follow(edge);
      if (links.get(run.at(-1)).includes(edge)) run.push(edge);
      runs.push(run);
    }
  return runs.map((run) => run.map(place));
}
