//! A plate seen from outside, its grips to be moved by pointer, keys or numbers. Every move is planned and judged by the program.
import { useEffect, useRef, useState } from "preact/hooks";
import { set } from "../../bench.ts";
import { Latest } from "../../latest.ts";
import type { GripPlace, PlateSheet } from "../../wire.ts";
import { boxOf, hexagon, pathOfCorners, placeText } from "./outline.ts";

const sending = new Latest<boolean>(() => {});

/** Moves one grip. The others are written where they are, or they would go along with it. */
function move(all: readonly GripPlace[], grip: GripPlace, x: number, y: number, gather: string): void {
  const others = all.filter((g) => g.terminal !== grip.terminal && !g.stated);
  const edits = [
    { path: grip.path, value: placeText(x, y) },
    ...others.map((g) => ({ path: g.path, value: placeText(g.x_mm, g.y_mm) })),
  ];
  sending.ask(() => set(edits, `grip ${grip.terminal}`, gather));
}

/** Gives the place back to the program: above its terminal. */
export function release(grips: GripPlace[]): void {
  void set(grips.map((g) => ({ path: g.path, value: null })), "grips back to their terminals");
}

/** Where a grip is held while the program has not answered yet. */
interface Held {
  terminal: string;
  x: number;
  y: number;
  gather: string;
  by_pointer: boolean;
}

/** Places are written to a tenth of a millimetre. */
const SAME_MM = 0.06;
const PATIENCE_MS = 4000;

interface Props {
  of: PlateSheet;
  failing: Set<string>;
}

export function PlateView({ of, failing }: Props) {
  const at = useRef<SVGSVGElement>(null);
  const [held, setHeld] = useState<Held | null>(null);
  useEffect(() => {
    // Shown where the hand put it until the program's plate says the same, or has had time to say otherwise.
    const g = of.grips.find((it) => it.terminal === held?.terminal);
    if (!held || held.by_pointer) return;
    if (g && Math.abs(g.x_mm - held.x) < SAME_MM && Math.abs(g.y_mm - held.y) < SAME_MM) setHeld(null);
    const timer = setTimeout(() => setHeld(null), PATIENCE_MS);
    return () => clearTimeout(timer);
  }, [of, held]);
  const corners = [...of.outline, ...(of.face?.outline ?? []).map((v) => ({ x_mm: v.x_mm, y_mm: v.y_mm }))];
  const box = boxOf(corners, 8);
  const toMm = (e: PointerEvent): [number, number] => {
    const m = at.current?.getScreenCTM()?.inverse();
    if (!m) return [0, 0];
    const p = new DOMPoint(e.clientX, e.clientY).matrixTransform(m);
    return [p.x, -p.y];
  };
  return (
    <svg class="plate-view" ref={at} viewBox={box.join(" ")} aria-label={`Plate of ${of.port}, seen from outside`} role="group">
      <g transform="scale(1 -1)">
        {of.face?.outline && <path class="land" d={pathOfCorners(of.face.outline)} />}
        <path class="edge" d={pathOfCorners(of.outline)} />
        {of.face?.opening && <path class="opening" d={pathOfCorners(of.face.opening)} />}
        {of.groove && <path class="ring" d={pathOfCorners(of.groove.middle)} stroke-width={of.groove.width_mm} />}
        {of.holes.map((h) => (
          <circle key={h.name} class="hole" cx={h.x_mm} cy={h.y_mm} r={h.diameter_mm / 2}>
            <title>{h.name}</title>
          </circle>
        ))}
        {(of.face?.terminals ?? []).map((t) => (
          <path key={t.name} class="terminal-mark" d={`M${t.x_mm - 3} ${t.y_mm}h6M${t.x_mm} ${t.y_mm - 3}v6`} />
        ))}
      </g>
      {of.grips.map((g) => {
        const mine = held?.terminal === g.terminal ? held : null;
        const [x, y] = mine ? [mine.x, mine.y] : [g.x_mm, g.y_mm];
        return (
          <Grip key={g.terminal} of={g} x={x} y={y} fails={failing.has(g.terminal)}
            down={(e) => {
              e.currentTarget instanceof Element && e.currentTarget.setPointerCapture(e.pointerId);
              setHeld({ terminal: g.terminal, x, y, gather: `drag-${g.terminal}-${e.timeStamp}`, by_pointer: true });
            }}
            moved={(e) => {
              if (!mine?.by_pointer) return;
              const [mx, my] = toMm(e);
              setHeld({ ...mine, x: mx, y: my });
              move(of.grips, g, mx, my, mine.gather);
            }}
            up={() => setHeld(mine ? { ...mine, by_pointer: false } : null)}
            key_by={(dx, dy) => {
              const gather = `keys-${g.terminal}`;
              setHeld({ terminal: g.terminal, x: x + dx, y: y + dy, gather, by_pointer: false });
              move(of.grips, g, x + dx, y + dy, gather);
            }} />
        );
      })}
    </svg>
  );
}

interface GripProps {
  of: GripPlace;
  x: number;
  y: number;
  fails: boolean;
  down: (e: PointerEvent) => void;
  moved: (e: PointerEvent) => void;
  up: () => void;
  key_by: (dx: number, dy: number) => void;
}

function Grip({ of: g, x, y, fails, down, moved, up, key_by }: GripProps) {
  const corners = g.corners_mm ?? (g.thread_mm ?? 12) * 1.2;
  return (
    <g class={`grip-place${fails ? " of-fails" : ""}`} tabindex={0} role="button" data-grip={g.terminal}
      aria-label={`Grip of ${g.terminal} at ${placeText(g.x_mm, g.y_mm)}. Arrow keys move it by half a millimetre, with Shift by five`}
      onPointerDown={down} onPointerMove={moved} onPointerUp={up} onPointerCancel={up}
      onKeyDown={(e) => {
        const by = e.shiftKey ? 5 : 0.5;
        const way = { ArrowLeft: [-by, 0], ArrowRight: [by, 0], ArrowUp: [0, by], ArrowDown: [0, -by] }[e.key];
        if (!way) return;
        key_by(way[0] ?? 0, way[1] ?? 0);
        e.preventDefault();
      }}>
      <path d={hexagon(x, -y, corners)} />
      {g.thread_mm !== null && <circle cx={x} cy={-y} r={g.thread_mm / 2} />}
      <text x={x} y={-y} dy="0.35em" text-anchor="middle">
        {g.terminal}
      </text>
    </g>
  );
}

/** The same in numbers. */
export function GripNumbers({ of }: { of: GripPlace[] }) {
  return (
    <div class="grip-numbers">
      {of.map((g) => (
        <label key={g.terminal} class="row">
          <b>{g.terminal}</b>
          <input aria-label={`Place of the grip of ${g.terminal}, x and y`} defaultValue={placeText(g.x_mm, g.y_mm)} key={placeText(g.x_mm, g.y_mm)} size={18}
            onKeyDown={(e) => { if (e.key === "Enter") void set([{ path: g.path, value: e.currentTarget.value }], `grip ${g.terminal}`); }} />
          <span class="quiet">{g.stated ? "as written" : "above its terminal"}</span>
        </label>
      ))}
      <div>
        <button type="button" disabled={!of.some((g) => g.stated)} onClick={() => release(of.filter((g) => g.stated))}>
          Back above the terminals
        </button>
      </div>
    </div>
  );
}

