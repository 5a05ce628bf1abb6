"""What all prints of a plan share: worked out once, for marks and trims of one section need its neighbours.

Knows:  trims, marks, borders, grain, turns and names of every section of a plan; which places share a drawing.
Leaves: what becomes of them on paper (lines, wording).
Units:  inches, front view.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from seamwright.block.model import Block
from seamwright.fabric.rulers import plain_grain_deg
from seamwright.foundation.border import Stretch, edge_grain_deg, grain_deg, stretches
from seamwright.foundation.codes import fabric_codes
from seamwright.foundation.directions import directions_of
from seamwright.foundation.marks import match_marks
from seamwright.foundation.places import Place, drawing_labels, shared_drawings, shared_edges_deg
from seamwright.foundation.trims import trim_outlines
from seamwright.geometry import Ring, Segment, canonical_ring
from seamwright.piecing.model import Plan, Section
from seamwright.piecing.turns import Turn, turns_of


@dataclass(frozen=True, slots=True)
class Common:
    """What all prints of a plan share. Mappings are by the name of a section, if not said otherwise.

    Attributes:
        plan: what is printed.
        trims, marks, borders: of every section.
        grains_deg: the straight grain's direction.
        edges_deg: for each patch in sewing order that of its own, where it lies at the block's edge at any place of
            the drawing; None: any will do.
        letters: what the paper calls a section where its print is one drawing; labels: what it calls it now.
        names: of every patch by its number.
        turns: where joins turn, by point number.
        drawings: sections together that one drawing serves; the first of each is drawn.
        codes: short codes by the name of a fabric.
    """

    plan: Plan
    trims: Mapping[str, Ring]
    marks: Mapping[str, tuple[Segment, ...]]
    borders: Mapping[str, tuple[Stretch, ...]]
    grains_deg: Mapping[str, float]
    edges_deg: Mapping[str, tuple[float | None, ...]]
    letters: Mapping[str, str]
    labels: Mapping[str, str]
    names: tuple[str, ...]
    turns: Mapping[int, Turn]
    drawings: tuple[tuple[Place, ...], ...]
    codes: Mapping[str, str]


def common_to(plan: Plan) -> Common:
    """What all prints of a plan share."""
    trims, borders = trim_outlines(plan), stretches(plan)
    turns = {turn.point: turn for turn in turns_of(plan)}
    letters = {section.name: printed_letter(section) for section in plan.sections}
    grains_deg = {s.name: section_grain_deg(plan, s, borders[s.name]) for s in plan.sections}
    turning = {s.name for s in plan.sections if not turns.keys().isdisjoint(s.outline)}
    ways = {section.name: directions_of(plan.block, section.patches) for section in plan.sections}
    edges_deg = {s.name: tuple(edge_grain_deg(plan.block, p) for p in s.patches) for s in plan.sections}
    drawings = shared_drawings(plan, trims, grains_deg, ways, edges_deg, turning)
    return Common(
        plan=plan,
        trims=trims,
        marks=match_marks(plan, trims, drawings),
        borders=borders,
        grains_deg=grains_deg,
        edges_deg={k: v for places in drawings for k, v in shared_edges_deg(places, edges_deg).items()},
        letters=letters,
        labels=drawing_labels(drawings, letters),
        names=plan.patch_names(),
        turns=turns,
        drawings=drawings,
        codes=_codes(plan.block),
    )


def _codes(block: Block) -> dict[str, str]:
    """Codes of fabrics; of those sewn together beforehand the codes of all, where all have one."""
    codes = fabric_codes(block.fabrics)
    for made in block.pre_pieced:
        each = list(dict.fromkeys(codes.get(part.fabric or "", "") for part in made.parts))
        if all(each):
            codes.setdefault(block.patches[made.patch].fabric or "", "+".join(each))
    return codes


def section_grain_deg(plan: Plan, section: Section, border: Sequence[Stretch]) -> float:
    """Along the block's edge, but for an inner plain piece as a ruler cuts it."""
    own = _own_grain_deg(plan, section, border)
    return grain_deg(plan.block, border) if own is None else own


def _own_grain_deg(plan: Plan, section: Section, border: Sequence[Stretch]) -> float | None:
    if section.kind != "plain" or not all(stretch.neighbour for stretch in border):
        return None
    return plain_grain_deg(canonical_ring(plan.block.patch_ring(section.patches[0])))


def grain_words(common: Common, section: Section) -> str:
    """Where the straight grain runs, for prints on which its arrow finds no room."""
    own = _own_grain_deg(common.plan, section, common.borders[section.name])
    return f"straight grain runs along {'the edge of the block' if own is None else 'the sides of a right angle'}"


def printed_letter(section: Section) -> str:
    """What the paper calls a section: the letter of its print, with r when it is reversed."""
    return section.print + ("r" if section.reversed else "")
