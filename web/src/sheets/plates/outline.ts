//! Outlines with arcs as SVG path data, seen from outside the face with y upwards. Pure.
import type { Corner } from "../../wire.ts";

/**
 * A closed outline. A bulge is the tangent of a quarter of the arc's angle, positive to the left; the radius follows
 * from chord and bulge, as where a pen has to be set and nothing more.
 */
export function pathOfCorners(corners: readonly Corner[]): string {
  const first = corners[0];
  if (!first) return "";
  let d = `M${first.x_mm} ${first.y_mm}`;
  for (const [i, c] of corners.entries()) {
    const next = corners[(i + 1) % corners.length] ?? first;
    if (Math.abs(c.bulge) < 1e-9) {
      d += `L${next.x_mm} ${next.y_mm}`;
      continue;
    }
    const chord = Math.hypot(next.x_mm - c.x_mm, next.y_mm - c.y_mm);
    const b = Math.abs(c.bulge);
    const radius = (chord * (1 + b * b)) / (4 * b);
    d += `A${radius} ${radius} 0 ${b > 1 ? 1 : 0} ${c.bulge > 0 ? 1 : 0} ${next.x_mm} ${next.y_mm}`;
  }
  return `${d}Z`;
}

/** A hexagon across corners, flat on top. */
export function hexagon(x: number, y: number, corners_mm: number): string {
  const r = corners_mm / 2;
  const h = (r * Math.sqrt(3)) / 2;
  const p = [
    [r, 0],
    [r / 2, h],
    [-r / 2, h],
    [-r, 0],
    [-r / 2, -h],
    [r / 2, -h],
  ];
  return `M${p.map(([dx, dy]) => `${x + (dx ?? 0)} ${y + (dy ?? 0)}`).join("L")}Z`;
}

/** What has to be seen: x, y, width, height with y downwards, for a view box. */
export function boxOf(corners: readonly { x_mm: number; y_mm: number }[], room_mm: number): [number, number, number, number] {
  const x = corners.map((c) => c.x_mm);
  const y = corners.map((c) => c.y_mm);
  const [l, r, b, t] = [Math.min(...x), Math.max(...x), Math.min(...y), Math.max(...y)];
  return [l - room_mm, -t - room_mm, r - l + 2 * room_mm, t - b + 2 * room_mm];
}

/** A place as the document writes it, to a tenth of a millimetre. */
export function placeText(x_mm: number, y_mm: number): string {
  const n = (v: number) => Number(v.toFixed(1)).toString();
  return `${n(x_mm)} mm, ${n(y_mm)} mm`;
}
