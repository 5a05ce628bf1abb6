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

from seamwright.geometry import Point, Segment, foot
from seamwright.sketch.draft import SAME_IN, Draft, Rewriting, checked, draft_of, refuse
from seamwright.sketch.edits import Move
from seamwright.sketch.following import Bearing, Vertex
from seamwright.sketch.network import Network, nearest, network_of, on_segment
from seamwright.sketch.outline import refitted
from seamwright.sketch.patches import coloured, with_fabrics
from seamwright.sketch.reshaped import similar, through
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
    old = network.nodes[node]
    passing = {(k, stop.at): _pieces_at(draft, network, k, old) for k, stop in here if stop.corner is None}
    if not edges and not takes_edge:
        end = _on_seams(end, old, list(passing.values()), draft.near)
    bearing = Bearing(draft.strands, network, sides if takes_edge else ())
    bends = False
    for k, stop in here:
        pieces = passing.get((k, stop.at), [])
        within = draft.near if edges else _away(old, pieces) + SAME_IN
        if stop.corner is None and _away(end, pieces) <= within:
            continue
        bends = True
        if stop.corner is None and draft.strands[k].straight:
            bearing.bend(k, stop)
        elif stop.corner is None:
            bearing.remade[k] = through(draft.strands[k], stop.at, old, end)
    if not bends and not takes_edge:
        return text
    bearing.settle(node, end)
    return _written(draft, network, bearing, sides, takes_edge)


def _pieces_at(draft: Draft, network: Network, k: int, at: Point) -> list[Segment]:
    """The pieces of a seam along which a point on it may slide: those it lies on, of a curve all."""
    pieces = list(pairwise(network.flats[k]))
    return [p for p in pieces if on_segment(at, p, draft.near)] if draft.strands[k].straight else pieces


def _away(point: Point, pieces: Sequence[Segment]) -> float:
    return min((math.dist(point, nearest(point, piece)) for piece in pieces), default=math.inf)


def _on_seams(end: Point, old: Point, passing: Sequence[Sequence[Segment]], near: float) -> Point:
    """Where a point goes that seams run through: onto one of them if it is set down as near as to lie on it.

    Off a crossing it must be carried farther than that, or it stays.
    """
    found = [pieces for pieces in passing if _away(end, pieces) <= near]
    if not found:
        return end
    on = min((nearest(end, piece) for pieces in found for piece in pieces), key=lambda p: math.dist(p, end))
    if math.dist(on, end) <= SAME_IN:
        on = end
    apart = any(_away(on, pieces) > _away(old, pieces) + SAME_IN for pieces in found)
    return old if apart and math.dist(end, old) <= near else on


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
        kept = _without_idle(k, vertices, bearing)
        points = [bearing.place(k, v) for v in kept]
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


def _without_idle(seam: int, vertices: Sequence[Vertex], bearing: Bearing) -> list[Vertex]:
    """The points of a seam without bends that are none, and without steps of no length."""
    places = [bearing.place(seam, vertex) for vertex in vertices]
    kept: list[int] = []
    for k, vertex in enumerate(vertices):
        if vertex.corner is None and on_segment(places[k], (places[k - 1], places[k + 1]), SAME_IN):
            continue
        if kept and math.dist(places[kept[-1]], places[k]) <= SAME_IN:
            continue
        kept.append(k)
    return [vertices[k] for k in kept]


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
