"""Sections and joins of a divided block: letters, outlines, and an order in which every join is one straight seam.

Knows:  the letters of sections in reading order, the border of a region, the joins as a tree read backwards.
Leaves: how the block was divided (divide), the order inside a section (order).
Method: a cut tree read backwards is a sewing order of its joins, and every join is one whole cut. Of two sides the
        one that begins higher, then further left, comes first; letters follow, so that A and B lie beside each
        other.
"""

from __future__ import annotations

from collections.abc import Iterable

from seamwright.piecing.cuts import Tree
from seamwright.piecing.model import Join, Section
from seamwright.piecing.names import section_name
from seamwright.piecing.order import sewing_order
from seamwright.piecing.seammap import SeamMap


def sections_and_joins(seams: SeamMap, tree: Tree) -> tuple[tuple[Section, ...], tuple[Join, ...]]:
    """The sections by name, and the joins in sewing order."""
    sections: list[Section] = []
    joins: list[Join] = []
    begins = _beginnings(seams, tree)
    made: list[str] = []  # names of parts that wait for their join
    waiting: list[tuple[Tree, bool]] = [(tree, False)]
    while waiting:
        node, sides_done = waiting.pop()
        if node.cut is None:
            sections.append(_section(seams, node, section_name(len(sections))))
            made.append(sections[-1].name)
        elif sides_done:
            second, first = made.pop(), made.pop()
            joins.append(Join(first, second, f"{first}+{second}", node.cut.points(seams.block)))
            made.append(joins[-1].makes)
        else:
            one, two = sorted(node.sides, key=lambda side: begins[id(side)])
            waiting += [(node, True), (two, False), (one, False)]
    return tuple(sections), tuple(joins)


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
    start = min(after, key=lambda p: (round(block.points[p][1], 6), block.points[p][0]))
    ring = [start]
    while after[ring[-1]] != start:
        ring.append(after[ring[-1]])
    return tuple(ring)


def _section(seams: SeamMap, node: Tree, name: str) -> Section:
    steps = sewing_order(seams, node.patches)
    if steps is None:
        raise AssertionError(f"section {name} of patches {node.patches} is no single foundation")
    return Section(name, print=name, place=1, reversed=False, steps=steps, outline=border(seams, node.patches))


def _beginnings(seams: SeamMap, tree: Tree) -> dict[int, tuple[float, float]]:
    """Top and left of each region's bounding box, by the identity of its tree."""
    found: dict[int, tuple[float, float]] = {}
    for node in reversed(list(tree.nodes())):
        if node.sides:
            begins = [found[id(side)] for side in node.sides]
        else:
            ring = [seams.block.points[p] for patch in node.patches for p in seams.block.patches[patch].ring]
            begins = [(round(y, 6), round(x, 6)) for x, y in ring]
        found[id(node)] = (min(top for top, _ in begins), min(left for _, left in begins))
    return found
