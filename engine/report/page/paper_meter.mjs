// The meter sheet: where to hold the meter, what it should show, and room to write.
import {facingText} from "./directions.mjs";
import {el, named} from "./dom.mjs";

// One place, a row for each quantity that is read there.
function placeRows(page, name, at, facing, lines) {
  const {words, lengths} = page, span = lines.length;
  return lines.map(({quantity, value, wanted}, i) => el("tr", {},
    i === 0 && [el("th", {scope: "row", rowspan: span}, name),
      el("td", {rowspan: span}, at.map((c) => lengths.number(c)).join(" / ")), el("td", {rowspan: span}, facing)],
    el("td", {}, words.figure(quantity, value)), el("td", {}, wanted),
    el("td", {class: "blank"}), el("td", {class: "blank"}), el("td", {class: "blank"})));
}

function rowsOf(page) {
  const {data, findings, words} = page, rows = [];
  data.results.readings.forEach((reading, i) => {
    if (reading.kind === "plant") return;
    const wants = findings.wants(i), quantities = [...new Set(["uvi", ...wants.map((want) => want.quantity)])];
    rows.push(...placeRows(page, named(reading.name, 30), reading.at, facingText(reading.direction),
      quantities.filter((quantity) => !data.quantities.get(quantity).of).map((quantity) => {
        const want = wants.find((one) => one.quantity === quantity);
        return {quantity, value: findings.value(i, quantity).value, wanted: want ? words.limits(want, null) : "–"};
      })));
  });
  for (const quantity of ["uvi", "irradiance"]) {
    const place = findings.hottest(quantity);
    if (place) rows.push(...placeRows(page, `Most ${quantity === "uvi" ? "UV" : "heat"} in reach`, place.at,
      facingText(place.direction), [{quantity, value: place.value,
        wanted: place.limit === undefined ? "–" : `at most ${words.amount(quantity, place.limit)}`}]));
  }
  return rows;
}

const METER_RULES = [
  "Let fluorescent tubes burn for 30 minutes before reading, and floods for two hours before taking temperatures. A new tube settles over about its first 100 hours.",
  "Read through the mesh from inside, the sensor at the height of the back: once straight up, once tilted to the greatest reading. Write both.",
  "Hands and head out of the beam, plants as they hang, doors and lamps as in use. Goggles that stop ultraviolet.",
  "Cover the sensor: it must read zero (0.00 to 0.03). Humidity, a hot housing and a weak battery give false readings; take the meter out between places.",
  "A UV index meter, not one of total UVB: there is no fixed conversion without the lamp's spectrum.",
];

export function meterSheet(page) {
  return [
    el("p", {class: "blanks"}, "Date ", el("span", {}), " Meter ", el("span", {}), " Covered it reads ", el("span", {}),
      " Lamp hours ", el("span", {}), " Room ", el("span", {})),
    el("table", {class: "meter"}, el("thead", {}, el("tr", {}, ["Place", `Left / front / up, ${page.lengths.unit()}`, "The sensor looks",
      "Should show about", "Wanted", "Up", "Tilted", "Note"].map((head) => el("th", {scope: "col"}, head)))),
      el("tbody", {}, rowsOf(page))),
    el("p", {class: "small"}, "Lamps of one type commonly differ by 15 to 20 %, meshes and ages by as much again: a reading a third off is " +
      "no mistake of yours. Near a limit, believe the meter and move the lamp."),
    el("ol", {class: "small"}, METER_RULES.map((text) => el("li", {}, text)))];
}
