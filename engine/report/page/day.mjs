// The day: when each lamp is on, what a perch gets by the clock, and what it comes to.
import {makeChart} from "./chart.mjs";
import {el, freshId, named, show, svg} from "./dom.mjs";
import {rampOf, spansNow} from "./hours.mjs";
import {clock, NO_BREAK, niceTicks, number} from "./numbers.mjs";
import {mainReading} from "./places.mjs";

const FOLLOWED = ["uvi", "irradiance", "infrared", "lux", "ppfd"];

export function daySection(page) {
  const {data, state, light, words} = page;
  if (!data.hasDay || !data.results.readings.length || !data.sources.some((source) => source.lit)) return null;
  const readings = data.results.readings, pick = freshId("day");
  let chosen = Math.max(0, mainReading(data)), quantity = "uvi";
  const select = el("select", {id: pick, on: {change: () => { chosen = Number(select.value); update(); }}},
    readings.map(({name}, i) => el("option", {value: i, selected: i === chosen}, name)));
  const of = freshId("day"), what = el("select", {id: of, on: {change: () => { quantity = what.value; update(); }}},
    FOLLOWED.map((name) => el("option", {value: name}, words.heading(name))));
  const body = el("div", {}), sums = el("p", {class: "day-sums"}), table = el("div", {class: "scroller", tabindex: "0", role: "region", "aria-label": "The day hour by hour"});
  const element = el("section", {id: "day", "aria-labelledby": "day-title"},
    el("h2", {id: "day-title"}, "The day"),
    el("div", {class: "row"}, el("label", {for: pick}, "At "), select, el("label", {for: of}, "what "), what), body, sums,
    el("details", {}, el("summary", {}, "Hour by hour"), table));

  function strips(spans) {
    const x = (hour) => 4 + (hour / 24) * 452;
    return el("ul", {class: "strips"}, data.sources.map((source, i) => source.lit && el("li", {},
      named(source.name, 30), el("span", {class: "num"}, ` ${spans[i].map(([a, b]) => `${clock(a)}–${clock(b)}`).join(", ") || "off"}`),
      svg("svg", {viewBox: "0 0 460 14", class: "strip", "aria-hidden": "true"},
        svg("path", {class: "rule", d: "M4 7 H456"}),
        state.lamps[i].on && spans[i].map((span) => {
          const [from, to] = span, ramp = rampOf(span, source.ramp_h);
          // What is past midnight stands at the day's beginning as well.
          return (to > 24 ? [0, 24] : [0]).map((less) => svg("path", {class: `lamp-${i % 4}`,
            d: `M${x(from - less)} 13 L${x(from + ramp - less)} 1 L${x(to - ramp - less)} 1 L${x(to - less)} 13 Z`}));
        })))));
  }

  function darkText() {
    const dark = data.results.day?.longest_dark;
    if (!light.isDeclared() || !dark) return "";
    return dark.hours > 0 ? ` Dark for ${number(dark.hours)}${NO_BREAK}h at the longest, from ${dark.from} to ${dark.to}.` : " It is never dark: a night without light is wanted.";
  }

  // What the chart shows, as figures: every hour's own, in all that is followed.
  function hourly() {
    return el("table", {}, el("thead", {}, el("tr", {}, el("th", {scope: "col"}, "Clock"),
      FOLLOWED.map((name) => el("th", {scope: "col", class: "num"}, words.heading(name),
        words.unit(name) && el("span", {class: "unit"}, words.unit(name)))))),
    el("tbody", {}, Array.from({length: 24}, (_, hour) => el("tr", {"data-hour": hour}, el("th", {scope: "row"}, clock(hour)),
      FOLLOWED.map((name) => {
        const value = light.readingSharesAtHour(chosen, name, hour).reduce((a, b) => a + b, 0);
        return el("td", {class: "num", "data-quantity": name, "data-value": value}, words.amount(name, value).split("\u00a0")[0]);
      })))));
  }

  function update() {
    const spans = data.sources.map((source, i) => (source.lit ? spansNow(source, state.lamps[i].hours) : []));
    const parts = light.readingShares(chosen, quantity);
    const STEP = 1 / 12, MOMENTS = 288;
    // Stacked, the first lamp at the bottom.
    const heights = Array.from({length: MOMENTS}, (_, k) => {
      let sum = 0;
      return light.readingSharesAtHour(chosen, quantity, k * STEP).map((part) => (sum += part));
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
    show(table, hourly());
    const day = ["uvi_hours", "sed", "dli"].map((name) => [name, page.findings.value(chosen, name)]);
    show(sums, "Over the day: ", day.map(([name, figure], i) => [i ? ", " : "", `${words.label(name)} `,
      el("strong", {}, words.amount(name, figure.value))]), ".",
      data.sources.some(({ramp_h: ramp}) => ramp > 0) ? " Lamps that ramp count for less while they come up and go down." : "", darkText());
  }
  return {element, update, follows: ["light"]};
}
