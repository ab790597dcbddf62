// Where each plant stands in the light that it needs, and how light falls from the top to the floor.
import {declaredNote} from "./declared_note.mjs";
import {el, named, show} from "./dom.mjs";
import {NO_BREAK, number} from "./numbers.mjs";
import {railChart} from "./rail.mjs";
import {sign} from "./sign.mjs";

const DYING = ["does not live", "too much"], POOR = ["only survives", "does not hold", "does not grow"];
export const standingStatus = (standing, sure) =>
  DYING.includes(standing) ? "bad" : !sure || POOR.includes(standing) ? "unsure" : "good";

const AXIS_TICKS = [0.01, 0.02, 0.05, 0.1, 0.2, 0.5, 1, 2, 5, 10, 20, 50, 100, 200, 500, 1000, 2000];

// Without its unit, which the axis names.
const bare = (amount) => amount.split(NO_BREAK)[0];

// From the darkest zone to the brightest; a step without an end has nothing beyond it.
function zonesOf(need, low, high) {
  const zones = [], names = {survive: "survives", hold: "holds", grow: "grows"};
  const steps = ["survive", "hold", "grow"].filter((step) => need[step]);
  steps.forEach((step, i) => {
    const inner = steps[i + 1] && need[steps[i + 1]], [from, to] = [need[step].min ?? low, need[step].max ?? high];
    const zone = (a, b) => b > a && zones.push({from: a, to: b, name: names[step], kind: step});
    if (!inner) zone(from, to);
    else zone(from, inner.min ?? from), zone(inner.max ?? to, to);
  });
  return zones;
}

function plantBlock(page, plant, need, reading) {
  const {words} = page, quantity = need.quantity;
  const parts = [["top", reading.top?.values[quantity], need.top], ["mean over the crown", reading.values[quantity], need.standing],
    ["middle", plant.middle[quantity], need.middle], ["shaded side", plant.shaded[quantity], need.shaded]].filter(([, figure]) => figure);
  const ends = ["survive", "hold", "grow"].flatMap((step) => (need[step] ? [need[step].min, need[step].max] : []));
  const all = [...ends, ...parts.map(([, {value}]) => value)].filter((value) => value > 0);
  const least = Math.min(...all) / 1.8, most = Math.max(...all) * 1.4;
  const status = standingStatus(need.standing, need.sure);
  const rows = parts.map(([name, {value}, standing]) => ({name, value: Math.max(value, least), text: `${bare(words.amount(quantity, value))}, ${standing}`,
    kind: standingStatus(standing, true)}));
  return el("figure", {class: "chart-block", "data-name": plant.name},
    el("figcaption", {}, sign(status, null), named(plant.name, 40), `: ${need.standing}${need.sure ? "" : ", too close to call"}`),
    railChart({label: `${words.heading(quantity)} of ${plant.name}: ${rows.map((row) => `${row.name} ${row.text}`).join(", ")}`,
      axis: {low: least, high: most, logarithmic: true, ticks: AXIS_TICKS.filter((tick) => tick >= least && tick <= most),
        label: `${words.heading(quantity)}, ${words.unit(quantity)}`},
      zones: zonesOf(need, least, most), rows}));
}

function levelsBlock(page) {
  const {results} = page.data, {words, lengths} = page, quantity = page.data.hasDay ? "dli" : "ppfd", key = `${quantity}_mean`;
  const levels = results.zones.levels.filter((level) => level[key] > 0);
  if (levels.length < 2) return null;
  const MOST = 9, step = Math.ceil(levels.length / MOST);
  // From the top down, the lowest always.
  const shown = levels.filter((_, i) => i % step === 0).reverse(), {floor} = results;
  const values = shown.map((level) => level[key]);
  const least = Math.min(...values, floor?.[`${quantity}_low`] || Infinity) / 1.5, most = Math.max(...values) * 1.5;
  const rows = shown.map((level, i) => {
    const isFloor = i === shown.length - 1, band = isFloor && floor?.dli_low > 0 && quantity === "dli";
    return {name: `${isFloor ? "floor, " : ""}${lengths.text(level.z)} up`, value: level[key], text: bare(words.amount(quantity, level[key])) +
      (band ? `, mostly ${number(floor.dli_low, 2)} to ${number(floor.dli_high, 2)}` : ""),
    ...(band ? {low: floor.dli_low, high: floor.dli_high} : {})};
  });
  return el("figure", {class: "chart-block"}, el("figcaption", {}, "From the top to the floor"),
    railChart({label: `${words.heading(quantity)} by level: ${rows.map((row) => `${row.name} ${row.text}`).join("; ")}`,
      axis: {low: least, high: most, logarithmic: true, ticks: AXIS_TICKS.filter((tick) => tick >= least && tick <= most),
        label: `mean of the level, facing up, ${words.unit(quantity)}`}, rows}),
    el("p", {class: "note"}, "For choosing what to plant where. A plant there shades itself besides."));
}

export function plantsSection(page) {
  const {results} = page.data, readings = new Map(results.readings.map((reading) => [reading.name, reading]));
  const plants = (results.plants ?? []).filter(({needs}) => needs.length);
  const hasPlants = results.readings.some(({kind}) => kind === "plant");
  if (!plants.length && !hasPlants) return null;
  const body = el("div", {class: "chart-row"}), note = declaredNote(page);
  const element = el("section", {id: "plants", "aria-labelledby": "plants-title"},
    el("h2", {id: "plants-title"}, "The plants"),
    plants.length > 0 && el("p", {class: "lead"}, "A plant is judged by the mean over its crown, leaves in place. Its top gets more, its shaded side less: " +
      "leaves die from below where that side does not hold."), body, note.element);

  function update() {
    show(body, plants.flatMap((plant) => plant.needs.map((need) => plantBlock(page, plant, need, readings.get(plant.name)))), levelsBlock(page));
    note.update();
  }
  return {element, update, follows: ["light", "unit"]};
}
