"""What the shape of a patch means to the sewer: sharp tips, and shapes that are quick to cut with a ruler.

Knows:  the corners of a patch and their angles, tips under 45 degrees, rectangles and half-squares on grain.
Leaves: cutting sizes (fabric).
Units:  inches; angles in degrees. Straight grain belongs on the block's edge (common practice), so "on grain" means
        sides parallel to x and y.
"""

from __future__ import annotations

import math

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
        angle = _turn(_next_to(block, before, point), block.points[point], _next_to(block, after, point))
        if abs(angle - 180) > ANGLE_SLACK_DEG:
            found.append((point, angle))
    return found


def tips(block: Block, patch: int) -> list[int]:
    """Points at which a patch has a tip under 45 degrees; 45 itself is none."""
    return [point for point, angle in corners(block, patch) if angle < TIP_DEG - ANGLE_SLACK_DEG]


def is_quick_shape(block: Block, patch: int) -> bool:
    """Whether a patch is a rectangle or a half-square triangle with its straight sides on grain."""
    face = block.patches[patch]
    if face.holes or any(block.edges[e].via for e in face.edges):
        return False
    turned = corners(block, patch)
    ring = [block.points[p] for p, _ in turned]
    if len(ring) == 4 and all(abs(angle - 90) <= ANGLE_SLACK_DEG for _, angle in turned):
        return _on_grain(ring[0], ring[1])
    if len(ring) == 3:
        right = [i for i, (_, angle) in enumerate(turned) if abs(angle - 90) <= ANGLE_SLACK_DEG]
        sharp = [i for i, (_, angle) in enumerate(turned) if abs(angle - 45) <= ANGLE_SLACK_DEG]
        return len(right) == 1 and len(sharp) == 2 and _on_grain(ring[right[0]], ring[right[0] - 1])
    return False


def _on_grain(a: Point, b: Point) -> bool:
    across, down = abs(b[0] - a[0]), abs(b[1] - a[1])
    return math.degrees(math.atan2(min(across, down), max(across, down))) <= ANGLE_SLACK_DEG


def _next_to(block: Block, edge_number: int, point: int) -> Point:
    """The point along an edge next to one of its ends."""
    run = block.edge_points(edge_number)
    return run[1] if block.edges[edge_number].start == point else run[-2]


def _turn(before: Point, corner: Point, after: Point) -> float:
    """Inner angle of a ring that runs clockwise as seen, degrees, 0 to 360."""
    back = math.atan2(before[1] - corner[1], before[0] - corner[0])
    ahead = math.atan2(after[1] - corner[1], after[0] - corner[0])
    return math.degrees(back - ahead) % 360
