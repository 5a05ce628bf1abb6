"""What the pictures of a rehearsal show: both sides of the work beside each other, step by step.

Knows:  what each picture shows, and the words that belong to it.
Leaves: the captions (captions), panels and cloth (view, sides), the page on which it is set (pictures).
Units:  inches on the page.
Method: on the left the printed side as the needle sees it, mirrored, fabric that sticks out pale; on the right the
        fabric side from the front, layer upon layer in the order they were laid; dashed, where the next piece goes.
        Without paper both are seen from the front: sewn right sides together, and opened.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from types import MappingProxyType

import shapely
from shapely.geometry import Polygon

from seamwright.ink.model import Ink, Pen, Stroke
from seamwright.options import Units
from seamwright.picture.tints import INK, QUIET
from seamwright.rehearsal.captions import (
    PLAIN,
    TRIMMED,
    UNIT,
    cut_size,
    joined_words,
    plain_step_words,
    step_words,
)
from seamwright.rehearsal.model import Cloth, Rehearsed, SectionToSew, Sewing, SewnSection, SewnStep
from seamwright.rehearsal.overlay import common, less
from seamwright.rehearsal.paper import TIP_LIMIT
from seamwright.rehearsal.sides import PAPER, Parts, Sides
from seamwright.rehearsal.view import Bounds, Named, Names, Panel, wrong_side

SIDE_IN = 4.4
LEFT, RIGHT = (2.75, 3.75), (7.85, 3.75)
"""Middles of the two panels."""
PANEL_IN = 5.0
"""A panel with the names that stand beside its work."""
AT_NEEDLE = ("Printed side, towards you at the needle", "Fabric side, from the front")
OPENED = ("Right sides together, from the front", "Opened and pressed, from the front")
BOTH_SIDES = ("From the back", "From the front")
Panels = tuple[tuple[Ink, ...], tuple[Ink, ...]]


@dataclass(frozen=True, slots=True)
class Shown:
    """What one picture shows, before it is set on a page with its words.

    Attributes:
        what: the end of its name. section: name of the section, "" for the whole block.
        title, caption: as of the picture.
        heads: what is seen on the left and on the right; legends: what stands below each, "" for nothing.
        left, right: ink of both panels, within `PANEL_IN` / 2 of their middles `LEFT` and `RIGHT`.
    """

    what: str
    section: str
    title: str
    caption: str
    heads: tuple[str, str]
    left: tuple[Ink, ...]
    right: tuple[Ink, ...]
    legends: tuple[str, str] = ("", "")


def show_rehearsal(
    block: str,
    sewing: Sewing,
    rehearsed: Rehearsed,
    colours: Mapping[str, str],
    units: Units = Units.INCH,
    parts: Parts = MappingProxyType({}),
) -> tuple[Shown, ...]:
    """What those pictures show, for whoever sets it on a page of another kind; arguments as there."""
    shown: list[Shown] = []
    for section, sewn in zip(sewing.sections, rehearsed.sections, strict=True):
        shown += _SectionDrawer(block, section, sewn, sewing, colours, units, parts).shown()
    return (*shown, _joined(block, sewing, rehearsed, colours))


class _SectionDrawer:
    """What all pictures of one section share."""

    def __init__(
        self,
        block: str,
        section: SectionToSew,
        sewn: SewnSection,
        sewing: Sewing,
        colours: Mapping[str, str],
        units: Units,
        parts: Parts,
    ) -> None:
        self.block, self.section, self.sewn, self.sewing = block, section, sewn, sewing
        self.colours, self.units = colours, units
        self.sides = sides = Sides(section, sewn, colours, parts)
        self.back = Panel.around(sides.bounds, LEFT, SIDE_IN, mirrored=True)
        self.front = Panel.around(sides.bounds, RIGHT, SIDE_IN, mirrored=False)
        named, work = sides.named, sides.work
        self.left = Panel.around(sides.bounds, LEFT, SIDE_IN, mirrored=False)
        self.names_left = Names(self.left, named, work)
        self.names_back, self.names_front = Names(self.back, named, work), Names(self.front, named, work)

    def shown(self) -> list[Shown]:
        """Each step, and the section trimmed."""
        drawn: list[Shown] = []
        of, name, ruled = len(self.sewn.steps), self.section.name, self.section.by_ruler
        for k, step in enumerate(self.sewn.steps if not self.sides.plain else ()):
            following = self.sewn.steps[k + 1] if k + 1 < of else None
            title = f"{self.block}, section {name}: step {k + 1} of {of}, patch {step.patch}"
            if ruled:
                words = plain_step_words(step, self.sewing.allowance_in, self.units)
                caption = f"{step.patch}, cut {cut_size(step, self.units)} by ruler. {words}"
                drawn.append(Shown(step.patch, name, title, caption, OPENED, *self._without_paper(step)))
                continue
            words = step_words(step, self.sewing.allowance_in, self.sewing.extra_in, self.units)
            caption = f"{step.patch}, cut at least {cut_size(step, self.units)}. {words}"
            legends = (_left_legend(step), _right_legend(following))
            panels = self._step(step, following)
            drawn.append(Shown(step.patch, name, title, caption, AT_NEEDLE, *panels, legends))
        return [*drawn, self._trimmed()]

    def _step(self, step: SewnStep, following: SewnStep | None) -> Panels:
        left: list[Ink] = [*self.sides.printed(self.back, step)]
        left += self.names_back.ink({p.name: PAPER for p in self.section.patches})
        right: list[Ink] = [*self.sides.front(self.front, step)]
        if following is not None:
            right += self.front.outlined(following.laid, Pen.TRIM, halo=True)
        return tuple(left), (*right, *self.names_front.ink(self._named(step.table)))

    def _without_paper(self, step: SewnStep) -> Panels:
        """A step without paper: the new piece on what is sewn, and the same opened."""
        sides = self.sides
        left: list[Ink] = [*sides.together(self.left, step)]
        left += self.names_left.ink({name: sides.colours[name] for name in sides.seen_together(step)})
        return tuple(left), (*sides.opened(self.front, step), *self.names_front.ink(self._named(step.table)))

    def _named(self, cloths: Sequence[Cloth]) -> dict[str, str]:
        """The names that stand on fabric of one colour, each with that."""
        return {c.patch: self.colours[c.patch] for c in cloths if self.sides.is_whole(c.patch)}

    def _trimmed(self) -> Shown:
        plain, ruled, name = self.sides.plain, self.section.by_ruler, self.section.name
        title = f"{self.block}, section {name}, " + ("a plain piece" if plain else "trimmed")
        what, words = ("plain", PLAIN) if plain else ("trimmed", UNIT if ruled else TRIMMED)
        if plain and ruled:
            words = f"A plain piece, cut {cut_size(self.sewn.steps[0], self.units)} by ruler, sewn without paper."
        left: list[Ink] = []
        if ruled:
            for cloth in self.sewn.shown:
                left += self.back.filled(cloth.shape, wrong_side(self.colours[cloth.patch]))
            left += self.names_back.ink({p.name: wrong_side(self.colours[p.name]) for p in self.section.patches})
        else:
            left += self.sides.trimmed_print(self.back)
            left += self.names_back.ink({p.name: PAPER for p in self.section.patches})
        right = [*self.sides.trimmed_front(self.front), *self.names_front.ink(self._named(self.sewn.shown))]
        heads = BOTH_SIDES if ruled else AT_NEEDLE
        return Shown(f"{name}-{what}", name, title, words, heads, tuple(left), tuple(right))


def _left_legend(step: SewnStep) -> str:
    if step.seam is None:
        return "The fabric lies behind the paper, its right side away from you"
    return "Bold: the line just stitched" + (", stopped dead at the dot" if step.seam.stops else "")


def _right_legend(following: SewnStep | None) -> str:
    if following is None:
        return ""
    return f"Dashed: where the fabric of {following.patch} goes next, right side down"


def _joined(block: str, sewing: Sewing, rehearsed: Rehearsed, colours: Mapping[str, str]) -> Shown:
    """The whole block, allowances pressed away inside and standing out all round."""
    whole = Polygon(sewing.outline)
    # The block is trued up: tips of sections stand out no further than its own allowance.
    unfinished = whole.buffer(sewing.allowance_in, join_style="mitre", mitre_limit=TIP_LIMIT)
    finished: list[Cloth] = []
    for section, sewn in zip(sewing.sections, rehearsed.sections, strict=True):
        hidden = less(whole, Polygon(section.outline))
        finished += [Cloth(c.patch, less(common(c.shape, unfinished), hidden), True) for c in sewn.shown]
    left_in, top, right_in, bottom = (float(b) for b in shapely.total_bounds([c.shape for c in finished]))
    bounds: Bounds = (left_in, top, right_in, bottom)
    back = Panel.around(bounds, LEFT, SIDE_IN, mirrored=True)
    front = Panel.around(bounds, RIGHT, SIDE_IN, mirrored=False)
    left = [ink for c in finished for ink in back.filled(c.shape, wrong_side(colours[c.patch]), pen=None)]
    right = [ink for c in finished for ink in front.filled(c.shape, colours[c.patch], pen=None)]
    left += back.filled(whole, PAPER, pen=None)
    for panel, inks, colour in ((back, left, QUIET), (front, right, INK)):
        for section in sewing.sections:
            for patch in section.patches:
                inks.append(Stroke(Pen.RULE, panel.line(patch.ring), closed=True, colour=colour))
        inks += panel.outlined(unfinished, Pen.RULE, QUIET)
        inks.append(Stroke(Pen.STITCH, panel.line(sewing.outline), closed=True, colour=INK))
        inks += [Stroke(Pen.BOLD, panel.line(run), colour=INK) for join in rehearsed.joins for run in join.runs]
    named = [Named(section.name, section.name, section.outline) for section in sewing.sections]
    left += Names(back, named, whole).ink({section.name: PAPER for section in sewing.sections})
    words = joined_words(rehearsed)
    return Shown("joined", "", f"{block}, joined", words, AT_NEEDLE, tuple(left), tuple(right))
