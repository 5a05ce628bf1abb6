// The block's own facts in Draw's column: name, finished size, units, grid, shape.
//
// Knows:  the fields and which edit each of them is. Leaves: the edits (Python).

import { button, choice, labelled, make } from "./dom.js";
import { cornersTool } from "./tools-point.js";

const SHAPES = [["", "As drawn"], ["rectangle", "Rectangle"], ["diamond", "Diamond"], ["triangle", "Triangle"], ["hexagon", "Hexagon"], ["octagon", "Octagon"]];

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

  // Metric is a practice of its own: the nearest round size, not the inches converted.
  async function change(value) {
    const { view } = hand;
    const round = (inches) => (value === "metric" ? Math.round(inches * 2.54 * 2) / 2 : Math.round(inches * 4) / 4);
    const [wide, high] = [round(view.width), round(view.height)];
    const unit = value === "metric" ? "cm" : "in";
    const said = wide === high ? `${wide} ${unit}` : `${wide} x ${high} ${unit}`;
    const edits = [{ do: "size", size: said }, { do: "option", name: "units", value: value === "metric" ? "metric" : "" }];
    if (!(await hand.do(edits, `The block is ${said} now.`))) fill();
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
