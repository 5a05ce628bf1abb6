// The tools over a quilt: what a click does, and the same for what is selected.
//
// Knows:  which block is held, what each tool does to places. Leaves: the edits' work (quilt/edits.py).

import { button, choice, labelled, make } from "./dom.js";

const TOOLS = [["rotate", "Rotate"], ["reverse", "Reverse"], ["put", "Put"], ["select", "Select"]];

export class QuiltTools {
  tool = "rotate"; held = "";

  constructor(quilt) {
    this.quilt = quilt;
    const { sheet, app } = quilt;
    this.buttons = new Map(TOOLS.map(([name, words]) => [name,
      button(words, () => this.take(name), { "aria-pressed": String(name === this.tool) })]));
    this.what = make("span", { class: "held" });
    const all = button("Select all", () => sheet.select(sheet.selected.size ? [] : sheet.places));
    sheet.addEventListener("select", () => { all.textContent = sheet.selected.size ? "Select none" : "Select all"; });
    this.element = make("div", { id: "quilt-tools", role: "toolbar", "aria-label": "What a click does", hidden: true },
      make("span", { class: "quiet" }, "A click:"), ...this.buttons.values(), this.what, all);
    sheet.addEventListener("act", (event) => this.act(this.tool, event.detail));
    sheet.addEventListener("key", (event) => {
      const { key, shift } = event.detail;
      const does = { r: shift ? "back" : "rotate", m: "reverse", enter: "put" }[key.toLowerCase()];
      if (!does || !sheet.chosen.length) return;
      event.preventDefault();
      this.act(does, sheet.chosen);
    });
    app.desk.addEventListener("change", () => { if (app.desk.kind === "quilt") this.#showHeld(); });
  }

  take(tool) {
    this.tool = tool;
    for (const [name, made] of this.buttons) made.setAttribute("aria-pressed", String(name === tool));
    this.quilt.sheet.svg.dataset.tool = tool;
  }

  act(tool, cells) {
    const { sheet, change } = this.quilt;
    if (!cells.length) return;
    if (tool === "select") sheet.select(cells);
    else if (tool === "rotate" || tool === "back") {
      const quarters = tool === "back" ? 3 : 1;
      sheet.showChanged(cells, { quarters });
      change({ do: "rotate", cells, quarters });
    } else if (tool === "reverse") {
      sheet.showChanged(cells, { mirrored: true });
      change({ do: "reverse", cells });
    } else if (tool === "put" && this.held) change({ do: "put", cells, what: this.#heldNow(), kept: true });
  }

  #heldNow() {
    const [kind, name] = this.held.split(/:(.*)/s);
    return kind === "plain" ? { fabric: name } : { block: name };
  }

  // What there is to put: the blocks of the quilt, and plain pieces of the fabrics that it names.
  #showHeld() {
    const { view } = this.quilt.app.desk;
    const fabrics = new Set([...view.fabrics.map(([name]) => name), ...view.rows.flat().map((lies) => lies.fabric).filter(Boolean)]);
    const options = [...view.blocks.map(({ name }) => [`block:${name}`, name]), ...[...fabrics].map((name) => [`plain:${name}`, `plain ${name}`])];
    if (!options.some(([value]) => value === this.held)) this.held = options[0]?.[0] ?? "";
    this.what.replaceChildren(labelled("Put what", choice(options, this.held, (value) => { this.held = value; this.take("put"); })));
  }
}
