//! What this screen prefers: light, the size of the stage, whether the text lies open. Kept by the browser.
import { effect, signal } from "@preact/signals";

export type Light = "light" | "dark" | "as-system";

function kept<T extends string>(key: string, allowed: readonly T[], otherwise: T) {
  let start = otherwise;
  try {
    const was = localStorage.getItem(`bench.${key}`);
    start = allowed.find((word) => word === was) ?? otherwise;
  } catch {
    // A browser that keeps nothing still works.
  }
  const it = signal<T>(start);
  effect(() => {
    try {
      localStorage.setItem(`bench.${key}`, it.value);
    } catch {
      // As above.
    }
  });
  return it;
}

export const light = kept<Light>("light", ["light", "dark", "as-system"], "as-system");
export const textOpen = signal(false);
/** Height of the stage in per cent, beside sheets that are worked on and beside those that are read. */
export const stage = { work: signal(46), read: signal(27) };

/** Whether it is dark now. */
export const dark = signal(false);

export function followLight(): void {
  const system = matchMedia("(prefers-color-scheme: dark)");
  const apply = () => {
    dark.value = light.value === "dark" || (light.value === "as-system" && system.matches);
    document.documentElement.dataset.light = dark.value ? "dark" : "light";
  };
  system.addEventListener("change", apply);
  effect(apply);
}
