"""Files written whole or not at all, and never over anything that is not ours.

Knows:  the mark inside every file made here (which drawings it was made from), temporary files, what the
        operating system says when it cannot write.
Leaves: what is in a file (sheet.pdf, ink.svg, ink.png); each of these takes the mark as words.
Method: the bytes go to a temporary file in the same folder, are forced to the disk, and take the name in one
        step; of several files all are on the disk before the first takes its name. The mark is plain ASCII without
        any character that XML or PNG would write differently, so one search through the bytes finds it in all of
        them; in PDF, signs may stand as octal codes (ISO 32000-1, 7.3.4.2).
Limits: two programs that write the same name at once are not kept apart; the later one wins, whole, unless what it
        finds there was made from other drawings.
"""

from __future__ import annotations

import contextlib
import errno
import os
import re
import secrets
import stat
import time
from collections.abc import Iterable, Iterator, Sequence
from pathlib import Path
from urllib.parse import quote, unquote

from seamwright import stopping
from seamwright.errors import FileError, SeamwrightError, fail

_BEGIN = b"made by seamwright from "
_NAMES = re.compile(rb"\[([^\]]*)\]")
_OCTAL = re.compile(rb"\\([0-7]{3})")
_LONGEST = 100_000
_HEAD, _ROOT = 20_000, 500
_NEW = os.O_WRONLY | os.O_CREAT | os.O_EXCL | getattr(os, "O_BINARY", 0)
HALF_S = 60.0
"""Whatever is written is written within this time; older halves are of somebody who was killed."""
_PLAIN = " !+=@~"
"""Characters of a name that the mark keeps besides letters, figures and _.-"""


def made_by(drawings: Iterable[str | Path]) -> str:
    """Words to be kept inside a file: that we made it, and from which drawings.

    Only the names, not their folders: a print handed to a class should not tell where its owner keeps things.

    >>> made_by(["designs/kite.svg", "reef.seams"])
    'made by seamwright from [kite.svg, reef.seams]'
    """
    names = sorted({Path(drawing).name for drawing in drawings})
    plain = (quote(name, safe=_PLAIN, errors="surrogateescape") for name in names)
    return f"made by seamwright from [{', '.join(plain)}]"


def made_from(content: bytes) -> tuple[str, ...] | None:
    """The drawings' names in the mark of a file's content; None if it carries none."""
    begin = content.find(_BEGIN)
    if begin < 0:
        return None
    behind = content[begin + len(_BEGIN) :][:_LONGEST]
    found = _NAMES.match(_OCTAL.sub(lambda code: bytes([int(code[1], 8) & 255]), behind))
    if found is None:
        return None
    return tuple(
        unquote(name, errors="surrogateescape") for name in found[1].decode("ascii", "replace").split(", ")
    )


def only_shows(path: Path) -> bool:
    """Whether an SVG was made here to be looked at or cut by: a picture, or the foundation of a section.

    A drawing that carries our mark, since mends were done in it, is a drawing still. False if it cannot be read.
    """
    try:
        with path.open("rb") as file:
            if not stat.S_ISREG(os.fstat(file.fileno()).st_mode):
                return False
            head = file.read(_HEAD)
    except (OSError, ValueError):
        return False
    # Words and mark of what is drawn here stand in the one <desc>, before all else, and its root says which profile
    # it is of.
    begin, end = head.find(b"<desc>"), head.find(b"</desc>")
    return b'baseProfile="full"' in head[:_ROOT] and 0 <= begin < head.find(_BEGIN) < end


def may_write(path: Path, drawings: Sequence[str | Path], *, force: bool = False) -> None:
    """Makes sure, before any work is done, that `path` can be written and nothing is lost by it.

    Args:
        path: the file to be written.
        drawings: the drawings it is made from; it may be none of them, not even by force.
        force: write over a file whoever made it.

    Raises:
        FileError: it may not, with the reason and the mend.
    """
    for drawing in drawings:
        if _is_same_file(path, Path(drawing)):
            raise fail(FileError, "file", f"{path} is the drawing itself", "Give another name for the output")
    try:
        held = path.stat()
    except FileNotFoundError:
        held = None
    except OSError as problem:
        raise cannot_write(path, problem) from problem
    if held is not None and stat.S_ISDIR(held.st_mode):
        raise fail(
            FileError, "file", f"{path} is a folder", f"Give a file name, such as {path / 'out'}{path.suffix}"
        )
    if held is not None and not stat.S_ISREG(held.st_mode):
        raise fail(FileError, "file", f"{path} is no ordinary file", "Give another name for the output")
    if held is not None and not force:
        _is_ours(path, drawings)
        if not held.st_mode & 0o222:
            what = f"{path} is there already and is write-protected"
            raise fail(FileError, "file", what, "Give another name for the output, or --force to write over it")
    # What is written in the end is the file that a link leads to.
    target = Path(os.path.realpath(path))
    folder = target.parent if path.is_symlink() else path.parent
    if not folder.is_dir():
        what = f"there is no folder {folder} to write {target.name} in"
        if folder.exists():
            what = f"{folder} is a file, so {target.name} cannot be written in it"
        if path.is_symlink():
            what = f"{path} is a link, and {what}"
        raise fail(FileError, "file", what, "Make the folder first, or give another name for the output")
    _may_write_in(target.parent, path)


def _may_write_in(folder: Path, what: Path) -> None:
    """Raises what the operating system would say of files that are to be made in a folder that is there."""
    there = os.path.realpath(folder)
    if os.access(there, os.W_OK | os.X_OK):
        return
    # Whoever may do everything is refused too where the disk takes nothing.
    only_read = hasattr(os, "statvfs") and os.statvfs(there).f_flag & os.ST_RDONLY
    code = errno.EROFS if only_read else errno.EACCES
    raise cannot_write(what, OSError(code, os.strerror(code)))


def may_use_folder(folder: Path) -> None:
    """Makes sure that `folder` is there, or can be made, and that files can be written in it.

    Raises:
        FileError: it cannot, with the reason and the mend.
    """
    try:
        missing = _missing(folder)
        there = missing[0].parent if missing else folder
        if not there.is_dir():
            what = f"{there} is a file, so nothing can be written in {folder}"
            raise fail(FileError, "file", what, "Give the name of a folder")
        if missing and missing[0].is_symlink():
            what = f"{missing[0]} is a link that leads nowhere, so nothing can be written in {folder}"
            raise fail(FileError, "file", what, "Take the link away, or give the name of another folder")
    except (OSError, ValueError) as problem:  # one on the way may not be looked into
        raise cannot_write(folder, problem) from problem
    _may_write_in(there, folder)


def _missing(folder: Path) -> list[Path]:
    """Those of a folder and the folders it lies in that are not there, outermost first."""
    missing: list[Path] = []
    while not folder.exists() and folder != folder.parent:
        missing.insert(0, folder)
        folder = folder.parent
    return missing


def make_folder(folder: Path) -> None:
    """Makes a folder, and those that it lies in, if they are not there.

    Raises:
        FileError: the operating system refuses, in words.
    """
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except (OSError, ValueError) as problem:
        raise cannot_write(folder, problem) from problem


def write_whole(path: Path, content: bytes) -> None:
    """Writes a file in one step: afterwards it is there whole, or the old one is untouched.

    Raises:
        FileError: the operating system refuses, in words.
    """
    write_all([(path, content)])


def write_ours(path: Path, content: bytes, drawings: Sequence[str | Path], *, force: bool = False) -> None:
    """As `write_whole`, once it is looked again whether it may: another run may have written there meanwhile.

    Raises:
        FileError: as `may_write` and `write_whole`.
    """
    may_write(path, drawings, force=force)
    write_whole(path, content)


def write_folder(
    folder: Path, files: Sequence[tuple[str, bytes, Sequence[str | Path]]], *, force: bool = False
) -> None:
    """Writes files into a folder, all or none; a folder that is made for them goes again if they cannot be written.

    Args:
        files: (name, content, the drawings it was made from).

    Raises:
        FileError: as `may_write` and `write_whole`.
    """
    missing = _missing(folder)
    with contextlib.ExitStack() as under_way:
        for one in missing:
            under_way.enter_context(stopping.half(one))
        try:
            make_folder(folder)
            for name, _, drawings in files:
                may_write(folder / name, drawings, force=force)
            write_all([(folder / name, content) for name, content, _ in files])
        except BaseException:
            for one in reversed(missing):
                with contextlib.suppress(OSError):
                    one.rmdir()
            raise


def write_all(files: Sequence[tuple[Path, bytes]]) -> None:
    """Writes several files, all of them or none; the rest as `write_whole`."""
    path = Path()
    with contextlib.ExitStack() as under_way:
        ready = []
        try:
            for path, content in files:
                ready.append((path, *under_way.enter_context(_beside(path, content))))
            with stopping.together():
                for path, temporary, target in ready:  # noqa: B007 - told if it is refused
                    os.replace(temporary, target)
        except (OSError, ValueError) as problem:
            raise cannot_write(path, problem) from problem
    for folder in {target.parent for _, _, target in ready}:
        clear_halves(folder, {target.name for _, _, target in ready})


@contextlib.contextmanager
def _beside(path: Path, content: bytes) -> Iterator[tuple[Path, Path]]:
    """A temporary file that holds the content, and the file whose name it may take; it goes if it does not."""
    # A link keeps pointing: the file it leads to is replaced, not the link.
    target = Path(os.path.realpath(path))
    mode = _mode(target)
    temporary = target.parent / f".{_short(target.name)}.{secrets.token_hex(4)}.part"
    made = False
    with stopping.half(temporary):
        try:
            # The system applies the user's mask.
            handle = os.open(temporary, _NEW, 0o666 if mode is None else 0o600)
            made = True
            with os.fdopen(handle, "wb") as file:
                file.write(content)
                file.flush()
                os.fsync(file.fileno())
            if mode is not None:
                os.chmod(temporary, mode)
            yield temporary, target
        finally:
            if made:
                with contextlib.suppress(OSError):  # it has taken the name
                    temporary.unlink()


_HALF = re.compile(r"\.(.{1,40})\.[0-9a-f]{8}\.part", re.DOTALL)


def _short(name: str) -> str:
    """So much of a name that its temporary file is no longer than names may be: 255 bytes mostly."""
    return name[:40]


def clear_halves(folder: Path, names: Iterable[str] | None = None) -> None:
    """Takes away what somebody who was killed had half written in a folder.

    Args:
        names: of files, as they would be called when written; None: of any.
    """
    short = None if names is None else set(map(_short, names))
    with contextlib.suppress(OSError), os.scandir(folder) as entries:
        for entry in entries:
            half = _HALF.fullmatch(entry.name)
            if half is not None and (short is None or half[1] in short):
                with contextlib.suppress(OSError):
                    if time.time() - entry.stat(follow_symlinks=False).st_mtime > HALF_S:
                        os.unlink(entry.path)


def _mode(target: Path) -> int | None:
    """The permissions of the file that is replaced; None if there is none."""
    try:
        return stat.S_IMODE(target.stat().st_mode)
    except OSError:
        return None


def _is_same_file(one: Path, other: Path) -> bool:
    try:
        return one.samefile(other)
    except (OSError, ValueError):
        return os.path.realpath(one) == os.path.realpath(other)


def _is_ours(path: Path, drawings: Sequence[str | Path]) -> None:
    try:
        content = path.read_bytes()
    except OSError as problem:
        raise cannot_write(path, problem) from problem
    names = made_from(content)
    mend = "Give another name for the output, or --force to write over it"
    if names is None:
        raise fail(FileError, "file", f"{path} is there already and was not made by seamwright", mend)
    if list(names) != sorted({Path(drawing).name for drawing in drawings}):
        what = f"{path} is there already and was made from {', '.join(names)}"
        raise fail(FileError, "file", what, mend)


def cannot_write(path: Path | str, problem: Exception) -> SeamwrightError:
    """The operating system's refusal as a sentence with a mend."""
    code = problem.errno if isinstance(problem, OSError) else None
    reason, mend = _REASONS.get(
        code,
        (getattr(problem, "strerror", None) or str(problem), "Give another name for the output, or another folder"),
    )
    return fail(FileError, "file", f"{path} cannot be written: {reason}", mend)


_REASONS: dict[int | None, tuple[str, str]] = {
    errno.EACCES: ("you may not write in that folder", "Choose a folder of your own, or change its permissions"),
    errno.EPERM: ("the system does not allow it", "Choose another folder, or change its permissions"),
    errno.EROFS: ("that disk is read-only", "Choose a folder on another disk"),
    errno.ENOSPC: ("the disk is full", "Make room, or choose a folder on another disk"),
    errno.EDQUOT: ("your share of the disk is used up", "Make room, or choose another disk"),
    errno.ENAMETOOLONG: ("the name is too long", "Give a shorter name"),
    errno.ENOENT: ("there is no such folder", "Make the folder first, or give another name for the output"),
    errno.ENOTDIR: ("part of the path is a file, not a folder", "Give another name for the output"),
    errno.EISDIR: ("it is a folder", "Give a file name"),
    errno.EFBIG: ("it is larger than files may be there", "Choose a folder on another disk, or raise the limit"),
    errno.EIO: ("the disk does not answer as it should", "Choose a folder on another disk"),
    errno.EINVAL: ("that disk takes no such name", "Give a plainer name"),
    errno.EILSEQ: ("that disk takes no such name", "Give a plainer name"),
    errno.EBUSY: ("another program holds it", "Close it there and try again"),
    errno.ELOOP: ("its links lead round in a circle", "Give another name for the output"),
}
