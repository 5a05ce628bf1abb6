"""The sewing rehearsal of a drawing as it stands on the page.

Knows:  how long it may take.
Leaves: the rehearsal, its words and pictures (steptasks).
"""

from __future__ import annotations

from typing import Any

from fastapi import APIRouter

from seamwright.page.asked import OfDrawing
from seamwright.page.place import Place
from seamwright.page.steptasks import steps_of

STEPS_S = 60.0


def router(place: Place) -> APIRouter:
    """The routes of this part."""
    routes = APIRouter(prefix="/api")

    @routes.post("/steps")
    async def steps(asked: OfDrawing) -> dict[str, Any]:
        """The rehearsal of a drawing that can be sewn, step by step in sewing order."""
        return await place.workers.run(steps_of, *asked.values(place.folder), limit_s=STEPS_S)

    return routes
