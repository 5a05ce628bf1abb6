// The list of keys, gathered from the parts: each exports KEYS, pairs of (keys, what they do).
//
// Knows:  how the list is shown, the way to the drawing. Leaves: what keys do (each part).

import { askIn, button, make } from "./dom.js";
import { showAgain } from "./hints.js";

export const KEYS = [
  ["Ctrl Z", "undo"],
  ["Ctrl Shift Z", "redo"],
  ["Alt 1 to Alt 7", "open Draw, Check, Colour, Cut, Print, Sew, Quilt"],
  ["Alt 0", "to the drawing, from wherever you are"],
  ["?", "this list"],
];

// What stands in the drawing's place, whichever part of the work is open: the first of these that is in sight.
const DRAWINGS = ["#bench input[type='range']", "#stage .paper", "#quilt-picture", "#chart .cloth[tabindex='0']", "#chart"];

function toDrawing() {
  const shown = DRAWINGS.map((one) => document.querySelector(one)).find((one) => one?.checkVisibility({ visibilityProperty: true }));
  shown?.focus();
  shown?.scrollIntoView({ block: "nearest" });
}

export function mount(app, tables) {
  const list = () => askIn(make("dialog", { "aria-label": "Keys" },
    make("form", { method: "dialog", class: "row apart" }, make("h2", {}, "Keys"), make("button", {}, "Close")),
    ...tables.filter(([, rows]) => rows?.length).map(([name, rows]) => make("section", {},
      make("h3", {}, name),
      make("dl", { class: "keys" }, ...rows.flatMap(([keys, does]) => [make("dt", {}, keys), make("dd", {}, does)])))),
    button("Show hints again", () => { showAgain(); app.events.dispatchEvent(new Event("hints")); app.say("Hints are shown again."); })));
  document.getElementById("keys-open").addEventListener("click", list);
  document.querySelector(".skip").addEventListener("click", (event) => { event.preventDefault(); toDrawing(); });

  const works = [...document.querySelectorAll("#work section")];
  document.addEventListener("keydown", (event) => {
    const typing = event.target.closest("input, select, textarea, dialog");
    if (event.altKey && !event.ctrlKey && event.code === "Digit0" && !event.target.closest("dialog")) {
      event.preventDefault();
      toDrawing();
    } else if (event.altKey && !event.ctrlKey && /^Digit[1-9]$/.test(event.code)) {
      const section = works[Number(event.code.at(-1)) - 1];
      if (!section || section.hidden) return;
      event.preventDefault();
      section.querySelector("h2 button").click();
      section.querySelector("h2 button").focus();
    } else if (event.key === "?" && !typing) {
      event.preventDefault();
      list();
    }
  });
}
