"""Older versions of every design: each content once, and a journal for each design that tells their order.

Knows:  the store `.seamwright/versions/`: a file for each content, named by its SHA-256 (FIPS 180-4), and for each
        design a journal with a line for everything that became of its file; which way undo and redo lead; what is
        old enough to go.
Leaves: the design's own file and who may change it (keeping).
Method: a content is written whole before the design's file is, and the journal after it: so a journal tells what
        has happened, and whatever it names is there. A line is added in one piece; one that was cut short, wherever
        that was, is left out in reading, and the next line begins anew. A content is believed only if its own hash
        is its name. Undo is replayed from the journal. The last MOST contents of each design stay, by when they
        were last on the table, undone ones too; older ones go when the journal is made shorter, unless another
        design's journal names them.
Limits: not locked by itself: keeping does that.
"""

from __future__ import annotations

import contextlib
import hashlib
import json
import os
import re
from collections.abc import Iterable, Sequence
from dataclasses import asdict, dataclass, fields, replace
from datetime import UTC, datetime
from pathlib import Path

from seamwright.errors import FileError, fail
from seamwright.output import cannot_write, make_folder, write_whole
from seamwright.page.folder import KEPT, still_there

MOST = 50
"""Contents kept of each design."""
LONG_LINES, LONG_CONTENTS = 400, 2 * MOST
"""A journal above these is made shorter."""
JOURNAL = ".journal"
_HASH = re.compile(r"[0-9a-f]{64}")


@dataclass(frozen=True, slots=True)
class Entry:
    """Something that became of a design's file.

    Attributes:
        n: counts up within a journal: the higher, the later.
        at: when, UTC, ISO 8601.
        hash: of what the file held afterwards; "" when it was taken away.
        was: of what it held before; "" if it was not there.
        way: "new", "change", "undo", "redo"; "elsewhere" (another program, or another computer); "brought" (from a
            drawing); "copy"; "renamed"; "away", "back" (taken away, brought back); "aside" (kept, but neither undo
            nor redo leads there).
        of: name of the file it was brought or copied from; source: hash of that file's content.
        once: what whoever asked for a new design calls this one request.
    """

    n: int
    at: str
    hash: str
    was: str = ""
    way: str = "change"
    of: str = ""
    source: str = ""
    once: str = ""


@dataclass(frozen=True, slots=True)
class Chain:
    """Where undo and redo lead: hashes, the next one last in both."""

    past: tuple[str, ...] = ()
    now: str = ""
    ahead: tuple[str, ...] = ()


def hash_of(data: bytes) -> str:
    """What tells one version of a file from another."""
    return hashlib.sha256(data).hexdigest()


def chain_of(entries: Iterable[Entry]) -> Chain:
    """The chain that a journal's entries come to."""
    past: list[str] = []
    ahead: list[str] = []
    now = ""
    for entry in entries:
        if entry.way == "aside" or entry.hash in ("", now):
            continue
        if entry.way == "undo":
            ahead.append(now)
            if past and past[-1] == entry.hash:
                past.pop()
        elif entry.way == "redo":
            past.append(now)
            if ahead and ahead[-1] == entry.hash:
                ahead.pop()
        else:
            past += [now] if now else []
            ahead.clear()
        now = entry.hash
    return Chain(tuple(past), now, tuple(h for h in ahead if h))


def latest(entries: Iterable[Entry], most: int = MOST) -> tuple[Entry, ...]:
    """For each of the last contents the entry that made it, the newest content first.

    What came of a drawing is always among them: it tells which drawing this is a copy of.
    """
    made: dict[str, Entry] = {}
    for entry in entries:
        if entry.hash:
            before = made.get(entry.hash)
            keeps = before is not None and entry.way in ("undo", "redo", "renamed", "back")
            origin = before if keeps and before is not None else entry
            if before is not None and before.source and not origin.source:
                origin = replace(origin, way=before.way, of=before.of, source=before.source)
            made[entry.hash] = replace(origin, n=max(entry.n, origin.n))
    order = sorted(made.values(), key=lambda entry: -entry.n)
    return (*order[:most], *(entry for entry in order[most:] if entry.source))


def shortened(entries: Sequence[Entry]) -> tuple[Entry, ...]:
    """The same chain and the same last contents in as few entries as that takes."""
    kept = {entry.hash: entry for entry in latest(entries)}
    chain = chain_of(entries)
    past = [h for h in chain.past if h in kept]
    ahead = [h for h in chain.ahead if h in kept]
    walked = [*past, chain.now, *reversed(ahead)]
    told = [replace(kept[h], way="aside") for h in sorted(kept, key=lambda h: kept[h].n) if h not in walked]
    told += [replace(kept[h], way=_forward(kept[h].way)) for h in walked if h]
    told += [replace(kept[h], way="undo") for h in [*ahead[1:], chain.now] if ahead]
    if entries and not entries[-1].hash:
        told.append(entries[-1])
    return tuple(told)


def _forward(way: str) -> str:
    return way if way not in ("undo", "redo", "aside") else "change"


def ready_within(folder: Path, name: str) -> Path:
    """A folder inside our own folder among the designs, made if it is not there; returns its path.

    Ours is shared only where the folder of the designs is: a design that nobody else may read has versions that
    nobody else may read.

    Raises:
        FileError: the folder of the designs is gone, this one cannot be made, or is a link that leads elsewhere.
    """
    ours = folder / KEPT
    still_there(folder)
    for path in (ours, ours / name):
        if path.is_symlink():
            what = f"{path.name} in the folder of the designs is a link, so no older versions are kept"
            raise fail(FileError, "file", what, f"Take the link {path.name} away")
    if not ours.exists():
        make_folder(ours)
        shared = folder.stat().st_mode & 0o022
        with contextlib.suppress(OSError):
            ours.chmod(folder.stat().st_mode & 0o7777 if shared else 0o700)
    make_folder(ours / name)
    return ours / name


class Versions:
    """The store of one folder."""

    def __init__(self, folder: Path) -> None:
        self._home = folder / KEPT / "versions"

    def ready(self) -> None:
        """Makes the store if it is not there.

        Raises:
            FileError: it cannot be made, or is a link that leads elsewhere.
        """
        ready_within(self._home.parent.parent, "versions")

    def keep(self, data: bytes) -> str:
        """Puts a content into the store; returns its hash.

        Raises:
            FileError: it cannot be written.
        """
        name = hash_of(data)
        if self.content(name) is None:
            self.ready()
            write_whole(self._home / name, data)
        return name

    def content(self, name: str) -> bytes | None:
        """A content by its hash; None if it is not there, or not what it was."""
        if not _HASH.fullmatch(name):
            return None
        try:
            data = (self._home / name).read_bytes()
        except OSError:
            return None
        return data if hash_of(data) == name else None

    def has(self, name: str) -> bool:
        """Whether there is such a content, without reading it."""
        return bool(_HASH.fullmatch(name)) and (self._home / name).is_file()

    def entries(self, design: str) -> tuple[Entry, ...]:
        """What became of a design, in order; () if nothing is known."""
        try:
            data = self._journal(design).read_bytes()
        except (OSError, ValueError):
            return ()
        return tuple(entry for line in data.split(b"\n") if (entry := _entry(line)) is not None)

    def chain(self, design: str) -> Chain:
        """Where undo and redo lead from what the journal names last, as far as contents are there."""
        chain = chain_of(self.entries(design))
        return Chain(tuple(filter(self.has, chain.past)), chain.now, tuple(filter(self.has, chain.ahead)))

    def note(self, design: str, *more: Entry) -> None:
        """Adds lines to a design's journal in one piece; their numbers and times are given here.

        Contents are swept only after all of them are named.

        Raises:
            FileError: it cannot be written.
        """
        self.ready()
        before = self.entries(design)
        last, at = max((e.n for e in before), default=0), _now()
        added = [replace(entry, n=last + k, at=entry.at or at) for k, entry in enumerate(more, 1)]
        try:
            _add_line(self._journal(design), b"".join(map(_line, added)))
        except OSError as problem:
            raise cannot_write(self._journal(design), problem) from problem
        entries = (*before, *added)
        if len(entries) > LONG_LINES or len({e.hash for e in entries}) > LONG_CONTENTS:
            self._shorten(design, entries)

    def move(self, design: str, to: str) -> None:
        """The journal goes with a design that takes another name.

        Raises:
            FileError: it cannot be written.
        """
        entries = self.entries(design)
        if entries:
            self.ready()
            write_whole(self._journal(to), b"".join(_line(entry) for entry in entries))

    def forget(self, design: str) -> None:
        """Takes a journal away that was moved."""
        with contextlib.suppress(OSError):
            self._journal(design).unlink(missing_ok=True)

    def designs(self) -> list[str]:
        """Names of all designs that have a journal."""
        try:
            return sorted(p.name.removesuffix(JOURNAL) for p in self._home.iterdir() if p.name.endswith(JOURNAL))
        except OSError:
            return []

    def asked_once(self, once: str) -> tuple[str, Entry] | None:
        """The design that was made when it was asked for so, and the entry of its making."""
        for design in self.designs():
            with contextlib.suppress(OSError):
                if once.encode() in self._journal(design).read_bytes():
                    for entry in self.entries(design):
                        if entry.once == once:
                            return design, entry
        return None

    def _shorten(self, design: str, entries: Sequence[Entry]) -> None:
        write_whole(self._journal(design), b"".join(map(_line, shortened(entries))))
        self.sweep()

    def sweep(self) -> None:
        """Contents that no journal names go."""
        held = {h for name in self.designs() for e in self.entries(name) for h in (e.hash, e.source)}
        for path in sorted(self._home.iterdir()):
            if _HASH.fullmatch(path.name) and path.name not in held:
                path.unlink(missing_ok=True)

    def _journal(self, design: str) -> Path:
        return self._home / f"{design}{JOURNAL}"


def _line(entry: Entry) -> bytes:
    told = {name: value for name, value in asdict(entry).items() if value != ""}
    return json.dumps(told, ensure_ascii=True).encode() + b"\n"


def _entry(line: bytes) -> Entry | None:
    """The entry of a line; None if it was cut short or is none."""
    try:
        told = json.loads(line)
        entry = Entry(**{"hash": "", "at": "", **told})
    except (ValueError, TypeError):
        return None
    words = all(isinstance(getattr(entry, field.name), str) for field in fields(Entry)[1:])
    good = words and isinstance(entry.n, int) and (not entry.hash or _HASH.fullmatch(entry.hash))
    return entry if good else None


def _add_line(path: Path, line: bytes) -> None:
    """Adds a line and forces it to the disk; a line before it that was cut short is closed first."""
    handle = os.open(path, os.O_RDWR | os.O_APPEND | os.O_CREAT | getattr(os, "O_NOFOLLOW", 0), 0o666)
    try:
        size = os.lseek(handle, 0, os.SEEK_END)
        if size:
            os.lseek(handle, size - 1, os.SEEK_SET)
            if os.read(handle, 1) != b"\n":
                line = b"\n" + line
        while line:
            line = line[os.write(handle, line) :]
        os.fsync(handle)
    finally:
        os.close(handle)


def _now() -> str:
    return datetime.now(UTC).isoformat(timespec="seconds")
