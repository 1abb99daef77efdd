//! How the height of a strip is shared: temperature, tape, flags, the run to scale, measures. Pure.

export const TAPE = 18;
export const FLAGS = 15;
export const ROW = 19;
/** Below this no curve can be read. */
const HEAT_LEAST = 34;
const BODY_LEAST = 24;

export interface Shares {
  heat: number;
  tape: number;
  /** Rows of measures. */
  rows: number;
  /** Where the run begins, and its height. */
  top: number;
  body: number;
}

/** The run itself comes first, as tall as it is (`run_px`); then tape, measures and temperature, each only where it has room. */
export function shares(height: number, run_px: number, rows: number, heated: boolean): Shares {
  const all = height - FLAGS;
  let spare = all - Math.min(Math.max(BODY_LEAST, run_px), all);
  const tape = spare >= TAPE ? TAPE : 0;
  spare -= tape;
  const shown = Math.max(0, Math.min(rows, height < 165 ? 1 : 2, Math.floor(spare / ROW)));
  spare -= shown * ROW;
  const half = Math.round((all - tape - shown * ROW) * 0.48);
  const heat = heated && Math.min(spare, half) >= HEAT_LEAST ? Math.min(spare, half) : 0;
  return { heat, tape, rows: shown, top: heat + tape + FLAGS, body: Math.max(BODY_LEAST, all - tape - shown * ROW - heat) };
}
