"""The verdict on a drawing as it stands on the page, and mends for it.

Knows:  which sentence stands in the verdict's place.
Leaves: the finding itself (api, report.checks: the same as `seamwright check --json`).
"""

from __future__ import annotations

from typing import Any

from fastapi import APIRouter

from seamwright.page.asked import OfDrawing, error_object
from seamwright.page.place import Place

VERDICT_S = 20.0


def router(place: Place) -> APIRouter:
    """The routes of this part."""
    routes = APIRouter(prefix="/api")

    @routes.post("/verdict")
    async def verdict(asked: OfDrawing) -> dict[str, Any]:
        """Whether the drawing can be sewn, with sections, order and counts, or with what stands against it."""
        path = str(place.folder / asked.name)
        return await place.workers.run(
            verdict_on, path, asked.text, tuple(asked.options.items()), limit_s=VERDICT_S
        )

    return routes


def verdict_on(path: str, text: str, given: tuple[tuple[str, str], ...]) -> dict[str, Any]:
    """The finding of `seamwright check`, with `state` and `sentence` before it.

    States: "can", "cannot", "unfinished" (lines end in the open), "empty" (no line yet), "unreadable".
    """
    from seamwright.api import outcome
    from seamwright.report.checks import check_object
    from seamwright.words.checks import verdict

    found = outcome(path, given, source=text.encode())
    if found.plan is None:
        assert found.error is not None
        state = "unfinished" if found.error.code == "unfinished" else "unreadable"
        sentence = "Not finished yet: a line still ends in the open." if state == "unfinished" else str(found.error)
        return {"state": state, "sentence": sentence, **error_object(found.error)}
    state = "can" if found.plan.sections else "cannot"
    return {"state": state, "sentence": verdict(found.plan), **check_object(path, found.plan)}
