// The first screen: six questions, each with a sign, an answer and the figures behind it.
import {answers, firmLine, METER, verdictLine} from "./answers.mjs";
import {el, show} from "./dom.mjs";
import {gauge} from "./gauge.mjs";
import {sign} from "./sign.mjs";
import {statusOf} from "./verdicts.mjs";

const ORDER = {bad: 0, unsure: 1, good: 2, none: 3};

function block(page, item) {
  const gauges = (item.wants ?? []).map((want) => el("figure", {class: "gauge-row"},
    el("figcaption", {}, sign(statusOf(want.verdict)), `${page.words.figure(want.quantity, want.value)}, ${page.words.judged(want, want.quantity)}`),
    gauge({...want, text: page.words.amount(want.quantity, want.value).split("\u00a0")[0], doubt: page.data.interval * want.se, band: want.band, status: statusOf(want.verdict)})));
  return el("li", {class: `answer ${item.status}`, "data-key": item.key},
    el("h3", {}, item.question),
    el("p", {class: "short"}, item.isNext ? "" : sign(item.status, item.signWord), el("strong", {}, item.answer)),
    more(item, gauges));
}

// The first few figures stand below each answer; the others wait behind a click unless something is wrong. On a small
// screen all of them do, so that every answer is seen at once. What was opened or closed by hand stays so.
const opened = new Map();
function more(item, gauges) {
  const small = matchMedia("(max-width: 700px)").matches, at = small ? 0 : gauges.length ? 1 : 2;
  const list = (lines) => lines.length > 0 && el("ul", {class: "facts"}, lines.map((line) => el("li", {}, line)));
  const graphs = gauges.length > 0 && el("div", {class: "gauges"}, gauges);
  const rest = item.details.slice(at);
  const details = (rest.length > 0 || (small && gauges.length > 0)) && el("details", {class: "more", open: opened.get(item.key) ?? item.status === "bad"},
    el("summary", {}, small ? "Figures" : "More", el("span", {class: "unseen"}, ` for: ${item.question}`)), small && graphs, list(rest));
  if (details) details.querySelector("summary").addEventListener("click", () => opened.set(item.key, !details.open));
  return [!small && graphs, list(item.details.slice(0, at)), details];
}

export function glanceSection(page) {
  const verdict = el("p", {class: "verdict"}), list = el("ul", {class: "answers"});
  // Worst first, by the lamps as declared, so that nothing jumps about while a slider moves.
  const first = answers(page);
  const order = first.map((item) => item.key).sort((a, b) => {
    const status = (key) => first.find((item) => item.key === key);
    if (status(a).isNext || status(b).isNext) return status(a).isNext ? 1 : -1;
    return ORDER[status(a).status] - ORDER[status(b).status];
  });

  function update() {
    const {status, text} = verdictLine(page);
    show(verdict, sign(status, null), el("strong", {}, text), " ", firmLine(page), " ", METER);
    const items = answers(page);
    show(list, order.map((key) => block(page, items.find((item) => item.key === key))));
  }
  const element = el("section", {id: "glance", "aria-labelledby": "glance-title"},
    el("h2", {id: "glance-title", class: "unseen"}, "At a glance"), verdict, list);
  return {element, update, follows: ["light", "unit"]};
}
