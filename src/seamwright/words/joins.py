"""How joins are sewn where seams turn, and by what where paper meets plain, in a sewer's words.

Knows:  the words for each leg of a join that turns, and for every seam that must stop where a later join turns;
        whether a join is sewn on a printed line or by its edges.
Leaves: which legs there are and in which order (piecing.turns), how places are said (units).
Units:  places in inches or centimetres across and down from the block's top left corner, from the front.
"""

from __future__ import annotations

from seamwright.options import Units
from seamwright.piecing.model import Plan, Section
from seamwright.piecing.turns import Leg, join_edges, legs_of, turns_of
from seamwright.units import say_length, say_list, say_point

PIVOT = (
    "Where a seam pivots: stop with the needle down in the dot, clip the inside corner's allowance to a thread "
    "short of it, turn the work until the next edges meet, and sew on; no seam is sewn across the dot"
)
"""Common practice for seams that are set in."""
TWO_GOES = (
    "Where a seam is sewn in two goes: its first go ends at the ring and is secured, and its end is folded out of "
    "the way; nothing pivots, and each go lies flat"
)
"""Common practice for partial seams."""


def join_guides(plan: Plan) -> dict[int, str]:
    """What each join is sewn by, by its number from 1; {} for a plan that leaves nothing off the paper.

    Common practice.
    """
    if all(section.method == "paper" for section in plan.sections):
        return {}
    block, allowance = plan.block, _allowance(plan)
    on_paper = {p for s in plan.sections if s.method == "paper" and s.kind == "foundation" for p in s.patches}
    guides = {}
    for number, edges in enumerate(join_edges(plan), start=1):
        beside = {patch for edge in edges for patch in (block.edges[edge].left, block.edges[edge].right)}
        paper = not on_paper.isdisjoint(beside)
        guides[number] = "paper on top, on its printed line" if paper else f"plain, at a scant {allowance}"
    return guides


def guides_explained(plan: Plan) -> str:
    """What stands behind the words of `join_guides`, in one sentence."""
    return (
        "Where paper meets plain, the paper lies on top and its printed line is sewn on; where plain meets plain, "
        f"raw edges lie even and the seam is a thread narrower than {_allowance(plan)}: the fold takes a thread."
    )


def _allowance(plan: Plan) -> str:
    return say_length(plan.options.seam_allowance_in, plan.options.units)


class Turning:
    """What is to be said of a plan whose joins turn; nothing of any other plan."""

    def __init__(self, plan: Plan) -> None:
        self.plan = plan
        self.turns = {turn.point: turn for turn in turns_of(plan)}
        self._names = plan.patch_names() if self.turns else ()
        self._edges = join_edges(plan) if self.turns else ()

    def join(self, number: int) -> str:
        """How join `number` (from 1) is sewn; "" for one that is sewn as any other."""
        join = self.plan.joins[number - 1]
        if join.turns:
            return "; ".join(self._goes(legs_of(self.plan, number)))
        stops = [p for p in (join.seam[0], join.seam[-1]) if p in self.turns]
        return "; ".join(f"stop and secure at {self._at(p)}, {self._later(p)}" for p in stops)

    def stops(self) -> list[str]:
        """Which stitch lines inside sections stop at a point where a join turns, a sentence each section."""
        return [f"{section.name}: {said}" for section in self.plan.sections if (said := self._stops(section))]

    def _stops(self, section: Section) -> str:
        lines: dict[tuple[str, ...], list[str]] = {}
        for step in section.steps:
            ends = (step.stitch[0], step.stitch[-1]) if step.stitch else ()
            places = tuple(self._at(point) for point in ends if point in self.turns)
            if places:
                lines.setdefault(places, []).append(self._names[step.patch])
        return "; ".join(
            f"the line of {names[0]} stops at {say_list(places)}"
            if len(names) == 1
            else f"the lines of {say_list(names)} stop at {say_list(places)}"
            for places, names in lines.items()
        )

    def general(self) -> list[str]:
        """What holds for all of them, a sentence each."""
        if not self.turns:
            return []
        halves = [turn.is_half for turn in self.turns.values()]
        unit = "inches" if self.plan.options.units is Units.INCH else "centimetres"
        places = f"Places are in {unit} across and down from the block's top left corner, seen from the front"
        return [
            *([PIVOT] if not all(halves) else []),
            *([TWO_GOES] if any(halves) else []),
            places,
        ]

    def _goes(self, legs: tuple[Leg, ...]) -> list[str]:
        goes: list[str] = []
        before: int | None = None
        for leg in legs:
            start, end = leg.points[0], leg.points[-1]
            if leg.pivots:
                goes[-1] += f", stop, secure, pivot, sew on to {self._end(end)}"
            elif leg.closes and start == before:
                goes[-1] += ", stop and secure"
                goes.append(f"then close {self._open_seam(leg)} there, {self._on(leg)} to {self._end(end)}")
            elif leg.closes:
                goes.append(
                    f"then close {self._open_seam(leg)} at {self._end(start)}, from there to {self._end(end)}"
                )
            else:
                goes.append(f"{'then ' if goes else ''}sew from {self._end(start)} to {self._end(end)}")
            before = end
        return goes

    def _end(self, point: int) -> str:
        """An end of a leg: where a join turns, or the raw edge of what is being sewn."""
        return f"the {'point' if point in self.turns else 'edge'} at {self._at(point)}"

    def _at(self, point: int) -> str:
        return say_point(self.plan.block.points[point], self.plan.options.units)

    def _later(self, point: int) -> str:
        turn = self.turns[point]
        return f"join {turn.join} {'sews on from' if turn.is_half else 'turns'} there"

    def _on(self, leg: Leg) -> str:
        block = self.plan.block
        return "straight on" if block.seams[block.edges[self._first_edge(leg)].seam].straight else "along the curve"

    def _first_edge(self, leg: Leg) -> int:
        """The edge that a second go begins with."""
        block = self.plan.block
        return next(
            edge
            for edge in self._edges[self.turns[leg.points[0]].join - 1]
            if {block.edges[edge].start, block.edges[edge].end} == set(leg.points[:2])
        )

    def _open_seam(self, leg: Leg) -> str:
        """The seam whose second go a leg is: what sewed its first."""
        block, turn, sewn = self.plan.block, self.turns[leg.points[0]], self._first_edge(leg)
        seam = block.seams[block.edges[sewn].seam]
        first = next(
            edge
            for edge in seam.edges
            if edge != sewn and turn.point in (block.edges[edge].start, block.edges[edge].end)
        )
        for number, edges in enumerate(self._edges, start=1):
            if first in edges:
                return f"the seam that join {number} left open"
        beside = {block.edges[first].left, block.edges[first].right}
        section = next(s for s in self.plan.sections if beside <= set(s.patches))
        later = max(beside, key=section.patches.index)
        return f"the seam that the line of {self._names[later]} left open"
