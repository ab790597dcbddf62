// What the months ahead bring: crowns grow and lamps age as a slider goes through the months that were looked at.
import {makeChart} from "./chart.mjs";
import {el, freshId, named, show} from "./dom.mjs";
import {number, niceTicks, percent} from "./numbers.mjs";
import {sign} from "./sign.mjs";
import {statusOf} from "./verdicts.mjs";

const nameOf = (figure) => (figure.reading === undefined ? "closest place in reach" : figure.reading);

// The line over the months, the wanted stretch behind it, and where the slider stands.
function figureChart(page, figure, months, k) {
  const {words} = page, {quantity, values, min, max} = figure;
  // A limit far above everything would flatten the line.
  const greatest = Math.max(...values, min ?? 0), top = 1.15 * Math.max(greatest, max < 4 * greatest ? max : 0) || 1;
  const chart = makeChart({label: `${words.heading(quantity)} of ${nameOf(figure)} over the months: ${
    months.map((month, i) => `${words.amount(quantity, values[i])} in month ${number(month)}`).join(", ")}`,
  x: {low: months[0], high: months.at(-1), ticks: niceTicks(months[0], months.at(-1), 7), label: "months from now"},
  y: {low: 0, high: top, ticks: niceTicks(0, top, 5), label: words.unit(quantity) || words.label(quantity)}});
  const ends = [min > 0 ? min : null, max].filter((end) => end !== null && end !== undefined && end <= top);
  chart.line(months.map((month, i) => [month, values[i]]), "ahead");
  for (const end of ends) chart.line([[months[0], end], [months.at(-1), end]], "limit");
  chart.mark(months[k], values[k], "now");
  return chart.root;
}

export function monthsSection(page) {
  const {findings, words} = page, {months, figures} = findings;
  const asked = figures.filter((figure) => figure.verdicts), id = freshId("month");
  const body = el("div", {class: "chart-row"}), said = el("output", {for: id, class: "num"}), states = el("ul", {class: "facts", role: "status"});
  let k = 0;
  const slider = el("input", {type: "range", id, min: 0, max: months.length - 1, step: 1, value: 0, on: {input: () => { k = Number(slider.value); update(); }}});
  const element = el("section", {id: "months", "aria-labelledby": "months-title"},
    el("h2", {id: "months-title"}, "Slide through the months"),
    el("p", {class: "lead"}, "Crowns grow, lamps age, meshes foul and the animal grows, all together, as the scene says. Dashed lines are your limits."),
    el("div", {class: "slider months"}, el("label", {for: id}, "Months from now"), slider, said), states, body);

  function update() {
    const month = months[k], text = k === 0 ? "today" : `after ${number(month)} months`;
    said.textContent = text;
    slider.setAttribute("aria-valuetext", text);
    const off = asked.filter(({verdicts}) => statusOf(verdicts[k]) === "bad").length;
    show(states,
      el("li", {}, sign(off ? "bad" : "good", null), el("strong", {}, off ? `${off} of ${asked.length} not as wanted ${text}.` : `All as wanted ${text}.`)),
      (findings.plants ?? []).map(({name, growth}) => el("li", {}, named(name, 40), k === 0 ? ": its crown as it is." : `: its crown ${number(growth[k] / growth[0])} times as wide as today.`)),
      (findings.lamps ?? []).filter(({output}) => output.some((share) => share < 0.995)).map(({name, output}) =>
        el("li", {}, named(name, 40), ` gives ${percent(output[k])} of what it gives today.`)));
    show(body, asked.map((figure) => el("figure", {class: "chart-block", "data-name": nameOf(figure), "data-quantity": figure.quantity},
      el("figcaption", {}, sign(statusOf(figure.verdicts[k])), named(nameOf(figure), 40), ": ",
        el("span", {"data-value": figure.values[k]}, words.figure(figure.quantity, figure.values[k]))),
      figureChart(page, figure, months, k),
      figure.fails && el("p", {class: "note"}, figure.fails.month > 0 ? `Leaves what is wanted after about ${number(figure.fails.month, 2)} months.` : "Not as wanted today."))));
  }
  update();
  return element;
}
