"""A picture for every step of a rehearsal, both sides of the work beside each other.

Knows:  what each picture shows, where its words stand.
Leaves: the words (captions), panels and cloth (view), files (the caller).
Units:  inches on the page; all pictures have one size, so that they can be played one after the other.
Method: on the left the printed side as the needle sees it, mirrored, fabric that sticks out pale; on the right the
        fabric side from the front, layer upon layer in the order they were laid; dashed, where the next piece goes.
        Without paper both are seen from the front: sewn right sides together, and opened.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from types import MappingProxyType

import shapely
from shapely.geometry import Polygon

from seamwright.ink.lettering import width_pt
from seamwright.ink.model import Anchor, Ink, Pen, Stroke, Words
from seamwright.ink.wrap import wrapped
from seamwright.options import Units
from seamwright.picture.tints import CHALK, INK, QUIET
from seamwright.rehearsal.captions import (
    CAUTIONS,
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
from seamwright.rehearsal.view import Named, Names, Panel, wrong_side

WIDTH_IN, HEIGHT_IN = 10.6, 7.7
MARGIN_IN = 0.4
SIDE_IN = 4.4
LEFT, RIGHT = (2.75, 3.75), (7.85, 3.75)
"""Middles of the two panels."""
TITLE_PT, WORDS_PT, SMALL_PT = 14.0, 10.0, 8.0
NAME_PT = 420.0
"""Room for a block's name in a title."""
LABEL_Y, LEGEND_Y, CAPTION_Y = 1.05, 6.32, 6.68
CAPTION_LINES, LINE_EM = 4, 1.35
"""A longer caption is set smaller; from baseline to baseline, in type sizes."""


@dataclass(frozen=True, slots=True)
class RehearsalPicture:
    """One picture.

    Attributes:
        name: file name without its ending; names sort in sewing order.
        title, caption: the words on it.
        inks: on a page of `width_in` x `height_in` with ground `ground`.
    """

    name: str
    title: str
    caption: str
    inks: tuple[Ink, ...]
    width_in: float = WIDTH_IN
    height_in: float = HEIGHT_IN
    ground: str = CHALK


def draw_rehearsal(
    block: str,
    sewing: Sewing,
    rehearsed: Rehearsed,
    colours: Mapping[str, str],
    units: Units = Units.INCH,
    parts: Parts = MappingProxyType({}),
) -> tuple[RehearsalPicture, ...]:
    """The pictures in sewing order: every step, every section trimmed, the block joined.

    Args:
        block: its name.
        colours: of each patch by name, "#rrggbb".
        parts: of each patch that is pieced beforehand, as `Sides` wants them.
    """
    shown = _short(block)
    drawn: list[tuple[str, str, str, list[Ink]]] = []
    for section, sewn in zip(sewing.sections, rehearsed.sections, strict=True):
        drawer = _SectionDrawer(shown, section, sewn, sewing, colours, units, parts)
        drawn += drawer.pictures()
    drawn.append(_joined(shown, sewing, rehearsed, colours))
    digits = max(2, len(str(len(drawn))))
    pictures = []
    for number, (what, title, caption, inks) in enumerate(drawn, start=1):
        words = _words(title, caption, CAUTIONS if number == 1 else "")
        name = f"{file_stem(block)}-{number:0{digits}d}-{what}"
        pictures.append(RehearsalPicture(name, title, caption, (*inks, *words)))
    return tuple(pictures)


def file_stem(block: str) -> str:
    """A block's name as the beginning of file names: letters and figures, the rest as hyphens.

    >>> file_stem("Kite & tail"), file_stem("/")
    ('Kite-tail', 'block')
    """
    return re.sub(r"[^\w.]+", "-", block).strip("-.")[:60] or "block"


def _short(block: str) -> str:
    """A block's name, cut so that a title has room for it."""
    if width_pt(block, TITLE_PT, bold=True) <= NAME_PT:
        return block
    kept = next(
        n for n in range(len(block), -1, -1) if width_pt(f"{block[:n]} ...", TITLE_PT, bold=True) <= NAME_PT
    )
    return f"{block[:kept].rstrip(' ,;')} ..."


def is_step_picture(file: str, block: str) -> bool:
    """Whether a file's name is that of a picture of this block's rehearsal, of this plan or an earlier one."""
    return re.fullmatch(re.escape(file_stem(block)) + r"-\d{2,}-[\w.+-]+\.svg", file) is not None


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

    def pictures(self) -> list[tuple[str, str, str, list[Ink]]]:
        """(name, title, caption, ink) of each step and of the section trimmed."""
        drawn: list[tuple[str, str, str, list[Ink]]] = []
        of, plain, ruled = len(self.sewn.steps), self.sides.plain, self.section.by_ruler
        for k, step in enumerate(self.sewn.steps if not plain else ()):
            following = self.sewn.steps[k + 1] if k + 1 < of else None
            title = f"{self.block}, section {self.section.name}: step {k + 1} of {of}, patch {step.patch}"
            if ruled:
                words = plain_step_words(step, self.sewing.allowance_in, self.units)
                caption = f"{step.patch}, cut {cut_size(step, self.units)} by ruler. {words}"
                drawn.append((step.patch, title, caption, self._without_paper(step)))
                continue
            words = step_words(step, self.sewing.allowance_in, self.sewing.extra_in, self.units)
            caption = f"{step.patch}, cut at least {cut_size(step, self.units)}. {words}"
            drawn.append((step.patch, title, caption, self._step(step, following)))
        title = f"{self.block}, section {self.section.name}, " + ("a plain piece" if plain else "trimmed")
        what, words = ("plain", PLAIN) if plain else ("trimmed", UNIT if ruled else TRIMMED)
        if plain and ruled:
            words = f"A plain piece, cut {cut_size(self.sewn.steps[0], self.units)} by ruler, sewn without paper."
        drawn.append((f"{self.section.name}-{what}", title, words, self._trimmed()))
        return drawn

    def _step(self, step: SewnStep, following: SewnStep | None) -> list[Ink]:
        inks: list[Ink] = [*_labels(), *self.sides.printed(self.back, step)]
        inks += self.names_back.ink({p.name: PAPER for p in self.section.patches})
        inks += self.sides.front(self.front, step)
        if following is not None:
            inks += self.front.outlined(following.laid, Pen.TRIM, halo=True)
            inks.append(_small(f"Dashed: where the fabric of {following.patch} goes next, right side down", RIGHT))
        inks.append(_small(self._left_legend(step), LEFT))
        inks += self.names_front.ink(self._named(step.table))
        return inks

    def _without_paper(self, step: SewnStep) -> list[Ink]:
        """A step without paper: the new piece on what is sewn, and the same opened."""
        inks = _heads("Right sides together, from the front", "Opened and pressed, from the front")
        sides = self.sides
        inks += sides.together(self.left, step)
        inks += self.names_left.ink({name: sides.colours[name] for name in sides.seen_together(step)})
        inks += sides.opened(self.front, step)
        return inks + self.names_front.ink(self._named(step.table))

    def _named(self, cloths: Sequence[Cloth]) -> dict[str, str]:
        """The names that stand on fabric of one colour, each with that."""
        return {c.patch: self.colours[c.patch] for c in cloths if self.sides.is_whole(c.patch)}

    def _left_legend(self, step: SewnStep) -> str:
        if step.seam is None:
            return "The fabric lies behind the paper, its right side away from you"
        return "Bold: the line just stitched" + (", stopped dead at the dot" if step.seam.stops else "")

    def _trimmed(self) -> list[Ink]:
        inks: list[Ink]
        if self.section.by_ruler:
            inks = [*_heads("From the back", "From the front")]
            for cloth in self.sewn.shown:
                inks += self.back.filled(cloth.shape, wrong_side(self.colours[cloth.patch]))
            inks += self.names_back.ink({p.name: wrong_side(self.colours[p.name]) for p in self.section.patches})
        else:
            inks = [*_labels(), *self.sides.trimmed_print(self.back)]
            inks += self.names_back.ink({p.name: PAPER for p in self.section.patches})
        inks += self.sides.trimmed_front(self.front)
        inks += self.names_front.ink(self._named(self.sewn.shown))
        return inks


def _joined(
    block: str, sewing: Sewing, rehearsed: Rehearsed, colours: Mapping[str, str]
) -> tuple[str, str, str, list[Ink]]:
    """The whole block, allowances pressed away inside and standing out all round."""
    whole = Polygon(sewing.outline)
    # The block is trued up: tips of sections stand out no further than its own allowance.
    unfinished = whole.buffer(sewing.allowance_in, join_style="mitre", mitre_limit=TIP_LIMIT)
    finished: list[Cloth] = []
    for section, sewn in zip(sewing.sections, rehearsed.sections, strict=True):
        hidden = less(whole, Polygon(section.outline))
        finished += [Cloth(c.patch, less(common(c.shape, unfinished), hidden), True) for c in sewn.shown]
    left, top, right, bottom = (float(b) for b in shapely.total_bounds([c.shape for c in finished]))
    back = Panel.around((left, top, right, bottom), LEFT, SIDE_IN, mirrored=True)
    front = Panel.around((left, top, right, bottom), RIGHT, SIDE_IN, mirrored=False)
    inks = _labels()
    for cloth in finished:
        inks += back.filled(cloth.shape, wrong_side(colours[cloth.patch]), pen=None)
        inks += front.filled(cloth.shape, colours[cloth.patch], pen=None)
    inks += back.filled(whole, PAPER, pen=None)
    for section in sewing.sections:
        for patch in section.patches:
            inks.append(Stroke(Pen.RULE, back.line(patch.ring), closed=True, colour=QUIET))
            inks.append(Stroke(Pen.RULE, front.line(patch.ring), closed=True, colour=INK))
    for panel in (back, front):
        inks += panel.outlined(unfinished, Pen.RULE, QUIET)
        inks.append(Stroke(Pen.STITCH, panel.line(sewing.outline), closed=True, colour=INK))
        inks += [Stroke(Pen.BOLD, panel.line(run), colour=INK) for join in rehearsed.joins for run in join.runs]
    named = [Named(section.name, section.name, section.outline) for section in sewing.sections]
    inks += Names(back, named, whole).ink({section.name: PAPER for section in sewing.sections})
    return ("joined", f"{block}, joined", joined_words(rehearsed), inks)


def _labels() -> list[Ink]:
    return _heads("Printed side, towards you at the needle", "Fabric side, from the front")


def _heads(left: str, right: str) -> list[Ink]:
    heads = ((LEFT, left), (RIGHT, right))
    return [Words(text, (x, LABEL_Y), WORDS_PT, Anchor.MIDDLE, colour=QUIET) for (x, _), text in heads]


def _small(text: str, middle: tuple[float, float]) -> Words:
    return Words(text, (middle[0], LEGEND_Y), SMALL_PT, Anchor.MIDDLE, colour=QUIET)


def _words(title: str, caption: str, cautions: str) -> list[Ink]:
    most = (WIDTH_IN - 2 * MARGIN_IN) * 72
    inks: list[Ink] = [Words(title, (MARGIN_IN, 0.6), TITLE_PT, bold=True, colour=INK)]
    y = CAPTION_Y
    size = WORDS_PT if len(wrapped(caption, WORDS_PT, most)) <= CAPTION_LINES else SMALL_PT
    for text, size_pt in ((caption, size), (cautions, SMALL_PT)):
        lines = list(wrapped(text, size_pt, most))
        room = int((HEIGHT_IN - MARGIN_IN / 2 - y) / (LINE_EM * size_pt / 72)) + 1
        if len(lines) > room:
            # Only the joins of a large block are so many; the plan in words lists them all.
            lines = [*lines[: room - 1], "... and so on, as seamwright check lists them."]
        for line in lines:
            inks.append(Words(line, (MARGIN_IN, y), size_pt, colour=INK))
            y += LINE_EM * size_pt / 72
        y += 0.04
    return inks
