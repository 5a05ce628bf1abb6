"""The chapter that finishes a quilt: backing, batting, quilting, and the binding step by step.

Knows:  the steps, and two small pictures of them.
Leaves: how much of each (quilt.extras).
Units:  inches in, words out. Common practice throughout.
"""

from __future__ import annotations

from collections.abc import Iterator

from seamwright.booklet.model import Figure, Heading, Item, Paragraph, Points, Step, Story
from seamwright.ink.model import Anchor, Area, Ink, Pen, Stroke, Words
from seamwright.options import Units
from seamwright.picture.tints import INK, WHITE
from seamwright.quilt.cutmodel import BackingCut, BindingCut
from seamwright.quiltfacts import QuiltFacts
from seamwright.units import say_count, say_length, say_size

STRIP = "#d8d4ca"
"""The right side of a strip in the pictures."""


def finish_needs(facts: QuiltFacts) -> Story:
    """What is needed beyond the blocks, to cut, lay out and finish a quilt."""
    cutting = facts.cutting
    long = "24 in" if cutting.units is Units.INCH else "60 cm"
    needed = [
        f"A ruler of {long} or longer for strips, and a large square one to true up corners.",
        "Room to lay all blocks out, and a camera or a telephone to look at them with.",
    ]
    if cutting.batting is not None or cutting.backing is not None:
        needed += [
            "Tape, and safety pins that do not rust, or thread to baste with, for the layers.",
            "Thread to quilt with; by machine a walking foot, which moves all layers alike.",
        ]
    if cutting.binding is not None:
        needed.append("For the binding clips or pins, and a needle and thread to sew by hand.")
    return (Heading("For the whole quilt", 2), Points(tuple(needed), boxes=True))


def finish_story(facts: QuiltFacts) -> Story:
    """What is done once the top is whole."""
    cutting, quilt = facts.cutting, facts.quilt
    units = cutting.units
    more = 2 * cutting.allowance_in
    size = say_size(quilt.width_in, quilt.height_in, units, glyphs=True)
    grown = say_size(quilt.width_in + more, quilt.height_in + more, units, glyphs=True)
    items: list[Item] = [
        Heading("Finishing the quilt"),
        Paragraph(
            f"The top measures {grown} unfinished, {size} finished. Press it from the front, clip "
            "threads from the back: dark ones shadow through light fabric."
        ),
    ]
    edge = "1/8 in" if units is Units.INCH else "3 mm"
    items.append(Paragraph(f"Stitch {edge} from the edge all round if seams end there, so that none opens."))
    if cutting.backing is not None:
        items += _backing(cutting.backing, units)
    if cutting.batting is not None:
        batting = cutting.batting
        over = say_length(batting.over_in, units, glyphs=True)
        said = say_size(batting.width_in, batting.height_in, units, glyphs=True)
        items += [
            Heading("Batting", 2),
            Paragraph(
                f"One piece of {said}, {over} beyond the top on each side. Let it lie flat for a night, or "
                "follow its maker; its maker also says how close it has to be quilted."
            ),
        ]
    items += [
        Heading("Layers", 2),
        Points(
            (
                "Lay the back with its wrong side up on a clean floor or table and tape its edges, taut but not "
                "stretched.",
                "Lay the batting on it, then the top with its right side up; smooth both from the middle outwards.",
                "Pin or baste a hand's width apart, from the middle outwards; count the pins, and close every one.",
                "Quilt from the middle outwards. Take every pin out before the needle comes to it.",
            ),
            numbered=True,
        ),
    ]
    if cutting.binding is not None:
        items += _binding(cutting.binding, units, cutting.allowance_in)
    items.append(
        Paragraph(
            "At the end count pins and needles once more, and sew a label to the back: who made the quilt, when, "
            "and how it may be washed."
        )
    )
    return tuple(items)


def _backing(back: BackingCut, units: Units) -> Iterator[Item]:
    yield Heading("Backing", 2)
    said = say_size(back.width_in, back.height_in, units, glyphs=True)
    over, panel = (say_length(side, units, glyphs=True) for side in (back.over_in, back.panel_in))
    of = f" of {back.fabric}" if back.fabric else ""
    told = f"The back{of} measures {said}, {over} beyond the top on each side. "
    if back.panels == 1:
        yield Paragraph(f"{told}It is one panel, {panel} long: it has no seam.")
        return
    way = "from top to bottom" if back.upright else "from side to side"
    seam = say_length(back.seam_in, units, glyphs=True)
    seams = "Its seam runs" if back.panels == 2 else "Its seams run"
    yield Paragraph(
        f"{told}It is sewn of {say_count(back.panels, 'panel')}, each {panel} long, side by side. {seams} "
        f"{way}: the other way would not take less fabric. Cut the selvedges off first, sew with {seam}, and "
        "press the seams open."
    )


def _binding(binding: BindingCut, units: Units, allowance_in: float) -> Iterator[Item]:
    width, needed, whole = (
        say_length(side, units, glyphs=True) for side in (binding.width_in, binding.needed_in, binding.length_in)
    )
    of = f" of {binding.fabric}" if binding.fabric else ""
    yield Heading("Binding", 2)
    yield Paragraph(
        f"{say_count(binding.strips, 'strip')}{of}, {width} wide as cut, folded double. Joined they are {whole} "
        f"long; {needed} are needed, the edge of the quilt and what corners and ends take."
    )
    if binding.strips > 1:
        yield Step(
            _joint(),
            "Join",
            "strips on the diagonal",
            (
                "Lay two ends right sides together at a right angle, one upright, one level; draw a line from "
                "corner to corner and sew on it.",
                "Trim beside the line to an allowance, press the seam open, and go on with the next strip.",
            ),
        )
    allowance = say_length(allowance_in, units, glyphs=True)
    yield Step(
        _corner(),
        "Fold",
        "at a corner",
        (
            f"Stop {allowance} before the corner and secure the seam. Fold the binding up, away from the quilt, so "
            "that its fold lies at 45 degrees and its edge goes on in the line of the next edge (1).",
            "Fold it down again over the next edge, the fold level with the edge behind (2), and sew on from the "
            "top.",
        ),
    )
    tail = "10 in" if units is Units.INCH else "25 cm"
    yield Points(
        (
            "Press the binding in half along its length, wrong sides together.",
            "When all is quilted, trim batting and back even with the top, with square corners.",
            f"Begin on the front, in the middle of one side, {tail} of binding left free. Both its raw edges lie "
            f"on the edge of the quilt; sew through all layers with {allowance}.",
            f"Stop {tail} before the place where you began. Lay both ends over each other, cut them so that "
            "they overlap by the width of the strip as cut, join them on the diagonal as above, and sew what "
            "is left.",
            "Turn the fold to the back over the seam, and sew it down there by hand, a stitch just over the line.",
        ),
        numbered=True,
    )


def _joint() -> Figure:
    """Two ends at a right angle, the line from corner to corner."""
    level = ((0.1, 0.5), (1.6, 0.5), (1.6, 1.1), (0.1, 1.1))
    upright = ((1.0, 0.5), (1.6, 0.5), (1.6, 2.0), (1.0, 2.0))
    inks: list[Ink] = [
        Area((level,), STRIP),
        Stroke(Pen.RULE, level, closed=True, colour=INK),
        Area((upright,), WHITE),
        Stroke(Pen.RULE, upright, closed=True, colour=INK),
        Stroke(Pen.TRIM, ((1.0, 0.5), (1.6, 1.1)), colour=INK),
        Words("right side", (0.45, 0.84), 8.0, Anchor.MIDDLE, colour=INK),
        Words("wrong side", (1.3, 1.55), 8.0, Anchor.MIDDLE, colour=INK),
    ]
    says = (
        "Two strips at a right angle, right sides together, and the line on which they are sewn, corner to corner"
    )
    return Figure(tuple(inks), 2.2, 2.1, says)


def _corner() -> Figure:
    """The binding at a corner, folded up and then down."""
    inks: list[Ink] = []
    for left, mark in ((0.0, "1"), (1.55, "2")):
        quilt = ((left, 0.75), (left + 0.9, 0.75), (left + 0.9, 1.9), (left, 1.9))
        inks += [Area((quilt,), WHITE), Stroke(Pen.RULE, quilt, closed=True, colour=INK)]
        level = ((left, 0.75), (left + 0.6, 0.75), (left + 0.9, 1.05), (left, 1.05))
        inks += [Area((level,), STRIP), Stroke(Pen.RULE, level, closed=True, colour=INK)]
        if mark == "1":
            up = ((left + 0.6, 0.1), (left + 0.9, 0.1), (left + 0.9, 1.05), (left + 0.6, 0.75))
            inks += [Area((up,), STRIP), Stroke(Pen.RULE, up, closed=True, colour=INK)]
        else:
            down = ((left + 0.6, 0.75), (left + 0.9, 0.75), (left + 0.9, 1.9), (left + 0.6, 1.9))
            inks += [Area((down,), STRIP), Stroke(Pen.RULE, down, closed=True, colour=INK)]
        inks.append(Words(mark, (left + 0.3, 1.5), 9.0, Anchor.MIDDLE, bold=True, colour=INK))
    says = "The binding at a corner of the quilt: folded up at 45 degrees, then folded down along the next edge"
    return Figure(tuple(inks), 2.5, 2.0, says)
