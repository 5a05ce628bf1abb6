// The frame round the block: a scale of inches or centimetres in black and white, as a sea chart has it; and the grid.
//
// Knows:  which step of the scale has room, where the frame runs. Leaves: the drawing.
// Method: the frame lies outside the block's edges; where an edge is out of sight it follows the edge of the window,
//         so that size can always be read.

import { path, shape } from "./chart.js";
import { fraction } from "./lengths.js";

const OFF = 12, WIDE = 7; // pixels: from the block's edge to the frame, and the frame's width
const ABOVE = 22, BESIDE = 44; // pixels for figures outside the frame
const LEAST = 20, APART = 40; // pixels: a bar of the scale is no shorter, its figures are no nearer
const STEPS = { inch: [1 / 16, 1 / 8, 1 / 4, 1 / 2, 1, 2, 6, 12], metric: [1 / 25.4, 5 / 25.4, 10 / 25.4, 20 / 25.4, 50 / 25.4, 100 / 25.4, 200 / 25.4] };
const FEWEST = 5; // pixels between lines of the grid

export function gridOf(chart) {
  const { grid, width, height } = chart.view;
  if (!grid) return [];
  const [across, down] = grid;
  if ((width / across) * chart.pixels < FEWEST || (height / down) * chart.pixels < FEWEST) return [];
  const lines = [];
  for (let k = 1; k < across; k++) lines.push(`M${(width * k) / across} 0V${height}`);
  for (let k = 1; k < down; k++) lines.push(`M0 ${(height * k) / down}H${width}`);
  return [shape("path", { d: lines.join(""), class: "square" })];
}

// A length of the scale as its figure.
function figure(step, k, metric) {
  const value = metric ? step * k * 2.54 : step * k;
  if (metric || Math.abs(value - Math.round(value)) < 1e-9) return String(Number(value.toFixed(2)));
  return fraction(Math.round(value * 16), 16);
}

export function frameOf(chart, [wide, high]) {
  const { width, height, units } = chart.view;
  const metric = units === "metric";
  const px = 1 / chart.pixels;
  const steps = STEPS[metric ? "metric" : "inch"];
  const step = steps.find((each) => each * chart.pixels >= LEAST) ?? steps.at(-1);
  const [left, top] = chart.place([0, 0]);
  const [right, bottom] = chart.place([width, height]);
  // The inner edge of the frame, in pixels of the window.
  const inner = [
    Math.max(left - OFF, BESIDE + WIDE), Math.max(top - OFF, ABOVE + WIDE),
    Math.min(right + OFF, wide - WIDE - 2), Math.min(bottom + OFF, high - WIDE - 2),
  ];
  const [x0, y0] = chart.inches([inner[0], inner[1]]);
  const [x1, y1] = chart.inches([inner[2], inner[3]]);
  if (x1 <= x0 || y1 <= y0) return [];
  const w = WIDE * px;
  const bars = [], figures = [];
  const said = (k) => figure(step, k, metric);
  // Figures stand well apart, and rather at whole inches.
  const every = [1, 2, 4, 5, 8, 10].find((bars) => bars * step * chart.pixels >= APART && (bars * step >= 1 || step * chart.pixels * 2 > APART)) ?? 16;

  const scale = (from, to, most, draw) => {
    const count = Math.ceil(most / step - 1e-9);
    for (let k = 0; k < count; k++) {
      const [a, b] = [Math.max(from, k * step), Math.min(to, (k + 1) * step, most)];
      if (k % 2 === 0 && b > a) draw.bar(a, b - a);
    }
    for (let k = 0; k <= count; k += every) {
      const at = k * step;
      if (at >= from && at <= to && at <= most + 1e-9) draw.figure(at, said(k));
    }
  };
  const bar = (x, y, a, b) => bars.push(`M${x} ${y}h${a}v${b}h${-a}Z`);
  const words = (at, text, dx, dy) => figures.push(chart.still(at, shape("text", { x: dx, y: dy }, text)));
  scale(Math.max(0, x0), Math.min(width, x1), width, {
    bar: (a, long) => { bar(a, y0 - w, long, w); bar(a, y1, long, w); },
    figure: (at, text) => words([at, y0 - w], text, 0, -6),
  });
  scale(Math.max(0, y0), Math.min(height, y1), height, {
    bar: (a, long) => { bar(x0 - w, a, w, long); bar(x1, a, w, long); },
    figure: (at, text) => words([x0 - w, at], text, -6 - 3.4 * text.length, 4),
  });
  const ring = (a, b, c, d) => path([[a, b], [c, b], [c, d], [a, d]]);
  // What lies outside the frame is covered, so that the drawing ends at it.
  const cover = chart.showsWhole ? [] : [shape("path", { class: "cover", "fill-rule": "evenodd",
    d: ring(...chart.inches([-9, -9]), ...chart.inches([wide + 9, high + 9])) + ring(x0 - w, y0 - w, x1 + w, y1 + w) })];
  return [
    ...cover,
    shape("path", { class: "neat", d: ring(x0, y0, x1, y1) + ring(x0 - w, y0 - w, x1 + w, y1 + w), "fill-rule": "evenodd" }),
    shape("path", { class: "bars", d: bars.join("") }),
    shape("g", { class: "figures" }, ...figures),
  ];
}
