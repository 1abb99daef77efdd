//! Trials: what has to be shown before it is energised, to read and to print with room for the reading.
import { plan } from "../bench.ts";
import { belongs, chosen, placeWords } from "../chosen.ts";
import { Icon } from "../icons.tsx";
import { show } from "../show.ts";
import { systemOf } from "../strip/Strip.tsx";
import type { Trial, When } from "../wire.ts";

const WHENS: [When, string][] = [
  ["bench", "At the bench, each cable by itself"],
  ["laid", "Laid in the vehicle"],
  ["fitted", "Landed on their devices, nothing energised"],
  ["first_power", "At first power"],
  ["first_drive", "At the first drive"],
];

export function TrialsSheet() {
  const p = plan.value;
  if (!p) return null;
  const place = chosen.value;
  const here = place ? p.trials.filter((t) => belongs(t.about, place)) : p.trials;
  const trials = here.length > 0 ? here : p.trials;
  return (
    <>
      <div class="row spread no-print">
        <p class="sums">
          <b>{trials.length}</b> {trials.length === p.trials.length ? "trials" : `of ${p.trials.length} trials, at ${placeWords(place ?? { run: null, cable: null, port: null })}`}
        </p>
        <button type="button" onClick={() => print()}>
          <Icon name="print" /> Print
        </button>
      </div>
      {WHENS.map(([when, words]) => {
        const of = trials.filter((t) => t.when === when);
        return of.length === 0 ? null : (
          <section key={when} class="step-group">
            <h2>{words}</h2>
            <ul>
              {of.map((t) => (
                <li key={t.id}>
                  <OneTrial of={t} />
                </li>
              ))}
            </ul>
          </section>
        );
      })}
    </>
  );
}

function OneTrial({ of: t }: { of: Trial }) {
  const source = plan.value?.sources.find((s) => s.key === t.source)?.title ?? t.source;
  return (
    <article class="trial" aria-label={t.what}>
      <div>
        <h3>{t.what}</h3>
        {t.caution && <p class="note">{t.caution}</p>}
        <p>{t.connect}</p>
        <p class="source">{source}</p>
      </div>
      <div class="limit">
        <div class={t.rule === "unknown" ? "of-unknown" : ""}>{limitOf(t)}</div>
        <div class="reading" aria-hidden="true">
          reading <span />
        </div>
      </div>
    </article>
  );
}

function limitOf(t: Trial): string {
  const system = systemOf();
  const one = show(t.limit, t.unit ?? "", system);
  switch (t.rule) {
    case "at_most":
      return `at most ${one}`;
    case "at_least":
      return `at least ${one}`;
    case "between":
      return `${one} to ${show(t.limit_upper, t.unit ?? "", system)}`;
    default:
      return t.words ?? "seen";
  }
}
