"""Lines through points and curves in another shape: where a place on one comes to lie on the other.

Knows:  turning and growing with two points, shares of a length, a curve pulled through another place.
Leaves: which lines change, and what lies on them (following, move).
Units:  inches of the finished block; shares from 0 to 1.
Method: similar triangles; a Bezier curve is pulled by its Bernstein weights.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise

from seamwright.geometry import Point, Segment, off_line
from seamwright.sketch.draft import SAME_IN
from seamwright.sketch.strand import Strand

MOST_POINTS = 5000


def similar(point: Point, old: Segment, new: Segment) -> Point:
    """The image of a point when two others move: turned and grown with them, or carried along if they are one."""
    a, b, c, d = (complex(*p) for p in (*old, *new))
    z = complex(*point)
    image = z - a + c if abs(b - a) <= 1e-9 else (z - a) * ((d - c) / (b - a)) + c
    return image.real, image.imag


def at_share(flat: Sequence[Point], share: float) -> Point:
    """The place at a share of the length of a line through points."""
    left = share * math.fsum(math.dist(a, b) for a, b in pairwise(flat))
    for a, b in pairwise(flat):
        length = math.dist(a, b)
        if length and left <= length:
            return a[0] + left / length * (b[0] - a[0]), a[1] + left / length * (b[1] - a[1])
        left -= length
    return flat[-1]


def alongside(flat: Sequence[Point], new: Sequence[Point]) -> dict[Point, Point]:
    """For each point of a curve the one at the same share of the length of another."""
    reach, images, k, at = 0.0, {}, 0, 0.0
    whole, other = (math.fsum(math.dist(a, b) for a, b in pairwise(line)) for line in (flat, new))
    for a, b in pairwise(flat):
        reach += math.dist(a, b)
        goal = reach / whole * other
        while k < len(new) - 2 and at + math.dist(new[k], new[k + 1]) < goal:
            at += math.dist(new[k], new[k + 1])
            k += 1
        length = math.dist(new[k], new[k + 1])
        share = min((goal - at) / length, 1.0) if length else 0.0
        images[b] = tuple(c + share * (d - c) for c, d in zip(new[k], new[k + 1], strict=True))
    return images  # type: ignore[return-value]


def through(strand: Strand, at: float, old: Point, new: Point) -> Strand:
    """A curve between the same ends that runs through another place than at a position so far.

    An arc becomes that of the circle through the new place, or straight. A bending curve is pulled: at parameter t
    a move of its inner points by d moves the curve by 2 t (1 - t) d with one of them, by 3 t (1 - t) d with two
    (its Bernstein weights). Of a curve through many points each goes along by its share.
    """
    points = strand.points
    dx, dy = new[0] - old[0], new[1] - old[1]
    if strand.kind == "arc":
        straight = points[0] == points[2] or abs(off_line(new, points[0], points[2])) <= SAME_IN
        arc = Strand("arc", (points[0], new, points[2]))
        # One that would have to go all round a huge circle is a slip, too.
        return Strand("seam", points[::2]) if straight or len(arc.flat()) > MOST_POINTS else arc
    flat = strand.flat()
    whole = math.fsum(math.dist(a, b) for a, b in pairwise(flat))
    if strand.kind == "bending":
        t = strand.parameter(old, at / whole)
        weight = max((len(points) - 1) * t * (1 - t), 0.02)
        inner = [(x + dx / weight, y + dy / weight) for x, y in points[1:-1]]
        return Strand("bending", (points[0], *inner, points[-1]))
    share = at / whole
    moved, reach = [points[0]], 0.0
    for a, b in pairwise(points):
        reach += math.dist(a, b)
        s = reach / whole
        w = s * (1 - s) / (share * (1 - share))
        moved.append((b[0] + w * dx, b[1] + w * dy))
    return Strand("curve", (*moved[:-1], points[-1]))
