"""Seams repeated round a point or mirrored.

Knows:  which turns and mirror images make so many of each; which pieces are repeated.
Leaves: what of an image is new and lies in the block (clip).
Units:  inches of the finished block; angles in degrees clockwise from level.
Method: with mirror images the copies are those of a kaleidoscope whose mirrors cross at the point, 360 degrees
        divided by the count apart.
"""

from __future__ import annotations

from seamwright.geometry import Affine, Point
from seamwright.sketch.draft import Draft, Rewriting, checked, draft_of, refuse
from seamwright.sketch.draw import added, direction
from seamwright.sketch.edits import Copies
from seamwright.sketch.erase import spans_on
from seamwright.sketch.patches import coloured, with_fabrics
from seamwright.sketch.strand import Strand
from seamwright.units import say_point

COUNTS = (2, 4, 6, 8)


def copied(text: str, edit: Copies) -> str:
    """The text with seams repeated.

    Raises:
        DrawingError: the text cannot be read. OptionError: the count is none that is made, a seam is not there,
            or nothing new comes of it.
    """
    if edit.count not in COUNTS and not (edit.count == 1 and edit.mirrored):
        raise refuse(f"{edit.count} copies round a point are not made", "Choose 2, 4, 6 or 8, or a mirror image")
    draft = draft_of(text)
    chosen = [part for piece in edit.seams for part in _parts(draft, piece)] if edit.seams else draft.strands
    if not chosen:
        raise refuse("there is no seam to copy", "Draw one first")
    images = [strand.moved(affine) for affine in transforms(edit)[1:] for strand in chosen]
    new = added(draft, images)
    if not new:
        raise refuse(
            "the copies all lie on seams that are there, on the edge or outside of the block",
            "Choose another point, count or seam",
            edit.about,
        )
    rewriting = Rewriting(draft)
    rewriting.add(new)
    return checked(with_fabrics(rewriting.text(), coloured(draft)), "the drawing")


def transforms(edit: Copies) -> list[Affine]:
    """The turns and mirror images that the copies are, that which changes nothing first."""
    if not edit.mirrored:
        return [_turned(edit.about, 360 * k / edit.count) for k in range(edit.count)]
    count = max(edit.count, 2)
    made = []
    for k in range(0, count, 2):
        made += [_turned(edit.about, 360 * k / count), _mirrored(edit.about, edit.degrees + 180 * k / count)]
    return made


def _turned(about: Point, degrees: float) -> Affine:
    across, down = direction(degrees)
    return _round(about, across, down, -down, across)


def _mirrored(about: Point, degrees: float) -> Affine:
    across, down = direction(2 * degrees)
    return _round(about, across, down, down, -across)


def _round(about: Point, a: float, b: float, c: float, d: float) -> Affine:
    """The transform that leaves a point where it is."""
    x, y = about
    return a, b, c, d, x - a * x - c * y, y - b * x - d * y


def _parts(draft: Draft, piece: tuple[Point, ...]) -> list[Strand]:
    flats = [strand.flat() for strand in draft.strands]
    found = spans_on(draft.strands, flats, piece, draft.near)
    if not found:
        raise refuse(
            f"no seam runs from {say_point(piece[0])} to {say_point(piece[-1])}", "Choose a seam", piece[0]
        )
    return [draft.strands[number].part(*span) for number, span in found]
