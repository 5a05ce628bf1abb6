"""How many of which block and of which foundation a quilt needs, and the sheets that hold them."""

from __future__ import annotations

import json
import random
from collections import Counter
from pathlib import Path

import pytest

from seamwright import api
from seamwright.cli import main
from seamwright.options import PrintOptions, Stock
from seamwright.piecing.model import Plan
from seamwright.quilt.counts import blocks_counted, blocks_of_looks, for_quilt, prints_counted
from seamwright.quilt.model import Cell, Quilt, Setting, Source, Turn
from seamwright.quilts import plans_of, quilt_of, read_quilt
from seamwright.sheet.layout import lay_out
from seamwright.sheet.model import ForQuilt, Sheet
from seamwright.sheet.often import MANY

DESIGNS = Path(__file__).parent.parent / "designs"


def quilt_file(folder: Path, *lines: str) -> Path:
    file = folder / "watch.setting"
    blocks = [f'block {name} "{DESIGNS / drawing}"' for name, drawing in USED.items()]
    file.write_text("\n".join(["seamwright quilt 1", "name evening watch", *blocks, *lines, ""]))
    return file


USED = {"kite": "kite.svg", "beacon": "beacon.seams"}


def prints_of(quilt: Quilt, plans: tuple[Plan, ...]) -> dict[tuple[str, str], int]:
    """(name of the block, print) -> count."""
    return {
        (quilt.looks[one.look].source, one.print + "r" * one.reversed): one.count
        for one in prints_counted(quilt, plans)
    }


# -- counted by hand -------------------------------------------------------------------------------------------


def test_a_small_quilt_counted_by_hand(tmp_path: Path) -> None:
    quilt = read_quilt(
        quilt_file(tmp_path, "row kite, kite 90, kite reversed", "row kite 90, kite, kite reversed 180")
    )
    blocks = {(quilt.looks[b.look].reversed, b.quarters): b.count for b in blocks_counted(quilt)}
    assert blocks == {(False, 0): 2, (False, 1): 2, (True, 0): 1, (True, 2): 1}
    # No section of the kite is its own mirror: four blocks take A and B, two take Ar and Br.
    assert prints_of(quilt, plans_of(quilt)) == {
        ("kite", "A"): 4, ("kite", "B"): 4, ("kite", "Ar"): 2, ("kite", "Br"): 2,
    }  # fmt: skip


def test_prints_of_a_block_and_its_mirror_image_are_counted_together(tmp_path: Path) -> None:
    quilt = read_quilt(quilt_file(tmp_path, "row beacon, beacon reversed, beacon"))
    plans = plans_of(quilt)
    # A and Ar are mirror images of each other, and both are in every beacon; B and D are their own mirrors.
    assert prints_of(quilt, plans) == {
        ("beacon", "A"): 3, ("beacon", "Ar"): 3, ("beacon", "B"): 3,
        ("beacon", "C"): 2, ("beacon", "Cr"): 1, ("beacon", "D"): 3,
    }  # fmt: skip
    shared = {one.print + "r" * one.reversed: one.looks for one in prints_counted(quilt, plans)}
    assert shared["A"] == shared["D"] == (0, 1)
    assert (shared["C"], shared["Cr"]) == ((0,), (1,))


def test_a_print_that_serves_two_places_of_a_block_counts_twice_a_block() -> None:
    star = str(DESIGNS / "compass-star.seams")
    setting = Setting("stars", "", (Source("star", star),), ((Cell("star"), Cell("star", Turn(1))),))
    quilt = quilt_of(setting)
    # A to A.4 and B to B.4 in one star; it is the same after a quarter turn.
    assert prints_of(quilt, plans_of(quilt)) == {("star", "A"): 8, ("star", "B"): 8}


def test_stripes_keep_the_prints_of_a_mirror_image_apart(tmp_path: Path) -> None:
    lines = ("row beacon, beacon reversed", "fabric lamp stripes 30")
    quilt = read_quilt(quilt_file(tmp_path, *lines))
    counted = Counter(one.print + "r" * one.reversed for one in prints_counted(quilt, plans_of(quilt)))
    # The roof A, Ar and the tower B wear the striped lamp; D, of sea and deep, does not.
    assert counted["A"] == counted["Ar"] == counted["B"] == 2
    assert counted["D"] == 1


def test_what_a_ruler_cuts_has_no_print() -> None:
    lights = str(DESIGNS / "harbour-lights.seams")
    setting = Setting("lights", "", (Source("lights", lights),), ((Cell("lights"),),))
    quilt = quilt_of(setting, rotary="auto")
    (plan,) = plans_of(quilt)
    by_ruler = {section.print for section in plan.sections if section.method == "ruler"}
    assert by_ruler
    assert not by_ruler & {one.print for one in prints_counted(quilt, (plan,))}


# -- counted by brute force ------------------------------------------------------------------------------------


@pytest.mark.parametrize("seed", range(3))
def test_random_quilts_counted_section_by_section(seed: int) -> None:
    chance = random.Random(f"quilt {seed}")
    sources = tuple(Source(name, str(DESIGNS / name), "6 in") for name in ("kite.svg", "gull.svg", "reef.seams"))
    rows = tuple(
        tuple(Cell(chance.choice(sources).name, Turn(chance.randrange(4), chance.random() < 0.5)) for _ in range(5))
        for _ in range(4)
    )
    quilt = quilt_of(Setting("chance", "", sources, rows))
    plans = plans_of(quilt)
    places: Counter[tuple[str, str, bool]] = Counter()
    for spot in quilt.spots:
        for section in plans[spot.look].sections:
            if section.kind == "foundation":
                places[quilt.looks[spot.look].source, section.print, section.reversed] += 1
    told = {
        (quilt.looks[one.look].source, one.print, one.reversed): one.count
        for one in prints_counted(quilt, plans)
        if one.kind == "foundation"
    }
    assert told == places
    assert sum(one.count for one in blocks_counted(quilt)) == len(quilt.spots) == 20


# -- printed ---------------------------------------------------------------------------------------------------


def held(sheets: tuple[Sheet, ...]) -> Counter[tuple[str, str]]:
    return Counter((p.foundation.block, p.foundation.label) for sheet in sheets for p in sheet.placed)


def test_every_foundation_is_printed_as_often_as_the_quilt_needs_it(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = quilt_file(tmp_path, "row kite, kite 90, kite reversed")
    out = tmp_path / "watch.pdf"
    assert main(["foundations", str(file), "-o", str(out), "--json", "--effort", "1"]) == 0
    data = json.loads(capsys.readouterr().out)
    assert data["quilt"] == {"name": "evening watch", "blocks": [2, 1]}
    counts = {(one["block_reversed"], one["label"]): one["times_in_file"] for one in data["prints"]}
    assert counts == {(False, "A"): 2, (False, "B"): 2, (True, "Ar"): 1, (True, "Br"): 1}
    assert sum(len(sheet["foundations"]) for sheet in data["sheets"]) == 6
    assert out.read_bytes().startswith(b"%PDF")


def test_the_screen_and_the_sheets_say_for_which_quilt_and_how_many(tmp_path: Path) -> None:
    quilt = read_quilt(quilt_file(tmp_path, "row kite, kite 90, kite reversed"))
    sheets = api.lay_out(*plans_of(quilt), quilt=for_quilt(quilt), effort=1)
    words = [" ".join(mark.text for mark in sheet.ink if hasattr(mark, "text")) for sheet in sheets]
    assert "for evening watch: 2 blocks: A and B, 2 times each" in words[0].replace("  ", " ")
    assert "for evening watch: 1 block" in words[-1]


def test_copies_are_whole_quilts_and_sets_apart_hold_one_each(tmp_path: Path) -> None:
    quilt = read_quilt(quilt_file(tmp_path, "row kite, kite 90, kite reversed"))
    plans, one = plans_of(quilt), for_quilt(quilt)
    once, twice = (held(api.lay_out(*plans, quilt=one, copies=copies, effort=1)) for copies in (1, 2))
    assert twice == Counter({what: 2 * count for what, count in once.items()})
    apart = api.lay_out(*plans, quilt=one, copies=2, sets="apart", effort=1)
    for number in (1, 2):
        assert held(tuple(s for s in apart if s.in_set is not None and s.in_set.set == number)) == once


def test_freezer_paper_serves_four_places_of_the_quilt() -> None:
    plan = api.plan(api.read_block(DESIGNS / "kite.svg"))
    job = (plan, api.foundations(plan, PrintOptions(stock=Stock.FREEZER)))
    sheets = lay_out([job], printing=PrintOptions(stock=Stock.FREEZER, effort=1), quilt=ForQuilt("", (10,)))
    assert set(held(sheets).values()) == {3}  # 10 places, 4 each


def test_one_block_after_another_in_a_quilt_takes_no_more_sheets_than_copies_of_it() -> None:
    plan = api.plan(api.read_block(DESIGNS / "kite.svg"))
    many = MANY  # of two prints each: twice what is packed at once
    quilt = api.lay_out(plan, quilt=ForQuilt("many", (many,)), effort=1)
    assert held(quilt) == {("kite", "A"): many, ("kite", "B"): many}
    # A kite fills a sheet: not one sheet more, and all alike.
    assert len(quilt) == many
    assert {tuple(p.foundation.label for p in sheet.placed) for sheet in quilt} == {("A", "B")}
    copies = [p.copy for sheet in quilt for p in sheet.placed if p.foundation.label == "A"]
    assert sorted(copies) == list(range(1, many + 1))


@pytest.mark.long
def test_many_prints_of_several_kinds_are_all_there_and_nearly_as_dense() -> None:
    """What is repeated is held against what one block's prints would take, each block by itself."""
    plan = api.plan(api.read_block(DESIGNS / "beacon.seams"))
    alone = len(api.lay_out(plan, effort=1))
    sheets = api.lay_out(plan, quilt=ForQuilt("many", (15,)), effort=1)
    assert held(sheets) == {("beacon", label): 15 for label in ("A", "Ar", "B", "C", "D")}
    assert len(sheets) < 15 * alone
    again = api.lay_out(plan, quilt=ForQuilt("many", (15,)), effort=1)
    assert [s.placed for s in again] == [s.placed for s in sheets]


def test_templates_are_used_again_all_over_the_quilt() -> None:
    made = api.plan(api.read_block(DESIGNS / "kite.svg"), max_patches=3)
    assert {section.kind for section in made.sections} == {"plain", "foundation"}
    sheets = api.lay_out(made, quilt=ForQuilt("many", (7,)), effort=1)
    counts = held(sheets)
    for places in made.prints():
        label = places[0].print + "r" * places[0].reversed
        assert counts[made.block.title, label] == (1 if places[0].kind == "plain" else 7 * len(places))


@pytest.mark.long
def test_files_for_machines_say_how_often_the_quilt_needs_each(tmp_path: Path) -> None:
    quilt = read_quilt(quilt_file(tmp_path, "row kite, kite 90, kite reversed"))
    made = api.write_files(tmp_path / "files", *plans_of(quilt), quilt=for_quilt(quilt))
    assert {one.name: one.times for one in made} == {
        "kite-A": 2, "kite-B": 2, "kite-reversed-Ar": 1, "kite-reversed-Br": 1,
    }  # fmt: skip


def test_blocks_of_looks_follow_the_order_of_looks(tmp_path: Path) -> None:
    quilt = read_quilt(quilt_file(tmp_path, "row kite reversed, kite 90, kite reversed"))
    assert [look.reversed for look in quilt.looks] == [True, False]
    assert blocks_of_looks(quilt) == (2, 1)
