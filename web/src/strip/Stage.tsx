//! All runs of the build, one above the other and to one scale while seen whole.
import { computed } from "@preact/signals";
import { useRef } from "preact/hooks";
import { planned, strips } from "../bench.ts";
import { useSize } from "../size.ts";
import { sceneOf } from "./scene.ts";
import { Strip, systemOf } from "./Strip.tsx";

/** Scenes of the newest strips; findings of another version than the strips mark nothing. */
const scenes = computed(() => {
  const s = strips.value;
  if (!s) return null;
  const p = planned.value;
  return s.strips.map((strip) => sceneOf(strip, p && p.of === s.of ? p.findings : []));
});

export function Stage() {
  const at = useRef<HTMLDivElement>(null);
  const { width } = useSize(at);
  const all = scenes.value;
  const longest = Math.max(1, ...(all ?? []).map((s) => s.extent.x_mm[1] - s.extent.x_mm[0]));
  const least = Math.max(1e-4, (width - 52) / longest);
  return (
    <div class="stage" ref={at} id="stage">
      {all === null ? null : all.length === 0 ? (
        <p class="nothing">No run yet. A run joins two ports: write <code>[run.NAME]</code> with <code>from</code> and <code>to</code>.</p>
      ) : (
        all.map((scene) => <Strip key={scene.strip.run} scene={scene} least={least} system={systemOf()} />)
      )}
    </div>
  );
}
