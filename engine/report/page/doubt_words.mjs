// What may be off, and why, in words.
import {named} from "./dom.mjs";
import {NO_BREAK, number} from "./numbers.mjs";

const CAUSES = {
  lamp: ["lamps like ", " differ"],
  age: ["lamps like ", " age differently"],
  mesh: ["meshes like ", " differ"],
  reflected: ["walls and leaves may reflect more or less"],
  lamp_height: ["", " may hang higher or lower"],
  height: ["the place may be higher or lower"],
  meter: ["meters differ"],
};

// After "because": "lamps like uv tube differ".
export function causeText({cause, name}) {
  const [before, after] = CAUSES[cause] ?? [cause];
  return name ? [before, named(name, 28), after ?? ""] : [before];
}

// "1.9 to 3.7"
export const bandText = ({low, high}) => [number(low), "to", number(high)].join(NO_BREAK);

// Of a reading as declared; undefined where nobody knows.
export const bandOf = (page, reading, quantity) => page.data.results.readings[reading]?.doubt?.[quantity];

// A band that moves with the lamps: what is in doubt is how much they give, and that stays in proportion.
export function bandAround(band, value) {
  const half = Math.exp(1.96 * band.log_sd);
  return {...band, low: value / half, high: value * half};
}
