// For everyone: no barrier that axe-core finds, in either colouring, large and small; and no name can break the page.
import assert from "node:assert/strict";
import {after, before, test} from "node:test";
import {HOSTILE_NAMES} from "./hostile_names.mjs";
import {openBrowser, openReport, settled, switchLamp, violations} from "./kit.mjs";

let browser;
before(async () => { browser = await openBrowser(); });
after(() => browser.close());

for (const [name, look] of [["demo", {dark: false}], ["demo", {dark: true}], ["demo", {width: 360, height: 740}], ["hostile", {dark: true}]])
  test(`axe-core finds nothing in ${name} ${JSON.stringify(look)}`, async () => {
    const {page} = await openReport(browser, name, look);
    for (const details of await page.locator("details").all()) await details.evaluate((node) => { node.open = true; });
    // Sheets fill when they come near.
    await page.evaluate(() => window.scrollTo(0, document.body.scrollHeight));
    await settled(page);
    await settled(page);
    assert.deepEqual(await violations(page), []);
    if (name === "demo" && !look.width && !look.dark) {
      await switchLamp(page, "uv tube", false);
      assert.deepEqual(await violations(page), []);
    }
    await page.close();
  });

for (const look of [{dark: false}, {dark: true}, {width: 360, height: 740}])
  test(`axe-core finds nothing in the index of many scenes ${JSON.stringify(look)}`, async () => {
    const {page, troubles} = await openReport(browser, "many", {...look, page: "index.html"});
    for (const details of await page.locator("details").all()) await details.evaluate((node) => { node.open = true; });
    assert.deepEqual(await violations(page), []);
    const text = await page.locator("body").innerText();
    assert.ok(text.includes("Small closet") && text.includes(HOSTILE_NAMES.title.slice(0, 40)) && text.includes("<b>"));
    assert.equal(await page.locator("b, img, svg[onload]").count(), 0);
    assert.equal(await page.evaluate(() => window.injected), undefined);
    assert.ok(await page.evaluate(() => document.documentElement.scrollWidth) <= (look.width ?? 1280));
    assert.deepEqual(troubles, []);
    await page.close();
  });

test("names are shown as they are and run nothing", async () => {
  for (const width of [1280, 360]) {
    const {page, troubles} = await openReport(browser, "hostile", {width, height: 800});
    await page.evaluate(() => window.scrollTo(0, document.body.scrollHeight));
    await settled(page);
    assert.equal(await page.evaluate(() => window.injected), undefined);
    assert.equal(await page.locator("img, #page script, svg[onload]").count(), 0);
    assert.equal(await page.title(), HOSTILE_NAMES.title);
    assert.equal((await page.locator("h1").innerText()).slice(0, 40), HOSTILE_NAMES.title.slice(0, 40));
    const names = await page.locator("#table tbody tr").evaluateAll((rows) => rows.map((row) => row.dataset.name));
    assert.deepEqual(names, [HOSTILE_NAMES.perch, HOSTILE_NAMES.plant, HOSTILE_NAMES.point]);
    // A right-to-left name keeps its own direction and turns nothing else.
    assert.equal(await page.locator("#table tbody bdi").nth(1).evaluate((node) => getComputedStyle(node).unicodeBidi), "isolate");
    assert.ok(await page.evaluate(() => document.documentElement.scrollWidth) <= width, `wider than ${width}`);
    assert.deepEqual(troubles, []);
    await page.close();
  }
});
