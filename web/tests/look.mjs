//! Pictures of every sheet at three sizes, light and dark, to be looked at: `npm run look -- URL FOLDER [words]`.
//! With words, only pictures whose name holds all of them are taken.
//! WHOLE=1 makes the window as tall as its sheet, so that a picture holds what one would scroll to.
import { mkdirSync } from "node:fs";
import { launch } from "./chromium.mjs";

const [base = "http://127.0.0.1:7373", folder = "looks", ...words] = process.argv.slice(2);
const SIZES = { wide: [1280, 800], small: [1024, 768], tablet: [820, 1180] };
const SHEETS = ["heat", "ends", "plates", "kit", "steps", "trials", "book", "figures", "shelf"];
const BUILD = process.env.BUILD ?? "orchard-truck";

/** Makes the window as tall as what its sheet holds, and leaves the stage at the height it had. */
async function whole(page) {
  const more = await page.evaluate(() => {
    const [sheet, stage] = [document.querySelector(".sheet"), document.querySelector(".stage")];
    if (stage) document.querySelector(".bench")?.style.setProperty("--stage", `${stage.clientHeight}px`);
    return sheet ? sheet.scrollHeight - sheet.clientHeight : document.documentElement.scrollHeight - window.innerHeight;
  });
  const { width, height } = page.viewportSize();
  await page.setViewportSize({ width, height: height + Math.max(0, more) });
}

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
      await page.setViewportSize({ width, height });
      await before();
      if (process.env.WHOLE) await whole(page);
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
    await take("heat-other", async () => {
      await page.goto(`${base}/b/${BUILD}/heat`);
      await page.getByRole("group", { name: "Run", exact: true }).getByRole("button").last().click();
    });
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
