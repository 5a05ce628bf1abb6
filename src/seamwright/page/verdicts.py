"""The verdict on a drawing as it stands on the page, and mends for it.

Knows:  how long each may take.
Leaves: what is found (verdicttasks).
"""

from __future__ import annotations

from typing import Any

from fastapi import APIRouter

from seamwright.page.asked import OfDrawing
from seamwright.page.place import Place
from seamwright.page.verdicttasks import mends_for, verdict_on

VERDICT_S = 20.0
MENDS_S = 60.0


def router(place: Place) -> APIRouter:
    """The routes of this part."""
    routes = APIRouter(prefix="/api")

    @routes.post("/verdict")
    async def verdict(asked: OfDrawing) -> dict[str, Any]:
        """Whether the drawing can be sewn, with sections, order and counts, or with what stands against it."""
        return await place.workers.run(verdict_on, *asked.values(place.folder), limit_s=VERDICT_S)

    @routes.post("/mends")
    async def mends(asked: OfDrawing) -> dict[str, Any]:
        """Small changes of a drawing that is stuck, each tried and proven, with the text that it makes."""
        return await place.workers.run(mends_for, *asked.values(place.folder), limit_s=MENDS_S)

    return routes
