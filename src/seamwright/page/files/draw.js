// Drawing: the tools above the chart, and what Draw's column holds.
//
// Knows:  the toolbar, who hears what. Leaves: tools (tools-*.js), the hand (hand.js), the column (block.js, copies.js).

import { mountBlock } from "./block.js";
import { mountCopies } from "./copies.js";
import { button, make } from "./dom.js";
import { path, shape } from "./chart.js";
import { Hand } from "./hand.js";
import { KEYS, mountKeyboard } from "./keyboard.js";
import { mountPointing } from "./pointing.js";
import { curveTool, seamTool } from "./tools-seam.js";
import { erasePicked, eraseTool, keyOf, moveTool, pickTool } from "./tools-change.js";
import { mountTracing } from "./tracing.js";

export { KEYS };

export function mount(app, inside) {
  const hand = new Hand(app);
  const tools = [seamTool, curveTool, moveTool, pickTool, eraseTool].map((made) => made(hand));
  const bar = toolbar(app, hand, tools, document.getElementById("tools"));
  mountPointing(app, hand);
  mountKeyboard(app, hand, bar);
  hand.take(tools[0]);
  inside.append(mountBlock(app, hand), mountCopies(app, hand), mountTracing(app, hand));

  const empty = make("p", { class: "no-seam", id: "no-seam" },
    "No seam yet. Drag from edge to edge to draw the first one, or move with the arrow keys and press Enter.");
  document.getElementById("sheet").append(empty);

  const chosen = shape("g", {});
  app.chart.layers.frame.before(chosen);
  const fresh = () => {
    const { view } = hand;
    const drawable = app.kind === "block" && Boolean(view?.outline);
    empty.hidden = !drawable || !hand.active || view.strokes.length > 0 || Boolean(hand.draft);
    if (!drawable) return;
    const there = new Set(view.pieces.map(({ points }) => keyOf(points)));
    hand.chosen = hand.chosen.filter((points) => there.has(keyOf(points)));
    chosen.replaceChildren(...hand.chosen.map((points) => shape("path", { d: path(points, false), class: "chosen" })));
  };
  hand.addEventListener("other", () => { hand.tool.cancel(); hand.cursor = null; });
  app.desk.addEventListener("change", fresh);
  app.events.addEventListener("kind", fresh);
  app.events.addEventListener("work", () => {
    if (!hand.active) { hand.tool.cancel(); hand.clear(); }
    fresh();
  });
  hand.addEventListener("draft", fresh);
  hand.addEventListener("chosen", fresh);
  app.hand = hand;
  fresh();
}

function toolbar(app, hand, tools, holder) {
  const buttons = new Map(tools.map((tool) => [tool.name,
    button(tool.word, () => { hand.take(tool); }, { "data-tool": tool.name, "aria-pressed": "false", "aria-keyshortcuts": tool.key, title: `${tool.word}: key ${tool.key}` })]));
  const snap = button("Snap", () => bar.toggleFreely(), { "aria-pressed": "true", title: "Hold to grid, points and seams: key F" });
  const whole = button("Whole seams", () => { hand.whole = !hand.whole; whole.setAttribute("aria-pressed", String(hand.whole)); }, { "aria-pressed": "false" });
  const drop = button("Erase what is picked", () => erasePicked(hand));
  const field = make("input", { type: "text", size: 8, autocomplete: "off", "aria-describedby": "told" });
  const typed = make("form", { class: "typed" }, make("label", {}, make("span", {}, "Length or place"), field), make("button", {}, "Set"));
  const told = make("p", { id: "told", role: "status", "aria-live": "polite" });
  const farther = button("−", () => app.chart.zoom(0.8), { "aria-label": "Farther" });
  const nearer = button("+", () => app.chart.zoom(1.25), { "aria-label": "Nearer" });
  const block = button("Whole block", () => app.chart.whole());

  holder.append(...buttons.values(), make("span", { class: "gap" }), snap, make("span", { class: "grow" }), make("span", { class: "together" }, farther, nearer, block));
  const under = make("div", { id: "under" }, told, whole, drop, typed);
  holder.after(under);

  typed.addEventListener("submit", async (event) => {
    event.preventDefault();
    if (!field.value.trim() || !hand.active) return app.chart.svg.focus();
    const fault = await hand.tool.typed(field.value);
    if (fault) return hand.tell(fault);
    field.value = "";
    app.chart.svg.focus({ preventScroll: true });
  });
  field.addEventListener("keydown", (event) => {
    if (event.key !== "Escape") return;
    field.value = "";
    app.chart.svg.focus({ preventScroll: true });
    event.preventDefault();
  });
  // One stop of the Tab key for all of them; arrow keys move within, as ARIA has it for toolbars.
  const stops = () => [...holder.querySelectorAll("button")].filter((each) => !each.hidden && !each.disabled);
  const rove = (to) => { for (const each of holder.querySelectorAll("button")) each.tabIndex = each === to ? 0 : -1; };
  holder.addEventListener("keydown", (event) => {
    const all = stops(), here = all.indexOf(document.activeElement);
    const next = { ArrowRight: here + 1, ArrowLeft: here - 1, Home: 0, End: all.length - 1 }[event.key];
    if (next === undefined || here < 0) return;
    event.preventDefault();
    const to = all[(next + all.length) % all.length];
    rove(to);
    to.focus();
  });
  holder.addEventListener("focusin", (event) => { if (event.target.matches("button")) rove(event.target); });

  const show = () => {
    const idle = app.work !== "draw" && app.work !== "check"; // nothing is drawn while it is painted, cut or printed
    for (const [name, each] of buttons) {
      each.setAttribute("aria-pressed", String(hand.tool?.name === name));
      each.hidden = idle;
    }
    snap.hidden = idle;
    under.hidden = idle || app.kind !== "block";
    whole.hidden = idle || !hand.tool?.picks;
    drop.hidden = idle || hand.tool?.name !== "pick" || !hand.chosen.length;
    typed.hidden = !hand.tool?.typed;
    app.chart.svg.dataset.tool = hand.tool?.name ?? "";
    if (!stops().some((each) => each.tabIndex === 0)) rove(stops()[0]);
  };
  for (const event of ["tool", "chosen", "draft"]) hand.addEventListener(event, show);
  hand.addEventListener("told", () => { told.textContent = hand.told; });
  app.events.addEventListener("kind", () => { holder.hidden = app.kind !== "block"; show(); });
  app.events.addEventListener("work", show);
  const bar = {
    byKey: Object.fromEntries(tools.map((tool) => [tool.key.toLowerCase(), tool.name])),
    take(name) { hand.take(tools.find((tool) => tool.name === name)); },
    toggleFreely() {
      hand.freely = !hand.freely;
      snap.setAttribute("aria-pressed", String(!hand.freely));
      hand.tell(hand.freely ? "Drawing freely: nothing is snapped to." : "The pointer is drawn to grid, points and seams.");
    },
    type(first) { field.value = first; field.focus(); },
  };
  rove(buttons.values().next().value);
  show();
  return bar;
}
