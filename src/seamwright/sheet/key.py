"""The key: a small picture of the block from the front, the sections of this sheet tinted.

Knows:  how to draw the outline, the seams, the joins and the letters small.
Leaves: where the key lies (layout).
Units:  points from its own top left corner.
"""

from __future__ import annotations

from collections.abc import Collection

from seamwright.geometry import Point, Ring
from seamwright.ink.lettering import centred, width_pt
from seamwright.ink.model import Area, Ink, Pen, Stroke
from seamwright.ink.place import place_words, roomiest
from seamwright.options import Units
from seamwright.piecing.model import Plan
from seamwright.sheet.furniture import NOTE_PT, NOTE_STEP, Item, column
from seamwright.units import say_size

TINT = "#dcdcdc"
"""14 % grey: letters stay clear on it, a copier keeps it."""
LETTER_PT = (12.0, 10.0, 8.0, 7.0)
SMALL_PT = 7.0


def key(plan: Plan, shown: Collection[str], side: float, units: Units = Units.INCH) -> Item:
    """The key of one block with its name and finished size below.

    Args:
        shown: names of the sections whose prints lie on this sheet.
        side: length of the block's longer side in the picture, points.
    """
    block = plan.block
    scale = side / max(block.width_in, block.height_in)

    def ring(numbers: Collection[int]) -> Ring:
        return tuple((block.points[n][0] * scale, block.points[n][1] * scale) for n in numbers)

    outlines = {section.name: ring(section.outline) for section in plan.sections}
    ink: list[Ink] = [Area((outline,), TINT) for name, outline in outlines.items() if name in shown]
    section_of = {patch: section.name for section in plan.sections for patch in section.patches}
    for number, edge in enumerate(block.edges):
        inside = edge.seam >= 0 and section_of.get(edge.left) == section_of.get(edge.right)
        points = tuple((x * scale, y * scale) for x, y in block.edge_points(number))
        ink.append(Stroke(Pen.HELPER if inside else Pen.STITCH, points))
    for name, outline in outlines.items():
        ink.append(_letter(name, outline, bold=name in shown))
    width, height = block.width_in * scale, block.height_in * scale
    lines = [block.name, f"{say_size(block.width_in, block.height_in, units)} finished", f"plan {plan.id}"]
    ink += column(lines[:1], 0.0, height + 2.0, NOTE_PT, NOTE_STEP, bold=True)
    ink += column(lines[1:], 0.0, height + 2.0 + NOTE_STEP, NOTE_PT, NOTE_STEP)
    widest = max(width, width_pt(lines[0], NOTE_PT, bold=True), *(width_pt(line, NOTE_PT) for line in lines[1:]))
    return Item(widest, height + 2.0 + NOTE_STEP * len(lines), tuple(ink))


def _letter(name: str, outline: Ring, *, bold: bool) -> Ink:
    words = place_words(outline, name, LETTER_PT, clearance_pt=1.0, unit_pt=1.0, bold=bold)
    if words is not None:
        return words
    # Too small for its letter: the letter lies over the section's lines at the roomiest place.
    middle: Point
    middle, _ = roomiest(outline)
    return centred(name, middle, SMALL_PT, unit_pt=1.0, bold=bold)
