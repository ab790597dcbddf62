// Pages of planning commands: their words and pictures, for everyone.
import assert from "node:assert/strict";
import {readFileSync} from "node:fs";
import {join} from "node:path";
import {after, before, test} from "node:test";
import {HOSTILE_NAMES} from "./hostile_names.mjs";
import {openBrowser, openReport, REPORTS, violations} from "./kit.mjs";

let browser;
before(async () => { browser = await openBrowser(); });
after(() => browser.close());

test("a page of place shows its picture and its words", async () => {
  const {page, troubles} = await openReport(browser, "place");
  assert.match(await page.locator("h1").innerText(), /^Small closet: Where the lamp may hang$/);
  assert.ok(await page.locator("img").evaluate((image) => image.complete && image.naturalWidth > 500));
  assert.match(await page.locator("#first").innerText(), /Looked at .* places/s);
  assert.match(await page.locator("#says").innerText(), /the meter decides/);
  // Items of the text are items of the page.
  assert.equal(await page.locator("#says li").filter({hasText: /^- /}).count(), 0);
  assert.deepEqual(troubles, []);
  await page.close();
});

for (const look of [{dark: false}, {dark: true}, {width: 360, height: 740}])
  test(`axe-core finds nothing in a page of place ${JSON.stringify(look)}`, async () => {
    const {page} = await openReport(browser, "place", look);
    assert.deepEqual(await violations(page), []);
    assert.ok(await page.evaluate(() => document.documentElement.scrollWidth) <= (look.width ?? 1280));
    await page.close();
  });

test("names are shown as they are and run nothing in a page of place", async () => {
  const {page, troubles} = await openReport(browser, "place-hostile");
  assert.equal(await page.evaluate(() => window.injected), undefined);
  assert.equal(await page.locator("#page script, svg[onload]").count(), 0);
  assert.ok((await page.locator("h1").innerText()).startsWith(HOSTILE_NAMES.title));
  assert.deepEqual(troubles, []);
  await page.close();
});

test("prints its title, words and picture", async () => {
  const {page} = await openReport(browser, "place");
  await page.emulateMedia({media: "print"});
  assert.ok(await page.locator("h1").isVisible());
  assert.ok(await page.locator("img").isVisible());
  assert.ok(!(await page.getByRole("button", {name: "Print"}).isVisible()));
  await page.close();
});

test("a slider goes through the months of an outlook", async () => {
  const {page, troubles} = await openReport(browser, "ahead");
  const {months, figures} = JSON.parse(readFileSync(join(REPORTS, "ahead", "outlook.json"), "utf8"));
  const asked = figures.filter(({verdicts}) => verdicts), slider = page.locator("#months input[type=range]");
  assert.equal(await page.locator("#months figure").count(), asked.length);
  for (let k = 0; k < months.length; ++k) {
    if (k) await slider.press("ArrowRight");
    for (const {reading = "closest place in reach", quantity, values} of asked) {
      const shown = page.locator(`#months figure[data-name="${reading}"][data-quantity="${quantity}"] [data-value]`);
      assert.equal(Number(await shown.getAttribute("data-value")), values[k], `${quantity} of ${reading} in month ${months[k]}`);
    }
    const off = asked.filter(({verdicts}) => ["below", "above"].includes(verdicts[k])).length;
    assert.match(await page.locator("#months [role=status]").innerText(), off ? new RegExp(`${off} of ${asked.length} not as wanted`) : /All as wanted/);
  }
  assert.deepEqual(await violations(page), []);
  assert.deepEqual(troubles, []);
  await page.close();
});
