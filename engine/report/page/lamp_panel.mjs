// Switch, dimmer and hours of each lamp. Everything on the page follows.
import {verdictLine} from "./answers.mjs";
import {el, freshId, named, show} from "./dom.mjs";
import {number} from "./numbers.mjs";
import {sign} from "./sign.mjs";
import {rank, statusOf} from "./verdicts.mjs";

function percentText(share) {
  return `${number(100 * share)} %`;
}

function lampControls(page, source, i) {
  const setting = page.state.lamps[i];
  const change = (edit) => page.change("light", edit);
  const ids = {on: freshId("lamp"), dim: freshId("lamp"), hours: freshId("lamp")};
  const on = el("input", {type: "checkbox", id: ids.on, role: "switch", checked: setting.on,
    on: {change: () => change(() => { setting.on = on.checked; })}});
  const dim = el("input", {type: "range", id: ids.dim, min: 0, max: 100, step: 1,
    on: {input: () => change(() => { setting.dim = Number(dim.value) / 100; })}});
  const dimText = el("output", {for: ids.dim, class: "num"}), hoursText = el("output", {for: ids.hours, class: "num"});
  const hours = setting.hours === null ? null : el("input", {type: "range", id: ids.hours, min: 0, max: 24, step: 0.25,
    on: {input: () => change(() => { setting.hours = Number(hours.value); })}});
  const of = el("span", {class: "unseen"}, " of ", named(source.name));
  const element = el("fieldset", {class: "lamp"},
    el("legend", {}, el("label", {for: ids.on}, on, " ", named(source.name, 40))),
    el("div", {class: "slider"}, el("label", {for: ids.dim}, source.is_lamp ? "Dimmer" : "Strength", of.cloneNode(true)), dim, dimText),
    hours && el("div", {class: "slider"}, el("label", {for: ids.hours}, "Hours a day", of.cloneNode(true)), hours, hoursText));

  function update() {
    on.checked = setting.on;
    dim.value = Math.round(100 * setting.dim);
    dimText.textContent = percentText(setting.dim);
    dim.setAttribute("aria-valuetext", percentText(setting.dim));
    element.classList.toggle("dark", !setting.on || setting.dim === 0);
    if (!hours) return;
    hours.value = setting.hours;
    hoursText.textContent = `${number(setting.hours)} h`;
    hours.setAttribute("aria-valuetext", `${number(setting.hours)} hours`);
  }
  return {element, update};
}

// What is not as wanted, beside the sliders, so that what they do is seen at once.
function shortVerdict(page, finding) {
  const {words, data} = page, figure = words.figure(finding.quantity, finding.value);
  if (finding.kind === "hottest") return ["In reach: ", figure, `, limit ${words.amount(finding.quantity, finding.limit)}`];
  return [named(data.results.readings[finding.reading].name, 24), ": ", figure, `, ${words.judged(finding, null)}`];
}

export function lampPanel(page) {
  const {data, state} = page, MOST = 8;
  const panels = data.sources.map((source, i) => lampControls(page, source, i));
  const changed = el("p", {class: "note", role: "status"}), live = el("div", {class: "live"});
  const reset = el("button", {type: "button", on: {click: () => page.change("light", () => {
    state.lamps.forEach((lamp, i) => Object.assign(lamp, {on: true, dim: data.sources[i].dim, hours: data.sources[i].hours}));
  })}}, "As declared");
  const element = el("div", {class: "lamp-panel"},
    el("div", {class: "lamp-head"}, el("h3", {}, "Switch and dim"), reset),
    el("div", {class: "lamps"}, panels.map((panel) => panel.element)), live, changed);

  function update() {
    panels.forEach((panel) => panel.update());
    const declared = page.light.isDeclared();
    reset.disabled = declared;
    const text = declared ? "" : "The lamps differ from the scene: readings.json and the maps do not show this.";
    if (changed.textContent !== text) changed.textContent = text;
    const verdict = verdictLine(page);
    const off = page.findings.all().filter((finding) => finding.kind !== "zone" && rank(finding.verdict) < 2);
    show(live, el("p", {}, sign(verdict.status), el("strong", {}, verdict.text)),
      el("ul", {}, off.slice(0, MOST).map((finding) => el("li", {}, sign(statusOf(finding.verdict)), shortVerdict(page, finding))),
        off.length > MOST && el("li", {}, `and ${off.length - MOST} more`)));
  }
  return {element, update};
}
