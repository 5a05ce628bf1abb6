// The verdict: one sentence, always in the same place. One question is under way at a time, the newest waits.

import { ask } from "./ask.js";

export class Verdict extends EventTarget {
  now = null; asking = false;
  #waiting = null;

  constructor(desk, place) {
    super();
    this.desk = desk; this.place = place;
    desk.addEventListener("change", () => this.look());
  }

  async look() {
    this.#waiting = { name: this.desk.name, text: this.desk.text };
    if (this.asking) return;
    this.asking = true;
    while (this.#waiting) {
      const asked = this.#waiting;
      this.#waiting = null;
      this.place.textContent = "Looking …";
      const found = await ask("POST", "verdict", asked).catch((refusal) => ({ state: "unreadable", sentence: refusal.message }));
      if (asked.text !== this.desk.text) continue; // an answer to an older drawing
      this.now = found;
      this.place.textContent = found.sentence;
      this.place.className = found.state;
      this.dispatchEvent(new Event("verdict"));
    }
    this.asking = false;
  }
}
