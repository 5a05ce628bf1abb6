// Mouse, pen and fingers on the chart: one draws, two move and zoom the sheet; space or the middle button moves it too.
//
// Knows:  which pointers are down. Leaves: what drawing means (tools), zoom itself (chart.js).

import { distance } from "./snap.js";

export function mountPointing(app, hand) {
  const { chart } = hand;
  const { svg } = chart;
  const down = new Map(); // pointer id: its last place on the screen
  let panning = false, drawing = null, spread = null;
  let space = false;

  const seen = (event) => [event.clientX, event.clientY];
  const middle = ([[ax, ay], [bx, by]]) => [(ax + bx) / 2, (ay + by) / 2];
  const point = (event) => hand.point(event, hand.tool.from);

  svg.addEventListener("pointerdown", (event) => {
    if (!chart.view || event.target.closest(".own")) return;
    down.set(event.pointerId, seen(event));
    svg.setPointerCapture(event.pointerId);
    svg.classList.add("by-pointer");
    if (down.size === 2) { // a second finger: what the first began is put away
      if (drawing !== null) hand.tool.cancel();
      drawing = null;
      spread = [...down.values()];
      return;
    }
    if (event.button === 1 || space) {
      event.preventDefault();
      panning = true;
      svg.classList.add("panning");
    } else if (event.button === 0 && hand.active) {
      drawing = event.pointerId;
      hand.tool.down(point(event));
    }
  });

  svg.addEventListener("pointermove", (event) => {
    if (!chart.view) return;
    const before = down.get(event.pointerId);
    if (before) down.set(event.pointerId, seen(event));
    if (spread && down.size === 2) {
      const now = [...down.values()];
      const [was, is] = [middle(spread), middle(now)];
      chart.pan(is[0] - was[0], is[1] - was[1]);
      if (distance(...spread) > 1) chart.zoom(distance(...now) / distance(...spread), chart.at({ clientX: is[0], clientY: is[1] }));
      spread = now;
    } else if (panning && before) {
      chart.pan(event.clientX - before[0], event.clientY - before[1]);
    } else if (hand.active && (drawing === event.pointerId || (drawing === null && !down.size))) {
      svg.classList.add("by-pointer");
      hand.tool.move(point(event));
    }
  });

  const ended = (event) => {
    if (!down.delete(event.pointerId)) return;
    if (down.size < 2) spread = null;
    if (!down.size) {
      panning = false;
      svg.classList.remove("panning");
    }
    if (drawing !== event.pointerId) return;
    drawing = null;
    if (event.type === "pointercancel") hand.tool.cancel();
    else hand.tool.up(point(event));
  };
  svg.addEventListener("pointerup", ended);
  svg.addEventListener("pointercancel", ended);
  svg.addEventListener("pointerleave", () => { if (hand.active && !hand.draft && !down.size) hand.show(); });
  svg.addEventListener("dragstart", (event) => event.preventDefault());
  svg.addEventListener("auxclick", (event) => event.preventDefault());

  svg.addEventListener("wheel", (event) => {
    if (!chart.view) return;
    event.preventDefault();
    const step = event.deltaMode === 1 ? 16 : 1;
    if (event.shiftKey) chart.pan(-(event.deltaY || event.deltaX) * step, 0);
    else chart.zoom(Math.exp(-Math.max(-240, Math.min(240, event.deltaY * step)) / 400), chart.at(event));
  }, { passive: false });

  // Space held moves the sheet; space alone sets a point (keyboard.js asks whether it moved).
  svg.addEventListener("keydown", (event) => { if (event.key === " ") space = true; });
  document.addEventListener("keyup", (event) => { if (event.key === " ") space = false; });
  window.addEventListener("blur", () => { space = false; });
}
