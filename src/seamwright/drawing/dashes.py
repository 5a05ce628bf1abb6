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

from seamwright.drawing.model import Line
from seamwright.geometry import Point, along, off_line
from seamwright.notes import Note

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
    while at < len(lines):
        end = _run_end(lines, at)
        if end - at >= FEWEST:
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
    text = f"{pieces} dashes joined into {len(joined)} line{'s' if len(joined) > 1 else ''}"
    return out, [Note("dashes", text, len(joined), places_in=tuple(out[k].start for k in joined))]


def _run_end(lines: Sequence[Line], at: int) -> int:
    """One past the last piece of the run of dashes that starts at `at`; at + 1 for no run."""
    first = lines[at]
    if first.shape is not None or math.dist(first.start, first.end) > LONGEST_DASH_IN:
        return at + 1
    end = at + 1
    gaps = 0
    while end < len(lines):
        line, last = lines[end], lines[end - 1]
        gap = math.dist(last.end, line.start)
        if (
            line.shape is not None
            or gap > LARGEST_GAP_IN
            or math.dist(line.start, line.end) > LONGEST_DASH_IN
            or line.layer != first.layer
        ):
            break
        far = line.end if math.dist(first.start, line.end) > 1e-6 else line.start
        spread = [abs(off_line(p, first.start, far)) for p in (last.end, line.start)]
        if max(spread) > OFF_IN or along(line.end, first.start, far) <= along(last.end, first.start, far):
            break
        gaps += gap > 1e-4
        end += 1
    return end if gaps >= FEWEST - 1 else at + 1


def _reach(out: list[Line], joined: list[int]) -> None:
    """Draw ends of joined lines that fell into a gap on to the line they were heading for."""
    for k in joined:
        for name in ("start", "end"):
            line = out[k]
            tip, tail = (line.start, line.end) if name == "start" else (line.end, line.start)
            others = [other for j, other in enumerate(out) if j != k]
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
