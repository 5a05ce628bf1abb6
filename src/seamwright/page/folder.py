"""Names and paths in the folder of her designs: nothing leads out of it.

Knows:  which files are designs, what a plain name is, which name is free.
Leaves: reading and writing (keeping), what is in a file (drawing, quilt).
Method: a path is judged by where it leads once links are followed. A new name must work on any computer that the
        folder may travel to: no reserved names, and none that differs from another only by case or by how its
        letters are put together (Unicode Standard Annex 15, form C).
Limits: whoever may write in the folder could exchange a file for a link between the look and the reading.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable
from pathlib import Path

from seamwright.errors import FileError, fail

KINDS = {".seams": "block", ".svg": "drawing", ".setting": "quilt", ".palette": "palette"}
"""What a file is, by its ending."""
KEPT = ".seamwright"
"""The folder inside the folder that older versions lie in."""
LONGEST_BYTES = 180
"""Of a name: file systems take 255, and a journal's name is longer."""

_HIDDEN = "\u200e\u200f\u061c\u202a-\u202e\u2066-\u2069\ufeff"
"""Signs that turn the order of letters or do not show, so that a name would read as another."""
_WRONG = re.compile(rf"[\x00-\x1f\x7f-\x9f\ud800-\udfff{_HIDDEN}/\\]")
_NEVER_NEW = re.compile(rf"[\x00-\x1f\x7f-\x9f\ud800-\udfff{_HIDDEN}/\\:*?\"<>|@]")
_RESERVED = re.compile(r"(con|prn|aux|nul|com[0-9¹²³]|lpt[0-9¹²³])(\..*)?", re.IGNORECASE)
"""Devices of one operating system, whatever ending they have: Microsoft, "Naming Files, Paths, and Namespaces"."""


def still_there(folder: Path) -> None:
    """Makes sure that the folder of the designs is there: it is never made anew in an empty place.

    Raises:
        FileError: it is gone.
    """
    if not folder.is_dir():
        what = "the folder of the designs is not there any more"
        raise fail(FileError, "gone", what, "Put it back where it was, or start seamwright on another one")


def inside(folder: Path, text: str) -> Path:
    """The path that a text names, counted from the folder, if it stays in it.

    Args:
        text: as an option, a quilt's file or a request names it; folders inside the folder are fine.

    Raises:
        FileError: it leads out of the folder, or cannot be a path.
    """
    home = folder.resolve()
    try:
        path = (home / text).resolve()
        good = bool(text) and path.is_relative_to(home) and KEPT not in path.relative_to(home).parts
    except (OSError, ValueError, RuntimeError):
        good = False
    if not good:
        what = f"{_shown(text)} does not lie in the folder of the designs"
        raise fail(FileError, "file", what, "Put the file into that folder and name it without a path")
    return path


def path_of(folder: Path, name: str) -> Path:
    """The path of a design by its name.

    Raises:
        FileError: no design can have such a name, or it leads out of the folder.
    """
    path = folder / name if not _WRONG.search(name) else None
    good = path is not None and not name.startswith(".") and path.suffix.lower() in KINDS
    if path is None or not good or len(name.encode()) > 255:
        what = f"{_shown(name)} is no name of a design"
        raise fail(FileError, "file", what, f"A design's name ends in {', '.join(KINDS)}, and holds no path")
    inside(folder, name)
    return path


def kind_of(name: str) -> str:
    """What a design is, by its ending."""
    return KINDS[Path(name).suffix.lower()]


def design_names(folder: Path) -> list[str]:
    """Names of all designs, sorted as words; what leads out of the folder is none.

    Raises:
        FileError: the folder cannot be read.
    """
    try:
        found = [path.name for path in folder.iterdir() if path.suffix.lower() in KINDS and path.is_file()]
    except OSError as problem:
        what = f"the folder of the designs cannot be read ({problem.strerror})"
        raise fail(FileError, "file", what, "Look whether it is still there, and whether you may read it") from None
    return sorted(filter(lambda name: _is_design(folder, name), found), key=lambda name: (name.casefold(), name))


def _is_design(folder: Path, name: str) -> bool:
    try:
        path_of(folder, name)
    except (FileError, UnicodeEncodeError):
        return False
    return True


def may_be_new(folder: Path, name: str, instead_of: str = "") -> Path:
    """The path of a design that is not there yet; `instead_of`: the name that goes when this one comes.

    Raises:
        FileError: the name would not work on some computer, or is taken.
    """
    path = path_of(folder, name)
    stem = name[: -len(path.suffix)]
    if stem != plain_stem(stem):
        mend = f"Name it {plain_stem(stem)}{path.suffix.lower()}, say"
        raise fail(FileError, "file", f"{_shown(name)} is a name that not every computer takes", mend)
    twin = taken_by(folder, name)
    if twin and twin != instead_of:
        mend = f"Choose another name; {free_name(folder, stem, path.suffix)} is free"
        raise fail(FileError, "file", f"there is a design {_shown(twin)} already", mend)
    return path


def taken_by(folder: Path, name: str) -> str:
    """The name in the folder that a name is the same as on some computer; "" if it is free."""
    wanted = _folded(name)
    try:
        return next((path.name for path in folder.iterdir() if _folded(path.name) == wanted), "")
    except OSError:
        return ""


def free_name(folder: Path, words: str, ending: str, also_taken: Iterable[str] = ()) -> str:
    """A name made of words that is not taken: "kite.seams", "kite 2.seams" and so on."""
    stem = plain_stem(words)
    try:
        taken = {_folded(path.name) for path in folder.iterdir()}
    except OSError:
        taken = set()
    taken.update(map(_folded, also_taken))
    tries = (stem if k == 1 else f"{stem} {k}" for k in range(1, 100_000))
    return next(name + ending for name in tries if _folded(name + ending) not in taken)


def plain_stem(words: str) -> str:
    """Words as a name that every file system takes, without its ending.

    >>> plain_stem("Storm: rose?"), plain_stem("  .hidden "), plain_stem("con"), plain_stem("///")
    ('Storm rose', 'hidden', 'con block', 'block')
    """
    plain = unicodedata.normalize("NFC", re.sub(r"\s+", " ", _NEVER_NEW.sub(" ", words)))
    plain = re.sub(" +", " ", plain).strip(" .-")
    while len(plain.encode()) > LONGEST_BYTES - 20 or len(plain) > 90:
        plain = plain[:-1].rstrip(" .")
    return f"{plain} block" if _RESERVED.fullmatch(plain) else plain or "block"


def _folded(name: str) -> str:
    return unicodedata.normalize("NFC", unicodedata.normalize("NFC", name).casefold())


def _shown(text: str) -> str:
    clean = "".join(c if c.isprintable() else f"\\u{ord(c):04x}" for c in text[:80])
    return f"'{clean}'"
