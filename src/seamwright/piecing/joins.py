"""Sections and joins of a divided block: letters, outlines, and an order in which every join is one full seam.

Knows:  the letters of sections in reading order, those on paper first, the border of a region, the joins as a tree
        read backwards.
Leaves: how the block was divided (divide), which sections share a letter (repeats), the order inside the first of
        a print (order).
Method: a cut tree read backwards is a sewing order of its joins, and every join is one whole cut. Of two sides the
        one that begins higher, then further left, comes first; letters follow, so that A and B lie beside each
        other.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Sequence

from seamwright.geometry import canonical_ring, signed_area
from seamwright.piecing.alike import Alike
from seamwright.piecing.cuts import Cut, Tree
from seamwright.piecing.model import Join, Section, Step
from seamwright.piecing.order import sewing_order
from seamwright.piecing.repeats import Place, places
from seamwright.piecing.seammap import SeamMap


def sections_and_joins(
    seams: SeamMap, tree: Tree, by_ruler: Collection[frozenset[int]] = ()
) -> tuple[tuple[Section, ...], tuple[Join, ...]]:
    """The sections by name, and the joins in sewing order.

    Args:
        by_ruler: patches of the sections that are cut by ruler; their letters follow those of all others.
    """
    begins = _beginnings(seams, tree)
    nodes = _sides_first(tree, begins)
    ends = [node for node in nodes if node.cut is None]
    leaves = [node.patches for node in ends]
    alike = seams.alike
    ruled = [frozenset(patches) in by_ruler for patches in leaves]
    found = places(alike, leaves, [begins[id(node)] for node in ends], ruled)
    sections = _sections(seams, alike, leaves, found, ruled)
    names = iter(place.name for place in found)
    joins: list[Join] = []
    made: list[str] = []  # names of parts that wait for their join
    for node in nodes:
        if node.cut is None:
            made.append(next(names))
        else:
            second, first = made.pop(), made.pop()
            joins.append(_join(seams, node.cut, first, second))
            made.append(joins[-1].makes)
    in_order = sorted(range(len(found)), key=lambda i: found[i].order)
    return tuple(sections[i] for i in in_order), tuple(joins)


def _sides_first(tree: Tree, begins: dict[int, tuple[int, int]]) -> list[Tree]:
    """Every region, each after its sides; of two sides the one that begins higher, then further left, first."""
    ordered: list[Tree] = []
    waiting: list[tuple[Tree, bool]] = [(tree, False)]
    while waiting:
        node, sides_done = waiting.pop()
        if sides_done or node.cut is None:
            ordered.append(node)
        else:
            one, two = sorted(node.sides, key=lambda side: begins[id(side)])
            waiting += [(node, True), (two, False), (one, False)]
    return ordered


def _sections(
    seams: SeamMap, alike: Alike, leaves: Sequence[tuple[int, ...]], found: Sequence[Place], ruled: Sequence[bool]
) -> list[Section]:
    """The sections in reading order; those of one print in one order of sewing.

    Whichever section comes first as one reads, the order is that of the one with the lowest number: so copies of a
    drawing that read otherwise are sewn alike.
    """
    lowest: dict[int, int] = {}
    for number in sorted(range(len(leaves)), key=lambda i: min(leaves[i])):
        lowest.setdefault(found[number].first, number)
    orders: dict[int, tuple[int, ...]] = {}
    sections: list[Section] = []
    for patches, place, is_ruled in zip(leaves, found, ruled, strict=True):
        source = lowest[place.first]
        if place.first not in orders:
            steps = _by_ruler(seams, leaves[source]) if is_ruled else sewing_order(seams, leaves[source])
            orders[place.first] = tuple(step.patch for step in steps or ())
        order = orders[place.first]
        if patches != leaves[source]:
            order = alike.laid_on(order, patches, mirrored=place.reversed != found[source].reversed)
        steps = sewing_order(seams, patches, first=order)
        if not order or steps is None:
            raise AssertionError(f"section {place.name} of patches {patches} is no single foundation")
        method, outline = "ruler" if is_ruled else "paper", border(seams, patches)
        sections.append(Section(place.name, place.print, place.number, place.reversed, steps, outline, method))
    return sections


def _by_ruler(seams: SeamMap, patches: tuple[int, ...]) -> tuple[Step, ...] | None:
    """The order of a section without paper: a large triangle has its corners sewn on, where that can be."""
    areas = {patch: round(signed_area(seams.rings[patch]), 4) for patch in patches}
    first = [patch for patch in patches if areas[patch] == max(areas.values())]
    if len(first) == 1 and len(canonical_ring(seams.rings[first[0]])) == 3:
        steps = sewing_order(seams, patches, first=first)
        if steps is not None:
            return steps
    return sewing_order(seams, patches)


def border(seams: SeamMap, patches: Iterable[int]) -> tuple[int, ...]:
    """Point numbers round a region, clockwise, from its topmost then leftmost one."""
    block = seams.block
    inside = set(patches)
    after: dict[int, int] = {}
    for patch in inside:
        face = block.patches[patch]
        for i, (point, edge) in enumerate(zip(face.ring, face.edges, strict=True)):
            if seams.across(patch, edge) not in inside:
                after[point] = face.ring[(i + 1) % len(face.ring)]
    start = min(after, key=seams.reading.__getitem__)
    ring = [start]
    while after[ring[-1]] != start:
        ring.append(after[ring[-1]])
    return tuple(ring)


def _join(seams: SeamMap, cut: Cut, first: str, second: str) -> Join:
    """The join along a cut; whether one that turns is partial is a question to the drawing, not asked here."""
    block = seams.block
    seam = block.seams[cut.seam]
    turns = tuple(seam.points[place] for place in seam.turns if cut.start < place < cut.end)
    straight = seams.is_straight(cut.seam, cut.start, cut.end)
    kind = "straight" if straight else "set-in" if turns else "curved"
    return Join(first, second, f"{first}+{second}", cut.points(block), kind, turns)


def _beginnings(seams: SeamMap, tree: Tree) -> dict[int, tuple[int, int]]:
    """Top and left of each region's bounding box, by the identity of its tree."""
    found: dict[int, tuple[int, int]] = {}
    for node in reversed(list(tree.nodes())):
        if node.sides:
            begins = [found[id(side)] for side in node.sides]
        else:
            begins = [seams.reading[p] for patch in node.patches for p in seams.block.patches[patch].ring]
        found[id(node)] = (min(top for top, _ in begins), min(left for _, left in begins))
    return found
