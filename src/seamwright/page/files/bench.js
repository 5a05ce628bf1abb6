// The sewing table: one step of the rehearsal, the printed side and the front beside each other, its words below.
//
// Knows:  which step is shown, how it is gone on, back and played, its pictures (made when they are first seen).
// Leaves: the steps (the server), when they are asked for (sew.js).
// Events: "step" (another one is shown).

import { button, make, pictured } from "./dom.js";

const PLAY_MS = 2600; // long enough to look from one side to the other

export class Bench extends EventTarget {
  steps = []; at = 0;
  #urls = []; #playing = 0; #cautions = "";

  constructor(stage) {
    super();
    this.title = make("h2", { class: "title" });
    this.sides = [0, 1].map(() => ({ head: make("figcaption", {}), picture: make("img", { alt: "" }), legend: make("p", { class: "legend quiet" }) }));
    this.caption = make("p", { class: "caption", "aria-live": "polite" });
    this.cautions = make("p", { class: "cautions" });
    this.slider = make("input", { type: "range", min: 1, max: 1, value: 1, step: 1, "aria-label": "Step", oninput: () => this.show(Number(this.slider.value) - 1) });
    this.first = button("First", () => this.show(0));
    this.back = button("Back", () => this.show(this.at - 1));
    this.play = button("Play", () => (this.#playing ? this.stop() : this.#start()), { "aria-pressed": "false" });
    this.on = button("On", () => this.show(this.at + 1));
    this.last = button("Last", () => this.show(this.steps.length - 1));
    this.count = make("span", { class: "count quiet" });
    this.element = make("section", { id: "bench", "aria-label": "Sewing table", hidden: true },
      this.title,
      make("div", { class: "sides" }, ...this.sides.map((side) => make("figure", {}, side.head, side.picture, side.legend))),
      this.caption, this.cautions,
      this.slider, make("div", { class: "row" }, this.first, this.back, this.play, this.on, this.last, this.count));
    stage.querySelector("#verdict").before(this.element);
    // The slider has its own arrow keys; from anywhere else on the table they go on and back, too.
    this.element.addEventListener("keydown", (event) => {
      const by = { ArrowRight: 1, ArrowLeft: -1 }[event.key];
      if (!by || event.target === this.slider || event.ctrlKey || event.altKey || event.metaKey) return;
      event.preventDefault();
      this.show(this.at + by);
    });
  }

  // Other steps in place of these; the same step stays in sight where there is one.
  lay({ steps, cautions }) {
    this.clear();
    this.steps = steps;
    this.#cautions = cautions;
    this.slider.max = steps.length;
    this.element.hidden = false;
    this.show(Math.min(this.at, steps.length - 1));
  }

  clear() {
    this.stop();
    for (const urls of this.#urls) for (const url of urls ?? []) URL.revokeObjectURL(url);
    this.#urls = [];
    this.steps = [];
    this.element.hidden = true;
  }

  show(number) {
    const step = this.steps[number];
    if (!step) return;
    this.at = number;
    this.title.textContent = step.title;
    this.sides.forEach((side, k) => {
      side.head.textContent = step.heads[k];
      side.picture.src = this.#url(number)[k];
      side.picture.alt = `${step.heads[k]}. ${step.title}`;
      side.legend.textContent = step.legends[k];
    });
    this.caption.textContent = step.caption;
    this.cautions.textContent = number === 0 ? this.#cautions : "";
    this.slider.value = number + 1;
    this.count.textContent = `Picture ${number + 1} of ${this.steps.length}`;
    this.slider.setAttribute("aria-valuetext", `${number + 1} of ${this.steps.length}: ${step.title}`);
    this.first.disabled = this.back.disabled = number === 0;
    this.on.disabled = this.last.disabled = number === this.steps.length - 1;
    if (this.on.disabled) this.stop();
    if (this.steps[number + 1]) this.#url(number + 1);
    this.dispatchEvent(new Event("step"));
  }

  #url(number) {
    return (this.#urls[number] ??= this.steps[number].pictures.map(pictured));
  }

  #start() {
    if (this.at === this.steps.length - 1) this.show(0); else this.show(this.at + 1);
    this.#playing = setInterval(() => this.show(this.at + 1), PLAY_MS);
    this.#tell();
  }

  stop() {
    clearInterval(this.#playing);
    this.#playing = 0;
    this.#tell();
  }

  #tell() {
    this.play.textContent = this.#playing ? "Stop" : "Play";
    this.play.setAttribute("aria-pressed", String(this.#playing !== 0));
  }
}
