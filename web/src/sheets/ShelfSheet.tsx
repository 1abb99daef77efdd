//! Shelf: look for parts and materials, and add a part of the shop's own.
import { signal } from "@preact/signals";
import { useEffect, useRef, useState } from "preact/hooks";
import { get, of, post, tab } from "../api.ts";
import { build, say, word } from "../bench.ts";
import { Latest } from "../latest.ts";
import type { Hit, ShelfKind, Shop } from "../wire.ts";

const words = signal("");
const kind = signal("");
const kinds = signal<ShelfKind[]>([]);

export function ShelfSheet() {
  const [hits, setHits] = useState<Hit[] | null>(null);
  const [adding, setAdding] = useState(false);
  const latest = useRef(new Latest<Hit[]>(setHits, say));
  useEffect(() => {
    if (kinds.value.length === 0) get<ShelfKind[]>("/api/shelf/kinds").then((all) => { kinds.value = all; }, say);
  }, []);
  useEffect(() => {
    latest.current.ask(() => get<Hit[]>(`/api/shelf?words=${encodeURIComponent(words.value)}${kind.value ? `&kind=${encodeURIComponent(kind.value)}` : ""}`));
  }, [words.value, kind.value]);
  return (
    <>
      <div class="row spread no-print">
        <div class="row grow">
          <input type="search" class="grow" aria-label="Look on the shelf" placeholder="lug M8 50, o-ring 263, copper …" value={words.value} onInput={(e) => { words.value = e.currentTarget.value; }} />
          <label>
            <span class="hidden-words">Kind</span>
            <select value={kind.value} onChange={(e) => { kind.value = e.currentTarget.value; }}>
              <option value="">every kind</option>
              {kinds.value.map((k) => (
                <option key={k.kind}>{k.kind}</option>
              ))}
            </select>
          </label>
        </div>
        <button type="button" aria-expanded={adding} class="toggle" onClick={() => setAdding(!adding)}>
          Add a part of the shop's
        </button>
      </div>
      {adding && <AddPart of={kinds.value} start={kind.value} done={() => { setAdding(false); words.value = `${words.value}`; }} />}
      {hits && (
        <div class="scroll-x">
          <table class="shelf">
            <thead>
              <tr>
                <th scope="col">Kind</th>
                <th scope="col">Name in the document</th>
                <th scope="col">What it is</th>
                <th scope="col">Standing</th>
                <th scope="col" class="right">Price</th>
              </tr>
            </thead>
            <tbody>
              {hits.slice(0, 200).map((h) => (
                <tr key={`${h.kind}/${h.id}`}>
                  <td class="quiet nowrap">{h.kind}</td>
                  <td>
                    <button type="button" class="copy" title="Copy the name" onClick={() => copy(h.id)}>
                      <code>{h.id}</code>
                    </button>
                  </td>
                  <td>
                    {h.text || h.name}
                    {h.note && <div class="quiet small">{h.note}</div>}
                  </td>
                  <td class="small">
                    {h.standing}
                    <div class="quiet">{h.source}</div>
                  </td>
                  <td class="right">{h.price === null ? "" : h.price.toFixed(2)}</td>
                </tr>
              ))}
            </tbody>
          </table>
          {hits.length === 0 && <p>Nothing on the shelf is called so</p>}
          {hits.length > 200 && <p class="quiet">and {hits.length - 200} more; say more words</p>}
        </div>
      )}
    </>
  );
}

function copy(text: string): void {
  void navigator.clipboard?.writeText(text).then(() => { word.value = { text: `${text} is on the clipboard` }; }, () => {});
}

function AddPart({ of: all, start, done }: { of: ShelfKind[]; start: string; done: () => void }) {
  const [of_kind, setKind] = useState(start || (all[0]?.kind ?? ""));
  const [fields, setFields] = useState<Record<string, string>>({});
  const [judged, setJudged] = useState<Shop | null>(null);
  const latest = useRef(new Latest<Shop>(setJudged, say));
  const id = build.value;
  const names = all.find((k) => k.kind === of_kind)?.fields ?? [];
  const asked = () => ({ kind: of_kind, fields: Object.fromEntries(Object.entries(fields).filter(([k, v]) => v !== "" && names.includes(k)).map(([k, v]) => [k, written(v)])), asker: tab });
  useEffect(() => {
    if (id !== null && of_kind !== "" && Object.keys(fields).length > 0) latest.current.ask(() => post<Shop>(of(id, "shop"), { ...asked(), only_check: true }));
  }, [fields, of_kind]);
  if (id === null) return null;
  const add = async (e: Event) => {
    e.preventDefault();
    try {
      const shop = await post<Shop>(of(id, "shop"), { ...asked(), only_check: false });
      setJudged(shop);
      if (shop.added) {
        word.value = { text: "Added to the shop's shelf of this build" };
        done();
      }
    } catch (error) {
      say(error);
    }
  };
  return (
    <form class="add-part" onSubmit={add}>
      <div class="fields">
        <label>
          kind
          <select value={of_kind} onChange={(e) => { setKind(e.currentTarget.value); setJudged(null); }}>
            {all.map((k) => (
              <option key={k.kind}>{k.kind}</option>
            ))}
          </select>
        </label>
        {names.map((n) => (
          <label key={n}>
            {n}
            <input value={fields[n] ?? ""} onInput={(e) => setFields({ ...fields, [n]: e.currentTarget.value })} />
          </label>
        ))}
      </div>
      <div>
        {judged?.errors.map((e) => (
          <p key={e.message} class="of-fails">
            {e.message}
            {e.hint && <span class="quiet"> {e.hint}</span>}
          </p>
        ))}
        {judged && <pre class="mono">{judged.text}</pre>}
        <button type="submit" class="main" disabled={judged === null || judged.errors.length > 0}>
          Add it
        </button>
      </div>
    </form>
  );
}

/** A plain number stays one; all else is text. */
function written(text: string): string | number {
  return /^-?\d+(\.\d+)?$/.test(text.trim()) ? Number(text) : text;
}
