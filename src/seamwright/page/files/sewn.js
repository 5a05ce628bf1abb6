// How the block is sewn: the options of its plan that the drawing holds, each a change like any other.
//
// Knows:  which options are offered here, under which words (words/onpage.py names the same).
// Leaves: what they mean (the server).

import { button, make } from "./dom.js";

const YES_NO = [
  ["fold-clear", "Only folds that run clear", "yes", ""],
  ["priority", "Most repeats first", "repeats", ""],
  ["rotary", "Cut by ruler where that is quicker", "auto", ""],
  ["fit", "Sections must fit a sheet", "", "none"],
];
const TYPED = [
  ["max-patches", "Most patches in a section", "any number"],
  ["start", "Sections start with", "such as A4"],
  ["pre-pieced", "Sewn together beforehand", "such as A2+A3"],
  ["tolerance", "Tidy away up to", "1/16 in"],
];
const STEPS = 2_000_000;

export class Sewn {
  constructor(app) {
    this.app = app;
    this.within = make("div", { class: "sewn" });
    this.element = make("details", {}, make("summary", {}, "How it is sewn"), this.within);
  }

  show(now) {
    this.element.hidden = !now || !this.app.desk.view;
    if (this.element.hidden) return;
    const held = this.app.desk.view.options ?? {};
    const turns = now.is_set_in ? [this.#check("Sew it as it is drawn", true, () => this.#set("set-in", ""))] : [];
    this.within.replaceChildren(...turns,
      ...YES_NO.map(([name, words, yes, no]) => this.#check(words, (held[name] ?? "") === yes, (on) => this.#set(name, on ? yes : no))),
      ...TYPED.map(([name, words, example]) => this.#typed(name, words, example, held[name] ?? "")),
      ...(now.fewest && !now.fewest.proven ? [button("Search longer", () => this.#set("steps", String(10 * Number(held.steps ?? STEPS))))] : []));
    if (now.is_set_in) this.element.open = true;
  }

  #check(words, checked, onchange) {
    const box = make("input", { type: "checkbox", checked, onchange: () => onchange(box.checked) });
    return make("label", { class: "tick" }, box, make("span", {}, words));
  }

  #typed(name, words, placeholder, value) {
    const field = make("input", { type: "text", value, placeholder, onchange: () => this.#set(name, field.value.trim()) });
    return make("label", {}, make("span", {}, words), field);
  }

  #set(name, value) {
    return this.app.desk.change([{ do: "option", name, value }]).catch((refusal) => {
      this.app.say(refusal.message);
      this.show(this.app.verdict.now);
    });
  }
}
