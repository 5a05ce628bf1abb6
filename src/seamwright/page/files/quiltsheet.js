// The quilt on the stage: its picture with its places over it, to click, to select and to walk through by keys.
//
// Knows:  which places are selected, where the keys stand, what a change looks like before its true picture comes.
// Leaves: what a click does (quilttools.js), the picture itself (quiltpicture.js).
// Units:  inches of the picture.

import { path, shape } from "./chart.js";
import { make } from "./dom.js";
import { beside, keyOf, middle, placeWords, together } from "./quiltplaces.js";

const ARROWS = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] };
const MOST_SHOWN = 60; // places that are shown changed at once; for more the true picture is as quick
const DRAG_PX = 6;
let number = 0;

// Events: "act" (detail: places, for what a click does), "key" (detail: key and shift), "select", "at" (where keys stand).
export class QuiltSheet extends EventTarget {
  places = []; selected = new Map(); at = null; view = null; square = true;
  #rings = new Map(); #middles = new Map(); #shapes = new Map(); #changed = new Map(); #from = null; #anchor = null;

  constructor(holder) {
    super();
    this.picture = shape("image", { x: 0, y: 0 });
    this.defs = shape("defs", {});
    this.before = shape("g", { class: "before" });
    this.cells = shape("g", { class: "cells" });
    this.box = shape("rect", { class: "box", visibility: "hidden" });
    this.svg = shape("svg", { id: "quilt-picture", tabindex: 0, role: "application", "aria-roledescription": "quilt",
      "aria-label": "The quilt. Arrow keys go from place to place.", "aria-describedby": "quilt-place" },
      this.defs, this.picture, this.before, this.cells, this.box);
    this.said = make("p", { id: "quilt-place", class: "quiet", role: "status" });
    this.element = make("div", { id: "quilt-sheet", hidden: true }, this.svg);
    holder.append(this.element);
    this.svg.addEventListener("pointerdown", (event) => this.#down(event));
    this.svg.addEventListener("pointermove", (event) => this.#move(event));
    this.svg.addEventListener("pointerup", (event) => this.#up(event));
    this.svg.addEventListener("pointercancel", () => this.#stop());
    this.svg.addEventListener("keydown", (event) => this.#key(event));
    this.svg.addEventListener("focus", () => this.#go(this.at ?? this.places[0]));
  }

  // Shows a picture (page/quiltwork.py: pictured) of a view (quilt/editview.py).
  show(found, view) {
    this.view = view;
    this.#forget();
    const { width, height } = found;
    this.square = found.square;
    this.svg.setAttribute("viewBox", `0 0 ${width} ${height}`);
    for (const [name, value] of Object.entries({ href: found.address, width, height })) this.picture.setAttribute(name, value);
    this.places = found.places.map(([row, column]) => [row, column]);
    this.#rings = new Map(found.places.map(([row, column, ring]) => [keyOf([row, column]), ring]));
    this.#middles = new Map([...this.#rings].map(([key, ring]) => [key, middle(ring)]));
    this.#shapes = new Map([...this.#rings].map(([key, ring]) => [key, shape("path", { d: path(ring), "data-place": key })]));
    this.cells.replaceChildren(...this.#shapes.values());
    for (const key of this.selected.keys()) if (!this.#rings.has(key)) this.selected.delete(key);
    if (this.at && !this.#rings.has(keyOf(this.at))) this.at = null;
    this.#mark();
  }

  // What lies in places is another: said at once, the picture follows.
  tell(view) {
    this.view = view;
    this.#say();
  }

  // Nothing is there to be shown: what was shown last stays, pale.
  showNone() {
    this.#forget();
    this.element.classList.add("pale");
  }

  // Another quilt is on the table.
  clear() {
    this.#forget();
    this.at = this.#anchor = null;
    this.places = [];
    this.selected.clear();
    this.#shapes.clear();
    this.cells.replaceChildren();
    this.picture.removeAttribute("href");
  }

  #forget() {
    this.#changed.clear();
    this.before.replaceChildren();
    this.defs.replaceChildren();
    this.element.classList.remove("pale");
  }

  // What keys and buttons act on: what is selected, else where the keys stand.
  get chosen() {
    if (this.selected.size) return [...this.selected.values()];
    return this.at ? [this.at] : [];
  }

  select(places) {
    this.selected = new Map(places.map((place) => [keyOf(place), place]));
    this.#mark();
    this.dispatchEvent(new Event("select"));
  }

  // Places look changed at once: rotated by quarters, or as in a mirror. The true picture follows.
  showChanged(places, { quarters = 0, mirrored = false }) {
    const all = together(this.view, this.places, places);
    if (all.length > MOST_SHOWN) return;
    for (const place of all) {
      const key = keyOf(place), [x, y] = this.#middles.get(key);
      if (!this.#sameShape(key, quarters)) continue;
      const step = mirrored ? `translate(${2 * x} 0) scale(-1 1)` : `rotate(${90 * quarters} ${x} ${y})`;
      const how = `${step} ${this.#changed.get(key)?.how ?? ""}`;
      this.#changed.get(key)?.group.remove();
      this.#changed.set(key, { how, group: this.#turned(key, how) });
    }
  }

  // What was shown too early goes.
  showUnchanged() { this.#forget(); }

  #sameShape(key, quarters) {
    const [a, b, c] = this.#rings.get(key);
    const far = (p, q) => Math.hypot(p[0] - q[0], p[1] - q[1]);
    return quarters % 2 === 0 || Math.abs(far(a, b) - far(b, c)) < 1e-6;
  }

  #turned(key, how) {
    const id = `place-${number++}`;
    this.defs.append(shape("clipPath", { id }, shape("path", { d: path(this.#rings.get(key)) })));
    const copy = this.picture.cloneNode();
    copy.setAttribute("transform", how);
    const group = shape("g", { "clip-path": `url(#${id})` }, copy);
    this.before.append(group);
    return group;
  }

  // -- pointer -----------------------------------------------------------------------------------------------

  #placeAt(event) {
    const key = document.elementFromPoint(event.clientX, event.clientY)?.dataset?.place;
    return key ? key.split(",").map(Number) : null;
  }

  #point(event) {
    const point = new DOMPoint(event.clientX, event.clientY).matrixTransform(this.svg.getScreenCTM().inverse());
    return [point.x, point.y];
  }

  #down(event) {
    if (event.button !== 0) return;
    this.#from = { x: event.clientX, y: event.clientY, at: this.#point(event), place: this.#placeAt(event) };
    this.svg.setPointerCapture(event.pointerId);
  }

  #move(event) {
    if (!this.#from) return;
    if (Math.hypot(event.clientX - this.#from.x, event.clientY - this.#from.y) < DRAG_PX) return;
    this.#from.dragged = true;
    const [x, y] = this.#point(event), [a, b] = this.#from.at;
    const box = { x: Math.min(x, a), y: Math.min(y, b), width: Math.abs(x - a), height: Math.abs(y - b), visibility: "visible" };
    for (const [name, value] of Object.entries(box)) this.box.setAttribute(name, value);
    this.select(this.#between([x, y], [a, b]));
  }

  // The places whose middles lie in the rectangle between two points.
  #between([ax, ay], [bx, by]) {
    const slack = 1e-6;
    return this.places.filter((place) => {
      const [x, y] = this.#middles.get(keyOf(place));
      return x >= Math.min(ax, bx) - slack && x <= Math.max(ax, bx) + slack && y >= Math.min(ay, by) - slack && y <= Math.max(ay, by) + slack;
    });
  }

  #up(event) {
    const from = this.#from;
    this.#stop();
    if (!from || from.dragged || !from.place) return;
    this.at = from.place;
    this.dispatchEvent(new Event("at"));
    if (event.shiftKey || event.ctrlKey || event.metaKey) this.#toggle(from.place);
    else {
      const all = this.selected.has(keyOf(from.place)) ? [...this.selected.values()] : [from.place];
      if (all.length === 1 && this.selected.size) this.select([]);
      this.dispatchEvent(new CustomEvent("act", { detail: all }));
    }
    this.#mark();
  }

  #stop() {
    this.#from = null;
    this.box.setAttribute("visibility", "hidden");
  }

  #toggle(place) {
    const key = keyOf(place);
    if (this.selected.has(key)) this.selected.delete(key); else this.selected.set(key, place);
    this.#mark();
    this.dispatchEvent(new Event("select"));
  }

  // -- keys --------------------------------------------------------------------------------------------------

  #key(event) {
    if (event.altKey) return;
    if (ARROWS[event.key] && this.places.length) {
      const next = this.at ? beside(this.#middles, this.at, ARROWS[event.key]) : this.places[0];
      if (event.shiftKey) {
        this.#anchor ??= this.at ?? next;
        this.select(this.#between(this.#middles.get(keyOf(this.#anchor)), this.#middles.get(keyOf(next))));
      } else this.#anchor = null;
      this.#go(next);
    } else if (event.key === "Home") this.#go(this.places[0]);
    else if (event.key === "End") this.#go(this.places.at(-1));
    else if (event.key === " " && this.at) this.#toggle(this.at);
    else if (event.key === "Escape" && this.selected.size) this.select([]);
    else if ((event.ctrlKey || event.metaKey) && event.key.toLowerCase() === "a") this.select(this.places);
    else {
      if (event.ctrlKey || event.metaKey) return;
      if (!this.dispatchEvent(new CustomEvent("key", { detail: { key: event.key, shift: event.shiftKey }, cancelable: true }))) event.preventDefault();
      return;
    }
    event.preventDefault();
  }

  #go(place) {
    if (!place) return;
    this.at = place;
    this.#mark();
    this.dispatchEvent(new Event("at"));
  }

  #say() {
    const place = this.at && this.view ? `${placeWords(this.view, this.at)}. ` : "";
    const some = this.selected.size > 1 ? `${this.selected.size} places are selected: a click on one of them changes all.` : "";
    const words = place + some;
    if (this.said.textContent !== words) this.said.textContent = words;
  }

  #mark() {
    const here = this.at ? keyOf(this.at) : "";
    for (const [key, cell] of this.#shapes) {
      cell.setAttribute("class", [this.selected.has(key) ? "selected" : "", key === here ? "here" : ""].join(" ").trim());
    }
    if (this.#shapes.has(here)) this.cells.append(this.#shapes.get(here)); // its frame lies over its neighbours
    this.#say();
  }
}
