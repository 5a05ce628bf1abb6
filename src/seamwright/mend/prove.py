"""Every mend shown is done first: written, read back, planned, checked, and sewn on trial.

Knows:  what must hold after a mend: its own region is free, no other became stuck, all patches are there.
Leaves: doing it (apply), writing and reading (drawing, clean), planning (piecing), judging (proof, rehearsal).
Units:  inches.
Method: stuck regions are independent. So a mend is first done to its region as a block of its own, which goes
        through the text form and through an SVG drawing, each with its reader, and is planned, checked and
        rehearsed; a region smaller than a block can be is enlarged for that, with tolerance and allowance. Then the
        whole block is drawn anew with one mend for each region, and cut as far as it goes. The planner searches
        little here: any plan proves that there is one.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from pathlib import PurePath

from seamwright.block.make import make_block
from seamwright.block.model import OUTLINE, Block
from seamwright.block.rings import region_sides
from seamwright.claims.plans import claim_of
from seamwright.claims.sewing import sewing_of
from seamwright.drawing.model import Curve, Drawing, Line
from seamwright.drawing.svg import read_svg
from seamwright.drawing.textform import read_seams, write_seams
from seamwright.errors import SeamwrightError
from seamwright.geometry import Point, bounds
from seamwright.mend.apply import apply_mends, came_from, moved_sides
from seamwright.mend.change import SAME_IN, dropped_edges, places_of
from seamwright.mend.clean import can_write, clean_svg
from seamwright.mend.same import same_map
from seamwright.options import Fit, PlanOptions, Size
from seamwright.piecing.decide import decide
from seamwright.piecing.model import Mend
from seamwright.piecing.plan import plan
from seamwright.piecing.seammap import SeamMap
from seamwright.proof.checker import check
from seamwright.rehearsal.rehearse import rehearse
from seamwright.units import SMALLEST_BLOCK_IN

QUICK = PlanOptions(fit=Fit.NONE, steps=300)


def frees_region(block: Block, patches: Sequence[int], mend: Mend, options: PlanOptions) -> bool:
    """Whether a mend, done to its stuck region alone, written and read back, lets it be sewn.

    Args:
        patches: of the stuck region.
        options: of the plan; its tolerance is read with and its allowance sewn with.
    """
    try:
        drawing = _alone(block, patches, mend)
        if drawing is None:
            return True
        sized, options = _large_enough(drawing, options)
        part = make_block(drawing, sized)
        if len(part.patches) != len(patches) + mend.extra_patches:
            return False
        again = make_block(read_seams(write_seams(part), name=block.name, file=block.file), PlanOptions())
        if same_map(part, again, SAME_IN) or not _comes_back_drawn(part, options):
            return False
        planned = plan(again, replace(QUICK, allowance_in=options.seam_allowance_in))
        if not planned.sections:
            return False
        check(claim_of(planned))
        rehearse(sewing_of(planned))
    except (SeamwrightError, ValueError):
        return False
    return True


def frees_all(block: Block, stuck: Sequence[Sequence[int]], mends: Sequence[Mend], options: PlanOptions) -> bool:
    """Whether a block with mends done, one for a region, is stuck in those regions only that have none.

    Args:
        stuck: the block's stuck regions; `obstruction` of a mend is the number, from 1, of its region.
    """
    mended = {mend.obstruction for mend in mends}
    left = [set(region) for number, region in enumerate(stuck, start=1) if number not in mended]
    try:
        made = apply_mends(block, mends)
        if len(made.patches) != len(block.patches) + sum(mend.extra_patches for mend in mends):
            return False
        found = decide(SeamMap(made), lambda _: True).stuck
        if len(found) != len(left) or not (_is_text(block) or _comes_back_drawn(made, options)):
            return False
        origins = came_from(block, made, places_of(block, mends)) if found else []
        return all({origins[p] for p in region} in left for region in found)
    except (SeamwrightError, ValueError):
        return False


def _is_text(block: Block) -> bool:
    """Whether the block was read from a text form, in which nothing is tidied away."""
    return PurePath(block.file).suffix.lower().partition("@")[0] == ".seams"


def _comes_back_drawn(block: Block, options: PlanOptions) -> bool:
    """Whether the block comes back from a drawing too, in which all nearer than the tolerance is tidied."""
    if not can_write(block):
        return True
    read = read_svg(clean_svg(block, "").encode(), name=block.name, file=block.file)
    again = make_block(read, replace(PlanOptions(), tolerance_in=options.tolerance_in))
    return same_map(block, again, options.tolerance_in, fabrics=False) == ""


def _large_enough(drawing: Drawing, options: PlanOptions) -> tuple[PlanOptions, PlanOptions]:
    """The size at which a region can be a block of its own, and options enlarged alike."""
    left, top, right, bottom = bounds(drawing.outline or ())
    times = 1
    while times * min(right - left, bottom - top) < SMALLEST_BLOCK_IN:
        times *= 2
    if times == 1:
        return PlanOptions(), options
    tolerance, allowance = times * options.tolerance_in, times * options.seam_allowance_in
    sized = PlanOptions(size=Size(times * (right - left)))
    return sized, replace(options, tolerance_in=tolerance, allowance_in=allowance)


def _alone(block: Block, patches: Sequence[int], mend: Mend) -> Drawing | None:
    """A region with its mend as a drawing of its own; None if one patch is left."""
    if len(patches) + mend.extra_patches < 2:
        return None
    members, new, gone = set(patches), places_of(block, [mend]), dropped_edges(block, mend.dropped)
    lines, curves = [Line(a, b, "mend") for a, b in mend.seams], []
    for number, edge in enumerate(block.edges):
        if edge.seam == OUTLINE or number in gone or not members.issuperset((edge.left, edge.right)):
            continue
        a, *via, b = block.edge_points(number)
        a, b = new.get(edge.start, a), new.get(edge.end, b)
        if via:
            curves.append(Curve((a, *via, b), f"edge {number}"))
        elif a != b:
            lines.append(Line(a, b, f"edge {number}"))
    to: dict[Point, Point] = {block.points[p]: place for p, place in new.items()}
    sides = [side.points for side in region_sides(block, members)]
    ring = [to.get(p, p) for side in sides for p in side[:-1]]
    return Drawing(
        block.name,
        block.file,
        tuple(lines),
        tuple(curves),
        outline=tuple(p for before, p in zip(ring[-1:] + ring[:-1], ring, strict=True) if p != before),
        sides=moved_sides(block, sides, new),
        exact=True,
    )
