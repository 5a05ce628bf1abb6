"""Keeping designs: read, save, rename, copy, take away and bring back, with nobody's work overwritten.

Knows:  that a write carries the hash of what was read, the order in which content, file and journal are written.
Leaves: names (folder), what a file holds (contents), the store of older versions (versions), who waits for whom
        (alone).
Method: one change at a time in a folder. What a file holds is in the store before it is written over.
Limits: another program that writes the same file in the instant between the look and the writing is not noticed;
        what it wrote is then lost. A drawing (SVG) is never written.
"""

from __future__ import annotations

import contextlib
import os
import time
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from seamwright.errors import FileError, SeamwrightError, fail
from seamwright.output import cannot_write, clear_halves, write_whole
from seamwright.page.alone import Alone
from seamwright.page.contents import bytes_of, encoded, text_of
from seamwright.page.folder import KEPT, design_names, free_name, kind_of, may_be_new, path_of, plain_stem
from seamwright.page.versions import Chain, Entry, Versions, hash_of, latest

SETTLED_S = 2.0
"""A file older than this that changes shows it by its time: the coarsest file systems count in 2 s."""


@dataclass(frozen=True, slots=True)
class Held:
    """What a design's file holds.

    Attributes:
        chain: where undo and redo lead from here.
    """

    name: str
    text: str
    hash: str
    chain: Chain


@dataclass(frozen=True, slots=True)
class Step:
    """One text on the way to what is saved, and how it came about: "change", "undo", "redo"."""

    text: str
    way: str = "change"


@dataclass(frozen=True, slots=True)
class Saved:
    """What a file holds now; warning: why older versions are not kept, "" if they are."""

    name: str
    hash: str
    warning: str = ""


class Changed(Exception):
    """The file holds something else than what was read.

    Attributes:
        text, hash: what it holds now; "" if it is not there.
    """

    def __init__(self, text: str, now: str) -> None:
        super().__init__(text, now)
        self.text, self.hash = text, now


class Keeper:
    """Whoever changes files in one folder."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self.versions = Versions(folder)
        self._alone = Alone(folder, self.versions.ready)
        self._seen: dict[str, tuple[tuple[int, ...], str]] = {}

    # -- looking -------------------------------------------------------------------------------------------

    def read(self, name: str) -> Held:
        """A design's text, and where undo and redo lead.

        Raises:
            SeamwrightError: it is not there, is no text in UTF-8, is empty, too large, or cannot be read.
        """
        path = path_of(self.folder, name)
        if kind_of(name) == "drawing":
            what = f"{name} is a drawing, which is never changed"
            raise fail(FileError, "file", what, "Bring it in: its copy can be drawn on")
        with self._alone(looking=True):
            data = bytes_of(path, name)
            text = text_of(data, name)
            now = hash_of(data)
            chain = self.versions.chain(name)
            if chain.now and chain.now != now:
                self._safely(name, data, Entry(0, "", now, chain.now, "elsewhere"))
                chain = Chain((*chain.past, chain.now) if self.versions.has(chain.now) else chain.past, now)
        return Held(name, text, now, Chain(chain.past, now, chain.ahead))

    def hash(self, name: str) -> str:
        """The hash of what a design's file holds; "" if it is not there. Quick if nothing has changed.

        Raises:
            SeamwrightError: it is there and cannot be read, or is no ordinary file.
        """
        path = path_of(self.folder, name)
        try:
            stat = path.stat()
        except (FileNotFoundError, NotADirectoryError):
            return ""
        except OSError:
            return hash_of(bytes_of(path, name, empty=True))  # it says why that cannot be
        # The last changes with every write, also where a program sets the time of the file back.
        mark = (stat.st_mtime_ns, stat.st_size, stat.st_ino, stat.st_ctime_ns)
        seen = self._seen.get(name)
        if seen is None or seen[0] != mark:
            seen = (mark, hash_of(bytes_of(path, name, empty=True)))
            # What is written twice within a tick of the file system's clock shows the same mark.
            if time.time() - stat.st_mtime > SETTLED_S:
                self._seen[name] = seen
        return seen[1]

    def versions_of(self, name: str) -> tuple[Entry, ...]:
        """The last versions of a design, newest first, as far as their contents are there."""
        path_of(self.folder, name)
        return tuple(entry for entry in latest(self.versions.entries(name)) if self.versions.has(entry.hash))

    def version(self, name: str, wanted: str) -> str:
        """The text of one of a design's versions.

        Raises:
            FileError: it is none of this design's, or is kept no longer.
        """
        known = any(entry.hash == wanted for entry in self.versions.entries(name))
        data = self.versions.content(wanted) if known else None
        if data is None:
            raise fail(FileError, "gone", "this version is not kept any more", "Take a later one")
        return text_of(data, name)

    def clear_away(self) -> None:
        """Takes away what a server that was killed had half written."""
        with self._alone(looking=True):
            for folder in (self.folder, self.folder / KEPT / "versions", self.folder / KEPT / "tracing"):
                clear_halves(folder)

    # -- changing ------------------------------------------------------------------------------------------

    def save(self, name: str, steps: Sequence[Step], base: str) -> Saved:
        """Keeps the last of some texts in a design's file, and all of them as versions.

        Args:
            steps: one or more, oldest first.
            base: hash of what the file held when the first of them was made; "" for a new file.

        Raises:
            Changed: the file holds something else. SeamwrightError: it cannot be written; then nothing has changed.
        """
        path = path_of(self.folder, name)
        if kind_of(name) == "drawing":
            raise fail(FileError, "file", f"{name} is a drawing, which is never written", "Save its copy instead")
        contents = [(encoded(step.text), step.way) for step in steps]
        with self._alone():
            there = b"" if not os.path.lexists(path) else bytes_of(path, name, empty=True)
            now = hash_of(there) if there or path.exists() else ""
            hashes = [hash_of(data) for data, _ in contents]
            # What the file holds may be of her own steps: it was written, and the answer never came.
            written = len(hashes) - hashes[::-1].index(now) if now in hashes else 0
            if written and (now != base or written == len(hashes)):
                return self._go_on(name, contents, written, there)
            if now != base:
                raise Changed(there.decode(errors="replace"), now)
            if not base:
                path = may_be_new(self.folder, name)
                if self.versions.entries(name)[-1:] and not self.versions.entries(name)[-1].hash:
                    self._set_aside(name)  # it was taken away, and this is another
            warning = self._keep(name, there if base else None, [data for data, _ in contents])
            write_whole(path, contents[-1][0])
            warning = warning or self._safely(name, None, *_entries(contents, now, new=not base))
        return Saved(name, hashes[-1], warning)

    def create(
        self,
        words: str,
        ending: str,
        text: str,
        way: str = "new",
        of: str = "",
        source: bytes = b"",
        once: str = "",
    ) -> Saved:
        """Makes a design under a free name made of words.

        Args:
            way, of: how it came about, and of which file; source: that file's content, kept with it.
            once: what this request is called by whoever asks again when no answer came; "" for nothing.

        Raises:
            FileError: it cannot be written.
        """
        data = encoded(text)
        with self._alone():
            if once and (made := self._made_before(words, ending, data, once)):
                return made
            name = free_name(self.folder, words, ending)
            warning = self._keep(name, None, [data, *([source] if source else [])])
            self._set_aside(name)
            write_whole(path_of(self.folder, name), data)
            entry = Entry(0, "", hash_of(data), "", way, of, hash_of(source) if source else "", once)
            warning = warning or self._safely(name, None, entry)
        return Saved(name, entry.hash, warning)

    def lay_by(self, name: str, text: str) -> str:
        """Keeps a text as one of a design's versions, its file left as it is; returns its hash.

        Raises:
            FileError: it cannot be kept.
        """
        path_of(self.folder, name)
        with self._alone():
            now = self.versions.keep(encoded(text))
            self.versions.note(name, Entry(0, "", now, "", "aside"))
        return now

    def rename(self, name: str, to: str) -> str:
        """Gives a design another name, its versions with it; returns the name.

        Raises:
            FileError: it is not there, or the other name is taken or cannot be used.
        """
        path = path_of(self.folder, name)
        with self._alone():
            bytes_of(path, name, empty=True)
            if to == name:
                return name
            target = path_of(self.folder, to)
            if not _same(path, target):
                target = may_be_new(self.folder, to, instead_of=name)
            if target.suffix.lower() != path.suffix.lower():
                what = f"{to} has another ending than {name}"
                raise fail(FileError, "file", what, f"Keep the ending {path.suffix}")
            self._set_aside(to)
            self.versions.move(name, to)
            try:
                os.rename(path, target)
            except OSError as problem:
                self.versions.forget(to)
                raise cannot_write(to, problem) from problem
            self.versions.forget(name)
            self._safely(to, None, Entry(0, "", self.hash(to), self.hash(to), "renamed", name))
        return to

    def take_away(self, name: str) -> None:
        """Takes a design out of the folder; it can be brought back as long as its versions are kept.

        Raises:
            FileError: it is not there, or its content cannot be kept: then it stays.
        """
        path = path_of(self.folder, name)
        with self._alone():
            data = bytes_of(path, name, empty=True)
            now = self.versions.keep(data)
            self._reconcile(name, now)
            self.versions.note(name, Entry(0, "", "", now, "away"))
            try:
                path.unlink()
            except OSError as problem:
                self._safely(name, None, Entry(0, "", now, "", "back"))
                raise cannot_write(name, problem) from problem

    def taken_away(self) -> list[tuple[str, str]]:
        """Designs that were taken away and can be brought back: (name, when), latest first."""
        found = []
        for name in self.versions.designs():
            entries = self.versions.entries(name)
            gone = not (self.folder / name).exists() and bool(entries)
            if gone and any(self.versions.has(entry.hash) for entry in entries):
                found.append((entries[-1].at, name))
        return [(name, at) for at, name in sorted(found, reverse=True)]

    def bring_back(self, name: str) -> Saved:
        """Brings back a design that was taken away, under its name or, if that is taken, another.

        Raises:
            FileError: nothing of it is kept.
        """
        path_of(self.folder, name)
        with self._alone():
            entries = self.versions.entries(name)
            last = next((e.hash for e in reversed(entries) if self.versions.has(e.hash)), "")
            data = self.versions.content(last)
            if data is None:
                raise fail(FileError, "gone", f"nothing of {name} is kept any more", "Look at the other designs")
            if not os.path.lexists(self.folder / name):
                write_whole(path_of(self.folder, name), data)
                self._safely(name, None, Entry(0, "", last, "", "back"))
                return Saved(name, last)
        ending = Path(name).suffix
        return self.create(name.removesuffix(ending), ending, text_of(data, name), "copy", name)

    # -- within --------------------------------------------------------------------------------------------

    def _made_before(self, words: str, ending: str, data: bytes, once: str) -> Saved | None:
        """The design of a request that was done already, and whose answer never came."""
        known = self.versions.asked_once(once)
        if known and (self.folder / known[0]).exists():
            return Saved(known[0], known[1].hash)
        # The server may have ended between the file and its journal.
        for name in design_names(self.folder):
            alike = name.startswith(plain_stem(words)) and name.endswith(ending)
            if alike and not self.versions.entries(name) and self.hash(name) == hash_of(data):
                warning = self._safely(name, data, Entry(0, "", hash_of(data), "", "new", once=once))
                return Saved(name, hash_of(data), warning)
        return None

    def _go_on(self, name: str, contents: Sequence[tuple[bytes, str]], written: int, there: bytes) -> Saved:
        """Saves the rest of some steps of which the file holds one already; `written`: how many it has seen."""
        hashes = [hash_of(data) for data, _ in contents]
        known = self.versions.chain(name).now
        noted = hashes[:written].index(known) + 1 if known in hashes[:written] else 0
        if noted == len(contents):
            return Saved(name, hashes[-1])
        warning = self._keep(name, None, [data for data, _ in contents[noted:]])
        if written < len(contents):
            write_whole(path_of(self.folder, name), contents[-1][0])
        more = _entries(contents[noted:], known, new=not known)
        return Saved(name, hashes[-1], warning or self._safely(name, there, *more))

    def _keep(self, name: str, there: bytes | None, contents: Sequence[bytes]) -> str:
        """Puts what is written over and what is written into the store; returns why that could not be, else ""."""
        try:
            if there is not None:
                self._reconcile(name, self.versions.keep(there))
            for data in contents:
                self.versions.keep(data)
        except FileError as error:
            return f"Older versions are not kept: {error.faults[0].what}"
        return ""

    def _reconcile(self, name: str, now: str) -> None:
        """The journal learns what the file holds, if another program changed it or it was never noted."""
        last = self.versions.chain(name).now
        entries = self.versions.entries(name)
        if last != now or (entries and not entries[-1].hash):
            way = "elsewhere" if last else "new"
            self.versions.note(name, Entry(0, "", now, last, way))

    def _safely(self, name: str, data: bytes | None, *entries: Entry) -> str:
        """Notes what has happened already; returns why that could not be, else ""."""
        try:
            if data is not None:
                self.versions.keep(data)
            self.versions.note(name, *entries)
        except SeamwrightError as error:
            return f"Older versions are not kept: {error.faults[0].what}"
        return ""

    def _set_aside(self, name: str) -> None:
        """The journal of a design that is gone makes room for another design of its name."""
        if self.versions.entries(name) and not (self.folder / name).exists():
            stem, ending = Path(name).stem, Path(name).suffix
            elsewhere = free_name(self.folder, f"{stem} before", ending, self.versions.designs())
            with contextlib.suppress(SeamwrightError):
                self.versions.move(name, elsewhere)
                self.versions.forget(name)


def _entries(contents: Sequence[tuple[bytes, str]], was: str, *, new: bool) -> list[Entry]:
    """What the journal is told of steps that lead away from `was`."""
    told = []
    for number, (data, way) in enumerate(contents):
        told.append(Entry(0, "", hash_of(data), was, "new" if new and not number else way))
        was = hash_of(data)
    return told


def _same(one: Path, other: Path) -> bool:
    """Whether both are one file, as where a file system does not tell K from k."""
    try:
        return one.samefile(other)
    except OSError:
        return False
