"""Every mend shown is done first: written, read back, planned, checked, and sewn on trial.

Knows:  what must hold after a mend: its own region is free, no other became stuck, patches and fabrics are there.
Leaves: doing it (apply), writing and reading (drawing), planning (piecing), judging (proof, rehearsal).
Units:  inches.
Method: the block with its mend goes through the text form and the reader that any drawing goes through. If nothing
        is stuck then, the whole is planned; else the mended region as a block of its own, since stuck regions are
        independent. The planner searches little here: any plan proves that there is one.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from seamwright.block.make import make_block
from seamwright.block.model import OUTLINE, Block
from seamwright.block.rings import region_ring
from seamwright.claims import claim_of
from seamwright.drawing.model import Curve, Drawing, Line
from seamwright.drawing.svg import read_svg
from seamwright.drawing.textform import read_seams, write_seams
from seamwright.errors import SeamwrightError
from seamwright.mend.apply import apply_mends, came_from
from seamwright.mend.change import places_of
from seamwright.mend.clean import can_write, clean_svg
from seamwright.mend.same import same_map
from seamwright.options import Fit, PlanOptions
from seamwright.piecing.decide import decide
from seamwright.piecing.model import Mend
from seamwright.piecing.plan import plan
from seamwright.piecing.seammap import SeamMap
from seamwright.proof.checker import check
from seamwright.rehearsal.rehearse import rehearse
from seamwright.rehearsals import sewing_of

QUICK = PlanOptions(fit=Fit.NONE, steps=300)
SAME_IN = 1e-6


def holds(block: Block, stuck: Sequence[tuple[int, ...]], mend: Mend, options: PlanOptions) -> bool:
    """Whether a mend, done, written and read back, frees its region and spoils nothing.

    Args:
        stuck: the block's stuck regions.
        mend: `obstruction` is the number, from 1, of its region in `stuck`.
        options: of the plan; its allowance is sewn with.
    """
    try:
        made = apply_mends(block, [mend])
        if len(made.patches) != len(block.patches) + mend.extra_patches:
            return False
        again = read_again(made)
        if same_map(made, again, SAME_IN) or not _drawn(made, options):
            return False
        origins = came_from(block, again, places_of(block, [mend]))
        mended = stuck[mend.obstruction - 1]
        others = [set(region) for number, region in enumerate(stuck, start=1) if number != mend.obstruction]
        left = decide(SeamMap(again)).stuck
        if any({origins[p] for p in region} not in others for region in left) or len(left) != len(others):
            return False
        if not left:
            return sews(again, options)
        part = [n for n, old in enumerate(origins) if old in mended]
        return len(part) == 1 or sews(alone(again, part), options)
    except (SeamwrightError, ValueError):
        return False


def read_again(block: Block) -> Block:
    """The block as it comes back from its text."""
    text = write_seams(replace(block, options=()))
    return make_block(read_seams(text, name=block.name, file=block.file), PlanOptions())


def _drawn(block: Block, options: PlanOptions) -> bool:
    """Whether the block comes back from a drawing too, in which all nearer than the tolerance is tidied."""
    if not can_write(block):
        return True
    again = make_block(
        read_svg(clean_svg(block, "").encode(), name=block.name, file=block.file),
        replace(PlanOptions(), tolerance_in=options.tolerance_in),
    )
    return same_map(block, again, options.tolerance_in, fabrics=False) == ""


def sews(block: Block, options: PlanOptions) -> bool:
    """Whether a plan of the block passes the checker and the rehearsal.

    Raises:
        ProofError: it does not, and why.
    """
    planned = plan(block, replace(QUICK, allowance_in=options.seam_allowance_in))
    if not planned.pieceable:
        return False
    check(claim_of(planned))
    rehearse(sewing_of(planned))
    return True


def alone(block: Block, patches: Sequence[int]) -> Block:
    """Some patches that hang together as a block of their own."""
    members = set(patches)
    lines, curves = [], []
    for number, edge in enumerate(block.edges):
        if edge.seam != OUTLINE and edge.left in members and edge.right in members:
            run = block.edge_points(number)
            if edge.via:
                curves.append(Curve(run, f"edge {number}"))
            else:
                lines.append(Line(run[0], run[1], f"edge {number}"))
    outline = region_ring(block, sorted(members))
    drawing = Drawing(block.name, block.file, tuple(lines), tuple(curves), outline=tuple(outline), exact=True)
    return make_block(drawing, PlanOptions())
