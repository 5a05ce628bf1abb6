"""Sections that need no paper: their own short form.

Knows:  patches sewn one to the other with a ruler's pieces, quicker ways to make many.
Leaves: what is told of any section (steps), what to cut (cutting), sizes (sizes).
Units:  inches.
"""

from __future__ import annotations

from collections.abc import Sequence

from shapely.geometry import Polygon

from seamwright.booklet.dimensions import measured_figure
from seamwright.booklet.model import Figure, Item, Points, Step
from seamwright.booklet.stage import SIZES, SMALL_SIZES, Stage
from seamwright.booklet.steps import Teller
from seamwright.ink.model import Ink, Pen, Stroke
from seamwright.options import CutOptions
from seamwright.picture.tints import INK
from seamwright.piecing.model import Section
from seamwright.rehearsal.line import StitchLine
from seamwright.rehearsal.model import SewnStep
from seamwright.rehearsal.paper import grown
from seamwright.rehearsal.sides import Sides
from seamwright.rehearsal.view import Names, Panel, wrong_side
from seamwright.units import say_length

TOGETHER, OPENED = "Right sides together", "Opened, from the front"


def ruler_steps(teller: Teller, letter: str, section: Section) -> list[Item]:
    """The steps of a section sewn without paper, what it measures, and how to make many of it."""
    units = teller.plan.options.units
    drawer = _Drawer(teller.sides(section.name), teller.plan.options.seam_allowance_in)
    items: list[Item] = []
    for step in drawer.sides.sewn.steps:
        text = _first(step) if step.seam is None else _later(teller, step, section)
        items.append(Step(drawer.figure(step), step.patch, teller.fabric(step, section), (text,), letter))
    size = teller.sizes.unfinished(section.name)
    says = f"Section {letter} from the front, with its measures"
    text = f"Measure it before it is sewn on: unfinished {size.said(units)}. If it is off, true it up."
    figure = measured_figure(size, drawer.sides.trimmed_front, units, says)
    items.append(Step(figure, letter, "measure", (text,), letter))
    ways = _ways(teller, section)
    return [*items, Points(ways)] if ways else items


def _first(step: SewnStep) -> str:
    return f"Lay {step.patch} right side up on the table; there is no paper and nothing to stitch yet."


def _later(teller: Teller, step: SewnStep, section: Section) -> str:
    allowance = say_length(teller.plan.options.seam_allowance_in, teller.plan.options.units, glyphs=True)
    return (
        f"Lay {step.patch} on {teller.before(step, section)} right sides together, raw edges even, and sew from "
        f"edge to edge at a scant {allowance}. Open it and press the seam to the darker fabric."
    )


def _ways(teller: Teller, section: Section) -> tuple[str, ...]:
    from seamwright.cutting.units import units_of

    for unit in units_of(teller.plan, CutOptions()):
        if section.name in unit.sections and not unit.on_paper:
            return unit.ways
    return ()


class _Drawer:
    """The figures of one section's steps."""

    def __init__(self, sides: Sides, allowance: float) -> None:
        self.sides = sides
        self.areas = [Polygon(patch.ring) for patch in sides.section.patches]
        self.cut = [grown(area, allowance) for area in self.areas]
        left, top, right, bottom = grown(Polygon(sides.section.outline), allowance).bounds
        bounds = (left, top, right, bottom)
        self.stage = stage = Stage.of(bounds, mirrored=False, most_high=1.9)
        self.names = Names(stage.large, sides.named, sides.sewn.trim, SIZES, room=stage.room)
        self.small_names = Names(stage.small, sides.named, sides.sewn.trim, SMALL_SIZES, room=stage.room)

    def figure(self, step: SewnStep) -> Figure:
        """The new piece on what is sewn, stitched; beside it the same opened."""
        stage, sides, number = self.stage, self.sides, step.number - 1
        patches = sides.section.patches
        if step.seam is None:
            inks = self._sewn(stage.large, 1)
            shown = patches[:1]
        else:
            inks, shown = self._sewn(stage.large, number), patches[:number]
            line = StitchLine(step.seam.start, step.seam.end)
            over = line.mirrored(self.cut[number])
            inks += stage.large.filled(over, wrong_side(sides.colours[step.patch]))
            inks.append(Stroke(Pen.BOLD, stage.large.line(step.seam.needle), colour=INK))
            shown = tuple(p for p in shown if not over.intersects(Polygon(p.ring).buffer(-0.01)))
        inks += self._named(self.names, [p.name for p in shown])
        if number:
            inks += self._sewn(stage.small, step.number)
            inks += self._named(self.small_names, [p.name for p in patches[: step.number]])
        says = f"Step {step.number}: {step.patch} sewn on without paper, and the work from the front after it"
        return stage.figure(inks, says, (TOGETHER if number else "Right side up", OPENED if number else ""))

    def _sewn(self, panel: Panel, count: int) -> list[Ink]:
        """The first patches as they lie opened, allowance standing out all round."""
        inks: list[Ink] = []
        for shapes in (self.cut, self.areas):
            for shape, patch in zip(shapes[:count], self.sides.section.patches, strict=False):
                inks += panel.filled(shape, self.sides.colours[patch.name])
        return inks

    def _named(self, names: Names, which: Sequence[str]) -> list[Ink]:
        return names.ink({name: self.sides.colours[name] for name in which if names.is_inside(name)})
