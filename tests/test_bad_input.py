"""Bad input is the normal case: one clear sentence, exit 2, no traceback, nothing half-written."""

from __future__ import annotations

import errno
import json
import os
import subprocess
import sys
import zlib
from pathlib import Path

import pytest

from seamwright import output
from seamwright.cli import main

SQUARE = '<rect width="8" height="8" fill="none" stroke="black"/>'
SEAM = '<line x1="0" y1="0" x2="8" y2="8" stroke="black"/>'


def svg(body: str, size: str = 'width="8in" height="8in" viewBox="0 0 8 8"', before: str = "") -> bytes:
    return f'{before}<svg xmlns="http://www.w3.org/2000/svg" {size}>{body}</svg>'.encode()


def sized(side: str) -> bytes:
    return svg(SQUARE + SEAM, f'width="{side}" height="{side}" viewBox="0 0 8 8"')


BOMB = '<!DOCTYPE svg [<!ENTITY a "aaaaaaaaaa">' + "".join(
    f'<!ENTITY {name} "{f"&{below};" * 10}">' for below, name in zip("abcdefgh", "bcdefghi", strict=True)
)
LINE = '<path d="M0 0L{}" stroke="black" fill="none"/>'
HATCH = "".join(
    f'<path d="M{8 * i / 400} 0V8M0 {8 * i / 400}H8" stroke="black" fill="none"/>' for i in range(1, 400)
)

# What is in the file -> words that must be in the one sentence (what is wrong, or the mend).
DRAWINGS: dict[str, tuple[str, bytes, tuple[str, ...]]] = {
    "empty": ("x.svg", b"", ("empty",)),
    "only spaces": ("x.svg", b"  \n\t ", ("empty",)),
    "not XML": ("x.svg", b"hello, this is a letter", ("XML",)),
    "binary": ("x.svg", bytes(range(256)) * 9, ()),
    "cut short": ("x.svg", svg(SQUARE + SEAM)[:-20], ("XML",)),
    "not SVG": ("x.svg", b"<html><body/></html>", ("SVG",)),
    "nothing drawn": ("x.svg", svg(""), ()),
    "no seams": ("x.svg", svg(SQUARE), ("seam",)),
    "no closed outline": ("x.svg", svg('<path d="M1 1H7V7L2 6" fill="none" stroke="black"/>'), ()),
    "lines in the open": ("x.svg", svg(SQUARE + '<path d="M4 0V4" fill="none" stroke="black"/>'), ("end",)),
    "NaN": ("x.svg", svg(SQUARE + '<line x1="0" y1="0" x2="NaN" y2="8" stroke="black"/>'), ()),
    "infinite": ("x.svg", svg(SQUARE + '<line x1="0" y1="0" x2="1e999" y2="8" stroke="black"/>'), ()),
    "NaN in a path": ("x.svg", svg(SQUARE + '<path d="M0 0L nan 8" stroke="black"/>'), ()),
    "under an inch": ("x.svg", sized("0.5in"), ("1/2 in", "1 to 60 in", "--size")),
    "over sixty inches": ("x.svg", sized("70in"), ("1 to 60 in", "--size")),
    "absurdly large": ("x.svg", sized("1e30in"), ()),
    "wrong units": ("x.svg", sized("8furlong"), ("furlong",)),
    "all lines of no length": ("x.svg", svg('<path d="M1 1L1 1M2 2L2 2" stroke="black"/>'), ()),
    "entity bomb": ("x.svg", svg("<text>&i;</text>", before=BOMB + "]>"), ("entit",)),
    "outside entity": (
        "x.svg",
        svg("<text>&e;</text>", before='<!DOCTYPE svg [<!ENTITY e SYSTEM "file:///etc/passwd">]>'),
        (),
    ),
    "a clone of itself": ("x.svg", svg('<g id="a"><use href="#a"/></g>' + SQUARE + SEAM), ("use",)),
    "two clones in a ring": (
        "x.svg",
        svg('<defs><g id="a"><use href="#b"/></g><g id="b"><use href="#a"/></g></defs><use href="#a"/>' + SQUARE),
        ("use",),
    ),
    "clones of clones of clones": (
        "x.svg",
        svg(
            '<defs><path id="u0" d="M0 0H8"/>'
            + "".join(
                f'<g id="u{n + 1}">' + f'<use href="#u{n}"/>' * 10 + "</g>" for n in range(10)
            )
            + '</defs><use href="#u10"/>'
            + SQUARE
        ),
        (),
    ),
    "deeper than 200": ("x.svg", svg("<g>" * 250 + SEAM + "</g>" * 250 + SQUARE), ("deep",)),
    "far too deep": ("x.svg", svg("<g>" * 100_000 + "</g>" * 100_000), ("deep",)),
    "more than 20 MB": ("x.svg", svg(SQUARE + SEAM) + b" " * 20_000_001, ("20 MB",)),
    "50,000 segments": (
        "x.svg",
        svg(SQUARE + LINE.format(" ".join(f"{i % 8} {(i * 7) % 8}" for i in range(50_100)))),
        ("50,000",),
    ),
    "100,000 crossings": ("x.svg", svg(SQUARE + HATCH), ("100,000",)),
    "packed": ("x.svg", zlib.compress(svg(SQUARE + SEAM)), ()),
    "text form: unknown keyword": ("x.seams", b"seamwright block 1\nsaem 0 0 8 8\n", ("line 2", "column 1")),
    "text form: a later version": ("x.seams", b"seamwright block 9\n", ("line 1",)),
    "text form: not UTF-8": ("x.seams", b"seamwright block 1\nname caf\xe9\n", ("UTF-8",)),
    "text form: nothing in it": ("x.seams", b"seamwright block 1\n", ()),
    "a quilt file": ("x.setting", b"seamwright quilt 1\n", ("quilt",)),
}  # fmt: skip


def one_message(err: str) -> str:
    """The single message on standard error; several faults of one drawing stand one to a line under its name."""
    assert "Traceback" not in err
    first, *faults = err.splitlines()
    assert first.startswith("seamwright: ")
    assert all(fault.startswith("  ") for fault in faults), err
    assert first.endswith(":") == bool(faults), err
    assert len(err) < 700, "a sentence, not a page"
    return err.rstrip()


@pytest.mark.parametrize("name", DRAWINGS)
def test_a_bad_drawing_is_refused_in_one_sentence(
    name: str, tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
):
    file, content, words = DRAWINGS[name]
    monkeypatch.chdir(tmp_path)
    Path(file).write_bytes(content)
    assert main(["foundations", file, "-o", "out.pdf"]) == 2
    out, err = capsys.readouterr()
    assert out == ""
    told, _, left = err.partition("seamwright: nothing was printed")
    assert left
    message = one_message(told)
    assert file in message
    assert message.endswith((".", "?"))
    for word in words:
        assert word.lower() in message.lower()
    assert main(["check", "--json", file]) == 2
    out, err = capsys.readouterr()
    assert err == ""
    (data,) = json.loads(out)
    assert set(data) == {"drawing", "error"}
    assert data["error"]["text"] in " ".join(message.split()), "the same words, in one line"
    assert data["error"]["faults"]
    assert os.listdir() == [file], "nothing is written, not even half"


def test_lines_of_no_length_among_others_do_no_harm(tmp_path: Path, capsys: pytest.CaptureFixture[str]):
    drawing = tmp_path / "x.svg"
    drawing.write_bytes(svg(SQUARE + SEAM + '<line x1="3" y1="1" x2="3" y2="1" stroke="black"/>'))
    assert main(["check", str(drawing)]) == 0
    assert "Can be sewn" in capsys.readouterr().out


GOOD = svg(SQUARE + SEAM)

# Words of a command line -> words that must be in the one sentence. The folder holds kite.svg and reef.svg.
COMMANDS: list[tuple[list[str], tuple[str, ...]]] = [
    ([], ("check", "--help")),
    (["chek", "kite.svg"], ("chek", "check")),
    (["print", "kite.svg"], ("print", "foundations")),
    (["--verbos"], ("--verbos", "--version")),
    (["check"], ("which drawing",)),
    (["check", "none.svg"], ("none.svg", "no such file")),
    (["fabrics", "."], ("folder",)),
    (["check", "kite.svg", "--jsn"], ("--jsn", "--json")),
    (["check", "kite.svg", "--zzz", "3"], ("--zzz", "--size")),
    (["check", "kite.svg", "--size"], ("--size", "value")),
    (["check", "kite.svg", "--size", ""], ("--size",)),
    (["check", "kite.svg", "--size", "8 furlongs"], ("--size", "furlongs", "cm")),
    (["check", "kite.svg", "--size", "0.5in"], ("--size", "1 to 60")),
    (["check", "kite.svg", "--size", "61in"], ("--size", "1 to 60")),
    (["check", "kite.svg", "--size", "-8in"], ("--size",)),
    (["check", "kite.svg", "--size=-8in"], ("--size",)),
    (["check", "kite.svg", "--size", "nan"], ("--size", "length")),
    (["check", "kite.svg", "--size", "8x12in"], ("8x8in", "--stretch")),
    (["check", "kite.svg", "--tolerance", "2in"], ("--tolerance", "0 in to 1 in")),
    (["check", "kite.svg", "--tolerance", "much"], ("--tolerance", "much")),
    (["check", "kite.svg", "--allowance", "5in"], ("--allowance",)),
    (["check", "kite.svg", "--units", "imperial"], ("--units", "inch, metric")),
    (["check", "kite.svg", "--paper", "a44"], ("--paper", "a4")),
    (["check", "kite.svg", "--paper", "vellum"], ("--paper", "letter, a4, legal, tabloid, a3")),
    (["check", "kite.svg", "--steps", "0"], ("--steps", "whole number")),
    (["check", "kite.svg", "--steps", "many"], ("--steps", "many")),
    (["check", "kite.svg", "--seconds", "-1"], ("--seconds",)),
    (["check", "kite.svg", "--seconds", "inf"], ("--seconds", "above 0")),
    (["check", "kite.svg", "--json=yes"], ("--json", "no value")),
    (["check", "kite.svg", "--picture", "out.gif"], ("out.gif", ".svg or .png")),
    (["check", "kite.svg", "--picture", "out"], (".svg or .png",)),
    (["check", "kite.svg", "reef.svg", "--picture", "out.svg"], ("--picture", "one drawing")),
    (["check", "kite.svg", "--picture", "kite.svg"], ("drawing itself",)),
    (["check", "kite.svg", "--picture", "kite.svg", "--force"], ("drawing itself",)),
    (["check", "kite.svg", "--picture", "none/out.svg"], ("no folder", "none")),
    (["foundations", "kite.svg"], ("-o",)),
    (["foundations", "-o", "out.pdf"], ("which drawing",)),
    (["foundations", "kite.svg", "-o", "out.doc"], ("out.doc", ".pdf")),
    (["foundations", "kite.svg", "-o", "none/out.pdf"], ("no folder", "none")),
    (["foundations", "kite.svg", "-o", "folder.pdf"], ("folder.pdf", "is a folder")),
    (["foundations", "kite.svg", "-o", "kite.svg/out.pdf"], ("kite.svg",)),
    (["foundations", "kite.svg", "-o", "letter.pdf"], ("letter.pdf", "--force")),
    (["foundations", "kite.svg", "-o", "out.pdf", "--copies", "0"], ("--copies", "1 to 500")),
    (["foundations", "kite.svg", "-o", "out.pdf", "--copies", "two"], ("--copies", "two")),
    *(
        (["foundations", "kite.svg", "-o", "out.pdf", *given], words)
        for given, words in (
            (["--copies", "501"], ("--copies", "1 to 500")),
            (["--copies", "1.5"], ("--copies", "whole number")),
            (["--sets", "together"], ("--sets", "packed, apart")),
            (["--upright=yes"], ("--upright", "takes no value")),
            (["--landscape=no"], ("--landscape", "takes no value")),
            (["--ink-saver", "--tints=dark"], ("--tints", "takes no value")),
            (["--ink"], ("--ink", "--ink-saver")),
            (["--effort", "0"], ("--effort", "from 1")),
            (["--effort", "more\x07"], ("--effort", "more\\x07")),
            (["--stock", "cardboard"], ("--stock", "paper, freezer")),
            (["--enlarge", "1/2"], ("--enlarge", "1 to 12 times")),
            (["--enlarge", "inf"], ("--enlarge", "300%")),
            (["--footer"], ("--footer", "value")),
            (["--margins", "4in"], ("--margins", "0 in to 3 in")),
            (["--margins", "3in"], ("--margins", "2 1/2 x 5 in", "4 1/2 x 6 in")),
            (["--margins", "1in,2in"], ("--margins", "2 lengths", "four for top, right, bottom, left")),
            (["--paper", "b5"], ("--paper", "iso-b5", "jis-b5")),
            (["--paper", "210x297"], ("--paper", "inches, if none is given")),
            (["--paper", "30cm"], ("--paper", "one side only")),
            (["--paper", "a4 landscape"], ("--paper a4 --landscape",)),
            (["--paper", "a5", "--margins", "2in"], ("--margins", "A5")),
        )
    ),
    (["foundations", "kite.svg@9furlong", "-o", "out.pdf"], ("furlong",)),
    (["foundations", "kite.svg@", "-o", "out.pdf"], ("kite.svg@",)),
    (["foundations", "kite.svg@6x9in", "-o", "out.pdf"], ("6", "--stretch")),
]


@pytest.mark.parametrize(("argv", "words"), COMMANDS, ids=[" ".join(argv) or "nothing" for argv, _ in COMMANDS])
def test_a_slip_on_the_command_line_is_told_in_one_sentence(
    argv: list[str],
    words: tuple[str, ...],
    tmp_path: Path,
    capsys: pytest.CaptureFixture[str],
    monkeypatch: pytest.MonkeyPatch,
):
    monkeypatch.chdir(tmp_path)
    Path("kite.svg").write_bytes(GOOD)
    Path("reef.svg").write_bytes(GOOD)
    Path("folder.pdf").mkdir()
    Path("letter.pdf").write_bytes(b"%PDF-1.4 a letter to a friend")
    before = sorted(os.listdir())
    assert main(argv) == 2
    out, err = capsys.readouterr()
    assert out == ""
    # With several messages (a drawing's, then what became of the print) the first one tells the reason.
    message = one_message("\n".join(line for line in err.splitlines() if "nothing was printed" not in line))
    for word in words:
        assert word in message
    assert sorted(os.listdir()) == before
    assert Path("kite.svg").read_bytes() == GOOD
    assert Path("letter.pdf").read_bytes() == b"%PDF-1.4 a letter to a friend"


def test_a_folder_that_may_not_be_written_in(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
):
    drawing = tmp_path / "kite.svg"
    drawing.write_bytes(GOOD)
    monkeypatch.setattr(os, "access", lambda *_: False)  # the superuser may write anywhere, so it is played here
    assert main(["foundations", str(drawing), "-o", str(tmp_path / "out.pdf")]) == 2
    assert "you may not write in that folder" in one_message(capsys.readouterr().err)


@pytest.mark.parametrize("trouble", ["missing", "broken"])
def test_without_the_cairo_library_pdf_and_png_say_what_to_install_and_svg_still_works(
    tmp_path: Path, trouble: str
):
    """A machine without cairo is played by a cairocffi that fails as the real one does."""
    fake = tmp_path / "fake"
    fake.mkdir()
    problem = {
        "missing": "raise OSError('no library called \"cairo-2\" was found')",
        "broken": "raise ImportError('no module')",
    }[trouble]
    (fake / "cairocffi.py").write_text(problem)
    drawing = tmp_path / "kite.svg"
    drawing.write_bytes(GOOD)

    def run(*words: str) -> subprocess.CompletedProcess[str]:
        environment = {**os.environ, "PYTHONPATH": str(fake)}
        return subprocess.run(
            [sys.executable, "-m", "seamwright", *words],
            cwd=tmp_path,
            env=environment,
            capture_output=True,
            text=True,
        )

    for words in (
        ("foundations", "kite.svg", "-o", "out.pdf"),
        ("check", "kite.svg", "--picture", "out.png"),
    ):
        done = run(*words)
        assert done.returncode == 2
        message = one_message(done.stderr)
        assert all(word in message for word in ("PDF and PNG files need the cairo", "nstall", "try again"))
    assert run("check", "kite.svg").returncode == 0
    assert run("check", "kite.svg", "--picture", "out.svg").returncode == 0
    assert sorted(os.listdir(tmp_path)) == ["fake", "kite.svg", "out.svg"]


def test_a_full_disk_leaves_nothing_behind(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
):
    drawing = tmp_path / "kite.svg"
    drawing.write_bytes(GOOD)

    def full(_: int) -> None:
        raise OSError(errno.ENOSPC, "No space left on device")

    monkeypatch.setattr(output.os, "fsync", full)
    assert main(["check", str(drawing), "--picture", str(tmp_path / "out.svg")]) == 2
    assert "the disk is full" in one_message(capsys.readouterr().err)
    assert os.listdir(tmp_path) == ["kite.svg"]


def test_one_bad_drawing_never_stops_the_rest(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
):
    monkeypatch.chdir(tmp_path)
    Path("a.svg").write_bytes(GOOD)
    Path("b.svg").write_bytes(b"")
    Path("c.svg").write_bytes(GOOD)
    assert main(["check", "a.svg", "b.svg", "c.svg"]) == 2
    out, err = capsys.readouterr()
    assert out.count("Can be sewn") == 2
    assert "b.svg" in one_message(err)
    assert main(["check", "--json", "a.svg", "b.svg", "c.svg"]) == 2
    data = json.loads(capsys.readouterr().out)
    assert [d["drawing"] for d in data] == ["a.svg", "b.svg", "c.svg"]
    assert ["error" in d for d in data] == [False, True, False]
