// Fabrics in a row over the drawing, where the list lies far below it: on small and on much enlarged screens.
//
// Knows:  which fabrics are offered there. Leaves: the whole list (fabriclist.js), when it is shown (look-colour.css).

import { button, make } from "./dom.js";
import { refill, swatch } from "./swatch.js";

export function clothBar(app, wardrobe) {
  const bar = make("div", { class: "cloth-bar", role: "group", "aria-label": "Fabric held", hidden: true });

  function show() {
    bar.hidden = !wardrobe.open || !wardrobe.ready;
    if (bar.hidden) return refill(bar);
    const offered = wardrobe.fabrics.length ? wardrobe.fabrics : wardrobe.shelf;
    const one = (name, fabric, words) => {
      const made = button("", () => wardrobe.hold(name), { "aria-pressed": String(wardrobe.held === name), "data-key": `bar ${name}` });
      made.append(swatch(fabric, wardrobe.grey), words);
      return made;
    };
    refill(bar, ...offered.map((fabric) => one(fabric.name, fabric, fabric.name)), one("", null, wardrobe.way ? "Leave as it is" : "No fabric"));
  }
  for (const what of ["told", "held", "grey"]) wardrobe.addEventListener(what, show);
  for (const what of ["work", "kind"]) app.events.addEventListener(what, show);
  return bar;
}
