"""Turnings: all repeating layouts of one or two blocks that differ, each once.

Knows:  which ways to lay a block look different, which layouts are one quilt seen from elsewhere, how to choose one
        of those, how to count them twice.
Leaves: what lays a block on itself (symmetry), layouts too many to list (rules), which to show first (secondary).
Units:  none; cells by number, rows first, from the top left.
Method: a cell is in one of a few states (block, turn), where turns that look the same are one. A repeating layout
        lies on a torus. Shifts, rotations and mirrorings move its cells and change their states together; a layout
        is known by the least of its images under them. How many there must be also follows from how many layouts
        each move leaves as they are: Burnside's lemma (W. Burnside, "Theory of Groups of Finite Order", 2nd ed.,
        1911, section 145).
Limits: mirroring makes one layout of two only where the mirror image of every block may be laid as well; a cell
        that is not square takes half turns only.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import product

import numpy as np
import numpy.typing as npt

from seamwright.quilt.model import Turn
from seamwright.quilt.symmetry import ALL_TURNS, compose

Layout = tuple[int, ...]
"""Number of the state of each cell, rows first."""
MOST = 1 << 20
"""Layouts that are looked at one by one."""


@dataclass(frozen=True, slots=True)
class State:
    """One way to fill a cell.

    Attributes:
        block: number of the block, 0 or 1. turn: the plainest of those that look the same.
    """

    block: int
    turn: Turn


@dataclass(frozen=True, slots=True)
class Move:
    """A layout seen from elsewhere: cell k then shows states[layout[cells[k]]].

    Attributes:
        turn: of the whole. shift: cells down and to the right, after it.
    """

    turn: Turn
    shift: tuple[int, int]
    cells: tuple[int, ...]
    states: tuple[int, ...]

    def image(self, layout: Layout) -> Layout:
        """A layout after the move."""
        return tuple(self.states[layout[cell]] for cell in self.cells)


@dataclass(frozen=True, slots=True)
class Group:
    """All moves under which layouts are taken as one.

    Attributes:
        rows, columns: of the part that repeats. states: that a cell may be in.
        quarter: rotations by 90 degrees are among them, else by 180. mirrored: so are mirrorings.
        moves: each shift with each rotation and mirroring; the first changes nothing.
    """

    rows: int
    columns: int
    states: tuple[State, ...]
    quarter: bool
    mirrored: bool
    moves: tuple[Move, ...]

    @property
    def order(self) -> int:
        """How many moves there are, those that happen to do the same counted apart."""
        return len(self.moves)

    def turned(self, turn: Turn) -> tuple[int, ...] | None:
        """What each state shows after a turn of the whole; None if that is none of the moves."""
        return next((move.states for move in self.moves if move.turn == turn), None)

    def uses_all(self, layout: Layout) -> bool:
        """Whether every block is in a layout."""
        return len({self.states[state].block for state in layout}) == self.blocks

    @property
    def blocks(self) -> int:
        """How many blocks there are; a layout uses all of them."""
        return 1 + max(state.block for state in self.states)


def states_of(symmetries: Sequence[frozenset[Turn]], *, square: bool, reversed_too: bool) -> tuple[State, ...]:
    """The ways to fill a cell that look different, block by block, unreversed ones first.

    Args:
        symmetries: of each block, as `symmetry.symmetries` finds them.
        square: cells may hold quarter turns. reversed_too: and the mirror image of a block.
    """
    return tuple(
        State(number, turn)
        for number, own in enumerate(symmetries)
        for turn in _turns(square)
        if (reversed_too or not turn.reversed) and plainest(turn, own) == turn
    )


def plainest(turn: Turn, own: frozenset[Turn]) -> Turn:
    """The first of all turns that show the same of a block with these symmetries: unreversed, least rotated."""
    return min((compose(same, turn) for same in own), key=lambda t: (t.reversed, t.quarters))


def group_of(
    rows: int, columns: int, states: Sequence[State], symmetries: Sequence[frozenset[Turn]], *, square: bool
) -> Group:
    """The moves of a repeating part of so many rows and columns.

    Rotations are by 90 degrees where cells and the repeating part are square. Mirrorings are among the moves where
    the mirror image of every state is one of the states.
    """
    quarter = square and rows == columns
    moves = []
    for turn in _turns(quarter):
        becomes = _becomes(states, symmetries, turn)
        if becomes is None:
            continue
        for down, across in product(range(rows), range(columns)):
            cells = []
            for r, c in product(range(rows), range(columns)):
                y, x = _before(r, c, rows, columns, turn)
                cells.append((y + down) % rows * columns + (x + across) % columns)
            moves.append(Move(turn, (down, across), tuple(cells), becomes))
    mirrored = _becomes(states, symmetries, Turn(0, True)) is not None
    return Group(rows, columns, tuple(states), quarter, mirrored, tuple(moves))


def _becomes(states: Sequence[State], symmetries: Sequence[frozenset[Turn]], turn: Turn) -> tuple[int, ...] | None:
    """What each state shows after a turn of the whole, by number; None where one shows none of them."""
    number = {state: k for k, state in enumerate(states)}
    seen = [State(state.block, plainest(compose(state.turn, turn), symmetries[state.block])) for state in states]
    return tuple(number[state] for state in seen) if all(state in number for state in seen) else None


def _turns(quarter: bool) -> tuple[Turn, ...]:
    return tuple(turn for turn in ALL_TURNS if quarter or turn.quarters % 2 == 0)


def _before(row: int, column: int, rows: int, columns: int, turn: Turn) -> tuple[int, int]:
    """The cell from which a turn of the whole brings what is in this one."""
    for _ in range(turn.quarters):  # back counter-clockwise
        row, column = columns - 1 - column, row
        rows, columns = columns, rows
    return row, (columns - 1 - column if turn.reversed else column)


def all_layouts(group: Group) -> tuple[Layout, ...]:
    """Every layout that uses all blocks, each quilt once, by its least image; in order.

    Raises:
        ValueError: there are too many states and cells to list them.
    """
    base, cells = len(group.states), group.rows * group.columns
    if base**cells > MOST:
        raise ValueError(f"{base} states in {cells} cells are too many layouts to list")
    codes = np.arange(base**cells, dtype=np.uint64)
    layouts = _layouts(group, codes)
    blocks = np.array([state.block for state in group.states])[layouts]
    keep = np.ones(len(codes), dtype=bool)
    for block in range(group.blocks):
        keep &= (blocks == block).any(axis=1)
    # A layout that has a smaller image is listed there.
    return _tuples(layouts[keep & (_least_codes(group, layouts) == codes)])


def least_images(group: Group, layouts: Sequence[Layout]) -> tuple[Layout, ...]:
    """What each layout is known by: the least of its images."""
    if not layouts:
        return ()
    return _tuples(_layouts(group, _least_codes(group, np.array(layouts, dtype=np.uint64))))


def _worth(group: Group) -> npt.NDArray[np.uint64]:
    """What a state counts in each cell, so that layouts are numbers: 16 states in 16 cells just fill 64 bits."""
    cells = group.rows * group.columns
    return np.array([len(group.states) ** (cells - 1 - k) for k in range(cells)], dtype=np.uint64)


def _layouts(group: Group, codes: npt.NDArray[np.uint64]) -> npt.NDArray[np.uint64]:
    """Layouts, one a row, by their numbers."""
    return codes[:, None] // _worth(group) % np.uint64(len(group.states))


def _least_codes(group: Group, layouts: npt.NDArray[np.uint64]) -> npt.NDArray[np.uint64]:
    """The number of the least image of each layout, one a row."""
    least = np.full(len(layouts), np.iinfo(np.uint64).max, dtype=np.uint64)
    worth = _worth(group)
    for move in group.moves:
        states = np.array(move.states, dtype=np.uint64)[layouts[:, list(move.cells)]]
        least = np.minimum(least, (states * worth).sum(axis=1, dtype=np.uint64))
    return least


def _tuples(layouts: npt.NDArray[np.uint64]) -> tuple[Layout, ...]:
    return tuple(tuple(int(state) for state in layout) for layout in layouts)


def kept_by(group: Group, layout: Layout) -> int:
    """How many moves leave a layout as it is: the more, the more regular it is."""
    return sum(move.image(layout) == layout for move in group.moves)


def counted(group: Group) -> int:
    """How many layouts there must be that use all blocks, by Burnside's lemma: none of them is looked at.

    With two blocks those that use only one of them are taken off.
    """
    total = _fixed(group, range(group.blocks))
    return total - sum(_fixed(group, [block]) for block in range(group.blocks)) if group.blocks == 2 else total


def _fixed(group: Group, blocks: Sequence[int]) -> int:
    """Layouts of some of the blocks: the mean number that a move leaves as they are."""
    allowed = [k for k, state in enumerate(group.states) if state.block in blocks]
    total = 0
    for move in group.moves:
        ways, left = 1, set(range(len(move.cells)))
        while left:
            # Round a cycle of cells the first state decides all others, and has to come back to itself.
            start = min(left)
            cell, after = start, {state: state for state in allowed}
            while True:
                left.discard(cell)
                after = {state: move.states[to] for state, to in after.items()}
                cell = move.cells[cell]
                if cell == start:
                    break
            ways *= sum(state == to for state, to in after.items())
        total += ways
    return total // group.order
