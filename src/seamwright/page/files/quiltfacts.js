// What a quilt comes to, counted when asked for; and the files of the whole quilt.
//
// Knows:  that counts belong to a text, and say so when it has changed. Leaves: counting (page/quiltwork.py).

import { ask } from "./ask.js";
import { button, chip, make } from "./dom.js";
import { maker } from "./download.js";
import { choices, fieldsOf } from "./fields.js";
import { group } from "./quiltfields.js";

const FILES = [
  ["foundations", "pdf", "All foundations"],
  ["cutting", "pdf", "Cutting list"],
  ["cutting", "csv", "Cutting list for a spreadsheet"],
  ["booklet", "pdf", "Booklet of the quilt"],
  ["picture", "pdf", "Pictures, a page each"],
  ["picture", "png", "Pictures on one sheet"],
];
const OFFERED = ["paper", "allowance", "rotary"];

export function factsOf(quilt) {
  const { desk } = quilt.app;
  const made = group("Fabric, prints and advice");
  const told = make("div", { class: "told", "aria-live": "polite" });
  let counted = null, asking = null;

  const press = button("Count fabric and prints", count, { class: "first" });
  made.show(press, told);

  async function count() {
    asking?.abort();
    asking = new AbortController();
    const { name, text } = desk, { signal } = asking;
    press.disabled = true;
    told.replaceChildren(make("p", {}, "Planning every block and counting fabric …"), button("Stop", () => asking.abort()));
    try {
      const found = await ask("POST", "quilt/facts", { name, text }, signal);
      counted = { name, text };
      told.replaceChildren(...factsTold(found));
    } catch (refusal) {
      if (refusal.name === "AbortError") told.replaceChildren(make("p", {}, "Stopped."));
      else told.replaceChildren(make("p", { class: "fault" }, refusal.message));
    }
    press.disabled = false;
    show();
  }

  function show() {
    if (desk.kind !== "quilt") return;
    if (counted?.name !== desk.name) {
      if (counted) told.replaceChildren();
      counted = null;
    }
    const old = counted !== null && counted.text !== desk.text;
    told.classList.toggle("old", old);
    press.textContent = old ? "Count again: the quilt has changed" : "Count fabric and prints";
  }

  desk.addEventListener("open", show);
  desk.addEventListener("change", show);
  return made.element;
}

function factsTold(found) {
  const bought = make("table", {},
    make("caption", {}, `To buy, ${found.spare} to spare in it`),
    make("thead", {}, make("tr", {}, make("th", { scope: "col" }, "Fabric"), make("th", { scope: "col", class: "figure" }, "Buy"))),
    make("tbody", {}, ...found.fabrics.map(([name, colour, amount]) => make("tr", {},
      make("td", {}, chip(colour), ` ${name}`), make("td", { class: "figure" }, amount)))));
  return [
    make("p", { class: "size" }, found.sentence),
    bought,
    list(found.edges),
    ...found.parts.flatMap(([title, lines]) => [make("h3", {}, title), list(lines)]),
    ...(found.advice.length ? [make("h3", {}, "Advice"), list(found.advice)] : []),
    ...(found.notes.length ? [make("h3", {}, "To know"), list(found.notes)] : []),
    make("p", { class: "quiet" }, found.proven),
  ];
}

const list = (lines) => make("ul", { class: "lines" }, ...lines.map((one) => make("li", {}, one)));

export function filesOf(quilt) {
  const { desk } = quilt.app;
  const made = group("Print the whole quilt");
  const files = maker(), fields = make("div", {});
  const options = () => Object.fromEntries(desk.view?.options ?? []);
  made.show(fields, make("div", { class: "files" }, ...FILES.map(([kind, form, label]) =>
    button(`${label} (${form.toUpperCase()})`, (event) => files.run(event.currentTarget, "quilt/file", { name: desk.name, text: desk.text, kind, form })))), files.element);
  let offered = null;
  made.element.addEventListener("toggle", async () => {
    if (!made.element.open || offered) return;
    const all = await choices();
    offered = fieldsOf(quilt.app, all.filter(({ option }) => OFFERED.includes(option)));
    fields.replaceChildren(offered.element);
    offered.show(options());
  });
  desk.addEventListener("change", () => {
    if (desk.kind !== "quilt") return;
    offered?.show(options());
    files.clear();
  });
  return made.element;
}
