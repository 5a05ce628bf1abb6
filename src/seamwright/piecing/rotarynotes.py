"""What is said of units that need no paper: what `--rotary auto` has left off it, or what it would.

Knows:  how a plan with units compares with the one without, in a sewer's words.
Leaves: which units there are (rotary), how each is cut (cutting).
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from seamwright.block.rings import region_ring
from seamwright.geometry import Point, bounds
from seamwright.notes import Note
from seamwright.options import PlanOptions, Priority
from seamwright.piecing.divide import Division
from seamwright.piecing.model import Plan
from seamwright.units import say_count, say_list

NAMED = 4
"""Patches named in one sentence."""


def rotary_notes(options: PlanOptions, base: Division, division: Division) -> tuple[Note, ...]:
    """Notes of a plan whose units are left off the paper.

    Args:
        base: the division without units; division: with them.
    """
    found: list[Note] = []
    units = len(division.units)
    if units:
        more = pieces(division) - base.sections
        left, of_all = _foundations(division), sum(map(len, division.units))
        text = (
            f"{say_count(units, 'unit')} of {of_all} patches {'is' if units == 1 else 'are'} cut by ruler and sewn "
        )
        text += (
            f"without paper: {say_count(left, 'foundation') if left else 'nothing'} to print, where all on paper "
        )
        text += f"has {_foundations(base)}"
        text += f"; that takes {say_count(more, 'join')} more" if more > 0 else ""
        found.append(Note("rotary", text, units))
        if options.priority is Priority.REPEATS:
            found.append(Note("rotary", "most repeats first holds for what stays on paper; units come before it"))
    elif not division.by_ruler:
        text = "nothing is left off the paper: no seam parts off a unit that a ruler cuts"
        found.append(Note("rotary", text))
    if not division.looked_everywhere:
        text = (
            "more could be left off the paper: looking for units ended at its limit, and more --steps may find some"
        )
        found.append(Note("rotary", text))
    return tuple(found)


def rotary_advice(
    plan: Plan, base: Division, division: Division, units: Iterable[Iterable[int]]
) -> tuple[Note, ...]:
    """That units of a plan on paper are quicker without it; () if that would leave no foundation off the paper.

    Args:
        plan: without units, its sections named; base: its division; division: with units.
        units: their patches, numbered as in the plan's block.
    """
    found, off = [sorted(unit) for unit in units], _foundations(base) - _foundations(division)
    if not found or off <= 0:
        return ()
    names, order = plan.patch_names(), [patch for section in plan.sections for patch in section.patches]
    inside = {patch for unit in found for patch in unit}
    named = say_list([names[patch] for patch in order if patch in inside], most=NAMED)
    text = (
        f"{len(inside)} patches ({named}) make {'a unit' if len(found) == 1 else f'{len(found)} units'} that ruler "
        f"and cutter do quicker without paper: --rotary auto leaves {say_count(off, 'foundation')} off the paper"
    )
    return (Note("advice-rotary", text, len(found), None, tuple(_middle(plan, unit) for unit in found)),)


def pieces(division: Division) -> int:
    """What is joined in the end: sections, each unit counted as one piece."""
    leaves = [frozenset(node.patches) for node in division.tree.nodes() if node.cut is None]
    return len(division.units) + sum(not any(leaf <= unit for unit in division.units) for leaf in leaves)


def _foundations(division: Division) -> int:
    """Sections of two patches or more that stay on paper."""
    leaves = [frozenset(node.patches) for node in division.tree.nodes() if node.cut is None]
    return sum(len(leaf) > 1 and leaf not in division.by_ruler for leaf in leaves)


def _middle(plan: Plan, patches: Sequence[int]) -> Point:
    left, top, right, bottom = bounds(region_ring(plan.block, patches))
    return ((left + right) / 2, (top + bottom) / 2)
