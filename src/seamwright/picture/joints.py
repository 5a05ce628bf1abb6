"""Lines where blocks and plain pieces of a quilt meet, each once, however their edges are parted.

Knows:  which stretches of edges lie on one line, what lies on either side of each.
Leaves: colours and pens (seamlines), the pieces themselves (quilt).
Units:  inches of the picture.
Method: pieces of edges are gathered by the line they lie on; along each line every stretch between two ends has one
        side on the left and one on the right, or none where the quilt ends. Thousands of edges at once, in arrays.
"""

from __future__ import annotations

from typing import Any

import numpy as np

SAME_ANGLE, SAME_LINE_IN = 1e-5, 1e-4
"""Lines nearer to each other than this are one: layouts are exact but for noise."""
NONE = -1
"""Number of the side where the quilt ends."""


def joints(ends: Any, sides: Any) -> tuple[Any, Any, Any]:
    """All stretches in which pieces meet, or have nothing beside them; neighbours with equal sides are one.

    Args:
        ends: shape (n, 2, 2): start and end of the pieces of all edges, clockwise: inside is on the right.
        sides: shape (n,): number of what lies inside, from 0; equal ones look alike.

    Returns:
        Starts and ends, shape (m, 2, 2); numbers of what lies on the left and on the right, shape (m,), or NONE.
    """
    way = ends[:, 1] - ends[:, 0]
    real = np.hypot(way[:, 0], way[:, 1]) > SAME_LINE_IN
    ends, way, sides = ends[real], way[real], np.asarray(sides, dtype=int)[real]
    if not len(ends):
        return ends, sides, sides
    angle = np.arctan2(way[:, 1], way[:, 0]) % np.pi
    angle[angle > np.pi - SAME_ANGLE] -= np.pi
    # One direction for all lines of a level, or noise would part them far from where it is measured.
    level, first = _levels(angle, SAME_ANGLE)
    across, down = np.cos(angle[first])[level], np.sin(angle[first])[level]
    along = ends[:, :, 0] * across[:, None] + ends[:, :, 1] * down[:, None]
    middle = ends.mean(axis=1)
    off = middle[:, 1] * across - middle[:, 0] * down
    line, leads = _levels(off, SAME_LINE_IN, level)
    # All ends of one line that lie in one place are one cut.
    cut, cut_leads = _levels(along.ravel(), SAME_LINE_IN, np.repeat(line, 2))
    near, far = cut.reshape(-1, 2).T
    place, of_line = along.ravel()[cut_leads], np.repeat(line, 2)[cut_leads]
    beside = np.full((2, len(place)), NONE)
    for row, (start, end) in enumerate(((far, near), (near, far))):
        which = np.flatnonzero(start < end)
        counts = (end - start)[which]
        # Numbers start, start + 1, ... end - 1 of each, one after the other.
        stretch = np.arange(counts.sum()) - np.repeat(np.cumsum(counts) - counts, counts)
        beside[row, np.repeat(start[which], counts) + stretch] = np.repeat(sides[which], counts)
    filled = (beside != NONE).any(axis=0)
    begins = np.flatnonzero(filled & ~_as_before(beside, of_line, filled))
    over = np.flatnonzero(filled & ~np.append(_as_before(beside, of_line, filled)[1:], False)) + 1
    runs = np.stack([place[begins], place[over]], axis=1)
    of_line = of_line[begins]
    ux, uy, base = across[leads][of_line], down[leads][of_line], off[leads][of_line]
    x = runs * ux[:, None] - (base * uy)[:, None]
    y = runs * uy[:, None] + (base * ux)[:, None]
    return np.stack([x, y], axis=2), beside[0, begins], beside[1, begins]


def _as_before(beside: Any, of_line: Any, filled: Any) -> Any:
    """Whether each stretch goes on as the one before it."""
    same = (beside[:, 1:] == beside[:, :-1]).all(axis=0) & (of_line[1:] == of_line[:-1]) & filled[:-1]
    return np.concatenate([[False], same])


def _levels(values: Any, gap: float, within: Any = None) -> tuple[Any, Any]:
    """For each value the number of its level, values that differ by noise sharing one; and the first of each level.

    Args:
        within: numbers of groups that share no level, or None.
    """
    order = np.argsort(values, kind="stable") if within is None else np.lexsort((values, within))
    new = np.diff(values[order]) > gap
    if within is not None:
        new |= np.diff(within[order]) != 0
    level = np.empty(len(values), dtype=int)
    level[order] = np.concatenate([[0], np.cumsum(new)])
    return level, order[np.concatenate([[True], new])]
