//! The slip of findings: the verdict, how many came out how, and each of them, worst first.
import { signal } from "@preact/signals";
import { useEffect, useRef } from "preact/hooks";
import { choose, plan, planned } from "../bench.ts";
import { belongs, chosen, placeWords } from "../chosen.ts";
import { Glyph, Icon, VERDICT_SAID } from "../icons.tsx";
import { systemOf } from "../strip/Strip.tsx";
import { leadTo } from "../sheets/lead.ts";
import type { Gone, Mistake, Notice, Planned, Verdict } from "../wire.ts";
import { Gauge } from "./Gauge.tsx";
import { Workings } from "./Workings.tsx";
import { showLine } from "./lines.ts";

/** Which verdict is listed; null lists all but what holds. */
const only = signal<Verdict | null>(null);
const opened = signal<string | null>(null);

const ALL: Verdict[] = ["fails", "unknown", "close", "holds"];
const CHANGE_SAID: Record<Notice["change"], string> = {
  same: "",
  new: "new",
  worse: "worse",
  better: "better",
  moved: "moved",
};

export function Slip() {
  const p = planned.value;
  if (!p) return <aside class="slip" aria-label="Findings" aria-busy="true" />;
  const place = chosen.value;
  const listed = listedOf(p, only.value);
  const here = place ? listed.filter((n) => belongs(n.about, place)) : [];
  const rest = place ? listed.filter((n) => !here.includes(n)) : listed;
  return (
    <aside class="slip" aria-label="Findings" data-of={p.of} data-version={p.version}>
      <div class="side">
        <Said of={p} />
        <fieldset class="counts">
          <legend class="hidden-words">List only</legend>
          {ALL.map((v) => (
            <button key={v} type="button" aria-pressed={only.value === v} onClick={() => { only.value = only.value === v ? null : v; }}>
              <b>
                <Glyph of={v} small /> {p.counts[v]}
              </b>
              {v}
            </button>
          ))}
        </fieldset>
      </div>
      <div class="findings" id="findings">
        {p.errors.length > 0 && <Mistakes of={p.errors} stale={p.stale} />}
        {place && (
          <div class="place">
            <span>{placeWords(place) || "here"}</span>
            <button type="button" class="bare" onClick={() => choose(null)} title="Leave this place">
              <Icon name="close" />
              <span class="hidden-words">Leave this place</span>
            </button>
          </div>
        )}
        {here.length > 0 && <List of={here} />}
        {place && here.length === 0 && <p class="head">Nothing to see to here</p>}
        {place && rest.length > 0 && <p class="head">Elsewhere</p>}
        <List of={rest} />
        {p.gone.length > 0 && <Passed of={p.gone} />}
        {listed.length === 0 && p.errors.length === 0 && (
          <p class="head">{only.value ? `Nothing ${only.value}` : "Nothing to see to. What holds is a press away, above"}</p>
        )}
      </div>
    </aside>
  );
}

function listedOf(p: Planned, verdict: Verdict | null): Notice[] {
  if (verdict !== null) return p.findings.filter((n) => n.verdict === verdict);
  return p.findings.filter((n) => n.verdict !== "holds" || n.change !== "same");
}

function Said({ of }: { of: Planned }) {
  if (of.verdict === null)
    return (
      <div class="verdict" role="status">
        <p class="word of-fails">The document cannot be read</p>
      </div>
    );
  return (
    <div class="verdict" role="status">
      <p class={`word of-${of.verdict}`}>
        <Glyph of={of.verdict} /> {VERDICT_SAID[of.verdict]}
      </p>
      <p class="quiet">{of.stale ? "As it was before the text broke" : of.for_building ? "The book carries no stamp; a licensed person has the last word" : "The book is stamped: not for building"}</p>
    </div>
  );
}

function Mistakes({ of, stale }: { of: Mistake[]; stale: boolean }) {
  return (
    <>
      <p class="head">The text cannot be read{stale ? "; what follows is of the version before" : ""}</p>
      <ul>
        {of.map((m) => (
          <li key={`${m.at.file}:${m.at.line}:${m.at.column}:${m.message}`} class="finding mistake">
            <button type="button" onClick={() => showLine(m.at)}>
              <Glyph of="fails" />
              <span>{m.message}</span>
              <span class="where">
                {m.at.file}, line {m.at.line}
                {m.hint && <> · {m.hint}</>}
              </span>
            </button>
          </li>
        ))}
      </ul>
    </>
  );
}

function List({ of }: { of: Notice[] }) {
  return (
    <ul>
      {of.map((n) => (
        <Finding key={n.id} of={n} />
      ))}
    </ul>
  );
}

function Finding({ of }: { of: Notice }) {
  const open = opened.value === of.id;
  const changed = of.change !== "same";
  const at = useRef<HTMLLIElement>(null);
  useEffect(() => {
    if (open) at.current?.scrollIntoView({ block: "nearest" });
  }, [open]);
  return (
    <li class={`finding${open ? " open" : ""}${changed ? " changed" : ""}`} ref={at} data-finding={of.code} data-verdict={of.verdict} data-change={of.change}>
      <button type="button" aria-expanded={open} onClick={() => { opened.value = open ? null : of.id; }}>
        <Glyph of={of.verdict} />
        <span>{of.message}</span>
        <span class="where">
          {changed && <span class="since">{CHANGE_SAID[of.change]} · </span>}
          {placeWords(of.about) || of.code}
        </span>
      </button>
      {open && <Inside of={of} />}
    </li>
  );
}

function Inside({ of }: { of: Notice }) {
  const place = of.about.run !== null || of.about.port !== null;
  return (
    <div class="inside">
      <Gauge of={of} system={systemOf()} />
      {of.hint && <p class="hint">{of.hint}</p>}
      <div class="row">
        {of.at && (
          <button type="button" onClick={() => of.at && showLine(of.at)}>
            <Icon name="line" /> line {of.at.line}
          </button>
        )}
        {place && (
          <button type="button" onClick={() => choose({ ...of.about })}>
            <Icon name="whole" /> on the strip
          </button>
        )}
        {place && (
          <button type="button" onClick={() => leadTo({ ...of.about })}>
            <Icon name={of.about.run ? "ends" : "plates"} /> its sheet
          </button>
        )}
      </div>
      <Workings of={of} worked={plan.value?.worked ?? null} system={systemOf()} />
    </div>
  );
}

function Passed({ of }: { of: Gone[] }) {
  return (
    <>
      <p class="head">No more since the last change</p>
      <ul>
        {of.map((g) => (
          <li key={g.id} class="finding changed">
            <div class="gone">
              <s>{g.message}</s>
            </div>
          </li>
        ))}
      </ul>
    </>
  );
}

/** Opens the next finding that does not hold, or the one before. */
export function stepFinding(by: 1 | -1): void {
  const p = planned.value;
  if (!p) return;
  const all = p.findings.filter((n) => n.verdict !== "holds");
  const now = all.findIndex((n) => n.id === opened.value);
  const next = all[(now + by + all.length) % all.length];
  if (!next) return;
  only.value = null;
  opened.value = next.id;
  if (next.about.run !== null || next.about.port !== null) choose({ ...next.about });
  requestAnimationFrame(() => document.querySelector<HTMLButtonElement>(".finding.open > button")?.focus());
}
