// Files brought in: chosen, dropped anywhere on the page, or lying in the folder; and what was tidied in them.
//
// Knows:  how a file's bytes go to the server, the list of what was tidied, the rings round its places.
// Leaves: reading and tidying (the server), the drawing (chart.js).

import { ask } from "./ask.js";
import { shape } from "./chart.js";
import { button, make } from "./dom.js";

const ENDINGS = ".svg,.seams,.setting,.palette";
const MOST_BYTES = 20_000_000;

export function mountBringing(app) {
  const over = make("div", { id: "drop-here", hidden: true }, make("p", {}, "Drop it here to bring it in"));
  document.body.append(over);
  const files = (event) => event.dataTransfer?.types.includes("Files");
  addEventListener("dragover", (event) => {
    if (!files(event)) return;
    event.preventDefault();
    over.hidden = false;
  });
  addEventListener("dragleave", (event) => { if (!event.relatedTarget) over.hidden = true; });
  addEventListener("drop", (event) => {
    if (!files(event)) return;
    event.preventDefault();
    over.hidden = true;
    const [file, ...more] = event.dataTransfer.files;
    if (more.length) app.say(`Only ${file.name} is brought in: one file at a time.`);
    if (file) app.begun.then(() => bring(app, file));
  });
  app.desk.addEventListener("open", () => clear(app));
  app.desk.addEventListener("change", () => clearTidied(app)); // its places may have moved
}

// Asks for a file and brings it in.
export function chooseFile(app) {
  const input = make("input", { type: "file", accept: ENDINGS, hidden: true, "aria-label": "File to bring in" });
  input.addEventListener("change", () => { if (input.files[0]) bring(app, input.files[0]); input.remove(); });
  document.body.append(input);
  input.click();
}

async function bring(app, file) {
  if (file.size > MOST_BYTES) {
    app.say(`${file.name} is larger than 20 MB. Export the block alone from your drawing program.`);
    return;
  }
  const bytes = new Uint8Array(await file.arrayBuffer());
  let binary = "";
  for (let k = 0; k < bytes.length; k += 0x8000) binary += String.fromCharCode(...bytes.subarray(k, k + 0x8000));
  await brought(app, { name: file.name, data: btoa(binary) });
}

// A drawing that lies in the folder is opened by its copy.
export const bringFromFolder = (app, name) => brought(app, { name });

async function brought(app, asked) {
  app.say(`Reading ${asked.name} …`);
  let found;
  try {
    found = await ask("POST", "bring", asked);
    if (found.name.endsWith(".palette")) { app.say(`${found.name} lies in the folder now. Colour can use it.`); return; }
    await app.desk.open(found.name);
  } catch (refusal) {
    refused(app, asked, refusal);
    return;
  }
  if (found.again) app.say(`${asked.name} was brought in before: this is its copy, ${found.name}, as you left it.`);
  else if (show(app, asked, found)) {
    app.hush();
    app.hand.tell(`${asked.name} stays as it is; in Draw stands how its copy, ${found.name}, came in.`);
  }
  else app.say(`${asked.name} stays as it is. This is its copy, ${found.name}.`);
}

// A file that cannot be read is answered with all that is wrong in it; a size that is missing is asked for.
function refused(app, asked, refusal) {
  clear(app);
  app.hush();
  const told = refusal.faults.length ? refusal.faults.map((fault) => fault.text) : [refusal.message];
  const panel = make("section", { id: "brought", class: "refused", "aria-label": "What cannot be read" },
    make("h3", {}, `${asked.name} cannot be brought in`),
    make("ul", {}, ...told.slice(0, 12).map((text) => make("li", {}, text))),
    told.length > 12 ? make("p", {}, `And ${told.length - 12} more.`) : null);
  if (refusal.code === "size") {
    const size = make("input", { type: "text", value: "8 in", size: 8 });
    panel.append(make("form", { class: "row", onsubmit: (event) => { event.preventDefault(); brought(app, { ...asked, size: size.value }); } },
      make("label", {}, make("span", {}, "Finished width"), size), make("button", { type: "submit", class: "first" }, "Bring it in at this size")));
  }
  panel.append(button("Put this away", () => clear(app), { class: "plain" }));
  document.getElementById("sheet").before(panel);
}

// What was tidied stands in a list until she puts it away or draws on; each line of it has its ring on the drawing.
function show(app, asked, { name, notes, unfinished }) {
  clear(app);
  if (!notes.length && !unfinished.length) return false;
  const { chart } = app;
  const rings = shape("g", { class: "tidied" });
  const lines = notes.map((note, k) => {
    const mark = note.places_in.length ? String(k + 1) : "";
    for (const at of note.places_in) rings.append(chart.still(at, shape("circle", { r: 11 }), word(mark)));
    return make("li", {}, mark ? make("span", { class: "ring" }, mark) : null, mark ? " " : "", note.text); // read aloud they are two numbers
  });
  chart.svg.append(rings);
  chart.hold(rings);
  // At the head of Draw, where the drawing does not move when it goes.
  app.open("draw");
  document.querySelector('#work section[data-work="draw"] .in').prepend(make("section", { id: "brought", "aria-label": "What was tidied" },
    make("h3", {}, lines.length ? `${asked.name} stays as it is; in its copy, ${name}, this was tidied` : `${asked.name} stays as it is; this is its copy, ${name}`),
    lines.length ? make("ul", {}, ...lines) : null,
    unfinished.length ? make("p", {}, "Not finished yet: lines that end in the open came in as they are. Draw them on.") : null,
    button("Put this away", () => clear(app), { class: "plain" })));
  return true;
}

function word(text) {
  const made = shape("text", { x: 15, y: 5 });
  made.textContent = text;
  return made;
}

function clearTidied(app) { if (!document.querySelector("#brought.refused")) clear(app); }

function clear(app) {
  document.getElementById("brought")?.remove();
  app.chart.svg.querySelector(".tidied")?.remove();
}
