// Takes the README's two pictures of the demo's page anew, from a survey that is there:
//   boughlight survey scenes/fern-tower.yaml -o /tmp/demo && node tests/browser/take_pictures.mjs /tmp/demo scenes
import {join, resolve} from "node:path";

const [folder, target] = process.argv.slice(2).map((path) => resolve(path));
if (!target) {
  console.error("usage: node take_pictures.mjs SURVEY-FOLDER TARGET-FOLDER");
  process.exit(2);
}
// Reports are named by their folder.
process.env.BOUGHLIGHT_REPORTS = join(folder, "..");
const {openBrowser, openReport} = await import("./kit.mjs"), name = folder.split("/").at(-1);

const browser = await openBrowser();
const {page} = await openReport(browser, name, {width: 1160, height: 860});
await page.screenshot({path: join(target, "demo-report.png")});
const look = page.locator("#look");
await look.scrollIntoViewIfNeeded();
await page.locator("#page:not([data-busy])").waitFor();
await look.screenshot({path: join(target, "demo-report-inside.png")});
await browser.close();
