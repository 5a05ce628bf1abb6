// Where fabrics do not part what is drawn: sentences beside the drawing, marks on it, each shows the other.
//
// Knows:  the layer "warnings". Leaves: what reads alike and which points vanish (the server).

import { path, shape } from "./chart.js";
import { make } from "./dom.js";
import { refill } from "./swatch.js";

export class Alike {
  #items = []; #marks = [];

  constructor(app, wardrobe) {
    this.app = app; this.wardrobe = wardrobe;
    this.element = make("div", { class: "alike" });
    wardrobe.addEventListener("told", () => this.show());
    for (const what of ["work", "kind"]) app.events.addEventListener(what, () => this.#draw());
  }

  show() {
    const { now } = this.wardrobe;
    if (!this.wardrobe.ready) { refill(this.element); this.#draw(); return; }
    this.#items = now.warnings.map((warning, k) => make("li", { tabindex: 0, class: warning.kind, "data-key": `alike ${k}`,
      onpointerenter: () => this.#light(k), onpointerleave: () => this.#light(-1), onfocus: () => this.#light(k), onblur: () => this.#light(-1) }, warning.sentence));
    const worn = now.fabrics.some((fabric) => fabric.patches);
    refill(this.element, make("h3", {}, "How the fabrics part the patches"),
      now.warnings.some((warning) => warning.kind === "alike" && warning.points.length) ? null : make("p", {}, worn ? now.sentence : "Paint a few patches first."),
      this.#items.length ? make("ul", { class: "notes" }, ...this.#items) : null,
      now.warnings.some((warning) => warning.kind === "alike") ? make("p", { class: "quiet" }, "Choose a lighter or a darker one, or let them melt into each other on purpose.") : null,
      ...now.told.map((told) => make("p", { class: "quiet" }, told)));
    this.#draw();
  }

  #draw() {
    const { app, wardrobe } = this;
    if (!wardrobe.open) return;
    this.#marks = (wardrobe.now?.warnings ?? []).map((warning, k) => {
      const runs = warning.seams.map((seam) => path(seam, false)).join("");
      const made = shape("g", { class: `alike-mark ${warning.kind}` },
        ...(runs ? [shape("path", { class: "under", d: runs }), shape("path", { class: "over", d: runs })] : []),
        ...warning.points.map((at) => app.chart.still(at, shape("circle", { class: "under", r: 10 }), shape("circle", { class: "over", r: 10 }))));
      made.addEventListener("pointerenter", () => this.#light(k, true));
      made.addEventListener("pointerleave", () => this.#light(-1));
      return made;
    });
    app.chart.fill("warnings", ...this.#marks);
  }

  // One of them stands out, here and there.
  #light(k, seek = false) {
    this.#items.forEach((item, n) => item.classList.toggle("lit", n === k));
    this.#marks.forEach((mark, n) => mark.classList.toggle("lit", n === k));
    this.app.chart.svg.classList.toggle("lighting", k >= 0);
    if (seek) this.#items[k]?.scrollIntoView({ block: "nearest" });
  }
}
