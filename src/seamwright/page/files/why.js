// Why nothing can be printed or cut of the drawing on the table, in words; nothing where it can.
//
// Knows:  what is missing, and where to go for it.
// Leaves: the finding itself (verdict.js).

import { button } from "./dom.js";

// Words and buttons; [] where the drawing can be sewn.
export function whyNot(app) {
  if (!app.desk.name) return ["No design is open. ", button("Open a design", () => document.getElementById("designs-open").click())];
  const { now } = app.verdict;
  if (!now || app.verdict.isFresh === false) return ["Waiting for the verdict on this drawing …"];
  switch (now.state) {
    case "can": return [];
    case "empty": return ["Nothing is drawn yet: a block has at least one seam. ", button("Draw", () => app.open("draw"))];
    case "unfinished": return ["Not finished yet: a line still ends in the open, so there are no patches to print or cut. ", button("Draw", () => app.open("draw"))];
    case "cannot": return ["This cannot be sewn as it is drawn, so nothing is printed or cut. ", button("Show what would mend it", () => app.open("check"))];
    default: return [now.sentence];
  }
}
