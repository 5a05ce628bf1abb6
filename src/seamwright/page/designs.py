"""Her designs: ordinary files in one folder, listed, opened, made, brought in and saved from the page.

Knows:  the requests and their answers.
Leaves: keeping files (keeping), their names (folder), drawings from elsewhere (bringing), pictures (pictures).
"""

from __future__ import annotations

import hashlib
from collections.abc import Coroutine
from dataclasses import asdict
from pathlib import Path
from typing import Annotated, Any, Literal

from fastapi import APIRouter
from fastapi.concurrency import run_in_threadpool
from fastapi.responses import JSONResponse, Response
from pydantic import BaseModel, Field

from seamwright.page.asked import Name, Request, Text, Words, in_bytes
from seamwright.page.blank import NEW_GRID, NEW_SIZE, new_text
from seamwright.page.bringing import brought, may_bring
from seamwright.page.folder import design_names, free_name, kind_of, path_of
from seamwright.page.keeping import Changed, Keeper, Saved, Step
from seamwright.page.listing import Listing
from seamwright.page.once import Once
from seamwright.page.pictures import small_picture
from seamwright.page.place import Place
from seamwright.page.printing import MEDIA, files_of_kinds
from seamwright.page.versions import Entry

BRING_S, PICTURE_S = 40.0, 15.0
MOST_PICTURES = 400
Hash = Annotated[str, Field(max_length=64, pattern=r"^([0-9a-f]{64})?$")]


class Conflict(BaseModel):
    """What a file holds instead of what was read: its text, and the hash of it; both "" if it is not there."""

    text: str
    hash: str


class Before(Request):
    """A text on the way to the one that is saved."""

    text: Text
    way: Literal["change", "undo", "redo"] = "change"


class Save(Request):
    """A text to be kept.

    base: hash of what the file held before the first change; "" for a new file. way: how the text came about;
    before: texts between the two, oldest first.
    """

    text: Text
    base: Hash
    way: Literal["change", "undo", "redo"] = "change"
    before: list[Before] = Field(default=[], max_length=60)


class LayBy(Request):
    """A text that is kept without being saved."""

    text: Text


class Make(Request):
    """A new file under a free name made of words.

    of: the design it is a copy of; once: tells this request from all others, for when it is asked a second time.
    """

    words: Words
    text: Text
    ending: Literal[".seams", ".setting", ".palette"] = ".seams"
    of: Words = ""
    once: Annotated[str, Field(max_length=64, pattern=r"^[0-9a-f-]*$")] = ""


class New(Request):
    """A block to be drawn: its name, finished size as typed, squares of the grid across (0 for none)."""

    name: Words = ""
    size: Words = NEW_SIZE
    grid: Annotated[int, Field(ge=0, le=100)] = NEW_GRID


class Bring(Request):
    """A file to be brought in: its bytes in base 64, or null for one that lies in the folder."""

    name: Name
    data: str | None = None
    size: Words = ""


class Rename(Request):
    """Another name for a design, with its ending."""

    to: Name


def router(place: Place) -> APIRouter:
    """The routes of this part."""
    routes = APIRouter(prefix="/api")
    keeper, listing = Keeper(place.folder), Listing(place.folder)
    keeper.clear_away()
    pictures: Once[str] = Once(MOST_PICTURES)

    @routes.get("/folder")
    def folder() -> dict[str, str]:
        """Which folder this is: its name, and what tells it from others."""
        return {
            "name": place.folder.name,
            "path": str(place.folder),
            "id": hashlib.sha256(str(place.folder.resolve()).encode(errors="surrogateescape")).hexdigest()[:16],
        }

    @routes.get("/designs")
    def designs() -> list[dict[str, Any]]:
        """All designs in the folder, by name: what they are, how large, when changed."""
        return listing.all(design_names(place.folder), keeper.versions)

    @routes.get("/designs/{name}")
    def design(name: Name) -> dict[str, Any]:
        """One design's text, its hash, and where undo and redo lead: hashes of versions, the next one last."""
        held = keeper.read(name)
        return {
            "name": name,
            "kind": kind_of(name),
            "text": held.text,
            "hash": held.hash,
            "past": held.chain.past,
            "ahead": held.chain.ahead,
        }

    @routes.get("/designs/{name}/hash")
    def hash_now(name: Name) -> dict[str, str]:
        """What tells whether a design was changed elsewhere; "" if it is not there."""
        return {"hash": keeper.hash(name)}

    @routes.put(
        "/designs/{name}",
        response_model=Saved,
        responses={409: {"model": Conflict, "description": "Changed elsewhere: what is there now"}},
    )
    def save(name: Name, asked: Save) -> Any:
        """Keeps a text; refused with what is there now (409) if that is not what it was changed from."""
        steps = [*(Step(one.text, one.way) for one in asked.before), Step(asked.text, asked.way)]
        try:
            return keeper.save(name, steps, asked.base)
        except Changed as now:
            return JSONResponse({"text": now.text, "hash": now.hash}, 409)

    @routes.post("/designs")
    def make(asked: Make) -> Saved:
        """Makes a design under a free name."""
        way = "copy" if asked.of else "new"
        return keeper.create(asked.words, asked.ending, asked.text, way, asked.of, once=asked.once)

    @routes.post("/designs/{name}/rename")
    def rename(name: Name, asked: Rename) -> dict[str, Any]:
        """Gives a design another name. named_in: quilts that go on naming the old one."""
        to = keeper.rename(name, asked.to)
        return {"name": to, "named_in": listing.quilts_naming(name)}

    @routes.delete("/designs/{name}")
    def take_away(name: Name) -> dict[str, Any]:
        """Takes a design out of the folder; its versions stay. named_in: quilts that go on naming it."""
        keeper.take_away(name)
        return {"named_in": listing.quilts_naming(name)}

    @routes.get("/away")
    def away() -> list[dict[str, str]]:
        """Designs that were taken away and can be brought back, the latest first."""
        return [{"name": name, "at": at} for name, at in keeper.taken_away()]

    @routes.post("/away/{name}")
    def bring_back(name: Name) -> Saved:
        """Brings back a design that was taken away."""
        return keeper.bring_back(name)

    @routes.get("/designs/{name}/versions")
    def versions(name: Name) -> tuple[Entry, ...]:
        """The last versions of a design, the newest first."""
        return keeper.versions_of(name)

    @routes.post("/designs/{name}/versions")
    def lay_by(name: Name, asked: LayBy) -> dict[str, str]:
        """Keeps a text as a version of a design whose file stays as it is."""
        return {"hash": keeper.lay_by(name, asked.text)}

    @routes.get("/designs/{name}/versions/{wanted}")
    def version(name: Name, wanted: Hash) -> dict[str, str]:
        """The text of one version."""
        return {"text": keeper.version(name, wanted), "hash": wanted}

    @routes.get("/designs/{name}/picture", response_class=Response, responses=files_of_kinds(".svg"))
    async def picture(name: Name, version: Hash = "") -> Response:
        """A small picture of a design, or of one of its versions, as SVG."""
        data = await run_in_threadpool(_bytes, name, version)
        key = f"{kind_of(name)} {hashlib.sha256(data).hexdigest()}"

        def draw() -> Coroutine[Any, Any, str]:
            return place.workers.run(small_picture, str(place.folder), name, data, limit_s=PICTURE_S)

        # A quilt shows its blocks, which change without it.
        drawn = await (draw() if kind_of(name) == "quilt" else pictures.get(key, draw))
        return Response(drawn, media_type=MEDIA[".svg"])

    @routes.post("/bring")
    async def bring(asked: Bring) -> dict[str, Any]:
        """Brings a file in: the answer names the design to open, and says what was tidied and where."""
        may_bring(asked.name)
        data = (
            in_bytes(asked.data, "the file")
            if asked.data is not None
            else await run_in_threadpool(_bytes, asked.name, "")
        )
        copy = listing.copy_of(asked.name, data, keeper.versions)
        if copy:
            return {"name": copy, "again": True, "notes": [], "unfinished": []}
        found = await place.workers.run(brought, asked.name, data, asked.size, limit_s=BRING_S)
        stem = Path(asked.name).stem
        saved = await run_in_threadpool(
            keeper.create, stem, found["ending"], found["text"], "brought", asked.name, data
        )
        return {**asdict(saved), "again": False, "notes": found["notes"], "unfinished": found["unfinished"]}

    @routes.post("/new")
    def new(asked: New) -> dict[str, str]:
        """The text of a block to be drawn, and a free name for its file; nothing is written yet."""
        text = new_text(asked.name.strip() or "new block", asked.size, asked.grid)
        return {"name": free_name(place.folder, asked.name.strip() or "new block", ".seams"), "text": text}

    @routes.get("/free")
    def free(words: Words, ending: Literal[".seams", ".setting", ".palette"] = ".seams") -> dict[str, str]:
        """A name that is free, made of words."""
        return {"name": free_name(place.folder, words, ending)}

    def _bytes(name: str, version: str) -> bytes:
        from seamwright.drawing.read import file_bytes

        if not version:
            return file_bytes(path_of(place.folder, name), kind_of(name))
        return keeper.version(name, version).encode()

    return routes
