"""Dashed lines that a writer broke into tiny pieces, read as the lines they were.

Knows:  runs of short pieces on one line with small gaps.
Leaves: gaps that a person left (block).
Units:  inches.
Method: pieces follow one another in the file. A piece goes on with the run if it lies on the run's line and starts
        within a gap of its end; a run of FEWEST or more short pieces is one line. An end that touches
        nothing is drawn on to the line it heads for, if that lies within a gap: the corner fell into the gap.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise

from seamwright.drawing.model import Line
from seamwright.geometry import Point, along, off_line
from seamwright.notes import Note
from seamwright.units import say_count

LONGEST_DASH_IN = 0.35
LARGEST_GAP_IN = 0.35
OFF_IN = 0.006
"""A dash may lie this far off its line: writers round to 0.01 mm and more."""
FEWEST = 5
TOUCH_IN = 0.02


def join_dashes(lines: Sequence[Line]) -> tuple[list[Line], list[Note]]:
    """Lines with broken dashed lines made whole, and what to say about it."""
    if len(lines) < FEWEST:
        return list(lines), []
    out: list[Line] = []
    joined: list[int] = []  # indices in `out` of lines made from dashes
    pieces = 0
    at = 0
    reach, gaps_before = _chains(lines)
    while at < len(lines):
        # Most drawings have no gaps: whether enough can follow is known without walking on.
        can = gaps_before[reach[at]] - gaps_before[at] >= FEWEST - 1
        end = _run_end(lines, at, reach[at] + 1) if can else at + 1
        if gaps_before[end - 1] - gaps_before[at] >= FEWEST - 1:
            out.append(replace(lines[at], end=lines[end - 1].end))
            joined.append(len(out) - 1)
            pieces += end - at
            at = end
        else:
            out.append(lines[at])
            at += 1
    if not joined:
        return out, []
    _reach(out, joined)
    text = f"{pieces} dashes joined into {say_count(len(joined), 'line')}"
    return out, [Note("dashes", text, len(joined), places_in=tuple(out[k].start for k in joined))]


def _chains(lines: Sequence[Line]) -> tuple[list[int], list[int]]:
    """For each piece the last one that short gaps lead to, and how many gaps lie before it in the file."""
    reach = list(range(len(lines)))
    gaps_before = [0] * len(lines)
    follows = [False] * len(lines)
    for k, (last, line) in enumerate(pairwise(lines), start=1):
        gap = math.dist(last.end, line.start)
        gaps_before[k] = gaps_before[k - 1] + (gap > 1e-4)
        follows[k] = gap <= LARGEST_GAP_IN and _dash(last) and _dash(line) and last.layer == line.layer
    for k in range(len(lines) - 2, -1, -1):
        if follows[k + 1]:
            reach[k] = reach[k + 1]
    return reach, gaps_before


def _dash(line: Line) -> bool:
    return line.shape is None and math.dist(line.start, line.end) <= LONGEST_DASH_IN


def _run_end(lines: Sequence[Line], at: int, most: int) -> int:
    """One past the last piece, below `most`, that lies on one line with the piece `at` and leads on from it."""
    origin = lines[at].start
    base, low, high, far = 0.0, -math.inf, math.inf, 0.0
    for k in range(at, most):
        for point in (lines[k].start, lines[k].end):
            away = math.dist(origin, point)
            if away <= OFF_IN:
                continue
            angle = math.atan2(point[1] - origin[1], point[0] - origin[0])
            base = base if math.isfinite(low) else angle
            # The directions of lines from the origin that pass the point near enough.
            turn, play = math.remainder(angle - base, math.tau), math.asin(OFF_IN / away)
            low, high = max(low, turn - play), min(high, turn + play)
        if low > high or math.dist(origin, lines[k].end) <= far:
            return max(k, at + 1)
        far = math.dist(origin, lines[k].end)
    return most


def _reach(out: list[Line], joined: list[int]) -> None:
    """Draw ends of joined lines that fell into a gap on to the line they were heading for."""
    from shapely import STRtree, box
    from shapely.geometry import LineString

    tree = STRtree([LineString((line.start, line.end)) for line in out])
    # A line meant is within two gaps of the tip, and may itself have been drawn on by one.
    wide = 3 * LARGEST_GAP_IN
    for k in joined:
        for name in ("start", "end"):
            line = out[k]
            tip, tail = (line.start, line.end) if name == "start" else (line.end, line.start)
            near = sorted(tree.query(box(tip[0] - wide, tip[1] - wide, tip[0] + wide, tip[1] + wide)).tolist())
            others = [out[j] for j in near if j != k]
            if any(_distance(tip, other) <= TOUCH_IN for other in others):
                continue
            spots = [spot for spot in (_ahead(tail, tip, other) for other in others) if spot is not None]
            if spots:
                spot = min(spots)[1]
                out[k] = replace(line, start=spot) if name == "start" else replace(line, end=spot)


def _distance(point: Point, line: Line) -> float:
    """From a point to the nearest point of a line."""
    at = along(point, line.start, line.end)
    length = math.dist(line.start, line.end)
    if 0 <= at <= length:
        return abs(off_line(point, line.start, line.end))
    return min(math.dist(point, line.start), math.dist(point, line.end))


def _ahead(tail: Point, tip: Point, other: Line) -> tuple[float, Point] | None:
    """How far beyond `tip` the line meets `other`, and where, if that lies within a gap."""
    ux, uy = tip[0] - tail[0], tip[1] - tail[1]
    vx, vy = other.end[0] - other.start[0], other.end[1] - other.start[1]
    length, turn = math.hypot(ux, uy), ux * vy - uy * vx
    if abs(turn) < 0.02 * length * math.hypot(vx, vy):
        return None
    t = ((other.start[0] - tail[0]) * vy - (other.start[1] - tail[1]) * vx) / turn
    spot = (tail[0] + t * ux, tail[1] + t * uy)
    beyond = (t - 1) * length
    if 0 < beyond <= LARGEST_GAP_IN and _distance(spot, other) <= LARGEST_GAP_IN:
        return beyond, spot
    return None
