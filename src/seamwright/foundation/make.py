"""Foundations: every section of a plan as it is printed, with all that the sewer needs at the needle.

Knows:  how the parts of a print come together: mirror, lines, marks, words in the order of their weight.
Leaves: trim outlines (trims), run-ons (seams), marks (marks), where words find room (numbers, words), sheets.
Units:  inches as printed: the mirror image of the front view, since the fabric lies on the blank side.
Method: lines first; then words by how much the sewer needs them, each kept clear of all before it. Nothing but
        the trim line lies on or outside the trim line, so that prints may be laid close.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

import shapely
from shapely.geometry import LineString, Polygon
from shapely.geometry.base import BaseGeometry

from seamwright.block.model import Block
from seamwright.block.rings import region_ring
from seamwright.foundation.border import Stretch, stretches
from seamwright.foundation.codes import fabric_codes
from seamwright.foundation.marks import match_marks
from seamwright.foundation.mirror import Mirror
from seamwright.foundation.model import Foundation, FoundationPatch
from seamwright.foundation.numbers import PrintedPatch, place_numbers
from seamwright.foundation.places import (
    Place,
    common_marks,
    common_stretches,
    drawing_labels,
    said_of_places,
    shared_drawings,
)
from seamwright.foundation.room import UNIT_PT, Room, round_spot
from seamwright.foundation.seams import run_ons, stitch_lines
from seamwright.foundation.trims import trim_outlines
from seamwright.foundation.words import (
    LEAST_ARROW_IN,
    PLAIN,
    PrintedStretch,
    ordinal,
    place_edges,
    place_grain,
    place_letter,
    place_name,
    place_neighbours,
    place_plain,
)
from seamwright.geometry import Point, Ring, Segment, after, bounds, canonical_ring
from seamwright.ink.model import Area, Ink, Pen, Stroke
from seamwright.ink.place import CLEARANCE_PT
from seamwright.options import PrintOptions
from seamwright.piecing.cloth import shadowed
from seamwright.piecing.model import Plan, Section
from seamwright.piecing.turns import turns_of
from seamwright.units import say_size

BEFORE_CURVE = "take the paper out of the allowance along the curve, then pin at every mark"
"""Common practice: paper does not stretch round a bend, and a curve is eased in between pins."""
STOP_PT = 2.0
"""Radius of the dot at which stitching stops dead."""
RING_PT, RING_PEN_PT = 3.2, 1.0
"""Radius of the ring at which the first go of a partial seam stops, and how thick it is drawn."""


def foundations(plan: Plan, printing: PrintOptions | None = None) -> tuple[Foundation, ...]:
    """The print of every section in the order of the plan, plain pieces too; () for a plan without sections.

    Args:
        printing: what is printed: foundations, front views or windows, tinted or not; None: the usual foundations.
    """
    printer = _Printer(plan)
    drawn = {one.section: one for places in printer.drawings for one in printer.foundations(places)}
    return tuple(drawn[section.name] for section in plan.sections)


def printed_letter(section: Section) -> str:
    """What the paper calls a section: the letter of its print, with r when it is reversed."""
    return section.print + ("r" if section.reversed else "")


@dataclass(frozen=True, slots=True)
class _Lines:
    """The lines of one print, as printed."""

    stitch: Ring
    trim: Ring
    seams: tuple[Segment, ...]
    marks: tuple[Segment, ...]
    outer: tuple[Segment, ...]
    inner: tuple[Segment, ...]
    dots: tuple[Point, ...]
    rings: tuple[Point, ...]


class _Printer:
    """What all prints of a plan share."""

    def __init__(self, plan: Plan) -> None:
        self.plan, self.block = plan, plan.block
        self.trims, self.marks, self.borders = trim_outlines(plan), match_marks(plan), stretches(plan)
        self.turns = {turn.point: turn for turn in turns_of(plan)}
        self.letters = {section.name: printed_letter(section) for section in plan.sections}
        self.names = plan.patch_names()
        self.grains = {name: _grain_deg(plan.block, border) for name, border in self.borders.items()}
        turning = {s.name for s in plan.sections if not self.turns.keys().isdisjoint(s.outline)}
        self.drawings = shared_drawings(plan, self.trims, self.marks, self.grains, turning)
        self.labels = drawing_labels(self.drawings, self.letters)
        self.codes = fabric_codes(plan.block.fabrics)

    def foundations(self, places: Sequence[Place]) -> Iterator[Foundation]:
        """One drawing, as the foundation of each place that it serves."""
        first = self._drawn(places)
        for place in places:
            names = [self.names[patch] for patch in place.section.patches]
            yield replace(
                first,
                section=place.section.name,
                patches=tuple(replace(p, name=name) for p, name in zip(first.patches, names, strict=True)),
                front=after(place.motion, first.front),
            )

    def _drawn(self, places: Sequence[Place]) -> Foundation:
        """One print: its lines, then its words."""
        section = places[0].section
        _, top, right, _ = bounds(self.trims[section.name])
        mirror = Mirror(right, top)
        lines = self._lines(places, mirror)
        stops = [round_spot(point, STOP_PT) for point in lines.dots]
        rings = [(round_spot(p, RING_PT), round_spot(p, RING_PT - RING_PEN_PT)) for p in lines.rings]
        room = Room([*stops, *(outer for outer, _ in rings), *lines.outer, *lines.marks])
        inner, grain, legend = self._words(places, mirror, lines, room)
        ink: list[Ink] = [Stroke(Pen.STITCH, lines.stitch, closed=True)]
        ink += [Stroke(Pen.STITCH, seam) for seam in lines.seams]
        ink.append(Stroke(Pen.TRIM, lines.trim, closed=True))
        ink += [Stroke(Pen.HELPER, line) for line in (*lines.outer, *inner)]
        ink += [Stroke(Pen.MARK, mark) for mark in lines.marks]
        ink += [Area((stop,), "#000000") for stop in stops] + [Area(ring, "#000000") for ring in rings]
        return Foundation(
            drawing=self.block.file,
            block=self.block.name,
            section=section.name,
            print=section.print,
            label=self.labels[section.name],
            front=(-1.0, 0.0, 0.0, 1.0, right, -top),
            kind=section.kind,
            mirrored=True,
            reversed=section.reversed,
            stitch_outline=canonical_ring(lines.stitch),
            trim_outline=canonical_ring(lines.trim),
            patches=tuple(
                FoundationPatch(
                    self.names[step.patch], canonical_ring(mirror.ring(self.block.patch_ring(step.patch)))
                )
                for step in section.steps
            ),
            seams=lines.seams,
            marks=lines.marks,
            grain=grain,
            ink=(*ink, *room.ink),
            legend=tuple(legend),
            stops=(*lines.dots, *lines.rings),
        )

    def _lines(self, places: Sequence[Place], mirror: Mirror) -> _Lines:
        section = places[0].section
        stitch, trim = region_ring(self.block, section.patches), self.trims[section.name]
        seams = stitch_lines(self.block, section)
        turns = {self.block.points[p]: self.turns[p].is_half for p in section.outline if p in self.turns}
        beyond = run_ons(seams, stitch, trim, tuple(turns))
        dots = dict.fromkeys((*beyond.stops, *(p for p, half in turns.items() if not half)))
        return _Lines(
            mirror.ring(stitch),
            mirror.ring(trim),
            _mirrored(mirror, seams),
            _mirrored(mirror, common_marks(self.block, places, self.marks)[0]),
            _mirrored(mirror, beyond.outer),
            _mirrored(mirror, beyond.inner),
            mirror.line(tuple(dots)),
            mirror.line([point for point, half in turns.items() if half]),
        )

    def _words(
        self, places: Sequence[Place], mirror: Mirror, lines: _Lines, room: Room
    ) -> tuple[tuple[Segment, ...], Segment, list[str]]:
        """Words, the most needed first; returns run-ons that are left, the grain arrow and the legend."""
        section = places[0].section
        letter, stitch, trim = self.labels[section.name], lines.stitch, lines.trim
        patches = [_patch(self.block, mirror, section, place, self.codes) for place in range(len(section.steps))]
        rings = [patch.ring for patch in patches]
        free = Polygon(trim).difference(Polygon(stitch))
        allowance = self.plan.options.seam_allowance_in
        walked = common_stretches(places, self.borders, self.letters)
        borders = [_stretch(mirror, stretch, allowance, free) for stretch in walked]

        legend = list(place_numbers(room, patches, stitch, trim, lines.seams, lines.inner))
        inner = _given_way(lines.inner, room.boxes)
        room.avoid(*inner)
        if section.kind == "plain" and not place_plain(room, rings[0]):
            legend.append(f"{letter} is {PLAIN}")
        place_letter(room, letter, rings, stitch, trim)
        grain_deg = 180 - self.grains[section.name]
        grain = place_grain(room, grain_deg, rings, stitch, trim)
        if grain is None:
            legend.append(f"{letter}: straight grain runs along the edge of the block")
            grain = _unseen(stitch[0], grain_deg)
        unsaid = place_neighbours(room, borders)
        if unsaid and len(places) == 1:
            legend.append(f"{letter} joins {', '.join(unsaid)}")
        if len(places) > 1:
            told = not unsaid and not any(s.varies or (s.neighbour and s.join is None) for s in walked)
            whole = letter == self.letters[section.name]
            if common_marks(self.block, places, self.marks)[1]:
                legend.append(f"a mark across the seam that finds none on {letter} has nothing to match there")
            legend += said_of_places(places, {} if told else self.borders, letter, whole=whole)
        units = self.plan.options.units
        name = f"{self.block.name}, {say_size(self.block.width_in, self.block.height_in, units, glyphs=True)}"
        if not place_edges(room, borders, name):
            place_name(room, name, rings, borders)
        if lines.dots:
            legend.append(f"{letter}: stop at the dot, secure the thread, do not sew past it")
        if lines.rings:
            closing = dict.fromkeys(t.join for p, t in self.turns.items() if t.is_half and p in section.outline)
            goes = f"{' and '.join(ordinal(join) for join in closing)} join{'s' * (len(closing) > 1)}"
            legend.append(f"{letter}: stop at the ring first, secure; the {goes} will sew on from it")
        legend += [
            f"{letter}{step}: trim the dark allowance of {letter}{f' and {letter}'.join(map(str, darker))} under "
            "it a thread narrower"
            for step, darker in shadowed(self.block, section)
        ]
        if section.kind == "foundation" and any(s.neighbour and len(s.points) > 2 for s in walked):
            legend.append(f"{letter}: {BEFORE_CURVE}")
        return inner, grain, legend


def _mirrored(mirror: Mirror, lines: Sequence[Segment]) -> tuple[Segment, ...]:
    return tuple((mirror.point(a), mirror.point(b)) for a, b in lines)


def _patch(block: Block, mirror: Mirror, section: Section, place: int, codes: dict[str, str]) -> PrintedPatch:
    number = section.steps[place].patch
    patch = block.patches[number]
    inside = set(section.patches)
    middles = []
    for edge_number in patch.edges:
        edge = block.edges[edge_number]
        if edge.left not in inside or edge.right not in inside:
            run = block.edge_points(edge_number)
            a, b = run[(len(run) - 1) // 2], run[(len(run) - 1) // 2 + 1]
            middles.append(mirror.point(((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)))
    fabric = patch.fabric if patch.fabric in codes else None
    return PrintedPatch(
        letter=printed_letter(section),
        number=str(place + 1),
        ring=mirror.ring(block.patch_ring(number)),
        holes=tuple(mirror.ring(hole) for hole in block.patch_holes(number)),
        fabric=fabric or "",
        code=codes[fabric] if fabric else "",
        borders=tuple(middles),
    )


def _stretch(mirror: Mirror, stretch: Stretch, allowance: float, free: BaseGeometry) -> PrintedStretch:
    """A stretch with its strip of the allowance; `free` is all of the allowance, as printed."""
    # The section lies on the right hand of the walk, its allowance on the left.
    points = stretch.points
    outside: list[Point] = []
    for i, (x, y) in enumerate(points):
        a, b = points[max(0, i - 1)], points[min(len(points) - 1, i + 1)]
        share = allowance / math.dist(a, b)
        outside.append((x + share * (b[1] - a[1]), y - share * (b[0] - a[0])))
    # On the hollow side of a tight bend the offset points run back over one another.
    strip = shapely.make_valid(Polygon(mirror.line((*points, *reversed(outside)))))
    wide = strip
    if len(points) == 2:
        (ax, ay), (bx, by) = outside
        share = allowance / math.dist(*points)
        dx, dy = share * (bx - ax), share * (by - ay)
        longer = [
            (x + k * dx, y + k * dy) for (x, y), k in zip((*points, *outside[::-1]), (-1, 1, 1, -1), strict=True)
        ]
        wide = Polygon(mirror.line(longer))
    return PrintedStretch(
        strip=_largest(strip.intersection(free)),
        wide=_largest(wide.intersection(free)),
        points=mirror.line(points),
        neighbour=stretch.neighbour or "",
        join=stretch.join,
        varies=stretch.varies,
    )


def _unseen(at: Point, angle_deg: float) -> Segment:
    """The direction of an arrow that found no room."""
    turn = math.radians(angle_deg)
    return (at, (at[0] + LEAST_ARROW_IN * math.cos(turn), at[1] + LEAST_ARROW_IN * math.sin(turn)))


def _largest(area: BaseGeometry) -> Ring:
    """The outer ring of the largest part; () of none."""
    parts = [p for p in shapely.get_parts(area) if isinstance(p, Polygon)]
    largest = max(parts, key=lambda p: p.area, default=Polygon())
    return tuple((float(x), float(y)) for x, y in largest.exterior.coords[:-1])


def _given_way(run_ons: Sequence[Segment], boxes: Sequence[Ring]) -> tuple[Segment, ...]:
    """Run-ons cut short in front of words."""
    shown: list[Segment] = []
    for start, end in run_ons:
        line: BaseGeometry = LineString([start, end])
        for box in boxes:
            line = line.difference(Polygon(box).buffer(CLEARANCE_PT / UNIT_PT))
        whole = [
            p for p in shapely.get_parts(line) if p.distance(shapely.Point(start)) < 1e-9 and p.length > 1 / 32
        ]
        shown += [(start, (float(part.coords[-1][0]), float(part.coords[-1][1]))) for part in whole]
    return tuple(shown)


def _grain_deg(block: Block, borders: Sequence[Stretch]) -> float:
    """Direction, in front view, of the longest edge that the section has of the block, else of the block's longest.

    Of edges equally long the one most up and down counts, as bolts of cloth are shown.
    """
    outer = [(s.points[0], s.points[-1]) for s in borders if s.neighbour is None]
    outline = canonical_ring(block.outline_ring())
    runs = outer or list(zip(outline, outline[1:] + outline[:1], strict=True))

    def weight(run: Segment) -> tuple[float, float]:
        (ax, ay), (bx, by) = run
        length = math.hypot(bx - ax, by - ay)
        return (round(length, 6), abs(by - ay) / length)

    (ax, ay), (bx, by) = max(runs, key=weight)
    return math.degrees(math.atan2(by - ay, bx - ax))
