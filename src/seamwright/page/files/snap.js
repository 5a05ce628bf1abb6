// Where a pointer means to be: pure functions, no page in them.
//
// Knows:  which near thing a pointer is drawn to, and its word.
// Leaves: what is done with the point (tools), lines of the drawing (sketch/view.py).
// Units:  inches of the finished block, x right, y down; a point is [x, y].
// Method: the nearest thing, where distances to points count less than those to middles, where a straight direction
//         from the start meets a seam, the grid, seams, directions alone, in this order. The grid reaches at most a
//         third of a square, so that between its points there is room for the rest.
// Limits: nothing is snapped to that the drawing does not show.

const NEAR = 1e-6;

export const distance = ([ax, ay], [bx, by]) => Math.hypot(bx - ax, by - ay);
export const same = (a, b) => distance(a, b) < NEAR;
const along = ([ax, ay], [bx, by], t) => [ax + (bx - ax) * t, ay + (by - ay) * t];

// The point of a straight piece that is nearest.
export function nearestOn(point, a, b) {
  const [dx, dy] = [b[0] - a[0], b[1] - a[1]];
  const square = dx * dx + dy * dy;
  if (!square) return a;
  const t = ((point[0] - a[0]) * dx + (point[1] - a[1]) * dy) / square;
  return along(a, b, Math.min(1, Math.max(0, t)));
}

// The nearest of many points; null if none is within reach.
export function nearestOf(point, points, reach) {
  let best = null, least = reach;
  for (const candidate of points) {
    const far = distance(point, candidate);
    if (far <= least) [best, least] = [candidate, far];
  }
  return best;
}

// Where the line from `start` in a direction meets a straight piece; null if it does not.
function meeting(start, [ux, uy], a, b) {
  const [dx, dy] = [b[0] - a[0], b[1] - a[1]];
  const turn = ux * dy - uy * dx;
  if (Math.abs(turn) < 1e-9 * Math.hypot(dx, dy)) return null;
  const t = ((a[0] - start[0]) * uy - (a[1] - start[1]) * ux) / turn;
  return t < -NEAR || t > 1 + NEAR ? null : along(a, b, Math.min(1, Math.max(0, t)));
}

// The corner of the grid that is nearest, inside the sheet of the grid.
export function gridPoint([x, y], grid) {
  const [w, h] = [grid.width / grid.across, grid.height / grid.down];
  const clamp = (value, most) => Math.min(most, Math.max(0, Math.round(value)));
  return [clamp(x / w, grid.across) * w, clamp(y / h, grid.down) * h];
}

const unit = (degrees) => [Math.cos((degrees * Math.PI) / 180), Math.sin((degrees * Math.PI) / 180)];

// Straight directions from a start, with words: level, upright, 45°, and square to (or along) seams at the start.
export function directions(start, segments) {
  const found = [
    { way: [1, 0], word: "level" }, { way: [0, 1], word: "upright" },
    { way: unit(45), word: "45°" }, { way: unit(-45), word: "45°" },
  ];
  for (const [a, b] of segments) {
    if (same(a, b) || distance(nearestOn(start, a, b), start) > NEAR) continue;
    const long = distance(a, b);
    const [ux, uy] = [(b[0] - a[0]) / long, (b[1] - a[1]) / long];
    if (found.every(({ way }) => Math.abs(way[0] * -uy + way[1] * ux) < 1 - 1e-9)) {
      found.push({ way: [-uy, ux], word: "square to the seam" });
    }
  }
  return found;
}

// The word of the direction that a point lies in from a start; "" for none.
export function wordOfWay(start, point, ways) {
  const far = distance(start, point);
  if (far < NEAR) return "";
  const on = ways.find(({ way }) => Math.abs((point[0] - start[0]) * way[1] - (point[1] - start[1]) * way[0]) < NEAR * Math.max(1, far));
  return on?.word ?? "";
}

// Where a pointer means to be.
//   scene: { points, mids: [point], segments: [[point, point]], edges: how many of the segments, from the first, are
//            the block's own edge, grid: { across, down, width, height } or null }
//   reach: inches; from: the start of the seam under way, or null
// Returns { at, kind, word }: kind is "point", "middle", "grid", "seam", "way" or "free".
export function snapped(pointer, scene, reach, from = null) {
  const spots = [], lines = []; // single places; places that slide along something
  const offer = (list, at, kind, word, weight, handicap = 0, within = reach) => {
    const far = distance(at, pointer);
    if (far <= within) list.push({ at, kind, word, cost: far * weight + handicap * reach });
  };
  for (const at of scene.points) offer(spots, at, "point", "point", 0.6);
  for (const at of scene.mids) offer(spots, at, "middle", "middle", 0.9);

  const near = scene.segments.map(([a, b], k) => ({ a, b, word: k < scene.edges ? "on the edge" : "on the seam", at: nearestOn(pointer, a, b) }))
    .filter(({ at }) => distance(at, pointer) <= reach);
  for (const { at, word } of near) offer(lines, at, "seam", word, 1.4, 0.2);

  if (scene.grid) {
    const corner = gridPoint(pointer, scene.grid);
    const square = Math.min(scene.grid.width / scene.grid.across, scene.grid.height / scene.grid.down);
    const lies = near.find(({ a, b }) => distance(nearestOn(corner, a, b), corner) < NEAR);
    offer(spots, corner, "grid", lies ? `grid, ${lies.word}` : "grid", lies ? 0.95 : 1, 0, Math.min(reach, square / 3));
  }

  const ways = from ? directions(from, scene.segments) : [];
  if (from && distance(from, pointer) > reach) {
    for (const { way: [ux, uy] } of ways) {
      const far = (pointer[0] - from[0]) * ux + (pointer[1] - from[1]) * uy;
      const on = [from[0] + ux * far, from[1] + uy * far];
      if (distance(on, pointer) > reach * 0.8) continue;
      offer(lines, on, "way", "", 1, 0.6);
      for (const { a, b, word } of near) {
        const cross = meeting(from, [ux, uy], a, b);
        if (cross) offer(spots, cross, "seam", word, 1, 0, reach * 1.5);
      }
    }
  }
  const least = (list) => list.reduce((best, each) => (best && best.cost <= each.cost ? best : each), null);
  const [spot, line] = [least(spots), least(lines)];
  // A seam right under the pointer counts for more than a corner of the grid beside it.
  const beside = spot?.word === "grid" && line?.kind === "seam" && line.cost < spot.cost;
  const found = (beside ? line : spot) ?? line;
  if (!found) return { at: pointer, kind: "free", word: "" };
  const { at, kind, word } = found;
  const way = from ? wordOfWay(from, at, ways) : "";
  return { at, kind, word: [word, way].filter(Boolean).join(", ") };
}

// What can be snapped to, of a view (sketch/view.py).
export function sceneOf({ outline, pieces, points, mids, grid, width, height }) {
  const ring = outline.map((point, k) => [point, outline[(k + 1) % outline.length]]);
  const runs = ({ points: run }) => run.slice(1).map((point, k) => [run[k], point]);
  return {
    points, mids,
    segments: [...ring, ...pieces.flatMap(runs)],
    edges: ring.length,
    grid: grid && { across: grid[0], down: grid[1], width, height },
  };
}
