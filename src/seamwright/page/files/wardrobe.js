// The fabrics of the design: what the server tells of them, which is held, which colourway is shown, colour or grey.
//
// Knows:  edits of fabrics (sketch/edits.py), that a ready fabric is written into the drawing when it is first used.
// Leaves: how anything looks (the server), the drawing (cloths.js), lists (fabriclist.js, ways.js, alike.js).
// Events: "told" (another answer, or none), "held", "grey", "pick".

import { ask } from "./ask.js";

export class Wardrobe extends EventTarget {
  now = null; // the answer of /api/fabrics
  trouble = ""; // why there is none
  held = null; // name of the fabric to paint with; "" takes fabrics off
  way = ""; // the colourway shown; "" for the block's own fabrics
  grey = false; picking = false;
  #waiting = false; #asking = false; #stale = true;

  constructor(app) {
    super();
    this.app = app;
    app.desk.addEventListener("open", () => this.#opened());
    app.desk.addEventListener("change", () => this.#changed());
    app.events.addEventListener("work", () => { if (this.open && this.#stale) this.look(); });
  }

  get open() { return this.app.work === "colour" && this.app.kind === "block"; }
  get ready() { return this.now?.state === "ready"; }
  get fabrics() { return this.now?.fabrics ?? []; }
  get shelf() { return this.now?.ready ?? []; }
  get known() { return (this.now?.colourways ?? []).some((way) => way.name === this.way); }
  get changes() { return this.now?.colourways.find((way) => way.name === this.way)?.changes ?? {}; }

  find(name) { return this.fabrics.find((fabric) => fabric.name === name) ?? this.shelf.find((fabric) => fabric.name === name); }

  hold(name) { this.held = name; this.#tell("held"); }
  show(way) { this.way = way; return this.look(); }
  turn(grey) { this.grey = grey; this.#tell("grey"); }
  pick(on) { this.picking = on; this.#tell("pick"); }

  #opened() {
    this.now = null; this.held = null; this.trouble = ""; this.picking = false;
    const asked = this.app.desk.view?.options?.colourway ?? "";
    this.way = /,|^(all|own)$/i.test(asked.trim()) ? "" : asked;
    this.#tell("told");
  }

  #changed() {
    this.#stale = true;
    if (this.open) this.look();
  }

  // One question is under way at a time; an answer to an older drawing is never shown.
  async look() {
    this.#waiting = true;
    if (this.#asking) return;
    this.#asking = true;
    while (this.#waiting) {
      this.#waiting = false;
      const { name, text } = this.app.desk;
      const pending = this.way && this.now && !this.known; // named, but nothing changes in it yet
      const options = { colourway: this.way && !pending ? this.way : "own" };
      let found = null, trouble = "";
      try {
        found = await ask("POST", "fabrics", { name, text, options });
        if (found.state !== "ready" && this.way && found.colourways.every((way) => way.name !== this.way)) {
          found = await ask("POST", "fabrics", { name, text, options: { colourway: "own" } }); // it is gone: undone, or never kept
        }
      } catch (refusal) { trouble = refusal.message; }
      if (text !== this.app.desk.text) { this.#waiting = true; continue; }
      if (found) this.now = found;
      if (pending && this.known) this.#waiting = true; // something changes in it now
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
  become(fabrics, name) {
    return this.change([...this.need(name), ...fabrics.map((fabric) => ({ do: "colourway", name: this.way, fabric, becomes: name }))]);
  }

  #tell(what) { this.dispatchEvent(new Event(what)); }
}
