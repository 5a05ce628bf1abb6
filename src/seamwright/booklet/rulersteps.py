"""Sections that need no paper: their own short form.

Knows:  patches sewn one to the other with a ruler's pieces.
Leaves: quicker ways to make many (tables), what is told of any section (steps), sizes (sizes).
Units:  inches.
"""

from __future__ import annotations

from collections.abc import Sequence

from seamwright.booklet.dimensions import measured_figure
from seamwright.booklet.model import Figure, Item, Paragraph, Step
from seamwright.booklet.stage import Stage, Type
from seamwright.booklet.stepfigures import COMPACT_HIGH_IN
from seamwright.booklet.steps import Teller
from seamwright.ink.model import Ink
from seamwright.options import CutOptions
from seamwright.piecing.model import Section
from seamwright.rehearsal.model import SewnStep
from seamwright.rehearsal.sides import Sides
from seamwright.rehearsal.view import Names
from seamwright.units import say_length, say_list

MANY = "To make several at a time, see the ways told in the chapter of cutting, under 'Without paper'."
TOGETHER, OPENED = "Right sides together", "Front, opened"


def ruler_steps(teller: Teller, letter: str, section: Section) -> list[Item]:
    """The steps of a section sewn without paper, what it measures, and how to make many of it."""
    from seamwright.cutting.units import units_of
    from seamwright.fabric.units import FLYING_GEESE

    units = teller.plan.options.units
    drawer = _Drawer(teller.sides(section.name), teller.kind)
    mine = [unit for unit in units_of(teller.plan, CutOptions()) if section.name in unit.sections]
    # Geese are pressed away from the large triangle: its point stays flat (common practice).
    is_goose = any(unit.kind == FLYING_GEESE for unit in mine)
    pressed = f"outwards, away from {section.patch_name(1)}" if is_goose else "to the darker fabric"
    items: list[Item] = []
    for step in drawer.sides.sewn.steps:
        text = _first(step) if step.seam is None else _later(teller, step, section, pressed)
        items.append(Step(drawer.figure(step), step.patch, teller.fabric(step, section), (text,), letter))
    size = teller.sizes.unfinished(section.name)
    says = f"Section {letter} from the front, with its measures"
    text = f"Measure it before it is sewn on: unfinished {size.said(units)}. If it is off, true it up."
    figure = measured_figure(size, drawer.sides.trimmed_front, units, says, kind=teller.kind)
    items.append(Step(figure, letter, "measure", (text,), letter))
    has_ways = any(not unit.on_paper and len(unit.ways) > 1 for unit in mine)
    return [*items, Paragraph(MANY)] if has_ways else items


def _first(step: SewnStep) -> str:
    return f"Lay {step.patch} right side up on the table; there is no paper and nothing to stitch yet."


def _later(teller: Teller, step: SewnStep, section: Section, pressed: str) -> str:
    seam = step.seam
    assert seam is not None
    allowance = say_length(teller.plan.options.seam_allowance_in, teller.plan.options.units, glyphs=True)
    edges = "" if seam.stops else "from edge to edge "
    stop = (
        f", stopping dead at the {'marked point' if len(seam.stops) == 1 else 'marked points'}"
        if seam.stops
        else ""
    )
    off = ", and cut off the points that stick out" if step.trimmed_off is not None else ""
    on = say_list(teller.before(step, section), most=6)
    return (
        f"Lay {step.patch} on {on} right sides together, raw edges even, and sew {edges}at a scant "
        f"{allowance}{stop}. Open it, press the seam {pressed}{off}."
    )


class _Drawer:
    """The figures of one section's steps."""

    def __init__(self, sides: Sides, kind: Type) -> None:
        self.sides, self.kind = sides, kind
        self.stage = stage = Stage.of(
            sides.bounds, (TOGETHER, OPENED), mirrored=False, most_high=COMPACT_HIGH_IN, kind=kind
        )
        self.names = Names(stage.large, sides.named, sides.work, kind.names, room=stage.room)
        self.small_names = Names(stage.small, sides.named, sides.work, kind.small_names, room=stage.room)

    def figure(self, step: SewnStep) -> Figure:
        """The new piece on what is sewn, stitched; beside it the same opened."""
        stage, sides = self.stage, self.sides
        inks = sides.together(stage.large, step)
        inks += self._named(self.names, sides.seen_together(step))
        is_first = step.seam is None
        if not is_first:
            inks += sides.opened(stage.small, step)
            inks += self._named(self.small_names, [cloth.patch for cloth in step.table])
        says = f"Step {step.number}: {step.patch} sewn on without paper, and the work from the front after it"
        return stage.figure(inks, says, ("Right side up", "") if is_first else (TOGETHER, OPENED), self.kind)

    def _named(self, names: Names, which: Sequence[str]) -> list[Ink]:
        return names.ink({name: self.sides.colours[name] for name in which if names.is_inside(name)})
