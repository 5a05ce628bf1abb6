"""Her designs: ordinary files in one folder, listed, opened, made and saved from the page.

Knows:  which files are designs, that a write carries the hash of what was read.
Leaves: what is in a file (sketch, quilt), older versions of it (versions).
"""

from __future__ import annotations

import hashlib
import re
from pathlib import Path
from typing import Any

from fastapi import APIRouter
from fastapi.responses import JSONResponse

from seamwright.errors import FileError, fail
from seamwright.output import write_whole
from seamwright.page.asked import Name, Request, Text
from seamwright.page.place import Place

ENDINGS = {".seams": "block", ".svg": "drawing", ".setting": "quilt", ".palette": "palette"}
_GOOD = re.compile(r"[^\x00-\x1f/\\:*?\"<>|.][^\x00-\x1f/\\:*?\"<>|]*")


class Save(Request):
    """A text to be kept. base: hash of what was read before it was changed; "" for a new file."""

    text: Text
    base: str


def router(place: Place) -> APIRouter:
    """The routes of this part."""
    routes = APIRouter(prefix="/api/designs")

    @routes.get("")
    def designs() -> list[dict[str, Any]]:
        """All designs in the folder, by name."""
        files = sorted(p for p in place.folder.iterdir() if p.suffix.lower() in ENDINGS and p.is_file())
        return [{"name": p.name, "kind": ENDINGS[p.suffix.lower()]} for p in files]

    @routes.get("/{name}")
    def design(name: Name) -> dict[str, Any]:
        """One design's text, and its hash."""
        data = path_of(place.folder, name).read_bytes()
        return {
            "name": name,
            "kind": ENDINGS[Path(name).suffix.lower()],
            "text": data.decode(),
            "hash": hash_of(data),
        }

    @routes.put("/{name}")
    def save(name: Name, asked: Save) -> Any:
        """Keeps a text; refused with what is there now (409) if that is not what it was changed from."""
        path = path_of(place.folder, name)
        there = path.read_bytes() if path.exists() else b""
        if (hash_of(there) if there else "") != asked.base:
            return JSONResponse({"text": there.decode(errors="replace"), "hash": hash_of(there)}, 409)
        data = asked.text.encode()
        write_whole(path, data)
        return {"hash": hash_of(data)}

    return routes


def hash_of(data: bytes) -> str:
    """What tells one version of a file from another."""
    return hashlib.sha256(data).hexdigest()


def path_of(folder: Path, name: str) -> Path:
    """The path of a design by its name.

    Raises:
        FileError: no design can have such a name, or it leads out of the folder.
    """
    path = folder / name
    inside = path.resolve().parent == folder.resolve()
    if not _GOOD.fullmatch(name) or path.suffix.lower() not in ENDINGS or not inside:
        what = "this is no name of a design in this folder"
        raise fail(FileError, "file", what, "Choose a plain name that ends in .seams, .setting or .palette")
    return path
