// Where to hold a meter first, what it should show, and what a reading that does not fit says.
import {declaredNote} from "./declared_note.mjs";
import {facingText} from "./directions.mjs";
import {bandOf, bandText, causeText} from "./doubt_words.mjs";
import {clipped, el, freshId, named, show} from "./dom.mjs";
import {NO_BREAK, number} from "./numbers.mjs";
import {sign} from "./sign.mjs";

// What a reading says: that it fits, or how far it is off and what may be behind that.
export function judgedReading(page, row, value) {
  if (value >= row.low && value <= row.high) return {status: "good", text: ["Fits what is declared."]};
  const much = value > row.high, {readings} = page.data.results;
  const reading = readings.findIndex(({name}) => name === row.place), band = reading < 0 ? null : bandOf(page, reading, row.quantity);
  const likely = (band?.causes ?? []).slice(0, 2).map((cause, i) => [i ? "; " : " Look first at what is most in doubt: ", causeText(cause)]);
  return {status: "bad", text: [value > 0 ? `${number(value / row.expected, 2)} times what was expected` : "Nothing, where something was expected",
    much ? ". Lamp off before anything else if that is more than you allow." : ".", " Read again; then lamp, dimmer, screen and heights are not as declared.",
    likely, likely.length ? "." : ""]};
}

export function measureSection(page) {
  const sheet = page.data.results.meter_sheet;
  if (!sheet?.rows.length) return null;
  const note = declaredNote(page), percentOf = (sd) => "±" + number(196 * sd, 2) + NO_BREAK + "%";
  const rows = sheet.rows.map((row) => {
    const id = freshId("reading"), says = el("p", {role: "status"}), where = el("p", {class: "note"}), unit = page.words.unit(row.quantity);
    const input = el("input", {id, type: "number", min: 0, step: "any", inputmode: "decimal", on: {input: () => {
      const value = Number(input.value);
      if (input.value === "" || !(value >= 0)) { show(says, ""); return; }
      const {status, text} = judgedReading(page, row, value);
      show(says, sign(status, null), text);
    }}});
    return {row, where, element: el("li", {"data-place": row.place, "data-quantity": row.quantity},
      el("h3", {}, el("bdi", {}, clipped(row.place, 60)), row.only_lamp ? [", only ", named(row.only_lamp, 24), " lit"] : ""), where,
      el("p", {}, "It should show ", el("strong", {}, page.words.figure(row.quantity, row.expected)), "; accept ", el("strong", {}, bandText(row)), "."),
      el("p", {class: "entry"}, el("label", {for: id}, "Your reading", el("span", {class: "unseen"}, ", ", el("bdi", {}, clipped(row.place, 60)), `, ${page.words.label(row.quantity)}`)),
        " ", input, unit ? ` ${unit}` : ""), says)};
  });
  const element = el("section", {id: "measure", "aria-labelledby": "measure-title"},
    el("h2", {id: "measure-title"}, "Measure it"),
    el("p", {class: "lead"}, `The most useful places first. ${sheet.rows.length} readings bring the doubt in what you asked for from ${percentOf(sheet.log_sd_before)} ` +
      `to ${percentOf(sheet.log_sd_after)}. Type what your meter shows to see what it says; meter-sheet.csv takes the readings for the program. ` +
      "The page keeps nothing."),
    el("ol", {class: "measure"}, rows.map((row) => row.element)), note.element);

  function update() {
    for (const {row, where} of rows)
      show(where, `${page.words.place(row.at)}; sensor ${facingText(row.direction)}; ${row.through_screen ? "through the screen" : "no screen between"}`);
    note.update();
  }
  return {element, update, follows: ["light", "unit"]};
}
