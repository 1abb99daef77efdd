//! Heat: along the run and over time, what it can carry and for how long, what the answer hangs on, and sliders over it.
import { signal } from "@preact/signals";
import { lazy, Suspense } from "preact/compat";
import { inAddress } from "../../api.ts";
import { build, plan, planOf, strips } from "../../bench.ts";
import { chosen } from "../../chosen.ts";
import { Picture } from "../../parts/Picture.tsx";
import { Working } from "../../parts/Working.tsx";
import { onAxis, show, shownUnit } from "../../show.ts";
import { systemOf } from "../../strip/Strip.tsx";
import type { Along, Bound, Course, Heat, Protection, Run } from "../../wire.ts";
import type { ChartOf } from "../../curves.ts";
import { alongChart, coordinationChart, linkCharts, overTime, ratingsChart } from "./charts.ts";
import { Sliders, supposed } from "./Sliders.tsx";

const Chart = lazy(() => import("../../chart.tsx").then((m) => m.Chart));
const wanted = signal<string | null>(null);

export function HeatSheet() {
  const p = plan.value;
  if (!p) return null;
  const run = p.runs.find((r) => r.id === (chosen.value?.run ?? wanted.value)) ?? p.runs[0];
  if (!run) return <p class="quiet">No run yet, so nothing gets warm</p>;
  return (
    <>
      <div class="row spread">
        <div class="row" role="group" aria-label="Run">
          {p.runs.map((r) => (
            <button key={r.id} type="button" aria-pressed={r === run} onClick={() => { wanted.value = r.id; chosen.value = null; }}>
              {r.id}
            </button>
          ))}
        </div>
        <Numbers of={run} />
      </div>
      <div class="heat-desk">
        <div class="charts">
          {run.heat ? <Charts of={run} heat={run.heat} /> : <p class="note unknown">No temperature yet: the findings say what is missing</p>}
          {run.heat?.along && <Ratings of={run.heat.along} />}
          <Trail of={run} />
        </div>
        <div class="heat-side">
          <Sliders run={run.id} />
          {run.heat?.along && <HangsOn of={run.heat.along} steady={run.heat.conductor_c} />}
        </div>
      </div>
      {p.protection?.run === run.id && <Guarded of={p.protection} />}
      {run.duty && p.duty && (
        <div class="heat-pictures">
          <Driven of={p.duty} />
        </div>
      )}
    </>
  );
}

function Numbers({ of: run }: { of: Run }) {
  const s = systemOf();
  const h = run.heat;
  const facts: [string, string][] = h
    ? [
        ["current", show(h.current_a_rms, "A", s)],
        ["rated", show(h.rating_a, "A", s)],
        ["conductor", show(h.conductor_c, "degC", s)],
        ["limit", show(h.limit_c, "degC", s)],
        ["drop", show(run.drop_v, "V", s)],
        ["loss", show(run.loss_w, "W", s)],
      ]
    : [];
  return (
    <dl class="numbers">
      {facts.map(([name, value]) => (
        <div key={name}>
          <dt>{name}</dt>
          <dd>{value}</dd>
        </div>
      ))}
    </dl>
  );
}

function Charts({ of: run, heat }: { of: Run; heat: Heat }) {
  const s = systemOf();
  const strip = strips.value?.strips.find((x) => x.run === run.id)?.heat ?? null;
  const ghost = supposed.value?.strips?.strips.find((x) => x.run === run.id)?.heat ?? null;
  const along = strip && alongChart(strip, ghost, s);
  const time = overTime(run, heat, s);
  const ratings = heat.along && ratingsChart(heat.along, heat, s);
  return (
    <Suspense fallback={<Working what="Drawing" />}>
      {along && <One title="Along the run" of={along} height={250} />}
      {time.map((t) => (
        <One key={t.title} title={t.title} of={t} height={220} />
      ))}
      {ratings && <One title="How much, for how long" of={ratings} height={240} />}
    </Suspense>
  );
}

/** Fuse and cable over each other, and the link as it is charged and discharged. */
function Guarded({ of: protection }: { of: Protection }) {
  const s = systemOf();
  const guarded = protection.coordination && coordinationChart(protection.coordination, s);
  return (
    <div class="guarded">
      <Suspense fallback={<Working what="Drawing" />}>
        {guarded && <One title="Fuse and cable together" of={guarded} height={400} />}
        {linkCharts(protection, s).map((t) => (
          <One key={t.title} title={t.title} of={t} height={200} />
        ))}
      </Suspense>
    </div>
  );
}

/** What the currents follow from: the drive over time, and the motor within its limits. */
function Driven({ of: duty }: { of: Course }) {
  const main = duty.stretches.find((d) => d.repeats);
  return (
    <>
      {main && <Drawn title="The drive" name={`duty-${main.name}`} what={`Speed and currents over ${main.name}`} />}
      {duty.reach.length > 0 && <Drawn title="The motor within its limits" name="operating" what="Torque and speed of the motor within its limits" />}
    </>
  );
}

/** A drawing of the program's, as wide as its words need. */
function Drawn({ title, name, what }: { title: string; name: string; what: string }) {
  const src = `/api/builds/${inAddress(build.value ?? "")}/drawings/${encodeURIComponent(name)}.svg`;
  return (
    <section>
      <h3>{title}</h3>
      <Picture src={src} of={planOf.value ?? 0} what={what} />
    </section>
  );
}

function One({ title, of, height }: { title: string; of: ChartOf; height: number }) {
  return (
    <section>
      <h3>{title}</h3>
      <Chart {...of} height={height} />
    </section>
  );
}

/** What is assumed, each with how far the answer moves between its bounds. */
function HangsOn({ of: along, steady }: { of: Along; steady: number | null }) {
  const s = systemOf();
  const parts = along.band.parts;
  const all = parts.flatMap((b) => [b.low_c, b.high_c]).filter((v): v is number => v !== null);
  if (all.length === 0) return null;
  const [low, high] = [Math.min(...all), Math.max(...all)];
  return (
    <section>
      <h3>What the answer hangs on</h3>
      <p class="quiet">
        The conductor lies between {show(along.band.low_c, "degC", s)} and {show(along.band.high_c, "degC", s)} over all of it together
      </p>
      <ul class="bounds">
        {parts.map((b) => (
          <BoundBar key={b.what} of={b} low={low} high={high} steady={steady} />
        ))}
      </ul>
    </section>
  );
}

function BoundBar({ of: b, low, high, steady }: { of: Bound; low: number; high: number; steady: number | null }) {
  const x = (c: number) => (100 * (c - low)) / (high - low || 1);
  const s = systemOf();
  return (
    <li>
      <div class="row spread">
        <span>{b.what}</span>
        <span class="quiet">{b.between.join(" to ")}</span>
      </div>
      {b.low_c !== null && b.high_c !== null && (
        <>
          <svg viewBox="0 0 100 10" preserveAspectRatio="none" aria-hidden="true">
            <path class="base" d="M0 5H100" />
            <path class="span" d={`M${x(b.low_c)} 5H${x(b.high_c)}`} />
            {steady !== null && <path class="now" d={`M${x(steady)} 0v10`} />}
          </svg>
          <div class="row spread small">
            <span>{show(b.low_c, "degC", s)}</span>
            <span>{show(b.high_c, "degC", s)}</span>
          </div>
        </>
      )}
    </li>
  );
}

/** Ratings in one unit, so that the column can be run down with the eye. */
function Ratings({ of: along }: { of: Along }) {
  const s = systemOf();
  const unit = shownUnit("A", s);
  const said = (a: number | null) => (a === null ? "" : onAxis(a, unit).toFixed(a < 100 ? 1 : 0));
  return (
    <table>
      <caption>What it can carry</caption>
      <thead>
        <tr>
          <th scope="col">For</th>
          <th scope="col" class="right">From cold, {unit.unit}</th>
          <th scope="col" class="right">From warm, {unit.unit}</th>
        </tr>
      </thead>
      <tbody>
        {along.ratings.map((r) => (
          <tr key={String(r.seconds)}>
            <th scope="row">{r.seconds === null ? "ever" : show(r.seconds, "s", s)}</th>
            <td class="right">{said(r.cold_a)}</td>
            <td class="right">{said(r.warm_a)}</td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}

function Trail({ of: run }: { of: Run }) {
  if (run.settle_trail.length === 0) return null;
  return (
    <section>
      <h3>How the size was settled</h3>
      <ol class="trail">
        {run.settle_trail.map((t) => (
          <li key={t.to}>
            {t.from} to <b>{t.to}</b>
            <div class="quiet small">{t.because}</div>
          </li>
        ))}
      </ol>
    </section>
  );
}

