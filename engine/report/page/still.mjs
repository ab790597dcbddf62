// The picture without WebGL: the same places seen by the same camera, drawn with lines on paper, far things first.
import {colourBy} from "./picture_parts.mjs";

function css([r, g, b]) {
  return `rgb(${[r, g, b].map((c) => Math.round(255 * c)).join(" ")})`;
}

export function drawStill(ctx, page, camera, byReading, tones) {
  const {data, state} = page, at = colourBy(page), jobs = [];
  const stroke = (a, b, width, colour) => {
    const [p, q] = [camera.spot(a), camera.spot(b)];
    if (p && q) jobs.push({depth: (p.depth + q.depth) / 2, draw: () => {
      ctx.strokeStyle = colour;
      ctx.lineWidth = Math.max(1, width * (p.scale + q.scale) / 2);
      ctx.beginPath();
      ctx.moveTo(p.x, p.y), ctx.lineTo(q.x, q.y);
      ctx.stroke();
    }});
  };
  ctx.lineCap = "round";
  for (const {corner, edges: [e, f]} of data.scene.faces) {
    const place = (a, b) => corner.map((c, i) => c + a * e[i] + b * f[i]);
    const corners = [place(0, 0), place(1, 0), place(1, 1), place(0, 1)];
    corners.forEach((from, i) => stroke(from, corners[(i + 1) % 4], 0, css(tones.edge)));
  }
  const BARK = [0.44, 0.33, 0.24];
  for (const {path, diameter} of data.scene.branches)
    for (let i = 0; i + 1 < path.length; ++i)
      for (let piece = 0; piece < 8; ++piece) {
        const [a, b] = [piece / 8, (piece + 1) / 8].map((share) => path[i].map((c, k) => c + share * (path[i + 1][k] - c)));
        stroke(a, b, diameter, css(byReading ? at(a, BARK) : BARK));
      }
  for (const {at: centre, radii} of data.scene.plants) {
    const spot = camera.spot(centre);
    if (spot) jobs.push({depth: spot.depth, draw: () => {
      ctx.fillStyle = "rgb(66 132 62 / 0.45)";
      ctx.beginPath();
      ctx.ellipse(spot.x, spot.y, Math.max(radii[0], radii[1]) * spot.scale, radii[2] * spot.scale, 0, 0, 2 * Math.PI);
      ctx.fill();
    }});
  }
  data.scene.lamps.forEach((lamp, i) => {
    const lit = !state.lamps[i] || (state.lamps[i].on && state.lamps[i].dim > 0);
    const end = (way) => lamp.at.map((c, k) => c + way * lamp.half_size[0] * lamp.along[k]);
    stroke(end(-1), end(1), Math.max(0.015, lamp.half_size[1]), lit ? "#c78a00" : "#8c8c88");
  });
  jobs.sort((a, b) => b.depth - a.depth).forEach((job) => job.draw());
}
