//! The editor of one file: highlighting, completion, findings underlined, and history left to the program.
import { autocompletion, closeBrackets, completionKeymap } from "@codemirror/autocomplete";
import { defaultKeymap } from "@codemirror/commands";
import { bracketMatching, HighlightStyle, StreamLanguage, syntaxHighlighting } from "@codemirror/language";
import { toml } from "@codemirror/legacy-modes/mode/toml";
import { type Diagnostic, lintGutter, setDiagnostics } from "@codemirror/lint";
import { highlightSelectionMatches, search, searchKeymap } from "@codemirror/search";
import { Annotation, EditorState } from "@codemirror/state";
import {
  drawSelection,
  EditorView,
  highlightActiveLine,
  highlightActiveLineGutter,
  keymap,
  lineNumbers,
} from "@codemirror/view";
import { tags } from "@lezer/highlight";
import { of, get, post, Refused, tab } from "../api.ts";
import { flush, redo, say, undo, word } from "../bench.ts";
import { connected } from "../events.ts";
import type { At, Changed, Desk, Planned } from "../wire.ts";
import { complete } from "./complete.ts";
import { changeBetween } from "./diff.ts";
import { type Held, Sync } from "./sync.ts";

/** Marks what was put in by the program, so that it is not sent back. */
const fromProgram = Annotation.define<boolean>();

const INK = HighlightStyle.define([
  { tag: tags.comment, color: "var(--ink-3)", fontStyle: "italic" },
  { tag: tags.propertyName, color: "var(--blue)" },
  { tag: tags.string, color: "var(--ink)" },
  { tag: [tags.number, tags.bool, tags.atom], color: "var(--holds)" },
  { tag: tags.bracket, color: "var(--ink-2)" },
]);

const FACE = EditorView.theme({
  "&": { backgroundColor: "var(--sheet)", color: "var(--ink)", fontSize: "13px" },
  ".cm-scroller": { fontFamily: "var(--mono)", lineHeight: "1.5" },
  ".cm-content": { caretColor: "var(--ink)", paddingBottom: "40vh" },
  ".cm-cursor": { borderLeftColor: "var(--ink)", borderLeftWidth: "2px" },
  ".cm-gutters": { backgroundColor: "var(--well)", color: "var(--ink-3)", borderRight: "1px solid var(--line)" },
  ".cm-activeLine, .cm-activeLineGutter": { backgroundColor: "color-mix(in srgb, var(--blue-wash) 55%, transparent)" },
  "&.cm-focused .cm-selectionBackground, .cm-selectionBackground": { backgroundColor: "var(--blue-wash) !important" },
  ".cm-tooltip": { backgroundColor: "var(--sheet)", border: "1px solid var(--line-2)", color: "var(--ink)" },
  ".cm-tooltip-autocomplete ul li[aria-selected]": { backgroundColor: "var(--blue)", color: "var(--on-blue)" },
  ".cm-completionDetail": { color: "var(--ink-3)", fontStyle: "normal", marginLeft: "1em" },
  "li[aria-selected] .cm-completionDetail": { color: "inherit" },
  ".cm-completionInfo": { maxWidth: "320px", fontFamily: "var(--body)", whiteSpace: "normal" },
  ".cm-diagnostic": { borderLeftWidth: "4px", fontFamily: "var(--body)", whiteSpace: "normal", maxWidth: "420px" },
  ".cm-diagnostic-error": { borderLeftColor: "var(--fails)" },
  ".cm-diagnostic-warning": { borderLeftColor: "var(--close)" },
  ".cm-diagnostic-info": { borderLeftColor: "var(--unknown)" },
  ".cm-lintRange-error": { backgroundImage: "none", borderBottom: "2px solid var(--fails)" },
  ".cm-lintRange-warning": { backgroundImage: "none", borderBottom: "2px dotted var(--close)" },
  ".cm-lintRange-info": { backgroundImage: "none", borderBottom: "2px dashed var(--unknown)" },
  ".cm-panels": { backgroundColor: "var(--well)", color: "var(--ink)" },
  ".cm-panel button": { backgroundImage: "none", backgroundColor: "var(--sheet)", border: "1px solid var(--line-2)" },
});

export interface Editor {
  heard(held: Held): void;
  underline(planned: Planned): void;
  showLine(at: At): void;
  close(): void;
}

/** Opens a file of a build in `parent`. */
export function editorOf(parent: HTMLElement, id: string, name: string, tell: (behind: boolean) => void): Editor {
  const sync = new Sync({ version: 0, text: "" }, wireOf(id, name, (t, mine) => put(view, t, mine), tell));
  const view = new EditorView({
    parent,
    state: EditorState.create({ doc: "", extensions: extensionsOf(name, (t) => { sync.type(t); tell(sync.behind); }) }),
  });
  const flushed = async () => {
    sync.resume();
    await sync.flush();
  };
  flush.run = flushed;
  const stop = connected.subscribe((there) => { if (there) sync.resume(); });
  let wanted: At | null = null;
  return {
    heard(held) {
      sync.heard(held);
      if (wanted && held.text !== "") {
        lineIn(view, wanted);
        wanted = null;
      }
    },
    underline: (p) => view.dispatch(setDiagnostics(view.state, diagnosticsOf(view.state, p, name))),
    showLine(at) {
      if (view.state.doc.length === 0) wanted = at;
      else lineIn(view, at);
    },
    close() {
      void flushed().finally(() => sync.stop());
      if (flush.run === flushed) flush.run = async () => {};
      stop();
      view.destroy();
    },
  };
}

function extensionsOf(name: string, typed: (text: string) => void) {
  const walk = (way: () => Promise<void>) => () => {
    void way();
    return true;
  };
  return [
    lineNumbers(),
    highlightActiveLine(),
    highlightActiveLineGutter(),
    drawSelection(),
    bracketMatching(),
    closeBrackets(),
    lintGutter(),
    search({ top: true }),
    highlightSelectionMatches(),
    StreamLanguage.define(toml),
    syntaxHighlighting(INK),
    autocompletion({ override: [complete], icons: false }),
    FACE,
    EditorView.contentAttributes.of({ "aria-label": `Text of ${name}`, tabindex: "0" }),
    keymap.of([
      { key: "Mod-z", run: walk(undo) },
      { key: "Mod-y", run: walk(redo) },
      { key: "Mod-Shift-z", run: walk(redo) },
      ...completionKeymap,
      ...searchKeymap,
      ...defaultKeymap,
    ]),
    EditorView.updateListener.of((update) => {
      if (!update.docChanged) return;
      if (update.transactions.some((t) => t.annotation(fromProgram) === true)) return;
      typed(update.state.doc.toString());
    }),
  ];
}

function wireOf(id: string, name: string, putText: (t: string, mine?: boolean) => void, tell: (behind: boolean) => void) {
  return {
    async send(base: number, text: string) {
      try {
        const asked = { base, file: name, text, label: "typing", gather: `${tab}-${name}`, asker: `${tab}-text` };
        const changed = await post<Changed>(of(id, "text"), asked);
        tell(false);
        return { version: changed.version };
      } catch (error) {
        if (error instanceof Refused && error.status === 409) return "moved" as const;
        throw error;
      }
    },
    async fetch(): Promise<Held> {
      const d = await get<Desk>(of(id, ""));
      return { version: d.version, text: d.files.find((f) => f.name === name)?.text ?? "" };
    },
    put: putText,
    met(ours: string, theirs: string) {
      putText(theirs);
      word.value = {
        text: `${name} was changed elsewhere in the same place; that change is shown`,
        act: { name: "Put mine instead", run: () => putText(ours, true) },
      };
    },
    failed: (error: unknown) => say(error),
  };
}

/** Puts a text in with the least change, so that cursor and view stay; `mine` is sent as if it had been typed. */
function put(view: EditorView, text: string, mine = false): void {
  const change = changeBetween(view.state.doc.toString(), text);
  if (change) view.dispatch({ changes: change, annotations: fromProgram.of(!mine) });
}

function lineIn(view: EditorView, at: At): void {
  const { from, to } = rangeOf(view.state, at);
  view.dispatch({ selection: { anchor: from, head: to }, effects: EditorView.scrollIntoView(from, { y: "center" }) });
  view.focus();
}

function rangeOf(state: EditorState, at: At): { from: number; to: number } {
  const line = state.doc.line(Math.min(Math.max(1, at.line), state.doc.lines));
  const from = Math.min(line.to, line.from + Math.max(0, at.column - 1));
  return { from, to: Math.min(line.to, from + Math.max(1, at.width)) };
}

const SEVERITY = { fails: "error", close: "warning", unknown: "info" } as const;

function diagnosticsOf(state: EditorState, p: Planned, name: string): Diagnostic[] {
  const out: Diagnostic[] = [];
  for (const m of p.errors) {
    if (m.at.file !== name) continue;
    const message = m.hint ? `${m.message}. ${m.hint}` : m.message;
    out.push({ ...rangeOf(state, m.at), severity: "error", message });
  }
  if (!p.stale) {
    for (const n of p.findings) {
      if (n.verdict === "holds" || n.at?.file !== name) continue;
      const message = n.hint ? `${n.message}. ${n.hint}` : n.message;
      out.push({ ...rangeOf(state, n.at), severity: SEVERITY[n.verdict], message, source: n.code });
    }
  }
  return out.sort((a, b) => a.from - b.from);
}
