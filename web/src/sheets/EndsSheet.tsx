//! Ends: each end as a section to scale and as a body, every fit as a value against its limit, and what is written of it.
import { inAddress } from "../api.ts";
import { build, plan, planned, planOf } from "../bench.ts";
import { chosen } from "../chosen.ts";
import { Glyph } from "../icons.tsx";
import { Gauge } from "../parts/Gauge.tsx";
import { Keys } from "../parts/Keys.tsx";
import { Picture } from "../parts/Picture.tsx";
import { show } from "../show.ts";
import { worse } from "../strip/scene.ts";
import { systemOf } from "../strip/Strip.tsx";
import { Solid } from "../three/Solid.tsx";
import type { Cable, End, Notice, Plan, Run, Verdict } from "../wire.ts";

type Side = "from" | "to";
const SIDES: Side[] = ["from", "to"];
/** What most ends say, shown even where it is not written. */
const FIRST = ["bolt", "bolt-class", "head", "washer", "palm", "die"];

interface Place {
  run: Run;
  cable: Cable;
  side: Side;
  end: End;
}

export function EndsSheet() {
  const p = plan.value;
  if (!p || build.value === null) return null;
  const at = placeOf(p);
  if (!at) return <p class="quiet">No end yet. An end comes with a run between two ports that have terminals.</p>;
  return (
    <>
      <Which of={p} now={at} />
      <OneEnd of={at} />
    </>
  );
}

/** The chosen end, or the first of the chosen run, or the first of all. */
function placeOf(p: Plan): Place | null {
  const c = chosen.value;
  const run = p.runs.find((r) => r.id === c?.run) ?? p.runs.find((r) => r.from === c?.port || r.to === c?.port) ?? p.runs[0];
  const cable = run?.cables.find((k) => k.id === c?.cable) ?? run?.cables[0];
  if (!run || !cable) return null;
  const side: Side = c?.port === run.to && run.to !== run.from ? "to" : "from";
  const end = cable.ends[SIDES.indexOf(side)];
  return end ? { run, cable, side, end } : null;
}

/** Findings of a place, or of the whole run or port it belongs to. */
function about(n: Notice, run: string, cable: string | null, port: string | null): boolean {
  const a = n.about;
  if (a.port === null) return false;
  return (a.run === null || a.run === run) && (a.cable === null || cable === null || a.cable === cable) && a.port === port;
}

function worstOf(run: string, cable: string, port: string): Verdict | null {
  let verdict: Verdict | null = null;
  for (const n of planned.value?.findings ?? []) if (about(n, run, cable, port)) verdict = worse(verdict, n.verdict);
  return verdict;
}

function Which({ of: p, now }: { of: Plan; now: Place }) {
  return (
    <nav class="which" aria-label="Ends">
      {p.runs.map((run) =>
        SIDES.map((side) => {
          const port = side === "from" ? run.from : run.to;
          return (
            <section key={`${run.id}-${side}`}>
              <h3>
                {port} <span class="quiet">of {run.id}</span>
              </h3>
              <ul class="side-by-side">
                {run.cables.map((c) => {
                  const end = c.ends[SIDES.indexOf(side)];
                  const verdict = worstOf(run.id, c.id, port);
                  const here = now.run === run && now.cable === c && now.side === side;
                  return (
                    <li key={c.id}>
                      <button type="button" aria-pressed={here} data-end={`${run.id}/${c.id}/${side}`} onClick={() => { chosen.value = { run: run.id, cable: c.id, port }; }}>
                        {verdict && <Glyph of={verdict} small />}
                        {end?.terminal ?? c.id}
                      </button>
                    </li>
                  );
                })}
              </ul>
            </section>
          );
        }),
      )}
    </nav>
  );
}

function OneEnd({ of: at }: { of: Place }) {
  const id = build.value ?? "";
  const base = `/api/builds/${inAddress(id)}/ends/${encodeURIComponent(at.run.id)}/${encodeURIComponent(at.cable.id)}/${at.side}`;
  const words = `${at.end.port} ${at.end.terminal}`;
  return (
    <section aria-label={`End ${words}`}>
      <h2>
        {words}{" "}
        <span class="quiet">
          {at.run.id}, cable {at.cable.id}, {at.cable.conductor ?? "conductor not settled"}
        </span>
      </h2>
      <div class="end-views">
        <Picture src={`${base}.svg`} of={planOf.value ?? 0} what={`Section through the end at ${words}, to scale`} />
        <Solid src={`${base}.glb`} of={planOf.value ?? 0} what={`The end at ${words} as a body`} apart />
      </div>
      <div class="end-desk">
        <Fits of={at} />
        <div>
          <Keys path={["run", at.run.id, `${at.side}-end`]} title="As written" first={FIRST} />
          <Facts of={at.end} />
        </div>
      </div>
    </section>
  );
}

function Fits({ of: at }: { of: Place }) {
  const system = systemOf();
  const all = (planned.value?.findings ?? []).filter((n) => about(n, at.run.id, at.cable.id, at.end.port));
  return (
    <section aria-label="Fits">
      <h3>Every fit</h3>
      <ul class="fits">
        {all.map((n) => (
          <li key={n.id} class={n.change === "same" ? "" : "fresh"} data-fit={n.code} data-verdict={n.verdict}>
            <Glyph of={n.verdict} />
            <div>
              <div>{n.message}</div>
              {n.value !== null && n.limit !== null && <Gauge of={n} system={system} />}
            </div>
          </li>
        ))}
      </ul>
      {all.length === 0 && <p class="quiet">Nothing is judged here yet</p>}
    </section>
  );
}

function Facts({ of: e }: { of: End }) {
  const rows: [string, string | null][] = [
    ["lug", e.lug],
    ["strip", e.strip_mm === null ? null : both(e.strip_mm, "mm")],
    ["die, presses", e.die === null ? null : `${e.die}, ${e.presses ?? "?"}`],
    ["sleeve", e.sleeve === null ? null : `${e.sleeve}, ${both(e.sleeve_length_mm, "mm")} long`],
    ["grip", e.grip === null ? null : `${e.grip}, ${both(e.grip_torque_nm, "N m")}`],
    ["bolt", e.bolt?.name ?? null],
    ["torque", e.torque_nm === null ? null : both(e.torque_nm, "N m")],
    ["torque from", e.torque?.governed_by ?? null],
    ["lug gets", e.warm ? both(e.warm.lug_c, "degC") : null],
    ["before the lug", e.before_lug.length > 0 ? e.before_lug.join(", then ") : null],
  ];
  return (
    <table class="facts-table">
      <caption>What is settled</caption>
      <tbody>
        {rows.map(([name, value]) => (
          <tr key={name}>
            <th scope="row">{name}</th>
            <td>{value ?? <span class="of-unknown">not known</span>}</td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}

/** In the build's units, and in the others. */
function both(value: number | null, unit: string): string {
  const first = systemOf();
  const [a, b] = [show(value, unit, first), show(value, unit, first === "us" ? "metric" : "us")];
  return a === b ? a : `${a} (${b})`;
}
