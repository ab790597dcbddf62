// Within watch.html: tells the page around it what is looked at, and takes that over from the result before, so that a
// new one comes without a jump. Lamps are not taken over: they are as the new scene declares them.
import {chooseTheme, THEMES} from "./header.mjs";
import {unitChoices} from "./lengths.mjs";
import {shownQuantities} from "./look.mjs";
import {clamp} from "./numbers.mjs";

// The part of the page that the top of the window is in, and how far above the window it starts, px.
function scrollPlace() {
  const parts = [...document.querySelectorAll("main > section[id]")];
  const at = parts.findLast((part) => part.getBoundingClientRect().top <= 1);
  return at ? {id: at.id, above: -at.getBoundingClientRect().top} : {id: null, above: window.scrollY};
}

function restoreScroll({id, above}) {
  const part = typeof id === "string" ? document.getElementById(id) : null;
  const top = (part ? part.getBoundingClientRect().top + window.scrollY : 0) + (Number(above) || 0);
  window.scrollTo({top, behavior: "instant"});
}

// Details that are open, by the part that they are in and their number there.
const allDetails = () => [...document.querySelectorAll("main > section[id]")].flatMap((part) =>
  [...part.querySelectorAll("details")].map((details, i) => [`${part.id} ${i}`, details]));

function viewOf({state}) {
  const {quantity, place, unit, degrees, theme} = state;
  return {quantity, place, unit, degrees, theme, scroll: scrollPlace(),
    open: allDetails().filter(([, details]) => details.open).map(([name]) => name)};
}

// What fits the new result; a view comes from outside and may hold anything.
function takeView(page, view) {
  const {state, data} = page;
  if (shownQuantities(page).includes(view.quantity)) page.change("quantity", () => { state.quantity = view.quantity; });
  if (Array.isArray(view.place) && view.place.length === 3 && view.place.every(Number.isFinite))
    page.change("place", () => { state.place = view.place.map((c, axis) => clamp(c, ...page.reachOf(axis))); });
  if (unitChoices(data.scene.length_unit).includes(view.unit)) page.change("unit", () => { state.unit = view.unit; });
  if (["C", "F"].includes(view.degrees)) page.change("unit", () => { state.degrees = view.degrees; });
  if (THEMES.some(([value]) => value === view.theme)) page.change("theme", () => chooseTheme(state, view.theme));
}

// Calls `then` when nothing on the page is out of date any more.
function whenSettled(then) {
  const root = document.getElementById("page");
  const check = () => (root.hasAttribute("data-busy") ? setTimeout(check, 20) : then());
  check();
}

export function followWatch(page) {
  if (window.parent === window) return;
  window.addEventListener("message", ({source, data}) => {
    if (source !== window.parent) return;
    const answer = (message) => source.postMessage(message, "*");
    if (data?.boughlight === "tell") answer({boughlight: "view", view: viewOf(page)});
    if (data?.boughlight !== "take") return;
    const view = data.view;
    if (view) takeView(page, view);
    whenSettled(() => {
      if (view) {
        if (Array.isArray(view.open)) for (const [name, details] of allDetails()) if (view.open.includes(name)) details.open = true;
        restoreScroll(view.scroll ?? {});
      }
      answer({boughlight: "ready"});
    });
  });
}
