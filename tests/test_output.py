"""Files are written whole or not at all, and never over anything that is not ours."""

from __future__ import annotations

import errno
import os
import stat
from pathlib import Path

import pytest

from seamwright import output
from seamwright.errors import FileError
from seamwright.output import made_by, made_from, may_write, write_whole


@pytest.mark.parametrize(
    "names",
    [
        ("kite.svg",),
        ("kite.svg", "reef.seams"),
        ("a [b], c.svg",),
        ("50%.svg",),
        ("Möwe & Möwe <3>.svg", "café.seams", "(x)\\y.svg"),
        ("name with ] in it.svg", "日本.svg"),
        ("bad-byte-\udcff.svg",),
    ],
)
def test_a_mark_is_found_again_whatever_the_names(names: tuple[str, ...]):
    words = made_by([f"some/folder/{name}" for name in names])
    words.encode("ascii")
    assert not set(words) & set("<>&\"'()\\")  # what XML or PDF would write differently
    assert made_from(b"\x00junk " + words.encode() + b"\xff]]") == tuple(sorted(names))


def test_a_mark_is_found_in_a_pdf_that_writes_signs_as_octal_codes():
    # ISO 32000-1, 7.3.4.2: in a literal string \\ddd is the character of that octal code
    assert made_from(rb"/Subject (made by seamwright from \133kite\056svg\054 a\0455D\056svg\135)") == (
        "kite.svg",
        "a].svg",
    )


def test_a_file_without_a_mark_is_not_ours():
    assert made_from(b"%PDF-1.7 made by hand") is None


def test_a_new_file_may_be_written_and_then_again_from_the_same_drawings(tmp_path: Path):
    out = tmp_path / "kite.pdf"
    may_write(out, ["kite.svg"])
    write_whole(out, made_by(["kite.svg"]).encode())
    may_write(out, ["elsewhere/kite.svg"])
    for others in (["reef.svg"], ["kite.svg", "reef.svg"]):
        with pytest.raises(FileError, match=r"made from kite\.svg.*--force"):
            may_write(out, others)
        may_write(out, others, force=True)


def test_a_file_of_somebody_else_is_kept(tmp_path: Path):
    out = tmp_path / "letter.pdf"
    out.write_bytes(b"%PDF-1.4 a letter to a friend")
    with pytest.raises(FileError, match=r"was not made by seamwright.*--force"):
        may_write(out, ["kite.svg"])
    may_write(out, ["kite.svg"], force=True)


@pytest.mark.parametrize("force", [False, True])
def test_a_drawing_is_never_written_over(tmp_path: Path, force: bool):
    drawing, link = tmp_path / "kite.svg", tmp_path / "link.svg"
    drawing.write_text("<svg/>")
    link.symlink_to(drawing)
    hard = tmp_path / "hard.svg"
    os.link(drawing, hard)
    for out in (drawing, link, hard, tmp_path / "sub" / ".." / "kite.svg"):
        with pytest.raises(FileError, match="the drawing itself"):
            may_write(out, [str(drawing)], force=force)


def test_what_cannot_be_a_file_is_said_before_any_work(tmp_path: Path):
    (tmp_path / "folder.pdf").mkdir()
    (tmp_path / "file").write_text("x")
    os.mkfifo(tmp_path / "pipe.pdf")
    for out, words in (
        (tmp_path / "folder.pdf", "is a folder"),
        (tmp_path / "none" / "kite.pdf", "there is no folder"),
        (tmp_path / "file" / "kite.pdf", "part of the path is a file"),
        (tmp_path / "pipe.pdf", "no ordinary file"),
        (tmp_path / ("n" * 300 + ".pdf"), "name is too long"),
    ):
        with pytest.raises(FileError, match=words) as caught:
            may_write(out, ["kite.svg"])
        assert caught.value.faults[0].mend


def test_a_folder_that_may_not_be_written_in(tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    # The superuser may write anywhere, so the answer of the system is played here.
    monkeypatch.setattr(os, "access", lambda *_: False)
    with pytest.raises(FileError, match="you may not write in that folder"):
        may_write(tmp_path / "kite.pdf", ["kite.svg"])


@pytest.mark.parametrize(
    ("number", "words"),
    [
        (errno.ENOSPC, "the disk is full"),
        (errno.EROFS, "read-only"),
        (errno.EACCES, "may not write"),
        (errno.EIO, "does not answer as it should"),
        (errno.ENXIO, "No such device"),
    ],
)
@pytest.mark.parametrize("where", ["fsync", "replace", "fdopen"])
def test_a_write_that_fails_leaves_the_old_file_and_nothing_else(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, number: int, words: str, where: str
):
    out = tmp_path / "kite.pdf"
    out.write_bytes(b"yesterday")

    def refuse(*_: object, **__: object) -> None:
        raise OSError(number, os.strerror(number))

    monkeypatch.setattr(output.os, where, refuse)
    with pytest.raises(FileError, match=words):
        write_whole(out, b"today")
    assert out.read_bytes() == b"yesterday"
    assert os.listdir(tmp_path) == ["kite.pdf"]


def test_an_interrupt_leaves_the_old_file_and_nothing_else(tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    out = tmp_path / "kite.pdf"
    out.write_bytes(b"yesterday")

    def interrupt(*_: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr(output.os, "replace", interrupt)
    with pytest.raises(KeyboardInterrupt):
        write_whole(out, b"today")
    assert out.read_bytes() == b"yesterday"
    assert os.listdir(tmp_path) == ["kite.pdf"]


def test_a_written_file_has_the_permissions_others_have(tmp_path: Path):
    out, plain = tmp_path / "new.pdf", tmp_path / "plain"
    plain.write_text("x")
    write_whole(out, b"one")
    assert out.stat().st_mode == plain.stat().st_mode
    for mode in (0o600, 0o664):
        out.chmod(mode)
        write_whole(out, b"two")
        assert stat.S_IMODE(out.stat().st_mode) == mode
        assert out.read_bytes() == b"two"


def test_a_link_keeps_pointing_to_the_file_it_leads_to(tmp_path: Path):
    real, link = tmp_path / "real.pdf", tmp_path / "link.pdf"
    real.write_bytes(b"one")
    link.symlink_to(real)
    write_whole(link, b"two")
    assert link.is_symlink()
    assert real.read_bytes() == b"two"
