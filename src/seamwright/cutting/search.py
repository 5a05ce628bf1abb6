"""The search for strips that waste little: strip by strip, again with what was learnt, then several side by side.

Knows:  what a rotary cutter can do: strips right across, cuts right across a strip, and what is left of a strip cut
        along into narrower ones.
Leaves: which of the pieces fills one strip best (fill), which of the lists found is taken (strips).
Units:  ticks.
Method: the widest piece that is left leads a strip; of all widths it may have, the one is taken that wastes least
        when it is filled best, and cut as often as pieces last (a sequential heuristic of cutting stock; Haessler,
        1971). Then pieces that came to lie in wasteful strips count for more, and all is cut again: sequential
        value correction (Belov and Scheithauer, "Setup and open-stacks minimization in one-dimensional stock
        cutting", 2007). Where pieces are few, the most promising beginnings are kept side by side (a beam search).
        Steps are counted, never seconds; equal strips are counted, never placed one by one.
Limits: it need not find the shortest list; the benchmark of strips measures how near it comes.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace

from seamwright.cutting.band import Band, in_order, length_of
from seamwright.cutting.fill import Filled, Fills, Kind, Way, ways_of

EFFORT = 36_000
"""Rows of tables worked out before the search ends, about half a second on a slow computer; the first list is
always finished."""
ROUNDS = 7
"""How often values are corrected at most."""
BROADEST = 12
"""So many beginnings are kept side by side."""
_BROAD_STEPS = 20
"""Where a list takes more than this share of the effort, looking broadly would end before it finds one."""
WASTE = 1.02
"""What is still to be cut is reckoned with so much more than its area."""
_LOOKED_AT = 6
"""Widths of one strip that are filled both ways, the most promising ones."""
_BEGUN = 5
"""Widths tried for the first of the narrower strips that the rest of one is cut into."""
_STACKED = 16
"""Widths of a strip for two pieces one above the other."""


def searched(
    kinds: Sequence[Kind], length: int, widest: int, is_enough: Callable[[Sequence[Band]], bool]
) -> list[list[Band]]:
    """Lists of strips, all that were found on the way to one that is good enough."""
    areas = [kind.along * kind.across for kind in kinds]
    worth = [float(area) for area in areas]
    cutter = _Cutter(kinds, length, widest, worth)
    found = [cutter.cut()]
    first = work = cutter.work
    for _ in range(ROUNDS if len(kinds) > 1 else 0):
        if 2 * work > EFFORT or is_enough(found[-1]):
            return found
        worth = _corrected(found[-1], areas, worth)
        cutter = _Cutter(kinds, length, widest, worth)
        found.append(cutter.cut())
        work += cutter.work
    if work + _BROAD_STEPS * first < EFFORT:
        cutter = _Cutter(kinds, length, widest, [float(area) for area in areas])
        found += cutter.cut_broadly(BROADEST, min(map(length_of, found)))
    return found


def _corrected(bands: Sequence[Band], areas: Sequence[int], worth: Sequence[float]) -> list[float]:
    """What pieces are worth once more is known of how badly they go into strips."""
    cost, number = [0.0] * len(areas), [0] * len(areas)
    for band in bands:
        pieces = band.pieces()
        waste = band.width * band.length / sum(areas[kind] * count for kind, count in pieces.items())
        for kind, count in pieces.items():
            cost[kind] += waste * count * band.times
            number[kind] += count * band.times
    return [
        (old + area * (cost[kind] / number[kind]) ** 1.5) / 2 if number[kind] else old
        for kind, (old, area) in enumerate(zip(worth, areas, strict=True))
    ]


class _Cutter:
    """One list of strips, by fixed values of the pieces."""

    def __init__(self, kinds: Sequence[Kind], length: int, widest: int, worth: Sequence[float]) -> None:
        self.work = 0
        self._broadly = False
        self._kinds, self._length, self._most, self._worth = kinds, length, widest, worth
        self._ways = ways_of(kinds, length, widest)
        self._left = [kind.count for kind in kinds]
        if {way.kind for way in self._ways} != set(range(len(kinds))):
            raise ValueError(f"a piece fits no strip of {length} by {widest}: {kinds}")
        self._lowest = [min(way.across for way in self._ways if way.kind == n) for n in range(len(kinds))]

    def cut(self) -> list[Band]:
        bands: list[Band] = []
        while any(self._left):
            band = self._strip()
            pieces = band.pieces()
            times = min(self._left[kind] // number for kind, number in pieces.items())
            for kind, number in pieces.items():
                self._left[kind] -= number * times
            bands.append(replace(band, times=times))
        return bands

    def cut_broadly(self, broad: int, most: int) -> list[list[Band]]:
        """Lists shorter than `most`, found by keeping the most promising beginnings side by side.

        Args:
            broad: how many of them are kept.
        """
        self._broadly = True
        kept: list[tuple[float, int, tuple[Band, ...], tuple[int, ...]]] = [(0.0, 0, (), tuple(self._left))]
        found: list[list[Band]] = []
        while kept:
            longer: dict[tuple[int, ...], tuple[float, int, tuple[Band, ...], tuple[int, ...]]] = {}
            for _, used, bands, left in kept:
                if self.work > EFFORT:
                    return found
                self._left = list(left)
                for band in self._beginnings():
                    pieces = band.pieces()
                    times = min(left[kind] // number for kind, number in pieces.items())
                    after = tuple(number - pieces.get(kind, 0) * times for kind, number in enumerate(left))
                    taken = used + band.width * times
                    if not any(after):
                        if taken < most:
                            most = taken
                            found.append([*bands, replace(band, times=times)])
                        continue
                    hope = taken + self._least(after)
                    if hope < most and (after not in longer or longer[after][0] > hope):
                        longer[after] = (hope, taken, (*bands, replace(band, times=times)), after)
            kept = sorted(longer.values(), key=lambda each: each[:2])[:broad]
        return found

    def _beginnings(self) -> list[Band]:
        """Strips to try next: the best by area, then by values that leave thin pieces to thin strips."""
        by_area = self._worth
        found = [*self._strips(), *self._stacked()]
        self._worth = [worth * low for worth, low in zip(by_area, self._lowest, strict=True)]
        found += self._strips()
        self._worth = by_area
        return list(dict.fromkeys(found))

    def _least(self, left: Sequence[int]) -> float:
        """About what pieces still take: their area with some waste, and no less than the widest of them."""
        area = sum(k.along * k.across * number for k, number in zip(self._kinds, left, strict=True))
        return max(WASTE * area / self._length, *(low for low, n in zip(self._lowest, left, strict=True) if n))

    def _strip(self) -> Band:
        """The least wasteful strip that the widest piece which is left may lead."""
        bands = self._strips()
        return max(bands, key=lambda band: (self._worth_of(band) / band.width, -band.width, -len(band.rest)))

    def _strips(self) -> list[Band]:
        """Strips that the widest piece which is left may lead, the most promising ones."""
        lead = self._widest()
        left = self._without({lead: 1})
        drafts: list[tuple[float, int, Way, Fills]] = []
        for way in (way for way in self._ways if way.kind == lead):
            fills = self._fills(self._ways, left, self._length - way.along, max(w.across for w in self._ways))
            widths = {way.across, *(width for width, _ in fills.widths() if width > way.across)}
            drafts += [
                ((self._worth[lead] + fills.within(width)[1]) / width, width, way, fills) for width in widths
            ]
        drafts.sort(key=lambda draft: (-draft[0], draft[1], draft[2].turned))
        own = [draft for draft in drafts[_LOOKED_AT:] if draft[1] == draft[2].across]
        return [
            band
            for _, width, way, fills in [*drafts[:_LOOKED_AT], *own]
            for band in self._filled(width, way, fills, left)
        ]

    def _stacked(self) -> list[Band]:
        """Strips as wide as two pieces one above the other, the narrowest ones."""
        lead = self._widest()
        left = self._without({lead: 1})
        heights = {way.across for way in self._ways if left[way.kind]}
        sums = sorted({one + other for one in heights for other in heights})
        return [
            self._with_rest(width, way, [w for w in self._ways if w == way], left)
            for way in self._ways
            if way.kind == lead
            for width in [both for both in sums if way.across < both <= self._most][:_STACKED]
        ]

    def _widest(self) -> int:
        """The kind that leads the next strip."""
        return max(
            (number for number, left in enumerate(self._left) if left),
            key=lambda n: (self._lowest[n], self._kinds[n].along * self._kinds[n].across, -n),
        )

    def _filled(self, width: int, lead: Way, fills: Fills, left: Sequence[int]) -> list[Band]:
        """Ways to fill a strip of this width: pieces side by side only, or with what is left cut along."""
        found = [self._band(width, self._length, {lead: 1}, fills.fill(fills.within(width)[0]))]
        lowest = min((self._lowest[n] for n, number in enumerate(left) if number), default=width)
        high = [way for way in self._ways if width - lowest < way.across <= width]
        alike = [way for way in high if way.kind == lead.kind]
        both = (alike, high) if alike != high else (high,)
        return found + [self._with_rest(width, lead, beside, left) for beside in both]

    def _with_rest(self, width: int, lead: Way, beside: Sequence[Way], left: Sequence[int]) -> Band:
        """A strip whose rest, behind the first piece and those of some ways beside it, is cut along."""
        table = self._fills(beside, left, self._length - lead.along, width)
        head = self._band(width, self._length, {lead: 1}, table.fill(table.within(width)[0]))
        rest = self._rest(width, self._length - head.used, self._without(head.pieces()))
        if len(rest) == 1 and rest[0].times == 1:
            # One narrower strip is no more than pieces side by side.
            return self._band(width, self._length, dict(head.cuts), dict(rest[0].cuts))
        return replace(head, rest=rest)

    def _rest(self, height: int, length: int, left: list[int], begin: int = 0) -> tuple[Band, ...]:
        """What lies behind the pieces of a strip, cut along into narrower ones.

        Args:
            begin: width of the first of them; 0: the one that wastes least.
        """
        found: list[Band] = []
        while True:
            fills = self._fills(self._ways, left, length, height)
            widths = fills.widths()
            if not widths:
                return tuple(found)
            if not found and not begin and self._broadly:
                tried = sorted(widths, key=lambda each: (-each[1] / each[0], -each[0]))[:_BEGUN]
                rests = [self._rest(height, length, list(left), width) for width, _ in tried]
                return max(rests, key=lambda rest: sum(self._worth_of(band) * band.times for band in rest))
            width, _ = max(widths, key=lambda each: (each[0] == begin, each[1] / each[0], each[0]))
            begin = 0
            band = self._band(width, length, {}, fills.fill(width))
            pieces = band.pieces()
            times = min(height // width, *(left[kind] // number for kind, number in pieces.items()))
            for kind, number in pieces.items():
                left[kind] -= number * times
            height -= width * times
            found.append(replace(band, times=times))

    def _fills(self, ways: Sequence[Way], left: Sequence[int], length: int, most: int) -> Fills:
        fills = Fills(ways, left, self._worth, length, most)
        self.work += fills.work
        return fills

    def _without(self, pieces: dict[int, int]) -> list[int]:
        return [left - pieces.get(number, 0) for number, left in enumerate(self._left)]

    def _worth_of(self, band: Band) -> float:
        return sum(self._worth[kind] * number for kind, number in band.pieces().items())

    @staticmethod
    def _band(width: int, length: int, lead: Filled, filled: Filled) -> Band:
        cuts = dict(lead)
        for way, number in filled.items():
            cuts[way] = cuts.get(way, 0) + number
        return Band(width, length, 1, in_order(cuts))
