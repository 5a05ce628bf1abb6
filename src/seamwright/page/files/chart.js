// The drawing on the screen: an SVG in inches of the finished block, in layers, with zoom.
//
// Layers, from the ground up: tracing, patches, grid, outline, seams, marks, pointer.

const SVG = "http://www.w3.org/2000/svg";
const LAYERS = ["tracing", "patches", "grid", "outline", "seams", "marks", "pointer"];

export function shape(kind, attributes, ...children) {
  const made = document.createElementNS(SVG, kind);
  for (const [name, value] of Object.entries(attributes)) made.setAttribute(name, value);
  made.append(...children);
  return made;
}

export const path = (ring, closed = true) => ring.map(([x, y], k) => `${k ? "L" : "M"}${x} ${y}`).join("") + (closed ? "Z" : "");

export class Chart {
  constructor(holder) {
    this.svg = shape("svg", { id: "chart", tabindex: 0, role: "application", "aria-label": "Drawing of the block" });
    this.layers = Object.fromEntries(LAYERS.map((name) => [name, shape("g", { class: name })]));
    this.svg.append(...Object.values(this.layers));
    holder.append(this.svg);
  }

  // Shows a view (sketch/view.py).
  show(view) {
    const room = Math.max(view.width, view.height) * 0.06;
    this.svg.setAttribute("viewBox", `${-room} ${-room} ${view.width + 2 * room} ${view.height + 2 * room}`);
    this.fill("outline", shape("path", { d: path(view.outline), class: "outline" }));
    this.fill("seams", ...view.strokes.map((stroke) => shape("path", { d: path(stroke.points, false), class: "seam" })));
  }

  fill(layer, ...shapes) { this.layers[layer].replaceChildren(...shapes); }

  // Where a pointer event lies, in inches.
  at(event) {
    const point = new DOMPoint(event.clientX, event.clientY).matrixTransform(this.svg.getScreenCTM().inverse());
    return [point.x, point.y];
  }
}
