//! One run, laid straight: temperature above, the tape, the run to scale, measures below.
import { useEffect, useMemo, useRef, useState } from "preact/hooks";
import { choose, plan, set } from "../bench.ts";
import { chosen } from "../chosen.ts";
import { Icon } from "../icons.tsx";
import { shownUnit, type System } from "../show.ts";
import { leadTo } from "../sheets/lead.ts";
import { useSize } from "../size.ts";
import type { Measure } from "../wire.ts";
import { Heat } from "./Heat.tsx";
import { measureRows, type Drawn, type Scene } from "./scene.ts";
import { FLAGS, ROW, shares, TAPE } from "./shares.ts";
import { around, type Extent, held, panned, tape, toX, type View, whole, zoomed } from "./view.ts";

const MOVED_LEAST_PX = 4;

interface Props {
  scene: Scene;
  /** The scale all runs share while seen whole. */
  least: number;
  /** Of all runs, so that their tapes and curves have the same height. */
  tallest_mm: number;
  system: System;
}

export function Strip({ scene, least, tallest_mm, system }: Props) {
  const box = useRef<HTMLDivElement>(null);
  const { width, height } = useSize(box);
  const [zoom, setZoom] = useState<View | null>(null);
  const rows = useMemo(() => measureRows(scene.strip.measures), [scene]);
  const { heat: heatHeight, tape: tapeHeight, rows: rowCount, top: bodyTop, body: bodyHeight } = shares(height, tallest_mm * least + 4, rows.length, scene.strip.heat !== null);
  const shownRows = rows.slice(0, rowCount);
  const wholeView = { ...whole(scene.extent, width), px_per_mm: least };
  wholeView.left_mm = scene.extent.x_mm[0] - 26 / least;
  const view = zoom ?? wholeView;
  const change = (next: View) => setZoom(held(next, scene.extent, width, bodyHeight));
  const here = chosen.value && chosen.value.run === scene.strip.run ? chosen.value : null;

  const near = (side: "from" | "to") => {
    const of = scene.drawn.filter((d) => d.shape.id.startsWith(`${side}/`) && d.shape.kind !== "box");
    const part = of.reduce<Extent | null>((a, d) => join(a, d.extent), null);
    if (part) setZoom(around(part, width, bodyHeight));
  };

  const dragging = useDrag(view, change, bodyTop + bodyHeight / 2, least);
  const keys = (event: KeyboardEvent) => {
    const by = keyed(event.key, view, width, least);
    if (by === "whole") setZoom(null);
    else if (by) change(by);
    else if (event.key === "Enter" || event.key === "ArrowUp" || event.key === "ArrowDown") step(scene, event.key);
    else return;
    event.preventDefault();
  };

  return (
    <section class="strip" aria-label={`Run ${scene.strip.run}`}>
      <header>
        <h2 title={`${scene.strip.from_name} to ${scene.strip.to_name}`}>
          {scene.strip.run}
          <span class="quiet">
            {" "}
            {scene.strip.from} to {scene.strip.to}
          </span>
        </h2>
        <p class="facts">
          <span>{scene.strip.cable}</span>
          {rowCount < 2 && cutOf(scene) && <span>{cutOf(scene)}</span>}
          {scene.strip.heat?.margin_text && <span>margin {scene.strip.heat.margin_text}</span>}
        </p>
        <div class="tools">
          <button type="button" class="bare" title={`Near ${scene.strip.from}`} onClick={() => near("from")}>
            <Icon name="from" />
            <span class="hidden-words">Near {scene.strip.from}</span>
          </button>
          <button type="button" class="bare" title={`Near ${scene.strip.to}`} onClick={() => near("to")}>
            <Icon name="to" />
            <span class="hidden-words">Near {scene.strip.to}</span>
          </button>
          <button type="button" class="bare" title="Nearer" onClick={() => change(zoomed(view, 1.6, width / 2, 0, least))}>
            <Icon name="nearer" />
            <span class="hidden-words">Nearer</span>
          </button>
          <button type="button" class="bare" title="Further" onClick={() => change(zoomed(view, 1 / 1.6, width / 2, 0, least))}>
            <Icon name="further" />
            <span class="hidden-words">Further</span>
          </button>
          <button type="button" class="bare" title="The whole run" disabled={zoom === null} onClick={() => setZoom(null)}>
            <Icon name="whole" />
            <span class="hidden-words">The whole run</span>
          </button>
        </div>
      </header>
      {scene.strip.unknown && <p class="unknown-length">{scene.strip.unknown}</p>}
      {/* biome-ignore lint/a11y/noNoninteractiveTabindex: the drawing is panned, zoomed and walked by keys */}
      <div class="field" ref={box} tabIndex={0} role="group" onKeyDown={keys} {...dragging}
        aria-label={`Run ${scene.strip.run} drawn to scale. Left and right move along it, plus and minus zoom, 0 shows the whole, up and down walk from part to part, Enter opens the end`}>
        {width > 0 && height > 0 && (
          <svg width={width} height={height} aria-hidden="true">
            <defs>
              <clipPath id={`body-${scene.strip.run}`}>
                <rect x="0" y={bodyTop} width={width} height={bodyHeight} />
              </clipPath>
            </defs>
            {scene.strip.heat && heatHeight > 0 && (
              <Heat heat={scene.strip.heat} sections={scene.strip.sections} view={view} width={width} height={heatHeight} system={system} />
            )}
            {tapeHeight > 0 && <Tape view={view} width={width} top={heatHeight} system={system} zero={0} />}
            <g clip-path={`url(#body-${scene.strip.run})`}>
              <g transform={`matrix(${view.px_per_mm} 0 0 ${-view.px_per_mm} ${-view.left_mm * view.px_per_mm} ${bodyTop + bodyHeight / 2 + view.middle_mm * view.px_per_mm})`}>
                {scene.drawn.map((d) => (
                  <Part key={d.shape.id} of={d} here={here?.shape === d.shape.id} run={scene.strip.run} />
                ))}
              </g>
            </g>
            {scene.flags.map((f) => {
              const x = toX(view, f.x_mm);
              return x < -10 || x > width + 10 ? null : (
                <g key={f.shape} class={`flag of-${f.verdict}`} transform={`translate(${x} ${bodyTop - FLAGS})`} onClick={() => pick(scene, f.shape)}>
                  <path d="M0 14V3M0 3h10v7H0z" />
                </g>
              );
            })}
            {shownRows.map((row, i) => (
              <Measures key={String(i)} row={row} view={view} width={width} y={bodyTop + bodyHeight + i * ROW + 10} />
            ))}
          </svg>
        )}
        <MeasureInputs rows={shownRows} view={view} width={width} top={bodyTop + bodyHeight} run={scene.strip.run} />
      </div>
      <p class="hidden-words" aria-live="polite">{here?.shape ? scene.drawn.find((d) => d.shape.id === here.shape)?.shape.text : ""}</p>
    </section>
  );
}

/** The measure of the cut, in words. */
function cutOf(scene: Scene): string | null {
  return scene.strip.measures.find((m) => m.text.startsWith("cut"))?.text ?? null;
}

function join(a: Extent | null, b: Extent): Extent {
  if (!a) return b;
  return {
    x_mm: [Math.min(a.x_mm[0], b.x_mm[0]), Math.max(a.x_mm[1], b.x_mm[1])],
    y_mm: [Math.min(a.y_mm[0], b.y_mm[0]), Math.max(a.y_mm[1], b.y_mm[1])],
  };
}

function keyed(key: string, view: View, width: number, least: number): View | "whole" | null {
  switch (key) {
    case "ArrowLeft":
      return panned(view, width / 8, 0);
    case "ArrowRight":
      return panned(view, -width / 8, 0);
    case "+":
    case "=":
      return zoomed(view, 1.5, width / 2, 0, least);
    case "-":
      return zoomed(view, 1 / 1.5, width / 2, 0, least);
    case "0":
    case "Home":
      return "whole";
    default:
      return null;
  }
}

/** Chooses a shape, and with it the place it is about. */
function pick(scene: Scene, id: string): void {
  const shape = scene.drawn.find((d) => d.shape.id === id)?.shape;
  if (!shape) return;
  choose({ run: scene.strip.run, cable: shape.about.cable, port: shape.about.port, shape: id });
}

/** Walks from part to part, or opens the end of the part one stands on. */
function step(scene: Scene, key: string): void {
  const parts = scene.drawn.filter((d) => d.shape.kind !== "box").sort((a, b) => a.extent.x_mm[0] - b.extent.x_mm[0]);
  const now = parts.findIndex((d) => d.shape.id === chosen.value?.shape);
  if (key === "Enter") {
    const d = parts[now];
    if (d) leadTo({ run: scene.strip.run, cable: d.shape.about.cable, port: d.shape.about.port });
    return;
  }
  const next = parts[(now + (key === "ArrowDown" ? 1 : -1) + parts.length) % parts.length];
  if (next) pick(scene, next.shape.id);
}

function Part({ of, here, run }: { of: Drawn; here: boolean; run: string }) {
  const about = of.shape.about;
  const verdict = of.verdict ? ` marked of-${of.verdict}` : "";
  return (
    <path
      class={`part ${of.shape.kind}${verdict}${here ? " here" : ""}`}
      d={of.d}
      data-part={of.shape.id}
      onClick={() => choose({ run, cable: about.cable, port: about.port, shape: of.shape.id })}
      onDblClick={() => leadTo({ run, cable: about.cable, port: about.port })}
    >
      <title>{of.shape.text}</title>
    </path>
  );
}

function Tape({ view, width, top, system, zero }: { view: View; width: number; top: number; system: System; zero: number }) {
  const unit = shownUnit("mm", system);
  const marks = tape(view, width, unit.factor, zero);
  return (
    <g class="tape">
      <rect x="0" y={top} width={width} height={TAPE} />
      {marks.map((m) => (
        <line key={m.value} x1={m.x_px} x2={m.x_px} y1={top + TAPE} y2={top + TAPE - (m.long ? 9 : 4)} />
      ))}
      {marks.filter((m) => m.long).map((m) => (
        <text key={m.value} x={m.x_px + 3} y={top + 11}>
          {Number(m.value.toPrecision(6))}
        </text>
      ))}
      <rect x={width - 30} y={top} width={30} height={TAPE} />
      <text class="unit" x={width - 4} y={top + 12} text-anchor="end">
        {unit.unit}
      </text>
    </g>
  );
}

function Measures({ row, view, width, y }: { row: Measure[]; view: View; width: number; y: number }) {
  return (
    <g class="measures">
      {row.map((m) => {
        const [a, b] = [Math.max(-20, toX(view, m.from_mm)), Math.min(width + 20, toX(view, m.to_mm))];
        if (b < 0 || a > width) return null;
        return (
          <g key={`${m.from_mm}-${m.to_mm}`}>
            <path d={`M${a} ${y}H${b}M${a} ${y - 5}v10M${b} ${y - 5}v10`} />
          </g>
        );
      })}
    </g>
  );
}

/** The words of the measures; those the document states can be written over. */
function MeasureInputs({ rows, view, width, top, run }: { rows: Measure[][]; view: View; width: number; top: number; run: string }) {
  const [writing, setWriting] = useState<string | null>(null);
  const out = [];
  for (const [i, row] of rows.entries()) {
    for (const m of row) {
      const [a, b] = [Math.max(0, toX(view, m.from_mm)), Math.min(width, toX(view, m.to_mm))];
      const room = b - a;
      const id = `${m.from_mm}-${m.to_mm}-${m.text}`;
      if (room < 7 * m.text.length + 6 && writing !== id) continue;
      const style = `left:${(a + b) / 2}px;top:${top + i * ROW}px`;
      if (m.path === null) out.push(<span key={id} class="measure" style={style}>{m.text}</span>);
      else if (writing === id)
        out.push(<MeasureInput key={id} style={style} measure={m} run={run} done={() => setWriting(null)} />);
      else
        out.push(
          <button key={id} type="button" class="measure" style={style} title="Write another length" onClick={() => setWriting(id)}>
            {m.text}
          </button>,
        );
    }
  }
  return <>{out}</>;
}

function MeasureInput({ measure, style, run, done }: { measure: Measure; style: string; run: string; done: () => void }) {
  const first = measure.text.match(/-?[\d.,]+\s*\S+/)?.[0] ?? measure.text;
  const at = useRef<HTMLInputElement>(null);
  useEffect(() => at.current?.select(), []);
  const send = async (value: string) => {
    if (measure.path && value !== first) await set([{ path: measure.path, value }], `length of run ${run}`);
    done();
  };
  return (
    <input
      ref={at}
      class="measure"
      style={style}
      aria-label={`Length, ${measure.text}`}
      defaultValue={first}
      size={10}
      onKeyDown={(e) => {
        e.stopPropagation();
        if (e.key === "Enter") void send(e.currentTarget.value);
        if (e.key === "Escape") done();
      }}
      onBlur={(e) => void send(e.currentTarget.value)}
    />
  );
}

/** Panning by pointer, pinching by two, zooming by wheel. */
function useDrag(view: View, change: (v: View) => void, middle_px: number, least: number) {
  const now = useRef(view);
  now.current = view;
  const points = useRef(new Map<number, { x: number; y: number }>());
  const from = useRef<{ x: number; y: number; moved: boolean } | null>(null);
  const place = (e: PointerEvent | WheelEvent) => {
    const r = (e.currentTarget as Element).getBoundingClientRect();
    return { x: e.clientX - r.left, y: e.clientY - r.top - middle_px };
  };
  return {
    onWheel: (e: WheelEvent) => {
      e.preventDefault();
      const p = place(e);
      if (e.shiftKey || Math.abs(e.deltaX) > Math.abs(e.deltaY)) change(panned(now.current, -(e.deltaX || e.deltaY), 0));
      else change(zoomed(now.current, Math.exp(-e.deltaY / 400), p.x, p.y, least));
    },
    onPointerDown: (e: PointerEvent) => {
      if ((e.target as Element).closest("button, input")) return;
      points.current.set(e.pointerId, place(e));
      from.current = { ...place(e), moved: false };
    },
    onPointerMove: (e: PointerEvent) => {
      const was = points.current.get(e.pointerId);
      const start = from.current;
      if (!was || !start) return;
      const p = place(e);
      const other = [...points.current].find(([id]) => id !== e.pointerId)?.[1];
      if (other) {
        const apart = (q: { x: number; y: number }) => Math.hypot(q.x - other.x, q.y - other.y);
        change(zoomed(now.current, apart(p) / Math.max(1, apart(was)), (p.x + other.x) / 2, (p.y + other.y) / 2, least));
      } else {
        if (!start.moved && Math.hypot(p.x - start.x, p.y - start.y) < MOVED_LEAST_PX) return;
        start.moved = true;
        (e.currentTarget as Element).setPointerCapture(e.pointerId);
        change(panned(now.current, p.x - was.x, p.y - was.y));
      }
      points.current.set(e.pointerId, p);
    },
    onPointerUp: (e: PointerEvent) => {
      points.current.delete(e.pointerId);
      if (points.current.size === 0) from.current = null;
    },
    onPointerCancel: (e: PointerEvent) => {
      points.current.delete(e.pointerId);
    },
  };
}

/** The units the build shows first. */
export const systemOf = (): System => (plan.value?.build.units === "us" ? "us" : "metric");
