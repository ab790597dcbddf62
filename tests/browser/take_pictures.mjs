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
const {page} = await openReport(browser, name, {width: 1100, height: 980});
await page.screenshot({path: join(target, "demo-report.png")});
await page.setViewportSize({width: 1060, height: 780});
await page.locator("#look .choices").evaluate((node) => node.scrollIntoView({block: "start", behavior: "instant"}));
await page.locator("#page:not([data-busy])").waitFor();
// The upper two views are enough, and make a small file.
const {x, width} = await page.locator("#look").boundingBox(), view = await page.locator("#look .view.front").boundingBox();
await page.screenshot({path: join(target, "demo-report-inside.png"), clip: {x, y: 0, width, height: Math.min(view.y + view.height, 780)}});
await browser.close();
