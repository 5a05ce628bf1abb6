"""Pieces of fabric that are sewn without paper, cut by ruler or by their printed template.

Knows:  their size, shape and grain.
Leaves: what a ruler cuts (fabric.rulers), pieces for paper (pieces).
Units:  inches, front view; degrees clockwise from +x.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

import shapely

from seamwright.cutting.beforehand import made_up
from seamwright.cutting.fits import STEP_IN, along_deg, up
from seamwright.fabric.pieces import Lay, Piece, Shape
from seamwright.fabric.rulers import ruler_cut
from seamwright.foundation.common import Common
from seamwright.foundation.tips import TIP_LIMIT
from seamwright.foundation.trims import grown
from seamwright.geometry import Point, Ring, bounds, canonical_ring
from seamwright.piecing.model import Section

SHARE = {Shape.HALF_SQUARE: 2, Shape.QUARTER_SQUARE: 4, Shape.HALF_RECTANGLE: 2}
"""Pieces that one square or rectangle gives; of other shapes one."""
_BY_RULER = {1: Shape.RECTANGLE, 2: Shape.HALF_SQUARE, 4: Shape.QUARTER_SQUARE}


def plain_piece(common: Common, section: Section, patch: int, wish: float | None, one_way: bool) -> Piece:
    """A piece sewn without paper: by ruler where a ruler shows its size, else by its template.

    Args:
        wish: where its straight grain has to run, degrees; None: where that of its section does. one_way: it is the
            fabric's print that runs there.
    """
    block, options = common.plan.block, common.plan.options
    allowance, step = options.seam_allowance_in, STEP_IN[options.units]
    ring = canonical_ring(block.patch_ring(patch))
    grain = common.grains_deg[section.name] if wish is None else wish
    cut = ruler_cut(ring, grain, allowance, options.units)
    unfinished = common.trims[section.name] if section.kind == "plain" else _unfinished(ring, allowance)
    if block.parts_of(patch):
        name = common.names[patch]
        return made_up(block, patch, name, lambda frame: frame.seen(unfinished), allowance, step, lay=Lay.PLAIN)
    if cut is not None and not (one_way and cut.pieces > 1):
        shape, size = _BY_RULER[cut.pieces], (cut.width_in, cut.height_in)
    else:
        x0, y0, x1, y1 = bounds(along_deg(ring[0], grain).seen(unfinished))
        shape, size = Shape.TEMPLATE, (up(x1 - x0, step), up(y1 - y0, step))
    return Piece(
        patch,
        common.names[patch],
        block.patches[patch].fabric,
        shape,
        *size,
        share=SHARE.get(shape, 1),
        outline=unfinished,
        lay=Lay.PLAIN,
        grain_deg=grain % 180,
        one_way=one_way,
        runs=_runs(shape, ring, grain, allowance, size) if one_way else "",
    )


def runs_along(width_deg: float, grain_deg: float | None) -> str:
    """The side of a rectangle along which a print runs whose width lies in a direction."""
    turn = abs((width_deg - (grain_deg or 0.0) + 90) % 180 - 90)
    return "width" if turn < 45 else "height"


def _runs(shape: Shape, ring: Ring, grain_deg: float, allowance_in: float, size: tuple[float, float]) -> str:
    """The side of a piece along its print: of a template the width, else what the ruler cuts for that side.

    A ruler's sizes are said across first; on a patch that stands on its point neither is.
    """
    if shape is Shape.TEMPLATE:
        return "width"
    ahead = (math.cos(math.radians(grain_deg)), math.sin(math.radians(grain_deg)))
    sides = [(b[0] - a[0], b[1] - a[1]) for a, b in zip(ring, (*ring[1:], ring[0]), strict=True)]
    along = max(abs(x * ahead[0] + y * ahead[1]) for x, y in sides) + 2 * allowance_in
    return "width" if abs(along - size[0]) <= abs(along - size[1]) else "height"


def _unfinished(ring: Sequence[Point], allowance_in: float) -> Ring:
    area = grown(ring, allowance_in, TIP_LIMIT)
    return tuple((float(x), float(y)) for x, y in shapely.get_coordinates(area)[:-1])
