// An answer about the drawing on the table that takes a while: its sheets, its cutting list.
//
// Knows:  when it is asked for, of which drawing it is, what is said before, meanwhile, and when there is none.
// Leaves: what is asked and how the answer looks (print.js, cut.js), whether the drawing can be sewn (verdict.js).
// Method: it is asked for when it is looked at, and not before the verdict says that the drawing can be sewn: so a stuck
//         or unfinished drawing has its reason here. An older answer stays in sight, marked so, until the new one comes.

import { ask } from "./ask.js";
import { button, make } from "./dom.js";
import { whyNot } from "./why.js";

const LONG_MS = 3000; // what takes longer can be stopped

export class Answer {
  now = null;
  #of = ""; #stop = null;

  // work: the part that shows it; path: where it is asked for; asked: gives what is asked with; what: such as "sheets";
  // buttons: pressed only for what can be sewn; show, forget: of an answer; age: whether the one in sight is out of date.
  constructor(app, { work, path, asked, what, buttons, show, forget, age }) {
    Object.assign(this, { app, work, path, asked, what, buttons, show, hide: forget, age });
    this.reason = make("p", { class: "reason", role: "status" });
    this.state = make("p", { class: "summary", role: "status" });
    app.desk.addEventListener("open", () => this.forget());
    app.desk.addEventListener("change", () => this.look());
    app.verdict.addEventListener("verdict", () => this.look());
    app.events.addEventListener("work", () => { if (app.work === work) this.look(); });
  }

  // Whether the answer in sight is of what would be asked now.
  get isFresh() { return this.now !== null && this.#of === JSON.stringify(this.asked()); }

  async look() {
    const why = whyNot(this.app);
    this.reason.replaceChildren(...why);
    this.reason.hidden = why.length === 0;
    for (const one of this.buttons) one.disabled = why.length > 0;
    this.age(this.now !== null && !this.isFresh);
    if (why.length || this.isFresh) {
      this.#stop?.abort();
      this.#stop = null;
      if (this.isFresh) this.show(this.now);
      else this.state.textContent = this.now ? "Of the drawing as it was before." : "";
      return;
    }
    if (this.app.work === this.work) await this.#ask(this.asked());
  }

  // Nothing is in sight.
  forget() {
    [this.now, this.#of] = [null, ""];
    this.state.replaceChildren();
    this.hide();
  }

  async #ask(body) {
    this.#stop?.abort();
    const mine = this.#stop = new AbortController();
    this.state.textContent = this.now ? `The drawing has changed: ${this.what} of it …` : `Making ${this.what} …`;
    const long = setTimeout(() => { if (mine === this.#stop) this.state.append(button("Stop", () => mine.abort())); }, LONG_MS);
    try {
      const answer = await ask("POST", this.path, body, mine.signal);
      if (mine !== this.#stop) return;
      [this.now, this.#of] = [answer, JSON.stringify(body)];
      this.age(false);
      this.state.replaceChildren();
      this.show(answer);
    } catch (refusal) {
      if (mine !== this.#stop) return;
      this.forget();
      const words = refusal.name === "AbortError" ? "Stopped: nothing was made." : refusal.message;
      this.state.replaceChildren(make("span", { class: "fault" }, words), button("Try again", () => this.look()));
    } finally {
      clearTimeout(long);
    }
  }
}
