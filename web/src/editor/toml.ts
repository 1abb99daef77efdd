//! Finds keys in the text of a build without judging them: which table a line stands in, and what stands after a key.
//! The document is read for good only by the program.

/** The parts of a dotted key, quotes taken off. */
export function keyParts(dotted: string): string[] {
  const parts: string[] = [];
  for (const m of dotted.matchAll(/"([^"]*)"|'([^']*)'|([A-Za-z0-9_-]+)/g)) parts.push(m[1] ?? m[2] ?? m[3] ?? "");
  return parts;
}

const HEADER = /^\s*\[\[?\s*([^\]]+?)\s*\]\]?\s*(?:#.*)?$/;
const KEY = /^\s*((?:"[^"]*"|'[^']*'|[A-Za-z0-9_.-])+)\s*=\s*(.*)$/;

/** The table that line `index` (from nought) stands in. */
export function tableAt(lines: readonly string[], index: number): string[] {
  for (let i = Math.min(index, lines.length - 1); i >= 0; i--) {
    const m = HEADER.exec(lines[i] ?? "");
    if (m) return keyParts(m[1] ?? "");
  }
  return [];
}

export interface Written {
  key: string;
  /** As written, remarks taken off. */
  value: string;
  /** From nought. */
  line: number;
}

/** The keys written in a table, in their order; values over several lines are cut at the first. */
export function writtenIn(text: string, table: readonly string[]): Written[] {
  const name = table.join("\u0000");
  const out: Written[] = [];
  let now: string[] = [];
  for (const [line, words] of text.split("\n").entries()) {
    const header = HEADER.exec(words);
    if (header) {
      now = keyParts(header[1] ?? "");
      continue;
    }
    const m = KEY.exec(words);
    if (!m) continue;
    const path = [...now, ...keyParts(m[1] ?? "")];
    if (path.slice(0, -1).join("\u0000") === name) {
      out.push({ key: path[path.length - 1] ?? "", value: withoutRemark(m[2] ?? ""), line });
    }
  }
  return out;
}

/** A value without the remark behind it. */
export function withoutRemark(value: string): string {
  let quote = "";
  for (let i = 0; i < value.length; i++) {
    const c = value[i] ?? "";
    if (quote) {
      if (c === quote) quote = "";
    } else if (c === '"' || c === "'") quote = c;
    else if (c === "#") return value.slice(0, i).trim();
  }
  return value.trim();
}

/** The text of a value as a person writes it in a field: without its quotes. */
export function unquoted(value: string): string {
  const m = /^"(.*)"$|^'(.*)'$/.exec(value);
  return m ? (m[1] ?? m[2] ?? "") : value;
}

/** Whether the ids of a table's header fit a pattern like "device.ID.port.ID". */
export function fits(pattern: string, table: readonly string[]): boolean {
  const parts = pattern === "" ? [] : pattern.split(".");
  return parts.length === table.length && parts.every((p, i) => /^[A-Z]+$/.test(p) || p === table[i]);
}
