"""Equal strips as they are worked out: what lies in one, and how many of them there are.

Knows:  strips in ticks, their pieces by kind and number, what is left once some pieces are taken out.
Leaves: which strips are cut (search, strips), how they are told (model).
Units:  ticks.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

from seamwright.cutting.fill import Way


@dataclass(frozen=True, slots=True)
class Band:
    """Equal strips, each of them cut alike.

    Attributes:
        width, length: of the strip, ticks.
        times: how many of them; of those in `rest`, how many in each of the outer ones.
        cuts: pieces side by side along it, each with how many of one strip.
        rest: what lies behind them is cut along into these, one above the other.
    """

    width: int
    length: int
    times: int
    cuts: tuple[tuple[Way, int], ...]
    rest: tuple[Band, ...] = ()

    @property
    def used(self) -> int:
        """Length that the pieces side by side take."""
        return sum(way.along * number for way, number in self.cuts)

    def pieces(self) -> dict[int, int]:
        """How many pieces of each kind one strip gives, those of the rest too."""
        found: dict[int, int] = {}
        for way, number in self.cuts:
            found[way.kind] = found.get(way.kind, 0) + number
        for inner in self.rest:
            for kind, number in inner.pieces().items():
                found[kind] = found.get(kind, 0) + number * inner.times
        return found


def in_order(cuts: Mapping[Way, int]) -> tuple[tuple[Way, int], ...]:
    """Pieces side by side, the longest first: a slip then costs the least."""
    return tuple(sorted(cuts.items(), key=lambda cut: (-cut[0].along, -cut[0].across, cut[0].kind)))


def length_of(bands: Iterable[Band]) -> int:
    """What strips take of the fabric's length."""
    return sum(band.width * band.times for band in bands)


def merged(bands: Iterable[Band]) -> list[Band]:
    """Strips that are cut alike, counted together."""
    found: dict[Band, int] = {}
    for band in bands:
        alike = replace(band, times=1)
        found[alike] = found.get(alike, 0) + band.times
    return [replace(band, times=times) for band, times in found.items()]


def left_out(bands: Sequence[Band], surplus: dict[int, int]) -> list[Band]:
    """Strips without so many pieces of each kind, the last strips first; what holds nothing is no strip."""
    kept: list[Band] = []
    left = dict(surplus)
    for band in reversed(bands):
        times = band.times
        while times:
            inside = {kind: min(left[kind], number) for kind, number in band.pieces().items() if left.get(kind)}
            if not inside:
                kept.append(replace(band, times=times))
                break
            alike = min(times, *(left[kind] // number for kind, number in inside.items()))
            for kind, number in inside.items():
                left[kind] -= number * alike
            kept += [replace(less, times=alike) for less in [_less(band, inside)] if less.cuts or less.rest]
            times -= alike
    return kept[::-1]


def _less(band: Band, pieces: dict[int, int]) -> Band:
    """One strip without some of its pieces."""
    out = dict(pieces)
    cuts: list[tuple[Way, int]] = []
    for way, number in band.cuts:
        less = min(number, out.get(way.kind, 0))
        out[way.kind] = out.get(way.kind, 0) - less
        cuts += [(way, number - less)] if number > less else []
    return replace(band, cuts=tuple(cuts), rest=tuple(left_out(band.rest, out)))
