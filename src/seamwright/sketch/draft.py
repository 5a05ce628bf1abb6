"""A block's text on the drawing board: its seams in inches, and how each of them is written anew.

Knows:  which line states which seam, what a place or a whole seam looks like in that line, where new seams go.
Leaves: what an edit does (draw, move, erase, copies, sizes), single lines (written), the grammar (drawing).
Units:  inches of the finished block; figures are written as the text counts them.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from functools import cached_property, lru_cache

from seamwright.drawing.facts import Facts, Run
from seamwright.drawing.measured import Measured
from seamwright.drawing.textform import stated
from seamwright.drawing.tokens import Place, Reading
from seamwright.errors import DrawingError, OptionError, fail
from seamwright.geometry import Point, Ring
from seamwright.options import DEFAULT_TOLERANCE_IN
from seamwright.sketch.figures import figure
from seamwright.sketch.network import Network, network_of, sides_of
from seamwright.sketch.strand import Strand
from seamwright.sketch.written import Written
from seamwright.units import parse_length

SAME_IN = 1e-6
"""Places nearer to each other than this are one."""
NEAREST_IN, FARTHEST_IN = SAME_IN, DEFAULT_TOLERANCE_IN


@dataclass(frozen=True)
class Draft:
    """A text as read, in inches.

    Attributes:
        text: the whole. facts, measured: what it states.
        strands: its seams, in the order of `facts.runs`, which has them as written.
        outline: corners, curved sides flattened.
        near: places nearer to each other than this meet, as tidying will find: the drawing's own tolerance, but no
            more than the usual one.
    """

    text: str
    facts: Facts
    measured: Measured
    strands: tuple[Strand, ...]
    outline: Ring
    near: float

    @cached_property
    def square(self) -> tuple[float, float]:
        """Inches that 1 across and 1 down count for."""
        across, down = self.measured.square
        return float(across), float(down)

    @cached_property
    def sides(self) -> list[tuple[Point, ...]]:
        """The outline's sides from corner to corner."""
        return sides_of(self.outline, self.measured.sides)

    @cached_property
    def network(self) -> Network:
        """Where seams meet each other and the edge."""
        return network_of(self.strands, self.sides, self.near)

    @property
    def unit(self) -> str:
        """The unit of the size."""
        assert self.facts.size is not None
        width, height = self.facts.size
        return width.unit or (height.unit if height else "") or "in"

    def length(self, typed: str) -> float:
        """A typed length, counted in the unit of the drawing's size where none is typed.

        Raises:
            OptionError: it is none.
        """
        return parse_length(typed, self.unit)


def draft_of(text: str, name: str = "") -> Draft:
    """The draft of a text.

    Args:
        name: of its file, for what is wrong with it.

    Raises:
        DrawingError: with every fault of the text. No seam is none: a drawing begins without.
    """
    try:
        return _read(text)
    except DrawingError:
        draft = unchecked(text, name)
        draft.measured.drawing(unfinished=True)  # raises the same again, with the file's name
        return draft


@lru_cache(maxsize=8)
def _read(text: str) -> Draft:
    # A text comes out of one edit, is shown, and goes into the next.
    draft = unchecked(text)
    draft.measured.drawing(unfinished=True)
    return draft


def unchecked(text: str, name: str = "") -> Draft:
    """The draft of a text in which points may lie outside of the block, and the outline may not fill the size.

    Raises:
        DrawingError: a line cannot be read, or the block has no size.
    """
    facts, file, count = stated(text, name=name, file=name)
    facts.faults.stop_if_any(file)
    measured = Measured(facts, file, count)
    strands = tuple(Strand(run.kind, tuple(map(measured.point, run.places))) for run in facts.runs)
    width, height = measured.width, measured.height
    tolerance = parse_length(facts.options.get("tolerance", f"{DEFAULT_TOLERANCE_IN} in"))
    return Draft(
        text,
        facts,
        measured,
        strands,
        measured.outline or ((0.0, 0.0), (width, 0.0), (width, height), (0.0, height)),
        min(max(tolerance, NEAREST_IN), FARTHEST_IN),
    )


class Rewriting:
    """Changes of a draft's lines, done at once when the text is asked for."""

    def __init__(self, draft: Draft, square: tuple[Fraction, Fraction] | None = None) -> None:
        """Begin with the draft's text.

        Args:
            square: inches that 1 across and 1 down count for in the new text, if they are others.
        """
        self.draft = draft
        self.square = square or draft.measured.square
        self.written = Written(draft.text)
        self._put: list[tuple[Place, Point]] = []

    def figures(self, point: Point) -> str:
        """A point as the text counts it."""
        return ", ".join(figure(c / float(side), float(side)) for c, side in zip(point, self.square, strict=True))

    def line(self, strand: Strand, *, side: bool = False) -> str:
        """A seam, or a curved side of the outline, as a line of its own."""
        said = [self.figures(p) for p in strand.points]
        match strand.kind:
            case "arc":
                return f"{'side' if side else 'arc'} {said[0]} through {said[1]} to {said[2]}"
            case "bending":
                return (
                    f"{'side' if side else 'curve'} {said[0]} bending at {' and '.join(said[1:-1])} to {said[-1]}"
                )
        return f"{'side' if side else strand.kind} {' to '.join(said)}"

    def put(self, place: Place, to: Point) -> None:
        """A point comes to lie elsewhere; a figure that says the right place already stays as written."""
        self._put.append((place, to))

    def replace(self, run: Run, strands: Sequence[Strand]) -> None:
        """A seam or side becomes others, or none; its line keeps indent and remark."""
        number = run.places[0].line
        if not strands:
            self.written.drop(number)
            return
        reading = Reading(self.written.line(number), number)
        side = any(run is other for other in self.draft.facts.sides)
        first, *more = (self.line(strand, side=side) for strand in strands)
        self.written.put(number, reading.tokens[0].start, reading.end, first)
        for line in more:
            self.written.add(number, line)

    def add(self, strands: Sequence[Strand]) -> None:
        """New seams behind the last; the first of all behind what is said of the block as a whole."""
        runs = self.draft.facts.runs
        if runs:
            last = max(run.places[-1].line for run in runs)
        else:
            last = self._head()
            self.written.add(last, "")
        for strand in strands:
            self.written.add(last, self.line(strand))

    def _head(self) -> int:
        """The last line that says something of the block as a whole."""
        facts = self.draft.facts
        heads = ("the name", "the size", "the grid", "the outline")
        said = [n for what, n in facts.first_said.items() if what in heads or what.startswith("option ")]
        return max([*said, *(side.places[0].line for side in facts.sides)])

    def text(self) -> str:
        """The text that comes of it."""
        # From the right, so that what stands before keeps its place.
        for place, to in sorted(self._put, key=lambda p: (p[0].line, -p[0].column)):
            there = [amount.inches(side) for amount, side in zip((place.x, place.y), self.square, strict=True)]
            stays = [abs(a - b) <= 1e-9 for a, b in zip(there, to, strict=True)]
            if all(stays):
                continue
            line = self.written.line(place.line)
            start, end = span(line, place)
            written = line[start : place.x.end], line[place.x.end : end].lstrip(" \t,")
            said = self.figures(to).split(", ")
            new = ", ".join(old if stay else one for old, one, stay in zip(written, said, stays, strict=True))
            self.written.put(place.line, start, end, new)
        return self.written.text()


def span(line: str, place: Place) -> tuple[int, int]:
    """Where the figures of a point stand in its line, brackets left out."""
    start = place.column - 1
    if line[start] == "(":
        start += 1
        while line[start].isspace():
            start += 1
    return start, place.y.end


def checked(text: str, what: str) -> str:
    """The text, if it still is a drawing.

    Args:
        what: what was to change, as the beginning of a sentence: "the size".

    Raises:
        OptionError: it would be none any more, with what is wrong.
    """
    try:
        draft_of(text)
    except DrawingError as error:
        fault = error.faults[0]
        raise fail(
            OptionError, "option", f"{what} cannot become so: {fault.what}", fault.mend, at_in=fault.at_in
        ) from None
    return text


def refuse(what: str, mend: str, at: Point | None = None) -> Exception:
    """The refusal of an edit, with the place it speaks of."""
    return fail(OptionError, "option", what, mend, at_in=at)
