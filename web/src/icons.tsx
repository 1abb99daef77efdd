//! The bench's own marks. Verdicts differ in shape as well as in colour.
import type { JSX } from "preact";
import type { SheetName } from "./place.ts";
import type { Verdict } from "./wire.ts";

export const VERDICT_WORDS: Record<Verdict, string> = {
  fails: "fails",
  unknown: "unknown",
  close: "close",
  holds: "holds",
};

/** A verdict as a sentence. */
export const VERDICT_SAID: Record<Verdict, string> = {
  fails: "Something fails",
  unknown: "Something is not known yet",
  close: "Nothing fails, some limits are close",
  holds: "Everything holds",
};

const GLYPHS: Record<Verdict, JSX.Element> = {
  // A filled square, crossed.
  fails: (
    <g>
      <rect x="1" y="1" width="14" height="14" fill="currentColor" />
      <path d="M4.5 4.5l7 7M11.5 4.5l-7 7" stroke="var(--sheet)" stroke-width="2" />
    </g>
  ),
  // A gap that has not been measured.
  unknown: (
    <g fill="none" stroke="currentColor" stroke-width="2">
      <circle cx="8" cy="8" r="6.5" stroke-dasharray="3 2.1" />
      <path d="M6 6.3c0-2.6 4.2-2.6 4.2 0 0 1.5-2.1 1.5-2.1 3.2M8.1 11v1.6" stroke-width="1.6" />
    </g>
  ),
  // A jaw nearly shut on its limit.
  close: (
    <g>
      <path d="M1 1.5h14v5H1z" fill="none" stroke="currentColor" stroke-width="2" />
      <path d="M0 9h16v6H0z" fill="currentColor" />
    </g>
  ),
  // A ring with a seat in it.
  holds: (
    <g fill="none" stroke="currentColor" stroke-width="2">
      <circle cx="8" cy="8" r="6.5" />
      <path d="M4.6 8.4l2.4 2.4 4.4-5.2" />
    </g>
  ),
};

export function Glyph({ of, small }: { of: Verdict; small?: boolean }) {
  return (
    <svg class={`glyph of-${of}`} viewBox="0 0 16 16" role="img" aria-label={VERDICT_WORDS[of]} style={small ? "width:12px;height:12px" : ""}>
      {GLYPHS[of]}
    </svg>
  );
}

/** Paths on a 20 x 20 field, drawn with one pen. */
const PATHS: Record<string, string> = {
  heat: "M2 17h16M3 13c3 0 3-8 6-8s3 5 5 5 2-2 4-2M3 3h14",
  ends: "M1 8h6v4H1M7 7h4v6H7M11 8.5h5a2.5 2.5 0 010 3h-5M14.8 10h.1",
  plates: "M3 4h14v12H3zM7.5 10a2 2 0 104 0 2 2 0 10-4 0M14 6.5h.1M14 13.5h.1M5.2 6.5h.1M5.2 13.5h.1",
  kit: "M2 6l8-3 8 3v9l-8 3-8-3zM2 6l8 3 8-3M10 9v9",
  steps: "M3 16h4v-4h4V8h4V4h3M3 16v2M3 4h6M3 7h3",
  trials: "M3 15a7 7 0 0114 0M10 15l3.5-6M1.5 15h17M10 6v2",
  book: "M10 5c-2-1.6-5-1.6-8-1v12c3-.6 6-.6 8 1 2-1.6 5-1.6 8-1V4c-3-.6-6-.6-8 1zM10 5v12",
  figures: "M3 17V3M3 17h14M6 14c3-1 5-4 6-9M9 3h3v3",
  shelf: "M2 3v15M18 3v15M2 9h16M2 16h16M5 9V5h3v4M11 9V4h4v5M5 16v-4h5v4M13 16v-3h2v3",
  text: "M3 4h14M3 8h9M3 12h12M3 16h7",
  undo: "M4 8h8a4 4 0 010 8H8M4 8l4-4M4 8l4 4",
  redo: "M16 8H8a4 4 0 000 8h4M16 8l-4-4M16 8l-4 4",
  light: "M10 3v2M10 15v2M3 10h2M15 10h2M5 5l1.5 1.5M13.5 13.5L15 15M5 15l1.5-1.5M13.5 6.5L15 5M7 10a3 3 0 106 0 3 3 0 10-6 0",
  units: "M2 7h16v6H2zM5 7v3M8 7v2M11 7v3M14 7v2M17 7v3",
  keys: "M2 6h16v9H2zM5 9h.1M8 9h.1M11 9h.1M14 9h.1M6 12h8",
  print: "M5 8V3h10v5M5 14H3V8h14v6h-2M5 12h10v5H5z",
  whole: "M2 10h16M2 10l3-3M2 10l3 3M18 10l-3-3M18 10l-3 3M2 4v12M18 4v12",
  nearer: "M10 4v12M4 10h12",
  further: "M4 10h12",
  from: "M3 4v12M3 10h12M7 6l-4 4 4 4",
  to: "M17 4v12M17 10H5M13 6l4 4-4 4",
  close: "M5 5l10 10M15 5L5 15",
  down: "M4 7l6 6 6-6",
  line: "M3 5h14M3 10h8M3 15h11M15 9l3 3-3 3",
};

export function Icon({ name }: { name: keyof typeof PATHS | SheetName }) {
  return (
    <svg class="icon" viewBox="0 0 20 20" aria-hidden="true">
      <path d={PATHS[name]} />
    </svg>
  );
}
