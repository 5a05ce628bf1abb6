"""Fabrics stay with their patches while seams move, come and go.

Knows:  the patches of a drawing, finished or not; which point names the fabric of which; of what a divided one is.
Leaves: patches of a tidied block (block), painting one (painting).
Units:  inches of the finished block.
Method: a patch after a change is of the fabric of that patch before it that it shares most area with, moved as its
        corners moved. Points that would lie in a patch of another fabric go where one of theirs is missing; what
        then is missing is added, what is left over goes.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from seamwright.drawing.textwrite import neat
from seamwright.geometry import Point
from seamwright.sketch.draft import Draft, Rewriting, unchecked
from seamwright.sketch.painting import lay, unlay

if TYPE_CHECKING:
    from shapely.geometry import Polygon

CLEAR_IN = 0.02
"""A point nearer than this to a seam names no patch for sure: seams may still be tidied."""

GRID_IN = 1e-6
"""Areas are shared on a grid: where edges lie on each other but for rounding, GEOS may take outside for inside."""


@dataclass(frozen=True, slots=True)
class Coloured:
    """A patch and its fabric."""

    area: Polygon
    fabric: str


def coloured(draft: Draft, to: Callable[[Point], Point] | None = None) -> list[Coloured]:
    """The patches that have a fabric.

    Args:
        to: where each of their corners goes.
    """
    if not draft.facts.laid:
        return []
    import shapely

    faces = faces_of(draft)
    tree = shapely.STRtree(faces)
    found: dict[int, str] = {}
    for fabric, place, _ in draft.facts.laid:
        for k in tree.query(shapely.Point(draft.measured.point(place)), predicate="within").tolist():
            found.setdefault(k, fabric)
    made = []
    for k, fabric in found.items():
        area = faces[k] if to is None else _moved(faces[k], to)
        if area is not None:
            made.append(Coloured(area, fabric))
    return made


def faces_of(draft: Draft) -> list[Polygon]:
    """The patches of a drawing; what ends in the open parts nothing."""
    import shapely

    network = draft.network
    runs = [points for k in range(len(network.along)) for points in network.parts(k)]
    runs += [points for k in range(len(network.sides)) for points in network.side_parts(k)]
    lines = {min(run, run[::-1]): shapely.LineString(run) for run in runs if len(run) > 2 or run[0] != run[-1]}
    found: list[Polygon] = shapely.get_parts(shapely.polygonize(list(lines.values()))).tolist()
    block = shapely.Polygon(draft.outline)
    shapely.prepare(block)
    return [face for face in found if block.contains(face.representative_point())]


def with_fabrics(text: str, before: Sequence[Coloured]) -> str:
    """The text with its fabrics where they were.

    Args:
        text: with other seams, the points of fabrics as they were; some may lie outside of the block.
        before: patches that had a fabric.
    """
    if not before:
        return text
    import shapely

    draft = unchecked(text)
    faces = faces_of(draft)
    wanted = _wanted(faces, before)
    tree = shapely.STRtree(faces)
    places = [place for _, place, _ in draft.facts.laid]
    named: set[int] = set()
    homeless: list[int] = []
    for number, (fabric, place, _) in enumerate(draft.facts.laid):
        at = shapely.Point(draft.measured.point(place))
        k = next(iter(tree.query(at, predicate="within").tolist()), None)
        if k is not None and k in named:
            continue  # the first point in a patch counts
        if k is None or wanted.get(k) != fabric or faces[k].boundary.distance(at) < _clear(faces[k]):
            homeless.append(number)
        else:
            named.add(k)
    rewriting = Rewriting(draft)
    gone = []
    for number in homeless:
        fabric = draft.facts.laid[number][0]
        free = [k for k, of in wanted.items() if of == fabric and k not in named]
        if not free:
            gone.append(places[number])
            continue
        at = shapely.Point(draft.measured.point(places[number]))
        k = min(free, key=lambda k: faces[k].distance(at))
        rewriting.put(places[number], _middle(draft, faces[k]))
        named.add(k)
    missing = [(of, _middle(draft, faces[k])) for k, of in wanted.items() if k not in named]
    text = rewriting.text()
    if gone or missing:
        text = _laid_anew(text, [places.index(place) for place in gone], missing)
    return text


def _laid_anew(text: str, gone: Sequence[int], missing: Sequence[tuple[str, Point]]) -> str:
    """The text without some of the points of fabrics, by number, and with others."""
    draft = unchecked(text)
    rewriting = Rewriting(draft)
    places = [place for _, place, _ in draft.facts.laid]
    out = [places[number] for number in gone]
    unlay(rewriting.written, draft.facts, out)
    left = [(fabric, place) for fabric, place, _ in draft.facts.laid if place not in out]
    for fabric, at in missing:
        lay(rewriting.written, draft.facts, left, fabric, rewriting.figures(at))
    return rewriting.written.text()


def _wanted(faces: Sequence[Polygon], before: Sequence[Coloured]) -> dict[int, str]:
    """The fabric of each patch that is to have one."""
    import shapely

    same = {_key(patch.area): patch.fabric for patch in before}
    tree = shapely.STRtree([patch.area for patch in before])
    found = {}
    for k, face in enumerate(faces):
        if (fabric := same.get(_key(face))) is not None:
            found[k] = fabric
            continue
        shares = [
            (shapely.intersection(patch.area, face, grid_size=GRID_IN).area, patch)
            for patch in (before[j] for j in tree.query(face).tolist())
        ]
        area, patch = max(shares, key=lambda share: share[0], default=(0.0, None))
        # Part of the old patch, or with most of it in it.
        if patch is not None and area > min(face.area, patch.area.area) / 2:
            found[k] = patch.fabric
    return found


def _key(area: Polygon) -> frozenset[tuple[float, float]]:
    return frozenset((round(x, 4), round(y, 4)) for x, y in area.exterior.coords)


def _moved(face: Polygon, to: Callable[[Point], Point]) -> Polygon | None:
    """The largest sound part of a patch whose corners have moved; None if nothing is left of it."""
    import shapely

    ring, *holes = ([to((x, y)) for x, y, *_ in r.coords[:-1]] for r in (face.exterior, *face.interiors))
    shape = shapely.make_valid(shapely.Polygon(ring, holes))
    parts = [part for part in shapely.get_parts(shape).tolist() if part.geom_type == "Polygon" and part.area > 1e-9]
    return max(parts, key=lambda part: part.area, default=None)


def _clear(face: Polygon) -> float:
    """How far from its seams a point must lie to name a patch; less in one that is hardly wider."""
    return float(min(CLEAR_IN, face.area / face.length / 2))


def _middle(draft: Draft, face: Polygon) -> Point:
    """A place well inside a patch that the text can say in few figures."""
    from seamwright.ink.place import roomiest

    across, down = draft.square
    ring, *holes = (
        [(x / across, y / down) for x, y, *_ in r.coords[:-1]] for r in (face.exterior, *face.interiors)
    )
    x, y = neat(*roomiest(ring, holes))
    return x * across, y * down
