// Looking at the enclosure from outside: a point to turn about, two angles and a distance.

export const add = (a, b) => a.map((c, i) => c + b[i]);
export const scaled = (a, k) => a.map((c) => c * k);
const dot = (a, b) => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
export const cross = (a, b) => [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]];
export const unit = (a) => scaled(a, 1 / (Math.hypot(...a) || 1));

export const FIRST_LOOK = {turn: -0.55, rise: 0.28, zoom: 1};
const FIELD = 0.5;  // rad, the whole field of view across the picture's shorter side

// `look`: turn about the vertical (0 is from the front), rise above the level, zoom. `bounds`: metres [low, high].
export function camera(look, bounds, width, height) {
  const centre = scaled(add(bounds[0], bounds[1]), 0.5);
  // A cylinder about the vertical holds the enclosure however it is turned.
  const half = bounds[1].map((c, i) => (c - bounds[0][i]) / 2), around = Math.hypot(half[0], half[1]);
  const radius = Math.hypot(around, half[2]), shorter = Math.min(width, height), slope = Math.tan(FIELD / 2);
  const distance = (Math.max(around / (slope * width / shorter), half[2] / (slope * height / shorter)) + around) / look.zoom;
  const back = [Math.sin(look.turn) * Math.cos(look.rise), -Math.cos(look.turn) * Math.cos(look.rise), Math.sin(look.rise)];
  const right = [Math.cos(look.turn), Math.sin(look.turn), 0], up = cross(back, right);
  const eye = add(centre, scaled(back, distance));
  const focal = 1 / slope;
  const [sx, sy] = [(focal * shorter) / width, (focal * shorter) / height];
  const [near, far] = [Math.max(0.02, distance - 2.5 * radius), distance + 2.5 * radius];
  const a = -(far + near) / (far - near), b = (-2 * far * near) / (far - near);
  const t = [-dot(right, eye), -dot(up, eye), -dot(back, eye)];
  // Clip from scene, in columns.
  const matrix = new Float32Array([
    sx * right[0], sy * up[0], a * back[0], -back[0],
    sx * right[1], sy * up[1], a * back[1], -back[1],
    sx * right[2], sy * up[2], a * back[2], -back[2],
    sx * t[0], sy * t[1], a * t[2] + b, -t[2]]);
  return {
    matrix, eye, back, right, up,
    // Pixels and depth of a place; null behind the eye.
    spot(place) {
      const away = place.map((c, i) => c - eye[i]), depth = -dot(away, back);
      if (depth <= near) return null;
      const x = (sx * dot(away, right)) / depth, y = (sy * dot(away, up)) / depth;
      return {x: (0.5 + 0.5 * x) * width, y: (0.5 - 0.5 * y) * height, depth, scale: (0.5 * sy * height) / depth};
    },
  };
}
