// The blocks of a quilt, and its rows and columns.
//
// Knows:  what can be done to them by words and numbers. Leaves: clicks and keys (quilttools.js).

import { ask } from "./ask.js";
import { make } from "./dom.js";
import { count, does, group, line, row, select, words } from "./quiltfields.js";
import { keyOf } from "./quiltplaces.js";

export function blocksOf(quilt) {
  const { app, change } = quilt;
  const made = group("Blocks", true);
  let others = [];

  async function lookForOthers() {
    const list = await ask("GET", "designs").catch(() => []);
    others = list.filter(({ kind }) => kind === "block" || kind === "drawing").map(({ name }) => name);
    show();
  }

  function show() {
    const { view } = app.desk;
    if (app.desk.kind !== "quilt" || !view?.blocks) return;
    const here = new Set(view.blocks.map(({ file }) => file));
    const rest = others.filter((name) => !here.has(name));
    made.show(
      ...view.blocks.map((block, k) => make("div", { class: "quilt-block" },
        make("strong", {}, block.name),
        others.length && !others.includes(block.file) ? missing(block, k) : null,
        row(
          words("Finished size", `quilt-size-${k}`, block.size, (size) => change({ do: "block", name: block.name, size }), { size: 9, placeholder: "its own" }),
          does("Open", `quilt-open-${k}`, () => openBlock(block.file), { "aria-label": `Open block ${block.name}` }),
          block.used ? null : does("Take out", `quilt-out-${k}`, () => change({ do: "drop block", name: block.name }), { "aria-label": `Take ${block.name} out` })),
      )),
      rest.length ? addition(rest, view) : line("No other block lies in the folder."),
    );
  }

  function missing(block, k) {
    let chosen = others[0];
    return make("div", {}, line(`There is no ${block.file} in the folder.`), row(
      select("Take in its place", `quilt-instead-${k}`, others.map((name) => [name, name.replace(/\.\w+$/, "")]), chosen, (name) => { chosen = name; }),
      does("Take it", `quilt-take-${k}`, () => change({ do: "block", name: block.name, file: chosen, size: block.size }))));
  }

  function addition(rest, view) {
    let chosen = rest[0];
    return row(
      select("Another block", "quilt-other", rest.map((name) => [name, name.replace(/\.\w+$/, "")]), chosen, (name) => { chosen = name; }),
      does("Add", "quilt-add", () => {
        const stem = chosen.replace(/\.\w+$/, ""), taken = new Set(view.blocks.map(({ name }) => name.toLowerCase()));
        let name = stem;
        for (let k = 2; taken.has(name.toLowerCase()); k++) name = `${stem} ${k}`;
        change({ do: "block", name, file: chosen }).then((done) => done && quilt.tools.hold(`block\n${name}`));
      }));
  }

  const openBlock = (file) => app.desk.open(file).catch((refusal) => app.say(refusal.message));
  app.desk.addEventListener("open", () => { if (app.desk.kind === "quilt") lookForOthers(); });
  app.desk.addEventListener("change", show);
  return made.element;
}

export function gridOf(quilt) {
  const { app, change, sheet } = quilt;
  const made = group("Rows and columns", true);

  function show() {
    const { view } = app.desk, now = quilt.picture.now;
    if (app.desk.kind !== "quilt" || !view?.rows?.length) return made.show();
    const across = now?.across ?? view.across, down = now?.down ?? view.down;
    const repeats = view.repeat[0] * view.repeat[1] > 1 || view.fitted;
    const grid = (wanted) => change({ do: "grid", across, down, loose: !repeats, ...wanted });
    const at = sheet.at;
    made.show(
      row(
        count("Across", "quilt-across", across, 100, (n) => grid({ across: n })),
        count(view.on_point ? "Down, long rows" : "Down", "quilt-down", down, 100, (n) => grid({ down: n }))),
      repeats ? line(`${view.stated[1]} x ${view.stated[0]} blocks are repeated: what you change in one place changes in all its repeats.`) : null,
      repeats ? does("Change each place alone", "quilt-loose", () => grid({ loose: true })) : null,
      at ? row(
        does("Select its row", "quilt-row", () => sheet.select(sheet.places.filter(([r]) => r === at[0]))),
        does("Select its column", "quilt-column", () => sheet.select(sheet.places.filter(([, c]) => c === at[1])))) : line("Click a place for its row and column."),
      at ? row(
        does("Add a row like it", "quilt-row-more", () => change({ do: "add", way: "row", at: at[0] })),
        does("Take the row away", "quilt-row-less", () => change({ do: "drop", way: "row", at: at[0] }))) : null,
      at ? row(
        does("Add a column like it", "quilt-column-more", () => change({ do: "add", way: "column", at: at[1] })),
        does("Take the column away", "quilt-column-less", () => change({ do: "drop", way: "column", at: at[1] }))) : null,
      does("Repeat what is selected over all", "quilt-repeat", () => repeat(view, across, down), { disabled: !boxOf(sheet.selected) }),
    );
  }

  // What is selected, if it is a whole rectangle of places, as the pattern of the quilt.
  function repeat(view, across, down) {
    const box = boxOf(sheet.selected);
    const laid = ([r, c]) => view.rows[r % view.rows.length][c % view.rows[r % view.rows.length].length];
    change({ do: "pattern", rows: box.map((places) => places.map(laid)), across, down });
  }

  app.desk.addEventListener("change", show);
  quilt.picture.addEventListener("picture", show);
  sheet.addEventListener("select", show);
  sheet.addEventListener("at", show);
  return made.element;
}

// Selected places as rows of a rectangle; null if they are none.
function boxOf(selected) {
  if (selected.size < 1) return null;
  const places = [...selected.values()];
  const rows = places.map(([r]) => r), columns = places.map(([, c]) => c);
  const [top, bottom, left, right] = [Math.min(...rows), Math.max(...rows), Math.min(...columns), Math.max(...columns)];
  if ((bottom - top + 1) * (right - left + 1) !== selected.size) return null;
  const box = [];
  for (let r = top; r <= bottom; r++) {
    box.push([]);
    for (let c = left; c <= right; c++) {
      if (!selected.has(keyOf([r, c]))) return null;
      box.at(-1).push([r, c]);
    }
  }
  return box;
}
