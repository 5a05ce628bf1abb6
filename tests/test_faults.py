"""Whatever goes wrong round a command: no half file, nothing lost, nothing left lying about, one clear sentence."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from seamwright import output
from seamwright.cli import main
from seamwright.errors import FileError
from seamwright.output import clear_halves, made_by, may_use_folder, may_write, write_all, write_folder, write_whole
from support.faults import (
    FILES,
    FOLDERS,
    WRITERS,
    begun,
    disk,
    full_disk,
    held,
    lay_out_desk,
    read_only,
    told_to_end,
)

pytestmark = pytest.mark.skipif(os.name != "posix", reason="disks and signals are tried as POSIX has them")

DEAR = ("picture.png", "fabrics.png", "class.pdf", "quilt-class.pdf", "turnings.pdf", "files")
MOMENTS = 24
CHEAP = [pytest.param(out, marks=[pytest.mark.long] if out in DEAR else []) for out in WRITERS]
STOPPED = "seamwright: stopped; no file was left half-written\n"
ORDERS = [signal.SIGINT, signal.SIGTERM, signal.SIGHUP]


@pytest.fixture
def desk(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Drawings in a folder, to which we go."""
    lay_out_desk(tmp_path)
    monkeypatch.chdir(tmp_path)
    return tmp_path


def sentence(said: str) -> str:
    """The one message on standard error: what, and the mend."""
    lines = said.splitlines()
    assert len(lines) == 1, said
    assert lines[0].startswith("seamwright: ") and lines[0].endswith((".", "?")), said
    assert "inside seamwright" not in said and "Traceback" not in said
    return lines[0]


# -- disks -----------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("out", CHEAP)
def test_what_is_written_again_is_the_same_and_on_a_full_disk_it_stays(
    desk: Path, out: str, capsys: pytest.CaptureFixture[str]
) -> None:
    words = [*WRITERS[out], out]
    assert main(words) == 0
    once = held(desk)
    capsys.readouterr()
    with full_disk():
        assert main(words) == 2
    assert "cannot be written: it is larger than files may be there" in sentence(capsys.readouterr().err)
    assert held(desk) == once
    assert main(words) == 0
    assert held(desk) == once


@pytest.mark.parametrize("out", ["picture.svg", *(pytest.param(o, marks=pytest.mark.long) for o in WRITERS)])
def test_what_is_new_on_a_full_disk_leaves_nothing_behind(
    desk: Path, out: str, capsys: pytest.CaptureFixture[str]
) -> None:
    before = held(desk)
    with full_disk():
        assert main([*WRITERS[out], out]) == 2
    assert "cannot be written: it is larger than files may be there" in sentence(capsys.readouterr().err)
    assert held(desk) == before


@pytest.mark.long
@pytest.mark.parametrize("out", WRITERS)
def test_a_disk_that_is_full_indeed_keeps_what_it_holds(
    desk: Path, out: str, capsys: pytest.CaptureFixture[str]
) -> None:
    words = [*WRITERS[out], f"small/{out}"]
    Path("small").mkdir()
    with disk(desk / "small", "4m"):
        assert main(words) == 0
        room = os.statvfs("small")
        Path("small/ballast").write_bytes(bytes(room.f_bavail * room.f_bsize))
        once = held(desk)
        capsys.readouterr()
        assert main(words) == 2
        assert "cannot be written: the disk is full. Make room" in sentence(capsys.readouterr().err)
        assert held(desk) == once


@pytest.mark.parametrize("out", WRITERS)
def test_a_folder_that_takes_nothing_is_told_before_any_work(
    desk: Path, out: str, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    Path("closed").mkdir()

    def work(*_: object, **__: object) -> None:
        raise AssertionError("work was begun")

    monkeypatch.setattr("seamwright.piecing.plan.plan", work)
    with read_only(desk / "closed") as words:
        assert main([*WRITERS[out], f"closed/{out}"]) == 2
    assert words in sentence(capsys.readouterr().err)


@pytest.mark.skipif(not Path("/usr/bin/setpriv").exists(), reason="needs setpriv (util-linux)")
@pytest.mark.parametrize("words", [(*FILES["picture.svg"], "shut/a.svg"), (*FOLDERS["files"], "shut/deep/files")])
def test_whoever_may_not_write_or_look_is_told_so(desk: Path, words: tuple[str, ...]) -> None:
    """Root without the right to pass by permissions is as anyone else."""
    Path("shut").mkdir(0o500)
    drop = ["setpriv", "--bounding-set=-dac_override,-dac_read_search"] if os.geteuid() == 0 else []
    for mode in (0o500, 0o000):
        Path("shut").chmod(mode)
        done = subprocess.run(
            [*drop, sys.executable, "-m", "seamwright", *words], capture_output=True, text=True, check=False
        )
        assert done.returncode == 2
        assert "you may not write in that folder" in sentence(done.stderr)
    Path("shut").chmod(0o700)
    assert held(Path("shut")) == {}


# -- what lies there already -----------------------------------------------------------------------------------


@pytest.mark.parametrize("there", ["pipe", "link that leads nowhere", "link in a circle", "folder or file"])
@pytest.mark.parametrize("out", WRITERS)
def test_what_lies_at_the_name_and_is_no_file_is_told_and_left(
    desk: Path, out: str, there: str, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    name = Path(out)
    if there == "pipe":
        os.mkfifo(name)
    elif there == "folder or file" and out in FOLDERS:
        name.write_text("a letter to a friend")
    elif there == "folder or file":
        name.mkdir()
    else:
        name.symlink_to(out if "circle" in there else f"nowhere/{out}")
    before = held(desk)
    monkeypatch.setattr("seamwright.piecing.plan.plan", None)  # all is told before any work
    words = [word for word in WRITERS[out] if word != "--force"]
    assert main([*words, out]) == 2
    assert out in sentence(capsys.readouterr().err)
    assert held(desk) == before


def test_a_link_to_a_file_that_is_not_there_yet_is_followed(desk: Path) -> None:
    Path("prints").mkdir()
    Path("a.svg").symlink_to("prints/real.svg")
    assert main([*FILES["picture.svg"], "a.svg"]) == 0
    assert Path("a.svg").is_symlink() and Path("prints/real.svg").is_file()


def test_a_file_that_is_write_protected_is_kept_unless_forced(tmp_path: Path) -> None:
    out = tmp_path / "kite.pdf"
    write_whole(out, made_by(["kite.svg"]).encode())
    out.chmod(0o444)
    with pytest.raises(FileError, match=r"write-protected\. .*--force"):
        may_write(out, ["kite.svg"])
    may_write(out, ["kite.svg"], force=True)


def test_a_drawing_that_is_a_pipe_is_waited_for_by_nobody(desk: Path) -> None:
    os.mkfifo("pipe.svg")
    done = subprocess.run(
        [sys.executable, "-m", "seamwright", "check", "pipe.svg"], capture_output=True, text=True, timeout=60
    )
    assert done.returncode == 2
    assert "it is no ordinary file" in sentence(done.stderr)


@pytest.mark.parametrize("out", CHEAP)
def test_names_of_files_may_hold_whatever_a_disk_takes(
    desk: Path, out: str, capsys: pytest.CaptureFixture[str]
) -> None:
    """Bytes that are no UTF-8, a line break, a sign that steers terminals."""
    odd = "odd-\udcff \n\x1b[31m"
    for name in ("pen.seams", "ring.seams"):
        os.rename(name, odd + name)
    Path(odd + "pen.setting").write_text(Path("pen.setting").read_text().replace("pen.seams", "plain.seams"))
    Path("plain.seams").write_bytes(Path(odd + "pen.seams").read_bytes())
    words = [odd + word if "." in word else word for word in WRITERS[out]]
    code = main([*words, odd + out])
    said, complained = capsys.readouterr()
    assert "\x1b" not in said + complained
    if out == "first.setting":  # it would have to name the drawing, in UTF-8
        assert code == 2
        assert "Give that drawing a plainer name" in sentence(complained)
        return
    assert (code, complained) == (0, "")
    assert os.path.exists(odd + out)


# -- several files ---------------------------------------------------------------------------------------------


def test_several_files_are_written_all_or_none(tmp_path: Path) -> None:
    for name in ("a", "b", "c"):
        (tmp_path / name).write_bytes(b"yesterday")
    with full_disk(), pytest.raises(FileError, match=r"c cannot be written"):
        write_all([(tmp_path / "a", b"today"), (tmp_path / "b", b"today"), (tmp_path / "c", bytes(1000))])
    assert held(tmp_path) == {"a": b"yesterday", "b": b"yesterday", "c": b"yesterday"}
    write_all([(tmp_path / name, b"today") for name in ("a", "b")])
    assert held(tmp_path) == {"a": b"today", "b": b"today", "c": b"yesterday"}


def test_a_folder_made_for_files_goes_with_them(tmp_path: Path) -> None:
    with full_disk(), pytest.raises(FileError):
        write_folder(tmp_path / "new" / "prints", [("a", b"1", []), ("b", bytes(1000), [])])
    assert held(tmp_path) == {}
    (tmp_path / "b").write_bytes(b"a letter to a friend")
    with pytest.raises(FileError, match="not made by seamwright"):
        write_folder(tmp_path, [("a", b"1", ["kite.svg"]), ("b", b"2", ["kite.svg"])])
    assert held(tmp_path) == {"b": b"a letter to a friend"}


def test_a_folder_under_a_link_that_leads_nowhere_is_told(tmp_path: Path) -> None:
    (tmp_path / "link").symlink_to(tmp_path / "gone")
    with pytest.raises(FileError, match="link that leads nowhere"):
        may_use_folder(tmp_path / "link" / "files")


# -- two at once, and one that was killed ----------------------------------------------------------------------


def test_two_runs_on_one_output_leave_one_whole_file(desk: Path) -> None:
    running = [begun([*FILES["picture.svg"], "a.svg"], desk) for _ in range(2)]
    for one in running:
        said, complained = one.communicate(timeout=60)
        assert (one.returncode, complained) == (0, "")
        assert "Picture: a.svg" in said
    assert main([*FILES["picture.svg"], "b.svg"]) == 0
    assert Path("a.svg").read_bytes() == Path("b.svg").read_bytes()
    assert sorted(os.listdir()) == ["a.svg", "b.svg", "pen.seams", "pen.setting", "ring.seams"]


@pytest.mark.parametrize("out", ["picture.svg", "sheets.pdf", "strips.csv", "quilt.svg", "mended.seams", "steps"])
def test_what_another_run_wrote_meanwhile_is_not_written_over(
    desk: Path, out: str, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    theirs = made_by(["theirs.svg"]).encode()

    def meanwhile(files: object) -> None:
        raise AssertionError("it was written over")

    def looked(path: Path, *_: object, **__: object) -> None:
        seen.append(path)
        if len(seen) > before_writing:
            path.write_bytes(theirs)
        may_write(path, *_, **__)  # type: ignore[arg-type]

    # How often it is looked at before the last look, which stands right before the writing.
    seen: list[Path] = []
    before_writing = 10**9
    monkeypatch.setattr(output, "may_write", looked)
    monkeypatch.setattr("seamwright.outfiles.may_write", looked)
    assert main([*WRITERS[out], out, "--force"]) == 0
    monkeypatch.setattr(output, "write_all", meanwhile)
    seen[-1].unlink()
    before_writing, count = len(seen) - 1, len(seen)
    seen.clear()
    capsys.readouterr()
    assert main([*WRITERS[out], out]) == 2
    assert len(seen) == count
    assert "was made from theirs.svg" in sentence(capsys.readouterr().err)
    assert seen[-1].read_bytes() == theirs


KILLED = """
import sys
from pathlib import Path
from seamwright.output import write_whole
print(".", end="", flush=True)
for number in range(1_000_000):
    write_whole(Path(sys.argv[1]), bytes([number % 251]) * 3_000_000)
"""


def test_who_is_killed_while_writing_leaves_the_file_whole_and_the_next_clears_up(tmp_path: Path) -> None:
    out, other = tmp_path / "print.pdf", tmp_path / ".other.pdf.0123abcd.part"
    other.write_bytes(b"of another file")
    halves = 0
    for number in range(12):
        with subprocess.Popen([sys.executable, "-c", KILLED, str(out)], stdout=subprocess.PIPE) as running:
            assert running.stdout is not None
            running.stdout.read(1)
            time.sleep(0.003 * number)
            running.kill()
        if out.exists():
            content = out.read_bytes()
            assert len(content) == 3_000_000 and len(set(content)) == 1
        halves = len(list(tmp_path.glob(".print.pdf.*.part")))
    left = [tmp_path / ".print.pdf.89abcdef.part", *tmp_path.glob(".print.pdf.*.part")]
    left[0].touch()
    write_whole(out, b"whole")
    assert len(list(tmp_path.glob(".print.pdf.*.part"))) == halves + 1, "another run may be writing them just now"
    old = time.time() - 100
    for path in (*left, other):
        os.utime(path, (old, old))
    write_whole(out, b"whole")
    assert sorted(os.listdir(tmp_path)) == [other.name, "print.pdf"]
    clear_halves(tmp_path)
    assert os.listdir(tmp_path) == ["print.pdf"]


# -- orders to end ---------------------------------------------------------------------------------------------


def ended_well(code: int, complained: str, folder: Path, whole: dict[str, bytes]) -> None:
    """Stopped in a sentence, or done; and in both cases nothing but whole files."""
    # When Python has forgotten our answers, as its last act, an order of the system ends it without a word.
    assert (code, complained) in ((0, ""), (130, STOPPED), (-signal.SIGTERM, ""), (-signal.SIGHUP, ""))
    there = {name: content for name, content in held(folder).items() if name not in ("ring.seams", "pen.seams")}
    assert {name: content for name, content in there.items() if name not in whole} == {}
    assert all(whole[name] == content for name, content in there.items())
    if code == 0:
        assert there == whole


def whole_of(desk: Path, words: list[str]) -> dict[str, bytes]:
    """What lies there after an undisturbed run."""
    assert main(words) == 0
    return {name: content for name, content in held(desk).items() if name not in ("ring.seams", "pen.seams")}


@pytest.mark.parametrize("how", ORDERS, ids=lambda how: how.name)
def test_an_order_to_end_is_followed_at_once_and_in_one_sentence(desk: Path, how: signal.Signals) -> None:
    words = [*FOLDERS["steps"], "steps"]
    whole = whole_of(desk, words)
    moments = {signal.SIGINT: (0.0, 0.05, 0.2, 0.4, 0.6)}.get(how, (0.02, 0.3))
    for after_s in moments:
        code, _, complained = told_to_end(words, desk, how, after_s)
        ended_well(code, complained, desk, whole)


@pytest.mark.long
@pytest.mark.parametrize(
    ("out", "how"),
    [*((out, signal.SIGINT) for out in WRITERS), ("files", signal.SIGTERM), ("quilt-class.pdf", signal.SIGHUP)],
    ids=str,
)
def test_an_order_to_end_is_followed_at_any_moment(desk: Path, out: str, how: signal.Signals) -> None:
    words = [*WRITERS[out], out]
    whole = whole_of(desk, words)
    began = time.monotonic()
    with begun(words, desk) as running:
        running.communicate(timeout=120)
    takes = time.monotonic() - began
    for number in range(MOMENTS):
        code, _, complained = told_to_end(words, desk, how, takes * 1.1 * number / MOMENTS)
        ended_well(code, complained, desk, whole)


@pytest.mark.long
@pytest.mark.parametrize("how", ORDERS, ids=lambda how: how.name)
def test_the_page_s_server_ends_whenever_it_is_told_to(tmp_path: Path, how: signal.Signals) -> None:
    for number in range(MOMENTS):
        code, _, complained = told_to_end(["draw", "designs", "--no-open"], tmp_path, how, 0.06 * number)
        assert (code, complained) == (130, STOPPED)
        assert set(held(tmp_path)) <= {"designs"}


def test_steps_that_belong_together_are_not_parted_and_half_files_go(tmp_path: Path) -> None:
    code = """
import os, signal, sys
from pathlib import Path
from seamwright import stopping
signal.signal(signal.SIGINT, signal.default_int_handler)
stopping.listen()
folder = Path(sys.argv[1])
(folder / "new").mkdir()
(folder / "new" / "half").touch()
with stopping.half(folder / "new"), stopping.half(folder / "new" / "half"), stopping.together():
    os.kill(os.getpid(), signal.SIGINT)
    (folder / "together").touch()
(folder / "never").touch()
"""
    done = subprocess.run([sys.executable, "-c", code, str(tmp_path)], capture_output=True, text=True)
    assert (done.returncode, done.stderr) == (130, STOPPED)
    assert os.listdir(tmp_path) == ["together"]


def test_who_is_not_to_hear_of_a_closed_terminal_does_not(desk: Path) -> None:
    """As nohup starts a command: what is ignored from outside stays so."""
    code = "import signal; signal.signal(signal.SIGHUP, signal.SIG_IGN); from seamwright import stopping\n"
    code += "stopping.listen(); signal.raise_signal(signal.SIGHUP); print('on')"
    assert subprocess.run([sys.executable, "-c", code], capture_output=True, text=True).stdout == "on\n"


# -- what stands round it --------------------------------------------------------------------------------------


def bare(words: list[str], **how: object) -> subprocess.CompletedProcess[str]:
    """A command where there is nothing: no home, no folder for temporary files, no letters but ASCII, no input."""
    poor = {"LC_ALL": "C", "PYTHONUTF8": "0", "PYTHONCOERCECLOCALE": "0", "PYTHONIOENCODING": "ascii"}
    nowhere = {"TMPDIR": "/nonexistent", "PATH": os.environ["PATH"]}
    command = 'exec "$0" -m seamwright "$@" <&-'
    return subprocess.run(
        ["sh", "-c", command, sys.executable, *words],
        env={**poor, **nowhere, **{k: v for k, v in os.environ.items() if k == "PYTHONPATH"}},
        capture_output=True,
        text=True,
        check=False,
        **how,  # type: ignore[call-overload]
    )


@pytest.mark.parametrize(
    "out", ["sheets.pdf", *(pytest.param(out, marks=pytest.mark.long) for out in WRITERS if out != "sheets.pdf")]
)
def test_an_environment_that_has_nothing_is_enough(desk: Path, out: str) -> None:
    words = [word.replace("pen.", "Möwe.").replace("ring.", "日本.") for word in WRITERS[out]]
    os.rename("pen.seams", "Möwe.seams")
    os.rename("ring.seams", "日本.seams")
    Path("Möwe.setting").write_text(Path("pen.setting").read_text().replace("pen.seams", '"Möwe.seams"'))
    done = bare([*words, out])
    assert (done.returncode, done.stderr) == (0, "")
    poor = held(desk)
    assert main([*words, out, "--force"]) == 0
    assert held(desk) == poor


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="needs /dev/full")
@pytest.mark.parametrize("out", [pytest.param(out, marks=pytest.mark.long) for out in WRITERS])
def test_where_nothing_can_be_said_the_file_is_written_all_the_same(desk: Path, out: str) -> None:
    words = [sys.executable, "-m", "seamwright", *WRITERS[out], out]
    whole = whole_of(desk, words[3:])
    with open("/dev/full", "w") as full:
        done = subprocess.run(words, stdout=full, stderr=subprocess.PIPE, text=True, check=False)
    assert done.returncode == 2
    assert "standard output cannot be written: the disk is full" in sentence(done.stderr)
    gone = ["sh", "-c", '"$0" "$@" | true', *words]
    done = subprocess.run(gone, capture_output=True, text=True, check=False)
    assert (done.returncode, done.stderr) == (0, "")
    assert whole_of(desk, words[3:]) == whole


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="needs /dev/full")
def test_where_complaints_cannot_be_written_the_exit_code_still_tells(desk: Path) -> None:
    with open("/dev/full", "w") as full:
        for words, code in ((("foundations", "ring.seams", "-o", "a.pdf"), 1), (("check", "none.seams"), 2)):
            done = subprocess.run(
                [sys.executable, "-m", "seamwright", *words], stdout=subprocess.PIPE, stderr=full, check=False
            )
            assert (done.returncode, done.stdout) == (code, b"")


# -- the page's keeping ----------------------------------------------------------------------------------------


def test_a_full_disk_under_the_page_keeps_what_was_saved(tmp_path: Path) -> None:
    from seamwright.page.keeping import Keeper, Step

    keeper = Keeper(tmp_path)
    first = keeper.save("pen.seams", [Step("seamwright block 1\nsize 2 in\n")], "")
    kept = (tmp_path / "pen.seams").read_bytes()
    with full_disk(100), pytest.raises(FileError, match="cannot be written"):
        keeper.save("pen.seams", [Step("seamwright block 1\nsize 2 in\n" + "# long\n" * 100)], first.hash)
    assert (tmp_path / "pen.seams").read_bytes() == kept
    assert not [name for name in held(tmp_path) if name.endswith(".part")]
    assert keeper.read("pen.seams").hash == first.hash
    assert not keeper.save("pen.seams", [Step("seamwright block 1\nsize 3 in\n")], first.hash).warning


def test_every_command_that_writes_is_tried() -> None:
    """Whatever the command line offers to write stands in the tables."""
    from seamwright.parser import build_parser

    commands = next(set(action.choices) for action in build_parser()._actions if isinstance(action.choices, dict))
    tried = {words[0] for words in WRITERS.values()}
    assert commands >= tried
    assert commands - tried == {"draw", "text-form"}, "they write nothing by themselves"
