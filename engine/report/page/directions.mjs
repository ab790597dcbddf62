// Directions in words.

const degrees = (radians) => Math.round((180 / Math.PI) * radians);

function sideways(x, y) {
  const parts = [];
  const length = Math.hypot(x, y);
  if (Math.abs(y) > 0.38 * length) parts.push(y > 0 ? "back" : "front");
  if (Math.abs(x) > 0.38 * length) parts.push(x > 0 ? "right" : "left");
  return parts.join(" ");
}

// Where a lamp points: "straight down", "7° from straight down, towards the left".
export function aimText([x, y, z]) {
  const angle = degrees(Math.acos(Math.min(1, Math.max(-1, -z))));
  if (angle < 1) return "straight down";
  if (angle > 179) return "straight up";
  return `${angle}° from straight down, towards the ${sideways(x, y)}`;
}

// Where a meter looks: "straight up", "12° from straight up, towards the left".
export function facingText([x, y, z]) {
  const angle = degrees(Math.acos(Math.min(1, Math.max(-1, z))));
  if (angle < 3) return "straight up";
  if (angle > 177) return "straight down";
  return `${angle}° from straight up, towards the ${sideways(x, y)}`;
}

// How a tube or bar lies.
export function alongText([x, y, z]) {
  if (Math.abs(z) > 0.99) return "upright";
  if (Math.abs(x) > 0.99) return "left to right";
  if (Math.abs(y) > 0.99) return "front to back";
  return `turned ${degrees(Math.atan2(Math.abs(y), Math.abs(x)))}° from left-to-right`;
}
