// The drawing on the screen: an SVG in inches of the finished block, in layers, and which part of it is seen.
//
// Knows:  layers, zoom, what stays one size on the screen, the frame (frame.js).
// Leaves: what the layers of other parts show, pointers (pointing.js).
// Layers, from the ground up: tracing, patches, grid, outline, seams, marks, warnings, frame, pointer: what runs out of
// sight ends at the frame.
// Events: "zoom" (another part is seen).

import { frameOf, gridOf } from "./frame.js";

const SVG = "http://www.w3.org/2000/svg";
const LAYERS = ["tracing", "patches", "grid", "outline", "seams", "marks", "warnings", "frame", "pointer"];
const MARGIN = 44; // pixels round the whole block, for the frame and its figures
const ASIDE = 20; // pixels: figures stand at the left alone, and the whole block lies that much to the right
const MOST_PIXELS = 4000; // an inch of the block is never larger

export function shape(kind, attributes, ...children) {
  const made = document.createElementNS(SVG, kind);
  for (const [name, value] of Object.entries(attributes)) made.setAttribute(name, value);
  made.append(...children);
  return made;
}

export const path = (ring, closed = true) => ring.map(([x, y], k) => `${k ? "L" : "M"}${x} ${y}`).join("") + (closed ? "Z" : "");

export class Chart extends EventTarget {
  view = null;
  pixels = 60; // of the screen for one inch of the block
  #middle = [4, 4]; #whole = true; #wide = 0; #high = 0;

  constructor(holder) {
    super();
    this.svg = shape("svg", { id: "chart", tabindex: 0, role: "application", "aria-label": "Drawing of the block", "aria-describedby": "told" });
    this.layers = Object.fromEntries(LAYERS.map((name) => [name, shape("g", { class: name })]));
    this.svg.append(...Object.values(this.layers));
    holder.append(this.svg);
    new ResizeObserver(() => this.#place()).observe(this.svg);
  }

  // Shows a view (sketch/view.py).
  show(view) {
    const other = !this.view || this.view.width !== view.width || this.view.height !== view.height;
    this.view = view;
    this.fill("outline", shape("path", { d: path(view.outline), class: "outline" }));
    this.fill("seams", ...view.strokes.map((stroke) => shape("path", { d: path(stroke.points, false), class: "seam" })));
    if (other) this.whole(); else this.#place();
  }

  fill(layer, ...shapes) {
    this.layers[layer].replaceChildren(...shapes);
    this.#hold(this.layers[layer]);
  }

  // A group that stays one size on the screen: its children are drawn in pixels round (0, 0), which lies at a point.
  still([x, y], ...children) { return shape("g", { class: "still", "data-x": x, "data-y": y }, ...children); }

  // Where a pointer event lies, in inches.
  at(event) {
    const box = this.svg.getBoundingClientRect();
    return this.inches([event.clientX - box.left, event.clientY - box.top]);
  }

  // Inches of a place on the chart in pixels from its top left corner, and back.
  inches([x, y]) { return [this.#middle[0] + (x - this.#wide / 2) / this.pixels, this.#middle[1] + (y - this.#high / 2) / this.pixels]; }
  place([x, y]) { return [(x - this.#middle[0]) * this.pixels + this.#wide / 2, (y - this.#middle[1]) * this.pixels + this.#high / 2]; }

  get size() { return [this.#wide, this.#high]; }

  // What was put in without fill() takes its size too.
  hold(inside) { this.#hold(inside); }

  // The whole block is seen, and stays so when the window changes.
  whole() { this.#whole = true; this.#place(); }
  get showsWhole() { return this.#whole; }

  // Larger by a factor, with one point of the block (or the middle) staying where it is.
  zoom(factor, about = this.#middle) {
    const before = this.pixels;
    this.pixels = Math.min(MOST_PIXELS, Math.max(this.#fitting() / 2, before * factor));
    const by = 1 - before / this.pixels;
    this.#whole = false;
    this.#look([this.#middle[0] + (about[0] - this.#middle[0]) * by, this.#middle[1] + (about[1] - this.#middle[1]) * by]);
  }

  // Moves what is seen by pixels.
  pan(right, down) {
    this.#whole = false;
    this.#look([this.#middle[0] - right / this.pixels, this.#middle[1] - down / this.pixels]);
  }

  // A point is brought into sight if it is out of it.
  seek(point) {
    const [x, y] = this.place(point);
    const off = (value, most) => (value < MARGIN ? MARGIN - value : value > most - MARGIN ? most - MARGIN - value : 0);
    const [right, down] = [off(x, this.#wide), off(y, this.#high)];
    if (right || down) this.pan(right, down);
  }

  #fitting() {
    const { width, height } = this.view;
    return Math.max(4, Math.min((this.#wide - 2 * MARGIN) / width, (this.#high - 2 * MARGIN) / height));
  }

  // The block never leaves the window altogether.
  #look([x, y]) {
    this.#middle = [Math.min(this.view.width, Math.max(0, x)), Math.min(this.view.height, Math.max(0, y))];
    this.#place();
  }

  #place() {
    [this.#wide, this.#high] = [this.svg.clientWidth, this.svg.clientHeight];
    if (!this.view || !this.#wide || !this.#high) return;
    if (this.#whole) {
      this.pixels = this.#fitting();
      this.#middle = [this.view.width / 2 - ASIDE / this.pixels, this.view.height / 2];
    }
    const [left, top] = this.inches([0, 0]);
    this.svg.setAttribute("viewBox", `${left} ${top} ${this.#wide / this.pixels} ${this.#high / this.pixels}`);
    this.fill("grid", ...gridOf(this));
    this.fill("frame", ...frameOf(this, [this.#wide, this.#high]));
    this.#hold(this.svg);
    this.dispatchEvent(new Event("zoom"));
  }

  #hold(inside) {
    for (const group of inside.querySelectorAll(".still")) {
      group.setAttribute("transform", `translate(${group.dataset.x} ${group.dataset.y}) scale(${1 / this.pixels})`);
    }
  }
}
