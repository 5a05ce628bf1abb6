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
from dataclasses import replace

import numpy as np
import shapely
from shapely.geometry import LineString, Polygon
from shapely.geometry.base import BaseGeometry

from seamwright.geometry import Point
from seamwright.rehearsal.hands import Knife, Need, Piece
from seamwright.rehearsal.line import ON_LINE_IN, Coords, StitchLine
from seamwright.rehearsal.looks import (
    Setting,
    around,
    look_at_cover,
    look_at_flip,
    look_at_seam,
    on,
    own_side,
    to_cover,
    topmost,
)
from seamwright.rehearsal.model import Cloth, SectionToSew, SewnSection, SewnStep, Stitched
from seamwright.rehearsal.overlay import common, less, together
from seamwright.rehearsal.paper import JUST_BEYOND_IN, Paper, Seam, grown, read_paper, refuse
from seamwright.rehearsal.real import laid_down, laid_over

TOO_WIDE_IN = 1e-3
"""An allowance wider than asked by more than this has not been trimmed."""


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
            cloth = replace(laid_over(self.section, self.setting, self.paper, 0, real), patch=name)
            self.layers.append(cloth)
            size = real.width, real.height
            return SewnStep(name, 1, *size, cloth.shape, None, None, None, (cloth,), real)
        line = _longer_way(patch)
        ring = line.measured(shapely.get_coordinates(patch))
        piece = hands.cut_piece(self._need(0, line, ring), self.setting.extra)
        cloth = replace(hands.lay_first(piece, line), patch=name)
        look_at_cover(self.setting, name, patch, around(line, ring, self.setting.margin), cloth.shape)
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
        real, held = self.section.patches[number].piece, self._held(seam, patch)
        side = ""
        if real is None:
            laid = replace(hands.lay(piece, line, None if any(seam.crosses) else edge), patch=name)
        else:
            laid, side = laid_down(self.section, self.setting, self.paper, number, real, piece, edge, held)
        look_at_seam(self.setting, laid, line)
        flipped = hands.flip(laid, line, held)
        look_at_flip(self.setting, flipped, line, held)
        if real is None or real.lay != "plain":
            wanted = self._wanted(number, held, ring)
            look_at_cover(self.setting, name, patch, wanted, flipped.shape)
        flipped, cleared = self._cleared(number, flipped, held)
        over = common(flipped.shape, seam.sewn)
        if over.area > self.setting.nothing:
            refuse("covered by a later patch", f"the fabric of {name} lies on a patch sewn before", on(over))
        self.layers.append(flipped)
        size = (piece.width, piece.height) if real is None else (real.width, real.height)
        sewn_on = stitched(seam, self.setting)
        return SewnStep(name, number + 1, *size, laid.shape, sewn_on, off, cleared, tuple(self.layers), real, side)

    def shown(self) -> tuple[Cloth, ...]:
        """What shows of each layer inside the trim line."""
        return topmost(self.section, self.paper, self.layers, self.setting)

    # -- what hands have to know --------------------------------------------------------------------------

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
                refuse("trimmed into a patch", f"before {name} the blade went into {cloth.patch}", on(gone))
            if common(gone, under).area > setting.nothing:
                what = f"before {name} the allowance of {cloth.patch} was trimmed to less than it should be"
                refuse("trim too deep", what, on(gone))
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

    def _wanted(self, number: int, held: BaseGeometry, ring: Coords) -> BaseGeometry:
        """What a flipped piece has to cover, its extra included."""
        seam, margin, far = self.paper.seams[number - 1], self.setting.margin, self.paper.far
        if self.section.patches[number].piece is not None:
            # A rectangle along the line has the box round this as well; another shape need not.
            return to_cover(self.paper.patches[number], seam, held, margin, far)
        if any(seam.crosses):
            return less(around(seam.line, ring, margin), seam.line.mirrored(held))
        return own_side(seam.line, ring, margin)

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


def _longer_way(patch: Polygon) -> StitchLine:
    """The longer side of the smallest rectangle round a patch, from left to right."""
    corners = [(float(x), float(y)) for x, y in shapely.get_coordinates(shapely.oriented_envelope(patch))]
    sides = [(corners[0], corners[1]), (corners[1], corners[2])]
    start, end = sorted(max(sides, key=lambda side: round(math.dist(*side), 9)))
    return StitchLine(start, end)
