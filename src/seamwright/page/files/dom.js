// Elements made in one line. Knows nothing of the page.

// make("button", { type: "button", class: "first", onclick: go }, "Print"); a child may be text or an element.
export function make(tag, attributes = {}, ...children) {
  const made = document.createElement(tag);
  for (const [name, value] of Object.entries(attributes)) {
    if (name.startsWith("on")) made.addEventListener(name.slice(2), value);
    else if (value === true) made.setAttribute(name, "");
    else if (value !== false && value != null) made.setAttribute(name, value);
  }
  made.append(...children.filter((child) => child != null));
  return made;
}

export const button = (words, onclick, attributes = {}) => make("button", { type: "button", onclick, ...attributes }, words);

// A field with its label above it. `field` is the element that is labelled.
export const labelled = (words, field) => make("label", {}, make("span", {}, words), field);

// Where an SVG document can be shown from, until URL.revokeObjectURL.
export const pictured = (svg) => URL.createObjectURL(new Blob([svg], { type: "image/svg+xml" }));

// A square of a fabric's colour beside its name; an empty one where none is known.
export function chip(colour) {
  const made = make("span", { class: "swatch", "aria-hidden": "true" });
  made.style.background = colour || "transparent";
  return made;
}

export function choice(options, chosen, onchange) {
  const made = make("select", { onchange: () => onchange(made.value) });
  for (const [value, words] of options) made.append(make("option", { value, selected: value === chosen }, words));
  return made;
}

// A dialog that returns what was chosen: await askIn(dialog) closes with dialog.close(value).
export function askIn(dialog) {
  document.body.append(dialog);
  dialog.showModal();
  return new Promise((done) => dialog.addEventListener("close", () => { dialog.remove(); done(dialog.returnValue); }));
}
