// The decision page: the answers of the first screen, with the figures that they rest on.
import {answers, firmLine, verdictLine} from "./answers.mjs";
import {bandAround, bandOf, bandText} from "./doubt_words.mjs";
import {el, named} from "./dom.mjs";
import {sign, SIGN_WORDS} from "./sign.mjs";
import {rank, statusOf} from "./verdicts.mjs";

export function decisionSheet(page) {
  const {data, findings, words} = page, {status, text} = verdictLine(page);
  const mayBe = (i, {quantity, value}) => {
    const band = bandOf(page, i, quantity);
    return band ? ` (${bandText(bandAround(band, value))})` : "";
  };
  const wants = data.results.readings.flatMap((reading, i) => findings.wants(i).map((want) => el("li", {},
    sign(statusOf(want.verdict)), named(reading.name, 40), `: ${words.figure(want.quantity, want.value)}${mayBe(i, want)}, `, rank(want.verdict) < 2 ? words.judged(want, null) : `wanted ${words.limits(want, null)}`)));
  return [
    el("p", {class: "verdict"}, sign(status, null), el("strong", {}, text), " ", firmLine(page)),
    el("div", {class: "paper-answers"}, answers(page).map((item) => el("div", {class: "paper-answer"},
      el("h4", {}, item.question, item.isNext ? "" : ` ${item.signWord ?? SIGN_WORDS[item.status]}`),
      el("p", {}, el("strong", {}, item.answer)),
      item.key === "danger" || item.key === "next" || item.status === "bad"
        ? el("ul", {}, item.details.map((line) => el("li", {}, line))) : null))),
    el("h4", {}, "Readings, and between what they may be"), el("ul", {class: "paper-wants small"}, wants),
    el("h4", {}, "Cautions"),
    el("ul", {class: "small cautions-small"}, data.results.cautions.map(({text: caution}) => el("li", {}, caution))),
  ];
}
