"""What a booklet comes to, in sentences on one screen.

Knows:  what is told of it.
Leaves: sheets (words.prints), the same facts as data (report.books), pages themselves (booklet).
"""

from __future__ import annotations

from seamwright.booklet.effort import effort_of
from seamwright.booklet.title import level_words
from seamwright.report.books import chapters, level_notes
from seamwright.results import Booked
from seamwright.sheet.naming import block_names
from seamwright.units import say_count
from seamwright.words.checks import note_words
from seamwright.words.prints import foundations_words


def booklet_words(booked: Booked) -> list[str]:
    """Lines for a person: what was made, what is where, and what to do next."""
    printed = booked.printed
    pages, sheets = say_count(len(booked.pages), "page"), say_count(len(printed.sheets), "sheet")
    behind = f", then {sheets} of foundations" if printed.sheets else ""
    told = "; ".join(f"{one['title']} {one['page']}" for one in chapters(booked))
    return [
        f"{printed.file}: {pages} to read{behind}, {printed.paper}.",
        *(
            f"  {name}: {level_words(effort_of(plan, booked.book))}."
            for name, plan in dict(zip(block_names(printed.plans), printed.plans, strict=True)).items()
        ),
        f"  By page: {told}.",
        *(f"  {note_words(note)}" for note in level_notes(booked)),
        *(foundations_words(printed)[1:] if printed.sheets else ()),
    ]
