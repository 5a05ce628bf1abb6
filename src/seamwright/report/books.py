"""What a booklet comes to, as data for programs: what is on which page.

Knows:  the fields that other programs rely on.
Leaves: sheets and cutting lists (the other reports), the same facts in sentences (words.books), pages (booklet).
Units:  pages of the file, from 1; the rest as in the reports of prints and cutting lists.
Method: fields are only ever added, never renamed.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from seamwright.booklet.effort import effort_of
from seamwright.notes import Note
from seamwright.printnotes import lettering_notes
from seamwright.report.cuts import cuttings_object
from seamwright.report.prints import foundations_object
from seamwright.report.values import Json, note_object, options_as_text, rounded
from seamwright.results import Booked
from seamwright.sheet.naming import SHEETS

if TYPE_CHECKING:
    from seamwright.quiltbooks import QuiltBooked


def booklet_object(booked: Booked) -> Json:
    """What is on which page, with the sheets and the cutting lists as their own commands tell them."""
    efforts = [(plan, effort_of(plan, booked.book)) for plan in booked.printed.plans]
    printed = foundations_object(booked.printed)
    return {
        **printed,
        "notes": [*printed["notes"], *map(note_object, level_notes(booked))],
        "booklet": options_as_text(booked.book),
        "pages": len(booked.pages) + len(booked.printed.sheets),
        "first_sheet_page": len(booked.pages) + 1 if booked.printed.sheets else None,
        "chapters": chapters(booked),
        "pictures": [
            {"page": number, "shows": shows}
            for number, page in enumerate(booked.pages, start=1)
            for shows in page.shows
        ],
        "blocks": [
            {
                "drawing": plan.block.file,
                "colourway": plan.block.colourway or None,
                "block_reversed": plan.block.reversed,
                "level": effort.level,
                "hours": rounded(effort.hours),
                "patches": effort.patches,
                "points_to_match": effort.points,
                "sharpest_deg": rounded(effort.sharpest_deg, 3),
            }
            for plan, effort in efforts
        ],
        "cutting": cuttings_object(booked.cuttings),
    }


def level_notes(booked: Booked) -> tuple[Note, ...]:
    """What the type cannot print of the designer's own words for the level."""
    return tuple(lettering_notes("level", booked.book.level))


def chapters(booked: Booked | QuiltBooked) -> list[Json]:
    """Chapters with what is in them, each with its page; the sheets last."""
    found: list[Json] = []
    for number, page in enumerate(booked.pages, start=1):
        for mark in page.bookmarks:
            if mark.level == 1:
                found.append({"title": mark.text, "page": number, "sections": []})
            elif found:
                found[-1]["sections"].append({"title": mark.text, "page": number})
    behind = [{"title": SHEETS, "page": len(booked.pages) + 1, "sections": []}] if booked.printed.sheets else []
    return [*found, *behind]
