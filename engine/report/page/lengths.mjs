// Lengths in the unit that is chosen on the page, and places in plain words.
import {NO_BREAK} from "./numbers.mjs";

const METRES = {m: 1, cm: 0.01, mm: 0.001, in: 0.0254, inch: 0.0254, ft: 0.3048, um: 1e-6};

export function makeLengths(choice) {
  const size = () => METRES[choice.unit];
  // To about a millimetre, as the program's own texts.
  const decimals = () => Math.max(0, Math.ceil(Math.log10(size() / 0.001) - 0.5));

  function number(metres) {
    const text = (metres / size()).toFixed(decimals());
    const short = text.includes(".") ? text.replace(/\.?0+$/, "") : text;
    return short === "-0" ? "0" : short;
  }
  const text = (metres) => number(metres) + NO_BREAK + choice.unit;

  return {
    number, text, size,
    unit: () => choice.unit,

    // "24 from the left, 25.3 from the front, 150 cm up"
    place([x, y, z]) {
      const across = x < 0 ? `${number(-x)} left of it` : `${number(x)} from the left`;
      const deep = y < 0 ? `${number(-y)} in front of it` : `${number(y)} from the front`;
      const high = z < 0 ? `${text(-z)} below its floor` : `${text(z)} up`;
      return [across, deep, high].join(", ").replaceAll(" ", NO_BREAK).replaceAll("," + NO_BREAK, ", ");
    },

    // Metres of ticks that are round in this unit, at most `most`.
    ticks(low, high, most) {
      const steps = size() === 0.0254 ? [1, 2, 3, 6, 12, 24, 48, 96]
        : [1e-3, 1e-2, 0.1, 1, 10, 100, 1000].flatMap((decade) => [decade, 2 * decade, 5 * decade]);
      const step = steps.find((one) => (high - low) / size() / one + 1 <= most) ?? steps.at(-1);
      const ticks = [];
      for (let n = Math.ceil(low / size() / step - 1e-9); n * step <= high / size() + 1e-9; ++n)
        ticks.push(n * step * size());
      return ticks;
    },
  };
}

export function unitChoices(own) {
  return [...new Set([own, "cm", "in"])];
}
