//! What lasts: a killed program, changes made outside, and what a page says while nobody answers.
import assert from "node:assert/strict";
import { writeFileSync } from "node:fs";
import { join } from "node:path";
import { test } from "node:test";
import { benchOfFile, open, pageOf } from "./harness.mjs";

const b = await benchOfFile();

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

test("what was changed here and outside at the same time is asked about, and either may be kept", async () => {
  const { page, context } = await pageOf();
  await open(page, b.url, "first");
  const write = (value) => writeFileSync(join(b.folder, "first", "build.toml"), b.text("first").replace(/^# seen .*\n|^/, `# seen ${value}\n`));
  const dialog = page.getByRole("alertdialog", { name: "Two versions" });
  /** Writes on the strip just when the file is changed; the program may look between the two, so again until both meet. */
  const meet = async (marks, lengths) => {
    for (const [i, mark] of marks.entries()) {
      await page.locator("button.measure").first().click();
      await page.locator("input.measure").fill(lengths[i]);
      write(mark);
      await page.keyboard.press("Enter");
      if (await dialog.waitFor({ timeout: 1500 }).then(() => true, () => false)) return [mark, lengths[i]];
      await page.waitForTimeout(600);
    }
    assert.fail("the two never met");
  };
  const [, ours] = await meet(["a", "b", "c", "d", "e", "f"], ["1.31 m", "1.32 m", "1.33 m", "1.34 m", "1.35 m", "1.36 m"]);
  await dialog.getByRole("button", { name: "What is here" }).click();
  await dialog.waitFor({ state: "detached" });
  await page.waitForFunction((l) => document.querySelector(".stage")?.textContent?.includes(l), ours);
  assert.match(b.text("first"), new RegExp(ours.replace(".", "\\.")));

  const [mark, lost] = await meet(["g", "h", "i", "j", "k", "l"], ["1.41 m", "1.42 m", "1.43 m", "1.44 m", "1.45 m", "1.46 m"]);
  await dialog.getByRole("button", { name: "What is on the disk" }).click();
  await dialog.waitFor({ state: "detached" });
  assert.match(b.text("first"), new RegExp(`^# seen ${mark}`));
  assert.doesNotMatch(b.text("first"), new RegExp(lost.replace(".", "\\.")));
  // Neither is lost: one step back is what was here.
  await page.locator(".bar").getByRole("button", { name: "Undo" }).click();
  await page.waitForFunction((l) => document.querySelector(".stage")?.textContent?.includes(l), lost);
  await context.close();
});
