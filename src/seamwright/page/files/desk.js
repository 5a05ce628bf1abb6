// The design on the table: its text, its history, and that every change is kept. One change at a time, in order.
//
// Events: "open" (another design), "change" (its text is another), "state" (saved, saving, offline, conflict).

import { ask } from "./ask.js";

export class Desk extends EventTarget {
  name = ""; kind = ""; text = ""; view = null; hash = "";
  state = "none";
  #past = []; #ahead = [];
  #queue = Promise.resolve();

  get canUndo() { return this.#past.length > 0; }
  get canRedo() { return this.#ahead.length > 0; }
  get #edits() { return this.kind === "quilt" ? "quilt/edit" : "sketch"; } // who does edits of such a text

  // Opens a design of the folder.
  open(name) { return this.#inTurn(async () => {
    const found = await ask("GET", `designs/${encodeURIComponent(name)}`);
    Object.assign(this, { name, kind: found.kind, text: found.text, hash: found.hash, state: "saved" });
    this.#past = []; this.#ahead = [];
    await this.#look();
    this.#tell("open"); this.#tell("change"); this.#tell("state");
  }); }

  // Makes a new design of a text and opens it.
  async create(name, text) {
    await ask("PUT", `designs/${encodeURIComponent(name)}`, { text, base: "" });
    return this.open(name);
  }

  // Does edits (sketch/edits.py); rejects with a sentence if they cannot be done, and then nothing has changed.
  change(edits) { return this.#inTurn(async () => {
    const made = await ask("POST", this.#edits, { text: this.text, name: this.name, edits });
    if (made.text !== this.text) await this.#become(made.text, made.view);
  }); }

  // Another text in place of this one: a mend, a version of before.
  replace(text) { return this.#inTurn(async () => { if (text !== this.text) await this.#become(text); }); }

  undo() { return this.#step(this.#past, this.#ahead); }
  redo() { return this.#step(this.#ahead, this.#past); }

  #step(from, to) { return this.#inTurn(async () => {
    if (!from.length) return;
    to.push(this.text);
    this.text = from.pop();
    await this.#look();
    this.#tell("change");
    await this.#save();
  }); }

  async #become(text, view) {
    this.#past.push(this.text);
    this.#ahead = [];
    this.text = text;
    if (view) this.view = view; else await this.#look();
    this.#tell("change");
    await this.#save();
  }

  async #look() { this.view = (await ask("POST", this.#edits, { text: this.text, name: this.name })).view; }

  async #save() {
    this.#is("saving");
    try {
      this.hash = (await ask("PUT", `designs/${encodeURIComponent(this.name)}`, { text: this.text, base: this.hash })).hash;
      this.#is("saved");
    } catch (refusal) {
      this.#is(refusal.status === 409 ? "conflict" : "offline");
    }
  }

  #is(state) { this.state = state; this.#tell("state"); }
  #tell(what) { this.dispatchEvent(new Event(what)); }
  #inTurn(work) {
    const done = this.#queue.then(work);
    this.#queue = done.catch(() => {});
    return done;
  }
}
