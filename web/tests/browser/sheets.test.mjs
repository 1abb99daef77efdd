//! The sheets, each used as a person would.
import assert from "node:assert/strict";
import { execFileSync, spawnSync } from "node:child_process";
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { test } from "node:test";
import { benchOfFile, open, pageOf } from "./harness.mjs";

/** Waits until a text has stayed the same for a second. */
async function quiet(page, text) {
  for (let was = text(), calm = 0; calm < 5; ) {
    await page.waitForTimeout(200);
    const now = text();
    calm = now === was ? calm + 1 : 0;
    was = now;
  }
}

const hasPdftotext = spawnSync("pdftotext", ["-v"]).status === 0;

const b = await benchOfFile();

test("a grip is moved until a distance is gone, put back, and the good plate fetched", async () => {
  const { page, context, faults } = await pageOf({ acceptDownloads: true });
  await open(page, b.url, "orchard-truck", "plates");
  await page.getByRole("group", { name: "Plate of the port" }).getByRole("button", { name: "motor.phases" }).click();
  const grip = page.locator('[data-grip="U"]');
  await grip.focus();
  for (let i = 0; i < 4; i++) {
    await page.keyboard.press("Shift+ArrowRight");
    await page.waitForTimeout(120);
  }
  await page.waitForSelector('[data-proof][data-verdict="fails"]');
  assert.equal(await page.locator(".files-list a").count(), 0);
  assert.match(await page.locator(".trouble").first().innerText(), /Not for cutting/);
  const undo = page.locator(".bar").getByRole("button", { name: "Undo" });
  await quiet(page, () => b.text("orchard-truck"));
  for (let i = 0; i < 5 && (await undo.isEnabled()); i++) {
    await undo.click();
    await page.waitForTimeout(400);
  }
  await page.waitForFunction(() => !document.querySelector('[data-proof][data-verdict="fails"]'));
  const [file] = await Promise.all([page.waitForEvent("download"), page.locator(".files-list a", { hasText: "plate: DXF" }).click()]);
  const dxf = readFileSync(await file.path(), "utf8");
  assert.match(dxf, /SECTION[\s\S]*ENTITIES[\s\S]*EOF/);
  assert.deepEqual(faults, []);
  await context.close();
});

test("a grip is dragged, and the drag is one step of undo", async () => {
  const { page, context } = await pageOf();
  await open(page, b.url, "orchard-truck", "plates");
  await page.getByRole("group", { name: "Plate of the port" }).getByRole("button", { name: "motor.phases" }).click();
  const grip = page.locator('[data-grip="V"]');
  const box = await grip.boundingBox();
  const [x, y] = [box.x + box.width / 2, box.y + box.height / 2];
  const was = b.text("orchard-truck");
  await page.mouse.move(x, y);
  await page.mouse.down();
  for (let i = 1; i <= 20; i++) await page.mouse.move(x, y - i);
  await page.mouse.up();
  await page.waitForFunction(() => document.querySelector(".grip-numbers")?.textContent?.includes("as written"));
  await quiet(page, () => b.text("orchard-truck"));
  assert.notEqual(b.text("orchard-truck"), was);
  await page.locator(".bar").getByRole("button", { name: "Undo" }).click();
  await page.waitForFunction(() => !document.querySelector(".grip-numbers")?.textContent?.includes("as written"));
  assert.equal(b.text("orchard-truck"), was);
  await context.close();
});

test("a planted bad reading is named", async () => {
  const { page, context, faults } = await pageOf();
  await open(page, b.url, "orchard-truck", "plates");
  await page.getByRole("group", { name: "Plate of the port" }).getByRole("button", { name: "motor.phases" }).click();
  await page.getByRole("button", { name: "Survey of the face" }).click();
  const row = page.locator(".readings tr[data-reading]").filter({ hasText: /outside|over the far sides|B1/ }).nth(12);
  const what = (await row.locator("th").innerText()).trim();
  const input = row.locator("input");
  const was = await input.inputValue();
  const [, number, unit] = /^([\d.]+)\s*(.*)$/.exec(was);
  await input.fill(`${(Number(number) + 3).toFixed(2)} ${unit}`);
  await input.press("Enter");
  await page.waitForSelector("tr.suspect");
  assert.equal((await page.locator("tr.suspect th").innerText()).trim(), what);
  assert.match(await page.locator(".trouble").first().innerText(), /does not fit/);
  await page.locator(".bar").getByRole("button", { name: "Undo" }).click();
  await page.waitForFunction(() => !document.querySelector("tr.suspect"));
  assert.deepEqual(faults, []);
  await context.close();
});

test("a figure is worked out and drawn over one input", async () => {
  const { page, context, faults } = await pageOf();
  await open(page, b.url, "first", "figures");
  await page.getByRole("searchbox").fill("bolt-preload");
  await page.locator(".pane-list button", { hasText: "bolt-preload" }).first().click();
  await page.locator("#in-thread").fill("M8");
  await page.locator("#in-torque").fill("9.04 N m");
  await page.locator("#in-nut-factor").fill("0.2");
  const force = page.locator(".answer .out").filter({ hasText: /^preload/ }).locator("b");
  // F = T / (K d) = 9.04 / (0.2 x 0.008) = 5.65 kN.
  await page.waitForFunction(() => /^5\.65/.test([...document.querySelectorAll(".answer .out")].find((o) => o.textContent.startsWith("preload"))?.querySelector("b")?.textContent ?? ""));
  assert.match(await force.innerText(), /^5\.65/);
  await page.waitForSelector(".over-one canvas");
  await page.locator("#in-torque").fill("9.04 mm");
  await page.waitForSelector("#in-torque[aria-invalid='true']");
  assert.deepEqual(faults, []);
  await context.close();
});

test("a book is set and read in place, whole or in part", async () => {
  const { page, context } = await pageOf();
  await open(page, b.url, "first", "book");
  await page.getByLabel("Steps", { exact: true }).check();
  await page.getByRole("button", { name: "Set the book" }).click();
  const frame = page.locator("iframe");
  await frame.waitFor({ timeout: 120000 });
  const src = (await frame.getAttribute("src")).split("#")[0];
  const pdf = await page.evaluate(async (s) => {
    const bytes = new Uint8Array(await (await fetch(s)).arrayBuffer());
    return { head: String.fromCharCode(...bytes.slice(0, 5)), size: bytes.length };
  }, src);
  assert.equal(pdf.head, "%PDF-");
  assert.ok(pdf.size > 10000);
  await context.close();
});

test("kit, steps and trials are read, and what is in stock stays ticked", async () => {
  const { page, context, faults } = await pageOf();
  await open(page, b.url, "orchard-truck", "kit");
  await page.locator(".kit input[type=checkbox]").first().check();
  await page.reload();
  await page.waitForSelector(".kit tr.in-stock");
  await page.locator("#tab-steps").click();
  await page.waitForSelector(".step");
  await page.getByRole("button", { name: "One at a time" }).click();
  await page.getByRole("button", { name: "Next" }).click();
  assert.match(await page.locator(".one-step").innerText(), /2 of \d+/);
  await page.locator("#tab-trials").click();
  await page.waitForSelector(".trial");
  assert.match(await page.locator(".trial .limit").first().innerText(), /at most|at least|to|seen/);
  assert.deepEqual(faults, []);
  await context.close();
});

test("sheets print black on white, without what only a screen can use", async () => {
  const { page, context } = await pageOf({ colorScheme: "dark" });
  for (const sheet of ["kit", "steps", "trials", "heat"]) {
    await open(page, b.url, "orchard-truck", sheet);
    const words = (await page.locator(".sheet h2, .sheet h3, .sheet caption").first().innerText()).trim();
    await page.emulateMedia({ media: "print" });
    const seen = await page.evaluate(() => {
      const shown = (e) => e.getClientRects().length > 0 && getComputedStyle(e).visibility !== "hidden";
      const ink = (e) => getComputedStyle(e).color;
      return {
        buttons: [...document.querySelectorAll("button, .tabs, .text, .bottom-note")].filter(shown).map((e) => e.textContent),
        paper: getComputedStyle(document.documentElement).getPropertyValue("--paper").trim(),
        ink: ink(document.querySelector(".sheet")),
        tall: document.querySelector(".sheet").scrollHeight - document.querySelector(".sheet").clientHeight,
      };
    });
    assert.deepEqual(seen.buttons, [], sheet);
    assert.equal(seen.paper, "#fff");
    assert.equal(seen.ink, "rgb(0, 0, 0)");
    assert.ok(seen.tall < 2, `${sheet} is cut off by ${seen.tall} px`);
    const file = join(b.folder, `${sheet}.pdf`);
    await page.pdf({ path: file, format: "A4", printBackground: true });
    if (hasPdftotext) assert.ok(execFileSync("pdftotext", [file, "-"], { encoding: "utf8" }).replace(/\s+/g, " ").includes(words.replace(/\s+/g, " ")), `${sheet}: ${words}`);
    await page.emulateMedia({ media: "screen" });
  }
  // What is folded away on the screen is on the paper.
  await open(page, b.url, "orchard-truck", "plates");
  await page.waitForSelector(".proofs [data-proof]");
  const seen = () => page.locator(".proofs [data-proof]:visible").count();
  const [few, all] = [await seen(), await page.locator(".proofs [data-proof]").count()];
  assert.ok(0 < few && few < all, `${few} of ${all}`);
  await page.emulateMedia({ media: "print" });
  assert.equal(await seen(), all);
  await context.close();
});

test("the shelf is looked through and a part of the shop's added after it was judged", async () => {
  const { page, context } = await pageOf();
  await open(page, b.url, "first", "shelf");
  await page.getByRole("searchbox").fill("o-ring 263");
  await page.waitForFunction(() => [...document.querySelectorAll(".shelf code")].some((c) => c.textContent === "263"));
  await page.getByRole("button", { name: "Add a part" }).click();
  await page.waitForSelector(".add-part");
  assert.ok(await page.locator(".add-part button[type=submit]").isDisabled());
  await context.close();
});

test("an end is drawn in three dimensions, and a plate", async () => {
  const { page, context, faults } = await pageOf();
  await open(page, b.url, "orchard-truck", "ends");
  await page.waitForSelector(".solid canvas");
  await page.waitForFunction(() => /bolt/.test(document.querySelector(".solid-field")?.getAttribute("aria-label") ?? ""));
  await page.waitForSelector(".end-views svg.drawing");
  assert.deepEqual(faults, []);
  await context.close();
});

test("a new build is made from a few questions", async () => {
  const { page, context } = await pageOf();
  await page.goto(b.url);
  await page.getByRole("button", { name: "New build" }).click();
  await page.locator("#new-name").fill("barrow");
  await page.waitForSelector(".new-build .choices");
  for (let i = 0; i < 12; i++) {
    const open = page.locator(".new-build fieldset");
    for (const f of await open.all()) {
      const radios = f.locator("input[type=radio][name^='q-']");
      if ((await radios.count()) > 0) {
        if ((await f.locator("input[type=radio]:checked").count()) === 0) await radios.first().check();
      } else {
        const input = f.locator("input");
        if ((await input.count()) === 1 && (await input.inputValue()) === "") await input.fill((await input.getAttribute("placeholder")) ?? "");
      }
    }
    await page.waitForTimeout(150);
    if (await page.getByRole("button", { name: "Make it" }).isEnabled()) break;
  }
  const draft = await page.locator(".new-build pre").innerText();
  await page.getByRole("button", { name: "Make it" }).click();
  await page.waitForSelector(".slip[data-of]");
  assert.equal(b.text("barrow").trim(), draft.trim());
  await context.close();
});
