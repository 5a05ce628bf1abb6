"""Whether lines lie on lines: all of them, not only their ends.

Knows:  pieces of line as rows (x1, y1, x2, y2); which stretches of some are covered by others.
Leaves: which lines are meant (readback), where they come from (operators).
Units:  whatever the caller's points are in.
Method: for each wanted piece all pieces near it (an STR tree) are laid along it; where one lies within the
        tolerance of it, that stretch is covered. Many short pieces may cover a long one, one long piece many short
        ones.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import pairwise
from typing import Any

import numpy as np
import numpy.typing as npt
import shapely

from seamwright.geometry import Point

Pieces = npt.NDArray[np.float64]
"""Shape (n, 4): x1, y1, x2, y2 of each piece."""


def pieces_of(lines: Iterable[Sequence[Point]]) -> Pieces:
    """The straight pieces of lines through points, those without length left out."""
    rows = [(*a, *b) for points in lines for a, b in pairwise(points)]
    pieces = np.array(rows, dtype=np.float64).reshape(-1, 4)
    return pieces[np.hypot(pieces[:, 2] - pieces[:, 0], pieces[:, 3] - pieces[:, 1]) > 0]


def bare(wanted: Pieces, drawn: Pieces, tolerance: float) -> npt.NDArray[np.float64]:
    """What no drawn piece covers of each wanted one: where its longest bare stretch begins and ends along it.

    Returns:
        Shape (n, 2): distances from the first point of the piece; the second minus the first is how long the
        stretch is, and at most `tolerance` (in most cases 0) where the piece is covered.
    """
    starts, ends = wanted[:, :2], wanted[:, 2:]
    lengths = np.hypot(*(ends - starts).T)
    found = np.column_stack([np.zeros(len(wanted)), lengths])
    if not len(wanted) or not len(drawn):
        return found
    lines: Any = shapely.linestrings(drawn.reshape(-1, 2, 2))
    tree = shapely.STRtree(lines)
    which, by = tree.query(shapely.linestrings(wanted.reshape(-1, 2, 2)), predicate="dwithin", distance=tolerance)
    ahead = ((ends - starts) / lengths[:, None])[which]
    from_start = drawn[by].reshape(-1, 2, 2) - starts[which][:, None, :]
    # Along the wanted piece and off it, of both ends of the drawn one.
    along = np.einsum("kij,kj->ki", from_start, ahead)
    off = from_start[:, :, 1] * ahead[:, None, 0] - from_start[:, :, 0] * ahead[:, None, 1]
    order = np.argsort(along, axis=1)
    along, off = np.take_along_axis(along, order, 1), np.take_along_axis(off, order, 1)
    low, high = _within(along, off, tolerance)
    low, high = np.maximum(low, 0.0), np.minimum(high, lengths[which])
    good = high > low
    which, low, high = which[good], low[good], high[good]
    order = np.lexsort((low, which))
    found[:] = 0.0
    reached = np.zeros(len(wanted))
    for k, a, b in zip(which[order].tolist(), low[order].tolist(), high[order].tolist(), strict=True):
        if a - reached[k] > found[k, 1] - found[k, 0]:
            found[k] = reached[k], a
        reached[k] = max(reached[k], b)
    rest = lengths - reached > found[:, 1] - found[:, 0]
    found[rest] = np.column_stack([reached, lengths])[rest]
    return found


def _within(
    along: npt.NDArray[np.float64], off: npt.NDArray[np.float64], tolerance: float
) -> tuple[npt.NDArray[np.float64], npt.NDArray[np.float64]]:
    """From where to where pieces keep within the tolerance; empty (high below low) where they never do."""
    run = along[:, 1] - along[:, 0]
    with np.errstate(divide="ignore", invalid="ignore"):
        slope = (off[:, 1] - off[:, 0]) / run
        one = along[:, 0] + (-tolerance - off[:, 0]) / slope
        two = along[:, 0] + (tolerance - off[:, 0]) / slope
    level = np.abs(off[:, 1] - off[:, 0]) < 1e-12
    inside = np.where(np.abs(off[:, 0]) <= tolerance, np.inf, -np.inf)
    low = np.where(level, -inside, np.fmin(one, two))
    high = np.where(level, inside, np.fmax(one, two))
    low, high = np.maximum(low, along[:, 0]), np.minimum(high, along[:, 1])
    # A piece at right angles covers nothing.
    return low, np.where(run > 0, high, low - 1.0)
