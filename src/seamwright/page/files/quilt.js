// Quilt: a block set in a quilt; the quilt's blocks turned and set, what it comes to, what is printed of it.
//
// Knows:  what stands in the side column for a block and for a quilt, and what follows a change.
// Leaves: the stage (quiltsheet.js), the tools over it (quilttools.js), fields (quiltfields.js).

import { ask } from "./ask.js";
import { button, labelled, make } from "./dom.js";
import { QuiltPicture } from "./quiltpicture.js";
import { QuiltSheet } from "./quiltsheet.js";
import { QuiltTools } from "./quilttools.js";

export const KEYS = [
  ["Arrow keys", "go from place to place"],
  ["R, Shift R", "rotate what is selected a quarter, or back"],
  ["M", "reverse it, as in a mirror"],
  ["Enter", "put the chosen block there"],
  ["Space, Shift arrows", "select places"],
  ["Ctrl A, Escape", "select all, none"],
];

export function mount(app, inside) {
  const { desk } = app;
  const stage = document.getElementById("sheet");
  const quilt = {
    app,
    picture: new QuiltPicture(desk),
    sheet: new QuiltSheet(stage),
    // Does edits of the quilt's text (quilt/edits.py); a refusal is said.
    change: (...edits) => desk.change(edits).catch((refusal) => {
      app.say(refusal.message);
      quilt.picture.look(); // what was shown too early goes
    }),
  };
  const tools = new QuiltTools(quilt);
  stage.before(tools.element);

  const forBlock = make("div", { class: "part" });
  const forQuilt = make("div", { class: "part" }, quilt.sheet.said);
  inside.append(forBlock, forQuilt);
  showBlock(app, forBlock);

  const isQuilt = () => desk.kind === "quilt";
  desk.addEventListener("open", () => {
    for (const element of [quilt.sheet.element, tools.element, forQuilt]) element.hidden = !isQuilt();
    forBlock.hidden = isQuilt();
    if (isQuilt()) {
      quilt.sheet.at = null;
      quilt.sheet.select([]);
    }
  });
  desk.addEventListener("change", () => { if (isQuilt()) quilt.picture.look(); });
  quilt.picture.addEventListener("picture", () => {
    const found = quilt.picture.now;
    if (!isQuilt()) return;
    showSentence(app.verdict.place, found);
    if (found.address) quilt.sheet.show(found, desk.view);
  });
}

function showSentence(place, found) {
  place.className = found.state;
  place.replaceChildren(make("p", { class: "said" }, found.sentence));
}

function showBlock(app, holder) {
  const across = make("input", { type: "number", min: 1, max: 100, value: 4 });
  const down = make("input", { type: "number", min: 1, max: 100, value: 4 });
  holder.append(
    make("p", {}, "Set this block in a quilt of its own: turn it many ways, add sashing and borders, count fabric."),
    make("div", { class: "row" }, labelled("Blocks across", across), labelled("Blocks down", down)),
    button("Set this block in a quilt", async () => {
      const asked = { block: app.desk.name, across: Number(across.value), down: Number(down.value) };
      const made = await ask("POST", "quilt/new", asked);
      await app.desk.create(made.name, made.text);
    }, { class: "first" }),
  );
}
