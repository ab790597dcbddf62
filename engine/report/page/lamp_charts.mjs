// Each lamp by itself: what it radiates, and how its reading falls with distance.
import {decades, makeChart} from "./chart.mjs";
import {el, named, show} from "./dom.mjs";
import {NO_BREAK, niceTicks, number} from "./numbers.mjs";

const SKIN = [["uvi", "reddens skin (UV index)", "erythema"], ["d3", "makes vitamin D", "vitamin"], ["actinic", "harms eyes and skin", "hazard"]];

function keyLine(kind, text) {
  return el("li", {}, el("span", {class: `key ${kind}`, "aria-hidden": "true"}), text);
}

function spectrumChart(page, spectrum, from, to, weightings, label) {
  const {from_nm: first, step_nm: step, weightings: functions} = page.data.lamps;
  const values = spectrum.slice((from - first) / step, (to - first) / step).map((watts) => (1000 * watts) / step);
  const greatest = Math.max(...values);
  if (!(greatest > 0)) return null;
  const ticks = niceTicks(0, greatest, 5);
  const chart = makeChart({label,
    x: {low: from, high: to, ticks: niceTicks(from, to, 8), label: "wavelength, nm"},
    y: {low: 0, high: greatest * 1.05, ticks, label: "mW for each nm"}});
  chart.steps(values, from, step, "light");
  for (const [quantity, , kind] of weightings) {
    const {relative} = functions[quantity], points = [];
    for (let nm = from; nm <= to; nm += 1) points.push([nm, relative[nm - first] * greatest]);
    chart.line(points, kind);
  }
  return chart.root;
}

// Whether its ultraviolet is worth showing: UVI 0.1 and more where an animal may sit.
function countsForSkin(page, lamp) {
  const q = page.data.instants.indexOf("uvi");
  return lamp.on_axis.some(({distance, values}) => distance > 0.3 && values[q] >= 0.1);
}

function shares(whole) {
  const parts = [["ultraviolet", whole.uvb_w + whole.uva_w], ["visible", whole.visible_w], ["infrared", whole.infrared_w]];
  return parts.map(([name, watts]) => {
    const share = (100 * watts) / whole.radiant_w;
    return `${name} ${share < 0.1 ? "hardly any" : number(share, 2) + NO_BREAK + "%"}`;
  }).join(", ");
}

function distanceChart(page, lamp) {
  const {instants} = page.data, {lengths, words} = page;
  const lines = [["uvi", "a", "UV index"], ["irradiance", "b", "all radiation, W/m²"]].filter(([quantity]) =>
    quantity !== "uvi" || countsForSkin(page, lamp));
  if (!lines.length || lamp.on_axis.length < 2) return null;
  const read = (quantity) => lamp.on_axis.map(({distance, values}) => [distance, values[instants.indexOf(quantity)]]);
  const all = lines.flatMap(([quantity]) => read(quantity).map(([, value]) => value)).filter((value) => value > 0);
  const low = 10 ** Math.floor(Math.log10(Math.max(Math.min(...all), 0.01))), high = 10 ** Math.ceil(Math.log10(Math.max(...all)));
  const to = 1.2, from = 0;
  const chart = makeChart({label: `Reading against distance: ${lines.map(([quantity, , text]) =>
    `${text} ${read(quantity).filter(([d]) => d > 0.09).filter((_, i) => i % 6 === 0)
      .map(([d, value]) => `${number(value)} at ${lengths.text(d)}`).join(", ")}`).join("; ")}`,
  x: {low: from, high: to, ticks: lengths.ticks(from, to, 8), text: (tick) => number(tick / lengths.size(), 4),
    label: `distance from the lamp's middle, ${lengths.unit()}`},
  y: {low, high, logarithmic: true, ticks: decades(low, high), label: "reading"}});
  for (const [quantity, kind] of lines)
    chart.line(read(quantity).filter(([distance, value]) => distance <= to && value >= low), kind);
  return [chart.root, el("ul", {class: "keys"}, lines.map(([, kind, text]) => keyLine(kind, text)))];
}

function lampCharts(page, lamp, i) {
  const own = page.data.lamps.lamps[i];
  const ultraviolet = countsForSkin(page, own);
  const block = (heading, content, note) => content &&
    el("figure", {class: "chart-block"}, el("figcaption", {}, heading), content, note && el("p", {class: "note"}, note));
  return el("div", {class: "lamp-charts"},
    el("h3", {}, named(lamp.name)), el("p", {class: "note"}, lamp.title, ". ", `Radiates ${shares(own.whole)}. `, "Source: ", lamp.source, "."),
    el("div", {class: "chart-row"},
      ultraviolet && block("Ultraviolet", [
        spectrumChart(page, own.spectrum_w, 250, 400, SKIN, `Ultraviolet spectrum of ${lamp.name}`),
        el("ul", {class: "keys"}, keyLine("light", "the lamp's light"), SKIN.map(([, text, kind]) => keyLine(kind, text)))],
      "The curves say how strongly each wavelength acts, against its own greatest."),
      own.whole.visible_w > 0 && block("Visible light", [
        spectrumChart(page, own.spectrum_w, 380, 780, [["lux", "", "eye"], ["ppfd", "", "leaf"]], `Visible spectrum of ${lamp.name}`),
        el("ul", {class: "keys"}, keyLine("light", "the lamp's light"), keyLine("eye", "as bright as the human eye sees it (lux)"),
          keyLine("leaf", "light that plants use (PPFD)"))]),
      block("Nearer and further", distanceChart(page, own),
        "On the lamp's axis in free air, no mesh between, new, at full, the meter facing the lamp.")));
}

export function lampChartsSection(page) {
  if (!page.data.scene.lamps.length) return null;
  const body = el("div", {});
  const element = el("section", {id: "spectra", "aria-labelledby": "spectra-title"},
    el("h2", {id: "spectra-title"}, "The lamps by themselves"), body);
  return {element, follows: ["unit"], update: () => show(body, page.data.scene.lamps.map((lamp, i) => lampCharts(page, lamp, i)))};
}
