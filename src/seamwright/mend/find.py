"""Mends of a drawing that is stuck: found, ranked, proven, told.

Knows:  which kinds come first, how many are shown, which are alike.
Leaves: finding them (move, extra, drop), proof (prove), words (words).
Units:  inches.
Method: for each stuck region: points moved, the least first; then extra patches, as few as can be; then a seam left
        out between patches of one fabric; then applique. The best of every region that holds its proof is shown,
        then others in turn up to MOST_SHOWN. Alike ones are shown once.
Limits: all of it counts steps; PROOFS changes of one region are put to the proof at most.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from seamwright.block.model import Block
from seamwright.geometry import Affine
from seamwright.mend.alike import pose_of, signature, symmetries
from seamwright.mend.change import Change, region_of
from seamwright.mend.drop import drops, on_top, straightened
from seamwright.mend.extra import MOST_EXTRA, STEPS, Extra, fewest_extra
from seamwright.mend.move import moves
from seamwright.mend.prove import frees_all, frees_region
from seamwright.mend.words import continues, no_mend, sentence
from seamwright.notes import Note
from seamwright.piecing.model import Mend, Obstruction, Plan
from seamwright.piecing.seammap import SeamMap

MOST_SHOWN = 5
MOST_OF_A_KIND = 2
"""Mends of one kind for one region: the third way to continue a seam helps nobody to choose."""
PROOFS = 12


@dataclass(frozen=True, slots=True)
class Found:
    """What was found for a drawing: mends, and what to say of regions where the search ended."""

    mends: tuple[Mend, ...]
    notes: tuple[Note, ...]


def find_mends(plan: Plan) -> Found:
    """The mends of a plan that is stuck; none for one that is not."""
    if not plan.obstructions:
        return Found((), ())
    block, seams = plan.block, SeamMap(plan.block)
    ways, pose = symmetries(block), pose_of(block)
    steps = STEPS * 2 // (1 + len(plan.obstructions))
    stuck = [region_of(block, obstruction.patches) for obstruction in plan.obstructions]
    # Cutting has come to a region's border and no further.
    inner = [[p for p in r.points if p < len(block.points) and p not in r.border] for r in stuck]
    regions: list[_Proven] = []
    searched: list[Extra] = []
    for number, (obstruction, region) in enumerate(zip(plan.obstructions, stuck, strict=True)):
        extra = fewest_extra(region, MOST_EXTRA, steps, pose)
        others = frozenset(p for other, points in enumerate(inner) if other != number for p in points)
        found = [*moves(seams, obstruction.patches, inner[number], others, pose), *_with_seams(block, extra)]
        found += straightened(block, obstruction.patches, pose)
        found += drops(block, obstruction.patches, pose) + on_top(block, obstruction.patches)
        regions.append(_Proven(plan, obstruction, sorted(found, key=_rank), ways))
        searched.append(extra)
    chosen = _chosen(plan, regions)
    notes = tuple(
        Note("mend", no_mend(obstruction, extra.tried if extra.count is None else 0, extra.exhaustive, bool(some)))
        for obstruction, extra, some in zip(plan.obstructions, searched, chosen, strict=True)
        if extra.count is None or not some
    )
    mends: list[Mend] = []
    first: dict[tuple[object, ...], int] = {}
    for obstruction, some in zip(plan.obstructions, chosen, strict=True):
        for change, alike in sorted(some, key=lambda item: _rank(item[0])):
            number = len(mends) + 1
            same_as = first.setdefault(signature(change, ways), number)
            text = sentence(change, block, plan.options.units, alike)
            if same_as != number:
                text = f"As mend {same_as}: {text}"
            mends.append(_mend(change, number, obstruction.number, text))
    return Found(tuple(mends), notes)


Chosen = tuple[Change, int]
"""A change, and how many are alike."""


def _chosen(plan: Plan, regions: Sequence[_Proven]) -> list[list[Chosen]]:
    """The changes to be shown for each region: in each round one of every region, proven together."""
    chosen: list[list[Chosen]] = [[] for _ in regions]
    stuck = [obstruction.patches for obstruction in plan.obstructions]
    for turn in range(MOST_SHOWN):
        # The best of each region is always shown: without it the drawing cannot be mended.
        free = len(regions) if turn == 0 else MOST_SHOWN - sum(map(len, chosen))
        round_: list[tuple[int, Chosen]] = []
        for number, region in enumerate(regions):
            following = region.following() if len(round_) < free else None
            if following is not None:
                round_.append((number, following))
        if not round_:
            break
        mends = [_mend(change, 1, number + 1, "") for number, (change, _) in round_]
        together = frees_all(plan.block, stuck, mends, plan.options)
        for (number, following), mend in zip(round_, mends, strict=True):
            if together or (len(mends) > 1 and frees_all(plan.block, stuck, [mend], plan.options)):
                chosen[number].append(following)
    return chosen


def _with_seams(block: Block, extra: Extra) -> Iterator[Change]:
    """The ways of a search as changes."""
    for segments in extra.solutions:
        straight_on = all(continues(segment, block) is not None for segment in segments)
        kind = "continue a seam" if straight_on else "add a seam"
        yield Change(kind, extra=extra.count or 0, seams=segments)


class _Proven:
    """The changes of one region that hold, one kind after another, alike ones once."""

    def __init__(
        self,
        plan: Plan,
        obstruction: Obstruction,
        ranked: Sequence[Change],
        ways: Sequence[Affine],
    ) -> None:
        self.plan, self.obstruction = plan, obstruction
        self.proofs = 0
        self.alike: dict[tuple[object, ...], list[Change]] = {}
        for change in ranked:
            self.alike.setdefault(signature(change, ways), []).append(change)
        self._following = self._in_turn()

    def following(self) -> tuple[Change, int] | None:
        """The next change that holds, and how many are alike; None after the last."""
        return next(self._following, None)

    def _in_turn(self) -> Iterator[tuple[Change, int]]:
        kinds: dict[str, list[list[Change]]] = {}
        for group in self.alike.values():
            kinds.setdefault(_family(group[0]), []).append(group)
        waiting = list(kinds.values())
        for _ in range(MOST_OF_A_KIND):
            for groups in list(waiting):
                while groups:
                    group = groups.pop(0)
                    if self._holds(group[0]):
                        yield group[0], len(group)
                        break
                if not groups:
                    waiting.remove(groups)

    def _holds(self, change: Change) -> bool:
        self.proofs += 1
        if self.proofs > PROOFS:
            return False
        mend = _mend(change, 1, self.obstruction.number, "")
        return frees_region(self.plan.block, self.obstruction.patches, mend, self.plan.options)


def _family(change: Change) -> str:
    return "extra" if change.extra > 0 else change.kind


def _rank(change: Change) -> tuple[int, int, float]:
    order = ["move a point", "straighten a curve", "extra", "drop a seam", "applique"]
    return (order.index(_family(change)), change.extra, 0.0 if change.extra > 0 else round(change.amount, 6))


def _mend(change: Change, number: int, obstruction: int, text: str) -> Mend:
    return Mend(number, obstruction, change.kind, text, change.extra, change.seams, change.moved, change.dropped)
