// The light with the lamps as the page has them set. Light adds up, so every figure is a weighted sum of what the
// sources give by themselves; no ray is needed.
import {countedHours, declaredSpans, litShare, shareOfRamp, spansNow} from "./hours.mjs";

// What is left of a source's light at a dimmer setting: along the table's steps, straight on logarithmic scales, since
// a cooling filament goes down by powers.
function alongSteps(steps, dim, factorOf) {
  if (dim <= 0) return 0;
  let i = steps.findIndex((step) => step.dim >= dim);
  i = i < 0 ? steps.length - 1 : Math.max(i, 1);
  const a = steps[i - 1], b = steps[i], low = factorOf(a), high = factorOf(b);
  if (!(low > 0 && high > 0)) return 0;
  const t = Math.log(dim / a.dim) / Math.log(b.dim / a.dim);
  return low * (high / low) ** t;
}

export function makeLight(data, lamps) {
  const {sources, instants, replicates} = data;
  const position = new Map(instants.map((name, i) => [name, i]));
  const instantOf = (quantity) => data.quantities.get(quantity).of ?? quantity;

  // Of a source's light at `dim` on its shares.
  function factorAt(source, dim, quantity, reading) {
    const {steps, reference} = sources[source];
    if (dim === 0) return 0;
    // Where nothing was moved nothing is rounded either.
    if (dim === reference) return 1;
    if (!steps.length) return dim / reference;
    const q = position.get(instantOf(quantity));
    return alongSteps(steps, dim, (step) => (reading === null ? step.cells : step.readings[reading])[q]);
  }

  // Of `source` on its shares, at a reading (by its number) or at cells.
  function factor(source, quantity, reading = null) {
    const {on, dim} = lamps[source];
    return on ? factorAt(source, dim, quantity, reading) : 0;
  }

  // What a ramp to `dim` gives on the mean, of what it gives there: half, but for a filament, whose light reddens as it
  // comes up. A reading says it itself at the dimmer that it was surveyed with; else it is the mean along the steps.
  function rampShare(source, dim, quantity, reading) {
    const {steps, reference, name, ramp_h: ramp} = sources[source];
    if (!steps.length || !(ramp > 0) || dim === 0) return 0.5;
    const {of, per_hour: perHour} = data.quantities.get(quantity);
    const found = reading === null || dim !== reference ? undefined : data.results.readings[reading].by_lamp[name];
    if (found?.[of] > 0) return shareOfRamp(declaredSpans(sources[source]), ramp, found[quantity] / (perHour * found[of]));
    const POINTS = 64;
    let sum = 0;
    for (let i = 0; i < POINTS; ++i) sum += factorAt(source, (dim * (i + 0.5)) / POINTS, quantity, reading);
    const there = factorAt(source, dim, quantity, reading);
    return there > 0 ? sum / POINTS / there : 0.5;
  }

  // The hours of a day for which a source's light counts, at `dim`.
  function hoursOf(source, dim, quantity, reading) {
    const {hours} = lamps[source];
    if (hours === null) return 0;
    return countedHours(spansNow(sources[source], hours), sources[source].ramp_h, rampShare(source, dim, quantity, reading));
  }

  // Hours make a day quantity of an instant one.
  function weight(source, quantity, reading = null) {
    const {per_hour: perHour} = data.quantities.get(quantity);
    const hours = perHour ? perHour * hoursOf(source, lamps[source].dim, quantity, reading) : 1;
    return hours ? hours * factor(source, quantity, reading) : 0;
  }

  function readingBySource(reading, quantity) {
    const q = position.get(instantOf(quantity));
    return sources.map((_, source) => {
      const first = ((reading * instants.length + q) * sources.length + source) * replicates;
      const of = weight(source, quantity, reading);
      return data.readingShares.subarray(first, first + replicates).map((value) => of * value);
    });
  }

  function readingFigure(reading, quantity) {
    const sums = new Float64Array(replicates);
    for (const values of readingBySource(reading, quantity))
      values.forEach((value, i) => { sums[i] += value; });
    const mean = sums.reduce((a, b) => a + b, 0) / replicates;
    const spread = sums.reduce((sum, value) => sum + (value - mean) ** 2, 0);
    return {value: mean, se: Math.sqrt(spread / (replicates * (replicates - 1)))};
  }

  // With the dimmer at full, whatever it stands at.
  function fullFactor(source, quantity) {
    const {steps, reference} = sources[source];
    return steps.length ? steps.at(-1).cells[position.get(instantOf(quantity))] : 1 / reference;
  }

  const fields = new Map();
  return {
    factor, fullFactor, weight, readingFigure,

    readingShares: (reading, quantity) =>
      readingBySource(reading, quantity).map((values) => values.reduce((a, b) => a + b, 0) / replicates),

    // With every dimmer at full and every lamp on, hours as set.
    readingSharesAtFull: (reading, quantity) => sources.map(({is_lamp: isLamp}, source) => {
      const q = position.get(instantOf(quantity)), {per_hour: perHour} = data.quantities.get(quantity);
      const first = ((reading * instants.length + q) * sources.length + source) * replicates;
      const mean = data.readingShares.subarray(first, first + replicates).reduce((a, b) => a + b, 0) / replicates;
      return mean * (isLamp ? fullFactor(source, quantity) : 1) * (perHour ? perHour * hoursOf(source, 1, quantity, reading) : 1);
    }),

    // By source, at a moment of the day.
    readingSharesAtHour(reading, quantity, hour) {
      const q = position.get(quantity);
      return sources.map(({ramp_h: ramp}, source) => {
        const {on, dim, hours} = lamps[source];
        const lit = on && hours !== null ? litShare(spansNow(sources[source], hours), ramp, hour) : 0;
        if (!lit) return 0;
        const first = ((reading * instants.length + q) * sources.length + source) * replicates;
        const mean = data.readingShares.subarray(first, first + replicates).reduce((a, b) => a + b, 0) / replicates;
        return mean * factorAt(source, lit * dim, quantity, reading);
      });
    },

    isDeclared: () => lamps.every((lamp, i) =>
      lamp.on && lamp.dim === sources[i].dim && lamp.hours === sources[i].hours),

    hasField: (quantity) => data.grid !== null && data.grid.values.has(instantOf(quantity)),

    // Every cell facing up; kept until forget().
    field(quantity) {
      if (!fields.has(quantity)) {
        const sum = new Float32Array(data.grid.cells);
        data.grid.values.get(instantOf(quantity)).forEach((values, source) => {
          const of = weight(source, quantity);
          if (of) for (let i = 0; i < sum.length; ++i) sum[i] += of * values[i];
        });
        fields.set(quantity, sum);
      }
      return fields.get(quantity);
    },
    forget: () => fields.clear(),

    cellShares: (cell, quantity) => data.grid.values.get(instantOf(quantity))
      .map((values, source) => weight(source, quantity) * values[cell]),

    // How far cells may be off, relative, RMS, because a filament was moved from where it was computed.
    cellDoubt(quantity) {
      const q = position.get(instantOf(quantity));
      return Math.max(0, ...sources.map(({steps, reference}, source) => {
        const {on, dim} = lamps[source];
        if (!on || !steps.length || dim === reference) return 0;
        return steps.reduce((best, step) =>
          Math.abs(step.dim - dim) < Math.abs(best.dim - dim) ? step : best).cells_rms[q];
      }));
    },
  };
}
