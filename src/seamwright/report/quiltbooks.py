"""What the booklet of a quilt comes to, as data for programs: what is on which page, and the quilt itself.

Knows:  the fields that other programs rely on; they are only ever added.
Leaves: the quilt (report.quilts), sheets (report.prints), chapters (report.books).
"""

from __future__ import annotations

from seamwright.quiltbooks import QuiltBooked
from seamwright.report.books import chapters
from seamwright.report.prints import foundations_object
from seamwright.report.quilts import quilt_object
from seamwright.report.values import Json, options_as_text


def quilt_booklet_object(booked: QuiltBooked) -> Json:
    """What is on which page; the quilt as its own command tells it."""
    sheets = booked.printed.sheets
    return {
        **foundations_object(booked.printed),
        "booklet": options_as_text(booked.book),
        "pages": len(booked.pages) + len(sheets),
        "first_sheet_page": len(booked.pages) + 1 if sheets else None,
        "chapters": chapters(booked),
        "pictures": [
            {"page": number, "shows": shows}
            for number, page in enumerate(booked.pages, start=1)
            for shows in page.shows
        ],
        "quilt": quilt_object(booked.facts),
    }
