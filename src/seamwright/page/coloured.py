"""A block's patches in their fabrics, and where fabrics do not part them, as the page draws it.

Knows:  what is drawn of each patch, the order in which they are read, which seams and points are marked.
Leaves: how fabrics look (swatches), what reads alike and which points vanish (cloths), the words of it
        (words.fabrics).
Units:  inches of the drawing, front view: plans in another size or mirrored are brought back to how it is drawn.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from typing import Any

from seamwright.block.asseen import as_seen
from seamwright.block.model import OUTLINE, OUTSIDE, Block
from seamwright.cloths import Cloths
from seamwright.foundation.codes import fabric_codes
from seamwright.geometry import Point
from seamwright.ink.place import roomiest
from seamwright.page.swatches import Looks
from seamwright.picture.cloth import Finish, patch_fills, seam_shade
from seamwright.picture.tints import on
from seamwright.piecing.model import Plan
from seamwright.words.fabrics import Remark, remarks

DIGITS = 9
Back = Callable[[Point], Point]
ROWS = 6
"""A block is read in so many rows, from the left to the right in each."""


def patch_objects(plan: Plan, looks: Looks) -> list[dict[str, Any]]:
    """Every patch, and every part of one that is pieced beforehand, in reading order."""
    block = as_drawn(plan)
    seen, lies_in = as_seen(block)
    drawn, back = block.as_drawn(), _back(block)
    names = plan.patch_names()
    fabrics, codes = {fabric.name: fabric for fabric in seen.fabrics}, fabric_codes(seen.fabrics)
    fills = patch_fills(seen, Finish.COLOUR), patch_fills(seen, Finish.GREY)
    longest = max(_size(block))
    made = []
    for number, patch in enumerate(seen.patches):
        rings = [_ring(ring, back) for ring in (seen.patch_ring(number), *seen.patch_holes(number))]
        at, room = roomiest(rings[0], rings[1:])
        fabric = fabrics.get(patch.fabric or "")
        fill, grey = (shown[number].lower() for shown in fills)
        looked = {
            "name": _name(block, seen, number, lies_in[number], names),
            "ring": rings[0],
            "holes": rings[1:],
            "at": [round(c, 4) for c in at],
            "room": round(room, 4),
            "fabric": patch.fabric,
            "code": codes.get(patch.fabric or "", ""),
            "own": drawn.patches[number].fabric,
            "fill": fill if fabric else None,
            "grey": grey if fabric else None,
            "on": on(fill),
            "on_grey": on(grey),
            "stripes": "",
        }
        if fabric:
            looked |= looks.printed(fabric, rings, longest)
        made.append((_row(at, _size(block)), looked))
    return [looked for _, looked in sorted(made, key=lambda one: one[0])]


def as_drawn(plan: Plan) -> Block:
    """The block of a plan with left and right as its drawing has them; every patch keeps its number."""
    if not plan.block.reversed:
        return plan.block
    from seamwright.block.mirrored import mirrored

    return mirrored(plan.block)


def grey_seams(plan: Plan) -> list[dict[str, Any]]:
    """Each seam in the grey that parts its two sides no more than they do themselves."""
    block = as_drawn(plan)
    seen, _ = as_seen(block)
    back, shade = _back(block), seam_shade(seen, Finish.GREY, patch_fills(seen, Finish.GREY))
    return [
        {"points": _ring(seen.edge_points(number), back), "grey": shade(edge)}
        for number, edge in enumerate(seen.edges)
        if edge.seam != OUTLINE
    ]


def warning_objects(cloths: Cloths) -> list[dict[str, Any]]:
    """Where fabrics do not part what the drawing parts: a sentence each, and where it is marked."""
    block, back = as_drawn(cloths.plan), _back(cloths.plan.block)
    return [_warning(block, back, remark) for remark in remarks(cloths)]


def _warning(block: Block, back: Back, remark: Remark) -> dict[str, Any]:
    pair = {fabric.name for fabric in remark.between}
    return {
        "kind": remark.kind,
        "sentence": remark.text,
        "points": [_point(back(point)) for point in remark.places],
        "seams": [_ring(run, _back(block)) for run in _between(block, pair)],
    }


def _between(block: Block, pair: set[str]) -> Iterator[Sequence[Point]]:
    """The seams that part two fabrics."""
    seen, _ = as_seen(block)
    for number, edge in enumerate(seen.edges):
        sides = (edge.left, edge.right)
        if OUTSIDE not in sides and {seen.patches[side].fabric for side in sides} == pair:
            yield seen.edge_points(number)


def _name(block: Block, seen: Block, number: int, within: int, names: Sequence[str]) -> str:
    """A patch as prints call it; a part of one that is pieced beforehand with its own name behind."""
    ring = seen.patch_ring(number)
    part = next((part.name for part in block.parts_of(within) if part.ring == ring), "")
    return f"{names[within]} (part {part})" if part else names[within]


def _row(at: Point, size: tuple[float, float]) -> tuple[int, float, float]:
    """What orders places as one reads: by rows, in them from the left."""
    return (int(at[1] / size[1] * ROWS * 0.999999), at[0], at[1])


def _size(block: Block) -> tuple[float, float]:
    """Width and height of the block as drawn."""
    a, b, c, d, _, _ = block.lay
    return block.width_in / (abs(a) + abs(b)), block.height_in / (abs(c) + abs(d))


def _back(block: Block) -> Back:
    """From the block's inches to those of its drawing: `lay` the other way round; it never shears."""
    a, b, c, d, e, f = block.lay
    whole = a * d - b * c

    def back(point: Point) -> Point:
        x, y = point[0] - e, point[1] - f
        return ((d * x - c * y) / whole, (a * y - b * x) / whole)

    return back


def _point(point: Point) -> list[float]:
    return [round(c, DIGITS) + 0.0 for c in point]


def _ring(ring: Sequence[Point], back: Back) -> Any:
    return [_point(back(point)) for point in ring]
