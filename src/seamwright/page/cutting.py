"""Cutting lists on the page: what to buy, strips and pieces, and the list as a file.

Knows:  what may be asked.
Leaves: the work (cuttasks).
"""

from __future__ import annotations

from typing import Any, Literal

from fastapi import APIRouter, Response

from seamwright.page.asked import OfDrawing
from seamwright.page.cuttasks import cutting_made, cutting_told
from seamwright.page.place import Place
from seamwright.page.printing import download, files_of_kinds, run

CUT_S = 90.0


class CutFile(OfDrawing):
    """Asks for a file: "pdf", pages to print, or "csv", a table for spreadsheets."""

    form: Literal["pdf", "csv"]


def router(place: Place) -> APIRouter:
    """The routes of this part."""
    routes = APIRouter(prefix="/api/cutting")

    @routes.post("")
    async def cutting(asked: OfDrawing) -> dict[str, Any]:
        """What to buy, and what to cut of each fabric."""
        return await run(place, asked, cutting_told, CUT_S)

    @routes.post("/file", response_class=Response, responses=files_of_kinds(".pdf", ".csv"))
    async def file(asked: CutFile) -> Response:
        """The list as a file to download."""
        form = f".{asked.form}"
        made = await run(place, asked, cutting_made, CUT_S, form)
        return download(made, asked.name, f"-cutting{form}")

    return routes
