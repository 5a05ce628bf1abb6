"""Many drawings: through any executor, in their order, few at a time; what one of them does harms no other."""

from __future__ import annotations

import json
import os
import pickle
import signal
import subprocess
import sys
import threading
import time
from collections.abc import Callable, Iterator
from concurrent.futures import Executor, Future, ProcessPoolExecutor, ThreadPoolExecutor
from contextlib import AbstractContextManager, contextmanager, suppress
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import seamwright
from seamwright import processes
from seamwright.archive.already import RECORD
from seamwright.archive.found import Found, pdf_names
from seamwright.archive.model import Done, Job, State, Words
from seamwright.archive.through import in_turn
from seamwright.archive.work import guarded
from seamwright.cli import main
from seamwright.errors import FileError, OptionError
from seamwright.many import check_many, print_many
from seamwright.processes import Processes
from support import hurt
from support.heavy import heavy_drawing

KITE = "seamwright block 1\nsize 6 in\ngrid 8\nseam 0, 8 to 8, 0\nseam 0, 2 to 4, 4\n"
STUCK = (
    "seamwright block 1\nsize 6 in\nseam 2, 0 to 2, 4\nseam 0, 4 to 4, 4\nseam 4, 6 to 4, 2\nseam 6, 2 to 2, 2\n"
)
SPLIT = "seamwright block 1\nsize 4 in\nseam 0, 0 to 4, 4\n"
QUILT = "seamwright quilt 1\nname evening\nblock kite kite.seams\nrow kite, kite\n"


@pytest.fixture(autouse=True)
def _in_a_folder_of_its_own(tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    monkeypatch.chdir(tmp_path)


@pytest.fixture
def blocks() -> Path:
    """A folder with drawings, and much that is none."""
    folder = Path("blocks")
    for name, text in {
        "kite.seams": KITE,
        "Reef.seams": STUCK,
        "split.SEAMS": SPLIT,
        "harbour/bad.svg": "no drawing",
        "harbour/buoys/kite.seams": KITE,
        "evening.setting": QUILT,
        "notes.txt": "buy thread",
        ".seamwright/versions/old.seams": KITE,
        ".hidden.seams": KITE,
    }.items():
        (folder / name).parent.mkdir(parents=True, exist_ok=True)
        (folder / name).write_text(text)
    return folder


@pytest.fixture
def in_threads(monkeypatch: pytest.MonkeyPatch) -> None:
    """Work is done by threads of the test's own process: for what is not about processes."""

    class InThreads(ThreadPoolExecutor):
        def __init__(self, count: int, limit_s: float | None, modules: tuple[str, ...]) -> None:
            super().__init__(count)

    monkeypatch.setattr(processes, "Processes", InThreads)


# -- in turn, whoever does the work --------------------------------------------------------------------------


@settings(max_examples=20)
@given(st.lists(st.integers(), max_size=40), st.integers(1, 9))
def test_answers_come_in_the_order_of_questions(numbers: list[int], ahead: int):
    with ThreadPoolExecutor(4) as threads:
        assert list(in_turn(str, numbers, threads, ahead, hurt.lost)) == [str(n) for n in numbers]


class ByHand(Executor):
    """Does nothing until it is told to."""

    def __init__(self) -> None:
        self.asked: list[tuple[Any, Future[Any]]] = []

    def submit(self, fn: Callable[..., Any], /, *args: Any, **kwargs: Any) -> Future[Any]:
        self.asked.append((args[0], Future()))
        return self.asked[-1][1]


def test_of_a_million_only_a_few_are_under_way_and_an_early_answer_is_told_at_once():
    taken = 0

    def endless() -> Iterator[int]:
        nonlocal taken
        for number in range(1_000_000):
            taken += 1
            # The first is answered while the third is taken: it is told before the fourth is.
            if number == 2:
                hand.asked[0][1].set_result("first")
            yield number

    hand = ByHand()
    answers = in_turn(str, endless(), hand, 50, hurt.lost)
    assert next(answers) == "first"
    assert taken == 3
    threading.Timer(0.2, lambda: hand.asked[1][1].set_result("second")).start()
    assert next(answers) == "second"
    assert taken == len(hand.asked) == 51  # fifty wait with the second one, and no more
    answers.close()  # type: ignore[attr-defined]
    assert all(future.cancelled() for _, future in hand.asked[2:])


def test_what_a_cluster_took_back_is_told_as_that_drawings_own_error():
    hand = ByHand()
    answers = in_turn(str, ["a", "b"], hand, 2, hurt.lost)
    threading.Timer(0.1, lambda: [(f.cancel() if a == "a" else f.set_result(a)) for a, f in hand.asked]).start()
    assert list(answers) == ["a: CancelledError", "b"]


HURTS = ["a", "crash", "b", "memory", "raise", "c", "crash", "d"]
TOLD = ["a", "crash: ProcessExpired", "b", "memory: MemoryError", "raise: ValueError", "c"]


def test_work_that_hangs_crashes_or_eats_all_memory_takes_no_other_with_it():
    with Processes(1, 1.0, modules=()) as pool:
        told = list(in_turn(hurt.work, [*HURTS, "hang", "e"], pool, 9, hurt.lost))
    assert told == [*TOLD, "crash: ProcessExpired", "d", "hang: TimeoutError", "e"]


def test_a_pool_that_breaks_is_replaced_and_only_what_broke_it_is_lost(monkeypatch: pytest.MonkeyPatch):
    monkeypatch.setattr("os.cpu_count", lambda: 1)
    monkeypatch.setattr(processes, "PLANNING", ())
    with ProcessPoolExecutor(2) as broken:
        told = list(in_turn(hurt.work, [*HURTS[:3], *"efgh"], broken, 4, hurt.lost))
    assert told == [*TOLD[:3], *"efgh"]


# -- the calls -------------------------------------------------------------------------------------------------


@contextmanager
def cluster() -> Iterator[Executor]:
    """Two workers of a cluster, as threads of this process."""
    from distributed import Client, LocalCluster

    with (
        LocalCluster(n_workers=2, threads_per_worker=1, processes=False, dashboard_address=None) as local,
        Client(local) as client,
    ):
        yield client.get_executor(pure=False)


@contextmanager
def cluster_of_processes() -> Iterator[Executor]:
    """Two workers of a cluster, each a process that may start others."""
    import dask
    from distributed import Client, LocalCluster

    with (
        dask.config.set({"distributed.worker.daemon": False}),
        LocalCluster(n_workers=2, threads_per_worker=1, processes=True, dashboard_address=None) as local,
        Client(local) as client,
    ):
        yield client.get_executor(pure=False)


def alone(words: list[str], capsys: pytest.CaptureFixture[str]) -> Any:
    """What the command prints of one drawing, for programs."""
    main(words)
    return json.loads(capsys.readouterr().out)


def same_wherever(executor: Callable[[], AbstractContextManager[Executor]], capsys: pytest.CaptureFixture[str]):
    for name, text in (("kite", KITE), ("reef", STUCK), ("bad", "no drawing")):
        Path(f"{name}.seams").write_text(text)
    names = [str(Path(name).resolve()) for name in ("kite.seams", "reef.seams", "gone.svg", "bad.seams")]
    names += [f"{names[0]}@8in"]
    with executor() as pool:
        checked = list(check_many(names, pool, ahead=2))
        printed = list(print_many(names[:3], "prints", pool, paper="a4"))
    assert [done.drawing for done in checked] == names
    assert [done.exit_code for done in checked] == [0, 1, 2, 2, 0]
    assert [[*done.objects] for done in checked] == [alone(["check", "--json", name], capsys) for name in names]
    assert [done.state for done in printed] == [State.DONE, State.STUCK, State.UNREAD]
    facts = alone(["foundations", names[0], "-o", "alone.pdf", "--json", "--paper", "a4"], capsys)
    assert printed[0].objects == ({**facts, "file": "prints/kite.pdf"},)
    assert Path("prints/kite.pdf").read_bytes() == Path("alone.pdf").read_bytes()
    assert sorted(path.name for path in Path("prints").iterdir()) == [RECORD, "kite.pdf"]


@pytest.mark.parametrize("executor", [lambda: ThreadPoolExecutor(3), lambda: ProcessPoolExecutor(2), cluster])
def test_results_are_those_of_each_drawing_alone_wherever_the_work_is_done(
    executor: Callable[[], AbstractContextManager[Executor]], capsys: pytest.CaptureFixture[str]
):
    same_wherever(executor, capsys)


@pytest.mark.long
def test_results_are_the_same_from_processes_of_a_cluster_which_holds_drawings_to_a_limit(
    capsys: pytest.CaptureFixture[str],
):
    same_wherever(cluster_of_processes, capsys)
    names = [str(Path(name).resolve()) for name in ("kite.seams", heavy_drawing(Path()), "reef.seams")]
    with cluster_of_processes() as pool:
        states = [done.state for done in check_many(names, pool, limit_s=3)]
    assert states == [State.DONE, State.ENDED, State.STUCK]


def test_a_drawing_that_crashes_or_takes_too_long_ends_no_thread_and_the_next_is_done():
    Path("kite.seams").write_text(KITE)
    heavy_drawing(Path())
    with ThreadPoolExecutor(1) as threads:
        # In the process beside, that is: this one goes on.
        crashed = threads.submit(guarded, Job("crash", limit_s=0.5), hurt.done).result()
        large, kite = check_many(["chords-60-1.seams", "kite.seams"], threads, limit_s=0.5)
    assert (crashed.state, crashed.exit_code) == (State.ENDED, 2)
    assert "the process that worked on it ended before it was done" in crashed.complaints[0]
    assert (large.state, large.exit_code) == (State.ENDED, 2)
    assert large.objects[0]["error"]["code"] == "too long"
    assert "took longer than 0.5 seconds" in large.objects[0]["error"]["text"]
    assert kite.state is State.DONE


def test_where_no_process_may_be_started_a_limit_is_refused_in_words(monkeypatch: pytest.MonkeyPatch):
    Path("kite.seams").write_text(KITE)
    me = processes.multiprocessing.current_process()
    monkeypatch.setitem(me._config, "daemon", True)  # type: ignore[attr-defined]  # as a cluster's worker is
    with ThreadPoolExecutor(1) as threads:
        (done,) = check_many(["kite.seams"], threads, limit_s=5)
    assert "distributed.worker.daemon" in done.complaints[0]


def test_jobs_and_results_are_plain_values_that_travel():
    Path("kite.seams").write_text(KITE)
    with ThreadPoolExecutor(1) as threads:
        (done,) = check_many(["kite.seams"], threads, words=Words.FULL)
    assert pickle.loads(pickle.dumps(done)) == done
    assert json.loads(json.dumps(done.objects)) == [*done.objects]


@pytest.mark.parametrize(
    "wrong", [{"jobs": 0}, {"jobs": 257}, {"limit_s": 0}, {"limit_s": float("nan")}, {"ahead": -1}, {"size": "big"}]
)
def test_a_call_that_cannot_be_used_is_refused_before_anything_is_done(wrong: dict[str, Any]):
    with pytest.raises(OptionError):
        seamwright.check_many(["kite.seams"], **wrong)


# -- check, a folder -------------------------------------------------------------------------------------------


def test_a_folder_is_told_in_order_of_names_and_summed_up(
    blocks: Path, in_threads: None, capsys: pytest.CaptureFixture[str]
):
    picture = blocks / "kite-plan.svg"
    assert main(["check", "blocks/kite.seams", "--picture", str(picture)]) == 0
    (blocks / "link.seams").symlink_to("kite.seams")
    (blocks / "leads-round").symlink_to(blocks.resolve(), target_is_directory=True)
    (blocks / "nowhere.svg").symlink_to("gone.svg")
    capsys.readouterr()
    assert main(["check", "blocks", "--jobs", "3"]) == 2
    told, wrong = capsys.readouterr()
    lines = [line for line in told.splitlines() if not line.startswith("  ")]
    assert [line.partition(": ")[0] for line in lines] == [
        "blocks/harbour/buoys/kite.seams",
        "blocks/kite.seams",
        "blocks/link.seams",
        "blocks/Reef.seams",
        "blocks/split.SEAMS",
        "7 drawings",
    ]
    assert lines[1] == "blocks/kite.seams: kite, 6 x 6 in. Can be sewn: 1 foundation."
    assert told.splitlines()[-6:] == [
        "7 drawings: 4 can be sewn, 1 cannot be sewn, 2 could not be read or used.",
        "  Could not be read or used: blocks/harbour/bad.svg, blocks/nowhere.svg.",
        "  Cannot be sewn: blocks/Reef.seams.",
        "  Left out: 1 quilt (blocks/evening.setting); a quilt is taken by itself.",
        "  Left out: 1 picture (blocks/kite-plan.svg); made by seamwright, it shows a block and is none.",
        "  Left out: 1 link to a folder (blocks/leads-round); name it by itself to have its drawings looked at.",
    ]
    assert [line.split(": ")[1] for line in wrong.splitlines()] == ["blocks/harbour/bad.svg", "blocks/nowhere.svg"]


def test_a_mended_drawing_is_a_drawing_though_it_carries_our_mark(
    in_threads: None, capsys: pytest.CaptureFixture[str]
):
    lines = "M2,0V4 M0,4H4 M4,6V2 M6,2H2 M0,0H6V6H0Z"
    head = '<svg xmlns="http://www.w3.org/2000/svg" baseProfile="full" width="6in" height="6in" viewBox="0 0 6 6">'
    Path("reef.svg").write_text(f'{head}<path d="{lines}" fill="none" stroke="black"/></svg>')
    Path("reef.seams").write_text(STUCK)
    Path("out").mkdir()
    for drawing, out in (("reef.svg", "in-place.svg"), ("reef.seams", "anew.svg")):
        assert main(["check", drawing, "--mend", "1", "-o", f"out/{out}"]) == 0
    assert "baseProfile" in Path("out/in-place.svg").read_text()
    assert "made by seamwright" in Path("out/anew.svg").read_text()
    capsys.readouterr()
    assert main(["check", "out"]) == 0
    assert "2 drawings: 2 can be sewn." in capsys.readouterr().out


def test_lines_are_what_json_gives_of_each_drawing_in_the_same_order(
    blocks: Path, in_threads: None, capsys: pytest.CaptureFixture[str]
):
    assert main(["check", "blocks@8in", "--lines", "--jobs", "2", "--units", "metric"]) == 2
    told, wrong = capsys.readouterr()
    found = [json.loads(line) for line in told.splitlines()]
    names = ["harbour/bad.svg", "harbour/buoys/kite.seams", "kite.seams", "Reef.seams", "split.SEAMS"]
    words = ["check", "--json", "--units", "metric"]
    assert found == [alone([*words, f"blocks/{name}@8in"], capsys)[0] for name in names]
    assert wrong == "Left out: 1 quilt (blocks/evening.setting); a quilt is taken by itself.\n"
    main(["check", "blocks@8in", "--json", "--units", "metric"])
    assert json.loads(capsys.readouterr().out) == found


def test_drawings_named_one_by_one_are_told_as_without_jobs(
    blocks: Path, in_threads: None, capsys: pytest.CaptureFixture[str]
):
    drawings = [f"blocks/{name}" for name in ("Reef.seams", "harbour/bad.svg", "kite.seams@9in")]
    assert main(["check", *drawings]) == 2
    plainly = capsys.readouterr()
    assert main(["check", *drawings, "--jobs", "2"]) == 2
    assert capsys.readouterr() == plainly


def test_every_colourway_asked_for_has_its_line(in_threads: None, capsys: pytest.CaptureFixture[str]):
    lights = str(Path(__file__).parent.parent / "designs" / "compass-star.seams")
    assert main(["check", lights, "--colourway", "all", "--lines"]) == 0
    found = [json.loads(line) for line in capsys.readouterr().out.splitlines()]
    assert len(found) > 1
    assert found == alone(["check", lights, "--colourway", "all", "--json"], capsys)


def test_a_folder_that_may_not_be_read_is_told_and_the_rest_is_done(
    blocks: Path, in_threads: None, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
):
    real = os.scandir

    def refusing(path: Any) -> Any:
        if str(path).endswith("harbour"):
            raise PermissionError(13, "Permission denied")
        return real(path)

    monkeypatch.setattr("os.scandir", refusing)
    assert main(["check", "blocks"]) == 2
    told, wrong = capsys.readouterr()
    assert "blocks/harbour: the folder cannot be read (Permission denied)." in wrong
    assert "3 drawings: 2 can be sewn, 1 cannot be sewn." in told


@pytest.mark.parametrize(
    ("words", "mend"),
    [
        (["check", "empty"], "empty holds no drawing. Name a folder with files that end in .svg or .seams."),
        (["check", "blocks", "--jobs", "0"], "no number from 1 to 256"),
        (["check", "blocks", "--jobs", "many"], "no number from 1 to 256"),
        (["check", "blocks", "--limit", "-1"], "Give one above 0, such as 60"),
        (["check", "blocks", "--limit", "nan"], "Give one above 0, such as 60"),
        (["check", "blocks", "--lines", "--json"], "Take --lines"),
        (["check", "blocks", "--picture", "x.svg"], "--picture is for one drawing by itself"),
        (["check", "blocks", "blocks/evening.setting"], "Take a quilt by itself"),
        (["foundations", "blocks"], "such as -o prints"),
        (["foundations", "blocks", "-o", "all.pdf"], "each drawing has a PDF of its own here"),
        (["foundations", "blocks", "-o", "prints", "--json"], "--lines tells of many"),
        (["foundations", "blocks", "-o", "prints", "--files", "x"], "--files"),
        (["foundations", "blocks", "-o", "blocks/kite.seams/x"], "Give the name of a folder"),
        (["cutting", "blocks"], "it is a folder, not a drawing"),
        (["cutting", "blocks", "--jobs", "2"], "of seamwright check and of seamwright foundations"),
    ],
)
def test_a_slip_is_told_before_any_work(
    words: list[str], mend: str, blocks: Path, in_threads: None, capsys: pytest.CaptureFixture[str]
):
    Path("empty").mkdir()
    assert main(words) == 2
    told, wrong = capsys.readouterr()
    assert mend in wrong
    assert not told
    assert not Path("prints").exists()


# -- foundations, a folder -------------------------------------------------------------------------------------


def prints() -> list[str]:
    return sorted(path.relative_to("prints").as_posix() for path in Path("prints").rglob("*") if path.is_file())


def test_each_drawing_has_the_pdf_that_it_would_have_alone_and_folders_are_mirrored(
    blocks: Path, in_threads: None, capsys: pytest.CaptureFixture[str]
):
    assert main(["foundations", "blocks", "-o", "prints", "--jobs", "2", "--paper", "a4"]) == 2
    told, wrong = capsys.readouterr()
    assert prints() == [RECORD, "harbour/buoys/kite.pdf", "kite.pdf", "split.pdf"]
    assert "prints/harbour/buoys/kite.pdf: 1 sheet, a4.\n  kite, 6 x 6 in finished, plan " in told
    assert "5 drawings: 3 printed, 1 cannot be sewn, 1 could not be read or used.\n" in told
    assert told.splitlines()[-1].startswith("Next: print at 100 %")
    assert [line.split(": ")[1] for line in wrong.splitlines()] == ["blocks/harbour/bad.svg", "blocks/Reef.seams"]
    for name in ("harbour/buoys/kite", "kite"):
        assert main(["foundations", f"blocks/{name}.seams", "-o", "alone.pdf", "--paper", "a4"]) == 0
        assert Path(f"prints/{name}.pdf").read_bytes() == Path("alone.pdf").read_bytes()
        Path("alone.pdf").unlink()


def test_a_second_run_makes_only_what_is_missing_changed_or_asked_for_in_another_way(
    blocks: Path, in_threads: None, capsys: pytest.CaptureFixture[str]
):
    def run(*more: str) -> list[str]:
        """Which drawings were printed, not left as they were."""
        code = main(["foundations", "blocks", "-o", "prints", "--lines", *more])
        found = [json.loads(line) for line in capsys.readouterr().out.splitlines()]
        assert code == 2
        return [one["file"].removeprefix("prints/") for one in found if "file" in one and "sheets" in one]

    every = ["harbour/buoys/kite.pdf", "kite.pdf", "split.pdf"]
    assert run() == every
    whole = Path("prints/kite.pdf").read_bytes()
    assert run() == []
    Path("prints/kite.pdf").unlink()
    assert run() == ["kite.pdf"]
    (blocks / "split.SEAMS").write_text(SPLIT.replace("0, 0 to 4, 4", "0, 4 to 4, 0"))
    assert run() == ["split.pdf"]
    assert run("--allowance", "1/2in") == every
    assert run() == every
    assert Path("prints/kite.pdf").read_bytes() == whole
    # A run that was killed in the middle of a line, and a file that was changed by somebody.
    record = Path("prints", RECORD)
    record.write_bytes(record.read_bytes()[:-20])
    Path("prints/kite.pdf").write_bytes(whole + b"\n")
    assert run() == ["kite.pdf", "split.pdf"]
    assert run() == []
    assert run("--force") == every


def test_what_is_there_of_somebody_else_is_kept_without_force_and_tells_so(
    in_threads: None, capsys: pytest.CaptureFixture[str]
):
    for name in ("kite", "split"):
        Path(f"{name}.seams").write_text(KITE)
    Path("prints").mkdir()
    Path("prints/kite.pdf").write_bytes(b"her tax return")
    words = ["foundations", "kite.seams", "split.seams", "-o", "prints", "--jobs", "1"]
    assert main(words) == 2
    assert "kite.pdf is there already and was not made by seamwright" in capsys.readouterr().err
    assert Path("prints/kite.pdf").read_bytes() == b"her tax return"
    assert Path("prints/split.pdf").read_bytes().startswith(b"%PDF")
    assert main([*words, "--force"]) == 0
    assert Path("prints/kite.pdf").read_bytes().startswith(b"%PDF")


@pytest.mark.parametrize(
    ("names", "called"),
    [
        (["kite.svg", "reef.seams"], ["kite.pdf", "reef.pdf"]),
        (["kite.svg", "kite.seams", "b/kite.svg"], ["kite.svg.pdf", "kite.seams.pdf", "b/kite.pdf"]),
        (["Kite.svg", "kite.seams"], ["Kite.svg.pdf", "kite.seams.pdf"]),
        (["kite.v2.svg", "kite.svg"], ["kite.v2.pdf", "kite.pdf"]),
        (["kite.svg", "KITE.SVG"], None),
        (["kite.svg", "kite.seams", "kite.svg.seams"], None),
    ],
)
def test_pdfs_are_called_like_their_drawings_and_apart_where_those_meet(names: list[str], called: list[str] | None):
    found = [Found(f"blocks/{name}", name) for name in names]
    if called is not None:
        assert pdf_names(found) == called
        return
    with pytest.raises(OptionError, match="would both be printed as"):
        pdf_names(found)


def test_a_disk_that_is_full_ends_the_run_and_leaves_whole_files(monkeypatch: pytest.MonkeyPatch):
    for name in "abc":
        Path(f"{name}.seams").write_text(SPLIT)
    real, written = os.fsync, []

    def full(handle: int) -> None:
        written.append(handle)
        if len(written) > 1:
            raise OSError(28, "No space left on device")
        real(handle)

    monkeypatch.setattr("os.fsync", full)
    with ThreadPoolExecutor(1) as threads:
        results = print_many(["a.seams", "b.seams", "c.seams"], "prints", threads)
        assert next(results).file == "prints/a.pdf"
        with pytest.raises(FileError, match="the disk is full"):
            list(results)
    assert sorted(path.name for path in Path("prints").iterdir()) == [RECORD, "a.pdf"]


# -- processes -------------------------------------------------------------------------------------------------


def command(*words: str) -> list[str]:
    return [sys.executable, "-m", "seamwright", *words]


def living(group: int) -> list[str]:
    """Processes of a group that are not dead already and only not buried."""
    found = []
    for path in Path("/proc").glob("[0-9]*/stat"):
        with suppress(OSError):
            state, _, its_group = path.read_text().rpartition(")")[2].split()[:3]
            found += [path.parent.name] * (int(its_group) == group and state not in "ZX")
    return found


def test_what_is_told_does_not_depend_on_the_number_of_jobs(blocks: Path, capsys: pytest.CaptureFixture[str]):
    assert main(["check", "blocks", "--jobs", "1"]) == 2
    two = subprocess.run(command("check", "blocks", "--jobs", "2"), capture_output=True, text=True, check=False)
    assert (two.stdout, two.stderr) == capsys.readouterr()
    assert two.returncode == 2


def test_ctrl_c_ends_all_processes_leaves_no_half_file_and_the_next_run_goes_on(blocks: Path):
    for number in range(60):
        (blocks / f"z{number:02}.seams").write_text(KITE)
    words = command("foundations", "blocks", "-o", "prints", "--jobs", "2", "--lines")
    with subprocess.Popen(
        words, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True, start_new_session=True
    ) as run:
        assert run.stdout is not None
        assert run.stderr is not None
        run.stdout.readline()
        run.stdout.readline()
        began = time.monotonic()
        os.killpg(run.pid, signal.SIGINT)  # as a terminal does: to all of them
        wrong = run.stderr.read()
        assert run.wait(30) == 130
    assert time.monotonic() - began < 20
    assert "of 65 drawings were not looked at, no file is half-written" in wrong
    assert "the same command again goes on from here" in wrong
    assert "Traceback" not in wrong
    until = time.monotonic() + 20
    while living(run.pid):
        assert time.monotonic() < until
        time.sleep(0.05)
    made = [name for name in prints() if name != RECORD]
    assert all(Path("prints", name).read_bytes().rstrip().endswith(b"%%EOF") for name in made)
    assert {Path(name).suffix for name in made} <= {".pdf"}


def test_a_worker_that_is_killed_from_outside_costs_nothing_but_its_drawing():
    Path("kite.seams").write_text(KITE)
    with Processes(1, modules=()) as pool:
        results = check_many(["kite.seams"] * 3, pool, ahead=1)
        assert next(results).state is State.DONE
        os.kill(pool.submit(os.getpid).result(), signal.SIGKILL)
        assert [done.state for done in results] == [State.DONE, State.DONE]


def test_results_keep_their_fields():
    """Scripts rely on them."""
    done = Done("kite.svg", State.DONE, 0)
    assert replace(done, exit_code=1).exit_code == 1
    assert {state.value for state in State} == {"done", "curved", "stuck", "unread", "ended", "fault"}
