"""The chapter of what asks for care in this block: advice of the plan and what the sewing rehearsal noticed.

Knows:  which notes a sewer needs at the machine, and which are for whoever draws.
Leaves: the notes themselves (piecing.advice, rehearsal).
"""

from __future__ import annotations

from seamwright.booklet.model import Heading, Paragraph, Points, Story
from seamwright.piecing.model import Plan
from seamwright.rehearsal.model import Rehearsed

AT_THE_MACHINE = ("shadow", "advice-sharp", "advice-narrow", "advice-bulk", "advice-miss", "advice-shadow")
"""Codes of a plan's notes that help while sewing; the others are about the drawing or the search."""


def care_story(plan: Plan, rehearsed: Rehearsed) -> Story:
    """The notes as a list, () if nothing asks for care."""
    notes = [note for note in plan.notes if note.code in AT_THE_MACHINE] + [*rehearsed.notes]
    texts = tuple(dict.fromkeys(f"{note.text[:1].upper()}{note.text[1:]}." for note in notes))
    if not texts:
        return ()
    return (Heading("Where to take care"), Paragraph("Read this before the first stitch."), Points(texts))
