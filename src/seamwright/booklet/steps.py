"""The chapter that sews: section after section, a picture and two sentences for each step.

Knows:  what is told of a section and in which order; sections that share a print are told once.
Leaves: words of a step (stepwords), its figure (stepfigures), sections without paper (rulersteps), sizes (sizes),
        pages (pages).
Units:  inches.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache

from seamwright.booklet.dimensions import measured_figure
from seamwright.booklet.model import PICTURE_IN, Heading, Item, Paragraph, Step, Story, Table
from seamwright.booklet.saying import fabric_named
from seamwright.booklet.sizes import Sizes
from seamwright.booklet.stage import GAP_IN, USUAL, Type
from seamwright.booklet.stepfigures import SMALL_KEY_IN, WHERE, StepDrawer, key_figure, side_by_side
from seamwright.booklet.stepwords import StepWords, cut_words
from seamwright.booklet.tables import laid
from seamwright.fabric.pieces import Piece
from seamwright.fabric.words import fabric_called
from seamwright.piecing.cloth import shadowed
from seamwright.piecing.model import Plan, Section
from seamwright.rehearsal.model import Rehearsed, SectionToSew, Sewing, SewnSection, SewnStep
from seamwright.rehearsal.sides import Parts, Sides
from seamwright.units import say_list, with_glyphs

DEPTH = (
    "Each section ends with its unfinished size, to check it against. One that is no rectangle is measured along "
    "its longest side, and from that side straight across to its farthest point: how deep it is."
)
MANY = "Where a section is needed several times, sew step 1 of all of them, then step 2 of all: that is quicker."


def steps_story(plan: Plan, rehearsed: Rehearsed, *, scale: float = 1.0) -> Story:
    """Every section in the order of its letter: what is cut for it, every step, how large it is once trimmed.

    Args:
        plan: with sections; rehearsed: the same plan, sewn.
        scale: of the words in pictures.
    """
    teller = Teller.of(plan, rehearsed, Type(scale))
    items: list[Item] = [Heading("Sewing the sections", 1), Paragraph(DEPTH)]
    groups = shared_prints(plan)
    if any(len(places) > 1 for _, places in groups):
        items.append(Paragraph(MANY))
    for label, places in groups:
        items += teller.section(label, places)
    return tuple(items)


@lru_cache(maxsize=8)
def shared_prints(plan: Plan) -> tuple[tuple[str, tuple[Section, ...]], ...]:
    """What the paper calls each print, and the sections that are sewn on it, by the order of the first.

    One letter has several prints where its places differ in more than lines, order and fabrics: in how a fabric
    runs, or in what is printed round them.
    """
    from seamwright.foundation.common import common_to

    common = common_to(plan)
    order = {section.name: number for number, section in enumerate(plan.sections)}
    groups = [tuple(place.section for place in places) for places in common.drawings]
    groups.sort(key=lambda places: order[places[0].name])
    return tuple((common.labels[places[0].name], places) for places in groups)


@dataclass(frozen=True)
class Teller:
    """What all sections share.

    Attributes:
        sewing, sewn: what was sewn and came of it, by name of the section.
        pieces: of each patch by its number; colours: by its name, those of its parts too.
    """

    plan: Plan
    sewing: Mapping[str, SectionToSew]
    sewn: Mapping[str, SewnSection]
    pieces: Mapping[int, Piece]
    colours: Mapping[str, str]
    parts: Parts
    sizes: Sizes
    words: StepWords
    kind: Type = USUAL

    @staticmethod
    def of(plan: Plan, rehearsed: Rehearsed, kind: Type = USUAL) -> Teller:
        """What is told of a plan with sections."""
        from seamwright.claims.sewing import sewing_of
        from seamwright.cutting.pieces import pieces_of
        from seamwright.picture.named import part_colours, patch_colours

        sewing: Sewing = sewing_of(plan)
        trims = {section.name: section.trim for section in sewing.sections}
        return Teller(
            plan,
            {section.name: section for section in sewing.sections},
            {section.name: section for section in rehearsed.sections},
            {piece.patch: piece for piece in pieces_of(plan)},
            patch_colours(plan),
            part_colours(plan),
            Sizes(plan, trims),
            StepWords(sewing.allowance_in, sewing.extra_in, plan.options.units),
            kind,
        )

    # -- one print -------------------------------------------------------------------------------------------

    def section(self, letter: str, places: Sequence[Section]) -> list[Item]:
        """All that is told of the sections that one print serves; `letter` is what the paper calls it."""
        first = places[0]
        heading = Heading(f"Section {letter}", 2)
        if first.kind == "plain":
            return [heading, self._plain(letter, places)]
        items: list[Item] = [heading, self._head(letter, places), self._table(letter, places)]
        if first.method == "ruler":
            from seamwright.booklet.rulersteps import ruler_steps

            return [*items, *ruler_steps(self, letter, first)]
        return [*items, *self._steps(letter, first), self._trimmed(letter, first)]

    def _head(self, letter: str, places: Sequence[Section]) -> Step:
        first, names = places[0], [section.name for section in places]
        how = (
            "cut by ruler, sewn without paper"
            if first.method == "ruler"
            else "sewn on paper in the order of their numbers"
        )
        texts = [f"{len(first.patches)} patches, {how}; needed {_often(len(places))}.", *self._places(places)]
        key = key_figure(self.plan, names, kind=self.kind, label=WHERE)
        return Step(key, letter, "where it lies", tuple(texts), letter)

    def _places(self, places: Sequence[Section]) -> list[str]:
        """What is to be said where a print serves several places, or is a mirror image."""
        first, told = places[0], []
        if len(places) > 1:
            told.append(
                f"Its places in the block are {say_list([s.name for s in places])}, all sewn alike: what is told "
                f"of {first.patch_name(1)} holds for {say_list([s.patch_name(1) for s in places[1:]], most=4)} too."
            )
        if first.place > 1:
            told.append(
                f"It has the lines of section {first.print}{'r' * first.reversed} and a print of its own, since "
                "its fabric runs another way or other seams meet it. Look for its name on the paper, "
                f"where its patches read {first.print}{'r' * first.reversed}1 and on."
            )
        elif first.reversed:
            told.append(
                f"It is the mirror image of section {first.print}, with a print and pictures of its own. Look for "
                f"the letter {first.print}r on the paper before you cut."
            )
        return told

    def _table(self, letter: str, places: Sequence[Section]) -> Table:
        first, units = places[0], self.plan.options.units
        rows, swatches = [], []
        for number, patch in enumerate(first.patches, start=1):
            piece, name = self.pieces[patch], first.patch_name(number)
            fabric = fabric_called(fabric_named(self.plan.block, piece.fabric) or piece.fabric)
            rows.append((name, fabric, cut_words(piece, units), laid(piece)))
            swatches.append(self.colours[name])
        caption = f"Fabric for {'each ' * (len(places) > 1)}section {letter}"
        head = ("Patch", "Fabric", "Size as cut", "How it is laid")
        return Table(head, tuple(rows), swatches=tuple(swatches), caption=caption)

    # -- the steps -------------------------------------------------------------------------------------------

    def _steps(self, letter: str, section: Section) -> list[Item]:
        sides = self.sides(section.name)
        drawer = StepDrawer(sides, self.kind)
        items: list[Item] = []
        for step in sides.sewn.steps:
            figure = drawer.figure(step, self._says(step))
            items.append(Step(figure, step.patch, self.fabric(step, section), self._texts(step, section), letter))
        return items

    def sides(self, name: str) -> Sides:
        """Both sides of a section's work."""
        return Sides(self.sewing[name], self.sewn[name], self.colours, self.parts)

    def piece(self, step: SewnStep, section: Section) -> Piece:
        """The fabric of a step."""
        return self.pieces[section.patches[step.number - 1]]

    def fabric(self, step: SewnStep, section: Section) -> str:
        """The fabric of a step and how it is cut, to stand behind the name of its patch."""
        return self._cut(self.piece(step, section))

    def _cut(self, piece: Piece) -> str:
        size = cut_words(piece, self.plan.options.units)
        return f"{piece.fabric}, {size}" if piece.fabric else size

    def _texts(self, step: SewnStep, section: Section) -> tuple[str, ...]:
        piece = self.piece(step, section)
        # A fabric known by its colour alone has no name that could be read aloud.
        is_named = piece.fabric and not piece.fabric.startswith("#")
        fabric = f"{piece.fabric} fabric" if is_named else "fabric"
        if step.seam is None:
            text = self.words.first(step, fabric)
        else:
            dark = dict(shadowed(self.plan.block, section)).get(step.number, ())
            under = [section.patch_name(number) for number in dark]
            text = self.words.later(step, self.before(step, section), fabric, under)
        return (f"{self._beforehand(piece)}.", text) if piece.parts else (text,)

    def _beforehand(self, piece: Piece) -> str:
        """How the parts of a piece are sewn together before it is laid on."""
        from seamwright.cutting.beforehand import sewn_words

        return with_glyphs(f"Beforehand {sewn_words(self.plan, piece)}")

    def before(self, step: SewnStep, section: Section) -> list[str]:
        """Names of the patches on the other side of the line, in sewing order."""
        block, number = self.plan.block, section.patches[step.number - 1]
        sewn = section.patches[: step.number - 1]
        across = set()
        for edge in (block.edges[e] for e in block.patches[number].edges):
            across |= {edge.left, edge.right} - {number}
        return [section.patch_name(n) for n, p in enumerate(sewn, start=1) if p in across]

    @staticmethod
    def _says(step: SewnStep) -> str:
        return f"Step {step.number}: patch {step.patch} from the printed side, and the work from the front after it"

    # -- what ends a section ---------------------------------------------------------------------------------

    def _trimmed(self, letter: str, section: Section) -> Step:
        size = self.sizes.unfinished(section.name)
        sides = self.sides(section.name)
        figure = measured_figure(
            size,
            sides.trimmed_front,
            self.plan.options.units,
            f"Section {letter}, trimmed, from the front, with its measures",
            kind=self.kind,
        )
        return Step(
            figure,
            letter,
            "trim and measure",
            (
                "All patches are on: lay the section printed side up and cut paper and fabric on the dashed trim "
                "line, never by the edge of the fabric. "
                f"Unfinished it measures {size.said(self.plan.options.units)}.",
            ),
            letter,
        )

    def _plain(self, letter: str, places: Sequence[Section]) -> Step:
        first, units = places[0], self.plan.options.units
        size, sides, piece = (
            self.sizes.unfinished(first.name),
            self.sides(first.name),
            self.pieces[places[0].patches[0]],
        )
        key = key_figure(self.plan, [section.name for section in places], SMALL_KEY_IN, self.kind, WHERE)
        says = f"Plain piece {letter} from the front, with its measures"
        figure = measured_figure(
            size, sides.trimmed_front, units, says, PICTURE_IN - GAP_IN - key.width_in, self.kind
        )
        title = self._cut(piece)
        how = "trim it by its printed template, and mark the stitch line on its wrong side"
        if first.method == "ruler":
            how = "cut it by ruler; it has no print"
        texts = (
            f"A plain piece, sewn without paper, needed {_often(len(places))}: {how}. "
            f"Unfinished it measures {size.said(units)}.",
            *self._places(places),
        )
        return Step(side_by_side(figure, key), first.patch_name(1), title, texts, letter)


def _often(count: int) -> str:
    return {1: "once", 2: "twice"}.get(count, f"{count} times")
