"""The command line: help at once, exit codes, JSON alone on standard output, manners on every kind of terminal."""

from __future__ import annotations

import io
import json
import os
import re
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from seamwright import progress
from seamwright.asked import split_size
from seamwright.cli import main
from seamwright.commands.telling import broken_at, say
from seamwright.errors import TRACE, ProofError, fail
from seamwright.output import made_from
from seamwright.words.faults import FAULTS_TOLD

KITE = """seamwright block 1
size 6 in
grid 8
seam 0, 8 to 8, 0
seam 0, 2 to 4, 4
"""
STUCK = """seamwright block 1
size 6 in
seam 2, 0 to 2, 4
seam 0, 4 to 4, 4
seam 4, 6 to 4, 2
seam 6, 2 to 2, 2
"""


@pytest.fixture(autouse=True)
def _in_a_folder_of_its_own(tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    monkeypatch.chdir(tmp_path)
    Path("kite.seams").write_text(KITE)
    Path("reef.seams").write_text(STUCK)
    Path("bad.seams").write_text("no drawing")


def python(*words: str, **more: str) -> subprocess.CompletedProcess[str]:
    environment = {**os.environ, **more}
    return subprocess.run([sys.executable, *words], capture_output=True, text=True, env=environment)


PRINTING = ("cairosvg", "cairocffi", "pypdf", "ezdxf", "svgwrite", "PIL")
SERVING = ("fastapi", "starlette", "uvicorn", "pydantic", "pebble")
HEAVY = (*PRINTING, *SERVING, "shapely", "networkx", "rustworkx", "numpy", "tinycss2", "tqdm", "dataclasses")


@pytest.mark.parametrize(
    "command", ["", "check", "foundations", "fabrics", "cutting", "booklet", "turnings", "draw"]
)
def test_help_loads_nothing_heavy(command: str):
    words = [*([command] if command else []), "--help"]
    code = f"import sys; from seamwright.cli import main; main({words}); print(*sys.modules, file=sys.stderr)"
    loaded = python("-c", code).stderr.split()
    assert "seamwright.cli" in loaded
    assert not [m for m in loaded if m.split(".")[0] in HEAVY]


def test_import_seamwright_loads_nothing_heavy():
    loaded = python("-c", "import sys, seamwright; print(*sys.modules)").stdout.split()
    assert not [m for m in loaded if m.split(".")[0] in HEAVY or m == "seamwright.api"]


def test_check_loads_nothing_that_only_printing_needs():
    code = "import sys; from seamwright.cli import main; main(['check', 'kite.seams']); print(*sys.modules)"
    loaded = python("-c", code).stdout.split()
    assert not {m.split(".")[0] for m in loaded} & {*PRINTING, *SERVING, "networkx", "rustworkx", "tqdm"}
    later = ("foundation", "sheet", "files", "rehearsal", "cutting", "booklet", "ink")
    assert not [m for m in loaded if m.startswith(tuple(f"seamwright.{name}" for name in later))]


def test_help_names_every_command_and_gives_examples(capsys: pytest.CaptureFixture[str]):
    assert main(["--help"]) == 0
    text = capsys.readouterr().out
    assert "check" in text
    assert "foundations" in text
    for command in ("check", "foundations"):
        assert main([command, "--help"]) == 0
        text = capsys.readouterr().out
        examples = [line.split() for line in text.splitlines() if line.startswith("  seamwright")]
        assert len(examples) >= 2
        for example in examples:
            assert example[1] == command


def test_designs_named_in_help_exist(capsys: pytest.CaptureFixture[str]):
    root = Path(__file__).parent.parent
    for words in (["--help"], ["check", "--help"], ["foundations", "--help"]):
        main(words)
        for path in re.findall(r"designs/[\w.-]+", capsys.readouterr().out):
            assert (root / path).exists(), path


def test_the_module_and_the_version():
    done = python("-m", "seamwright", "--version")
    assert done.returncode == 0
    assert re.fullmatch(r"seamwright \d+\.\d+\S*\n", done.stdout)


# -- exit codes -----------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("drawings", "code"),
    [
        (["kite.seams"], 0),
        (["reef.seams"], 1),
        (["bad.seams"], 2),
        (["kite.seams", "reef.seams"], 1),
        (["reef.seams", "kite.seams", "bad.seams"], 2),
        (["bad.seams", "reef.seams"], 2),
    ],
)
def test_the_worst_drawing_decides_the_exit_code(
    drawings: list[str], code: int, capsys: pytest.CaptureFixture[str]
):
    assert main(["check", *drawings]) == code
    assert main(["check", "--json", *drawings]) == code
    out = capsys.readouterr().out
    data = json.loads(out[out.index("[\n") :])
    assert [d["drawing"] for d in data] == drawings


def test_a_plan_that_fails_its_proof_stops_with_3(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
):
    def refuse(_: object) -> None:
        raise fail(ProofError, "proof", "the plan failed its proof (gap)", "Please report this drawing")

    monkeypatch.setattr("seamwright.proof.checker.check", refuse)
    assert main(["check", "kite.seams", "bad.seams"]) == 3
    assert main(["foundations", "kite.seams", "-o", "out.pdf"]) == 3
    assert "kite.seams: the plan failed its proof (gap)" in capsys.readouterr().err
    assert not Path("out.pdf").exists()


def test_a_file_that_does_not_measure_true_is_not_written(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
):
    def refuse(*_: object) -> None:
        raise fail(ProofError, "read-back", "the check square is 0.1 mm too wide", "Please report this drawing")

    monkeypatch.setattr("seamwright.sheet.readback.read_back", refuse)
    Path("out.pdf").write_bytes(b"made by seamwright from [kite.seams]")
    assert main(["foundations", "kite.seams", "-o", "out.pdf"]) == 3
    assert "0.1 mm too wide" in capsys.readouterr().err
    assert Path("out.pdf").read_bytes() == b"made by seamwright from [kite.seams]"


@pytest.mark.parametrize("problem", [ZeroDivisionError("oops"), RecursionError(), KeyError("x")])
def test_a_fault_of_ours_is_a_sentence_and_3(
    problem: Exception, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
):
    def broken(*_: object, **__: object) -> None:
        raise problem

    monkeypatch.setattr("seamwright.block.make.make_block", broken)
    assert main(["check", "kite.seams"]) == 3
    err = capsys.readouterr().err
    assert len(err.splitlines()) == 1
    assert type(problem).__name__ in err
    assert "please report it" in err
    monkeypatch.setenv(TRACE, "1")
    assert main(["check", "kite.seams"]) == 3
    assert "Traceback" in capsys.readouterr().err


def test_memory_that_runs_out_is_nobodys_fault_and_2(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
):
    def broken(*_: object, **__: object) -> None:
        raise MemoryError

    monkeypatch.setattr("seamwright.block.make.make_block", broken)
    assert main(["check", "kite.seams"]) == 2
    err = capsys.readouterr().err
    assert err.startswith("seamwright: kite.seams: this needed more memory than there is. Make the drawing simpler")


def test_ctrl_c_is_one_line_and_130(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]):
    def stopped(*_: object, **__: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr("seamwright.piecing.plan.plan", stopped)
    assert main(["foundations", "kite.seams", "-o", "out.pdf"]) == 130
    assert len(capsys.readouterr().err.splitlines()) == 1
    assert not Path("out.pdf").exists()


def test_a_real_interrupt_ends_a_long_check_in_one_line():
    # Started from a script in the background, a process may find interrupts switched off: switch them on.
    code = "from signal import *; signal(SIGINT, default_int_handler); from seamwright.cli import run; run()"
    many = ["kite.seams"] * 5_000
    with subprocess.Popen(
        [sys.executable, "-c", code, "check", *many], stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True
    ) as running:
        assert running.stdout is not None
        assert running.stderr is not None
        running.stdout.readline()  # the work has begun
        running.send_signal(signal.SIGINT)
        running.stdout.read()
        err = running.stderr.read()
    assert running.returncode == 130
    assert len(err.splitlines()) == 1


# -- check --------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["cutting", "kite.seams", "--students", "12"], "cutting, but of seamwright booklet. Leave it out here."),
        (
            ["fabrics", "kite.seams", "--copies=3"],
            "fabrics, but of seamwright foundations and of ",
        ),
        (["cutting", "kite.seams", "--blok", "3"], "cutting. Did you mean --blocks?"),
    ],
)
def test_an_option_of_another_command_is_told_as_that(
    words: list[str], said: str, capsys: pytest.CaptureFixture[str]
):
    assert main(words) == 2
    assert f"is no option of seamwright {said}" in capsys.readouterr().err


def test_options_may_stand_anywhere(capsys: pytest.CaptureFixture[str]):
    for words in (
        ["check", "--size", "9in", "kite.seams", "--json", "reef.seams"],
        ["check", "kite.seams", "--json", "--size=9in", "reef.seams"],
        ["check", "kite.seams", "reef.seams", "--size", "9in", "--json"],
        ["check", "--json", "--size", "9in", "--", "kite.seams", "reef.seams"],
    ):
        assert main(words) == 1
        data = json.loads(capsys.readouterr().out)
        assert [d["block"]["width_in"] for d in data] == [9, 9]
        assert data[0]["plan"]["options"] == {"size": "9in"}
    Path("-odd.seams").write_text(KITE)
    assert main(["check", "kite.seams", "--", "-odd.seams"]) == 0


def test_the_command_line_wins_over_the_drawing_and_the_drawing_over_the_default(
    capsys: pytest.CaptureFixture[str],
):
    Path("opted.seams").write_text(KITE + "option paper a4\n")
    main(["check", "--json", "opted.seams"])
    assert json.loads(capsys.readouterr().out)[0]["plan"]["options"] == {"paper": "a4"}
    main(["check", "--json", "opted.seams", "--paper", "legal"])
    assert json.loads(capsys.readouterr().out)[0]["plan"]["options"] == {"paper": "legal"}


def test_all_commands_agree_on_the_plan(capsys: pytest.CaptureFixture[str]):
    options = ["--size", "6in", "--paper", "a4"]
    main(["check", "--json", "kite.seams", *options])
    checked = json.loads(capsys.readouterr().out)[0]
    main(["foundations", "--json", "kite.seams", "-o", "out.pdf", *options])
    printed = json.loads(capsys.readouterr().out)
    assert printed["plan"] == checked["plan"]
    on_paper = {
        f["section"]: [p["name"] for p in f["patches"]] for s in printed["sheets"] for f in s["foundations"]
    }
    assert on_paper == {s["name"]: s["patches"] for s in checked["sections"]}


@pytest.mark.parametrize("drawing", ["kite.seams", "reef.seams"])
@pytest.mark.parametrize("form", ["svg", "png"])
def test_a_picture_is_written_and_says_what_it_was_made_from(
    drawing: str, form: str, capsys: pytest.CaptureFixture[str]
):
    out = Path(f"out.{form}")
    code = main(["check", drawing, "--picture", str(out)])
    assert code == (0 if drawing == "kite.seams" else 1)
    assert f"Picture: out.{form}" in capsys.readouterr().out
    first = out.read_bytes()
    assert first.startswith(b"<?xml" if form == "svg" else b"\x89PNG")
    assert made_from(first) == (drawing,)
    assert main(["check", drawing, "--picture", str(out)]) == code  # our own, from the same drawing
    assert out.read_bytes() == first
    other = "reef.seams" if drawing == "kite.seams" else "kite.seams"
    assert main(["check", other, "--picture", str(out)]) == 2
    assert out.read_bytes() == first
    assert main(["check", other, "--picture", str(out), "--force"]) != 2
    assert made_from(out.read_bytes()) == (other,)


def test_no_picture_is_written_of_a_drawing_that_cannot_be_read():
    assert main(["check", "bad.seams", "--picture", "out.svg"]) == 2
    assert not Path("out.svg").exists()


# -- foundations ------------------------------------------------------------------------------------------


def test_foundations_are_printed_and_told_on_one_screen(capsys: pytest.CaptureFixture[str]):
    assert main(["foundations", "kite.seams", "-o", "out.pdf"]) == 0
    out, err = capsys.readouterr()
    assert err == ""
    assert len(out.splitlines()) <= 24
    assert out.startswith("out.pdf: 1 sheet, letter.")
    assert "100 %" in out
    assert made_from(Path("out.pdf").read_bytes()) == ("kite.seams",)
    assert not [name for name in os.listdir() if name.endswith(".part")]


def test_the_same_drawing_gives_the_same_bytes(capsys: pytest.CaptureFixture[str]):
    for out, seed in (("one.pdf", "1"), ("two.pdf", "2")):
        done = python("-m", "seamwright", "foundations", "kite.seams", "-o", out, PYTHONHASHSEED=seed)
        assert done.returncode == 0, done.stderr
    assert Path("one.pdf").read_bytes() == Path("two.pdf").read_bytes()


def test_foundations_json_says_what_lies_where(capsys: pytest.CaptureFixture[str]):
    assert main(["foundations", "kite.seams", "-o", "out.pdf", "--copies", "2", "--json"]) == 0
    data = json.loads(capsys.readouterr().out)
    assert list(data)[:4] == ["file", "paper", "printing", "plan"]
    assert (data["file"], data["paper"]) == ("out.pdf", "letter")
    names = []
    for number, sheet in enumerate(data["sheets"], start=1):
        assert sheet["number"] == number
        assert (sheet["width_pt"], sheet["height_pt"]) == (612, 792)  # Letter, 8.5 x 11 in at 72 pt to the inch
        assert [side for _, _, side in sheet["check_squares_pt"]] == pytest.approx([72, 5 / 2.54 * 72])
        assert len(sheet["check_lines_pt"]) == 2
        for foundation in sheet["foundations"]:
            assert set(foundation) == {
                "drawing", "colourway", "block_reversed", "section", "print", "kind", "use", "also_for", "copy",
                "enlarged", "mirrored", "reversed", "tile",
                "stitch_outline_pt", "trim_outline_pt", "marks_pt", "stops_pt", "grain_pt", "patches",
            }  # fmt: skip
            assert foundation["drawing"] == "kite.seams"
            assert foundation["mirrored"] is True
            assert foundation["tile"] is None
            names.append((foundation["section"], foundation["copy"]))
            for x, y in foundation["trim_outline_pt"]:
                assert 0 < x < 612
                assert 0 < y < 792
            assert {"name", "outline_pt", "direction_pt", "striped", "lay"} == set(foundation["patches"][0])
    assert sorted(names) == sorted({(section, copy) for section, _ in names for copy in (1, 2)})


def test_a_stuck_drawing_prints_nothing_and_says_why(capsys: pytest.CaptureFixture[str]):
    assert main(["foundations", "kite.seams", "reef.seams", "-o", "out.pdf"]) == 1
    out, err = capsys.readouterr()
    assert out == ""
    assert "Cannot be sewn" in err
    assert "out.pdf was not written" in err
    assert not Path("out.pdf").exists()
    assert main(["foundations", "bad.seams", "reef.seams", "-o", "out.pdf"]) == 2


def test_each_drawing_may_have_its_own_size(capsys: pytest.CaptureFixture[str]):
    assert (
        main(["foundations", "kite.seams@5in", "kite.seams@6in", "-o", "out.pdf", "--size", "7in", "--json"]) == 0
    )
    data = json.loads(capsys.readouterr().out)
    assert [plan["options"]["size"] for plan in data["plans"]] == ["5in", "6in"]
    named = {"kite.seams@5in", "kite.seams@6in"}
    assert {f["drawing"] for sheet in data["sheets"] for f in sheet["foundations"]} == named
    assert made_from(Path("out.pdf").read_bytes()) == ("kite.seams",)
    assert main(["foundations", "kite.seams@4in", "-o", "out.pdf"]) == 0  # the same drawing, so it may be made anew
    capsys.readouterr()
    assert main(["check", "kite.seams@5in", "kite.seams", "--size", "7in", "--json"]) == 0
    assert [d["block"]["width_in"] for d in json.loads(capsys.readouterr().out)] == [5, 7]
    assert main(["foundations", "kite.seams@5in", "-o", "kite.seams", "--force"]) == 2
    Path("odd@5in").write_text(KITE)
    assert split_size("odd@5in") == ("odd@5in", "")
    assert split_size("a@b/kite.seams@5x6in") == ("a@b/kite.seams", "5x6in")
    assert split_size("@5in") == ("@5in", "")


def test_drawings_that_ask_for_different_papers_need_a_word(capsys: pytest.CaptureFixture[str]):
    Path("a4.seams").write_text(KITE + "option paper a4\n")
    assert main(["foundations", "kite.seams", "a4.seams", "-o", "out.pdf"]) == 2
    assert "--paper" in capsys.readouterr().err
    assert main(["foundations", "kite.seams", "a4.seams", "-o", "out.pdf", "--paper", "a4"]) == 0


# -- manners ----------------------------------------------------------------------------------------------


def test_a_reader_that_leaves_early_is_no_error():
    many = ["kite.seams"] * 300
    with subprocess.Popen(
        [sys.executable, "-m", "seamwright", "check", *many],
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
    ) as running:
        assert running.stdout is not None
        running.stdout.readline()
        running.stdout.close()
        assert running.stderr is not None
        assert running.stderr.read() == ""
    assert running.returncode == 0


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="needs /dev/full")
def test_a_full_disk_under_standard_output_is_told():
    with open("/dev/full", "w") as full:
        done = subprocess.run(
            [sys.executable, "-m", "seamwright", "check", "kite.seams"],
            stdout=full,
            stderr=subprocess.PIPE,
            text=True,
        )
    assert done.returncode == 2
    assert done.stderr.startswith("seamwright: standard output cannot be written: the disk is full.")
    assert len(done.stderr.splitlines()) == 1


def test_closed_streams_are_no_error():
    for closed in ("1", "2"):
        command = f'"{sys.executable}" -m seamwright check kite.seams bad.seams {closed}>&-'
        done = subprocess.run(command, shell=True, capture_output=True, text=True)
        assert done.returncode == 2
        assert "Traceback" not in done.stdout + done.stderr
        assert "seamwright: " not in done.stdout


@pytest.mark.parametrize("encoding", ["ascii", "cp1252", "utf-8"])
def test_a_terminal_that_lacks_a_letter_still_gets_its_words(encoding: str):
    Path("Möwe-日本.seams").write_text(KITE)
    done = subprocess.run(
        [sys.executable, "-m", "seamwright", "check", "Möwe-日本.seams", "keine-Möwe.seams"],
        capture_output=True,
        env={**os.environ, "PYTHONIOENCODING": encoding},
    )
    assert done.returncode == 2
    assert b"Can be sewn" in done.stdout
    assert b"Traceback" not in done.stderr
    assert b"no such file" in done.stderr


class Terminal(io.StringIO):
    """What a terminal would show."""

    def isatty(self) -> bool:
        return True


def test_the_bar_shows_only_on_a_terminal_and_only_when_work_is_long(monkeypatch: pytest.MonkeyPatch):
    monkeypatch.setattr(progress, "SHOWN_AFTER_S", 0.05)
    for stream, wait, shown in ((Terminal(), 0.0, False), (io.StringIO(), 0.15, False), (Terminal(), 0.15, True)):
        monkeypatch.setattr(sys, "stderr", stream)
        with progress.Progress(2, "drawing") as bar:
            bar.doing("kite.seams")
            time.sleep(wait)
            bar.doing("reef.seams")
        assert ("kite.seams" in stream.getvalue()) == shown
        if shown:
            assert not stream.getvalue().rpartition("\r")[2].strip(), "the bar is taken away at the end"


def test_the_bar_shows_on_a_terminal_that_does_not_know_how_wide_it_is(monkeypatch: pytest.MonkeyPatch):
    monkeypatch.setattr(progress, "SHOWN_AFTER_S", 0.05)
    stream = Terminal()
    monkeypatch.setattr(stream, "fileno", lambda: 2)
    monkeypatch.setattr(os, "get_terminal_size", lambda *_: os.terminal_size((0, 0)))
    monkeypatch.setattr(sys, "stderr", stream)
    with progress.Progress(2, "drawing") as bar:
        bar.doing("kite.seams")
        time.sleep(0.15)
        bar.doing("reef.seams")
    assert "kite.seams" in stream.getvalue()


def test_the_text_form_is_shown_and_what_it_shows_can_be_read(capsys: pytest.CaptureFixture[str]):
    from seamwright.drawing.textform import read_seams

    assert main(["text-form"]) == 0
    shown = capsys.readouterr().out
    # Name, size, grid and seams make a file by themselves.
    lines = [line[2:40].strip() for line in shown.splitlines() if line.startswith("  ")]
    kept = [line for line in lines if line.split()[0] in {"#", "name", "size", "grid", "seam"}]
    drawing = read_seams("seamwright block 1\n" + "\n".join(kept), name="", file="shown.seams")
    assert drawing.name == "storm rose"
    assert drawing.lines


@pytest.mark.parametrize("words", [["text-form", "kite.seams"], ["text-form", "--", "kite.seams"]])
def test_a_drawing_given_to_the_text_form_is_told_where_to_go(words: list[str], capsys: pytest.CaptureFixture[str]):
    assert main(words) == 2
    told = capsys.readouterr().err
    assert "text-form takes no drawing" in told
    assert "kite.seams" in told
    assert "check" in told


def test_parts_of_a_foundation_are_named_as_on_paper(capsys: pytest.CaptureFixture[str]):
    Path("wide.seams").write_text("seamwright block 1\nsize 18 x 6 in\nseam 2, 0 to 2, 6\n")
    assert main(["foundations", "wide.seams", "-o", "wide.pdf"]) == 0
    told = capsys.readouterr().out
    assert "part 1.1" in told
    assert "part 1.2" in told
    from pypdf import PdfReader

    words = " ".join(page.extract_text() for page in PdfReader("wide.pdf").pages)
    assert "part 1.1 of" in words
    assert "part 1.2 of" in words


def test_sizes_of_one_drawing_are_told_apart_sheet_by_sheet(capsys: pytest.CaptureFixture[str]):
    assert main(["foundations", "kite.seams@4in", "kite.seams", "-o", "kites.pdf"]) == 0
    told = capsys.readouterr().out
    assert "kite 4 x 4 in A" in told
    assert "kite 6 x 6 in A" in told


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["foundations", "kite.seams", "-o", "."], ". is a folder. Give a file name, such as kite.pdf"),
        (["foundations", "kite.seams", "-o", "/"], "/ is a folder. Give a file name, such as /kite.pdf"),
        (["foundations", "kite.seams", "-o", ""], "where should the sheets go?"),
        (["check", "kite.seams", "--picture", "."], ". is a folder. Give a file name, such as kite.png"),
        (["check", "kite.seams", "--picture", ""], "where should the picture go?"),
        (["check", ""], "which drawing?"),
        (["check", "kite.seams", "--tolerance", "-1in"], "--tolerance: -1in is out of range"),
        (["check", "kite.seams", "--size", "-8"], "--size: '-8'"),
        (["check", "kite.seams", "--paper", "b5"], "--paper: 'b5' is two papers"),
    ],
)
def test_names_and_values_that_are_none_are_told_as_such(
    words: list[str], said: str, capsys: pytest.CaptureFixture[str]
):
    assert main(words) == 2
    assert said in capsys.readouterr().err


def test_several_faults_of_a_drawing_stand_one_to_a_line(capsys: pytest.CaptureFixture[str]):
    Path("typed.seams").write_text(KITE + "saem 0, 0 to 4, 4\nseam 0, 8 to\n")
    assert main(["check", "typed.seams"]) == 2
    first, *faults = capsys.readouterr().err.splitlines()
    assert first == "seamwright: typed.seams:"
    assert [line[: len("  line 6")] for line in faults] == ["  line 6", "  line 7"]
    Path("typed.seams").write_text(KITE + "saem\n" * 9)
    assert main(["check", "typed.seams"]) == 2
    told = capsys.readouterr().err.splitlines()
    assert len(told) == 1 + FAULTS_TOLD + 1
    assert "3 more like these" in told[-1]


def test_on_a_terminal_lines_break_between_words_and_never_within_a_measure() -> None:
    line = (
        "  10 side triangles of deep, 3 squares 12 5/8 in cut twice corner to corner; 48 sashes, 8 1/2 x 1 1/2 in"
    )
    for columns in range(40, 120):
        broken = broken_at(f"deep watch\n{line}", columns).splitlines()
        assert max(map(len, broken)) <= columns
        assert all(each.startswith("      ") for each in broken[2:])
        assert " ".join(each.strip() for each in broken[1:]) == line.strip()
        assert any("12 5/8 in" in each for each in broken) and any("8 1/2 x 1 1/2 in" in each for each in broken)


def test_tables_and_what_no_terminal_shows_stay_as_they_are(capsys: pytest.CaptureFixture[str]) -> None:
    table = "    1  row kite, kite 90; row kite 270, kite 180  (24 of 24 seam ends run on)"
    assert broken_at(table, 40) == table
    say("word " * 60)
    assert capsys.readouterr().out == "word " * 60 + "\n"
