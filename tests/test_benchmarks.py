"""The one command that measures runs: every figure, growth and memory, once and on little."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

sys.path.append(str(Path(__file__).parent / "benchmarks"))

from measuring import side_by_side
from speed import FIGURES


def lines_of(capsys: pytest.CaptureFixture[str], *words: str) -> list[list[str]]:
    """Rows of the tables that the command prints, without their rules."""
    from run import main

    main(["--small", *words])
    rows = [line.strip("| ").split(" | ") for line in capsys.readouterr().out.splitlines() if line[:1] == "|"]
    return [row for row in rows if set(row[0]) != {"-"}]


@pytest.mark.parametrize("name", FIGURES)
def test_every_figure_is_measured_against_its_floor(name: str, capsys: pytest.CaptureFixture[str]):
    head, row = lines_of(capsys, name)
    assert head[:3] == ["what", "against", "ratio"]
    assert float(row[2]) > 0 and row[-1].endswith(" ms")


def test_growth_is_told_for_every_stage_and_for_pictures_of_quilts(capsys: pytest.CaptureFixture[str]):
    from growth import exponent
    from stages import STAGES

    told = {row[0]: row[1:] for row in lines_of(capsys, "--growth")}
    assert set(told) == {"stage", *STAGES, "quilt", "picture"}
    assert all(cell.endswith(" s") for name in STAGES for cell in told[name][:2])
    assert exponent((10, 100, 1_000), (0.01, 1.0, 100.0)) == "n^2.00"


def test_memory_is_told_beside_a_bare_import(capsys: pytest.CaptureFixture[str]):
    _, bare, stage = lines_of(capsys, "--memory")
    assert bare[1].endswith(" MB") and stage[0] == "tidying" and stage[1].endswith(" times")


def test_a_ratio_is_the_median_of_rounds_taken_in_turn():
    order: list[str] = []
    ratio, _ = side_by_side(lambda: order.append("ours"), lambda: order.append("floor"), rounds=3)
    assert order == ["ours", "floor"] * 4 and ratio > 0  # once beforehand


def test_a_figure_that_is_not_there_is_refused(capsys: pytest.CaptureFixture[str]):
    with pytest.raises(SystemExit):
        lines_of(capsys, "wind")
    assert "there is no figure wind" in capsys.readouterr().err
