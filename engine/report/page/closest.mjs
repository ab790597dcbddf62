// The closest place that the animal can reach to each lamp, and what would mend one that is too bright.
import {declaredNote} from "./declared_note.mjs";
import {el, named, show} from "./dom.mjs";
import {percent} from "./numbers.mjs";
import {sign} from "./sign.mjs";
import {statusOf} from "./verdicts.mjs";

// "Raise uv tube by 4 cm; or let it give at most 80 % of its light."
export function mendLine(page, {lamp, quantity, limit, raise, output_share: share, sun_perch_uvi: sun}) {
  const {words, lengths} = page, ways = [];
  if (raise !== null) ways.push(["raise ", named(lamp, 30), ` by ${lengths.text(raise)}`,
    sun === null ? "" : [" (", named(page.data.results.animal.sun_perch, 30), ` then reads ${words.figure("uvi", sun)})`]]);
  if (share !== null) ways.push([raise === null ? ["let ", named(lamp, 30)] : "let it", ` give at most ${percent(share)} of its light`]);
  const goal = `To keep ${words.heading(quantity)} in reach at ${words.amount(quantity, limit)} or less: `;
  return ways.length ? [goal, ways.map((way, i) => [i ? ", or " : "", way]), "."]
    : [goal, "raising or dimming ", named(lamp, 30), " alone does not do it. Bar the way there."];
}

function closestCell(page, quantity, found) {
  return el("td", {"data-quantity": quantity, "data-value": found.value}, found.verdict ? sign(statusOf(found.verdict)) : "",
    page.words.figure(quantity, found.value),
    found.over > 0 ? el("span", {class: "kind"}, `${page.words.amount(quantity, found.over)} over your limit`) : "",
    found.lamp && found.lamp_share < 0.995 ? el("span", {class: "kind"}, `${percent(found.lamp_share)} from `, named(found.lamp, 22)) : "");
}

export function closestSection(page) {
  const {animal} = page.data.results, closest = animal?.closest ?? [];
  if (!closest.length) return null;
  const body = el("div", {class: "scroller", tabindex: "0", role: "region", "aria-label": "Table of the closest places"});
  const mends = el("ul", {class: "facts"}), note = declaredNote(page);
  const element = el("section", {id: "closest", "aria-labelledby": "closest-title"},
    el("h2", {id: "closest-title"}, "How close can it get?"),
    el("p", {class: "lead"}, "Animals hang from the wire under a lamp. For each lamp the closest place that a body can reach, all lamps on, at its brightest orientation."),
    body, mends, note.element);

  function update() {
    const {lengths, words} = page;
    show(body, el("table", {class: "closest"}, el("thead", {}, el("tr", {}, ["Lamp", "Ultraviolet", "All radiation", "With dimmers at full", "From the lamp", "Closest place"]
      .map((head) => el("th", {scope: "col"}, head)))),
    el("tbody", {}, closest.map((place) => el("tr", {"data-lamp": place.lamp}, el("th", {scope: "row"}, named(place.lamp, 30)),
      closestCell(page, "uvi", place.uvi), closestCell(page, "irradiance", place.irradiance),
      el("td", {}, ["uvi", "irradiance"].map((quantity, i) => {
        const found = place.at_full[quantity];
        return [i ? ", " : "", found.verdict === "above" ? sign("bad") : "", words.figure(quantity, found.value)];
      })),
      el("td", {}, lengths.text(place.distance_to_lamp)),
      el("td", {}, words.place(place.at), el("span", {class: "kind"}, `${lengths.text(place.below_top)} below `, el("bdi", {}, place.top))))))));
    show(mends, animal.mends.map((mend) => el("li", {}, mendLine(page, mend))));
    note.update();
  }
  return {element, update, follows: ["light", "unit"]};
}
