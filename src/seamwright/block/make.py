"""From a drawing to a block: size, tidying, the block's part, its map, its fabrics.

Knows:  the order of these steps; the finished size asked for; the words of faults and notes.
Leaves: each step to its module.
Units:  inches of the finished block; tolerances are measured there, so the drawing is scaled first.
"""

from __future__ import annotations

import math
from dataclasses import replace
from functools import partial

import numpy as np
import shapely

from seamwright.block.doubtful import doubtful_notes
from seamwright.block.fabrics import with_fabrics
from seamwright.block.model import Block
from seamwright.block.number import numbered_block
from seamwright.block.outline import Part, find_part
from seamwright.block.steps import NATIVE, Steps
from seamwright.block.strokes import strokes_of
from seamwright.block.telling import narrow_notes, refuse_unfinished, repair_notes
from seamwright.block.tidy import Tidied, tidy
from seamwright.drawing.model import Drawing
from seamwright.errors import DrawingError, Fault, OptionError, SeamwrightError, fail
from seamwright.geometry import Point, bounds
from seamwright.notes import Note
from seamwright.options import PlanOptions
from seamwright.units import LARGEST_BLOCK_IN, SMALLEST_BLOCK_IN, say_length, say_point, say_size

DEFAULTS = PlanOptions()
MANY, ASKED = 5000, 256
"""So many lines are asked, of drawings with many, how many others they lie across."""
ASPECT = 0.005
"""Two aspects that differ by less are the same."""


def make_block(drawing: Drawing, options: PlanOptions = DEFAULTS) -> Block:
    """The block that a drawing shows, tidied and exact.

    Args:
        drawing: as read.
        options: size, stretch and tolerance are of use here.

    Raises:
        DrawingError: it is not finished ("unfinished", a fault for every place), nothing closes, there are no
            seams, it is too large.
        OptionError: the size asked for does not fit the drawing.
    """
    if not drawing.lines and not drawing.curves:
        raise fail(
            DrawingError,
            "nothing drawn",
            "the drawing has no lines",
            "Draw the block's outline and its seams as lines",
            drawing=drawing.file,
        )
    tidied, part, scale = tidied_part(drawing, options)
    refuse_unfinished(drawing.file, part, options)
    left, top, right, bottom = bounds(part.ring)
    onward = _rescale(right - left, bottom - top, options, drawing)
    width, height = (right - left) * onward[0], (bottom - top) * onward[1]
    if not SMALLEST_BLOCK_IN <= min(width, height) <= max(width, height) <= LARGEST_BLOCK_IN:
        raise fail(
            DrawingError,
            "size",
            f"the block is {say_size(width, height, options.units)}; a block is {SMALLEST_BLOCK_IN:g} to "
            f"{LARGEST_BLOCK_IN:g} in each way",
            "Give its finished width with --size, such as --size 8in",
            drawing=drawing.file,
        )
    try:
        block = numbered_block(drawing.name, drawing.file, tidied.points, part.pieces, part.ring, onward)
    except ValueError:
        worst = max(((amount, at) for _, at, amount in tidied.repairs), default=(0.0, (left, top)))[1]
        raise _tangled(drawing, ((worst[0] - left) * onward[0], (worst[1] - top) * onward[1]), options) from None
    if tidied.repairs and (crossing := _crosses_itself(block)):
        raise _tangled(drawing, crossing, options)
    if len(block.patches) < 2:
        raise fail(
            DrawingError,
            "no seams",
            "there is an outline but no seam inside it",
            "Draw the seams from edge to edge, or check that they are on a visible layer",
            drawing=drawing.file,
        )

    def place(p: Point) -> Point:
        return ((p[0] - left) * onward[0], (p[1] - top) * onward[1])

    def lay(p: Point) -> Point:
        return place((p[0] * scale[0], p[1] * scale[1]))

    notes = [replace(n, places_in=tuple(lay(p) for p in n.places_in)) for n in drawing.notes]
    notes += [replace(n, places_in=tuple(place(p) for p in n.places_in)) for n in part.notes]
    notes += repair_notes(tidied, part, place, options)
    notes += narrow_notes(block, options)
    notes += doubtful_notes(block, 0.0 if drawing.exact else options.tolerance_in, options.units)
    sx, sy = scale[0] * onward[0], scale[1] * onward[1]
    laid = (sx, 0.0, 0.0, sy, -left * onward[0], -top * onward[1])
    block = replace(block, options=drawing.options, notes=tuple(notes), colourways=drawing.colourways, lay=laid)
    return with_fabrics(block, drawing, lay)


def tidied_part(drawing: Drawing, options: PlanOptions) -> tuple[Tidied, Part, tuple[float, float]]:
    """The drawing tidied at about its finished size, the block's part of it, and the scale it was tidied at.

    Args:
        drawing: with a line or a curve at least. options: as for `make_block`.

    Raises:
        DrawingError: it is too large, or too much work. OptionError: the size asked for does not fit the drawing.
    """
    scale = _first_scale(drawing, options)
    steps = Steps(drawing.file)
    _count_piled(drawing, steps)
    for _ in range(6):
        tidied, part = _tidied_at(drawing, options, scale, steps)
        if not part.ring:
            if options.size is None:
                break
            # Furniture far out makes the first guess too small, and gaps seem small beside the tolerance.
            scale = (scale[0] * 1.5, scale[1] * 1.5)
            continue
        left, top, right, bottom = bounds(part.ring)
        onward = _rescale(right - left, bottom - top, options, drawing)
        if max(abs(onward[0] - 1), abs(onward[1] - 1)) <= 0.002:
            break
        scale = (scale[0] * onward[0], scale[1] * onward[1])
    return tidied, part, scale


def _count_piled(drawing: Drawing, steps: Steps) -> None:
    """Count the pairs of many lines that lie across one another, as some of them tell, before any are looked at."""
    count = len(drawing.lines)
    if count < MANY:
        return
    ends = np.array([(*line.start, *line.end) for line in drawing.lines])
    low, high = np.minimum(ends[:, :2], ends[:, 2:]), np.maximum(ends[:, :2], ends[:, 2:])
    some = np.linspace(0, count - 1, ASKED).astype(int)
    pairs = sum(int(np.count_nonzero(((low <= high[k]) & (high >= low[k])).all(axis=1))) for k in some)
    steps.take(pairs * count // ASKED // NATIVE)


def _crosses_itself(block: Block) -> Point | None:
    """Where lines nearer to each other than they were moved have ended up across one another, if they have."""
    edges = [shapely.LineString(block.edge_points(n)) for n in range(len(block.edges))]
    pairs = shapely.STRtree(edges).query(edges, "crosses").T.tolist()
    if not pairs:
        return None
    at = shapely.intersection(edges[pairs[0][0]], edges[pairs[0][1]]).representative_point()
    return (at.x, at.y)


def _tangled(drawing: Drawing, at: Point, options: PlanOptions) -> SeamwrightError:
    what = f"lines near {say_point(at, options.units)} {options.units.sign} lie so near to each other"
    mend = "Draw it larger, or tidy less with a smaller --tolerance, such as 1/64in"
    return DrawingError(
        "tangled", (Fault("tangled", f"{what} that tidying them tangles them", mend, at),), drawing.file
    )


def _first_scale(drawing: Drawing, options: PlanOptions) -> tuple[float, float]:
    """A guess from all that is drawn; the outline found decides afterwards."""
    if options.size is None:
        return (1.0, 1.0)
    points = list(drawing.outline or ()) or [p for line in drawing.lines for p in (line.start, line.end)]
    points += [] if drawing.outline else [p for c in drawing.curves for p in c.points]
    finite = [p for p in points if all(map(math.isfinite, p))]
    if not finite:
        return (1.0, 1.0)
    left, top, right, bottom = bounds(finite)
    width, height = right - left, bottom - top
    if width <= 0 or height <= 0:
        return (1.0, 1.0)
    x = options.size.width_in / width
    y = options.size.height_in / height if options.stretch and options.size.height_in else x
    return (x, y)


def _rescale(width: float, height: float, options: PlanOptions, drawing: Drawing) -> tuple[float, float]:
    size = options.size
    if size is None:
        return (1.0, 1.0)
    x = size.width_in / width
    if size.height_in is None:
        return (x, x)
    if options.stretch:
        return (x, size.height_in / height)
    if abs(size.height_in / (height * x) - 1) > ASPECT:
        told = partial(say_length, units=options.units)
        raise fail(
            OptionError,
            "option",
            f"at {told(size.width_in)} wide the block is {told(height * x)} high, not {told(size.height_in)}",
            f"Use --size {size.width_in:.6g}x{height * x:.4g}in, or --stretch to change its shape",
            drawing=drawing.file,
        )
    return (x, x)


def _tidied_at(
    drawing: Drawing, options: PlanOptions, scale: tuple[float, float], steps: Steps
) -> tuple[Tidied, Part]:
    """The drawing tidied at a scale, and the block's part; the page is the outline where lines reach it."""
    tidied = tidy(strokes_of(drawing, scale), options.tolerance_in, drawing.exact, drawing.file, steps)
    outline = _at(drawing.outline, scale)
    page = _at(drawing.artboard, scale)
    part = find_part(tidied, outline)
    if outline is None and page is not None and _reaches(part, page, options.tolerance_in):
        framed = replace(drawing, outline=drawing.artboard)
        again = tidy(strokes_of(framed, scale), options.tolerance_in, drawing.exact, drawing.file, steps)
        whole = find_part(again, page)
        note = Note("outline", "no outline is drawn: the page is taken as the block, since lines reach its edge")
        return again, replace(whole, notes=(note, *whole.notes))
    return tidied, part


def _at(ring: tuple[Point, ...] | None, scale: tuple[float, float]) -> tuple[Point, ...] | None:
    return None if ring is None else tuple((x * scale[0], y * scale[1]) for x, y in ring)


def _reaches(part: Part, page: tuple[Point, ...], tolerance: float) -> bool:
    """Whether hanging ends that are tied to the block's part, or all there is, lie on the page's edge or beyond."""
    border = shapely.Polygon(page)
    if border.area <= 0:
        return False
    ends = [e.at for e in (part.loose_outside if part.ring else part.open_ends)]
    on = [
        p
        for p in ends
        if border.exterior.distance(shapely.Point(p)) <= tolerance or not border.covers(shapely.Point(p))
    ]
    return len(on) >= 2
