// The page: its parts in order, and who follows which change.
import {bodySection} from "./body.mjs";
import {cautionsSection} from "./cautions.mjs";
import {closestSection} from "./closest.mjs";
import {makeColours} from "./colours.mjs";
import {makeContents} from "./contents.mjs";
import {loadData, parsedData, parsedFindings} from "./data.mjs";
import {daySection} from "./day.mjs";
import {el} from "./dom.mjs";
import {doubtSection} from "./doubt.mjs";
import {failuresSection} from "./failures.mjs";
import {followWatch} from "./follow_watch.mjs";
import {glanceSection} from "./glance.mjs";
import {makeHeader} from "./header.mjs";
import {makeLabels} from "./labels.mjs";
import {lampChartsSection} from "./lamp_charts.mjs";
import {makeLengths} from "./lengths.mjs";
import {makeLight} from "./light.mjs";
import {lookSection} from "./look.mjs";
import {lossesSection} from "./losses.mjs";
import {measureSection} from "./measure.mjs";
import {clamp} from "./numbers.mjs";
import {paperSection} from "./paper.mjs";
import {peopleSection} from "./people.mjs";
import {pictureSection} from "./picture.mjs";
import {mainReading} from "./places.mjs";
import {startPlan} from "./plan.mjs";
import {plantsSection} from "./plants.mjs";
import {makeSchedule} from "./schedule.mjs";
import {shelterSection} from "./shelter.mjs";
import {tableSection} from "./table.mjs";
import {makeFindings} from "./verdicts.mjs";
import {warmthSection} from "./warmth.mjs";
import {makeWords} from "./words.mjs";

const SECTIONS = [glanceSection, lookSection, pictureSection, tableSection, doubtSection, lossesSection, failuresSection,
  bodySection, closestSection, shelterSection, warmthSection, plantsSection, daySection, peopleSection, lampChartsSection,
  measureSection, cautionsSection, paperSection];

function gridBounds(grid) {
  return [0, 1, 2].map((axis) => [
    Math.min(...grid.boxes.map((box) => box.corner[axis] + 0.5 * box.cell[axis])),
    Math.max(...grid.boxes.map((box) => box.corner[axis] + (box.count[axis] - 0.5) * box.cell[axis]))]);
}

export function start() {
  const {plan, quantities} = parsedData(document);
  if (plan) startPlan(plan, parsedFindings(document), quantities);
  else startSurvey(loadData(document));
}

function startSurvey(data) {
  const bounds = data.grid ? gridBounds(data.grid) : [[0, 0], [0, 0], [0, 0]];
  const reading = data.results.readings[mainReading(data)];
  const middle = bounds.map(([low, high]) => (low + high) / 2);
  const state = {
    lamps: data.sources.map(({dim, hours}) => ({on: true, dim, hours})),
    quantity: "uvi",
    place: (reading?.at ?? middle).map((c, axis) => clamp(c, ...bounds[axis])),
    unit: data.scene.length_unit,
    theme: "auto",
    degrees: ["in", "inch", "ft"].includes(data.scene.length_unit) ? "F" : "C",
  };
  const light = makeLight(data, state.lamps), lengths = makeLengths(state);
  const page = {data, state, light, lengths, words: makeWords(data, lengths, state), findings: makeFindings(data, light),
    colours: makeColours(data), makeLabels, reachOf: (axis) => bounds[axis]};

  const schedule = makeSchedule();
  page.change = (kind, edit) => {
    edit();
    if (kind === "light") light.forget();
    schedule.changed(kind);
  };
  const header = makeHeader(page);
  const sections = [header, ...SECTIONS.map((make) => make(page)).filter(Boolean)];
  document.getElementById("page").replaceChildren(header.element,
    el("main", {}, sections.slice(1).map((section) => section.element)));
  sections[1].element.append(makeContents(sections.slice(2)));
  schedule.begin(sections);
  followWatch(page);
}
