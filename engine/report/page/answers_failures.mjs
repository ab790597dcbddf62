// The first screen's answer to what happens if something fails.
import {el} from "./dom.mjs";
import {breakText, caseText, freshBreaks} from "./failures.mjs";

const upper = (text) => text.charAt(0).toUpperCase() + text.slice(1);

export function failing(page) {
  const cases = page.data.results.failures ?? [], item = {key: "fails", question: "What if something fails?", details: []};
  if (!cases.length) return null;
  const broken = cases.map((one) => ({one, fresh: freshBreaks(one)})).filter(({fresh}) => fresh.length);
  const tooMuch = broken.filter(({fresh}) => fresh.some(({verdict}) => verdict === "above"));
  const tooLittle = broken.filter((one) => !tooMuch.includes(one));
  const room = cases.filter(({air_c: air}) => air !== undefined);
  if (tooMuch.length) {
    item.status = "bad";
    item.signWord = "Not safe";
    item.answer = [`Too much in ${tooMuch.length} of ${cases.length} cases.`];
  } else {
    item.status = "good";
    item.signWord = "Holds";
    item.answer = [tooLittle.length ? "Nothing becomes too much. A lamp that fails leaves too little."
      : "None of the failures that were looked at breaks a limit."];
  }
  const line = ({one, fresh}, verdict) => {
    const worst = fresh.find((found) => found.verdict === verdict) ?? fresh[0];
    return [el("bdi", {}, upper(caseText(page, one))), ": ", breakText(page, worst), fresh.length > 1 ? `; and ${fresh.length - 1} more` : "", "."];
  };
  for (const found of tooMuch.slice(0, 3)) item.details.push(line(found, "above"));
  if (tooLittle.length) item.details.push(line(tooLittle[0], "below"));
  const warmth = page.data.results.warmth?.perches.find(({name}) => name === page.data.results.animal?.sun_perch);
  for (const {air_c: air} of room) {
    const found = warmth?.cases.find((one) => one.air_c === air && !one.full_power);
    if (found) item.details.push([upper(caseText(page, {air_c: air})), `: a back on the sun perch gets to about ${page.words.temperature(found.back_c)} (${
      page.words.temperatures(found.low_c, found.high_c)}).`]);
  }
  if (!page.light.isDeclared()) Object.assign(item, {status: "none", signWord: "Not known", answer: ["As declared: ", item.answer]});
  return item;
}
