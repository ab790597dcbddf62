// A report that is being watched takes new results by itself, where it is, from a file and without a server.
import assert from "node:assert/strict";
import {spawn} from "node:child_process";
import {mkdirSync, mkdtempSync, readFileSync, renameSync, rmSync, writeFileSync} from "node:fs";
import {tmpdir} from "node:os";
import {join} from "node:path";
import {after, before, test} from "node:test";
import {openBrowser, readTable, REPORTS, settled, switchLamp, violations} from "./kit.mjs";

let browser, folder, watch, scene, text, said = "", trouble = "";
before(async () => {
  browser = await openBrowser();
  folder = mkdtempSync(join(tmpdir(), "boughlight-watch-"));
  scene = join(folder, "closet.yaml");
  text = readFileSync(join(REPORTS, "closet.yaml"), "utf8");
  writeFileSync(scene, text);
  watch = spawn(process.env.BOUGHLIGHT_PROGRAM, ["watch", scene, "--tolerance", "10%"], {stdio: ["ignore", "pipe", "pipe"]});
  watch.stdout.on("data", (piece) => { said += piece; });
  watch.stderr.on("data", (piece) => { trouble += piece; });
});
after(async () => {
  watch.kill("SIGKILL");
  await browser.close();
  rmSync(folder, {recursive: true, force: true});
});

async function until(what, holds) {
  for (let i = 0; i < 600; ++i) {
    if (await holds()) return;
    await new Promise((resolve) => setTimeout(resolve, 50));
  }
  assert.fail(`never: ${what}; ${said}${trouble}`);
}
const save = (changed) => {
  writeFileSync(`${scene}~`, changed);
  renameSync(`${scene}~`, scene);
};
const surveys = () => said.split("the meter decides.\n").length - 1;
const words = (page) => page.locator("#says").innerText();
const results = () => JSON.parse(readFileSync(join(folder, "closet", "readings.json"), "utf8"));

// The report within the page.
async function report(page) {
  await page.locator("iframe.shown").waitFor();
  const frame = await (await page.locator("iframe.shown").elementHandle()).contentFrame();
  await settled(frame);
  return frame;
}
const lux = async (frame) => (await readTable(frame, "perch", "lux")).value;

test("new results come by themselves and keep the view", async () => {
  await until("the first survey", () => surveys() === 1);
  const page = await browser.context.newPage(), troubles = [];
  page.on("pageerror", (error) => troubles.push(String(error)));
  page.on("request", (request) => { if (!/^(file:|data:)/.test(request.url())) troubles.push(request.url()); });
  page.on("console", (message) => { if (message.type() === "error") troubles.push(message.text()); });
  await page.setViewportSize({width: 1100, height: 800});
  await page.goto(`file://${join(folder, "closet", "watch.html")}`);
  let frame = await report(page);
  assert.equal(await words(page), "Watched: a new result comes with every save.");
  assert.deepEqual(await violations(page), []);
  assert.equal(await lux(frame), results().readings[0].values.lux.value);

  // What a keeper looks at.
  await frame.locator('#look .choices button[data-value="lux"]').click();
  await frame.locator('[aria-label="Colours"] button[data-value="dark"]').click();
  await switchLamp(frame, "tube", false);
  const place = () => frame.evaluate(() => document.getElementById("table").getBoundingClientRect().top);
  await frame.evaluate(() => document.getElementById("table").scrollIntoView({behavior: "instant"}));
  await frame.evaluate(() => window.scrollBy({top: 37, behavior: "instant"}));
  await settled(frame);
  const was = await place();
  // At no moment is the page without a report.
  await page.evaluate(() => {
    window.bare = 0;
    const look = () => {
      if (!document.querySelector("iframe.shown")) window.bare += 1;
      requestAnimationFrame(look);
    };
    look();
  });

  const old = frame;
  save(text.replace("dim: 100 %, lit: \"09", "dim: 50 %, lit: \"09"));
  await until("the second survey", () => surveys() === 2);
  await until("its page", () => old.isDetached());
  frame = await report(page);
  assert.equal(await lux(frame), results().readings[0].values.lux.value);
  assert.equal(await frame.locator('#look .choices button[data-value="lux"]').getAttribute("aria-pressed"), "true");
  assert.equal(await frame.locator('[aria-label="Colours"] button[data-value="dark"]').getAttribute("aria-pressed"), "true");
  assert.equal(await frame.evaluate(() => document.documentElement.dataset.theme), "dark");
  assert.ok(Math.abs(await place() - was) <= 2, `${await place()}, and it was at ${was}`);
  // Lamps are as the saved scene declares them.
  assert.equal(await frame.getByRole("switch", {name: "tube"}).isChecked(), true);
  assert.equal(await page.locator("iframe").count(), 1);
  assert.equal(await page.evaluate(() => window.bare), 0);

  save(text.replace("length_unit: cm", "length_unit: cubits"));
  await until("the mistake", async () => (await words(page)).startsWith("There is a mistake in what was saved."));
  assert.match(await page.locator("#more").innerText(), /closet\.yaml:4:14: length_unit: is 'cubits'/);
  assert.deepEqual(await violations(page), []);
  assert.equal(await lux(await report(page)), results().readings[0].values.lux.value);

  save(text);
  await until("its mending", () => surveys() === 3);
  await until("the page of that", async () => (await words(page)).startsWith("Watched") && frame.isDetached());
  assert.equal(await page.locator("#more").isVisible(), false);
  assert.deepEqual(troubles, []);

  watch.kill("SIGINT");
  await until("the end", async () => (await words(page)).startsWith("The watch has ended."));
  assert.equal(watch.exitCode, 0);
  assert.equal(await lux(await report(page)), results().readings[0].values.lux.value);
  await page.close();
});
