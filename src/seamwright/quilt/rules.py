"""Layouts of 4 x 4 blocks by rule: too many differ to be listed, so those that a quilter would sketch are made.

Knows:  the rules, each with its name; which of their layouts are one.
Leaves: states and moves (turnings), which to show first (secondary).
Method: a rule fills the 16 cells from one, two or three states. Where a part of the layout is rotated or mirrored,
        the states change with it, as in cloth. Of all that come of it each quilt is kept once, under the names of
        all rules that make it.
Limits: rows, quadrants and diagonals hold two different states at the most, or four that follow each other by
        quarter turns. Rules that need quarter turns make nothing of cells that are not square.
"""

from __future__ import annotations

import random
from collections.abc import Iterator
from itertools import combinations, product

from seamwright.quilt.model import Turn
from seamwright.quilt.turnings import Group, Layout, least_images

SIDE = 4
"""Rows and columns."""
RANDOM = 24
"""Layouts made by chance."""
RULES = (
    *("rows", "columns", "checkerboard", "diagonals", "four-patch", "barn raising", "pinwheel", "medallion"),
    *("mirror image", "random"),
)
"""Names, in the order in which they are shown; those of the trade, where it has one: "barn raising" is the setting
of log cabins whose quarters turn about the middle."""

Four = tuple[int, int, int, int]


def layouts_by_rule(group: Group, seed: int) -> dict[Layout, tuple[str, ...]]:
    """Layouts, each quilt once, as the first rule makes it, with the names of all rules that do.

    Args:
        group: of 4 rows and columns. seed: of those made by chance; the same gives the same layouts.

    Every layout uses all blocks.
    """
    made = [
        (rule, layout)
        for rule, layouts in _made(group, seed)
        for layout in dict.fromkeys(layouts)
        if group.uses_all(layout)
    ]
    found: dict[Layout, tuple[Layout, list[str]]] = {}
    for (rule, layout), least in zip(made, least_images(group, [layout for _, layout in made]), strict=True):
        _, names = found.setdefault(least, (layout, []))
        if rule not in names:
            names.append(rule)
    return {layout: tuple(names) for layout, names in found.values()}


def _made(group: Group, seed: int) -> Iterator[tuple[str, list[Layout]]]:
    """Each rule with all that it makes."""
    fours = list(_fours(group))
    cells = list(product(range(SIDE), repeat=2))
    quarters = [(r // 2) * 2 + c // 2 for r, c in cells]
    yield "rows", [tuple(four[r] for r, _ in cells) for four in fours]
    yield "columns", [tuple(four[c] for _, c in cells) for four in fours]
    pairs = list(combinations(range(len(group.states)), 2))
    yield "checkerboard", [tuple(pair[(r + c) % 2] for r, c in cells) for pair in pairs]
    slants = list(product(fours, (1, -1)))
    yield "diagonals", [tuple(four[(r + way * c) % SIDE] for r, c in cells) for four, way in slants]
    yield "four-patch", [tuple(four[q] for q in quarters) for four in fours]
    once = group.turned(Turn(1))
    if once is not None:
        alone = [(s, s, s, s) for s in range(len(group.states))]
        yield "barn raising", [_about_the_middle(four, way) for four in alone for way in _both_ways(once)]
        yield "pinwheel", [_about_the_middle(four, once) for four in fours if len(set(four)) > 1]
    yield "medallion", [_medallion(*three, group) for three in _threes(group)]
    if group.mirrored:
        yield "mirror image", [_mirrored(four, group) for four in fours if len(set(four)) > 1]
    yield "random", list(_by_chance(group, seed))


def _fours(group: Group) -> Iterator[Four]:
    """Four states of which two differ at the most, or that follow each other by quarter turns, either way."""
    number = range(len(group.states))
    for state in number:
        yield (state, state, state, state)
    for pair in combinations(number, 2):
        for a, b, c, d in product(pair, repeat=4):
            if len({a, b, c, d}) == 2:
                yield (a, b, c, d)
    once = group.turned(Turn(1))
    for way in _both_ways(once) if once is not None else ():
        for state in number:
            second, third = way[state], way[way[state]]
            yield (state, second, third, way[third])


def _threes(group: Group) -> Iterator[tuple[int, int, int]]:
    """States of corner, side and middle of a medallion."""
    number = range(len(group.states))
    for side, middle in product(number, repeat=2):
        # Corners of their own only where that does not make hundreds of nearly the same.
        for corner in number if len(number) <= SIDE else (side,):
            yield corner, side, middle


def _both_ways(once: tuple[int, ...]) -> tuple[tuple[int, ...], ...]:
    """A quarter turn of the states, clockwise and counter-clockwise."""
    return once, tuple(once.index(state) for state in range(len(once)))


def _about_the_middle(four: Four, onward: tuple[int, ...]) -> Layout:
    """The top left quadrant turned about the middle of the whole, clockwise, into the other three.

    From quadrant to quadrant its blocks are rotated once more in their places, as `onward` says.
    """
    layout = [0] * SIDE**2
    for row, column in product(range(2), repeat=2):
        r, c, state = row, column, four[row * 2 + column]
        for _ in range(4):
            layout[r * SIDE + c] = state
            r, c, state = c, SIDE - 1 - r, onward[state]
    return tuple(layout)


def _medallion(corner: int, side: int, middle: int, group: Group) -> Layout:
    """Four in the middle and a ring round them, turned about the middle; by half turns where no cell is square."""
    once, half = group.turned(Turn(1)), group.turned(Turn(2))
    assert half is not None  # every group has it
    if once is not None:
        before = once[half[side]]  # the side of the ring that comes before, as it lies there
        return _about_the_middle((corner, side, before, middle), once)
    top = (corner, side, side, corner, side, middle, middle, side)
    return (*top, *(half[state] for state in reversed(top)))


def _mirrored(four: Four, group: Group) -> Layout:
    """The top left quadrant, and its mirror image in both middle lines."""
    flip, half = group.turned(Turn(0, True)), group.turned(Turn(2))
    assert flip is not None and half is not None
    top: list[Layout] = [(a, b, flip[b], flip[a]) for a, b in (four[:2], four[2:])]
    # Top and bottom change places: left and right do, and then all is rotated by half a turn.
    bottom = [tuple(half[flip[state]] for state in row) for row in reversed(top)]
    return tuple(state for row in (*top, *bottom) for state in row)


def _by_chance(group: Group, seed: int) -> Iterator[Layout]:
    """Layouts that use all blocks.

    `random()` gives the same for one seed in all versions of Python, as its manual says.
    """
    chance, left = random.Random(seed), RANDOM
    if len(group.states) == 1:
        return
    while left:
        layout = tuple(int(chance.random() * len(group.states)) for _ in range(SIDE**2))
        if group.uses_all(layout):
            left -= 1
            yield layout
