//! Keys that work everywhere on the bench. Function keys and Ctrl only, so that nothing a person types is taken.
import { redo, undo } from "./bench.ts";
import { textOpen } from "./look.ts";
import { before } from "./parts/lines.ts";
import { helpOpen } from "./parts/Help.tsx";
import { stepFinding } from "./parts/Slip.tsx";

const PARTS = [".findings button", ".strip .field", ".tabs [aria-selected='true']", ".sheet", ".cm-content"];

function toText(): void {
  const inText = document.activeElement?.closest(".text") !== null;
  if (textOpen.value && inText) {
    const back = before.at?.isConnected ? before.at : document.querySelector<HTMLElement>(".findings button");
    back?.focus();
    return;
  }
  if (document.activeElement instanceof HTMLElement) before.at = document.activeElement;
  textOpen.value = true;
  // The editor comes with a chunk of its own; it takes the focus when it is there.
  const focus = (tries: number) => {
    const at = document.querySelector<HTMLElement>(".cm-content");
    if (at) at.focus();
    else if (tries > 0) setTimeout(() => focus(tries - 1), 40);
  };
  focus(50);
}

function toPart(by: 1 | -1): void {
  const here = document.activeElement;
  const all = PARTS.map((p) => document.querySelector<HTMLElement>(p)).filter((e): e is HTMLElement => e !== null);
  const homes = [".slip", ".stage", ".tabs", ".sheet", ".text"];
  const now = homes.findIndex((h) => here?.closest(h));
  const order = all.map((e) => homes.findIndex((h) => e.closest(h)));
  const at = order.indexOf(now);
  const next = all[at < 0 ? 0 : (at + by + all.length) % all.length];
  next?.focus();
}

function editing(target: EventTarget | null): boolean {
  return target instanceof HTMLElement && target.matches("input, textarea, select");
}

export function followKeys(): void {
  addEventListener("keydown", (event) => {
    // The editor has had it already.
    if (event.defaultPrevented) return;
    const control = event.ctrlKey || event.metaKey;
    const key = event.key.toLowerCase();
    if (event.key === "F1") helpOpen.value = !helpOpen.value;
    else if (event.key === "F2") toText();
    else if (event.key === "F6") toPart(event.shiftKey ? -1 : 1);
    else if (event.key === "F8") stepFinding(event.shiftKey ? -1 : 1);
    else if (control && key === "z" && !event.shiftKey && !editing(event.target)) void undo();
    else if (control && (key === "y" || (key === "z" && event.shiftKey)) && !editing(event.target)) void redo();
    else return;
    event.preventDefault();
  });
}
