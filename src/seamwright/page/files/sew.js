// Sew: the rehearsal played, section by section.
//
// Knows:  when the steps are asked for, what is said until they are there. Leaves: showing a step (bench.js).

import { ask } from "./ask.js";
import { Bench } from "./bench.js";
import { button, make } from "./dom.js";

const SAY_MS = 300;

export const KEYS = [
  ["← →", "on the sewing table: step back, step on"],
  ["Home, End", "on the slider: first and last step"],
];

export function mount(app, inside) {
  const bench = new Bench(document.getElementById("stage"));
  const words = make("div", { class: "rehearsal" });
  inside.append(words);
  let laid = "", asked = "", stop = null, late = 0;

  const drawing = () => `${app.desk.name}\n${app.desk.text}`;
  const say = (...parts) => words.replaceChildren(...parts);
  const table = (on) => { document.body.classList.toggle("at-bench", on); };

  function look() {
    if (app.work !== "sew" || app.kind === "quilt") return leave();
    const now = app.verdict.now;
    if (!now || !app.verdict.isFresh) return clear(); // the verdict comes first
    if (now.state !== "can") return refuse(now);
    if (laid === drawing()) { table(true); bench.element.hidden = false; return; }
    if (asked !== drawing()) fetchSteps();
  }

  function leave() {
    bench.stop();
    table(false);
    bench.element.hidden = true;
  }

  function clear() {
    stop?.abort();
    clearTimeout(late);
    asked = laid = "";
    bench.clear();
    table(false);
  }

  function refuse(now) {
    clear();
    say(make("p", {}, now.state === "cannot" ? "This cannot be sewn as it is drawn, so there are no steps."
      : "There are no steps yet: first the drawing must be finished, so that it can be sewn."),
    button(now.state === "cannot" ? "Show what would mend it" : "Draw", () => app.open(now.state === "cannot" ? "check" : "draw")));
  }

  async function fetchSteps() {
    clear();
    asked = drawing();
    const mine = stop = new AbortController();
    late = setTimeout(() => say(make("p", { role: "status" }, "Sewing it once with simulated cloth …")), SAY_MS);
    try {
      const found = await ask("POST", "steps", { name: app.desk.name, text: app.desk.text }, mine.signal);
      if (mine !== stop || asked !== drawing()) return;
      laid = asked;
      show(found);
    } catch (refusal) {
      if (mine.signal.aborted || mine !== stop) return;
      asked = "";
      say(make("p", {}, `No steps: ${refusal.message}`), button("Try again", look));
    } finally {
      if (mine === stop) clearTimeout(late);
    }
  }

  function show(found) {
    const ends = found.sections.map((section, k) => (found.sections[k + 1]?.first ?? found.steps.length) - section.first);
    const buttons = found.sections.map((section, k) => make("li", {},
      button(section.name ? `Section ${section.name}` : "The block, joined", () => bench.show(section.first)),
      section.name ? make("span", { class: "quiet" }, ends[k] === 1 ? "1 picture" : `${ends[k]} pictures`) : null));
    const cautions = make("p", { class: "cautions quiet" }, found.cautions);
    say(make("p", {}, found.told), ...found.notes.map((note) => make("p", {}, note)), make("ol", { class: "sections" }, ...buttons), cautions);
    bench.onstep = () => {
      const section = bench.steps[bench.at]?.section;
      found.sections.forEach((each, k) => {
        const here = each.name === section;
        if (here) buttons[k].firstChild.setAttribute("aria-current", "step"); else buttons[k].firstChild.removeAttribute("aria-current");
      });
      cautions.hidden = bench.at === 0; // there they stand on the table
    };
    bench.lay(found);
    table(app.work === "sew");
    bench.element.hidden = app.work !== "sew";
  }

  bench.addEventListener("step", () => bench.onstep?.());
  app.events.addEventListener("work", look);
  app.events.addEventListener("kind", look);
  app.desk.addEventListener("change", () => { if (laid !== drawing()) clear(); });
  app.verdict.addEventListener("verdict", look);
}
