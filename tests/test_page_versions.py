"""Older versions: what was kept is there whatever cut the keeping short, and undo leads back through it."""

from __future__ import annotations

import hashlib
import os
import random
import signal
import subprocess
import sys
import time
from collections.abc import Sequence
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from seamwright.page.keeping import Keeper, Step
from seamwright.page.versions import MOST, Chain, Entry, Versions, chain_of, hash_of, latest, shortened

NAME = "kite.seams"
HEAD = "seamwright block 1\nname kite\nsize 8 in\n"


def text(number: int) -> str:
    return f"{HEAD}# {number}\nseam 0, 0 to 8, 8\n"


def walk(keeper: Keeper, numbers: Sequence[int], base: str = "", way: str = "change") -> str:
    """Saves texts one after the other; the hash of the last."""
    for number in numbers:
        base = keeper.save(NAME, [Step(text(number), way)], base).hash
    return base


def numbers_of(keeper: Keeper, hashes: Sequence[str]) -> list[int]:
    return [int(keeper.version(NAME, h).split("# ")[1].split()[0]) for h in hashes]


def test_a_content_is_named_by_its_sha_256(tmp_path: Path) -> None:
    # FIPS 180-4, example "abc".
    assert Versions(tmp_path).keep(b"abc") == "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"


def test_undo_and_redo_are_there_again_after_a_restart(tmp_path: Path) -> None:
    keeper = Keeper(tmp_path)
    base = walk(keeper, [1, 2, 3, 4])
    base = walk(keeper, [3, 2], base, "undo")
    walk(keeper, [3], base, "redo")
    held = Keeper(tmp_path).read(NAME)
    assert numbers_of(keeper, held.chain.past) == [1, 2]
    assert numbers_of(keeper, [held.chain.now]) == [3]
    assert numbers_of(keeper, held.chain.ahead) == [4]


def test_a_branch_that_was_undone_is_still_among_the_versions(tmp_path: Path) -> None:
    keeper = Keeper(tmp_path)
    base = walk(keeper, [1, 2, 3])
    base = walk(keeper, [2, 1], base, "undo")
    walk(keeper, [4], base)
    assert numbers_of(keeper, keeper.read(NAME).chain.past) == [1]
    assert sorted(numbers_of(keeper, [entry.hash for entry in keeper.versions_of(NAME)])) == [1, 2, 3, 4]


def test_the_last_versions_are_kept_and_older_contents_go(tmp_path: Path) -> None:
    keeper = Keeper(tmp_path)
    walk(keeper, range(3 * MOST))
    kept = numbers_of(keeper, [entry.hash for entry in keeper.versions_of(NAME)])
    assert kept == list(range(3 * MOST - 1, 2 * MOST - 1, -1))
    assert numbers_of(keeper, keeper.read(NAME).chain.past)[-MOST + 1 :] == list(range(2 * MOST, 3 * MOST - 1))
    contents = [p for p in (tmp_path / ".seamwright/versions").iterdir() if len(p.name) == 64]
    assert len(contents) <= 2 * MOST + 1


def test_a_content_that_another_design_names_stays(tmp_path: Path) -> None:
    keeper = Keeper(tmp_path)
    walk(keeper, [0])
    copy = keeper.create("copy", ".seams", text(0), "copy", NAME)
    walk(keeper, range(1, 3 * MOST), keeper.hash(NAME))
    assert keeper.version(copy.name, hash_of(text(0).encode())) == text(0)


def test_what_another_program_wrote_is_a_step_that_undo_takes_back(tmp_path: Path) -> None:
    keeper = Keeper(tmp_path)
    base = walk(keeper, [1, 2])
    (tmp_path / NAME).write_text(text(9))
    held = keeper.read(NAME)
    assert held.hash != base
    assert numbers_of(keeper, held.chain.past) == [1, 2]
    walk(keeper, [3], held.hash)
    assert numbers_of(keeper, keeper.read(NAME).chain.past) == [1, 2, 9]


def test_a_damaged_content_is_no_version(tmp_path: Path) -> None:
    keeper = Keeper(tmp_path)
    walk(keeper, [1, 2])
    name = hash_of(text(1).encode())
    (tmp_path / ".seamwright/versions" / name).write_bytes(b"something else")
    assert keeper.versions.content(name) is None
    with pytest.raises(Exception, match="not kept any more"):
        keeper.version(NAME, name)


def test_a_journal_cut_at_any_byte_tells_all_before_and_takes_more(tmp_path: Path) -> None:
    keeper = Keeper(tmp_path)
    walk(keeper, [1, 2, 3])
    journal = tmp_path / ".seamwright/versions" / f"{NAME}.journal"
    whole = journal.read_bytes()
    ends = [k + 1 for k, byte in enumerate(whole) if byte == 10]
    for cut in range(len(whole) + 1):
        journal.write_bytes(whole[:cut])
        # A line without its end is whole: it is JSON only with its last bracket.
        lines = sum(end <= cut + 1 for end in ends)
        assert [entry.n for entry in keeper.versions.entries(NAME)] == list(range(1, lines + 1))
        keeper.versions.note(NAME, Entry(0, "", hash_of(b"more"), "", "change"))
        assert len(keeper.versions.entries(NAME)) == lines + 1
        assert keeper.read(NAME).text == text(3)


WAYS = st.lists(
    st.tuples(st.sampled_from(["change", "undo", "redo", "elsewhere", "aside"]), st.integers(0, 5)), max_size=40
)


def told(steps: Sequence[tuple[str, int]]) -> list[Entry]:
    """Entries as the page makes them: undo and redo go where undo and redo lead."""
    entries: list[Entry] = []
    for way, number in steps:
        chain = chain_of(entries)
        there = {"undo": chain.past, "redo": chain.ahead}.get(way)
        if there == ():
            continue
        name = there[-1] if there else hashlib.sha256(bytes([number])).hexdigest()
        entries.append(Entry(len(entries) + 1, "2026-11-30T00:00:00+00:00", name, chain.now, way))
    return entries


@settings(max_examples=60)
@given(WAYS)
def test_undo_then_redo_leads_back_where_it_was(steps: Sequence[tuple[str, int]]) -> None:
    entries = told(steps)
    chain = chain_of(entries)
    if chain.past:
        back = told([*steps, ("undo", 0), ("redo", 0)])
        assert chain_of(back) == chain


@settings(max_examples=60)
@given(WAYS)
def test_a_journal_made_shorter_tells_the_same(steps: Sequence[tuple[str, int]]) -> None:
    entries = told(steps)
    short = shortened(entries)
    assert chain_of(short) == chain_of(entries)
    assert {e.hash for e in latest(short)} == {e.hash for e in latest(entries)}
    assert shortened(short) == short


def test_a_chain_of_nothing_is_empty() -> None:
    assert chain_of(()) == Chain()


WRITER = """
import sys
from pathlib import Path
from seamwright.page.keeping import Keeper, Step
keeper, base = Keeper(Path(sys.argv[1])), sys.argv[2]
number = int(sys.argv[3])
print("ready", flush=True)
while True:
    number += 1
    text = f"seamwright block 1\\nname kite\\nsize 8 in\\n# {number}\\nseam 0, 0 to 8, 8\\n"
    base = keeper.save("kite.seams", [Step(text)], base).hash
    print(number, flush=True)
"""


@pytest.mark.parametrize("rounds", [3, pytest.param(60, marks=pytest.mark.long)])
def test_a_writer_killed_at_any_moment_loses_nothing_that_it_had_saved(tmp_path: Path, rounds: int) -> None:
    random_moments = random.Random(7)
    keeper, base, number = Keeper(tmp_path), "", 0
    for _ in range(rounds):
        command = [sys.executable, "-c", WRITER, str(tmp_path), base, str(number)]
        with subprocess.Popen(command, stdout=subprocess.PIPE, text=True) as writer:
            assert writer.stdout is not None
            assert writer.stdout.readline() == "ready\n"
            for _ in range(random_moments.randrange(1, 12)):
                writer.stdout.readline()
            # From here to the kill the writer goes on: it dies wherever it happens to be.
            for _ in range(random_moments.randrange(3000)):
                pass
            os.kill(writer.pid, signal.SIGKILL)
            said = [int(line) for line in writer.stdout.read().split()] or [number]
        held = Keeper(tmp_path).read(NAME)
        found = int(held.text.split("# ")[1].split()[0])
        assert found >= said[-1]
        past = numbers_of(keeper, held.chain.past)
        assert past == list(range(found - len(past), found))
        assert len(past) >= min(found - 1, MOST - 1)
        base, number = held.hash, found


def test_what_a_killed_writer_left_half_written_goes(tmp_path: Path) -> None:
    keeper = Keeper(tmp_path)
    walk(keeper, [1])
    (tmp_path / "mine.part").write_text("hers")
    for folder in (tmp_path, tmp_path / ".seamwright/versions"):
        for name, age in ((".kite.seams.a1b2c3d4.part", 600), (".kite.seams.zzzzzzzz.part", 0)):
            (folder / name).write_text("half")
            os.utime(folder / name, (time.time() - age,) * 2)
    keeper.clear_away()
    left = sorted(p.name for p in tmp_path.rglob("*.part"))
    assert left == [".kite.seams.zzzzzzzz.part", ".kite.seams.zzzzzzzz.part", "mine.part"]
