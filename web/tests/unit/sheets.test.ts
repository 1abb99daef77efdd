import assert from "node:assert/strict";
import { test } from "node:test";
import { belongs } from "../../src/chosen.ts";
import { Latest } from "../../src/latest.ts";
import { addressOf, placeOf } from "../../src/place.ts";
import { coordinationChart, overOneAxis } from "../../src/sheets/heat/charts.ts";
import { boxOf, hexagon, pathOfCorners, placeText } from "../../src/sheets/plates/outline.ts";
import { onAxis, rounded } from "../../src/show.ts";
import { explosion } from "../../src/three/explode.ts";

test("an address leads back to its place", () => {
  for (const place of [{ build: ".", sheet: "plates" }, { build: "a b/c", sheet: "heat" }, { build: null, sheet: "heat" }] as const) {
    assert.deepEqual(placeOf(addressOf(place)), place);
  }
  assert.equal(placeOf("/b/x/nonsense").sheet, "heat");
});

test("only the first and the last of many questions are sent", async () => {
  const sent: number[] = [];
  const got: number[] = [];
  const latest = new Latest<number>((n) => got.push(n));
  const ask = (n: number) => latest.ask(async () => { sent.push(n); await Promise.resolve(); return n; });
  for (const n of [1, 2, 3, 4]) ask(n);
  await new Promise((r) => setTimeout(r, 10));
  assert.deepEqual(sent, [1, 4]);
  assert.deepEqual(got, [1, 4]);
});

test("a question that fails lets the next one through", async () => {
  const got: number[] = [];
  const latest = new Latest<number>((n) => got.push(n));
  latest.ask(async () => { throw new Error("no"); });
  latest.ask(async () => 2);
  await new Promise((r) => setTimeout(r, 10));
  assert.deepEqual(got, [2]);
});

test("half a turn by two arcs of bulge one is a circle", () => {
  const d = pathOfCorners([{ x_mm: 0, y_mm: 0, bulge: 1 }, { x_mm: 10, y_mm: 0, bulge: 1 }]);
  assert.equal(d, "M0 0A5 5 0 0 1 10 0A5 5 0 0 1 0 0Z");
});

test("a quarter arc keeps its radius, and its side by the sign", () => {
  const bulge = Math.tan(Math.PI / 8);
  const d = pathOfCorners([{ x_mm: 8, y_mm: 0, bulge: -bulge }, { x_mm: 0, y_mm: 8, bulge: 0 }]);
  const [, r, , , sweep] = /A([\d.]+) ([\d.]+) 0 (\d) (\d)/.exec(d) ?? [];
  assert.ok(Math.abs(Number(r) - 8) < 1e-9);
  assert.equal(sweep, "0");
});

test("a hexagon is as wide across corners as it says", () => {
  const x = [...hexagon(0, 0, 30).matchAll(/[ML](-?[\d.e-]+) /g)].map((m) => Number(m[1]));
  assert.equal(Math.max(...x) - Math.min(...x), 30);
});

test("a view box has y downwards and its room all round", () => {
  assert.deepEqual(boxOf([{ x_mm: 0, y_mm: 0 }, { x_mm: 10, y_mm: 4 }], 1), [-1, -5, 12, 6]);
  assert.equal(placeText(1.25, -0.04), "1.3 mm, 0 mm");
});

test("curves of different places share an axis and have gaps where they have no place", () => {
  const { x, values } = overOneAxis([[[0, 1], [2, 3]], [[1, 5]]]);
  assert.deepEqual(x, [0, 1, 2]);
  assert.deepEqual(values, [[1, null, 3], [null, 5, null]]);
});

test("an axis scales and shifts, and rounding leaves no trailing noughts", () => {
  assert.equal(onAxis(100, { unit: "degF", factor: 1.8, offset: 32, decimals: 0 }), 212);
  assert.equal(rounded(12.3, 2), "12.3");
  assert.equal(rounded(0.00012345, 2), "0.000123");
  assert.equal(rounded(-0, 2), "0");
});

test("what is said of a run belongs to its places, and of another end does not", () => {
  const end = { run: "dc", cable: "+", port: "battery.main" };
  assert.ok(belongs({ run: "dc", cable: null, port: null }, end));
  assert.ok(belongs({ run: "dc", cable: null, port: "battery.main" }, end));
  assert.ok(!belongs({ run: "dc", cable: null, port: "inverter.dc" }, end));
  assert.ok(!belongs({ run: "phases", cable: null, port: null }, end));
  assert.ok(!belongs({ run: null, cable: null, port: null }, end));
});

test("parts drawn apart do not cover one another on their axis, and keep their order", () => {
  const parts = [
    { name: "terminal", min: [-10, -10, -12], max: [10, 10, 0] },
    { name: "lug palm", min: [-12, -8, 0], max: [14, 8, 4] },
    { name: "lug barrel", min: [14, -6, 0], max: [40, 6, 12] },
    { name: "sleeve", min: [20, -7, -1], max: [70, 7, 13] },
    { name: "washer", min: [-8, -8, 4], max: [8, 8, 6] },
    { name: "bolt", min: [-6, -6, -8], max: [6, 6, 12] },
  ];
  const ways = explosion(parts);
  assert.deepEqual(ways[0], [0, 0, 0]);
  const along = [1, 2, 3].map((i) => [(parts[i]?.min[0] ?? 0) + (ways[i]?.[0] ?? 0), (parts[i]?.max[0] ?? 0) + (ways[i]?.[0] ?? 0)]);
  assert.ok((along[1]?.[0] ?? 0) > (along[0]?.[1] ?? 0) && (along[2]?.[0] ?? 0) > (along[1]?.[1] ?? 0));
  assert.ok((ways[5]?.[2] ?? 0) > 0 && (ways[4]?.[2] ?? 0) > 0);
});

test("fuse and cable lie over one axis of current, each value at its place", () => {
  const chart = coordinationChart(
    {
      fuse: "gR 250 A",
      rated_a: 250,
      melts: [[400, 3600], [3000, 0.001]],
      clears: [[440, 3600], [3300, 0.006]],
      cable_bears: [[300, 5000], [3000, 4]],
      faults: [{ place: "at the far end", prospective_a: 4700, points: [[100, 0.00001], [4000, 0.0003], [4700, 0.002]], let_through_a: 4000, melts_s: 0.0004 }],
      loads: [{ seconds: 30, rms_a: 260, may_a: 265, stretch: null }],
      trip_a: 300,
      trip_s: 2,
      trip: [[300, 5000], [300.03, 2], [800, 2]],
      guards_from_a: 503,
      tightest: null,
    },
    "metric",
  );
  assert.ok(chart);
  assert.ok(chart.x.every((v, i) => i === 0 || v > (chart.x[i - 1] ?? 0)), "each place once, rising");
  const at = (name: string, x: number) => chart.lines.find((l) => l.name === name)?.values[chart.x.indexOf(x)];
  assert.equal(at("gR 250 A melts, mean", 400), 3600);
  assert.equal(at("load", 260), 30);
  assert.equal(at("control opens", 300), 5000);
  // What is faster than the sheet shows is left out.
  assert.ok(!chart.x.includes(100));
  assert.equal(chart.lines.every((l) => l.values.length === chart.x.length), true);
});
