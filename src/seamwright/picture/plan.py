"""The picture of a plan: the block from the front, its sections tinted, its patches numbered, what is stuck marked.

Knows:  where tints, names, marks and the words below the block go.
Leaves: the words themselves (the caller's caption, the obstructions' own sentences), ink to SVG (ink.svg).
Units:  inches; the block is drawn with its longer side at `SIDE_IN`, whatever its finished size.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from seamwright.block.model import Block
from seamwright.geometry import Point, Ring
from seamwright.ink.lettering import centred
from seamwright.ink.model import Area, Ink, Pen, Stroke, Words
from seamwright.ink.place import roomiest
from seamwright.ink.wrap import wrapped
from seamwright.picture.labels import name_in
from seamwright.picture.marks import advice_marks, lettered, stuck_marks, turn_marks, turn_words
from seamwright.picture.model import Picture
from seamwright.picture.tints import CHALK, INK, QUIET, SIGNAL, section_tints
from seamwright.piecing.model import Mend, Plan
from seamwright.piecing.turns import turns_of

SIDE_IN = 7.5
MARGIN_IN = 0.4
STUCK = "#F6DADD"
"""Ground of a patch that belongs to a stuck region: the signal colour, thinned."""
NAME_SIZES_PT = (14, 12, 11, 10, 9, 8, 7, 6, 5, 4, 3)
WORDS_PT = 10.0
TITLE_PT = 14.0
LINE_IN = 0.2


def plan_picture(
    plan: Plan,
    caption: Sequence[str] = (),
    description: str = "",
    mends: Sequence[Mend] = (),
    done: tuple[Block, Sequence[Mend]] | None = None,
) -> str:
    """The picture as an SVG document.

    Args:
        caption: lines below the block's name, the verdict first; long ones are broken.
        description: words kept inside the file.
        mends: each gets a small picture below the words.
        done: the block as it was and the mends by which it became this plan's: what changed is marked.
    """
    from seamwright.ink.svg import to_svg

    picture = draw_plan(plan, caption, mends, done)
    return to_svg(
        picture.inks,
        picture.width_in,
        picture.height_in,
        title=plan.block.title,
        description=description,
        background=CHALK,
    )


def draw_plan(
    plan: Plan,
    caption: Sequence[str] = (),
    mends: Sequence[Mend] = (),
    done: tuple[Block, Sequence[Mend]] | None = None,
) -> Picture:
    """The picture as ink, origin top left."""
    view = _View.of(plan)
    inks: list[Ink] = [*_grounds(plan, view), *_lines(plan, view)]
    if done is not None:
        from seamwright.picture.mends import change_marks

        inks += change_marks(*done, view.point)
    inks += _marks(plan, view)
    inks += _names(plan, view)
    baseline = MARGIN_IN + plan.block.height_in * view.scale + 0.4
    inks.append(Words(plan.block.title, (MARGIN_IN, baseline), TITLE_PT, bold=True, colour=INK))
    # Sentences of what is stuck and of advice follow the first line, each beside the key that stands on its mark.
    told = [*((line, "") for line in caption[:1]), *((o.why, str(o.number)) for o in plan.obstructions)]
    told += [(f"{note.text[:1].upper()}{note.text[1:]}.", letter) for letter, note in lettered(plan.notes)]
    told += [(line, "") for line in turn_words(turns_of(plan))]
    told += [(line, "") for line in caption[1:]]
    for text, key in told:
        indent = 0.25 if key else 0.0
        for count, line in enumerate(wrapped(text, WORDS_PT, (view.width - 2 * MARGIN_IN - indent) * 72)):
            baseline += LINE_IN + (0.06 if count == 0 else 0.0)
            if key and count == 0:
                colour = SIGNAL if key.isdigit() else QUIET
                inks.append(Words(key, (MARGIN_IN, baseline), WORDS_PT, bold=True, colour=colour))
            inks.append(Words(line, (MARGIN_IN + indent, baseline), WORDS_PT, colour=INK))
    if mends:
        from seamwright.picture.mends import mend_rows

        left, width, top = MARGIN_IN, view.width - 2 * MARGIN_IN, baseline + 0.35
        rows, baseline = mend_rows(plan.block, plan.obstructions, mends, left, top, width)
        inks += rows
    return Picture(tuple(inks), view.width, baseline + MARGIN_IN)


@dataclass(frozen=True, slots=True)
class _View:
    """From the block's inches to the picture's."""

    scale: float
    left: float
    width: float

    @staticmethod
    def of(plan: Plan) -> _View:
        scale = SIDE_IN / max(plan.block.width_in, plan.block.height_in)
        # A narrow block still leaves room for the words below it.
        width = max(plan.block.width_in * scale, 4.5) + 2 * MARGIN_IN
        return _View(scale, (width - plan.block.width_in * scale) / 2, width)

    def point(self, point: Point) -> Point:
        return (self.left + point[0] * self.scale, MARGIN_IN + point[1] * self.scale)

    def ring(self, ring: Sequence[Point]) -> Ring:
        return tuple(self.point(p) for p in ring)


def _grounds(plan: Plan, view: _View) -> list[Ink]:
    tints = section_tints(plan)
    colours = {patch: tints[s.name] for s in plan.sections for patch in s.patches}
    colours |= {patch: STUCK for o in plan.obstructions for patch in o.patches}
    return [
        Area(_rings(plan, view, patch), colours.get(patch, "#FFFFFF")) for patch in range(len(plan.block.patches))
    ]


def _lines(plan: Plan, view: _View) -> list[Ink]:
    section_of = {patch: s.name for s in plan.sections for patch in s.patches}
    thin: list[Ink] = []
    bold: list[Ink] = []
    for number, edge in enumerate(plan.block.edges):
        points = view.ring(plan.block.edge_points(number))
        inside = section_of.get(edge.left) == section_of.get(edge.right) and edge.seam >= 0
        (thin if inside else bold).append(Stroke(Pen.STITCH if inside else Pen.BOLD, points, colour=INK))
    return thin + bold


def _marks(plan: Plan, view: _View) -> list[Ink]:
    """What is stuck and what asks for care, each with its key."""
    stuck = [ink for o in plan.obstructions for ink in stuck_marks(plan.block, o, view.point)]
    turns = turns_of(plan)
    turning = turn_marks(plan.block, turns, view.point)
    return stuck + turning + advice_marks(plan.notes, view.point, [plan.block.points[t.point] for t in turns])


def _names(plan: Plan, view: _View) -> list[Ink]:
    """Each patch's name at its roomiest place; beside it with a leader where it cannot fit."""
    inks: list[Ink] = []
    # Badges lie over the drawing: names keep clear of them.
    drawn = _marks(plan, view)
    marks = [ink.points for ink in drawn if isinstance(ink, Stroke) and ink.closed]
    marks += [ink.rings[0] for ink in drawn if isinstance(ink, Area)]
    for patch, name in enumerate(plan.patch_names()):
        ring, *holes = _rings(plan, view, patch)
        words = name_in((ring, *holes), name, NAME_SIZES_PT, obstacles=marks)
        if words is None:
            # Too small for any name that can be read: let it run over its lines rather than leave it out.
            middle, _ = roomiest(ring, holes)
            words = centred(name, middle, NAME_SIZES_PT[-1])
        inks.append(replace(words, colour=INK))
    return inks


def _rings(plan: Plan, view: _View, patch: int) -> tuple[Ring, ...]:
    return (
        view.ring(plan.block.patch_ring(patch)),
        *(view.ring(hole) for hole in plan.block.patch_holes(patch)),
    )
