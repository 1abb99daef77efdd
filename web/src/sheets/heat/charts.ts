//! The plan's curves as lines of a chart, on the shown axes. Pure.
import { onAxis, show, shownUnit, type System } from "../../show.ts";
import type { Along, Coordination, Heat, Protection, Run, StripHeat } from "../../wire.ts";
import type { ChartOf, Line } from "../../curves.ts";

const on = (v: number | null, kept: string, s: System): number | null => (v === null ? null : onAxis(v, shownUnit(kept, s)));

/** Curves with places of their own, laid over one axis; a curve has no value where it has no place. */
export function overOneAxis(curves: readonly (readonly (readonly [number, number | null])[])[]): { x: number[]; values: (number | null)[][] } {
  const x = [...new Set(curves.flatMap((c) => c.map(([at]) => at)))].sort((a, b) => a - b);
  const values = curves.map((c) => {
    const at = new Map(c.map(([k, v]) => [k, v]));
    return x.map((k) => at.get(k) ?? null);
  });
  return { x, values };
}

export function alongChart(heat: StripHeat, ghost: StripHeat | null, s: System): ChartOf {
  const pairs = (h: StripHeat, key: "steady_c" | "hottest_c" | "low_c" | "high_c"): [number, number | null][] =>
    h.spots.map((p) => [p.x_mm, on(p[key], "degC", s)]);
  const curves = [pairs(heat, "high_c"), pairs(heat, "low_c"), pairs(heat, "steady_c"), pairs(heat, "hottest_c")];
  if (ghost) curves.push(pairs(ghost, "steady_c"), pairs(ghost, "hottest_c"));
  const { x, values } = overOneAxis(curves);
  const unit = shownUnit("mm", s);
  const lines: Line[] = [
    { name: "band, upper", values: values[0] ?? [], ink: "--blue", width: 0.6 },
    { name: "band, lower", values: values[1] ?? [], ink: "--blue", width: 0.6 },
    { name: "steady", values: values[2] ?? [], ink: "--ink", width: 2 },
    { name: "hottest moment", values: values[3] ?? [], ink: "--ink", dash: [6, 4] },
    { name: "limit", values: x.map(() => on(heat.limit_c, "degC", s)), ink: "--fails" },
  ];
  if (ghost) {
    lines.push({ name: "steady, as slid", values: values[4] ?? [], ink: "--cable", width: 2.4 });
    lines.push({ name: "hottest, as slid", values: values[5] ?? [], ink: "--cable", dash: [6, 4] });
  }
  return {
    what: `Temperature along the run, limit ${heat.limit_c} degC${heat.margin_text ? `, ${heat.margin_text}` : ""}`,
    x: x.map((v) => onAxis(v, unit)),
    x_name: `along the run, ${unit.unit}`,
    y_name: shownUnit("degC", s).unit,
    lines,
    bands: [{ between: [0, 1], ink: "--blue" }],
  };
}

export function overTime(run: Run, heat: Heat, s: System): (ChartOf & { title: string })[] {
  const out: (ChartOf & { title: string })[] = [];
  const degrees = shownUnit("degC", s).unit;
  const limit = on(heat.limit_c, "degC", s);
  const of = (title: string, curves: { name: string; points: [number, number][] }[], what: string) => {
    const { x, values } = overOneAxis(curves.map((c) => c.points.map(([t, v]) => [t, on(v, "degC", s)] as [number, number | null])));
    const inks = ["--ink", "--blue", "--holds", "--unknown", "--close"];
    out.push({
      title,
      what,
      x,
      x_name: "seconds",
      y_name: degrees,
      lines: [
        ...curves.map((c, i) => ({ name: c.name, values: values[i] ?? [], ink: inks[i % inks.length] ?? "--ink", width: 1.8 })),
        { name: "limit", values: x.map(() => limit), ink: "--fails" },
      ],
    });
  };
  if (heat.warming.length > 1) of("From cold, at the continuous current", [{ name: "conductor", points: heat.warming }], "Temperature of the conductor over time from cold");
  if (heat.peak && heat.peak.curve.length > 1) of("The peak, from warm", [{ name: "conductor", points: heat.peak.curve }], "Temperature of the conductor over the peak");
  const drives = run.duty?.stretches.filter((d) => d.conductor.length > 1) ?? [];
  if (drives.length > 0) of("Over the duty", drives.map((d) => ({ name: d.name, points: d.conductor })), "Temperature of the conductor over the duty");
  return out;
}

/** Current against time, from cold and from warm, with the current it carries. */
export function ratingsChart(along: Along, heat: Heat, s: System): ChartOf | null {
  const timed = along.ratings.filter((r) => r.seconds !== null && r.seconds > 0);
  if (timed.length < 2) return null;
  return {
    what: "Current that can be carried, against how long",
    x: timed.map((r) => r.seconds as number),
    x_name: "for so many seconds",
    y_name: shownUnit("A", s).unit,
    log_x: true,
    log_y: true,
    lines: [
      { name: "from cold", values: timed.map((r) => on(r.cold_a, "A", s)), ink: "--blue", width: 2 },
      { name: "from warm", values: timed.map((r) => on(r.warm_a, "A", s)), ink: "--ink", width: 2 },
      { name: "continuous", values: timed.map(() => on(heat.current_a_rms, "A", s)), ink: "--cable", dash: [6, 4] },
    ],
  };
}

/** Fuse, cable, faults, control and load: current across, time up, both by their logarithm. */
export function coordinationChart(of: Coordination, s: System): ChartOf | null {
  if (of.melts.length < 2) return null;
  const bottom = 1e-4;
  const top = Math.max(...of.melts.map((p) => p[1]), ...of.cable_bears.map((p) => p[1]));
  const drawn = (points: [number, number][]) => points.filter(([, t]) => t >= bottom);
  const curves: { name: string; points: [number, number][]; ink: string; width?: number; dash?: number[]; marks?: boolean }[] = [
    { name: `${of.fuse} melts, mean`, points: drawn(of.melts), ink: "--cable", width: 2 },
    { name: "has cleared, slowest", points: drawn(of.clears), ink: "--cable", dash: [6, 4] },
  ];
  if (of.cable_bears.length > 0) curves.push({ name: "cable bears", points: drawn(of.cable_bears), ink: "--ink", width: 2.6 });
  for (const fault of of.faults) curves.push({ name: `short circuit ${fault.place}`, points: upwards(drawn(fault.points), top), ink: "--blue" });
  if (of.trip.length > 0) curves.push({ name: "control opens", points: of.trip, ink: "--fails", dash: [4, 3] });
  if (of.loads.length > 0) curves.push({ name: "load", points: of.loads.map((l) => [l.rms_a, l.seconds]), ink: "--ink", marks: true });
  const may = of.loads.flatMap((l): [number, number][] => (l.may_a === null ? [] : [[l.may_a, l.seconds]]));
  if (may.length > 0) curves.push({ name: "fuse bears so long", points: may, ink: "--holds", marks: true });
  const { x, values } = overOneAxis(curves.map((c) => c.points));
  const unit = shownUnit("A", s);
  const guards = of.guards_from_a === null ? "" : `; the fuse protects the cable from ${show(of.guards_from_a, "A", s)} on`;
  return {
    what: `Time to melt and to clear of fuse ${of.fuse}, and what the cable bears, against current${guards}`,
    x: x.map((v) => onAxis(v, unit)),
    x_name: `current, ${unit.unit}`,
    y_name: "seconds",
    log_x: true,
    log_y: true,
    lines: curves.map(({ points: _, name, ...rest }, i) => ({ name, values: values[i] ?? [], ...rest })),
  };
}

/** A fault that has risen flows on: its line goes up from where it ends. */
function upwards(points: [number, number][], top: number): [number, number][] {
  const last = points.at(-1);
  return last ? [...points, [last[0] * 1.0001, top]] : points;
}

/** Voltage of the link as it is charged, and as it is discharged. */
export function linkCharts(of: Protection, s: System): (ChartOf & { title: string })[] {
  const unit = shownUnit("V", s);
  const out: (ChartOf & { title: string })[] = [];
  const add = (title: string, what: string, points: [number, number][], limit: number, limited: string) => {
    const lines: Line[] = [
      { name: "link", values: points.map((p) => onAxis(p[1], unit)), ink: "--cable", width: 2 },
      { name: limited, values: points.map(() => onAxis(limit, unit)), ink: "--fails", dash: [6, 4] },
    ];
    out.push({ title, what, x: points.map((p) => p[0]), x_name: "seconds", y_name: unit.unit, lines });
  };
  if (of.precharge) {
    const { curve, voltage_v, close_s } = of.precharge;
    add("Pre-charge", `Voltage of the link over the pre-charge, until the contactor closes after ${show(close_s, "s", s)}`, curve, voltage_v, "pack");
  }
  if (of.discharge) {
    const { curve, touch_v } = of.discharge;
    add("Discharge", "Voltage of the link after the contactors open", curve, touch_v, show(touch_v, "V", s));
  }
  return out;
}
