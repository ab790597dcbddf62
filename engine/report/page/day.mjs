// The day: when each lamp is on, what a perch gets by the clock, and what it comes to.
import {makeChart} from "./chart.mjs";
import {el, freshId, named, show, svg} from "./dom.mjs";
import {clock, niceTicks} from "./numbers.mjs";
import {mainReading} from "./places.mjs";

// The hours as the sliders have them: time is taken from the end of the day's last span, or added there.
export function spansNow(source, hours) {
  const spans = (source.lit ?? []).map((span) => span.slice());
  let change = hours - (source.hours ?? 0);
  while (change < 0 && spans.length) {
    const last = spans.at(-1), length = last[1] - last[0];
    if (length > -change + 1e-9) { last[1] += change; change = 0; } else { spans.pop(); change += length; }
  }
  if (change > 0 && spans.length) {
    const room = Math.min(change, 24 - spans.at(-1)[1]);
    spans.at(-1)[1] += room;
    spans[0][0] = Math.max(0, spans[0][0] - (change - room));
  }
  return spans;
}

export function daySection(page) {
  const {data, state, light, words} = page;
  if (!data.hasDay || !data.results.readings.length || !data.sources.some((source) => source.lit)) return null;
  const readings = data.results.readings, pick = freshId("day");
  let chosen = Math.max(0, mainReading(data)), quantity = "uvi";
  const select = el("select", {id: pick, on: {change: () => { chosen = Number(select.value); update(); }}},
    readings.map(({name}, i) => el("option", {value: i, selected: i === chosen}, name)));
  const of = freshId("day"), what = el("select", {id: of, on: {change: () => { quantity = what.value; update(); }}},
    ["uvi", "irradiance", "lux", "ppfd"].map((name) => el("option", {value: name}, words.heading(name))));
  const body = el("div", {}), sums = el("p", {class: "day-sums"});
  const element = el("section", {id: "day", "aria-labelledby": "day-title"},
    el("h2", {id: "day-title"}, "The day"),
    el("div", {class: "row"}, el("label", {for: pick}, "At "), select, el("label", {for: of}, "what "), what), body, sums);

  function strips(spans) {
    const x = (hour) => 4 + (hour / 24) * 452;
    return el("ul", {class: "strips"}, data.sources.map((source, i) => source.lit && el("li", {},
      named(source.name, 30), el("span", {class: "num"}, ` ${spans[i].map(([a, b]) => `${clock(a)}–${clock(b)}`).join(", ") || "off"}`),
      svg("svg", {viewBox: "0 0 460 14", class: "strip", "aria-hidden": "true"},
        svg("path", {class: "rule", d: "M4 7 H456"}),
        state.lamps[i].on && spans[i].map(([a, b]) => svg("rect", {class: `lamp-${i % 4}`, x: x(a), y: 1, width: Math.max(0, x(b) - x(a)), height: 12}))))));
  }

  function update() {
    const spans = data.sources.map((source, i) => (source.lit ? spansNow(source, state.lamps[i].hours) : []));
    const parts = light.readingShares(chosen, quantity);
    const STEP = 0.25, times = Array.from({length: 24 / STEP}, (_, k) => (k + 0.5) * STEP);
    // Stacked, the first lamp at the bottom.
    const heights = times.map((time) => {
      let sum = 0;
      return parts.map((part, i) => (sum += spans[i].some(([a, b]) => time >= a && time < b) ? part : 0));
    });
    const greatest = Math.max(...heights.map((stack) => stack.at(-1) ?? 0)) || 1;
    const chart = makeChart({label: `${words.heading(quantity)} at ${readings[chosen].name} over the day, at most ${words.amount(quantity, greatest)}`,
      x: {low: 0, high: 24, ticks: [0, 4, 8, 12, 16, 20, 24], text: (tick) => clock(tick), label: "clock"},
      y: {low: 0, high: greatest * 1.08, ticks: niceTicks(0, greatest, 5), label: words.unit(quantity) || words.label(quantity)}});
    for (let i = parts.length - 1; i >= 0; --i)
      if (parts[i] > 0) chart.steps(heights.map((stack) => stack[i]), 0, STEP, `lamp-${i % 4}`);
    show(body, el("div", {class: "chart-row"}, el("figure", {class: "chart-block"}, chart.root,
      el("ul", {class: "keys"}, data.sources.map((source, i) => parts[i] > 0 && el("li", {},
        el("span", {class: `key lamp-${i % 4}`, "aria-hidden": "true"}), named(source.name, 30))))), strips(spans)));
    const day = ["uvi_hours", "sed", "dli"].map((name) => [name, page.findings.value(chosen, name)]);
    show(sums, "Over the day: ", day.map(([name, figure], i) => [i ? ", " : "", `${words.label(name)} `,
      el("strong", {}, words.amount(name, figure.value))]), ". Lamps are drawn as on or off.");
  }
  return {element, update, follows: ["light"]};
}
