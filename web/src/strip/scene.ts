//! A strip as things to draw, made once a version: pure, so that it is tested without a screen.
import type { Measure, Notice, Shape, Strip, StripHeat, StripSpot, Verdict } from "../wire.ts";
import type { Extent } from "./view.ts";

const RANK: Verdict[] = ["fails", "unknown", "close", "holds"];

/** The worse of two verdicts. */
export function worse(a: Verdict | null, b: Verdict | null): Verdict | null {
  if (a === null) return b;
  if (b === null) return a;
  return RANK.indexOf(a) <= RANK.indexOf(b) ? a : b;
}

/** A closed outline as SVG path data, in mm with y upwards. */
export function pathOf(outline: readonly (readonly number[])[]): string {
  if (outline.length === 0) return "";
  return `M${outline.map(([x, y]) => `${x} ${y}`).join("L")}Z`;
}

export function extentOf(points: readonly (readonly number[])[]): Extent {
  const x: [number, number] = [Infinity, -Infinity];
  const y: [number, number] = [Infinity, -Infinity];
  for (const [px, py] of points) {
    if (px === undefined || py === undefined) continue;
    x[0] = Math.min(x[0], px);
    x[1] = Math.max(x[1], px);
    y[0] = Math.min(y[0], py);
    y[1] = Math.max(y[1], py);
  }
  return { x_mm: x, y_mm: y };
}

export interface Drawn {
  shape: Shape;
  d: string;
  extent: Extent;
  /** Worst of the findings that mean it; what holds is not marked. */
  verdict: Verdict | null;
}

/** A mark above the strip: something about this place is not as it should be. */
export interface Flag {
  x_mm: number;
  verdict: Verdict;
  count: number;
  shape: string;
}

export interface Scene {
  strip: Strip;
  extent: Extent;
  drawn: Drawn[];
  flags: Flag[];
}

/** Builds the scene of a strip with the findings of its version. */
export function sceneOf(strip: Strip, notices: readonly Notice[]): Scene {
  const verdicts = new Map(notices.map((n) => [n.id, n.verdict]));
  const drawn = strip.shapes.map((shape) => {
    let verdict: Verdict | null = null;
    for (const id of shape.findings) {
      const of = verdicts.get(id) ?? null;
      if (of !== "holds") verdict = worse(verdict, of);
    }
    return { shape, d: pathOf(shape.outline), extent: extentOf(shape.outline), verdict };
  });
  const all = extentOf(strip.shapes.flatMap((s) => s.outline));
  const extent: Extent = {
    x_mm: drawn.length > 0 ? all.x_mm : [0, Math.max(1, strip.length_mm)],
    y_mm: strip.y_mm,
  };
  return { strip, extent, drawn, flags: flagsOf(drawn, verdicts) };
}

/** Flags nearer than this are one. */
const NEAR_MM = 40;
/** A finding of more shapes than this is of the run, not of a place. */
const MANY = 4;

/** One flag for each place along the strip whose parts are meant by findings that do not hold. */
function flagsOf(drawn: readonly Drawn[], verdicts: ReadonlyMap<string, Verdict>): Flag[] {
  const shares = new Map<string, number>();
  for (const d of drawn) for (const id of d.shape.findings) shares.set(id, (shares.get(id) ?? 0) + 1);
  const told = new Set<string>();
  const flags: (Flag & { ids: Set<string> })[] = [];
  for (const d of drawn) {
    if (d.verdict === null || d.shape.kind === "box") continue;
    // What is said of the whole run, or of all clips alike, is flagged once and not at each.
    const said = d.shape.findings.filter((id) => verdicts.get(id) !== "holds" && verdicts.has(id));
    if (said.every((id) => told.has(id) && (shares.get(id) ?? 0) > MANY)) continue;
    for (const id of said) told.add(id);
    const x_mm = (d.extent.x_mm[0] + d.extent.x_mm[1]) / 2;
    const near = flags.find((f) => Math.abs(f.x_mm - x_mm) < NEAR_MM);
    if (near) {
      if (worse(near.verdict, d.verdict) !== near.verdict) near.shape = d.shape.id;
      near.verdict = worse(near.verdict, d.verdict) ?? near.verdict;
      for (const id of said) near.ids.add(id);
      near.count = near.ids.size;
    } else {
      const ids = new Set(said);
      flags.push({ x_mm, verdict: d.verdict, count: ids.size, shape: d.shape.id, ids });
    }
  }
  return flags.map(({ ids: _, ...flag }) => flag).sort((a, b) => a.x_mm - b.x_mm);
}

/** Temperature as lines over x in mm and degC; the band as a closed outline. */
export interface HeatLines {
  steady: [number, number][];
  hottest: [number, number][];
  band: [number, number][];
}

export function heatLines(heat: StripHeat): HeatLines {
  const has = (key: "hottest_c" | "low_c" | "high_c") => (s: StripSpot) => s[key] !== null;
  const line = (key: "hottest_c" | "low_c" | "high_c"): [number, number][] =>
    heat.spots.filter(has(key)).map((s) => [s.x_mm, s[key] as number]);
  return {
    steady: heat.spots.map((s) => [s.x_mm, s.steady_c]),
    hottest: line("hottest_c"),
    band: [...line("high_c"), ...line("low_c").reverse()],
  };
}

/** Measures in rows, so that none lies on another: the shorter ones nearer the cable. */
export function measureRows(measures: readonly Measure[]): Measure[][] {
  const rows: Measure[][] = [];
  const sorted = [...measures].sort((a, b) => a.to_mm - a.from_mm - (b.to_mm - b.from_mm));
  for (const m of sorted) {
    const free = rows.find((row) => row.every((o) => m.to_mm <= o.from_mm + 1e-6 || m.from_mm >= o.to_mm - 1e-6));
    if (free) free.push(m);
    else rows.push([m]);
  }
  return rows;
}
