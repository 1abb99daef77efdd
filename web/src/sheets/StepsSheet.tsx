//! Steps: what the assembler does, in order, to read and to print.
import { signal } from "@preact/signals";
import { plan } from "../bench.ts";
import { belongs, chosen, placeWords } from "../chosen.ts";
import { Icon } from "../icons.tsx";
import { show } from "../show.ts";
import type { Step } from "../wire.ts";

const oneByOne = signal(false);
const at = signal(0);

export function StepsSheet() {
  const p = plan.value;
  if (!p) return null;
  const place = chosen.value;
  const here = place ? p.steps.filter((s) => belongs(s.about, place)) : p.steps;
  const steps = here.length > 0 ? here : p.steps;
  const numbers = new Map(p.steps.map((s, i) => [s.id, i + 1]));
  const now = Math.min(at.value, steps.length - 1);
  const one = steps[now];
  return (
    <>
      <div class="row spread no-print">
        <p class="sums">
          <b>{steps.length}</b> {steps.length === p.steps.length ? "steps" : `of ${p.steps.length} steps, at ${placeWords(place ?? { run: null, cable: null, port: null })}`}
        </p>
        <div class="row">
          <button type="button" aria-pressed={oneByOne.value} onClick={() => { oneByOne.value = !oneByOne.value; }}>
            One at a time
          </button>
          <button type="button" onClick={() => { oneByOne.value = false; requestAnimationFrame(() => print()); }}>
            <Icon name="print" /> Print
          </button>
        </div>
      </div>
      {oneByOne.value && one ? (
        <div class="one-step">
          <OneStep of={one} number={numbers.get(one.id) ?? 0} numbers={numbers} />
          <div class="row spread">
            <button type="button" class="big" disabled={now === 0} onClick={() => { at.value = now - 1; }}>
              Before
            </button>
            <span aria-live="polite">
              {now + 1} of {steps.length}
            </span>
            <button type="button" class="big main" disabled={now >= steps.length - 1} onClick={() => { at.value = now + 1; }}>
              Next
            </button>
          </div>
        </div>
      ) : (
        <Groups of={steps} numbers={numbers} />
      )}
    </>
  );
}

/** Steps under the place they are done at, as long as they follow one another. */
function Groups({ of, numbers }: { of: Step[]; numbers: Map<string, number> }) {
  const groups: { place: string; steps: Step[] }[] = [];
  for (const s of of) {
    const last = groups[groups.length - 1];
    if (last && last.place === s.place) last.steps.push(s);
    else groups.push({ place: s.place, steps: [s] });
  }
  return (
    <>
      {groups.map((g) => (
        <section key={g.steps[0]?.id} class="step-group">
          <h2>At the {g.place}</h2>
          <ol>
            {g.steps.map((s) => (
              <li key={s.id}>
                <OneStep of={s} number={numbers.get(s.id) ?? 0} numbers={numbers} />
              </li>
            ))}
          </ol>
        </section>
      ))}
    </>
  );
}

function OneStep({ of: s, number, numbers }: { of: Step; number: number; numbers: Map<string, number> }) {
  const after = s.after.map((id) => numbers.get(id)).filter((n): n is number => n !== undefined);
  return (
    <article class="step" aria-label={`Step ${number}, ${s.title}`}>
      <div class="number">{number}</div>
      <div>
        <h3>{s.title}</h3>
        {s.caution && <p class="note">{s.caution}</p>}
        {s.text.map((t) => (
          <p key={t}>{t}</p>
        ))}
        {s.why && <p class="quiet">{s.why}</p>}
      </div>
      <dl>
        {s.torque_nm !== null && (
          <div class="torque">
            <dt>Torque</dt>
            <dd>
              {show(s.torque_nm, "N m", "metric")}
              <span class="quiet"> {show(s.torque_nm, "N m", "us")}</span>
            </dd>
          </div>
        )}
        {s.parts.length > 0 && (
          <div>
            <dt>Parts</dt>
            <dd>{s.parts.map((p) => `${p.count} × ${p.part}`).join(", ")}</dd>
          </div>
        )}
        {s.tools.length > 0 && (
          <div>
            <dt>Tools</dt>
            <dd>{s.tools.join(", ")}</dd>
          </div>
        )}
        {after.length > 0 && (
          <div>
            <dt>After</dt>
            <dd>{after.join(", ")}</dd>
          </div>
        )}
      </dl>
    </article>
  );
}

