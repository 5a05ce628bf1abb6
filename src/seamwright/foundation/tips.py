"""The allowance beyond a corner: tips that lie edge on edge with their neighbours' when the seam is sewn.

Knows:  one fan of corners (see corners): sections round a point that joins ending there sew together.
Leaves: strips along the sides, whole outlines (trims).
Units:  inches, seen from the point; angles in radians, growing clockwise as seen.
Method: beyond a corner lies the mitre of its two sides' trim lines. What a section has beyond the end of a seam
        must be the mirror image of what its neighbour has there, so every trim line is reflected over the seam and
        cuts the neighbour's tip, from seam to seam round the fan, until nothing changes. All these lines keep the
        allowance's distance from the point. One that would cut into the strip along a side is never taken over: its
        direction lies outside the corner's mitre. In a fan within a straight line that loses nothing, for there the
        wider corner's strips already end within the narrower one's mitre.
        The outer trim lines of a fan cut every tip in it, or tips would stick out of the next seam's allowance or
        of the block. At a corner of the block the outer sections keep all of it on their own side of the seam.
        Tips that still run on are cut off square; not nearer than the widest corner's strips reach.
Limits: sides are taken to be long; where one ends within its neighbour's tip, trims has the last word. In a fan
        wider than a straight line (a point at which a join turns, an inside corner of the block) two wide corners
        cannot be made equal without a cut into a strip that another seam needs: there each keeps its own.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence

from seamwright.foundation.corners import Fan
from seamwright.geometry import Ring, clipped

TIP_LIMIT = 2.7
"""A mitre longer than this many allowances is cut off: a 45 degree tip (2.61) stays whole, as rulers cut it."""
BLOCK_LIMIT = 5.0
"""The same for the block's own corners, whose raw edges meet other blocks: 24 degrees and more stay whole."""
SHORT, NOTHING = 1 / 8, 1 / 500
"""A cut is not made if the edge that it leaves is shorter, and what it takes off less deep, than so many allowances
(1/32 in, and an eightieth of a millimetre)."""

Cut = tuple[float, float]
"""Direction from the point square to a line, and how far away the line is."""
SAME_LINE, SAME_CURVE = 1e-3, 0.2
"""Sides that turn by less (radians) run straight on, as a line or a curve."""
SAME_WAY = 3e-4
"""Lines that differ by less (radians) are one: over the longest tip that is 0.02 mm."""
_SAME = 1e-7
_FAR = 1e3


def caps(fan: Fan, allowance: float) -> list[tuple[Ring, ...]]:
    """For each corner of a fan convex shapes that together are its allowance beyond the corner.

    () at a corner that is straight or an inside one.

    Args:
        fan: with straight and inside corners alone.
    """
    first, last = fan[0], fan[-1]
    if len(fan) == 1 and first.angle >= math.pi - 1e-6:
        return [()]
    quarter, total = math.pi / 2, last.high - first.low
    frame: list[Cut] = []
    is_block = first.low_open and last.high_open and total < math.pi - SAME_LINE
    if total < math.pi + SAME_CURVE:
        one, two = last.high + quarter, first.low + 3 * quarter
        frame = [(one, allowance), (two, allowance)]
        if is_block:
            frame.append(((one + two) / 2, BLOCK_LIMIT * allowance))
    own = [[(c.high + quarter, allowance), (c.low + 3 * quarter, allowance)] for c in fan]
    cuts = [_with(mine, [cut for cut in frame if _may_cut(mine, cut[0])]) for mine in own]
    _reflect_round(fan, cuts)
    if not is_block:
        widest = max(corner.angle for corner in fan)
        reach = allowance * max(TIP_LIMIT, 1 / math.sin(widest) if widest > quarter else 1.0)
        for corner, mine in zip(fan, cuts, strict=True):
            blunt = ((corner.low + corner.high) / 2 + math.pi, reach)
            if _cuts_off(_shape(mine), blunt):
                mine.append(blunt)
        _reflect_round(fan, cuts)
    shapes: list[tuple[Ring, ...]] = []
    for place, mine in enumerate(cuts):
        whole = _without_short(mine, allowance)
        if len(fan) > 2 and is_block and place in (0, len(fan) - 1):
            # Beyond the seam the tip is the neighbour's mirror image, on its own side the corner of the block.
            seam = fan[0].high if place == 0 else fan[-1].low
            inward = seam + quarter if place == 0 else seam - quarter
            kept = _shape(_with(own[place], frame))
            shapes.append((clipped(whole, inward + math.pi, 0.0), clipped(kept, inward, 0.0)))
        else:
            shapes.append((whole,))
    return [tuple(shape for shape in found if len(shape) > 2) for found in shapes]


def _reflect_round(fan: Fan, cuts: list[list[Cut]]) -> None:
    """Takes every cut over to the neighbours' tips, until none is new."""
    waiting = [(place, cut) for place, mine in enumerate(cuts) for cut in mine]
    while waiting:
        place, (direction, distance) = waiting.pop(0)
        for beside, seam in ((place + 1, fan[place].high), (place - 1, fan[place].low)):
            if not 0 <= beside < len(fan):
                continue
            # The neighbour's tip lies beyond the seam, its directions a whole turn further on in the fan.
            image = (2 * seam - direction + math.tau, distance)
            theirs, corner = cuts[beside], fan[beside]
            if not _may_cut([(corner.high + math.pi / 2, 0.0), (corner.low + 3 * math.pi / 2, 0.0)], image[0]):
                continue
            if _among(image, theirs):
                continue
            over = seam - math.pi / 2 if beside > place else seam + math.pi / 2
            if _cuts_off(clipped(_shape(theirs), over + math.pi, 0.0), image):
                theirs.append(image)
                waiting.append((beside, image))


def _may_cut(own: Sequence[Cut], direction: float) -> bool:
    """Whether a line square to this direction leaves the strips along both sides alone."""
    return own[0][0] - _SAME <= direction <= own[1][0] + _SAME


def _with(own: Sequence[Cut], more: Iterable[Cut]) -> list[Cut]:
    """A corner's own trim lines, and those of the others that differ from them and from each other."""
    found = list(own)
    for cut in more:
        if not _among(cut, found):
            found.append(cut)
    return found


def _among(cut: Cut, cuts: Iterable[Cut]) -> bool:
    return any(abs(cut[0] - d) < SAME_WAY and abs(cut[1] - c) < _SAME for d, c in cuts)


def _cuts_off(shape: Ring, cut: Cut) -> bool:
    """Whether a cut takes anything off a shape."""
    across, down = math.cos(cut[0]), math.sin(cut[0])
    return any(x * across + y * down > cut[1] + _SAME for x, y in shape)


def _shape(cuts: Sequence[Cut]) -> Ring:
    """What the cuts leave of the wedge between the directions of the first two, a corner's own trim lines."""
    low, high = cuts[0][0], cuts[1][0]
    middle = (low + high) / 2
    far = [(_FAR * math.cos(angle), _FAR * math.sin(angle)) for angle in (low, middle, high)]
    # The middle is moved out, so that the triangle holds the whole wedge as far as anything reaches.
    shape: Ring = ((0.0, 0.0), far[0], (3 * far[1][0], 3 * far[1][1]), far[2])
    for cut in cuts:
        shape = clipped(shape, *cut)
    return shape


def _without_short(cuts: list[Cut], allowance: float) -> Ring:
    """The shape without those cuts that leave a short edge and take off next to nothing."""
    shape = _shape(cuts)
    for cut in sorted(cuts[2:], key=lambda cut: _edge_on(shape, cut)):
        fewer = [other for other in cuts if other is not cut]
        fuller = _shape(fewer)
        over = max(x * math.cos(cut[0]) + y * math.sin(cut[0]) - cut[1] for x, y in fuller)
        if over < NOTHING * allowance and _edge_on(shape, cut) < SHORT * allowance:
            cuts, shape = fewer, fuller
    return shape


def _edge_on(shape: Ring, cut: Cut) -> float:
    """Length of the shape's edge on a cut's line."""
    across, down = math.cos(cut[0]), math.sin(cut[0])
    on = [y * across - x * down for x, y in shape if abs(x * across + y * down - cut[1]) < _SAME]
    return max(on) - min(on) if len(on) > 1 else 0.0
