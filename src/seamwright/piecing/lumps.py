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

MOST_OPEN = 96


@dataclass(frozen=True, slots=True)
class Parted:
    """The fewest sections of a region cut along single edges.

    Attributes:
        sections: how many; None if a lump is no section by itself.
        cuts: which of the edges are cut in one such plan, by number.
        exact: whether fewer were ruled out.
    """

    sections: int | None
    cuts: tuple[int, ...] = ()
    exact: bool = True


@dataclass(frozen=True, slots=True)
class _Way:
    """One way to cut what hangs on a lump.

    Attributes:
        taken: neighbours that are in the lump's own section.
        section: bits of its patches. cuts: bits of the edges cut.
    """

    taken: int
    section: int
    cuts: int


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
    size: Callable[[int], float] = lambda section: 0.0,
) -> Parted:
    """The fewest sections of a region by cuts along single edges.

    Args:
        area: bits of its patches.
        sides: for each cut along a single edge the patches on its two sides.
        edges: for each of these the bits of the two patches beside its edge.
        is_section: whether patches may be one section.
        by_count: if sections differ only by their number of patches and by what else this tells (an integer of bits
            of which fewer are better), a smaller number does as well as fewer patches; None: they do not.
        size: the smaller, the more a section may still take in; says which are kept where there are too many.
    """
    lumps = lumps_of(area, sides)
    if not all(is_section(lump) for lump in lumps):
        return Parted(None)
    near: list[list[tuple[int, int]]] = [[] for _ in lumps]
    for number, pair in enumerate(edges):
        one, two = (place for place, lump in enumerate(lumps) if lump & pair)
        near[one].append((two, number))
        near[two].append((one, number))
    order, parent = [0], {0: -1}
    for lump in order:
        for other, _ in near[lump]:
            if other != parent[lump]:
                parent[other] = lump
                order.append(other)
    done: dict[int, tuple[int, list[_Way]]] = {}
    exact = True
    for lump in reversed(order):
        count, ways = 1, [_Way(0, lumps[lump], 0)]
        for child, number in near[lump]:
            if child == parent[lump]:
                continue
            cost, opens = done.pop(child)
            count += cost
            apart = opens[0].cuts | 1 << number
            taken_in = [
                _Way(way.taken + 1, way.section | other.section, way.cuts | other.cuts)
                for way in ways
                for other in opens
                if is_section(way.section | other.section)
            ]
            ways = taken_in + [_Way(way.taken, way.section, way.cuts | apart) for way in ways]
            ways, all_kept = _best(ways, by_count, size)
            exact = exact and all_kept
        most = max(way.taken for way in ways)
        done[lump] = (count - most, [way for way in ways if way.taken == most])
    sections, opens = done[0]
    cuts = tuple(number for number in range(len(edges)) if opens[0].cuts >> number & 1)
    return Parted(sections, cuts, exact)


def _best(
    ways: list[_Way], by_count: Callable[[int], int] | None, size: Callable[[int], float]
) -> tuple[list[_Way], bool]:
    """The ways that no other is better than, and whether all of them could be kept."""
    kept: list[_Way] = []
    told: list[tuple[int, int, int]] = []  # (taken, patches, bits)
    for way in sorted(ways, key=lambda way: (-way.taken, way.section.bit_count(), way.section)):
        patches = way.section.bit_count()
        marks = way.section if by_count is None else by_count(way.section)
        if any(t >= way.taken and n <= patches and m & ~marks == 0 for t, n, m in told):
            continue
        kept.append(way)
        told.append((way.taken, patches, marks))
    if len(kept) <= MOST_OPEN:
        return kept, True
    kept.sort(key=lambda way: (-way.taken, size(way.section), way.section))
    return kept[:MOST_OPEN], False
