// What the animal means on a view: its body on each perch, the closest place to each lamp, the way into shade.
import {cased} from "./draw_field.mjs";

function through(frame, places, closed) {
  const path = new Path2D();
  places.forEach((place, i) => (i ? path.lineTo(...frame.spot(place)) : path.moveTo(...frame.spot(place))));
  if (closed) path.closePath();
  return path;
}

export function drawAnimal(ctx, frame, page, at, near, labels, style) {
  const {animal} = page.data.results, {n} = frame.axes;
  if (!animal) return;
  const {shelter} = animal, isNear = (place, reach) => Math.abs(place[n] - at) <= reach;
  // Where it leads is worth seeing in whole, whatever the cut.
  if (shelter?.way && page.state.quantity === "uvi")
    cased(ctx, through(frame, shelter.way.places.map((i) => shelter.places[i].at), false), {width: 2, colour: style.ink, halo: style.halo, dash: [1, 5]});
  for (const {places, length} of animal.bodies) {
    const row = (name) => places.filter((place) => place.row === name).map((place) => place.at);
    const outline = [...row("back"), ...row("flank").reverse()];
    if (outline.length < 3 || !isNear(outline[0], near + length)) continue;
    cased(ctx, through(frame, outline, true), {width: 1.3, colour: style.ink, halo: style.halo});
  }
  if (!["uvi", "irradiance"].includes(page.state.quantity)) return;
  for (const {at: place} of animal.closest) {
    if (!isNear(place, near)) continue;
    const [x, y] = frame.spot(place);
    cased(ctx, new Path2D(`M${x - 5} ${y} h10 M${x} ${y - 5} v10`), {width: 1.8, colour: style.never, halo: style.halo});
    labels.block(x, y, 6);
  }
}
