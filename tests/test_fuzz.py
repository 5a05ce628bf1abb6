"""Readers under a fuzzer that follows which way inputs go: a drawing or a sentence comes of any bytes.

The inputs are the same in each run. `python tests/fuzz/run.py --seconds 3600` goes on for as long as it is told to.
"""

from __future__ import annotations

import importlib.util
import os
import platform
import socket
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fuzz.built import document
from fuzz.seeds import TEXTS
from fuzz.targets import TARGETS
from fuzz.watch import judged
from seamwright.errors import DrawingError, ProofError, fail

FOUND = Path(__file__).parent / "fuzz" / "found"
HOUR_S, MOST_INPUTS = 3600, 10_000_000


def needs_atheris() -> None:
    """Skips where there is no wheel of the fuzzer; where there is one it has to be there."""
    if importlib.util.find_spec("atheris") is None:
        wheel = sys.platform == "linux" and platform.machine() == "x86_64"
        if wheel and os.environ.get("CI"):
            pytest.fail("atheris is missing: pip install -e '.[test]'")
        pytest.skip("atheris, the fuzzer, is not installed; it comes as a wheel for Linux on x86-64 alone")


def no_findings(name: str, folder: Path, **how: int) -> None:
    from fuzz.run import fuzz

    ran = fuzz(name, folder, **how)
    assert ran.inputs >= how.get("runs", 1)
    assert ran.branches > 100, "the fuzzer does not see our code"
    assert ran.kept > 10, "no input goes another way than the first"
    assert not ran.findings, "\n".join(f"{path.read_bytes()!r}\n{told}" for path, told in ran.findings)


@pytest.mark.parametrize("name", TARGETS)
def test_a_few_seconds_of_fuzzing_find_nothing(name: str, tmp_path: Path) -> None:
    needs_atheris()
    no_findings(name, tmp_path, runs=TARGETS[name].quick)


@pytest.mark.long
@pytest.mark.parametrize("name", TARGETS)
def test_an_hour_of_fuzzing_finds_nothing(name: str, tmp_path: Path) -> None:
    needs_atheris()
    share = TARGETS[name].share
    no_findings(name, tmp_path, runs=int(MOST_INPUTS * share), seconds=int(HOUR_S * share), seed=2)


@pytest.mark.parametrize("path", sorted(FOUND.rglob("*.bin")), ids=lambda path: f"{path.parent.name}-{path.stem}")
def test_what_was_found_once_stays_mended(path: Path) -> None:
    finding = judged(TARGETS[path.parent.name].read, path.read_bytes())
    assert finding is None, finding.told


# -- the watch itself ------------------------------------------------------------------------------------------


def _raises(error: Exception) -> Callable[[bytes], None]:
    def read(_: bytes) -> None:
        raise error

    return read


def _turns_for_ever(_: bytes) -> None:
    while True:
        pass


@pytest.mark.parametrize(
    ("read", "sign"),
    [
        (_raises(KeyError("seam")), "KeyError"),
        (_raises(MemoryError()), "MemoryError"),
        (_raises(RecursionError()), "RecursionError"),
        (_raises(fail(ProofError, "proof", "the plan is wrong", "Report it")), "AssertionError"),
        (_raises(fail(DrawingError, "x", "the name is \x1b[2J", "Change it")), "AssertionError"),
        (_raises(fail(DrawingError, "x", "it is bad", "")), "AssertionError"),
        (_turns_for_ever, "TookForEver"),
        (lambda _: open("/etc/hostname").close(), "opened open"),
        (lambda _: Path("/nowhere").unlink(missing_ok=True), "opened os.remove"),
        (lambda _: os.listdir("/"), "opened os.listdir"),
        (lambda _: socket.socket().close(), "opened socket.__new__"),
        (lambda _: subprocess.run(["true"]), "opened subprocess.Popen"),
    ],
)
def test_what_no_reader_may_do_is_found(read: Callable[[bytes], object], sign: str) -> None:
    finding = judged(read, b"", 0.3)
    assert finding is not None
    assert finding.sign.startswith(sign)


def test_a_refusal_in_a_sentence_and_a_late_import_are_no_findings() -> None:
    assert judged(_raises(fail(DrawingError, "x", "it is bad", "Draw it again")), b"") is None
    sys.modules.pop("colorsys", None)
    assert judged(lambda _: __import__("colorsys"), b"") is None


def test_a_reader_that_fills_the_memory_is_found(tmp_path: Path) -> None:
    """In a process of its own, with the bound that the fuzzer has."""
    code = (
        "from fuzz.again import bound_memory\nfrom fuzz.watch import judged\nbound_memory()\n"
        "print(judged(lambda data: data * 2_000_000_000, b'x').sign)"
    )
    from fuzz.again import environment

    done = subprocess.run([sys.executable, "-c", code], env=environment(), capture_output=True, text=True)
    assert done.stdout.startswith("MemoryError"), done.stderr


# -- the same without the fuzzer, anywhere ---------------------------------------------------------------------

_words = st.sampled_from(sorted({word for texts in TEXTS.values() for text in texts for word in text.split(b" ")}))
_text = st.lists(st.one_of(_words, st.binary(max_size=6)), max_size=30).map(b" ".join)


@given(st.binary(max_size=200))
@settings(max_examples=60)
def test_any_choices_are_a_drawing_or_a_sentence(data: bytes) -> None:
    finding = judged(TARGETS["svg"].read, document(data))
    assert finding is None, finding.told


@pytest.mark.parametrize("name", ["seams", "palette", "setting"])
@given(text=_text)
@settings(max_examples=60)
def test_any_words_in_a_text_are_read_or_refused(name: str, text: bytes) -> None:
    kind = {"seams": b"block", "palette": b"palette", "setting": b"quilt"}[name]
    finding = judged(TARGETS[name].read, b"seamwright " + kind + b" 1\n" + text)
    assert finding is None, finding.told


@given(data=st.binary(max_size=40))
@settings(max_examples=60)
def test_any_part_and_any_option_is_read_or_refused(data: bytes) -> None:
    for name in ("parts", "options"):
        finding = judged(TARGETS[name].read, data)
        assert finding is None, finding.told
