//! The bar: the title block of the build, and the tools that are always at hand.
import { desk, plan, planned, redo, set, undo } from "../bench.ts";
import { connected } from "../events.ts";
import { Icon } from "../icons.tsx";
import { dark, light, textOpen } from "../look.ts";
import { go } from "../place.ts";
import { systemOf } from "../strip/Strip.tsx";
import { helpOpen } from "./Help.tsx";

export function Bar() {
  const d = desk.value;
  const b = plan.value?.build;
  const system = systemOf();
  const state = !connected.value ? "Program away" : d?.unsaved ? "Not saved" : d ? "Saved" : "";
  const toggle = system === "us" ? "metric" : "us";
  return (
    <header class="bar">
      <a class="home" href="/" title="All builds" onClick={(e) => { e.preventDefault(); go({ build: null }); }}>
        <img src="/mark.svg" alt="All builds" />
      </a>
      <div class="cell title">
        <small>build</small>
        <h1>{planned.value?.title ?? b?.title ?? d?.id ?? ""}</h1>
      </div>
      {b?.made_by && (
        <div class="cell made">
          <small>made by</small>
          <span>{b.made_by}</span>
        </div>
      )}
      <div class="cell hide made">
        <small>plan</small>
        <span class="mono">{b?.digest.slice(0, 8) ?? ""}</span>
      </div>
      <div class="cell hide">
        <small>{d ? `version ${d.version}` : "version"}</small>
        <span class={d?.unsaved || !connected.value ? "of-fails" : ""} role="status">{state}</span>
      </div>
      <Tools d={d} toggle={toggle} system={system} />
    </header>
  );
}

function Tools({ d, toggle, system }: { d: typeof desk.value; toggle: string; system: string }) {
  return (
    <div class="tools" role="toolbar" aria-label="Tools">
      <button type="button" class="bare" disabled={!d?.undo} title={d?.undo ? `Undo ${d.undo} (Ctrl+Z)` : "Nothing to undo"} onClick={() => void undo()}>
        <Icon name="undo" />
        <span class="hidden-words">Undo</span>
      </button>
      <button type="button" class="bare" disabled={!d?.redo} title={d?.redo ? `Redo ${d.redo} (Ctrl+Y)` : "Nothing to redo"} onClick={() => void redo()}>
        <Icon name="redo" />
        <span class="hidden-words">Redo</span>
      </button>
      <button type="button" class="bare" title={`Show ${toggle === "us" ? "US" : "metric"} units first`} onClick={() => void set([{ path: ["units"], value: toggle }], "units")}>
        <Icon name="units" />
        <span aria-hidden="true">{system === "us" ? "in" : "mm"}</span>
        <span class="hidden-words">Show {toggle === "us" ? "US" : "metric"} units first</span>
      </button>
      <button type="button" class="bare" title={dark.value ? "Light paper" : "Dark shop"} onClick={() => { light.value = dark.value ? "light" : "dark"; }}>
        <Icon name="light" />
        <span class="hidden-words">{dark.value ? "Light paper" : "Dark shop"}</span>
      </button>
      <button type="button" class="bare" title="Keys (F1)" onClick={() => { helpOpen.value = true; }}>
        <Icon name="keys" />
        <span class="hidden-words">Keys</span>
      </button>
      <button type="button" class="toggle" aria-expanded={textOpen.value} title="The text of the build (F2)" onClick={() => { textOpen.value = !textOpen.value; }}>
        <Icon name="text" /> Text
      </button>
    </div>
  );
}

