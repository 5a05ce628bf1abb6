"""All words of a foundation but its patch numbers: letter, neighbours, grain, block, how to use a plain piece.

Knows:  what is said, in which sizes, and where each is tried first.
Leaves: patch numbers (numbers), keeping words apart (room).
Units:  inches as printed; type in points.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence

from seamwright.foundation.printed import PrintedStretch, upright_deg
from seamwright.foundation.room import UNIT_PT, Room
from seamwright.geometry import Point, Ring, Segment, signed_area
from seamwright.ink.model import Anchor, Pen, Words
from seamwright.ink.wrap import wrapped

LETTER_PT = 18.0
NOTE_PT = (8.0, 7.0)
FULL_WORDS_IN = 1.0
"""An edge longer than this says which section it joins, and when; what a shorter one joins stands in the legend."""
EDGE_WORDS_IN = 1.5
LEAST_ARROW_IN = 0.2
NAME_WIDTHS_PT = (340.0, 160.0, 120.0, 90.0, 70.0)
"""Lines that a block's name may take inside a patch, the longest first."""
_NO_POINT: Point = (0.0, 0.0)


def place_letter(room: Room, letter: str, patches: Iterable[Ring], stitch: Ring, trim: Ring) -> None:
    """The section's letter, once: large in the largest patch with room, else in the allowance, else smaller."""
    inside: list[tuple[Ring, tuple[Ring, ...]]] = [(ring, ()) for ring in _by_size(patches)]
    allowance: list[tuple[Ring, tuple[Ring, ...]]] = [(trim, (stitch,))]
    for areas, size, clearance in (
        (inside, LETTER_PT, 6.0),
        (inside, LETTER_PT, 3.5),
        (allowance, LETTER_PT, 1.5),
        (inside, 14.0, 3.0),
        (allowance, 12.0, 1.5),
        (inside, 12.0, 1.5),
    ):
        lines = [Words(letter, _NO_POINT, size, bold=True)]
        if any(room.lines(ring, lines, holes=holes, clearance_pt=clearance) for ring, holes in areas):
            return


def place_neighbours(room: Room, stretches: Sequence[PrintedStretch]) -> tuple[str, ...]:
    """Along each long edge in its allowance which section it joins, and when; returns what is not said there.

    On a short edge words would crowd its marks and corners.
    """
    met: dict[tuple[str, int | None], bool] = {}
    for stretch in stretches:
        if not stretch.neighbour:
            continue
        what, said = (stretch.neighbour, stretch.join), None
        texts = [f"to {stretch.neighbour}", stretch.neighbour]
        if stretch.join is not None:
            texts.insert(0, f"{ordinal(stretch.join)}: {texts[0]}")
        if stretch.length_in > FULL_WORDS_IN:
            said = _along(room, stretch, texts)
        met[what] = met.get(what, False) or said == texts[0]
    return tuple(
        name if join is None else f"{name} ({ordinal(join)})" for (name, join), said in met.items() if not said
    )


def place_edges(room: Room, stretches: Sequence[PrintedStretch], name: str) -> bool:
    """The block's name and "edge of block" along outer edges; returns whether the name found room."""
    outer = sorted((s for s in stretches if not s.neighbour and not s.varies), key=lambda s: -s.length_in)
    named = False
    for stretch in outer:
        if not named and _along(room, stretch, [f"{name} \N{MIDDLE DOT} edge of block"]):
            named = True
        elif stretch.length_in > EDGE_WORDS_IN:
            _along(room, stretch, ["edge of block"])
    return named


def place_name(room: Room, name: str, patches: Iterable[Ring], stretches: Iterable[PrintedStretch]) -> bool:
    """The block's name anywhere: along an inner edge, else in the largest patch with room, in several lines."""
    inner = sorted((s for s in stretches if s.neighbour), key=lambda s: -s.length_in)
    if any(_along(room, stretch, [name]) is not None for stretch in inner):
        return True
    for width in NAME_WIDTHS_PT:
        lines = [Words(line, _NO_POINT, NOTE_PT[-1]) for line in wrapped(name, NOTE_PT[-1], width)]
        if any(room.lines(ring, lines, clearance_pt=4) for ring in _by_size(patches)):
            return True
    return False


def place_grain(
    room: Room, direction_deg: float, patches: Iterable[Ring], stitch: Ring, trim: Ring
) -> Segment | None:
    """An arrow for the straight grain, with its word where there is room; from tail to head, None without room."""
    by_size = _by_size(patches)
    angle = upright_deg(direction_deg)
    for length, wordy in (
        (1.0, True),
        (0.75, True),
        (0.75, False),
        (0.5, False),
        (0.3, False),
        (LEAST_ARROW_IN, False),
    ):
        height = (13.0 if wordy else 5.0) / UNIT_PT
        areas: list[tuple[Ring, tuple[Ring, ...]]] = [(ring, ()) for ring in by_size]
        if not wordy:
            areas.append((trim, (stitch,)))
        for area, holes in areas:
            spot = room.box(area, length + 4 / UNIT_PT, height + 4 / UNIT_PT, holes=holes, angle_deg=angle)
            if spot is not None:
                return _arrow(room, spot, angle, length, wordy)
    return None


def unseen_arrow(at: Point, angle_deg: float) -> Segment:
    """The direction of an arrow that found no room."""
    turn = math.radians(angle_deg)
    return (at, (at[0] + LEAST_ARROW_IN * math.cos(turn), at[1] + LEAST_ARROW_IN * math.sin(turn)))


def ordinal(number: int) -> str:
    """1st, 2nd, 3rd, 4th ... 11th, 12th, 13th ... 21st.

    >>> [ordinal(n) for n in (1, 2, 3, 4, 11, 12, 21, 112)]
    ['1st', '2nd', '3rd', '4th', '11th', '12th', '21st', '112th']
    """
    ending = "th" if number % 100 in (11, 12, 13) else {1: "st", 2: "nd", 3: "rd"}.get(number % 10, "th")
    return f"{number}{ending}"


def _along(room: Room, stretch: PrintedStretch, texts: Iterable[str]) -> str | None:
    """The first of the texts that finds room along a stretch, in its allowance, placed there; None if none does."""
    for text in texts:
        choices: list[tuple[list[Words], float]] = [([Words(text, _NO_POINT, size)], 1.5) for size in NOTE_PT]
        for area in (stretch.strip, stretch.wide):
            if area and (placed := room.first(area, choices, angle_deg=stretch.angle_deg)):
                return placed[0].text
    return None


def _by_size(rings: Iterable[Ring]) -> list[Ring]:
    """The largest first."""
    return sorted(rings, key=lambda ring: -abs(signed_area(ring)))


def _arrow(room: Room, middle: Point, angle_deg: float, length: float, wordy: bool) -> Segment:
    turn = math.radians(angle_deg)
    ahead, down = (math.cos(turn), math.sin(turn)), (-math.sin(turn), math.cos(turn))

    def at(along: float, across: float) -> Point:
        return (
            middle[0] + along * ahead[0] + across * down[0],
            middle[1] + along * ahead[1] + across * down[1],
        )

    # The word stands over the shaft, so the shaft lies below the middle of both.
    shaft = 3.5 / UNIT_PT if wordy else 0.0
    tail, head = at(-length / 2, shaft), at(length / 2, shaft)
    barb, half = 6 / UNIT_PT, 2.2 / UNIT_PT
    if wordy:
        room.keep_words([Words("grain", at(0, 1.0 / UNIT_PT), 7.0, Anchor.MIDDLE, angle_deg)])
    room.keep_line(Pen.RULE, (tail, at(length / 2 - barb, shaft)))
    room.keep_spot((head, at(length / 2 - barb, shaft + half), at(length / 2 - barb, shaft - half)))
    return (tail, head)
