"""Pictures laid under drawings, to trace by hand: kept beside older versions, and no part of any design.

Knows:  where such a picture lies in the folder, what a request for one holds.
Leaves: the picture itself: only the browser draws it. Nothing of it is printed, checked or sent elsewhere.
Units:  inches of the finished block, front view.
Method: a picture lies in `.seamwright/tracing/` under its design's name, its place beside it; the place is written
        last, and a place without its picture is none.
"""

from __future__ import annotations

import base64
import json
from pathlib import Path
from typing import Annotated, Any, Literal

from fastapi import APIRouter
from pydantic import Field, ValidationError

from seamwright.errors import FileError, fail
from seamwright.output import write_whole
from seamwright.page.asked import Name, Request, in_bytes
from seamwright.page.folder import KEPT, path_of
from seamwright.page.place import Place
from seamwright.page.versions import ready_within

MOST_BYTES = 12_000_000
"""Of a picture; the browser makes larger ones smaller before it sends them."""
SIGNATURES = {"png": b"\x89PNG\r\n\x1a\n", "jpeg": b"\xff\xd8\xff"}
"""First bytes: PNG (Third Edition), 5.2; JPEG, ISO/IEC 10918-1, B.2.1 (start of image, then a marker)."""

Inches = Annotated[float, Field(ge=-1000, le=1000)]
Side = Annotated[float, Field(gt=0, le=1000)]


class Laid(Request):
    """Where a picture lies under a drawing.

    Attributes:
        kind: what its file is. x, y: its top left corner, inches; wide: inches; tall: height to width.
        faint: 0 not to be seen, 1 as it is. hidden: not shown for now.
    """

    kind: Literal["png", "jpeg"]
    x: Inches
    y: Inches
    wide: Side
    tall: Side
    faint: Annotated[float, Field(ge=0, le=1)]
    hidden: bool = False


class Lay(Request):
    """A picture to be kept, or only its new place. data: its bytes in base 64; null where it stays as it is."""

    laid: Laid
    data: Annotated[str, Field(max_length=MOST_BYTES * 4 // 3 + 4)] | None = None


def router(place: Place) -> APIRouter:
    """The routes of this part."""
    routes = APIRouter(prefix="/api/tracing")

    @routes.get("/{name}")
    def tracing(name: Name) -> dict[str, Any]:
        """The picture under a design and where it lies; both null if there is none."""
        laid, data = found(place.folder, name)
        return {
            "laid": laid and laid.model_dump(),
            "data": base64.b64encode(data).decode() if data else None,
        }

    @routes.put("/{name}")
    def lay(name: Name, asked: Lay) -> dict[str, bool]:
        """Lays a picture under a design, or moves the one that lies there."""
        keep(place.folder, name, asked)
        return {"kept": True}

    @routes.delete("/{name}")
    def take_away(name: Name) -> dict[str, bool]:
        """Takes the picture away."""
        for path in _paths(place.folder, name).values():
            path.unlink(missing_ok=True)
        return {"kept": False}

    return routes


def found(folder: Path, name: str) -> tuple[Laid, bytes] | tuple[None, None]:
    """What lies under a design; nothing where any part of it is missing or cannot be read."""
    try:
        paths = _paths(folder, name)
        laid = Laid.model_validate_json(paths["place"].read_bytes())
        picture = paths[laid.kind]
        if picture.stat().st_size > MOST_BYTES:
            return None, None
        return laid, picture.read_bytes()
    except (OSError, ValidationError):
        return None, None


def keep(folder: Path, name: str, asked: Lay) -> None:
    """Keeps a picture, or its place.

    Raises:
        FileError: no design has such a name; the picture is none, or did not arrive whole; it cannot be written.
    """
    paths = _paths(folder, name)
    picture = paths[asked.laid.kind]
    if asked.data is not None:
        data = in_bytes(asked.data, "the picture")
        if not data.startswith(SIGNATURES[asked.laid.kind]):
            raise fail(FileError, "file", "this is no PNG or JPEG picture", "Choose another file")
        ready_within(folder, "tracing")
        write_whole(picture, data)
    elif not picture.is_file():
        raise fail(FileError, "file", f"no picture lies under {name}", "Choose it again")
    write_whole(paths["place"], json.dumps(asked.laid.model_dump()).encode())


def _paths(folder: Path, name: str) -> dict[str, Path]:
    home = folder / KEPT / "tracing"
    stem = path_of(folder, name).name
    paths = {"place": home / f"{stem}.json", **{kind: home / f"{stem}.{kind}" for kind in SIGNATURES}}
    for path in (home.parent, home, *paths.values()):
        if path.is_symlink() or (path.exists() and not (path.is_file() or path.is_dir())):
            what = f"{path.name} among the pictures to trace is a link or no ordinary file"
            raise fail(FileError, "file", what, f"Take {path.name} away from {KEPT}")
    return paths
