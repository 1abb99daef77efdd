//! First page or bench.
import { effect } from "@preact/signals";
import { lazy, Suspense } from "preact/compat";
import { planned } from "../bench.ts";
import { place } from "../place.ts";
import { Bench } from "./Bench.tsx";
import { Catch } from "./Catch.tsx";
import { Working } from "./Working.tsx";

const Start = lazy(() => import("../start/Start.tsx").then((m) => m.Start));

effect(() => {
  const title = place.value.build === null ? null : planned.value?.title;
  document.title = title ? `${title} · Loomwright bench` : "Loomwright bench";
});

export function App() {
  const id = place.value.build;
  if (id !== null) return <Catch><Bench key={id} id={id} /></Catch>;
  return (
    <Catch>
      <Suspense fallback={<Working what="Looking for builds" />}>
        <Start />
      </Suspense>
    </Catch>
  );
}
