// A picture of the enclosure that can be turned: by dragging, by its buttons, by arrow keys.
import {camera, FIRST_LOOK} from "./camera.mjs";
import {choices, clipped, el, press, show} from "./dom.mjs";
import {extents} from "./frames.mjs";
import {makeRenderer} from "./gl.mjs";
import {clamp} from "./numbers.mjs";
import {shellMeshes, sliceMesh, thingsMesh} from "./picture_parts.mjs";
import {drawStill} from "./still.mjs";

const VIEWS = {start: FIRST_LOOK, front: {turn: 0, rise: 0.06, zoom: 1}, right: {turn: Math.PI / 2, rise: 0.06, zoom: 1},
  above: {turn: 0, rise: 1.45, zoom: 1.3}};
const VIEW_NAMES = {start: "Corner", front: "Front", right: "Right", above: "Above"};

function tonesNow() {
  const dark = document.documentElement.dataset.theme === "dark" ||
    (document.documentElement.dataset.theme !== "light" && matchMedia("(prefers-color-scheme: dark)").matches);
  return dark ? {wall: [0.2, 0.23, 0.25], edge: [0.62, 0.65, 0.65]} : {wall: [0.9, 0.89, 0.85], edge: [0.3, 0.36, 0.4]};
}

export function pictureSection(page) {
  if (!page.data.grid) return null;
  const {data, state} = page, extent = extents(data);
  const bounds = [extent.map(([low]) => low), extent.map(([, high]) => high)];
  let look = {...FIRST_LOOK}, byReading = true, withSlice = true, parts = null, renderer = null, dirty = true;
  const canvas = el("canvas", {"aria-hidden": "true"}), names = el("div", {class: "names", "aria-hidden": "true"});
  const stage = el("div", {class: "stage", role: "group", tabindex: "0",
    "aria-label": "Picture of the enclosure. Arrow keys turn it, plus and minus bring it nearer and further."}, canvas, names);
  renderer = makeRenderer(canvas);
  const still = renderer ? null : canvas.getContext("2d");
  const views = choices("Seen from", Object.keys(VIEWS).map((value) => ({value, text: VIEW_NAMES[value]})), "start",
    (value) => { look = {...VIEWS[value]}; press(views, value); draw(); });
  const check = (text, checked, pick) => {
    const input = el("input", {type: "checkbox", checked, on: {change: () => { pick(input.checked); dirty = true; draw(); }}});
    return el("label", {class: "check"}, input, " ", text);
  };
  const element = el("section", {id: "picture", "aria-labelledby": "picture-title"},
    el("h2", {id: "picture-title"}, "See it"),
    el("div", {class: "row"}, views,
      check("Coloured by reading", true, (on) => { byReading = on; }),
      renderer && check("Level slice", true, (on) => { withSlice = on; })),
    stage,
    el("p", {class: "note"}, renderer ? "Drag to turn. Branches, leaves and the level slice have the colours of the quantity " +
      "that is chosen above, for a flat meter facing up." : "This browser has no WebGL, so this is a plain drawing. Drag to turn."));

  // Triangles only when something that they show has changed; turning alone moves the camera.
  function rebuild() {
    if (!dirty || !renderer) return;
    dirty = false;
    if (parts) Object.values(parts).forEach(renderer.drop);
    parts = {things: renderer.upload(thingsMesh(page, byReading)),
      slice: withSlice ? renderer.upload(sliceMesh(page), {glass: true}) : null};
  }

  function draw() {
    const [width, height] = [stage.clientWidth, stage.clientHeight];
    if (!width || !height) return;
    const ratio = Math.min(window.devicePixelRatio || 1, 2);
    if (canvas.width !== Math.round(width * ratio) || canvas.height !== Math.round(height * ratio)) {
      canvas.width = Math.round(width * ratio);
      canvas.height = Math.round(height * ratio);
    }
    const eye = camera(look, bounds, width, height), tones = tonesNow();
    if (renderer) {
      rebuild();
      const shell = shellMeshes(page, eye.back, tones);
      const walls = renderer.upload(shell.walls, {glass: true}), edges = renderer.upload(shell.edges, {lines: true});
      renderer.draw(eye, [walls, edges, parts.things, parts.slice]);
      renderer.drop(walls), renderer.drop(edges);
    } else {
      still.setTransform(ratio, 0, 0, ratio, 0, 0);
      still.clearRect(0, 0, width, height);
      drawStill(still, page, eye, byReading, tones);
    }
    writeNames(eye, width, height);
  }

  function writeNames(eye, width, height) {
    const all = [...data.results.readings.map((reading, i) => ({...reading, i})).filter(({kind}) => kind === "perch")
      .map(({name, at, i}) => ({text: name, figure: page.words.figure("uvi", page.findings.value(i, "uvi").value), at})),
    ...data.scene.lamps.map(({name, at}) => ({text: name, at, lamp: true}))];
    const taken = [], WIDE = 150, HIGH = 22;
    const free = (x, y) => x > 0 && x + WIDE < width && y > HIGH && y < height - HIGH &&
      !taken.some((other) => Math.abs(other.x - x) < WIDE && Math.abs(other.y - y) < HIGH);
    show(names, all.map(({text, figure, at, lamp}) => {
      const spot = eye.spot(at);
      if (!spot) return null;
      // Right of it, else left, else a line higher or lower.
      const ways = [0, -HIGH, HIGH, -2 * HIGH].flatMap((dy) => [[10, dy], [-10 - WIDE, dy]]);
      const way = ways.find(([dx, dy]) => free(spot.x + dx, spot.y + dy));
      if (!way) return null;
      const [x, y] = [spot.x + way[0], spot.y + way[1]];
      taken.push({x, y});
      return el("span", {class: lamp ? "of-lamp" : "of-perch", style: {
        transform: `translate(${way[0] < 0 ? x + WIDE : x}px, ${y}px) translate(${way[0] < 0 ? "-100%" : "0"}, -50%)`}},
      el("bdi", {}, clipped(text, 20)), figure ? ` ${figure}` : "");
    }));
  }

  function turn(dx, dy) {
    look = {...look, turn: look.turn - dx, rise: clamp(look.rise + dy, -0.2, 1.5)};
    press(views, "");
    draw();
  }
  stage.addEventListener("pointerdown", (event) => {
    if (event.button !== 0) return;
    let [x, y] = [event.clientX, event.clientY];
    stage.setPointerCapture(event.pointerId);
    const move = (later) => {
      turn((later.clientX - x) / 150, event.pointerType === "mouse" ? (later.clientY - y) / 200 : 0);
      [x, y] = [later.clientX, later.clientY];
    };
    stage.addEventListener("pointermove", move);
    for (const end of ["pointerup", "pointercancel"])
      stage.addEventListener(end, () => stage.removeEventListener("pointermove", move), {once: true});
  });
  const KEYS = {ArrowLeft: [-0.12, 0], ArrowRight: [0.12, 0], ArrowUp: [0, 0.1], ArrowDown: [0, -0.1]};
  stage.addEventListener("keydown", (event) => {
    if (event.ctrlKey || event.metaKey || event.altKey) return;
    const zoom = {"+": 1.15, "=": 1.15, "-": 1 / 1.15}[event.key];
    if (!KEYS[event.key] && !zoom) return;
    event.preventDefault();
    if (zoom) look = {...look, zoom: clamp(look.zoom * zoom, 0.6, 4)}, draw();
    else turn(...KEYS[event.key]);
  });
  new ResizeObserver(draw).observe(stage);
  return {element, follows: ["light", "quantity", "place", "theme"], update() { dirty = true; draw(); }};
}
