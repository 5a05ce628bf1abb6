// Quilt: a block set in a quilt; the quilt's blocks turned and set, what it comes to, what is printed of it.
//
// Knows:  what stands in the side column for a block and for a quilt, and what follows a change.
// Leaves: the stage (quiltsheet.js), the tools over it (quilttools.js), fields (quiltblocks.js, quiltsetting.js), counts
//         and files (quiltfacts.js), turnings (quiltturnings.js).

import { ask } from "./ask.js";
import { button, labelled, make } from "./dom.js";
import { blocksOf, gridOf } from "./quiltblocks.js";
import { factsOf, filesOf } from "./quiltfacts.js";
import { QuiltPicture } from "./quiltpicture.js";
import { QuiltSheet } from "./quiltsheet.js";
import { nameOf, settingOf } from "./quiltsetting.js";
import { QuiltTools } from "./quilttools.js";
import { chooseTurning } from "./quiltturnings.js";

export const KEYS = [
  ["Arrow keys", "go from place to place"],
  ["R, Shift R", "rotate what is selected a quarter, or back"],
  ["M", "reverse it, as in a mirror"],
  ["Enter", "put the chosen block there"],
  ["Space, Shift arrows", "select places"],
  ["Ctrl A, Escape", "select all, none"],
  ["V", "values in grey, on and off"],
];

export function mount(app, inside) {
  const { desk } = app;
  const stage = document.getElementById("sheet");
  const quilt = {
    app,
    picture: new QuiltPicture(desk),
    sheet: new QuiltSheet(stage),
    // Does edits of the quilt's text (quilt/edits.py); a refusal is said. True if they were done.
    change: (...edits) => desk.change(edits).then(() => true, (refusal) => {
      if (refusal.status) app.say(refusal.message); // that nobody answers is said at the top
      quilt.sheet.showUnchanged();
      desk.dispatchEvent(new Event("change")); // fields are as before again
      return false;
    }),
  };
  const faults = make("div", { hidden: true });
  const tools = quilt.tools = new QuiltTools(quilt);
  stage.before(tools.element);

  const notes = make("ul", { class: "lines quiet", hidden: true });
  const forBlock = make("div", { class: "part" });
  const forQuilt = make("div", { class: "part", hidden: true },
    quilt.sheet.said, notes, nameOf(quilt),
    button("Turnings to choose from", () => chooseTurning(quilt), { class: "first" }),
    blocksOf(quilt), gridOf(quilt), ...settingOf(quilt), factsOf(quilt), filesOf(quilt));
  inside.append(forBlock, forQuilt, faults);
  showBlock(app, forBlock);

  // A text that cannot be read is not changed from here: what is wrong with it is listed instead.
  function showFaults() {
    const wrong = isQuilt() ? desk.view?.faults ?? [] : [];
    faults.hidden = !wrong.length;
    forQuilt.hidden = tools.element.hidden = quilt.sheet.element.hidden = !isQuilt() || wrong.length > 0;
    faults.replaceChildren(...(wrong.length ? [make("p", {}, "Mend these lines of the file with a text editor, then open the quilt again:"),
      make("ul", { class: "lines" }, ...wrong.map((words) => make("li", {}, words)))] : []));
  }
  const isQuilt = () => desk.kind === "quilt";
  desk.addEventListener("open", () => {
    showFaults();
    forBlock.hidden = isQuilt();
    if (isQuilt()) {
      quilt.sheet.clear();
      quilt.picture.forget();
    }
  });
  desk.addEventListener("change", () => {
    if (!isQuilt()) return;
    if (quilt.picture.now?.name === desk.name) showSentence(app.verdict.place, quilt.picture.now);
    quilt.sheet.tell(desk.view);
    showFaults();
    quilt.picture.look();
  });
  quilt.picture.addEventListener("asking", () => { if (isQuilt()) stage.setAttribute("aria-busy", String(quilt.picture.asking)); });
  quilt.picture.addEventListener("sewable", () => showSentence(app.verdict.place, quilt.picture.now));
  quilt.picture.addEventListener("picture", () => {
    const found = quilt.picture.now;
    if (!isQuilt()) return;
    showSentence(app.verdict.place, found);
    notes.replaceChildren(...(found.notes ?? []).map((words) => make("li", {}, words)));
    notes.hidden = !found.notes?.length;
    if (found.address) quilt.sheet.show(found, desk.view);
    else quilt.sheet.showNone(found);
  });
}

function showSentence(place, found) {
  const stuck = found.stuck ?? [];
  place.className = stuck.length ? "cannot" : found.state;
  place.replaceChildren(
    make("p", { class: "said" }, stuck.length ? stuck.join(" ") : found.sentence),
    stuck.length ? make("p", {}, found.sentence) : "",
    found.state === "can" ? make("p", { class: "proven quiet" },
      `Proven: its pieces lie side by side without gap or overlap${found.stuck?.length === 0 ? "; every block can be sewn" : ""}.`) : "");
}

function showBlock(app, holder) {
  const across = make("input", { type: "number", min: 1, max: 100, value: 4 });
  const down = make("input", { type: "number", min: 1, max: 100, value: 4 });
  const quilts = make("div", {});
  holder.append(
    make("p", {}, "Set this block in a quilt of its own: turn it many ways, add sashing and borders, count fabric."),
    make("div", { class: "row" }, labelled("Blocks across", across), labelled("Blocks down", down)),
    button("Set this block in a quilt", async () => {
      if (app.desk.view?.strokes?.length === 0) return app.say("Nothing is drawn yet: a block has at least one seam. Draw it first, then set it in a quilt.");
      await app.desk.write();
      const asked = { block: app.desk.name, across: Number(across.value), down: Number(down.value) };
      try {
        const made = await ask("POST", "quilt/new", asked);
        await app.desk.create(made.name, made.text);
      } catch (refusal) {
        app.say(refusal.message);
      }
    }, { class: "first" }),
    quilts,
  );

  async function listQuilts() {
    if (app.work !== "quilt" || app.desk.kind === "quilt") return;
    const list = await ask("GET", "designs").catch(() => []);
    const names = list.filter(({ kind }) => kind === "quilt").map(({ name }) => name);
    quilts.replaceChildren(...(names.length ? [make("h3", {}, "Or go on with a quilt"), make("div", { class: "quilts" },
      ...names.map((name) => button(name.replace(/\.setting$/, ""), () => app.desk.open(name).catch((refusal) => app.say(refusal.message)))))] : []));
  }
  app.events.addEventListener("work", listQuilts);
  app.desk.addEventListener("open", listQuilts);
}
