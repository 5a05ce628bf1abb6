// The block's own facts in Draw's column: name, finished size, units, grid, shape.
//
// Knows:  the fields and which edit each of them is. Leaves: the edits (Python).

import { button, choice, labelled, make } from "./dom.js";
import { cornersTool } from "./tools-point.js";

// Names of shapes as sketch/outline.py has them, and what is said of them here.
const SHAPES = [
  ["", "As drawn"], ["square", "Square"], ["rectangle", "Rectangle"],
  ["half-square triangle", "Half-square triangle"], ["quarter-square triangle", "Quarter-square triangle"],
  ["triangle", "Triangle, sides alike"], ["wedge", "Wedge, one of eight"], ["trapezoid", "Half hexagon"],
  ["hexagon", "Hexagon"], ["octagon", "Octagon"], ["diamond", "Square on point"],
  ["60 degree diamond", "60° diamond"], ["45 degree diamond", "45° diamond"],
];

export function mountBlock(app, hand) {
  const field = (attributes, edits) => {
    const made = make("input", { autocomplete: "off", ...attributes });
    made.addEventListener("change", async () => {
      if (!(await hand.do(edits(made.value.trim())))) fill();
    });
    return made;
  };
  const name = field({ type: "text" }, (value) => [{ do: "name", name: value }]);
  const size = field({ type: "text", size: 12 }, (value) => [{ do: "size", size: value }]);
  const squares = (value) => Math.max(0, Math.round(Number(value)) || 0);
  const across = field({ type: "number", min: 0, max: 200, step: 1, inputmode: "numeric" }, (value) => [{ do: "grid", across: squares(value), down: 0 }]);
  const down = field({ type: "number", min: 0, max: 200, step: 1, inputmode: "numeric" }, (value) => [{ do: "grid", across: squares(across.value), down: squares(value) }]);
  const units = choice([["inch", "Inches"], ["metric", "Centimetres"]], app.units, change);
  const form = choice(SHAPES, "", async (value) => {
    if (value) await hand.do([{ do: "outline", shape: value }], "The block has another shape. Seams outside of it are gone; Undo brings them back.");
    fill();
  });

  // Metric is a practice of its own: the nearest round width, not the inches converted; the height follows.
  async function change(value) {
    const metric = value === "metric";
    const wide = metric ? `${Math.round(hand.view.width * 5.08) / 2} cm` : `${Math.round(hand.view.width * 4) / 4} in`;
    const edits = [{ do: "size", size: wide }, { do: "option", name: "units", value: metric ? "metric" : "" }];
    if (!(await hand.do(edits, `The block is ${wide} wide now.`))) fill();
  }

  function fill() {
    const { view } = hand;
    if (!view?.outline) return;
    const set = (input, value) => { if (document.activeElement !== input || input.tagName === "SELECT") input.value = value; };
    set(name, view.name);
    set(size, view.size);
    set(across, view.grid?.[0] ?? 0);
    set(down, view.grid?.[1] ?? 0);
    set(units, view.units);
    set(form, "");
  }
  app.desk.addEventListener("change", fill);

  return make("div", { class: "facts" },
    labelled("Name", name),
    make("div", { class: "row" }, labelled("Finished size", size), labelled("Measured in", units)),
    make("div", { class: "row" }, labelled("Grid squares across", across), labelled("down", down)),
    make("div", { class: "row" }, labelled("Shape of the block", form), button("Draw its corners", () => hand.take(cornersTool(hand)))));
}
