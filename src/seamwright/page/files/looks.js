// What the drawing shows of the verdict: tints and names of patches, open ends, what is stuck, where advice belongs,
// lines of a mend.
//
// Knows:  the layers "patches" and "marks".
// Leaves: where anything lies and which colour it has (the server), words beside the drawing (check.js).

import { path, shape } from "./chart.js";

const LEAST_PX = 8; // a smaller name is not shown: zoomed in it is
const MOST_PX = 22;
const MOST_KEYS = 40; // of one kind of advice: a drawing full of letters shows nothing

const rings = (patch) => [patch.outline_in, ...patch.holes_in].map((ring) => path(ring)).join("");

export class Looks {
  #mend = null; #note = null;

  constructor(app) {
    this.app = app;
    app.chart.addEventListener("zoom", () => this.#fit());
    app.verdict.addEventListener("verdict", () => { this.#mend = this.#note = null; this.draw(); });
    app.verdict.addEventListener("asking", () => app.chart.svg.classList.toggle("stale", app.verdict.slow));
    app.events.addEventListener("work", () => this.draw());
    app.events.addEventListener("kind", () => this.draw());
  }

  // The lines of a mend ({old_in, new_in}) are shown, or none.
  preview(mend) { this.#mend = mend; this.#marks(); }

  // The places of a note stand out, or those of none.
  point(note) { this.#note = note; this.#marks(); }

  draw() {
    if (this.app.work !== "colour" && this.app.kind !== "quilt") this.#patches();
    this.#marks();
  }

  #patches() {
    const { chart, verdict } = this.app;
    const patches = verdict.now?.patches ?? [];
    const areas = patches.map((patch) => shape("path", { class: "patch", d: rings(patch), fill: patch.colour, "fill-rule": "evenodd" }));
    const edges = (verdict.now?.sections ?? []).map((section) => shape("path", { class: "section-edge", d: path(section.outline_in) }));
    const names = patches.filter((patch) => patch.name_at).map((patch) => shape("text", {
      class: "patch-name", x: patch.name_at[0], y: patch.name_at[1], dy: "0.36em", fill: patch.ink, "data-size": patch.name_size }, patch.name));
    chart.fill("patches", ...areas, ...edges, ...names);
    this.#fit();
  }

  // Names are as large as their patch allows, within what reads well; those too small to read are left out.
  #fit() {
    const { chart } = this.app;
    for (const name of chart.layers.patches.querySelectorAll(".patch-name")) {
      const size = Number(name.dataset.size) * chart.pixels;
      name.setAttribute("font-size", Math.min(size, MOST_PX) / chart.pixels);
      name.setAttribute("visibility", size < LEAST_PX ? "hidden" : "visible");
    }
    chart.layers.marks.querySelector("#stuck-hatch")?.setAttribute("patternTransform", `scale(${1 / chart.pixels}) rotate(45)`);
  }

  #marks() {
    const { chart, verdict, work, kind } = this.app;
    const now = verdict.now;
    if (kind === "quilt" || !now) return chart.fill("marks");
    const shown = [];
    if (now.state === "unfinished") shown.push(...now.error.faults.filter((fault) => fault.at_in).map((fault) => this.#ring(fault.at_in, "open-end", 8)));
    if (now.stuck.length) shown.push(hatch(), ...this.#stuck(now));
    if (work === "check") shown.push(...now.turns.map((turn) => this.#key(turn.at_in, turn.join, turn.is_half ? "half" : "turn")));
    const taken = new Map(now.turns.map((turn) => [String(turn.at_in), 1])); // how many keys stand at a place
    if (work === "check" && !now.stuck.length) for (const note of now.notes) shown.push(...this.#places(note, taken));
    if (this.#note) shown.push(...this.#note.places_in.map((at) => this.#ring(at, "pointed", 15)));
    if (this.#mend) shown.push(...this.#change(this.#mend));
    chart.fill("marks", ...shown);
    this.#fit();
  }

  #ring(at, kind, r) { return this.app.chart.still(at, shape("circle", { class: kind, r })); }

  #key(at, words, kind, right = 0, down = 0) {
    return this.app.chart.still(at, shape("circle", { class: `${kind} disc`, cx: right, cy: down, r: kind === "advice" ? 9 : 12 }),
      shape("text", { class: `${kind} key`, x: right, y: down }, words));
  }

  #stuck(now) {
    const made = now.obstructions.flatMap((stuck) => now.patches.filter((patch) => stuck.patches.includes(patch.name)))
      .map((patch) => shape("path", { class: "stuck-ground", d: rings(patch), fill: "url(#stuck-hatch)", "fill-rule": "evenodd" }));
    for (const stuck of now.stuck) {
      made.push(...stuck.lines_in.map((line) => shape("path", { class: "stuck-line", d: path(line, false) })));
      const ringed = stuck.key_at === null;
      made.push(...stuck.spots_in.map((at) => this.app.chart.still(at, shape("circle", { class: ringed ? "stuck-ring" : "stuck-spot", r: ringed ? 11 : 5 }))));
      if (ringed) made.push(...stuck.spots_in.map((at) => this.#key(at, stuck.number, "stuck", 20, -20)));
      else made.push(this.#key(stuck.key_at, stuck.number, "stuck"));
    }
    return made;
  }

  // Keys on one place stand side by side.
  #places(note, taken) {
    if (!note.letter) return [];
    return note.places_in.slice(0, MOST_KEYS).map((at) => {
      const place = String(at.map((figure) => Number(figure.toFixed(4))));
      const beside = taken.get(place) ?? 0;
      taken.set(place, beside + 1);
      return this.#key(at, note.letter, "advice", beside * 20);
    });
  }

  #change(mend) {
    return [
      ...mend.old_in.map((line) => shape("path", { class: "mend-under", d: path(line, false) })),
      ...mend.old_in.map((line) => shape("path", { class: "mend-old", d: path(line, false) })),
      ...mend.new_in.map((line) => shape("path", { class: "mend-new", d: path(line, false) })),
    ];
  }
}

function hatch() {
  const lines = shape("pattern", { id: "stuck-hatch", patternUnits: "userSpaceOnUse", width: 9, height: 9 },
    shape("path", { class: "hatch", d: "M0 4.5H9" }));
  return shape("defs", {}, lines);
}
