// The quilt's picture, asked for as its text changes. One question is under way at a time, the newest waits.
//
// Knows:  which answer belongs to the text on the table; that blocks are asked about once, and not at every turn.
// Leaves: showing it (quiltsheet.js).
// Events: "picture" (`now` is another: state, sentence, places, `address` of the picture), "sewable" (its `stuck`
//         is known: a sentence for each block that cannot be sewn), "asking".

import { ask } from "./ask.js";
import { pictured } from "./dom.js";

const AGAIN_MS = 3000;

export class QuiltPicture extends EventTarget {
  now = null; finish = "colour"; asking = false;
  #waiting = null; #again = 0; #sewn = new Map();

  constructor(desk) {
    super();
    this.desk = desk;
  }

  async look() {
    clearTimeout(this.#again);
    if (this.desk.kind !== "quilt") return;
    this.#waiting = { name: this.desk.name, text: this.desk.text, finish: this.finish };
    if (this.asking) return;
    this.#tell(true);
    while (this.#waiting) {
      const asked = this.#waiting;
      this.#waiting = null;
      const found = await ask("POST", "quilt/picture", asked).catch((refusal) =>
        ({ state: refusal.status ? "unreadable" : "offline", sentence: refusal.message, faults: refusal.faults }));
      if (this.#waiting || !this.#isNow(asked) || asked.finish !== this.finish) continue;
      if (found.state === "offline") this.#again = setTimeout(() => this.look(), AGAIN_MS);
      else this.#become(found);
    }
    this.#tell(false);
    await this.#lookWhetherSewable();
  }

  #isNow({ name, text }) { return name === this.desk.name && text === this.desk.text; }

  #tell(asking) {
    this.asking = asking;
    this.dispatchEvent(new Event("asking"));
  }

  #become(found) {
    if (this.now?.address) URL.revokeObjectURL(this.now.address);
    if (found.svg) found.address = pictured(found.svg);
    this.now = { ...found, name: this.desk.name, stuck: this.#sewn.get(this.#blocks()) ?? null };
    this.dispatchEvent(new Event("picture"));
  }

  // What decides whether blocks can be sewn: which there are, in which size and colourway, under which options.
  #blocks() {
    const { view, name } = this.desk;
    const laid = new Set(view.rows.flat().map(({ block, colourway, reversed }) => `${block} ${colourway} ${reversed}`));
    return JSON.stringify([name, view.blocks, view.options, view.borders, [...laid].sort()]);
  }

  async #lookWhetherSewable() {
    const found = this.now, { name, text } = this.desk;
    if (found?.state !== "can" || found.stuck !== null) return;
    const blocks = this.#blocks();
    const { stuck } = await ask("POST", "quilt/sewable", { name, text }).catch(() => ({ stuck: null }));
    if (stuck === null) return;
    this.#sewn.set(blocks, stuck);
    if (this.now !== found || this.desk.kind !== "quilt" || this.#blocks() !== blocks) return;
    found.stuck = stuck;
    this.dispatchEvent(new Event("sewable"));
  }

  // A block's file may have changed since: it is asked about anew.
  forget() { this.#sewn.clear(); }
}
