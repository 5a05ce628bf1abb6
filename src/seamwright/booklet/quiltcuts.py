"""The cutting of a quilt as a story: what to buy, binding, back and batting, then the tables of every fabric.

Knows:  what stands where.
Leaves: tables of one fabric and of units (tables), sentences of the edge (words.quiltcuts), pages (pages).
Units:  inches in, words out in the units of the quilt.
"""

from __future__ import annotations

from dataclasses import replace

from seamwright.booklet.fabrics import amount, other_amount
from seamwright.booklet.model import Heading, Item, Paragraph, Points, Story, Table
from seamwright.booklet.saying import places_list
from seamwright.booklet.tables import BLADE, TWICE, Told, along_words, fabric_story, stacks_story, units_story
from seamwright.cutting.model import Cutting
from seamwright.cutting.pieces import pieces_of
from seamwright.fabric.model import Fabric
from seamwright.fabric.pieces import Shape
from seamwright.fabric.units import RECTANGLE
from seamwright.fabric.words import fabric_called, value_word
from seamwright.picture.tints import colours_of
from seamwright.quilt.counts import blocks_of_looks
from seamwright.quilt.cutmodel import Joint, QuiltCutting
from seamwright.quilt.model import Role
from seamwright.quilt.partnames import parts_said
from seamwright.units import say_bought, with_glyphs
from seamwright.words.quiltcuts import edge_words, joined_words, titled

FIRST = "Cut fabric by fabric, and of each the long strips of borders first, then the widest strips."
BORDERS = (
    "Strips of borders are as long here as the quilt should be. Cut them to their width now, and keep them whole: "
    "when the centre is sewn, measure it through its middle and not along its edges, which stretch, and only then "
    "cut your strips to the length that you measure."
)
DIAGONAL = (
    "To join strips on the diagonal, as a binding is joined too: lay the end of one on the end of the other, right "
    "sides together and at a right angle, sew from corner to corner across both, look whether they make one "
    "straight strip, trim the seam to its allowance and press it open."
)


def quilt_shopping_story(cutting: QuiltCutting, level: int = 1) -> Story:
    """What to buy, and the backing, the batting and the binding."""
    swatches, units = colours_of(cutting.quilt.fabrics), cutting.units
    rows = [
        (fabric_called(cut.fabric), value_word(cut.fabric), amount(cut, units), other_amount(cut, units))
        for cut in cutting.fabrics
    ]
    colours = [swatches.get(cut.fabric.name) if cut.fabric else None for cut in cutting.fabrics]
    if (back := cutting.backing) is not None:
        name = f"{back.fabric}, for the backing" if back.fabric else "backing"
        rows.append((name, "", say_bought(back.bought_in, units, glyphs=True), ""))
        colours.append(swatches.get(back.fabric))
    kept = [n for n in range(4) if any(row[n] for row in rows)]
    head = tuple(("Fabric", "Value", "Buy", "Or")[n] for n in kept)
    cells = tuple(tuple(row[n] for n in kept) for row in rows)
    spare = cutting.options.spare
    held = f"with {spare * 100:g} % more than is cut, for shrinkage and mistakes" if spare else "nothing to spare"
    return (
        Heading("Fabric", level),
        Paragraph(f"For the whole quilt, {held}, rounded up to what shops sell. Fabrics of one name are one."),
        Table(head, cells, (kept.index(2),), tuple(colours)),
        Points(tuple(edge_words(cutting, glyphs=True))),
    )


def quilt_cutting_story(cutting: QuiltCutting) -> Story:
    """All cutting tables of a quilt."""
    told = _told(cutting)
    parts: list[Item] = [
        Heading("Cutting"),
        Paragraph(f"{TWICE} All numbers are for the whole quilt. {FIRST}"),
        Paragraph(along_words(cutting.fabrics)),
    ]
    if {cloth.role for cloth in cutting.quilt.cloths} & {Role.BORDER, Role.COPING}:
        parts.append(Paragraph(BORDERS))
    if any(strips.joint is Joint.DIAGONAL and strips.joints for strips in cutting.joined):
        parts.append(Paragraph(DIAGONAL))
    parts.append(Paragraph(BLADE, strong=True))
    notes = [with_glyphs(note.text) for note in cutting.all_notes]
    if notes:
        parts.append(Points(tuple(f"{text[:1].upper()}{text[1:]}." for text in notes)))
    for cut in cutting.fabrics:
        parts += fabric_story(cut, told)
        name = None if cut.fabric is None else cut.fabric.name
        parts += [
            Paragraph(joined_words(strips, cutting.units, glyphs=True))
            for strips in cutting.joined
            if strips.fabric == name
        ]
    if cutting.options.stack:
        for name, each in stacked(cutting):
            heading, *others = stacks_story(each)
            parts += [Heading(f"Stacks by section: {name}", 2) if name else heading, *others]
    return (*parts, *_without_paper(cutting, told))


def _without_paper(cutting: QuiltCutting, told: Told) -> Story:
    """Units that are sewn without paper, then those that could be; a plain piece alone is no unit to be sewn."""
    alone = {RECTANGLE, *(shape.value for shape in Shape)}
    units = [unit for unit in cutting.made if unit.kind not in alone]
    sewn, others = ([unit for unit in units if unit.on_paper is on_paper] for on_paper in (False, True))
    parts: list[Item] = []
    if sewn:
        text = (
            "These are cut with ruler and rotary cutter and sewn without paper, at a scant seam allowance. Their "
            "pieces are in the tables above: cut for one of these ways or as the tables say, not both."
        )
        parts += [Heading("Without paper", 2), Paragraph(text), *units_story(sewn, told)]
    if others:
        text = (
            "All of these are sewn on paper here, and the tables count them so: cut nothing of this beside them. "
            "With --rotary auto they are left off the paper."
        )
        parts += [Heading("Another way, without paper", 2), Paragraph(text), *units_story(others, told)]
    return tuple(parts)


def quilt_sheet_story(cutting: QuiltCutting) -> Story:
    """The story of a cutting list by itself."""
    looks = zip(cutting.quilt.looks, cutting.plans, strict=True)
    plans = "; ".join(f"{look.name}: plan {plan.id}" for look, plan in looks)
    title = titled(cutting, glyphs=True)
    return (
        Heading("Cutting list"),
        Paragraph(f"{title[:1].upper()}{title[1:]}. {plans[:1].upper()}{plans[1:]}."),
        *quilt_shopping_story(cutting, 2),
        *quilt_cutting_story(cutting),
    )


def stacked(cutting: QuiltCutting) -> list[tuple[str, Cutting]]:
    """(Name where there are several, pieces of all its blocks) of each look, for stacks and labels."""
    several = len(cutting.plans) > 1
    times = blocks_of_looks(cutting.quilt)
    return [
        (look.name * several, Cutting(plan, replace(cutting.options, blocks=count), pieces_of(plan), ()))
        for look, plan, count in zip(cutting.quilt.looks, cutting.plans, times, strict=True)
        if count
    ]


def _told(cutting: QuiltCutting) -> Told:
    known = {fabric.name: fabric for fabric in cutting.quilt.fabrics}
    swatches = colours_of(cutting.quilt.fabrics)

    def swatch(fabric: Fabric | str | None) -> str | None:
        name = fabric.name if isinstance(fabric, Fabric) else fabric
        return None if name is None else swatches.get(name)

    def fabric(name: str | None) -> Fabric | None:
        return None if name is None else known.get(name)

    return Told(cutting.units, cutting.options, parts_said(cutting, places_list), fabric, swatch)
