//! The keys of the bench.
import { signal } from "@preact/signals";
import { useEffect, useRef } from "preact/hooks";

export const helpOpen = signal(false);

const KEYS: [string, string][] = [
  ["F2", "the text of the build, and back to where you were"],
  ["F6, Shift F6", "the next part of the bench: findings, strips, sheets, sheet, text"],
  ["F8, Shift F8", "the next thing to see to, or the one before"],
  ["Ctrl Z, Ctrl Y", "undo, redo: text and picture alike"],
  ["Left, Right", "along the strip, or to the next sheet's tab"],
  ["+, -, 0", "nearer, further, the whole run"],
  ["Up, Down", "on the strip: from part to part; Enter opens the end"],
  ["Ctrl Space", "in the text: keys, units and parts that fit"],
  ["Tab", "leaves the text; nothing holds the keys"],
  ["F1", "this list"],
];

export function Help() {
  const at = useRef<HTMLDialogElement>(null);
  const open = helpOpen.value;
  useEffect(() => {
    if (open) at.current?.showModal();
    else at.current?.close();
  }, [open]);
  return (
    <dialog ref={at} aria-labelledby="keys-title" onClose={() => { helpOpen.value = false; }}>
      <h2 id="keys-title">Keys</h2>
      <table>
        <tbody>
          {KEYS.map(([key, what]) => (
            <tr key={key}>
              <th scope="row" class="nowrap">
                <kbd>{key}</kbd>
              </th>
              <td>{what}</td>
            </tr>
          ))}
        </tbody>
      </table>
      <p class="row" style="margin-top:14px">
        <button type="button" class="main" onClick={() => { helpOpen.value = false; }}>
          Close
        </button>
      </p>
    </dialog>
  );
}
