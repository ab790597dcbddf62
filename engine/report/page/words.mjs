// Sentences that the page's parts share.
import {NO_BREAK, number, percent, stepped} from "./numbers.mjs";

export function makeWords(data, lengths, choice) {
  const about = (quantity) => data.quantities.get(quantity);

  // "266 W/m²", "2.05"
  function amount(quantity, value) {
    const {unit, step} = about(quantity);
    // Far less than any meter shows is as good as nothing, and its digits say nothing.
    const text = value < (1e-3 * step || 1e-5) ? "0" : value < step ? stepped(value, step) : number(value);
    return unit ? text + NO_BREAK + unit : text;
  }

  // "UVI 2.05", "266 W/m²", "illuminance 10 400 lx"
  function figure(quantity, value) {
    if (quantity === "uvi") return "UVI" + NO_BREAK + amount(quantity, value);
    const label = {irradiance: "", infrared: "infrared ", lux: "", ppfd: "PPFD ", dli: ""}[quantity];
    return (label ?? about(quantity).label + " ") + amount(quantity, value);
  }

  // "1.8 to 3.2", "at least 4000 lx"
  function limits({min, max}, quantity, size = 1, tail = null) {
    const unit = tail ?? (quantity ? about(quantity).unit : "");
    const from = min > 0 ? number(min * size) : null, to = max !== undefined ? number(max * size) : null;
    const text = from && to ? `${from} to ${to}` : from ? `at least ${from}` : to ? `at most ${to}` : "anything";
    return (unit ? `${text} ${unit}` : text).replaceAll(" ", NO_BREAK);
  }

  const degrees = (celsius) => (choice.degrees === "F" ? 32 + 1.8 * celsius : celsius);
  const degreeUnit = () => `°${choice.degrees}`;

  const VERDICTS = {unsure: "too close to call", below: "too low", above: "too high"};

  // "as wanted (1.8 to 3.2)", "too low: wanted at least 4000 lx"
  function judged({verdict, ...want}, ...how) {
    return verdict === "met" ? `as wanted (${limits(want, ...how)})` : `${VERDICTS[verdict]}: wanted ${limits(want, ...how)}`;
  }

  return {
    amount, figure, limits, judged, percent,
    label: (quantity) => about(quantity).label,
    // At the head of something.
    heading: (quantity) => about(quantity).heading.charAt(0).toUpperCase() + about(quantity).heading.slice(1),
    unit: (quantity) => about(quantity).unit,

    // Half the 95 % interval of the computation, in words; nothing where it is of no account.
    doubt(quantity, {value, se}) {
      const half = data.interval * se;
      return half > 0.03 * value && half > about(quantity).step ? ` ±${NO_BREAK}${number(half, 2)}` : "";
    },

    // Temperatures come in °C and are told in the unit that is chosen.
    degrees, degreeUnit,
    temperature: (celsius) => Math.round(degrees(celsius)) + NO_BREAK + degreeUnit(),
    temperatures: (low, high) => `${Math.round(degrees(low))} to ${Math.round(degrees(high))}`.replaceAll(" ", NO_BREAK),

    place: lengths.place,
  };
}
