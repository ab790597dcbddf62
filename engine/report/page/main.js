// The page: its parts in order, and who follows which change.
import {cautionsSection} from "./cautions.js";
import {makeColours} from "./colours.js";
import {loadData} from "./data.js";
import {daySection} from "./day.js";
import {el} from "./dom.js";
import {glanceSection} from "./glance.js";
import {makeHeader} from "./header.js";
import {makeLabels} from "./labels.js";
import {lampChartsSection} from "./lamp_charts.js";
import {makeLengths} from "./lengths.js";
import {makeLight} from "./light.js";
import {lookSection} from "./look.js";
import {clamp} from "./numbers.js";
import {paperSection} from "./paper.js";
import {pictureSection} from "./picture.js";
import {mainReading} from "./places.js";
import {tableSection} from "./table.js";
import {makeFindings} from "./verdicts.js";
import {makeWords} from "./words.js";

const SECTIONS = [glanceSection, lookSection, pictureSection, tableSection, daySection, lampChartsSection,
  cautionsSection, paperSection];

function gridBounds(grid) {
  return [0, 1, 2].map((axis) => [
    Math.min(...grid.boxes.map((box) => box.corner[axis] + 0.5 * box.cell[axis])),
    Math.max(...grid.boxes.map((box) => box.corner[axis] + (box.count[axis] - 0.5) * box.cell[axis]))]);
}

export function start() {
  const data = loadData(document);
  const bounds = data.grid ? gridBounds(data.grid) : [[0, 0], [0, 0], [0, 0]];
  const reading = data.results.readings[mainReading(data)];
  const middle = bounds.map(([low, high]) => (low + high) / 2);
  const state = {
    lamps: data.sources.map(({dim, hours}) => ({on: true, dim, hours})),
    quantity: "uvi",
    place: (reading?.at ?? middle).map((c, axis) => clamp(c, ...bounds[axis])),
    unit: data.scene.length_unit,
    temperature: "C",
  };
  const light = makeLight(data, state.lamps), lengths = makeLengths(state);
  const page = {data, state, light, lengths, words: makeWords(data, lengths), findings: makeFindings(data, light),
    colours: makeColours(data), makeLabels, reachOf: (axis) => bounds[axis]};

  // A change is made at once; what follows it is drawn once a frame, however many there are.
  const waiting = new Set();
  let sections = [];
  const flush = () => {
    const kinds = [...waiting];
    waiting.clear();
    for (const section of sections) if (kinds.some((kind) => section.follows.includes(kind))) section.update();
  };
  page.change = (kind, edit) => {
    edit();
    if (kind === "light") light.forget();
    if (!waiting.size) requestAnimationFrame(flush);
    waiting.add(kind);
  };

  const header = makeHeader(page);
  sections = [header, ...SECTIONS.map((make) => make(page)).filter(Boolean)];
  const main = el("main", {}, sections.slice(1).map((section) => section.element));
  document.getElementById("page").replaceChildren(header.element, main);
  for (const section of sections) section.update();
}
