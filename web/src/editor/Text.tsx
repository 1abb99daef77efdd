//! The text of the build beside its picture: files as tabs, what is not saved yet, and the editor.
import { signal } from "@preact/signals";
import { useEffect, useRef } from "preact/hooks";
import { desk, planned } from "../bench.ts";
import { wantedLine } from "../parts/lines.ts";
import { Catch } from "../parts/Catch.tsx";
import { editorOf, type Editor } from "./editor.ts";

const file = signal<string | null>(null);
export const behind = signal(false);

export function Text() {
  const d = desk.value;
  const files = (d?.files ?? []).filter((f) => f.exists || f.role !== "face");
  const name = file.value !== null && files.some((f) => f.name === file.value) ? file.value : (files[0]?.name ?? null);
  const wanted = wantedLine.value;
  useEffect(() => {
    if (wanted) file.value = wanted.at.file;
  }, [wanted]);
  if (!d || name === null) return null;
  return (
    <Catch>
      <div class="files">
        <div class="names" role="tablist" aria-label="Files of the build">
        {files.map((f) => (
          <button key={f.name} type="button" role="tab" aria-selected={f.name === name} onClick={() => { file.value = f.name; }}>
            {f.name}
          </button>
        ))}
        </div>
        <span class="state" role="status">
          {d.unsaved ? d.unsaved : behind.value ? "writing …" : "saved"}
        </span>
      </div>
      <Writing key={`${d.id}/${name}`} id={d.id} name={name} />
    </Catch>
  );
}

function Writing({ id, name }: { id: string; name: string }) {
  const at = useRef<HTMLDivElement>(null);
  const editor = useRef<Editor | null>(null);
  useEffect(() => {
    if (!at.current) return;
    const e = editorOf(at.current, id, name, (b) => { behind.value = b; });
    editor.current = e;
    return () => e.close();
  }, [id, name]);
  const text = desk.value?.files.find((f) => f.name === name)?.text;
  const version = desk.value?.version ?? 0;
  useEffect(() => {
    if (text !== undefined) editor.current?.heard({ version, text });
  }, [version, text]);
  const p = planned.value;
  useEffect(() => {
    if (p) editor.current?.underline(p);
  }, [p]);
  const wanted = wantedLine.value;
  useEffect(() => {
    if (wanted && wanted.at.file === name) editor.current?.showLine(wanted.at);
  }, [wanted, name]);
  return <div class="writing" ref={at} />;
}
