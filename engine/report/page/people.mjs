// How long people can work in the light of the lamps.
import {declaredNote} from "./declared_note.mjs";
import {el, named, show} from "./dom.mjs";
import {NO_BREAK, number} from "./numbers.mjs";
import {sign} from "./sign.mjs";

export function timeText(minutes) {
  if (minutes === null || minutes === undefined) return "not within 8" + NO_BREAK + "h";
  return minutes < 120 ? number(minutes, 2) + NO_BREAK + "min" : number(minutes / 60, 2) + NO_BREAK + "h";
}
const limitShare = (share) => (share > 0 && share < 0.01 ? "less than 1" : number(100 * share, 2)) + NO_BREAK + "%";

export function peopleSection(page) {
  const people = page.data.results.people ?? [];
  if (!people.length) return null;
  const body = el("div", {class: "scroller", tabindex: "0", role: "region", "aria-label": "Table of people at work"}), note = declaredNote(page);
  const element = el("section", {id: "people", "aria-labelledby": "people-title"},
    el("h2", {id: "people-title"}, "People at work in this light"),
    el("p", {class: "lead"}, "With the lamps on and the doors open, how long until the daily limits for people at work (ICNIRP 2004) are reached. " +
      "They say what nearly everybody bears day after day without harm; they are no safe dose for everybody. Lamps off, or goggles on, is better."),
    body, note.element);

  function update() {
    const {words} = page;
    show(body, el("table", {class: "people"}, el("thead", {}, el("tr", {}, ["Work", "Bare skin and eyes", "Eyes, UVA", "A day takes", "UV index there", "Where"]
      .map((head) => el("th", {scope: "col"}, head)))),
    el("tbody", {}, people.map((one) => {
      const share = Math.max(one.share_of_skin_limit ?? 0, one.share_of_eye_limit ?? 0);
      return el("tr", {"data-name": one.name}, el("th", {scope: "row"}, named(one.name, 30)),
        el("td", {"data-minutes": one.minutes_to_skin_limit}, timeText(one.minutes_to_skin_limit)),
        el("td", {"data-minutes": one.minutes_to_eye_limit}, timeText(one.minutes_to_eye_limit)),
        el("td", {}, one.daily_minutes > 0 ? [sign(share > 1 ? "bad" : "good", null),
          `${timeText(one.daily_minutes)}: ${limitShare(share)} of the limit`] : "–"),
        el("td", {}, words.amount("uvi", one.uvi.value)), el("td", {}, words.place(one.at)));
    }))));
    note.update();
  }
  return {element, update, follows: ["light", "unit"]};
}
