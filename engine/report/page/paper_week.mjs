// The weekly card: five readings and six looks for somebody who knows nothing of the plan.
import {el, named} from "./dom.mjs";
import {mainReading} from "./places.mjs";

const WEEKS = 6;

function readings(page) {
  const {data, findings, words} = page, rows = [], main = mainReading(data);
  const all = data.results.readings;
  if (main >= 0) {
    const want = findings.wants(main).find((one) => one.quantity === "uvi");
    rows.push([["UV index at ", named(all[main].name, 30)], want ? words.limits(want, null) : "as first read",
      "below 70 % of the first reading, or outside: tell the keeper"]);
  }
  const hottest = findings.hottest("uvi");
  if (hottest) rows.push([["UV index at the closest place it can reach, ", words.place(hottest.at)],
    hottest.limit === undefined ? "as first read" : `at most ${words.amount("uvi", hottest.limit)}`, "more: lamp off, tell the keeper"]);
  const shade = all.findIndex((reading, i) => reading.kind === "perch" && i !== main &&
    findings.wants(i).some((want) => want.quantity === "uvi" && !(want.min > 0)));
  rows.push([["UV index ", shade >= 0 ? ["at ", named(all[shade].name, 30)] : "in the usual shade"],
    shade >= 0 ? words.limits(findings.wants(shade).find((want) => want.quantity === "uvi"), null) : "near 0", "more: a leaf has gone; add shade"]);
  rows.push([["Temperature on the back at the basking place, after 2 hours"], "the keeper's: ______", "outside: dim or raise the flood, tell the keeper"]);
  rows.push([["Mesh under the hottest lamp, by contact probe"], "comfortable to a hand held on it", "hot: lamp off, tell the keeper"]);
  return rows;
}

const LOOKS = [
  ["The animal", "eyes open, usual colour, moves between sun and shade", "closed eyes, gaping, pale, hangs on the mesh: lamp off, ask a veterinarian"],
  ["The lamps", "all lit at their hours, no flicker, ends not black", "dark or flickering: tell the keeper"],
  ["The mesh", "clean, dry, no rust under the lamps", "dust or lime: clean it with the lamps off and cold"],
  ["The leaves", "none on the mesh, none over the sun perch", "trim with the lamps off"],
  ["Water and cables", "drip loops dry, nothing sprays a lamp", "wet: mains off, tell the keeper"],
  ["Fixings", "both fixings of each lamp tight, nothing scorched", "loose or brown: lamp off, tell the keeper"],
];

function table(page, head, rows) {
  return el("table", {class: "week"}, el("thead", {}, el("tr", {}, [head, "Good", "Else"].map((text) => el("th", {scope: "col"}, text)),
    Array.from({length: WEEKS}, (_, i) => el("th", {scope: "col"}, String(i + 1))))),
  el("tbody", {}, rows.map(([what, good, otherwise]) => el("tr", {}, el("th", {scope: "row"}, what), el("td", {}, good), el("td", {}, otherwise),
    Array.from({length: WEEKS}, () => el("td", {class: "blank"}))))));
}

export function weekSheet(page) {
  return [
    el("p", {}, "Once a week, the same day and hour, lamps on for two hours. Write the figure or a tick. Goggles on; never look into a lamp."),
    table(page, "Read", readings(page)), table(page, "Look", LOOKS),
    el("p", {class: "small"}, "A new tube, a cleaned mesh, a moved branch, a trimmed plant, a grown animal: each voids the last check. " +
      "Measure the whole meter sheet again then. The limits of 70 % and the hand on the mesh are common practice."),
    el("p", {class: "blanks"}, "Keeper ", el("span", {}), " Veterinarian ", el("span", {}), " First reading at the sun perch ", el("span", {}))];
}
