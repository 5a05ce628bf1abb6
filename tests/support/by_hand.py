"""Plans and foundations put together by hand: sheets can be tested apart from the planner and the printer."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

import shapely
from shapely.geometry import Polygon

from seamwright.block.model import Block
from seamwright.foundation.model import Foundation, FoundationPatch
from seamwright.geometry import Point, Ring, signed_area
from seamwright.ink.lettering import centred
from seamwright.ink.model import Ink, Pen, Stroke
from seamwright.ink.place import roomiest
from seamwright.options import PlanOptions
from seamwright.piecing.model import Fewest, Plan, Section, Step
from support.exact import Number, exact_block

ALLOWANCE_IN = 0.25


def plan_by_hand(block: Block, groups: Sequence[Sequence[int]], options: PlanOptions | None = None) -> Plan:
    """A plan whose sections are the given patches in the given order; joins and stitches are left out."""
    sections = []
    for letter, patches in zip("ABCDEFGHJKLMNPQRSTUVWXYZ", groups, strict=False):
        ring = _ring_of(shapely.union_all([Polygon(block.patch_ring(p)) for p in patches]))
        numbers = tuple(block.points.index(_nearest(block, p)) for p in ring)
        steps = tuple(Step(p) for p in patches)
        sections.append(Section(letter, letter, 1, False, steps, numbers))
    foundations = sum(len(g) > 1 for g in groups)
    return Plan(
        id="0badcafe",
        block=block,
        options=options or PlanOptions(),
        sewable="straight",
        sections=tuple(sections),
        fewest=Fewest(len(groups), foundations, True, len(groups)),
    )


def foundations_by_hand(plan: Plan) -> tuple[Foundation, ...]:
    """Plain prints: mirrored, an even allowance all round, patches numbered at their roomiest place."""
    found = []
    for section in plan.sections:
        front = Polygon([plan.block.points[n] for n in section.outline])
        trim = front.buffer(ALLOWANCE_IN, join_style="mitre", mitre_limit=2.0)
        _, top, right, _ = trim.bounds

        def mirror(ring: Sequence[Point], right: float = right, top: float = top) -> Ring:
            turned = tuple((right - x, y - top) for x, y in ring)
            return turned if signed_area(turned) > 0 else turned[::-1]

        stitch, outer = mirror(_ring_of(front)), mirror(_ring_of(trim))
        patches = []
        ink: list[Ink] = [Stroke(Pen.TRIM, outer, closed=True), Stroke(Pen.STITCH, stitch, closed=True)]
        for count, patch in enumerate(section.patches, start=1):
            ring = mirror(plan.block.patch_ring(patch))
            patches.append(FoundationPatch(f"{section.name}{count}", ring))
            ink.append(centred(f"{section.name}{count}", roomiest(ring)[0], 12))
        seams = []
        for edge in plan.block.edges:
            if edge.seam >= 0 and edge.left in section.patches and edge.right in section.patches:
                a, b = mirror([plan.block.points[edge.start], plan.block.points[edge.end]] * 2)[:2]
                seams.append((a, b))
                ink.append(Stroke(Pen.STITCH, (a, b)))
        found.append(
            Foundation(
                drawing="by hand",
                block=plan.block.name,
                section=section.name,
                kind=section.kind,
                front=(-1.0, 0.0, 0.0, 1.0, right, -top),
                mirrored=True,
                reversed=False,
                stitch_outline=stitch,
                trim_outline=outer,
                patches=tuple(patches),
                seams=tuple(seams),
                marks=(),
                grain=((0.5, 0.5), (0.5, 1.0)),
                ink=tuple(ink),
            )
        )
    return tuple(found)


def fan(size: Number, rays: int, name: str = "fan") -> Block:
    """A square with rays from its top left corner: sharp patches, one section or as many as wanted."""
    steps = [Fraction(size) * k / (rays // 2 + 1) for k in range(1, rays // 2 + 1)]
    lines = [((0, 0), (size, s)) for s in steps] + [((0, 0), (s, size)) for s in steps] + [((0, 0), (size, size))]
    return exact_block(lines, ((0, 0), (size, 0), (size, size), (0, size)), name)


def strips(width: Number, height: Number, count: int, name: str = "strips") -> Block:
    """A rectangle cut across into equal strips."""
    at = [Fraction(height) * k / count for k in range(1, count)]
    return exact_block([((0, y), (width, y)) for y in at], ((0, 0), (width, 0), (width, height), (0, height)), name)


def _ring_of(area: shapely.Geometry) -> Ring:
    assert isinstance(area, Polygon)
    corners = tuple((float(x), float(y)) for x, y in area.exterior.coords[:-1])
    return corners if signed_area(corners) > 0 else corners[::-1]


def _nearest(block: Block, point: Point) -> Point:
    return min(block.points, key=lambda p: (p[0] - point[0]) ** 2 + (p[1] - point[1]) ** 2)
