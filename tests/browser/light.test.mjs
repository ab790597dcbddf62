// The page reads what the files say, and switched or dimmed lamps give what the light's linearity says they must.
import assert from "node:assert/strict";
import {after, before, test} from "node:test";
import {choose, close, dimLamp, goTo, openBrowser, openReport, readGrid, readJson, readPlace, readTable, setHours, settled, switchLamp} from "./kit.mjs";

let browser;
before(async () => { browser = await openBrowser(); });
after(() => browser.close());

// 16-bit floats hold 11 significant bits, so they are rounded by 2^-11 at most; the scale and six printed digits add 1e-5.
const HALF = 2 ** -11 + 1e-5;

test("a slice reads what grid.csv says, in every quantity", async () => {
  const {page, troubles} = await openReport(browser, "closet"), grid = readGrid("closet");
  for (const quantity of ["uvi", "ppfd", "lux", "infrared", "irradiance", "dli", "uvb"]) {
    await choose(page, quantity);
    for (const i of [0, 100, 333, 500, grid.length - 1]) {
      const cell = grid[i];
      await goTo(page, [cell.x_m, cell.y_m, cell.z_m]);
      close(await readPlace(page), cell[quantity], HALF * cell[quantity] + 1e-9, `${quantity} in cell ${i}`);
    }
  }
  assert.deepEqual(troubles, []);
  await page.close();
});

test("every reading is that of readings.json", async () => {
  const {page} = await openReport(browser, "demo");
  for (const {name, values, wants} of readJson("demo").readings) {
    for (const [quantity, {value, se}] of Object.entries(values))
      assert.deepEqual(await readTable(page, name, quantity), {value, se}, `${quantity} of ${name}`);
    const shown = await page.locator(`#table tr[data-name="${name}"] .wants li`).evaluateAll((items) =>
      items.map((item) => [item.dataset.quantity, item.dataset.verdict]));
    assert.deepEqual(shown, wants.map(({quantity, verdict}) => [quantity, verdict]), `verdicts of ${name}`);
  }
  await page.close();
});

test("lamps switched off leave the sum of the others", async () => {
  const {page} = await openReport(browser, "demo"), {readings} = readJson("demo");
  await switchLamp(page, "uv tube", false);
  for (const {name, by_lamp: byLamp} of readings)
    for (const quantity of ["uvi", "irradiance", "ppfd", "dli"]) {
      const rest = byLamp["basking flood"][quantity] + byLamp["plant panel"][quantity];
      close((await readTable(page, name, quantity)).value, rest, 1e-5 * rest + 1e-9, `${quantity} of ${name} without the tube`);
    }
  await switchLamp(page, "basking flood", false);
  await switchLamp(page, "plant panel", false);
  assert.equal((await readTable(page, "sun perch", "irradiance")).value, 0);
  // And all on again are as declared.
  await page.getByRole("button", {name: "As declared"}).click();
  await settled(page);
  assert.equal((await readTable(page, "sun perch", "uvi")).value, readings[0].values.uvi.value);
  await page.close();
});

test("cells follow the switches as well", async () => {
  const {page} = await openReport(browser, "closet"), cell = readGrid("closet")[250];
  await choose(page, "irradiance");
  await goTo(page, [cell.x_m, cell.y_m, cell.z_m]);
  let sum = 0;
  const lamps = ["tube", "flood", "room"];
  for (const alone of lamps) {
    for (const name of lamps) await switchLamp(page, name, name === alone);
    sum += await readPlace(page);
  }
  close(sum, cell.irradiance, HALF * cell.irradiance, "the sum of the lamps alone");
  await page.close();
});

test("a dimmed lamp reads as a survey with it dimmed does", async () => {
  const {page} = await openReport(browser, "closet"), surveyed = readJson("dimmed");
  await dimLamp(page, "flood", 40);
  await dimLamp(page, "tube", 60);
  for (const {name, values, direction} of surveyed.readings)
    for (const quantity of ["uvi", "irradiance", "lux", "ppfd", "infrared", "dli"]) {
      // The perch turns to the brightest, which a change of dimmers may move a little.
      if (name === "perch" && Math.abs(direction[2]) < 0.9) continue;
      const {value, se} = values[quantity], here = await readTable(page, name, quantity);
      // Two surveys with random numbers of their own: 4 standard errors of their difference, and 1 % for the turn.
      close(here.value, value, 4 * Math.hypot(se, here.se) + 0.01 * value, `${quantity} of ${name} with lamps dimmed`);
    }
  await page.close();
});

test("hours scale the day's sums and nothing else", async () => {
  const {page} = await openReport(browser, "closet"), {by_lamp: byLamp, values} = readJson("closet").readings[0];
  await setHours(page, "tube", 5);
  const rest = values.uvi_hours.value - byLamp.tube.uvi_hours;
  close((await readTable(page, "perch", "uvi_hours")).value, rest + byLamp.tube.uvi_hours / 2, 1e-5 * values.uvi_hours.value, "UVI hours");
  close((await readTable(page, "perch", "uvi")).value, values.uvi.value, 1e-5 * values.uvi.value, "the UV index");
  await page.close();
});

test("verdicts, first screen and sums follow at once", async () => {
  const {page} = await openReport(browser, "demo");
  assert.equal(await page.locator('#glance .answer[data-key="perch"]').getAttribute("class"), "answer good");
  await switchLamp(page, "uv tube", false);
  assert.equal(await page.locator('#glance .answer[data-key="perch"]').getAttribute("class"), "answer bad");
  assert.match(await page.locator("#glance .verdict").innerText(), /not met/);
  assert.match(await page.locator(".live").innerText(), /sun perch.*too low/s);
  assert.match(await page.locator('#glance .answer[data-key="next"]').innerText(), /sun perch/);
  // What the files hold is said to be something else now.
  assert.match(await page.locator(".lamp-panel").innerText(), /differ from the scene/);
  await page.close();
});

test("with lamps moved nothing is claimed of shares of the enclosure", async () => {
  const {page} = await openReport(browser, "demo");
  assert.match(await page.locator('#glance .answer[data-key="shade"] .short').innerText(), /^As wanted:\s*Yes/);
  // By little: one of the plants has hardly more than it needs.
  await dimLamp(page, "basking flood", 80);
  assert.match(await page.locator('#glance .answer[data-key="shade"] .short').innerText(), /^Not known:\s*As declared/);
  assert.match(await page.locator("#glance .verdict").innerText(), /16 wants met|of 16/);
  await page.close();
});

test("the day by the hour is that of the files, ramps and all", async () => {
  const {page} = await openReport(browser, "demo"), clock = readJson("demo").day;
  await page.locator("#day details").evaluate((node) => { node.open = true; });
  for (const {name, ...values} of clock.readings) {
    await page.locator("#day select").first().selectOption({label: name});
    for (const quantity of ["uvi", "irradiance", "infrared", "lux", "ppfd"]) {
      const shown = await page.locator(`#day td[data-quantity="${quantity}"]`).evaluateAll((cells) => cells.map((cell) => Number(cell.dataset.value)));
      assert.equal(shown.length, 24);
      // A filament that ramps is taken between tenths of its dimmer, along powers: 2 %.
      shown.forEach((value, hour) => close(value, values[quantity][12 * hour], 0.02 * values[quantity][12 * hour] + 1e-6,
        `${quantity} of ${name} at ${hour}:00`));
    }
  }
  await page.close();
});

test("hours of a lamp that ramps count less its ramps", async () => {
  const {page} = await openReport(browser, "demo"), {by_lamp: byLamp, values} = readJson("demo").readings[0];
  await setHours(page, "plant panel", 6.5);
  // One span of 13 h with two ramps of 30 min, each worth half of itself: 12.5 h, then 6 h.
  const rest = values.dli.value - byLamp["plant panel"].dli, there = rest + (byLamp["plant panel"].dli * 6) / 12.5;
  close((await readTable(page, "sun perch", "dli")).value, there, 1e-5 * values.dli.value, "DLI");
  await page.close();
});
