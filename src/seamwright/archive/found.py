"""Which files in a folder are drawings, in which order, and what the PDF of each is called.

Knows:  folders inside folders, links, what is hidden, what was made here and only looks like a drawing; names that
        would meet.
Leaves: what is in a drawing (drawing), writing (many).
Method: names in order of their letters, whatever the system's order is, so that a run is told the same everywhere.
        Folders that links lead to are not looked into: they may lead round in a circle, or out of the folder.
Limits: the names of all drawings are held at once, for names of PDFs must not meet.
"""

from __future__ import annotations

import os
from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from pathlib import Path

from seamwright.asked import split_size
from seamwright.errors import FileError, OptionError, SeamwrightError, fail
from seamwright.output import only_shows
from seamwright.units import say_count

FORMS = (".svg", ".seams")
"""Endings of drawings, whichever letters are large."""
QUILT = ".setting"
NAMED = 3
"""Files that were left out, named one by one before they are counted."""


@dataclass(frozen=True, slots=True)
class Found:
    """A drawing that was asked for, or that lies in a folder that was.

    Attributes:
        drawing: its path, with a size behind it if one was asked for.
        name: its path from the folder asked for; of a drawing named by itself its file's name.
    """

    drawing: str
    name: str


@dataclass(slots=True)
class LeftOut:
    """What lies in folders and was not looked at: names by kind, and folders that cannot be read, with why."""

    quilts: list[str] = field(default_factory=list)
    pictures: list[str] = field(default_factory=list)
    links: list[str] = field(default_factory=list)
    unread: list[tuple[str, SeamwrightError]] = field(default_factory=list)

    def words(self) -> list[str]:
        """Lines for a person; none if nothing was left out."""
        told = (
            (self.quilts, "quilt", "a quilt is taken by itself"),
            (self.pictures, "picture", "made by seamwright, it shows a block and is none"),
            (self.links, "link to a folder", "name it by itself to have its drawings looked at"),
        )
        return [
            f"Left out: {say_count(len(names), what)} ({_some(names)}); {why}."
            for names, what, why in told
            if names
        ]


def is_folder(drawing: str) -> bool:
    """Whether what was asked for as a drawing is a folder, with a size behind it or not."""
    return os.path.isdir(split_size(drawing)[0])


def found_in(drawings: Sequence[str], left: LeftOut) -> list[Found]:
    """All drawings of those asked for and of the folders among them, each once, in the order asked for.

    Args:
        left: what is left out in folders is added to it.

    Raises:
        FileError: a folder that was asked for cannot be read, or holds no drawing.
    """
    known: set[str] = set()
    found: list[Found] = []
    for drawing in drawings:
        if is_folder(drawing):
            folder, size = split_size(drawing)
            within = list(_within(folder, "", f"@{size}" if size else "", left))
            if not (within or left.unread):
                what = f"{folder} holds no drawing"
                raise fail(FileError, "file", what, "Name a folder with files that end in .svg or .seams")
        else:
            within = [Found(drawing, os.path.basename(split_size(drawing)[0]))]
        for one in within:
            path, size = split_size(one.drawing)
            if (key := f"{os.path.abspath(path)}@{size}") not in known:
                known.add(key)
                found.append(one)
    return found


def _within(folder: str, beneath: str, size: str, left: LeftOut) -> Iterator[Found]:
    try:
        with os.scandir(folder) as listed:
            entries = sorted(listed, key=lambda entry: (entry.name.casefold(), entry.name))
    except OSError as problem:
        what = f"the folder cannot be read ({problem.strerror})"
        error = fail(FileError, "file", what, "Change its permissions, or copy what is in it", drawing=folder)
        if not beneath:
            raise error from None
        left.unread.append((folder, error))
        return
    for entry in entries:
        path, ending = os.path.join(folder, entry.name), os.path.splitext(entry.name)[1].lower()
        if entry.name.startswith("."):  # older versions of designs lie in .seamwright
            continue
        if entry.is_dir():
            if entry.is_symlink():
                left.links.append(path)
            else:
                yield from _within(path, f"{beneath}{entry.name}/", size, left)
        elif ending == QUILT:
            left.quilts.append(path)
        elif ending in FORMS:
            if ending == ".svg" and only_shows(Path(path)):
                left.pictures.append(path)
            else:
                yield Found(path + size, beneath + entry.name)


def pdf_names(found: Sequence[Found]) -> list[str]:
    """What the PDF of each drawing is called, from the folder that all go into: by its stem, folders mirrored.

    Where stems meet, as those of kite.svg and kite.seams do, all of them keep their ending: kite.svg.pdf. Names
    that differ by large letters only meet too, for some systems hold them for one.

    Raises:
        OptionError: two would still have one name.
    """
    stems = [os.path.splitext(one.name)[0] for one in found]
    often: dict[str, int] = defaultdict(int)
    for stem in stems:
        often[stem.casefold()] += 1
    names = [
        f"{stem if often[stem.casefold()] == 1 else one.name}.pdf" for stem, one in zip(stems, found, strict=True)
    ]
    taken: dict[str, str] = {}
    for name, one in zip(names, found, strict=True):
        other = taken.setdefault(name.casefold(), one.drawing)
        if other != one.drawing:
            what = f"{other} and {one.drawing} would both be printed as {name}"
            raise fail(OptionError, "option", what, "Rename one, or print them into two folders, in two runs")
    return names


def _some(names: Sequence[str]) -> str:
    shown = ", ".join(names[:NAMED])
    return shown if len(names) <= NAMED else f"{shown} and {len(names) - NAMED} more"
