// A report in a real browser, and the files beside it.
import assert from "node:assert/strict";
import {mkdtempSync, readFileSync, rmSync} from "node:fs";
import {createRequire} from "node:module";
import {tmpdir} from "node:os";
import {join} from "node:path";
import {chromium} from "playwright-core";

// Where make_reports.mjs has put the surveys.
export const REPORTS = process.env.BOUGHLIGHT_REPORTS ?? fail("BOUGHLIGHT_REPORTS is not set: run these by ctest -R browser");
function fail(text) {
  throw new Error(text);
}

const FLAGS = ["--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking",
  "--disable-component-update", "--disable-sync"];

// A browser with a new empty profile. `webgl`: with the software renderer that stands in for a graphics card.
export async function openBrowser({webgl = false} = {}) {
  const profile = mkdtempSync(join(tmpdir(), "boughlight-browser-"));
  const args = [...FLAGS, ...(webgl ? ["--use-angle=swiftshader", "--enable-unsafe-swiftshader"] : ["--disable-3d-apis"])];
  const context = await chromium.launchPersistentContext(profile, {
    executablePath: process.env.BOUGHLIGHT_CHROMIUM ?? "/usr/bin/chromium", args, viewport: null, acceptDownloads: false});
  return {context, async close() {
    await context.close();
    rmSync(profile, {recursive: true, force: true});
  }};
}

// Opens a survey's report, or another page of results; whatever goes wrong in it is kept in `troubles`.
export async function openReport(browser, name, {width = 1280, height = 900, dark = false, page: html = "report.html"} = {}) {
  const page = await browser.context.newPage(), troubles = [], file = `file://${join(REPORTS, name, html)}`;
  page.on("console", (message) => { if (message.type() === "error") troubles.push(message.text()); });
  page.on("pageerror", (error) => troubles.push(String(error)));
  page.on("request", (request) => {
    if (request.url() !== file && !request.url().startsWith("data:")) troubles.push(`asked for ${request.url()}`);
  });
  await page.setViewportSize({width, height});
  await page.emulateMedia({colorScheme: dark ? "dark" : "light"});
  await page.goto(file);
  await settled(page);
  return {page, troubles};
}

export const readJson = (name) => JSON.parse(readFileSync(join(REPORTS, name, "readings.json"), "utf8"));

// grid.csv as objects of numbers.
export function readGrid(name) {
  const [head, ...rows] = readFileSync(join(REPORTS, name, "grid.csv"), "utf8").trim().split("\n");
  const keys = head.split(",");
  return rows.map((row) => {
    // Names of boxes in the surveys here hold no commas.
    const fields = row.split(",");
    return Object.fromEntries(keys.map((key, i) => [key, fields[i] === "" ? NaN : Number(fields[i])]));
  });
}

// --- what a keeper does

// Until everything has followed, out of sight too.
export const settled = (page) => page.waitForFunction(() => !document.getElementById("page").hasAttribute("data-busy"));

async function setRange(page, locator, value) {
  await locator.evaluate((slider, to) => {
    slider.value = to;
    slider.dispatchEvent(new Event("input", {bubbles: true}));
  }, String(value));
  await settled(page);
}
const lamp = (page, name) => page.locator(".lamp", {has: page.locator("legend", {hasText: name})});
export const switchLamp = async (page, name, on) => {
  await lamp(page, name).locator("input[type=checkbox]").setChecked(on);
  await settled(page);
};
export const dimLamp = (page, name, percent) => setRange(page, lamp(page, name).locator("input[type=range]").first(), percent);
export const setHours = (page, name, hours) => setRange(page, lamp(page, name).locator("input[type=range]").nth(1), hours);

export async function choose(page, quantity) {
  const button = page.locator(`#look .choices button[data-value="${quantity}"]`);
  if (await button.count()) await button.click();
  else await page.locator("#look select[aria-label='Another quantity']").selectOption(quantity);
  await settled(page);
}

// Puts the place that is read where it is told, m.
export async function goTo(page, place) {
  const sliders = page.locator(".place-panel input[type=range]");
  for (const [axis, value] of place.entries())
    await sliders.nth(axis).evaluate((slider, to) => {
      slider.step = "any";
      slider.value = to;
      slider.dispatchEvent(new Event("input", {bubbles: true}));
    }, String(value));
  await settled(page);
}

export async function readPlace(page) {
  return Number(await page.locator(".readout .big").getAttribute("data-value"));
}

// {value, se} of a named reading in the table.
export async function readTable(page, name, quantity) {
  if (!(await page.locator("#table input[type=checkbox]").isChecked())) await page.locator("#table input[type=checkbox]").check();
  const cell = page.locator(`#table tr[data-name="${name}"] td[data-quantity="${quantity}"]`);
  return {value: Number(await cell.getAttribute("data-value")), se: Number(await cell.getAttribute("data-se"))};
}

export function close(actual, expected, tolerance, what) {
  assert.ok(Math.abs(actual - expected) <= tolerance, `${what}: ${actual}, and ${expected} was expected to within ${tolerance}`);
}

const AXE = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");

// What axe-core finds.
export async function violations(page) {
  await page.evaluate(AXE);
  const found = await page.evaluate(() => window.axe.run(document, {runOnly: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]}));
  return found.violations.map(({id, nodes}) => `${id}: ${nodes.map((node) => node.target.join(" ")).slice(0, 4).join("; ")}`);
}
