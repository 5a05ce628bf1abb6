// The hand that draws: which tool is held, where it is, what it would do, what is said of it.
//
// Knows:  the tool, the cursor, snapping by screen distance, the words beside the pointer, previews.
// Leaves: what each tool does (tools-*.js), how pointers and keys come in (pointing.js, keyboard.js).
// Units:  inches of the finished block.
// Events: "tool" (another tool), "told" (a sentence), "draft" (a seam is under way, or no more), "chosen",
//         "other" (another design is opened), "renamed".

import { ask } from "./ask.js";
import { path, shape } from "./chart.js";
import { distance, sceneOf, snapped } from "./snap.js";

const REACH = { mouse: 10, pen: 14, touch: 24 }; // pixels
const ABOVE = { mouse: [16, -16], pen: [16, -22], touch: [0, -64] }; // where words stand, so that no finger hides them

export class Hand extends EventTarget {
  tool = null; cursor = null; draft = null; freely = false;
  chosen = []; // pieces of seams, each by its points
  whole = false; // a piece stands for its whole seam
  #scene = null; #sceneOf = null; #waiting = null; #asking = false; #refused = false; #ghost = shape("g", { class: "ghosts" });

  constructor(app) {
    super();
    this.app = app;
    this.chart = app.chart;
    this.chart.layers.frame.before(this.#ghost);
    // A design that only takes another name is still the same one.
    let text = null;
    app.desk.addEventListener("change", () => { text = app.desk.text; });
    app.desk.addEventListener("open", () => this.dispatchEvent(new Event(app.desk.text === text ? "renamed" : "other")));
  }

  get view() { return this.app.desk.view; }
  get active() { return this.app.kind === "block" && (this.app.work === "draw" || this.app.work === "check") && Boolean(this.view?.outline); }

  // What can be snapped to.
  get scene() {
    if (this.#sceneOf !== this.view) [this.#scene, this.#sceneOf] = [sceneOf(this.view), this.view];
    return this.#scene;
  }

  // Holds another tool; one that is held for a moment only gives back the one before (back).
  take(tool) {
    if (this.app.work !== "draw" && this.app.work !== "check") this.app.open("draw");
    this.tool?.cancel();
    if (this.tool && !this.tool.passing) this.before = this.tool;
    this.tool = tool;
    this.clear();
    this.tell(tool.hint);
    if (this.view?.outline) tool.shown?.();
    this.dispatchEvent(new Event("tool"));
  }

  back() { this.take(this.before ?? this.tool); }

  reach(kind = "mouse") { return (REACH[kind] ?? REACH.mouse) / this.chart.pixels; }

  // Where a pointer means to be: as snapped() says, with what the tool needs of the event.
  point(event, from = null) {
    const raw = this.chart.at(event);
    const { width, height } = this.view;
    const inside = [Math.min(width, Math.max(0, raw[0])), Math.min(height, Math.max(0, raw[1]))];
    const by = event.pointerType || "mouse";
    const free = this.freely || event.shiftKey;
    const found = free ? { at: inside, kind: "free", word: "" } : snapped(inside, this.scene, this.reach(by), from);
    this.cursor = found.at;
    return { ...found, raw, by, shift: event.shiftKey, far: distance(raw, inside) > 3 * this.reach(by) };
  }

  // What is drawn under the pointer for a moment.
  show(...shapes) { this.chart.fill("pointer", ...shapes); }
  clear() {
    this.show();
    this.unpreview();
  }

  unpreview() {
    this.#waiting = null;
    this.#ghost.replaceChildren();
    this.chart.svg.classList.remove("previewing");
  }

  // A mark where the pointer is drawn to, its shape by the kind of thing.
  mark({ at, kind }) {
    const d = { point: "M-6 0A6 6 0 1 0 6 0A6 6 0 1 0-6 0Z", middle: "M0-6L6 5H-6Z", grid: "M-4-4H4V4H-4Z", seam: "M-6-6L6 6M-6 6L6-6", way: "M-6 0H6M0-6V6", handle: "M0-6L6 0L0 6L-6 0Z" }[kind];
    return this.chart.still(at, d ? shape("path", { d, class: "snap" }) : shape("circle", { r: 2.5, class: "dot" }));
  }

  // Words beside the pointer, on a ground of their own so that lines do not cross them; on the side away from `from`,
  // where the line under way does not run.
  words({ at, by, from = null }, ...lines) {
    const said = lines.filter(Boolean);
    if (!said.length) return shape("g", {});
    const [right, up] = ABOVE[by] ?? ABOVE.mouse;
    const [x, y] = this.chart.place(at);
    const wide = Math.max(...said.map(wideOf)) + 14, high = said.length * 18 + 8;
    const size = this.chart.size;
    const toLeft = by !== "touch" && (x + right + wide > size[0] || (from && from[0] > at[0] && x - right - wide > 0));
    const below = y + up - high < 0 || (by !== "touch" && from && from[1] < at[1] && y - up + high < size[1]);
    const left = toLeft ? -right - wide : right || Math.max(4 - x, Math.min(-wide / 2, size[0] - 4 - x - wide));
    const top = below ? -up : up - high;
    return this.chart.still(at,
      shape("rect", { x: left, y: top, width: wide, height: high, rx: 3, class: "ground" }),
      ...said.map((line, k) => shape("text", { x: left + 7, y: top + 19 + 18 * k, class: k ? "word second" : "word" }, line)));
  }

  cross(at) { return this.chart.still(at, shape("path", { d: "M-14 0H-4M4 0H14M0-14V-4M0 4V14", class: "cursor" })); }

  tell(sentence) {
    this.told = sentence;
    this.dispatchEvent(new Event("told"));
  }

  drafts(draft) {
    this.draft = draft;
    this.dispatchEvent(new Event("draft"));
  }

  choose(pieces) {
    this.chosen = pieces;
    this.dispatchEvent(new Event("chosen"));
  }

  // Does edits; what cannot be done is said, and the drawing stays. True if it was done.
  async do(edits, done = "") {
    this.clear();
    try {
      if (!(await this.app.desk.change(edits))) return false;
    } catch (refusal) {
      this.app.say(refusal.message);
      this.tell(refusal.message);
      this.#refused = true;
      return false;
    }
    if (this.#refused) { // she has drawn on: what was refused is over
      this.app.hush();
      this.tell(this.tool.hint);
    }
    this.#refused = false;
    if (done) this.tell(done);
    return true;
  }

  // Shows what edits would make of the drawing; the newest question is answered last. What stands against it is told.
  async preview(edits) {
    this.#waiting = edits;
    if (this.#asking) return;
    this.#asking = true;
    while (this.#waiting) {
      const asked = this.#waiting;
      const { text, name } = this.app.desk;
      const made = await ask("POST", "sketch", { text, name, edits: asked }).catch((refusal) => ({ refusal }));
      if (!this.#waiting) break; // it was put away meanwhile
      if (this.#waiting === asked) this.#waiting = null;
      this.chart.svg.classList.toggle("previewing", !made.refusal);
      this.#ghost.replaceChildren(...(made.refusal ? [] : ghost(made.view)));
      if (made.refusal) this.tell(made.refusal.message);
    }
    this.#asking = false;
  }
}

const pen = document.createElement("canvas").getContext("2d");
function wideOf(words) {
  pen.font = `14px ${getComputedStyle(document.documentElement).fontFamily}`;
  return pen.measureText(words).width;
}

const ghost = (view) => [
  shape("path", { d: path(view.outline), class: "ghost" }),
  ...view.strokes.map(({ points }) => shape("path", { d: path(points, false), class: "ghost" })),
];
