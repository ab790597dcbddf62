// What figures say about wants, by the same rules as the survey's own: unsure where a limit lies inside the 95 %
// interval; limits are inclusive; a lower limit of 0 is no limit.

export function judge(figure, {min, max}, interval) {
  const half = interval * figure.se;
  if (min > 0 && figure.value + half < min) return "below";
  if (max !== undefined && figure.value - half > max) return "above";
  if (min > 0 && figure.value - half < min) return "unsure";
  if (max !== undefined && figure.value + half > max) return "unsure";
  return "met";
}

const RANK = {below: 0, above: 0, unmet: 0, unsure: 1, met: 2};
export const rank = (verdict) => RANK[verdict] ?? 3;
export const statusOf = (verdict) => ["bad", "unsure", "good", "none"][rank(verdict)];
export function worst(verdicts) {
  return verdicts.reduce((a, b) => (rank(b) < rank(a) ? b : a), "none");
}

// Readings, wants and the hottest places as the lamps are set: the files' own figures while nothing was moved.
export function makeFindings(data, light) {
  const {results, interval} = data;

  function value(reading, quantity) {
    if (light.isDeclared() || !data.sources.length) return results.readings[reading].values[quantity];
    return light.readingFigure(reading, quantity);
  }

  function wants(reading) {
    return results.readings[reading].wants.map((want) => {
      if (light.isDeclared() || !data.sources.length) return want;
      const figure = light.readingFigure(reading, want.quantity);
      const verdict = want.converged === false ? "unsure" : judge(figure, want, interval);
      return {...want, ...figure, verdict};
    });
  }

  // The place that the survey found, and what no place in reach can exceed: with every lamp at most k times what it
  // was, no sum is more than k times the greatest.
  function hottest(quantity) {
    if (!results.hottest) return null;
    const found = results.hottest[quantity];
    if (light.isDeclared() || !data.hottestShares) return {...found, most: found.value, moved: false};
    const factors = data.sources.map((_, i) => light.factor(i, quantity));
    const parts = data.hottestShares[quantity].map((share, i) => factors[i] * share);
    const value = parts.reduce((a, b) => a + b, 0), strongest = parts.indexOf(Math.max(...parts));
    const dark = data.sources.some(({dim}, i) => dim === 0 && factors[i] > 0);
    const ofDeclared = dark ? Infinity : Math.max(0, ...factors) * found.value;
    const full = Math.max(0, ...data.sources.map((source, i) => {
      if (!factors[i]) return 0;
      return source.is_lamp ? factors[i] / light.fullFactor(i, quantity) : factors[i];
    }));
    const most = Math.max(value, Math.min(ofDeclared, full * results.hottest.at_full[quantity].value));
    const half = interval * found.se;
    const limit = found.limit;
    const verdict = limit === undefined ? undefined
      : value - half > limit ? "above" : most + half <= limit ? "met" : "unsure";
    // The lamp that gives most there, where there is any to speak of.
    const lamp = value > 1e-4 * found.value ? data.sources[strongest].name : "";
    return {...found, value, most, verdict, lamp, moved: true};
  }

  function all() {
    const list = [];
    for (const quantity of ["uvi", "irradiance"]) {
      const place = hottest(quantity);
      if (place && place.limit !== undefined) list.push({kind: "hottest", quantity, ...place});
    }
    results.readings.forEach((reading, i) => {
      for (const want of wants(i)) list.push({kind: "want", reading: i, ...want});
    });
    // Shares of the enclosure take the survey itself: with lamps moved nobody knows them.
    if (light.isDeclared()) for (const want of results.zones.wants) list.push({kind: "zone", ...want});
    return list;
  }

  return {value, wants, hottest, all};
}
