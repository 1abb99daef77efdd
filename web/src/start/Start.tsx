//! The first page: the builds of the folder, and a new one.
import { signal } from "@preact/signals";
import { useEffect, useState } from "preact/hooks";
import { get } from "../api.ts";
import { on } from "../events.ts";
import { Glyph, Icon, VERDICT_SAID } from "../icons.tsx";
import { dark, light } from "../look.ts";
import { Foot } from "../parts/Foot.tsx";
import { Picture } from "../parts/Picture.tsx";
import { Trouble } from "../parts/Trouble.tsx";
import { Working } from "../parts/Working.tsx";
import { addressOf, go } from "../place.ts";
import type { AboutBench, Builds, Card } from "../wire.ts";
import { NewBuild } from "./NewBuild.tsx";

const builds = signal<Builds | null>(null);

export function Start() {
  const [error, setError] = useState<Error | null>(null);
  const [making, setMaking] = useState(false);
  const look = () => get<Builds>("/api/builds").then((b) => { builds.value = b; setError(null); }, setError);
  useEffect(() => {
    void look();
    void openOnly();
    const off = [on("folder", look), on("planned", look)];
    return () => { for (const stop of off) stop(); };
  }, []);
  if (error && builds.value === null) return <Trouble error={error} again={look} />;
  const b = builds.value;
  return (
    <div class="start">
      <header>
        <img src="/mark.svg" alt="" width="34" height="34" />
        <div>
          <h1>Loomwright bench</h1>
          <p class="quiet">{b ? `Builds in ${b.folder}` : ""}</p>
        </div>
        <button type="button" class="bare" title={dark.value ? "Light paper" : "Dark shop"} onClick={() => { light.value = dark.value ? "light" : "dark"; }}>
          <Icon name="light" />
          <span class="hidden-words">{dark.value ? "Light paper" : "Dark shop"}</span>
        </button>
        <button type="button" class="main" onClick={() => setMaking(!making)} aria-expanded={making}>
          New build
        </button>
      </header>
      <main>
        {b === null ? <Working what="Looking for builds" /> : null}
        {b && (making || b.builds.length === 0) && <NewBuild of={b} done={(id) => go({ build: id, sheet: "heat" })} />}
        {b && b.builds.length > 0 && (
          <ul class="cards">
            {b.builds.map((card) => (
              <li key={card.id}>
                <OneCard of={card} />
              </li>
            ))}
          </ul>
        )}
      </main>
      <Foot />
    </div>
  );
}

let led = false;

/** Where the folder is itself a build, the first page is left at once; "All builds" still leads here later. */
async function openOnly(): Promise<void> {
  if (led) return;
  led = true;
  const about = await get<AboutBench>("/api/about").catch(() => null);
  if (about?.only) go({ build: about.only, sheet: "heat" });
}

function OneCard({ of }: { of: Card }) {
  const to = { build: of.id, sheet: "heat" as const };
  return (
    <a class="card" href={addressOf(to)} onClick={(e) => { if (e.ctrlKey || e.metaKey) return; e.preventDefault(); go(to); }}>
      <div class="picture">{of.picture && <Picture src={of.picture} of={of.changed_ms ?? 0} what="" />}</div>
      <h2>{of.title}</h2>
      {of.verdict ? (
        <p class={`of-${of.verdict} said`}>
          <Glyph of={of.verdict} /> {VERDICT_SAID[of.verdict]}
        </p>
      ) : (
        <p class="of-fails said">{of.error ?? "Cannot be read"}</p>
      )}
      <p class="quiet">
        {of.for_building ? "" : "not for building · "}
        {of.counts.fails} fail, {of.counts.unknown} unknown, {of.counts.close} close
      </p>
      {of.changed_ms !== null && <p class="quiet">changed {when(of.changed_ms)}</p>}
    </a>
  );
}

function when(ms: number): string {
  return new Date(ms).toLocaleString(undefined, { dateStyle: "medium", timeStyle: "short" });
}
