// Check: what the verdict rests on, in words beside the drawing; what is stuck and how to mend it.
//
// Knows:  which words belong to which state. Leaves: the drawing (looks.js), mends (mends.js), how it is sewn
//         (sewn.js), the verdict's own sentence (verdict.js).

import { button, make } from "./dom.js";
import { Looks } from "./looks.js";
import { Mends } from "./mends.js";
import { Sewn } from "./sewn.js";

const COUNTS = [["patches", "Patches"], ["sections", "Sections"], ["foundations", "Foundations"], ["prints", "Different prints"],
  ["joins", "Joins"], ["points_to_match", "Points to match"]];

export function mount(app, inside) {
  const looks = app.looks = new Looks(app);
  const mends = new Mends(app, looks);
  const sewn = new Sewn(app);
  const words = make("div", { class: "finding", tabindex: -1 });
  inside.append(words, sewn.element);

  const show = () => {
    const now = app.verdict.now;
    const hadFocus = words.contains(document.activeElement);
    words.replaceChildren(...(now ? finding(app, now, looks, mends) : [make("p", { class: "quiet" }, "No block lies on the table yet.")]));
    if (hadFocus) words.focus({ preventScroll: true }); // what was pressed is gone
    sewn.show(now);
  };
  app.verdict.addEventListener("verdict", show);
  app.verdict.addEventListener("asking", () => words.classList.toggle("stale", app.verdict.slow));
  app.verdict.addEventListener("mend", () => { app.open("check"); words.focus(); });
  show();
}

function finding(app, now, looks, mends) {
  if (now.state === "can") return [counts(now), details("Sections and joins", [...now.lines, ...now.turn_words].map((line) => make("li", {}, line))), ...notesOf(now, looks)];
  if (now.state === "cannot") return [...stuck(now), make("h3", {}, "What would mend it"), mends.element, ...asItIs(app, now), ...notesOf(now, looks)];
  if (now.state === "unfinished") return open(now, looks);
  if (now.state === "empty") return [make("p", {}, "Draw seams from edge to edge, or from seam to seam. The verdict follows every change.")];
  if (now.error) return [...faults(now), ...back(app)];
  return [make("p", {}, now.sentence)];
}

function counts(now) {
  const rows = COUNTS.filter(([name]) => name !== "prints" || now.counts.prints !== now.counts.sections)
    .map(([name, words]) => make("div", {}, make("dt", {}, words), make("dd", {}, now.counts[name])));
  return make("dl", { class: "counts" }, ...rows);
}

const details = (words, items) => make("details", { open: items.length <= 12 }, make("summary", {}, words), make("ul", { class: "lines" }, ...items));

function stuck(now) {
  return [make("ol", { class: "stuck" }, ...now.stuck.map((one) => make("li", {}, make("b", { class: "stuck-number" }, one.number), make("span", {}, one.why))))];
}

function asItIs(app, now) {
  if (!now.may_set_in) return [];
  const go = () => app.desk.change([{ do: "option", name: "set-in", value: "yes" }]).catch((refusal) => app.say(refusal.message));
  return [make("h3", {}, "Or sew it as it is drawn"), make("p", {}, "With seams that turn at a point: set in, or sewn in two goes. It takes more care at the machine."),
    button("Sew it as it is drawn", go)];
}

// A note points at its places on the drawing while the pointer or the keyboard is on it.
function noteItem(note, looks) {
  const has = note.places_in.length > 0;
  const show = () => looks.point(note), hide = () => looks.point(null);
  return make("li", has ? { tabindex: 0, onpointerenter: show, onpointerleave: hide, onfocus: show, onblur: hide } : {},
    note.letter ? make("b", { class: "note-letter" }, note.letter) : null, make("span", {}, note.text));
}

function notesOf(now, looks) {
  const list = (words, notes) => (notes.length ? [make("h3", {}, words), make("ul", { class: "notes" }, ...notes.map((note) => noteItem(note, looks)))] : []);
  const told = now.notes.filter((note) => note.code !== "mend"); // these stand with the mends
  return [...list("Good to know", told.filter((note) => !note.of_drawing)), ...list("How the drawing was read", told.filter((note) => note.of_drawing))];
}

function open(now, looks) {
  const items = now.error.faults.map((fault) => noteItem({ text: fault.text, letter: "", places_in: fault.at_in ? [fault.at_in] : [] }, looks));
  return [make("p", {}, "A small ring marks each end. There is no verdict until every line ends on another."), make("ul", { class: "notes" }, ...items)];
}

function faults(now) {
  return [make("ul", { class: "faults" }, ...now.error.faults.map((fault) => make("li", {},
    fault.line ? make("code", {}, `${fault.line}  ${fault.source}`) : null, make("span", {}, `${fault.what}. ${fault.mend}.`))))];
}

function back(app) {
  return [make("p", {}, "To go back to a drawing that can be read:"),
    button("Undo the last change", () => app.desk.undo(), { disabled: !app.desk.canUndo }),
    make("p", { class: "quiet" }, "Earlier versions of this design are kept too: Designs has them.")];
}
