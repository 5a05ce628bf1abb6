// Fields of a quilt: built anew when its text changes, without taking away what is being typed.
//
// Knows:  how a field asks for its change, that the one with the keys keeps them and its words.
// Leaves: which fields there are (quiltblocks.js, quiltsetting.js).

import { button, choice, labelled, make } from "./dom.js";

// A group of fields that opens and closes: {element, show(...children)}.
export function group(words, open = false) {
  const holder = make("div", { class: "quilt-fields" });
  const element = make("details", { class: "group", open }, make("summary", {}, words), holder);
  return { element, show: (...children) => rebuilt(holder, children) };
}

// Fields that are always in sight: {element, show(...children)}.
export function always() {
  const element = make("div", { class: "quilt-fields" });
  return { element, show: (...children) => rebuilt(element, children) };
}

// New children in a holder; a field in it that has the keys, by its id, keeps them, its words and its cursor.
function rebuilt(holder, children) {
  const was = holder.contains(document.activeElement) ? document.activeElement : null;
  const typed = was?.matches("input[type=text], input:not([type])") && was.value !== was.defaultValue ? [was.value, was.selectionStart] : null;
  holder.replaceChildren(...children.filter((child) => child != null));
  const now = was?.id ? document.getElementById(was.id) : null;
  if (!now) return;
  now.focus();
  if (typed) {
    now.value = typed[0];
    now.setSelectionRange(typed[1], typed[1]);
  }
}

// A field of words. change(value) is called when it is left with other words in it.
export function words(label, id, value, change, attributes = {}) {
  const input = make("input", { type: "text", id, value, autocomplete: "off", spellcheck: "false", ...attributes });
  input.addEventListener("change", () => { if (input.value.trim() !== value) change(input.value.trim()); });
  return labelled(label, input);
}

export const length = (label, id, value, change, usual = "") => words(label, id, value, change, { size: 8, placeholder: usual });
export const fabric = (label, id, value, change, usual = "none") => words(label, id, value, change, { list: "quilt-fabrics", size: 12, placeholder: usual });

export function count(label, id, value, most, change) {
  const input = make("input", { type: "number", id, min: 1, max: most, value, size: 4 });
  input.addEventListener("change", () => {
    const wanted = Number(input.value);
    if (Number.isInteger(wanted) && wanted >= 1 && wanted <= most && wanted !== value) change(wanted);
    else input.value = value;
  });
  return labelled(label, input);
}

export function select(label, id, options, value, change) {
  const made = choice(options, value, change);
  made.id = id;
  return labelled(label, made);
}

export function tick(label, id, value, change) {
  const input = make("input", { type: "checkbox", id, checked: value, onchange: () => change(input.checked) });
  return make("label", { class: "tick" }, input, make("span", {}, label));
}

export const row = (...children) => make("div", { class: "row" }, ...children);
export const does = (label, id, act, attributes = {}) => button(label, act, { id, ...attributes });
export const line = (sentence) => make("p", { class: "quiet" }, sentence);
