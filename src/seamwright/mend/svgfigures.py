"""Coordinates as an SVG file writes them.

Knows:  attributes of lines, polylines, polygons and paths.
Leaves: which element gets them (svgedit), the bytes (svgsource).
Units:  user units of the element.
Source: SVG 1.1 (second edition), sections 8.3 (path data), 9.5 (line) and 9.7.1 (points).
"""

from __future__ import annotations

from collections.abc import Sequence

from seamwright.drawing.svg_paths import Trace
from seamwright.geometry import Point


def figure(value: float) -> str:
    """A number in as few figures as keep it."""
    return repr(value + 0.0).removesuffix(".0")


def pair(point: Point) -> str:
    """A place as "x,y"."""
    return f"{figure(point[0])},{figure(point[1])}"


def line_ends(start: Point, end: Point) -> dict[str, str]:
    """The attributes of a line."""
    return {"x1": figure(start[0]), "y1": figure(start[1]), "x2": figure(end[0]), "y2": figure(end[1])}


def point_list(trace: Trace) -> str:
    """The attribute of a polyline or polygon; a closed trace does not come back to its start."""
    places = [trace.start, *(step[-1] for step in trace.steps)]
    if trace.closed and places[-1] == places[0]:
        places.pop()
    return " ".join(map(pair, places))


def path_data(traces: Sequence[Trace]) -> str:
    """The attribute of a path, in absolute coordinates."""
    words: list[str] = []
    for trace in traces:
        words.append(f"M{pair(trace.start)}")
        steps = list(trace.steps)
        if trace.closed and steps and len(steps[-1]) == 1 and steps[-1][0] == trace.start:
            steps.pop()
        words += ["LC"[len(step) > 1] + " ".join(map(pair, step)) for step in steps]
        if trace.closed:
            words.append("Z")
    return " ".join(words)
