"""Whether a block that came back from a bad drawing is the one that was meant, and whether what differs is told.

Knows:  two plane maps are the same if their points can be paired, each near its other, so that lines, straight runs
        and faces agree.
Leaves: how drawings go wrong (support.sketchy), how they are tidied: no code is shared with that.
Units:  inches of the drawing.
Method: faces are found by GEOS (shapely.polygonize) from edges as coordinates; where the nearest point is not the
        other one, pairs come from NetworkX's VF2 (L. Cordella et al., "A (Sub)Graph Isomorphism Algorithm for
        Matching Large Graphs", IEEE PAMI 26(10), 2004), with nearness as the condition.
"""

from __future__ import annotations

import math
from collections import Counter
from dataclasses import dataclass

import networkx as nx
import shapely

from seamwright.block.model import Block
from seamwright.errors import DrawingError
from seamwright.geometry import Point

RIGHT, REFUSED, TOLD, UNTOLD, NOWHERE = "right", "refused", "told", "untold", "no place"
OUTCOMES = (RIGHT, REFUSED, TOLD, UNTOLD, NOWHERE)


@dataclass(frozen=True)
class Shown:
    """A block as bare coordinates.

    Attributes:
        points: as drawn; lines: how many edges join two points; runs: sets of points on one seam.
        faces: GEOS's.
    """

    points: list[Point]
    lines: Counter[frozenset[int]]
    runs: set[frozenset[int]]
    faces: list[shapely.Polygon]


def shown(block: Block) -> Shown:
    """What a block says, in the inches of its drawing."""
    left, top = block.lay[4], block.lay[5]
    at = [(x - left, y - top) for x, y in block.points]
    drawn = [(at[e.start], *((x - left, y - top) for x, y in e.via), at[e.end]) for e in block.edges]
    lines = Counter(frozenset((e.start, e.end)) for e in block.edges)
    faces = list(shapely.polygonize([shapely.LineString(run) for run in drawn]).geoms)
    runs = {frozenset(s.points) for s in block.seams}
    return Shown(at, lines, runs, faces)


def differs(meant: Shown, got: Shown, near: float) -> list[Point]:
    """Places at which two blocks differ; [] if they are the same map with every point nearer than `near`."""
    to = _pairs(meant, got, near)
    if to is not None:
        lines = Counter({frozenset(to[n] for n in pair): count for pair, count in meant.lines.items()})
        runs = {frozenset(to[n] for n in run) for run in meant.runs}
        if lines == got.lines and runs == got.runs and _same_faces(meant, got, to):
            return []
        unlike = (lines - got.lines) + (got.lines - lines)
        odd = {n for pair in unlike for n in pair} or {n for run in runs ^ got.runs for n in run}
        return [got.points[n] for n in sorted(odd)] or [got.points[0]]
    return _alone(meant.points, got.points, near) + _alone(got.points, meant.points, near) or [got.points[0]]


def _pairs(meant: Shown, got: Shown, near: float) -> list[int] | None:
    """For each point meant the one that is it; None if they cannot be paired."""
    if len(meant.points) != len(got.points):
        return None
    tree = shapely.STRtree(shapely.points(got.points))
    where, gap = tree.query_nearest(shapely.points(meant.points), return_distance=True, all_matches=False)
    if len(set(where[1])) == len(meant.points) and gap.max() <= near:
        return [int(n) for n in where[1]]
    one, other = _graph(meant), _graph(got)
    matcher = nx.isomorphism.GraphMatcher(one, other, lambda p, q: math.dist(p["at"], q["at"]) <= near)
    if matcher.is_isomorphic():
        return [matcher.mapping[n] for n in range(len(meant.points))]
    return None


def _graph(block: Shown) -> nx.Graph:
    graph = nx.Graph()
    graph.add_nodes_from((n, {"at": p}) for n, p in enumerate(block.points))
    graph.add_edges_from(tuple(pair) for pair in block.lines)
    return graph


def _same_faces(meant: Shown, got: Shown, to: list[int]) -> bool:
    """Whether GEOS finds the same faces in both, told by the points round them."""
    number = {p: n for n, p in enumerate(got.points)}
    as_meant = {p: to[n] for n, p in enumerate(meant.points)}
    one = sorted(_round(face, as_meant) for face in meant.faces)
    return one == sorted(_round(face, number) for face in got.faces)


def _round(face: shapely.Polygon, number: dict[Point, int]) -> list[list[int]]:
    rings = [face.exterior, *face.interiors]
    return sorted(sorted({number[p] for p in ring.coords if p in number}) for ring in rings)


def _alone(points: list[Point], others: list[Point], near: float) -> list[Point]:
    """Points with nothing near them among others that could be theirs."""
    tree = shapely.STRtree(shapely.points(others))
    taken: dict[int, tuple[float, int]] = {}
    alone = []
    where, gaps = tree.query_nearest(shapely.points(points), return_distance=True, all_matches=False)
    for (n, other), gap in zip(where.T.tolist(), gaps.tolist(), strict=True):
        if gap > near:
            alone.append(n)
        elif other in taken:
            alone.append(max((gap, n), taken[other])[1])
            taken[other] = min((gap, n), taken[other])
        else:
            taken[other] = (gap, n)
    return [points[n] for n in alone]


def told(block: Block, places: list[Point], reach: float) -> bool:
    """Whether a note of the block names a place at which it differs, or a patch with such a place on its border.

    Args:
        places: as of `differs`. reach: how near a place that is named must be.
    """
    left, top = block.lay[4], block.lay[5]
    said = shapely.points([(x - left, y - top) for note in block.notes for x, y in note.places_in]).reshape(-1)
    if not said.size:
        return False
    odd = shapely.MultiPoint(places)
    named = [face for face in shown(block).faces if shapely.contains_properly(face, said).any()]
    return bool((shapely.distance(odd, said) <= reach).any()) or any(
        shapely.distance(odd, face) <= 1e-6 for face in named
    )


def has_place(error: DrawingError) -> bool:
    """Whether every fault of an error says where, at least in words where the block is not known yet."""
    return all(fault.at_in is not None or " near (" in fault.what for fault in error.faults)
