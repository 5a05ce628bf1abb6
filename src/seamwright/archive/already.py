"""Which PDFs of a folder are made already: so that a run that was stopped goes on where it was.

Knows:  a file beside the PDFs with a line for each: of what it was made, and the hash of what was written.
Leaves: making and writing them (work, many).
Method: what a PDF comes to follows from the drawing's bytes, its palette's, the options, its file's name, this
        program and the library that draws; a hash of all of it is the key. A PDF counts as made if its line has the
        key and its content still the hash (SHA-256, FIPS 180-4). A line that was cut short is none, and its PDF is
        made anew.
Limits: a program that was changed without a new version is taken for the same.
"""

from __future__ import annotations

import hashlib
import json
import os
from collections.abc import Sequence
from pathlib import Path

from seamwright.output import cannot_write, write_whole

RECORD = ".seamwright-prints"
"""The file's name; hidden, so that nobody takes it for a print."""
OFTEN = 2
"""It is written anew when it holds so many lines for each PDF, most of them old."""


def print_key(drawing: str, given: Sequence[tuple[str, str]]) -> str:
    """What the PDF of a drawing follows from, as a hash.

    Raises:
        FileError, DrawingError: the drawing cannot be read.
    """
    import cairocffi

    from seamwright import __version__
    from seamwright.asked import split_size
    from seamwright.drawing.read import file_bytes, read_bytes
    from seamwright.dressing import options_of

    path, size = split_size(drawing)
    data = file_bytes(Path(path))
    palette = b""
    if b"palette" in data or any(name == "palette" for name, _ in given):
        named = options_of(read_bytes(data, Path(path)), path, given).get("palette", "")
        palette = file_bytes(Path(named), "palette") if named else b""
    facts = [__version__, cairocffi.cairo_version_string(), os.path.basename(path), size, sorted(given)]
    parts = [json.dumps(facts).encode(), data, palette]
    return hashlib.sha256(b"".join(len(part).to_bytes(8) + part for part in parts)).hexdigest()


class Already:
    """The PDFs of one folder.

    Args:
        folder: need not be there yet.
    """

    def __init__(self, folder: Path) -> None:
        self._folder, self._made = folder, dict[str, tuple[str, str]]()
        lines = _lines(folder / RECORD)
        for name, key, content in lines:
            self._made[name] = (key, content)
        if len(lines) > OFTEN * len(self._made) + OFTEN:
            write_whole(folder / RECORD, b"".join(_line(name, *made) for name, made in self._made.items()))

    def key_of(self, name: str) -> str:
        """What the PDF of this name was made of; "" if it is not there, or is not what was written."""
        key, content = self._made.get(name, ("", ""))
        try:
            return key if key and _hash((self._folder / name).read_bytes()) == content else ""
        except OSError:
            return ""

    def made(self, name: str, key: str, content: bytes) -> None:
        """Notes that a PDF was written.

        Raises:
            FileError: that cannot be written.
        """
        self._made[name] = (key, _hash(content))
        record = self._folder / RECORD
        try:
            with record.open("ab") as file:
                file.write(_line(name, *self._made[name]))
        except OSError as problem:
            raise cannot_write(record, problem) from problem


def _lines(record: Path) -> list[tuple[str, str, str]]:
    try:
        content = record.read_bytes()
    except OSError:
        return []
    found = []
    for line in content.split(b"\n"):
        try:
            name, key, written = json.loads(line)
            found.append((str(name), str(key), str(written)))
        except (ValueError, TypeError):
            continue
    return found


def _line(name: str, key: str, content: str) -> bytes:
    # The newline comes first: what was cut short before it keeps a line of its own.
    return b"\n" + json.dumps([name, key, content]).encode()


def _hash(content: bytes) -> str:
    return hashlib.sha256(content).hexdigest()
