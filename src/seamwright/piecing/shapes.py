"""What the shape of a patch means to the sewer: sharp tips, and shapes that are quick to cut with a ruler.

Knows:  the corners of a patch and their angles, tips under 45 degrees, rectangles and half-squares on grain.
Leaves: cutting sizes (fabric).
Units:  inches; angles in degrees. Straight grain belongs on the block's edge (common practice), so "on grain" means
        sides parallel to a straight side of the outline or square to one, however the drawing is turned.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from seamwright.block.model import Block
from seamwright.geometry import Point

TIP_DEG = 45.0
ANGLE_SLACK_DEG = 0.01
"""Tidied points are moved by far less than this turns a side; an angle drawn as 45 degrees still passes as 45."""


def corners(block: Block, patch: int) -> list[tuple[int, float]]:
    """(point number, inner angle in degrees) of each corner of a patch; points inside a straight side are none."""
    face = block.patches[patch]
    found = []
    for i, point in enumerate(face.ring):
        before, after = face.edges[i - 1], face.edges[i]
        seam_before, seam_after = block.edges[before].seam, block.edges[after].seam
        if seam_before == seam_after >= 0 and block.seams[seam_after].straight:
            continue
        back, ahead = _next_to(block, before, point, patch, False), _next_to(block, after, point, patch, True)
        angle = _turn(back, block.points[point], ahead)
        if abs(angle - 180) > ANGLE_SLACK_DEG:
            found.append((point, angle))
    return found


def tips(block: Block, patch: int) -> list[int]:
    """Points at which a patch has a tip under 45 degrees; 45 itself is none."""
    return [point for point, angle in corners(block, patch) if angle < TIP_DEG - ANGLE_SLACK_DEG]


def grain_of(block: Block) -> tuple[float, ...]:
    """Directions of the outline's straight sides, degrees from 0 up to 90: one square to another is the same."""
    found: list[float] = []
    for number in block.outline_edges:
        if not block.edges[number].via:
            along = _direction(block.points[block.edges[number].start], block.points[block.edges[number].end])
            if not any(_apart(along, other) <= ANGLE_SLACK_DEG for other in found):
                found.append(along)
    return tuple(found)


def is_quick_shape(block: Block, patch: int, grain: Sequence[float] | None = None) -> bool:
    """Whether a patch is a rectangle or a half-square triangle with its straight sides on grain.

    Args:
        grain: what `grain_of` says of the block, if it is known already.
    """
    face = block.patches[patch]
    if face.holes or any(block.edges[e].via for e in face.edges):
        return False
    turned = corners(block, patch)
    ring = [block.points[p] for p, _ in turned]
    if len(ring) == 4 and all(abs(angle - 90) <= ANGLE_SLACK_DEG for _, angle in turned):
        return _on_grain(ring[0], ring[1], grain_of(block) if grain is None else grain)
    if len(ring) == 3:
        right = [i for i, (_, angle) in enumerate(turned) if abs(angle - 90) <= ANGLE_SLACK_DEG]
        sharp = [i for i, (_, angle) in enumerate(turned) if abs(angle - 45) <= ANGLE_SLACK_DEG]
        if len(right) == 1 and len(sharp) == 2:
            return _on_grain(ring[right[0]], ring[right[0] - 1], grain_of(block) if grain is None else grain)
    return False


def outer_grain_deg(block: Block, patch: int) -> float | None:
    """Direction of the longest straight edge that a patch has of the block's outline; None if it has none.

    Of edges equally long the one most up and down counts, as on prints.
    """
    runs = [
        (block.points[edge.start], block.points[edge.end])
        for edge in (block.edges[number] for number in block.patches[patch].edges)
        if edge.seam < 0 and not edge.via
    ]
    if not runs:
        return None
    (ax, ay), (bx, by) = max(runs, key=lambda run: (round(math.dist(*run), 6), abs(run[1][1] - run[0][1])))
    return math.degrees(math.atan2(by - ay, bx - ax))


def _on_grain(a: Point, b: Point, grain: Sequence[float]) -> bool:
    along = _direction(a, b)
    return any(_apart(along, other) <= ANGLE_SLACK_DEG for other in grain)


def _direction(a: Point, b: Point) -> float:
    """Direction from a to b, degrees from 0 up to 90."""
    return math.degrees(math.atan2(b[1] - a[1], b[0] - a[0])) % 90


def _apart(one: float, other: float) -> float:
    """How far two directions up to 90 degrees lie apart."""
    return min((one - other) % 90, (other - one) % 90)


def _next_to(block: Block, edge_number: int, point: int, patch: int, ahead: bool) -> Point:
    """The point along an edge next to one of its ends, ahead of it or behind it in walking round a patch."""
    edge, run = block.edges[edge_number], block.edge_points(edge_number)
    # Both ends of a closed curve are this point; the walk has the patch on its right.
    first = (edge.right == patch) == ahead if edge.start == edge.end else edge.start == point
    return run[1] if first else run[-2]


def _turn(before: Point, corner: Point, after: Point) -> float:
    """Inner angle of a ring that runs clockwise as seen, degrees, 0 to 360."""
    back = math.atan2(before[1] - corner[1], before[0] - corner[0])
    ahead = math.atan2(after[1] - corner[1], after[0] - corner[0])
    return math.degrees(back - ahead) % 360
