// Elements from plain calls. Text is only ever set as text, so that no name of a scene can become markup.

const SVG = "http://www.w3.org/2000/svg";

function fill(node, attributes, children) {
  for (const [key, value] of Object.entries(attributes)) {
    if (value === null || value === undefined || value === false) continue;
    if (key === "on") {
      for (const [event, handler] of Object.entries(value)) node.addEventListener(event, handler);
    } else if (key === "style") {
      for (const [property, text] of Object.entries(value)) node.style.setProperty(property, text);
    } else {
      node.setAttribute(key, value === true ? "" : String(value));
    }
  }
  put(node, children);
  return node;
}

// Appends strings, nodes and lists of them; nothing and false are left out.
export function put(node, ...children) {
  for (const child of children.flat(Infinity)) {
    if (child === null || child === undefined || child === false) continue;
    node.append(child);
  }
  return node;
}

export function el(tag, attributes = {}, ...children) {
  return fill(document.createElement(tag), attributes, children);
}

export function svg(tag, attributes = {}, ...children) {
  return fill(document.createElementNS(SVG, tag), attributes, children);
}

// Replaces what a node holds.
export function show(node, ...children) {
  node.replaceChildren();
  return put(node, ...children);
}

// At most so many letters as the eye counts them; what was cut ends in an ellipsis.
export function clipped(text, most) {
  if (text.length <= most) return text;
  const letters = Intl.Segmenter ? Array.from(new Intl.Segmenter().segment(text), (one) => one.segment) : Array.from(text);
  return letters.length <= most ? text : letters.slice(0, most - 1).join("") + "…";
}

// A name from the scene inside a sentence: its own direction of writing, and not without end.
export function named(text, most = 60) {
  const shown = clipped(text, most);
  return el("bdi", {class: "name", title: shown === text ? null : text}, shown);
}

let numbered = 0;
export function freshId(prefix) {
  numbered += 1;
  return `${prefix}-${numbered}`;
}

// A choice of one among several, as buttons of which one is down.
export function choices(label, options, chosen, pick) {
  const buttons = options.map(({value, text, title}) =>
    el("button", {type: "button", title, "aria-pressed": String(value === chosen), "data-value": value,
      on: {click: () => pick(value)}}, text));
  return el("div", {class: "choices", role: "group", "aria-label": label}, buttons);
}

export function press(group, value) {
  for (const button of group.querySelectorAll("button"))
    button.setAttribute("aria-pressed", String(button.dataset.value === String(value)));
}
