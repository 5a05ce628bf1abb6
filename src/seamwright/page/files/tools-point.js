// Tools held for a moment: pointing at one place, and setting the corners of the block.
//
// Knows:  what is set, and when it is done. Leaves: what becomes of it (copies.js; Outline in Python).

import { path, shape } from "./chart.js";
import { readPlace, sayPlace } from "./places.js";
import { same } from "./snap.js";

// Points at one place and gives it to `done`.
export function placeTool(hand, hint, done) {
  const finish = (at) => { hand.back(); done(at); };
  return {
    name: "place", hint, passing: true, from: null,
    down() {},
    move(point) { hand.show(hand.mark(point), hand.words(point, point.word)); },
    up(point) { finish(point.at); },
    set: finish,
    moved(at) { hand.show(hand.mark({ at, kind: "free" })); },
    async typed(text) {
      const spot = readPlace(text, hand.view);
      if (!spot) return "Type a place, as in 3, 4.";
      finish(spot);
      return "";
    },
    cancel() { hand.show(); return false; },
  };
}

// Sets the corners of the block one after the other; the first one again ends it.
export function cornersTool(hand) {
  let corners = [];
  const show = (point) => hand.show(
    shape("path", { d: path([...corners, point.at], false), class: "band" }),
    ...corners.slice(0, 1).map((at) => hand.mark({ at, kind: "point" })),
    hand.mark(point), hand.words(point, corners.length > 2 && same(corners[0], point.at) ? "closes the shape" : point.word));

  function set(at) {
    if (corners.length && same(corners[0], at)) {
      if (corners.length < 3) return hand.tell("A shape needs three corners or more.");
      const edit = { do: "outline", corners };
      hand.back();
      return hand.do([edit], "The block has another shape. Seams outside of it are gone; Undo brings them back.");
    }
    corners = [...corners, at];
    hand.drafts({});
    return hand.tell(`Corner ${corners.length} at ${sayPlace(at, hand.view)}. Set the first corner again to close the shape.`);
  }

  return {
    name: "corners", passing: true,
    hint: "Click the corners of the block one after the other, then the first one again.",
    get from() { return corners.at(-1) ?? null; },
    down() {}, move: show,
    up(point) {
      // The first corner is found again though nothing is drawn there yet.
      const first = corners[0];
      const near = first && Math.hypot(point.raw[0] - first[0], point.raw[1] - first[1]) <= hand.reach(point.by);
      set(near ? first : point.at);
    },
    set, moved(at) { show({ at, kind: "free", word: "", by: "mouse" }); },
    async typed(text) {
      const spot = readPlace(text, hand.view);
      if (!spot) return "Type a place, as in 3, 4.";
      hand.cursor = spot;
      set(spot);
      return "";
    },
    cancel() {
      const had = corners.length > 0;
      corners = [];
      hand.drafts(null);
      hand.clear();
      return had;
    },
  };
}
