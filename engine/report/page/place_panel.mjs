// The place by sliders and by name: the same as pointing, for keyboards and screen readers.
import {el, freshId} from "./dom.mjs";
import {jumpPlaces} from "./places.mjs";

const AXIS = ["From the left", "From the front", "Height"];

export function placePanel(page, moved) {
  const {state, lengths} = page;
  const sliders = AXIS.map((label, axis) => {
    const [low, high] = page.reachOf(axis), id = freshId("place");
    const slider = el("input", {type: "range", id, min: low, max: high, step: 0.005, on: {
      input: () => moved(state.place.map((c, i) => (i === axis ? Number(slider.value) : c)))}});
    const value = el("output", {for: id, class: "num"});
    return {slider, value, element: el("div", {class: "slider"}, el("label", {for: id}, label), slider, value)};
  });
  const places = jumpPlaces(page.data), id = freshId("jump");
  const select = el("select", {id, on: {change: () => {
    const place = places[Number(select.value)];
    if (place) moved(place.at.map((c, axis) => Math.min(Math.max(c, page.reachOf(axis)[0]), page.reachOf(axis)[1])));
    select.value = "";
  }}}, el("option", {value: ""}, "Go to a place …"),
  places.map(({name, kind}, i) => el("option", {value: i}, kind ? `${name} (${kind})` : name)));
  const element = el("div", {class: "place-panel"}, el("label", {for: id, class: "unseen"}, "Go to a place"), select,
    sliders.map((one) => one.element));

  function update() {
    sliders.forEach(({slider, value}, axis) => {
      slider.value = state.place[axis];
      const text = lengths.text(state.place[axis]);
      value.textContent = text;
      slider.setAttribute("aria-valuetext", text);
    });
  }
  return {element, update};
}
