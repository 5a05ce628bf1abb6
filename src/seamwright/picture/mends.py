"""Mends in pictures: small ones below a stuck block, and what was changed on a block that is mended.

Knows:  how a change is marked: the old place dashed and quiet, what is new bold and blue.
Leaves: the picture of the plan itself (plan), the mends and their sentences (mend).
Units:  inches of the picture; places come in inches of the block.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence

from seamwright.block.model import Block
from seamwright.geometry import Point, Segment, off_line
from seamwright.ink.model import Area, Ink, Pen, Stroke, Words
from seamwright.ink.wrap import wrapped
from seamwright.mend.change import dropped_by, dropped_edges, places_of
from seamwright.picture.tints import CHANGE, INK, QUIET
from seamwright.piecing.model import Mend, Obstruction

Place = Callable[[Point], Point]
IN_A_ROW = 3
MOST_SHOWN = 9
GAP_IN = 0.3
WORDS_PT, LINE_IN = 8.0, 0.15
GROUND = "#F6DADD"
"""Of the stuck region: as on the large picture."""


def change_marks(block: Block, mends: Sequence[Mend], place: Place) -> list[Ink]:
    """What mends change in a block: the old place of what moves or goes, and what is new."""
    old, new = changed_lines(block, mends)
    inks: list[Ink] = [Stroke(Pen.HELPER, tuple(map(place, run)), colour=QUIET) for run in old]
    return inks + [Stroke(Pen.BOLD, (place(a), place(b)), colour=CHANGE) for a, b in new]


def changed_lines(block: Block, mends: Sequence[Mend]) -> tuple[list[tuple[Point, ...]], list[Segment]]:
    """What goes or lay elsewhere before, and what is new, in the block's inches."""
    gone = [block.edge_points(number) for number in sorted(dropped_edges(block, dropped_by(mends)))]
    old = [*_turned(block, mends, new=False), *gone]
    return old, [*_turned(block, mends, new=True), *(segment for mend in mends for segment in mend.seams)]


def mend_rows(
    block: Block, obstructions: Sequence[Obstruction], mends: Sequence[Mend], left: float, top: float, width: float
) -> tuple[list[Ink], float]:
    """Small pictures of mends in rows, and where they end.

    Args:
        left, top, width: of the place for them.
    """
    inks: list[Ink] = []
    cell = (width - (IN_A_ROW - 1) * GAP_IN) / IN_A_ROW
    scale = cell / max(block.width_in, block.height_in)
    bottom = top
    patches = {obstruction.number: obstruction.patches for obstruction in obstructions}
    for count, mend in enumerate(mends[:MOST_SHOWN]):
        if count % IN_A_ROW == 0:
            top = bottom + (GAP_IN if count else 0.0)
        x = left + (count % IN_A_ROW) * (cell + GAP_IN)

        def place(point: Point, x: float = x, y: float = top) -> Point:
            return (x + point[0] * scale, y + point[1] * scale)

        inks += _small(block, patches.get(mend.obstruction, ()), mend, place)
        baseline = top + block.height_in * scale + LINE_IN + 0.05
        inks.append(Words(f"Mend {mend.number}", (x, baseline), WORDS_PT, bold=True, colour=INK))
        for line in wrapped(mend.text, WORDS_PT, cell * 72):
            baseline += LINE_IN
            inks.append(Words(line, (x, baseline), WORDS_PT, colour=INK))
        bottom = max(bottom, baseline)
    return inks, bottom


def _small(block: Block, stuck: Sequence[int], mend: Mend, place: Place) -> Iterator[Ink]:
    yield Area((tuple(map(place, block.outline_ring())),), "#FFFFFF")
    for patch in stuck:
        rings = (block.patch_ring(patch), *block.patch_holes(patch))
        yield Area(tuple(tuple(map(place, ring)) for ring in rings), GROUND)
    gone, to = _moved_edges(block, [mend]) | dropped_edges(block, mend.dropped), places_of(block, [mend])
    for number, edge in enumerate(block.edges):
        if number not in gone:
            a, *via, b = block.edge_points(number)
            run = (to.get(edge.start, a), *via, to.get(edge.end, b))
            yield Stroke(Pen.RULE, tuple(map(place, run)), colour=INK)
    yield from change_marks(block, [mend], place)


def _turned(block: Block, mends: Sequence[Mend], *, new: bool) -> Iterator[tuple[Point, Point]]:
    """The edges that moves put somewhere else, where they were or where they are."""
    to = places_of(block, mends)
    for number in sorted(_moved_edges(block, mends)):
        edge = block.edges[number]
        a, b = block.points[edge.start], block.points[edge.end]
        if new:
            a, b = to.get(edge.start, a), to.get(edge.end, b)
        if a != b:
            yield a, b


def _moved_edges(block: Block, mends: Sequence[Mend]) -> set[int]:
    """Edges that come to lie on another line; one that only grows or shrinks stays."""
    to = places_of(block, mends)
    found = set()
    for number, edge in enumerate(block.edges):
        if edge.start in to or edge.end in to:
            a, b = block.points[edge.start], block.points[edge.end]
            if any(abs(off_line(to.get(p, block.points[p]), a, b)) > 1e-6 for p in (edge.start, edge.end)):
                found.add(number)
    return found
