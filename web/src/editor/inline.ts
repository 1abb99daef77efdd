//! Where the cursor stands in tables and lists written on the line: `plate = { material = "`. Pure.
import { keyParts } from "./toml.ts";

export interface Inside {
  /** Keys of the tables one stands in, from the outermost. */
  path: string[];
  /** The key a value is being written of; null while a key is written. */
  key: string | null;
  /** What is written of the key or the value so far. */
  word: string;
  /** Keys that stand in the innermost table already. */
  there: string[];
}

interface Frame {
  list: boolean;
  path: string[];
  key: string[] | null;
  there: string[];
}

const STARTS = /^\s*(?:"[^"]*"|'[^']*'|[A-Za-z0-9_.-])+\s*=/;
const LINES_MOST = 60;

/** The text from where a key begins to the cursor: a list of tables may go over several lines. */
export function statementAt(lines: readonly string[], index: number, before: string): string {
  let text = before;
  for (let i = index; i >= 0 && index - i <= LINES_MOST; i--) {
    const line = i === index ? before : (lines[i] ?? "");
    if (i !== index) text = `${line}\n${text}`;
    if (STARTS.test(line)) return text;
    if (/^\s*\[[^[\]]*\]\s*(?:#.*)?$/.test(line) && i !== index) return before;
  }
  return before;
}

/** The innermost table one writes in; null where one writes in none, or straight in a list. */
export function insideAt(statement: string): Inside | null {
  const top: Frame = { list: false, path: [], key: null, there: [] };
  const frames = [top];
  let now = top;
  let word = "";
  let quote = "";
  for (let i = 0; i < statement.length; i++) {
    const c = statement[i] ?? "";
    if (quote !== "") {
      if (c === quote) quote = "";
      word += c;
      continue;
    }
    if (c === "#") {
      const end = statement.indexOf("\n", i);
      if (end < 0) return null;
      i = end;
    } else if (c === "{" || c === "[") {
      now = { list: c === "[", path: [...now.path, ...(now.key ?? [])], key: null, there: [] };
      frames.push(now);
      word = "";
    } else if (c === "}" || c === "]") {
      if (frames.length > 1) frames.pop();
      now = frames.at(-1) ?? top;
      word = "";
    } else if (c === ",") {
      if (!now.list && now !== top) now.key = null;
      word = "";
    } else if (c === "=" && !now.list && now.key === null) {
      now.key = keyParts(word);
      now.there.push(now.key.join("."));
      word = "";
    } else {
      if (c === '"' || c === "'") quote = c;
      word += c;
    }
  }
  if (now === top || now.list) return null;
  return { path: now.path, key: now.key?.join(".") ?? null, word: word.trimStart(), there: now.there };
}

/** What names of a build are needed for here. */
export interface Named {
  runs: readonly { id: string; cables: readonly { id: string; ends: readonly { port: string; terminal: string }[] }[] }[];
}

/** What may be written name by name under `key` of the table at `path`: runs, cables of a run, terminals of a port. */
export function namesFor(path: readonly string[], key: string, plan: Named | null): string[] {
  const runs = plan?.runs ?? [];
  if (path[0] === "field") return runs.map((r) => r.id);
  if (path[0] === "run") return runs.find((r) => r.id === path[1])?.cables.map((c) => c.id) ?? [];
  if (path[0] === "device" && key === "grip-at") {
    const port = `${path[1]}.${path[3]}`;
    const ends = runs.flatMap((r) => r.cables.flatMap((c) => c.ends));
    return [...new Set(ends.filter((e) => e.port === port).map((e) => e.terminal))];
  }
  return [];
}

/** Keys and first value of a written table such as `{ U = "1.40 m" }`. */
export function shownBy(example: string): { names: string[]; value: string } {
  const pairs = [...example.matchAll(/("[^"]*"|[A-Za-z0-9_-]+)\s*=\s*("[^"]*"|[^,}\s]+)/g)];
  return { names: pairs.map((m) => (m[1] ?? "").replaceAll('"', "")), value: pairs[0]?.[2] ?? '""' };
}

/** A key as it has to be written. */
export const written = (name: string): string => (/^[A-Za-z0-9_-]+$/.test(name) ? name : `"${name}"`);
