// Mends of what is stuck: looked for once the verdict stands, shown on the drawing, done at one press.
//
// `element` is the part of Check below what is stuck.
//
// Knows:  that looking for them takes longer and is given up at a newer change.
// Leaves: the mends and the texts they make (the server), their lines on the drawing (looks.js).

import { ask } from "./ask.js";
import { path, shape } from "./chart.js";
import { button, make } from "./dom.js";

const PAUSE_MS = 500; // while she still draws nobody looks for mends

export class Mends {
  element = make("div", { class: "mending" });
  #stop = null; #timer = 0;

  constructor(app, looks) {
    this.app = app; this.looks = looks;
    app.desk.addEventListener("change", () => this.#giveUp());
    app.verdict.addEventListener("verdict", () => this.look());
  }

  look() {
    this.#giveUp();
    if (this.app.verdict.now?.state === "cannot") this.#timer = setTimeout(() => this.#ask(), PAUSE_MS);
  }

  #giveUp() {
    clearTimeout(this.#timer);
    this.#stop?.abort();
    this.#stop = null;
    this.element.replaceChildren(make("p", { class: "waiting", role: "status" }, "Looking for the smallest changes that would free it …"));
  }

  async #ask() {
    const { desk } = this.app;
    const stop = this.#stop = new AbortController();
    const text = desk.text;
    try {
      const found = await ask("POST", "mends", { name: desk.name, text }, stop.signal);
      if (!stop.signal.aborted && text === desk.text) this.#show(found);
    } catch (refusal) {
      if (stop.signal.aborted) return;
      this.element.replaceChildren(make("p", {}, `No mends: ${refusal.message}`), button("Look again", () => this.look()));
    }
  }

  #show({ mends, notes }) {
    const several = this.app.verdict.now.stuck.length > 1;
    this.element.replaceChildren(
      mends.length ? make("ul", { class: "mends" }, ...mends.map((mend) => this.#one(mend, several))) : "",
      ...notes.map((note) => make("p", { class: "quiet" }, note.text)));
  }

  #one(mend, several) {
    const show = () => this.looks.preview(mend), hide = () => this.looks.preview(null);
    const words = make("p", { id: `mend-${mend.number}` }, several ? make("strong", {}, `Place ${mend.obstruction}: `) : null, mend.text);
    const said = mend.said.map((sentence) => make("p", { class: "quiet" }, sentence));
    const go = () => this.app.desk.replace(mend.drawing).catch((refusal) => this.app.say(refusal.message));
    const doIt = button("Do this", go, { "aria-describedby": `mend-${mend.number}`, onfocus: show, onblur: hide });
    return make("li", { onpointerenter: show, onpointerleave: hide }, small(this.app.desk.view, mend), make("div", {}, words, ...said, doIt));
  }
}

// The drawing with the mend, small: to choose by where the large one is out of sight.
function small({ width, height, outline, strokes }, mend) {
  const room = Math.max(width, height) / 40;
  const line = (kind, points) => shape("path", { class: kind, d: path(points, false) });
  return shape("svg", { class: "mend-small", viewBox: `${-room} ${-room} ${width + 2 * room} ${height + 2 * room}`, "aria-hidden": "true" },
    shape("path", { class: "small-outline", d: path(outline) }),
    ...strokes.map((stroke) => line("small-seam", stroke.points)),
    ...mend.old_in.map((run) => line("mend-under", run)), ...mend.old_in.map((run) => line("mend-old", run)),
    ...mend.new_in.map((run) => line("mend-new", run)));
}
