// The meter sheet: where to hold the meter, what it should show, and room to write.
import {facingText} from "./directions.mjs";
import {bandText} from "./doubt_words.mjs";
import {clipped, el, named} from "./dom.mjs";

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

// The survey's own plan of what to read, the most useful first; it is for the lamps as declared.
function plannedTable(page, rows) {
  const {words, lengths} = page;
  return el("table", {class: "meter"}, el("thead", {}, el("tr", {}, ["No.", "Place", `Left / front / up, ${lengths.unit()}`, "The sensor looks", "Lit",
    "Should show", "Accept", "Read"].map((head) => el("th", {scope: "col"}, head)))),
  el("tbody", {}, rows.map((row, i) => el("tr", {}, el("td", {}, String(i + 1)), el("th", {scope: "row"}, el("bdi", {}, clipped(row.place, 40))),
    el("td", {}, row.at.map((c) => lengths.number(c)).join(" / ")), el("td", {}, facingText(row.direction)),
    el("td", {}, row.only_lamp ? ["only ", named(row.only_lamp, 20)] : "all"), el("td", {}, words.figure(row.quantity, row.expected)),
    el("td", {class: "accept"}, bandText(row)), el("td", {class: "blank"})))));
}

const ACCEPT = "A reading inside what is accepted fits what is declared: it holds 19 of 20 readings if lamps, screens, heights and leaves vary as " +
  "declared and the meter by 10 %. Outside, read again, then look at lamp, dimmer, screen and heights. Near a limit, believe the meter.";

// Whatever the plan, where the animal may get closest to a lamp.
function reachTable(page) {
  const {words, lengths, data} = page, closest = data.results.animal?.closest ?? [];
  if (!closest.length) return null;
  return [el("h4", {}, "And where it may get closest to a lamp, all lamps lit"),
    el("table", {class: "meter"}, el("thead", {}, el("tr", {}, ["Closest to", `Left / front / up, ${lengths.unit()}`, "The sensor looks", "Should show about",
      "Never above", "Read"].map((head) => el("th", {scope: "col"}, head)))),
    el("tbody", {}, closest.map(({lamp, at, uvi}) => el("tr", {}, el("th", {scope: "row"}, named(lamp, 30)), el("td", {}, at.map((c) => lengths.number(c)).join(" / ")),
      el("td", {}, facingText(uvi.direction)), el("td", {}, words.figure("uvi", uvi.value)),
      el("td", {class: "accept"}, uvi.limit === undefined ? "–" : words.amount("uvi", uvi.limit)), el("td", {class: "blank"})))))];
}

function computedTable(page) {
  return el("table", {class: "meter"}, el("thead", {}, el("tr", {}, ["Place", `Left / front / up, ${page.lengths.unit()}`, "The sensor looks",
    "Should show about", "Wanted", "Up", "Tilted", "Note"].map((head) => el("th", {scope: "col"}, head)))), el("tbody", {}, rowsOf(page)));
}

export function meterSheet(page) {
  const planned = page.light.isDeclared() ? page.data.results.meter_sheet?.rows ?? [] : [];
  return [
    el("p", {class: "blanks"}, "Date ", el("span", {}), " Meter ", el("span", {}), " Covered it reads ", el("span", {}),
      " Lamp hours ", el("span", {}), " Room ", el("span", {})),
    planned.length ? [plannedTable(page, planned), reachTable(page)] : computedTable(page),
    el("p", {class: "small"}, planned.length ? ACCEPT : "Lamps of one type commonly differ by 15 to 20 %, meshes and ages by as much again: a reading a third off is " +
      "no mistake of yours. Near a limit, believe the meter and move the lamp."),
    el("ol", {class: "small"}, METER_RULES.map((text) => el("li", {}, text)))];
}
