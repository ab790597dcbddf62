// The whole body on a perch: what falls on its back and flank, and whether heat lies inside ultraviolet inside bright light.
import {bodyDrawing} from "./body_drawing.mjs";
import {declaredNote} from "./declared_note.mjs";
import {el, named, show} from "./dom.mjs";
import {number} from "./numbers.mjs";
import {picker} from "./picker.mjs";
import {sign} from "./sign.mjs";
import {statusOf} from "./verdicts.mjs";

const ON_BODY = ["uvi", "infrared", "irradiance", "lux"];

function spreadLine(page, quantity, {greatest, least, peak_to_edge: ratio}) {
  const {words} = page;
  return el("li", {}, `${words.heading(quantity)}: ${words.amount(quantity, least)} to ${words.amount(quantity, greatest)} over the body`,
    ratio ? `, ${number(ratio, 2)} to 1` : "", ".");
}

export function nestedText(body) {
  if (body.nested === null) return "Not all three of ultraviolet, heat and bright light are there.";
  return body.nested ? "Heat lies inside ultraviolet, and that inside bright light: where it is warm there is both."
    : "Heat does not lie inside ultraviolet inside bright light: it can get one without the others.";
}

export function bodySection(page) {
  const animal = page.data.results.animal ?? {bodies: []};
  // The adult, then the other sizes, each on every perch.
  const bodies = [...animal.bodies, ...(animal.sizes ?? []).flatMap(({name, bodies: list}) => list.map((body) => ({...body, size: name})))];
  if (!bodies.length) return null;
  let chosen = Math.max(0, bodies.findIndex(({perch, size}) => !size && perch === animal.sun_perch)), quantity = "uvi";
  const body = el("div", {}), note = declaredNote(page);
  const quantities = ON_BODY.filter((name) => bodies.some(({places}) => places.some(({values}) => values[name])));
  const element = el("section", {id: "body", "aria-labelledby": "body-title"},
    el("h2", {id: "body-title"}, "The whole body"),
    el("p", {class: "lead"}, "A perch reads one place; the animal is longer. Each mark is a place of its back (upper row) or of the lower edge of its flank, " +
      "with the meter turned as at the perch. The bars below show how far along the perch each kind of light is at least half of its greatest."),
    el("div", {class: "row"},
      picker("On", bodies.map(({perch, size}) => (size ? `${perch}, ${size}` : perch)), chosen, (k) => { chosen = k; update(); }),
      picker("what", quantities.map((name) => page.words.heading(name)), 0, (k) => { quantity = quantities[k]; update(); })),
    body, note.element);

  function update() {
    const one = bodies[chosen], {words, lengths} = page;
    const reading = one.size && animal.sizes.find(({name}) => name === one.size).readings.find(({name}) => name === one.perch);
    const off = one.places.filter(({wants_met: met}) => met === false).length;
    show(body, el("figure", {class: "chart-block wide"}, bodyDrawing(page, one, quantity)),
      el("p", {class: "nested"}, sign(one.nested === null ? "none" : one.nested || !one.for_basking ? "good" : "unsure", null),
        !one.for_basking && one.nested === false ? "This perch is not for warming up, so it does not matter that heat, ultraviolet and light part here."
          : nestedText(one)),
      el("ul", {class: "facts"},
        el("li", {}, `An animal ${lengths.text(one.length)} long and ${lengths.text(one.height)} high on `, named(one.perch, 30), `, its back ${lengths.text(one.back)} above it.`),
        (reading?.wants ?? []).map((want) => el("li", {}, sign(statusOf(want.verdict)), `Its back there: ${words.figure(want.quantity, want.value)}, ${
          words.judged(want, want.quantity)}.`)),
        one.wants_share !== null && el("li", {}, `All wants of the perch hold on ${words.percent(one.wants_share)} of the back`,
          one.flank_wants_share === null ? "." : ` and on ${words.percent(one.flank_wants_share)} of the flank's lower edge.`,
          off ? " A hollow mark is a place where one does not." : ""),
        Object.entries(one.spread).filter(([name]) => quantities.includes(name)).map(([name, spread]) => spreadLine(page, name, spread))));
    note.update();
  }
  return {element, update, follows: ["light", "unit", "theme"]};
}
