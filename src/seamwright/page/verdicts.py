"""The verdict on a drawing as it stands on the page, and mends for it.

Knows:  how long each may take; which lines of a text the verdict does not rest on.
Leaves: what is found (verdicttasks).
Method: a verdict that was searched for stays at hand. What is asked of sheets, lists and booklets alone changes
        nothing of it, so no search begins anew for that. One with a palette does: that is another file.
"""

from __future__ import annotations

import json
from typing import Any

from fastapi import APIRouter

from seamwright.errors import OptionError
from seamwright.optiontext import ALL_OPTIONS, OPTIONS, read_option
from seamwright.page.asked import OfDrawing
from seamwright.page.once import Lately
from seamwright.page.place import Place
from seamwright.page.verdicttasks import mends_for, verdict_on

VERDICT_S = 20.0
MENDS_S = 60.0
KEPT = 4
SEARCHED = ("can", "cannot")
"""States that name no line of the text, so that the answer is as true of another with the same seams."""
NOT_SEWN = ALL_OPTIONS.keys() - OPTIONS.keys()
"""Options of sheets, lists and booklets: the plan rests on none of them."""


def router(place: Place) -> APIRouter:
    """The routes of this part."""
    routes = APIRouter(prefix="/api")

    known: Lately[dict[str, Any]] = Lately(KEPT)

    @routes.post("/verdict")
    async def verdict(asked: OfDrawing) -> dict[str, Any]:
        """Whether the drawing can be sewn, with sections, order and counts, or with what stands against it."""
        key = json.dumps([asked.name, what_is_sewn(asked.text), asked.options])
        found = known.find(key)
        if found is not None:
            return found
        found = await place.workers.run(verdict_on, *asked.values(place.folder), limit_s=VERDICT_S)
        if found["state"] in SEARCHED and "palette" not in key.lower():
            known.keep(key, found)
        return found

    @routes.post("/mends")
    async def mends(asked: OfDrawing) -> dict[str, Any]:
        """Small changes of a drawing that is stuck, each tried and proven, with the text that it makes."""
        return await place.workers.run(mends_for, *asked.values(place.folder), limit_s=MENDS_S)

    return routes


def what_is_sewn(text: str) -> str:
    """A text without the options that only sheets, lists and booklets have, so far as they can be used.

    What cannot be used stays, for the verdict speaks of it.

    >>> what_is_sewn("size 6 in\\noption copies 3\\noption paper a4\\n")
    'size 6 in\\noption paper a4'
    """
    lines = text.splitlines()
    said = [line.split(maxsplit=2) if line.startswith("option ") else [] for line in lines]
    names = [words[1] if len(words) > 1 else "" for words in said]

    def is_needless(number: int) -> bool:
        name = names[number]
        if name not in NOT_SEWN or names.count(name) > 1 or set(lines[number]) & set("#\"'"):
            return False
        try:
            read_option(name, said[number][2] if len(said[number]) > 2 else "")
        except OptionError:
            return False
        return True

    return "\n".join(line for number, line in enumerate(lines) if not is_needless(number)).rstrip()
