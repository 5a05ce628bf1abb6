"""How wide borders are, and whether a border pieced from blocks comes out.

Knows:  sizes only: of what lies inside, of each border, of the blocks that pieced borders repeat.
Leaves: which block that is, and where everything lies (borders).
Units:  inches, finished. Pairs are (left to right, top to bottom).
Method: a pieced border needs sides of a whole number of its blocks. Coping strips before it, of one width at left
        and right and of one at top and bottom, are as narrow as makes both sides come out; plain borders between
        them and the blocks count. What does not come out is refused, with what would.
Limits: one run of coping strips for each pieced border. Blocks are never stretched: what a side is longer or
        shorter than its blocks, up to EASE_IN, is eased in at the needle.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from seamwright.errors import SeamwrightError, SettingError, fail
from seamwright.options import Units
from seamwright.quilt.model import Border, Edging
from seamwright.units import say_count, say_length, say_list, say_size

Pair = tuple[float, float]

EASE_IN = 1 / 32
"""Over a whole side pins take up so much; less is seen on no ruler of the craft (common practice)."""
NOISE_IN = 1e-6
"""Sums of lengths may differ by so much and be meant to be one."""
NARROWEST_IN = 1 / 4
"""A strip narrower than this would be filled by its own seam allowances."""
USUAL_IN = 1.0
"""Coping strips of less are hard to sew straight (common practice)."""
FURTHEST = 4
"""Other numbers of blocks of the centre are looked for up to so many more or fewer."""


@dataclass(frozen=True, slots=True)
class Repeated:
    """A block as a pieced border repeats it: its side along the border, and how far it reaches outwards."""

    along_in: float
    out_in: float


@dataclass(frozen=True, slots=True)
class Growth:
    """How the inside grows with one block more across and down, and how many it has; for what would do."""

    step_in: Pair
    count: tuple[int, int]


def widths(
    inside: Pair,
    borders: Sequence[Border],
    repeated: Mapping[int, Repeated],
    *,
    file: str = "",
    growth: Growth | None = None,
    units: Units = Units.INCH,
) -> tuple[Pair, ...]:
    """The widths of all borders: at left and right, at top and bottom.

    Args:
        inside: width and height of what they go round.
        borders: the innermost first. repeated: by number of border, for each pieced one.
        file, growth, units: for messages.

    Raises:
        SettingError: a pieced border does not come out, or coping strips stand where they can do nothing.

    >>> widths((34, 51), [Border(Edging.COPING, 1), Border(Edging.PIECED, 6)], {1: Repeated(6, 6)})
    ((1.0, 1.5), (6, 6))
    """
    _check_coping(borders, file)
    found: list[Pair] = []
    for number, border in enumerate(borders):
        if border.edging is Edging.COPING:
            ahead = _next_pieced(borders, number)
            block, between = repeated[ahead].along_in, 2 * sum(b.width_in for b in borders[number + 1 : ahead])
            at = _sides(inside, found)
            found.append((_coping(at[0] + between, border, block), _coping(at[1] + between, border, block)))
        elif border.edging is Edging.PIECED:
            block = repeated[number].along_in
            sides = _sides(inside, found)
            if any(_off(side, block) > EASE_IN for side in sides):
                raise _does_not_come_out(sides, block, number, borders, file, growth, units)
            found.append((repeated[number].out_in, repeated[number].out_in))
        else:
            found.append((border.width_in, border.width_in))
    return tuple(found)


def how_many(side_in: float, block_in: float) -> int:
    """Blocks along a side that comes out."""
    return max(1, round(side_in / block_in))


def _sides(inside: Pair, found: Sequence[Pair]) -> Pair:
    return (inside[0] + 2 * math.fsum(x for x, _ in found), inside[1] + 2 * math.fsum(y for _, y in found))


def _off(side_in: float, block_in: float) -> float:
    """How far a side is from a whole number of blocks, one at least."""
    return abs(side_in - how_many(side_in, block_in) * block_in)


def _coping(side_in: float, border: Border, block_in: float) -> float:
    """The least width, not under the one stated, that makes a side come out; 0: it does without."""
    least = border.width_in
    blocks = max(1, math.ceil((side_in + 2 * least - NOISE_IN) / block_in))
    width = (blocks * block_in - side_in) / 2
    if width <= NOISE_IN:
        return 0.0
    while width < NARROWEST_IN - NOISE_IN:
        blocks += 1
        width = (blocks * block_in - side_in) / 2
    return width


def _next_pieced(borders: Sequence[Border], number: int) -> int:
    return next(i for i in range(number + 1, len(borders)) if borders[i].edging is Edging.PIECED)


# -- what is refused ----------------------------------------------------------------------------------------------


def border_fault(what: str, mend: str, border: Border, file: str) -> SeamwrightError:
    """A fault of one border, at its line."""
    line, column = (border.line, 1) if border.line else (None, None)
    return fail(SettingError, "border", what, mend, drawing=file, line=line, column=column)


def check_widths(borders: Sequence[Border], file: str, units: Units) -> None:
    """Refuses widths that are none: a setting made in Python may hold any number."""
    for number, border in enumerate(borders, start=1):
        least = 0.0 if border.edging is Edging.COPING else NOISE_IN
        if border.edging is not Edging.PIECED and not least <= border.width_in < math.inf:
            wide = say_length(border.width_in, units) if math.isfinite(border.width_in) else str(border.width_in)
            what = f"border {number} cannot be {wide} wide"
            raise border_fault(what, "Give it a width above 0", border, file)


def _check_coping(borders: Sequence[Border], file: str) -> None:
    """Each coping border has a pieced one after it, and is the only one before it."""
    waiting: Border | None = None
    for number, border in enumerate(borders):
        if border.edging is Edging.COPING:
            if waiting is not None:
                what = f"border {number + 1} is a second one of coping strips before one pieced border"
                raise border_fault(what, "Give all but one of them a width of its own", border, file)
            waiting = border
        elif border.edging is Edging.PIECED:
            waiting = None
    if waiting is not None:
        what = f"border {borders.index(waiting) + 1} is of coping strips, and no pieced border comes after it"
        raise border_fault(what, "Give it a width (border 2 in FABRIC), or a pieced border after it", waiting, file)


def _does_not_come_out(
    sides: Pair,
    block: float,
    number: int,
    borders: Sequence[Border],
    file: str,
    growth: Growth | None,
    units: Units,
) -> SeamwrightError:
    """The fault of a pieced border, with whatever would do."""
    names = ("top and bottom", "left and right")
    before = [(k, b) for k, b in enumerate(borders[:number]) if b.edging in (Edging.BUTTED, Edging.MITRED)]
    off = [
        f"{name} are {say_length(side, units)} long, {how_many(side, block)} blocks of "
        f"{say_length(block, units)} make {say_length(how_many(side, block) * block, units)}"
        for name, side in zip(names, sides, strict=True)
        if _off(side, block) > EASE_IN
    ]
    what = f"the blocks of border {number + 1} do not come out: {' and '.join(off)}"
    strip = Border(Edging.COPING, USUAL_IN)
    said = [say_length(_coping(side, strip, block), units) for side in sides]
    mends = [
        f"Put coping strips before it (border coping FABRIC; {said[0]} at left and right and {said[1]} at top and "
        "bottom would do)"
    ]
    if wider := _width_that_fits(sides, block, before):
        mends.append(f"make border {before[-1][0] + 1} {say_length(wider, units)} wide")
    if size := _block_that_fits(sides, block):
        mends.append(f"make its block {_exactly(size, units)} along the border")
    if growth is not None and (counts := _counts_that_fit(sides, block, growth, units)):
        mends.append(counts)
    return border_fault(what, say_list(mends, "or"), borders[number], file)


def _width_that_fits(sides: Pair, block: float, before: Sequence[tuple[int, Border]]) -> float | None:
    """A width of the last plain border before it, nearest to its own, that makes both sides come out."""
    if not before:
        return None
    own = before[-1][1].width_in
    blocks = how_many(sides[0], block)
    more = [((blocks + k) * block - sides[0]) / 2 for k in range(-FURTHEST, FURTHEST + 1) if blocks + k > 0]
    fits = [own + m for m in more if own + m >= NARROWEST_IN and _off(sides[1] + 2 * m, block) <= EASE_IN]
    return min(fits, key=lambda width: (abs(width - own), width), default=None)


def _block_that_fits(sides: Pair, block: float) -> float | None:
    """The side of a block, nearest to the one there is, of which both sides hold a whole number."""
    found = []
    for across in range(1, 2 * how_many(sides[0], block) + 2):
        size = sides[0] / across
        if block / 2 <= size <= block * 2 and _off(sides[1], size) <= EASE_IN / 2:
            found.append(size)
    return min(found, key=lambda size: (abs(size - block), size), default=None)


def _exactly(size_in: float, units: Units) -> str:
    """A size to be typed: as a ruler shows it where that is near enough, else with its decimals."""
    said = say_length(size_in, units)
    if units is Units.METRIC:
        return f"{size_in * 2.54:.3f}".rstrip("0").rstrip(".") + " cm"
    return f"{size_in:.4f}".rstrip("0") + " in" if said.startswith("about") else said


def _counts_that_fit(sides: Pair, block: float, growth: Growth, units: Units) -> str:
    """Numbers of blocks in the centre, nearest to those there are, that make both sides come out."""
    found = []
    for side, step, count in zip(sides, growth.step_in, growth.count, strict=True):
        near = sorted(range(-FURTHEST, FURTHEST + 1), key=lambda more: (abs(more), -more))
        fits = (more for more in near if count + more > 0 and side + more * step > 0)
        found.append(next((count + more for more in fits if _off(side + more * step, block) <= EASE_IN), None))
    if None in found or tuple(found) == growth.count:
        return ""
    across, down = found
    assert across is not None and down is not None
    size = say_size(
        sides[0] + (across - growth.count[0]) * growth.step_in[0],
        sides[1] + (down - growth.count[1]) * growth.step_in[1],
        units,
    )
    return f"make the centre {say_count(across, 'block')} across and {down} down, which makes its sides {size}"
