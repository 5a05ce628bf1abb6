"""All that a print says: which words it needs, in the order of their weight, and what its legend says instead.

Knows:  what a sewer must be told of a section, and what of it is left to the legend.
Leaves: where each word finds room (numbers, words), lines (lines).
Units:  inches as printed.
Method: words by how much the sewer needs them, each kept clear of all before it.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from shapely.geometry import Polygon

from seamwright.fabric.laying import sides
from seamwright.fabric.pieces import Piece
from seamwright.foundation.beforehand import name_seams_inside, place_seams_inside
from seamwright.foundation.border import Stretch
from seamwright.foundation.common import Common, grain_words, printed_letter
from seamwright.foundation.directions import Marked, place_directions
from seamwright.foundation.lay import Lay
from seamwright.foundation.laying import name_marks, place_outlines, place_ticks
from seamwright.foundation.lines import PrintLines, given_way
from seamwright.foundation.marks import unmatched
from seamwright.foundation.model import LaidPiece, Use
from seamwright.foundation.numbers import place_numbers
from seamwright.foundation.places import Place, common_stretches, said_of_places
from seamwright.foundation.printed import PrintedPatch, PrintedStretch, printed_patch, printed_stretch
from seamwright.foundation.purpose import place_purpose, use_of
from seamwright.foundation.room import Room
from seamwright.foundation.words import (
    ordinal,
    place_edges,
    place_grain,
    place_letter,
    place_name,
    place_neighbours,
    unseen_arrow,
)
from seamwright.geometry import Segment
from seamwright.options import PrintOptions
from seamwright.piecing.cloth import SHOWS_THROUGH, shadowed
from seamwright.piecing.model import Section
from seamwright.units import say_list, say_size

BEFORE_CURVE = "take the paper out of the allowance along the curve, then pin at every mark"
"""Common practice: paper does not stretch round a bend, and a curve is eased in between pins."""


@dataclass(frozen=True, slots=True)
class Worded:
    """What became of the words of a print, whose ink is in its room.

    Attributes:
        inner: the inner run-ons that are left. grain: the arrow, from tail to head, drawn or not.
        legend: what is said beside the print.
        marked: for each patch in sewing order where its fabric runs; laid: how it is laid.
    """

    inner: tuple[Segment, ...]
    grain: Segment
    legend: tuple[str, ...]
    marked: tuple[tuple[Marked, ...], ...]
    laid: tuple[LaidPiece | None, ...]


def place_words(
    common: Common,
    places: Sequence[Place],
    lay: Lay,
    lines: PrintLines,
    room: Room,
    printing: PrintOptions,
    pieces: Sequence[Piece] = (),
) -> Worded:
    """Words of the print that serves `places`, placed in its room, the most needed first.

    Args:
        pieces: the fabric of its patches in sewing order, to show how it is laid on; () where nothing is sewn.
    """
    section, letter = places[0].section, common.labels[places[0].section.name]
    stitch, trim = lines.stitch, lines.trim
    patches = patches_as_printed(common, section, lay)
    rings = [patch.ring for patch in patches]
    walked = common_stretches(places, common.borders, common.letters)
    borders = _borders(common, walked, lay, lines)

    place_seams_inside(room, lay, common.plan.block, section, trim)
    place_ticks(room, lay, pieces)
    legend = list(place_numbers(room, patches, stitch, trim, lines.seams, lines.inner))
    inner = given_way(lines.inner, room.boxes)
    room.avoid(*inner)
    marked, said = place_directions(room, lay, common.plan.block, section, patches, letter)
    legend += said
    laid = place_outlines(room, lay, pieces, trim, common.plan.options.seam_allowance_in)
    legend += name_seams_inside(room, lay, common.plan.block, section, patches, printed_letter(section))
    legend += place_purpose(room, common, places, printing, patches, borders)
    place_letter(room, letter, rings, stitch, trim)
    direction = lay.direction_deg(common.grains_deg[section.name])
    grain = place_grain(room, direction, rings, stitch, trim)
    if grain is None:
        legend.append(f"{letter}: {grain_words(common, section)}")
        grain = unseen_arrow(stitch[0], direction)
    borderlines = [*lines.seams, *sides(stitch), *sides(trim)]
    naming = [patch.letter + patch.number for patch in patches] if laid else []
    marks_said = tuple(name_marks(room, naming, laid, borderlines, trim))
    unsaid = place_neighbours(room, borders)
    told = not any(s.varies or (s.neighbour and s.join is None) for s in walked)
    if unsaid and told:
        legend.append(f"{letter} joins {', '.join(unsaid)}")
    if len(places) > 1:
        legend += _shared(common, places, told=told)
    block, units = common.plan.block, common.plan.options.units
    name = f"{block.title}, {say_size(block.width_in, block.height_in, units, glyphs=True)}"
    if not place_edges(room, borders, name):
        place_name(room, name, rings, borders)
    if use_of(section, printing) is not Use.VIEW:
        legend += _needlework(common, section, walked, lines)
    return Worded(inner, grain, (*legend, *marks_said), marked, laid or (None,) * len(patches))


def patches_as_printed(common: Common, section: Section, lay: Lay) -> list[PrintedPatch]:
    """The patches of a section in sewing order."""
    letter = printed_letter(section)
    return [
        printed_patch(common.plan.block, lay, section, place, letter, common.codes)
        for place in range(len(section.steps))
    ]


def _borders(common: Common, walked: Sequence[Stretch], lay: Lay, lines: PrintLines) -> list[PrintedStretch]:
    free = Polygon(lines.trim).difference(Polygon(lines.stitch))
    allowance = common.plan.options.seam_allowance_in
    return [printed_stretch(lay, stretch, allowance, free) for stretch in walked]


def _shared(common: Common, places: Sequence[Place], *, told: bool) -> Iterator[str]:
    """What is said of a drawing that serves several places; `told`: its edges join the same at all of them."""
    section = places[0].section
    letter = common.labels[section.name]
    if any(unmatched(common.marks[place.section.name], common.borders[place.section.name]) for place in places):
        yield f"{letter}: a mark that finds none across the join has nothing to match there"
    whole = letter == common.letters[section.name]
    yield from said_of_places(places, {} if told else common.borders, letter, whole=whole)


def _needlework(common: Common, section: Section, walked: Sequence[Stretch], lines: PrintLines) -> Iterator[str]:
    """What is to be minded while sewing: where to stop, dark allowances, paper in a curve."""
    letter, on_patches = common.labels[section.name], printed_letter(section)
    if lines.dots:
        # Leaders and the corners of templates have small ones.
        yield f"{letter}: stop at the large dot, secure the thread, do not sew past it"
    if lines.rings:
        closing = dict.fromkeys(t.join for p, t in common.turns.items() if t.is_half and p in section.outline)
        goes = f"{say_list([ordinal(join) for join in closing])} join{'s' * (len(closing) > 1)}"
        yield f"{letter}: stop at the ring first, secure; the {goes} will sew on from it"
    if dark := [
        f"{' and '.join(f'{on_patches}{number}' for number in darker)} under {on_patches}{step}"
        for step, darker in shadowed(common.plan.block, section)
    ]:
        yield f"{SHOWS_THROUGH}: {', '.join(dark)}"
    if section.kind == "foundation" and any(s.neighbour and len(s.points) > 2 for s in walked):
        yield f"{letter}: {BEFORE_CURVE}"
