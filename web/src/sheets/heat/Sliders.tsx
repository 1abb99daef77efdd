//! Sliders over what is assumed or stated: what would come of it, without changing anything until it is kept.
import { signal } from "@preact/signals";
import { useEffect, useRef } from "preact/hooks";
import { get, of, post, Refused, tab } from "../../api.ts";
import { build, planOf, say, set } from "../../bench.ts";
import { Glyph } from "../../icons.tsx";
import { Latest } from "../../latest.ts";
import { rounded } from "../../show.ts";
import type { EditAsked, Knob, Knobs, Notice, WhatIf } from "../../wire.ts";

/** What would come of the sliders as they stand; null while none is moved. */
export const supposed = signal<WhatIf | null>(null);
const knobs = signal<Knob[]>([]);
/** Where the sliders stand, by knob. */
const moved = signal<Record<string, number>>({});
let turn = 0;

const ask = new Latest<WhatIf>(
  (w) => {
    supposed.value = Object.keys(moved.peek()).length === 0 ? null : w;
  },
  (error) => {
    if (!(error instanceof Refused && error.status === 409)) say(error);
  },
);

function editOf(k: Knob, value: number): EditAsked {
  const edit: EditAsked = { path: k.path, value };
  if (k.unit !== null) edit.unit = k.unit;
  if (k.file !== null) edit.file = k.file;
  return edit;
}

function edits(): EditAsked[] {
  return knobs.value.filter((k) => moved.value[k.id] !== undefined).map((k) => editOf(k, moved.value[k.id] ?? 0));
}

function slide(k: Knob, value: number): void {
  moved.value = { ...moved.value, [k.id]: value };
  const id = build.value;
  if (id === null) return;
  ask.ask(() => post<WhatIf>(of(id, "what-if"), { edits: edits(), asker: tab, turn: ++turn, brief: true }));
}

function back(): void {
  moved.value = {};
  supposed.value = null;
}

async function keep(): Promise<void> {
  const n = Object.keys(moved.value).length;
  if (await set(edits(), n === 1 ? "a slider" : `${n} sliders`)) back();
}

export function Sliders({ run }: { run: string }) {
  const id = build.value;
  const version = planOf.value ?? 0;
  const latest = useRef(new Latest<Knobs>((k) => { knobs.value = k.knobs; }, say));
  useEffect(() => {
    if (id !== null) latest.current.ask(() => get<Knobs>(of(id, "knobs")));
  }, [id, version]);
  useEffect(() => back, []);
  const here = knobs.value.filter((k) => k.run === run || k.run === null);
  if (here.length === 0) return null;
  const any = Object.keys(moved.value).length > 0;
  return (
    <section class="sliders" aria-label="What if">
      <div class="row spread">
        <h3>What if</h3>
        <div class="row">
          <button type="button" disabled={!any} onClick={back}>
            Back
          </button>
          <button type="button" class={any ? "main" : ""} disabled={!any} onClick={() => void keep()}>
            Keep it
          </button>
        </div>
      </div>
      <Outcome />
      {here.map((k) => (
        <OneSlider key={k.id} of={k} />
      ))}
    </section>
  );
}

/** What a slider says before it is moved: the program's words, unless they are in one unit alone and not the slider's. */
function asItStands(k: Knob): string {
  if (k.text === null) return "not said";
  if (k.unit === null || k.value === null || k.text.includes("(") || k.text.includes(` ${k.unit}`)) return k.text;
  return `${rounded(k.value, 4)} ${k.unit}`;
}

function OneSlider({ of: k }: { of: Knob }) {
  const at = moved.value[k.id];
  const now = at ?? k.value ?? k.least;
  const name = `knob-${k.id}`;
  const words = at === undefined ? asItStands(k) : `${rounded(at, 4)} ${k.unit ?? ""}`;
  return (
    <div class={`slider${at === undefined ? "" : " moved"}`}>
      <div class="row spread">
        <label for={name}>
          {k.what} {!k.stated && <span class="assumed">assumed</span>}
        </label>
        <output for={name}>{words}</output>
      </div>
      <input id={name} type="range" min={k.least} max={k.most} step={k.step} value={now} aria-valuetext={words} title={k.why ?? ""} onInput={(e) => slide(k, Number(e.currentTarget.value))} />
    </div>
  );
}

/** What the sliders change: verdict, and each finding that is not what it was. */
function Outcome() {
  const w = supposed.value;
  if (!w) return <p class="quiet small">Move a slider to see how far the answer moves; nothing is changed until it is kept</p>;
  const turned = w.findings.filter((n) => n.change === "new" || n.change === "worse" || n.change === "better");
  return (
    <div class="outcome" aria-live="polite">
      {w.errors.map((e) => (
        <p key={e.message} class="of-fails">
          {e.message}
        </p>
      ))}
      {w.verdict && (
        <p class={`row of-${w.verdict}`}>
          <Glyph of={w.verdict} />
          <b>
            {w.counts.fails} fail, {w.counts.unknown} unknown, {w.counts.close} close
          </b>
          <span class="quiet small">{rounded(w.took_ms, 0)} ms</span>
        </p>
      )}
      <ul>
        {turned.slice(0, 6).map((n: Notice) => (
          <li key={n.id} class="row nowrap-off">
            <Glyph of={n.verdict} small />
            <span>{n.message}</span>
          </li>
        ))}
      </ul>
      {turned.length > 6 && <p class="quiet">and {turned.length - 6} more</p>}
      {turned.length === 0 && w.errors.length === 0 && <p class="quiet small">No finding turns</p>}
    </div>
  );
}
