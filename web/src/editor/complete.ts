//! What fits at the cursor: keys of the table one stands in, words, units and parts of the shelf.
import type { Completion, CompletionContext, CompletionResult } from "@codemirror/autocomplete";
import { get } from "../api.ts";
import { desk, plan } from "../bench.ts";
import type { Hit, Key, Table } from "../wire.ts";
import { insideAt, type Inside, namesFor, shownBy, statementAt, written as asKey } from "./inline.ts";
import { fits, tableAt, unquoted, writtenIn } from "./toml.ts";

let tables: Promise<Table[]> | null = null;

/** Every table of the document and its keys, fetched once. */
export function allTables(): Promise<Table[]> {
  tables ??= get<Table[]>("/api/keys").catch((error) => {
    tables = null;
    throw error;
  });
  return tables;
}

export async function tableOf(path: readonly string[]): Promise<Table | null> {
  const all = await allTables();
  // A pattern that says more of the path in words goes first.
  const fitting = all.filter((t) => fits(t.path, path));
  return fitting.sort((a, b) => b.path.replace(/[A-Z]/g, "").length - a.path.replace(/[A-Z]/g, "").length)[0] ?? null;
}

export async function partsOf(kind: string, words: string): Promise<Hit[]> {
  return get<Hit[]>(`/api/shelf?kind=${encodeURIComponent(kind)}&words=${encodeURIComponent(words)}`);
}

export async function complete(context: CompletionContext): Promise<CompletionResult | null> {
  const line = context.state.doc.lineAt(context.pos);
  const before = line.text.slice(0, context.pos - line.from);
  const lines = context.state.doc.toString().split("\n");
  const inside = insideAt(statementAt(lines, line.number - 1, before));
  if (inside) return within(context, tableAt(lines, line.number - 1), inside);
  if (/^\s*\[/.test(before)) return headers(context, before);
  const value = /^\s*([A-Za-z0-9_-]+)\s*=\s*(.*)$/.exec(before);
  const path = tableAt(lines, line.number - 1);
  const table = await tableOf(path);
  if (!table) return null;
  if (value) {
    const key = table.keys.find((k) => k.name === value[1]);
    return key ? values(context, key, value[2] ?? "") : null;
  }
  return keys(context, table, new Set(writtenIn(context.state.doc.toString(), path).map((w) => w.key)));
}

/** In a table written on the line: the keys of that table, or names of the build where it is written name by name. */
async function within(context: CompletionContext, outer: string[], at: Inside): Promise<CompletionResult | null> {
  const table = await tableOf([...outer, ...at.path]);
  if (table) {
    if (at.key === null) return keys(context, table, new Set(at.there));
    const key = table.keys.find((k) => k.name === at.key);
    return key ? values(context, key, at.word) : null;
  }
  const path = [...outer, ...at.path.slice(0, -1)];
  const key = (await tableOf(path))?.keys.find((k) => k.name === at.path.at(-1));
  if (!key) return null;
  const shown = shownBy(key.example);
  // Each value is what the whole table shows of one.
  if (at.key !== null) return values(context, { ...key, example: shown.value }, at.word);
  if (at.word === "" && !context.explicit) return null;
  const names = namesFor(path, key.name, plan.value);
  const options = (names.length > 0 ? names : shown.names)
    .filter((n) => !at.there.includes(n))
    .map((n) => ({ label: asKey(n), info: key.what, apply: `${asKey(n)} = ${shown.value}`, type: "property" }));
  return { from: context.pos - at.word.length, options, validFor: /^"?[A-Za-z0-9_+-]*$/ };
}

async function headers(context: CompletionContext, before: string): Promise<CompletionResult | null> {
  const from = context.pos - before.length + before.indexOf("[") + 1;
  const options = (await allTables()).filter((t) => t.path !== "").map((t) => ({ label: t.path, info: t.what, type: "class" }));
  return { from, options, validFor: /^[\w.-]*$/ };
}

function keys(context: CompletionContext, table: Table, there: ReadonlySet<string>): CompletionResult | null {
  const word = context.matchBefore(/[A-Za-z0-9_-]*/);
  if (!word || (word.from === word.to && !context.explicit)) return null;
  const options: Completion[] = table.keys
    .filter((k) => !there.has(k.name) || k.name === word.text)
    .map((k) => ({ label: k.name, detail: k.accepts, info: k.what, apply: `${k.name} = ${k.example}`, type: "property" }));
  return { from: word.from, options, validFor: /^[A-Za-z0-9_-]*$/ };
}

async function values(context: CompletionContext, key: Key, written: string): Promise<CompletionResult | null> {
  const from = context.pos - written.length;
  const inside = written.startsWith('"');
  const quote = (word: string) => `"${word}"`;
  const last = context.state.doc.lineAt(context.pos).text.slice(context.pos - context.state.doc.lineAt(context.pos).from);
  const to = inside && last.startsWith('"') ? context.pos + 1 : context.pos;
  const done = (options: Completion[]): CompletionResult => ({ from, to, options, filter: true });
  if (key.words.length > 0) return done(key.words.map((w) => ({ label: quote(w), type: "enum" })));
  if (key.units.length > 0) {
    const number = /^"?(-?[\d.]+)\s*/.exec(written)?.[1];
    if (!number) return done([{ label: key.example, info: key.what }]);
    return done(key.units.map((u) => ({ label: quote(`${number} ${u}`), type: "unit" })));
  }
  if (key.shelf) {
    const hits = await partsOf(key.shelf, unquoted(written.replace(/"?$/, "")).replace(/^"/, ""));
    return done(hits.slice(0, 60).map((h) => ({ label: quote(h.id), detail: h.text, type: "constant" })));
  }
  return done([{ label: key.example, info: key.what }]);
}

/** The files of the open build by name. */
export const fileText = (name: string): string => desk.value?.files.find((f) => f.name === name)?.text ?? "";
