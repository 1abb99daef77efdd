//! Keyboard alone, and what axe says of every sheet in light and dark.
import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { test } from "node:test";
import { benchOfFile, open, pageOf, root } from "./harness.mjs";

const AXE = readFileSync(join(root, "web/node_modules/axe-core/axe.min.js"), "utf8");
const SHEETS = ["heat", "ends", "plates", "kit", "steps", "trials", "book", "figures", "shelf"];

const b = await benchOfFile();

async function serious(page) {
  await page.evaluate(AXE);
  const found = await page.evaluate(async () => {
    const { violations } = await globalThis.axe.run(document, { runOnly: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa"] });
    return violations
      .filter((v) => v.impact === "serious" || v.impact === "critical")
      .map((v) => `${v.id}: ${v.nodes.slice(0, 3).map((n) => `${n.target.join(" ")} (${n.any[0]?.message ?? ""})`).join("; ")}`);
  });
  return found;
}

for (const colorScheme of ["light", "dark"]) {
  test(`axe finds nothing serious, ${colorScheme}`, async () => {
    const { page, context } = await pageOf({ colorScheme, bypassCSP: true });
    const all = [];
    await page.goto(b.url);
    await page.waitForSelector(".card");
    await page.getByRole("button", { name: "New build" }).click();
    await page.waitForSelector(".new-build pre");
    for (const f of await serious(page)) all.push(`start: ${f}`);
    for (const sheet of SHEETS) {
      await open(page, b.url, "orchard-truck", sheet);
      await page.waitForTimeout(500);
      if (sheet === "heat") await page.keyboard.press("F8");
      if (sheet === "kit") {
        await page.keyboard.press("F2");
        await page.waitForSelector(".cm-content");
      }
      await page.waitForTimeout(200);
      for (const f of await serious(page)) all.push(`${sheet}: ${f}`);
    }
    await page.goto(`${b.url}/b/orchard-truck/plates`);
    await page.getByRole("button", { name: "Survey of the face" }).click();
    await page.waitForSelector(".readings");
    for (const f of await serious(page)) all.push(`survey: ${f}`);
    assert.deepEqual(all, []);
    await context.close();
  });
}

test("the whole round by keyboard alone", async () => {
  const { page, context, faults } = await pageOf();
  const key = (k) => page.keyboard.press(k);
  const focused = (css) => page.waitForFunction((c) => document.activeElement?.matches(c), css);
  await page.goto(b.url);
  await page.waitForSelector(".card");
  // To the card of the truck, by Tab.
  for (let i = 0; i < 20; i++) {
    await key("Tab");
    if (await page.evaluate(() => document.activeElement?.textContent?.includes("Orchard truck"))) break;
  }
  await key("Enter");
  await page.waitForSelector(".slip[data-of]");
  await page.waitForSelector(".strip .part");
  // A finding, opened, and its line in the text.
  await key("F8");
  await focused(".finding.open > button");
  await key("Tab");
  await key("Enter");
  await focused(".cm-content");
  // Back to the bench; the strip, walked part by part into an end.
  await key("F2");
  await page.waitForFunction(() => !document.activeElement?.closest(".text"));
  for (let i = 0; i < 6 && !(await page.evaluate(() => document.activeElement?.matches(".strip .field"))); i++) await key("F6");
  await focused(".strip .field");
  await key("+");
  await key("ArrowDown");
  await key("ArrowDown");
  await page.waitForSelector(".part.here");
  await key("Enter");
  await page.waitForSelector("#tab-ends[aria-selected='true']");
  // The sheets' tabs.
  await page.waitForSelector(".strip .field:focus");
  await key("F6");
  await focused(".tabs button");
  await key("ArrowRight");
  await page.waitForSelector("#tab-plates[aria-selected='true']");
  await page.waitForSelector("[data-grip]");
  // A bolt made too long from the end's sheet, found, undone.
  await key("ArrowLeft");
  await page.waitForSelector(".as-written input");
  for (let i = 0; i < 60; i++) {
    await key("Tab");
    if (await page.evaluate(() => /-end-bolt$/.test(document.activeElement?.id ?? ""))) break;
  }
  await focused("input[id$='-end-bolt']");
  await key("Control+a");
  await page.keyboard.type("M8x40");
  await key("Enter");
  await page.waitForSelector('.finding[data-verdict="fails"]');
  await key("Tab");
  await key("F6");
  for (let i = 0; i < 6 && !(await page.evaluate(() => document.activeElement?.closest(".tabs"))); i++) await key("F6");
  await key("Control+z");
  await page.waitForFunction(() => !document.querySelector('.finding[data-verdict="fails"]'));
  // Help comes and goes.
  await key("F1");
  await page.waitForSelector("dialog[open]");
  await key("Escape");
  await page.waitForFunction(() => !document.querySelector("dialog[open]"));
  assert.deepEqual(faults, []);
  await context.close();
});

test("what is touched on a tablet is large enough", async () => {
  const { page, context } = await pageOf({ viewport: { width: 820, height: 1180 }, hasTouch: true, isMobile: true });
  for (const sheet of SHEETS) {
    await open(page, b.url, "orchard-truck", sheet);
    await page.waitForTimeout(300);
    const small = await page.evaluate(() =>
      [...document.querySelectorAll("button, a.button, select, .findings button, [role=tab]")]
        .filter((e) => e.checkVisibility())
        .map((e) => {
          const r = e.getBoundingClientRect();
          const over = getComputedStyle(e, "::after");
          const grown = e.matches("button.measure") && over.position === "absolute" ? 24 : 0;
          return { words: `${e.className} ${e.textContent?.slice(0, 20)}`, height: r.height + grown, width: r.width };
        })
        .filter((e) => e.height < 43.5 || e.width < 40),
    );
    assert.deepEqual(small, [], sheet);
    const wide = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
    assert.ok(wide <= 0, `${sheet} is ${wide} px too wide`);
  }
  await context.close();
});
