// Every reading with what is wanted of it.
import {bandAround, bandOf, bandText} from "./doubt_words.mjs";
import {el, freshId, named, show} from "./dom.mjs";
import {sign} from "./sign.mjs";
import {statusOf} from "./verdicts.mjs";

const USUAL = ["uvi", "irradiance", "infrared", "lux", "ppfd", "dli"];
const KINDS = {perch: "perch, at the back", plant: "mean over the crown, facing up", point: "point"};
const HEADS = {uvi: "UVI", irradiance: "All radiation", infrared: "Infrared", lux: "Light", ppfd: "PPFD", dli: "DLI"};

export function tableSection(page) {
  const {data, words, findings} = page;
  if (!data.results.readings.length) return null;
  const quantities = [...data.quantities.keys()];
  const usual = USUAL.filter((name) => quantities.includes(name));
  let all = false;
  const scroller = el("div", {class: "scroller", tabindex: "0", role: "region", "aria-label": "Table of readings"});
  const id = freshId("all"), box = el("input", {type: "checkbox", id, on: {change: () => { all = box.checked; update(); }}});
  const element = el("section", {id: "table", "aria-labelledby": "table-title"},
    el("h2", {id: "table-title"}, "All readings"),
    el("div", {class: "row"}, el("label", {class: "check", for: id}, box, " Every quantity")), scroller);

  function bandLine(i, {quantity, value}) {
    const band = bandOf(page, i, quantity);
    return band && el("span", {class: "kind"}, `may be ${bandText(bandAround(band, value))}`);
  }

  function wantsCell(i) {
    const wants = findings.wants(i);
    if (!wants.length) return el("td", {}, "nothing wanted");
    return el("td", {class: "wants"}, el("ul", {}, wants.map((want) => el("li", {class: statusOf(want.verdict), "data-quantity": want.quantity, "data-verdict": want.verdict},
      sign(statusOf(want.verdict)), `${words.figure(want.quantity, want.value)}, ${words.judged(want, want.quantity)}`, bandLine(i, want)))));
  }

  function update() {
    const columns = all ? quantities : usual;
    show(scroller, el("table", {},
      el("thead", {}, el("tr", {}, el("th", {scope: "col"}, "Place"),
        columns.map((name) => el("th", {scope: "col", class: "num"}, HEADS[name] ?? words.label(name),
          words.unit(name) ? el("span", {class: "unit"}, words.unit(name)) : "")),
        el("th", {scope: "col"}, "Wanted"))),
      el("tbody", {}, data.results.readings.map((reading, i) => el("tr", {"data-name": reading.name},
        el("th", {scope: "row"}, named(reading.name), el("span", {class: "kind"}, KINDS[reading.kind])),
        columns.map((name) => {
          const figure = findings.value(i, name);
          return el("td", {class: "num", "data-quantity": name, "data-value": figure?.value, "data-se": figure?.se}, figure ? words.amount(name, figure.value).split("\u00a0")[0] : "–");
        }),
        wantsCell(i))))));
  }
  return {element, update, follows: ["light"]};
}
