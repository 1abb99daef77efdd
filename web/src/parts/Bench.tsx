//! The bench of one build: bar, slip, strips, sheets, text.
import { lazy, Suspense } from "preact/compat";
import { useEffect } from "preact/hooks";
import { build, desk, open, trouble } from "../bench.ts";
import { stage, textOpen } from "../look.ts";
import { place, READ } from "../place.ts";
import { Sheet } from "../sheets/Sheet.tsx";
import { Stage } from "../strip/Stage.tsx";
import { Bar } from "./Bar.tsx";
import { Foot } from "./Foot.tsx";
import { Help } from "./Help.tsx";
import { Slip } from "./Slip.tsx";
import { Tabs } from "./Tabs.tsx";
import { Trouble } from "./Trouble.tsx";
import { Working } from "./Working.tsx";

const Text = lazy(() => import("../editor/Text.tsx").then((m) => m.Text));

/** The height of the strips beside the open sheet. */
const height = () => (READ.has(place.value.sheet) ? stage.read : stage.work);

export function Bench({ id }: { id: string }) {
  useEffect(() => void open(id), [id]);
  if (trouble.value) return <Trouble error={trouble.value} again={() => void open(id)} />;
  if (build.value !== id) return null;
  return (
    <div class={`bench${textOpen.value ? " with-text" : ""}${READ.has(place.value.sheet) ? " reading" : ""}`} style={`--stage:${height().value}%`}>
      <Bar />
      <Slip />
      <Stage />
      <Tabs />
      <Pull />
      <main class="sheet" tabIndex={-1}>
        <div id="sheet" role="tabpanel" aria-labelledby={`tab-${place.value.sheet}`}>
          <Sheet name={place.value.sheet} />
        </div>
      </main>
      {textOpen.value && desk.value && (
        <section class="text" aria-label="Text of the build">
          <Suspense fallback={<Working what="Bringing the text" />}>
            <Text />
          </Suspense>
        </section>
      )}
      <Foot />
      <Help />
    </div>
  );
}

/** Pulls the border between strips and sheet. */
function Pull() {
  const hold = (n: number) => Math.min(70, Math.max(18, n));
  return (
    <div class="pull" role="separator" tabIndex={0} aria-orientation="horizontal" aria-label="Height of the strips" aria-valuenow={Math.round(height().value)} aria-valuemin={18} aria-valuemax={70}
      onKeyDown={(e) => {
        const by = { ArrowUp: -4, ArrowDown: 4 }[e.key];
        if (!by) return;
        height().value = hold(height().value + by);
        e.preventDefault();
      }}
      onPointerDown={(e) => e.currentTarget.setPointerCapture(e.pointerId)}
      onPointerMove={(e) => {
        if (!e.currentTarget.hasPointerCapture(e.pointerId)) return;
        const top = document.getElementById("stage")?.getBoundingClientRect().top ?? 0;
        height().value = hold((100 * (e.clientY - top)) / (innerHeight || 1));
      }}
    />
  );
}
