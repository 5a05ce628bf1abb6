"""Pieces of seams taken out of a drawing.

Knows:  which seam a piece belongs to, what is left of the seam.
Leaves: what ends on the piece: it stays, and the verdict tells that it ends in the open.
Units:  inches of the finished block.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import accumulate, pairwise

from seamwright.geometry import Point, along, foot
from seamwright.sketch.draft import SAME_IN, Rewriting, checked, draft_of, refuse
from seamwright.sketch.edits import Erase
from seamwright.sketch.patches import coloured, with_fabrics
from seamwright.sketch.strand import Strand
from seamwright.units import say_point

Span = tuple[float, Point, float, Point]
"""Position, place, position, place: where a piece begins and ends on a seam."""


def erased(text: str, edit: Erase) -> str:
    """The text without pieces of seams.

    Raises:
        DrawingError: the text cannot be read. OptionError: no seam lies where a piece should.
    """
    draft = draft_of(text)
    flats = [strand.flat() for strand in draft.strands]
    gone: dict[int, list[Span]] = {}
    for piece in edit.seams:
        found = spans_on(draft.strands, flats, piece, draft.near)
        if not found:
            raise refuse(
                f"no seam runs from {say_point(piece[0])} to {say_point(piece[-1])}",
                "Choose a seam, or part of one between two points where seams meet",
                piece[0],
            )
        for number, span in found:
            gone.setdefault(number, []).append(span)
    rewriting = Rewriting(draft)
    for number, spans in gone.items():
        rewriting.replace(draft.facts.runs[number], left(draft.strands[number], flats[number], spans, draft.near))
    return checked(with_fabrics(rewriting.text(), coloured(draft)), "the drawing")


def spans_on(
    strands: Sequence[Strand], flats: Sequence[Sequence[Point]], piece: Sequence[Point], near: float
) -> list[tuple[int, Span]]:
    """Where a piece lies: (number of the seam, span). A piece drawn twice lies on two.

    Args:
        piece: its two ends, or points along it.
    """
    exact: list[tuple[int, Span]] = []
    loose: list[tuple[int, Span]] = []
    for number, (strand, flat) in enumerate(zip(strands, flats, strict=True)):
        for span in _spans(strand, flat, piece, near):
            (loose if len(piece) == 2 and not _straight_between(flat, span) else exact).append((number, span))
    # Two ends alone name the straight piece between them; without one, the curve that joins them.
    return exact or loose


def _spans(strand: Strand, flat: Sequence[Point], piece: Sequence[Point], near: float) -> list[Span]:
    reach = list(accumulate((math.dist(a, b) for a, b in pairwise(flat)), initial=0.0))
    first, last = (_positions(flat, reach, p, near) for p in (piece[0], piece[-1]))
    found = []
    for one in first:
        for other in last:
            (start, a), (end, b) = sorted((one, other))
            if end - start <= near:
                continue
            inner = (q for p in piece[1:-1] for q in [_positions(flat, reach, p, near)])
            if all(any(start - near <= q <= end + near for q, _ in at) for at in inner):
                found.append((start, a, end, b))
    return found


def _positions(flat: Sequence[Point], reach: Sequence[float], at: Point, near: float) -> list[tuple[float, Point]]:
    """Where on a seam a place lies, and the seam's own point there; several if the seam comes back to it.

    A place may lie beside the seam by the tolerance; what is left of the seam must not be drawn over to it.
    """
    found: list[tuple[float, float, Point]] = []
    for k, (a, b) in enumerate(pairwise(flat)):
        if a == b:
            continue
        own = foot(at, a, b, between=True)
        away = math.dist(at, own)
        if away > near:
            continue
        here = reach[k] + min(max(along(at, a, b), 0.0), reach[k + 1] - reach[k])
        nearest = (away, here, at if away <= SAME_IN else own)
        if found and here - found[-1][1] <= 4 * near:
            found[-1] = min(found[-1], nearest)
        else:
            found.append(nearest)
    return [(here, own) for _, here, own in found]


def _straight_between(flat: Sequence[Point], span: Span) -> bool:
    start, a, end, b = span
    return abs(math.dist(a, b) - (end - start)) <= 1e-4 * (end - start)


def left(strand: Strand, flat: Sequence[Point], gone: Sequence[Span], near: float) -> list[Strand]:
    """What is left of a seam without spans of it."""
    whole = math.fsum(math.dist(a, b) for a, b in pairwise(flat))
    kept, at, place = [], 0.0, flat[0]
    for start, first, end, last in [*sorted(gone), (whole, flat[-1], whole, flat[-1])]:
        if start - at > near:
            kept.append(strand if (at, start) == (0.0, whole) else strand.part(at, place, start, first))
        if end > at:
            at, place = end, last
    return kept
