"""What `check --json` and the sentences say, from plans of blocks known exactly."""

from __future__ import annotations

import json
from dataclasses import replace

import pytest
from shapely import Polygon, unary_union

from seamwright.errors import DrawingError, Fault
from seamwright.notes import Note
from seamwright.options import PlanOptions, Size, Units
from seamwright.optiontext import with_options
from seamwright.paper import Margins
from seamwright.piecing.model import Mend
from seamwright.piecing.plan import plan
from seamwright.report.checks import check_object
from seamwright.report.values import options_as_text
from seamwright.units import parse_length, parse_size
from seamwright.words.checks import check_words, verdict
from support.exact import exact_block
from support.random_blocks import cut_block, grid

# Two halves that share one full seam, on a strip with nothing in it.
SAIL_ON_A_HULL = exact_block(
    [((3, 0), (3, 6)), ((0, 6), (6, 6)), ((0, 3), (3, 3)), ((1, 0), (2, 3)), ((3, 2), (6, 5))],
    [(0, 0), (6, 0), (6, 8), (0, 8)],
)
PINWHEEL = exact_block([((2, 0), (2, 4)), ((0, 4), (4, 4)), ((4, 4), (4, 2)), ((2, 2), (6, 2)), ((4, 4), (4, 6))])
ISLAND = exact_block([((2, 2), (4, 2)), ((4, 2), (4, 4)), ((4, 4), (2, 4)), ((2, 4), (2, 2))])

FIELDS = {
    "drawing": str,
    "block": dict,
    "pieceable": bool,
    "sewable": str,
    "points_to_match": int,
    "set_in_points": int,
    "plan": dict,
    "fabrics": list,
    "patches": list,
    "sections": list,
    "prints": list,
    "fewest": dict,
    "joins": list,
    "obstructions": list,
    "mends": list,
    "notes": list,
}
PATCH = {"name", "section", "step", "outline_in", "holes_in", "fabric", "pre_pieced"}
SECTION = {"name", "print", "place", "reversed", "kind", "method", "patches", "outline_in"}
JOIN = {"first", "second", "makes", "seam_in", "kind", "turns_in"}
OBSTRUCTION = {"number", "kind", "patches", "points_in", "why"}
NOTE = {"code", "text", "count", "largest_in", "places_in"}


def test_a_block_of_two_sections_is_reported_field_by_field():
    data = check_object("designs/grid.svg", plan(grid(2, 2)))
    assert list(data) == list(FIELDS)
    assert all(isinstance(data[name], kind) for name, kind in FIELDS.items())
    assert data["drawing"] == "designs/grid.svg"
    assert data["block"] == {
        "name": "test",
        "colourway": None,
        "reversed": False,
        "width_in": 2.0,
        "height_in": 2.0,
        "outline_in": [[0, 0], [2, 0], [2, 2], [0, 2]],  # no T-points
    }
    assert (data["pieceable"], data["sewable"], data["points_to_match"], data["set_in_points"]) == (
        True,
        "straight",
        1,
        0,
    )
    settled = {"proven": True, "ties_settled": True, "ended_by": None}
    assert data["fewest"] == {"sections": 2, "foundations": 2, "at_least": 2, **settled}
    # Two equal pairs: one print, two places.
    assert [(s["name"], s["print"], s["place"]) for s in data["sections"]] == [("A", "A", 1), ("A.2", "A", 2)]
    assert all(set(s) == SECTION and s["kind"] == "foundation" and s["method"] == "paper" for s in data["sections"])
    assert [s["patches"] for s in data["sections"]] == [["A1", "A2"], ["A.2-1", "A.2-2"]]
    assert [p["name"] for p in data["patches"]] == ["A1", "A2", "A.2-1", "A.2-2"]
    assert [(p["section"], p["step"]) for p in data["patches"]] == [("A", 1), ("A", 2), ("A.2", 1), ("A.2", 2)]
    assert data["prints"] == [
        {"name": "A", "reversed": False, "kind": "foundation", "count": 2, "places": ["A", "A.2"]}
    ]
    (join,) = data["joins"]
    assert set(join) == JOIN
    assert (join["first"], join["second"], join["makes"], join["kind"]) == (
        "A",
        "A.2",
        "A+A.2",
        "straight",
    )
    assert sorted(join["seam_in"]) in ([[0, 1], [2, 1]], [[1, 0], [1, 2]])
    assert len(data["plan"]["id"]) == 8
    assert data["plan"]["options"] == {}
    assert data["obstructions"] == data["mends"] == []


@pytest.mark.parametrize("seed", range(10))
def test_rings_are_clockwise_from_the_topmost_corner_and_cover_the_block_once(seed: int):
    data = json.loads(json.dumps(check_object("x", plan(cut_block(seed, 14)))))
    rings = [p["outline_in"] for p in data["patches"]] + [s["outline_in"] for s in data["sections"]]
    for ring in [*rings, data["block"]["outline_in"]]:
        assert ring[0] != ring[-1]
        assert Polygon(ring).exterior.is_ccw  # anticlockwise with y up is clockwise with y down
        assert ring[0] == min(ring, key=lambda p: (p[1], p[0]))
    whole = Polygon(data["block"]["outline_in"])
    for parts in (data["patches"], data["sections"]):
        areas = [Polygon(p["outline_in"]) for p in parts]
        assert sum(a.area for a in areas) == pytest.approx(whole.area)
        assert unary_union(areas).symmetric_difference(whole).area < 1e-6
    assert len(data["joins"]) == len(data["sections"]) - 1
    assert not {j["makes"] for j in data["joins"]} & {s["name"] for s in data["sections"]}


def test_a_section_of_one_patch_is_a_plain_piece():
    planned = plan(SAIL_ON_A_HULL)
    data = check_object("x", planned)
    kinds = {s["name"]: s["kind"] for s in data["sections"]}
    assert sorted(kinds.values()) == ["foundation", "foundation", "plain"]
    assert (data["fewest"]["sections"], data["fewest"]["foundations"]) == (3, 2)
    words = check_words("x", planned)
    assert words[0].endswith("Can be sewn: 2 foundations and 1 plain piece.")
    (plain,) = (name for name, kind in kinds.items() if kind == "plain")
    assert f"  {plain}: 1 patch, a plain piece, sewn without paper." in words


@pytest.mark.parametrize(("block", "kind"), [(PINWHEEL, "ring of seams"), (ISLAND, "island")])
def test_a_stuck_drawing_still_has_every_field(block, kind: str):
    planned = plan(block)
    data = json.loads(json.dumps(check_object("reef.svg", planned)))
    assert list(data) == list(FIELDS)
    assert (data["pieceable"], data["sewable"]) == (False, "no")
    assert data["sections"] == data["joins"] == data["mends"] == []
    assert data["fewest"] is None
    assert [p["name"] for p in data["patches"]] == [f"?{n}" for n in range(1, len(block.patches) + 1)]
    assert all(set(p) == PATCH and p["section"] is None and p["step"] is None for p in data["patches"])
    assert [len(p["holes_in"]) for p in data["patches"]] == [len(p.holes) for p in block.patches]
    assert data["obstructions"]
    for number, obstruction in enumerate(data["obstructions"], start=1):
        assert set(obstruction) == OBSTRUCTION
        assert obstruction["number"] == number
        assert obstruction["kind"] == kind
        assert set(obstruction["patches"]) <= {p["name"] for p in data["patches"]}
        assert obstruction["points_in"]
    words = check_words("reef.svg", planned)
    assert "Cannot be sewn" in words[0]
    assert any(obstruction["why"] in line for line in words for obstruction in data["obstructions"])
    assert words[-1].lstrip().startswith("Proven")
    assert any("--picture" in line for line in words)


def test_notes_of_drawing_and_plan_are_reported_once_each():
    tidied = Note("tidied", "12 ends closed, largest 1/32 in", 12, 1 / 32, ((1.0, 2.0),))
    planned = plan(replace(grid(2, 2), notes=(tidied,)))
    planned = replace(planned, notes=(tidied, Note("fold", "the fold runs across", 1)))
    data = check_object("x", planned)
    assert [set(note) for note in data["notes"]] == [NOTE, NOTE]
    assert data["notes"][0] == {
        "code": "tidied",
        "text": "12 ends closed, largest 1/32 in",
        "count": 12,
        "largest_in": 0.03125,
        "places_in": [[1.0, 2.0]],
    }
    assert data["notes"][1]["largest_in"] is None
    assert "  Note: 12 ends closed, largest 1/32 in." in check_words("x", planned)


def test_a_drawing_that_cannot_be_read_gives_an_error_in_its_place():
    faults = (
        Fault("gap", "a line ends in the open", "Draw it on to the next", at_in=(1.5, 2.0)),
        Fault("keyword", "'saem' is no keyword", "Did you mean 'seam'?", line=3, column=1),
    )
    data = check_object("x.seams", None, DrawingError("unfinished", faults))
    assert data == {
        "drawing": "x.seams",
        "error": {
            "code": "unfinished",
            "text": "a line ends in the open. Draw it on to the next. "
            "line 3, column 1: 'saem' is no keyword. Did you mean 'seam'?",
            "file": None,
            "faults": [
                {
                    "code": "gap",
                    "text": "a line ends in the open. Draw it on to the next.",
                    "at_in": [1.5, 2.0],
                    "line": None,
                    "column": None,
                },
                {
                    "code": "keyword",
                    "text": "line 3, column 1: 'saem' is no keyword. Did you mean 'seam'?",
                    "at_in": None,
                    "line": 3,
                    "column": 1,
                },
            ],
        },
    }


@pytest.mark.parametrize(
    ("options", "text"),
    [
        (PlanOptions(), {}),
        (PlanOptions(size=Size(8.5)), {"size": "8.5in"}),
        (PlanOptions(size=Size(8.0, 12.25), stretch=True), {"size": "8x12.25in", "stretch": "yes"}),
        (PlanOptions(tolerance_in=0.1, allowance_in=0.375), {"tolerance": "0.1in", "allowance": "0.375in"}),
        (PlanOptions(size=parse_size("20cm")), {"size": "20cm"}),
        (
            PlanOptions(
                allowance_in=parse_length("7.5mm"),
                margins=Margins(parse_length("1cm"), 0.5, parse_length("1cm"), 0.5),
            ),
            {"allowance": "0.75cm", "margins": "1cm,0.5in,1cm,0.5in"},
        ),
        (PlanOptions(units=Units.METRIC, paper="a4"), {"units": "metric", "paper": "a4"}),
        (PlanOptions(steps=5000, seconds=2.5), {"steps": "5000", "seconds": "2.5"}),
    ],
)
def test_options_are_listed_as_the_command_line_takes_them(options: PlanOptions, text: dict[str, str]):
    assert options_as_text(options) == text
    assert with_options(PlanOptions(), text.items()) == options


def test_the_verdict_comes_first_and_what_is_proven_last():
    words = check_words("designs/grid.svg", plan(grid(3, 3)))
    assert words[0] == "designs/grid.svg: test, 3 x 3 in. Can be sewn: 3 foundations from 1 print."
    assert words[-1] == "  Proven: every step and seam holds; no plan has fewer than 3 sections."
    joins = [line for line in words if line.startswith("  Join")]
    assert [line.split(":")[0].strip() for line in joins] == ["Join 1", "Join 2"]
    assert "  4 points to match." in words


def test_a_search_that_ran_out_says_what_it_knows():
    planned = plan(grid(2, 2))
    assert planned.fewest is not None
    short = replace(planned, fewest=replace(planned.fewest, proven=False, at_least=1))
    assert "1 at least are needed" in check_words("x", short)[-1]
    assert "--steps" in check_words("x", short)[-1]


def test_lengths_are_said_in_the_units_asked_for():
    block = grid(2, 2)
    words = check_words("x", plan(block, PlanOptions(units=Units.METRIC)))
    assert "5.1 x 5.1 cm" in words[0]
    assert all(" in." not in line for line in words)


def test_curved_joins_are_counted_in_the_verdict():
    planned = plan(grid(2, 2))
    curved = replace(planned, sewable="curved", joins=(replace(planned.joins[0], kind="curved"),))
    assert verdict(curved) == "Can be sewn, 1 curved join: 2 foundations from 1 print."


def test_plain_pieces_printed_once_share_a_line_and_many_sections_go_by_their_join():
    made = plan(grid(1, 12), PlanOptions(max_patches=1))
    assert len(made.sections) == 12
    words = check_words("x.seams", made)
    joins = [line for line in words if line.startswith("  Join")]
    assert not any(line.count("+") > 14 for line in joins)
    kite = plan(exact_block([((1, 0), (1, 6)), ((3, 0), (3, 6))]), PlanOptions(max_patches=1))
    assert any(
        line.endswith(" and C: 1 patch each, plain pieces, sewn without paper.") for line in check_words("x", kite)
    )


@pytest.mark.parametrize(("file", "ending"), [("x.seams", "seams"), ("X.SEAMS@8in", "seams"), ("x.svg@8in", "svg")])
def test_a_mend_is_asked_for_in_the_form_of_the_drawing(file: str, ending: str):
    stuck = replace(plan(PINWHEEL), block=replace(PINWHEEL, file=file))
    mend = Mend(1, 1, "continue a seam", "Continue it", 1)
    assert f"  To have it done: seamwright check {file} --mend 1 -o mended.{ending}" in check_words(
        file, stuck, [mend]
    )


def test_what_floats_alone_in_a_patch_is_told_to_go_on_top():
    assert any(
        "sew what floats in a patch on top of it (applique)" in line for line in check_words("x", plan(ISLAND))
    )
