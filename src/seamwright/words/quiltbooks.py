"""What the booklet of a quilt comes to, in sentences on one screen.

Knows:  what is told of it.
Leaves: sheets (words.prints), the same facts as data (report.quiltbooks), pages themselves (booklet).
"""

from __future__ import annotations

from seamwright.booklet.effort import effort_of
from seamwright.booklet.title import level_words
from seamwright.quiltbooks import QuiltBooked
from seamwright.report.books import chapters
from seamwright.units import say_count, say_size
from seamwright.words.prints import foundations_words


def quilt_booklet_words(booked: QuiltBooked) -> list[str]:
    """Lines for a person: what was made, what is where, and what to do next."""
    printed, quilt = booked.printed, booked.facts.quilt
    pages, sheets = say_count(len(booked.pages), "page"), say_count(len(printed.sheets), "sheet")
    behind = f", then {sheets} of foundations for one block of each kind" if printed.sheets else ""
    size = say_size(quilt.width_in, quilt.height_in, booked.facts.cutting.units)
    told = "; ".join(f"{one['title']} {one['page']}" for one in chapters(booked))
    total = sum(count.count for count in booked.facts.prints if count.kind == "foundation")
    looks = zip(quilt.looks, booked.facts.plans, strict=True)
    return [
        f"{printed.file}: {pages} to read{behind}, {printed.paper}.",
        f"  {quilt.setting.name}: {size}, {say_count(len(quilt.spots), 'block')}.",
        *(f"  {look.name}: {level_words(effort_of(plan, booked.book))}." for look, plan in looks),
        f"  By page: {told}.",
        f"  The quilt needs {say_count(total, 'foundation')}: seamwright foundations prints all of them.",
        *(foundations_words(printed)[1:] if printed.sheets else ()),
    ]
