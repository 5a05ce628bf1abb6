// Puts the page together: the design on the table, the chart, the verdict, and the parts of the work in their order.
//
// Every part is a module with mount(app, inside), and KEYS if it has keys of its own. `app` is what they share:
//   desk     the design (desk.js)           chart   the drawing (chart.js)      verdict  the finding (verdict.js)
//   work     name of the part that is open; "work" is told on app.events
//   kind     "block" or "quilt": which parts there are; "kind" is told on app.events
//   say      a sentence for a moment (hush: no more)   units   "inch" or "metric"
//   open     opens a part of the work by its name
//   begun    kept once something lies on the table; until then nothing else is opened, or the first would cover it

import { takePass } from "./ask.js";
import { Chart } from "./chart.js";
import { Desk } from "./desk.js";
import { Verdict } from "./verdict.js";
import * as check from "./check.js";
import * as colour from "./colour.js";
import * as cut from "./cut.js";
import * as designs from "./designs.js";
import * as draw from "./draw.js";
import * as hints from "./hints.js";
import * as keys from "./keys.js";
import * as print from "./print.js";
import * as quilt from "./quilt.js";
import * as sew from "./sew.js";

const PARTS = { draw, check, colour, cut, print, sew, quilt };
const byId = (id) => document.getElementById(id);
const sectionOf = (work) => document.querySelector(`#work section[data-work="${work}"]`);

const desk = new Desk();
const app = {
  desk,
  chart: new Chart(byId("sheet")),
  verdict: new Verdict(desk, byId("verdict")),
  events: new EventTarget(),
  work: "draw",
  kind: "block",
  get units() { return desk.view?.units ?? "inch"; },
  say, hush,
  open(work) {
    app.work = work;
    for (const section of document.querySelectorAll("#work section")) {
      const here = section.dataset.work === work;
      section.querySelector("h2 button").setAttribute("aria-expanded", String(here));
      section.querySelector(".in").hidden = !here;
    }
    document.body.dataset.work = work;
    app.events.dispatchEvent(new Event("work"));
  },
};

let saying = 0;
function say(sentence) {
  byId("word-said").textContent = sentence;
  byId("word").hidden = false;
  clearTimeout(saying);
  saying = setTimeout(hush, 4000 + 60 * sentence.length); // longer sentences take longer to read
}
function hush() { byId("word").hidden = true; }

// A quilt has no lines of its own to draw, check or sew: only its part of the work is shown.
function showKind() {
  const kind = desk.kind === "quilt" ? "quilt" : "block";
  for (const section of document.querySelectorAll("#work section")) section.hidden = !section.dataset.for.includes(kind);
  document.body.dataset.kind = kind;
  if (kind !== app.kind) {
    app.kind = kind;
    app.events.dispatchEvent(new Event("kind"));
  }
  if (sectionOf(app.work).hidden) app.open(kind === "quilt" ? "quilt" : "draw");
}

function showDesign() {
  byId("undo").disabled = !desk.canUndo;
  byId("redo").disabled = !desk.canRedo;
  const name = desk.view?.name || desk.name;
  byId("title").textContent = name;
  document.title = name ? `${name} · seamwright` : "seamwright";
}

takePass();
// The address of a new start, opened in this tab: the page itself stays, and goes on.
addEventListener("hashchange", async () => {
  const trying = takePass();
  if (!trying) return;
  await trying;
  if (desk.name) desk.look(); else location.reload();
});
for (const [name, part] of Object.entries(PARTS)) {
  const section = sectionOf(name);
  const head = section.querySelector("h2 button");
  head.addEventListener("click", () => { app.open(name); head.scrollIntoView({ block: "nearest" }); });
  part.mount(app, section.querySelector(".in"));
}
app.verdict.addEventListener("print", () => { app.open("print"); sectionOf("print").querySelector("h2 button").focus(); });
desk.addEventListener("open", showKind);
desk.addEventListener("change", () => {
  if (desk.view && desk.kind !== "quilt") app.chart.show(desk.view);
  showDesign();
});
byId("undo").addEventListener("click", () => desk.undo());
byId("redo").addEventListener("click", () => desk.redo());
byId("word-away").addEventListener("click", hush);
// A refusal that no part has answered is said in its own words; a fault of ours stays one.
window.addEventListener("unhandledrejection", (event) => {
  if (event.reason?.name !== "Refusal") return;
  event.preventDefault();
  say(event.reason.message);
});
keys.mount(app, [["Everywhere", keys.KEYS], ...Object.entries(PARTS).map(([name, part]) =>
  [sectionOf(name).querySelector("h2").textContent.trim(), part.KEYS])]);
hints.mount(app);
app.begun = designs.mount(app);
document.body.dataset.work = app.work;
window.seamwright = app; // for whoever looks with the browser's own tools
