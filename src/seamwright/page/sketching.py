"""Changes to a drawing, asked from the page: text and edits come in, the new text and what to show go out.

Knows:  how a view is told.
Leaves: what edits do (sketch), keeping the text (designs).
Units:  as `sketch.edits`.
"""

from __future__ import annotations

from dataclasses import asdict
from typing import Annotated, Any

from fastapi import APIRouter
from pydantic import Field

from seamwright.page.asked import Request, Text, Words
from seamwright.page.place import Place
from seamwright.sketch.change import changed
from seamwright.sketch.edits import Edit
from seamwright.sketch.view import View, view_of


class Change(Request):
    """A text and what to do to it; no edit only asks what to show."""

    text: Text
    name: Words = ""
    edits: list[Annotated[Edit, Field(discriminator="do")]] = Field(default=[], max_length=500)


def router(place: Place) -> APIRouter:
    """The routes of this part."""
    routes = APIRouter(prefix="/api")

    @routes.post("/sketch")
    def sketch(asked: Change) -> dict[str, Any]:
        """The text with the edits done, and what the page shows of it."""
        text = changed(asked.text, asked.edits)
        return {"text": text, "view": view_object(view_of(text, asked.name))}

    return routes


def view_object(view: View) -> dict[str, Any]:
    """A view as data: the names of `View`, an enumeration by its value."""
    made = asdict(view)
    for fabric in made["fabrics"]:
        fabric["value"] = fabric["value"].value if fabric["value"] else None
    made["options"] = dict(view.options)
    return made
