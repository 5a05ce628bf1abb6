"""The plane map: from points and pieces that touch only at their ends to faces and seams.

Knows:  which piece follows which round a point, faces, what lies outside, seams as runs of one line.
Leaves: making a drawing exact (tidy), the meaning of seams (piecing).
Method: half-edges sorted by angle round each point; a face is walked by always taking the sharpest right
        turn (y down), as in M. de Berg et al., "Computational Geometry", 3rd ed., section 2.2.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from seamwright.block.model import OUTLINE, OUTSIDE, Block, Edge, Patch, Seam
from seamwright.geometry import Point, bounds, signed_area


@dataclass(frozen=True, slots=True)
class Piece:
    """A piece of line between two neighbouring points.

    Attributes:
        start, end: point numbers, different.
        line: identity of the straight line (or curve) it lies on. Two pieces of one line that meet at a point run
            straight on into each other there; a line has at most two pieces at a point.
        via: inner points of a curve; () when straight.
    """

    start: int
    end: int
    line: int
    via: tuple[Point, ...] = ()


def build_block(name: str, file: str, points: Sequence[Point], pieces: Sequence[Piece]) -> Block:
    """The block of a plane map; its points keep their numbers, but the origin moves to the outline's top left.

    Args:
        points: inches, x right and y down; every one is used by some piece.
        pieces: they touch only at their ends; none is drawn twice; every one lies between two different faces.

    Returns:
        A block without fabrics. The parts inside the largest outer border count; what floats in a face is a hole.

    Raises:
        ValueError: a piece has one and the same face on both sides (it hangs or is a bridge), or parts lie outside.
    """
    halves = Halves(points, pieces)
    cycles = halves.cycles()
    rings = [halves.ring(cycle) for cycle in cycles]
    areas = [signed_area(ring) for ring in rings]
    # The walk round the outside of a part runs anticlockwise: its area is negative.
    outer = min(range(len(cycles)), key=lambda c: areas[c])
    faces = [c for c in range(len(cycles)) if areas[c] > 0]
    face_of_cycle = {cycle: face for face, cycle in enumerate(faces)}
    face_of_cycle[outer] = OUTSIDE
    holes: dict[int, list[int]] = {}
    for cycle in range(len(cycles)):
        if cycle not in face_of_cycle:
            face = _face_round(rings[cycle], [rings[f] for f in faces], [areas[f] for f in faces])
            face_of_cycle[cycle] = face
            holes.setdefault(face, []).append(cycle)
    face_of_half = [0] * (2 * len(pieces))
    for number, cycle_halves in enumerate(cycles):
        for half in cycle_halves:
            face_of_half[half] = face_of_cycle[number]
    for number, piece in enumerate(pieces):
        if face_of_half[2 * number] == face_of_half[2 * number + 1]:
            raise ValueError(f"piece {number} from {points[piece.start]} to {points[piece.end]} parts no two faces")

    on_outline = [OUTSIDE in sides for sides in zip(face_of_half[::2], face_of_half[1::2], strict=True)]
    seams, seam_of_piece = _seams(pieces, on_outline)
    left, top, right, bottom = bounds(rings[outer])
    shift = (lambda p: p) if (left, top) == (0.0, 0.0) else (lambda p: (p[0] - left, p[1] - top))
    return Block(
        name=name,
        file=file,
        width_in=right - left,
        height_in=bottom - top,
        points=tuple(shift(p) for p in points),
        edges=tuple(
            Edge(
                piece.start,
                piece.end,
                seam_of_piece[i],
                left=face_of_half[2 * i + 1],
                right=face_of_half[2 * i],
                via=tuple(shift(p) for p in piece.via) if piece.via else (),
            )
            for i, piece in enumerate(pieces)
        ),
        seams=tuple(seams),
        patches=tuple(
            Patch(
                ring=tuple(map(halves.origin, cycles[cycle])),
                edges=tuple([h // 2 for h in cycles[cycle]]),
                holes=tuple(tuple(map(halves.origin, cycles[hole])) for hole in holes.get(face, ())),
                hole_edges=tuple(tuple(h // 2 for h in cycles[hole]) for hole in holes.get(face, ())),
            )
            for face, cycle in enumerate(faces)
        ),
        outline=tuple(halves.origin(h ^ 1) for h in reversed(cycles[outer])),
        outline_edges=tuple(h // 2 for h in reversed(cycles[outer])),
    )


class Halves:
    """Both directions of every piece: half 2 i runs from start to end of piece i, half 2 i + 1 back."""

    def __init__(self, points: Sequence[Point], pieces: Sequence[Piece]) -> None:
        self.points, self.pieces = points, pieces
        self._origins = [point for piece in pieces for point in (piece.start, piece.end)]
        spokes: list[list[int]] = [[] for _ in points]
        for half, point in enumerate(self._origins):
            spokes[point].append(half)
        self._next = [0] * (2 * len(pieces))
        for around in spokes:
            around.sort(key=self._angle)
            for before, half in zip(around[-1:] + around[:-1], around, strict=True):
                # Arriving against `half`, the sharpest right turn leaves on the spoke before it.
                self._next[half ^ 1] = before

    def origin(self, half: int) -> int:
        """The point at which a half starts."""
        return self._origins[half]

    def run(self, half: int) -> list[Point]:
        """Points along the half, its last one left out."""
        start, via = self.points[self._origins[half]], self.pieces[half // 2].via
        return [start, *(reversed(via) if half % 2 else via)] if via else [start]

    def ring(self, cycle: list[int]) -> list[Point]:
        """Coordinates along halves, the last one's end left out."""
        return [p for half in cycle for p in self.run(half)]

    def cycles(self) -> list[list[int]]:
        """The walks round all faces: clockwise inside, anticlockwise round the outside of each part."""
        found: list[list[int]] = []
        seen = [False] * len(self._next)
        for first in range(len(self._next)):
            if seen[first]:
                continue
            cycle, half = [], first
            while not seen[half]:
                seen[half] = True
                cycle.append(half)
                half = self._next[half]
            found.append(cycle)
        return found

    def _angle(self, half: int) -> float:
        start, via = self.points[self._origins[half]], self.pieces[half // 2].via
        ahead = via[-(half % 2)] if via else self.points[self._origins[half ^ 1]]
        return math.atan2(ahead[1] - start[1], ahead[0] - start[0])


def _seams(pieces: Sequence[Piece], on_outline: list[bool]) -> tuple[list[Seam], list[int]]:
    """Runs of pieces of one line, and for each piece the number of its seam."""
    at: dict[tuple[int, int], list[int]] = {}
    for number, piece in enumerate(pieces):
        if not on_outline[number]:
            at.setdefault((piece.line, piece.start), []).append(number)
            at.setdefault((piece.line, piece.end), []).append(number)
    seam_of = [OUTLINE] * len(pieces)
    seams: list[Seam] = []

    def walk(number: int, point: int) -> tuple[list[int], list[int]]:
        """Edges and points from edge `number` on, leaving it at `point`."""
        edges, points = [number], [point]
        while True:
            one, two = (*at[pieces[number].line, point], number)[:2]
            after = two if one == number else one
            if after in (number, edges[0]):
                return edges, points
            number = after
            point = pieces[number].end if pieces[number].start == point else pieces[number].start
            edges.append(number)
            points.append(point)

    for number, piece in enumerate(pieces):
        if on_outline[number] or seam_of[number] != OUTLINE:
            continue
        ahead_edges, ahead_points = walk(number, piece.end)
        closed = ahead_points[-1] == piece.start
        back_edges, back_points = ([number], [piece.start]) if closed else walk(number, piece.start)
        edges = back_edges[:0:-1] + ahead_edges
        points = back_points[::-1] + ahead_points
        for edge in edges:
            seam_of[edge] = len(seams)
        seams.append(Seam(tuple(points), tuple(edges), straight=not any(pieces[e].via for e in edges)))
    return seams, seam_of


def _face_round(ring: Sequence[Point], faces: Sequence[Sequence[Point]], areas: Sequence[float]) -> int:
    """Number of the smallest face that holds `ring`."""
    from shapely.geometry import Polygon

    inner = Polygon(ring).representative_point()
    size = abs(signed_area(ring))
    holding = [f for f in range(len(faces)) if areas[f] > size and Polygon(faces[f]).contains(inner)]
    if not holding:
        raise ValueError(f"a part at {ring[0]} lies outside the block")
    return min(holding, key=lambda f: areas[f])
