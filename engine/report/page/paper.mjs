// On paper: sheets that print one to a page, whichever are ticked.
import {el, named, show} from "./dom.mjs";
import {decisionSheet} from "./paper_decision.mjs";
import {drillSheet} from "./paper_drill.mjs";
import {meterSheet} from "./paper_meter.mjs";
import {weekSheet} from "./paper_week.mjs";

const SHEETS = [["Decision", decisionSheet], ["Drilling plan", drillSheet], ["Meter sheet", meterSheet], ["Weekly card", weekSheet]];

export function paperSection(page) {
  const {data, light} = page;
  const sheets = SHEETS.map(([name, make]) => {
    const body = el("div", {}), element = el("article", {class: "sheet", "aria-label": name, tabindex: "0"}, body);
    const tick = el("input", {type: "checkbox", checked: true, on: {change: () => element.classList.toggle("unticked", !tick.checked)}});
    return {name, make, body, element, tick};
  });
  const previews = el("div", {class: "sheets"}, sheets.map((sheet) => sheet.element));
  const element = el("section", {id: "paper", "aria-labelledby": "paper-title"},
    el("h2", {id: "paper-title"}, "On paper"),
    el("p", {class: "lead"}, "Print gives the sheets that are ticked, each on a page of its own (A4 or Letter), with the lamps as they are set here."),
    el("div", {class: "row"}, sheets.map((sheet) => el("label", {class: "check"}, sheet.tick, " ", sheet.name)),
      el("button", {type: "button", on: {click: () => window.print()}}, "Print")),
    previews);

  function update() {
    for (const {make, body, name} of sheets) {
      const content = make(page);
      show(body, el("header", {class: "sheet-head"}, el("h3", {}, name), el("p", {}, named(data.results.title || data.results.scene, 70)),
        light.isDeclared() ? null : el("p", {class: "moved"}, "With the lamps as set on the page, not as the scene declares them.")),
      content, el("footer", {class: "sheet-foot"}, "Estimates, not measurements: the meter decides. Not veterinary advice."));
    }
  }
  return {element, update, follows: ["light", "unit"]};
}
