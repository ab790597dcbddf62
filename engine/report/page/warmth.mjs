// How warm a dry, dark back gets on each perch: an estimate with its band.
import {declaredNote} from "./declared_note.mjs";
import {el, show} from "./dom.mjs";
import {niceTicks} from "./numbers.mjs";
import {picker} from "./picker.mjs";
import {mainReading} from "./places.mjs";
import {railChart} from "./rail.mjs";

const AIRS = {day: "usual day", hot: "hot room", cold: "cold morning"};

export function warmthSection(page) {
  const {warmth, readings} = page.data.results, perches = warmth?.perches ?? [];
  if (!perches.length) return null;
  const main = readings[mainReading(page.data)]?.name;
  let chosen = Math.max(0, perches.findIndex(({name}) => name === main));
  const body = el("div", {}), note = declaredNote(page);
  const element = el("section", {id: "warmth", "aria-labelledby": "warmth-title"},
    el("h2", {id: "warmth-title"}, "How warm is the back?"),
    el("p", {class: "lead"}, warmth.note, " All lamps on at their dimmers, or at full, in still room air; the air inside may be warmer.",
      warmth.body_assumed ? ` The scene gives no size of the animal: a back of ${page.lengths.text(0.15)} by ${page.lengths.text(0.05)} is assumed.` : ""),
    el("div", {class: "row"}, picker("On", perches.map(({name}) => name), chosen, (k) => { chosen = k; update(); })), body, note.element);

  function update() {
    const {words} = page, {name, cases} = perches[chosen];
    // A full dimmer is told where it makes a difference.
    const shown = cases.filter((one) => !one.full_power ||
      cases.some((other) => !other.full_power && other.air === one.air && one.irradiance > 1.005 * other.irradiance));
    const rows = shown.map((one) => ({
      name: `${AIRS[one.air] ?? one.air}, ${words.temperature(one.air_c)}${one.full_power ? ", at full" : ""}`,
      value: words.degrees(one.back_c), low: words.degrees(one.low_c), high: words.degrees(one.high_c),
      text: `${words.temperature(one.back_c)} (${words.temperatures(one.low_c, one.high_c)})`}));
    const ends = [Math.min(...rows.map(({low}) => low)), Math.max(...rows.map(({high}) => high))];
    const low = Math.floor(ends[0] / 5) * 5, high = Math.ceil(ends[1] / 5) * 5;
    show(body, el("figure", {class: "chart-block wide"}, railChart({
      label: `Warmth of a back on ${name}: ${rows.map((row) => `${row.name}: ${row.text}`).join("; ")}`,
      axis: {low, high, ticks: niceTicks(low, high, 8), label: `temperature of the back, ${words.degreeUnit()}`}, rows})));
    note.update();
  }
  return {element, update, follows: ["light", "unit"]};
}
