// The chart by keyboard: a cursor that moves by squares of the grid, points set by Enter or space.
//
// Knows:  which key does what on the chart. Leaves: what tools do; undo itself (desk.js).

import { counted, sayAt } from "./places.js";
import { erasePicked } from "./tools-change.js";
import { distance } from "./snap.js";

export const KEYS = [
  ["S, C, M, P, E", "take Seam, Curve, Move, Pick, Erase"],
  ["arrow keys", "on the drawing: move the cursor by a square of the grid; with Shift by an eighth of one"],
  ["Enter or space", "set a point at the cursor, hold a point, pick or erase a seam there"],
  ["N, B", "to the next point or the one before"],
  ["digits", "a length, as in 2 1/2, or a place, as in 3, 4; then Enter"],
  ["Esc", "end the seam under way; put away what is picked"],
  ["Shift held", "draw freely, without snapping; F: always"],
  ["Ctrl A, Delete", "pick all seams, erase what is picked"],
  ["+, -, W", "nearer, farther, whole block; also the wheel, or two fingers"],
  ["space and drag", "move the sheet; also the middle button"],
];

const WAYS = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] };

export function mountKeyboard(app, hand, bar) {
  const { chart } = hand;
  let panned = false;

  function step(way, fine) {
    const { view } = hand;
    const one = counted(view).map((each) => (fine ? each / 8 : each));
    const at = hand.cursor ?? [view.width / 2, view.height / 2];
    const most = [view.width, view.height];
    // To the next line of squares, so that a cursor between two lines finds back to them.
    hand.cursor = [0, 1].map((k) => {
      if (!way[k]) return at[k];
      const squares = at[k] / one[k];
      const next = way[k] > 0 ? Math.floor(squares + 1 + 1e-6) : Math.ceil(squares - 1 - 1e-6);
      return Math.min(most[k], Math.max(0, next * one[k]));
    });
    there();
  }

  function there() {
    chart.svg.classList.remove("by-pointer");
    chart.seek(hand.cursor);
    hand.tool.moved(hand.cursor);
    chart.layers.pointer.append(hand.cross(hand.cursor));
    chart.hold(chart.layers.pointer);
    const about = hand.tool.about?.(hand.cursor);
    hand.tell(`${sayAt(hand.cursor, hand.view, hand.scene)}${about ? ` ${about}.` : ""}`);
  }

  // Points in reading order; for tools that pick seams the middles of the pieces.
  function jump(by) {
    const stops = hand.tool.picks
      ? hand.view.pieces.map(({ points }) => (points.length > 2 ? points[points.length >> 1] : [0, 1].map((k) => (points[0][k] + points[1][k]) / 2)))
      : [...hand.scene.points];
    if (!stops.length) return hand.tell("There is nothing drawn yet.");
    const order = (p, q) => p[1] - q[1] || p[0] - q[0];
    stops.sort(order);
    const here = hand.cursor;
    const after = here ? stops.findIndex((stop) => order(stop, here) > 1e-9 && distance(stop, here) > 1e-6) : 0;
    const before = here ? stops.findLastIndex((stop) => order(stop, here) < -1e-9 && distance(stop, here) > 1e-6) : stops.length - 1;
    const index = by > 0 ? after : before;
    hand.cursor = stops[index === -1 ? (by > 0 ? 0 : stops.length - 1) : index];
    there();
  }

  const onChart = {
    Enter: () => { if (hand.cursor) hand.tool.set(hand.cursor); },
    Delete: () => erasePicked(hand),
    Backspace: () => erasePicked(hand),
    n: () => jump(1), b: () => jump(-1),
  };

  chart.svg.addEventListener("keydown", (event) => {
    if (!hand.active || event.ctrlKey || event.metaKey || event.altKey) return;
    if (WAYS[event.key]) step(WAYS[event.key], event.shiftKey);
    else if (onChart[event.key]) onChart[event.key]();
    else if (onChart[event.key.toLowerCase()]) onChart[event.key.toLowerCase()]();
    else if (event.key === " ") panned = false;
    else return;
    event.preventDefault();
  });
  chart.svg.addEventListener("pointerdown", () => { panned = true; chart.svg.focus({ preventScroll: true }); });
  chart.svg.addEventListener("keyup", (event) => { if (event.key === " " && !panned && hand.active) onChart.Enter(); });

  // What is under way goes first: of a seam in a chain the one before it, of anything else its beginning. True if that
  // was all that undo had to do. Redo puts away whatever is under way.
  const undone = () => hand.active && (hand.tool.undone ? hand.tool.undone() : Boolean(hand.draft) && hand.tool.cancel());
  document.getElementById("undo").addEventListener("click", (event) => { if (undone()) event.stopImmediatePropagation(); });
  document.getElementById("redo").addEventListener("click", () => hand.tool.cancel());

  document.addEventListener("keydown", (event) => {
    if (event.defaultPrevented || event.target.closest("input, select, textarea, dialog")) return;
    const key = event.key.toLowerCase();
    if ((event.ctrlKey || event.metaKey) && !event.altKey) {
      const back = key === "z" && !event.shiftKey, again = (key === "z" && event.shiftKey) || key === "y";
      if (back) { if (!undone()) app.desk.undo(); }
      else if (again) { hand.tool.cancel(); app.desk.redo(); }
      else if (key === "a" && hand.active) { bar.take("pick"); hand.tool.all(); }
      else return;
      event.preventDefault();
      return;
    }
    if (event.altKey || !hand.view?.outline || app.kind !== "block") return;
    if (event.key === "Escape") { if (!hand.active || !hand.tool.cancel()) return; hand.tell(hand.tool.hint); }
    else if (event.key === "+" || event.key === "=") chart.zoom(1.25, hand.cursor ?? undefined);
    else if (event.key === "-") chart.zoom(0.8, hand.cursor ?? undefined);
    else if (key === "w") chart.whole();
    else if (!hand.active) return;
    else if (bar.byKey[key]) bar.take(bar.byKey[key]);
    else if (key === "f") bar.toggleFreely();
    else if (/^[\d.]$/.test(event.key) && hand.tool.typed) bar.type(event.key);
    else return;
    event.preventDefault();
  });
}
