// The page as a keeper uses it: mouse, keyboard, finger, paper, and no network.
import assert from "node:assert/strict";
import {statSync} from "node:fs";
import {join} from "node:path";
import {after, before, test} from "node:test";
import {choose, close, openBrowser, openReport, readJson, readPlace, REPORTS, settled} from "./kit.mjs";

let browser;
before(async () => { browser = await openBrowser({webgl: true}); });
after(() => browser.close());

test("opens from disk within 5 MB and a second, alone and without complaint", async () => {
  assert.ok(statSync(join(REPORTS, "demo", "report.html")).size <= 5e6);
  const {page, troubles} = await openReport(browser, "demo");
  // The best of a few, since other tests may be running beside this one.
  let ready = Infinity;
  for (let i = 0; i < 5 && !(ready < 1000); ++i) {
    if (i) await page.reload();
    ready = Math.min(ready, await page.evaluate(() => performance.getEntriesByType("navigation")[0].domInteractive));
  }
  assert.ok(ready < 1000, `interactive after ${ready} ms`);
  await page.evaluate(() => window.scrollTo(0, document.body.scrollHeight));
  await settled(page);
  assert.deepEqual(troubles, []);
  await page.close();
});

test("a line moved in one view moves the slice in the others", async () => {
  const {page} = await openReport(browser, "demo");
  const title = (view) => page.locator(`.view.${view} .view-title`).innerText();
  const before = await title("plan"), plot = page.locator(".view.front .plot");
  await plot.scrollIntoViewIfNeeded();
  const grip = page.locator(".view.front .grip.upright"), from = await grip.boundingBox(), frame = await plot.boundingBox();
  await page.mouse.move(from.x + 8, from.y + 16);
  await page.mouse.down();
  await page.mouse.move(from.x + 8, frame.y + 0.75 * frame.height, {steps: 4});
  await page.mouse.up();
  await settled(page);
  assert.notEqual(await title("plan"), before);
  const cut = Number((await title("plan")).match(/cut ([\d.]+)/)[1]);
  assert.ok(cut > 10 && cut < 70, `the plan is now cut ${cut} cm up`);
  assert.match(await page.locator(".view.side .plot").getAttribute("aria-label"), /Arrow keys/);
  await page.close();
});

test("a click reads the place under it", async () => {
  const {page} = await openReport(browser, "demo");
  const plot = page.locator(".view.front .plot");
  await plot.scrollIntoViewIfNeeded();
  const box = await plot.boundingBox();
  await page.mouse.click(box.x + 0.5 * box.width, box.y + 0.9 * box.height);
  await settled(page);
  const low = await readPlace(page);
  await page.mouse.click(box.x + 0.45 * box.width, box.y + 0.3 * box.height);
  await settled(page);
  assert.ok(await readPlace(page) > 10 * low, "it is brighter near the lamps");
  await page.close();
});

test("keys alone read any cell and switch a lamp", async () => {
  const {page} = await openReport(browser, "demo");
  await page.locator(".view.front .plot").focus();
  const heightOf = async () => Number((await page.locator(".view.plan .view-title").innerText()).match(/cut ([\d.]+)/)[1]);
  const before = await heightOf();
  await page.keyboard.press("ArrowDown");
  await settled(page);
  close(await heightOf(), before - 5, 0.11, "one cell down");
  await page.keyboard.press("Shift+ArrowDown");
  await settled(page);
  close(await heightOf(), before - 30, 0.11, "six cells down");
  await page.locator(".lamp input[role=switch]").first().focus();
  await page.keyboard.press("Space");
  await settled(page);
  assert.match(await page.locator("#glance .verdict").innerText(), /not met/);
  // Every control can be reached by Tab, in the order of the page.
  const stops = await page.evaluate(() => [...document.querySelectorAll("button, select, input, [tabindex]")]
    .filter((node) => node.tabIndex < 0).length);
  assert.equal(stops, 0);
  // A screen reader hears the place.
  await page.locator(".view.plan .plot").focus();
  await page.keyboard.press("ArrowRight");
  await page.waitForTimeout(600);
  assert.match(await page.locator(".readout [role=status]").textContent(), /UVI.*from\sthe\sleft/);
  await page.close();
});

test("lengths can be read in inches", async () => {
  const {page} = await openReport(browser, "demo");
  await page.getByRole("button", {name: "in", exact: true}).click();
  await settled(page);
  const {at} = readJson("demo").hottest.uvi;
  assert.match(await page.locator('#glance .answer[data-key="danger"]').innerText(),
    new RegExp(`${String(Number((at[2] / 0.0254).toFixed(1))).replace(".", "\\.")}\\sin\\sup`));
  await page.close();
});

test("the picture can be turned, and stands still where there is no WebGL", async () => {
  const seen = async (page) => {
    await page.locator("#picture").scrollIntoViewIfNeeded();
    await settled(page);
    return page.locator("#picture canvas").evaluate((canvas) => canvas.toDataURL().length);
  };
  const {page, troubles} = await openReport(browser, "demo");
  const first = await page.locator("#picture canvas").evaluate((canvas) => canvas.toDataURL());
  await page.locator("#picture .stage").focus();
  for (let i = 0; i < 4; ++i) await page.keyboard.press("ArrowRight");
  await settled(page);
  assert.notEqual(await page.locator("#picture canvas").evaluate((canvas) => canvas.toDataURL()), first);
  assert.ok(await seen(page) > 20000, "there is something in it");
  assert.deepEqual(troubles, []);
  await page.close();
  const plain = await openBrowser({webgl: false});
  const still = await openReport(plain, "demo");
  assert.match(await still.page.locator("#picture").innerText(), /no WebGL/);
  assert.ok(await seen(still.page) > 10000, "there is something in the still");
  assert.deepEqual(still.troubles, []);
  await plain.close();
});

test("prints a decision page, a drilling plan, a meter sheet and a weekly card", async () => {
  const {page} = await openReport(browser, "demo");
  for (const format of ["A4", "Letter"]) {
    const pdf = (await page.pdf({format})).toString("latin1");
    assert.equal(pdf.match(/\/Type\s*\/Page\b/g).length, 4, `sheets on ${format}`);
  }
  await page.locator("#paper input[type=checkbox]").nth(3).uncheck();
  assert.equal((await page.pdf({format: "A4"})).toString("latin1").match(/\/Type\s*\/Page\b/g).length, 3);
  // The drilling plan holds the measures of the scene file: the tube 20 from the left, 25 from the front, 20 above.
  await page.emulateMedia({media: "print"});
  const row = await page.locator(".sheet[aria-label='Drilling plan'] tbody tr").first().innerText();
  assert.match(row, /uv tube\s+20\s*cm\s+25\s*cm\s+20\s*cm\s+front to back\s+straight down\s+100 %/);
  await page.close();
});

for (const name of ["empty", "bare"])
  test(`says what was not asked where the scene is ${name}`, async () => {
    const {page, troubles} = await openReport(browser, name);
    assert.match(await page.locator('#glance .answer[data-key="danger"]').innerText(), /describes no animal/);
    assert.match(await page.locator("#glance .verdict").innerText(), /Nothing was asked for/);
    await choose(page, "lux");
    assert.match(await page.locator(".readout .big").innerText(), /lx/);
    assert.equal((await page.pdf({format: "A4"})).toString("latin1").match(/\/Type\s*\/Page\b/g).length, 4);
    assert.deepEqual(troubles, []);
    await page.close();
  });

test("fits a narrow phone", async () => {
  const {page, troubles} = await openReport(browser, "demo", {width: 360, height: 740});
  assert.ok(await page.evaluate(() => document.documentElement.scrollWidth) <= 360);
  // All six answers stand on the first two screens, signs and all.
  const last = await page.locator("#glance .answer").last().boundingBox();
  assert.ok(last.y < 2 * 740, `the last answer begins at ${last.y}`);
  const plot = page.locator(".view.front .plot");
  await plot.scrollIntoViewIfNeeded();
  const box = await plot.boundingBox();
  assert.ok(box.x >= 0 && box.x + box.width <= 360);
  await choose(page, "ppfd");
  assert.match(await page.locator(".readout .big").innerText(), /PPFD/);
  assert.deepEqual(troubles, []);
  await page.close();
});
