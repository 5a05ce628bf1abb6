// The list of her designs: opened, made new, renamed, copied, taken away and brought back.
//
// Knows:  the dialog. Leaves: files (the server), the design on the table (desk.js), bringing in (bring.js).

import { ask } from "./ask.js";
import { bringFromFolder, chooseFile } from "./bring.js";
import { askIn, button, labelled, make } from "./dom.js";
import { picture } from "./looks-small.js";
import { saidOn, showVersions } from "./versions.js";

const KINDS = { block: "block", drawing: "drawing", quilt: "quilt", palette: "palette" };
const at = (name, ...rest) => ["designs", name, ...rest].map(encodeURIComponent).join("/");
const parted = (name) => [name.replace(/\.\w+$/, ""), /\.\w+$/.exec(name)?.[0] ?? ""];

// Opens the list; what is done in it is done when it closes.
export async function showDesigns(app) {
  await app.begun;
  const [list, away, folder] = await Promise.all([ask("GET", "designs"), ask("GET", "away"), ask("GET", "folder")]);
  const dialog = make("dialog", { id: "designs", "aria-labelledby": "designs-title" });
  const status = make("p", { role: "status", class: "said" });
  const rows = make("ul", { class: "designs" });
  const show = (designs) => rows.replaceChildren(...designs.map((design) => row(app, dialog, design, again)));
  async function again(sentence = "") {
    show(await ask("GET", "designs"));
    status.textContent = sentence;
  }
  dialog.append(
    make("div", { class: "row apart" }, make("h2", { id: "designs-title" }, "Designs"), button("Close", () => dialog.close(""))),
    make("p", { class: "quiet" }, `Ordinary files in ${folder.path}`),
    newBlock(app, dialog),
    make("div", { class: "row middle" },
      button("Bring in a file", () => { dialog.close(""); chooseFile(app); }),
      make("span", { class: "quiet" }, "an SVG drawing, a block, a quilt or a palette; or drop it on the page")),
    status, rows,
    ...(away.length ? [takenAway(app, dialog, away)] : []),
  );
  show(list);
  const chosen = await askIn(dialog);
  if (chosen) await openDesign(app, chosen).catch((refusal) => app.say(refusal.message));
}

// Opens a design; a drawing by its copy.
export async function openDesign(app, name) {
  if (name.toLowerCase().endsWith(".svg")) {
    await bringFromFolder(app, name);
  } else await app.desk.open(name);
}

// The fields for a new block.
function newBlock(app, dialog) {
  const name = make("input", { type: "text", maxlength: 90, autocomplete: "off" });
  const size = make("input", { type: "text", value: "6 in", size: 8 });
  const grid = make("input", { type: "number", min: 1, max: 100, value: 6 });
  const said = make("p", { role: "alert", class: "said" });
  const form = make("form", { class: "row", onsubmit: async (event) => {
    event.preventDefault();
    try {
      const made = await ask("POST", "new", { name: name.value, size: size.value, grid: Number(grid.value) });
      dialog.close("");
      await app.desk.begin(made.text, made.name);
      app.open("draw");
    } catch (refusal) { said.textContent = refusal.message; }
  } }, labelled("Name of a new block", name), labelled("Finished size", size), labelled("Grid, squares across", grid),
  make("button", { type: "submit", class: "first" }, "Draw a new block"));
  return make("div", {}, form, said);
}

function row(app, dialog, design, again) {
  const { name } = design;
  const [stem, ending] = parted(name);
  const facts = [KINDS[design.kind], design.size, `changed ${saidOn(design.changed)}`].filter(Boolean).join(" · ");
  const here = name === app.desk.name;
  const tried = (work) => async () => {
    try { await work(); } catch (refusal) { await again(refusal.message); }
  };
  const rename = make("form", { class: "row", hidden: true });
  const to = make("input", { type: "text", value: stem, maxlength: 90 });
  rename.append(labelled(`New name of ${stem}`, to), make("button", { type: "submit" }, "Rename it"));
  rename.addEventListener("submit", async (event) => {
    event.preventDefault();
    await tried(async () => {
      const answer = here ? await app.desk.rename(to.value.trim())
        : await ask("POST", at(name, "rename"), { to: to.value.trim() + ending });
      await again(`${name} is called ${answer.name} now.${naming(answer.named_in, name)}`);
    })();
  });
  const can = design.kind !== "palette";
  const open = make("button", { type: "button", class: "open", disabled: !can, onclick: () => dialog.close(name) },
    picture(name),
    make("span", { class: "about" }, make("strong", {}, design.title, here ? " (open now)" : ""),
      make("span", { class: "quiet" }, `${name} · ${facts}`),
      design.copy ? make("span", { class: "quiet" }, `Its copy to draw on: ${design.copy}`) : null));
  open.setAttribute("aria-label", can ? `Open ${design.title}, ${name}, ${facts}` : `${design.title}, ${name}, ${facts}`);
  const drawing = design.kind === "drawing";
  return make("li", {}, open,
    make("div", { class: "row do" },
      button("Rename", () => { rename.hidden = !rename.hidden; if (!rename.hidden) to.focus(); }, { class: "plain", "aria-label": `Rename ${name}` }),
      drawing ? null : button("Copy", tried(async () => {
        const { text } = await ask("GET", at(name));
        const made = await ask("POST", "designs", { words: stem, ending, text, of: name });
        await again(`${made.name} is a copy of ${name}.`);
      }), { class: "plain", "aria-label": `Copy ${name}` }),
      drawing ? null : button("Versions", () => { dialog.close(""); showVersions(app, name); }, { class: "plain", "aria-label": `Versions of ${name}` }),
      here ? null : button("Take away", tried(async () => {
        const answer = await ask("DELETE", at(name));
        await again(`${name} is taken away. It can be brought back from the end of this list.${naming(answer.named_in, name)}`);
      }), { class: "plain", "aria-label": `Take away ${name}` })),
    rename);
}

const naming = (quilts, name) => quilts.length ? ` ${quilts.join(", ")} still ${quilts.length > 1 ? "name" : "names"} ${name}.` : "";

function takenAway(app, dialog, away) {
  return make("details", {}, make("summary", {}, "Taken away"),
    make("ul", {}, ...away.map(({ name, at: when }) => make("li", { class: "row" }, `${name}, ${saidOn(when)}`,
      button("Bring back", async () => {
        try { dialog.close((await ask("POST", `away/${encodeURIComponent(name)}`)).name); } catch (refusal) { app.say(refusal.message); }
      }, { "aria-label": `Bring back ${name}` })))));
}
