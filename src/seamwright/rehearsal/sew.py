"""One section sewn on its foundation, layer by layer.

Knows:  the cloth on the table after each step, what of it shows.
Leaves: lines and places (paper), what hands do (hands), joining sections (rehearse).
Units:  inches, front view.
Method: the fabric is cut, laid right side down to the trimmed edge, stitched; what lies beyond the line and the
        allowance comes off all layers before; the fabric is flipped. Where it then lies on another arm of a
        section with an inside corner it is cut off at once, for later steps would stitch it down. After every step
        the cloth is looked at; at the end what shows is worked out from the stack alone, the topmost at each place.
Limits: seams have no width, cloth no thickness; curves bound sections only, as chords.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
import shapely
from shapely.geometry import LineString, Polygon
from shapely.geometry.base import BaseGeometry

from seamwright.geometry import Point, Segment
from seamwright.rehearsal.fabric import lay_by_edge, lay_drawn, lay_over
from seamwright.rehearsal.grain import look_at_grain
from seamwright.rehearsal.hands import Hands, Knife, Need, Piece
from seamwright.rehearsal.line import ON_LINE_IN, Coords, StitchLine
from seamwright.rehearsal.model import Cloth, PieceToLay, SectionToSew, SewnSection, SewnStep, Stitched
from seamwright.rehearsal.overlay import common, less, together
from seamwright.rehearsal.paper import JUST_BEYOND_IN, Paper, Seam, grown, read_paper, refuse

TOO_WIDE_IN = 1e-3
"""An allowance wider than asked by more than this has not been trimmed."""
RULER_IN = 0.005
"""A ruler shows no less: what it cuts may be off by as much."""


@dataclass(frozen=True, slots=True)
class Setting:
    """What holds for all sections: allowance, extra, hands, the area that counts as nothing, where joins turn, the
    straight edges of the block."""

    allowance: float
    extra: float
    hands: Hands
    nothing: float
    turns: tuple[Point, ...] = ()
    edges: tuple[Segment, ...] = ()


def sew_section(section: SectionToSew, setting: Setting) -> SewnSection:
    """Sews a section and trims it.

    Raises:
        ProofError: see `rehearse`.
    """
    paper = read_paper(section, setting.allowance)
    table = _Table(section, setting, paper)
    steps = [table.first(), *(table.step(number) for number in range(1, len(paper.patches)))]
    return SewnSection(section.name, tuple(steps), paper.trim, table.shown())


class _Table:
    """A foundation and the layers on it, the lowest first."""

    def __init__(self, section: SectionToSew, setting: Setting, paper: Paper) -> None:
        self.section, self.setting, self.paper = section, setting, paper
        self.layers: list[Cloth] = []

    # -- the steps ----------------------------------------------------------------------------------------

    def first(self) -> SewnStep:
        """Lays the first piece, right side up, with extra all round."""
        name, patch, hands = self.section.patches[0].name, self.paper.patches[0], self.setting.hands
        if (real := self.section.patches[0].piece) is not None:
            cloth = replace(self._over(0, real), patch=name)
            self.layers.append(cloth)
            size = real.width, real.height
            return SewnStep(name, 1, *size, cloth.shape, None, None, None, (cloth,), real)
        line = _longer_way(patch)
        ring = line.measured(shapely.get_coordinates(patch))
        piece = hands.cut_piece(self._need(0, line, ring), self.setting.extra)
        cloth = replace(hands.lay_first(piece, line), patch=name)
        self._look_at_cover(0, cloth, _around(line, ring, self._margin))
        self.layers.append(cloth)
        return SewnStep(name, 1, piece.width, piece.height, cloth.shape, None, None, None, (cloth,))

    def step(self, number: int) -> SewnStep:
        """Lays on patch `number`, counted from 0."""
        name, patch, seam = (
            self.section.patches[number].name,
            self.paper.patches[number],
            self.paper.seams[number - 1],
        )
        line, hands = seam.line, self.setting.hands
        ring = line.measured(shapely.get_coordinates(patch))
        piece = hands.cut_piece(self._need(number, line, ring, any(seam.crosses)), self.setting.extra)
        off = self._trim(name, seam, self._knife(number, seam, piece))
        edge = self._edge(number, seam)
        real = self.section.patches[number].piece
        side = ""
        if real is None:
            laid = replace(hands.lay(piece, line, None if any(seam.crosses) else edge), patch=name)
        else:
            laid, side = self._laid(number, real, piece, edge)
        self._look_at_seam(laid, line)
        held = self._held(seam, patch)
        flipped = hands.flip(laid, line, held)
        self._look_at_flip(number, flipped, line, held, ring)
        flipped, cleared = self._cleared(number, flipped, held)
        over = common(flipped.shape, seam.sewn)
        if over.area > self.setting.nothing:
            refuse("covered by a later patch", f"the fabric of {name} lies on a patch sewn before", _on(over))
        self.layers.append(flipped)
        size = (piece.width, piece.height) if real is None else (real.width, real.height)
        sewn_on = stitched(seam, self.setting)
        return SewnStep(name, number + 1, *size, laid.shape, sewn_on, off, cleared, tuple(self.layers), real, side)

    def shown(self) -> tuple[Cloth, ...]:
        """What shows of each layer inside the trim line."""
        return topmost(self.section, self.paper, self.layers, self.setting)

    # -- real pieces ----------------------------------------------------------------------------------------

    def _over(self, number: int, real: PieceToLay) -> Cloth:
        """A real piece laid by eye, right side up, with extra all round; a plain one without."""
        patch = self.paper.patches[number]
        wanted: BaseGeometry
        if real.lay == "plain":
            wanted = self.paper.trim
            if len(self.section.patches) > 1:
                wanted = common(grown(patch, self.setting.allowance), wanted)
            wanted = wanted.buffer(-RULER_IN, join_style="mitre")
        elif number == 0 and (real.lay == "first" or self.section.patches[0].parts):
            # Shrunk a little, a place loses the spikes without width that overlays may leave.
            place = self.paper.places[0].buffer(-ON_LINE_IN).buffer(ON_LINE_IN + self.setting.extra)
            wanted = together((patch.buffer(self._margin), place))
        else:
            refuse("cannot be laid", f"nothing tells where the fabric of {real.name} lies ({real.lay})", _on(patch))
        if self.section.patches[number].parts:
            # Laid by the line drawn for its seam, whatever that does to the grain.
            laid = lay_drawn(real)
        else:
            laid = lay_over(real, patch, wanted, real.grain_deg)
            look_at_grain(real, laid, patch, self.setting.edges)
        self._look_at_wanted(real.name, patch, wanted, laid.shape)
        return Cloth(real.name, laid.shape, True)

    def _laid(self, number: int, real: PieceToLay, least: Piece, edge: float) -> tuple[Cloth, str]:
        """A real piece laid right side down, by what is printed for it; its grain as it will lie after the flip."""
        seam, patch = self.paper.seams[number - 1], self.paper.patches[number]
        if real.lay == "plain":
            return Cloth(real.name, seam.line.mirrored(self._over(number, real).shape), False), ""
        if real.lay == "angled":
            laid = lay_drawn(real)
        elif real.lay in ("centred", "ticks") and not any(seam.crosses):
            laid = lay_by_edge(real, patch, seam.line, edge)
            is_less = real.width < least.width - ON_LINE_IN or real.height < least.height - ON_LINE_IN
            if real.shape == "rectangle" and is_less:
                what = f"the fabric of {real.name} is cut smaller than its patch, allowance and extra are"
                refuse("too little extra", what, _on(patch))
        else:
            refuse("cannot be laid", f"nothing tells where the fabric of {real.name} lies ({real.lay})", _on(patch))
        if not self.section.patches[number].parts:
            look_at_grain(real, laid.mirrored(seam.line), patch, self.setting.edges)
        return Cloth(real.name, laid.shape, False), laid.side

    # -- what hands have to know --------------------------------------------------------------------------

    @property
    def _margin(self) -> float:
        return self.setting.allowance + self.setting.extra

    def _need(self, number: int, line: StitchLine, ring: Coords, crosses: bool = False) -> Need:
        allowance = self.setting.allowance
        place = line.measured(shapely.get_coordinates(self.paper.places[number].buffer(-ON_LINE_IN)))
        if not len(place):
            place = ring
        low = float(min(ring[:, 0].min() - allowance, place[:, 0].min()))
        high = float(max(ring[:, 0].max() + allowance, place[:, 0].max()))
        deep = float(max(ring[:, 1].max() + allowance, place[:, 1].max()))
        beyond = allowance
        if number == 0 or crosses:
            beyond = float(max(allowance - ring[:, 1].min(), -place[:, 1].min()))
        return Need(low, high, deep, beyond, crosses, first=number == 0)

    def _knife(self, number: int, seam: Seam, piece: Piece) -> Knife:
        """The paper is folded along the whole line if that is clear; else creased as far as the piece reaches."""
        far = self.paper.far
        low, high = (-far, far) if seam.clear else (min(piece.low, 0.0), max(piece.high, seam.line.length))
        return Knife(low, high, self.paper.keeps[number - 1], far)

    def _trim(self, name: str, seam: Seam, knife: Knife) -> BaseGeometry | None:
        """Trims all layers that lie beyond the line and the allowance; returns what came off."""
        setting, line = self.setting, seam.line
        under = line.rectangle(0.0, line.length, 0.0, setting.allowance)
        reach = line.rectangle(knife.low, knife.high, 0.0, knife.far)
        off: list[BaseGeometry] = []
        for k in np.flatnonzero(shapely.intersects([cloth.shape for cloth in self.layers], reach)).tolist():
            cloth = self.layers[k]
            left = setting.hands.trim(cloth.shape, line, setting.allowance, knife)
            if left.area >= cloth.shape.area - setting.nothing / 1000:
                # Not worth telling, but the next piece would be laid by a tip so small.
                if left.area < cloth.shape.area:
                    self.layers[k] = replace(cloth, shape=left)
                continue
            gone = less(cloth.shape, left)
            if common(gone, self.paper.patches[k]).area > setting.nothing:
                refuse("trimmed into a patch", f"before {name} the blade went into {cloth.patch}", _on(gone))
            if common(gone, under).area > setting.nothing:
                what = f"before {name} the allowance of {cloth.patch} was trimmed to less than it should be"
                refuse("trim too deep", what, _on(gone))
            off.append(gone)
            self.layers[k] = replace(cloth, shape=left)
        return together(off) if off else None

    def _edge(self, number: int, seam: Seam) -> float:
        """How far the trimmed allowance reaches beyond the line, along the seam."""
        line, allowance, nothing = seam.line, self.setting.allowance, self.setting.nothing
        along: BaseGeometry = line.rectangle(0.0, line.length, 0.0, self.paper.far)
        keep = self.paper.keeps[number - 1]
        if keep is not None:
            along = less(along, less(keep, line.rectangle(0.0, line.length, 0.0, allowance)))
        over = [common(cloth.shape, along) for cloth in self.layers if cloth.shape.intersects(along)]
        # Shrunk a little, a flap loses the spikes without width that overlays may leave.
        flaps = [part.buffer(-ON_LINE_IN / 10) for part in shapely.get_parts(over) if part.area > nothing]
        reach = [float(line.measured(shapely.get_coordinates(flap))[:, 1].max()) for flap in flaps if flap.area]
        # Where earlier fabric ends before the allowance does, the new piece is laid by the line.
        widest = max([allowance, *reach])
        if widest > allowance + TOO_WIDE_IN:
            name = self.section.patches[number].name
            what = f"before {name} an allowance of {widest:.3f} in is left beyond its line"
            refuse("allowance not trimmed", what, line.place(line.length / 2, widest))
        return widest

    def _held(self, seam: Seam, patch: Polygon) -> BaseGeometry:
        """The new piece's own allowance, held down by the stitches.

        Where its patch goes round an end of the seam, the piece is trimmed to the allowance along the seam and
        clipped to its ends, so that the rest can be flipped; narrower still where the patch comes round closer.
        """
        far, line = self.paper.far, seam.line
        if not any(seam.crosses):
            return line.rectangle(-far, line.length + far, 0.0, far)
        return less(line.rectangle(0.0, line.length, 0.0, self.setting.allowance), line.mirrored(patch))

    def _cleared(self, number: int, flipped: Cloth, held: BaseGeometry) -> tuple[Cloth, BaseGeometry | None]:
        """The flipped piece off the other arms of the section, and what was cut off it there."""
        seam, keep = self.paper.seams[number - 1], self.paper.keeps[number - 1]
        if seam.clear and not any(seam.crosses):
            return flipped, None
        # On the line's other side the piece may lie on an arm only where it was flipped round the seam's end.
        other_side = seam.line.mirrored(held)
        if common(flipped.shape, less(seam.sewn, other_side)).area <= self.setting.nothing:
            return flipped, None
        patch, arms = self.paper.patches[number], seam.sewn
        if keep is not None:
            # With the arms' own allowance, except where it is this patch's as well.
            arms = together((arms, less(keep, grown(patch, self.setting.allowance))))
        cleared = self.setting.hands.clear(flipped, less(arms, other_side), patch)
        return cleared, less(flipped.shape, cleared.shape)

    # -- looking at the cloth -----------------------------------------------------------------------------

    def _look_at_seam(self, laid: Cloth, line: StitchLine) -> None:
        """Whether the seam catches the new piece with its whole allowance."""
        missed = less(line.rectangle(0.0, line.length, 0.0, self.setting.allowance), laid.shape)
        if missed.area > self.setting.nothing:
            what = f"the fabric of {laid.patch} is laid with less than the allowance beyond the line"
            refuse("too little in the seam", what, _on(missed))

    def _look_at_flip(
        self, number: int, flipped: Cloth, line: StitchLine, held: BaseGeometry, ring: Coords
    ) -> None:
        seam, name = self.paper.seams[number - 1], self.section.patches[number].name
        other_side = line.mirrored(held)
        wrong = common(flipped.shape, other_side)
        if not flipped.right_side_up or wrong.area > self.setting.nothing:
            what = f"after the flip the fabric of {name} does not lie right side up on its own side"
            refuse("wrong flip", what, _on(flipped.shape))
        real = self.section.patches[number].piece
        wanted: BaseGeometry
        if real is not None:
            # A rectangle along the line has the box round this as well; another shape need not.
            if real.lay == "plain":
                return
            wanted = self.paper.patches[number].buffer(self._margin)
            own = line.rectangle(-self.paper.far, self.paper.far, 0.0, self.paper.far)
            wanted = less(wanted, other_side) if any(seam.crosses) else common(wanted, own)
        elif any(seam.crosses):
            wanted = less(_around(line, ring, self._margin), other_side)
        else:
            wanted = _own_side(line, ring, self._margin)
        self._look_at_cover(number, flipped, wanted)

    def _look_at_cover(self, number: int, cloth: Cloth, wanted: BaseGeometry) -> None:
        """Whether a piece covers its patch, and `wanted` with its extra."""
        self._look_at_wanted(cloth.patch, self.paper.patches[number], wanted, cloth.shape)

    def _look_at_wanted(self, name: str, patch: Polygon, wanted: BaseGeometry, shape: BaseGeometry) -> None:
        bare = less(patch, shape)
        if bare.area > self.setting.nothing:
            refuse("does not cover", f"the fabric of {name} leaves part of its patch bare", _on(bare))
        bare = less(wanted, shape)
        if bare.area > self.setting.nothing:
            refuse("too little extra", f"the fabric of {name} has too little beyond its allowance", _on(bare))


def topmost(section: SectionToSew, paper: Paper, layers: Sequence[Cloth], setting: Setting) -> tuple[Cloth, ...]:
    """What shows of each layer of a finished section inside its trim line, the lowest first.

    Raises:
        ProofError: a place inside the trim line is bare, or shows a wrong side.
    """
    for cloth in layers:
        if not cloth.right_side_up:
            refuse("wrong flip", f"the fabric of {cloth.patch} shows its wrong side", _on(cloth.shape))
    shapes, trim = [cloth.shape for cloth in layers], paper.trim
    bare = less(trim, together(shapes))
    if any(patch.piece is not None and patch.piece.lay == "plain" for patch in section.patches):
        bare = common(bare, trim.buffer(-RULER_IN, join_style="mitre"))
    if not all(seam.clear and not any(seam.crosses) for seam in paper.seams):
        # Beside an inside corner the tips of the trim line may stay bare, never what lies within the allowance.
        bare = common(bare, Polygon(section.outline).buffer(setting.allowance))
    if bare.area > setting.nothing:
        refuse("gap in the allowance", f"in section {section.name} fabric is missing", _on(bare))
    shown = []
    tree = shapely.STRtree(shapes)
    for number, cloth in enumerate(layers):
        above = [shapes[k] for k in sorted(tree.query(cloth.shape).tolist()) if k > number]
        left = common(cloth.shape, trim)
        shown.append(replace(cloth, shape=less(left, together(above)) if above else left))
    return tuple(shown)


def stitched(seam: Seam, setting: Setting) -> Stitched:
    """Stitching runs one allowance beyond each end, up to what is sewn on the other side of a notch.

    Where a join turns it stops dead: stitched past that point, the allowance could not open for the turn.
    """
    line, allowance = seam.line, setting.allowance
    needle: list[Point] = []
    stops: list[Point] = []
    for end, free, u, sense in (
        (line.start, seam.free_start and not seam.crosses[0], 0.0, -1.0),
        (line.end, seam.free_end and not seam.crosses[1], line.length, 1.0),
    ):
        free = free and all(math.dist(end, turn) > ON_LINE_IN for turn in setting.turns)
        reach = allowance if free else 0.0
        if free and not seam.clear:
            ahead = [line.place(u + sense * step, 0) for step in (JUST_BEYOND_IN, allowance)]
            hit = LineString(ahead).intersection(seam.sewn)
            reach = reach if hit.is_empty else float(hit.distance(shapely.Point(end)))
        if not free:
            stops.append(end)
        needle.append(line.place(u + sense * reach, 0))
    return Stitched(line.start, line.end, (needle[0], needle[1]), tuple(stops), seam.clear, any(seam.crosses))


def _around(line: StitchLine, ring: Coords, margin: float) -> Polygon:
    """The box round a patch, measured along the line, with a margin on all sides."""
    (u0, v0), (u1, v1) = ring.min(axis=0), ring.max(axis=0)
    return line.rectangle(u0 - margin, u1 + margin, v0 - margin, v1 + margin)


def _own_side(line: StitchLine, ring: Coords, margin: float) -> Polygon:
    """The same on the patch's own side of its line only."""
    (u0, _), (u1, v1) = ring.min(axis=0), ring.max(axis=0)
    return line.rectangle(u0 - margin, u1 + margin, 0.0, v1 + margin)


def _longer_way(patch: Polygon) -> StitchLine:
    """The longer side of the smallest rectangle round a patch, from left to right."""
    corners = [(float(x), float(y)) for x, y in shapely.get_coordinates(shapely.oriented_envelope(patch))]
    sides = [(corners[0], corners[1]), (corners[1], corners[2])]
    start, end = sorted(max(sides, key=lambda side: round(math.dist(*side), 9)))
    return StitchLine(start, end)


def _on(area: BaseGeometry) -> Point:
    point = area.representative_point()
    return (point.x, point.y)
