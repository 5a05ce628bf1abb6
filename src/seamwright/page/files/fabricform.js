// One fabric made or changed: its name, colour, value, warm or cool, stripes, width and code.
//
// Knows:  the fields. Leaves: how a colour reads and whether a fabric can be so (the server), keeping it (wardrobe.js).

import { ask } from "./ask.js";
import { button, choice, labelled, make } from "./dom.js";
import { swatch } from "./swatch.js";

const PRINTS = [["", "plain, or no way up"], ["stripes", "stripes"], ["direction", "a print that runs one way"]];
const START = "#4f8196";

export class FabricForm {
  #was = ""; #count = 0; #later = 0;

  constructor(wardrobe, close) {
    this.wardrobe = wardrobe;
    const text = (more = {}) => make("input", { type: "text", autocomplete: "off", spellcheck: "false", ...more });
    this.name = text({ required: true, maxlength: 120 });
    this.colour = text({ placeholder: "#a9c9dc, or navy", class: "short" });
    this.field = make("input", { type: "color", "aria-label": "Choose the colour", oninput: () => { this.colour.value = this.field.value; this.#look(); } });
    this.value = choice([["", "as its colour reads"], ["light", "light"], ["medium", "medium"], ["dark", "dark"]], "", () => this.#look());
    this.warmth = choice([["", "as its colour reads"], ["warm", "warm"], ["cool", "cool"]], "", () => this.#look());
    this.print = choice(PRINTS, "", () => { this.angle.parentElement.hidden = !this.print.value; this.#look(); });
    this.angle = text({ class: "short", inputmode: "decimal", "aria-describedby": "cloth-angle" });
    this.width = text({ class: "short" });
    this.code = text({ class: "short", maxlength: 12 });
    this.reads = make("p", { class: "cloth-reads", role: "status" });
    this.fault = make("p", { class: "fault", role: "alert", hidden: true });
    this.drop = button("Take this fabric away", () => this.#drop(close));
    this.element = make("form", { class: "cloth-form", onsubmit: (event) => { event.preventDefault(); this.#keep(close); },
      onkeydown: (event) => { if (event.key === "Escape") { event.stopPropagation(); close(); } } },
      labelled("Name", this.name),
      make("div", { class: "row" }, labelled("Colour", this.colour), this.field),
      this.reads,
      make("div", { class: "two" }, labelled("Value", this.value), labelled("Warm or cool", this.warmth)),
      labelled("Stripes or print", this.print),
      make("div", { class: "row" }, labelled("Runs at, in degrees", this.angle), make("span", { class: "quiet", id: "cloth-angle" }, "0 is level, 90 upright; clockwise")),
      make("div", { class: "two" }, labelled("Width bought", this.width), labelled("Code on paper", this.code)),
      this.fault,
      make("div", { class: "row" }, make("button", { class: "first" }, "Keep this fabric"), button("Leave it as it was", close)),
      this.drop);
    this.angle.parentElement.parentElement.hidden = true;
    for (const one of [this.name, this.colour, this.angle, this.width, this.code]) one.addEventListener("input", () => this.#look());
  }

  focus() { this.name.focus(); }

  // A fabric of the block; null for a new one.
  fill(fabric) {
    const typed = fabric?.typed ?? { colour: START };
    this.#was = fabric?.name ?? "";
    this.name.value = this.#was;
    this.colour.value = typed.colour ?? "";
    this.field.value = fabric?.colour ?? START;
    this.value.value = typed.value ?? "";
    this.warmth.value = typed.warmth ?? "";
    this.print.value = typed.stripes !== undefined ? "stripes" : typed.direction !== undefined ? "direction" : "";
    this.angle.value = typed.stripes ?? typed.direction ?? "";
    this.width.value = typed.width ?? "";
    this.width.placeholder = this.wardrobe.app.units === "metric" ? "110 cm" : "42 in";
    this.code.value = typed.code ?? "";
    this.code.placeholder = fabric?.code ?? "";
    this.drop.hidden = !fabric;
    const many = fabric?.patches ?? 0;
    this.drop.textContent = many ? `Take this fabric away (${many === 1 ? "1 patch" : `${many} patches`} would have none)` : "Take this fabric away";
    this.angle.parentElement.parentElement.hidden = !this.print.value;
    this.#fail("");
    this.#look(0);
  }

  get #typed() {
    const angle = this.print.value ? { [this.print.value]: this.angle.value.trim() || "0" } : {};
    return { name: this.name.value.trim(), colour: this.colour.value.trim(), value: this.value.value, warmth: this.warmth.value, code: this.code.value.trim(),
      width: this.width.value.trim(), ...angle };
  }

  // How it reads is asked a moment after the last key.
  #look(after = 250) {
    this.angle.parentElement.parentElement.hidden = !this.print.value;
    clearTimeout(this.#later);
    this.#later = setTimeout(async () => {
      const count = ++this.#count;
      const typed = this.#typed;
      try {
        const found = await ask("POST", "fabrics/one", { ...typed, name: typed.name || "fabric" });
        if (count !== this.#count) return;
        if (found.colour) this.field.value = found.colour;
        this.reads.replaceChildren(swatch({ ...found, code: typed.code }), swatch({ ...found, code: "" }, true), make("span", {}, `Reads ${found.reads || "as nothing yet: no colour, no value"}.`));
        this.#fail("");
      } catch (refusal) {
        if (count === this.#count) this.#fail(refusal.message);
      }
    }, after);
  }

  #fail(sentence) { this.fault.textContent = sentence; this.fault.hidden = !sentence; }

  async #keep(close) {
    const { wardrobe } = this;
    const typed = this.#typed;
    try {
      await wardrobe.app.desk.change([{ do: "fabric", ...typed, was: this.#was }]);
    } catch (refusal) {
      return this.#fail(refusal.message);
    }
    if (!this.#was || wardrobe.held === this.#was) wardrobe.hold(typed.name.replace(/\s+/g, " "));
    close();
  }

  async #drop(close) {
    if (await this.wardrobe.change([{ do: "drop fabric", name: this.#was }])) close();
  }
}
