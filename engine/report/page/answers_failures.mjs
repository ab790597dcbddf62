// The first screen's answer to what happens if something fails.
import {el, named} from "./dom.mjs";
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
  } else if (cases.some(({breaks}) => breaks.some(({already, verdict}) => already && verdict === "above"))) {
    item.status = "bad";
    item.signWord = "Not safe";
    item.answer = ["What is too much as declared stays so, or becomes more."];
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
  const perches = page.data.results.warmth?.perches ?? [];
  for (const {air_c: air} of room) {
    const backs = perches.map(({name, cases: ofPerch}) => ({name, ...ofPerch.find((one) => one.air_c === air && !one.full_power)}))
      .filter(({back_c: back}) => back !== undefined);
    if (!backs.length) continue;
    const found = backs.reduce((a, b) => (b.back_c > a.back_c ? b : a));
    item.details.push([upper(caseText(page, {air_c: air})), ": a back on ", named(found.name, 28), ` gets to about ${
      page.words.temperature(found.back_c)} (${page.words.temperatures(found.low_c, found.high_c)}).`]);
  }
  if (!page.light.isDeclared()) Object.assign(item, {status: "none", signWord: "Not known", answer: ["As declared: ", item.answer]});
  return item;
}
