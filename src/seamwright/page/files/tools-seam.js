// Drawing seams: by a drag from point to point, or click by click; curves by start, end and a point on the way.
//
// Knows:  what the pointer means while a seam is under way. Leaves: the seam itself (Draw, DrawLength, DrawArc in Python).

import { path, shape } from "./chart.js";
import { clockwise, lean, plain, read, say } from "./lengths.js";
import { readPlace, sayAt, sayPlace } from "./places.js";
import { distance, same } from "./snap.js";

const DRAG = 6; // pixels: less is a click

// Where lengths are metric a comma may stand for a decimal point, or part the two figures of a place.
const eitherWay = (text, units) => (units === "metric" ? /^\s*\d+,\d+\s*([cm]m)?\s*$/i : /^\s*\d+,\d+\s*[cm]m\s*$/i).test(text);

export function seamTool(hand) {
  let start = null, last = null, pressed = null, dragging = false;
  let passed = []; // starts of the seams already drawn in one go
  let links = []; // seams of one go that have no answer yet

  function begin(at) {
    start = at;
    hand.drafts({ length: true });
    hand.tell(`From ${sayPlace(at, hand.view)}: click where it ends, or type a length.`);
  }

  function stop() {
    start = last = pressed = null;
    passed = [];
    links = [];
    dragging = false;
    hand.drafts(null);
    hand.clear();
  }

  function follow(point) {
    last = point;
    if (!start) return hand.show(hand.mark(point), hand.words(point, point.word));
    const long = distance(start, point.at);
    hand.show(
      shape("path", { d: path([start, point.at], false), class: "band" }),
      hand.mark({ at: start, kind: "free" }), hand.mark(point),
      hand.words({ ...point, from: start }, long > 1e-6 ? sayLine(point.at) : "", point.word));
  }

  const sayLine = (at) => `${say(distance(start, at), hand.app.units)}, ${plain(lean(start, at))}°`;

  // A seam from the start to a point; with `on` the next one starts there. True if it was drawn. She may go on before
  // the answer comes: if it is refused, what hangs on its end is not drawn either, and all goes on from its start.
  async function place(at, on) {
    const from = start;
    if (same(from, at)) { stop(); return true; }
    const said = `A seam from ${sayPlace(from, hand.view)} to ${sayPlace(at, hand.view)}, ${say(distance(from, at), hand.app.units)} long.`;
    const chain = passed, deep = passed.length, waiting = links, before = waiting.at(-1);
    const link = { off: false, sent: false };
    if (on) { passed.push(from); links.push(link); start = at; } else stop();
    link.done = hand.do(async () => {
      await before?.done;
      link.sent = !link.off;
      return link.sent ? [{ do: "draw", points: [from, at] }] : [];
    });
    const drawn = await link.done;
    waiting.splice(0, waiting.indexOf(link) + 1);
    if (drawn) hand.tell(said);
    else if (on && !link.off) {
      for (const each of waiting) each.off = true;
      if (chain === passed && passed.length > deep) {
        passed.length = deep;
        start = from;
        if (last) follow(last);
      }
    }
    return drawn;
  }

  return {
    name: "seam", word: "Seam", key: "S",
    hint: "Drag from point to point, or click point after point.",
    get from() { return start; },
    down(point) {
      pressed = point;
      dragging = false;
      if (!start && point.far) { pressed = null; return; }
      if (!start) { begin(point.at); pressed.first = true; }
      follow(point);
    },
    move(point) {
      if (pressed && distance(pressed.raw, point.raw) * hand.chart.pixels > DRAG) dragging = true;
      follow(point);
    },
    up(point) {
      const first = pressed?.first;
      pressed = null;
      if (!start || (first && !dragging)) return; // the first click: the seam goes on with the next
      place(point.at, !first);
    },
    set(at) { if (start) place(at, true); else begin(at); },
    about(at) { return start && !same(start, at) ? sayLine(at) : ""; },
    // What undo means while a seam is under way: the seam before it goes, or only its start. True if that was all.
    undone() {
      if (!start) return false;
      if (!passed.length) { stop(); return true; }
      start = passed.pop();
      hand.clear();
      const link = links.pop();
      if (!link) return false;
      if (!link.sent) link.off = true;
      else link.done.then((drawn) => { if (drawn) hand.app.desk.undo(); });
      return true;
    },
    moved(at) { follow({ at, kind: "free", word: "", by: "mouse" }); },
    // What was typed: a place, or a length in the pointer's direction. A sentence if it is neither.
    async typed(text) {
      if (start && eitherWay(text, hand.app.units)) return `Write ${text.trim().replace(",", ".")} for a length, or ${text.trim().replace(",", ", ")} for a place.`;
      const spot = readPlace(text, hand.view);
      if (spot) {
        const drawn = start ? await place(spot, true) : begin(spot);
        if (drawn === false) return "";
        hand.cursor = spot;
        hand.tell(sayAt(spot, hand.view, hand.scene));
        return "";
      }
      if (!start) return "Type a place, as in 3, 4, or first set where the seam starts.";
      if (read(text, hand.app.units) === null) return "Type a length, as in 2 1/2, or a place, as in 3, 4.";
      if (!last || same(last.at, start)) return "First point to where the seam goes.";
      const from = start, towards = last.at;
      if (!(await hand.do([{ do: "draw length", start: from, degrees: clockwise(from, towards), length: text.trim() }]))) return "";
      if (start !== from) return ""; // it was ended meanwhile
      passed.push(from);
      const long = read(text, hand.app.units), far = distance(from, towards);
      start = [0, 1].map((k) => from[k] + ((towards[k] - from[k]) * long) / far);
      hand.cursor = start;
      hand.tell(`A seam ${say(long, hand.app.units)} long, to ${sayPlace(start, hand.view)}.`);
      hand.show(hand.mark({ at: start, kind: "free" }));
      return "";
    },
    cancel() { const had = Boolean(start); stop(); return had; },
  };
}

export function curveTool(hand) {
  let start = null, end = null, pressed = null, dragging = false;

  function stop() {
    start = end = pressed = null;
    hand.drafts(null);
    hand.clear();
  }

  function follow(point) {
    if (!start) return hand.show(hand.mark(point), hand.words(point, point.word));
    if (!end) {
      return hand.show(shape("path", { d: path([start, point.at], false), class: "band" }), hand.mark(point),
        hand.words({ ...point, from: start }, say(distance(start, point.at), hand.app.units), point.word));
    }
    hand.show(hand.mark(point), hand.words(point, "through here", point.word));
    if (offLine(point.at)) hand.preview([{ do: "draw arc", start, through: point.at, end }]);
  }

  // A point on the way that lies on the straight line makes no curve.
  const offLine = (at) => Math.abs((end[0] - start[0]) * (at[1] - start[1]) - (end[1] - start[1]) * (at[0] - start[0])) > 1e-3 * distance(start, end);

  function set(at) {
    if (!start) {
      start = at;
      hand.drafts({});
      return hand.tell(`From ${sayPlace(at, hand.view)}: set where the curve ends.`);
    }
    if (!end) {
      if (same(start, at)) return stop();
      end = at;
      return hand.tell("Now set a point that the curve runs through.");
    }
    if (!offLine(at)) return hand.tell("Set a point beside the line: it is where the curve bulges to.");
    const edit = { do: "draw arc", start, through: at, end };
    stop();
    hand.do([edit], "A curve is drawn.");
  }

  return {
    name: "curve", word: "Curve", key: "C",
    hint: "Set where the curve starts, where it ends, then how far it bulges.",
    get from() { return end ? null : start; },
    down(point) { pressed = point; dragging = false; if (!start && point.far) { pressed = null; return; } if (!start) { set(point.at); pressed.first = true; } follow(point); },
    move(point) {
      if (pressed && distance(pressed.raw, point.raw) * hand.chart.pixels > DRAG) dragging = true;
      follow(point);
    },
    up(point) {
      const was = pressed;
      pressed = null;
      if (was && (!was.first || dragging)) set(point.at);
    },
    set, moved(at) { follow({ at, kind: "free", word: "", by: "mouse" }); },
    async typed(text) {
      const spot = readPlace(text, hand.view);
      if (!spot) return "Type a place, as in 3, 4.";
      set(spot);
      hand.cursor = spot;
      return "";
    },
    cancel() { const had = Boolean(start); stop(); return had; },
  };
}
