"""Sections of a region that is cut along single edges only.

Knows:  the lumps that such cuts part a region into, how they hang together, how few sections they make.
Leaves: cuts with inner points (general), what a section may be (the test that is handed in).
Method: a cut along one edge has no inner point, so no other cut ends inside it: such cuts part the region into
        lumps that hang together as a tree. A section is some lumps that hang together. In a tree the fewest
        sections are found from its ends inward: for each lump, with all that hangs on it away from the root, the
        fewest sections and, for that number, the smallest sections that the lump itself may be in. One section
        more than the fewest is never better, whatever the smaller section it buys: cutting the lump off its
        neighbour costs one as well. And of two sections for one number, one inside the other, the smaller one
        does, because limits are inherited.
Limits: where more than MOST_OPEN sections are left to choose from, the others are let go, and the count may be one
        too high: `exact` says so.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

MOST_OPEN = 256


@dataclass(frozen=True, slots=True)
class Parted:
    """The fewest sections of a region cut along single edges; None if a lump is no section by itself."""

    sections: int | None
    exact: bool = True


def lumps_of(area: int, sides: Sequence[tuple[int, int]]) -> list[int]:
    """The lumps of a region.

    Args:
        area: bits of its patches.
        sides: for each cut along a single edge the patches on its two sides.
    """
    lumps = [area]
    for one, two in sides:
        # A lump that this edge does not touch lies whole on one side of it.
        lumps = [part for lump in lumps for part in (lump & one, lump & two) if part]
    return lumps


def part_singly(
    area: int,
    sides: Sequence[tuple[int, int]],
    edges: Sequence[int],
    is_section: Callable[[int], bool],
    by_count: Callable[[int], int] | None,
) -> Parted:
    """The fewest sections of a region by cuts along single edges.

    Args:
        area: bits of its patches.
        sides: for each cut along a single edge the patches on its two sides.
        edges: for each of these the bits of the two patches beside its edge.
        is_section: whether patches may be one section.
        by_count: if sections differ only by their number of patches and by what else this tells (an integer of bits
            of which fewer are better), a smaller number does as well as fewer patches; None: they do not.
    """
    lumps = lumps_of(area, sides)
    if not all(is_section(lump) for lump in lumps):
        return Parted(None)
    near: list[list[int]] = [[] for _ in lumps]
    for pair in edges:
        one, two = (number for number, lump in enumerate(lumps) if lump & pair)
        near[one].append(two)
        near[two].append(one)
    order, parent = [0], {0: -1}
    for lump in order:
        for other in near[lump]:
            if other != parent[lump]:
                parent[other] = lump
                order.append(other)
    done: dict[int, tuple[int, list[int]]] = {}
    exact = True
    for lump in reversed(order):
        count, ways = 1, [(0, lumps[lump])]  # (neighbours taken in, section)
        for child in near[lump]:
            if child == parent[lump]:
                continue
            cost, opens = done.pop(child)
            count += cost
            ways += [
                (taken + 1, section | other)
                for taken, section in ways
                for other in opens
                if is_section(section | other)
            ]
            ways, all_kept = _best(ways, by_count)
            exact = exact and all_kept
        most = max(taken for taken, _ in ways)
        done[lump] = (count - most, [section for taken, section in ways if taken == most])
    return Parted(done[0][0], exact)


def _best(ways: list[tuple[int, int]], by_count: Callable[[int], int] | None) -> tuple[list[tuple[int, int]], bool]:
    """The ways that no other is better than, and whether all of them could be kept."""
    kept: list[tuple[int, int]] = []
    told: list[tuple[int, int, int]] = []  # (taken, patches, bits)
    for taken, section in sorted(ways, key=lambda way: (-way[0], way[1].bit_count(), way[1])):
        patches = section.bit_count()
        marks = section if by_count is None else by_count(section)
        if any(t >= taken and n <= patches and m & ~marks == 0 for t, n, m in told):
            continue
        kept.append((taken, section))
        told.append((taken, patches, marks))
    return kept[:MOST_OPEN], len(kept) <= MOST_OPEN
