"""The first chapters of a whole quilt: its picture and facts, what to buy, which foundations to print how often.

Knows:  what stands in them.
Leaves: pictures (picture.quilt), amounts (quilt.cutting), counts (quilt.counts), sheets (sheet).
Units:  inches in, words out.
"""

from __future__ import annotations

import shlex
from collections.abc import Iterator
from pathlib import Path

from seamwright.booklet.model import Figure, Heading, Item, Paragraph, Pictures, Points, Story, Table
from seamwright.booklet.title import GAP_IN
from seamwright.drawing.read import stem_of
from seamwright.picture.cloth import Finish
from seamwright.picture.greys import greys_figure
from seamwright.picture.quilt import quilt_picture
from seamwright.quilt.counts import blocks_of_looks
from seamwright.quilt.model import Border, Edging, Set
from seamwright.quilt.wholeadvice import LEAST_KNOWN
from seamwright.quiltfacts import QuiltFacts
from seamwright.units import say_count, say_length, say_list, say_size, with_glyphs
from seamwright.words.quiltpictures import greys_words

MOST_IN, LEAST_IN = 7.0, 2.0
"""The picture on the title page, at the most, and its height at the least."""
WORDS_IN = 3.9
"""What the words of the title page take of its height at their usual size."""
GREY_IN = 3.0
TOLD_LATER = ("border", "measure")
"""Notes that stand where strips are cut."""


def title_story(facts: QuiltFacts, room_in: tuple[float, float], footer: str, scale: float) -> Story:
    """The title page: the quilt in its fabrics, its facts in a table.

    Args:
        room_in: width and height of a page's contents. footer: the designer's own words. scale: of words.
    """
    quilt, units = facts.quilt, facts.cutting.units
    shape = max(quilt.height_in / quilt.width_in, 1.0)
    high_in = max(LEAST_IN, room_in[1] - WORDS_IN * scale - GAP_IN)
    longest = min(room_in[0] * shape, high_in * max(quilt.width_in / quilt.height_in, 1.0), MOST_IN)
    picture = quilt_picture(quilt, longest, Finish.COLOUR)
    says = f"{quilt.setting.name}, the whole quilt in its fabrics, from the front"
    times = blocks_of_looks(quilt)
    # A name may hold a comma.
    blocks = "; ".join(f"{times[n]} {look.name}" for n, look in enumerate(quilt.looks))
    if len(quilt.looks) > 1:
        blocks = f"{len(quilt.spots)}: {blocks}"
    sizes = dict.fromkeys(
        say_size(look.block.width_in, look.block.height_in, units, glyphs=True) for look in quilt.looks
    )
    rows = [
        ("Finished", say_size(quilt.width_in, quilt.height_in, units, glyphs=True)),
        ("Blocks", blocks),
        ("Size of a block, finished", say_list(list(sizes))),
        ("Set", _set(facts)),
        *((("Borders", _borders(facts)),) if quilt.setting.borders else ()),
    ]
    items: list[Item] = [
        Heading(quilt.setting.name, 0),
        Paragraph("A whole quilt: its blocks step by step, how it is set, and how it is finished."),
        Pictures(
            (Figure(picture.inks, picture.width_in, picture.height_in, says),), ("The quilt, from the front",)
        ),
        Table(("The quilt", ""), tuple(rows)),
    ]
    if footer:
        items.append(Paragraph(footer, strong=True))
    return tuple(items)


def values_story(facts: QuiltFacts, scale: float = 1.0) -> Story:
    """The quilt in greys that give as much light as its fabrics; what is advised about the whole.

    Args:
        scale: of words.
    """
    quilt = facts.quilt
    notes = dict.fromkeys(
        note.text
        for note in (*facts.advice.notes, *quilt.notes, *quilt.setting.notes)
        if note.code not in TOLD_LATER
    )
    told = tuple(with_glyphs(f"{text[:1].upper()}{text[1:]}".rstrip(".") + ".") for text in notes)
    items: list[Item] = [Heading("Light and dark"), *_greys(facts, scale)]
    if told:
        items += [Heading("To look at before you cut", 2), Points(told)]
    return tuple(items)


def _greys(facts: QuiltFacts, scale: float) -> Iterator[Item]:
    """The quilt in greys, and how much of it is how light; not where too little is known of that."""
    if facts.advice.balance.known < LEAST_KNOWN:
        yield Paragraph(
            "Of most of this quilt neither colour nor value is said, so no picture in greys can show how light "
            "and dark lie in it: lay your fabrics side by side, and look at them in a photograph without "
            "colours."
        )
        return
    picture = quilt_picture(facts.quilt, GREY_IN, Finish.GREY)
    says = "The whole quilt in greys that give as much light as its fabrics"
    figures, captions = [Figure(picture.inks, picture.width_in, picture.height_in, says)], ["The quilt in greys"]
    if facts.advice.balance.greys:
        shares = greys_words(facts.advice.balance.known)
        bars = greys_figure(facts.advice.balance, GREY_IN, GREY_IN / 2, scale)
        figures.append(Figure(bars.inks, bars.width_in, bars.height_in, f"{shares}, as bars", scale))
        captions.append(shares)
    yield Paragraph(
        "Values carry a quilt further than colours do: what reads as one grey here will read as one shape from "
        "across the room. White is a fabric of which neither colour nor value is said."
    )
    yield Pictures(tuple(figures), tuple(captions))


def prints_story(facts: QuiltFacts, sheets: int, paper: str) -> Story:
    """Which foundation is printed how often; one of each lies behind the pages."""
    on_paper = [count for count in facts.prints if count.kind == "foundation"]
    if not on_paper:
        return ()
    quilt = facts.quilt
    several = len({look.source for look in quilt.looks}) > 1
    rows = []
    for count in on_paper:
        print_ = f"{count.print}{'r' * count.reversed}"
        name = f"{quilt.looks[count.look].source} {print_}" if several else print_
        served = "; ".join(quilt.looks[look].name for look in count.looks or (count.look,))
        rows.append((name, served, str(count.count)))
    total = sum(count.count for count in on_paper)
    mirrored = ""
    if any(count.reversed for count in on_paper):
        mirrored = (
            " One marked r is the mirror image of the one without, and neither can be used for the other: "
            "fabric lies on the blank side of the paper."
        )
    file = Path(quilt.setting.file)
    command = f"seamwright foundations {shlex.quote(stem_of(file) + file.suffix)} -o all.pdf"
    return (
        Heading("How many foundations"),
        Paragraph(
            f"The quilt needs {say_count(total, 'foundation')}, and one spare in ten of each. "
            f"{say_count(sheets, 'sheet')} behind these pages, {paper}, hold those of one block of each "
            f"kind.{mirrored}"
        ),
        Table(("Print", "For", "How many"), tuple(rows), (2,)),
        Paragraph(f"All of them on as few sheets as there is need for: {command}"),
    )


def _set(facts: QuiltFacts) -> str:
    quilt, units = facts.quilt, facts.cutting.units
    on_point = quilt.setting.set is Set.ON_POINT
    told = f"{'on point' if on_point else 'straight'}, {quilt.columns} across and {quilt.rows} down"
    if on_point:
        told = f"on point, {say_count(quilt.rows, 'row')} of {quilt.columns}, others between them"
    if quilt.setting.sashing is not None:
        width = say_length(quilt.setting.sashing.width_in, units, glyphs=True)
        told += f", sashing of {width}{' with cornerstones' * bool(quilt.setting.sashing.cornerstones)}"
    return told


def _borders(facts: QuiltFacts) -> str:
    quilt, units = facts.quilt, facts.cutting.units
    said = []
    for border, (across, down) in zip(quilt.setting.borders, quilt.borders_in, strict=True):
        width = say_length(across, units, glyphs=True)
        if abs(across - down) > 1e-6:
            width += f" and {say_length(down, units, glyphs=True)}"
        said.append(f"{width} {_named(border)}")
    return "; ".join(said)


def _named(border: Border) -> str:
    if border.cell is not None:
        return f"pieced of {border.cell.source}"
    edging = border.edging
    return f"{border.fabric}{', mitred' * (edging is Edging.MITRED)}{', coping' * (edging is Edging.COPING)}"
