// How sure the figures are: their bands against what is wanted, and what the doubt comes from.
import {bandAround, bandOf, bandText, causeText} from "./doubt_words.mjs";
import {declaredNote} from "./declared_note.mjs";
import {el, show} from "./dom.mjs";
import {gauge} from "./gauge.mjs";
import {NO_BREAK, number, percent} from "./numbers.mjs";
import {picker} from "./picker.mjs";
import {mainReading} from "./places.mjs";
import {sign} from "./sign.mjs";
import {statusOf} from "./verdicts.mjs";

const DOUBTED = ["uvi", "irradiance", "ppfd"], MOST_CAUSES = 6;

function causesList(band) {
  const shown = band.causes.filter(({share}) => share >= 0.01).slice(0, MOST_CAUSES), rest = 1 - shown.reduce((sum, {share}) => sum + share, 0);
  const row = (share, text) => el("li", {}, el("span", {class: "num"}, `${Math.round(100 * share)}${NO_BREAK}%`), " ", text,
    el("span", {class: "part-bar", "aria-hidden": "true", style: {width: `${100 * share}%`}}));
  return el("ol", {class: "causes"}, shown.map((cause) => row(cause.share, causeText(cause))),
    rest > 0.005 && row(rest, "smaller things together"));
}

function doubtBlock(page, reading, quantity) {
  const {findings, words, interval} = {...page, interval: page.data.interval};
  const declared = bandOf(page, reading, quantity);
  const want = findings.wants(reading).find((one) => one.quantity === quantity);
  const figure = want ?? findings.value(reading, quantity), band = bandAround(declared, figure.value);
  const status = want ? statusOf(want.verdict) : "none";
  const within = !want || ((!(want.min > 0) || band.low >= want.min) && (want.max === undefined || band.high <= want.max));
  return el("div", {class: "doubt-block", "data-quantity": quantity},
    el("h3", {}, words.heading(quantity)),
    el("p", {}, want ? sign(status) : "", el("strong", {}, words.figure(quantity, figure.value)), ", may be ",
      el("span", {class: "num band"}, bandText(band)), want ? `. Wanted ${words.limits(want, quantity)}.` : "."),
    gauge({value: figure.value, text: words.amount(quantity, figure.value).split(NO_BREAK)[0], doubt: interval * figure.se,
      band, min: want?.min, max: want?.max, status}),
    want && status === "good" && !within && el("p", {class: "note"}, "The estimate is as wanted, but the real thing may not be: measure it."),
    band.causes.length > 0 && el("p", {class: "legend-title"}, "Where the doubt comes from"), causesList(band),
    declared.leaves?.relative_sd > 0.005 && el("p", {class: "note"}, "If the leaves hung elsewhere in their crowns: ±",
      percent(declared.leaves.relative_sd), " (one standard deviation, straight light only)."));
}

export function doubtSection(page) {
  const {data, findings} = page, {readings, doubt} = data.results;
  const known = readings.map((reading, i) => i).filter((i) => Object.keys(readings[i].doubt ?? {}).length > 0);
  if (!known.length) return null;
  let chosen = Math.max(0, known.indexOf(mainReading(data)));
  const body = el("div", {class: "doubt-row"}), note = declaredNote(page);
  const element = el("section", {id: "doubt", "aria-labelledby": "doubt-title"},
    el("h2", {id: "doubt-title"}, "How sure is this?"),
    el("p", {class: "lead"}, "A plan from labels is not a measurement. The long bars hold the true figure in 19 of 20 enclosures, if these things ",
      `vary as the scene declares (one standard deviation): lamps of one type ${percent(doubt.lamp)}, their ageing ${percent(doubt.ageing)}, `,
      `meshes ${percent(doubt.mesh)}, what surfaces reflect ${percent(doubt.surfaces)}, heights `,
      el("span", {class: "position"}), ". A meter shrinks them."),
    el("div", {class: "row"}, picker("At", known.map((i) => readings[i].name), chosen, (k) => { chosen = k; update(); })), body, note.element);

  function update() {
    const i = known[chosen], wanted = findings.wants(i).map(({quantity}) => quantity);
    const quantities = [...new Set([...wanted, ...DOUBTED])].filter((quantity) => bandOf(page, i, quantity));
    element.querySelector(".position").textContent = page.lengths.text(doubt.position_m);
    show(body, quantities.slice(0, Math.max(3, wanted.length)).map((quantity) => doubtBlock(page, i, quantity)));
    note.update();
  }
  return {element, update, follows: ["light", "unit"]};
}
