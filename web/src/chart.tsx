//! One chart: lines over a common axis. What is drawn comes from the program; this chooses ink and axes.
import uPlot from "uplot";
import "uplot/dist/uPlot.min.css";
import { useEffect, useRef } from "preact/hooks";
import type { ChartOf, Line } from "./curves.ts";
import { dark } from "./look.ts";
import { useSize } from "./size.ts";

type Props = ChartOf & { height?: number };

export function Chart(props: Props) {
  const at = useRef<HTMLDivElement>(null);
  const { width } = useSize(at);
  const plot = useRef<uPlot | null>(null);
  const { x, lines, height = 230 } = props;
  const shape = `${lines.map((l) => l.name + l.ink).join()}|${props.x_name}|${props.y_name}|${dark.value}|${props.log_x}|${props.log_y}`;
  useEffect(() => {
    if (!at.current || width === 0) return;
    const made = new uPlot(optionsOf(props, width, height), dataOf(x, lines), at.current);
    plot.current = made;
    return () => {
      made.destroy();
      plot.current = null;
    };
    // The chart is made anew when its shape changes; values alone are put in below.
  }, [shape, width, height]);
  useEffect(() => plot.current?.setData(dataOf(x, lines)), [x, lines]);
  return <div class="chart" ref={at} role="img" aria-label={props.what} style={`min-height:${height}px`} />;
}

function dataOf(x: number[], lines: Line[]): uPlot.AlignedData {
  return [x, ...lines.map((l) => l.values)] as uPlot.AlignedData;
}

/** A mark of an axis; those between the named ones are null. */
const named = (mark: number | null): string => (mark === null ? "" : mark.toLocaleString(undefined, { maximumSignificantDigits: 3 }));

function colour(name: string): string {
  return getComputedStyle(document.documentElement).getPropertyValue(name).trim();
}

function optionsOf(props: Props, width: number, height: number): uPlot.Options {
  const font = "12px 'Plex Sans', sans-serif";
  const axis = (label: string, size: number, log: boolean | undefined): uPlot.Axis => ({
    label,
    // By its logarithm an axis has small numbers that must not be rounded away, and few marks that need names.
    ...(log ? { space: 18, values: (_: uPlot, marks: (number | null)[]) => marks.map(named) } : {}),
    labelFont: font,
    labelSize: 18,
    font,
    size,
    stroke: colour("--ink-2"),
    grid: { stroke: colour("--line"), width: 1 },
    ticks: { stroke: colour("--line-2"), width: 1, size: 5 },
  });
  const options: uPlot.Options = {
    width,
    height: height - 30,
    scales: {
      x: { time: false, ...(props.log_x ? { distr: 3 as const } : {}) },
      y: props.log_y ? { distr: 3 as const } : {},
    },
    axes: [axis(props.x_name, 34, props.log_x), axis(props.y_name, 54, props.log_y)],
    legend: {
      markers: {
        width: 2,
        stroke: (_, i) => colour(props.lines[i - 1]?.ink ?? "--ink"),
        dash: (_, i) => (props.lines[i - 1]?.marks ? "dotted" : props.lines[i - 1]?.dash ? "dashed" : "solid"),
        fill: () => "transparent",
      },
    },
    cursor: { points: { size: 6 } },
    series: [
      { label: props.x_name, value: (_, v) => (v === null ? "" : String(Number(v.toPrecision(4)))) },
      ...props.lines.map((l) => ({
        label: l.name,
        stroke: colour(l.ink),
        width: l.marks ? 0 : (l.width ?? 1.6),
        spanGaps: true,
        ...(l.dash ? { dash: l.dash } : {}),
        points: l.marks ? { show: true, size: 7, fill: colour(l.ink), stroke: colour(l.ink) } : { show: false },
        value: (_: uPlot, v: number | null) => (v === null ? "" : String(Number(v.toPrecision(4)))),
      })),
    ],
  };
  if (props.bands)
    options.bands = props.bands.map((b) => ({ series: [b.between[0] + 1, b.between[1] + 1], fill: `${colour(b.ink)}2e` }));
  return options;
}
