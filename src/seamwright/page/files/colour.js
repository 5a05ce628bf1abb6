// Colour: patches painted with fabrics, fabrics and colourways, values in grey, and where fabrics read alike.
//
// Knows:  what stands beside the drawing and in which order, the keys of this part.
// Leaves: fabrics and edits (wardrobe.js), the drawing (cloths.js), the lists (fabriclist.js, clothbar.js,
//         colourways.js, alike.js).

import { Alike } from "./alike.js";
import { Cloths } from "./cloths.js";
import { clothBar } from "./clothbar.js";
import { button, make } from "./dom.js";
import { FabricList } from "./fabriclist.js";
import { Wardrobe } from "./wardrobe.js";
import { Ways } from "./colourways.js";

export const KEYS = [
  ["Arrows", "on the drawing: to the next patch"],
  ["Enter", "paint the patch with the fabric held"],
  ["1 to 9", "hold one of the block's fabrics, 0 for none"],
  ["T", "take the fabric of the next patch"],
  ["V", "values in grey, on and off; held down, only while held"],
];

const UNREAD = ["unreadable", "unproven"];
const HELD_MS = 400; // a key down for longer is held, not pressed

export function mount(app, inside) {
  const wardrobe = app.wardrobe = new Wardrobe(app);
  const held = make("p", { class: "cloth-held" });
  const over = make("p", { class: "over", hidden: true }); // what lies under the pointer
  const aloud = make("p", { class: "unseen", role: "status" });
  const pick = button("Take from a patch", () => wardrobe.pick(!wardrobe.picking), { "aria-pressed": "false" });
  const unread = make("p", { class: "quiet", hidden: true }); // what the greys cannot show
  const greys = button("Values in grey", () => wardrobe.turn(!wardrobe.grey), { "aria-pressed": "false" });

  function told(patch) {
    over.hidden = !patch;
    over.textContent = patch ? cloths.called(patch) : "";
  }
  told.aloud = (sentence) => { aloud.textContent = sentence; };
  const ways = new Ways(app, wardrobe);
  const list = new FabricList(app, wardrobe);
  const alike = new Alike(app, wardrobe);
  const cloths = new Cloths(app, wardrobe, told);

  const state = make("div", { class: "colour-state" });
  const work = make("div", { class: "colour-work" }, held, make("div", { class: "row" }, pick, greys), unread, ways.pictures.element, list.element, ways.head, alike.element, ways.element);
  inside.append(aloud, state, work);
  app.chart.svg.after(over);
  document.getElementById("tools").after(clothBar(app, wardrobe));

  function show() {
    pick.setAttribute("aria-pressed", String(wardrobe.picking));
    greys.setAttribute("aria-pressed", String(wardrobe.grey));
    pick.disabled = greys.disabled = !wardrobe.ready;
    const fabric = wardrobe.held ? { name: wardrobe.held } : null;
    held.textContent = saying(wardrobe, fabric);
    held.hidden = !held.textContent;
    const unknown = wardrobe.grey ? wardrobe.fabrics.filter((one) => one.patches && !one.reads).map((one) => one.name) : [];
    unread.hidden = !unknown.length;
    unread.textContent = `White says nothing of ${unknown.join(", ")}: no colour and no value yet. Press "Change" beside ${unknown.length > 1 ? "each" : "it"}.`;
    work.hidden = !wardrobe.now || UNREAD.includes(wardrobe.now.state);
    state.replaceChildren(...stateOf(app, wardrobe));
  }
  for (const what of ["told", "held", "grey", "pick"]) wardrobe.addEventListener(what, show);
  app.events.addEventListener("work", () => told(null));
  told(null);
  show();
  keys(app, wardrobe);
}

function saying(wardrobe, fabric) {
  if (!wardrobe.ready) return "";
  if (wardrobe.picking) return "Click a patch to take its fabric.";
  if (wardrobe.way) return fabric ? `Held: ${fabric.name}. Click a patch: in ${wardrobe.way} its fabric becomes ${fabric.name}.` : `Click a patch: its fabric stays as it is in ${wardrobe.way}.`;
  return fabric ? `Held: ${fabric.name}. Click a patch to paint it, drag over several.` : "Click a patch to take its fabric off.";
}

function stateOf(app, wardrobe) {
  if (wardrobe.trouble) return [make("p", { role: "alert" }, wardrobe.trouble), button("Ask again", () => wardrobe.look())];
  if (!app.desk.name) return [make("p", { class: "quiet" }, "No block lies on the table yet.")];
  if (!wardrobe.now) return [make("p", { class: "quiet" }, "Looking at the patches …")];
  return wardrobe.ready ? [] : [make("p", {}, wardrobe.now.sentence)];
}

function keys(app, wardrobe) {
  let since = 0;
  const typing = (event) => event.target.closest("input:not([type='radio']), select, textarea, dialog") || event.ctrlKey || event.metaKey || event.altKey;
  document.addEventListener("keydown", (event) => {
    if (!wardrobe.open || !wardrobe.ready || event.defaultPrevented || typing(event)) return;
    const key = event.key.toLowerCase();
    if (key === "v") {
      if (event.repeat) return;
      since = event.timeStamp;
      wardrobe.turn(!wardrobe.grey);
    } else if (key === "t") wardrobe.pick(!wardrobe.picking);
    else if (key === "escape" && wardrobe.picking) wardrobe.pick(false);
    else if (key === "0") wardrobe.hold("");
    else if (/^[1-9]$/.test(key) && wardrobe.fabrics[key - 1]) wardrobe.hold(wardrobe.fabrics[key - 1].name);
    else return;
    event.preventDefault();
  });
  document.addEventListener("keyup", (event) => {
    if (event.key.toLowerCase() !== "v" || !since) return;
    if (event.timeStamp - since > HELD_MS && wardrobe.open) wardrobe.turn(!wardrobe.grey);
    since = 0;
  });
}
