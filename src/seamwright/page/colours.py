"""Fabrics of a drawing as it stands on the page: what is asked about them.

Knows:  the requests, and how long they may take.
Leaves: what is told (colourtasks), painting itself (sketch), fabrics and palettes as text (drawing).
"""

from __future__ import annotations

from typing import Any

from fastapi import APIRouter

from seamwright.page.asked import OfDrawing, Request, Text, Words
from seamwright.page.colourtasks import fabrics_on, stated_in, ways_shown
from seamwright.page.place import Place

FABRICS_S = 20.0


class Ways(OfDrawing):
    """Asks for a picture of each colourway, in colour or in grey."""

    grey: bool = False


class OneFabric(Request):
    """A fabric as typed, before it is kept: what a fabric line may say, "" for what it does not."""

    name: Words = "fabric"
    colour: Words = ""
    value: Words = ""
    warmth: Words = ""
    code: Words = ""
    stripes: Words = ""
    direction: Words = ""
    width: Words = ""


class Keep(Request):
    """Which fabrics of a text a palette is made of: all that it states."""

    text: Text


def router(place: Place) -> APIRouter:
    """The routes of this part."""
    routes = APIRouter(prefix="/api")

    @routes.post("/fabrics")
    async def fabrics(asked: OfDrawing) -> dict[str, Any]:
        """Fabrics, patches in them, colourways, and where two fabrics read alike."""
        return await place.workers.run(fabrics_on, *asked.values(place.folder), limit_s=FABRICS_S)

    @routes.post("/fabrics/ways")
    async def ways(asked: Ways) -> list[dict[str, str]]:
        """The block in its own fabrics and in every colourway, as small pictures to compare."""
        return await place.workers.run(ways_shown, *asked.values(place.folder), asked.grey, limit_s=FABRICS_S)

    @routes.post("/fabrics/one")
    def one(asked: OneFabric) -> dict[str, Any]:
        """How a fabric that is being typed looks and reads."""
        from seamwright.options import Units
        from seamwright.page.swatches import Looks
        from seamwright.sketch.edits import SetFabric
        from seamwright.sketch.fabrics import as_line

        _, fabric = as_line(SetFabric(**asked.model_dump()))
        return Looks([fabric]).of(fabric, {}, Units.INCH)

    @routes.post("/fabrics/palette")
    def palette(asked: Keep) -> dict[str, str]:
        """The fabrics and colourways that a drawing states, as the text of a palette."""
        from seamwright.drawing.palette import write_palette
        from seamwright.fabric.model import Palette

        stated, ways = stated_in(asked.text)
        return {"text": write_palette(Palette("", tuple(stated), tuple(ways)))}

    return routes
