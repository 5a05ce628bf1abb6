"""A point moved with all that meets in it.

Knows:  which seams end, bend or cross in a point, what follows when they move, what keeps a point where it is.
Leaves: where seams meet (network), new points on lines that carry others (following), writing (draft).
Units:  inches of the finished block.
Method: what lies in the point goes to the new place. A seam that only runs through it gets a bend there, unless the
        new place lies on that seam: then the point slides along it. A point on the block's edge slides along the
        edge; a corner that the drawing states takes the edge with it.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise

from seamwright.geometry import Point, foot
from seamwright.sketch.draft import SAME_IN, Draft, Rewriting, checked, draft_of, refuse
from seamwright.sketch.edits import Move
from seamwright.sketch.following import Bearing, Vertex, similar, through
from seamwright.sketch.network import Network, network_of, on_segment
from seamwright.sketch.outline import refitted
from seamwright.sketch.patches import coloured, with_fabrics
from seamwright.sketch.strand import Strand
from seamwright.units import say_point


def point_moved(text: str, edit: Move) -> str:
    """The text with a point in another place.

    Raises:
        DrawingError: the text cannot be read. OptionError: nothing lies in the point, or what moves would leave
            the block.
    """
    draft = draft_of(text)
    sides = draft.sides
    network = network_of(draft.strands, sides, draft.near, [edit.start])
    node = network.node_at(edit.start, draft.near)
    assert node is not None
    here = [(k, stop) for k, stops in enumerate(network.along) for stop in stops if stop.node == node]
    edges = [k for k, stops in enumerate(network.sides) if any(stop.node == node for stop in stops)]
    corner = any(stop.node == node and stop.corner is not None for stops in network.sides for stop in stops)
    takes_edge = corner and bool(draft.facts.outline)
    if not here and not takes_edge:
        return _pulled(draft, edit)
    end = edit.end
    if edges and not takes_edge:
        end = _on_edge(end, sides, edges, draft.near)
    elif not takes_edge:
        _stay_inside(draft, [(end, end)], "the point")
    bearing = Bearing(draft.strands, network, sides if takes_edge else ())
    bends = False
    for k, stop in here:
        if stop.corner is not None:
            bends = True
            continue
        flat = network.flats[k]
        if draft.strands[k].straight:
            if not any(
                on_segment(end, pair, draft.near) and on_segment(network.nodes[node], pair, draft.near)
                for pair in pairwise(flat)
            ):
                bearing.bend(k, stop)
                bends = True
        elif any(on_segment(end, pair, draft.near) for pair in pairwise(flat)):
            end = min((foot(end, *pair, between=True) for pair in pairwise(flat)), key=lambda p: math.dist(p, end))
        else:
            bearing.remade[k] = through(draft.strands[k], stop.at, network.nodes[node], end)
            bends = True
    if not bends and not takes_edge:
        return text
    bearing.settle(node, end)
    return _written(draft, network, bearing, sides, takes_edge)


def _pulled(draft: Draft, edit: Move) -> str:
    """A point that pulls a curve without lying on it."""
    rewriting = Rewriting(draft)
    found = False
    for run in draft.facts.runs:
        for place in run.places[1:-1] if run.kind == "bending" else ():
            if math.dist(draft.measured.point(place), edit.start) <= draft.near:
                rewriting.put(place, edit.end)
                found = True
    if not found:
        raise refuse(
            f"no seam ends, bends or crosses at {say_point(edit.start)}",
            "Take hold of a point or a seam",
            edit.start,
        )
    return checked(rewriting.text(), "the curve")


def _on_edge(end: Point, sides: Sequence[Sequence[Point]], own: Sequence[int], near: float) -> Point:
    """Where a point on the edge goes: along it, on whichever side it is told to, else on its own."""

    def nearest(numbers: Sequence[int]) -> Point:
        feet = [
            foot(end, *pair, between=True) for k in numbers for pair in pairwise(sides[k]) if pair[0] != pair[1]
        ]
        return min(feet, key=lambda p: math.dist(p, end))

    anywhere = nearest(range(len(sides)))
    if math.dist(anywhere, end) > near:
        return nearest(own)
    return end if math.dist(anywhere, end) <= SAME_IN else anywhere


def _stay_inside(draft: Draft, pieces: Sequence[tuple[Point, Point]], what: str) -> None:
    """Refuse what would leave the block."""
    import shapely

    area = shapely.Polygon(draft.outline).buffer(draft.near)
    for a, b in pieces:
        if not area.covers(shapely.LineString((a, b)) if a != b else shapely.Point(a)):
            out = a if a == b or not area.covers(shapely.Point(a)) else b
            raise refuse(
                f"{what} would leave the block at {say_point(out)}",
                "Move it less far, or make the block larger",
                out,
            )


def _written(
    draft: Draft, network: Network, bearing: Bearing, sides: Sequence[Sequence[Point]], takes_edge: bool
) -> str:
    rewriting = Rewriting(draft)
    pieces: list[tuple[Point, Point]] = []
    for k, (run, strand) in enumerate(zip(draft.facts.runs, draft.strands, strict=True)):
        if not strand.straight:
            curve = bearing.curve(k)
            if curve != strand:
                pieces += pairwise(curve.flat())
                if curve.kind != strand.kind:
                    rewriting.replace(run, [curve])
                else:
                    for place, to in zip(run.places, curve.points, strict=True):
                        rewriting.put(place, to)
            continue
        vertices = bearing.vertices[k]
        if not any(bearing.moved(v.node) for v in vertices):
            continue
        kept = _without_idle(vertices, bearing, strand)
        points = [_place(v, bearing, strand) for v in kept]
        pieces += pairwise(points)
        if [v.corner for v in kept] == list(range(len(strand.points))):
            for place, to in zip(run.places, points, strict=True):
                rewriting.put(place, to)
        else:
            rewriting.replace(run, [Strand("seam", tuple(points))] if len(points) > 1 else [])
    if takes_edge:
        _edge_written(draft, network, bearing, sides, rewriting)
    else:
        _stay_inside(draft, pieces, "a seam")
    text = with_fabrics(rewriting.text(), coloured(draft, bearing.image))
    return checked(refitted(text) if takes_edge else text, "the block")


def _place(vertex: Vertex, bearing: Bearing, strand: Strand) -> Point:
    if vertex.corner is None or bearing.moved(vertex.node):
        return bearing.at[vertex.node]
    return strand.points[vertex.corner]


def _without_idle(vertices: Sequence[Vertex], bearing: Bearing, strand: Strand) -> list[Vertex]:
    """The points of a seam without bends that are none, and without steps of no length."""
    kept: list[Vertex] = []
    for k, vertex in enumerate(vertices):
        at = _place(vertex, bearing, strand)
        if vertex.corner is None:
            before, after = (_place(vertices[j], bearing, strand) for j in (k - 1, k + 1))
            if on_segment(at, (before, after), SAME_IN):
                continue
        if kept and math.dist(_place(kept[-1], bearing, strand), at) <= SAME_IN:
            continue
        kept.append(vertex)
    return kept


def _edge_written(
    draft: Draft, network: Network, bearing: Bearing, sides: Sequence[Sequence[Point]], rewriting: Rewriting
) -> None:
    """The outline with its corner in another place; curved sides keep their form."""

    def to(point: Point) -> Point:
        node = network.node_at(point, SAME_IN)
        return bearing.at[node] if node is not None and bearing.moved(node) else point

    for place in draft.facts.outline:
        rewriting.put(place, to(draft.measured.point(place)))
    for run in draft.facts.sides:
        points = [draft.measured.point(place) for place in run.places]
        a, b = points[0], points[-1]
        if (to(a), to(b)) != (a, b):
            for place, p in zip(run.places, points, strict=True):
                rewriting.put(place, similar(p, (a, b), (to(a), to(b))))
