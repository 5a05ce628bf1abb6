"""The piece of fabric for each patch: its shape, how large it is cut, how it comes to lie where it belongs.

Knows:  which shape is taken, which way its grain runs, how it is laid.
Leaves: what has to be covered (needs), sizes that cover (fits), what is sewn without paper (plain), the proof
        (rehearsal), marks on the foundation.
Units:  inches, front view; degrees clockwise from +x.
Method: a new piece is laid edge to edge on the allowance that is already trimmed, so on its stitch side it has the
        allowance only, and extra on the other three sides; the first one has extra all round (common practice). Its
        size is the smallest that covers, up to the next mark; it is centred on the middle of its line where that
        costs one mark at most, else laid by ticks. Where these would lie off the paper it is laid by what the paper
        shows of its outline, for which it may be two marks longer; else it is centred, however long, or pinned and
        folded back. On the straight grain lie patches at the block's edge, for edges on the bias stretch, and
        prints that run one way.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from functools import lru_cache

from shapely.geometry import LineString

from seamwright.cutting.beforehand import made_up
from seamwright.cutting.first import first_piece
from seamwright.cutting.fits import (
    STEP_IN,
    Fit,
    Frame,
    along_line,
    box_round,
    rectangles,
    sure_of,
    to_cover,
    triangles,
    up,
)
from seamwright.cutting.needs import Need, needs_of
from seamwright.cutting.plain import SHARE, plain_piece, runs_along
from seamwright.cutting.triangles import (
    OFF_GRAIN_DEG,
    Corner,
    half_rectangles,
    hand,
    in_pairs,
    is_half_square,
    off_grain,
    square_corner,
    triangle_of,
)
from seamwright.fabric.laying import grown_until_shown, off_most, room_of, shown, tick
from seamwright.fabric.pieces import EXTRA_IN, Lay, Piece, Shape
from seamwright.foundation.common import Common, common_to
from seamwright.geometry import Point, Ring, Segment
from seamwright.piecing.model import Plan, Section

DEAR = 1
"""Rather than centred and longer by more marks than these a piece is laid by its outline, where paper shows it."""
MOST_LONGER = 2
"""By so many marks a piece is made longer at most to be laid by what the paper shows of it: 1/2 in, or 1 cm. More
costs more than to pin it and fold it back."""


@lru_cache(maxsize=8)
def pieces_of(plan: Plan) -> tuple[Piece, ...]:
    """The piece of fabric for each patch, section by section in sewing order; () for a plan without sections.

    Those of the last few plans are kept: proof, print, cutting list and booklet ask for the same.
    """
    if not plan.sections:
        return ()
    common = common_to(plan)
    cutters = [_Cutter(common, section) for section in plan.sections]
    pieces = [piece for cutter in cutters for piece in cutter.pieces()]
    return in_pairs(pieces, {patch: half for cutter in cutters for patch, half in cutter.halves.items()})


class _Cutter:
    """The pieces of one section."""

    def __init__(self, common: Common, section: Section) -> None:
        self.common, self.plan, self.section, self.names = common, common.plan, section, common.names
        self.trim = common.trims[section.name]
        self.room = room_of(self.trim)
        self.edges = common.edges_deg[section.name]
        options = common.plan.options
        self.halves: dict[int, Piece] = {}
        self.allowance = options.seam_allowance_in
        self.off = off_most(self.allowance)
        self.step, self.extra = STEP_IN[options.units], EXTRA_IN[options.units]

    def _grain(self, patch: int) -> tuple[float | None, bool]:
        """(direction of the straight grain, whether the fabric runs one way) of a patch; None: any will do.

        A print that runs one way lies as it is meant to; else an edge of the block lies along a thread.
        """
        block = self.plan.block
        fabric = next((f for f in block.fabrics if f.name == block.patches[patch].fabric), None)
        if fabric is not None and fabric.direction_deg is not None:
            return fabric.direction_deg % 180, True
        return self.edges[self.section.patches.index(patch)], False

    def pieces(self) -> list[Piece]:
        section = self.section
        if section.kind == "plain" or section.method == "ruler":
            return [plain_piece(self.common, section, patch, *self._grain(patch)) for patch in section.patches]
        needs = needs_of(self.plan.block, section, self.trim, self.allowance)
        return [self._on_paper(need) for need in needs]

    def _on_paper(self, need: Need) -> Piece:
        if self.plan.block.parts_of(need.patch):
            fold = None if need.line is None else along_line(need.line)
            return self._made_up(
                need.patch, lambda frame: to_cover(need, frame, self.allowance, self.extra), Lay.ANGLED, fold
            )
        if need.line:
            return self._stitched(need)
        fabric = self.plan.block.patches[need.patch].fabric
        beyond = self.allowance, self.extra, self.step
        return first_piece(need, self.names[need.patch], fabric, *self._grain(need.patch), *beyond)

    def _made_up(
        self, patch: int, cover: Callable[[Frame], Sequence[Point]], lay: Lay, fold: Frame | None = None
    ) -> Piece:
        """A piece that is sewn of several beforehand."""
        block, name = self.plan.block, self.names[patch]
        return made_up(block, patch, name, cover, self.allowance, self.step, fold=fold, lay=lay)

    # -- with a stitch line -------------------------------------------------------------------------------

    def _stitched(self, need: Need) -> Piece:
        """A piece laid on a trimmed allowance, or where it is drawn."""
        assert need.line is not None
        grain, one_way = self._grain(need.patch)
        line = along_line(need.line)
        line_deg = math.degrees(math.atan2(line.ahead[1], line.ahead[0]))
        if need.crosses:
            return self._drawn(need, line_deg if grain is None else grain, grain, one_way)
        cover = to_cover(need, line, self.allowance, self.extra)
        shape, sizes = Shape.RECTANGLE, rectangles(cover, self.allowance, self.step)
        if not one_way and (corner := square_corner(need.ring)):
            found = triangle_of(need, corner, grain)
            if found is not None:
                shape, shaped = found
                sizes = triangles(cover, self.allowance, self.step, shaped)
            if found is None and not is_half_square(corner):
                self._half(need, line, corner, cover, grain)
        if shape is Shape.RECTANGLE and grain is not None and off_grain(line_deg, grain) > OFF_GRAIN_DEG:
            return self._drawn(need, grain, grain, one_way)
        fit, at, ticks = self._laid_on(line, sizes, math.dist(*need.line))
        if shape is Shape.RECTANGLE and not ticks:
            least = next(rectangles(cover, self.allowance, self.step))
            if fit.edge > least.edge + (DEAR + 0.5) * self.step:
                drawn = self._drawn(need, line_deg, grain, one_way, along=True)
                held = shown(drawn.laid, self.room, off_in=self.off, sure=drawn.sure)
                if held.enough and drawn.width_in < fit.edge:
                    return drawn
        piece = self._along(need, line, shape, fit, at, ticks, grain)
        return replace(piece, one_way=one_way, runs=runs_along(line_deg, grain) if one_way else "")

    def _half(self, need: Need, line: Frame, corner: Corner, cover: Sequence[Point], grain: float | None) -> None:
        """Half of a rectangle that would do as well, for the choice among all pieces of the block."""
        assert need.line is not None
        length = math.dist(*need.line)
        for fit in half_rectangles(need, corner, cover, self.allowance, self.step, grain):
            at = (length - fit.edge) / 2
            ticks: tuple[Segment, ...] = ()
            if not fit.centred(length):
                at = (fit.low + fit.high) / 2
                ticks = self._ticks(line, (at, at + fit.edge))
                if not ticks:
                    continue
            half = self._along(need, line, Shape.HALF_RECTANGLE, fit, at, ticks, grain)
            self.halves[need.patch] = replace(half, hand=hand(corner))
            return

    def _along(
        self,
        need: Need,
        line: Frame,
        shape: Shape,
        fit: Fit,
        at: float,
        ticks: tuple[Segment, ...],
        grain: float | None,
    ) -> Piece:
        """A piece with its edge on the trimmed allowance."""
        ring = fit.ring(at, self.allowance)
        return Piece(
            need.patch,
            self.names[need.patch],
            self.plan.block.patches[need.patch].fabric,
            shape,
            *fit.cut,
            share=SHARE.get(shape, 1),
            outline=line.placed(ring),
            laid=line.placed([(u, -v) for u, v in ring]),
            lay=Lay.TICKS if ticks else Lay.CENTRED,
            ticks=ticks,
            grain_deg=grain,
        )

    def _laid_on(self, line: Frame, sizes: Iterator[Fit], length: float) -> tuple[Fit, float, tuple[Segment, ...]]:
        """The piece, where along the line it starts, and the ticks there; without ticks it is centred."""
        least = next(sizes)
        for fit in (least, next(sizes)):
            if fit.centred(length):
                return fit, (length - fit.edge) / 2, ()
        at = (least.low + least.high) / 2
        if ticks := self._ticks(line, (at, at + least.edge)):
            return least, at, ticks
        fit = next(fit for fit in sizes if fit.centred(length))
        return fit, (length - fit.edge) / 2, ()

    def _ticks(self, line: Frame, ends: Sequence[float]) -> tuple[Segment, ...]:
        """Short lines across the trimmed edge, of those ends that lie on the paper."""
        found = []
        for u in ends:
            before, end = line.placed([(u - 1.0, self.allowance), (u, self.allowance)])
            mark = tick(before, end, 1.0)
            if self.room.contains(LineString(mark)):
                found.append(mark)
        return tuple(found)

    def _drawn(
        self, need: Need, direction_deg: float, grain: float | None, one_way: bool, *, along: bool = False
    ) -> Piece:
        """A rectangle along a direction, laid at the outline drawn for it.

        Args:
            along: the direction is that of its line, its edge on the trimmed edge.
        """
        assert need.line is not None
        ring, size = box_round(need, direction_deg, self.allowance, self.extra, self.step, on_edge=along)
        line = along_line(need.line)
        laid, sure = _flipped(line, ring), sure_of(need, self.allowance)
        if not shown(laid, self.room, off_in=self.off, sure=sure).enough:
            # Longer than it has to be, it can be laid by the middle of a side.
            laid = grown_until_shown(laid, self.room, self.step, MOST_LONGER, self.off, sure) or laid
            ring = _flipped(line, laid)
            size = (up(math.dist(*ring[:2]), self.step), up(math.dist(*ring[1:3]), self.step))
        return Piece(
            need.patch,
            self.names[need.patch],
            self.plan.block.patches[need.patch].fabric,
            Shape.RECTANGLE,
            *size,
            share=1,
            outline=ring,
            laid=laid,
            sure=sure,
            lay=Lay.ANGLED,
            grain_deg=grain,
            one_way=one_way,
            runs=runs_along(direction_deg, grain) if one_way else "",
        )


def _flipped(line: Frame, ring: Sequence[Point]) -> Ring:
    """A ring folded over the line along which a frame measures."""
    return line.placed([(u, -v) for u, v in line.seen(ring)])
