// Patches in their fabrics on the drawing: painted by mouse, finger and keyboard.
//
// Knows:  the layer "patches" while Colour is open; which patch lies under a pointer, which has the keyboard.
// Leaves: colours, stripes and the order of reading (the server), what painting means (wardrobe.js).

import { path, shape } from "./chart.js";

const CODE_PX = [7.5, 15]; // a smaller code is not shown, a larger one not needed

export class Cloths {
  #at = 0; // the patch that has the keyboard, by its place in the order of reading
  #stroke = null; // patches painted since the pointer went down, by their places
  #shown = [];

  constructor(app, wardrobe, told) {
    this.app = app; this.wardrobe = wardrobe; this.told = told;
    const { svg } = app.chart;
    for (const what of ["told", "grey"]) wardrobe.addEventListener(what, () => this.draw());
    wardrobe.addEventListener("pick", () => svg.classList.toggle("picking", wardrobe.picking));
    app.events.addEventListener("work", () => this.draw());
    app.events.addEventListener("kind", () => this.draw());
    app.chart.addEventListener("zoom", () => this.#fit());
    svg.addEventListener("pointerdown", (event) => this.#down(event));
    svg.addEventListener("pointermove", (event) => this.#move(event));
    svg.addEventListener("pointerup", (event) => this.#up(event));
    svg.addEventListener("pointercancel", () => this.#putBack());
    svg.addEventListener("pointerleave", () => this.told(null));
    svg.addEventListener("keydown", (event) => this.#key(event));
  }

  get patches() { return this.wardrobe.now?.patches ?? []; }

  draw() {
    const { app, wardrobe } = this;
    const { chart } = app;
    chart.svg.classList.toggle("colouring", wardrobe.open);
    chart.svg.classList.toggle("greys", wardrobe.open && wardrobe.grey && wardrobe.ready);
    const stroke = this.#stroke;
    this.#stroke = null;
    if (!wardrobe.open) {
      chart.fill("warnings");
      return;
    }
    const had = this.#shown.includes(document.activeElement);
    const { patches } = this;
    this.#at = Math.min(this.#at, Math.max(0, patches.length - 1));
    this.#shown = patches.map((patch, k) => shape("path", {
      class: "cloth", d: rings(patch), "fill-rule": "evenodd", fill: this.#fill(patch), role: "button", tabindex: k === this.#at ? 0 : -1,
      "aria-label": this.called(patch), "data-k": k }));
    const prints = patches.map((patch) => shape("path", { class: "print", d: patch.stripes, fill: (wardrobe.grey ? patch.grey_shade : patch.shade) ?? "none" }));
    const codes = patches.map((patch) => shape("text", { class: "code", x: patch.at[0], y: patch.at[1], dy: "0.36em",
      fill: wardrobe.grey ? patch.on_grey : patch.on, stroke: patch.stripes ? this.#fill(patch) : "none", "data-room": patch.room }, patch.code));
    const group = shape("g", { role: "group", "aria-label": "Patches, in the order of reading" }, ...this.#shown.flatMap((made, k) => [made, prints[k], codes[k]]));
    const seams = wardrobe.grey ? wardrobe.now?.seams ?? [] : [];
    chart.fill("patches", bare(), group, ...seams.map((seam) => shape("path", { class: "grey-seam", d: path(seam.points, false), stroke: seam.grey })));
    for (const made of this.#shown) {
      made.addEventListener("focus", () => { this.#at = Number(made.dataset.k); this.#rove(); this.#mark(); this.told(this.patches[this.#at], true); });
      made.addEventListener("blur", () => this.#mark());
    }
    // The answer to the stroke before may come while the next is under way: that one goes on.
    if (stroke && [...stroke].every(([k, patch]) => patches[k]?.name === patch.name)) {
      this.#stroke = new Map();
      for (const k of stroke.keys()) this.#brush(k);
    }
    this.#fit();
    if (had) this.#shown[this.#at]?.focus();
  }

  // A patch by its name and fabric: what is read aloud of it.
  called(patch) { return `${patch.name}, ${patch.fabric ?? "no fabric"}`; }

  #fill(patch) { return (this.wardrobe.grey ? patch.grey : patch.fill) ?? "url(#colour-bare)"; }

  #fit() {
    const { chart } = this.app;
    for (const code of chart.layers.patches.querySelectorAll(".code")) {
      const half = Math.hypot(0.36 * code.textContent.length, 0.42);
      const size = Math.min(CODE_PX[1], (0.9 * Number(code.dataset.room) * chart.pixels) / half);
      code.setAttribute("font-size", size / chart.pixels);
      code.setAttribute("visibility", size < CODE_PX[0] ? "hidden" : "visible");
    }
    chart.layers.patches.querySelector("#colour-bare")?.setAttribute("patternTransform", `scale(${1 / chart.pixels}) rotate(45)`);
  }

  // -- by pointer --------------------------------------------------------------------------------------------

  #under(event) {
    const made = document.elementsFromPoint(event.clientX, event.clientY).find((one) => one.classList.contains("cloth"));
    return made ? Number(made.dataset.k) : -1;
  }

  #down(event) {
    const { wardrobe, app } = this;
    if (!wardrobe.open || !wardrobe.ready) return;
    if (this.#stroke) return this.#putBack(); // a second finger moves the sheet
    if (event.button !== 0 || app.chart.svg.classList.contains("panning")) return;
    const k = this.#under(event);
    if (k < 0) return;
    this.#at = k;
    this.#rove();
    if (wardrobe.picking) return this.#take(k);
    this.#stroke = new Map();
    this.#brush(k);
  }

  #move(event) {
    if (!this.wardrobe.open) return;
    if (!this.#stroke) {
      const k = this.#under(event);
      return this.told(k < 0 ? null : this.patches[k]);
    }
    for (const step of event.getCoalescedEvents?.() ?? [event]) {
      const k = this.#under(step);
      if (k >= 0) this.#brush(k);
    }
  }

  // Shown at once; kept when the pointer is lifted, as one change.
  #brush(k) {
    const { wardrobe } = this;
    if (this.#stroke.has(k) || wardrobe.held === null) return;
    this.#stroke.set(k, this.patches[k]);
    const fabric = wardrobe.find(wardrobe.held);
    if (wardrobe.way && !this.patches[k].own) return;
    const alike = wardrobe.way ? this.patches.flatMap((patch, n) => (patch.own === this.patches[k].own ? [n] : [])) : [k];
    for (const n of alike) {
      const made = this.#shown[n];
      made.setAttribute("fill", (wardrobe.grey ? fabric?.grey : fabric?.fill) ?? "url(#colour-bare)");
      const print = made.nextSibling, code = print.nextSibling;
      print.setAttribute("d", "");
      code.textContent = fabric?.code ?? "";
      code.setAttribute("fill", (wardrobe.grey ? fabric?.on_grey : fabric?.on) ?? "none");
    }
  }

  #up() {
    const stroke = this.#stroke;
    this.#stroke = null;
    if (stroke?.size) this.#painted([...stroke.values()]);
  }

  #putBack() {
    const had = this.#stroke;
    this.#stroke = null;
    if (had) this.draw();
  }

  async #painted(patches) {
    const { wardrobe } = this;
    const { held, way } = wardrobe;
    if (!await wardrobe.paint(patches)) return;
    const names = patches.length > 3 ? `${patches.length} patches` : patches.map((patch) => patch.name).join(", ");
    const own = [...new Set(patches.map((patch) => patch.own).filter(Boolean))].join(" and ");
    this.told.aloud(way ? `In ${way}, ${own} ${held ? `becomes ${held}` : "stays as it is"}.` : held ? `${names}: ${held}.` : `${names}: no fabric.`);
  }

  #take(k) {
    const { wardrobe } = this;
    const patch = this.patches[k];
    wardrobe.pick(false);
    const fabric = wardrobe.fabrics.find((one) => one.called === patch.fabric || one.name === patch.fabric);
    wardrobe.hold(fabric?.name ?? "");
    this.told.aloud(fabric ? `${fabric.name} is held.` : `${patch.name} has no fabric; what you click now loses its own.`);
  }

  // -- by keyboard -------------------------------------------------------------------------------------------

  #key(event) {
    if (!this.wardrobe.open || event.ctrlKey || event.metaKey || event.altKey || !this.patches.length) return;
    const on = this.#shown.includes(event.target);
    const go = { ArrowRight: () => this.#go(this.#at + 1), ArrowLeft: () => this.#go(this.#at - 1),
      ArrowDown: () => this.#towards(1), ArrowUp: () => this.#towards(-1),
      Home: () => this.#go(0), End: () => this.#go(this.patches.length - 1) }[event.key];
    if (go) { if (on) go(); else this.#go(this.#at); } else if (on && (event.key === "Enter" || event.key === " ")) {
      if (this.wardrobe.picking) this.#take(this.#at); else this.#painted([this.patches[this.#at]]);
    } else return;
    event.preventDefault();
    event.stopPropagation();
  }

  #go(k) {
    this.#at = Math.min(this.patches.length - 1, Math.max(0, k));
    this.app.chart.seek(this.patches[this.#at].at);
    this.#rove();
    this.#shown[this.#at].focus({ preventScroll: true });
  }

  // The nearest patch below (1) or above (-1): what lies aside counts double.
  #towards(way) {
    const [x, y] = this.patches[this.#at].at;
    let best = null;
    for (const [k, patch] of this.patches.entries()) {
      const down = (patch.at[1] - y) * way, aside = Math.abs(patch.at[0] - x);
      const far = down + 2 * aside;
      if (down > 1e-6 && (!best || far < best.far)) best = { k, far };
    }
    if (best) this.#go(best.k);
  }

  #rove() { for (const [k, made] of this.#shown.entries()) made.setAttribute("tabindex", k === this.#at ? 0 : -1); }

  // The patch that has the keyboard is drawn round over all others.
  #mark() {
    const { chart } = this.app;
    chart.layers.warnings.querySelector(".at-keys")?.remove();
    const made = this.#shown[this.#at];
    if (!made || document.activeElement !== made || !made.matches(":focus-visible")) return;
    const d = made.getAttribute("d");
    chart.layers.warnings.append(shape("g", { class: "at-keys" }, shape("path", { class: "under", d }), shape("path", { class: "over", d })));
  }
}

export const rings = (patch) => [patch.ring, ...patch.holes].map((ring) => path(ring)).join("");

// What has no fabric yet is no white one.
function bare() {
  return shape("defs", {}, shape("pattern", { id: "colour-bare", patternUnits: "userSpaceOnUse", width: 10, height: 10 },
    shape("rect", { class: "bare-ground", width: 10, height: 10 }), shape("path", { class: "bare-line", d: "M0 5H10" })));
}
