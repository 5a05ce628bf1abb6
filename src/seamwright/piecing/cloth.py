"""What cloth asks of single steps: folds that cross other patches, dark allowance under light patches.

Knows:  the steps of a plan at which the sewer must take care, and what she does about it.
Leaves: orders that avoid this wherever it can be avoided (order), advice on the drawing and its joins (advice).
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence

from seamwright.block.model import Block
from seamwright.notes import Note
from seamwright.piecing.model import Section
from seamwright.piecing.peel import is_fold_clear
from seamwright.piecing.seammap import SeamMap
from seamwright.piecing.shadows import Shadows

SHOWS_THROUGH = "trim the dark allowance a thread narrower, or it shows through"
"""Said of places such as "A2 under A3"; a note and the legend of a print say it alike."""
NAMED = 6
"""Steps named in one sentence; of more, the first few and how many in all."""


def cloth_notes(seams: SeamMap, sections: Iterable[Section]) -> tuple[Note, ...]:
    """Notes on the steps of sections; `seams` is of their block."""
    sections = tuple(sections)
    return (*_fold_notes(seams, sections), *_shadow_notes(seams, sections))


def shadowed(block: Block, section: Section) -> list[tuple[int, tuple[int, ...]]]:
    """(step, steps before it) for each step that lays a patch over allowance that shows through; steps from 1."""
    count = {patch: number for number, patch in enumerate(section.patches, start=1)}
    under = Shadows(block, section.patches).under(section.patches)
    return [(count[patch], tuple(sorted(count[dark] for dark in darker))) for patch, darker in under]


def _fold_notes(seams: SeamMap, sections: Sequence[Section]) -> tuple[Note, ...]:
    """Steps in which something sewn before lies across the fold line: the paper cannot be folded there at once."""
    # Only an inside corner of a section makes this: the line runs on, beyond its seam, through another arm.
    found = [
        (section, number + 1, section.patch_name(number + 1))
        for section in sections
        for number, step in enumerate(section.steps)
        if number and not is_fold_clear(seams, step, section.patches[:number])
    ]
    text = "the fold line of {}, run on, crosses patches sewn before: crease along its own seam only"
    return _note(seams, "fold", text, found)


def _shadow_notes(seams: SeamMap, sections: Sequence[Section]) -> tuple[Note, ...]:
    """Steps that lay a lighter patch over the allowance of a darker one."""
    found = []
    for section in sections:
        for step, darker in shadowed(seams.block, section):
            under = " and ".join(section.patch_name(dark) for dark in darker)
            found.append((section, step, f"{under} under {section.patch_name(step)}"))
    return _note(seams, "shadow", f"{SHOWS_THROUGH}: {{}}", found)


def _note(seams: SeamMap, code: str, text: str, found: Sequence[tuple[Section, int, str]]) -> tuple[Note, ...]:
    """One note on all steps found, as (section, step from 1, words); the steps of one print are named once."""
    if not found:
        return ()
    names: dict[tuple[str, int], str] = {}
    places = []
    for section, step, words in found:
        names.setdefault((section.print, step), words)
        stitch = section.steps[step - 1].stitch
        a, b = (seams.block.points[stitch[end]] for end in (0, -1))
        places.append((math.fsum((a[0], b[0])) / 2, math.fsum((a[1], b[1])) / 2))
    told = list(names.values())
    if len(told) > NAMED:
        told = [*told[: NAMED - 1], f"and {len(told) - NAMED + 1} more"]
    return (Note(code, text.format(", ".join(told)), len(places), places_in=tuple(places)),)
