"""The chapter of borders: measured through the middle, sides first; coping strips, pieced borders, mitred corners.

Knows:  the steps of each kind of border.
Leaves: how wide and long they come out (quilt.borders), how strips are cut and joined (quilt.cutting).
Units:  inches in, words out. Common practice throughout.
"""

from __future__ import annotations

from collections.abc import Iterator

from seamwright.booklet.model import Heading, Item, Paragraph, Points, Story, Table
from seamwright.booklet.quiltrows import centre_size
from seamwright.options import Units
from seamwright.quilt.bordernotes import WIDER_IN, mitred_runs
from seamwright.quilt.model import SIDES, Border, Cloth, Edging, Quilt, Role
from seamwright.quiltfacts import QuiltFacts
from seamwright.units import say_count, say_length, say_list, say_size

MEASURE = (
    "Measure the quilt through its middle, top to bottom and side to side, never along an edge: edges stretch. "
    "If it is off from the size by calculation, cut the strips to what you measure, both of a pair alike. Pin "
    "the ends and the middle first, then halves of what is between, and ease the quilt to the strip."
)


def borders_story(facts: QuiltFacts) -> Story:
    """All borders, the innermost first; nothing for a quilt without."""
    quilt = facts.quilt
    if not quilt.setting.borders:
        return ()
    items: list[Item] = [Heading("Borders"), Paragraph(MEASURE)]
    inside = centre_size(quilt)
    for number, border in enumerate(quilt.setting.borders, start=1):
        across, down = quilt.borders_in[number - 1]
        items += _border(facts, number, border, inside, (across, down))
        inside = (inside[0] + 2 * across, inside[1] + 2 * down)
    return tuple(items)


def _border(
    facts: QuiltFacts, number: int, border: Border, inside: tuple[float, float], width: tuple[float, float]
) -> Iterator[Item]:
    quilt, units, more = facts.quilt, facts.cutting.units, 2 * facts.cutting.allowance_in
    wide = say_length(width[0], units, glyphs=True)
    if abs(width[0] - width[1]) > 1e-6:
        wide += f" at left and right, {say_length(width[1], units, glyphs=True)} at top and bottom"
    yield Heading(f"Border {number}: {_kind(border)}", 2)
    now = say_size(inside[0] + more, inside[1] + more, units, glyphs=True)
    yield Paragraph(f"Its finished width is {wide}. Before it is sewn on the quilt measures {now} unfinished.")
    after = (inside[0] + 2 * width[0] + more, inside[1] + 2 * width[1] + more)
    if border.edging is Edging.PIECED:
        yield from _pieced(quilt, number)
    else:
        yield from _plain(facts, number, border, after)
    if border.edging is Edging.MITRED and number < _mitred_run(quilt, number)[-1]:
        return
    yield Paragraph(f"With this border: {say_size(*after, units, glyphs=True)} unfinished.")


def _kind(border: Border) -> str:
    if border.edging is Edging.PIECED:
        assert border.cell is not None
        return f"pieced, of {border.cell.source}"
    kind = {Edging.MITRED: "mitred", Edging.COPING: "coping strips", Edging.BUTTED: "plain"}[border.edging]
    return f"{kind}, of {border.fabric}"


def _pieced(quilt: Quilt, number: int) -> Iterator[Item]:
    part = f"border {number}"
    spots = [spot for spot in quilt.spots if spot.part == part]
    cloths = [cloth for cloth in quilt.cloths if cloth.part == part]
    rows = []
    # What lies in a corner is the first of its side, and sewn on with top and bottom.
    parts = [(name, [s for s in spots if s.row == side and s.column]) for side, name in enumerate(SIDES)]
    for name, here in (*parts, ("corners", [s for s in spots if not s.column])):
        looks = dict.fromkeys(quilt.looks[spot.look].name for spot in here)
        if here:
            rows.append((name, str(len(here)), ", ".join(looks)))
    yield Table(("Side", "Blocks", "Which"), tuple(rows), (1,))
    corners = f" Plain squares of {cloths[0].fabric} lie in its corners." if cloths else ""
    yield Points(
        (
            f"Sew the blocks of each side into a strip, the arrows of the diagram as they lie there.{corners}",
            "Measure each strip: it must be as long as the quilt through its middle. What is off is taken up "
            "in several seams, a thread in each, never in one.",
            "Sew on the left and the right strip, press away from the blocks, then the strips of top and "
            "bottom with the corners at their ends.",
        ),
        numbered=True,
    )


def _plain(facts: QuiltFacts, number: int, border: Border, after: tuple[float, float]) -> Iterator[Item]:
    units, allowance = facts.cutting.units, facts.cutting.allowance_in
    strips = [cloth for cloth in facts.quilt.cloths if cloth.part == f"border {number}"]
    long = [cloth for cloth in strips if cloth.role is not Role.BORDER_CORNER]
    rows = []
    for sides, name in (((1, 3), "left and right"), ((0, 2), "top and bottom")):
        size = next((_size(cloth) for cloth in long if cloth.row in sides), None)
        if size is not None:
            count = sum(cloth.row in sides for cloth in long)
            rows.append((name, str(count), _said(size, 2 * allowance, units)))
    if rows:
        yield Table(("Strips", "How many", "By calculation"), tuple(rows), (1,))
    joined = "Long strips are joined, or cut along the selvedge, as the cutting list says. "
    if border.edging is Edging.MITRED:
        run = _mitred_run(facts.quilt, number)
        if number < run[-1]:
            yield Paragraph(f"It is sewn to the strips of border {number + 1} first: see there.")
            return
        together = ""
        if len(run) > 1:
            together = (
                f" Sew the strips of borders {say_list([str(one) for one in run])} of each side together first, "
                "their middles on each other and all as long as the outermost; from then on they are one strip."
            )
        yield Points(
            (
                f"{joined}Mitred strips are cut longer than this: their ends are trimmed once the corner is sewn."
                f"{together}",
                "Mark the middle of each strip and of each side of the quilt, and on each strip half the "
                "quilt's finished length to both sides of its middle. Sew from mark to mark, and stop one "
                "allowance before each corner of the quilt; secure both ends.",
                "At each corner fold the quilt in half along the diagonal, the two strips right sides together "
                "and edge on edge. Draw a line at 45 degrees from the end of the seam to the outer edge, pin, "
                "and sew from the inside out.",
                "Open it: the corner must lie flat and square. Trim the strips beside the seam and press it open.",
            ),
            numbered=True,
        )
        return
    if border.edging is Edging.COPING:
        yield Points((joined.rstrip(), *_coping(after, {cloth.row % 2 for cloth in long}, units)), numbered=True)
        return
    corner = _corner(facts.quilt, strips, border, number)
    ends = f" with {corner} at their ends: sew these on first" if corner else ""
    yield Points(
        (
            f"{joined}Sew on the left and the right strip first; press towards the strip.",
            f"Measure again through the middle, and sew on top and bottom{ends}; press towards the strip.",
        ),
        numbered=True,
    )


def _coping(after: tuple[float, float], ways: set[int], units: Units) -> Iterator[str]:
    """Coping strips are sewn on wider, and trued up one way before the other is sewn on: so these are long enough.

    Args:
        after: unfinished width and height that the quilt must have then. ways: 1 for strips at the sides, 0 for
            those at top and bottom.
    """
    wider, across, down = (say_length(side, units, glyphs=True) for side in (WIDER_IN[units], *after))
    yield f"Coping strips are cut {wider} wider than this: what is too much is cut off once they are sewn on."
    if 1 in ways:
        yield (
            "Sew on the left and the right strip; press towards the strip. Then lay a ruler square over the top "
            f"and true it up to a width of {across}, as much off at the left as at the right."
        )
    if 0 in ways:
        again = "Measure through the middle again, and sew" if 1 in ways else "Sew"
        yield (
            f"{again} on top and bottom; press towards the strip. True it up to a height of {down}, as much "
            "off above as below."
        )
    yield "Only at this size does the pieced border come out: measure it once more before you go on."


def _mitred_run(quilt: Quilt, number: int) -> list[int]:
    """Numbers of the mitred borders that follow each other, this one among them."""
    return next(run for run in mitred_runs(quilt.setting.borders) if number in run)


def _corner(quilt: Quilt, strips: list[Cloth], border: Border, number: int) -> str:
    squares = [cloth for cloth in strips if cloth.role is Role.BORDER_CORNER]
    if squares:
        return f"{say_count(len(squares), 'corner square')} of {squares[0].fabric}"
    blocks = [spot for spot in quilt.spots if spot.part == f"border {number}"]
    return f"the {len(blocks)} corner blocks ({quilt.looks[blocks[0].look].name})" if blocks else ""


def _said(size: tuple[float, float], more_in: float, units: Units) -> str:
    return say_size(size[0] + more_in, size[1] + more_in, units, glyphs=True)


def _size(cloth: Cloth) -> tuple[float, float]:
    """Longer side first."""
    return max(cloth.width_in, cloth.height_in), min(cloth.width_in, cloth.height_in)
