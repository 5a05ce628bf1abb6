// The verdict: one sentence, always in the same place, and what is proven after it.
//
// Knows:  which answer belongs to the drawing on the table; how long is waited before it is said; who does not answer.
// Leaves: what the drawing shows of it (looks.js), everything besides the sentence (check.js).
// Method: one question is under way at a time; of changes in the meantime only the newest is asked about. An answer to
//         another drawing than the one on the table is thrown away. What runs is given up only if it takes long: the
//         server then ends the process that works on it, and another has to start.
// Events: "verdict" (`now` is another), "asking" (`asking` or `slow` is another), "mend" and "print" (she asks for it).

import { ask } from "./ask.js";
import { button, make } from "./dom.js";

const SAY_MS = 300; // a person does not notice a shorter wait
const GIVE_UP_MS = 1500; // about twice the time that a process takes to start
const AGAIN_MS = 3000;
const NO_VERDICT = ["offline", "too long", "refused"];

export class Verdict extends EventTarget {
  now = null; // the server's answer (page/verdicts.py), with `state` and `sentence`
  asking = false; slow = false;
  #waiting = null; #stop = null; #since = 0; #again = 0;
  #giveUp = 0;

  constructor(desk, place) {
    super();
    this.desk = desk; this.place = place;
    place.tabIndex = -1; // takes the focus of a button that goes
    desk.addEventListener("change", () => this.look());
  }

  // Whether `now` speaks of the drawing on the table.
  get isFresh() { return this.now !== null && this.now.of === this.#drawing(); }

  look() {
    clearTimeout(this.#again);
    if (this.desk.kind !== "block" || !this.desk.name) return this.#clear();
    this.#waiting = { name: this.desk.name, text: this.desk.text };
    if (!this.asking) return this.#askAll();
    clearTimeout(this.#giveUp);
    this.#giveUp = setTimeout(() => this.#stop?.abort(), Math.max(0, GIVE_UP_MS - (performance.now() - this.#since)));
  }

  #drawing() { return `${this.desk.name}\n${this.desk.text}`; }

  async #askAll() {
    this.asking = true;
    const late = setTimeout(() => { this.slow = true; this.#showWaiting(); }, SAY_MS);
    this.dispatchEvent(new Event("asking"));
    let found = null;
    while (this.#waiting) {
      const asked = this.#waiting;
      this.#waiting = null;
      this.#stop = new AbortController();
      this.#since = performance.now();
      const answer = await ask("POST", "verdict", asked, this.#stop.signal).catch(refused);
      clearTimeout(this.#giveUp);
      const of = `${asked.name}\n${asked.text}`;
      if (answer && of === this.#drawing()) found = { ...answer, of };
    }
    clearTimeout(late);
    this.asking = this.slow = false;
    this.#stop = null;
    this.dispatchEvent(new Event("asking"));
    if (found?.of !== this.#drawing()) return; // another design was opened meanwhile
    this.now = found;
    this.#show();
    this.dispatchEvent(new Event("verdict"));
    if (found.state === "offline") this.#again = setTimeout(() => this.look(), AGAIN_MS);
  }

  // What is no block has a verdict of its own kind (quilt.js), in the same place.
  #clear() {
    this.#waiting = null;
    this.place.setAttribute("aria-busy", "false");
    clearTimeout(this.#giveUp);
    if (!this.now) return;
    this.now = null;
    this.place.replaceChildren();
    this.place.className = "";
    this.dispatchEvent(new Event("verdict"));
  }

  #showWaiting() {
    if (this.desk.kind !== "block") return;
    this.place.setAttribute("aria-busy", "true"); // who listens hears the verdict alone
    this.place.className = "looking";
    this.place.replaceChildren(make("p", { class: "said" }, "Looking whether this can be sewn …"));
    this.dispatchEvent(new Event("asking"));
  }

  #show() {
    const { state, sentence, proven } = this.now;
    this.place.setAttribute("aria-busy", "false");
    this.place.className = state.replace(" ", "-");
    this.place.replaceChildren(
      make("p", { class: "said" }, sentence),
      state === "cannot" ? button("Show what would mend it", () => this.dispatchEvent(new Event("mend")), { class: "to-check" }) : "",
      state === "can" ? button("Print it", () => this.dispatchEvent(new Event("print")), { class: "to-print" }) : "",
      proven ? make("p", { class: "proven quiet" }, proven) : "",
      NO_VERDICT.includes(state) ? button("Ask again", () => { this.place.focus(); this.look(); }, { class: "to-ask" }) : "",
    );
  }
}

// What stands in the verdict's place when there is none; nothing when the question was taken back.
function refused(refusal) {
  if (refusal.name === "AbortError") return null;
  const state = [0, 403].includes(refusal.status) || ["", "busy"].includes(refusal.code) ? "offline" : refusal.code === "too long" ? "too long" : "refused";
  const fault = refusal.faults?.[0];
  const sentence = fault ? `No verdict: ${fault.what}. ${fault.mend}.` : `No verdict: ${refusal.message}`;
  return { state, sentence, proven: "", stuck: [], turns: [], notes: [] };
}
