//! The register of sheets.
import { Icon } from "../icons.tsx";
import { go, place, SHEETS, type SheetName } from "../place.ts";

export const SHEET_NAMES: Record<SheetName, string> = {
  heat: "Heat",
  ends: "Ends",
  plates: "Plates",
  kit: "Kit",
  steps: "Steps",
  trials: "Trials",
  book: "Book",
  figures: "Figures",
  shelf: "Shelf",
};

export function Tabs() {
  const now = place.value.sheet;
  const move = (event: KeyboardEvent) => {
    const by = { ArrowRight: 1, ArrowLeft: -1 }[event.key];
    if (!by) return;
    const next = SHEETS[(SHEETS.indexOf(now) + by + SHEETS.length) % SHEETS.length];
    if (!next) return;
    go({ sheet: next });
    document.getElementById(`tab-${next}`)?.focus();
    event.preventDefault();
  };
  return (
    <div class="tabs" role="tablist" aria-label="Sheets" onKeyDown={move}>
      {SHEETS.map((name) => (
        <button key={name} id={`tab-${name}`} type="button" role="tab" aria-selected={name === now} aria-controls="sheet" tabIndex={name === now ? 0 : -1} onClick={() => go({ sheet: name })}>
          <Icon name={name} />
          {SHEET_NAMES[name]}
        </button>
      ))}
    </div>
  );
}
