"""What is said of borders: in which order, how long, what to measure.

Knows:  sizes of borders that are laid already.
Leaves: laying them (borders), cutting their strips (cutting).
Units:  inches, finished; told in the units asked for.
Limits: a length that no ruler shows (blocks on point) is told to 1/8 in or half a millimetre, with the advice to
        measure one's own top.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import groupby

from seamwright.notes import Note
from seamwright.options import Units
from seamwright.quilt.coping import EASE_IN, NOISE_IN, Pair, Repeated, how_many
from seamwright.quilt.model import Border, Edging, Quilt
from seamwright.units import say_count, say_length, say_list, say_size

SPARE_IN = {Units.INCH: 2.0, Units.METRIC: 5 / 2.54}
"""A mitred strip is cut longer by so much at each end, and trimmed when its corner is sewn (common practice)."""
WIDER_IN = {Units.INCH: 0.25, Units.METRIC: 0.5 / 2.54}
"""Coping strips are cut wider by so much, for there is no second chance to be large enough (common practice)."""


def border_note(
    border: Border,
    number: int,
    box: tuple[float, float, float, float],
    wide: Pair,
    repeated: Repeated | None,
    units: Units,
) -> Note:
    """One border: what is sewn in which order, and how long.

    Args:
        number: from 0. box: what it goes round: left, top, right, bottom. wide: its widths.
        repeated: the block of a pieced border.
    """
    sides, ends = box[3] - box[1], box[2] - box[0]

    def told(inches: float) -> str:
        return say_length(inches, units, finest=8)

    name = f"border {number + 1}"
    if repeated is not None:
        across, down = how_many(ends, repeated.along_in), how_many(sides, repeated.along_in)
        text = (
            f"{name}: {say_count(down, 'block')} at each side first, then {across} at top and bottom with a corner "
            "at each end; tops to the outside"
        )
    elif border.edging is Edging.MITRED:
        long, short = told(ends + 2 * wide[0]), told(sides + 2 * wide[0])
        text = (
            f"{name}: mitred; strips {long} (top and bottom) and {short} (sides) finished, the side and twice the "
            f"width; cut them with both seam allowances and {told(SPARE_IN[units])} to spare at each end, and trim "
            "when the corner is sewn"
        )
    elif border.corners or border.corner is not None:
        text = (
            f"{name}: measure through the middle both ways before sewing; sides first, {told(sides)} finished, "
            f"then top and bottom, {told(ends)} finished, with a corner at each end"
        )
    else:
        text = (
            f"{name}: sides first, {told(sides)} finished, measured through the middle, then top and bottom over "
            f"them, {told(ends + 2 * wide[0])} finished"
        )
    if border.edging is Edging.COPING:
        size = say_size(ends + 2 * wide[0], sides + 2 * wide[1], units, finest=8)
        left, top = (say_length(w, units) if w > NOISE_IN else "none" for w in wide)
        text = (
            f"{name}: coping strips, {left} at the sides and {top} at top and bottom; cut them "
            f"{told(WIDER_IN[units])} wider, sides first, and true up width and height as soon as their strips are "
            f"on, to {size} and its seam allowances"
        )
    return Note("border", text)


def mitred_runs(borders: Sequence[Border]) -> list[list[int]]:
    """Numbers, from 1, of mitred borders that follow each other: they are sewn into one (common practice)."""
    numbered = groupby(enumerate(borders, start=1), key=lambda one: one[1].edging is Edging.MITRED)
    return [[number for number, _ in run] for mitred, run in numbered if mitred]


def mitred_together(borders: Sequence[Border]) -> list[Note]:
    """How mitred borders that follow each other are sewn into one before they go on."""
    return [
        Note(
            "border",
            f"borders {say_list([str(n) for n in run])} are mitred: sew the strips of each side together first, "
            "their middles on each other and all as long as the outermost, and mitre them as one",
        )
        for run in mitred_runs(borders)
        if len(run) > 1
    ]


def measuring_notes(centre: Quilt, units: Units) -> list[Note]:
    """What to do where no ruler shows the size of the centre."""
    size = (centre.width_in, centre.height_in)
    if all(_is_on_ruler(side, units) for side in size):
        return []
    text = (
        f"the centre is {say_size(*size, units, finest=8)}, which no ruler shows exactly: measure your own through "
        "the middle first and cut borders to that"
    )
    return [Note("measure", text)]


def eased_note(part: str, most_in: float, units: Units = Units.INCH) -> Note:
    """What the sides of a border and its blocks differ by; the proof of the quilt allows for it."""
    text = (
        f"{part}: its blocks and what they are sewn to differ by {say_length(most_in, units)}, which pins ease in "
        f"(up to {say_length(EASE_IN, units)} over a side)"
    )
    return Note("eased", text, 1, most_in)


def _is_on_ruler(inches: float, units: Units) -> bool:
    """Whether a ruler shows a length, to half a hair: eighths of an inch, or millimetres."""
    marks = inches * (8 if units is Units.INCH else 25.4)
    return abs(marks - round(marks)) <= 0.02
