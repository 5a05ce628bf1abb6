// Lengths as quilters write and read them, for what is said while the pointer moves.
//
// Knows:  the same words as units.py: "2 7/8 in", "about 3 5/16 in", "7.3 cm"; what is typed, for a preview.
// Leaves: every length that is kept is read in Python from what was typed.
// Units:  inches inside.

const PER_IN = { in: 1, '"': 1, "″": 1, inch: 1, inches: 1, cm: 1 / 2.54, mm: 1 / 25.4 };
const AMOUNT = /^\s*(?:(\d+)[\s-]+(\d+)\/(\d+)|(\d+)\/(\d+)|(\d*\.?\d+|\d+\.))\s*(in|inch|inches|"|″|cm|mm)?\s*$/i;

const common = (a, b) => (b ? common(b, a % b) : a);

// fraction(30, 16) is "1 7/8".
export function fraction(parts, of) {
  const whole = Math.floor(parts / of), rest = parts % of;
  if (!rest) return String(whole);
  const by = common(rest, of);
  return `${whole ? `${whole} ` : ""}${rest / by}/${of / by}`;
}

const SHARES = [1, 2, 4, 8, 16, 32, 3, 6, 12, 5]; // what squares and inches are parted into

// A count as a quilter says it: count(2.875) is "2 7/8", count(1 / 3) "1/3"; null if no usual fraction is near.
export function count(value) {
  const of = SHARES.find((each) => Math.abs(value * each - Math.round(value * each)) <= 1e-4 * each);
  if (!of) return null;
  const parts = Math.round(value * of);
  return parts < 0 ? `-${fraction(-parts, of)}` : fraction(parts, of);
}

// say(2.875, "inch") is "2 7/8 in".
export function say(inches, units) {
  if (units === "metric") {
    const halves = Math.round(inches * 50.8); // half millimetres, as a ruler shows
    return `${Number((halves / 20).toFixed(2))} cm`;
  }
  const fine = Math.round(inches * 32);
  if (Math.abs(inches - fine / 32) <= 0.002) return `${fraction(fine, 32)} in`;
  return `about ${fraction(Math.round(inches * 16), 16)} in`;
}

// A length as typed, in inches; null if it is none. A bare number counts in `units`.
export function read(text, units) {
  const found = AMOUNT.exec(text.replace(/[¼-¾⅐-⅞]/g, (glyph) => ` ${glyph.normalize("NFKD").replace("⁄", "/")}`));
  if (!found) return null;
  const [, whole, top, bottom, top1, bottom1, plain, unit] = found;
  const value = whole ? Number(whole) + top / bottom : top1 ? top1 / bottom1 : Number(plain);
  const inches = value * PER_IN[unit?.toLowerCase() ?? (units === "metric" ? "cm" : "in")];
  return Number.isFinite(inches) && inches > 0 ? inches : null;
}

// How far a line leans from level, as a protractor reads it: 0 level, 90 upright, 45 rising to the right.
export function lean([ax, ay], [bx, by]) {
  const degrees = (Math.atan2(ay - by, bx - ax) * 180) / Math.PI;
  const folded = ((degrees % 180) + 180) % 180;
  const round = Math.round(folded * 10) / 10;
  return round === 180 ? 0 : round;
}

// Degrees clockwise from level, as edits count them.
export const clockwise = ([ax, ay], [bx, by]) => (Math.atan2(by - ay, bx - ax) * 180) / Math.PI;

// A number without needless digits.
export const plain = (value) => String(Number(value.toFixed(3)));
