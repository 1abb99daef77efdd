//! Which part of a strip is seen: pan and zoom as plain arithmetic on pixels.

/** The window on a strip. `left_mm` is at the left edge, `middle_mm` at half the height, y upwards. */
export interface View {
  left_mm: number;
  middle_mm: number;
  px_per_mm: number;
}

/** The strip's extent. */
export interface Extent {
  x_mm: [number, number];
  y_mm: [number, number];
}

/** A bolt of 8 mm across the whole window is near enough. */
export const NEAREST_PX_PER_MM = 60;

/** The whole extent in a window of that width, with room left and right. */
export function whole(extent: Extent, width_px: number, room_px = 26): View {
  const length = Math.max(1, extent.x_mm[1] - extent.x_mm[0]);
  const px_per_mm = Math.max(1e-4, (width_px - 2 * room_px) / length);
  return {
    left_mm: extent.x_mm[0] - room_px / px_per_mm,
    middle_mm: (extent.y_mm[0] + extent.y_mm[1]) / 2,
    px_per_mm,
  };
}

/** A part of the extent in the middle of the window, as large as goes in. */
export function around(part: Extent, width_px: number, height_px: number): View {
  const [w, h] = [part.x_mm[1] - part.x_mm[0], part.y_mm[1] - part.y_mm[0]];
  const px_per_mm = Math.min(NEAREST_PX_PER_MM, (0.86 * width_px) / Math.max(w, 1), (0.86 * height_px) / Math.max(h, 1));
  return {
    left_mm: (part.x_mm[0] + part.x_mm[1]) / 2 - width_px / 2 / px_per_mm,
    middle_mm: (part.y_mm[0] + part.y_mm[1]) / 2,
    px_per_mm,
  };
}

/** `factor` times as near, with the point under (x, y) where it is; y from the middle, downwards. */
export function zoomed(view: View, factor: number, x_px: number, y_px: number, least: number): View {
  const px_per_mm = Math.min(NEAREST_PX_PER_MM, Math.max(least, view.px_per_mm * factor));
  const x_mm = view.left_mm + x_px / view.px_per_mm;
  const y_mm = view.middle_mm - y_px / view.px_per_mm;
  return {
    left_mm: x_mm - x_px / px_per_mm,
    middle_mm: y_mm + y_px / px_per_mm,
    px_per_mm,
  };
}

export function panned(view: View, dx_px: number, dy_px: number): View {
  return {
    ...view,
    left_mm: view.left_mm - dx_px / view.px_per_mm,
    middle_mm: view.middle_mm + dy_px / view.px_per_mm,
  };
}

/** Never so far that nothing is left to see. */
export function held(view: View, extent: Extent, width_px: number, height_px: number): View {
  const [w, h] = [width_px / view.px_per_mm, height_px / view.px_per_mm];
  const keep = 0.5 * w;
  const left_mm = Math.min(extent.x_mm[1] - w + keep, Math.max(extent.x_mm[0] - keep, view.left_mm));
  const tall = extent.y_mm[1] - extent.y_mm[0];
  const middle = (extent.y_mm[0] + extent.y_mm[1]) / 2;
  const middle_mm =
    tall <= h
      ? middle
      : Math.min(extent.y_mm[1], Math.max(extent.y_mm[0], view.middle_mm));
  return { ...view, left_mm, middle_mm };
}

export const toX = (view: View, x_mm: number): number => (x_mm - view.left_mm) * view.px_per_mm;
export const toY = (view: View, y_mm: number, height_px: number): number =>
  height_px / 2 - (y_mm - view.middle_mm) * view.px_per_mm;

/** Steps of a measuring tape: the least of 1, 2, 5 x 10^n that leaves `least_px` between marks. */
export function tapeStep(px_per_unit: number, least_px: number): number {
  const raw = least_px / px_per_unit;
  const ten = 10 ** Math.floor(Math.log10(raw));
  for (const m of [1, 2, 5]) if (m * ten >= raw) return m * ten;
  return 10 * ten;
}

/** The marks of a tape over what is seen, on the shown axis. */
export function tape(
  view: View,
  width_px: number,
  factor: number,
  zero_mm: number,
): { x_px: number; value: number; long: boolean }[] {
  const px_per_unit = view.px_per_mm / factor;
  const major = tapeStep(px_per_unit, 90);
  const minor = major / 10 >= 0 && px_per_unit * (major / 10) >= 5 ? major / 10 : major / 5;
  const first = ((view.left_mm - zero_mm) * factor) / minor;
  const last = first + width_px / (px_per_unit * minor);
  const marks = [];
  for (let i = Math.ceil(first); i <= last; i++) {
    const value = i * minor;
    const ratio = value / major;
    marks.push({
      x_px: value * px_per_unit - (view.left_mm - zero_mm) * view.px_per_mm,
      value,
      long: Math.abs(ratio - Math.round(ratio)) < 1e-6,
    });
  }
  return marks;
}
