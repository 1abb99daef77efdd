//! The open sheet. Each is a chunk of its own, fetched when it is first wanted.
import type { ComponentType } from "preact";
import { lazy, Suspense } from "preact/compat";
import { Catch } from "../parts/Catch.tsx";
import { Working } from "../parts/Working.tsx";
import { SHEET_NAMES } from "../parts/Tabs.tsx";
import type { SheetName } from "../place.ts";

const ALL: Record<SheetName, ComponentType> = {
  heat: lazy(() => import("./heat/HeatSheet.tsx").then((m) => m.HeatSheet)),
  ends: lazy(() => import("./EndsSheet.tsx").then((m) => m.EndsSheet)),
  plates: lazy(() => import("./plates/PlatesSheet.tsx").then((m) => m.PlatesSheet)),
  kit: lazy(() => import("./KitSheet.tsx").then((m) => m.KitSheet)),
  steps: lazy(() => import("./StepsSheet.tsx").then((m) => m.StepsSheet)),
  trials: lazy(() => import("./TrialsSheet.tsx").then((m) => m.TrialsSheet)),
  book: lazy(() => import("./BookSheet.tsx").then((m) => m.BookSheet)),
  figures: lazy(() => import("./FiguresSheet.tsx").then((m) => m.FiguresSheet)),
  shelf: lazy(() => import("./ShelfSheet.tsx").then((m) => m.ShelfSheet)),
};

export function Sheet({ name }: { name: SheetName }) {
  const It = ALL[name];
  return (
    <Catch key={name}>
      <Suspense fallback={<Working what={`Laying out ${SHEET_NAMES[name]}`} />}>
        <It />
      </Suspense>
    </Catch>
  );
}
