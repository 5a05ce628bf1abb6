"""Rows of a quilt changed: rotated, filled, made longer, set on point; written back line by line.

Knows:  which stated place is seen where, how rows go on as they repeat.
Leaves: other lines of the file (edit), the lines themselves (formkept).
Method: a row of the text is written anew only if what lies in it has changed.
        A block that lies R^q M^s (reversed, then rotated) and is mirrored as it is seen lies M R^q M^s
        = R^-q M^(1-s); on point, behind 45 degrees more, it lies R^(-q-1) M^(1-s).
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import replace

from seamwright.fabric.model import folded
from seamwright.quilt.edits import AddLine, DropLine, Laid, Pattern, Place, Put, Regrid, Reverse, Rotate, SetOn
from seamwright.quilt.edittyped import known_block, refused
from seamwright.quilt.formkept import Lines
from seamwright.quilt.formlines import MOST_REPEATS, MOST_ROWS
from seamwright.quilt.formrows import MOST_CELLS
from seamwright.quilt.formwrite import cloth_words, row_lines
from seamwright.quilt.model import Cell, Set, Setting, Turn

Row = tuple[Cell, ...]
Kept = tuple[Row, int | None]
"""A row, and the number of the stated row whose line it keeps."""


class Rows:
    """The rows of a quilt's text."""

    def __init__(self, lines: Lines) -> None:
        """The rows as stated."""
        self._lines, self._stated = lines, lines.stated
        names = {key: source.name for key, source in self._stated.sources.items()}
        self.rows: tuple[Row, ...] = tuple(
            tuple(Cell(names.get(folded(e.name), e.name), e.turn, e.colourway, e.fabric) for e in row)
            for row in self._stated.rows
        )

    @property
    def on_point(self) -> bool:
        """How rows lie."""
        return self._stated.set is Set.ON_POINT

    @property
    def seen(self) -> tuple[Row, ...]:
        """All rows of the centre, as `Setting.cells` has them."""
        stated = self._stated
        return Setting("", "", (), self.rows, stated.repeat, stated.set).cells if self.rows else ()

    def stated_place(self, place: Place) -> Place:
        """Which stated place is seen there."""
        row, column = place
        single = self.on_point and all(len(each) == 1 for each in self.rows) and self._stated.repeat[0] == 1
        number = (row // 2 if single else row) % len(self.rows)
        return number, column % len(self.rows[number])

    # -- edits -------------------------------------------------------------------------------------------------

    def rotate(self, edit: Rotate) -> None:
        """Blocks further round."""
        self._each(
            edit.cells,
            lambda cell: _turned(cell, Turn((cell.turn.quarters + edit.quarters) % 4, cell.turn.reversed)),
        )

    def reverse(self, edit: Reverse) -> None:
        """Blocks as in a mirror."""
        more = 1 if self.on_point else 0
        self._each(
            edit.cells,
            lambda cell: _turned(cell, Turn((-cell.turn.quarters - more) % 4, not cell.turn.reversed)),
        )

    def put(self, edit: Put) -> None:
        """Something into places."""
        laid = self._cell(edit.what)
        self._each(
            edit.cells,
            lambda cell: replace(laid, turn=cell.turn) if edit.kept and cell.source and laid.source else laid,
        )

    def pattern(self, edit: Pattern) -> None:
        """Rows again and again over all."""
        if not edit.rows or not all(edit.rows):
            raise refused("the pattern has no blocks", "Choose another one")
        pattern = tuple(tuple(self._cell(laid) for laid in row) for row in edit.rows)
        across, down = self._wanted(edit.across, edit.down)
        if not self.on_point and len({len(row) for row in pattern}) == 1:
            times = _times(across, len(pattern[0])), _times(down, len(pattern))
            if all(times):
                self._write(self._keeping(pattern), times)
                return
        rows = tuple(
            tuple(pattern[r % len(pattern)][c % len(pattern[r % len(pattern)])] for c in range(width))
            for r, width in enumerate(self._widths(across, down))
        )
        self._write(self._keeping(rows), (1, 1))

    def regrid(self, edit: Regrid) -> None:
        """So many places."""
        across, down = self._wanted(edit.across, edit.down)
        high, wide = self._period()
        if not edit.loose and not self.on_point:
            core = tuple(row[:wide] for row in self.rows[:high])
            times = _times(across, wide), _times(down, high)
            if all(times) and times != (1, 1):
                self._write(self._keeping(core), times)
                return
        self._write(self._keeping(self._gone_on(across, down)), (1, 1))

    def add(self, edit: AddLine) -> None:
        """A row or column like another behind it."""
        self._must_have_rows()
        if edit.way == "column":
            if self.on_point and max(map(len, self.rows)) == 1:
                self._write(self._keeping(self._gone_on(2, self._counted()[1])), (1, 1))
                return
            column = edit.at % max(map(len, self.rows))
            self._write([(_with(each, column), k) for k, each in enumerate(self.rows)])
            return
        kept: list[Kept] = [(each, k) for k, each in enumerate(self.rows)]
        if self.on_point and len(kept) == 1 and "repeat" not in self._stated.places and not self._repeats:
            self._write(
                [*kept, *([(self.rows[0][:-1], None)] if len(self.rows[0]) > 1 else []), (self.rows[0], None)]
            )
            return
        some = self._pair(self.stated_place((edit.at, 0))[0])
        kept[some.stop : some.stop] = [(self.rows[k], None) for k in some]
        self._write(kept)

    def drop(self, edit: DropLine) -> None:
        """A row or column less."""
        self._must_have_rows()
        if edit.way == "column":
            column = edit.at % max(map(len, self.rows))
            if min(map(len, self.rows)) < 2:
                raise refused("this is the last column", "A quilt has one at the least")
            self._write([(_without(each, column), k) for k, each in enumerate(self.rows)])
            return
        some = self._pair(self.stated_place((edit.at, 0))[0])
        if len(some) >= len(self.rows):
            raise refused("this is the last row", "A quilt has one at the least")
        self._write([(each, k) for k, each in enumerate(self.rows) if k not in some])

    def set_on(self, edit: SetOn) -> None:
        """Straight or on point."""
        if edit.point and not edit.triangles and not self._stated.triangles:
            raise refused("a quilt on point has triangles along its sides", "Name the fabric of the triangles")
        was, counted = self.on_point, self._counted()
        if edit.point != was:
            self._lines.state("set", "on point" if edit.point else "straight")
            self._stated.set = Set.ON_POINT if edit.point else Set.STRAIGHT
            alike = len(set(map(len, self.rows))) == 1
            if alike and (self._stated.wanted is not None or (was and "repeat" in self._stated.places)):
                pass  # rows that are repeated are stated alike either way
            elif edit.point:
                self._to_point(counted)
            else:
                self._write(
                    [(row, k) for k, row in enumerate(self.rows) if k % 2 == 0 or len(self.rows[0]) == 1], (1, 1)
                )
        if not edit.point:
            self._lines.state("triangles", None)
        elif edit.triangles and edit.triangles != self._stated.triangles:
            self._lines.state("triangles", cloth_words(edit.triangles))

    # -- within ------------------------------------------------------------------------------------------------

    @property
    def _repeats(self) -> bool:
        """Rows come as often as a wanted size takes."""
        return self._stated.wanted is not None and "repeat" not in self._stated.places

    def _to_point(self, counted: Place) -> None:
        across, down = counted
        kept: list[Kept] = []
        for r in range(down):
            row = tuple(
                self.rows[r % len(self.rows)][c % len(self.rows[r % len(self.rows)])] for c in range(across)
            )
            kept.append((row, r if r < len(self.rows) else None))
            if across > 1 and r < down - 1:
                kept.append((row[:-1], None))
        self._write(kept, (1, 1))

    def _pair(self, row: int) -> range:
        """The rows that are added or taken away together."""
        if not self.on_point or len(set(map(len, self.rows))) == 1:
            return range(row, row + 1)
        if len(self.rows) < 3:
            return range(len(self.rows))
        return range(row, row + 2) if row + 2 <= len(self.rows) else range(row - 1, row + 1)

    def _cell(self, laid: Laid) -> Cell:
        if not laid.block:
            if not laid.fabric.strip():
                raise refused("a plain piece is of a fabric", "Name the fabric")
            return Cell(fabric=laid.fabric)
        return Cell(known_block(self._lines, laid.block), Turn(laid.quarters % 4, laid.reversed), laid.colourway)

    def _each(self, places: Iterable[Place], become: Callable[[Cell], Cell]) -> None:
        """Changes stated places, each once, wherever it is seen."""
        self._must_have_rows()
        rows = [list(row) for row in self.rows]
        for row, column in sorted({self.stated_place(place) for place in places}):
            rows[row][column] = become(rows[row][column])
        self._write([(tuple(row), k) for k, row in enumerate(rows)])

    def _must_have_rows(self) -> None:
        if not self.rows:
            raise refused("the quilt has no rows", "Choose a turning, or type a row into its file")

    def _counted(self) -> Place:
        """Places across and down, on point those of the long rows."""
        seen = self.seen
        if not seen:
            return (1, 1)
        return len(seen[0]), (len(seen) + 1) // 2 if self.on_point else len(seen)

    def _wanted(self, across: int, down: int) -> Place:
        counted = self._counted()
        across, down = across or counted[0], down or counted[1]
        if not 1 <= across <= MOST_CELLS or not 1 <= down <= MOST_ROWS // (2 if self.on_point else 1):
            raise refused(f"{across} x {down} blocks are no quilt", f"Give 1 to {MOST_CELLS // 2} each way")
        return across, down

    def _widths(self, across: int, down: int) -> list[int]:
        """How many places each row has."""
        if not self.on_point or across == 1:
            return [across] * down
        # Beside a line 'repeat', which a wanted size asks for, rows on point are all stated alike.
        less = 0 if self._stated.wanted is not None else 1
        return [across - less * (k % 2) for k in range(2 * down - 1)]

    def _period(self) -> Place:
        """After how many rows and columns the stated rows repeat."""
        rows = self.rows
        self._must_have_rows()
        if len(set(map(len, rows))) > 1:
            high = next((k for k in range(2, len(rows), 2) if _repeats(rows, k)), 0)
            return high or max(1, len(rows) - len(rows) % 2), 0
        high = next(k for k in range(1, len(rows) + 1) if _repeats(rows, k))
        width = len(rows[0])
        wide = next(k for k in range(1, width + 1) if all(_repeats(row, k) for row in rows))
        return high, wide

    def _gone_on(self, across: int, down: int) -> tuple[Row, ...]:
        """All rows of a centre of that size, as the stated ones go on."""
        high, _ = self._period()
        return tuple(self._row(r, width, high) for r, width in enumerate(self._widths(across, down)))

    def _row(self, number: int, width: int, high: int) -> Row:
        row = self.rows[number if number < len(self.rows) else number % high]
        wide = next(k for k in range(1, len(row) + 1) if _repeats(row, k))
        return tuple(row[c] if c < len(row) else row[c % wide] for c in range(width))

    def _keeping(self, rows: Sequence[Row]) -> list[Kept]:
        """Rows that keep the lines of those stated, one for one."""
        return [(row, k if k < len(self.rows) else None) for k, row in enumerate(rows)]

    def _write(self, kept: Sequence[Kept], repeat: Place | None = None) -> None:
        """The rows and their repeats as lines.

        Args:
            kept: stated rows in their order, new ones between them. repeat: across and down; None: as it is.
        """
        if len(kept) > MOST_ROWS or any(len(row) > MOST_CELLS for row, _ in kept):
            raise refused("the quilt has too many blocks", f"It may have up to {MOST_ROWS} rows of {MOST_CELLS}")
        lines = self._lines
        own = [lines.number(line) for line, _ in self._stated.row_places]
        behind = None
        for row, number in kept:
            words = row_lines((row,))[0]
            if number is None:
                behind = lines.add(words, behind)
            elif row == self.rows[number]:
                behind = own[number]
            else:
                behind = lines.say(own[number], words)
        staying = {number for _, number in kept}
        for number, line in enumerate(own):
            if number not in staying:
                lines.drop(line)
        if repeat is None:
            return
        # A wanted size repeats rows as it likes, unless the file says how often.
        needed = repeat != (1, 1) or self._stated.wanted is not None
        if not needed or repeat != self._stated.repeat or "repeat" not in self._stated.places:
            lines.state("repeat", f"{repeat[0]} x {repeat[1]}" if needed else None)


def _turned(cell: Cell, turn: Turn) -> Cell:
    return replace(cell, turn=turn) if cell.source else cell


def _repeats(things: Sequence[object], step: int) -> bool:
    return all(things[k] == things[k - step] for k in range(step, len(things)))


def _times(whole: int, part: int) -> int:
    """How many times a part makes the whole; 0 if it does not."""
    times, left = divmod(whole, part)
    return times if not left and times <= MOST_REPEATS else 0


def _with(row: Row, column: int) -> Row:
    at = min(column, len(row) - 1)
    return (*row[: at + 1], row[at], *row[at + 1 :])


def _without(row: Row, column: int) -> Row:
    at = min(column, len(row) - 1)
    return (*row[:at], *row[at + 1 :])
