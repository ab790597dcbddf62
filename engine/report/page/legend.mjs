// What the colours and lines of the slices mean.
import {el, named, show} from "./dom.mjs";
import {LIMIT_SIGNS} from "./draw_field.mjs";
import {number} from "./numbers.mjs";

export function makeLegend(page) {
  const {data, state, words, colours} = page, element = el("div", {class: "legend"});

  const signs = [["◆", "perch"], ["■", "point"], ["◇ □", "elsewhere"], ["✕", "hottest"], ["▬", "branch"], ["╌", "crown"]];

  // Beside those of the maps.
  const {animal} = data.results;
  const animalSigns = animal ? [animal.bodies.length && "▭ body on a perch", animal.closest.length && "+ closest place to a lamp",
    animal.shelter?.way && "··· way into shade"].filter(Boolean) : [];

  function limitLine({value, kind, who}) {
    return el("li", {class: kind}, el("span", {class: "line", "aria-hidden": "true"}),
      `${LIMIT_SIGNS[kind]} ${number(value)} `, kind === "never" ? "in reach" : who.map((name, i) => [i ? ", " : "", named(name, 24)]));
  }

  function update() {
    const quantity = state.quantity, {low, high, logarithmic, ticks} = data.scales[quantity];
    const limits = data.limits[quantity] ?? [], doubt = page.light.cellDoubt(quantity);
    const cell = data.grid.boxes[0].cell;
    show(element,
      el("p", {class: "legend-title"}, words.heading(quantity), words.unit(quantity) ? `, ${words.unit(quantity)}` : ""),
      el("div", {class: "bar", "aria-hidden": "true", style: {background: `linear-gradient(to right, ${colours.gradient()})`}}),
      el("div", {class: "ticks", "aria-hidden": "true"}, ticks.map((tick) =>
        el("span", {style: {left: `${100 * colours.share(quantity, tick)}%`}}, number(tick)))),
      el("p", {class: "note"}, `${logarithmic ? "Logarithmic scale" : "Scale"} from ${number(low)} to ${number(high)}. `,
        `Means over cells of ${page.lengths.number(cell[0])} × ${page.lengths.number(cell[1])} × ${page.lengths.text(cell[2])}, `,
        "known to about 5 %",
        data.grid.joined ? ", joined for this page (grid.csv has finer ones)" : "", ".",
        doubt > 0.005 ? ` With the dimmer moved, another ${words.percent(doubt)} where leaves or glass filter a filament's light.` : ""),
      limits.length > 0 && [el("p", {class: "legend-title"}, "Lines at your limits"),
        el("ul", {class: "limits"}, limits.map(limitLine))],
      el("p", {class: "note"}, [
        ...signs.map(([mark, name]) => `${mark} ${data.style.names[name]}`), ...animalSigns].join("; "), "."));
  }
  return {element, update};
}
