"""A real piece of fabric on the table: laid by what is printed for it, and how sure its place is by that.

Knows:  which of its ways to be laid a piece may have at which step; what a hand that is a little off does to it.
Leaves: laying it (fabric, marks), sewing and flipping (sew).
Units:  inches, front view.
Method: a piece at an angle is laid by the marks that the paper shows, else held over its patch right side up and
        folded back over the line. Either way nothing but cloth and paper tells where that is.
"""

from __future__ import annotations

import shapely
from shapely.geometry.base import BaseGeometry

from seamwright.rehearsal.fabric import Laid, lay_by_edge, lay_by_marks, lay_drawn, lay_over
from seamwright.rehearsal.grain import look_at_grain
from seamwright.rehearsal.hands import Piece
from seamwright.rehearsal.line import ON_LINE_IN
from seamwright.rehearsal.looks import RULER_IN, Setting, look_at_cover, on, to_cover
from seamwright.rehearsal.model import Cloth, PieceToLay, SectionToSew
from seamwright.rehearsal.overlay import common, less, together
from seamwright.rehearsal.paper import Paper, grown, refuse

HALF = 1 / 2
"""Laid by a hand that is off, a piece has at least this share of the allowance in its seam: 1/8 of 1/4 in, which
holds (common practice, from memory)."""


def laid_over(section: SectionToSew, setting: Setting, paper: Paper, number: int, real: PieceToLay) -> Cloth:
    """A real piece laid by eye, right side up, with extra all round; a plain one without.

    Raises:
        ProofError: see `rehearse`.
    """
    patch = paper.patches[number]
    if real.lay == "plain":
        wanted = paper.trim
        if len(section.patches) > 1:
            wanted = common(grown(patch, setting.allowance), wanted)
        wanted = wanted.buffer(-RULER_IN, join_style="mitre")
    elif number == 0 and (real.lay == "first" or section.patches[0].parts):
        # Shrunk a little, a place loses the spikes without width that overlays may leave.
        place = paper.places[0].buffer(-ON_LINE_IN).buffer(ON_LINE_IN + setting.extra)
        wanted = together((patch.buffer(setting.margin), place))
    else:
        refuse("cannot be laid", f"nothing tells where the fabric of {real.name} lies ({real.lay})", on(patch))
    if section.patches[number].parts:
        # Laid by the line drawn for its seam, whatever that does to the grain.
        laid = lay_drawn(real)
    else:
        laid = lay_over(real, patch, wanted, real.grain_deg)
        look_at_grain(real, laid, patch, setting.edges)
    look_at_cover(setting, real.name, patch, wanted, laid.shape)
    return Cloth(real.name, laid.shape, True)


def laid_down(
    section: SectionToSew,
    setting: Setting,
    paper: Paper,
    number: int,
    real: PieceToLay,
    least: Piece,
    edge: float,
    held: BaseGeometry,
) -> tuple[Cloth, str]:
    """(a real piece laid right side down by what is printed for it, which of its sides is on the trimmed edge).

    Args:
        least: what a rectangle along the line has to be. edge: how far the trimmed allowance reaches. held: what
            the stitches hold down.

    Raises:
        ProofError: see `rehearse`.
    """
    seam, patch = paper.seams[number - 1], paper.patches[number]
    if real.lay == "plain":
        over = laid_over(section, setting, paper, number, real)
        return Cloth(real.name, seam.line.mirrored(over.shape), False), ""
    if real.lay == "angled":
        laid = (
            lay_drawn(real) if section.patches[number].parts else _at_an_angle(setting, paper, number, real, held)
        )
    elif real.lay in ("centred", "ticks") and not any(seam.crosses):
        laid = lay_by_edge(real, patch, seam.line, edge)
        is_less = real.width < least.width - ON_LINE_IN or real.height < least.height - ON_LINE_IN
        if real.shape == "rectangle" and is_less:
            what = f"the fabric of {real.name} is cut smaller than its patch, allowance and extra are"
            refuse("too little extra", what, on(patch))
    else:
        refuse("cannot be laid", f"nothing tells where the fabric of {real.name} lies ({real.lay})", on(patch))
    if not section.patches[number].parts:
        look_at_grain(real, laid.mirrored(seam.line), patch, setting.edges)
    return Cloth(real.name, laid.shape, False), laid.side


def _at_an_angle(setting: Setting, paper: Paper, number: int, real: PieceToLay, held: BaseGeometry) -> Laid:
    """A rectangle by its marks, sure enough for a hand that is off; or folded back."""
    seam, patch = paper.seams[number - 1], paper.patches[number]
    line = seam.line
    wanted = line.mirrored(to_cover(patch, seam, held, setting.margin, paper.far))
    caught = line.rectangle(0.0, line.length, 0.0, setting.allowance)
    if real.folded:
        # Held over its patch as it will lie, out to the trim line at a sharp tip, then turned down over the line.
        place = less(paper.places[number], line.mirrored(held)).buffer(-ON_LINE_IN).buffer(ON_LINE_IN)
        over = lay_over(real, patch, together((line.mirrored(together((wanted, caught))), place)), real.grain_deg)
        return over.mirrored(line)
    laid, placing = lay_by_marks(real, line, together((wanted, caught)))
    sure = line.mirrored(to_cover(patch, seam, held, setting.allowance, paper.far))
    caught = line.rectangle(0.0, line.length, 0.0, HALF * setting.allowance)
    if less(together((wanted, caught)), laid.shape).area > setting.nothing:
        return laid  # too small wherever it lies: found once it is flipped
    if not placing.covers(shapely.get_coordinates(shapely.convex_hull(together((sure, caught))))):
        what = f"the marks for the fabric of {real.name} hold it too loosely: laid by a hand, it may miss its patch"
        refuse("cannot be laid", what, on(patch))
    return laid
