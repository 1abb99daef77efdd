//! Figures: every calculator with its source, and its main output over one of its inputs.
import { signal } from "@preact/signals";
import { lazy, Suspense } from "preact/compat";
import { useEffect, useMemo, useRef, useState } from "preact/hooks";
import { get, post } from "../api.ts";
import { say } from "../bench.ts";
import { Latest } from "../latest.ts";
import { Working } from "../parts/Working.tsx";
import { rounded } from "../show.ts";
import type { Figure, FigureAnswer, Input, Sweep } from "../wire.ts";

const Chart = lazy(() => import("../chart.tsx").then((m) => m.Chart));
const figures = signal<Figure[]>([]);
const open = signal<string | null>(null);
const words = signal("");
/** What was written into each figure, kept while the page lives. */
const written = signal<Record<string, Record<string, string>>>({});

export function FiguresSheet() {
  useEffect(() => {
    if (figures.value.length === 0) get<Figure[]>("/api/figures").then((all) => { figures.value = all; }, say);
  }, []);
  const asked = words.value.toLowerCase().trim();
  const shown = figures.value.filter((f) => `${f.figure} ${f.purpose}`.toLowerCase().includes(asked));
  const now = figures.value.find((f) => f.figure === open.value) ?? shown[0];
  return (
    <div class="two-panes">
      <nav class="pane-list" aria-label="Figures">
        <input type="search" aria-label="Look for a figure" placeholder={`Look among ${figures.value.length} figures`} value={words.value} onInput={(e) => { words.value = e.currentTarget.value; }} />
        <ul>
          {shown.map((f) => (
            <li key={f.figure}>
              <button type="button" aria-pressed={f === now} onClick={() => { open.value = f.figure; }}>
                {f.figure}
                <span class="quiet">{f.purpose}</span>
              </button>
            </li>
          ))}
        </ul>
      </nav>
      <div class="pane">{now && <OneFigure key={now.figure} of={now} />}</div>
    </div>
  );
}

const exampleOf = (f: Figure): Record<string, string> =>
  Object.fromEntries(Object.entries(f.example).map(([k, v]) => [k, typeof v === "string" ? v : JSON.stringify(v)]));

function OneFigure({ of: f }: { of: Figure }) {
  const start = useMemo(() => exampleOf(f), [f]);
  const given = written.value[f.figure] ?? start;
  const [answer, setAnswer] = useState<FigureAnswer | null>(null);
  const latest = useRef(new Latest<FigureAnswer>(setAnswer, say));
  const clean = useMemo(() => Object.fromEntries(Object.entries(given).filter(([, v]) => v.trim() !== "")), [given]);
  useEffect(() => latest.current.ask(() => post<FigureAnswer>(`/api/figures/${f.figure}`, { given: clean })), [clean, f]);
  const put = (name: string, value: string) => {
    written.value = { ...written.value, [f.figure]: { ...given, [name]: value } };
  };
  return (
    <section class="figure" aria-label={f.figure}>
      <h2>{f.figure}</h2>
      <p>{f.purpose}</p>
      <div class="figure-desk">
        <form onSubmit={(e) => e.preventDefault()}>
          {f.inputs.map((i) => (
            <Field key={i.name} of={i} value={given[i.name] ?? ""} wrong={answer?.errors.find((e) => e.input === i.name)?.message ?? null} put={(v) => put(i.name, v)} />
          ))}
        </form>
        <Answered of={f} answer={answer} />
      </div>
      <Over of={f} given={clean} />
      <p class="source">Source: {f.source}</p>
    </section>
  );
}

function Field({ of: i, value, wrong, put }: { of: Input; value: string; wrong: string | null; put: (v: string) => void }) {
  const id = `in-${i.name}`;
  const long = value.length > 40;
  return (
    <div class="field-row">
      <label for={id}>
        {i.name}
        {i.needed ? "" : <span class="quiet"> may be left out</span>}
      </label>
      {long ? (
        <textarea id={id} rows={4} value={value} aria-invalid={wrong !== null} onInput={(e) => put(e.currentTarget.value)} />
      ) : (
        <input id={id} value={value} placeholder={i.default ?? ""} aria-invalid={wrong !== null} aria-describedby={`${id}-what`} onInput={(e) => put(e.currentTarget.value)} />
      )}
      <p id={`${id}-what`} class={wrong ? "of-fails" : "quiet"}>
        {wrong ?? i.what}
      </p>
    </div>
  );
}

function Answered({ of: f, answer }: { of: Figure; answer: FigureAnswer | null }) {
  const result = answer?.answer?.result as Record<string, { value: number | number[] | null; unit: string }> | undefined;
  const general = answer?.errors.filter((e) => !f.inputs.some((i) => i.name === e.input)) ?? [];
  return (
    <output class="answer" aria-live="polite">
      {general.map((e) => (
        <p key={e.message} class="of-fails">
          {e.message}
        </p>
      ))}
      {f.outputs.map((o) => {
        const found = result?.[o.name];
        const value = found?.value ?? null;
        return (
          <div key={o.name} class="out">
            <span>{o.name}</span>
            <b>{value === null ? "–" : [value].flat().map((v) => rounded(v, 4)).join(", ")}</b>
            <span>{found?.unit ?? o.unit}</span>
            <small class="quiet">{o.what}</small>
          </div>
        );
      })}
      {answer?.answer?.notes.map((n) => (
        <p key={n} class="note">
          {n}
        </p>
      ))}
    </output>
  );
}

/** The outputs over one input, half to twice of what is given. */
function Over({ of: f, given }: { of: Figure; given: Record<string, string> }) {
  const now = (i: Input) => given[i.name] ?? i.default ?? "";
  // A number with or without a unit can be swept; sizes and threads go in steps of their own.
  const can = f.inputs.filter((i) => /^-?[\d.]/.test(now(i)) && !/AWG|kcmil|mm2|\//i.test(now(i)));
  const [input, setInput] = useState<string | null>(null);
  const [output, setOutput] = useState<string | null>(null);
  const [sweep, setSweep] = useState<Sweep | null>(null);
  const latest = useRef(new Latest<Sweep>(setSweep, () => setSweep(null)));
  const over = can.find((i) => i.name === input) ?? can[0];
  useEffect(() => {
    if (over) latest.current.ask(() => post<Sweep>(`/api/figures/${f.figure}/sweep`, { given: { ...given, [over.name]: now(over) }, input: over.name, count: 60 }));
    else setSweep(null);
  }, [f, given, over?.name]);
  // Until one is asked for, the first that the input moves at all.
  const moves = sweep?.outputs.find((o) => o.values.some((v) => v !== null && v !== o.values[0]));
  const line = sweep?.outputs.find((o) => o.name === output) ?? moves ?? sweep?.outputs[0];
  const lines = useMemo(() => (line ? [{ name: line.name, values: line.values, ink: "--blue" }] : []), [line]);
  if (!over) return null;
  return (
    <div class="over-one">
      <div class="row">
        <label>
          Show{" "}
          <select value={line?.name ?? ""} onChange={(e) => setOutput(e.currentTarget.value)}>
            {sweep?.outputs.map((o) => (
              <option key={o.name}>{o.name}</option>
            ))}
          </select>
        </label>
        <label>
          over{" "}
          <select value={over.name} onChange={(e) => setInput(e.currentTarget.value)}>
            {can.map((i) => (
              <option key={i.name}>{i.name}</option>
            ))}
          </select>
        </label>
      </div>
      {sweep && line?.values.some((v) => v !== null) ? (
        <Suspense fallback={<Working what="Drawing" />}>
          <Chart what={`${line.name} over ${over.name}`} x={sweep.at} x_name={`${over.name}, ${sweep.unit}`} y_name={line.unit ? `${line.name}, ${line.unit}` : line.name} lines={lines} />
        </Suspense>
      ) : (
        <p class="quiet">{sweep?.errors[0]?.message ?? "No line to draw over this input"}</p>
      )}
    </div>
  );
}
