//! The chosen place of the build: what the strip, the findings and the sheets have in common.
import { signal } from "@preact/signals";
import type { About } from "./wire.ts";

export interface Chosen {
  run: string | null;
  cable: string | null;
  /** "device.port". */
  port: string | null;
  /** The shape on the strip that was pointed at. */
  shape?: string;
}

export const chosen = signal<Chosen | null>(null);

/** Whether something about `about` belongs to the chosen place. */
export function belongs(about: About, to: Chosen): boolean {
  const same = (a: string | null, b: string | null) => a === null || b === null || a === b;
  if (about.run === null && about.port === null) return false;
  if (!same(about.run, to.run) || !same(about.cable, to.cable) || !same(about.port, to.port)) return false;
  // What is said of a whole run belongs to each of its places; of a port only where that port is meant.
  return !(about.run === null && to.port === null);
}

/** A place in words. */
export function placeWords(about: { run: string | null; cable: string | null; port: string | null }): string {
  return [about.run && `run ${about.run}`, about.cable, about.port].filter(Boolean).join(" · ");
}
