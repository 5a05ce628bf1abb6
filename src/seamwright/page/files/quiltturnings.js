// Turnings of one or two blocks as small pictures: the one chosen is laid over the whole quilt.
//
// Knows:  what is asked for, more of them at a time. Leaves: finding them (page/quiltturnings.py).

import { ask } from "./ask.js";
import { askIn, button, choice, labelled, make, pictured } from "./dom.js";

export function chooseTurning(quilt) {
  const { app, picture } = quilt, { desk } = app, { view } = desk;
  const ways = blocksWithWays(view, picture.now?.ways ?? {});
  const wanted = { first: ways[0].value, second: "", reversed_too: false, side: 2 };
  const sheet = make("div", { class: "turnings" }), said = make("div", { class: "said", role: "status" });
  const more = button("Show more", () => look(true), { hidden: true });
  const addresses = [];
  let shown = 0, asking = null;

  const asks = () => ({ name: desk.name, text: desk.text, reversed_too: wanted.reversed_too, side: wanted.side,
    blocks: [wanted.first, wanted.second].filter(Boolean).map((value) => ways.find((way) => way.value === value).block) });

  async function look(onwards = false) {
    asking?.abort();
    asking = new AbortController();
    const { signal } = asking;
    if (!onwards) { shown = 0; sheet.replaceChildren(); }
    said.replaceChildren(make("p", {}, "Looking for turnings …"));
    try {
      const found = await ask("POST", "quilt/turnings", { ...asks(), first: shown + 1 }, signal);
      sheet.append(...found.layouts.map(one));
      shown += found.layouts.length;
      const [first, ...others] = found.sentences;
      const how = found.count < 2 ? "" : shown < found.count ? ` The first ${shown} are shown.` : " All are shown.";
      said.replaceChildren(make("p", {}, first + how),
        others.length ? make("details", {}, make("summary", {}, "How they are counted and ordered"), ...others.map((words) => make("p", { class: "quiet" }, words))) : "");
      more.hidden = shown >= found.count;
    } catch (refusal) {
      if (refusal.name === "AbortError") return;
      more.hidden = true;
      said.replaceChildren(make("p", { class: "fault" }, refusal.message));
    }
  }

  function one(layout) {
    const address = pictured(layout.svg);
    addresses.push(address);
    return make("button", { type: "button", class: "turning", onclick: () => take(layout) },
      make("img", { src: address, alt: "" }), make("span", {}, `Layout ${layout.number}: ${layout.caption}`));
  }

  function take(layout) {
    const now = picture.now;
    quilt.change({ do: "pattern", rows: layout.rows, across: now?.across ?? 0, down: now?.down ?? 0 });
    dialog.close();
  }

  const set = (key) => (value) => { wanted[key] = value; look(); };
  const both = make("input", { type: "checkbox", onchange: () => set("reversed_too")(both.checked) });
  const dialog = make("dialog", { class: "wide", "aria-label": "Turnings to choose from" },
    make("h2", {}, "Turnings to choose from"),
    make("p", {}, "Press one: its pattern is laid over the whole quilt. Undo takes it back."),
    make("div", { class: "row" },
      labelled("Block", choice(ways.map(({ value, words }) => [value, words]), wanted.first, set("first"))),
      labelled("With a second block", choice([["", "none"], ...ways.map(({ value, words }) => [value, words])], "", set("second"))),
      labelled("Pattern of", choice([["2", "2 x 2 blocks, all there are"], ["4", "4 x 4 blocks, by rules"]], "2", (value) => set("side")(Number(value)))),
      make("label", { class: "tick" }, both, make("span", {}, "Reversed blocks too"))),
    said, sheet,
    make("div", { class: "row" }, more, button("Close", () => dialog.close())));
  look();
  return askIn(dialog).then(() => {
    asking?.abort();
    addresses.forEach((address) => URL.revokeObjectURL(address));
  });
}

function blocksWithWays(view, known) {
  return view.blocks.flatMap(({ name }) => [
    { value: `${name}\n`, words: name, block: { name, colourway: "" } },
    ...(known[name] ?? []).map((way) => ({ value: `${name}\n${way}`, words: `${name} in ${way}`, block: { name, colourway: way } })),
  ]);
}
