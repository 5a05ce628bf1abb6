// The quilt's picture, asked for as its text changes. One question is under way at a time, the newest waits.
//
// Knows:  which answer belongs to the text on the table. Leaves: showing it (quiltsheet.js).
// Events: "picture" (`now` is another: state, sentence, places, and `address` of the picture), "asking".

import { ask } from "./ask.js";

export class QuiltPicture extends EventTarget {
  now = null; finish = "colour"; asking = false;
  #waiting = null;

  constructor(desk) {
    super();
    this.desk = desk;
  }

  async look() {
    this.#waiting = { name: this.desk.name, text: this.desk.text, finish: this.finish };
    if (this.asking) return;
    this.asking = true;
    this.dispatchEvent(new Event("asking"));
    while (this.#waiting) {
      const asked = this.#waiting;
      this.#waiting = null;
      const found = await ask("POST", "quilt/picture", asked).catch((refusal) =>
        ({ state: refusal.status ? "unreadable" : "offline", sentence: refusal.message, faults: refusal.faults }));
      const same = asked.text === this.desk.text && asked.name === this.desk.name && asked.finish === this.finish;
      if (same && !this.#waiting) this.#become(found);
    }
    this.asking = false;
    this.dispatchEvent(new Event("asking"));
  }

  #become(found) {
    if (this.now?.address) URL.revokeObjectURL(this.now.address);
    if (found.svg) found.address = URL.createObjectURL(new Blob([found.svg], { type: "image/svg+xml" }));
    this.now = { ...found, name: this.desk.name };
    this.dispatchEvent(new Event("picture"));
  }
}
