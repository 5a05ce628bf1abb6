// A story told by the server (page/stories.py) as elements: headings, paragraphs, lists, tables.
//
// Knows:  how each item looks in a narrow column: the first cell of a long row becomes a line of its own above it.
// Leaves: every word.

import { chip, make } from "./dom.js";

// A heading is never more than one level below the one before it, though what led to it may have been left out.
export function storyOf(items) {
  let level = 0;
  return items.flatMap((item) => {
    if (item.kind === "heading") level = Math.min(item.level, level + 1);
    return KINDS[item.kind](item, level);
  });
}

const KINDS = {
  heading: (item, level) => [make(`h${Math.min(level + 2, 6)}`, {}, ...(item.swatch ? [chip(item.swatch)] : []), item.text)],
  paragraph: (item) => [make("p", item.strong ? { class: "strong" } : {}, item.text)],
  points: (item) => [make(item.numbered ? "ol" : "ul", {}, ...item.texts.map((text) => make("li", {}, text)))],
  table: (item) => [table(item)],
};

const LONG = 5;

function table(item) {
  const grouped = item.head.length >= LONG;
  const figure = (column) => (item.figures.includes(column) ? { class: "figure" } : {});
  const head = item.head.map((words, column) => make("th", { scope: "col", ...figure(column) }, words)).slice(grouped ? 1 : 0);
  const rows = item.rows.flatMap((cells, row) => rowsOf(cells, item.swatches[row], grouped, figure));
  return make("table", { class: grouped ? "cuts grouped" : "cuts" },
    ...(item.caption ? [make("caption", {}, item.caption)] : []),
    make("thead", {}, make("tr", {}, ...head)), make("tbody", {}, ...rows));
}

function rowsOf(cells, colour, grouped, figure) {
  const first = [...(colour ? [chip(colour)] : []), cells[0]];
  const rest = cells.slice(1).map((text, column) => make("td", figure(column + 1), text));
  if (!grouped) return [make("tr", {}, make("th", { scope: "row" }, ...first), ...rest)];
  const made = cells.slice(1).some(Boolean) ? [make("tr", {}, ...rest)] : [];
  return cells[0] ? [make("tr", { class: "group" }, make("th", { scope: "rowgroup", colspan: cells.length - 1 }, ...first)), ...made] : made;
}
