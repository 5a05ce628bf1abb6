"""What cloth asks of single steps: folds that cross other patches, dark allowance under light patches.

Knows:  the steps of a plan at which the sewer must take care, and what she does about it.
Leaves: orders that avoid this wherever it can be avoided (order), advice on the drawing and its joins (advice).
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence

from seamwright.notes import Note
from seamwright.piecing.model import Section, Step
from seamwright.piecing.peel import is_fold_clear
from seamwright.piecing.seammap import SeamMap
from seamwright.piecing.shadows import Shadows


def cloth_notes(seams: SeamMap, sections: Iterable[Section]) -> tuple[Note, ...]:
    """Notes on the steps of sections; `seams` is of their block."""
    sections = tuple(sections)
    return (*_fold_notes(seams, sections), *_shadow_notes(seams, sections))


def _fold_notes(seams: SeamMap, sections: Sequence[Section]) -> tuple[Note, ...]:
    """Steps in which something sewn before lies across the fold line: the paper cannot be folded there at once."""
    found = [
        (section.patch_name(number + 1), _middle(seams, step))
        for section in sections
        for number, step in enumerate(section.steps)
        if number and not is_fold_clear(seams, step, section.patches[:number])
    ]
    if not found:
        return ()
    names, places = zip(*found, strict=True)
    # Only an inside corner of a section makes this: the line runs on, beyond its seam, through another arm.
    text = (
        f"the fold line of {', '.join(names)}, run on, crosses patches sewn before: crease along its own seam only"
    )
    return (Note("fold", text, len(names), places_in=tuple(places)),)


def _shadow_notes(seams: SeamMap, sections: Sequence[Section]) -> tuple[Note, ...]:
    """Steps that lay a lighter patch over the allowance of a darker one."""
    found = []
    for section in sections:
        names = {patch: section.patch_name(count) for count, patch in enumerate(section.patches, start=1)}
        steps = {step.patch: step for step in section.steps}
        for patch, darker in Shadows(seams, section.patches).under(section.patches):
            under = " and ".join(names[dark] for dark in sorted(darker, key=section.patches.index))
            found.append((f"{under} under {names[patch]}", _middle(seams, steps[patch])))
    if not found:
        return ()
    told, places = zip(*found, strict=True)
    text = f"trim the dark allowance a thread narrower, or it shows through: {', '.join(told)}"
    return (Note("shadow", text, len(told), places_in=tuple(places)),)


def _middle(seams: SeamMap, step: Step) -> tuple[float, float]:
    a, b = (seams.block.points[step.stitch[end]] for end in (0, -1))
    return (math.fsum((a[0], b[0])) / 2, math.fsum((a[1], b[1])) / 2)
