"""Cutting lists judged from their JSON alone: strips laid out anew, pieces counted, amounts worked out again.

Knows:  the fields of the JSON, and common practice: 40 in of 42 counted (105 of 110 cm), sold by 1/8 yd (10 cm), 1
        in (2.5 cm) to straighten an edge, fat quarters counted as 20 x 17 1/2 in (52.5 x 49 cm).
Leaves: all modules of `cutting` and `proof`: no code is shared.
"""

from __future__ import annotations

import csv
import io
import json
import math
from collections import Counter
from dataclasses import replace
from fractions import Fraction
from typing import Any

import pytest
import shapely
from shapely.geometry import box

from seamwright.cutting.make import cutting
from seamwright.cutting.pieces import pieces_of
from seamwright.options import Cloth
from seamwright.piecing.plan import plan
from seamwright.report.cuts import cutting_object
from seamwright.report.table import cutting_csv
from support.random_cloth import Job, job

HAIR_IN = 1e-4
"""The JSON is rounded."""
CM = 1 / 2.54
Json = dict[str, Any]


@pytest.fixture(autouse=True)
def _looked_for_less_long(monkeypatch: pytest.MonkeyPatch):
    # Lists are true at every effort.
    monkeypatch.setattr("seamwright.cutting.search.EFFORT", 1_000)


def read_list(asked: Job) -> Json | None:
    """The cutting list of a job as a program reads it; None if it cannot be sewn."""
    made = plan(asked.block, asked.options)
    if not made.sections:
        return None
    return json.loads(json.dumps(cutting_object(cutting(made, asked.cut, pieces_of(made)))))  # type: ignore[no-any-return]


def rectangles(strips: list[Json], left: float, top: float, lines: Counter[str]) -> list[tuple[float, ...]]:
    """Every rectangle of strips laid one below the other; `lines` counts them by what they are for."""
    found: list[tuple[float, ...]] = []
    for strip in strips:
        count, width = strip["count"], strip["width_in"]
        subs = [[sub, sub["count"]] for sub in strip["subcuts"]]
        alone = len(subs) == 1 and not strip["rest"]
        for number in range(count):
            reach = left
            for each in subs:
                sub, still = each
                # Strips of one kind alone are filled one after the other: only the last may hold fewer.
                most = int((strip["length_in"] + HAIR_IN) // sub["length_in"])
                here = min(most, still) if alone else sub["count"] // count
                assert here
                each[1] -= here
                for _ in range(here):
                    assert sub["height_in"] <= width + HAIR_IN
                    found.append((reach, top, reach + sub["length_in"], top + sub["height_in"]))
                    lines["/".join(sub["patches"])] += 1
                    reach += sub["length_in"]
            assert reach - left <= strip["length_in"] + HAIR_IN
            if alone and number == count - 1:
                assert strip["left_in"] <= strip["length_in"] - (reach - left) + HAIR_IN
            inner = [{**one, "count": one["count"] // count} for one in strip["rest"]]
            for one, whole in zip(inner, strip["rest"], strict=True):
                assert one["count"] * count == whole["count"]
            halves = [
                {**one, **_share(one, whole["count"])} for one, whole in zip(inner, strip["rest"], strict=True)
            ]
            assert sum(one["width_in"] * one["count"] for one in inner) <= width + HAIR_IN
            assert all(one["length_in"] <= strip["length_in"] - (reach - left) + HAIR_IN for one in inner)
            found += rectangles(halves, reach, top, lines)
            top += width
        assert all(still == 0 for _, still in subs)
    return found


def _share(strip: Json, of: int) -> Json:
    """What a narrow strip's line holds in one of the strips it is cut from."""

    def part(sub: Json) -> Json:
        assert sub["count"] * strip["count"] % of == 0
        return {**sub, "count": sub["count"] * strip["count"] // of}

    def inner(one: Json) -> Json:
        count = one["count"] * strip["count"] // of
        return {
            **one,
            "count": count,
            "subcuts": [{**s, "count": s["count"] * strip["count"] // of} for s in one["subcuts"]],
        }

    return {"subcuts": list(map(part, strip["subcuts"])), "rest": list(map(inner, strip["rest"]))}


def judge(found: Json, asked: Job) -> Counter[str]:
    """Judges a whole list; counts what was looked at."""
    metric, seen = asked.options.units.value == "metric", Counter[str]()
    for fabric in found["fabrics"]:
        lines: Counter[str] = Counter()
        laid = rectangles(fabric["strips"], 0.0, 0.0, lines)
        seen["rectangles"] += len(laid)
        used = sum(strip["width_in"] * strip["count"] for strip in fabric["strips"])
        if laid and len(laid) < 3000:
            boxes = [box(*one) for one in laid]
            # No saw cuts twice: together they have the area of all, on the cloth that there is.
            assert shapely.union_all(boxes).area == pytest.approx(sum(b.area for b in boxes), rel=1e-5)
            assert shapely.union_all(boxes).difference(box(0, 0, fabric["width_in"], used).buffer(HAIR_IN)).is_empty
        _count(fabric, lines, found["blocks"])
        _buy(fabric, used, asked, metric)
        seen["fabrics"] += 1
        seen[fabric["cloth"]] += 1
    return seen


def _count(fabric: Json, lines: Counter[str], blocks: int) -> None:
    """Each patch of each block has its piece, of its size, and none is cut that nobody needs."""
    of_line = {name: line for line in lines for name in line.split("/")}
    assert sum(len(line.split("/")) for line in lines) == len(of_line)
    sides = {
        name: (sub["length_in"], sub["height_in"], sub["share"], sub["hand"], sub["shape"])
        for strip in _all(fabric["strips"])
        for sub in strip["subcuts"]
        for name in sub["patches"]
    }
    wanted: Counter[str] = Counter()
    for piece in fabric["pieces"]:
        name = piece["patch"]
        if name in fabric["too_large"]:
            assert name not in of_line
            continue
        wanted[of_line[name]] += blocks
        along, across, share, hand, shape = sides[name]
        own = (piece["width_in"], piece["height_in"])
        assert (share, hand, shape) == (piece["share"], piece["hand"], piece["shape"])
        ways = [own, own[::-1]]
        assert any(
            0 <= a - x + HAIR_IN <= 1 / 16 + 2 * HAIR_IN and 0 <= b - y + HAIR_IN <= 1 / 16 + 2 * HAIR_IN
            for a, b in ((along, across),)
            for x, y in ways
        ), (name, own, along, across)
    for line, number in wanted.items():
        share = sides[line.split("/")[0]][2]
        assert lines[line] == math.ceil(Fraction(number, share))
    assert set(wanted) == set(lines)


def _all(strips: list[Json]) -> list[Json]:
    return [each for strip in strips for each in (strip, *_all(strip["rest"]))]


def _buy(fabric: Json, used: float, asked: Job, metric: bool) -> None:
    """What is bought, from the strips alone."""
    spare, own = asked.cut.spare, next((f.width_in for f in asked.block.fabrics if f.name == fabric["name"]), None)
    usual = 105 * CM if metric else 40.0
    if fabric["cloth"] == "bolt":
        fine = 0.1 * CM if metric else 1 / 16
        assert fabric["width_in"] == pytest.approx(math.floor((own or usual) / fine + 1e-6) * fine, abs=HAIR_IN)
        straight = 2.5 * CM if metric else 1.0
        length = used + straight if fabric["strips"] else 0.0
        assert fabric["length_in"] == pytest.approx(length, abs=HAIR_IN)
        step = 10 * CM if metric else 4.5
        assert fabric["bought_in"] == pytest.approx(
            math.ceil(length * (1 + spare) / step - 1e-5) * step, abs=HAIR_IN
        )
        return
    sides = (52.5 * CM, 49 * CM) if metric else (20.0, 17.5)
    along = min(sides, key=lambda side: abs(side - fabric["width_in"]))
    room = sides[1 - sides.index(along)]
    assert fabric["width_in"] == pytest.approx(along, abs=HAIR_IN)
    taken: Counter[int] = Counter()
    for quarter in fabric["quarters"]:
        high = 0.0
        for each in quarter["strips"]:
            taken[each["line"] - 1] += each["count"] * quarter["count"]
            high += fabric["strips"][each["line"] - 1]["width_in"] * each["count"]
        assert high + quarter["left_in"] == pytest.approx(room, abs=1e-3)
        assert quarter["left_in"] >= -HAIR_IN
    assert taken == Counter({number: strip["count"] for number, strip in enumerate(fabric["strips"])})
    cut = sum(quarter["count"] for quarter in fabric["quarters"])
    assert fabric["fat_quarters"] == max(cut, math.ceil(used * (1 + spare) / room - 1e-5))


def judged(seeds: range) -> Counter[str]:
    counts: Counter[str] = Counter()
    for seed in seeds:
        asked = job(seed)
        if (found := read_list(asked)) is not None:
            counts += judge(found, asked)
    return counts


def test_lists_hold_what_they_say_when_read_by_another() -> None:
    counts = judged(range(8))
    assert counts["rectangles"] > 500 and counts["bolt"] and counts["fat-quarters"]


@pytest.mark.long
def test_many_lists_hold_what_they_say_when_read_by_another() -> None:
    assert judged(range(8, 200))["fabrics"] > 300


def test_a_spreadsheet_reads_what_a_program_reads() -> None:
    """Every line of strips and every subcut, in the same order, with the same figures."""
    seen = 0
    for seed in range(5):
        asked = replace(job(seed), cut=replace(job(seed).cut, stack=False))
        made = plan(asked.block, asked.options)
        if not made.sections:
            continue
        listed = cutting(made, asked.cut, pieces_of(made))
        rows = list(csv.DictReader(io.StringIO(cutting_csv([listed], "made by seamwright").decode("utf-8-sig"))))
        scale = 2.54 if asked.options.units.value == "metric" else 1.0
        told = [
            [
                *(int(row["Strips"]), int(row["Subcuts"]), row["Patches"]),
                *(float(row[f"{side} as number"]) for side in ("Strip width", "Length", "Height")),
            ]
            for row in rows
            if row["Strips"]
        ]
        found = [
            [
                *(strip["count"], sub["count"], ", ".join(sub["patches"])),
                *(
                    pytest.approx(side * scale, abs=1e-3)
                    for side in (strip["width_in"], sub["length_in"], sub["height_in"])
                ),
            ]
            for fabric in cutting_object(listed)["fabrics"]
            for strip in _all(fabric["strips"])
            for sub in strip["subcuts"]
        ]
        assert told == found
        seen += len(told)
    assert seen > 20


@pytest.mark.long
@pytest.mark.parametrize("seed", range(40))
def test_fat_quarters_are_no_more_than_a_packing_library_fills(seed: int) -> None:
    """Boxes anywhere on fat quarters: no rotary cutter cuts all that, so a fourth more, or one, is allowed."""
    rectpack = pytest.importorskip("rectpack")
    asked = job(seed)
    asked = Job(
        seed, asked.kind, asked.block, asked.options, type(asked.cut)(blocks=3, spare=0.0, cloth=Cloth.FAT_QUARTERS)
    )
    found = read_list(asked)
    sides = (210, 196) if asked.options.units.value == "metric" else (320, 280)  # quarters of a cm, sixteenths
    unit = 0.25 * CM if asked.options.units.value == "metric" else 1 / 16
    for fabric in (found or {"fabrics": []})["fabrics"]:
        if fabric["cloth"] != "fat-quarters":
            continue
        packer = rectpack.newPacker(rotation=True)
        packer.add_bin(*sides, count=float("inf"))
        for row in fabric["cuts"]:
            for _ in range(row["count"]):
                packer.add_rect(*(math.ceil(side / unit - 1e-3) for side in (row["width_in"], row["height_in"])))
        packer.pack()
        area = sum(row["count"] * row["width_in"] * row["height_in"] for row in fabric["cuts"])
        assert fabric["fat_quarters"] >= area / (sides[0] * sides[1] * unit**2) - 1e-6
        assert fabric["fat_quarters"] <= max(len(packer) + 1, 1.25 * len(packer))
