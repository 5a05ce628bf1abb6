"""Ways to make units without paper, one by one and many at a time, as sentences with their sizes and counts.

Knows:  two and eight half-square units at a time, four flying geese at a time, corners stitched and folded; which
        of them the fabrics of a unit allow.
Leaves: sizes (fabric.rulers), which patches make a unit (fabric.units).
Units:  inches.
Method: common practice. Many at a time come out of two fabrics laid on each other, so every unit has the same two;
        a print that runs one way would lie differently in each, so it is cut piece by piece. Squares are sewn
        before they are cut: no edge on the bias is handled, while triangles cut one by one have one each.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from seamwright.block.model import Block
from seamwright.fabric.model import Fabric
from seamwright.fabric.rulers import Ruler
from seamwright.fabric.shade import lightness
from seamwright.fabric.units import FLYING_GEESE, HALF_SQUARE_UNIT, QUARTER_SQUARE_UNIT, RECTANGLE, Recognised
from seamwright.options import Units
from seamwright.units import say_length, say_list, say_size

FEWEST_FOUR, FEWEST_EIGHT = 3, 8
"""How many units are wanted before it pays to make so many at a time."""
BIAS = "these lie on the bias, where cloth stretches: do not pull them, and press without pushing the iron"
_NUMBERS = ("no", "one", "two", "three", "four", "five", "six", "seven")


def ways_over(parts: Sequence[tuple[Block, Recognised, int]], allowance_in: float, units: Units) -> tuple[str, ...]:
    """How units are made, a sentence or a few for each way; () for rectangles alone.

    Args:
        parts: (block, simple unit as it lies in it, how many such blocks are made) of each; `patches` of a unit by
            their numbers in the block, the largest of each first.
    """
    groups: dict[tuple[str, float, tuple[str | None, ...]], list[tuple[Block, int]]] = {}
    for block, part, blocks in parts:
        if part.kind != RECTANGLE:
            side = round(max(part.width_in, part.height_in), 6)
            groups.setdefault((part.kind, side, _fabrics(block, part)), []).append((block, blocks))
    ruler, told = Ruler(allowance_in, units), []
    several = len(groups) > 1 or len(parts) > sum(map(len, groups.values()))
    for (kind, side, names), group in groups.items():
        # Two patches of one fabric cannot be told apart once they are sewn; nor can those whose fabric is not said.
        count = sum(blocks for _, blocks in group)
        fabrics = [next((f for f in group[0][0].fabrics if f.name == name), None) for name in names]
        told += [_headed(kind, side, names, count, way, units) if several else way
                 for way in _ways(kind, side, names, fabrics, count, ruler)]  # fmt: skip
    return tuple(told)


def _fabrics(block: Block, part: Recognised) -> tuple[str | None, ...]:
    """Fabrics of a unit's patches, those of equal pieces in order of name."""
    names = [block.patches[patch].fabric for patch in part.patches]
    if part.kind == HALF_SQUARE_UNIT:
        return tuple(sorted(names, key=repr))
    if part.kind == FLYING_GEESE:
        return (names[0], *sorted(names[1:], key=repr))
    return tuple(names)


def _headed(kind: str, side: float, names: Sequence[str | None], count: int, way: str, units: Units) -> str:
    of = f" of {say_list(list(dict.fromkeys(str(n) for n in names)))}" if all(names) else ""
    plural = kind if kind == FLYING_GEESE else f"{kind}s"
    size = say_size(side, side / 2, units) if kind == FLYING_GEESE else say_length(side, units)
    return f"{plural.capitalize()}{of}, {size} finished ({count} in all). {way}"


def _ways(
    kind: str,
    side: float,
    names: Sequence[str | None],
    fabrics: Sequence[Fabric | None],
    count: int,
    ruler: Ruler,
) -> Iterator[str]:
    yield _one_by_one(kind)
    known = [fabric for fabric in fabrics if fabric is not None]
    if len(known) < len(names) or any(fabric.direction_deg is not None for fabric in known):
        return
    if kind == HALF_SQUARE_UNIT and names[0] != names[1] and count > 1:
        yield _two(side, known, count, ruler)
        if count >= FEWEST_EIGHT:
            yield _eight(side, known, count, ruler)
    if kind == FLYING_GEESE and names[0] != names[1]:
        if names[1] == names[2] and count >= FEWEST_FOUR:
            yield _four(side, known, count, ruler)
        if names[0] != names[2]:
            yield _corners(side, known, count, ruler)


def _one_by_one(kind: str) -> str:
    if kind == HALF_SQUARE_UNIT:
        return f"One by one: sew two triangles together along their long sides; {BIAS}."
    if kind == QUARTER_SQUARE_UNIT:
        return (
            "One by one: sew the small triangles in pairs along a short side, then both halves along their long "
            f"sides; {BIAS}. Where four meet let the two seams lie to opposite sides, so that they lock."
        )
    return (
        "One by one: sew a small triangle to one short side of the large one, press it outwards, then the other to "
        f"the other side; {BIAS}. Beyond the point of the large triangle a whole allowance of cloth is left."
    )


def _two(side: float, fabrics: Sequence[Fabric], count: int, ruler: Ruler) -> str:
    pairs = math.ceil(count / 2)
    return (
        f"Two at a time: cut {_squares(pairs, ruler.pair(side), ruler)} of {_each(fabrics)}. Lay one of each right "
        f"sides together, draw a line from corner to corner on the back of {_lighter(fabrics)}, sew "
        f"{_allowance(ruler)} away from it on both sides, cut on the line, press, and trim each unit to "
        f"{say_length(ruler.square(side), ruler.units)} with the seam from corner to corner. "
        f"{_makes(2 * pairs, count)} The stitching is there before the cut, so that the bias is held; press "
        "without pushing the iron."
    )


def _eight(side: float, fabrics: Sequence[Fabric], count: int, ruler: Ruler) -> str:
    times, left = divmod(count, 8)
    if left > 6:  # all but one of another eight
        times, left = times + 1, 0
    rest = f" Make the other {left} two at a time or one by one." if left else ""
    return (
        f"Eight at a time: cut {_squares(times, ruler.eight(side), ruler)} of {_each(fabrics)}. Lay one of each "
        f"right sides together, draw both lines from corner to corner on the back of {_lighter(fabrics)}, sew "
        f"{_allowance(ruler)} away from both lines on both sides, cut through the middle across and down, then on "
        f"the drawn lines, press, and trim each unit to {say_length(ruler.square(side), ruler.units)}. "
        f"{_makes(8 * times, count - left)}{rest}"
    )


def _four(side: float, fabrics: Sequence[Fabric], count: int, ruler: Ruler) -> str:
    times = math.ceil(count / 4)
    large, small = ruler.geese_four(side / 2)
    return (
        f"Four at a time: cut {_squares(times, large, ruler)} of {fabrics[0].name} and "
        f"{_squares(4 * times, small, ruler)} of {fabrics[1].name}. Lay two small squares on opposite corners of a "
        "large one, right sides together; they overlap in the middle. Draw a line from corner to corner across "
        f"both, sew {_allowance(ruler)} away from it on both sides, cut on the line, and press the small ones "
        "outwards. Lay a small square on the corner that is left of each half, draw a line from that corner to the "
        f"gap, sew {_allowance(ruler)} away from it on both sides, cut on it, and press. Trim each unit to "
        f"{_trimmed(side, ruler)}. {_makes(4 * times, count)} The large one's edges are on the bias once it is "
        "cut: do not pull them."
    )


def _corners(side: float, fabrics: Sequence[Fabric], count: int, ruler: Ruler) -> str:
    corner = ruler.folded_corner(side / 2)
    small = [f"{_squares(count, corner, ruler)} of {fabric.name}" for fabric in fabrics[1:]]
    if fabrics[1].name == fabrics[2].name:
        small = [f"{_squares(2 * count, corner, ruler)} of {fabrics[1].name}"]
    rectangles = f"{count} {'rectangle' if count == 1 else 'rectangles'} {_trimmed(side, ruler)}"
    return (
        f"With stitched corners, no edge on the bias: cut {rectangles} of {fabrics[0].name} and {say_list(small)}. "
        "Lay a square on one end of a rectangle, right sides together, sew from corner to corner a thread outside "
        f"the diagonal, cut off what lies more than {_allowance(ruler)} beyond the stitching, and press outwards; "
        "then the other end. It takes more cloth, and nothing is measured twice."
    )


def _squares(count: int, side_in: float, ruler: Ruler) -> str:
    return f"{count} {'square' if count == 1 else 'squares'} {say_length(side_in, ruler.units)}"


def _each(fabrics: Sequence[Fabric]) -> str:
    return f"{fabrics[0].name} and as many of {fabrics[1].name}"


def _lighter(fabrics: Sequence[Fabric]) -> str:
    light = [lightness(fabric) for fabric in fabrics]
    if None in light or light[0] == light[1]:
        return "the lighter one"
    return f"{max(fabrics, key=lambda fabric: lightness(fabric) or 0.0).name}, the lighter one"


def _allowance(ruler: Ruler) -> str:
    return say_length(ruler.allowance_in, ruler.units)


def _trimmed(side: float, ruler: Ruler) -> str:
    return say_size(ruler.square(side), ruler.square(side / 2), ruler.units)


def _makes(made: int, wanted: int) -> str:
    over = made - wanted
    spare = f", {_NUMBERS[over]} more than needed" if over else ""
    return f"This makes {made}{spare}."
