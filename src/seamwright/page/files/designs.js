// Her designs: what is on the table at the start, the list, and how it stands with saving.
//
// Knows:  what is opened first, the first visit. Leaves: the list (designlist.js), bringing in (bring.js), words about
// saving (states.js), saving (desk.js).

import { ask } from "./ask.js";
import { chooseFile, mountBringing } from "./bring.js";
import { openDesign, showDesigns } from "./designlist.js";
import { button, make } from "./dom.js";
import { mountStates } from "./states.js";

export async function mount(app) {
  const { desk } = app;
  mountStates(app);
  mountBringing(app);
  document.getElementById("designs-open").addEventListener("click", () =>
    showDesigns(app).catch((refusal) => app.say(refusal.message)));
  desk.addEventListener("open", () => { if (!desk.fresh) history.replaceState(null, "", `#${encodeURIComponent(desk.name)}`); });
  try {
    const [waits] = await desk.start();
    const list = await ask("GET", "designs");
    const wanted = named(location.hash.slice(1));
    const last = localStorage.getItem(LAST) ?? "";
    const names = list.map((design) => design.name);
    if (waits?.fresh) await desk.resume(waits);
    else {
      const drawn = list.filter((design) => design.kind === "block").sort((a, b) => b.changed.localeCompare(a.changed));
      const first = [waits?.name, wanted, last, ...drawn.map((design) => design.name)];
      if (!(await openFirst(app, first.filter((name) => names.includes(name))))) await beginNew(app, list);
    }
  } catch (refusal) {
    app.say(refusal.message);
  }
  desk.addEventListener("open", () => { if (!desk.fresh) localStorage.setItem(LAST, desk.name); });
}

// What an address names; nothing where it is none of ours.
function named(words) {
  try { return decodeURIComponent(words); } catch { return ""; }
}

// Opens the first of some designs that can be opened; what could not be is said.
async function openFirst(app, names) {
  for (const name of new Set(names)) {
    try {
      await openDesign(app, name);
      return true;
    } catch (refusal) {
      if (refusal.status !== 422) throw refusal;
      app.say(`${name}: ${refusal.message}`);
    }
  }
  return false;
}

const LAST = "seamwright design open last";

// Nothing to open: a new block is ready to be drawn on, and at the head of Draw stands what else she can do. It goes with
// the first seam; over the drawing it would take the sheet with it, away from under the pointer.
async function beginNew(app, list) {
  const made = await ask("POST", "new", {});
  await app.desk.begin(made.text, made.name);
  const welcome = make("div", { id: "welcome", role: "region", "aria-label": "How to begin" },
    make("p", {}, list.length ? "No block is drawn in this folder yet." : "This folder has no designs yet.",
      " Draw on this block, or bring in an SVG or a block: choose it, or drop it anywhere on the page."),
    button("Bring in a drawing", () => chooseFile(app)));
  document.querySelector('#work section[data-work="draw"] .in').prepend(welcome);
  app.desk.addEventListener("change", () => welcome.remove(), { once: true });
}
