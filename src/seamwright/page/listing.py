"""What the list says of each design, without reading more of it than its title and its size.

Knows:  title and size words of a file, which drawing a design is a copy of, which quilts name a design.
Leaves: names (folder), older versions (versions), pictures (pictures), what is in a file.
Method: a file is looked at once for each time it is changed.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

from seamwright.page.folder import kind_of
from seamwright.page.versions import Versions, hash_of

MOST_READ = 400_000
"""Bytes looked at for title and size: they stand among the first lines."""


class Listing:
    """The list of one folder."""

    def __init__(self, folder: Path) -> None:
        self._folder = folder
        self._told: dict[str, tuple[tuple[int, int], dict[str, str]]] = {}

    def all(self, names: Sequence[str], versions: Versions) -> list[dict[str, Any]]:
        """One row for each design that is still there.

        Returns:
            name, kind, title, size ("" where it states none), changed (UTC, ISO 8601), copy: of a drawing, the
            design that is its copy, "" if there is none.
        """
        copies = self._copies(names, versions)
        rows = []
        for name in names:
            try:
                stat = (self._folder / name).stat()
                told = self._of(name, (stat.st_mtime_ns, stat.st_size))
            except OSError:
                continue
            changed = datetime.fromtimestamp(stat.st_mtime, UTC).isoformat(timespec="seconds")
            rows.append(
                {"name": name, "kind": kind_of(name), **told, "changed": changed, "copy": copies.get(name, "")}
            )
        return rows

    def copy_of(self, name: str, data: bytes, versions: Versions) -> str:
        """The design that came of a file of this name and content before; "" if there is none."""
        if Path(name).suffix.lower() != ".svg" and (self._folder / name).is_file():
            # The same text form dropped again is the one that is here.
            try:
                if (self._folder / name).read_bytes() == data:
                    return name
            except OSError:
                return ""
        wanted = hash_of(data)
        return next(
            (
                design
                for design in versions.designs()
                if (self._folder / design).is_file()
                and any(entry.of == name and entry.source == wanted for entry in versions.entries(design))
            ),
            "",
        )

    def quilts_naming(self, name: str) -> list[str]:
        """Quilts whose file names a design."""
        word = re.compile(rf"(?<![\w./-]){re.escape(name)}(?![\w.-])")
        found = []
        for path in sorted(self._folder.glob("*.setting")):
            try:
                if path.is_file() and word.search(path.read_text(errors="replace")):
                    found.append(path.name)
            except OSError:
                continue
        return found

    def _copies(self, names: Sequence[str], versions: Versions) -> dict[str, str]:
        """Each drawing with the last design that came of it."""
        there, copies = set(names), {}
        for design in versions.designs():
            for entry in versions.entries(design) if design in there else ():
                if entry.way == "brought" or entry.source:
                    copies[entry.of] = design
        return copies

    def _of(self, name: str, mark: tuple[int, int]) -> dict[str, str]:
        seen = self._told.get(name)
        if seen is None or seen[0] != mark:
            seen = (mark, _told(self._folder / name))
            self._told[name] = seen
        return seen[1]


def _told(path: Path) -> dict[str, str]:
    """Title and size of a file's first lines that state them."""
    told = {"title": path.stem, "size": ""}
    if kind_of(path.name) == "drawing":
        return told
    with path.open("rb") as file:
        text = re.sub(r"\r\n?", "\n", file.read(MOST_READ).decode("utf-8-sig", errors="replace"))
    for word, key in (("name", "title"), ("size", "size")):
        found = re.search(rf"^[ \t]*{word}[ \t]+(\S.*?)[ \t]*(?:#[ \t].*)?$", text, re.MULTILINE | re.IGNORECASE)
        if found and kind_of(path.name) != "palette":
            told[key] = found[1].strip('"')[:120]
    return told
