"""The block's shape: shapes that have a name, or any corners.

Knows:  the corners of named shapes, what becomes of size, grid, seams and fabrics under another shape.
Leaves: cutting a seam at an edge (clip), counting points anew (sizes).
Units:  inches of the finished block.
Method: a named shape is as wide as the block was; its height follows where the shape says it (plane geometry: a
        regular hexagon two sides wide is the square root of 3 sides high). The drawing keeps its middle. Corners
        given one by one stay where they are, and the size becomes what they reach.
"""

from __future__ import annotations

import math
from collections.abc import Callable

from seamwright.geometry import Point, Ring, bounds
from seamwright.sketch.clip import fresh, inside
from seamwright.sketch.draft import SAME_IN, Draft, Rewriting, checked, draft_of, refuse, unchecked
from seamwright.sketch.edits import Outline
from seamwright.sketch.frame import Grid, framed, size_words, state
from seamwright.sketch.patches import coloured, with_fabrics
from seamwright.units import UNIT_IN, parse_size, quoted

HALF_3 = math.sqrt(3) / 2


def _rectangle(w: float, h: float) -> Ring:
    return (0, 0), (w, 0), (w, h), (0, h)


def _diamond(w: float, h: float) -> Ring:
    return (w / 2, 0), (w, h / 2), (w / 2, h), (0, h / 2)


def _octagon(w: float, h: float) -> Ring:
    """All eight sides alike: from a square each corner goes at w / (2 + sqrt 2) from it."""
    c = w / (2 + math.sqrt(2))
    return (c, 0), (w - c, 0), (w, c), (w, w - c), (w - c, w), (c, w), (0, w - c), (0, c)


def _hexagon(w: float, h: float) -> Ring:
    high = w * HALF_3
    return (w / 4, 0), (w * 3 / 4, 0), (w, high / 2), (w * 3 / 4, high), (w / 4, high), (0, high / 2)


SHAPES: dict[str, Callable[[float, float], Ring]] = {
    "rectangle": _rectangle,
    "square": lambda w, h: _rectangle(w, w),
    "hexagon": _hexagon,
    "octagon": _octagon,
    "triangle": lambda w, h: ((w / 2, 0), (w, w * HALF_3), (0, w * HALF_3)),
    "half-square triangle": lambda w, h: ((0, 0), (w, h), (0, h)),
    "quarter-square triangle": lambda w, h: ((w / 2, 0), (w, w / 2), (0, w / 2)),
    "diamond": _diamond,
    "60 degree diamond": lambda w, h: _diamond(w, 2 * w * HALF_3),
    "45 degree diamond": lambda w, h: _diamond(w, w / math.tan(math.pi / 8)),
    "trapezoid": lambda w, h: ((w / 4, 0), (w * 3 / 4, 0), (w, w / 2 * HALF_3), (0, w / 2 * HALF_3)),
    "wedge": lambda w, h: ((w / 2, 0), (w, w / 2 / math.tan(math.pi / 8)), (0, w / 2 / math.tan(math.pi / 8))),
}
"""Corners of named shapes, given the width and the height that the block has.

A triangle has three sides alike and stands on one; a half-square triangle is what lies under a diagonal of the
block, a quarter-square triangle has its right angle at the top; a diamond has its corners in the middles of the
block's sides (of a square: a square on point), one by degrees has that angle at top and bottom; a trapezoid is the
upper half of a hexagon; eight wedges meet in a point, 45 degrees each.
"""


def outlined(text: str, edit: Outline) -> str:
    """The text with a block of another shape; seams and fabrics outside of it go.

    Raises:
        DrawingError: the text cannot be read. OptionError: there is no such shape, corners make none, or no block
            has its size.
    """
    draft = draft_of(text)
    width, height = draft.measured.width, draft.measured.height
    if edit.shape:
        name = " ".join(edit.shape.lower().replace("°", " degree").split())
        if name not in SHAPES:
            raise refuse(f"{quoted(edit.shape)} is no shape of a block", f"Use one of: {', '.join(SHAPES)}")
        ring = SHAPES[name](width, height)
        left, top, right, bottom = bounds(ring)
        away = (right - width) / 2, (bottom - height) / 2
    else:
        corners = _sound(draft, edit.corners)
        left, top, right, bottom = bounds(corners)
        ring = tuple((x - left, y - top) for x, y in corners)
        away = -left, -top
    return _reshaped(draft, ring, away)


def _sound(draft: Draft, corners: Ring) -> Ring:
    """Corners that go round an area once."""
    import shapely

    near = SAME_IN
    ring = [
        p
        for p, before in zip(corners, (None, *corners), strict=False)
        if before is None or math.dist(p, before) > near
    ]
    while len(ring) > 1 and math.dist(ring[0], ring[-1]) <= near:
        ring.pop()
    if len(ring) < 3:
        raise refuse("a block has three corners or more", "Give them in order, going round once")
    polygon = shapely.Polygon(ring)
    if not polygon.is_valid or polygon.area < 1e-6:
        raise refuse(
            "the outline crosses or touches itself", "Give its corners in order, going round once", ring[0]
        )
    return tuple(ring)


def _reshaped(draft: Draft, ring: Ring, away: Point) -> str:
    facts = draft.facts
    rewriting = _fitted(draft, ring)
    plain = len(ring) == 4 and set(ring) == set(_rectangle(*bounds(ring)[2:]))
    state(rewriting, "outline", "" if plain else " to ".join(map(rewriting.figures, ring)))
    for side in facts.sides:
        rewriting.written.drop(side.places[0].line)
    shift = (1.0, 0.0, 0.0, 1.0, *away)
    for run, strand in zip(facts.runs, draft.strands, strict=True):
        whole = strand.moved(shift)
        parts = [new for part in inside(whole, ring) for new in fresh(part, (), ring)]
        if parts != [whole]:
            rewriting.replace(run, parts)
            continue
        for place, at in zip(run.places, whole.points, strict=True):
            rewriting.put(place, at)

    def to(point: Point) -> Point:
        return point[0] + away[0], point[1] + away[1]

    for _, place, _ in facts.laid:
        rewriting.put(place, to(draft.measured.point(place)))
    return checked(with_fabrics(rewriting.text(), coloured(draft, to)), "the outline")


def refitted(text: str) -> str:
    """The text with the size that its outline reaches, all points where they are beside each other.

    Args:
        text: its outline may reach farther than its size, or less far.
    """
    draft = unchecked(text)
    left, top, right, bottom = bounds(draft.outline)
    if all(abs(a - b) <= SAME_IN for a, b in zip((left, top, right, bottom), (0, 0, *_stated(draft)), strict=True)):
        return text
    rewriting = _fitted(draft, tuple((x - left, y - top) for x, y in draft.outline))
    facts = draft.facts
    places = [place for run in (*facts.runs, *facts.sides) for place in run.places]
    for place in (*places, *facts.outline, *(place for _, place, _ in facts.laid)):
        x, y = draft.measured.point(place)
        rewriting.put(place, (x - left, y - top))
    return rewriting.text()


def _fitted(draft: Draft, ring: Ring) -> Rewriting:
    """The draft with the size that an outline reaches, which begins at 0, 0; points not yet put there."""
    _, _, width, height = bounds(ring)
    if all(abs(a - b) <= SAME_IN for a, b in zip(_stated(draft), (width, height), strict=True)):
        return framed(draft, None, draft.facts.grid)
    grid = _grid(draft, width, height)
    said = size_words(width, height, draft.unit, grid)
    parse_size(said)  # says which sizes a block may have
    return framed(draft, said, grid)


def _stated(draft: Draft) -> tuple[float, float]:
    """Width and height as the text states them."""
    assert draft.facts.size is not None
    width, height = draft.facts.size
    unit = UNIT_IN[draft.unit]
    return width.inches(unit), draft.measured.height if height is None else height.inches(unit)


def _grid(draft: Draft, width: float, height: float) -> Grid:
    """The grid under another size: squares stay as large as they were, if a whole number of them lies across.

    Else halves, thirds or quarters of them, else as many as there were.
    """
    grid = draft.facts.grid
    if grid is None:
        return None
    for parts in (1, 2, 3, 4):
        across = width / draft.square[0] * parts
        if round(across) and abs(across - round(across)) < 1e-6:
            down = height / draft.square[1] * parts
            oblong = grid[1] is not None and abs(down - round(down)) < 1e-6
            return round(across), round(down) if oblong else None
    return grid[0], None
