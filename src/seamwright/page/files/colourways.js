// Colourways and palettes: other sets of fabrics for the same block.
//
// Knows:  which colourway is shown, what each fabric becomes in it, which palette the block wears.
// Leaves: what they make of the block (the server), fabrics themselves (fabriclist.js).

import { ask } from "./ask.js";
import { button, choice, labelled, make } from "./dom.js";
import { WayPictures } from "./waypictures.js";
import { refill, swatch } from "./swatch.js";

const OWN = "the block's own fabrics";

export class Ways {
  #naming = ""; // "new" or "rename" while a name is asked for
  #files = [];

  constructor(app, wardrobe) {
    this.app = app; this.wardrobe = wardrobe;
    this.pictures = new WayPictures(app, wardrobe); // above the fabrics
    this.head = make("div", { class: "ways" }); // which is shown
    this.element = make("div", { class: "palettes" });
    for (const what of ["told", "grey"]) wardrobe.addEventListener(what, () => this.show());
    app.desk.addEventListener("open", () => { this.#naming = ""; this.#list(); });
    app.events.addEventListener("work", () => { if (wardrobe.open) this.#list(); });
  }

  async #list() {
    this.#files = (await ask("GET", "designs").catch(() => [])).filter((design) => design.kind === "palette").map((design) => design.name);
    this.show();
  }

  show() {
    const { wardrobe } = this;
    if (!wardrobe.now) { refill(this.head); refill(this.element); return; }
    refill(this.head, ...this.#which());
    refill(this.element, ...this.#palette());
  }

  // -- colourways --------------------------------------------------------------------------------------------

  #which() {
    const { wardrobe } = this;
    const ways = wardrobe.now.colourways;
    const names = [...new Set([...ways.map((way) => way.name), ...(wardrobe.way ? [wardrobe.way] : [])])];
    const stated = ways.find((way) => way.name === wardrobe.way)?.stated;
    const list = choice([["", OWN], ...names.map((name) => [name, name])], wardrobe.way, (name) => wardrobe.show(name));
    list.dataset.key = "colourway";
    return [
      labelled("Colourway", list),
      make("div", { class: "row" },
        button(wardrobe.way ? "New colourway from this one" : "New colourway", () => this.#ask("new"), { "data-key": "new way" }),
        stated ? button("Rename", () => this.#ask("rename"), { "data-key": "rename way", "aria-label": `Rename ${wardrobe.way}` }) : null,
        stated ? button("Take away", () => this.#drop(), { "data-key": "drop way", "aria-label": `Take ${wardrobe.way} away` }) : null),
      this.#naming ? this.#nameForm() : null,
      wardrobe.way ? make("p", { class: "quiet" }, `In ${wardrobe.way} a fabric becomes another wherever it lies: painting one patch changes all patches of its fabric.`
        + (wardrobe.named ? " It is kept with its first change." : " It is what is checked, cut and printed.")) : null,
      wardrobe.way ? this.#changes() : null,
      wardrobe.now.palette ? make("p", { class: "quiet" }, `The block wears the colours of ${wardrobe.now.palette}.`) : null,
    ];
  }

  #ask(what) {
    this.#naming = this.#naming === what ? "" : what;
    this.show();
    this.head.querySelector("form input")?.focus();
  }

  #nameForm() {
    const rename = this.#naming === "rename";
    const name = make("input", { type: "text", maxlength: 40, required: true, autocomplete: "off", value: rename ? this.wardrobe.way : "", "data-key": "way name" });
    const done = (event) => { event.preventDefault(); this.#named(name.value.trim().replace(/\s+/g, " "), rename); };
    return make("form", { class: "row", onsubmit: done }, labelled(rename ? "New name" : "Name of the colourway", name),
      make("button", { class: "first" }, rename ? "Rename it" : "Make it"), button("Not now", () => this.#ask(this.#naming)));
  }

  async #named(name, rename) {
    const { wardrobe } = this;
    const was = wardrobe.way, pairs = Object.entries(wardrobe.changes);
    if (!name) return;
    const taken = wardrobe.now.colourways.some((way) => way.name.toLowerCase() === name.toLowerCase() && !(rename && way.name === was));
    if (taken || /^(all|own)$/i.test(name)) return this.app.say(taken ? `There is a colourway called ${name} already. Choose another name.` : `${name} has a meaning of its own. Choose another name.`);
    this.#naming = "";
    if (rename) return wardrobe.change([{ do: "drop colourway", name: was, becomes: name }]);
    if (!pairs.length) return wardrobe.name(name);
    return wardrobe.show(name, pairs.map(([fabric, becomes]) => ({ do: "colourway", name, fabric, becomes })));
  }

  #drop() { return this.wardrobe.change([{ do: "drop colourway", name: this.wardrobe.way }]); }

  #changes() {
    const { wardrobe } = this;
    const rows = wardrobe.fabrics.filter((fabric) => wardrobe.changes[fabric.name] || wardrobe.now.patches.some((patch) => patch.own === fabric.name));
    return make("div", { class: "way-rows" }, ...rows.map((fabric) => {
      const becomes = wardrobe.changes[fabric.name] ?? "";
      const others = [...wardrobe.fabrics, ...wardrobe.shelf].filter((other) => other.name !== fabric.name).map((other) => [other.name, other.name]);
      const list = choice([["", "stays as it is"], ...others], becomes, (name) => wardrobe.become([fabric.name], name));
      list.dataset.key = `becomes ${fabric.name}`;
      return make("div", { class: "way-row" }, swatch(fabric, wardrobe.grey), labelled(`${fabric.name} becomes`, list), swatch(wardrobe.find(becomes) ?? fabric, wardrobe.grey));
    }));
  }

  // -- palettes ----------------------------------------------------------------------------------------------

  #palette() {
    const { app, wardrobe } = this;
    const chosen = app.desk.view?.options?.palette ?? "";
    const files = [...new Set([...this.#files, ...(chosen ? [chosen] : [])])];
    const list = choice([["", "none"], ...files.map((name) => [name, name])], chosen,
      (value) => wardrobe.change([{ do: "option", name: "palette", value }, ...this.#unasked()]));
    list.dataset.key = "palette";
    return [
      make("h3", {}, "Palette"),
      files.length ? labelled("Palette", list) : make("p", { class: "quiet" }, "There is no palette in the folder yet."),
      chosen && wardrobe.ready ? make("p", { class: "quiet" }, `${chosen} gives its colours to the fabrics of its names, here and in print. What you change in such a fabric shows when no palette is chosen.`) : null,
      chosen && wardrobe.ready ? button("Write its colours into this block", () => this.#write(), { "data-key": "write palette" }) : null,
      wardrobe.fabrics.length ? this.#keepForm() : null,
    ];
  }

  // What the palette makes of the block's fabrics becomes their own; the palette is no longer asked for.
  #write() {
    const { wardrobe } = this;
    const edits = wardrobe.fabrics.filter((fabric) => fabric.worn).map((fabric) => ({ do: "fabric", was: fabric.name, name: fabric.name, ...fabric.worn }));
    return wardrobe.change([...edits, { do: "option", name: "palette", value: "" }, ...this.#unasked()]);
  }

  // A colourway of the palette is asked for no more when the palette goes.
  #unasked() {
    const { wardrobe } = this;
    const shown = wardrobe.now.colourways.find((way) => way.name === wardrobe.way);
    return shown && !shown.stated ? [{ do: "option", name: "colourway", value: "" }] : [];
  }

  #keepForm() {
    const name = make("input", { type: "text", required: true, maxlength: 80, autocomplete: "off", placeholder: "harbour", "data-key": "palette name" });
    return make("form", { class: "row", onsubmit: (event) => { event.preventDefault(); this.#keep(name.value.trim()); } },
      labelled("Keep these fabrics as a palette called", name), make("button", {}, "Keep palette"));
  }

  async #keep(name) {
    const file = name.toLowerCase().endsWith(".palette") ? name : `${name}.palette`;
    try {
      const { text } = await ask("POST", "fabrics/palette", { text: this.app.desk.text });
      await ask("PUT", `designs/${encodeURIComponent(file)}`, { text, base: "" });
      this.app.say(`Kept as ${file}. Other blocks can wear it.`);
      await this.#list();
    } catch (refusal) {
      this.app.say(refusal.status === 409 ? `There is a ${file} already. Choose another name.` : refusal.message);
    }
  }
}
