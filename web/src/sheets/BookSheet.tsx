//! Book: choose chapters, have it set, read it in place.
import { signal } from "@preact/signals";
import { useEffect } from "preact/hooks";
import { get, of, post } from "../api.ts";
import { build, planned, say } from "../bench.ts";
import { on } from "../events.ts";
import { Working } from "../parts/Working.tsx";
import type { BookEvent, BookJob, BookPart } from "../wire.ts";

const parts = signal<BookPart[]>([]);
const wanted = signal<Set<string>>(new Set());
const job = signal<{ build: string; job: number } | null>(null);
const told = signal<BookEvent | null>(null);

on("book", (b) => {
  if (job.value === null || b.job === job.value.job || told.value === null) told.value = b;
});

async function ask(id: string): Promise<void> {
  told.value = null;
  try {
    const begun = await post<BookJob>(of(id, "book"), { parts: [...wanted.value] });
    job.value = { build: id, job: begun.job };
  } catch (error) {
    say(error);
  }
}

export function BookSheet() {
  const id = build.value;
  useEffect(() => {
    if (parts.value.length === 0) get<BookPart[]>("/api/book-parts").then((all) => { parts.value = all; }, say);
  }, []);
  if (id === null) return null;
  const begun = job.value?.build === id;
  const t = begun && told.value?.job === job.value?.job ? told.value : null;
  const old = t?.state === "ready" && planned.value !== null && planned.value.version > t.version;
  return (
    <div class="book">
      <div class="book-choice no-print">
        <button type="button" class="main" disabled={begun && t?.state !== "ready" && t?.state !== "failed"} onClick={() => void ask(id)}>
          {old ? "Set it again" : "Set the book"}
        </button>
        <fieldset>
          <legend>Chapters</legend>
          <label class="tick">
            <input type="checkbox" checked={wanted.value.size === 0} onChange={() => { wanted.value = new Set(); }} />
            The whole book
          </label>
          {parts.value.map((p) => (
            <label key={p.part} class="tick">
              <input type="checkbox" checked={wanted.value.has(p.part)} onChange={(e) => choosePart(p.part, e.currentTarget.checked)} />
              {p.title}
            </label>
          ))}
        </fieldset>
        {t?.state === "ready" && t.url && (
          <p>
            <a href={t.url} download={`${id === "." ? "build" : id}.pdf`}>
              Keep the PDF
            </a>
          </p>
        )}
        {old && <p class="note">The build has changed since this book was set</p>}
      </div>
      <div class="book-page">
        {!begun && (
          <div class="blank">
            <p>The book is the plan as pages: for the customer, the machinist, the inspector and the next mechanic.</p>
            <p class="quiet">It takes a few seconds to set. Choose chapters, or leave it whole.</p>
          </div>
        )}
        {begun && t?.state !== "ready" && t?.state !== "failed" && <Working what="Setting the book" />}
        {t?.state === "failed" && (
          <p class="trouble" role="alert">
            {t.error ?? "The book could not be set"}
          </p>
        )}
        {t?.state === "ready" && t.url && <iframe title="The book" src={`${t.url}#navpanes=0&view=FitH`} />}
      </div>
    </div>
  );
}

function choosePart(part: string, on: boolean): void {
  const next = new Set(wanted.value);
  if (on) next.add(part);
  else next.delete(part);
  wanted.value = next;
}
