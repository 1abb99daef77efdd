import assert from "node:assert/strict";
import { test } from "node:test";
import { heatLines, measureRows, pathOf, sceneOf, worse } from "../../src/strip/scene.ts";
import { FLAGS, shares, TAPE } from "../../src/strip/shares.ts";
import { around, held, panned, tape, tapeStep, toX, toY, whole, zoomed } from "../../src/strip/view.ts";
import type { Notice, Shape, Strip } from "../../src/wire.ts";

const none = { run: null, cable: null, port: null };
const square = (x: number): [number, number][] => [[x, 0], [x + 10, 0], [x + 10, 10], [x, 10]];

function shape(id: string, kind: Shape["kind"], x: number, findings: string[] = []): Shape {
  return { id, kind, text: id, outline: square(x), about: none, findings } as Shape;
}

function strip(shapes: Shape[]): Strip {
  return {
    run: "a", carries: "dc", from: "x.y", to: "z.w", from_name: "X", to_name: "Z", unknown: null, length_mm: 1000,
    faces_mm: [50, 950], y_mm: [-20, 20], cut_mm: 980, cable: "2 x", shapes, heat: null, sections: [], measures: [], at: null,
  };
}

const notice = (id: string, verdict: Notice["verdict"]): Notice => ({ id, verdict, change: "same" }) as unknown as Notice;

test("a point under the pointer stays under it while zooming", () => {
  const view = whole({ x_mm: [0, 2000], y_mm: [-50, 50] }, 1000);
  const at = view.left_mm + 300 / view.px_per_mm;
  const near = zoomed(view, 7, 300, 12, 0.01);
  assert.ok(Math.abs(toX(near, at) - 300) < 1e-9);
  assert.ok(near.px_per_mm > view.px_per_mm);
});

test("the whole run goes from edge to edge with the room asked for", () => {
  const view = whole({ x_mm: [-20, 1980], y_mm: [-50, 50] }, 1052);
  assert.ok(Math.abs(toX(view, -20) - 26) < 1e-9);
  assert.ok(Math.abs(toX(view, 1980) - 1026) < 1e-9);
});

test("a part is shown whole, and y points up", () => {
  const view = around({ x_mm: [10, 30], y_mm: [0, 10] }, 500, 100);
  assert.ok(toX(view, 10) > 0 && toX(view, 30) < 500);
  assert.ok(toY(view, 10, 100) < toY(view, 0, 100));
  assert.ok(toY(view, 10, 100) >= 0 && toY(view, 0, 100) <= 100);
});

test("panning ends where there is nothing more to see", () => {
  const extent = { x_mm: [0, 1000] as [number, number], y_mm: [-50, 50] as [number, number] };
  const view = whole(extent, 500);
  const far = held(panned(view, -1e6, 0), extent, 500, 200);
  assert.ok(toX(far, 1000) >= 0, "the end of the run is still in the window");
});

test("the tape's marks stand where their values are, in inches too", () => {
  const view = { left_mm: -40, middle_mm: 0, px_per_mm: 0.5 };
  for (const factor of [1, 1 / 25.4]) {
    for (const m of tape(view, 900, factor, 0)) assert.ok(Math.abs(m.x_px - toX(view, m.value / factor)) < 1e-6);
  }
  const long = tape(view, 900, 1, 0).filter((m) => m.long);
  assert.deepEqual(long.map((m) => m.value), [0, 200, 400, 600, 800, 1000, 1200, 1400, 1600]);
});

test("tape steps are 1, 2 or 5 of a decade and never closer than asked", () => {
  for (const px of [0.013, 0.5, 1, 3.7, 60]) {
    const step = tapeStep(px, 90);
    assert.ok(step * px >= 90 - 1e-9);
    assert.ok([1, 2, 5].some((m) => Math.abs(step / m / 10 ** Math.round(Math.log10(step / m)) - 1) < 1e-9), String(step));
  }
});

test("a shape is marked by the worst finding that means it, and not by what holds", () => {
  const scene = sceneOf(strip([shape("lug", "lug", 0, ["a", "b"]), shape("bolt", "bolt", 100, ["c"])]), [
    notice("a", "close"), notice("b", "fails"), notice("c", "holds"),
  ]);
  assert.deepEqual(scene.drawn.map((d) => d.verdict), ["fails", null]);
  assert.deepEqual(scene.flags.map((f) => [f.verdict, f.shape]), [["fails", "lug"]]);
});

test("what is said of all clips is flagged once", () => {
  const clips = [0, 1, 2, 3, 4, 5].map((i) => shape(`clip-${i}`, "clip", 150 * i, ["far"]));
  assert.equal(sceneOf(strip(clips), [notice("far", "close")]).flags.length, 1);
  assert.equal(sceneOf(strip(clips), [notice("other", "close")]).flags.length, 0);
});

test("a run without shapes still has a length to be drawn over", () => {
  assert.deepEqual(sceneOf(strip([]), []).extent.x_mm, [0, 1000]);
});

test("worse is worse whichever way it is asked", () => {
  assert.equal(worse("close", "unknown"), "unknown");
  assert.equal(worse("fails", "unknown"), "fails");
  assert.equal(worse(null, "holds"), "holds");
});

test("measures that overlap lie in rows of their own, the short ones first", () => {
  const of = (from_mm: number, to_mm: number) => ({ from_mm, to_mm, text: "", path: null });
  const rows = measureRows([of(0, 100), of(0, 30), of(30, 100)]);
  assert.deepEqual(rows.map((r) => r.length), [2, 1]);
  assert.equal(rows[1]?.[0]?.to_mm, 100);
});

test("the band is one closed line, there above and back below; gaps are left out", () => {
  const lines = heatLines({
    cable: "U", limit_c: 100, air_c: 40, range_c: [40, 100], hottest_mm: null, margin_k: null, margin_text: null,
    spots: [
      { x_mm: 0, steady_c: 80, hottest_c: null, low_c: 70, high_c: 90 },
      { x_mm: 10, steady_c: 81, hottest_c: 95, low_c: 71, high_c: 91 },
    ],
  });
  assert.deepEqual(lines.band, [[0, 90], [10, 91], [10, 71], [0, 70]]);
  assert.deepEqual(lines.hottest, [[10, 95]]);
});

test("an outline is a closed path", () => {
  assert.equal(pathOf([[0, 0], [1, 0], [1, 2]]), "M0 0L1 0L1 2Z");
  assert.equal(pathOf([]), "");
});

test("a low strip shows the run whole and lets temperature, measures and tape go, in that order", () => {
  const high = shares(200, 57, 2, true);
  assert.ok(high.heat >= 34 && high.tape === TAPE && high.rows === 2 && high.body >= 57);
  const tape = shares(FLAGS + TAPE + 57, 57, 2, true);
  assert.deepEqual([tape.heat, tape.rows, tape.tape], [0, 0, TAPE]);
  const low = shares(FLAGS + 57, 57, 2, true);
  assert.deepEqual([low.heat, low.rows, low.tape, low.body], [0, 0, 0, 57]);
});

test("what a strip is shared into fills it and no more", () => {
  for (let height = 60; height < 400; height += 7)
    for (const run of [10, 57, 120]) {
      const s = shares(height, run, 2, true);
      assert.equal(s.top, s.heat + s.tape + FLAGS);
      assert.equal(s.top + s.body + 19 * s.rows, height, `${height} px for a run of ${run} px`);
    }
});
