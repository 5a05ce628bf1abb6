// Puts the page together: the design on the table, the chart, the verdict, and the parts of the work in their order.
//
// Every part is a module with mount(app, inside). `app` is what they share:
//   desk     the design (desk.js)           chart   the drawing (chart.js)      verdict  the finding (verdict.js)
//   work     name of the part that is open; "work" is told on app.events
//   say      a sentence for a moment        units   "inch" or "metric"

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
import * as print from "./print.js";
import * as quilt from "./quilt.js";
import * as sew from "./sew.js";

const PARTS = { draw, check, colour, cut, print, sew, quilt };
const byId = (id) => document.getElementById(id);

const desk = new Desk();
const chart = new Chart(byId("sheet"));
const app = {
  desk, chart,
  verdict: new Verdict(desk, byId("verdict")),
  events: new EventTarget(),
  work: "draw",
  get units() { return desk.view?.units ?? "inch"; },
  say(sentence) {
    const word = byId("word");
    word.textContent = sentence;
    word.hidden = false;
    clearTimeout(app.saying);
    app.saying = setTimeout(() => { word.hidden = true; }, 8000);
  },
  open(work) {
    app.work = work;
    for (const section of document.querySelectorAll("#work section")) {
      const here = section.dataset.work === work;
      section.querySelector("h2 button").setAttribute("aria-expanded", String(here));
      section.querySelector(".in").hidden = !here;
    }
    app.events.dispatchEvent(new Event("work"));
  },
};

takePass();
for (const [name, part] of Object.entries(PARTS)) {
  const section = document.querySelector(`#work section[data-work="${name}"]`);
  section.querySelector("h2 button").addEventListener("click", () => app.open(name));
  part.mount(app, section.querySelector(".in"));
}
desk.addEventListener("change", () => {
  if (desk.view) chart.show(desk.view);
  byId("undo").disabled = !desk.canUndo;
  byId("redo").disabled = !desk.canRedo;
  byId("title").textContent = desk.view?.name ?? desk.name;
});
byId("undo").addEventListener("click", () => desk.undo());
byId("redo").addEventListener("click", () => desk.redo());
hints.mount(app);
designs.mount(app);
window.seamwright = app; // for whoever looks with the browser's own tools
