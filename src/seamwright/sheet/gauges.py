"""What is measured on a sheet before anyone sews: check squares and long lines, or what stands in for them.

Knows:  squares, long lines, ticks on a trim edge, crosses and corner marks over a print that leaves no room.
Leaves: words and what an item is (furniture), where items lie (furnish).
Units:  points; an item is drawn from its own top left corner, x right and y down, but where it says otherwise.
Method: an inch hides a small error and printers err differently along and across the feed, so lines of 6 in and
        15 cm (on narrow paper 4 in and 10 cm) lie both ways and say what they read on a page that has been shrunk.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache, lru_cache

from seamwright.geometry import Point, Ring, Segment, moved
from seamwright.ink.lettering import CAP_HEIGHT, centred, width_pt, words_box
from seamwright.ink.model import Anchor, Ink, Pen, Stroke, Words, move_ink
from seamwright.ink.wrap import lines_of
from seamwright.sheet.furniture import (
    BEFORE_SEWING,
    FOOT_PT,
    FOOT_STEP,
    INCH_PT,
    NOTE_PT,
    NOTE_STEP,
    Item,
    column,
)
from seamwright.sheet.nest import Box, rotation

FIVE_CM_PT = 5 * 72 / 2.54
"""141.732 pt: an inch is 25.4 mm exactly, a point 1/72 in (ISO 32000-1, 8.3.2.3)."""
TICK_PT = 6.0


@dataclass(frozen=True, slots=True)
class Rule:
    """A long line to be measured.

    Attributes:
        inches: its length; cm: where the tick stands that metric rulers measure to.
        words: both lengths, and what they read on a shrunken sheet.
        ends_words: the same where there are only the two ends of the line, no tick for metric rulers.
    """

    inches: int
    cm: int
    words: str
    ends_words: str

    @property
    def length_pt(self) -> float:
        """From end to end."""
        return self.inches * INCH_PT

    @property
    def tick_pt(self) -> float:
        """From the first end to the tick for metric rulers."""
        return self.cm * 72 / 2.54


PAST_PT = 24.0
"""Room for words past the end of a long line."""
RULES = (
    Rule(
        6,
        15,
        "6 in and 15 cm. Shrunk to 97 % they read 5 13/16 in and 14.55 cm, to 94 % 5 5/8 in and 14.1 cm.",
        "6 in (15.24 cm). Shrunk to 97 % it reads 5 13/16 in (14.78 cm), to 94 % 5 5/8 in (14.33 cm).",
    ),
    Rule(
        4,
        10,
        "4 in and 10 cm. At 97 %: 3 7/8 in and 9.7 cm, at 94 %: 3 3/4 in and 9.4 cm.",
        "4 in (10.16 cm). Shrunk to 97 % it reads 3 7/8 in (9.86 cm), to 94 % 3 3/4 in (9.55 cm).",
    ),
)
"""The shorter one is for paper that is too narrow for the other, such as A5."""


def rule_for(room: float) -> Rule:
    """The longest line that a printable part of this width or height can hold."""
    return next((rule for rule in RULES if rule.length_pt + PAST_PT <= room), RULES[-1])


def apart_words(across: Rule, down: Rule) -> str:
    """What is said where ticks or crosses may stand for the long lines of a sheet."""
    both = across.ends_words if across == down else f"across {across.ends_words} Down {down.ends_words}"
    return f"Two ticks or two crosses stand for a long line that finds no room: {both}"


@lru_cache(maxsize=512)
def check_squares(head: str = "") -> Item:
    """The 5 cm square with the 1 in square and the words in it.

    Args:
        head: what the sheet is, said in the square too, in smaller type; "" where the foot says it.
    """
    side, inset = FIVE_CM_PT, 7.0
    small = (inset, side - inset - INCH_PT, INCH_PT)
    ink: list[Ink] = [_square(0.0, 0.0, side), _square(*small)]
    ink.append(centred("1 in", (small[0] + INCH_PT / 2, small[1] + INCH_PT / 2), NOTE_PT, unit_pt=1.0))
    ink.append(Words("5 cm", (side - inset, side - inset), NOTE_PT, Anchor.END))
    size, step = (FOOT_PT, FOOT_STEP) if head else (NOTE_PT, NOTE_STEP)
    heads = lines_of(head, size, side - 2 * inset, bold=True, most=2) if head else ()
    lines = lines_of(BEFORE_SEWING, size, side - 2 * inset)
    ink += column(heads, inset, inset - 2, size, step, bold=True)
    ink += column(lines, inset, inset - 2 + step * len(heads), size, step)
    return Item(side, side, tuple(ink), squares=(small, (0.0, 0.0, side)))


def squares_over(ink: Sequence[Ink], area: Box) -> Item:
    """Both squares as corner marks over a print that fills the sheet, where they cross least of it.

    Args:
        ink: all of the print, in its place; area: the box in which the squares may lie.
    """
    from shapely import STRtree, box
    from shapely.geometry import LineString, Polygon

    lines = [LineString([*m.points, *m.points[: m.closed]]) for m in ink if isinstance(m, Stroke)]
    boxes = [Polygon(words_box(m, 1.0)) for m in ink if isinstance(m, Words) and m.text.strip()]
    line_tree, word_tree = STRtree(lines), STRtree(boxes)
    side, inset = FIVE_CM_PT, 7.0

    def labels(x: float, y: float) -> list[Words]:
        low = y + side - inset
        return [
            Words("5 cm", (x + side - inset, low), FOOT_PT, Anchor.END),
            Words("1 in", (x + inset + 3.0, low - 4.0), FOOT_PT),
        ]

    def crossed(x: float, y: float) -> tuple[float, float, float]:
        square = box(x, y, x + side, y + side)
        corners = [box(cx - 10, cy - 10, cx + 10, cy + 10) for cx in (x, x + side) for cy in (y, y + side)]
        said = [Polygon(words_box(words, 1.0)) for words in labels(x, y)]
        hidden = sum(len(word_tree.query(spot, predicate="intersects")) for spot in (*corners, *said))
        inside = sum(lines[n].intersection(square).length for n in line_tree.query(square, predicate="intersects"))
        return (hidden, round(inside, 3), y)

    x, y = min(_places(area, side, side, 9.0), key=lambda p: crossed(*p))
    small = (x + inset, y + side - inset - INCH_PT, INCH_PT)
    marks = [*_corner_marks(x, y, side), *_corner_marks(*small)]
    return Item(0.0, 0.0, (*marks, *labels(x, y)), squares=(small, (x, y, side)))


def ends_over(ink: Sequence[Ink], area: Box, rule: Rule, *, upright: bool) -> Item:
    """The two crosses of a long line over a print that leaves no room beside it, where they hide least of it.

    Args:
        ink: all of the print, in its place; area: the box in which the crosses may lie, longer than the line.
    """
    from shapely import STRtree, box
    from shapely.geometry import LineString, Polygon

    marks: list[LineString | Polygon] = [
        LineString([*m.points, *m.points[: m.closed]]) for m in ink if isinstance(m, Stroke)
    ]
    marks += [Polygon(words_box(m, 1.0)) for m in ink if isinstance(m, Words) and m.text.strip()]
    tree, item = STRtree(marks), line_ends(rule, upright=upright, label=False)

    def hidden(x: float, y: float) -> int:
        ends = [(x + u, y + v) for u, v in item.lines[0]]
        spots = [box(u - TICK_PT, v - TICK_PT, u + TICK_PT, v + TICK_PT) for u, v in ends]
        return sum(len(tree.query(spot, predicate="intersects")) for spot in spots)

    best = min(_places(area, item.width, item.height, TICK_PT), key=lambda p: hidden(*p))
    return item.at(*best)


def _places(area: Box, width: float, height: float, step: float) -> list[Point]:
    """Top left corners at which a box lies in an area, row by row; the area's own where it is too large."""
    left, top, right, bottom = area
    across = [left + step * n for n in range(max(1, int((right - left - width) / step) + 1))]
    down = [top + step * n for n in range(max(1, int((bottom - top - height) / step) + 1))]
    return [(x, y) for y in down for x in across]


@cache
def long_line(rule: Rule, *, upright: bool) -> Item:
    """A long line with its tick for metric rulers; along it the words on what it reads on a shrunken sheet."""
    line, length = FOOT_STEP + 3.0, rule.length_pt
    ends = ((0.0, line), (length, line))
    at = (0.0, rule.tick_pt, length)
    ink: list[Ink] = [Stroke(Pen.RULE, ends)]
    ink += [Stroke(Pen.RULE, ((x, line - TICK_PT / 2), (x, line + TICK_PT / 2))) for x in at]
    ink.append(Words(rule.words, (4.0, line - 4.0), FOOT_PT))
    ink.append(Words(f"{rule.cm} cm", (rule.tick_pt - 3.0, line - 4.0), FOOT_PT, Anchor.END))
    ink.append(Words(f"{rule.inches} in", (length + 4.0, line + CAP_HEIGHT * FOOT_PT / 2), FOOT_PT))
    lying = Item(length + PAST_PT, line + TICK_PT / 2 + 1.0, tuple(ink), lines=(ends,))
    if not upright:
        return lying
    a, b, c, d, _, _ = rotation(90.0)
    turn = (a, b, c, d, lying.height, 0.0)
    return Item(
        lying.height,
        lying.width,
        tuple(move_ink(mark, turn, 90.0) for mark in lying.ink),
        lines=((moved(turn, ends[0]), moved(turn, ends[1])),),
    )


def edge_ticks(edge: Segment, rule: Rule, *, outside: bool) -> Item:
    """Two ticks as far apart as a long line, on a long trim edge, already in their place on the sheet.

    Args:
        edge: points on the sheet, longer than the line; its ring runs clockwise as seen.
        outside: ticks beside the edge, and between them words where they are short enough; else short ticks into
            the allowance and no words.
    """
    (ax, ay), (bx, by) = edge
    length = math.dist(*edge)
    ux, uy = (bx - ax) / length, (by - ay) / length
    # A ring clockwise as seen has its outside on the left hand.
    nx, ny = (uy, -ux) if outside else (-uy, ux)
    start = (length - rule.length_pt) / 2
    first, last = ((ax + ux * s, ay + uy * s) for s in (start, start + rule.length_pt))
    words = f"From tick to tick {rule.ends_words}"
    arm = (rule.length_pt - width_pt(words, FOOT_PT)) / 2 - TICK_PT
    if not outside or arm < TICK_PT:
        # Thinner than match marks, and shorter: none to be matched.
        ticks = [Stroke(Pen.RULE, (p, (p[0] + nx * TICK_PT, p[1] + ny * TICK_PT))) for p in (first, last)]
        return Item(0.0, 0.0, tuple(ticks), lines=((first, last),))
    angle = math.degrees(math.atan2(uy, ux))
    if not -90.5 < angle <= 89.5:
        angle += 180.0
    # Whatever side of the words faces the edge, letters that reach below the line too: others stay 13 pt away.
    gap = 4.5 + CAP_HEIGHT * FOOT_PT / 2
    middle = ((first[0] + last[0]) / 2 + nx * gap, (first[1] + last[1]) / 2 + ny * gap)
    ink: list[Ink] = [centred(words, middle, FOOT_PT, unit_pt=1.0, angle_deg=angle)]
    # Each tick turns towards the words, as measures are drawn: so they are seen to be no part of the foundation.
    for (x, y), way in ((first, arm), (last, -arm)):
        out = (x + nx * gap, y + ny * gap)
        ink.append(Stroke(Pen.RULE, ((x, y), out, (out[0] + ux * way, out[1] + uy * way))))
    return Item(0.0, 0.0, tuple(ink), lines=((first, last),))


LABEL_PT = 96.0
"""Room for the words beside the first cross, points."""


def line_ends(rule: Rule, *, upright: bool, label: bool) -> Item:
    """A long line without its middle: two crosses that far apart, for sheets with no free strip."""
    half, length = TICK_PT / 2, rule.length_pt
    ink: list[Ink]
    ends = ((half, half), (half, half + length)) if upright else ((half, half), (half + length, half))
    ink = [
        Stroke(Pen.RULE, line)
        for x, y in ends
        # Two angles, not two lines: the middle is then a corner, which reading back can measure.
        for line in (((x - half, y), (x, y), (x, y - half)), ((x + half, y), (x, y), (x, y + half)))
    ]
    words = f"{rule.inches} in {'down' if upright else 'across'} to the next cross"
    if label:
        ink.append(Words(words, (TICK_PT + 3.0, half + CAP_HEIGHT * FOOT_PT / 2), FOOT_PT))
    width, height = (TICK_PT, length + TICK_PT) if upright else (length + TICK_PT, TICK_PT)
    return Item(width, height, tuple(ink), lines=(ends,))


def long_edges(ring: Ring, rule: Rule, *, upright: bool) -> list[Segment]:
    """Sides of a ring long enough for the ticks that run up and down, or across, to a degree; longest first."""
    found = []
    for a, b in zip(ring, ring[1:] + ring[:1], strict=True):
        across, down = abs(b[0] - a[0]), abs(b[1] - a[1])
        along, off = (down, across) if upright else (across, down)
        if along > rule.length_pt + TICK_PT and off <= along * math.tan(math.radians(1.0)):
            found.append((a, b))
    return sorted(found, key=lambda s: -round(math.dist(*s), 6))


def _square(x: float, y: float, side: float) -> Stroke:
    corners: tuple[Point, ...] = ((x, y), (x + side, y), (x + side, y + side), (x, y + side))
    return Stroke(Pen.RULE, corners, closed=True)


def _corner_marks(x: float, y: float, side: float) -> list[Stroke]:
    """The four corners of a square, each as far as two ticks."""
    arm = 2 * TICK_PT
    return [
        Stroke(Pen.RULE, ((cx + sx * arm, cy), (cx, cy), (cx, cy + sy * arm)))
        for cx, sx in ((x, 1), (x + side, -1))
        for cy, sy in ((y, 1), (y + side, -1))
    ]
