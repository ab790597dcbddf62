// Places that a keeper may want to look at.

// The perch that the lamps are made for: the first that wants UV, else wants anything, else is there.
export function mainReading(data) {
  const readings = data.results.readings, perch = (reading) => reading.kind === "perch";
  const tests = [
    (reading) => perch(reading) && reading.wants.some((want) => want.quantity === "uvi" && want.min > 0),
    (reading) => perch(reading) && reading.wants.length > 0, perch, (reading) => reading.wants.length > 0, () => true];
  for (const test of tests) {
    const found = readings.findIndex(test);
    if (found >= 0) return found;
  }
  return -1;
}

const KIND = {perch: "perch, at the back", plant: "plant", point: "point"};

export function jumpPlaces(data) {
  const places = data.results.readings.map(({name, kind, at}) => ({name, kind: KIND[kind], at}));
  const {hottest} = data.results;
  if (hottest) {
    places.push({name: "Most UV in reach", kind: "", at: hottest.uvi.at});
    places.push({name: "Most heat in reach", kind: "", at: hottest.irradiance.at});
  }
  for (const {lamp, at} of data.results.animal?.closest ?? []) places.push({name: `Closest to ${lamp}`, kind: "", at});
  return places;
}
