//! What the editor offers where one writes on one line what others write as a table.
import assert from "node:assert/strict";
import { test } from "node:test";
import { benchOfFile, open, pageOf } from "./harness.mjs";

const b = await benchOfFile();

test("keys, names and units are completed inside a table written on the line", async () => {
  const { page, context, faults } = await pageOf();
  await open(page, b.url, "orchard-truck", "heat");
  await page.keyboard.press("F2");
  await page.locator(".cm-content").focus();
  await page.keyboard.press("Control+End");
  // The list follows the typing at its own pace, so it is waited for by what it holds.
  const offered = async (words, wanted) => {
    await page.keyboard.type(words);
    await page.waitForFunction((w) => [...document.querySelectorAll(".cm-tooltip-autocomplete .cm-completionLabel")].some((l) => l.textContent === w), wanted);
  };
  await offered("\n[device.spare.port.dc]\nplate = { mat", "material");
  await page.keyboard.press("Escape");
  await page.keyboard.press("End");
  await offered("\n[field.point.seat]\ndistances = { ph", "phases");
  await page.locator(".cm-tooltip-autocomplete li", { hasText: "phases" }).click();
  await page.waitForFunction(() => /distances = \{ phases = "[\d.]+ m" ?\}/.test(document.querySelector(".cm-content").innerText));
  assert.deepEqual(faults, []);
  await context.close();
});
