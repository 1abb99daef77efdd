//! What the page holds of the open build, and the few ways to change it. Numbers come from the program;
//! nothing here works one out.
import { batch, computed, effect, signal } from "@preact/signals";
import { Away, get, of, post, Refused, tab } from "./api.ts";
import { connected, on } from "./events.ts";
import { Latest } from "./latest.ts";
import { type Chosen, chosen } from "./chosen.ts";
import type { Changed, Desk, EditAsked, Plan, PlanSheet, Planned, Strips } from "./wire.ts";

/** The open build's id. */
export const build = signal<string | null>(null);
export const desk = signal<Desk | null>(null);
export const planned = signal<Planned | null>(null);
export const strips = signal<Strips | null>(null);
export const plan = signal<Plan | null>(null);
/** The version `plan` is of, for what is fetched beside it. */
export const planOf = signal<number | null>(null);
/** A word at the foot of the page, and what can be done about it. */
export const word = signal<{ text: string; act?: { name: string; run: () => void } } | null>(null);
/** Why the build could not be opened. */
export const trouble = signal<Error | null>(null);
/** Changes that wait for the program to come back. */
export const waiting = signal<EditAsked[][]>([]);

export const text = computed(() => desk.value?.files.find((f) => f.role === "document")?.text ?? "");

const stripsLatest = new Latest<Strips>((s) => {
  strips.value = s;
});
const planLatest = new Latest<PlanSheet>((s) => {
  batch(() => {
    plan.value = s.plan;
    planOf.value = s.of;
  });
});

/** How long it has to be quiet before the whole plan is fetched; it is large, and findings and strips go before it. */
const QUIET_MS = 120;
let quiet: ReturnType<typeof setTimeout> | undefined;

function fetchPlan(id: string): void {
  planLatest.ask(() => get<PlanSheet>(of(id, "plan")));
}

/** While changes follow one another the strips wait for a pause of this much, but are never older than that. */
const [PAUSE_MS, OLDEST_MS] = [80, 400];
let pause: ReturnType<typeof setTimeout> | undefined;
let drawn = 0;

/** After a change: findings are there already and are painted first, then strips, then the plan when it is quiet. */
function fetchPictures(id: string): void {
  clearTimeout(pause);
  const wait = performance.now() - drawn < OLDEST_MS ? PAUSE_MS : 0;
  pause = setTimeout(
    () =>
      requestAnimationFrame(() =>
        setTimeout(() => {
          drawn = performance.now();
          stripsLatest.ask(() => get<Strips>(of(id, "strips")));
        }),
      ),
    wait,
  );
  clearTimeout(quiet);
  quiet = setTimeout(() => fetchPlan(id), QUIET_MS);
}

/** Opens a build: its texts, its findings, its strips. */
export async function open(id: string): Promise<void> {
  if (build.value === id && trouble.value === null) return;
  batch(() => {
    build.value = id;
    desk.value = null;
    planned.value = null;
    strips.value = null;
    plan.value = null;
    trouble.value = null;
    chosen.value = null;
  });
  await refresh(id);
}

async function refresh(id: string): Promise<void> {
  try {
    stripsLatest.ask(() => get<Strips>(of(id, "strips")));
    fetchPlan(id);
    const [d, p] = await Promise.all([get<Desk>(of(id, "")), get<Planned>(of(id, "planned"))]);
    if (build.value !== id) return;
    batch(() => {
      desk.value = d;
      if (planned.value === null || planned.value.version <= p.version) planned.value = p;
      trouble.value = null;
    });
  } catch (error) {
    if (build.value !== id) return;
    // A page that is already laid out stays; only an empty one shows why.
    if (desk.value === null) trouble.value = error as Error;
  }
}

/** Takes in what a change brought: version, texts, what can be undone. */
function took(change: Changed): void {
  const d = desk.value;
  if (!d || d.id !== change.id || change.version < d.version) return;
  const names = new Map(change.files.map((f) => [f.name, f]));
  const files = d.files.map((f) => names.get(f.name) ?? f);
  for (const f of change.files) if (!d.files.some((g) => g.name === f.name)) files.push(f);
  desk.value = { ...d, version: change.version, files, undo: change.undo, redo: change.redo, unsaved: null };
}

let start: number | null = null;
on("hello", (h) => {
  // After a restart everything the page holds may be old.
  if (start !== null && build.value !== null) void refresh(build.value).then(resend);
  start = h.start;
});
on("changed", (change) => took(change));
on("planned", (p) => {
  if (p.id !== build.value) return;
  planned.value = p;
  fetchPictures(p.id);
});
on("outside", (o) => {
  if (o.id === build.value) word.value = { text: `Taken in: ${o.files.join(", ")} changed outside the bench` };
});
on("conflict", (c) => {
  const d = desk.value;
  if (d && d.id === c.id) desk.value = { ...d, conflict: c.conflict };
});
on("unsaved", (u) => {
  const d = desk.value;
  if (d && d.id === u.id) desk.value = { ...d, unsaved: u.why };
});

/** Says a refusal at the foot of the page. */
export function say(error: unknown): void {
  if (error instanceof Refused) word.value = { text: error.hint ? `${error.message}. ${error.hint}` : error.message };
  else word.value = { text: (error as Error).message };
}

/** Sets keys of the document. What cannot be sent waits, and is sent when the program is back. */
export async function set(edits: EditAsked[], label: string, gather?: string): Promise<boolean> {
  const id = build.value;
  if (id === null) return false;
  try {
    const asked = { edits, label, asker: tab, ...(gather ? { gather } : {}) };
    took(await post<Changed>(of(id, "set"), asked));
    return true;
  } catch (error) {
    if (error instanceof Away) {
      waiting.value = [...waiting.value, edits];
      word.value = { text: "Kept here until the program is back" };
    } else say(error);
    return false;
  }
}

async function resend(): Promise<void> {
  const all = waiting.value;
  waiting.value = [];
  for (const edits of all) await set(edits, "what waited");
}

/** Set by the text's side: sends what has been typed before history is walked. */
export const flush: { run: () => Promise<void> } = { run: async () => {} };

async function walk(way: "undo" | "redo"): Promise<void> {
  const id = build.value;
  if (id === null) return;
  try {
    await flush.run();
    took(await post<Changed>(of(id, way), { asker: tab }));
  } catch (error) {
    say(error);
  }
}
export const undo = (): Promise<void> => walk("undo");
export const redo = (): Promise<void> => walk("redo");

/** Leads to a place: chooses it on the strip. */
export function choose(what: Chosen | null): void {
  chosen.value = what;
}

effect(() => {
  if (connected.value && word.peek()?.text.startsWith("The program does not answer")) word.value = null;
});
