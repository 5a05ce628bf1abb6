"""What any print must keep to, whatever was drawn: used on designs, hard cases and random blocks alike."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from functools import cache
from pathlib import Path

from shapely.geometry import LineString, Point, Polygon
from shapely.geometry.base import BaseGeometry

from seamwright.block.make import make_block
from seamwright.drawing.read import read_drawing
from seamwright.foundation.make import foundations
from seamwright.foundation.model import Foundation
from seamwright.foundation.numbers import NUMBER_PT
from seamwright.geometry import Point as Pair
from seamwright.geometry import Ring
from seamwright.ink.lettering import words_box
from seamwright.ink.model import Area, Pen, Stroke, Words
from seamwright.options import PlanOptions, PrintOptions
from seamwright.piecing.model import Plan
from seamwright.piecing.plan import plan

DESIGNS = Path(__file__).parents[2] / "designs"
LEAST_PT = 7.0
HALF_PEN_IN = 0.9 / 72 / 2
"""Half the widest of the pens that words must keep clear of."""


def designs() -> list[Path]:
    """The project's own designs."""
    return sorted(path for path in DESIGNS.iterdir() if path.suffix in (".svg", ".seams"))


@cache
def planned(path: Path, options: PlanOptions = PlanOptions()) -> Plan:  # noqa: B008
    """The plan of a drawing; made once for all tests, like its prints: nothing changes such values."""
    return plan(make_block(read_drawing(path), options), options)


@cache
def printed(
    path: Path,
    options: PlanOptions = PlanOptions(),  # noqa: B008
    printing: PrintOptions = PrintOptions(),  # noqa: B008
) -> tuple[Foundation, ...]:
    """Its prints."""
    return foundations(planned(path, options), printing)


def laid_back(print_: Foundation) -> Callable[[Pair], Pair]:
    """The motion that lays a print on its place in the block: a rotation, and a mirror if it is mirrored."""
    a, b, c, d, e, f = print_.front
    lengths = (a * a + b * b, c * c + d * d, a * c + b * d)
    assert all(math.isclose(one, true, abs_tol=1e-9) for one, true in zip(lengths, (1, 1, 0), strict=True))
    assert math.isclose(a * d - b * c, -1 if print_.mirrored else 1)
    # The inverse of a motion that keeps lengths is its transpose.
    return lambda p: (a * (p[0] - e) + b * (p[1] - f), c * (p[0] - e) + d * (p[1] - f))


def words_of(print_: Foundation) -> list[Words]:
    """All words on a print."""
    return [ink for ink in print_.ink if isinstance(ink, Words)]


def strokes_of(print_: Foundation, *pens: Pen) -> list[BaseGeometry]:
    """Lines on a print, all or those of some pens."""
    return [
        LineString((*ink.points, ink.points[0]) if ink.closed else ink.points)
        for ink in print_.ink
        if isinstance(ink, Stroke) and (not pens or ink.pen in pens)
    ]


def box_of(words: Words) -> Polygon:
    """The box that words fill."""
    return Polygon(words_box(words))


def faults_of(print_: Foundation) -> Iterator[str]:
    """Everything on a print that a strict eye would send back."""
    paper, boxes = Polygon(print_.trim_outline), [(words, box_of(words)) for words in words_of(print_)]
    lines = strokes_of(print_)
    for words, box in boxes:
        if not paper.contains(box):
            yield f"{words.text} leaves the paper"
        if words.size_pt < LEAST_PT:
            yield f"{words.text} is set in {words.size_pt} pt"
        if any(line.distance(box) < HALF_PEN_IN and not _starts_at(line, box) for line in lines):
            yield f"a line runs through {words.text}"
        if not -90.001 <= words.angle_deg < 90:
            yield f"{words.text} stands on its head"
    for i, (words, box) in enumerate(boxes):
        for other, other_box in boxes[:i]:
            if box.intersects(other_box):
                yield f"{words.text} lies over {other.text}"
    yield from _unnumbered(print_)


def _starts_at(line: BaseGeometry, box: Polygon) -> bool:
    """Whether a line is a leader that starts at a box and leads away from it."""
    return box.exterior.distance(Point(line.coords[0])) < 1e-6 and not line.crosses(box.buffer(-1e-6))


def _unnumbered(print_: Foundation) -> Iterator[str]:
    """Patches without a number of their own inside, or a leader from a number into them."""
    told = " ".join(print_.legend)
    leaders = [
        LineString(ink.points)
        for ink in print_.ink
        if isinstance(ink, Stroke) and ink.pen is Pen.HELPER and not ink.closed
    ]
    dots = [Polygon(ink.rings[0]) for ink in print_.ink if isinstance(ink, Area)]
    for place, patch in enumerate(print_.patches, start=1):
        inside = patch_polygon(patch.outline)
        letter = patch.name[: len(patch.name) - len(str(place))].split(".")[0]
        labels = [
            words
            for words in words_of(print_)
            if words.bold
            and words.size_pt <= NUMBER_PT
            and words.text.lstrip("ABCDEFGHJKLMNPQRSTUVWXYZr") == str(place)
        ]
        own = [words for words in labels if inside.contains(box_of(words))]
        led = [
            words
            for words in labels
            for leader in leaders
            if box_of(words).distance(leader) < 1e-6
            and any(dot.intersects(leader) and inside.intersects(dot) for dot in dots)
        ]
        if not own and not led and f"{letter}{place}" not in told:
            yield f"patch {patch.name} has no number"


def patch_polygon(ring: Ring) -> Polygon:
    """A patch a hair larger, so that a box may touch its edge."""
    return Polygon(ring).buffer(1e-9)
