// The questions of the first screen and their answers, for the screen and for paper. Each call makes fresh nodes.
import {failing} from "./answers_failures.mjs";
import {nestedText} from "./body.mjs";
import {mendLine} from "./closest.mjs";
import {bandAround, bandOf, bandText, causeText} from "./doubt_words.mjs";
import {el, named} from "./dom.mjs";
import {number} from "./numbers.mjs";
import {mainReading} from "./places.mjs";
import {withoutHeatLine, wayLine} from "./shelter.mjs";
import {nextSteps} from "./steps.mjs";
import {rank, statusOf, worst} from "./verdicts.mjs";

const SENSE = {uvi: "ultraviolet", irradiance: "radiant heat and light"};

function danger(page) {
  const {findings, words} = page, item = {key: "danger", question: "Can it reach a dangerous place?", details: []};
  const places = ["uvi", "irradiance"].map((quantity) => ({quantity, ...findings.hottest(quantity)}));
  if (!page.data.results.hottest)
    return {...item, status: "none", answer: ["Not looked for: the scene describes no animal."]};
  const judged = places.filter((place) => place.verdict !== undefined);
  item.status = statusOf(worst(judged.map((place) => place.verdict)));
  const over = judged.filter((place) => place.verdict === "above");
  const FULL_SUN = 1000; // W/m2 (ASTM G173)
  const heat = places[1], unjudged = heat.verdict === undefined && heat.value > FULL_SUN;
  if (unjudged && item.status === "good") item.status = "unsure";
  item.answer = {
    bad: ["Yes: ", over.map((place, i) => [i ? " and " : "", words.figure(place.quantity, place.value)]),
      " in reach, more than you allow."],
    unsure: [unjudged ? ["Perhaps: ", words.figure("irradiance", heat.value), " in reach, more than full sun, and you set no limit for it."]
      : "Too close to your limit to call."],
    good: ["No: nothing in reach exceeds your limits."],
    none: ["You set no limit. This is the most it can reach:"],
  }[item.status];
  if (page.light.isDeclared()) for (const mend of page.data.results.animal?.mends ?? []) item.details.push(mendLine(page, mend));
  for (const place of places) {
    const limit = place.limit === undefined ? "" : ` (your limit ${words.amount(place.quantity, place.limit)})`;
    item.details.push(["Most ", SENSE[place.quantity], ": ", words.figure(place.quantity, place.value), limit, ", ",
      words.place(place.at), place.lamp ? [", mostly from ", named(place.lamp)] : "",
      !place.moved && place.doubt ? `; it may be ${bandText(place.doubt)}` : "",
      place.firm === false && !place.moved ? ": measure there first" : "",
      place.verdict === "unsure" && place.moved
        ? [`; elsewhere in reach it may be up to ${words.figure(place.quantity, place.most)}`] : "", "."]);
  }
  const full = page.data.results.hottest.at_full;
  item.details.push(["If a dimmer fails and goes to full: ",
    ["uvi", "irradiance"].map((quantity, i) => [i ? " and " : "", words.figure(quantity, full[quantity].value),
      full[quantity].verdict === "above" ? " (over your limit)" : ""]), " in reach."]);
  return item;
}

function perch(page) {
  const {data, findings, words} = page, index = mainReading(data), reading = data.results.readings[index];
  const item = {key: "perch", question: "What does the basking perch read?", details: []};
  if (!reading) return {...item, status: "none", answer: ["No perch or point is named in the scene."]};
  const wants = findings.wants(index);
  item.status = statusOf(worst(wants.map((want) => want.verdict)));
  const uvi = findings.value(index, "uvi");
  const declared = bandOf(page, index, "uvi"), band = declared && bandAround(declared, uvi.value);
  item.answer = [words.figure("uvi", uvi.value), words.doubt("uvi", uvi), " at ", named(reading.name), band ? `; it may be ${bandText(band)}.` : "."];
  item.wants = wants.map((want) => {
    const own = bandOf(page, index, want.quantity);
    return {...want, band: own && bandAround(own, want.value)};
  });
  if (band?.causes.length) item.details.push(["Most of the doubt: ", causeText(band.causes[0]), ". A meter settles it."]);
  if (!wants.length) item.details.push(["Nothing is wanted of it."]);
  data.results.readings.forEach((other, i) => {
    if (i === index || other.kind !== "perch") return;
    for (const want of findings.wants(i))
      if (want.quantity === "uvi")
        item.details.push([named(other.name), ": ", words.figure("uvi", want.value), `, ${words.judged(want, null)}.`]);
  });
  return item;
}

const MEET = [["uvi", "d3", "uvb"], ["irradiance", "infrared"], ["lux", "ppfd"]];
const MEET_NAMES = ["UV", "heat", "visible light"];

function zoneWantLine(page, want) {
  const share = {volume: "of the volume", perch: "of what it can sit on", each_level: "of the poorest level"}[want.share];
  return [`${page.words.percent(want.value)} ${share}, ${page.words.judged(want, null, 100, "%")}.`];
}

function meet(page) {
  const {data, findings, words} = page, zone = data.results.zones.basking, index = mainReading(data);
  const item = {key: "meet", question: "Do heat, UV and light meet?", details: []};
  const zoneWants = data.results.zones.wants.filter((want) => want.zone === "basking");
  const wants = index < 0 ? [] : findings.wants(index);
  const kinds = MEET.map((names) => wants.filter((want) => names.includes(want.quantity)));
  const asked = kinds.map((list, i) => [MEET_NAMES[i], worst(list.map((want) => want.verdict)), list.length])
    .filter(([, , count]) => count);
  const known = page.light.isDeclared() ? zoneWants : [];
  const verdict = worst([...asked.map(([, one]) => one), ...known.map((want) => want.verdict)]);
  if (asked.length < 2 && !zone)
    return {...item, status: "none", answer: ["Not asked: give a perch wants on UV and heat, or the animal a basking zone."]};
  item.status = statusOf(verdict);
  const name = index < 0 ? "" : named(data.results.readings[index].name);
  if (asked.length >= 2) {
    const missing = asked.filter(([, one]) => rank(one) === 0).map(([what]) => what);
    const open = asked.filter(([, one]) => rank(one) === 1).map(([what]) => what);
    item.answer = missing.length ? ["Not at ", name, `: ${missing.join(" and ")} ${missing.length > 1 ? "are" : "is"} off.`]
      : open.length ? ["Nearly, at ", name, `: ${open.join(" and ")} too close to call.`]
      : ["Yes, at ", name, `: ${asked.map(([what]) => what).join(", ")} are all as wanted.`];
  } else {
    item.answer = [zone.volume_fraction > 0 ? "Yes, in part of the enclosure." : "Nowhere in the enclosure."];
  }
  const body = page.light.isDeclared() && data.results.animal?.bodies.find(({perch: on}) => on === data.results.readings[index]?.name);
  if (body) {
    if (body.nested !== null) item.details.push([nestedText(body)]);
    if (body.wants_share !== null) item.details.push([`All wants hold on ${words.percent(body.wants_share)} of the back`,
      body.flank_wants_share === null ? "." : ` and ${words.percent(body.flank_wants_share)} of the flank's lower edge.`]);
    if (item.status === "good" && (body.wants_share < 0.995 || body.nested === false))
      Object.assign(item, {status: "unsure", signWord: "In part",
        answer: ["At ", name, " yes, but not on the whole body."]});
  }
  if (zone) {
    const what = data.scene.animal?.basking?.map((want) =>
      `${words.label(want.quantity)} ${words.limits(want, want.quantity)}`).join(", ");
    item.details.push([`A basking place (${what}) is found in ${words.percent(zone.volume_fraction)} of the volume`,
      zone.perch_fraction === undefined ? "." : ` and along ${words.percent(zone.perch_fraction)} of what it can sit on.`]);
  }
  for (const want of zoneWants) item.details.push(zoneWantLine(page, want));
  return asDeclared(page, item, zone);
}

function shade(page) {
  const {data, words} = page, zone = data.results.zones.refuge;
  const item = {key: "shade", question: "Is there shade?", details: []};
  if (!zone) return {...item, status: "none", answer: ["Not asked: the scene says of no place what counts as a refuge."]};
  const wants = data.results.zones.wants.filter((want) => want.zone === "refuge");
  item.status = statusOf(worst(wants.map((want) => want.verdict)));
  const what = data.scene.animal.refuge.map((want) =>
    `${words.label(want.quantity)} ${words.limits(want, want.quantity)}`).join(", ");
  item.answer = [zone.volume_fraction > 0 ? "Yes: " : "No: ", `${words.percent(zone.volume_fraction)} of the volume`,
    zone.perch_fraction === undefined ? "" : ` and ${words.percent(zone.perch_fraction)} of what it can sit on`, "."];
  const shelter = page.light.isDeclared() && data.results.animal?.shelter;
  if (shelter) {
    item.details.push(wayLine(page, shelter));
    const without = withoutHeatLine(page, shelter);
    if (without) item.details.push(without);
  }
  item.details.push([`A refuge is a place with ${what}.`]);
  const levels = data.results.zones.levels.filter((level) => level.refuge !== undefined);
  const bare = levels.filter((level) => level.refuge < 0.01);
  if (bare.length) {
    const from = Math.min(...bare.map((level) => level.z)), to = Math.max(...bare.map((level) => level.z));
    item.details.push([from === to ? `None at the level ${page.lengths.text(from)} up.`
      : `${bare.length} levels between ${page.lengths.number(from)} and ${page.lengths.text(to)} up have none.`]);
  }
  for (const want of wants) item.details.push(zoneWantLine(page, want));
  if (!page.light.isDeclared()) Object.assign(item, {status: "none", signWord: "Not known", answer: ["As declared: ", item.answer]});
  return asDeclared(page, item, zone);
}

// Shares of the enclosure take the survey itself; with lamps moved they are still the file's.
function asDeclared(page, item, zone) {
  if (zone && !page.light.isDeclared())
    item.details.push([el("em", {}, "Shares of the enclosure are for the lamps as declared; survey again for these.")]);
  return item;
}

function plants(page) {
  const {data, findings, words} = page, item = {key: "plants", question: "Do the plants live?", details: []};
  const judged = [];
  data.results.readings.forEach((reading, i) => {
    if (reading.kind === "plant") for (const want of findings.wants(i)) judged.push({name: reading.name, ...want});
  });
  const count = new Set(judged.map((one) => one.name)).size;
  if (!count) return {...item, status: "none", answer: ["Not asked: no plant in the scene has needs."]};
  item.status = statusOf(worst(judged.map((one) => one.verdict)));
  const off = judged.filter((one) => rank(one.verdict) === 0), open = judged.filter((one) => one.verdict === "unsure");
  item.answer = off.length ? [`${new Set(off.map((one) => one.name)).size} of ${count} do not get the light they need.`]
    : open.length ? [`${new Set(open.map((one) => one.name)).size} of ${count} are too close to call.`]
    : [count === 1 ? "It gets the light it needs." : `All ${count} get the light they need.`];
  const line = (one, why) => [why, named(one.name), `: ${words.figure(one.quantity, one.value)}, ${words.judged(one, one.quantity)}.`];
  for (const one of [...off, ...open]) item.details.push(line(one, ""));
  if (!item.details.length) {
    const slack = (one) => Math.min(one.min > 0 ? one.value / one.min : Infinity,
      one.max === undefined ? Infinity : one.max / Math.max(one.value, 1e-12));
    item.details.push(line(judged.reduce((a, b) => (slack(b) < slack(a) ? b : a)), "Nearest to a limit: "));
  }
  const floor = data.results.floor;
  if (page.light.isDeclared() && floor?.dli_mean !== null && floor?.dli_mean !== undefined)
    item.details.push([`The floor gets ${words.figure("dli", floor.dli_mean)} on average, ${number(floor.dli_low, 2)} to ${
      number(floor.dli_high, 2)} over most of it.`]);
  return item;
}

function next(page, verdicts) {
  const [first, ...more] = nextSteps(page);
  return {key: "next", question: "What to do next?", status: statusOf(worst(verdicts)), isNext: true,
    answer: first.short, details: [...first.more, ...more.map(({short, more: then}) => [el("strong", {}, short), then.map((line) => [" ", line])])]};
}

export function answers(page) {
  const verdicts = page.findings.all().map((finding) => finding.verdict);
  return [danger(page), perch(page), meet(page), shade(page), failing(page), plants(page), next(page, verdicts)].filter(Boolean);
}

// How many of those met may not be so somewhere along their bands; nothing where nobody knows, or with lamps moved.
export function firmLine(page) {
  const wants = page.data.results.readings.flatMap((reading) => reading.wants);
  const {hottest} = page.data.results;
  const asked = [...wants, ...(hottest ? [hottest.uvi, hottest.irradiance] : [])].filter(({verdict, firm}) => verdict === "met" && firm !== undefined);
  if (!page.light.isDeclared() || !asked.length) return "";
  const open = asked.filter((want) => !want.firm).length;
  const all = page.findings.all().every(({verdict}) => verdict === "met");
  return open ? `${open} may not hold as lamps, meshes and heights vary.`
    : `${all ? "They" : "Those that are met"} hold as lamps, meshes and heights vary.`;
}

// "All 18 wants met."
export function verdictLine(page) {
  const verdicts = page.findings.all().map((finding) => finding.verdict);
  const count = (r) => verdicts.filter((verdict) => rank(verdict) === r).length;
  const [off, open] = [count(0), count(1)];
  if (!verdicts.length) return {status: "none", text: "Nothing was asked for."};
  if (!off && !open) return {status: "good", text: `All ${verdicts.length} wants met.`.replace("All 1 wants", "The one want is")};
  const parts = [off ? `${off} of ${verdicts.length} not met` : "", open ? `${open} too close to call` : ""];
  return {status: off ? "bad" : "unsure", text: parts.filter(Boolean).join(", ") + "." };
}
export const METER = "Estimates, not measurements: the meter decides.";
