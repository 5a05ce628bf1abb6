"""A piece of fabric that is sewn of several before it is laid on: whether each of them shows where it was drawn.

Knows:  the parts as they are drawn and as they are cut, where all of it lies once it is laid on.
Leaves: how it is laid and flipped (sew).
Units:  inches, front view.
Method: what lies there is cut by the borders between the parts, found from their rings, the last one first. Each
        share with the allowance beyond its seams must come from the rectangle that is cut for it, exactly where it
        lies between two seams; and it must show, within the patch, what was drawn of it.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np
import shapely
from shapely.geometry import Polygon
from shapely.geometry.base import BaseGeometry

from seamwright.geometry import Segment
from seamwright.rehearsal.line import Coords, borders, straight
from seamwright.rehearsal.model import PatchToSew, SewnStep
from seamwright.rehearsal.overlay import common, differing, less, together
from seamwright.rehearsal.paper import refuse

RULER_IN = 0.005
"""A ruler shows no less."""
TOUCH_IN = 1e-6
FAR_IN = 1000.0


def look_at_parts(patch: PatchToSew, step: SewnStep, allowance: float, nothing: float) -> float:
    """The largest area by which a part of a sewn patch differs from what was drawn of it.

    Raises:
        ProofError: the parts do not make one patch, are cut too small or not as wide as between their seams, or do
            not show as drawn.
    """
    rings = [Polygon(part.ring) for part in patch.parts]
    if differing(together(rings), Polygon(patch.ring)) > nothing:
        refuse("does not show as drawn", f"the parts of {patch.name} are not all of it", patch.ring[0])
    # Without paper it is trued up at once; what was there before lay on its template.
    plain = patch.piece if patch.piece is not None and patch.piece.lay == "plain" else None
    whole = _as_it_lies(step) if plain is None else Polygon(plain.drawn)
    largest = 0.0
    for number, (ring, share) in enumerate(zip(rings, shares(rings, whole, patch.name), strict=True)):
        part = patch.parts[number]
        differs = differing(common(share, Polygon(patch.ring)), ring)
        if differs > nothing:
            what = f"the {_ordinal(number)} part of {patch.name} differs by {differs:.3g} square inches"
            refuse("does not show as drawn", what, part.ring[0])
        largest = max(largest, differs)
        _look_at_size(patch, number, share, whole, allowance)
    return largest


def shares(rings: Sequence[Polygon], whole: BaseGeometry, name: str) -> list[BaseGeometry]:
    """What each part is of a piece, cut by the borders between the parts run on, the last one first.

    Raises:
        ProofError: two parts do not meet along one straight line.
    """
    seams = [_border(rings[k], together(rings[:k]), name) for k in range(1, len(rings))]
    found: list[BaseGeometry] = []
    rest = whole
    for ring, seam in zip(reversed(rings[1:]), reversed(seams), strict=True):
        beyond = _side(seam, ring.representative_point())
        found.append(common(rest, beyond))
        rest = less(rest, beyond)
    return [rest, *reversed(found)]


def _look_at_size(
    patch: PatchToSew, number: int, share: BaseGeometry, whole: BaseGeometry, allowance: float
) -> None:
    """Whether the rectangle of a part is as large as its share with the allowance beyond its seams."""
    part = patch.parts[number]
    ahead = _ahead(whole)
    u0, v0, u1, v1 = _box(share, ahead)
    outer = _box(whole, ahead)
    for low, high, least, most, cut in (
        (u0, u1, outer[0], outer[2], part.width),
        (v0, v1, outer[1], outer[3], part.height),
    ):
        sewn = (low > least + TOUCH_IN) + (high < most - TOUCH_IN)
        over = cut - (high - low + sewn * allowance)
        if over < -RULER_IN or (sewn == 2 and over > RULER_IN):
            how = f"{abs(over):.3f} in too {'small' if over < 0 else 'wide'}"
            what = f"the {_ordinal(number)} part of {patch.name} is cut {how}"
            refuse("does not cover" if over < 0 else "cannot be laid", what, part.ring[0])


def _as_it_lies(step: SewnStep) -> BaseGeometry:
    """The whole piece after the flip, before anything is cut off it."""
    if step.seam is None:
        return step.laid
    (ax, ay), (bx, by) = step.seam.start, step.seam.end
    n = (bx - ax) ** 2 + (by - ay) ** 2

    def folded(points: Coords) -> Coords:
        share = ((points[:, 0] - ax) * (bx - ax) + (points[:, 1] - ay) * (by - ay)) / n
        feet = np.stack((ax + share * (bx - ax), ay + share * (by - ay)), axis=1)
        turned: Coords = 2 * feet - points
        return turned

    return shapely.transform(step.laid, folded)


def _border(ring: Polygon, before: BaseGeometry, name: str) -> Segment:
    """The straight line between a part and those sewn before it."""
    runs = borders(shapely.get_coordinates(ring.exterior)[:-1], before)
    if len(runs) != 1 or not straight(runs[0]):
        refuse("not one line", f"the parts of {name} do not meet along one straight line", _on(ring))
    (ax, ay), (bx, by) = runs[0][0], runs[0][-1]
    return (float(ax), float(ay)), (float(bx), float(by))


def _side(seam: Segment, inside: shapely.Point) -> Polygon:
    """All that lies on the side of a line on which a place lies."""
    (ax, ay), (bx, by) = seam
    length = math.dist(*seam)
    ux, uy = (bx - ax) / length, (by - ay) / length
    if ux * (inside.y - ay) - uy * (inside.x - ax) < 0:
        (ax, ay), ux, uy = (bx, by), -ux, -uy
    ends = [(ax - ux * FAR_IN, ay - uy * FAR_IN), (ax + ux * FAR_IN, ay + uy * FAR_IN)]
    return Polygon([*ends, *((x - uy * FAR_IN, y + ux * FAR_IN) for x, y in reversed(ends))])


def _ahead(whole: BaseGeometry) -> tuple[float, float]:
    """Along the first side of a rectangle."""
    (ax, ay), (bx, by) = shapely.get_coordinates(whole)[:2]
    length = math.dist((ax, ay), (bx, by))
    return (float(bx - ax) / length, float(by - ay) / length)


def _box(area: BaseGeometry, ahead: tuple[float, float]) -> tuple[float, float, float, float]:
    """Bounds along a direction and across it."""
    points = shapely.get_coordinates(area)
    along, across = points @ ahead, points @ (-ahead[1], ahead[0])
    return (float(along.min()), float(across.min()), float(along.max()), float(across.max()))


def _ordinal(number: int) -> str:
    return ("first", "second", "third", "fourth", "fifth")[number] if number < 5 else f"{number + 1}th"


def _on(area: BaseGeometry) -> tuple[float, float]:
    place: Sequence[float] = shapely.get_coordinates(area.representative_point())[0]
    return (float(place[0]), float(place[1]))
