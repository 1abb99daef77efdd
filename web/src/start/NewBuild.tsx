//! A new build: from an example, from nothing, or from a few questions that end as a document one could have written.
import { useEffect, useRef, useState } from "preact/hooks";
import { get, post } from "../api.ts";
import { Latest } from "../latest.ts";
import type { Builds, Draft, Made, NewBuildAsked, Question } from "../wire.ts";

interface Props {
  of: Builds;
  done: (id: string) => void;
}

const QUESTIONS = "questions";
const STARTER = "starter";

export function NewBuild({ of, done }: Props) {
  const [from, setFrom] = useState(QUESTIONS);
  const [name, setName] = useState("");
  const [answers, setAnswers] = useState<Record<string, string>>({});
  const [draft, setDraft] = useState<Draft | null>(null);
  const [questions, setQuestions] = useState<Question[]>([]);
  const [error, setError] = useState<string | null>(null);
  const latest = useRef(new Latest<Draft>(setDraft, (e) => setError((e as Error).message)));
  useEffect(() => {
    get<Question[]>("/api/questions").then(setQuestions, (e: Error) => setError(e.message));
  }, []);
  useEffect(() => {
    if (from === QUESTIONS) latest.current.ask(() => post<Draft>("/api/questions", { answers }));
  }, [answers, from]);
  const make = async (event: Event) => {
    event.preventDefault();
    const asked: NewBuildAsked = { name };
    if (from === QUESTIONS) asked.answers = answers;
    else if (from !== STARTER) asked.example = from;
    try {
      done((await post<Made>("/api/builds", asked)).id);
    } catch (e) {
      setError((e as Error).message);
    }
  };
  const asked = questions.filter((q) => q.only_if === null || q.only_if.is.includes(answers[q.only_if.question] ?? ""));
  const open = from === QUESTIONS ? (draft?.open ?? []) : [];
  return (
    <form class="new-build" onSubmit={make}>
      <div>
        <h2>A new build</h2>
        <label class="ask" for="new-name">
          Name of its folder
        </label>
        <p class="why">Letters, digits, - and _</p>
        <p>
          <input id="new-name" required pattern="[A-Za-z0-9_\-]+" value={name} placeholder="flat-bed" onInput={(e) => setName(e.currentTarget.value)} />
        </p>
        <fieldset>
          <legend>Begin from</legend>
          <div class="choices">
            <Pick of={QUESTIONS} now={from} set={setFrom} name="A few questions" what="what is known so far; the rest can wait" />
            <Pick of={STARTER} now={from} set={setFrom} name="The commented starter" what="a document to read and write over" />
            {of.examples.map((e) => (
              <Pick key={e.name} of={e.name} now={from} set={setFrom} name={e.title} what={e.what.startsWith(`${e.title}: `) ? e.what.slice(e.title.length + 2) : e.what} />
            ))}
          </div>
        </fieldset>
        {from === QUESTIONS &&
          asked.map((q) => (
            <Ask key={q.id} of={q} value={answers[q.id] ?? ""} wrong={draft?.errors.find((e) => e.input === q.id)?.message ?? null}
              set={(v) => setAnswers((was) => {
                const next = { ...was };
                if (v === "") delete next[q.id];
                else next[q.id] = v;
                return next;
              })} />
          ))}
        {error && <p class="trouble">{error}</p>}
        <p class="row">
          <button type="submit" class="main" disabled={open.length > 0 || name === ""}>
            Make it
          </button>
          {open.length > 0 && <span class="quiet">Still asked: {open.map((id) => questions.find((q) => q.id === id)?.ask ?? id).join(" ")}</span>}
        </p>
      </div>
      {from === QUESTIONS && (
        <div>
          <h2>The document so far</h2>
          {/* biome-ignore lint/a11y/noNoninteractiveTabindex: a long text has to be scrolled by keys */}
          <pre tabIndex={0}>{draft?.text ?? ""}</pre>
        </div>
      )}
    </form>
  );
}

function Pick({ of, now, set, name, what }: { of: string; now: string; set: (v: string) => void; name: string; what: string }) {
  return (
    <label class="tick">
      <input type="radio" name="from" checked={now === of} onChange={() => set(of)} />
      <span>
        {name} <span class="quiet">{what}</span>
      </span>
    </label>
  );
}

function Ask({ of, value, wrong, set }: { of: Question; value: string; wrong: string | null; set: (v: string) => void }) {
  if (of.kind === "choice")
    return (
      <fieldset>
        <legend>{of.ask}</legend>
        <p class="why">{of.why}</p>
        <div class="choices">
          {of.choices.map((c) => (
            <label key={c.word} class="tick">
              <input type="radio" name={`q-${of.id}`} checked={value === c.word} onChange={() => set(c.word)} />
              <span>{c.means}</span>
            </label>
          ))}
        </div>
      </fieldset>
    );
  return (
    <fieldset>
      <label class="ask" for={`q-${of.id}`}>
        {of.ask}
      </label>
      <p class="why">{of.why}</p>
      <input id={`q-${of.id}`} value={value} placeholder={of.example} aria-invalid={wrong !== null} onInput={(e) => set(e.currentTarget.value)} />
      {wrong && <p class="wrong">{wrong}</p>}
    </fieldset>
  );
}
