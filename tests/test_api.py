"""The Python calls: the job in five lines, options from three places, nothing unproven handed out."""

from __future__ import annotations

from dataclasses import replace
from importlib import import_module
from pathlib import Path

import pytest

import seamwright
from seamwright import api
from seamwright.asked import usable_options
from seamwright.block.model import Block
from seamwright.claims.plans import claim_of
from seamwright.errors import FileError, OptionError, ProofError, StuckError
from seamwright.options import Size, Units
from seamwright.output import made_from
from support.random_blocks import grid, rectangulation_block, rectangulations

KITE = """seamwright block 1
size 6 in
seam 0, 6 to 6, 0
seam 0, 2 to 3, 3
option paper a4
option tolerance 1/8 in
"""


@pytest.fixture
def kite(tmp_path: Path) -> Path:
    path = tmp_path / "kite.seams"
    path.write_text(KITE)
    return path


def stuck_block() -> Block:
    return next(b for b in map(rectangulation_block, rectangulations(4)) if seamwright.plan(b).sewable == "no")


def test_the_whole_job_in_five_lines(kite: Path, tmp_path: Path):
    block = seamwright.read_block(kite, size="5in")
    plan = seamwright.plan(block)
    printed = seamwright.write_pdf(tmp_path / "kite.pdf", plan)
    assert plan.pieceable
    assert printed.measured.largest_error_mm < 0.05
    assert made_from((tmp_path / "kite.pdf").read_bytes()) == ("kite.seams",)


def test_every_name_promised_is_there():
    for name in seamwright.__all__:
        assert getattr(seamwright, name) is not None
    with pytest.raises(AttributeError, match="no attribute 'frobnicate'"):
        seamwright.frobnicate  # noqa: B018


def test_options_of_the_call_win_over_the_drawing_and_the_drawing_over_the_default(kite: Path):
    block = seamwright.read_block(kite, paper="legal", units="metric")
    plan = seamwright.plan(block)
    assert (plan.options.paper, plan.options.tolerance_in, plan.options.units) == ("legal", 1 / 8, Units.METRIC)
    assert seamwright.plan(block, paper="letter").options.paper == "letter"
    assert seamwright.plan(grid(2, 2)).options == usable_options([])


@pytest.mark.parametrize(
    ("options", "field", "value"),
    [
        ({"size": "5in"}, "size", Size(5.0)),
        ({"size": 5}, "size", Size(5.0)),
        ({"size": "5x7in", "stretch": True}, "size", Size(5.0, 7.0)),
        ({"stretch": False}, "stretch", False),
        ({"allowance": 0.375}, "allowance_in", 0.375),
        ({"tolerance": "2 mm"}, "tolerance_in", 2 / 25.4),
        ({"steps": 1000}, "steps", 1000),
        ({"seconds": 2.5}, "seconds", 2.5),
        ({"paper": "A4"}, "paper", "a4"),
    ],
)
def test_options_are_text_or_numbers(kite: Path, options: dict, field: str, value: object):
    assert getattr(seamwright.plan(seamwright.read_block(kite, **options)).options, field) == value


@pytest.mark.parametrize("options", [{"sise": "5in"}, {"size": "large"}, {"paper": "vellum"}, {"steps": 0}])
def test_a_wrong_option_is_told(kite: Path, options: dict):
    with pytest.raises(OptionError):
        seamwright.plan(seamwright.read_block(kite, **options))


def test_no_plan_is_handed_out_without_its_proof(monkeypatch: pytest.MonkeyPatch):
    from seamwright.piecing import plan as planner

    made = planner.plan

    def careless(*words: object) -> object:
        plan = made(*words)
        return replace(plan, joins=plan.joins[1:])

    monkeypatch.setattr(planner, "plan", careless)
    with pytest.raises(ProofError, match="join dropped"):
        seamwright.plan(grid(3, 3))


def test_a_stuck_block_has_a_plan_that_says_so_but_no_foundations(tmp_path: Path):
    plan = seamwright.plan(stuck_block())
    assert plan.obstructions
    for call in (lambda: seamwright.foundations(plan), lambda: seamwright.lay_out(plan)):
        with pytest.raises(StuckError, match="cannot be sewn") as caught:
            call()
        assert caught.value.exit_code == 1
    with pytest.raises(StuckError):
        seamwright.write_pdf(tmp_path / "x.pdf", plan)
    assert not list(tmp_path.iterdir())
    assert seamwright.picture_of(plan).startswith("<?xml")


def test_a_file_of_somebody_else_is_kept_unless_forced(kite: Path, tmp_path: Path):
    out = tmp_path / "kite.svg"
    out.write_text("<svg>a letter</svg>")
    plan = seamwright.plan(seamwright.read_block(kite))
    with pytest.raises(FileError, match="not made by seamwright"):
        seamwright.write_picture(out, plan)
    seamwright.write_picture(out, plan, force=True)
    assert made_from(out.read_bytes()) == ("kite.seams",)


def test_two_plans_share_the_sheets_of_one_file():
    sheets = seamwright.lay_out(seamwright.plan(grid(2, 2)), seamwright.plan(grid(1, 3)), copies=2)
    placed = [(p.foundation.section, p.copy) for sheet in sheets for p in sheet.placed]
    assert sorted(placed) == [("A", 1), ("A", 1), ("A", 2), ("A", 2), ("A.2", 1), ("A.2", 2)]


def test_steps_are_announced_as_they_begin(kite: Path, tmp_path: Path):
    told: list[str] = []
    seamwright.write_pdf(tmp_path / "x.pdf", seamwright.plan(seamwright.read_block(kite)), progress=told.append)
    assert len(told) == api.PRINT_STEPS


def test_a_claim_holds_coordinates_only():
    """Nothing that names a point, patch or seam by number may reach the checker."""

    def leaves(value: object):
        if isinstance(value, tuple):
            for item in value:
                yield from leaves(item)
        elif hasattr(value, "__dataclass_fields__"):
            for name in value.__dataclass_fields__:
                yield from leaves(getattr(value, name))
        else:
            yield value

    assert {type(leaf) for leaf in leaves(claim_of(seamwright.plan(grid(3, 3))))} == {float, str, bool}


def test_options_of_two_words_are_keywords_with_an_underscore(kite: Path):
    block = seamwright.read_block(kite, fold_clear=True, max_patches=3)
    assert {("fold-clear", "yes"), ("max-patches", "3")} <= set(block.options)
    plan = seamwright.plan(block, set_in=True, max_patches=2)
    assert (plan.options.fold_clear, plan.options.set_in, plan.options.max_patches) == (True, True, 2)
    assert max(len(section.steps) for section in plan.sections) <= 2


def test_names_of_the_interface_stay_calls_whatever_was_loaded_before(kite: Path):
    # A package that is loaded takes its own name in the package above it.
    import_module("seamwright.cutting.model")
    for name in seamwright.__all__:
        if name != "__version__":
            assert callable(getattr(seamwright, name)), name
    plan = seamwright.plan(seamwright.read_block(kite))
    assert seamwright.cutting(plan) == seamwright.cutting(plan)
