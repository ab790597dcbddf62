// What happens if something fails or is changed, everything else as declared.
import {declaredNote} from "./declared_note.mjs";
import {el, named, show} from "./dom.mjs";
import {number} from "./numbers.mjs";
import {sign} from "./sign.mjs";

// Limits that hold as declared and are broken then.
export const freshBreaks = ({breaks}) => breaks.filter(({already}) => !already);

// In the unit of temperature that is chosen.
export const caseText = (page, {text, air_c: air}) => (air === undefined ? text : `the room is at ${page.words.temperature(air)}`);

export function breakText(page, {reading, quantity, value, limit, verdict}) {
  return [reading === undefined ? "in reach" : named(reading, 28), " ", page.words.figure(quantity, value), `, ${verdict} ${number(limit)}`];
}

export function failuresSection(page) {
  const cases = page.data.results.failures ?? [];
  if (!cases.length) return null;
  const body = el("div", {}), note = declaredNote(page), MOST = 4;
  const element = el("section", {id: "failures", "aria-labelledby": "failures-title"},
    el("h2", {id: "failures-title"}, "If something fails or changes"),
    el("p", {class: "lead"}, "Each with everything else as declared. A plan has to survive a dimmer that goes to full and a lamp that goes out."),
    el("div", {class: "scroller", tabindex: "0", role: "region", "aria-label": "Table of failures"}, body), note.element);

  function update() {
    const rows = cases.map((one) => ({one, fresh: freshBreaks(one)}));
    show(body, el("table", {class: "failures"}, el("thead", {}, el("tr", {}, ["What happens", "What is off then"].map((head) => el("th", {scope: "col"}, head)))),
      el("tbody", {}, rows.map(({one, fresh}) => el("tr", {"data-kind": one.kind},
        el("th", {scope: "row"}, el("bdi", {}, caseText(page, one))),
        el("td", {}, fresh.length ? el("ul", {}, fresh.slice(0, MOST).map((broken) => el("li", {}, sign("bad", null), breakText(page, broken))),
          fresh.length > MOST && el("li", {}, `and ${fresh.length - MOST} more`)) : [sign("good", null), "nothing more"]))))));
    note.update();
  }
  return {element, update, follows: ["light", "unit"]};
}
