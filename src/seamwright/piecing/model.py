"""The piecing plan: sections, their order, the joins, or why there is none."""

from __future__ import annotations

from dataclasses import dataclass

from seamwright.block.model import Block
from seamwright.geometry import Point, Segment
from seamwright.notes import Note
from seamwright.options import PlanOptions


@dataclass(frozen=True, slots=True)
class Step:
    """One patch laid on.

    Attributes:
        patch: patch number in the block.
        stitch: point numbers along its stitch line, from end to end, points in between included; () for the
            first patch of a section. The line parts this patch from all patches laid on before it.
    """

    patch: int
    stitch: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True)
class Section:
    """Patches sewn together before they are joined to others.

    Attributes:
        name: "A", "B" ... without I and O, then "AA"; with the place ("A.2") where one print serves several.
        print: letter of the foundation printed for it.
        place: 1 for the first place of a print, 2 for the next.
        reversed: printed as the mirror image of `print`'s own foundation.
        steps: in sewing order.
        outline: point numbers round it, clockwise, all points on its border included.
        method: "paper" or "ruler".
    """

    name: str
    print: str
    place: int
    reversed: bool
    steps: tuple[Step, ...]
    outline: tuple[int, ...]
    method: str = "paper"

    @property
    def kind(self) -> str:
        """ "plain" for one patch, else "foundation"."""
        return "plain" if len(self.steps) == 1 else "foundation"

    @property
    def patches(self) -> tuple[int, ...]:
        """Patch numbers in sewing order."""
        return tuple(step.patch for step in self.steps)

    def patch_name(self, count: int) -> str:
        """Name of the patch laid on as number `count`, from 1: "A3", "A.2-3" in a second place."""
        return f"{self.name}{'-' if '.' in self.name else ''}{count}"


@dataclass(frozen=True, slots=True)
class Join:
    """Two finished parts sewn together along one seam, in sewing order.

    Attributes:
        first, second: names of sections or of earlier joins.
        makes: name of the result, "A+B"; never a section's name.
        seam: point numbers along it, points in between included.
        kind: "straight", "curved", "set-in" or "partial".
        turns: point numbers on the seam, in its order, where it turns a corner ("set-in") or where the first go
            stops and the second begins ("partial"); () for the others.
    """

    first: str
    second: str
    makes: str
    seam: tuple[int, ...]
    kind: str = "straight"
    turns: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True)
class Obstruction:
    """A stuck region: several patches and no cut.

    Attributes:
        number: from 1.
        kind: "ring of seams", "no seam straight through", "inside corner", "island" or "curve".
        patches: patch numbers of the whole stuck region.
        points: point numbers to look at: the ring's corners, or the points no seam runs straight through.
        why: one sentence a sewer understands.
    """

    number: int
    kind: str
    patches: tuple[int, ...]
    points: tuple[int, ...]
    why: str


@dataclass(frozen=True, slots=True)
class Mend:
    """A small change of the drawing that makes a stuck region pieceable, applied and proven.

    Attributes:
        number: from 1, over all obstructions; what `--mend` takes.
        obstruction: number of the obstruction it mends.
        kind: "move a point", "straighten a curve", "continue a seam", "add a seam", "drop a seam" or "applique".
        text: one sentence a sewer understands, with the place and how far.
        extra_patches: how many patches more the block then has; below 0 for fewer.
        seams: seams added, inches.
        moved: (from, to) of each point moved, inches.
        dropped: seams taken away, inches.
    """

    number: int
    obstruction: int
    kind: str
    text: str
    extra_patches: int = 0
    seams: tuple[Segment, ...] = ()
    moved: tuple[tuple[Point, Point], ...] = ()
    dropped: tuple[Segment, ...] = ()


@dataclass(frozen=True, slots=True)
class Fewest:
    """What was proven about the number of sections.

    Attributes:
        sections: pieces to be joined in the best plan found, plain pieces counted.
        foundations: those of two patches or more.
        proven: no plan has fewer sections.
        at_least: a proven lower bound on the sections.
        ties_settled: among the plans with the fewest sections the best was found, as far as costs are sums.
        ended: what ended the search before its time: "steps", "seconds", "stopped" (by Ctrl-C); "" if nothing did.
    """

    sections: int
    foundations: int
    proven: bool
    at_least: int
    ties_settled: bool = True
    ended: str = ""


@dataclass(frozen=True, slots=True)
class Plan:
    """How to sew a block, or why it cannot be sewn with straight full seams.

    Attributes:
        id: 8 hex digits of the block's geometry, fabrics and the options; printed on all that belongs together.
        block, options: what was planned.
        sewable: "straight", "curved", "set-in" or "no".
        sections: by name order; () if not pieceable.
        joins: in sewing order.
        fewest: None if not pieceable.
        points_to_match: inner points of joins where seams arrive from both sides; the same in every plan.
        set_in_points: points with no seam straight through; the same in every plan.
        obstructions: () if pieceable.
        notes: what the sewer should know.
    """

    id: str
    block: Block
    options: PlanOptions
    sewable: str
    sections: tuple[Section, ...] = ()
    joins: tuple[Join, ...] = ()
    fewest: Fewest | None = None
    points_to_match: int = 0
    set_in_points: int = 0
    obstructions: tuple[Obstruction, ...] = ()
    notes: tuple[Note, ...] = ()

    @property
    def pieceable(self) -> bool:
        """Whether the block can be sewn with straight full seams only."""
        return self.sewable == "straight"

    def prints(self) -> tuple[tuple[Section, ...], ...]:
        """The sections, those that one print serves together: by letter, reversed ones apart."""
        found: dict[tuple[str, bool], list[Section]] = {}
        for section in self.sections:
            found.setdefault((section.print, section.reversed), []).append(section)
        return tuple(map(tuple, found.values()))

    def patch_names(self) -> tuple[str, ...]:
        """A name for each patch by its number: "A3", "A.2-3" in a second place, "?1" outside any plan."""
        names: dict[int, str] = {}
        for section in self.sections:
            for count, patch in enumerate(section.patches, start=1):
                names[patch] = section.patch_name(count)
        unplanned = iter(range(1, len(self.block.patches) + 1))
        return tuple(names[p] if p in names else f"?{next(unplanned)}" for p in range(len(self.block.patches)))
