// The colours of maps: the program's own ramp and scales, so that page and maps cannot disagree.
import {clamp} from "./numbers.mjs";

export function makeColours(data) {
  // 0 at the scale's low end, 1 at its high end, cut outside.
  function share(quantity, value) {
    const {logarithmic, low, high} = data.scales[quantity];
    if (!logarithmic) return clamp((value - low) / (high - low), 0, 1);
    return value <= low ? 0 : Math.min(1, Math.log(value / low) / Math.log(high / low));
  }
  // Of value, as the position of its first channel in the ramp.
  const step = (quantity, value) => 3 * Math.round(255 * share(quantity, value));
  const rgb = (at) => [data.ramp[at], data.ramp[at + 1], data.ramp[at + 2]];

  return {
    share, step, ramp: data.ramp,
    of: (quantity, value) => rgb(step(quantity, value)),
    gradient: () => [0, 32, 64, 96, 128, 160, 192, 224, 255]
      .map((i) => `rgb(${rgb(3 * i).join(" ")}) ${(100 * i) / 255}%`).join(", "),
  };
}
