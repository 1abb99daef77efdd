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
