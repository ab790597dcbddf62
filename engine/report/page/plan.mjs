// The page of a planning command: its pictures, what it says, and for an outlook the months to slide through.
import {choices, el, press} from "./dom.mjs";
import {METER} from "./answers.mjs";
import {makeLengths} from "./lengths.mjs";
import {monthsSection} from "./months.mjs";
import {textBlocks} from "./plan_text.mjs";
import {THEMES} from "./header.mjs";
import {makeWords} from "./words.mjs";

const COMMANDS = {place: "Where the lamp may hang", window: "How it may hang", outlook: "The months ahead", compare: "Before and after",
  tune: "The best setting", fit: "What the meter says"};

// Where the text begins with a title of its own, the page's heading has said it.
const withoutTitle = (text, title) => {
  const [line, next, ...others] = text.split("\n");
  return title && next === "" && line.includes(title) ? others.join("\n") : text;
};

export function startPlan(plan, findings, quantities) {
  const state = {unit: "cm", degrees: "C"}, data = {quantities: new Map(quantities.map((about) => [about.name, about])), interval: 2};
  const page = {data, state, findings, words: makeWords(data, makeLengths(state), state)};
  const themes = choices("Colours", THEMES.map(([value, text]) => ({value, text})), "auto", (value) => {
    if (value === "auto") delete document.documentElement.dataset.theme;
    else document.documentElement.dataset.theme = value;
    press(themes, value);
  });
  const header = el("header", {},
    el("div", {class: "titles"}, el("h1", {}, el("bdi", {}, plan.title), `: ${COMMANDS[plan.command] ?? plan.command}`),
      el("p", {class: "note"}, el("bdi", {}, plan.scene), `, Boughlight ${plan.version}`)),
    el("div", {class: "tools"}, themes, el("button", {type: "button", on: {click: () => window.print()}}, "Print")));
  const pictures = plan.pictures.map(({name, png}) => el("figure", {class: "plan-picture"},
    el("img", {src: `data:image/png;base64,${png}`, alt: `The picture ${name}.png. What it shows is said in words on this page.`}),
    el("figcaption", {class: "note"}, `${name}.png`)));
  const [first, ...rest] = textBlocks(withoutTitle(plan.text, plan.title));
  document.getElementById("page").replaceChildren(header, el("main", {class: "of-plan"},
    el("p", {class: "verdict"}, METER),
    el("section", {id: "first", "aria-labelledby": "first-title"}, el("h2", {id: "first-title"}, "In short"), first ?? ""),
    plan.command === "outlook" && findings.months ? monthsSection(page) : "",
    pictures.length ? el("section", {id: "pictures", "aria-labelledby": "pictures-title"}, el("h2", {id: "pictures-title"}, "Pictures"), pictures) : "",
    rest.length ? el("section", {id: "says", "aria-labelledby": "says-title"}, el("h2", {id: "says-title"}, "In words"), rest) : ""));
  document.getElementById("page").toggleAttribute("data-busy", false);
}
