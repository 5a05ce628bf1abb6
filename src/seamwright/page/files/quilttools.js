// The tools over a quilt: what a click does, and the same for what is selected.
//
// Knows:  which block is held, what each tool does to places. Leaves: the edits' work (quilt/edits.py).

import { button, choice, make } from "./dom.js";

// The last stands beside the list of what is put.
const TOOLS = [["rotate", "Rotate"], ["reverse", "Reverse"], ["select", "Select"], ["put", "Put"]];

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
      make("span", { class: "quiet" }, "A click:"), ...this.buttons.values(), this.what, all,
      make("span", { class: "grow" }), this.finishes = this.#shownIn());
    sheet.addEventListener("act", (event) => this.act(this.tool, event.detail));
    sheet.addEventListener("key", (event) => {
      const { key, shift } = event.detail;
      if (key.toLowerCase() === "v") {
        event.preventDefault();
        return this.#show(quilt.picture.finish === "grey" ? "colour" : "grey");
      }
      const does = { r: shift ? "back" : "rotate", m: "reverse", enter: "put" }[key.toLowerCase()];
      if (!does || !sheet.chosen.length) return;
      event.preventDefault();
      this.act(does, sheet.chosen);
    });
    app.desk.addEventListener("change", () => { if (app.desk.kind === "quilt") this.#showHeld(); });
    quilt.picture.addEventListener("picture", () => this.#showHeld());
  }

  #shownIn() {
    const list = choice([["colour", "in colour"], ["grey", "in greys"], ["blank", "in outlines"]], this.quilt.picture.finish, (finish) => this.#show(finish));
    list.setAttribute("aria-label", "The quilt is shown");
    return list;
  }

  #show(finish) {
    this.finishes.value = finish;
    this.quilt.picture.finish = finish;
    this.quilt.picture.look();
  }

  take(tool) {
    this.tool = tool;
    for (const [name, made] of this.buttons) made.setAttribute("aria-pressed", String(name === tool));
    this.quilt.sheet.svg.dataset.tool = tool;
  }

  act(tool, cells) {
    const { sheet, change } = this.quilt;
    if (!cells.length) return;
    // A block that is no square is rotated by halves, unless all of them are.
    const step = sheet.square || cells.length === sheet.places.length ? 1 : 2;
    if (tool === "select") sheet.select(cells);
    else if (tool === "rotate" || tool === "back") {
      const quarters = tool === "back" ? 4 - step : step;
      sheet.showChanged(cells, { quarters });
      change({ do: "rotate", cells, quarters });
    } else if (tool === "reverse") {
      sheet.showChanged(cells, { mirrored: true });
      change({ do: "reverse", cells });
    } else if (tool === "put" && this.held) change({ do: "put", cells, what: this.#heldNow(), kept: true });
  }

  #heldNow() {
    const [kind, name, colourway = ""] = this.held.split("\n");
    return kind === "plain" ? { fabric: name } : { block: name, colourway };
  }

  hold(value) {
    this.held = value;
    this.take("put");
    this.#showHeld();
  }

  // What there is to put: the blocks of the quilt in their colourways, and plain pieces of its fabrics.
  #showHeld() {
    const { app, picture } = this.quilt, { view } = app.desk;
    if (!view?.blocks) return;
    const ways = picture.now?.ways ?? {};
    const blocks = view.blocks.flatMap(({ name }) => [[`block\n${name}`, name], ...(ways[name] ?? []).map((way) => [`block\n${name}\n${way}`, `${name} in ${way}`])]);
    const plain = (picture.now?.fabrics ?? []).map(([name]) => [`plain\n${name}`, `plain ${name}`]);
    const options = [...blocks, ...plain];
    if (!options.some(([value]) => value === this.held)) this.held = options[0]?.[0] ?? "";
    const list = choice(options, this.held, (value) => { this.held = value; this.take("put"); });
    list.setAttribute("aria-label", "What is put");
    this.what.replaceChildren(list);
  }
}
