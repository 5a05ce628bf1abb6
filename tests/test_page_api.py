"""Requests made from the page's own description: nothing breaks, answers are what is described, no file elsewhere
changes.

The description is the application's (OpenAPI 3.1); schemathesis makes requests from it, right ones and wrong ones.
Half of them carry one of our own drawings, so that more than the reader of texts is reached.
"""

from __future__ import annotations

import hashlib
import shutil
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import hypothesis.strategies as st
import pytest
import schemathesis
from hypothesis import HealthCheck, Phase, given, settings
from schemathesis import GenerationMode
from schemathesis.specs.openapi.checks import (
    content_type_conformance,
    response_schema_conformance,
    status_code_conformance,
)

from support.asking import BASE, Asking, asking
from support.browser import DESIGNS

CHECKS = [status_code_conformance, content_type_conformance, response_schema_conformance]
OURS = ("kite.svg", "breakwater.seams", "dusk.palette", "kites-star.setting", "spinnaker.seams")
TEXTS = [(DESIGNS / name).read_text() for name in OURS]
SMALL = "seamwright block 1\nsize 6 in\ngrid 8\nseam 0, 8 to 8, 0\nseam 0, 2 to 4, 4\n"


@pytest.fixture
def inside(tmp_path: Path) -> Iterator[Asking]:
    """A folder with designs of every kind; beside it lies what must stay as it is."""
    folder = tmp_path / "designs"
    folder.mkdir()
    for name in OURS:
        shutil.copy(DESIGNS / name, folder / name)
    (tmp_path / "beside.seams").write_text(SMALL)
    with asking(folder) as made:
        yield made


def tree(folder: Path, but: Path) -> dict[str, str]:
    """All files of a folder by their content, without those of one folder in it."""
    return {
        str(path): hashlib.sha256(path.read_bytes()).hexdigest() if path.is_file() else "folder"
        for path in folder.rglob("*")
        if not path.is_relative_to(but)
    }


def requests(operation: Any) -> st.SearchStrategy[Any]:
    """Requests to one operation: as described and not, with texts and names of ours and with any."""

    @st.composite
    def made(draw: st.DrawFn) -> Any:
        modes = [GenerationMode.POSITIVE, GenerationMode.NEGATIVE]
        mode = draw(st.sampled_from(modes)) if operation.body or operation.path_parameters else modes[0]
        case = draw(operation.as_strategy(generation_mode=mode))
        if isinstance(case.body, dict) and draw(st.booleans()):
            if "text" in case.body:
                case.body["text"] = draw(st.sampled_from([SMALL, *TEXTS]))
            if "name" in case.body:
                case.body["name"] = draw(st.sampled_from(OURS))
        if case.path_parameters and "name" in case.path_parameters and draw(st.booleans()):
            case.path_parameters["name"] = draw(st.sampled_from(OURS))
        return case

    return made()


def fuzz(inside: Asking, examples: int) -> dict[str, set[int]]:
    """Asks everything that is described; the statuses of each operation's answers."""
    schema = schemathesis.openapi.from_dict(inside.get("/api/openapi.json").json())
    seen: dict[str, set[int]] = {}
    for result in schema.get_all_operations():
        operation = result.ok()
        seen[operation.label] = asked_often(inside, operation, examples)
    return seen


def asked_often(inside: Asking, operation: Any, examples: int) -> set[int]:
    """The statuses of the answers to many requests of one kind, each held against the description."""
    statuses: set[int] = set()

    @settings(
        max_examples=examples,
        derandomize=True,
        deadline=None,
        database=None,
        phases=[Phase.generate],
        suppress_health_check=list(HealthCheck),
    )
    @given(case=requests(operation))
    def ask(case: Any) -> None:
        asked = case.as_transport_kwargs(BASE)
        more = {key: asked[key] for key in ("params", "json") if asked.get(key) is not None}
        more["headers"] = dict(asked.get("headers") or {})
        if asked.get("data") is not None:
            more["content"] = asked["data"]
        answer = inside.request(asked["method"], asked["url"], **more)
        statuses.add(answer.status_code)
        told = f"{asked['method']} {asked['url']} {str(more)[:3000]}\n{answer.status_code} {answer.text[:600]}"
        assert answer.status_code < 500, told
        assert '"code":"internal"' not in answer.text, told
        case.validate_response(answer, checks=CHECKS)

    ask()
    return statuses


@pytest.mark.parametrize("examples", [6, pytest.param(400, marks=pytest.mark.long)])
def test_whatever_is_asked_nothing_breaks_and_nothing_elsewhere_changes(
    inside: Asking, tmp_path: Path, examples: int
) -> None:
    folder = tmp_path / "designs"
    before = tree(tmp_path, folder)
    seen = fuzz(inside, examples)
    assert tree(tmp_path, folder) == before
    assert len(seen) >= 6
    # Requests reached the work, not only the door.
    assert all(
        200 in statuses for label, statuses in seen.items() if label in ("POST /api/sketch", "POST /api/verdict")
    )
    allowed = {".seams", ".svg", ".setting", ".palette"}
    assert all(path.suffix in allowed for path in folder.iterdir() if path.is_file())


def test_a_page_older_than_the_program_is_told_to_be_loaded_anew(inside: Asking) -> None:
    answer = inside.post("/api/verdict", {"text": SMALL, "long_gone": 1})
    assert answer.status_code == 422
    (fault,) = answer.json()["error"]["faults"]
    assert fault["mend"].startswith("Load this page anew")
    assert "body.name" in fault["what"] and "body.long_gone" in fault["what"]
