//! Plates: the plate with its grips, every distance against its least, files for the machinist, and the survey of the face.
import { signal } from "@preact/signals";
import { useEffect, useRef, useState } from "preact/hooks";
import { get, of } from "../../api.ts";
import { build, planned, say } from "../../bench.ts";
import { chosen } from "../../chosen.ts";
import { Glyph } from "../../icons.tsx";
import { Latest } from "../../latest.ts";
import { Rule } from "../../parts/Gauge.tsx";
import { Keys } from "../../parts/Keys.tsx";
import { Picture } from "../../parts/Picture.tsx";
import { show } from "../../show.ts";
import { systemOf } from "../../strip/Strip.tsx";
import { Solid } from "../../three/Solid.tsx";
import type { FaceSheet, Faces, PlateSheet, Plates } from "../../wire.ts";
import { FaceSurvey } from "./FaceSurvey.tsx";
import { GripNumbers, PlateView } from "./PlateView.tsx";

const plates = signal<Plates | null>(null);
const faces = signal<Faces | null>(null);
const port = signal<string | null>(null);
const VIEWS = ["grips", "drawing", "body", "survey"] as const;
const view = signal<(typeof VIEWS)[number]>("grips");
const VIEW_NAMES = { grips: "Grips", drawing: "Drawing", body: "Body", survey: "Survey of the face" };

const latestPlates = new Latest<Plates>((p) => { plates.value = p; }, say);
const latestFaces = new Latest<Faces>((f) => { faces.value = f; }, say);
const askFaces = (id: string) => latestFaces.ask(() => get<Faces>(of(id, "faces")));

export function PlatesSheet() {
  const id = build.value;
  const version = planned.value?.version ?? 0;
  const was = useRef<string | null>(null);
  useEffect(() => {
    if (id === null) return;
    if (was.current !== id) {
      plates.value = null;
      faces.value = null;
      was.current = id;
    }
    latestPlates.ask(() => get<Plates>(of(id, "plates")));
    askFaces(id);
  }, [id, version]);
  const here = chosen.value?.port;
  useEffect(() => {
    if (here && plates.value?.plates.some((p) => p.port === here)) port.value = here;
  }, [here]);
  const all = plates.value?.plates ?? [];
  const face = (p: string) => faces.value?.faces.find((f) => f.face.port === p) ?? null;
  const now = all.find((p) => p.port === port.value) ?? all.find((p) => p.absent === null) ?? all[0];
  if (plates.value === null) return null;
  if (!now) return <p class="quiet">No plate yet. A port gets one under <code>[device.ID.port.ID.plate]</code></p>;
  return (
    <>
      <div class="row spread">
        <div class="row" role="group" aria-label="Plate of the port">
          {all.map((p) => (
            <button key={p.port} type="button" aria-pressed={p === now} onClick={() => { port.value = p.port; }}>
              {p.refused && <Glyph of="fails" small />}
              {p.port}
            </button>
          ))}
        </div>
        <div class="row" role="group" aria-label="View">
          {VIEWS.filter((v) => v !== "survey" || face(now.port)).map((v) => (
            <button key={v} type="button" aria-pressed={view.value === v} onClick={() => { view.value = v; }}>
              {VIEW_NAMES[v]}
            </button>
          ))}
        </div>
      </div>
      <OnePlate key={now.port} of={now} face={face(now.port)} />
    </>
  );
}

function OnePlate({ of: p, face }: { of: PlateSheet; face: FaceSheet | null }) {
  const [device, name] = p.port.split(".");
  const path = ["device", device ?? "", "port", name ?? "", "plate"];
  if (view.value === "survey" && face) return <FaceSurvey of={face} brought={() => { if (build.value !== null) askFaces(build.value); }} />;
  const failing = new Set(p.grips.map((g) => g.terminal).filter((t) => p.proofs.some((f) => !f.holds && new RegExp(`\\b${t.replace(/[^\w]/g, "\\$&")}\\b`).test(f.what))));
  const file = (ending: string) => p.files.find((f) => f.name.endsWith(ending))?.url;
  const version = plates.value?.version ?? 0;
  return (
    <div class="plate-desk">
      <div class="plate-main">
        {p.absent && (
          <p class="note unknown">
            {p.absent}. It needs its face surveyed, for where its holes and terminals are; the plate's numbers below hold all the same
          </p>
        )}
        {p.refused && (
          <p class="trouble" role="alert">
            Not for cutting: {p.proofs.filter((f) => !f.holds).map((f) => f.what).join("; ") || "something about it fails"}
          </p>
        )}
        {!p.absent && view.value === "grips" && (
          <>
            <PlateView of={p} failing={failing} />
            <GripNumbers of={p.grips} />
          </>
        )}
        {!p.absent && view.value === "drawing" && file(".svg") && <Picture src={file(".svg") ?? ""} of={version} what={`Drawing of the plate of ${p.port}`} />}
        {!p.absent && view.value === "body" && file(".glb") && <Solid src={file(".glb") ?? ""} of={version} what={`Plate of ${p.port} as a body`} />}
      </div>
      <div class="plate-side">
        <Proofs of={p} />
        {p.files.length > 0 && (
          <section>
            <h3>For the machinist</h3>
            <ul class="files-list">
              {p.files.map((f) => (
                <li key={f.name}>
                  {p.refused ? <span class="quiet">{f.what}</span> : (
                    <a href={f.url} download={f.name}>
                      {f.what}
                    </a>
                  )}
                </li>
              ))}
            </ul>
            {p.refused && <p class="quiet">Files come when every distance holds</p>}
          </section>
        )}
        <Keys path={path} title="As written" first={["material", "thickness"]} />
      </div>
    </div>
  );
}

/** So many distances are seen before the rest is asked for. */
const TIGHTEST = 12;

function Proofs({ of: p }: { of: PlateSheet }) {
  const system = systemOf();
  const [all, setAll] = useState(false);
  if (p.proofs.length === 0) return null;
  const failing = p.proofs.filter((f) => !f.holds).length;
  const shown = all ? p.proofs.length : Math.max(TIGHTEST, failing);
  const more = p.proofs.length - shown;
  return (
    <section aria-label="Distances">
      <h3>Every distance, tightest first</h3>
      <ul class="fits proofs">
        {p.proofs.map((f, i) => {
          const verdict = f.holds ? "holds" : "fails";
          return (
            <li key={f.rule + f.what} class={i < shown ? "" : "folded"} data-proof={f.rule} data-verdict={verdict}>
              <Glyph of={verdict} />
              <div class="gauge">
                <div class="words">
                  <span>{f.what}</span>
                  <span class="nowrap">
                    {show(f.value_mm, "mm", system)}, least {show(f.least_mm, "mm", system)}
                  </span>
                </div>
                <Rule value={f.value_mm} limit={f.least_mm} verdict={verdict} />
              </div>
            </li>
          );
        })}
      </ul>
      {(more > 0 || all) && (
        <button type="button" class="unfold" aria-expanded={all} onClick={() => setAll(!all)}>
          {all ? "The tightest only" : `${more} more, with more room`}
        </button>
      )}
    </section>
  );
}
