// One view: a slice of the enclosure that is looked at from the front, the right or above, with lines where the other
// two slices cut it.
import {el} from "./dom.mjs";
import {cellAt} from "./data.mjs";
import {drawAnimal} from "./draw_animal.mjs";
import {cased, drawColours, drawContours, finenessFor} from "./draw_field.mjs";
import {drawAxes, drawMarks, writeContourLabels, writeNames} from "./draw_marks.mjs";
import {drawBranches, drawCrowns, drawLamps, drawWalls} from "./draw_scene.mjs";
import {clamp} from "./numbers.mjs";
import {AXES, makeSlice} from "./slice.mjs";

const NAMES = {front: "From the front", side: "From the right", plan: "From above"};
const CUTS = {front: (text) => `cut ${text} from the front`, side: (text) => `cut ${text} from the left`,
  plan: (text) => `cut ${text} up`};

// The maps' own colours, and the page's for what lies outside the plot.
export function drawingStyle(own) {
  const read = (name) => getComputedStyle(document.body).getPropertyValue(name).trim();
  const size = 12, font = `${size}px ${getComputedStyle(document.body).fontFamily}`;
  return {...own, halo: own.paper, never: "#a3260f", thin: "rgb(255 255 255 / 0.55)", cut: "#8c1d5b",
    plotGround: read("--plot"), outside: read("--ink"), outsideMuted: read("--muted"),
    label: {font, size, halo: own.paper, colour: own.ink}};
}

export function makeView(page, view, moved) {
  const {u, v, n} = {u: AXES[view][0], v: AXES[view][1], n: AXES[view][2]};
  const {data, state} = page;
  const picture = el("canvas", {class: "picture", "aria-hidden": "true"});
  const lines = el("canvas", {class: "lines", "aria-hidden": "true"});
  const grips = {u: el("div", {class: "grip across", "aria-hidden": "true"}), v: el("div", {class: "grip upright", "aria-hidden": "true"})};
  const tag = el("div", {class: "tag", "aria-hidden": "true", hidden: true});
  const hereTag = el("div", {class: "tag here", "aria-hidden": "true", hidden: true});
  const plot = el("div", {class: "plot", tabindex: "0", role: "group"}, picture, lines, hereTag, grips.u, grips.v, tag);
  const title = el("p", {class: "view-title"});
  const element = el("div", {class: `view ${view}`}, title, plot);
  let frame = null, slice = null;

  function fit(canvas) {
    const ratio = Math.min(window.devicePixelRatio || 1, 2);
    canvas.width = Math.round(frame.width * ratio);
    canvas.height = Math.round(frame.height * ratio);
    canvas.style.width = `${frame.width}px`;
    canvas.style.height = `${frame.height}px`;
    const ctx = canvas.getContext("2d");
    ctx.setTransform(ratio, 0, 0, ratio, 0, 0);
    ctx.clearRect(0, 0, frame.width, frame.height);
    return ctx;
  }

  function draw(newFrame) {
    frame = newFrame;
    const at = state.place[n], near = data.grid.boxes[0].cell[n], style = drawingStyle(data.style), quantity = state.quantity;
    const ctx = fit(picture), area = frame.plot;
    plot.style.width = `${frame.width}px`;
    plot.style.height = `${frame.height}px`;
    title.style.maxWidth = `${frame.width}px`;
    ctx.fillStyle = style.plotGround;
    ctx.fillRect(area.x, area.y, area.width, area.height);
    ctx.save();
    ctx.beginPath();
    ctx.rect(area.x, area.y, area.width, area.height);
    ctx.clip();
    slice = makeSlice(data.grid, page.light.field(quantity), view, at);
    const lattices = slice.lattices(finenessFor(slice, frame));
    drawColours(ctx, frame, lattices, quantity, page.colours, style);
    drawBranches(ctx, frame, data, at, near, style);
    const crowns = drawCrowns(ctx, frame, data, at, style);
    const levels = drawContours(ctx, frame, lattices, data, quantity, style);
    drawWalls(ctx, frame, data, at, style);
    const labels = page.makeLabels(ctx, area), [cutX, cutY] = frame.spot(state.place);
    labels.blockRect(cutX - 2, area.y, 4, area.height);
    labels.blockRect(area.x, cutY - 2, area.width, 4);
    // And the figure that stands beside the place.
    labels.blockRect(cutX + (cutX > frame.width / 2 ? -105 : 8), cutY - 34, 97, 28);
    drawAnimal(ctx, frame, page, at, near, labels, style);
    drawMarks(ctx, frame, page, at, near, labels, style);
    drawLamps(ctx, frame, data, state.lamps, labels, style);
    writeContourLabels(labels, levels, style);
    writeNames(labels, crowns, style);
    ctx.restore();
    drawAxes(ctx, frame, page.lengths, style);
    const cut = CUTS[view](page.lengths.text(at));
    title.textContent = `${NAMES[view]}, ${cut}`;
    plot.setAttribute("aria-label", `${NAMES[view]}, ${cut}. Arrow keys move the place that is read, by one cell; ` +
      "with Shift by five.");
    drawLines(style);
  }

  // Where the other two slices cut this one.
  function drawLines(style) {
    const ctx = fit(lines), [x, y] = frame.spot(state.place), area = frame.plot;
    const look = {width: 1.5, colour: style.cut, halo: style.halo, dash: [12, 3, 2, 3]};
    cased(ctx, new Path2D(`M${x} ${area.y} V${area.y + area.height}`), look);
    cased(ctx, new Path2D(`M${area.x} ${y} H${area.x + area.width}`), look);
    writeTag(hereTag, state.place, x, y);
    grips.u.style.transform = `translate(${x}px, ${area.y}px)`;
    grips.v.style.transform = `translate(${area.x + area.width}px, ${y}px)`;
  }

  // What a place reads, beside it on the view.
  function writeTag(which, place, x, y) {
    const cell = cellAt(data.grid, place);
    which.hidden = cell < 0 || data.grid.free[cell] === 0;
    if (which.hidden) return;
    which.textContent = page.words.figure(state.quantity, page.light.field(state.quantity)[cell]);
    which.style.transform = `translate(${x}px, ${y}px) translate(${x > frame.width / 2 ? "calc(-100% - 9px)" : "9px"}, -125%)`;
  }

  // Moves the place along u, v or both, kept inside the grid's bounds.
  function moveTo(to) {
    const place = state.place.slice();
    for (const [axis, value] of to) place[axis] = clamp(value, ...page.reachOf(axis));
    moved(place);
  }
  const at = (event) => {
    const box = plot.getBoundingClientRect();
    return [frame.uAt(event.clientX - box.left), frame.vAt(event.clientY - box.top)];
  };

  function follow(target, start, drag) {
    target.addEventListener("pointerdown", (event) => {
      if (event.button !== 0 || !start(event)) return;
      target.setPointerCapture(event.pointerId);
      const move = (later) => drag(at(later));
      target.addEventListener("pointermove", move);
      const stop = () => target.removeEventListener("pointermove", move);
      target.addEventListener("pointerup", stop, {once: true});
      target.addEventListener("pointercancel", stop, {once: true});
    });
  }
  follow(grips.u, (event) => { event.stopPropagation(); event.preventDefault(); return true; }, ([a]) => moveTo([[u, a]]));
  follow(grips.v, (event) => { event.stopPropagation(); event.preventDefault(); return true; }, ([, b]) => moveTo([[v, b]]));
  // A finger that slides scrolls the page; one that taps reads. A mouse does both at once.
  follow(plot, (event) => event.pointerType === "mouse" && (moveTo([[u, at(event)[0]], [v, at(event)[1]]]), true),
    ([a, b]) => moveTo([[u, a], [v, b]]));
  plot.addEventListener("click", (event) => {
    if (event.target.classList.contains("grip")) return;
    moveTo([[u, at(event)[0]], [v, at(event)[1]]]);
  });

  const KEYS = {ArrowLeft: [u, -1], ArrowRight: [u, 1], ArrowUp: [v, 1], ArrowDown: [v, -1], PageUp: [n, 1], PageDown: [n, -1]};
  plot.addEventListener("keydown", (event) => {
    const key = KEYS[event.key];
    if (!key || event.ctrlKey || event.metaKey || event.altKey) return;
    event.preventDefault();
    const [axis, way] = key, cell = data.grid.boxes[0].cell[axis];
    moveTo([[axis, state.place[axis] + way * cell * (event.shiftKey ? 5 : 1)]]);
  });

  plot.addEventListener("pointermove", (event) => {
    if (event.pointerType !== "mouse" || !frame) return;
    const [a, b] = at(event), place = state.place.slice();
    place[u] = a, place[v] = b;
    const box = plot.getBoundingClientRect();
    writeTag(tag, place, event.clientX - box.left, event.clientY - box.top);
  });
  plot.addEventListener("pointerleave", () => { tag.hidden = true; });

  return {view, element, draw, canvas: picture};
}
