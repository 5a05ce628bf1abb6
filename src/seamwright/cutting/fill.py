"""Which pieces fill a strip best: one length, pieces of many kinds, a limited number of each.

Knows:  whole numbers of a ruler's finest steps (ticks), kinds and how many of them are left.
Leaves: which strips are cut, and how wide (strips).
Method: the bounded knapsack by dynamic programming over lengths (Kellerer, Pferschy, Pisinger, "Knapsack Problems",
        2004, chapter 7), counts split in powers of two. Kinds are added from the lowest to the highest, so that
        one pass knows the best fill of strips of every width.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt


@dataclass(frozen=True, slots=True)
class Kind:
    """Equal rectangles to be cut, in ticks.

    Attributes:
        along, across: sides along the strip and across it, as the piece lies unturned.
        count: how many are needed.
        turns: it may be given a quarter turn.
    """

    along: int
    across: int
    count: int
    turns: bool


@dataclass(frozen=True, slots=True)
class Way:
    """A kind lying one of its ways: its number, whether it is turned, sides in ticks."""

    kind: int
    turned: bool
    along: int
    across: int


Filled = dict[Way, int]
"""How many pieces lie side by side in one strip."""


def ways_of(kinds: Sequence[Kind], length: int, widest: int) -> list[Way]:
    """Each way that a kind fits a strip of this length, no wider than `widest`.

    The lowest come first, of equally low ones the longest.
    """
    ways = [Way(number, False, kind.along, kind.across) for number, kind in enumerate(kinds)]
    ways += [
        Way(number, True, kind.across, kind.along)
        for number, kind in enumerate(kinds)
        if kind.turns and kind.across != kind.along
    ]
    return sorted(
        (w for w in ways if w.along <= length and w.across <= widest), key=lambda w: (w.across, -w.along, w.kind)
    )


class Fills:
    """The best fills of one length, by the width of the strip.

    Attributes:
        work: how many rows of the table were worked out, a measure of time that is the same on every machine.
    """

    def __init__(
        self, ways: Sequence[Way], left: Sequence[int], worth: Sequence[float], length: int, most: int
    ) -> None:
        """Works out the table.

        Args:
            ways: as `ways_of` sorts them; those higher than `most` are left out.
            left: how many of each kind there are to place; worth: of one piece of each kind.
        """
        self._left, self._length = left, length
        self._rows: list[tuple[Way, int, npt.NDArray[np.bool_]]] = []
        self._at: dict[int, tuple[int, float]] = {}
        best = np.zeros(length + 1)
        for way in ways:
            if way.across > most:
                break
            number = min(left[way.kind], length // way.along) if way.along <= length else 0
            part = 1
            while number > 0:
                part = min(part, number)
                shift = part * way.along
                behind = best[shift:]
                tried = best[: length + 1 - shift] + part * worth[way.kind]
                taken = tried > behind
                np.maximum(behind, tried, out=behind)
                self._rows.append((way, part, taken))
                number -= part
                part *= 2
            self._at[way.across] = (len(self._rows), float(best[length]))
        self.work = len(self._rows)

    def widths(self) -> list[tuple[int, float]]:
        """(width, worth of its best fill), the narrowest first; some worth a little less, see `fill`."""
        return [(width, worth) for width, (_, worth) in self._at.items() if worth > 0]

    def within(self, width: int) -> tuple[int, float]:
        """(width, worth of the best fill) of the widest of the `widths` up to this one; (0, 0.0): none."""
        return max(((w, worth) for w, worth in self.widths() if w <= width), default=(0, 0.0))

    def fill(self, width: int) -> Filled:
        """The best fill of a strip of one of the `widths`; nothing for 0.

        Both ways of one kind are counted apart while the table is made; where they come to more pieces than there
        are, those that take more of the length are left out.
        """
        rows, _ = self._at.get(width, (0, 0.0))
        found: Filled = {}
        room = self._length
        for way, part, taken in reversed(self._rows[:rows]):
            shift = part * way.along
            if room >= shift and taken[room - shift]:
                found[way] = found.get(way, 0) + part
                room -= shift
        used: dict[int, int] = {}
        kept: Filled = {}
        for way in sorted(found, key=lambda w: (w.along, w.turned)):
            number = min(found[way], self._left[way.kind] - used.get(way.kind, 0))
            if number:
                kept[way] = number
                used[way.kind] = used.get(way.kind, 0) + number
        return kept
