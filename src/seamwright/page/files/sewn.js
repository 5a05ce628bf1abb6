// How the block is sewn: the options of its plan that the drawing holds, each a change like any other.
//
// Knows:  which of them are shown when. Leaves: the fields (fields.js), what they mean (the server).

import { button, make } from "./dom.js";
import { choices, fieldsOf } from "./fields.js";

const STEPS = 2_000_000; // as far as the search goes by itself
const FURTHER = 10;

export class Sewn {
  #fields = []; #turns = null;

  constructor(app) {
    this.app = app;
    this.further = button("Search longer", () => this.#search(), { hidden: true });
    this.within = make("div", { class: "sewn" }, this.further);
    this.element = make("details", { hidden: true }, make("summary", {}, "How it is sewn"), this.within);
    this.#build().catch((refusal) => app.say(refusal.message));
  }

  async #build() {
    const mine = (await choices()).filter((option) => option.where === "check");
    const turns = fieldsOf(this.app, mine.filter((option) => option.option === "set-in"));
    const others = fieldsOf(this.app, mine.filter((option) => option.option !== "set-in"));
    this.#turns = turns.element;
    this.#fields = [turns, others];
    this.within.prepend(turns.element, others.element);
    this.show(this.app.verdict.now);
  }

  show(now) {
    this.element.hidden = !now || !this.app.desk.view;
    if (this.element.hidden) return;
    for (const fields of this.#fields) fields.show(this.app.desk.view.options ?? {});
    if (this.#turns) this.#turns.hidden = !now.is_set_in; // before, what is stuck offers it (check.js)
    if (now.is_set_in) this.element.open = true;
    const told = [now.proven, ...now.notes.map((note) => note.text)]; // they name the button where it may help
    this.further.hidden = !told.some((text) => text.includes(this.further.textContent));
  }

  #search() {
    const steps = FURTHER * Number(this.app.desk.view.options.steps ?? STEPS);
    this.app.desk.change([{ do: "option", name: "steps", value: String(steps) }]).catch((refusal) => this.app.say(refusal.message));
  }
}
