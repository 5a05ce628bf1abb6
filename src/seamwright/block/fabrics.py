"""Which patch is of which fabric.

Knows:  swatches, words and fills that lie in patches; words beat fills for the name and may tell more of the
        fabric, fills give the colour.
Leaves: reading them (drawing), what a fabric is good for (fabric).
Units:  inches of the finished block.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import replace

import shapely
from shapely.geometry import MultiPolygon, Polygon

from seamwright.block.model import Block
from seamwright.drawing.fabricline import fabric_in_words
from seamwright.drawing.model import Drawing
from seamwright.fabric.model import Fabric
from seamwright.geometry import Point
from seamwright.notes import Note
from seamwright.units import quoted

NUMBERED = re.compile(r"[A-Za-z]{0,3}[ .-]?\d+[a-z]?")
"""A number, or letters and a number: a label of a patch, no fabric."""
_GRIDS_IN = (1e-7, 1e-6, 1e-5)
SHARE = 0.05
"""A second colour that covers less of a patch than this is a border's noise."""


def with_fabrics(block: Block, drawing: Drawing, lay: Callable[[Point], Point]) -> Block:
    """The block with the fabric of each patch.

    Args:
        drawing: as read; `lay` takes its points to finished inches.
    """
    if not (drawing.fills or drawing.labels or drawing.swatches or drawing.colourways):
        return block
    areas = [Polygon(block.patch_ring(n), block.patch_holes(n)) for n in range(len(block.patches))]
    tree = shapely.STRtree(areas)
    known = {f.name: f for f in drawing.fabrics}
    notes: list[Note] = []
    colour = _filled(drawing, lay, areas, tree, notes)
    names: dict[int, str] = dict(colour)
    worded = _worded(drawing, lay, areas, tree, notes)
    names.update((patch, fabric.name) for patch, fabric in worded)
    said = _said(worded, areas, notes)
    names.update(_laid(drawing, lay, tree, notes))
    fabrics: dict[str, Fabric] = {}
    clashes = []
    for number in range(len(areas)):
        name = names.get(number)
        if name is None:
            continue
        fill = colour.get(number, "")
        shade = known[fill].colour if fill in known else fill if fill.startswith("#") else None
        fabric = fabrics.get(name) or known.get(name) or said.get(name) or Fabric(name)
        if shade and fabric.colour is None:
            fabric = replace(fabric, colour=shade)
        elif shade and fabric.colour != shade:
            clashes.append((name, number))
        fabrics[name] = fabric
    for name in sorted({n for n, _ in clashes}):
        places = tuple(_middle(areas[k]) for n, k in clashes if n == name)
        notes.append(
            Note("fabric", f"{name} has more than one colour; the first is used", len(places), None, places)
        )
    # A fabric that only another colourway uses stays known too.
    changed = {name for way in drawing.colourways for pair in way.changes for name in pair}
    fabrics.update((f.name, f) for f in drawing.fabrics if f.name in changed and f.name not in fabrics)
    order = [f.name for f in drawing.fabrics if f.name in fabrics] + [n for n in fabrics if n not in known]
    return replace(
        block,
        patches=tuple(replace(p, fabric=names.get(n)) for n, p in enumerate(block.patches)),
        fabrics=tuple(fabrics[n] for n in order),
        notes=(*block.notes, *notes),
    )


def _said(worded: list[tuple[int, Fabric]], areas: list[Polygon], notes: list[Note]) -> dict[str, Fabric]:
    """What words in patches say of each fabric; where several do, the first that says more than its name counts."""
    found: dict[str, Fabric] = {}
    clashes: dict[str, list[Point]] = {}
    for number, fabric in worded:
        if fabric == Fabric(fabric.name):
            continue
        if found.setdefault(fabric.name, fabric) != fabric:
            clashes.setdefault(fabric.name, []).append(_middle(areas[number]))
    for name, places in clashes.items():
        text = f"{name} is described in more than one way; the first is used"
        notes.append(Note("fabric", text, len(places), None, tuple(places)))
    return found


def _laid(
    drawing: Drawing,
    lay: Callable[[Point], Point],
    tree: shapely.STRtree,
    notes: list[Note],
) -> dict[int, str]:
    """For each patch the fabric stated at a point in it, the first that is stated."""
    names: dict[int, str] = {}
    for swatch in drawing.swatches:
        at = lay(swatch.at)
        inside = _patch_at(at, tree)
        if not inside:
            told = f"{swatch.source}: the point of {swatch.fabric} lies on a seam, in no patch; move it into one"
        elif names.setdefault(inside[0], swatch.fabric) != swatch.fabric:
            told = (
                f"{swatch.source}: {swatch.fabric} is laid where {names[inside[0]]} lies already; the first is used"
            )
        else:
            continue
        notes.append(Note("fabric", told, 1, None, (at,)))
    return names


def _patch_at(at: Point, tree: shapely.STRtree) -> list[int]:
    return sorted(int(n) for n in tree.query(shapely.Point(at), "within"))[:1]


def _middle(area: Polygon) -> Point:
    p = area.representative_point()
    return (p.x, p.y)


def _filled(
    drawing: Drawing,
    lay: Callable[[Point], Point],
    areas: list[Polygon],
    tree: shapely.STRtree,
    notes: list[Note],
) -> dict[int, str]:
    """For each patch the fabric of the fill that covers most of it."""
    cover: dict[int, dict[str, float]] = {}
    for fill in drawing.fills:
        outer, *holes = ([lay(p) for p in ring] for ring in fill.rings)
        if len(outer) < 3:
            continue
        whole = shapely.make_valid(Polygon(outer, [h for h in holes if len(h) > 2]))
        # What a crooked fill leaves of lines and points has no area.
        shape = MultiPolygon(
            [part for part in shapely.get_parts(shapely.get_parts(whole)) if isinstance(part, Polygon)]
        )
        for number in sorted(int(n) for n in tree.query(shape, "intersects")):
            share = _shared_area(areas[number], shape)
            some = cover.setdefault(number, {})
            some[fill.fabric] = some.get(fill.fabric, 0.0) + share
    names = {}
    mixed = []
    for number, some in sorted(cover.items()):
        ranked = sorted(some, key=lambda f: (-round(some[f] / areas[number].area, 6), f))
        if some[ranked[0]] > SHARE * areas[number].area:
            names[number] = ranked[0]
        if len(ranked) > 1 and some[ranked[1]] > SHARE * areas[number].area:
            mixed.append(_middle(areas[number]))
    if mixed:
        what = "1 patch has" if len(mixed) == 1 else f"{len(mixed)} patches have"
        notes.append(
            Note("fabric", f"{what} more than one colour; the larger one counts", len(mixed), None, tuple(mixed))
        )
    return names


def _shared_area(one: Polygon, two: MultiPolygon) -> float:
    """How much of an area lies in another; on a grid, for without one areas that only touch may come out as one.

    On some grids GEOS loses an edge of what it rounds; a coarser one then serves, still far finer than any drawing.
    """
    for grid in _GRIDS_IN:
        try:
            return float(shapely.intersection(one, two, grid_size=grid).area)
        except shapely.GEOSException:
            continue
    return float(one.intersection(two).area)


def _worded(
    drawing: Drawing,
    lay: Callable[[Point], Point],
    areas: list[Polygon],
    tree: shapely.STRtree,
    notes: list[Note],
) -> list[tuple[int, Fabric]]:
    """(patch, fabric) for words that lie in patches."""
    labels, outside = [], []
    named: dict[int, str] = {}
    for label in drawing.labels:
        text, at = " ".join(label.text.split()), lay(label.at)
        patch = _patch_at(at, tree)
        if not text:
            continue
        if not patch:
            outside.append(at)
        elif NUMBERED.fullmatch(text):
            labels.append(at)
        elif patch[0] in named:
            named[patch[0]] += " " + text
        else:
            named[patch[0]] = text
    found = []
    for number, words in sorted(named.items()):
        fabric, fault = fabric_in_words(words)
        found.append((number, fabric))
        if fault is not None:
            text = f"the words {quoted(words)} are taken as a name: {fault.what}. {fault.mend}"
            notes.append(Note("fabric", text, 1, None, (_middle(areas[number]),)))
    if labels:
        what = "1 label of a patch" if len(labels) == 1 else f"{len(labels)} labels of patches"
        notes.append(Note("label", f"{what} (numbers) ignored", len(labels), None, tuple(labels)))
    if outside:
        what = "1 text" if len(outside) == 1 else f"{len(outside)} texts"
        notes.append(Note("ignored", f"{what} outside the block ignored", len(outside), None, tuple(outside)))
    return found
