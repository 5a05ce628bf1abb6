"""A quilt brought near to a wanted size: how often rows are repeated, how wide the outermost plain border is.

Knows:  what each number of repeats and each width of that border comes to.
Leaves: sizes of beds (beds), the centre's size (layout), whether pieced borders come out (coping).
Units:  inches, finished.
Method: every number of repeats each way, with every width of the outermost plain border from the one stated up to
        that of a block, by steps that rulers show. A quilt that is not smaller than wanted either way comes before
        one that is; of these the one with the least excess both ways together, then the narrowest border, then the
        fewest blocks. Nothing here depends on chance or time.
Limits: blocks are never stretched, borders keep one width all round: so some inches are left, and are told.
        Where the file says how often rows are repeated, only the border is fitted. Rows on point of different
        lengths are not repeated.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace

from seamwright.errors import SeamwrightError, SettingError, fail
from seamwright.notes import Note
from seamwright.options import Units
from seamwright.quilt.borders import repeated_blocks
from seamwright.quilt.coping import Pair, Repeated, check_widths, widths
from seamwright.quilt.layout import centre_size, place_size
from seamwright.quilt.looks import LookBook, refused
from seamwright.quilt.model import MOST_PLACES, Border, Edging, Set, Setting
from seamwright.units import say_length, say_size

STEP_IN = {Units.INCH: 1 / 4, Units.METRIC: 0.5 / 2.54}
"""Widths of a border differ by so much."""
WIDEST_IN = 12.0
"""No border is widened beyond this, nor beyond a block: more would look like cloth left over (our own bound)."""
MOST_REPEATS = 200
NEAR_IN = 1 / 16
"""A quilt that is smaller by no more is not smaller: quilting draws in far more than that (common practice)."""
BABY = (
    "a quilt of this size is for the floor and for later: soft bedding stays out of the crib of a baby in its "
    "first year, so follow the advice on safe sleep that holds where you live"
)


@dataclass(frozen=True, slots=True)
class _Way:
    """One number of repeats, one width: what of it is over the wanted size (less than 0: missing) each way."""

    repeat: tuple[int, int]
    width_in: float | None
    over: Pair

    def rank(self) -> tuple[object, ...]:
        """The better, the smaller: what is missing before what is over."""
        missing = math.fsum(max(0.0, -over) for over in self.over if over < -NEAR_IN)
        over = math.fsum(map(abs, self.over))
        across, down = self.repeat
        # Rounded: sums that differ by noise alone are one, and then the next question decides.
        return round(missing, 4), round(over, 4), self.width_in or 0.0, across * down, across


def fitted(setting: Setting, book: LookBook, units: Units = Units.INCH) -> Setting:
    """The setting with its rows repeated and its outermost plain border widened to come near to what it wants.

    Args:
        book: its looks, those of its borders among them.
        units: for what is said, and for the steps of a border's width.

    Returns:
        The same setting where it wants no size. Else `repeat` and a border are changed, and a note tells what was
        done and what is left.

    Raises:
        SettingError: a block cannot lie where it should, or no number of repeats makes pieced borders come out,
            or it takes too many blocks.
    """
    wanted = setting.wanted
    if wanted is None or not setting.rows or not all(setting.rows):
        return setting
    check_widths(setting.borders, setting.file, units)
    cell_in, repeated = place_size(setting, book), repeated_blocks(setting, book, units)
    height = wanted.size.height_in if wanted.size.height_in is not None else wanted.size.width_in
    goal = (wanted.size.width_in, height)
    number = _outermost_plain(setting.borders)
    best = min(_ways(setting, cell_in, repeated, goal, number, units), key=_Way.rank, default=None)
    if best is None:
        # Told as it would be without a wish: which side does not come out, and what would do.
        widths(centre_size(setting, cell_in), setting.borders, repeated, file=setting.file, units=units)
        what = "no number of repeats makes this quilt's borders come out"
        raise fail(SettingError, "setting", what, "Leave out the line 'fit', and see", drawing=setting.file)
    places = sum(map(len, replace(setting, repeat=best.repeat).cells))
    if places > MOST_PLACES:
        wish = f"to come near to {say_size(*goal, units)}"
        what = f"{wish} takes {places:,} blocks, and a quilt has up to {MOST_PLACES:,}"
        raise refused(setting, what, "Make the blocks larger, or ask for a smaller quilt")
    borders = list(setting.borders)
    if number is not None and best.width_in is not None:
        borders[number] = replace(borders[number], width_in=best.width_in)
    done = replace(setting, repeat=best.repeat, borders=tuple(borders))
    return replace(done, notes=(*setting.notes, *_told(setting, best, goal, number, cell_in, units)))


def _ways(
    setting: Setting, cell_in: Pair, repeated: dict[int, Repeated], goal: Pair, number: int | None, units: Units
) -> Iterator[_Way]:
    own = None if number is None else setting.borders[number].width_in
    tried = [own] if own is None else list(_wider(own, min(cell_in), units))
    for repeat, inside in _repeats(setting, cell_in, goal):
        for width in tried:
            borders = list(setting.borders)
            if number is not None and width is not None:
                borders[number] = replace(borders[number], width_in=width)
            try:
                wide = widths(inside, borders, repeated)
            except SeamwrightError:
                continue
            over = tuple(
                side + 2 * math.fsum(pair[way] for pair in wide) - goal[way] for way, side in enumerate(inside)
            )
            yield _Way(repeat, width, (over[0], over[1]))


def _repeats(setting: Setting, cell_in: Pair, goal: Pair) -> Iterator[tuple[tuple[int, int], Pair]]:
    """All numbers of repeats up to the first each way that is large enough without any border, and their sizes."""
    assert setting.wanted is not None
    lengths = {len(row) for row in setting.rows}
    if not setting.wanted.repeats or (setting.set is Set.ON_POINT and len(lengths) > 1):
        yield setting.repeat, centre_size(setting, cell_in)
        return
    # One block wide a quilt on point is a column, and higher than a wider one of as many rows.
    down = {wide: _enough(setting, cell_in, goal[1], 1, wide) for wide in (1, 2)}
    for i, width in _enough(setting, cell_in, goal[0], 0, 1):
        for j, height in down[min(i, 2)]:
            yield (i, j), (width, height)


def _enough(setting: Setting, cell_in: Pair, goal_in: float, way: int, other: int) -> list[tuple[int, float]]:
    """Numbers of repeats one way that differ in size, up to the first that comes to the goal alone, and sizes.

    Args:
        way: 0 across, 1 down. other: how often rows are repeated the other way.
    """
    found: list[tuple[int, float]] = []
    for count in range(1, MOST_REPEATS + 1):
        repeat = (count, other) if way == 0 else (other, count)
        size = centre_size(replace(setting, repeat=repeat), cell_in)[way]
        # On point a row that would lie at the end alone is left out, so the next number may come to the same.
        if not found or size > found[-1][1]:
            found.append((count, size))
        if size >= goal_in:
            break
    return found


def _outermost_plain(borders: tuple[Border, ...]) -> int | None:
    # A block in its corners says how wide a border is.
    plain = [k for k, b in enumerate(borders) if b.edging in (Edging.BUTTED, Edging.MITRED) and b.corner is None]
    return plain[-1] if plain else None


def _wider(own_in: float, block_in: float, units: Units) -> Iterator[float]:
    """The width stated, then all that rulers show up to that of a block."""
    yield own_in
    step, most = STEP_IN[units], max(own_in, min(block_in, WIDEST_IN))
    for k in range(math.floor(own_in / step) + 1, math.floor(most / step + 1e-9) + 1):
        yield k * step


def _told(
    setting: Setting, best: _Way, goal: Pair, number: int | None, cell_in: Pair, units: Units
) -> Iterator[Note]:
    """What was done, and what is left to the size wanted."""
    assert setting.wanted is not None
    name = f"{setting.wanted.name}, " if setting.wanted.name else ""
    parts = []
    if best.repeat != setting.repeat or setting.wanted.repeats:
        parts.append(f"rows repeated {best.repeat[0]} x {best.repeat[1]}")
    if number is not None and best.width_in is not None:
        own = setting.borders[number].width_in
        width = say_length(best.width_in, units)
        if best.width_in > own:
            parts.append(f"border {number + 1} widened from {say_length(own, units)} to {width}")
        else:
            parts.append(f"border {number + 1} left {width} wide")
    left = [_left(over, way, units) for over, way in zip(best.over, ("width", "height"), strict=True)]
    what = ", ".join(parts) or "nothing could be changed"
    text = f"to fit {name}{say_size(*goal, units)}: {what}; {'; '.join(left)}"
    # Where a whole row more or fewer would be nearer, what holds it back is said.
    if not setting.wanted.repeats and any(abs(over) > side for over, side in zip(best.over, cell_in, strict=True)):
        text += "; leave out the line 'repeat', and rows come as often as it takes"
    yield Note("fit", text, 1, max(map(abs, best.over)))
    if setting.wanted.name == "crib":
        yield Note("safety", BABY)


def _left(over: float, way: str, units: Units) -> str:
    if abs(over) <= NEAR_IN:
        return f"the {way} is as wanted"
    return f"the {way} is {say_length(abs(over), units, finest=8)} {'more' if over > 0 else 'less'}"
