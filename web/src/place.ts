//! Where we are: the address is `/`, or `/b/BUILD/SHEET`.
import { signal } from "@preact/signals";

export const SHEETS = [
  "heat",
  "ends",
  "plates",
  "kit",
  "steps",
  "trials",
  "book",
  "figures",
  "shelf",
] as const;
/** Sheets that are read rather than worked on: the strips make room for them. */
export const READ: ReadonlySet<SheetName> = new Set(["kit", "steps", "trials", "book", "figures", "shelf"]);
export type SheetName = (typeof SHEETS)[number];

export interface Place {
  /** The build's id; null on the first page. */
  build: string | null;
  sheet: SheetName;
}

/** Reads an address; an unknown sheet leads to the first. */
export function placeOf(path: string): Place {
  const [, b, id, sheet] = path.split("/");
  if (b !== "b" || !id) return { build: null, sheet: "heat" };
  const known = SHEETS.find((name) => name === sheet) ?? "heat";
  return { build: id === "here" ? "." : decodeURIComponent(id), sheet: known };
}

/** The address of a place. */
export function addressOf(place: Place): string {
  if (place.build === null) return "/";
  const id = place.build === "." ? "here" : encodeURIComponent(place.build);
  return `/b/${id}/${place.sheet}`;
}

export const place = signal<Place>(placeOf(globalThis.location?.pathname ?? "/"));

export function go(to: Partial<Place>): void {
  const next = { ...place.value, ...to };
  const address = addressOf(next);
  if (address !== location.pathname) history.pushState(null, "", address);
  place.value = next;
}

export function followAddress(): void {
  addEventListener("popstate", () => {
    place.value = placeOf(location.pathname);
  });
}
