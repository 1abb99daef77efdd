//! All runs of the build, one above the other and to one scale while seen whole.
import { effect, signal } from "@preact/signals";
import { useRef } from "preact/hooks";
import { planned, strips } from "../bench.ts";
import { useSize } from "../size.ts";
import { type Scene, sceneOf } from "./scene.ts";
import { Strip, systemOf } from "./Strip.tsx";

const scenes = signal<Scene[] | null>(null);

/** Strips and findings belong together: as long as one of them is of another version, what was drawn stays. */
effect(() => {
  const s = strips.value;
  const p = planned.value;
  if (!s) scenes.value = null;
  else if (p && p.of === s.of) scenes.value = s.strips.map((strip) => sceneOf(strip, p.findings));
  else if (scenes.peek() === null) scenes.value = s.strips.map((strip) => sceneOf(strip, []));
});

export function Stage() {
  const at = useRef<HTMLDivElement>(null);
  const { width } = useSize(at);
  const all = scenes.value;
  const longest = Math.max(1, ...(all ?? []).map((s) => s.extent.x_mm[1] - s.extent.x_mm[0]));
  const least = Math.max(1e-4, (width - 52) / longest);
  const tallest = Math.max(0, ...(all ?? []).map((s) => s.extent.y_mm[1] - s.extent.y_mm[0]));
  return (
    <div class="stage" ref={at} id="stage">
      {all === null ? null : all.length === 0 ? (
        <p class="nothing">No run yet. A run joins two ports: write <code>[run.NAME]</code> with <code>from</code> and <code>to</code>.</p>
      ) : (
        all.map((scene) => <Strip key={scene.strip.run} scene={scene} least={least} tallest_mm={tallest} system={systemOf()} />)
      )}
    </div>
  );
}
