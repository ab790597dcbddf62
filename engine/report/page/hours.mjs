// When a lamp is lit, and how much of its setting it gives while it comes up and goes down.

import {clamp} from "./numbers.mjs";

// One that runs through midnight in one piece, so that its end is past 24.
function joinedOverMidnight(spans) {
  if (spans.length < 2 || spans[0][0] > 0 || spans.at(-1)[1] < 24) return spans.map((span) => span.slice());
  const joined = spans.slice(1).map((span) => span.slice());
  joined.at(-1)[1] += spans[0][1];
  return joined;
}

export const declaredSpans = (source) => joinedOverMidnight(source.lit ?? []);

// The hours as the sliders have them: time is taken from the end of the day's last span or added there, then before
// the first, then in the gaps.
export function spansNow(source, hours) {
  const spans = declaredSpans(source);
  let change = hours - (source.hours ?? 0);
  while (change < 0 && spans.length) {
    const last = spans.at(-1), length = last[1] - last[0];
    if (length > -change + 1e-9) { last[1] += change; change = 0; } else { spans.pop(); change += length; }
  }
  if (!spans.length || change <= 0) return spans;
  const take = (room) => {
    const taken = Math.min(change, Math.max(room, 0));
    change -= taken;
    return taken;
  };
  const [first, last] = [spans[0], spans.at(-1)];
  last[1] += take(Math.max(24, last[1]) - last[1]);
  first[0] -= take(first[0] - Math.max(0, last[1] - 24));
  for (let i = spans.length - 1; i > 0; --i) spans[i][0] -= take(spans[i][0] - spans[i - 1][1]);
  return spans.reduce((list, span) => {
    if (list.length && span[0] <= list.at(-1)[1] + 1e-9) list.at(-1)[1] = span[1];
    else list.push(span);
    return list;
  }, []);
}

// A ramp takes half a span at most; a lamp that is lit all day has none.
export const rampOf = ([from, to], ramp) => (to - from >= 24 - 1e-9 ? 0 : Math.min(ramp, (to - from) / 2));

// From the start of a span up to, not with, its end; 0 outside, 1 inside, evenly up and down in its ramps.
export function litShare(spans, ramp, clock) {
  for (const span of spans)
    for (const hour of [clock, clock + 24]) {
      const [from, to] = span, over = rampOf(span, ramp);
      if (hour < from - 1e-9 || hour >= to - 1e-9) continue;
      return over > 0 ? clamp(Math.min((hour - from) / over, (to - hour) / over), 0, 1) : 1;
    }
  return 0;
}

// The hours that count when a ramp gives `share` of the lamp's setting on the mean.
export const countedHours = (spans, ramp, share) =>
  spans.reduce((sum, span) => sum + (span[1] - span[0]) - 2 * rampOf(span, ramp) * (1 - share), 0);

// The `share` with which that many hours count.
export function shareOfRamp(spans, ramp, hours) {
  const ramping = countedHours(spans, ramp, 1) - countedHours(spans, ramp, 0);
  return ramping > 0 ? (hours - countedHours(spans, ramp, 0)) / ramping : 0.5;
}
