"""The chapter that joins: part to part in their order, how each is pinned, sewn and pressed, what it measures then.

Knows:  what is told of a join.
Leaves: pictures (joinfigures), which way it is pressed (piecing.pressing), words for seams that turn
        (words.joins), sizes (sizes), pages (pages).
Units:  inches.
"""

from __future__ import annotations

from seamwright.booklet.joinfigures import JoinDrawer
from seamwright.booklet.model import Heading, Item, Paragraph, Points, Step, Story
from seamwright.booklet.sizes import Sizes
from seamwright.booklet.stage import Type
from seamwright.piecing.model import Join, Plan
from seamwright.piecing.pressing import Pressing
from seamwright.rehearsal.model import Rehearsed
from seamwright.units import say_length
from seamwright.words.joins import Turning

LONG_NAME = 9
"""A part of more letters is called by the join that made it."""
HOW = (
    "Lay the two parts right sides together, edge on edge.",
    "Push a pin straight through both parts at the ends of the line, and at every point that is circled in the "
    "picture; then pin beside it, along the line.",
    "Tack an inch across each of these points with a long stitch; open the parts and look: what meets must match.",
    "{sew}",
    "Press before another seam crosses it, with a dry iron, straight down: open, or to the side said at the "
    "join.{stays}",
)
SEW_PAPER = (
    "Sew on the printed line, the paper on top and exactly on it. Parts without paper are sewn at a scant "
    "{allowance}."
)
SEW_RULER = "Sew at a scant {allowance}: a thread less, for the fold takes it."
"""Common practice."""
CURVE = (
    "It is a curve: ease the hollow side to the other between the pins; where it has no paper, follow the line "
    "marked on its wrong side. Clip its allowance, not quite to the line, where it will not lie flat."
)
"""Common practice."""


def joins_story(plan: Plan, rehearsed: Rehearsed, *, scale: float = 1.0) -> Story:
    """Every join in sewing order: a picture, how it is sewn and pressed, what results; () without joins.

    Args:
        plan: with sections; rehearsed: the same plan, sewn.
        scale: of the words in pictures.
    """
    if not plan.joins:
        return ()
    from seamwright.foundation.trims import trim_outlines
    from seamwright.picture.named import part_colours, patch_colours

    sizes = Sizes(plan, trim_outlines(plan))
    teller = _Teller(plan, sizes, JoinDrawer.of(plan, sizes, patch_colours(plan), part_colours(plan), Type(scale)))
    allowance = say_length(plan.options.seam_allowance_in, plan.options.units, glyphs=True)
    on_paper = any(s.kind != "plain" and s.method != "ruler" for s in plan.sections)
    sew = (SEW_PAPER if on_paper else SEW_RULER).format(allowance=allowance)
    steps = tuple(text.format(sew=sew, stays=" The paper stays on." * on_paper) for text in HOW)
    items: list[Item] = [Heading("Joining the sections", 1), Points(steps, numbered=True)]
    items += [Paragraph(f"{text}.") for text in teller.turning.general()]
    items += [teller.join(number) for number in range(1, len(plan.joins) + 1)]
    return tuple(items)


class _Teller:
    """What all joins share."""

    def __init__(self, plan: Plan, sizes: Sizes, drawer: JoinDrawer) -> None:
        self.plan, self.sizes, self.drawer = plan, sizes, drawer
        self.turning, self.pressing = Turning(plan), Pressing(plan)
        self._on_paper = {s.name: s.kind != "plain" and s.method != "ruler" for s in plan.sections}
        self._number = {join.makes: number for number, join in enumerate(plan.joins, start=1)}

    def join(self, number: int) -> Step:
        """All that is told of one join."""
        join = self.plan.joins[number - 1]
        one, two = self._part(join.first), self._part(join.second)
        is_last = number == len(self.plan.joins)
        texts = [self._pinned(join, number)]
        how = self.turning.join(number)
        if how:
            texts.append(f"{how[:1].upper()}{how[1:]}.")
        texts += [CURVE] if join.kind == "curved" else []
        parts = ((one, self.sizes.patches(join.first)), (two, self.sizes.patches(join.second)))
        texts.append(self.pressing.words(number, parts))
        size = self.sizes.unfinished(join.makes).said(self.plan.options.units)
        what = "The whole block" if is_last else join.makes
        texts.append(f"{what} measures {size} unfinished.")
        return Step(
            self.drawer.figure(number, f"Join {number}: {one} and {two} laid out with the points to pin"),
            f"Join {number}",
            f"{one} to {two}",
            tuple(texts),
        )

    def _part(self, name: str) -> str:
        """A part's name; of many letters the join that made it."""
        return f"the part made by join {self._number[name]}" if len(name) > LONG_NAME else name

    def _pinned(self, join: Join, number: int) -> str:
        units, allowance = self.plan.options.units, self.plan.options.seam_allowance_in
        paper = any(self._on_paper[s] for part in (join.first, join.second) for s in self.sizes.sections(part))
        where = "on the printed line, the paper on top"
        if join.kind == "curved":
            where = "on the stitch line, the hollow side on top"
        elif not paper:
            where = f"at a scant {say_length(allowance, units, glyphs=True)}: there is no paper here"
        marks = len(self.drawer.spots[number - 1])
        points = "the circled point" if marks == 1 else f"the {marks} circled points"
        pin = f"Pin both ends and {points}, tack, open and look; then sew" if marks else "Pin both ends, then sew"
        edges = "" if join.turns or self.turning.join(number) else "from edge to edge "
        return f"{pin} {edges}{where}."
