"""The figure of a join: two parts laid out, their seam, the points to pin; beside them, where in the block.

Knows:  how far apart the parts lie, what is circled and what is linked, what of the block is sewn by then.
Leaves: words (joins), panels (rehearsal.view), sizes and shapes of parts (sizes), the key (sheet.key).
Units:  inches; parts in the block, ink in the figure.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

import shapely
from shapely.affinity import translate
from shapely.geometry import Polygon

from seamwright.booklet.model import Figure
from seamwright.booklet.sizes import Sizes
from seamwright.booklet.stage import USUAL, Stage, Type
from seamwright.foundation.spots import Spot, join_spots
from seamwright.geometry import Point, Ring
from seamwright.ink.lettering import centred, words_box
from seamwright.ink.model import Area, Ink, Pen, Stroke, Words, move_ink
from seamwright.ink.place import place_words, roomiest
from seamwright.picture.tints import INK, QUIET, WHITE
from seamwright.piecing.model import Plan
from seamwright.piecing.turns import Turn, turns_of
from seamwright.rehearsal.sides import DOT_IN, Parts, dot
from seamwright.rehearsal.view import Bounds, Panel, wrong_side
from seamwright.sheet.key import Key

LAID_OUT, WHERE = "Laid out, from the front", "In the block"
APART = 0.35
"""Parts lie this share of an inch apart, raw edge from raw edge, or less where they are small."""
CIRCLE_IN = 0.06
LETTER_PT = (14.0, 12.0, 10.0, 9.0, 8.0, 7.0)
KEY_IN = 0.95
SEWN_BEFORE = "#ECEEF1"


@dataclass(frozen=True, slots=True)
class JoinDrawer:
    """What the figures of all joins of a plan share.

    Attributes:
        runs: along each join, in coordinates; spots: its marked places.
        turns: where joins turn, by point.
        colours: of each patch by name; parts: of those that are pieced beforehand.
    """

    plan: Plan
    sizes: Sizes
    colours: Mapping[str, str]
    parts: Parts
    runs: tuple[tuple[Point, ...], ...]
    spots: tuple[tuple[Spot, ...], ...]
    key: Key
    turns: Mapping[int, Turn]
    kind: Type = USUAL

    @staticmethod
    def of(plan: Plan, sizes: Sizes, colours: Mapping[str, str], parts: Parts, kind: Type = USUAL) -> JoinDrawer:
        """The drawer of a plan with sections."""
        from seamwright.block.rings import Runs
        from seamwright.claims.plans import joined_parts

        runs = Runs(plan.block)
        along = tuple(runs.along(join.seam, one, two) for join, one, two in joined_parts(plan))
        key, turns = Key(plan, KEY_IN * 72, plan.options.units), {turn.point: turn for turn in turns_of(plan)}
        return JoinDrawer(plan, sizes, colours, parts, along, tuple(join_spots(plan)), key, turns, kind)

    def figure(self, number: int, says: str) -> Figure:
        """The figure of join `number`, from 1."""
        join, run, spots = self.plan.joins[number - 1], self.runs[number - 1], self.spots[number - 1]
        away = self._away(number)
        rings = [self.sizes.unfinished(part).ring for part in (join.first, join.second)]
        second = [(x + away[0], y + away[1]) for x, y in rings[1]]
        bounds = _around([*rings[0], *second])
        width, height = (side / 72 for side in self.key.size_pt)
        key, labels = (0.0, 0.0, width, height), (LAID_OUT, WHERE)
        stage = Stage.of(bounds, labels, mirrored=False, small_bounds=key, true_small=True, kind=self.kind)
        panel = stage.large
        shifted = _moved(panel, away)
        inks: list[Ink] = [
            *self._part(join.first, rings[0], panel),
            *self._part(join.second, rings[1], shifted),
        ]
        ends = [run[0], run[-1]] if math.dist(run[0], run[-1]) > 1e-9 else []
        marks = [self._foot(spot) for spot in spots]
        inks += [Stroke(Pen.HELPER, (panel.point(at), shifted.point(at)), colour=QUIET) for at in (*marks, *ends)]
        turns = {self.plan.block.points[p]: self.turns[p] for p in join.seam if p in self.turns}
        for one in (panel, shifted):
            inks.append(Stroke(Pen.BOLD, one.line(run), colour=INK))
            for at in marks:
                inks += _circled(one.point(at))
            for at, turn in turns.items():
                inks.append(Area((dot(one.point(at)),), INK))
                # As on the paper: a dot where the needle pivots, a ring where a seam is sewn in two goes.
                inks += [Area((dot(one.point(at), DOT_IN * 0.6),), WHITE)] if turn.is_half else []
        inks += self._letters(join.first, panel, [*map(panel.point, marks)])
        inks += self._letters(join.second, shifted, [*map(shifted.point, marks)])
        return stage.figure([*inks, *self._where(number, stage.small)], says, labels, self.kind)

    # -- the parts -------------------------------------------------------------------------------------------

    def _part(self, part: str, unfinished: Ring, panel: Panel) -> list[Ink]:
        """A part as it lies on the table: its allowance white, its patches pale so that the seam is seen."""
        names = self.plan.patch_names()
        inks: list[Ink] = [Area((panel.line(unfinished),), WHITE)]
        for patch in self.sizes.patches(part):
            ring = panel.line(self.plan.block.patch_ring(patch))
            inks.append(Area((ring,), wrong_side(self.colours[names[patch]])))
            inks += [
                Area((panel.line(shape),), wrong_side(colour)) for shape, colour in self.parts.get(names[patch], ())
            ]
            inks += [
                Stroke(Pen.RULE, ring, closed=True, colour=QUIET),
            ]
        inks.append(Stroke(Pen.HELPER, panel.line(unfinished), closed=True, colour=INK))
        return inks

    def _away(self, number: int) -> Point:
        """How far the second part is moved so that its raw edges lie clear of the first's."""
        join, run = self.plan.joins[number - 1], self.runs[number - 1]
        one, two = (Polygon(self.sizes.unfinished(part).ring) for part in (join.first, join.second))
        direction = self._direction(number, run)
        left, top, right, bottom = shapely.total_bounds([one, two])
        gap = min(APART, 0.08 * max(right - left, bottom - top))
        step = gap / 2
        moved = 0.0
        # Steps are counted: parts never reach further than they are long.
        for _ in range(math.ceil(2 * (right - left + bottom - top) / step)):
            if translate(two, moved * direction[0], moved * direction[1]).distance(one) >= gap:
                break
            moved += step
        return (moved * direction[0], moved * direction[1])

    def _direction(self, number: int, run: Sequence[Point]) -> Point:
        """Square to the seam's chord, towards the second part; from middle to middle where there is no chord."""
        join = self.plan.joins[number - 1]
        (ax, ay), (bx, by) = (
            self.sizes.finished(part).representative_point().coords[0] for part in (join.first, join.second)
        )
        chord = (run[-1][0] - run[0][0], run[-1][1] - run[0][1])
        length = math.hypot(*chord)
        if join.turns or length < 1e-9:
            middles = [self.sizes.finished(part).centroid.coords[0] for part in (join.first, join.second)]
            across = (middles[1][0] - middles[0][0], middles[1][1] - middles[0][1])
            far = math.hypot(*across)
            return (across[0] / far, across[1] / far) if far > 1e-9 else (1.0, 0.0)
        normal = (-chord[1] / length, chord[0] / length)
        sense = 1.0 if (bx - ax) * normal[0] + (by - ay) * normal[1] >= 0 else -1.0
        return (sense * normal[0], sense * normal[1])

    @staticmethod
    def _foot(spot: Spot) -> Point:
        """The middle of a marked place."""
        feet = [tick.foot for tick in spot.ticks]
        return (math.fsum(x for x, _ in feet) / len(feet), math.fsum(y for _, y in feet) / len(feet))

    def _letters(self, part: str, panel: Panel, marks: Sequence[Point]) -> list[Ink]:
        """The letter of every section of a part that has room for it; of a section alone in any case."""
        inks: list[Ink] = []
        names = self.sizes.sections(part)
        for name in names:
            ring = panel.line(
                tuple((float(x), float(y)) for x, y in self.sizes.finished(name).exterior.coords[:-1])
            )
            words = place_words(
                ring, name, self.kind.sizes(*LETTER_PT), bold=True, obstacles=[_square(at) for at in marks]
            )
            if words is None and len(names) == 1:
                words = centred(name, roomiest(ring)[0], self.kind.sizes(LETTER_PT[-1])[0], bold=True)
            if words is not None:
                inks += [_ground(words), Words(name, words.at, words.size_pt, words.anchor, bold=True, colour=INK)]
        return inks

    # -- where it is in the block ----------------------------------------------------------------------------

    def _where(self, number: int, panel: Panel) -> list[Ink]:
        """The key: the two parts tinted, what else is sewn by then paler, the seam bold."""
        join = self.plan.joins[number - 1]
        shown = frozenset((*self.sizes.sections(join.first), *self.sizes.sections(join.second)))
        before = {s for j in self.plan.joins[: number - 1] for s in self.sizes.sections(j.makes)} - shown
        block = self.plan.block
        scale = self.key.size_pt[0] / 72 / block.width_in
        affine = (panel.scale, 0.0, 0.0, panel.scale, *panel.point((0.0, 0.0)))
        inks: list[Ink] = []
        for name in sorted(before):
            ring = tuple((x * scale, y * scale) for x, y in self.sizes.finished(name).exterior.coords[:-1])
            inks.append(Area((ring,), SEWN_BEFORE))
        inks += key_ink(self.key, shown)
        inks.append(Stroke(Pen.BOLD, tuple((x * scale, y * scale) for x, y in self.runs[number - 1]), colour=INK))
        return [move_ink(ink, affine) for ink in inks]


def key_ink(key: Key, shown: Iterable[str]) -> list[Ink]:
    """The key in inches, sections of these names tinted; letters that would lie on others are left out."""
    inks: list[Ink] = []
    taken: list[Polygon] = []
    width, height = key.size_pt
    whole = shapely.box(0, 0, width / 72, height / 72)
    for ink in (move_ink(ink, (1 / 72, 0, 0, 1 / 72, 0, 0)) for ink in key.picture(frozenset(shown))):
        if isinstance(ink, Words):
            box = Polygon(words_box(ink))
            if not whole.contains(box) or any(box.intersects(other) for other in taken):
                continue
            taken.append(box)
        inks.append(ink)
    return inks


def _circled(at: Point) -> list[Ink]:
    ring = dot(at, CIRCLE_IN)
    return [
        Stroke(Pen.WALL_STITCH, ring, closed=True, colour=WHITE),
        Stroke(Pen.MARK, ring, closed=True, colour=INK),
    ]


def _square(at: Point) -> Ring:
    (x, y), half = at, CIRCLE_IN + 0.02
    return ((x - half, y - half), (x + half, y - half), (x + half, y + half), (x - half, y + half))


def _ground(words: Words) -> Area:
    """White under a letter, so that it is read on any patch."""
    ring = Polygon(words_box(words)).buffer(0.02, join_style="mitre").exterior.coords[:-1]
    return Area((tuple((float(x), float(y)) for x, y in ring),), WHITE)


def _moved(panel: Panel, away: Point) -> Panel:
    """The panel in which a part is drawn that was moved in the block."""
    x, y = panel.centre
    return Panel(
        (x + away[0] * panel.scale, y + away[1] * panel.scale), panel.side, panel.middle, panel.scale, False
    )


def _around(points: Iterable[Point]) -> Bounds:
    from seamwright.geometry import bounds

    return bounds(list(points))
