// Places of a drawing in words: where a point lies, what is there, and places as typed.
//
// Knows:  points counted as the text form counts them: in squares of the grid, without one in the unit of the size.
// Leaves: geometry of edits (Python). Units: inches inside.

import { count, lean, plain, read } from "./lengths.js";
import { distance, nearestOn, same } from "./snap.js";

const NEAR = 1e-5, ALIKE = 2; // inches, degrees

// How many inches one count is, across and down.
export function counted(view) {
  if (view.grid) return [view.width / view.grid[0], view.height / view.grid[1]];
  const one = view.units === "metric" ? 1 / 2.54 : 1;
  return [one, one];
}

export function sayPlace(at, view) {
  const counts = counted(view).map((one, k) => at[k] / one);
  if (view.units === "metric" && !view.grid) return counts.map(plain).join(", "); // centimetres are told in decimals
  const said = counts.map(count);
  return said.includes(null) ? `about ${counts.map((one) => count(Math.round(one * 16) / 16)).join(", ")}` : said.join(", ");
}

// "3, 2 1/2" as a point; null if it is none. A length with its unit counts by that.
export function readPlace(text, view) {
  const parts = text.split(",");
  if (parts.length !== 2) return null;
  const one = counted(view);
  const values = parts.map((part, k) => {
    const bare = /^[\s\d./-]+$/.test(part);
    if (/^\s*0*\.?0*\s*$/.test(part) && /0/.test(part)) return 0;
    const value = read(part, "inch");
    return value === null ? null : bare ? value * one[k] : value;
  });
  return values.includes(null) ? null : values;
}

// What lies at a point, in words; "" for nothing.
export function sayThere(at, view, scene) {
  const touching = scene.segments.map((ends, k) => ({ ends, k })).filter(({ ends }) => distance(nearestOn(at, ...ends), at) < NEAR);
  const edge = touching.some(({ k }) => k < scene.edges);
  const seams = touching.filter(({ k }) => k >= scene.edges);
  const leans = []; // what runs on straight through the point is one seam
  for (const { ends } of seams) {
    const own = lean(...ends);
    if (leans.every((other) => Math.abs(own - other) > ALIKE && Math.abs(own - other) < 180 - ALIKE)) leans.push(own);
  }
  if (view.outline.some((corner) => same(corner, at))) return leans.length ? `a corner of the block with ${many(leans.length)}` : "a corner of the block";
  if (scene.points.some((point) => same(point, at))) {
    if (edge) return leans.length ? `a point on the edge with ${many(leans.length)}` : "a point on the edge";
    return leans.length > 1 ? `a point where ${many(leans.length)} meet` : "an end of a seam";
  }
  if (scene.mids.some((middle) => same(middle, at))) return edge ? "the middle of a side" : "the middle of a seam";
  return edge ? "on the edge" : seams.length ? "on a seam" : "";
}

const many = (count) => (count === 1 ? "one seam" : `${["", "", "two", "three", "four", "five", "six"][count] ?? count} seams`);

export const sayAt = (at, view, scene) => {
  const there = sayThere(at, view, scene);
  return `At ${sayPlace(at, view)}${there ? `: ${there}` : ""}.`;
};
