//! What the editor offers where one writes on one line what others write as a table.
import assert from "node:assert/strict";
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

test("keys, names and units are completed inside a table written on the line", async () => {
  const { page, context, faults } = await pageOf();
  await open(page, b.url, "orchard-truck", "heat");
  await page.keyboard.press("F2");
  await page.locator(".cm-content").focus();
  await page.keyboard.press("Control+End");
  const offered = async (words) => {
    await page.keyboard.type(words);
    await page.waitForSelector(".cm-tooltip-autocomplete li");
    return page.locator(".cm-tooltip-autocomplete .cm-completionLabel").allInnerTexts();
  };
  assert.ok((await offered("\n[device.spare.port.dc]\nplate = { mat")).includes("material"));
  await page.keyboard.press("Escape");
  await page.keyboard.press("End");
  assert.deepEqual(await offered("\n[field.point.seat]\ndistances = { ph"), ["phases"]);
  await page.keyboard.press("Enter");
  await page.waitForFunction(() => /distances = \{ phases = "[\d.]+ m" ?\}/.test(document.querySelector(".cm-content").innerText));
  assert.deepEqual(faults, []);
  await context.close();
});
