"""The plan of a block carried over to its mirror image, so that letters agree wherever both are sewn.

Knows:  which sections are called what in the mirror image, in which order their patches are laid on, whose notes
        have to be told anew.
Leaves: the mirror image of a block (block.mirrored), which sections are their own mirror (alike), proof.
Method: nothing is planned again. Parts keep their numbers in a mirror image, so joins and steps are the same; what
        the plan calls A is Ar now, and what it calls Ar is A. A section that is its own mirror, lines and fabrics,
        keeps its letter: its print serves both blocks, so it is laid on its mirror image to carry the order over.
        Places of a print are counted as one reads, in the mirror image too.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import replace

from seamwright.block.mirrored import mirrored, mirrored_note
from seamwright.block.model import Block
from seamwright.geometry import IDENTITY, Affine, moved
from seamwright.notes import Note
from seamwright.piecing.advice import advice
from seamwright.piecing.alike import SAME_SPOT_IN, Alike
from seamwright.piecing.beforehand import told
from seamwright.piecing.canon import Walk
from seamwright.piecing.cloth import cloth_notes
from seamwright.piecing.limitnotes import too_large_notes
from seamwright.piecing.model import Plan, Section
from seamwright.piecing.order import sewing_order
from seamwright.piecing.repeats import Place
from seamwright.piecing.seammap import SeamMap


def mirrored_plan(plan: Plan) -> Plan:
    """The plan of the mirror image of a plan's block; one that is stuck is stuck in the mirror, too."""
    from seamwright.piecing.plan import plan_id, stuck_plan

    block = mirrored(plan.block)
    options = replace(plan.options, reversed=block.reversed)
    if not plan.sections:
        return stuck_plan(block, options)  # why it is stuck is told with places
    made = replace(plan, id=plan_id(block, options), block=block, options=options)
    seams = SeamMap(block)
    sections = _sections(plan, seams)
    names = {old.name: new.name for old, new in zip(plan.sections, sections, strict=True)}
    joins = []
    for join in plan.joins:
        first, second = names[join.first], names[join.second]
        names[join.makes] = f"{first}+{second}"
        joins.append(replace(join, first=first, second=second, makes=names[join.makes]))
    order = {section.name: _place(section).order for section in sections}
    made = replace(made, sections=tuple(sorted(sections, key=lambda one: order[one.name])), joins=tuple(joins))
    return replace(made, notes=_notes(plan, made, seams, sections))


def _sections(plan: Plan, seams: SeamMap) -> list[Section]:
    """The sections of the mirror image, in the order of the plan's own."""
    alike = Alike(plan.block)
    found = []
    for section in plan.sections:
        # A stitch line runs clockwise round the patch that it adds.
        steps = tuple(replace(step, stitch=step.stitch[::-1]) for step in section.steps)
        flipped = not section.reversed
        if is_own_mirror(alike, section.patches):
            flipped = section.reversed
            order = alike.laid_on(section.patches, section.patches, mirrored=True)
            laid = sewing_order(seams, section.patches, first=order)
            if laid is None:
                raise AssertionError(f"section {section.name} is not sewn as its mirror image")
            steps = laid
        outline = section.outline[:1] + section.outline[:0:-1]
        start = outline.index(min(outline, key=seams.reading.__getitem__))
        found.append(replace(section, reversed=flipped, steps=steps, outline=(*outline[start:], *outline[:start])))
    used: dict[tuple[str, bool], int] = {}
    for number in sorted(range(len(found)), key=lambda i: (_begins(found[i], seams), i)):
        section = found[number]
        count = used[section.print, section.reversed] = used.get((section.print, section.reversed), 0) + 1
        section = replace(section, place=count)
        found[number] = replace(section, name=_place(section).name)
    return found


def is_own_mirror(alike: Alike, patches: Sequence[int]) -> bool:
    """Whether a section can be laid on its mirror image, lines and fabrics.

    Of a curve the canonical walk knows length and area; here all its points have to come to lie on a curve.
    """
    shape, block = alike.shape(patches), alike.block
    walk = shape.walks[0]
    others = [other for other in shape.walks if other.mirrored != walk.mirrored]
    if not others or not any(block.edges[e].via for patch in patches for e in block.patches[patch].edges):
        return bool(others)
    from shapely import LinearRing

    def is_laid_on(flip: Affine, one: int, to: int) -> bool:
        laid = LinearRing([moved(flip, p) for p in block.patch_ring(one)])
        return bool(laid.hausdorff_distance(LinearRing(block.patch_ring(to))) < SAME_SPOT_IN)

    return any(
        all(is_laid_on(_flip(block, walk, other), *pair) for pair in zip(walk.patches, other.patches, strict=True))
        for other in others
    )


def _flip(block: Block, walk: Walk, other: Walk) -> Affine:
    """The mirror image, rotated and moved, that lays the points of one walk on those of another."""
    start, *rest = (complex(*block.points[p]) for p in walk.points)
    far = max(range(len(rest)), key=lambda i: abs(rest[i] - start), default=0)
    if not rest:
        return IDENTITY  # a closed curve with one point on it: nothing says where its mirror line lies
    there, ahead = (complex(*block.points[other.points[i]]) for i in (0, far + 1))
    turn = (ahead - there) / (rest[far] - start).conjugate()
    turn /= abs(turn)
    shift = there - turn * start.conjugate()
    return (turn.real, turn.imag, turn.imag, -turn.real, shift.real, shift.imag)


def _place(section: Section) -> Place:
    return Place(section.print, section.place, section.reversed, 0)


def _begins(section: Section, seams: SeamMap) -> tuple[int, int]:
    """How far down, and how far across, a section begins."""
    spots = [seams.reading[p] for patch in section.patches for p in seams.block.patches[patch].ring]
    return min(top for top, _ in spots), min(left for _, left in spots)


# -- notes -------------------------------------------------------------------------------------------------


def _notes(plan: Plan, made: Plan, seams: SeamMap, sections: Sequence[Section]) -> tuple[Note, ...]:
    """The notes of a plan as they are true of the mirror image, in their order.

    What is found by looking is looked for again; the rest keeps its words but for the names in them.

    Args:
        sections: of the mirror image, in the order of the plan's own.
    """
    paper = [section for section in made.sections if section.method == "paper"]
    again = [
        *told(made),
        *too_large_notes(seams, made.options, made.sections),
        *cloth_notes(seams, paper),
        *advice(made, seams),
    ]
    found = {note.code: note for note in again}
    renamed = {
        "advice-rotary": dict(zip(plan.patch_names(), made.patch_names(), strict=True)),  # these patches themselves
        "start": dict(_steps(plan.sections, sections)),  # whatever patch is laid on as number so
    }
    return tuple(
        found[note.code]
        if note.code in found
        else mirrored_note(_called(note, renamed.get(note.code, {})), plan.block.width_in)
        for note in plan.notes
    )


def _steps(before: Iterable[Section], after: Iterable[Section]) -> Iterable[tuple[str, str]]:
    """What the patch of each step is called, and what it is called in the mirror image."""
    for old, new in zip(before, after, strict=True):
        for count in range(1, len(old.steps) + 1):
            yield old.patch_name(count), new.patch_name(count)


def _called(note: Note, names: dict[str, str]) -> Note:
    """A note with the names of patches in it changed."""
    if not names:
        return note
    word = re.compile(r"[A-Z]+r?(?:\.\d+-)?\d+")
    return replace(note, text=word.sub(lambda found: names.get(found[0], found[0]), note.text))
