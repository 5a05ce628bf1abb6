// First-time hints: one for each part of the work, at its head, until it is put away or done.
//
// Knows:  what is said of each part. Leaves: the parts themselves. Kept in this browser only.

import { button, make } from "./dom.js";

const KEY = "seamwright hints put away";
const HINTS = {
  draw: "Drag from where a seam starts to where it ends, or click both. Below the drawing stands whether it can be sewn; then colour and print it.",
  check: "Letters are sections, numbers the order of sewing. What stands in the way is marked where it is.",
  colour: "Take a fabric, then click patches. The greys show whether light and dark still part them.",
  cut: "What to buy and what to cut, for as many blocks as you make.",
  print: "Look at the pages first. Then print at 100 % and measure the check squares before you sew.",
  sew: "Move the slider to see each patch laid, stitched, trimmed and flipped.",
  quilt: "Choose how many blocks, then click one to turn it.",
};

const putAway = () => new Set(JSON.parse(localStorage.getItem(KEY) ?? "[]"));
const keep = (names) => localStorage.setItem(KEY, JSON.stringify([...names]));

export function showAgain() { keep([]); }

export function mount(app) {
  const shown = new Map();

  function away(work) {
    shown.get(work)?.remove();
    shown.delete(work);
    keep(putAway().add(work));
  }

  function show() {
    const work = app.work;
    if (!HINTS[work] || shown.has(work) || putAway().has(work)) return;
    const note = make("p", { class: "hint" }, HINTS[work], " ", button("Put this hint away", () => away(work), { class: "plain" }));
    document.querySelector(`#work section[data-work="${work}"] .in`).prepend(note);
    shown.set(work, note);
  }

  app.events.addEventListener("work", show);
  app.events.addEventListener("hints", show);
  app.desk.addEventListener("change", () => { if (app.desk.canUndo && shown.has("draw")) away("draw"); });
  show();
}
