//! The one stretch in which two texts differ, and how two such stretches are joined. Pure.

/** Replace `from..to` of the old text by `insert`. */
export interface Change {
  from: number;
  to: number;
  insert: string;
}

/** The least single stretch that turns `a` into `b`; null where they are the same. */
export function changeBetween(a: string, b: string): Change | null {
  if (a === b) return null;
  let from = 0;
  const most = Math.min(a.length, b.length);
  while (from < most && a[from] === b[from]) from++;
  let tail = 0;
  while (tail < most - from && a[a.length - 1 - tail] === b[b.length - 1 - tail]) tail++;
  return { from, to: a.length - tail, insert: b.slice(from, b.length - tail) };
}

/** Both changes of one text, made into one; null where they meet, for then someone has to choose. */
export function joined(base: string, ours: string, theirs: string): string | null {
  const a = changeBetween(base, ours);
  const b = changeBetween(base, theirs);
  if (!a) return theirs;
  if (!b || ours === theirs) return ours;
  if (a.to >= b.from && b.to >= a.from) return null;
  const [first, second] = a.from < b.from ? [a, b] : [b, a];
  return (
    base.slice(0, first.from) + first.insert + base.slice(first.to, second.from) + second.insert + base.slice(second.to)
  );
}
