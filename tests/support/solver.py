"""Fewest sections by a general constraint solver: OR-tools CP-SAT on a model that knows no recursion.

Model, for each edge of a seam: the time T at which cutting divides it, whether it lies on a join (J), and, if not,
whether the patch taken off lies on its left (O).

- At each inner point exactly one straight pair (e, f) is cut first: T, J and O are equal on e and f; every other
  edge g there has T_g > T_e, and g is on a join only if e is (inside a foundation nothing is joined). If e is on no
  join, no seam arrives on the side that is taken off.
- When a patch is taken off over an edge, its other edges that are on no join are cut before, but for those of the
  same run.
- An edge of a curve is on a join; of a closed curve two points at least are won by others, or it had no ends.
- Sections = 1 + joins = 1 + (edges on joins) - (inner points whose first cut is a join).
No solution: the block is stuck.
"""

from __future__ import annotations

from ortools.sat.python import cp_model

from seamwright.block.model import OUTLINE, Block


def fewest_sections(block: Block) -> int | None:
    """The fewest sections, or None where the block is stuck; curves, of which every edge is curved, are joins."""
    model = cp_model.CpModel()
    edges = [number for number, edge in enumerate(block.edges) if edge.seam != OUTLINE]
    time = {e: model.new_int_var(0, len(edges), f"time {e}") for e in edges}
    join = {e: model.new_bool_var(f"join {e}") for e in edges}
    off_left = {e: model.new_bool_var(f"off left {e}") for e in edges}
    left, right = {}, {}
    for seam in block.seams:
        for point, e in zip(seam.points, seam.edges, strict=False):
            edge = block.edges[e]
            left[e], right[e] = (edge.left, edge.right) if edge.start == point else (edge.right, edge.left)
    at: dict[int, list[int]] = {}
    for e in edges:
        for point in (block.edges[e].start, block.edges[e].end):
            at.setdefault(point, []).append(e)
    straight: dict[int, list[tuple[int, int]]] = {}
    for seam in block.seams:
        for place, point in enumerate(seam.points[1:-1]):
            straight.setdefault(point, []).append((seam.edges[place], seam.edges[place + 1]))
        if seam.points[0] == seam.points[-1] and len(seam.edges) > 1:
            straight.setdefault(seam.points[0], []).append((seam.edges[-1], seam.edges[0]))
    for seam in block.seams:
        for e in () if seam.straight else seam.edges:
            assert block.edges[e].via
            model.add(join[e] == 1)
    outline = set(block.outline)
    won_by_join = []
    won_by_itself: dict[int, list[cp_model.IntVar]] = {}
    for point, around in at.items():
        if point in outline:
            continue
        wins = []
        for e, f in straight.get(point, []):
            win = model.new_bool_var(f"win {point} {e}")
            wins.append(win)
            won_by_itself.setdefault(block.edges[e].seam, []).append(win)
            for table in (time, join, off_left):
                model.add(table[e] == table[f]).only_enforce_if(win)
            for g in around:
                if g not in (e, f):
                    model.add(time[g] > time[e]).only_enforce_if(win)
                    model.add_implication(join[g], join[e]).only_enforce_if(win)
            if left[e] != left[f]:
                model.add_bool_or(join[e], ~off_left[e]).only_enforce_if(win)
            if right[e] != right[f]:
                model.add_bool_or(join[e], off_left[e]).only_enforce_if(win)
            both = model.new_bool_var(f"won by join {point} {e}")
            model.add_bool_and(win, join[e]).only_enforce_if(both)
            model.add_bool_or(~win, ~join[e]).only_enforce_if(~both)
            won_by_join.append(both)
        model.add_exactly_one(wins)
    for number, seam in enumerate(block.seams):
        if seam.points[0] == seam.points[-1]:
            if len(seam.edges) < 2:
                return None
            model.add(sum(won_by_itself.get(number, [])) <= len(seam.edges) - 2)
    for number, patch in enumerate(block.patches):
        own = [e for e in patch.edges if e in time]
        for e in own:
            taken_off = off_left[e] if left[e] == number else ~off_left[e]
            for g in own:
                if g != e and not _one_run(block, patch.ring, patch.edges, e, g, outline):
                    model.add(time[g] < time[e]).only_enforce_if(taken_off, ~join[e], ~join[g])
    model.minimize(1 + sum(join.values()) - sum(won_by_join))
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    solver.parameters.random_seed = 1
    status = solver.solve(model)
    if status == cp_model.INFEASIBLE:
        return None
    assert status == cp_model.OPTIMAL
    return round(solver.objective_value)


def _one_run(
    block: Block, ring: tuple[int, ...], patch_edges: tuple[int, ...], e: int, g: int, outline: set[int]
) -> bool:
    """Whether a patch's edges e and g lie on one seam with only such edges and inner points between them."""
    count = len(ring)
    i, j = patch_edges.index(e), patch_edges.index(g)
    for start, end in ((i, j), (j, i)):
        between = [(start + k) % count for k in range((end - start) % count + 1)]
        if all(block.edges[patch_edges[k]].seam == block.edges[e].seam for k in between) and not any(
            ring[k] in outline for k in between[1:]
        ):
            return True
    return False
