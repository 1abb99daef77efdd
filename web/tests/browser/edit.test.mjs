//! One change seen everywhere: list, strip, end and text; and back again.
import assert from "node:assert/strict";
import { test } from "node:test";
import { benchOfFile, open, pageOf } from "./harness.mjs";

const b = await benchOfFile();

test("a bolt too long is seen in list, strip, end and text, and undone", async () => {
  const { page, context, faults } = await pageOf();
  await open(page, b.url, "orchard-truck", "ends");
  await page.locator('[data-end="phases/U/from"]').click();
  assert.match(await page.locator(".verdict .word").innerText(), /Nothing fails/);
  const bolt = page.locator('.as-written input[id="key-run-phases-from-end-bolt"]');
  assert.equal(await bolt.inputValue(), "M8x12");
  await bolt.fill("M8x30");
  await bolt.press("Enter");
  // List.
  await page.waitForSelector('.finding[data-verdict="fails"]');
  assert.match(await page.locator(".verdict .word").innerText(), /Something fails/);
  const failing = await page.locator('.finding[data-verdict="fails"]').first().innerText();
  assert.match(failing, /bolt|thread|bottom/i);
  assert.match(await page.locator('.finding[data-verdict="fails"]').first().getAttribute("class"), /changed/);
  // Strip.
  await page.waitForSelector('.strip path[data-part="from/U/bolt"].of-fails');
  assert.ok((await page.locator(".flag.of-fails").count()) > 0);
  // End.
  await page.waitForSelector('[data-fit][data-verdict="fails"]');
  // Text.
  await page.keyboard.press("F2");
  await page.waitForSelector(".cm-content");
  await page.locator('.finding[data-verdict="fails"] > button').first().click();
  await page.locator(".finding.open").getByRole("button", { name: /^line/ }).click();
  await page.waitForSelector(".cm-lintRange-error");
  assert.match(await page.locator(".cm-content").innerText(), /M8x30/);
  assert.ok(/bolt = "M8x30"/.test(b.text("orchard-truck")));
  // Undo, with the keys, from the text.
  await page.locator(".cm-content").focus();
  await page.keyboard.press("Control+z");
  await page.waitForFunction(() => document.querySelectorAll('.finding[data-verdict="fails"]').length === 0);
  await page.waitForFunction(() => !document.querySelector(".part.of-fails"));
  assert.ok(/bolt = "M8x12"/.test(b.text("orchard-truck")));
  assert.ok(/^# Orchard truck/.test(b.text("orchard-truck")));
  assert.deepEqual(faults, []);
  await context.close();
});

test("typing in the text moves the strip, and a measure written on the strip moves the text", async () => {
  const { page, context, faults } = await pageOf();
  await open(page, b.url);
  await page.keyboard.press("F2");
  await page.waitForSelector(".cm-content");
  await page.keyboard.press("Control+f");
  await page.keyboard.type("3.65 m");
  await page.keyboard.press("Enter");
  await page.keyboard.press("Escape");
  await page.keyboard.type("4.25 m");
  await page.waitForSelector("button.measure:has-text('4.25 m')");
  assert.ok(/length = "4.25 m"/.test(b.text("orchard-truck")));
  await page.locator("button.measure", { hasText: "4.25 m" }).click();
  await page.locator("input.measure").fill("3.9 m");
  await page.keyboard.press("Enter");
  await page.waitForFunction(() => /length = "3\.9 m"/.test(document.querySelector(".cm-content")?.textContent ?? ""));
  await page.waitForSelector("button.measure:has-text('3.90 m')");
  assert.deepEqual(faults, []);
  await context.close();
});

test("a broken document says where, keeps the last findings, and is mended", async () => {
  const { page, context, faults } = await pageOf();
  await open(page, b.url, "hill-wagon");
  const before = await page.locator(".counts").innerText();
  await page.keyboard.press("F2");
  await page.waitForSelector(".cm-content");
  await page.keyboard.press("Control+Home");
  await page.keyboard.type("title = = 3");
  await page.waitForSelector(".finding.mistake");
  assert.match(await page.locator(".finding.mistake").first().innerText(), /line 1/);
  assert.equal(await page.locator(".counts").innerText(), before);
  await page.waitForSelector(".cm-lintRange-error");
  await page.keyboard.press("Control+z");
  await page.waitForFunction(() => !document.querySelector(".finding.mistake"));
  assert.deepEqual(faults, []);
  await context.close();
});

test("two tabs show one build", async () => {
  const one = await pageOf();
  const two = await pageOf();
  await open(one.page, b.url, "first");
  await open(two.page, b.url, "first");
  await two.page.keyboard.press("F2");
  await two.page.waitForSelector(".cm-content");
  const measure = one.page.locator("button.measure").first();
  await measure.click();
  await one.page.locator("input.measure").fill("1.234 m");
  await one.page.keyboard.press("Enter");
  await two.page.waitForFunction(() => document.querySelector(".cm-content")?.textContent?.includes("1.234 m"));
  await one.page.waitForFunction(() => document.querySelector(".stage")?.textContent?.includes("1.234 m"));
  await two.page.locator(".bar").getByRole("button", { name: "Undo" }).click();
  await one.page.waitForFunction(() => !document.querySelector(".stage")?.textContent?.includes("1.234 m"));
  assert.deepEqual([...one.faults, ...two.faults], []);
  await one.context.close();
  await two.context.close();
});

test("sliders show what would come of it and change nothing until they are kept", async () => {
  const { page, context, faults } = await pageOf();
  await open(page, b.url, "hill-wagon");
  const text = b.text("hill-wagon");
  const slider = page.locator(".slider input").first();
  await slider.focus();
  for (let i = 0; i < 12; i++) await slider.press("ArrowRight");
  await page.waitForSelector(".outcome");
  assert.equal(b.text("hill-wagon"), text);
  await page.getByRole("button", { name: "Keep it" }).click();
  await page.waitForFunction(() => !document.querySelector(".outcome"));
  assert.notEqual(b.text("hill-wagon"), text);
  assert.deepEqual(faults, []);
  await context.close();
});

test("units are switched for all, and back", async () => {
  const { page, context } = await pageOf();
  await open(page, b.url);
  await page.getByRole("button", { name: "Show US units first" }).click();
  await page.waitForFunction(() => document.querySelector(".tape .unit")?.textContent === "in");
  await page.getByRole("button", { name: "Show metric units first" }).click();
  await page.waitForFunction(() => document.querySelector(".tape .unit")?.textContent === "mm");
  await context.close();
});
