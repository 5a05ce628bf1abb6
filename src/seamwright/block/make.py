"""From a drawing to a block: size, tidying, the block's part, its map, its fabrics.

Knows:  the order of these steps; the finished size asked for; the words of faults and notes.
Leaves: each step to its module.
Units:  inches of the finished block; tolerances are measured there, so the drawing is scaled first.
"""

from __future__ import annotations

import math
from dataclasses import replace

from seamwright.block.fabrics import with_fabrics
from seamwright.block.model import Block
from seamwright.block.number import numbered_block
from seamwright.block.outline import OpenEnd, Part, find_part
from seamwright.block.strokes import strokes_of
from seamwright.block.tidy import Tidied, tidy
from seamwright.drawing.model import Drawing
from seamwright.errors import DrawingError, Fault, OptionError, fail
from seamwright.geometry import Point, bounds
from seamwright.notes import Note
from seamwright.options import PlanOptions
from seamwright.units import LARGEST_BLOCK_IN, SMALLEST_BLOCK_IN, say_length, say_size

ASPECT = 0.005
"""Two aspects that differ by less are the same."""


def make_block(drawing: Drawing, options: PlanOptions = PlanOptions()) -> Block:
    """The block that a drawing shows, tidied and exact.

    Args:
        drawing: as read.
        options: size, stretch and tolerance are of use here.

    Raises:
        DrawingError: it is not finished ("unfinished", a fault for every place), nothing closes, there are no seams,
            it is too large.
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
    scale = _first_scale(drawing, options)
    for _ in range(4):
        tidied, part = _tidied_part(drawing, options, scale)
        if not part.ring:
            break
        left, top, right, bottom = bounds(part.ring)
        onward = _rescale(right - left, bottom - top, options, drawing)
        if max(abs(onward[0] - 1), abs(onward[1] - 1)) <= 0.002:
            break
        scale = (scale[0] * onward[0], scale[1] * onward[1])
    _refuse_unfinished(drawing, options, part)
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
    block = numbered_block(drawing.name, drawing.file, tidied.points, part.pieces, part.ring, onward)
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
    notes += _repairs(tidied, part, place, options)
    block = replace(block, options=drawing.options, notes=tuple(notes), colourways=drawing.colourways)
    return with_fabrics(block, drawing, lay)


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
        raise fail(
            OptionError,
            "option",
            f"the block drawn is {say_size(width, height, options.units)}: at {say_length(size.width_in)} wide it is "
            f"{height * x:.4g} in high, not {size.height_in:.4g} in",
            f"Use --size {size.width_in:.6g}x{height * x:.4g}in, or --stretch to change its shape",
            drawing=drawing.file,
        )
    return (x, x)


def _tidied_part(drawing: Drawing, options: PlanOptions, scale: tuple[float, float]) -> tuple[Tidied, Part]:
    """The drawing tidied at a scale, and the block's part; the page is the outline where lines reach it."""
    tidied = tidy(strokes_of(drawing, scale), options.tolerance_in, drawing.exact, drawing.file)
    outline = _at(drawing.outline, scale)
    page = _at(drawing.artboard, scale)
    part = find_part(tidied, outline, page)
    if outline is None and page is not None and _reaches(tidied, part, page, options.tolerance_in):
        framed = replace(drawing, outline=drawing.artboard)
        again = tidy(strokes_of(framed, scale), options.tolerance_in, drawing.exact, drawing.file)
        whole = find_part(again, page, None)
        note = Note("outline", "no outline is drawn: the page is taken as the block, since lines reach its edge")
        return again, replace(whole, notes=(note, *whole.notes))
    return tidied, part


def _at(ring: tuple[Point, ...] | None, scale: tuple[float, float]) -> tuple[Point, ...] | None:
    return None if ring is None else tuple((x * scale[0], y * scale[1]) for x, y in ring)


def _reaches(tidied: Tidied, part: Part, page: tuple[Point, ...], tolerance: float) -> bool:
    """Whether hanging ends that are tied to the block's part, or all there is, lie on the page's edge or beyond."""
    import shapely

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


def _refuse_unfinished(drawing: Drawing, options: PlanOptions, part: Part) -> None:
    ends = (*part.open_ends, *part.loose_outside)
    if not part.ring and not ends:
        raise _no_outline(drawing)
    if ends:
        corners = part.ring or tuple(e.at for e in ends)
        left, top, _, _ = bounds(corners)
        faults = tuple(_fault(end, (end.at[0] - left, end.at[1] - top), options) for end in ends)
        raise DrawingError("unfinished", faults, drawing.file)
    if not part.ring:
        raise _no_outline(drawing)


def _no_outline(drawing: Drawing) -> DrawingError:
    return DrawingError(
        "no outline",
        (
            Fault(
                "no outline",
                "nothing in the drawing closes to an outline",
                "Draw the block's outline, or make the page the block's size and draw its seams to the page's edge",
            ),
        ),
        drawing.file,
    )


def _fault(end: OpenEnd, at: Point, options: PlanOptions) -> Fault:
    what = end.source or "a line"
    where = f"({at[0]:.3f}, {at[1]:.3f}) in"
    if end.bridge:
        return Fault(
            "unfinished", f"{what} has the same patch on both sides at {where}", "Draw it on or delete it", at
        )
    if end.gap is None:
        return Fault("unfinished", f"{what} ends in the open at {where}", "Draw it on to another line", at)
    enough = math.ceil(end.gap * 16 - 1e-9) / 16
    raised = f", or raise the tolerance with --tolerance {say_length(enough).replace(' ', '', 1) if enough < 1 else '1in'}"
    mend = "Draw it on to that line" + (raised if enough <= 0.5 else ", or delete it")
    return Fault(
        "unfinished",
        f"{what} ends in the open at {where}, {say_length(end.gap, options.units)} short of the nearest line",
        mend,
        at,
    )


def _repairs(tidied: Tidied, part: Part, place, options: PlanOptions) -> list[Note]:  # type: ignore[no-untyped-def]
    """One note for each kind of repair."""
    words = {
        "closed": ("end closed", "ends closed"),
        "trimmed": ("overshoot trimmed", "overshoots trimmed"),
        "doubled": ("doubled line merged", "doubled lines merged"),
        "straight": ("nearly straight seam made straight", "nearly straight seams made straight"),
        "gathered": ("near crossing gathered into one point", "near crossings gathered into one point each"),
    }
    left, top, right, bottom = bounds(part.ring)
    reach = options.tolerance_in
    notes = []
    for kind, (one, many) in words.items():
        found = [
            (amount, place(at))
            for k, at, amount in tidied.repairs
            if k == kind and left - reach <= at[0] <= right + reach and top - reach <= at[1] <= bottom + reach
        ]
        if found:
            most = max(amount for amount, _ in found)
            places = tuple(sorted((p for _, p in found), key=lambda p: (p[1], p[0])))
            what = f"1 {one}" if len(found) == 1 else f"{len(found)} {many}"
            notes.append(
                Note("tidied", f"{what}, largest {say_length(most, options.units)}", len(found), most, places)
            )
    return notes
