// Which colourways are printed or cut: the one that the drawing is in, or all of them, each by itself.
//
// Knows:  that only what has colourways is asked. Leaves: colourways themselves (the Colour part).

import { choice, labelled, make } from "./dom.js";

export class Ways {
  #way = "";

  // `all` are the words for all of them; `changed` is called when another is chosen.
  constructor(app, all, changed) {
    this.app = app; this.all = all; this.changed = changed;
    this.element = make("div", { class: "ways", hidden: true });
  }

  // Options to ask with.
  get options() { return this.#way && !this.element.hidden ? { colourway: this.#way } : {}; }

  show() {
    const none = !(this.app.desk.view?.colourways ?? []).length;
    if (none === this.element.hidden) return;
    this.element.hidden = none;
    this.reset();
  }

  reset() {
    this.#way = "";
    const take = (value) => { this.#way = value; this.changed(); };
    this.element.replaceChildren(labelled("Colourways", choice([["", "the one that Colour shows"], ["all", this.all]], "", take)));
  }
}
