// The parts that show what the survey found besides readings: each says what readings.json says.
import assert from "node:assert/strict";
import {after, before, test} from "node:test";
import {close, openBrowser, openReport, readJson, settled, switchLamp} from "./kit.mjs";

let browser;
before(async () => { browser = await openBrowser(); });
after(() => browser.close());

// Opens the demo with one section drawn.
async function openAt(section) {
  const opened = await openReport(browser, "demo");
  await opened.page.locator(`#${section}`).scrollIntoViewIfNeeded();
  await settled(opened.page);
  return {...opened, section: opened.page.locator(`#${section}`)};
}
const plain = (text) => text.replace(/\s+/gu, " ").trim();
const reading = (name) => readJson("demo").readings.find((one) => one.name === name);

test("the first screen gives the perch's band and what most of its doubt is", async () => {
  const {page, troubles} = await openReport(browser, "demo"), {low, high} = reading("sun perch").doubt.uvi;
  const text = plain(await page.locator('#glance .answer[data-key="perch"]').innerText());
  const [, from, to] = text.match(/it may be ([\d.]+\d) to ([\d.]+\d)/);
  close(Number(from), low, 0.005 * low, "its low end");
  close(Number(to), high, 0.005 * high, "its high end");
  assert.match(text, /Most of the doubt: .+ A meter settles it/);
  assert.equal(await page.locator('#glance .answer[data-key="perch"] .gauge .band').count(), reading("sun perch").wants.length);
  assert.deepEqual(troubles, []);
  await page.close();
});

test("the verdict says how much of it is not firm", async () => {
  const {page} = await openReport(browser, "demo"), {readings, hottest} = readJson("demo");
  const met = [...readings.flatMap(({wants}) => wants), hottest.uvi, hottest.irradiance].filter(({verdict, firm}) => verdict === "met" && firm !== undefined);
  assert.match(plain(await page.locator("#glance .verdict").innerText()),
    new RegExp(`${met.filter(({firm}) => !firm).length} may not hold`));
  await switchLamp(page, "uv tube", false);
  assert.doesNotMatch(await page.locator("#glance .verdict").innerText(), /may not hold/);
  await page.close();
});

test("bands and the shares of their causes stand beside each wanted figure", async () => {
  const {page, section} = await openAt("doubt");
  await section.locator("select").selectOption({label: "sun perch"});
  const {doubt, wants} = reading("sun perch");
  for (const {quantity} of wants) {
    const block = section.locator(`.doubt-block[data-quantity="${quantity}"]`);
    const shares = await block.locator(".causes .num").allInnerTexts();
    const found = doubt[quantity].causes.slice(0, 6).map(({share}) => 100 * share);
    found.filter((share) => share >= 1).forEach((share, i) => close(Number.parseFloat(shares[i]), share, 0.5, `cause ${i} of ${quantity}`));
  }
  await page.close();
});

test("the chain of losses multiplies to what arrives", async () => {
  const {page, section} = await openAt("losses");
  const options = await section.locator("option").allInnerTexts(), chains = readJson("demo").readings.flatMap((one) => one.chains ?? []);
  assert.equal(options.length, chains.filter(({start}) => start > 0).length);
  for (const [i, chain] of chains.filter(({start}) => start > 0).entries()) {
    await section.locator("select").selectOption(String(i));
    const texts = (await section.locator(".losses .row-text").allTextContents()).map(plain);
    const factors = texts.filter((text) => text.startsWith("×")).map((text) => Number(text.slice(1)));
    if (Object.values(chain.losses).includes(null)) continue;
    // Each factor has three digits, and those nearer to 1 than 0.5 % are left out; eight at most.
    close(factors.reduce((a, b) => a * b, chain.start), chain.value, 8 * 0.005 * chain.value, `${options[i]}`);
  }
  await page.close();
});

test("every failure case stands in the table with what it breaks", async () => {
  const {page, section} = await openAt("failures"), {failures} = readJson("demo");
  const rows = section.locator("tbody tr");
  assert.equal(await rows.count(), failures.length);
  for (const [i, {breaks}] of failures.entries()) {
    const fresh = breaks.filter(({already}) => !already), text = plain(await rows.nth(i).locator("td").innerText());
    if (!fresh.length) assert.equal(text, "nothing more");
    else assert.match(text, new RegExp(`${fresh[0].verdict} ${String(Number(fresh[0].limit.toPrecision(3)))}`));
  }
  await page.close();
});

test("the body shows a mark a place, and says whether the beams are nested", async () => {
  const {page, section} = await openAt("body"), {bodies, sizes} = readJson("demo").animal;
  const all = [...bodies, ...sizes.flatMap((size) => size.bodies)];
  assert.equal(await section.locator("select").first().locator("option").count(), all.length);
  for (const [i, body] of all.entries()) {
    await section.locator("select").first().selectOption(String(i));
    assert.equal(await section.locator(".place").count(), body.places.length);
    assert.equal(await section.locator(".place.off").count(), body.places.filter(({wants_met: met}) => met === false).length);
    if (i >= bodies.length) {
      const size = sizes.find((one) => one.bodies.includes(body)), {wants} = size.readings.find(({name}) => name === body.perch);
      assert.equal((plain(await section.innerText()).match(/Its back there:/g) ?? []).length, wants.length);
    }
    if (body.nested && body.for_basking) assert.match(await section.innerText(), /Heat lies inside ultraviolet/);
  }
  await page.close();
});

test("the closest place to each lamp is told with its verdict", async () => {
  const {page, section} = await openAt("closest"), {closest} = readJson("demo").animal;
  for (const {lamp, uvi, irradiance} of closest) {
    const row = section.locator(`tr[data-lamp="${lamp}"]`);
    for (const [quantity, {value}] of [["uvi", uvi], ["irradiance", irradiance]])
      assert.equal(Number(await row.locator(`td[data-quantity="${quantity}"]`).getAttribute("data-value")), value);
  }
  await page.close();
});

test("shade is told by level, and the way to it", async () => {
  const {page, section} = await openAt("shelter"), {shelter} = readJson("demo").animal;
  const lengths = await section.locator("tr[data-length]").evaluateAll((rows) => rows.map((row) => Number(row.dataset.length)));
  close(lengths.reduce((a, b) => a + b), shelter.levels.reduce((sum, {length}) => sum + length, 0), 1e-9, "all levels together");
  // Levels that are alike stand in one row.
  assert.ok(lengths.length > 2 && lengths.length < shelter.levels.length);
  const widths = await section.locator("tr.whole rect").evaluateAll((bars) => bars.map((bar) => Number(bar.getAttribute("width")) / 300));
  ["below_10", "from_10_to_50", "above_50"].forEach((part, i) => close(widths[i], shelter.fraction[part], 1e-9, part));
  assert.match(plain(await section.innerText()), shelter.way.covered ? /A covered way leads from sun perch/ : /The most covered way/);
  await page.close();
});

test("warmth follows the choice of degrees", async () => {
  const {page, section} = await openAt("warmth"), [first] = readJson("demo").warmth.perches[0].cases;
  const shown = async () => Number.parseInt((await section.locator(".row-text").first().textContent()), 10);
  assert.equal(await shown(), Math.round(first.back_c));
  await page.getByRole("button", {name: "°F"}).click();
  await settled(page);
  assert.equal(await shown(), Math.round(32 + 1.8 * first.back_c));
  await page.close();
});

test("plants in steps show what their top, middle and shaded side get", async () => {
  const {page, section} = await openAt("plants"), {plants} = readJson("demo");
  for (const {name, needs} of plants.filter((plant) => plant.needs.length)) {
    const texts = (await section.locator(`figure[data-name="${name}"] .row-text`).allTextContents()).map(plain);
    assert.deepEqual(texts.map((text) => text.replace(/^[^,]*, /, "")), [needs[0].top, needs[0].standing, needs[0].middle, needs[0].shaded]);
  }
  assert.match(plain(await section.innerText()), /From the top to the floor/);
  await page.close();
});

test("people read how long until the limits", async () => {
  const {page, section} = await openAt("people");
  for (const {name, minutes_to_skin_limit: skin, minutes_to_eye_limit: eye} of readJson("demo").people) {
    const text = plain(await section.locator(`tr[data-name="${name}"] td`).first().innerText());
    if (skin === null) assert.match(text, /not within 8 h/);
    else close(Number.parseFloat(text), skin < 120 ? skin : skin / 60, 0.06 * skin, `${name}, skin`);
    if (eye === null) assert.match(plain(await section.locator(`tr[data-name="${name}"]`).innerText()), /not within 8 h/);
  }
  await page.close();
});

test("a meter's reading is judged against what is accepted", async () => {
  const {page, section} = await openAt("measure"), [row] = readJson("demo").meter_sheet.rows;
  const first = section.locator("ol.measure > li").first(), input = first.locator("input");
  await input.fill(String(row.expected));
  assert.match(await first.locator("[role=status]").innerText(), /Fits what is declared/);
  await input.fill(String(1.2 * row.high));
  assert.match(plain(await first.locator("[role=status]").innerText()), /times what was expected.*Lamp off/);
  await input.fill(String(0.5 * row.low));
  assert.match(plain(await first.locator("[role=status]").innerText()), /times what was expected\. Read again/);
  await input.fill("");
  assert.equal(await first.locator("[role=status]").innerText(), "");
  await page.close();
});

test("the meter sheet on paper holds the plan's places and what to accept", async () => {
  const {page} = await openAt("paper"), {rows} = readJson("demo").meter_sheet;
  const sheet = page.locator(".sheet[aria-label='Meter sheet'] table:first-of-type tbody tr");
  assert.equal(await sheet.count(), rows.length);
  for (const [i, {low, high}] of rows.entries()) {
    const [from, to] = plain(await sheet.nth(i).locator(".accept").innerText()).split(" to ")
      .map((text) => Number(text.replaceAll(" ", "")));
    close(from, low, 0.005 * low + 1e-9, "the low end");
    close(to, high, 0.005 * high + 1e-9, "the high end");
  }
  await page.close();
});

test("a caution that has a reason gives it", async () => {
  const {page, section} = await openAt("cautions"), {cautions} = readJson("demo");
  assert.deepEqual(await section.locator("details p").allTextContents(), cautions.map(({reason}) => reason).filter(Boolean));
  await page.close();
});

test("what takes the survey itself says so while lamps are moved", async () => {
  const {page} = await openReport(browser, "demo");
  await switchLamp(page, "uv tube", false);
  for (const id of ["doubt", "losses", "failures", "body", "closest", "shelter", "warmth", "plants", "people", "measure"])
    assert.ok(await page.locator(`#${id} .as-declared`).evaluate((node) => !node.hidden), id);
  assert.match(await page.locator('#glance .answer[data-key="fails"]').innerText(), /Not known/);
  await page.getByRole("button", {name: "As declared"}).click();
  await settled(page);
  assert.equal(await page.locator(".as-declared:not([hidden])").count(), 0);
  await page.close();
});

test("the most in reach is told with its band, and the longest dark", async () => {
  const {page, section} = await openAt("day"), {hottest, day} = readJson("demo");
  const text = plain(await page.locator('#glance .answer[data-key="danger"]').innerText());
  const [, from, to] = text.match(/Most ultraviolet: .*? it may be ([\d.]+\d) to ([\d.]+\d)/);
  close(Number(from), hottest.uvi.doubt.low, 0.005 * hottest.uvi.doubt.low, "its low end");
  close(Number(to), hottest.uvi.doubt.high, 0.005 * hottest.uvi.doubt.high, "its high end");
  assert.match(plain(await section.innerText()), new RegExp(`from ${day.longest_dark.from} to ${day.longest_dark.to}`));
  await page.close();
});

test("links lead to every part", async () => {
  const {page} = await openReport(browser, "demo");
  const targets = await page.locator(".contents a").evaluateAll((links) => links.map((link) => link.getAttribute("href")));
  const ids = await page.locator("main > section").evaluateAll((sections) => sections.map(({id}) => `#${id}`));
  assert.deepEqual(targets, ids.slice(1));
  await page.close();
});
