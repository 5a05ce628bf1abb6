// Changing what is drawn: moving points with their seams, picking seams, erasing them.
//
// Knows:  which point or piece the pointer means. Leaves: the change itself (Move, Erase in Python).

import { path, shape } from "./chart.js";
import { say } from "./lengths.js";
import { readPlace, sayPlace } from "./places.js";
import { distance, nearestOf, nearestOn, same } from "./snap.js";

const DRAG = 6;

// What tells one piece from another, whichever way it runs.
export function keyOf(points) {
  const said = points.map((point) => point.map((value) => Math.round(value * 1e5)).join(" "));
  const back = [...said].reverse();
  return (said.join() < back.join() ? said : back).join();
}

// The piece nearest to a place, within reach.
export function pieceAt(hand, at, reach) {
  let best = null, least = reach;
  for (const piece of hand.view.pieces) {
    for (let k = 1; k < piece.points.length; k++) {
      const far = distance(nearestOn(at, piece.points[k - 1], piece.points[k]), at);
      if (far < least) [best, least] = [piece, far];
    }
  }
  return best;
}

// A piece, or all pieces of its seam.
const meant = (hand, piece) => (!piece ? [] : hand.whole ? hand.view.pieces.filter(({ line }) => line === piece.line) : [piece]);
const lit = (pieces, how) => pieces.map(({ points }) => shape("path", { d: path(points, false), class: how }));

export function moveTool(hand) {
  let held = null, pressed = null, dragging = false, target = null;
  const grips = () => [...hand.scene.points, ...hand.view.handles];
  const near = (point) => nearestOf(point.raw ?? point.at, grips(), hand.reach(point.by) * 1.4);
  const handles = () => hand.view.handles.map((at) => hand.mark({ at, kind: "handle" }));

  function stop() {
    held = pressed = target = null;
    hand.drafts(null);
    hand.clear();
  }

  function follow(point) {
    if (!held) {
      const found = near(point);
      return hand.show(...handles(), ...(found ? [hand.mark({ at: found, kind: "point" }), hand.words({ ...point, at: found }, "point")] : []));
    }
    target = point.at;
    hand.show(hand.mark(point), hand.words({ ...point, from: held }, `moved ${say(distance(held, point.at), hand.app.units)}`, point.word));
    if (same(held, point.at)) hand.unpreview();
    else hand.preview([{ do: "move", start: held, end: point.at }]);
  }

  function grab(at) {
    held = at;
    hand.drafts({});
    hand.tell(`The point at ${sayPlace(at, hand.view)} is held. Set where it goes.`);
  }

  function drop(at) {
    const from = held;
    stop();
    if (!same(from, at)) hand.do([{ do: "move", start: from, end: at }], `The point is at ${sayPlace(at, hand.view)} now.`);
  }

  return {
    name: "move", word: "Move", key: "M",
    hint: "Drag a point; its seams follow.",
    shown() { hand.show(...handles()); },
    from: null,
    down(point) {
      pressed = point;
      dragging = false;
      if (held) return;
      const found = near(point);
      if (!found) { pressed = null; return hand.tell("There is no point here. Points lie where seams end, bend or cross."); }
      pressed.first = true;
      grab(found);
    },
    move(point) {
      if (pressed && distance(pressed.raw, point.raw) * hand.chart.pixels > DRAG) dragging = true;
      if (!pressed?.first || dragging) follow(point);
    },
    up(point) {
      const { first } = pressed ?? {};
      const was = pressed;
      pressed = null;
      if (was && held && (!first || dragging)) drop(point.at);
    },
    set(at) {
      if (held) return drop(at);
      const found = nearestOf(at, grips(), 1e-4);
      if (found) grab(found); else hand.tell("There is no point here. Press N for the next one.");
    },
    moved(at) { follow({ at, kind: "free", word: "", by: "mouse" }); },
    async typed(text) {
      const spot = readPlace(text, hand.view);
      if (!spot) return "Type a place, as in 3, 4.";
      hand.cursor = spot;
      this.set(spot);
      return "";
    },
    cancel() { const had = Boolean(held); stop(); return had; },
  };
}

export function eraseTool(hand) {
  const show = (pieces) => hand.show(...lit(pieces, "going"));
  function erase(pieces) {
    if (!pieces.length) return hand.tell("There is no seam here.");
    hand.do([{ do: "erase", seams: pieces.map(({ points }) => points) }], pieces.length > 1 ? `${pieces.length} pieces of seam are erased.` : "A piece of seam is erased.");
  }
  return {
    name: "erase", word: "Erase", key: "E", picks: true,
    hint: "Click a seam: the piece between two points goes.",
    from: null,
    down(point) { show(meant(hand, pieceAt(hand, point.raw, hand.reach(point.by)))); },
    move(point) { show(meant(hand, pieceAt(hand, point.raw, hand.reach(point.by)))); },
    up(point) { erase(meant(hand, pieceAt(hand, point.raw, hand.reach(point.by)))); },
    set(at) { erase(meant(hand, pieceAt(hand, at, hand.reach()))); },
    moved(at) { hand.show(...lit(meant(hand, pieceAt(hand, at, hand.reach())), "going"), hand.cross(at)); },
    cancel() { hand.clear(); return false; },
  };
}

export function pickTool(hand) {
  let pressed = null, box = null;

  function toggle(pieces, more) {
    const keys = new Set(pieces.map(({ points }) => keyOf(points)));
    const before = new Set(hand.chosen.map(keyOf));
    const rest = more ? hand.chosen.filter((points) => !keys.has(keyOf(points))) : [];
    const taken = more && keys.size > 0 && [...keys].every((key) => before.has(key));
    hand.choose(taken ? rest : [...rest, ...pieces.map(({ points }) => points)]);
    tellChosen();
  }
  const tellChosen = () => hand.tell(hand.chosen.length
    ? `${hand.chosen.length === 1 ? "One piece of seam is" : `${hand.chosen.length} pieces of seam are`} picked. Delete erases; Copies in Draw repeats.` : "Nothing is picked.");
  const inside = ([ax, ay], [bx, by]) => hand.view.pieces.filter(({ points }) => points.every(([x, y]) =>
    x >= Math.min(ax, bx) && x <= Math.max(ax, bx) && y >= Math.min(ay, by) && y <= Math.max(ay, by)));

  function follow(point) {
    if (box) {
      const [[ax, ay], [bx, by]] = box;
      return hand.show(...lit(inside(...box), "meant"),
        shape("rect", { x: Math.min(ax, bx), y: Math.min(ay, by), width: Math.abs(ax - bx), height: Math.abs(ay - by), class: "box" }));
    }
    hand.show(...lit(meant(hand, pieceAt(hand, point.raw ?? point.at, hand.reach(point.by))), "meant"));
  }

  return {
    name: "pick", word: "Pick", key: "P", picks: true,
    hint: "Click seams, or drag a box round them. Delete erases what is picked.",
    from: null,
    down(point) { pressed = point; box = null; },
    move(point) {
      if (pressed && distance(pressed.raw, point.raw) * hand.chart.pixels > DRAG) box = [pressed.raw, point.raw];
      follow(point);
    },
    up(point) {
      pressed = null;
      if (box) toggle(inside(...box), point.shift);
      else {
        const pieces = meant(hand, pieceAt(hand, point.raw, hand.reach(point.by)));
        if (pieces.length) toggle(pieces, true);
        else { hand.choose([]); tellChosen(); }
      }
      box = null;
      hand.clear();
    },
    set(at) { toggle(meant(hand, pieceAt(hand, at, hand.reach())), true); },
    moved(at) { hand.show(...lit(meant(hand, pieceAt(hand, at, hand.reach())), "meant"), hand.cross(at)); },
    all() { hand.choose(hand.view.pieces.map(({ points }) => points)); tellChosen(); },
    cancel() {
      const had = hand.chosen.length > 0;
      pressed = box = null;
      hand.clear();
      hand.choose([]);
      return had;
    },
  };
}

// Erases what is picked.
export async function erasePicked(hand) {
  if (!hand.chosen.length) return hand.tell("Nothing is picked. Pick seams first.");
  const seams = hand.chosen;
  hand.choose([]);
  await hand.do([{ do: "erase", seams }], `${seams.length} ${seams.length > 1 ? "pieces are" : "piece is"} erased.`);
}
