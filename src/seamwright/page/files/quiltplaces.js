// Places of a quilt: which of them are one in its text, which lie beside each other. Pure functions, no page.
//
// A place is [row, column] as it is seen; on point rows lie level.

export const keyOf = ([row, column]) => `${row},${column}`;

// Which stated place is seen there: places with the same one change together.
export function statedKey(view, [row, column]) {
  const [rows, columns] = view.stated;
  if (view.on_point && view.across === 1) return `${Math.floor(row / 2) % rows},0`;
  return view.repeat[0] * view.repeat[1] > 1 || view.fitted ? `${row % rows},${column % columns}` : `${row},${column}`;
}

// All places that change together with some.
export function together(view, all, some) {
  const wanted = new Set(some.map((place) => statedKey(view, place)));
  return all.filter((place) => wanted.has(statedKey(view, place)));
}

// The place that an arrow key leads to: the nearest one that way, by the middles of places.
export function beside(middles, from, [dx, dy]) {
  const start = middles.get(keyOf(from));
  if (!start) return from;
  let best = null, least = Infinity;
  for (const [key, [x, y]] of middles) {
    const along = (x - start[0]) * dx + (y - start[1]) * dy;
    const aside = Math.abs((x - start[0]) * dy) + Math.abs((y - start[1]) * dx);
    if (along <= 1e-6 || aside > along + 1e-6) continue;
    const far = along + 2 * aside;
    if (far < least) [best, least] = [key, far];
  }
  return best ? best.split(",").map(Number) : from;
}

// What lies in a place, in words.
export function placeWords(view, [row, column]) {
  const rows = view.rows;
  if (!rows.length) return "";
  const lies = rows[row % rows.length]?.[column % rows[row % rows.length].length];
  return `Row ${row + 1}, place ${column + 1}: ${lies ? laidWords(lies) : "nothing"}`;
}

export function laidWords(lies) {
  if (!lies.block) return `plain ${lies.fabric}`;
  const parts = [lies.block];
  if (lies.quarters) parts.push(`rotated ${90 * lies.quarters}°`);
  if (lies.reversed) parts.push("reversed");
  if (lies.colourway) parts.push(`in ${lies.colourway}`);
  return parts.join(", ");
}

export const middle = (ring) => [0, 1].map((k) => ring.reduce((sum, point) => sum + point[k], 0) / ring.length);
