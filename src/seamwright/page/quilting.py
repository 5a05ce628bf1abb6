"""The quilt on the page: edits of its text, its picture, what it comes to, turnings to choose from, files.

Knows:  what is asked, and how long it may take.
Leaves: edits (quilt.edit), what is shown (quiltwork), files (quiltfiles), keeping the text (designs).
Units:  as `quilt.edits`.
"""

from __future__ import annotations

from dataclasses import asdict
from pathlib import Path
from typing import Annotated, Any, Literal

from fastapi import APIRouter, Response
from pydantic import Field

from seamwright.errors import OptionError, fail
from seamwright.page.asked import Name, Options, Request, Words
from seamwright.page.folder import free_name, inside
from seamwright.page.place import Place
from seamwright.page.printing import download, files_of_kinds
from seamwright.page.quiltfiles import ENDINGS, file_made
from seamwright.page.quiltturnings import turnings_shown
from seamwright.page.quiltwork import facts_told, pictured, sewable
from seamwright.quilt.edit import changed, new_quilt
from seamwright.quilt.edits import Edit
from seamwright.quilt.editview import view_of
from seamwright.units import say_list

PICTURE_S = 30.0
FACTS_S = 120.0
FILE_S = 300.0
AT_ONCE = 24
"""Turnings in one answer."""
_ENDINGS = tuple(dict.fromkeys(ending for endings in ENDINGS.values() for ending in endings))


Text = Annotated[str, Field(max_length=500_000)]
"""A whole quilt file: as many places as a quilt may have, each with a long name, take less."""


class Change(Request):
    """A quilt's text and what to do to it; no edit only asks what to show."""

    text: Text
    name: Words = ""
    edits: list[Annotated[Edit, Field(discriminator="do")]] = Field(default=[], max_length=60)


class New(Request):
    """A quilt of one block, by the name of its file."""

    block: Name
    across: Annotated[int, Field(ge=1, le=100)]
    down: Annotated[int, Field(ge=1, le=100)]


class OfQuilt(Request):
    """Asks about a quilt, as it stands on the page."""

    name: Name
    text: Text


class Block(Request):
    """A block of the quilt, and its colourway; "" for its own fabrics."""

    name: Words
    colourway: Words = ""


class Turned(OfQuilt):
    """Asks for turnings of one or two blocks of the quilt.

    side: 2: all layouts of 2 x 2 blocks; 4: layouts of 4 x 4 by rule. first: number of the first one shown.
    """

    blocks: list[Block] = Field(min_length=1, max_length=2)
    reversed_too: bool = False
    side: Literal[2, 4] = 2
    seed: int = Field(default=1, ge=1, le=1_000_000)
    first: int = Field(default=1, ge=1, le=1_000_000)


class QuiltFile(OfQuilt):
    """Asks for a file of the quilt; options win over its own."""

    options: Options = Field(default={})
    kind: Literal["picture", "foundations", "cutting", "booklet"]
    form: Literal["pdf", "png", "svg", "csv"] = "pdf"


class Shown(OfQuilt):
    """Asks for its picture."""

    finish: Literal["colour", "grey", "blank"] = "colour"


def router(place: Place) -> APIRouter:
    """The routes of this part."""
    routes = APIRouter(prefix="/api/quilt")
    folder = str(place.folder)

    @routes.post("/edit")
    def edit(asked: Change) -> dict[str, Any]:
        """The text with the edits done, and what the page shows of it."""
        text = changed(asked.text, asked.edits)
        return {"text": text, "view": asdict(view_of(text, Path(asked.name).stem))}

    @routes.post("/new")
    def new(asked: New) -> dict[str, Any]:
        """The text of a quilt of a block, and a free name for its file."""
        inside(place.folder, asked.block)
        stem = Path(asked.block).stem
        return {
            "name": free_name(place.folder, f"{stem} quilt", ".setting"),
            "text": new_quilt(f"{stem} quilt", stem, asked.block, asked.across, asked.down),
        }

    @routes.post("/picture")
    async def picture(asked: Shown) -> dict[str, Any]:
        """The quilt's picture with its places, and its sentence; or what stands against it."""
        return await place.workers.run(pictured, folder, asked.name, asked.text, asked.finish, limit_s=PICTURE_S)

    @routes.post("/sewable")
    async def blocks_sewable(asked: OfQuilt) -> dict[str, Any]:
        """Whether every block of the quilt can be sewn."""
        return await place.workers.run(sewable, folder, asked.name, asked.text, limit_s=FACTS_S)

    @routes.post("/facts")
    async def facts(asked: OfQuilt) -> dict[str, Any]:
        """What the quilt comes to: blocks, prints, fabric to buy, pressing, advice."""
        return await place.workers.run(facts_told, folder, asked.name, asked.text, limit_s=FACTS_S)

    @routes.post("/turnings")
    async def turnings(asked: Turned) -> dict[str, Any]:
        """Layouts of one or two of its blocks as pictures, the most telling first, some at a time."""
        blocks = tuple((block.name, block.colourway) for block in asked.blocks)
        how = (asked.reversed_too, asked.side, asked.seed, asked.first, AT_ONCE)
        return await place.workers.run(
            turnings_shown, folder, asked.name, asked.text, blocks, *how, limit_s=FACTS_S
        )

    @routes.post("/file", response_class=Response, responses=files_of_kinds(*_ENDINGS))
    async def file(asked: QuiltFile) -> Response:
        """A file to download: the quilt's picture, all its foundations, its cutting list, its booklet."""
        ending = f".{asked.form}"
        if ending not in ENDINGS[asked.kind]:
            forms = say_list([form.removeprefix(".").upper() for form in ENDINGS[asked.kind]], "or")
            raise fail(OptionError, "option", f"there is no {asked.form.upper()} of that", f"Ask for {forms}")
        given = tuple(asked.options.items())
        made = await place.workers.run(
            file_made, folder, asked.name, asked.text, given, asked.kind, ending, limit_s=FILE_S
        )
        return download(made, asked.name, f"-{asked.kind}{ending}")

    return routes
