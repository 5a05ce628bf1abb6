// Colourways side by side as small pictures: the one pressed is shown.
//
// Knows:  when they are asked for, that pictures of an older drawing stay in sight until newer ones come.
// Leaves: the pictures (the server), naming and changing colourways (colourways.js).

import { ask } from "./ask.js";
import { make, pictured } from "./dom.js";

export class WayPictures {
  #of = ""; #stop = null; #shown = []; #addresses = [];

  constructor(app, wardrobe) {
    this.app = app; this.wardrobe = wardrobe;
    this.element = make("div", { class: "way-pictures", role: "group", "aria-label": "Colourways side by side", hidden: true });
    for (const what of ["told", "grey"]) wardrobe.addEventListener(what, () => this.look());
    app.desk.addEventListener("open", () => this.#clear());
  }

  async look() {
    const { app, wardrobe } = this;
    if (!wardrobe.open || !wardrobe.ready || !wardrobe.now.colourways.length) return this.#clear();
    this.#mark();
    const asked = { name: app.desk.name, text: app.desk.text, grey: wardrobe.grey };
    if (this.#of === JSON.stringify(asked)) return;
    this.#of = JSON.stringify(asked);
    this.#stop?.abort();
    const { signal } = this.#stop = new AbortController();
    try {
      const ways = await ask("POST", "fabrics/ways", asked, signal);
      if (!signal.aborted) this.#show(ways);
    } catch { // the list above still has all of them
      if (!signal.aborted) this.#clear();
    }
  }

  #show(ways) {
    const had = this.#shown.findIndex(({ made }) => made === document.activeElement);
    this.#addresses.forEach((address) => URL.revokeObjectURL(address));
    this.#addresses = ways.map(({ svg }) => pictured(svg));
    this.#shown = ways.map(({ name }, k) => ({ name, made: make("button", { type: "button", onclick: () => this.wardrobe.show(name) },
      make("img", { src: this.#addresses[k], alt: "" }), make("span", {}, name || "own fabrics")) }));
    this.element.replaceChildren(...this.#shown.map(({ made }) => made));
    this.element.hidden = false;
    this.#mark();
    this.#shown[had]?.made.focus();
  }

  #mark() { for (const { name, made } of this.#shown) made.setAttribute("aria-pressed", String(name === this.wardrobe.way)); }

  #clear() {
    this.#stop?.abort();
    this.#of = "";
    this.element.hidden = true;
    this.element.replaceChildren();
    this.#shown = [];
    this.#addresses.forEach((address) => URL.revokeObjectURL(address));
    this.#addresses = [];
  }
}
