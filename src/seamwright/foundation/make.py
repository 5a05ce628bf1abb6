"""Foundations: every section of a plan as it is printed, with all that the sewer needs at the needle.

Knows:  how the parts of a print come together: lay, lines, words.
Leaves: lines (lines), words (wording), what prints of a plan share (common), sheets.
Units:  inches as printed: the mirror image of the front view, since the fabric lies on the blank side.
Method: lines first; then words by how much the sewer needs them, each kept clear of all before it. Nothing but
        the trim line lies on or outside the trim line, so that prints may be laid close.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

from seamwright.cutting.pieces import pieces_of
from seamwright.fabric.pieces import Piece
from seamwright.foundation.common import Common, common_to
from seamwright.foundation.directions import foundation_patch
from seamwright.foundation.lay import printed_at_origin
from seamwright.foundation.lines import lines_of
from seamwright.foundation.model import Foundation, Use
from seamwright.foundation.places import Place
from seamwright.foundation.purpose import use_of
from seamwright.foundation.room import Room
from seamwright.foundation.tints import tinted, tints_of
from seamwright.foundation.windows import windows
from seamwright.foundation.wording import place_words
from seamwright.geometry import after, canonical_ring
from seamwright.options import PrintOptions
from seamwright.piecing.model import Plan
from seamwright.units import say_list


def foundations(plan: Plan, printing: PrintOptions | None = None) -> tuple[Foundation, ...]:
    """The print of every section in the order of the plan, plain pieces too, but for what is cut by ruler.

    () for a plan without sections, or without any on paper.

    Of windows one for every patch in its place, equal ones once.

    Args:
        printing: what is printed: foundations, front views or windows, tinted or not; None: the usual foundations.
    """
    common, how = common_to(plan), printing or PrintOptions()
    if how.windows:
        return windows(common)
    pieces = {piece.patch: piece for piece in pieces_of(plan)}
    on_paper = [places for places in common.drawings if places[0].section.method == "paper"]
    drawn = {one.section: one for places in on_paper for one in _foundations(common, places, how, pieces)}
    return tuple(drawn[section.name] for section in plan.sections if section.name in drawn)


def _foundations(
    common: Common, places: Sequence[Place], printing: PrintOptions, pieces: Mapping[int, Piece]
) -> Iterator[Foundation]:
    """One drawing, as the foundation of each place that it serves; `pieces`: the fabric by number of the patch."""
    first = _drawn(common, places, printing, pieces)
    for place in places:
        names = [common.names[patch] for patch in place.section.patches]
        yield replace(
            first,
            section=place.section.name,
            patches=tuple(replace(p, name=name) for p, name in zip(first.patches, names, strict=True)),
            front=after(place.motion, first.front),
        )


def _drawn(
    common: Common, places: Sequence[Place], printing: PrintOptions, pieces: Mapping[int, Piece]
) -> Foundation:
    """One print: its lines, then its words."""
    block, section = common.plan.block, places[0].section
    use = use_of(section, printing)
    lay = printed_at_origin(common.trims[section.name], mirrored=use is Use.SEW)
    tints = tints_of(block, section, lay) if tinted(printing) else ()
    lines = lines_of(common, places, lay, use)
    room = Room(lines.obstacles())
    fabric = [pieces[patch] for patch in section.patches] if use is Use.SEW else []
    worded = place_words(common, places, lay, lines, room, printing, fabric)
    return Foundation(
        drawing=block.file,
        block=block.title,
        colourway=block.colourway,
        block_reversed=block.reversed,
        section=section.name,
        print=section.print,
        label=common.labels[section.name],
        front=lay.affine,
        kind=section.kind,
        use=use,
        mirrored=lay.mirrored,
        reversed=section.reversed,
        stitch_outline=canonical_ring(lines.stitch),
        trim_outline=canonical_ring(lines.trim),
        patches=tuple(
            replace(foundation_patch(common.names[patch], lay.ring(block.patch_ring(patch)), mark), laid=laid)
            for patch, mark, laid in zip(section.patches, worded.marked, worded.laid, strict=True)
        ),
        seams=lines.seams,
        marks=lines.marks,
        grain=worded.grain,
        ink=(*tints, *lines.ink(worded.inner), *room.ink),
        legend=worded.legend,
        stops=(*lines.dots, *lines.rings),
    )


def with_loose_ends(prints: Sequence[Foundation], pairs: Sequence[tuple[str, str]]) -> tuple[Foundation, ...]:
    """Prints that say beside which others their tips cannot lie edge on edge, for there is too little room.

    Args:
        pairs: names of the two sections, for every such end of a seam.
    """
    labels = {print_.section: print_.label for print_ in prints}
    told: list[Foundation] = []
    for print_ in prints:
        others = [one if two == print_.section else two for one, two in pairs if print_.section in (one, two)]
        beside = say_list(list(dict.fromkeys(labels[name] for name in others))) if others else ""
        if beside and print_.use is not Use.WINDOW:
            line = f"{print_.label}: one tip reaches past {beside}; pin through the points, do not go by the edges"
            print_ = replace(print_, legend=(*print_.legend, line))
        told.append(print_)
    return tuple(told)
