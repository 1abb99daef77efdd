//! Numbers as a person reads them. The program says how each unit is shown; this only scales and rounds, as an axis does.
import { signal } from "@preact/signals";
import { get } from "./api.ts";
import type { ShownUnit, Unit } from "./wire.ts";

export type System = "metric" | "us";

/** The program's table of units. */
export const units = signal<Map<string, Unit>>(new Map());

export async function readUnits(): Promise<void> {
  const all = await get<Unit[]>("/api/units");
  units.value = new Map(all.map((u) => [u.kept, u]));
}

/** How a kept unit is shown; as it is kept where the table does not know it. */
export function shownUnit(kept: string, system: System): ShownUnit {
  const unit = units.value.get(kept);
  return unit ? unit[system] : { unit: kept, factor: 1, offset: 0, decimals: 2 };
}

/** A kept value on the shown axis. */
export function onAxis(value: number, unit: ShownUnit): number {
  return value * unit.factor + unit.offset;
}

/** A number with so many decimals, and none of them trailing noughts. */
export function rounded(value: number, decimals: number): string {
  const size = Math.abs(value);
  // Very small and very large values keep three figures instead of decimals.
  if (size !== 0 && (size < 10 ** -decimals || size >= 1e7)) return Number(value.toPrecision(3)).toString();
  return Number(value.toFixed(decimals)).toString();
}

/** What a thousand of a unit is called, as the program itself writes long lengths. */
const LONGER: Record<string, string> = { mm: "m", g: "kg", A: "kA", N: "kN", W: "kW" };

/** A kept value with its unit: "14.2 mm". */
export function show(value: number | null | undefined, kept: string, system: System): string {
  if (value === null || value === undefined) return "not known";
  const unit = shownUnit(kept, system);
  const longer = LONGER[unit.unit];
  if (longer && Math.abs(value * unit.factor) >= 1000) return `${rounded((value * unit.factor) / 1000, 3)} ${longer}`;
  const shown = onAxis(value, unit);
  // A hundredth of an ampere says nothing beside hundreds of them.
  const decimals = Math.abs(shown) >= 100 ? Math.min(unit.decimals, 1) : unit.decimals;
  return `${rounded(shown, decimals)} ${unit.unit}`.trim();
}
