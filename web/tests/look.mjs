//! Pictures of every sheet at three sizes, light and dark, to be looked at: `npm run look -- URL FOLDER [words]`.
//! With words, only pictures whose name holds all of them are taken.
import { mkdirSync } from "node:fs";
import { launch } from "./chromium.mjs";

const [base = "http://127.0.0.1:7373", folder = "looks", ...words] = process.argv.slice(2);
const SIZES = { wide: [1280, 800], small: [1024, 768], tablet: [820, 1180] };
const SHEETS = ["heat", "ends", "plates", "kit", "steps", "trials", "book", "figures", "shelf"];
const BUILD = process.env.BUILD ?? "orchard-truck";

mkdirSync(folder, { recursive: true });
const browser = await launch();
for (const [size, [width, height]] of Object.entries(SIZES)) {
  for (const light of ["light", "dark"]) {
    const context = await browser.newContext({ viewport: { width, height }, colorScheme: light, hasTouch: size === "tablet" });
    const page = await context.newPage();
    page.on("console", (m) => m.type() === "error" && console.log(size, light, m.text()));
    page.on("pageerror", (e) => console.log(size, light, "fault:", e.message));
    const take = async (name, before) => {
      const full = `${name}-${size}-${light}`;
      if (!words.every((w) => full.includes(w))) return;
      await before();
      await page.waitForTimeout(Number(process.env.WAIT ?? 500));
      await page.screenshot({ path: `${folder}/${full}.png` });
    };
    await take("start", () => page.goto(base));
    await take("new", async () => {
      await page.goto(base);
      await page.getByRole("button", { name: "New build" }).click();
    });
    for (const sheet of SHEETS) {
      await take(sheet, async () => {
        await page.goto(`${base}/b/${BUILD}/${sheet}`);
        await page.waitForSelector(".finding, .findings .head");
        if (sheet === "ends" || sheet === "plates") await page.waitForTimeout(1200);
        if (sheet === "book") {
          await page.getByRole("button", { name: "Set the book" }).click();
          await page.waitForSelector("iframe", { timeout: 60000 });
          await page.waitForTimeout(1500);
        }
      });
    }
    await take("text", async () => {
      await page.goto(`${base}/b/${BUILD}/heat`);
      await page.waitForSelector(".finding");
      await page.keyboard.press("F2");
      await page.waitForSelector(".cm-content");
    });
    await take("finding", async () => {
      await page.goto(`${base}/b/${BUILD}/heat`);
      await page.waitForSelector(".finding");
      await page.keyboard.press("F8");
    });
    await take("survey", async () => {
      await page.goto(`${base}/b/${BUILD}/plates`);
      await page.getByRole("button", { name: "Survey of the face" }).click();
    });
    await context.close();
  }
}
await browser.close();
