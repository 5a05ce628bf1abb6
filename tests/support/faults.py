"""What can go wrong round a command: disks, folders, links, orders to end; and every command that writes."""

from __future__ import annotations

import contextlib
import os
import resource
import shutil
import signal
import subprocess
import sys
import time
from collections.abc import Iterator, Sequence
from pathlib import Path

import pytest

PEN = """seamwright block 1
size 2 in
fabric sea colour #204060
fabric sky colour #c0e0ff
seam 0, 0 to 2, 2
lay sea at 1, 1/2
lay sky at 1/2, 1
"""
RING = Path(__file__).parent.parent.parent / "designs" / "breakwater.seams"
PENS = "seamwright quilt 1\nname pens\nblock pen pen.seams\nrow pen, pen 90\n"

FILES: dict[str, tuple[str, ...]] = {
    "picture.svg": ("check", "pen.seams", "--picture"),
    "picture.png": ("check", "pen.seams", "--picture"),
    "mended.seams": ("check", "ring.seams", "--mend", "1", "-o"),
    "mended.svg": ("check", "ring.seams", "--mend", "1", "-o"),
    "sheets.pdf": ("foundations", "pen.seams", "-o"),
    "fabrics.svg": ("fabrics", "pen.seams", "-o"),
    "fabrics.png": ("fabrics", "pen.seams", "-o"),
    "strips.csv": ("cutting", "pen.seams", "-o"),
    "strips.pdf": ("cutting", "pen.seams", "-o"),
    "class.pdf": ("booklet", "pen.seams", "-o"),
    "turnings.svg": ("turnings", "pen.seams", "-o"),
    "turnings.pdf": ("turnings", "pen.seams", "-o"),
    "first.setting": ("turnings", "pen.seams", "--force", "--write", "1", "-o"),
    "quilt.svg": ("quilt", "pen.setting", "-o"),
    "quilt.pdf": ("quilt", "pen.setting", "-o"),
    "quilt-sheets.pdf": ("foundations", "pen.setting", "-o"),
    "quilt-fabrics.svg": ("fabrics", "pen.setting", "-o"),
    "quilt-strips.csv": ("cutting", "pen.setting", "-o"),
    "quilt-strips.pdf": ("cutting", "pen.setting", "-o"),
    "quilt-class.pdf": ("booklet", "pen.setting", "-o"),
}
"""Every command that writes one file, by the name of it, which comes last."""
FOLDERS: dict[str, tuple[str, ...]] = {
    "steps": ("check", "pen.seams", "--rehearse"),
    "files": ("foundations", "pen.seams", "--files"),
}
"""Those that write several files into a folder of their own."""
WRITERS = FILES | FOLDERS
STARTED = (
    "from seamwright import stopping; stopping.listen(); print('.', end='', flush=True); "
    "from seamwright.start import run; run()"
)
"""Begins the command, and says when somebody listens: what Python does before is not ours."""


def lay_out_desk(folder: Path) -> None:
    """The drawings that the commands are asked for."""
    (folder / "pen.seams").write_text(PEN)
    (folder / "pen.setting").write_text(PENS)
    shutil.copy(RING, folder / "ring.seams")


def held(folder: Path) -> dict[str, bytes]:
    """All that lies in a folder: contents by name; a folder's is "", a pipe's or a broken link's too."""
    return {
        str(path.relative_to(folder)): path.read_bytes() if path.is_file() else b""
        for path in sorted(folder.rglob("*"))
    }


@contextlib.contextmanager
def full_disk(room: int = 50) -> Iterator[None]:
    """No file may grow beyond so many bytes: what is written breaks off there, as on a full disk, also for root."""
    before = resource.getrlimit(resource.RLIMIT_FSIZE)
    resource.setrlimit(resource.RLIMIT_FSIZE, (room, before[1]))
    try:
        yield
    finally:
        resource.setrlimit(resource.RLIMIT_FSIZE, before)


@contextlib.contextmanager
def disk(folder: Path, size: str = "1m") -> Iterator[None]:
    """A small disk of its own at a folder; skips where none may be put there."""
    done = subprocess.run(["mount", "-t", "tmpfs", "-o", f"size={size}", "tmpfs", str(folder)], capture_output=True)
    if done.returncode:
        pytest.skip("only who may put disks into folders can try this")
    try:
        yield
    finally:
        subprocess.run(["umount", "-l", str(folder)], check=True)


@contextlib.contextmanager
def read_only(folder: Path) -> Iterator[str]:
    """A folder that takes nothing, also from root; yields what is said of it."""
    if os.geteuid():
        folder.chmod(0o500)
        try:
            yield "you may not write in that folder"
        finally:
            folder.chmod(0o700)
        return
    done = subprocess.run(["mount", "--bind", str(folder), str(folder)], capture_output=True)
    if done.returncode:
        pytest.skip("root may write anywhere, and may put no disk into a folder here")
    try:
        subprocess.run(["mount", "-o", "remount,bind,ro", str(folder)], check=True)
        yield "that disk is read-only"
    finally:
        subprocess.run(["umount", "-l", str(folder)], check=True)


def begun(words: Sequence[str], folder: Path, **how: object) -> subprocess.Popen[str]:
    """A command in a process of its own that has begun; it hears Ctrl-C even if we were started without."""
    running = subprocess.Popen(
        [sys.executable, "-c", STARTED, *words],
        cwd=folder,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
        preexec_fn=lambda: signal.signal(signal.SIGINT, signal.default_int_handler),
        **how,  # type: ignore[call-overload]
    )
    assert running.stdout is not None
    running.stdout.read(1)
    return running


def told_to_end(words: Sequence[str], folder: Path, how: signal.Signals, after_s: float) -> tuple[int, str, str]:
    """A command that is told to end so many seconds after it began: exit code, what it said, what it complained."""
    with begun(words, folder) as running:
        time.sleep(after_s)
        running.send_signal(how)
        said, complained = running.communicate(timeout=120)
    return running.returncode, said, complained
