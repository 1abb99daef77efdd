//! How quick the bench is: 500 scripted edits from the key to the findings on the screen, a slider dragged without
//! pause, and the first paint. `LOOMWRIGHT=... npm run speed`. A measurement, not a test: it prints and judges nothing.
import { bench, chromium, closeChromium, open, pageOf } from "./browser/harness.mjs";

const EDITS = Number(process.env.EDITS ?? 500);
const b = await bench();
await chromium({ threeD: false });
const { page, context } = await pageOf();

const at = (sorted, part) => sorted[Math.min(sorted.length - 1, Math.floor(sorted.length * part))];
const say = (name, times) => {
  const sorted = [...times].sort((x, y) => x - y);
  const n = (v) => `${v.toFixed(1)} ms`;
  console.log(`${name}: median ${n(at(sorted, 0.5))}, 95 % ${n(at(sorted, 0.95))}, most ${n(sorted.at(-1))} (${sorted.length})`);
};

// First paint, cold each time.
const paints = [];
for (let i = 0; i < 7; i++) {
  const fresh = await context.browser().newContext({ viewport: { width: 1280, height: 800 } });
  const p = await fresh.newPage();
  await p.goto(`${b.url}/b/orchard-truck/heat`);
  await p.waitForSelector(".strip .part");
  paints.push(
    await p.evaluate(() => ({
      first: performance.getEntriesByName("first-contentful-paint")[0]?.startTime ?? 0,
      strips: performance.now(),
    })),
  );
  await fresh.close();
}
say("first paint", paints.map((p) => p.first));
say("strips on the screen", paints.map((p) => p.strips));

// Edits: one key of the document each, as a person's field would send it, until the findings of that version are painted.
await open(page, b.url);
const edits = await page.evaluate(async (count) => {
  const painted = () => new Promise((r) => requestAnimationFrame(() => { const c = new MessageChannel(); c.port1.onmessage = () => r(); c.port2.postMessage(0); }));
  const shown = (version) =>
    new Promise((resolve) => {
      const done = () => Number(document.querySelector(".slip")?.dataset.of) >= version;
      if (done()) return resolve();
      const watch = new MutationObserver(() => { if (done()) { watch.disconnect(); resolve(); } });
      watch.observe(document.body, { subtree: true, attributes: true, childList: true, attributeFilter: ["data-of"] });
    });
  const times = [];
  for (let i = 0; i < count; i++) {
    const begun = performance.now();
    const body = JSON.stringify({ edits: [{ path: ["run", "phases", "current"], value: `${150 + (i % 60)} A` }], label: "speed", asker: "speed" });
    const answer = await fetch("/api/builds/orchard-truck/set", { method: "POST", headers: { "content-type": "application/json" }, body });
    const { version } = await answer.json();
    await shown(version);
    await painted();
    times.push(performance.now() - begun);
  }
  return times;
}, EDITS);
say("edit to findings on the screen", edits);
const took = await page.evaluate(async () => (await (await fetch("/api/builds/orchard-truck/planned")).json()).took_ms);
console.log(`of which the last plan itself took ${took.toFixed(1)} ms`);

// A slider dragged for five seconds, a step every frame: how far behind its last answer is when it stops.
const slider = page.locator(".slider input").first();
await slider.focus();
const behind = await slider.evaluate(async (input) => {
  const [low, high] = [Number(input.min), Number(input.max)];
  const end = performance.now() + 5000;
  let steps = 0;
  while (performance.now() < end) {
    input.value = String(low + ((high - low) * (steps++ % 100)) / 100);
    input.dispatchEvent(new Event("input", { bubbles: true }));
    await new Promise((r) => requestAnimationFrame(r));
  }
  const stopped = performance.now();
  let last = stopped;
  const watch = new MutationObserver(() => { last = performance.now(); });
  watch.observe(document.querySelector(".outcome") ?? document.body, { subtree: true, childList: true, characterData: true });
  await new Promise((r) => setTimeout(r, 1500));
  watch.disconnect();
  return { steps, behind_ms: last - stopped };
});
console.log(`a slider dragged for 5 s, ${behind.steps} steps: the answer stands ${behind.behind_ms.toFixed(0)} ms after it stops`);

await b.close();
await closeChromium();
