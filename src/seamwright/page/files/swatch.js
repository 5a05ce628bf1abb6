// A piece of fabric beside its name: its colour, stripes and code, or its grey.
//
// Knows:  how a swatch is drawn; lists that are made anew and keep the keyboard where it was.
// Leaves: colours and stripes (the server).

import { shape } from "./chart.js";
import { make } from "./dom.js";

export function swatch(fabric, grey = false) {
  const made = shape("svg", { class: "cloth-swatch", viewBox: "0 0 48 32", preserveAspectRatio: "xMidYMid slice", "aria-hidden": "true" },
    shape("rect", { width: 48, height: 32, fill: fabric ? (grey ? fabric.grey : fabric.fill) : "none" }));
  if (!fabric) made.append(shape("path", { d: "M0 32L48 0", class: "none" }));
  else if (fabric.stripes) made.append(shape("path", { d: fabric.stripes, fill: grey ? fabric.grey_shade : fabric.shade }));
  if (fabric?.code) {
    made.append(shape("text", { x: 24, y: 21, fill: grey ? fabric.on_grey : fabric.on, stroke: fabric.stripes ? (grey ? fabric.grey : fabric.fill) : "none" }, fabric.code));
  }
  return made;
}

// Name, how it reads, which way it is printed.
export function words(fabric, ...more) {
  const reads = [fabric.reads || "colour and value not said", fabric.print, ...more].filter(Boolean).join(" · ");
  return make("span", { class: "cloth-words" }, make("b", {}, fabric.name), make("span", { class: "quiet" }, reads));
}

// Other things in a place; what had the keyboard (by its data-key) has it again.
export function refill(place, ...children) {
  const key = place.contains(document.activeElement) ? document.activeElement.dataset.key : undefined;
  place.replaceChildren(...children.filter(Boolean));
  if (key) [...place.querySelectorAll("[data-key]")].find((one) => one.dataset.key === key)?.focus();
}
