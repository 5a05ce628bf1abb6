"""The quilt on the page: edits of its text, its picture, what it comes to, turnings to choose from, files.

Knows:  what is asked, and how long it may take.
Leaves: edits (quilt.edit), what is shown (quiltwork), files (quiltfiles), keeping the text (designs).
Units:  as `quilt.edits`.
"""

from __future__ import annotations

from dataclasses import asdict
from pathlib import Path
from typing import Annotated, Any, Literal

from fastapi import APIRouter
from pydantic import Field

from seamwright.page.asked import Name, Request, Text, Words
from seamwright.page.folder import free_name, inside
from seamwright.page.place import Place
from seamwright.page.quiltwork import pictured
from seamwright.quilt.edit import changed, new_quilt
from seamwright.quilt.edits import Edit
from seamwright.quilt.editview import view_of

PICTURE_S = 30.0
FACTS_S = 120.0


class Change(Request):
    """A quilt's text and what to do to it; no edit only asks what to show."""

    text: Text
    name: Words = ""
    edits: list[Annotated[Edit, Field(discriminator="do")]] = Field(default=[], max_length=500)


class New(Request):
    """A quilt of one block, by the name of its file."""

    block: Name
    across: Annotated[int, Field(ge=1, le=100)]
    down: Annotated[int, Field(ge=1, le=100)]


class OfQuilt(Request):
    """Asks about a quilt, as it stands on the page."""

    name: Name
    text: Text


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

    return routes
