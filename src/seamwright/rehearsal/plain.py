"""One section sewn without paper: pieces cut to size, raw edges even, a seam of one allowance, pressed open.

Knows:  the cloth on the table after each step, what of it shows.
Leaves: sections on paper (sew), joining (rehearse), what a real piece is (fabric).
Units:  inches, front view.
Method: nothing is printed, so nothing but edges tells where to sew: the raw edge of what is sewn must run exactly
        one allowance beyond the border that the next patch shares with it, all along, and so must the edge of the
        piece laid on it. Then one allowance in is the line. After pressing, what sticks out beyond one allowance
        round what is sewn is cut off, as points that stick out are. What shows is worked out from the stack.
Limits: a seam takes no thread here. With a needle it is a scant allowance, for the fold takes a thread.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

import shapely
from shapely.geometry import LineString, Polygon
from shapely.geometry.base import BaseGeometry

from seamwright.rehearsal.fabric import lay_drawn, lay_over
from seamwright.rehearsal.grain import look_at_grain
from seamwright.rehearsal.line import StitchLine
from seamwright.rehearsal.looks import RULER_IN, Setting, topmost
from seamwright.rehearsal.model import Cloth, PatchToSew, SectionToSew, SewnSection, SewnStep, Stitched
from seamwright.rehearsal.overlay import common, less, together
from seamwright.rehearsal.paper import Paper, Seam, grown, read_paper, refuse
from seamwright.rehearsal.sew import TOO_WIDE_IN, stitched


def cut_true(patch: Polygon, allowance: float) -> BaseGeometry:
    """A patch with its allowance all round, points and all, as it lies in the end."""
    return grown(patch, allowance)


def lay_even(piece: BaseGeometry, line: StitchLine) -> BaseGeometry:
    """A piece laid right side down, so that it lies in its place once it is opened."""
    return line.mirrored(piece)


def press_open(laid: BaseGeometry, line: StitchLine, far: float) -> BaseGeometry:
    """The piece opened; its allowance stays under it."""
    return line.mirrored(less(laid, line.rectangle(-far, line.length + far, 0.0, far)))


def snip(layer: BaseGeometry, keep: BaseGeometry) -> BaseGeometry:
    """A layer without the points that stick out."""
    return common(layer, keep)


@dataclass(frozen=True, slots=True)
class PlainHands:
    """The hands of one who sews without paper; each may be exchanged for a clumsy one."""

    cut_true: Callable[[Polygon, float], BaseGeometry] = cut_true
    lay_even: Callable[[BaseGeometry, StitchLine], BaseGeometry] = lay_even
    press_open: Callable[[BaseGeometry, StitchLine, float], BaseGeometry] = press_open
    snip: Callable[[BaseGeometry, BaseGeometry], BaseGeometry] = snip


def sew_plain(section: SectionToSew, setting: Setting, hands: PlainHands = PlainHands()) -> SewnSection:
    """Sews a section without paper.

    Raises:
        ProofError: "edges not even", or as `rehearse`.
    """
    paper = read_paper(section, setting.allowance)
    table = _Table(section, setting, paper, hands)
    steps = [table.step(number) for number in range(len(paper.patches))]
    return SewnSection(section.name, tuple(steps), paper.trim, topmost(section, paper, table.layers, setting))


class _Table:
    """The layers sewn so far, the lowest first."""

    def __init__(self, section: SectionToSew, setting: Setting, paper: Paper, hands: PlainHands) -> None:
        self.section, self.setting, self.paper, self.hands = section, setting, paper, hands
        self.layers: list[Cloth] = []

    def step(self, number: int) -> SewnStep:
        """Sews on patch `number`, counted from 0; the first is laid down."""
        wanted, patch = self.section.patches[number], self.paper.patches[number]
        piece = self._piece(wanted, patch)
        real = wanted.piece
        left, top, right, bottom = piece.bounds
        size = (right - left, bottom - top) if real is None else (real.width, real.height)
        if number == 0:
            self.layers.append(Cloth(wanted.name, piece, True))
            return SewnStep(wanted.name, 1, *size, piece, None, None, None, tuple(self.layers), real)
        seam = self.paper.seams[number - 1]
        if not seam.clear or any(seam.crosses):
            refuse("not one line", f"{wanted.name} cannot be opened flat: its seam ends inside", seam.line.end)
        laid = self.hands.lay_even(piece, seam.line)
        self._look_at_edges(wanted.name, laid, seam)
        opened = self.hands.press_open(laid, seam.line, self.paper.far)
        self._look_at_place(wanted.name, opened, patch, seam)
        self.layers.append(Cloth(wanted.name, opened, True))
        off, sewn_on = self._snipped(together((seam.sewn, patch))), self._stitched(laid, seam)
        return SewnStep(wanted.name, number + 1, *size, laid, sewn_on, off, None, tuple(self.layers), real)

    def _piece(self, wanted: PatchToSew, patch: Polygon) -> BaseGeometry:
        """The piece as it lies in the end: a real one must be large enough, and is trimmed to its size."""
        true, real = self.hands.cut_true(patch, self.setting.allowance), wanted.piece
        if real is None:
            return true
        # Its points are cut off later; only what lies inside the trim line has to be there.
        needed = common(true, self.paper.trim).buffer(-RULER_IN, join_style="mitre")
        laid = lay_drawn(real) if wanted.parts else lay_over(real, patch, needed, real.grain_deg)
        short = less(needed, laid.shape)
        if short.area > self.setting.nothing:
            refuse("does not cover", f"the piece cut for {wanted.name} is too small", _on(short))
        if not wanted.parts:  # whose seam says how they lie
            look_at_grain(real, laid, patch, self.setting.edges)
        return true

    def _stitched(self, laid: BaseGeometry, seam: Seam) -> Stitched:
        """Sewn from raw edge to raw edge of the piece, but for an end at which a join turns."""
        line, far, sewn_on = seam.line, self.paper.far, stitched(seam, self.setting)
        along = LineString([line.place(-far, 0.0), line.place(line.length + far, 0.0)]).intersection(laid)
        reach = line.measured(shapely.get_coordinates(along))[:, 0]
        edges = line.place(float(reach.min()), 0.0), line.place(float(reach.max()), 0.0)
        ends = zip((line.start, line.end), sewn_on.needle, edges, strict=True)
        start, end = (needle if at in sewn_on.stops else edge for at, needle, edge in ends)
        return replace(sewn_on, needle=(start, end))

    # -- looking at the cloth ------------------------------------------------------------------------------

    def _look_at_edges(self, name: str, laid: BaseGeometry, seam: Seam) -> None:
        """Whether both raw edges run one allowance beyond the line, from end to end of it."""
        line, allowance, nothing = seam.line, self.setting.allowance, self.setting.nothing
        caught = line.rectangle(0.0, line.length, 0.0, allowance)
        over = line.rectangle(0.0, line.length, allowance + TOO_WIDE_IN, self.paper.far)
        sewn = together([cloth.shape for cloth in self.layers])
        for what, shape in (("what is sewn", sewn), ("the piece", laid)):
            missed, wide = less(caught, shape), common(over, shape)
            if missed.area > nothing:
                refuse("too little in the seam", f"at {name} {what} has less than the allowance", _on(missed))
            if wide.area > nothing:
                refuse("edges not even", f"at {name} the raw edge of {what} lies beyond the allowance", _on(wide))

    def _look_at_place(self, name: str, opened: BaseGeometry, patch: Polygon, seam: Seam) -> None:
        bare, over = less(patch, opened), common(opened, seam.sewn)
        if bare.area > self.setting.nothing:
            refuse("does not cover", f"the fabric of {name} leaves part of its patch bare", _on(bare))
        if over.area > self.setting.nothing:
            refuse("covered by a later patch", f"the fabric of {name} lies on a patch sewn before", _on(over))

    def _snipped(self, sewn: BaseGeometry) -> BaseGeometry | None:
        """Cuts off what sticks out beyond the allowance round all that is sewn; returns what came off."""
        keep = grown(sewn, self.setting.allowance)
        off: list[BaseGeometry] = []
        for k, cloth in enumerate(self.layers):
            left = self.hands.snip(cloth.shape, keep)
            gone = less(cloth.shape, left)
            if gone.area > self.setting.nothing / 1000:
                self.layers[k] = Cloth(cloth.patch, left, cloth.right_side_up)
                off.append(gone)
        return together(off) if off else None


def _on(area: BaseGeometry) -> tuple[float, float]:
    point = shapely.point_on_surface(area)
    return (float(point.x), float(point.y))
