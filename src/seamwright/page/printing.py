"""Printing from the page: sheets to look at, and files to download.

Knows:  what may be asked, how long each kind of file may take, how files are called.
Leaves: the work (printtasks), options (choices).
Method: a print is made once: what was shown stays at hand until three others have been made, so a download is the
        very file whose sheets were looked at. One that uses a palette is made anew: the palette is another file.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Callable
from typing import Any, Literal, TypeVar
from urllib.parse import quote

from fastapi import APIRouter, Response
from pydantic import Field

from seamwright.errors import OptionError, SeamwrightError, fail
from seamwright.page.asked import OfDrawing, Request
from seamwright.page.choices import choices_object, usable
from seamwright.page.once import Once
from seamwright.page.place import Place
from seamwright.page.planned import file_stem
from seamwright.page.printtasks import Made, Prints, class_booklet, cutter_files, plan_picture, printed_sheets

PRINT_S, FILES_S, BOOKLET_S, PICTURE_S = 120.0, 120.0, 240.0, 60.0
AT_ONCE = 6
"""Pictures in one answer."""
KEPT = 3
_Made = TypeVar("_Made")
SAID = "Seamwright-Said"
"""Header of a file: what is told of it, as JSON in percent signs, for headers hold plain letters only."""


class Pages(OfDrawing):
    """Asks for pictures of sheets, those from `first` on."""

    first: int = Field(default=1, ge=1, le=1000)


class PrintFile(OfDrawing):
    """Asks for a file.

    Kinds: "pdf", the foundations; "cutter", SVG and DXF of each, packed; "booklet"; "picture" of the plan.
    """

    kind: Literal["pdf", "cutter", "booklet", "picture"]


class Choice(Request):
    """Asks whether an option can have a value; "" takes it away."""

    option: str = Field(max_length=40)
    value: str = Field(max_length=400)


_KINDS: dict[str, tuple[Callable[..., Made], float, str]] = {
    "cutter": (cutter_files, FILES_S, "-cutter.zip"),
    "booklet": (class_booklet, BOOKLET_S, "-booklet.pdf"),
    "picture": (plan_picture, PICTURE_S, "-plan.png"),
}
"""Kind of file -> who makes it, seconds it may take, how its name ends."""
MEDIA = {
    ".pdf": "application/pdf",
    ".zip": "application/zip",
    ".png": "image/png",
    ".svg": "image/svg+xml",
    ".csv": "text/csv; charset=utf-8",
}


def router(place: Place) -> APIRouter:
    """The routes of this part."""
    routes = APIRouter(prefix="/api/print")
    made_once: Once[Prints] = Once(KEPT)

    async def prints(asked: OfDrawing) -> Prints:
        key = hashlib.sha256(json.dumps([asked.name, asked.text, asked.options]).encode()).hexdigest()
        keep = "palette" not in asked.text.lower() and "palette" not in asked.options
        return await made_once.get(key, lambda: run(place, asked, printed_sheets, PRINT_S), keep=keep)

    @routes.get("/choices")
    def choices() -> list[dict[str, Any]]:
        """The options of sheets, lists and booklets as fields: label, help, what can be chosen."""
        return choices_object()

    @routes.post("/choice")
    async def choice(asked: Choice) -> dict[str, Any]:
        """Whether an option can have this value; refused with the sentence that says why not."""
        usable(asked.option, asked.value)
        return {}

    @routes.post("/pages")
    async def pages(asked: Pages) -> dict[str, Any]:
        """What is printed, how true it is, what to do next; pictures of a few sheets."""
        made = await prints(asked)
        shown = slice(asked.first - 1, asked.first - 1 + AT_ONCE)
        return {
            **made.facts,
            "first": asked.first,
            "shown": len(made.pictures),
            "captions": made.captions[shown],
            "pictures": made.pictures[shown],
        }

    @routes.post("/file", response_class=Response, responses=files_of_kinds(".pdf", ".zip", ".png"))
    async def file(asked: PrintFile) -> Response:
        """A file to download, read back and measured."""
        if asked.kind == "pdf":
            return download((await prints(asked)).pdf, asked.name, ".pdf")
        make, limit_s, ending = _KINDS[asked.kind]
        made = await run(place, asked, make, limit_s)
        return download(made, asked.name, ending)

    return routes


def files_of_kinds(*endings: str) -> dict[int | str, dict[str, Any]]:
    """What an answer with one of these files is described as."""
    return {200: {"description": "The file", "content": {MEDIA[ending]: {} for ending in endings}}}


async def run(place: Place, asked: OfDrawing, work: Callable[..., _Made], limit_s: float, *more: str) -> _Made:
    """What a task makes of a drawing, in a process of its own.

    Raises:
        SeamwrightError: what the task raised, or that it took longer than its limit.
    """
    try:
        return await place.workers.run(work, *asked.values(place.folder), *more, limit_s=limit_s)
    except SeamwrightError as error:
        if error.code != "too long":
            raise
        mend = "Ask for fewer copies or blocks at a time, or make the drawing simpler"
        raise fail(OptionError, "too long", error.faults[0].what, mend) from None


def download(made: Made, name: str, ending: str) -> Response:
    """A file with the name it is kept under, and what is told of it."""
    called = f"{file_stem(name)}{ending}"
    plain = called.encode("ascii", "replace").decode().replace("?", "-")
    headers = {
        "Content-Disposition": f"attachment; filename=\"{plain}\"; filename*=UTF-8''{quote(called)}",
        SAID: quote(json.dumps(made.said)),
    }
    return Response(made.content, media_type=MEDIA[ending[ending.rindex(".") :]], headers=headers)
