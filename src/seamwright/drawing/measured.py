"""The facts of a text in inches, and what they must satisfy together.

Knows:  how points are counted (grid, unit of the size), that outline and size agree, that all lies in the block.
Leaves: the grammar (facts), whether lines meet (block).
Units:  exact fractions until each point becomes inches, once.
"""

from __future__ import annotations

import itertools
import math
import re
from collections.abc import Sequence
from fractions import Fraction
from typing import Any

from seamwright.drawing.arcs import arc
from seamwright.drawing.facts import Facts, Run
from seamwright.drawing.faults import nearest, shown
from seamwright.drawing.model import Curve, Drawing, Line, Swatch
from seamwright.drawing.pieces import FLAT_IN, cubic_pieces
from seamwright.drawing.textwrite import quoted
from seamwright.drawing.tokens import Place
from seamwright.errors import Fault
from seamwright.fabric.model import Colourway
from seamwright.geometry import Point, Ring, bounds
from seamwright.options import DEFAULT_TOLERANCE_IN
from seamwright.units import LARGEST_BLOCK_IN, SMALLEST_BLOCK_IN, UNIT_IN, parse_length

MOST_SEGMENTS = 50_000
MOST_HELD = 200_000_000
"""Points held against corners of the outline."""


class Measured:
    """The facts of a text in inches, and what they must satisfy together."""

    def __init__(self, facts: Facts, file: str, last_line: int) -> None:
        self.facts, self.file, self.faults = facts, file, facts.faults
        self.square = self._square(last_line)
        self.sides: tuple[tuple[Point, ...], ...] = ()
        self.outline = self._outline()
        self._area: Any = None
        self.width, self.height = self._extent()

    def drawing(self, *, unfinished: bool = False) -> Drawing:
        """The drawing, or every fault at once; with `unfinished` one that has no seam yet is none."""
        lines, curves = self._seams(unfinished)
        self._check_fabrics()
        swatches = tuple(
            Swatch(self.point(place), fabric, f"line {place.line}") for fabric, place, _ in self.facts.laid
        )
        self._check_inside()
        self.faults.stop_if_any(self.file)
        width, height = self.width, self.height
        return Drawing(
            name=self.facts.name,
            file=self.file,
            lines=tuple(lines),
            curves=tuple(curves),
            outline=self.outline or ((0.0, 0.0), (width, 0.0), (width, height), (0.0, height)),
            fabrics=tuple(self.facts.fabrics.values()),
            swatches=swatches,
            exact=True,
            options=tuple(self.facts.options.items()),
            colourways=tuple(Colourway(name, tuple(to)) for name, to in self.facts.colourways.items()),
            sides=self.sides,
        )

    def _fault(self, code: str, what: str, mend: str, line: int, column: int, at_in: Point | None = None) -> None:
        self.faults.add(Fault(code, what, mend, at_in, line, column))

    def _square(self, last_line: int) -> tuple[Fraction, Fraction]:
        """Inches that 1 across and 1 down count for; without a good size nothing else can be measured."""
        if self.facts.size is None:
            if "the size" not in self.facts.first_said:
                self._fault(
                    "missing", "the finished size is missing", "Add a line such as: size 8 in", last_line, 1
                )
            self.faults.stop_if_any(self.file)
        assert self.facts.size is not None
        width, height = self.facts.size
        # "8 x 12 in": one unit holds for both.
        unit = width.unit or (height.unit if height else "") or "in"
        self._width = width.value * UNIT_IN[unit]
        self._height = height.value * UNIT_IN[height.unit or unit] if height else None
        for side in (self._width, self._height):
            if side is not None and not SMALLEST_BLOCK_IN <= side <= LARGEST_BLOCK_IN:
                self._fault(
                    "size",
                    f"a block of {float(side):.6g} in is out of range"
                    if abs(side) < 10**9
                    else "the size is out of range",
                    f"Give {SMALLEST_BLOCK_IN:g} to {LARGEST_BLOCK_IN:g} in, and check the unit",
                    *self.facts.size_line,
                )
                self.faults.stop_if_any(self.file)
        if self.facts.grid is None:
            return UNIT_IN[unit], UNIT_IN[unit]
        across, down = self.facts.grid
        square = self._width / across
        if down is None:
            return square, square
        if self._height is None:
            self._height = square * down
        return square, self._height / down

    def _extent(self) -> tuple[float, float]:
        """Finished width and height; the outline, if stated, must fill them."""
        if not self.outline:
            return float(self._width), float(self._height or self._width)
        left, top, right, bottom = bounds(self.outline)
        first = (self.facts.outline or self.facts.sides[0].places)[0]
        wanted = (0.0, 0.0, float(self._width), float(bottom if self._height is None else self._height))
        # The highest point of a bend may lie between two of the points that it is drawn with.
        slack = 2 * FLAT_IN if self.sides else 1e-6 * max(wanted)
        sides = (("left", "x"), ("top", "y"), ("right", "x"), ("bottom", "y"))
        for (side, _), has, want in zip(sides, (left, top, right, bottom), wanted, strict=True):
            if abs(has - want) > slack:
                self._fault(
                    "outline",
                    f"the outline's {side} side lies at {has:.6g} in, the size says {want:.6g} in",
                    "Let the outline reach all four sides of the size, or change the size",
                    first.line,
                    first.column,
                )
        return right, bottom

    def point(self, place: Place) -> Point:
        """A place of the text in inches."""
        return place.x.inches(self.square[0]), place.y.inches(self.square[1])

    def _run(self, run: Sequence[Place]) -> list[Point]:
        """Points of a run; a step of no length is a fault."""
        points = [self.point(place) for place in run]
        for place, a, b in zip(run[1:], points, points[1:], strict=False):
            if a == b:
                self._fault(
                    "no length",
                    f"the seam does not move from {_say(a)}",
                    "Leave one of the two points out, or correct it",
                    place.line,
                    place.column,
                    a,
                )
        return points

    def _outline(self) -> Ring | None:
        places = self.facts.outline
        if not places and not self.facts.sides:
            return None
        width, height = float(self._width), float(self._height or self._width)
        ring = self._run(places) if places else [(0.0, 0.0), (width, 0.0), (width, height), (0.0, height)]
        if ring[0] == ring[-1] and len(ring) > 1:  # saying the first corner again is a fine way to close it
            ring.pop()
        if self.facts.sides:
            self.sides = self._sides_of(ring)
            ring = [p for side in self.sides for p in side[:-1]]
        first = (places or self.facts.sides[0].places)[0]
        if len(ring) < 3:
            what = "an outline has three corners or more, or curved sides"
            mend = "Write it as: outline 2, 0 to 6, 0 to 8, 4 to 0, 4"
            self._fault("outline", what, mend, *self.facts.outline_end)
            return None
        from shapely.geometry import Polygon
        from shapely.validation import explain_validity

        if not all(math.isfinite(c) for p in ring for c in p):
            what = "a corner of the outline is no point"
        elif not (polygon := Polygon(ring)).is_valid or polygon.area == 0:
            where = re.search(r"\[([-.\de]+) ([-.\de]+)\]", explain_validity(polygon))
            at = f" at {_say((float(where[1]), float(where[2])))}" if where else ""
            what = f"the outline crosses or touches itself{at}"
        else:
            return tuple(ring)
        self._fault("outline", what, "Give its corners in order, going round once", first.line, first.column)
        return None

    def _sides_of(self, corners: list[Point]) -> tuple[tuple[Point, ...], ...]:
        """All sides from corner to corner, those that a line states curved in place of the straight ones."""
        curved: dict[tuple[Point, Point], tuple[Point, ...]] = {}
        pairs = set(zip(corners, corners[1:] + corners[:1], strict=True))
        for run in self.facts.sides:
            points = tuple(self.flat(run))
            for ends, way in (((points[0], points[-1]), points), ((points[-1], points[0]), points[::-1])):
                if ends in pairs and ends not in curved:
                    curved[ends] = way
                    break
            else:
                self._fault(
                    "outline",
                    f"the side from {_say(points[0])} to {_say(points[-1])} joins no two corners of the outline "
                    "that follow each other",
                    "Let it begin and end at such corners, and give each side once",
                    run.places[0].line,
                    run.places[0].column,
                    points[0],
                )
        sides = [curved.get(pair, pair) for pair in zip(corners, corners[1:] + corners[:1], strict=True)]
        return tuple(side for side in sides if side[0] != side[1] or len(side) > 2)

    def _seams(self, unfinished: bool) -> tuple[list[Line], list[Curve]]:
        lines: list[Line] = []
        curves: list[Curve] = []
        segments = 0
        for run in self.facts.runs:
            source = f"line {run.places[0].line}"
            points = self.flat(run)
            segments += len(points) - 1
            if segments > MOST_SEGMENTS:
                self._fault(
                    "too large",
                    f"the block has more than {MOST_SEGMENTS:,} pieces of seam",
                    "A block has a few hundred; leave out what is no seam of it",
                    run.places[0].line,
                    1,
                )
                break
            if run.kind == "seam" or len(points) == 2:
                lines += [Line(a, b, source) for a, b in itertools.pairwise(points) if a != b]
            else:
                curves.append(Curve(tuple(points), source))
        if not self.facts.runs and not self.faults and not unfinished:
            self._fault("no seams", "the block has no seam", "Add a line such as: seam 0, 0 to 8, 8", 1, 1)
        return lines, curves

    def flat(self, run: Run) -> Sequence[Point]:
        """Points along a seam or curve."""
        points = self._run(run.places)
        if run.kind == "bending" and all(math.isfinite(c) for p in points for c in p):
            return bent(points)
        if run.kind == "arc":
            try:
                return arc(points[0], points[1], points[2])
            except ValueError:
                first = run.places[1]
                self._fault(
                    "arc",
                    "the three points of the arc lie on one line",
                    "Move the middle one, or write it as a seam",
                    first.line,
                    first.column,
                )
        return points

    def _check_fabrics(self) -> None:
        known = list(self.facts.fabrics)
        used = [(name, place.line, column) for name, place, column in self.facts.laid] + self.facts.becomes
        for name, line, column in used:
            if name not in self.facts.fabrics:
                near = f"{nearest(name, known)}, or add" if known and not self.faults.told else "Add"
                self._fault(
                    "fabric",
                    f"no fabric line says what {shown(name)} is",
                    f"{near} a line: fabric {quoted(name)}",
                    line,
                    column,
                )

    def _check_inside(self) -> None:
        """Every point lies in the block; seams may overshoot by the tolerance, which tidying trims."""
        over = parse_length(self.facts.options.get("tolerance", f"{DEFAULT_TOLERANCE_IN} in"))
        named = [(place, "the seam's point", over) for run in self.facts.runs for place in _on_cloth(run)]
        named += [(place, f"the point of {shown(name)}", 0.0) for name, place, _ in self.facts.laid]
        if self.outline and len(self.outline) * len(named) > MOST_HELD:
            first = (self.facts.outline or self.facts.sides[0].places)[0]
            what = f"an outline of {len(self.outline):,} points is too much for {len(named):,} points inside it"
            self._fault("too large", what, "Give the outline by its corners", first.line, first.column)
            return
        for place, whose, slack in named:
            at = self.point(place)
            if self._away(at) > slack:
                self._fault(
                    "outside",
                    f"{whose} {_say(at)} lies outside the block",
                    f"The block reaches from 0, 0 to {self.width:.6g}, {self.height:.6g} in",
                    place.line,
                    place.column,
                    at if all(math.isfinite(c) for c in at) else None,
                )

    def _away(self, at: Point) -> float:
        """Distance from the block, 0 inside."""
        x, y = at
        if not (math.isfinite(x) and math.isfinite(y)):
            return math.inf
        box = math.hypot(max(-x, x - self.width, 0.0), max(-y, y - self.height, 0.0))
        if not self.outline:
            return box
        if self._area is None:
            from shapely.geometry import Polygon

            self._area = Polygon(self.outline)
        from shapely.geometry import Point as ShapelyPoint

        return float(self._area.distance(ShapelyPoint(x, y)))


def _on_cloth(run: Run) -> Sequence[Place]:
    """The places that the seam itself runs through: a bending curve is only pulled towards its inner ones."""
    return (run.places[0], run.places[-1]) if run.kind == "bending" else run.places


def _say(point: Point) -> str:
    return f"({point[0]:.6g}, {point[1]:.6g}) in"


def bent(control: Sequence[Point]) -> Sequence[Point]:
    """Points along a quadratic or cubic Bezier curve; two if it is straight."""
    start, *inner, end = control
    if len(inner) == 1:
        # The same curve as a cubic one: its control points lie two thirds of the way to the one given.
        (x, y) = inner[0]
        inner = [(a + 2 / 3 * (x - a), b + 2 / 3 * (y - b)) for a, b in (start, end)]
    pieces = cubic_pieces(start, inner[0], inner[1], end)
    return [start, *(p for piece in pieces for p in piece[1:])]
