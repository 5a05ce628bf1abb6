"""Lengths as whole numbers, so that costs add up without rounding and copies of a drawing compare alike.

Knows:  the length of each edge in parts of the block's size.
Leaves: what lengths cost (ties).
Method: the unit is a share of the outline's longest side, so it grows and turns with the drawing: whole inches,
        eighths, thirds, fifths and sevenths of a side lie on whole units and not on the edge of rounding, and the
        noise of floats is far below a unit. Places along a seam are rounded, not edges: so a cut is as long in
        units whatever ends on it.
"""

from __future__ import annotations

import math
from itertools import pairwise

from seamwright.block.model import Block
from seamwright.geometry import canonical_ring

UNITS = 60_480
"""Units to the longest side of the outline: 2^6 x 3^3 x 5 x 7; on a block of 12 in one is 1/5000 in."""


def whole_lengths(block: Block) -> list[int]:
    """For each edge its length in units; 0 for edges of the outline, which nothing is joined along."""
    ring = canonical_ring(block.outline_ring())
    unit = max(math.dist(a, b) for a, b in zip(ring, (*ring[1:], ring[0]), strict=True)) / UNITS
    found = [0] * len(block.edges)
    for seam in block.seams:
        run, before = 0.0, 0
        for number in seam.edges:
            run += math.fsum(math.dist(a, b) for a, b in pairwise(block.edge_points(number)))
            here = round(run / unit)
            found[number], before = here - before, here
    return found
