//! A word at the foot of the page: what was done, what waits, what has to be chosen.
import { useEffect } from "preact/hooks";
import { build, desk, say, waiting, word } from "../bench.ts";
import { of, post, tab } from "../api.ts";
import { connected } from "../events.ts";

export function Foot() {
  const w = word.value;
  useEffect(() => {
    if (!w) return;
    const timer = setTimeout(() => { if (word.value === w) word.value = null; }, 9000);
    return () => clearTimeout(timer);
  }, [w]);
  const conflict = desk.value?.conflict;
  if (conflict) return <Conflict files={conflict.theirs.map((f) => f.name)} />;
  if (!connected.value)
    return (
      <div class="bottom-note" role="alert">
        <span>
          The bench's program does not answer. Start <code>loomwright bench</code> again; {waiting.value.length > 0 ? "what you changed waits here" : "nothing that was saved is lost"}
        </span>
      </div>
    );
  if (!w) return null;
  return (
    <div class="bottom-note" role="status">
      <span>{w.text}</span>
      {w.act && (
        <button type="button" onClick={() => w.act?.run()}>
          {w.act.name}
        </button>
      )}
      <button type="button" onClick={() => { word.value = null; }}>
        Well
      </button>
    </div>
  );
}

function Conflict({ files }: { files: string[] }) {
  const keep = async (which: "ours" | "theirs") => {
    const id = build.value;
    if (id === null) return;
    try {
      await post(of(id, "conflict"), { keep: which, asker: tab });
    } catch (error) {
      say(error);
    }
  };
  return (
    <div class="bottom-note" role="alertdialog" aria-label="Two versions">
      <span>{files.join(", ")} changed outside the bench while changes here could not be saved. Both stay in the history; which is to be worked on?</span>
      <button type="button" onClick={() => void keep("ours")}>
        What is here
      </button>
      <button type="button" onClick={() => void keep("theirs")}>
        What is on the disk
      </button>
    </div>
  );
}
