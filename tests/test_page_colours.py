"""What the page is told of fabrics: patches to paint, how fabrics read, where two do not part what is drawn."""

from __future__ import annotations

import json
import re
import shutil
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
import shapely
from shapely.geometry import LineString, Polygon

from seamwright.drawing.palette import palette_of
from seamwright.drawing.textform import read_seams
from seamwright.drawing.textwrite import write_seams
from seamwright.page.colourtasks import fabrics_on
from seamwright.page.verdicttasks import verdict_on
from seamwright.sketch.change import changed
from seamwright.sketch.edits import Paint, SetFabric
from support.asking import Asking, asking
from support.browser import DESIGNS

DRAWINGS = sorted(path.name for path in DESIGNS.iterdir() if path.suffix in (".seams", ".svg"))
SQUARE = """seamwright block 1
size 8 in
fabric sky colour #0000ff stripes 30
fabric fog colour #777777
fabric mist colour #7f7f7f
fabric bare
fabric spare colour #f4f1ea
seam 0, 0 to 8, 8
seam 8, 0 to 0, 8
lay sky at 4, 1
lay fog at 1, 4
lay mist at 4, 7
"""


@pytest.fixture(scope="module")
def inside(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Asking]:
    folder = tmp_path_factory.mktemp("designs")
    for name in ("spinnaker.seams", "dusk.palette", "compass-star.seams"):
        shutil.copy(DESIGNS / name, folder / name)
    with asking(folder) as made:
        yield made


def told(text: str, **options: str) -> dict[str, Any]:
    path = str(DESIGNS / "block.seams")
    found = fabrics_on(path, text, tuple((name.replace("_", "-"), value) for name, value in options.items()))
    json.dumps(found, allow_nan=False)  # all of it is data
    return found


def areas(found: dict[str, Any]) -> list[Polygon]:
    return [Polygon(patch["ring"], patch["holes"]) for patch in found["patches"]]


def luminance(colour: str) -> float:
    """W3C, Web Content Accessibility Guidelines 2.2, "relative luminance", written out once more."""
    parts = [int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5)]
    red, green, blue = (p / 12.92 if p <= 0.04045 else ((p + 0.055) / 1.055) ** 2.4 for p in parts)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


# -- patches ---------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("name", DRAWINGS)
def test_patches_have_the_names_of_the_verdict_and_lie_where_it_has_them(name: str) -> None:
    path = DESIGNS / name
    found = fabrics_on(str(path), path.read_text(), ())
    verdict = verdict_on(str(path), path.read_text(), ())
    assert found["state"] == "ready"
    patches = {patch["name"]: patch for patch in found["patches"]}
    assert sorted(patches) == sorted(patch["name"] for patch in verdict["patches"])
    for patch in verdict["patches"]:
        mine = patches[patch["name"]]
        one, other = Polygon(mine["ring"], mine["holes"]), Polygon(patch["outline_in"], patch["holes_in"])
        assert one.symmetric_difference(other).area < 1e-6
        assert mine["fabric"] == patch["fabric"]
        assert one.contains(shapely.Point(mine["at"]))


@pytest.mark.parametrize("name", [name for name in DRAWINGS if name.endswith(".seams")])
def test_what_is_told_of_a_patch_paints_that_patch_and_no_other(name: str) -> None:
    path = DESIGNS / name
    text = changed(path.read_text(), [SetFabric("buoy", colour="#c8102e")])
    before = fabrics_on(str(path), text, ())["patches"]
    number = len(before) // 2
    patch = json.loads(json.dumps(before[number]))
    ring, holes = tuple(map(tuple, patch["ring"])), tuple(tuple(map(tuple, hole)) for hole in patch["holes"])
    after = fabrics_on(str(path), changed(text, [Paint("buoy", ring, holes)]), ())["patches"]
    wanted = [patch["own"] for patch in before]
    wanted[number] = "buoy"
    assert [patch["own"] for patch in after] == wanted  # in reading order, which paint does not change


@pytest.mark.parametrize(
    "options", [{"reversed": "yes"}, {"size": "5in"}, {"reversed": "yes", "size": "16 in", "colourway": "night"}]
)
def test_patches_are_told_as_drawn_whatever_size_or_hand_is_asked_for(options: dict[str, str]) -> None:
    path = DESIGNS / "compass-star.seams"
    plain = areas(fabrics_on(str(path), path.read_text(), ()))
    asked = areas(fabrics_on(str(path), path.read_text(), tuple(options.items())))
    for one, other in zip(plain, asked, strict=True):
        assert one.symmetric_difference(other).area < 1e-6


def test_patches_are_read_in_rows_from_the_left() -> None:
    grid = "seamwright block 1\nsize 6 in\n" + "".join(
        f"seam {k}, 0 to {k}, 6\nseam 0, {k} to 6, {k}\n" for k in (2, 4)
    )
    places = [patch["at"] for patch in told(grid)["patches"]]
    assert places == [[x, y] for y in (1, 3, 5) for x in (1, 3, 5)]


def test_a_block_that_cannot_be_sewn_can_be_painted() -> None:
    path = DESIGNS / "breakwater.seams"
    found = fabrics_on(str(path), path.read_text(), ())
    assert found["state"] == "ready"
    assert {patch["name"][0] for patch in found["patches"]} == {"?"}


def test_parts_that_are_pieced_beforehand_are_painted_one_by_one() -> None:
    text = SQUARE.replace("seam 8, 0 to 0, 8", "seam 8, 0 to 4, 4")
    names = [patch["name"] for patch in told(text)["patches"]]
    joined = told(text, pre_pieced="+".join(names[:2]))
    assert len(joined["patches"]) == len(names)
    assert sum("(part " in patch["name"] for patch in joined["patches"]) == 2


@pytest.mark.parametrize(
    ("lines", "state", "said"),
    [
        ("seam 0, 0 to 3, 3", "unfinished", "Painting comes once every line meets another"),
        ("", "empty", "Nothing is drawn yet"),
        ("sean 0, 0 to 3, 3", "unreadable", "line"),
    ],
)
def test_a_drawing_without_patches_keeps_its_fabrics_and_says_what_comes(lines: str, state: str, said: str) -> None:
    found = told(f"seamwright block 1\nsize 8 in\nfabric sky colour #a9c9dc\n{lines}\n")
    assert (found["state"], found["patches"]) == (state, [])
    assert said in found["sentence"]
    assert [fabric["name"] for fabric in found["fabrics"]] == (["sky"] if state != "unreadable" else [])
    assert found["ready"]


# -- fabrics ---------------------------------------------------------------------------------------------------


def test_fabrics_come_with_how_they_look_and_read() -> None:
    found = {fabric["name"]: fabric for fabric in told(SQUARE)["fabrics"]}
    assert list(found) == ["sky", "fog", "mist", "bare", "spare"]
    sky = found["sky"]
    # The grey of the same light: 0.0722 of white's (WCAG 2.2), which sRGB writes as 4c.
    assert (sky["fill"], sky["grey"], sky["print"]) == ("#0000ff", "#4c4c4c", "stripes at 30°")
    assert luminance(sky["grey"]) == pytest.approx(luminance(sky["fill"]), abs=0.002)
    assert sky["stripes"].startswith("M") and sky["typed"] == {"colour": "#0000ff", "stripes": "30"}
    assert (sky["patches"], sky["share"]) == (1, "25 %")
    assert found["bare"]["reads"] == "" and found["bare"]["colour"] is None
    assert found["spare"]["patches"] == 0
    assert len({fabric["code"] for fabric in found.values()}) == len(found)


def test_words_on_every_fabric_can_be_read() -> None:
    found = told(SQUARE)
    for fabric in (*found["fabrics"], *found["ready"]):
        for ground, ink in ((fabric["fill"], fabric["on"]), (fabric["grey"], fabric["on_grey"])):
            low, high = sorted((luminance(ground), luminance(ink.lower())))
            assert (high + 0.05) / (low + 0.05) >= 4.5  # WCAG 2.2, success criterion 1.4.3


def test_stripes_of_a_patch_end_at_its_edge_and_run_as_said() -> None:
    patch = next(patch for patch in told(SQUARE)["patches"] if patch["fabric"] == "sky")
    area = Polygon(patch["ring"]).buffer(0.01)
    rings = [
        [tuple(map(float, pair.split())) for pair in run.rstrip("Z").split("L")]
        for run in patch["stripes"].split("M")[1:]
    ]
    assert len(rings) > 5
    assert all(area.contains(Polygon(ring)) for ring in rings)
    # Along 30 degrees clockwise from level stripes are long, across they are thin.
    for ring in rings:
        across = [y * 3**0.5 / 2 - x / 2 for x, y in ring]
        assert max(across) - min(across) < 0.2


def test_ready_fabrics_are_those_that_the_block_has_not() -> None:
    names = [fabric["name"] for fabric in told(SQUARE)["ready"]]
    assert "sky" not in names and "deep" in names
    values = {fabric["reads"].split(",")[0] for fabric in told(SQUARE)["ready"]}
    assert values == {"light", "medium", "dark"}


def test_a_palette_shows_its_colours_and_offers_what_else_it_has(tmp_path: Path) -> None:
    path = DESIGNS / "compass-star.seams"
    text = path.read_text() + "option palette dusk.palette\n"
    found = fabrics_on(str(path), text, ())
    assert found["palette"] == "dusk.palette"
    chalk = next(fabric for fabric in found["fabrics"] if fabric["name"] == "chalk")
    assert (chalk["fill"], chalk["typed"]["colour"], chalk["worn"]["colour"]) == ("#e9dccb", "#f4f1ea", "#e9dccb")
    offered = {fabric["name"]: fabric["from"] for fabric in found["ready"]}
    assert offered["lantern"] == "palette" and "chalk" not in offered
    assert [(way["name"], way["stated"]) for way in found["colourways"]] == [
        ("night", True),
        ("lanterns", False),
        ("flood tide", False),
    ]
    # Written into the block, the palette's colours stay without it.
    edits = [SetFabric(was=fabric["name"], name=fabric["name"], **fabric["worn"]) for fabric in found["fabrics"]]
    kept = fabrics_on(str(path), changed(path.read_text(), edits), ())
    assert [patch["fill"] for patch in kept["patches"]] == [patch["fill"] for patch in found["patches"]]


def test_in_a_colourway_patches_tell_their_own_fabric_beside_the_one_they_wear() -> None:
    path = DESIGNS / "compass-star.seams"
    found = fabrics_on(str(path), path.read_text(), (("colourway", "night"),))
    night = found["colourways"][0]["changes"]
    assert found["shown"] == "night" and night["chalk"] == "ink"
    assert all(patch["fabric"] == night.get(patch["own"], patch["own"]) for patch in found["patches"])


# -- warnings --------------------------------------------------------------------------------------------------


def test_neighbours_that_read_alike_are_marked_along_the_seams_between_them() -> None:
    text = SQUARE.replace("lay mist at 4, 7", "lay mist at 4, 7 and 4, 1").replace("lay sky at 4, 1\n", "")
    found = told(text)
    (warning,) = [one for one in found["warnings"] if one["kind"] == "alike"]
    # (L1 + 0.05) / (L2 + 0.05), rounded down: WCAG 2.2, "contrast ratio".
    ratio = (luminance("#7f7f7f") + 0.05) / (luminance("#777777") + 0.05)
    assert f"mist and fog read alike (contrast {int(100 * ratio) / 100:.2f} to 1)" in warning["sentence"]
    by_fabric = {
        fabric: shapely.union_all(
            [Polygon(patch["ring"]) for patch in found["patches"] if patch["fabric"] == fabric]
        )
        for fabric in ("fog", "mist")
    }
    shared = by_fabric["fog"].intersection(by_fabric["mist"])
    marked = shapely.union_all([LineString(seam) for seam in warning["seams"]])
    assert marked.symmetric_difference(shared).length < 1e-6
    assert "11 5/16 in of seam" in warning["sentence"]  # twice half a diagonal of 8 in: 8 x sqrt 2


def test_points_that_vanish_are_marked_where_they_lie() -> None:
    path = DESIGNS / "spinnaker.seams"
    found = fabrics_on(str(path), path.read_text(), ())
    (warning,) = [one for one in found["warnings"] if one["points"] and one["kind"] == "alike"]
    assert "3 points vanish" in warning["sentence"] and len(warning["points"]) == 3
    corners = [tuple(corner) for patch in found["patches"] for corner in patch["ring"]]
    assert all(
        any(shapely.Point(at).distance(shapely.Point(c)) < 1e-6 for c in corners) for at in warning["points"]
    )


@pytest.mark.parametrize("name", DRAWINGS)
def test_seams_in_grey_part_no_more_than_their_sides(name: str) -> None:
    path = DESIGNS / name
    found = fabrics_on(str(path), path.read_text(), ())
    greys = [patch["grey"] for patch in found["patches"]]
    outlines = [Polygon(patch["ring"], patch["holes"]).boundary for patch in found["patches"]]
    if None in greys:
        return
    for seam in found["seams"]:
        line = LineString(seam["points"])
        beside = [g for g, area in zip(greys, outlines, strict=True) if area.buffer(1e-6).covers(line)]
        lights = sorted(map(luminance, beside))
        if not seam["grey"].startswith("#14213"):  # ink, where a value is not known
            assert lights[0] - 0.01 <= luminance(seam["grey"]) <= lights[-1] + 0.01


# -- asked of the server -----------------------------------------------------------------------------------------


def test_the_page_asks_and_is_told(inside: Asking) -> None:
    text = (DESIGNS / "compass-star.seams").read_text() + "option palette dusk.palette\n"
    asked = {"name": "compass-star.seams", "text": text, "options": {"colourway": "flood tide"}}
    answer = inside.post("/api/fabrics", asked)
    assert answer.status_code == 200
    assert answer.json()["shown"] == "flood tide" and answer.json()["palette"] == "dusk.palette"
    gone = inside.post("/api/fabrics", {**asked, "options": {"colourway": "ebb"}})
    assert gone.json()["state"] == "unreadable" and "ebb" in gone.json()["sentence"]


def test_every_colourway_is_shown_beside_the_others_as_the_command_draws_it(inside: Asking) -> None:
    text = (DESIGNS / "compass-star.seams").read_text() + "option palette dusk.palette\noption reversed yes\n"
    asked = {"name": "compass-star.seams", "text": text}
    shown = inside.post("/api/fabrics/ways", asked).json()
    assert [one["name"] for one in shown] == ["", "night", "lanterns", "flood tide"]
    assert len({one["svg"] for one in shown}) == 4
    for one in shown:
        found = inside.post("/api/fabrics", {**asked, "options": {"colourway": one["name"] or "own"}}).json()
        assert {patch["fill"] for patch in found["patches"]} <= set(re.findall("#[0-9a-f]{6}", one["svg"].lower()))
    greys = inside.post("/api/fabrics/ways", {**asked, "grey": True}).json()
    assert all(r == g == b for r, g, b in re.findall('fill="#(..)(..)(..)"', greys[1]["svg"]))
    refused = inside.post("/api/fabrics/ways", {"name": "wall.seams", "text": SQUARE.partition("seam ")[0]})
    assert refused.status_code == 422


def test_a_fabric_that_is_being_typed_is_judged_before_it_is_kept(inside: Asking) -> None:
    answer = inside.post("/api/fabrics/one", {"name": "night", "colour": "navy", "stripes": "45"}).json()
    assert (answer["colour"], answer["reads"], answer["print"]) == ("#000080", "dark, cool", "stripes at 45°")
    refused = inside.post("/api/fabrics/one", {"name": "night", "colour": "#12"})
    assert refused.status_code == 422
    assert re.search("colour should stand here", refused.json()["error"]["text"])


def test_fabrics_are_kept_as_a_palette_that_other_blocks_can_wear(inside: Asking) -> None:
    text = (DESIGNS / "compass-star.seams").read_text()
    made = inside.post("/api/fabrics/palette", {"text": text}).json()["text"]
    palette = palette_of(made.encode(), "kept.palette")
    drawing = read_seams(text, name="star", file="star.seams")
    assert (palette.fabrics, palette.colourways) == (drawing.fabrics, drawing.colourways)
    refused = inside.post("/api/fabrics/palette", {"text": "seamwright quilt 1\n"})
    assert refused.status_code == 422


def test_a_drawing_of_another_kind_tells_the_fabrics_found_in_it() -> None:
    path = DESIGNS / "storm-rose.svg"
    found = fabrics_on(str(path), path.read_text(), ())
    from seamwright.block.make import make_block
    from seamwright.drawing.read import read_drawing

    copy = fabrics_on(str(path.with_suffix(".seams")), write_seams(make_block(read_drawing(path))), ())
    assert [fabric["fill"] for fabric in found["fabrics"]] == [fabric["fill"] for fabric in copy["fabrics"]]
