//! A line of the text that is asked for; the text's side shows it when it is open.
import { signal } from "@preact/signals";
import { textOpen } from "../look.ts";
import type { At } from "../wire.ts";

/** The line asked for, and how often: the same line can be asked for twice. */
export const wantedLine = signal<{ at: At; turn: number } | null>(null);

/** Where one was before the text, to go back to. */
export const before: { at: HTMLElement | null } = { at: null };

export function showLine(at: At): void {
  if (document.activeElement instanceof HTMLElement) before.at = document.activeElement;
  textOpen.value = true;
  wantedLine.value = { at, turn: (wantedLine.peek()?.turn ?? 0) + 1 };
}
