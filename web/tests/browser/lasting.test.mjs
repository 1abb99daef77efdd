//! What lasts: a killed program, changes made outside, and what a page says while nobody answers.
import assert from "node:assert/strict";
import { writeFileSync } from "node:fs";
import { join } from "node:path";
import { after, before, test } from "node:test";
import { bench, closeChromium, open, pageOf } from "./harness.mjs";

let b;
before(async () => {
  b = await bench();
});
after(async () => {
  await b.close();
  await closeChromium();
});

test("a killed and restarted program loses nothing, not even what was changed meanwhile", async () => {
  const { page, context } = await pageOf();
  await open(page, b.url, "first");
  const write = async (value) => {
    await page.locator("button.measure").first().click();
    await page.locator("input.measure").fill(value);
    await page.keyboard.press("Enter");
  };
  await write("1.111 m");
  await page.waitForFunction(() => document.querySelector(".stage")?.textContent?.includes("1.111 m"));
  await b.kill();
  assert.ok(/1\.111 m/.test(b.text("first")));
  await page.waitForSelector(".bottom-note");
  await write("1.222 m");
  await b.start();
  await page.waitForFunction(() => document.querySelector(".stage")?.textContent?.includes("1.222 m"), undefined, { timeout: 30000 });
  assert.ok(/1\.222 m/.test(b.text("first")));
  await context.close();
});

test("what was typed while the program was away is sent when it is back", async () => {
  const { page, context } = await pageOf();
  await open(page, b.url, "hill-wagon");
  await page.keyboard.press("F2");
  await page.waitForSelector(".cm-content");
  await b.kill();
  await page.waitForSelector(".bottom-note");
  await page.locator(".cm-content").focus();
  await page.keyboard.press("Control+Home");
  await page.keyboard.type("# typed while it was away\n");
  await b.start();
  await page.waitForFunction(() => !document.querySelector(".bottom-note code"), undefined, { timeout: 30000 });
  await page.waitForTimeout(800);
  assert.ok(/^# typed while it was away/.test(b.text("hill-wagon")));
  await context.close();
});

test("a change made outside is taken in", async () => {
  const { page, context } = await pageOf();
  await open(page, b.url, "orchard-truck");
  const text = b.text("orchard-truck").replace('length = "3.65 m"', 'length = "3.77 m"');
  writeFileSync(join(b.folder, "orchard-truck", "build.toml"), text);
  await page.waitForSelector("button.measure:has-text('3.77 m')");
  assert.match(await page.locator(".bottom-note").innerText(), /changed outside/);
  await context.close();
});

test("a build that is not there gets a page that helps", async () => {
  const { page, context } = await pageOf();
  await page.goto(`${b.url}/b/nowhere/heat`);
  await page.waitForSelector(".trouble-page");
  assert.ok((await page.locator(".trouble-page h1").innerText()).length > 5);
  assert.ok(await page.getByRole("link", { name: "All builds" }).isVisible());
  await context.close();
});
