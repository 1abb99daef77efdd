//! What a chart is given to draw.

export interface Line {
  name: string;
  values: (number | null)[];
  /** A colour of the page, "--ink". */
  ink: string;
  dash?: number[];
  width?: number;
  /** Drawn as marks alone. */
  marks?: boolean;
}

export interface Band {
  /** Indices of lines, upper first. */
  between: [number, number];
  ink: string;
}

/** One chart: lines over a common axis. */
export interface ChartOf {
  /** What the chart says, for who cannot see it. */
  what: string;
  x: number[];
  x_name: string;
  y_name: string;
  lines: Line[];
  bands?: Band[];
  log_x?: boolean;
  log_y?: boolean;
}
