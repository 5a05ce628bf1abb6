"""The cutting of a quilt in sentences on one screen: what to buy, binding, back and batting, strips and subcuts.

Knows:  which facts are told, in which order.
Leaves: every fact itself (quilt.cutting), sentences of one fabric (words.cuts), the same facts as data
        (report.quiltcuts), as a table (report.quilttable) and as pages (booklet.quiltcuts).
"""

from __future__ import annotations

from collections.abc import Iterator

from seamwright.booklet.tables import BLADE
from seamwright.cutting.shopping import bought_of
from seamwright.options import Cloth, Units
from seamwright.quilt.cutmodel import BackingCut, BattingCut, BindingCut, Joined, Joint, QuiltCutting
from seamwright.quilt.partnames import parts_said
from seamwright.units import say_bought, say_count, say_length, say_list, say_size
from seamwright.words.checks import note_words
from seamwright.words.cuts import (
    LEAST,
    SCREEN,
    buy_words,
    counted_words,
    fabric_words,
    narrow,
    some_patches,
    units_words,
)


def quilt_cutting_words(cutting: QuiltCutting) -> list[str]:
    """Lines for a person."""
    units, spare = cutting.units, cutting.options.spare
    bought = buy_words([bought_of(cut) for cut in cutting.fabrics], spare, units)
    lines = [f"{titled(cutting)}: buy {bought}.", *edge_words(cutting)]
    if too_narrow := narrow(cutting.fabrics):
        be = "is" if len(too_narrow) == 1 else "are"
        lines.append(f"Not all is counted: {say_list(too_narrow)} {be} too narrow for some pieces, see the notes.")
    called = parts_said(cutting, lambda _, names: some_patches(names))
    least = max(LEAST, SCREEN // max(1, len(cutting.fabrics)))
    for cut in cutting.fabrics:
        lines += fabric_words(cut, spare, units, least, called)
        name = None if cut.fabric is None else cut.fabric.name
        lines += [f"  {joined_words(strips, units)}" for strips in cutting.joined if strips.fabric == name]
    lines += units_words(cutting.made, units, called)
    lines += [note_words(note) for note in cutting.all_notes]
    cloths: dict[Cloth, None] = {cut.cloth: None for cut in cutting.fabrics}
    lines += [line for cloth in cloths for line in counted_words(cloth, units)]
    told = " but those told of as too large" if too_narrow else ""
    lines.append(
        f"Proven: every patch of all blocks and every plain piece of the quilt{told} has its piece, large enough "
        "for its finished size and its seam allowances; each piece lies in its strip, and what is bought holds all "
        "strips and the spare; and sewn in the rehearsal, the pieces of each block cover their patches."
    )
    lines.append(BLADE)
    return [lines[0], *(f"  {line}" for line in lines[1:])]


def titled(cutting: QuiltCutting, *, glyphs: bool = False) -> str:
    """Such as "evening watch, a quilt of 72 1/2 x 90 in with 48 blocks"."""
    quilt = cutting.quilt
    size = say_size(quilt.width_in, quilt.height_in, cutting.units, glyphs=glyphs)
    return f"{quilt.setting.name}, a quilt of {size} with {say_count(len(quilt.spots), 'block')}"


def edge_words(cutting: QuiltCutting, *, glyphs: bool = False) -> Iterator[str]:
    """Binding, back and batting, a sentence or two each."""
    if cutting.binding is not None:
        yield _binding(cutting.binding, cutting.units, glyphs)
    if cutting.backing is not None:
        yield _backing(cutting.backing, cutting.units, glyphs)
    if cutting.batting is not None:
        yield _batting(cutting.batting, cutting.units, glyphs)


def _binding(made: BindingCut, units: Units, glyphs: bool) -> str:
    def told(inches: float) -> str:
        return say_length(inches, units, finest=8, glyphs=glyphs)

    of = f" of {made.fabric}" if made.fabric else ""
    strips = f"{say_count(made.strips, 'strip')} {told(made.width_in)} wide{of}"
    ends = f", {say_count(made.joints, 'diagonal join')}," if made.joints else ""
    bought = f"{say_bought(made.bought_in, units, glyphs=glyphs)} if bought alone" if not made.alone else ""
    counted = f"; they are counted with the fabric above ({bought})" if bought else "; their fabric stands above"
    return (
        f"Binding: {strips}{ends} come to {told(made.length_in)}; {told(made.needed_in)} are needed for the edge, "
        f"its corners and ends{counted}."
    )


def _backing(made: BackingCut, units: Units, glyphs: bool) -> str:
    def told(inches: float) -> str:
        return say_length(inches, units, finest=8, glyphs=glyphs)

    of = f" of {made.fabric}" if made.fabric else ""
    buy = f"{say_bought(made.bought_in, units, glyphs=glyphs)}{of}, {told(made.usable_in)} usable"
    way = "from top to bottom" if made.upright else "from side to side"
    panels = f"one piece {told(made.panel_in)} long, its length {way}"
    if made.panels > 1:
        seams = say_count(made.panels - 1, "seam")
        panels = (
            f"{made.panels} panels, each {told(made.panel_in)} long, lying {way}, with {seams} of "
            f"{told(made.seam_in)}; cut the selvedges off first"
        )
    over = told(made.over_in)
    return f"Backing: buy {buy}: {panels}; so it is {over} larger than the top on every side, its spare."


def _batting(made: BattingCut, units: Units, glyphs: bool) -> str:
    return f"Batting: one piece, {say_size(made.width_in, made.height_in, units, glyphs=glyphs)}."


def joined_words(strips: Joined, units: Units, *, glyphs: bool = False) -> str:
    """How strips are joined, and what is cut of them."""

    def told(inches: float) -> str:
        return say_length(inches, units, finest=8, glyphs=glyphs)

    lengths = [f"{each.count} at {told(each.piece.width_in)} ({each.piece.name})" for each in strips.lengths]
    how = "on the diagonal" if strips.joint is Joint.DIAGONAL else "with straight seams"
    name = f"{strips.name[:1].upper()}{strips.name[1:]}"
    made = f"{strips.strips} joined {how} into {told(strips.length_in)}" if strips.joints else "one as it is"
    return f"{name}: {made}; cut {say_list(lengths)}."


def quilt_written(cutting: QuiltCutting, form: str) -> str:
    """What a file holds."""
    how = "a table for spreadsheets" if form == ".csv" else "pages to print"
    return f"cutting list of {cutting.quilt.setting.name} as {how}"
