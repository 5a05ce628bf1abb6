"""Marks on the picture of a plan: what is stuck, what asks for care, and where joins turn, each with its key.

Knows:  seams of a ring, borders of islands, curves, circles round points; badges with numbers or letters.
Leaves: where the block lies on the picture (the caller's `place`), the sentences (piecing.explain, piecing.advice).
Units:  inches of the picture; places come in inches of the block.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

from seamwright.block.model import Block, Seam
from seamwright.geometry import Point, Ring
from seamwright.ink.lettering import centred
from seamwright.ink.model import Area, Ink, Pen, Stroke
from seamwright.notes import Note
from seamwright.picture.tints import INK, QUIET, SIGNAL
from seamwright.piecing.model import Obstruction
from seamwright.piecing.turns import Turn

Place = Callable[[Point], Point]
RING_IN, BADGE_IN, SMALL_BADGE_IN, DOT_IN = 0.1, 0.11, 0.085, 0.045
APART_IN = 0.19
"""Badges on one place stand this far apart."""
MOST_BADGES = 40
"""Of one kind of advice; a picture full of letters shows nothing."""


@dataclass(frozen=True, slots=True)
class StuckPlaces:
    """What holds a region together, in the block's inches.

    Attributes:
        lines: to be marked as a whole.
        spots: points to be marked.
        key_at: where the one number of the region stands; None: beside each spot, which then is ringed.
    """

    lines: tuple[tuple[Point, ...], ...]
    spots: tuple[Point, ...]
    key_at: Point | None


def stuck_places(block: Block, obstruction: Obstruction) -> StuckPlaces:
    """Where what is stuck is marked: the seams of a ring with their crossings, a border, else points."""
    spots = tuple(block.points[p] for p in obstruction.points)
    if obstruction.kind == "ring of seams":
        middle = (math.fsum(x for x, _ in spots) / len(spots), math.fsum(y for _, y in spots) / len(spots))
        return StuckPlaces(tuple(_ring_runs(block, obstruction)), spots, middle)
    lines = tuple(_borders(block, obstruction))
    if lines:  # one key is enough where a line is marked as a whole
        return StuckPlaces(lines, (), lines[0][len(lines[0]) // 2])
    return StuckPlaces((), spots, None)


def stuck_marks(block: Block, obstruction: Obstruction, place: Place) -> list[Ink]:
    """What holds a region together, in the signal colour, with its number."""
    number, stuck = str(obstruction.number), stuck_places(block, obstruction)
    inks: list[Ink] = [Stroke(Pen.BOLD, tuple(map(place, run)), colour=SIGNAL) for run in stuck.lines]
    if stuck.key_at is not None:
        inks += [Area((circle(place(spot), DOT_IN),), SIGNAL) for spot in stuck.spots]
        return [*inks, *badge(place(stuck.key_at), number, SIGNAL)]
    for x, y in map(place, stuck.spots):
        inks.append(Stroke(Pen.BOLD, circle((x, y), RING_IN), closed=True, colour=SIGNAL))
        inks += badge((x + APART_IN, y - APART_IN), number, SIGNAL)
    return inks


def turn_marks(block: Block, turns: Sequence[Turn], place: Place) -> list[Ink]:
    """The number of the join that turns at each point: on a dark dot where it pivots, else on a light one."""
    inks: list[Ink] = []
    for turn in turns:
        at = place(block.points[turn.point])
        if turn.is_half:
            light: list[Ink] = [
                Area((circle(at, BADGE_IN),), INK),
                Area((circle(at, BADGE_IN - 0.025),), "#FFFFFF"),
                centred(str(turn.join), at, 74 * BADGE_IN, bold=True, colour=INK),
            ]
            inks += light
        else:
            inks += badge(at, str(turn.join), INK)
    return inks


def turn_words(turns: Sequence[Turn]) -> list[str]:
    """What the dots mean."""
    halves = [turn.is_half for turn in turns]
    pivots = "A dark dot has the number of the join that pivots there." if not all(halves) else ""
    goes = "A light dot has the number of the join that closes, in a second go, a seam stopped there before."
    return [words for words in (pivots, goes if any(halves) else "") if words]


def advice_marks(notes: Sequence[Note], place: Place, besides: Sequence[Point] = ()) -> list[Ink]:
    """A small letter at each place that asks for care; letters on one place stand side by side.

    Args:
        besides: places in the block on which other marks stand.
    """
    inks: list[Ink] = []
    taken: dict[tuple[int, int], int] = {_cell(place(point)): 1 for point in besides}
    for key, note in lettered(notes):
        for at in dict.fromkeys(note.places_in[:MOST_BADGES]):
            x, y = place(at)
            cell = _cell((x, y))
            beside = taken.get(cell, 0)
            taken[cell] = beside + 1
            inks += badge((x + beside * APART_IN, y), key, QUIET, SMALL_BADGE_IN)
    return inks


def _cell(at: Point) -> tuple[int, int]:
    return (round(at[0] / SMALL_BADGE_IN), round(at[1] / SMALL_BADGE_IN))


def lettered(notes: Sequence[Note]) -> list[tuple[str, Note]]:
    """The advice among the notes with its letters: a, b, c ..."""
    advice = [note for note in notes if note.code.startswith("advice")]
    return list(zip("abcdefghijklmnopqrstuvwxyz", advice, strict=False))


def badge(at: Point, key: str, colour: str, radius: float = BADGE_IN) -> list[Ink]:
    """A filled circle with a number or letter."""
    return [Area((circle(at, radius),), colour), centred(key, at, 82 * radius, bold=True, colour="#FFFFFF")]


def _ring_runs(block: Block, obstruction: Obstruction) -> Iterator[tuple[Point, ...]]:
    """The pieces of seam that make the ring, each from end to end within the stuck region."""
    inside, points = set(obstruction.patches), obstruction.points
    for a, b in zip(points, (*points[1:], points[0]), strict=True):
        for number, seam in enumerate(block.seams):
            if a in seam.points and b in seam.points:
                yield _within(block, number, inside, {seam.points.index(a), seam.points.index(b)})
                break


def _within(block: Block, number: int, inside: set[int], held: set[int]) -> tuple[Point, ...]:
    """Coordinates along a seam as far as it runs between patches of a region, on both sides of `held` positions."""
    seam = block.seams[number]
    low, high = min(held), max(held)
    while low > 0 and _parts(block, seam.edges[low - 1], inside):
        low -= 1
    while high < len(seam.edges) and _parts(block, seam.edges[high], inside):
        high += 1
    return _run(block, seam, low, high)


def _parts(block: Block, edge: int, inside: set[int]) -> bool:
    return block.edges[edge].left in inside and block.edges[edge].right in inside


def _run(block: Block, seam: Seam, low: int, high: int) -> tuple[Point, ...]:
    """Coordinates along a seam from position `low` to position `high`."""
    run = [block.points[seam.points[low]]]
    for position in range(low, high):
        along = block.edge_points(seam.edges[position])
        ahead = block.edges[seam.edges[position]].start == seam.points[position]
        run.extend((along if ahead else along[::-1])[1:])
    return tuple(run)


def _borders(block: Block, obstruction: Obstruction) -> list[tuple[Point, ...]]:
    """Lines to be marked as a whole: what floats, or the curve that closes on itself."""
    inside = set(obstruction.patches)
    if obstruction.kind == "island":
        points = set(obstruction.points)
        rings = [
            (ring, hole)
            for patch in obstruction.patches
            for ring, hole in zip(block.patch_holes(patch), block.patches[patch].holes, strict=True)
        ]
        return [(*ring, ring[0]) for ring, hole in rings if points & set(hole)]
    if obstruction.kind == "curve":
        return [
            _run(block, seam, low, high)
            for seam in block.seams
            if seam.points[0] == seam.points[-1]
            for low, high in _stretches([_parts(block, edge, inside) for edge in seam.edges])
        ]
    return []


def _stretches(wanted: Sequence[bool]) -> list[tuple[int, int]]:
    """Index ranges in which all are wanted."""
    found, start = [], None
    for place, this in enumerate([*wanted, False]):
        if this and start is None:
            start = place
        elif not this and start is not None:
            found.append((start, place))
            start = None
    return found


def circle(middle: Point, radius: float) -> Ring:
    """A ring that looks round."""
    turns = (2 * math.pi * k / 32 for k in range(32))
    return tuple((middle[0] + radius * math.cos(t), middle[1] + radius * math.sin(t)) for t in turns)
