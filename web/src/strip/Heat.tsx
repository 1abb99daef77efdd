//! Temperature along a run, above it: steady and hottest, the band of what is assumed, limit and margin.
import { onAxis, rounded, shownUnit, type System } from "../show.ts";
import type { StripHeat, StripSection } from "../wire.ts";
import { heatLines } from "./scene.ts";
import { tapeStep, toX, type View } from "./view.ts";

interface Props {
  heat: StripHeat;
  sections: StripSection[];
  view: View;
  width: number;
  height: number;
  system: System;
}

export function Heat({ heat, sections, view, width, height, system }: Props) {
  const unit = shownUnit("degC", system);
  const seen = heat.spots.flatMap((s) => [s.steady_c, s.hottest_c, s.low_c, s.high_c]).filter((c): c is number => c !== null);
  // The lowest curve and the limit, with a little room: the air below would only press the curves together.
  const bottom_c = Math.min(heat.limit_c, ...seen);
  const top_c = Math.max(heat.limit_c, ...seen);
  const low = bottom_c - 0.12 * (top_c - bottom_c) - 0.5;
  const high = top_c;
  const top = 15;
  const bottom = height - (sections.length > 1 ? 16 : 4);
  const y = (c: number) => bottom - ((c - low) / Math.max(1e-9, high - low)) * (bottom - top);
  const lines = heatLines(heat);
  const d = (points: [number, number][]) => `M${points.map(([x, c]) => `${toX(view, x).toFixed(1)} ${y(c).toFixed(1)}`).join("L")}`;
  const text = (c: number) => `${rounded(onAxis(c, unit), 0)} ${unit.unit}`;
  const step = tapeStep((bottom - top) / Math.max(1e-9, (high - low) * unit.factor), 26);
  const grid: number[] = [];
  const [first, last] = [onAxis(low, unit), onAxis(high, unit)];
  for (let v = Math.ceil(first / step) * step; v <= last; v += step) grid.push(v);
  const onPaper = (v: number) => y((v - unit.offset) / unit.factor);
  const hottest = heat.hottest_mm === null ? null : toX(view, heat.hottest_mm);
  const worst = heat.spots.reduce((a, s) => Math.max(a, s.hottest_c ?? s.steady_c), low);
  return (
    <g class="heat">
      {grid.filter((v) => onPaper(v) > 11).map((v) => (
        <g key={v}>
          <line class="grid" x1="0" x2={width} y1={onPaper(v)} y2={onPaper(v)} />
          <text class="degrees" x="4" y={onPaper(v) - 2}>
            {rounded(v, 0)}
          </text>
        </g>
      ))}
      {lines.band.length > 2 && <path class="band" d={`${d(lines.band)}Z`} />}
      <path class="steady" d={d(lines.steady)} />
      {lines.hottest.length > 1 && <path class="hottest" d={d(lines.hottest)} />}
      <line class="limit" x1="0" x2={width} y1={y(heat.limit_c)} y2={y(heat.limit_c)} />
      <text class="limit" x={width - 4} y={y(heat.limit_c) - 4} text-anchor="end">
        limit {text(heat.limit_c)}
      </text>
      {hottest !== null && hottest > 0 && hottest < width && (
        <path class="margin" d={`M${hottest} ${y(heat.limit_c)}V${y(worst)}m-4 0h8m-4 0`} />
      )}
      {sections.length > 1 &&
        sections.map((s) => {
          const [a, b] = [toX(view, s.from_mm), toX(view, s.to_mm)];
          const room = Math.min(b, width) - Math.max(a, 0);
          return (
            <g key={s.name} class="section">
              <path d={`M${a} ${bottom}v14M${b} ${bottom}v14M${a} ${bottom + 13}H${b}`} />
              {room > s.name.length * 7 && (
                <text x={Math.max(a, 0) + room / 2} y={bottom + 10} text-anchor="middle">
                  {s.name}
                </text>
              )}
              <title>{s.text}</title>
            </g>
          );
        })}
    </g>
  );
}
