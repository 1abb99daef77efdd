//! How the parts of an end are drawn apart: along the axis they are put together on. Pure.

export interface PartBox {
  name: string;
  min: readonly number[];
  max: readonly number[];
}

/** What is put on from above the terminal moves up; all else moves along the cable. */
const UPWARDS = /bolt|nut|washer|stud|screw/;

/** A way for each part, in mm, so that none covers another: parts of one axis keep their order on it. */
export function explosion(parts: readonly PartBox[]): [number, number, number][] {
  const ways: [number, number, number][] = parts.map(() => [0, 0, 0]);
  spread(parts, ways, 2, (p) => UPWARDS.test(p.name));
  spread(parts, ways, 0, (p) => !UPWARDS.test(p.name) && !p.name.startsWith("terminal"));
  return ways;
}

/** Moves the parts of one axis on until each begins where the one before it ends. */
function spread(parts: readonly PartBox[], ways: [number, number, number][], axis: 0 | 2, mine: (p: PartBox) => boolean): void {
  const order = parts
    .map((p, i) => ({ i, low: p.min[axis] ?? 0, high: p.max[axis] ?? 0, mine: mine(p) }))
    .filter((p) => p.mine)
    .sort((a, b) => a.low + a.high - (b.low + b.high));
  let free: number | null = null;
  for (const p of order) {
    const gap = 0.12 * Math.min(60, p.high - p.low) + 4;
    const by: number = free === null ? (axis === 2 ? 14 : 0) : Math.max(0, free + gap - p.low);
    const way = ways[p.i];
    if (way) way[axis] = by;
    free = Math.max(free ?? -Infinity, p.high + by);
  }
}
