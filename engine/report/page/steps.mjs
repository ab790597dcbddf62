// What a keeper does next, worst first: what each finding asks for, then what to measure.
import {bandText} from "./doubt_words.mjs";
import {clipped, el, named} from "./dom.mjs";
import {NO_BREAK, number} from "./numbers.mjs";
import {mainReading} from "./places.mjs";
import {rank} from "./verdicts.mjs";

// The lamp that could give most of a quantity at a reading with its dimmer at full, and what it gives there as set.
function strongest(page, reading, quantity) {
  const {data, light} = page, none = {name: "", now: 0, most: 0};
  if (!data.sources.length) return none;
  const now = light.readingShares(reading, quantity), full = light.readingSharesAtFull(reading, quantity);
  return data.sources.reduce((best, {name}, i) => (full[i] > best.most ? {name, now: now[i], most: full[i]} : best), none);
}

function ofHottest(page, finding) {
  const {words} = page;
  return {short: ["Raise ", named(finding.lamp), " or bar the way to the place under it."],
    more: [["There the animal gets ", words.figure(finding.quantity, finding.value), ", and you allow ",
      words.amount(finding.quantity, finding.limit), ". A right perch does not make this safe."]]};
}

function ofWant(page, finding) {
  const {data, words} = page, reading = data.results.readings[finding.reading], plant = reading.kind === "plant";
  const lamp = strongest(page, finding.reading, finding.quantity), name = () => named(reading.name);
  const more = [[name(), `: ${words.figure(finding.quantity, finding.value)}, ${words.judged(finding, finding.quantity)}.`]];
  if (finding.verdict === "above")
    return {short: plant ? ["Move ", name(), " lower or into shade."] : ["Raise ", named(lamp.name),
      finding.quantity === "uvi" ? "" : ", dim it", " or lower ", name(), "."], more};
  if (plant) return {short: ["Give ", name(), " more light."],
    more: [...more, "Thin the leaves above it, move it nearer to the light, or give it more hours."]};
  const LITTLE = 0.1;
  if (!(lamp.most > LITTLE * finding.min)) return {short: ["No lamp here gives what ", name(), " wants."], more};
  if (!(lamp.now > LITTLE * lamp.most)) return {short: ["Switch on ", named(lamp.name), "."], more};
  return {short: ["Lower ", named(lamp.name), " or raise ", name(), "."],
    more: [...more, "Look at the closest reachable place first: it gains more than the perch."]};
}

function ofZone(page, finding) {
  const refuge = finding.zone === "refuge";
  const more = [[`${page.words.percent(finding.value)}, ${page.words.judged(finding, null, 100, "%")}.`]];
  return refuge ? {short: "Make more shade.", more: [...more, "Leaves, cork or a board between the lamps and the low places."]}
    : {short: "Bring heat and UV together over more of the perches.", more};
}

const ADVICE = {hottest: ofHottest, want: ofWant, zone: ofZone};

// The most useful places of the meter sheet; it is for the lamps as declared.
function planned(page, {rows, log_sd_before: before, log_sd_after: after}) {
  const {words} = page, text = (row) => [el("bdi", {}, clipped(row.place, 48)), row.only_lamp ? [", only ", named(row.only_lamp, 24), " lit"] : "", ": ",
    words.figure(row.quantity, row.expected), `; ${bandText(row)} fits what is declared.`];
  const band = (sd) => "±" + number(196 * sd, 2) + NO_BREAK + "%";
  return {short: "Measure before the animal goes in.", more: [...rows.slice(0, 2).map(text),
    `${rows.length} readings bring the doubt in what you asked for from ${band(before)} to ${band(after)}.`]};
}

function measure(page) {
  const sheet = page.data.results.meter_sheet;
  if (sheet?.rows.length && page.light.isDeclared()) return planned(page, sheet);
  const {data, findings, words} = page, main = mainReading(data), hottest = findings.hottest("uvi"), more = [];
  if (main >= 0) more.push([named(data.results.readings[main].name), ": the meter should show about ",
    words.figure("uvi", findings.value(main, "uvi").value), "."]);
  if (hottest && hottest.value > 0.05) more.push(["The closest place it can reach, ", words.place(hottest.at), ": about ",
    words.figure("uvi", hottest.value), "."]);
  return {short: "Measure before the animal goes in.", more: [...more, "Lamps of one type differ by 15 to 20 %: the meter sheet below " +
    "lists every place."]};
}

export function nextSteps(page) {
  const all = page.findings.all();
  const off = all.filter((finding) => rank(finding.verdict) === 0).map((finding) => ADVICE[finding.kind](page, finding));
  const open = all.filter((finding) => finding.verdict === "unsure").length;
  const steps = off.slice(0, 3);
  if (off.length > 3) steps.push({short: `${off.length - 3} more ${off.length === 4 ? "want is" : "wants are"} not met.`, more: ["See all readings below."]});
  if (open) steps.push({short: `${open} ${open > 1 ? "are" : "is"} too close to call.`, more: ["Only a meter can tell."]});
  steps.push(measure(page));
  return steps;
}
