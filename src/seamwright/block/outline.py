"""Which part of a tidied drawing is the block: its outline, what lies inside, what is furniture or unfinished.

Knows:  the block is the largest part of the drawing that closes; what floats in a patch belongs to it; what lies
        outside does not; a line that parts no two patches is unfinished.
Leaves: repairs (tidy), the page as outline (make decides to try it), sizes.
Units:  inches of the finished block, the drawing's origin.
Method: faces by half-edges (planar); a piece with one face on both sides hangs or is a bridge.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from shapely.geometry import Polygon

from seamwright.block.net import Union
from seamwright.block.planar import Halves, Piece
from seamwright.block.tidy import Tidied
from seamwright.geometry import Point, bounds, signed_area
from seamwright.notes import Note

RING_IN = 0.5
"""The widest ring between two outlines that is taken for a seam allowance."""


RIVAL = 0.5
"""Another part of at least this share of the block's area, with seams of its own, is a second block."""


@dataclass(frozen=True, slots=True)
class OpenEnd:
    """A place where a line ends in the open.

    Attributes:
        at: inches; gap: distance to the nearest other line, None if there is none.
        source: the line.
        bridge: the line does not end here, but has one patch on both sides.
    """

    at: Point
    gap: float | None
    source: str
    bridge: bool = False


@dataclass(frozen=True, slots=True)
class Part:
    """The block's part of a drawing.

    Attributes:
        pieces: those of the block; points are the tidied ones.
        ring: points round it; () if nothing closes.
        open_ends: what is unfinished.
        loose_outside: hanging ends outside the ring that are tied to the block.
        notes: what was ignored.
        rivals: top left corners of other parts that could as well be the block.
    """

    pieces: tuple[Piece, ...]
    ring: tuple[Point, ...]
    open_ends: tuple[OpenEnd, ...]
    loose_outside: tuple[OpenEnd, ...]
    notes: tuple[Note, ...]
    rivals: tuple[Point, ...] = ()


def find_part(tidied: Tidied, stated: Sequence[Point] | None) -> Part:
    """The block's part.

    Args:
        tidied: the whole drawing.
        stated: the outline, where it is known; what lies outside is left out.
    """
    pieces = list(tidied.pieces)
    outside = 0
    if stated:
        inner = _Area(Polygon(stated).buffer(1e-6))
        kept = [p for p in pieces if p.line in tidied.borders or inner.holds(_midpoint(tidied.points, p))]
        outside = len({p.line for p in pieces} - {p.line for p in kept})
        pieces = kept
    cut = _same_face(tidied.points, pieces)
    firm = [p for p, c in zip(pieces, cut, strict=True) if not c]
    hang = [p for p, c in zip(pieces, cut, strict=True) if c]
    parts = _parts(tidied.points, firm)
    if not parts:
        return Part((), (), _open_ends(tidied, pieces, hang), (), ())
    parts.sort(key=lambda part: (-round(part.size, 6), part.ring))
    notes = []
    main = parts[0]
    inside = [p for p in parts[1:] if _within(p, main)]
    if not stated and (block := _block_in_ring(main, inside)):
        notes.append(Note("ignored", "outer outline ignored: the block is inside it, one allowance in", 1))
        parts.remove(main)
        main = block
        inside = [p for p in parts if p is not main and _within(p, main)]
    area = _Area(Polygon(main.ring).buffer(1e-9))
    own = [p for p in main.pieces if area.holds(_midpoint(tidied.points, p))]
    kept = own + [p for part in inside for p in part.pieces]
    hang_in = [p for p in hang if area.holds(_midpoint(tidied.points, p))]
    hang_out = [p for p in hang if not area.holds(_midpoint(tidied.points, p))]
    on_block = {n for p in own for n in (p.start, p.end)}
    seam_lines = {p.line for p in own} - _ring_lines(main, own)
    tied, runs_on, free = _outside(hang_out, on_block, seam_lines)
    apart = [part for part in parts if part is not main and part not in inside]
    # A legend or a small picture of the block is furniture; a second block of like size is not.
    rivals = [part for part in apart if part.faces > 1 and part.size >= RIVAL * main.size]
    outside += len(apart) + free
    if outside:
        what = "1 line or shape" if outside == 1 else f"{outside} lines or shapes"
        notes.append(Note("ignored", f"{what} outside the block ignored", outside))
    if runs_on:
        what = "1 seam runs" if len(runs_on) == 1 else f"{len(runs_on)} seams run"
        places = tuple(tidied.points[p.start if p.start in on_block else p.end] for p in runs_on)
        notes.append(Note("ignored", f"{what} on outside the block; ignored there", len(runs_on), None, places))
    return Part(
        pieces=tuple(kept),
        ring=main.ring,
        open_ends=_open_ends(tidied, pieces, hang_in),
        loose_outside=_open_ends(tidied, pieces, tied),
        notes=tuple(notes),
        rivals=tuple((bounds(part.ring)[0], bounds(part.ring)[1]) for part in rivals),
    )


@dataclass(frozen=True, slots=True)
class _Closed:
    """A connected part without hanging pieces: its pieces, outer ring, area inside that, number of faces."""

    pieces: tuple[Piece, ...]
    nodes: tuple[int, ...]
    ring: tuple[Point, ...]
    size: float
    faces: int


class _Area:
    """An area that many places are looked up in."""

    def __init__(self, polygon: Polygon) -> None:
        self._polygon = polygon
        shapely.prepare(polygon)

    def holds(self, place: shapely.Point) -> bool:
        return bool(shapely.covers(self._polygon, place))


def _same_face(points: Sequence[Point], pieces: Sequence[Piece]) -> list[bool]:
    face = [0] * (2 * len(pieces))
    for number, cycle in enumerate(Halves(points, pieces).cycles()):
        for half in cycle:
            face[half] = number
    return [face[2 * i] == face[2 * i + 1] for i in range(len(pieces))]


def _parts(points: Sequence[Point], pieces: Sequence[Piece]) -> list[_Closed]:
    union = Union(len(points))
    for p in pieces:
        union.merge(p.start, p.end)
    halves = Halves(points, pieces)
    cycles: dict[int, list[tuple[float, list[int], list[Point]]]] = {}
    for cycle in halves.cycles():
        ring = halves.ring(cycle)
        cycles.setdefault(union.find(halves.origin(cycle[0])), []).append((signed_area(ring), cycle, ring))
    found = []
    for root, some in cycles.items():
        _, cycle, _ = min(some, key=lambda c: c[0])
        nodes, loop = _largest_loop(halves, cycle)
        own = tuple(p for p in pieces if union.find(p.start) == root)
        found.append(_Closed(own, nodes, loop, abs(signed_area(loop)), sum(a > 0 for a, _, _ in some)))
    return found


def _largest_loop(halves: Halves, cycle: list[int]) -> tuple[tuple[int, ...], tuple[Point, ...]]:
    """Of a walk that comes back to a point it has passed, the largest simple loop."""
    loops: list[list[int]] = []
    path: list[int] = []
    seen: dict[int, int] = {}
    for half in [*cycle, cycle[0]]:
        node = halves.origin(half)
        if node in seen:
            loop = path[seen[node] :]
            loops.append(loop)
            for gone in loop:
                del seen[halves.origin(gone)]
            del path[len(path) - len(loop) :]
        seen[node] = len(path)
        path.append(half)
    best = max(loops, key=lambda some: abs(signed_area(halves.ring(some))))
    return tuple(halves.origin(h) for h in best), tuple(halves.ring(best))


def _within(part: _Closed, other: _Closed) -> bool:
    return part.size < other.size and bool(Polygon(other.ring).contains(shapely.Point(part.ring[0])))


def _block_in_ring(outer: _Closed, inside: list[_Closed]) -> _Closed | None:
    """The part inside a single ring of constant width, at most RING_IN, that has seams of its own."""
    if outer.faces != 1 or len(inside) == 0:
        return None
    best = max(inside, key=lambda p: p.size)
    if best.faces < 2 or any(p is not best and not _within(p, best) for p in inside):
        return None
    inner, whole = Polygon(best.ring), Polygon(outer.ring)
    width = inner.exterior.distance(whole.exterior)
    if not 0 < width <= RING_IN:
        return None
    grown = inner.buffer(width, join_style="mitre", mitre_limit=100)
    slack = width / 8
    alike = grown.buffer(slack, join_style="mitre").contains(whole) and whole.buffer(
        slack, join_style="mitre"
    ).contains(grown)
    return best if alike else None


def _ring_lines(main: _Closed, own: Sequence[Piece]) -> set[int]:
    nodes = main.nodes
    pairs = {frozenset(p) for p in zip(nodes, nodes[1:] + nodes[:1], strict=True)}
    return {p.line for p in own if frozenset((p.start, p.end)) in pairs}


def _outside(
    hang: Sequence[Piece], on_block: set[int], seam_lines: set[int]
) -> tuple[list[Piece], list[Piece], int]:
    """Hanging pieces outside: those tied to the block, the seams that merely run on, how many parts are free."""
    union = Union(max((n for p in hang for n in (p.start, p.end)), default=-1) + 1)
    for p in hang:
        for n in (p.start, p.end):
            if n not in on_block:
                union.merge(n, p.end if p.start in on_block else p.start)
    groups: dict[int, list[Piece]] = {}
    for p in hang:
        groups.setdefault(union.find(p.end if p.start in on_block else p.start), []).append(p)
    tied: list[Piece] = []
    runs_on: list[Piece] = []
    free = 0
    for group in groups.values():
        links = [p for p in group if p.start in on_block or p.end in on_block]
        if not links:
            free += 1
        elif all(p.line in seam_lines for p in group):
            runs_on += links
        else:
            tied += group
    return tied, runs_on, free


def _open_ends(tidied: Tidied, pieces: Sequence[Piece], hang: Sequence[Piece]) -> tuple[OpenEnd, ...]:
    if not hang:
        return ()
    degree: dict[int, int] = {}
    for p in pieces:
        for n in (p.start, p.end):
            degree[n] = degree.get(n, 0) + 1
    lines = shapely.linestrings(np.array([(tidied.points[p.start], tidied.points[p.end]) for p in pieces]))
    owner = np.array([p.line for p in pieces])
    found = []
    ends_of_lines: set[int] = set()
    for p in hang:
        for n in (p.start, p.end):
            if degree[n] == 1:
                away = np.atleast_1d(shapely.distance(shapely.Point(tidied.points[n]), lines))[owner != p.line]
                gap = float(away.min()) if away.size else None
                found.append(OpenEnd(tidied.points[n], gap, tidied.sources[p.line]))
                ends_of_lines.add(p.line)
    if not found:
        p = hang[0]
        at = _midpoint(tidied.points, p)
        found.append(OpenEnd((at.x, at.y), None, tidied.sources[p.line], bridge=True))
    return tuple(sorted(found, key=lambda e: (e.at[1], e.at[0])))


def _midpoint(points: Sequence[Point], piece: Piece) -> shapely.Point:
    run = [points[piece.start], *piece.via, points[piece.end]]
    k = len(run) // 2
    (ax, ay), (bx, by) = run[k - 1], run[k]
    return shapely.Point((ax + bx) / 2, (ay + by) / 2)
