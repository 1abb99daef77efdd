//! The keys of one table as they are written, to be changed here as well as in the text. What fits is said by the program.
import { useEffect, useState } from "preact/hooks";
import { desk, set } from "../bench.ts";
import { partsOf, tableOf } from "../editor/complete.ts";
import { unquoted, writtenIn } from "../editor/toml.ts";
import type { Key, Table } from "../wire.ts";

interface Props {
  /** ["run", "phases", "from-end"]. */
  path: string[];
  title: string;
  /** The file it stands in; the document where absent. */
  file?: string;
  /** Keys shown first, even if they are not written. */
  first?: string[];
}

export function Keys({ path, title, file, first = [] }: Props) {
  const [table, setTable] = useState<Table | null>(null);
  const [more, setMore] = useState(false);
  const joined = path.join(".");
  useEffect(() => {
    tableOf(path).then(setTable, () => setTable(null));
  }, [joined]);
  const files = desk.value?.files ?? [];
  const text = files.find((f) => (file ? f.name === file : f.role === "document"))?.text ?? "";
  const written = new Map(writtenIn(text, path).map((w) => [w.key, w.value]));
  if (!table) return null;
  const shown = table.keys.filter((k) => more || written.has(k.name) || first.includes(k.name));
  const rest = table.keys.length - table.keys.filter((k) => written.has(k.name) || first.includes(k.name)).length;
  return (
    <section class="as-written" aria-label={title}>
      <h3>{title}</h3>
      <p class="quiet mono">[{joined}]</p>
      {shown.map((k) => (
        <KeyRow key={`${joined}.${k.name}`} of={k} path={path} file={file ?? null} value={written.get(k.name) ?? null} />
      ))}
      {rest > 0 && (
        <button type="button" class="bare" aria-expanded={more} onClick={() => setMore(!more)}>
          {more ? "Only what is written" : `${rest} more may be written`}
        </button>
      )}
    </section>
  );
}

const PLAIN = /^(-?\d+(\.\d+)?|true|false)$/;

function KeyRow({ of: k, path, file, value }: { of: Key; path: string[]; file: string | null; value: string | null }) {
  const [draft, setDraft] = useState<string | null>(null);
  const [parts, setParts] = useState<string[]>([]);
  const id = `key-${[...path, k.name].join("-")}`;
  const shown = draft ?? (value === null ? "" : unquoted(value));
  // Lists and tables are written in the text, where they can be seen whole.
  const inText = value !== null && /^[[{]/.test(value);
  const plain = PLAIN.test(k.example) && (value === null || PLAIN.test(value));
  const send = () => {
    if (draft === null) return;
    const words = draft.trim();
    setDraft(null);
    if (words === (value === null ? "" : unquoted(value))) return;
    const edit: { path: string[]; value: unknown; file?: string } = { path: [...path, k.name], value: words === "" ? null : plain && PLAIN.test(words) ? JSON.parse(words) : words };
    if (file !== null) edit.file = file;
    void set([edit], `${k.name} of ${path.slice(1).join(" ")}`);
  };
  const offers = k.words.length > 0 ? k.words : parts;
  return (
    <div class="key-row">
      <label for={id} title={k.what}>
        {k.name}
      </label>
      <input
        id={id}
        list={offers.length > 0 ? `${id}-list` : undefined}
        value={shown}
        disabled={inText}
        placeholder={k.example.replace(/^"|"$/g, "")}
        title={`${k.what}. ${k.accepts}`}
        onFocus={() => {
          if (k.shelf && parts.length === 0) partsOf(k.shelf, "").then((hits) => setParts(hits.slice(0, 400).map((h) => h.id)), () => {});
        }}
        onInput={(e) => setDraft(e.currentTarget.value)}
        onBlur={send}
        onKeyDown={(e) => {
          if (e.key === "Enter") send();
          if (e.key === "Escape") setDraft(null);
        }}
      />
      {offers.length > 0 && (
        <datalist id={`${id}-list`}>
          {offers.map((o) => (
            <option key={o} value={o} />
          ))}
        </datalist>
      )}
    </div>
  );
}
