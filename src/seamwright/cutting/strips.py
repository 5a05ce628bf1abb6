"""Strips: which pieces are cut from strips of which width, so that the least length of fabric is used.

Knows:  rectangles by kind and number, the length of a strip, what makes one list of strips better than another.
Leaves: which rectangles a plan needs (rows), finding strips (search), what is bought (amounts).
Units:  ticks, whole numbers of the finest step; what is cut by a ruler is a whole number of them.
Method: of all lists that the search finds the best is taken, also of those for more pieces than there are, so that
        fewer never cost more.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Sequence
from dataclasses import replace

from seamwright.cutting.band import Band, in_order, left_out, length_of, merged
from seamwright.cutting.fill import Kind, Way, ways_of
from seamwright.cutting.search import searched

MORE = 12
"""Lists for so many more blocks are tried at most."""
NEAR = 0.995
"""Where so much of the cloth is used, no more is looked for."""


def fits(kind: Kind, length: int, widest: int) -> bool:
    """Whether a strip of this length, no wider than `widest`, can hold a piece at all."""
    return bool(ways_of([kind], length, widest))


Cost = Callable[[Sequence["Band"]], tuple[int, ...]]
"""What strips cost, the least first; what has to be bought comes first in it."""


def simplest(bands: Sequence[Band]) -> tuple[int, int]:
    """The length that strips take; of equally long lists the one that is simpler to cut costs less."""
    return length_of(bands), sum(1 + len(band.cuts) + 2 * len(band.rest) for band in bands)


def pack(
    kinds: Sequence[Kind],
    length: int,
    widest: int,
    cost: Cost = simplest,
    least: Callable[[int], int] = lambda used: used,
) -> tuple[Band, ...]:
    """Strips for all pieces, the widest first.

    Leave to give quarter turns never makes it cost more: it is tried without first, wherever pieces fit unturned.

    Args:
        length: of every strip; widest: no strip is wider.
        cost: by which of all lists that are found the best is taken.
        least: what strips that take so much length must cost, the first of their costs.

    Raises:
        ValueError: a piece fits no such strip.
    """
    still = tuple(replace(k, turns=k.turns and (k.along > length or k.across > widest)) for k in kinds)
    goal = least(math.ceil(_area(kinds) / length / NEAR))
    found: list[list[Band]] = []
    ways = ways_of(kinds, length, widest)
    for each in dict.fromkeys((still, tuple(kinds))):
        if not found or min(map(cost, found))[0] > goal:
            lists = searched(each, length, widest, lambda bands: cost(bands)[0] <= goal)
            found += [[plainer(band, ways) for band in bands] for bands in lists]
    best = min(found, key=cost)
    return tuple(sorted(merged(best), key=lambda band: (-band.width, -band.times)))


def plainer(band: Band, ways: Sequence[Way]) -> Band:
    """The same pieces from the same strip, those of a kind all lying one way, uncut in height, where that has room.

    One kind that is turned may make room for another, so kinds are gone through until none stands higher.

    Args:
        ways: each way that a kind may lie.
    """
    while (higher := _stood_up(band, ways)) != band:
        band = higher
    return replace(band, rest=tuple(plainer(inner, ways) for inner in band.rest))


def _stood_up(band: Band, ways: Sequence[Way]) -> Band:
    cuts, free = dict(band.cuts), band.length - band.used if not band.rest else 0
    for kind in dict.fromkeys(way.kind for way in cuts):
        lying = {way: number for way, number in cuts.items() if way.kind == kind}
        number, used = sum(lying.values()), sum(way.along * number for way, number in lying.items())
        room = sorted(
            (w for w in ways if w.kind == kind and w.across <= band.width and w.along * number <= used + free),
            key=lambda way: (-way.across, way.along),
        )
        if room and (len(lying) > 1 or room[0].across == band.width):
            cuts = {way: count for way, count in cuts.items() if way.kind != kind} | {room[0]: number}
            free += used - room[0].along * number
    return replace(band, cuts=in_order(cuts))


def pack_blocks(
    needs: Callable[[int], Sequence[Kind]],
    blocks: int,
    length: int,
    widest: int,
    cost: Cost = simplest,
    least: Callable[[int], int] = lambda used: used,
) -> tuple[Band, ...]:
    """Strips for so many blocks that cost no more than those for more blocks.

    A search that is not complete may find a better list for more pieces. So those for some more blocks are tried
    too, as long as their area leaves a chance, and what they have too many of is left out.

    Args:
        needs: the kinds, the same ones in one order, with their number for so many blocks.
        cost, least: as for `pack`.
    """
    own = needs(blocks)
    best = pack(own, length, widest, cost, least)
    for more in range(blocks + 1, blocks + 1 + MORE):
        kinds = needs(more)
        if least(math.ceil(_area(kinds) / length)) >= cost(best)[0]:
            break
        tried = pack(kinds, length, widest, cost, least)
        if cost(tried)[0] < cost(best)[0]:
            surplus = {n: kind.count - few.count for n, (kind, few) in enumerate(zip(kinds, own, strict=True))}
            best = tuple(left_out(tried, surplus))
    return best


def _area(kinds: Iterable[Kind]) -> int:
    return sum(kind.along * kind.across * kind.count for kind in kinds)
