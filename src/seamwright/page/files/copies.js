// Copies round a point and mirror images, in Draw's column; what they would make is shown before it is done.
//
// Knows:  what was asked for. Leaves: the copies (Copies in Python).

import { button, choice, labelled, make } from "./dom.js";
import { shape } from "./chart.js";
import { sayPlace } from "./places.js";
import { placeTool } from "./tools-point.js";

const WAYS = [["2", "2, half a turn apart"], ["4", "4, a quarter turn apart"], ["6", "6, a sixth of a turn apart"], ["8", "8, an eighth of a turn apart"], ["1", "One mirror image"]];
const LINES = [["90", "Upright"], ["0", "Level"], ["-45", "45°, rising to the right"], ["45", "45°, falling to the right"]];

export function mountCopies(app, hand) {
  let about = null; // null: the middle of the block
  const ways = choice(WAYS, "4", show);
  const mirrored = make("input", { type: "checkbox", onchange: show });
  const every = make("label", { class: "tick" }, mirrored, make("span", {}, "Every other one mirrored"));
  const line = choice(LINES, "90", show);
  const mirror = labelled("Mirror line", line);
  const of = make("p", {}), where = make("p", {});
  const holder = make("details", { class: "more" },
    make("summary", {}, "Copies and mirror images"),
    of, labelled("How many in all", ways), every, mirror, where,
    make("div", { class: "row" },
      button("Choose the point", () => hand.take(placeTool(hand, "Click the point that the copies go round.", (at) => { about = at; show(); }))),
      button("Use the middle", () => { about = null; show(); })),
    make("div", { class: "row" }, button("Make the copies", go, { class: "first" }), button("Leave it", () => { holder.open = false; })));
  const mark = shape("g", { class: "about" });

  const middle = () => [hand.view.width / 2, hand.view.height / 2];
  function edit() {
    const one = ways.value === "1";
    return { do: "copies", about: about ?? middle(), count: Number(ways.value), seams: hand.chosen, mirrored: one || mirrored.checked, degrees: Number(line.value) };
  }
  const ready = () => holder.open && hand.active && app.work === "draw" && hand.view.strokes.length > 0;

  function show() {
    if (!hand.view?.outline) return;
    const count = hand.chosen.length;
    of.textContent = count ? `Of what is picked (${count === 1 ? "one piece" : `${count} pieces`}).` : "Of all seams. To copy some of them only, pick them first.";
    where.textContent = about ? `Round the point ${sayPlace(about, hand.view)}.` : "Round the middle of the block.";
    every.hidden = ways.value === "1";
    mirror.hidden = ways.value !== "1" && !mirrored.checked;
    mark.replaceChildren();
    if (!ready()) return;
    hand.chart.layers.frame.before(mark);
    mark.append(hand.chart.still(about ?? middle(), shape("path", { d: "M-9 0H9M0-9V9M-5 0A5 5 0 1 0 5 0A5 5 0 1 0-5 0", class: "snap" })));
    hand.chart.hold(mark);
    hand.preview([edit()]);
  }

  async function go() {
    if (!hand.view.strokes.length) return hand.tell("Draw a seam first, then copy it.");
    const asked = edit();
    holder.open = false;
    if (await hand.do([asked], "The copies are made.")) hand.choose([]);
    else holder.open = true;
  }

  holder.addEventListener("toggle", () => { if (!holder.open) hand.unpreview(); show(); });
  hand.addEventListener("chosen", show);
  hand.addEventListener("tool", () => { if (ready()) show(); });
  app.desk.addEventListener("change", show);
  hand.addEventListener("other", () => { about = null; holder.open = false; });
  return holder;
}
