// Figures as a keeper reads them, in the same words as the terminal and the maps.

const THIN = "\u202f";
export const NO_BREAK = "\u00a0";

// Three or so significant digits without a needless exponent: "0.0123", "4.57", "151", "12 300".
export function number(value, significant = 3) {
  if (value === 0 || !Number.isFinite(value)) return value === 0 ? "0" : String(value);
  const exponent = Number(value.toExponential(significant - 1).split("e")[1]);
  if (exponent < -4 || exponent >= 9) return String(Number(value.toPrecision(significant)));
  const rounded = Number(value.toPrecision(significant));
  const decimals = Math.max(0, significant - 1 - exponent);
  let text = rounded.toFixed(decimals);
  if (text.includes(".")) return text.replace(/\.?0+$/, "");
  if (text.replace("-", "").length >= 5) text = text.replace(/\B(?=(\d{3})+$)/g, THIN);
  return text;
}

// Rounded to whole steps, which say how fine a meter of the kind shows: "3.1", "<0.01".
export function stepped(value, step) {
  if (!step) return number(value);
  if (value > 0 && value < step / 2) return "<" + NO_BREAK + number(step);
  return number(Math.round(value / step) * step);
}

export function percent(share) {
  return (share > 0 && share < 1e-4 ? "<" + NO_BREAK + "0.01" : number(100 * share, 2)) + NO_BREAK + "%";
}

// "08:30", from hours.
export function clock(hours) {
  const minutes = Math.round(60 * (((hours % 24) + 24) % 24));
  const whole = hours > 0 && minutes === 0 && hours >= 24 ? 24 : Math.floor(minutes / 60);
  return String(whole).padStart(2, "0") + ":" + String(minutes % 60).padStart(2, "0");
}

export function clamp(value, low, high) {
  return Math.min(Math.max(value, low), high);
}

// Multiples of 1, 2 or 5 times a power of ten within [low, high], at most `most` of them.
export function niceTicks(low, high, most) {
  if (!(high > low)) return [low];
  const rough = (high - low) / most;
  const decade = 10 ** Math.floor(Math.log10(rough));
  for (const leading of [1, 2, 5, 10, 20]) {
    const step = leading * decade;
    const first = Math.ceil(low / step - 1e-9), last = Math.floor(high / step + 1e-9);
    if (last - first + 1 > most) continue;
    const ticks = [];
    for (let n = first; n <= last; ++n) ticks.push(n * step);
    return ticks;
  }
  return [low, high];
}
