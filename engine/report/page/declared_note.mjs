// For parts that take the survey itself: what they show stays as declared while lamps are moved, and says so.
import {el} from "./dom.mjs";

export function declaredNote(page) {
  const element = el("p", {class: "as-declared", hidden: true},
    "This is for the lamps as the scene declares them, not as they are set above. Survey again with your changes to see it anew.");
  return {element, update: () => { element.hidden = page.light.isDeclared(); }};
}
