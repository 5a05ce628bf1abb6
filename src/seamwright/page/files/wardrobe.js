// The fabrics of the design: what the server tells of them, which is held, which colourway is shown, colour or grey.
//
// Knows:  edits of fabrics (sketch/edits.py), that a ready fabric is written into the drawing when it is first used,
//         that the colourway shown is the one the drawing asks for: it is checked, cut and printed too.
// Leaves: how anything looks (the server), the drawing (cloths.js), lists (fabriclist.js, colourways.js, alike.js).
// Events: "told" (another answer, or none), "held", "grey", "pick".

import { ask } from "./ask.js";

export class Wardrobe extends EventTarget {
  now = null; // the answer of /api/fabrics
  trouble = ""; // why there is none
  held = null; // name of the fabric to paint with; "" takes fabrics off
  named = ""; // a colourway that was named and changes nothing yet, so that no text can hold it
  grey = false; picking = false;
  #waiting = false; #asking = false; #stale = true;

  constructor(app) {
    super();
    this.app = app;
    app.desk.addEventListener("open", () => this.#opened());
    app.desk.addEventListener("change", () => this.#changed());
    app.desk.addEventListener("state", () => { if (this.open && this.trouble && app.desk.state === "saved") this.look(); });
    app.events.addEventListener("work", () => { if (this.open && this.#stale) this.#lookAnew(); });
  }

  get open() { return this.app.work === "colour" && this.app.kind === "block"; }
  get ready() { return this.now?.state === "ready"; }
  get fabrics() { return this.now?.fabrics ?? []; }
  get shelf() { return this.now?.ready ?? []; }
  // The colourway shown; "" for the block's own fabrics.
  get way() {
    const asked = (this.app.desk.view?.options?.colourway ?? "").trim();
    const whole = this.app.desk.view?.colourways?.some((way) => way.name === asked);
    return this.named || (whole || !/,|^(all|own)$/i.test(asked) ? asked : "");
  }
  get changes() { return this.now?.colourways.find((way) => way.name === this.way)?.changes ?? {}; }

  find(name) { return this.fabrics.find((fabric) => fabric.name === name) ?? this.shelf.find((fabric) => fabric.name === name); }

  hold(name) { this.held = name; this.#tell("held"); }
  // Another colourway is shown; one that is only named goes.
  async show(way, edits = []) {
    this.named = "";
    return this.change([...edits, { do: "option", name: "colourway", value: way }]);
  }
  name(way) { this.named = way; return this.look(); }
  turn(grey) { this.grey = grey; this.#tell("grey"); }
  pick(on) { this.picking = on; this.#tell("pick"); }

  #opened() {
    this.now = null; this.held = null; this.named = ""; this.trouble = ""; this.picking = false;
    this.#tell("told");
  }

  #changed() {
    this.#stale = true;
    if (this.app.desk.view?.colourways?.some((way) => way.name === this.named)) this.named = "";
    if (this.open) this.look();
  }

  // Patches of an older drawing are none to paint on.
  #lookAnew() {
    this.now = null;
    this.#tell("told");
    this.look();
  }

  // One question is under way at a time; an answer to an older drawing is never shown.
  async look() {
    this.#waiting = true;
    if (this.#asking) return;
    this.#asking = true;
    while (this.#waiting) {
      this.#waiting = false;
      const { name, text } = this.app.desk;
      const options = { colourway: this.named ? "own" : this.way || "own" };
      let found = null, trouble = "";
      try { found = await ask("POST", "fabrics", { name, text, options }); } catch (refusal) { trouble = refusal.message; }
      if (text !== this.app.desk.text) { this.#waiting = true; continue; }
      if (found) this.now = found;
      this.trouble = trouble;
      this.#stale = Boolean(trouble);
      if (this.held === null || (this.held && !this.find(this.held))) this.held = (this.fabrics[0] ?? this.shelf[0])?.name ?? null;
      this.#tell("told");
    }
    this.#asking = false;
  }

  // Does edits; says what stands against them, and shows again what is there.
  async change(edits) {
    const { text } = this.app.desk;
    try {
      await this.app.desk.change(edits);
      if (this.app.desk.text === text) this.#tell("told"); // it was so already
      return true;
    } catch (refusal) {
      this.app.say(refusal.message);
      this.#tell("told");
      return false;
    }
  }

  // Edits that a fabric needs before it can be used: one of the shelf gets its line.
  need(name) {
    const fabric = name && !this.fabrics.some((one) => one.name === name) && this.find(name);
    return fabric ? [{ do: "fabric", name, ...fabric.typed }] : [];
  }

  // Patches are of the fabric held; in a colourway their own fabric becomes it, all over the block.
  paint(patches) {
    const name = this.held;
    if (name === null || !patches.length) return false;
    if (!this.way) return this.change([...this.need(name), ...patches.map((patch) => ({ do: "paint", fabric: name, ring: patch.ring, holes: patch.holes }))]);
    const own = [...new Set(patches.map((patch) => patch.own).filter(Boolean))];
    if (!own.length) {
      this.app.say("This patch has no fabric of its own that could become another. Paint it in the block's own fabrics first.");
      this.#tell("told");
      return false;
    }
    return this.become(own, name);
  }

  // In the colourway shown fabrics become another; "" lets them stay.
  async become(fabrics, name) {
    const { way } = this;
    const edits = [...this.need(name), ...fabrics.map((fabric) => ({ do: "colourway", name: way, fabric, becomes: name }))];
    if (this.named && name) return this.show(way, edits);
    const last = !name && Object.keys(this.changes).every((fabric) => fabrics.includes(fabric));
    if (last) this.named = way; // no text holds a colourway that changes nothing
    const done = await this.change(edits);
    if (last && !done) this.named = "";
    return done;
  }

  #tell(what) { this.dispatchEvent(new Event(what)); }
}
