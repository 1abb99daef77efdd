//! A value against its limit, as a rule with two marks. Where on the rule is a matter of drawing, not of judging.
import { show, type System } from "../show.ts";
import type { Verdict } from "../wire.ts";

interface Judged {
  verdict: Verdict;
  value: number | null;
  limit: number | null;
  unit: string | null;
  judged?: string | null;
}

export function Gauge({ of, system }: { of: Judged; system: System }) {
  const { value, limit, unit } = of;
  if (value === null && limit === null) return null;
  const said = of.judged ?? `${show(value, unit ?? "", system)}, limit ${show(limit, unit ?? "", system)}`;
  if (value === null || limit === null) return <p class="gauge">{said}</p>;
  return (
    <div class="gauge">
      <div class="words">{said}</div>
      <Rule value={value} limit={limit} verdict={of.verdict} />
    </div>
  );
}

/** Both marks on one rule from nought, or from the lesser where one is below. */
export function Rule({ value, limit, verdict }: { value: number; limit: number; verdict: Verdict }) {
  const low = Math.min(0, value, limit);
  const high = Math.max(value, limit, 1e-12);
  const x = (v: number) => 2 + (92 * (v - low)) / (high - low || 1);
  return (
    <svg class={`rule of-${verdict}`} viewBox="0 0 100 8" preserveAspectRatio="none" aria-hidden="true">
      <path d="M2 4h96" stroke="var(--line-2)" stroke-width="1" vector-effect="non-scaling-stroke" />
      <path d={`M${x(Math.max(0, low))} 4H${x(value)}`} stroke="currentColor" stroke-width="5" vector-effect="non-scaling-stroke" />
      <path d={`M${x(limit)} 0v8`} stroke="var(--ink)" stroke-width="2" vector-effect="non-scaling-stroke" />
    </svg>
  );
}
