"""Path data and other outlines as lines and cubic curves in user units.

Knows:  the path grammar; arcs and quadratic curves turned into cubic ones.
Leaves: transforms, flattening, straightness (pieces), which element it belongs to (svg_shapes).
Units:  user units of the element.
Source: SVG 1.1 (second edition), section 8.3 (path data) and appendix F.6 (arcs).
Limits: a fault in the data is an error; SVG's rule to draw up to the fault would lose seams without a word.
"""

from __future__ import annotations

import math
import re
from dataclasses import dataclass, field

from seamwright.drawing.svg_units import NUMBER, finite
from seamwright.drawing.svg_xml import unreadable
from seamwright.errors import SeamwrightError
from seamwright.geometry import Point

Step = tuple[Point, ...]
"""(end,) of a straight step or (first control, second control, end) of a cubic one."""

MOST_PIECES = 50_000
"""Of one drawing: lines, curves, and points to which the pen only moves."""
_TOKEN = re.compile(rf"[\s,]*(?:([MmZzLlHhVvCcSsQqTtAa])|({NUMBER}))")
_FLAG = re.compile(r"[\s,]*([01])")
_COUNT = {"M": 2, "L": 2, "H": 1, "V": 1, "C": 6, "S": 4, "Q": 4, "T": 2, "A": 7, "Z": 0}
_ARC_STEP = math.pi / 4
"""One cubic stands for at most this much of an arc: it is then 4e-6 radii off at most."""


@dataclass(slots=True)
class Trace:
    """One subpath in the making.

    Attributes:
        start: its first point.
        steps: in order.
        closed: ended with a close command (the closing step is then among the steps).
    """

    start: Point
    steps: list[Step] = field(default_factory=list)
    closed: bool = False

    @property
    def end(self) -> Point:
        """Where the pen is."""
        return self.steps[-1][-1] if self.steps else self.start

    def close(self) -> None:
        """Draw back to the start."""
        if self.end != self.start:
            self.steps.append((self.start,))
        self.closed = True


def too_many_pieces() -> SeamwrightError:
    """The error of a drawing that is no drawing of seams."""
    return unreadable(
        "too many",
        f"the drawing has more than {MOST_PIECES:,} line pieces",
        "Save only the block's lines; a traced picture is no drawing of seams",
    )


def trace_points(points: list[Point], *, closed: bool) -> list[Trace]:
    """Straight steps from point to point."""
    if len(points) < 2:
        return []
    trace = Trace(points[0], [(p,) for p in points[1:]])
    if closed:
        trace.close()
    return [trace]


def parse_path(text: str, where: str) -> list[Trace]:
    """The subpaths of path data.

    Raises:
        DrawingError: the data breaks the grammar, and the message names the place; or it is endless.
    """
    traces: list[Trace] = []
    pieces = 0
    command = ""
    control: Point | None = None  # last control point, for a smooth command of its own family
    family = ""
    at = 0
    end_of_text = len(text.rstrip(" \t\r\n\f,"))
    if text.strip().lower() in ("", "none"):
        return []
    while at < end_of_text:
        found = _TOKEN.match(text, at)
        if not found:
            raise _bad(text, at, where)
        if found[1]:
            command, at = found[1], found.end()
        elif not command or command in "Zz":
            raise _bad(text, at, where)
        if not traces and command not in "Mm":
            raise _bad(text, 0, where)
        kind = command.upper()
        if kind == "Z":
            traces[-1].close()
            control = None
            continue
        values, at = _values(text, at, kind, where)
        here = (traces[-1].start if traces[-1].closed else traces[-1].end) if traces else (0.0, 0.0)
        relative = command.islower()
        if kind == "M":
            traces.append(Trace(_moved(here, values, relative)))
            if len(traces) > MOST_PIECES:
                raise too_many_pieces()
            command = "l" if relative else "L"
            control = None
            continue
        if traces[-1].closed:
            # After a close, a drawing command goes on from the start of the subpath just closed.
            traces.append(Trace(here))
        kin = "CS" if kind in "CS" else "QT" if kind in "QT" else ""
        # A control point of the other family does not count (SVG 1.1, 8.3.6 and 8.3.7).
        steps, control = _steps(kind, values, here, control if family == kin else None, relative)
        family = kin
        traces[-1].steps.extend(steps)
        pieces += max(1, len(steps))
        if pieces > MOST_PIECES:
            raise too_many_pieces()
    return [trace for trace in traces if trace.steps]


def _bad(text: str, at: int, where: str) -> Exception:
    rest = text[at:].strip()
    place = f"cannot be read at character {at + 1} ({rest[:16]!r})" if rest else "ends in the middle of a command"
    return unreadable(
        "path data", f"{where}: its path data {place}", "Draw the line again, or simplify the path in its editor"
    )


def _values(text: str, at: int, kind: str, where: str) -> tuple[list[float], int]:
    """The numbers of one command and where they end."""
    values: list[float] = []
    for index in range(_COUNT[kind]):
        # Flags of an arc may stand without blanks: "a1 1 0 01.5.5".
        found = _FLAG.match(text, at) if kind == "A" and index in (3, 4) else _TOKEN.match(text, at)
        written = found[found.lastindex] if found and found.lastindex else ""
        if not found or written.isalpha():
            raise _bad(text, at, where)
        values.append(finite(float(written), written, where))
        at = found.end()
    return values, at


def _moved(here: Point, values: list[float], relative: bool) -> Point:
    x, y = values[-2:]
    return (here[0] + x, here[1] + y) if relative else (x, y)


def _steps(
    kind: str, values: list[float], here: Point, control: Point | None, relative: bool
) -> tuple[list[Step], Point | None]:
    """The steps of one drawing command, and its control point for a smooth one after it."""
    ox, oy = here if relative else (0.0, 0.0)
    if kind == "H":
        return [((ox + values[0], here[1]),)], None
    if kind == "V":
        return [((here[0], oy + values[0]),)], None
    end = _moved(here, values, relative)
    if kind == "L":
        return [(end,)], None
    if kind == "A":
        return arc_steps(here, values[0], values[1], values[2], values[3] != 0, values[4] != 0, end), None
    points = [(ox + x, oy + y) for x, y in zip(values[:-2:2], values[1:-2:2], strict=True)]
    if kind in "ST":
        mirror = (2 * here[0] - control[0], 2 * here[1] - control[1]) if control is not None else here
        points.insert(0, mirror)
    if kind in "CS":
        return [(points[0], points[1], end)], points[1]
    q = points[0]
    first = (here[0] + (q[0] - here[0]) * 2 / 3, here[1] + (q[1] - here[1]) * 2 / 3)
    second = (end[0] + (q[0] - end[0]) * 2 / 3, end[1] + (q[1] - end[1]) * 2 / 3)
    return [(first, second, end)], q


def arc_steps(
    start: Point, rx: float, ry: float, turn_deg: float, large: bool, sweep: bool, end: Point
) -> list[Step]:
    """An elliptical arc as cubic steps.

    Source: SVG 1.1 (second edition), appendix F.6.5 (centre) and F.6.6 (radii); the control points of a circular
    arc of angle t lie 4/3 tan(t/4) radii along its end tangents.
    """
    if start == end:
        return []
    rx, ry = abs(rx), abs(ry)
    if rx == 0 or ry == 0:
        return [(end,)]
    cos, sin = math.cos(math.radians(turn_deg)), math.sin(math.radians(turn_deg))
    hx, hy = (start[0] - end[0]) / 2, (start[1] - end[1]) / 2
    # In the frame of the unit circle: half the chord from the middle to the start.
    ux, uy = (cos * hx + sin * hy) / rx, (-sin * hx + cos * hy) / ry
    half = math.hypot(ux, uy)
    if half > 1:
        rx, ry, ux, uy, half = rx * half, ry * half, ux / half, uy / half, 1.0
    away = math.sqrt(max(0.0, 1 - half * half)) / half * (-1 if large == sweep else 1)
    cx, cy = away * uy, -away * ux
    first = math.atan2(uy - cy, ux - cx)
    span = math.atan2(-uy - cy, -ux - cx) - first
    if sweep and span < 0:
        span += 2 * math.pi
    elif not sweep and span > 0:
        span -= 2 * math.pi
    mx, my = (start[0] + end[0]) / 2, (start[1] + end[1]) / 2

    def place(x: float, y: float) -> Point:
        x, y = (x + cx) * rx, (y + cy) * ry
        return (cos * x - sin * y + mx, sin * x + cos * y + my)

    count = max(1, math.ceil(abs(span) / _ARC_STEP - 1e-9))
    reach = 4 / 3 * math.tan(span / count / 4)
    steps: list[Step] = []
    for index in range(count):
        a = first + span * index / count
        b = first + span * (index + 1) / count
        steps.append(
            (
                place(math.cos(a) - reach * math.sin(a), math.sin(a) + reach * math.cos(a)),
                place(math.cos(b) + reach * math.sin(b), math.sin(b) - reach * math.cos(b)),
                end if index == count - 1 else place(math.cos(b), math.sin(b)),
            )
        )
    return steps
