"""What is printed of a text on the page: sheets with their pictures, files for a cutter, the booklet, the key.

Knows:  which call makes what, what is told of it on the page.
Leaves: the work (api, handouts, picturing), its words (words), who asks and how long it may take (printing).
Units:  points on paper.
Method: functions of plain values, run in a process of their own. The sheets shown are those of the finished file,
        which has been read back and measured; so what is looked at is what is downloaded.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from io import BytesIO
from typing import TYPE_CHECKING, Any
from zipfile import ZIP_DEFLATED, ZipFile, ZipInfo

from seamwright.asked import Given
from seamwright.page.planned import plans_of_text
from seamwright.words.onpage import capital, on_page

if TYPE_CHECKING:
    from seamwright.quiltbooks import QuiltBooked
    from seamwright.results import Booked, Printed
    from seamwright.sheet.model import Sheet

MOST_PICTURES = 48
"""Sheets shown of one print: whoever prints more has seen what they are like."""


@dataclass(frozen=True, slots=True)
class Made:
    """A finished file.

    Attributes:
        content: its bytes. said: what is told of it once it is made, a sentence or two each.
    """

    content: bytes
    said: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Prints:
    """A finished print file, and how it looks.

    Attributes:
        pdf: the file. facts: what is told of it. captions, pictures: of its first sheets, each an SVG document.
    """

    pdf: Made
    facts: dict[str, Any]
    captions: tuple[str, ...]
    pictures: tuple[str, ...]


def printed_sheets(path: str, text: str, given: Given) -> Prints:
    """The print file of a text, its sheets as pictures, and what the command says of it on its one screen."""
    from seamwright.api import pdf_of
    from seamwright.ink.svg import to_svg
    from seamwright.paper import paper
    from seamwright.sheet.stock import on_screen
    from seamwright.words.prints import block_words, made_words, next_words, told_notes, true_words

    pdf, printed = pdf_of(*plans_of_text(path, text, given), file=path)
    shown = [sheet for sheet in printed.sheets if sheet.in_set is None or sheet.in_set.set == 1][:MOST_PICTURES]
    made, true = made_words(replace(printed, paper=paper(printed.paper).said)), true_words(printed)
    following = capital(next_words(printed.printing))
    facts = {
        "sheets": len(printed.sheets),
        "made": f"{made}.",
        "blocks": [on_page(words) for words in block_words(printed)],
        "notes": [on_page(words) for words in told_notes(printed)],
        "stock": list(on_screen(printed.plans, printed.printing)),
        "true": true,
        "next": following,
        "alike": _alike(printed),
    }
    return Prints(
        Made(pdf, (f"{made}.", following, true)),
        facts,
        tuple(map(_caption, shown)),
        tuple(to_svg(sheet.ink, sheet.width_pt, sheet.height_pt, "pt", background="#ffffff") for sheet in shown),
    )


def _caption(sheet: Sheet) -> str:
    from seamwright.words.prints import held_words

    number, of = (sheet.in_set.sheet, sheet.in_set.sheets) if sheet.in_set else (sheet.number, sheet.of)
    return f"Sheet {number} of {of}: {held_words(sheet)}"


def _alike(printed: Printed) -> str:
    """What of the sheets is not shown since it looks like what is, "" for nothing."""
    sets = max((sheet.in_set.sets for sheet in printed.sheets if sheet.in_set), default=1)
    return f"The sheets of the first of {sets} sets; the others differ in their number only." if sets > 1 else ""


def cutter_files(path: str, text: str, given: Given) -> Made:
    """Every foundation as SVG and DXF with named layers at true size, and as a picture, packed into one file."""
    from seamwright.api import files_of
    from seamwright.words.checks import files_words

    made = files_of(*plans_of_text(path, text, given))
    packed = BytesIO()
    with ZipFile(packed, "w", ZIP_DEFLATED) as folder:
        for one in made:
            for ending, content in one.contents.items():
                # The time is part of the file: the same drawing should give the same bytes.
                folder.writestr(ZipInfo(f"{one.name}{ending}", (1980, 1, 1, 0, 0, 0)), content, ZIP_DEFLATED)
    first, *rest = files_words("", made)
    said = (first.removeprefix(": "), *rest)
    return Made(packed.getvalue(), tuple(on_page(line.strip()) for line in said))


def class_booklet(path: str, text: str, given: Given) -> Made:
    """The handout of a class."""
    from seamwright.handouts import booklet_of

    pdf, booked = booklet_of(*plans_of_text(path, text, given), file=path)
    return Made(pdf, booklet_words(booked))


def booklet_words(booked: Booked | QuiltBooked) -> tuple[str, ...]:
    """What is told of a booklet once it is made: its pages, how to print its sheets, how true they are."""
    from seamwright.units import say_count
    from seamwright.words.prints import next_words, true_words

    sheets = booked.printed.sheets
    behind = f", then {say_count(len(sheets), 'sheet')} of foundations" if sheets else ""
    following = (capital(next_words(booked.printed.printing)),) if sheets else ()
    pages = f"{say_count(len(booked.pages), 'page')} to read{behind}."
    return pages, *following, true_words(booked.printed)


def plan_picture(path: str, text: str, given: Given) -> Made:
    """The picture of the plan: sections tinted, patches numbered, from the front."""
    from seamwright.ink.png import to_png
    from seamwright.output import made_by
    from seamwright.picturing import picture_of

    plan = plans_of_text(path, text, given)[0]
    content = to_png(picture_of(plan), text={"Software": "seamwright", "Source": made_by([path])})
    return Made(content, ("The block from the front, sections tinted, patches numbered.",))
