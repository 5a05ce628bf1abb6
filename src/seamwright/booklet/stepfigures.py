"""The figures of a section's steps, and where a section lies in the block.

Knows:  what one figure of a step shows, how the key becomes a figure, two figures side by side.
Leaves: the work itself (rehearsal.sides), how large it is drawn (stage), the key (sheet.key).
Units:  inches.
"""

from __future__ import annotations

from collections.abc import Sequence

from seamwright.booklet.joinfigures import key_ink
from seamwright.booklet.model import PICTURE_HIGH_IN, PICTURE_IN, Figure
from seamwright.booklet.stage import GAP_IN, USUAL, Stage, Type
from seamwright.ink.model import move_ink
from seamwright.piecing.model import Plan
from seamwright.rehearsal.model import SewnStep
from seamwright.rehearsal.sides import PAPER, Sides
from seamwright.rehearsal.view import Names, wrong_side
from seamwright.units import say_list

COMPACT_HIGH_IN = 2.0
"""Figures no higher, four to a page, as long as the names of all patches find room in them."""
KEY_IN, SMALL_KEY_IN = 1.3, 0.85
"""Longer side of the small picture that shows where a section lies; beside a picture of the piece itself."""
PRINTED, FRONT = "Printed side, at the needle", "Front, done"
LAID = "Printed side, fabric behind it"
WHERE = "In the block, from the front"


class StepDrawer:
    """The figures of one section's steps, all on one stage."""

    def __init__(self, sides: Sides, kind: Type) -> None:
        self.sides, self.kind = sides, kind
        for high in (COMPACT_HIGH_IN, PICTURE_HIGH_IN):
            self.stage = stage = Stage.of(
                sides.window, (PRINTED, FRONT), small_bounds=sides.front_bounds, most_high=high, kind=kind
            )
            self.names = Names(stage.large, sides.named, sides.rough, kind.names, room=stage.room)
            if all(self.names.is_inside(patch.name) for patch in sides.section.patches):
                break
        self.small_names = Names(stage.small, sides.named, sides.work, kind.small_names, room=stage.room)

    def figure(self, step: SewnStep, says: str) -> Figure:
        """A step at the needle, and beside it what it comes to."""
        stage, sides, names = self.stage, self.sides, self.names
        colours = {p.name: PAPER for p in sides.section.patches if names.is_inside(p.name)}
        if names.is_inside(step.patch) or names.is_beside(step.patch):
            colours[step.patch] = wrong_side(sides.colours[step.patch])
        inks = [*sides.at_needle(stage.large, step, names.boxes(colours)), *names.ink(colours)]
        inks += sides.front(stage.small, step)
        small = self.small_names
        inks += small.ink(
            {
                c.patch: sides.colours[c.patch]
                for c in step.table
                if small.is_inside(c.patch) and sides.is_whole(c.patch)
            }
        )
        return stage.figure(inks, says, (PRINTED if step.seam else LAID, FRONT), self.kind)


def side_by_side(first: Figure, second: Figure) -> Figure:
    """Two figures as one, their tops level, the second as far right as a step's picture reaches."""
    across = max(PICTURE_IN - second.width_in, first.width_in + GAP_IN)
    moved = tuple(move_ink(ink, (1, 0, 0, 1, across, 0)) for ink in second.inks)
    height = max(first.height_in, second.height_in)
    says, scale = f"{first.says}. {second.says}", max(first.scale, second.scale)
    return Figure((*first.inks, *moved), across + second.width_in, height, says, scale)


def key_figure(
    plan: Plan, names: Sequence[str], longest_in: float = KEY_IN, kind: Type = USUAL, label: str = ""
) -> Figure:
    """The block from the front, small, the sections of these names tinted; words below it."""
    from seamwright.sheet.key import Key

    key = Key(plan, longest_in * 72, plan.options.units)
    width, height = key.size_pt
    edge = 2.0
    scaled = tuple(move_ink(ink, (1, 0, 0, 1, edge / 72, edge / 72)) for ink in key_ink(key, names))
    who = say_list(list(names)) if names else "the sections"
    says = f"Where {who} {'lies' if len(names) == 1 else 'lie'} in the block"
    wide, high = (width + 2 * edge) / 72, (height + 2 * edge) / 72
    if not label:
        return Figure(scaled, wide, high, says)
    lines = kind.lines(label, wide)
    words = kind.label(label, wide / 2, high, wide)
    return Figure((*scaled, *words), wide, high + kind.high_in(lines), says, kind.scale)
