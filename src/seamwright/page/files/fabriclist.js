// The fabrics to paint with: those of the block, those that are ready, and none.
//
// Knows:  how they are listed and held. Leaves: swatches (swatch.js), changing one (fabricform.js).

import { button, make } from "./dom.js";
import { FabricForm } from "./fabricform.js";
import { refill, swatch, words } from "./swatch.js";

export class FabricList {
  #changing = null; // name of the fabric whose form is open; "" for a new one

  constructor(app, wardrobe) {
    this.app = app; this.wardrobe = wardrobe;
    this.element = make("div", { class: "cloth-list" });
    this.form = new FabricForm(wardrobe, () => this.change(null));
    for (const what of ["told", "grey"]) wardrobe.addEventListener(what, () => this.show());
    wardrobe.addEventListener("held", () => this.#check());
    app.desk.addEventListener("open", () => this.change(null));
  }

  change(name) {
    const was = this.#changing;
    this.#changing = name;
    if (name !== null) this.form.fill(name ? this.wardrobe.find(name) : null);
    this.show();
    if (name !== null) this.form.focus();
    else if (was !== null) this.element.querySelector(`[data-key="${CSS.escape(was ? `change ${was}` : "add")}"]`)?.focus();
  }

  show() {
    const { wardrobe, form } = this;
    const { fabrics, shelf } = wardrobe;
    if (!wardrobe.now) return refill(this.element);
    if (this.#changing && !wardrobe.find(this.#changing)) this.#changing = null;
    const rows = fabrics.flatMap((fabric) => [this.#row(fabric, true), this.#changing === fabric.name ? form.element : null]);
    const mine = make("fieldset", {}, make("legend", {}, "Fabrics of this block"),
      ...rows, this.#none(),
      this.#changing === "" ? form.element : button("Add a fabric", () => this.change(""), { "data-key": "add" }));
    const ready = shelf.length ? make("details", { open: this.readyOpen ?? !fabrics.length, ontoggle: (event) => { this.readyOpen = event.target.open; } },
      make("summary", { "data-key": "ready" }, "Ready fabrics"),
      make("p", { class: "quiet" }, `${fabrics.length ? "One becomes" : "This block has no fabrics yet. One of these becomes"} part of it when you first paint with it.`),
      make("fieldset", {}, make("legend", { class: "unseen" }, "Ready fabrics"), ...shelf.map((fabric) => this.#row(fabric, false)))) : null;
    // What can be held first stands first, without scrolling.
    if (fabrics.length) refill(this.element, mine, ready);
    else refill(this.element, ready, mine);
  }

  #row(fabric, own) {
    const { wardrobe } = this;
    const becomes = own && wardrobe.way ? wardrobe.changes[fabric.name] : undefined;
    const label = make("label", { class: "cloth-row" }, this.#radio(fabric.name), swatch(fabric, wardrobe.grey),
      words(fabric, own ? used(fabric) : fabric.from === "palette" ? "of the palette" : "", becomes && `becomes ${becomes}`,
        own && fabric.called !== fabric.name && `${fabric.called} in the palette`));
    if (!own) return label;
    return make("div", { class: "cloth-line" }, label,
      button("Change", () => this.change(this.#changing === fabric.name ? null : fabric.name),
        { "aria-label": `Change ${fabric.name}`, "aria-expanded": String(this.#changing === fabric.name), "data-key": `change ${fabric.name}`, class: "plain" }));
  }

  #none() {
    return make("label", { class: "cloth-row" }, this.#radio(""), swatch(null),
      make("span", { class: "cloth-words" }, make("b", {}, this.wardrobe.way ? "Leave as it is" : "No fabric"),
        make("span", { class: "quiet" }, this.wardrobe.way ? "a patch keeps its own fabric in this colourway" : "takes the fabric off a patch")));
  }

  #radio(name) {
    return make("input", { type: "radio", name: "cloth-held", value: name, checked: this.wardrobe.held === name, "data-key": `hold ${name}`,
      onchange: () => this.wardrobe.hold(name) });
  }

  #check() {
    for (const radio of this.element.querySelectorAll("input[name='cloth-held']")) radio.checked = radio.value === this.wardrobe.held;
  }
}

const used = (fabric) => (fabric.patches ? fabric.share.replaceAll(" ", "\u00a0") : "not used");
