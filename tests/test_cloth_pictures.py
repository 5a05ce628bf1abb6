"""Pictures of blocks in their fabrics, and the command that tells of them: areas against GEOS, light by WCAG 2."""

from __future__ import annotations

import json
from dataclasses import replace
from pathlib import Path

import pytest
import shapely
from shapely.geometry import Polygon, box

import seamwright
from seamwright.block.model import Block
from seamwright.cli import main
from seamwright.fabric.contrast import ratio
from seamwright.fabric.luminance import luminance
from seamwright.fabric.model import Fabric, Value
from seamwright.ink.lettering import words_box
from seamwright.ink.model import Area, Stroke, Words
from seamwright.picture.cloth import NAME_SIZES_PT, Finish, block_picture
from seamwright.picture.fabrics import fabrics_sheet
from seamwright.picture.model import Picture
from seamwright.picture.stripes import printed_on
from seamwright.picture.tints import CHALK, INK, QUIET, TINTS, on
from seamwright.words.fabrics import share_words
from support.exact import exact_block
from support.prints import DESIGNS, designs, planned

SMALL = 1.5
HALVES = [((3, 0), (3, 6))]


def areas_of(picture: Picture, of: int) -> list[Polygon]:
    """What the first areas of a picture fill: one for each patch in a block without stripes."""
    found = [ink for ink in picture.inks if isinstance(ink, Area)][:of]
    return [Polygon(ink.rings[0], ink.rings[1:]) for ink in found]


def striped(block: Block, direction_deg: float, *, stripes: bool = True) -> Block:
    """The block with its first patch of a striped or one-way fabric and all others of a plain one."""
    cloth = Fabric("cloth", colour="#4f8196", direction_deg=direction_deg, striped=stripes)
    patches = tuple(replace(p, fabric="plain" if n else "cloth") for n, p in enumerate(block.patches))
    return replace(block, patches=patches, fabrics=(cloth, Fabric("plain", colour="#f4f1ea")))


# -- the block -------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("finish", Finish, ids=lambda finish: finish.value)
@pytest.mark.parametrize("path", designs(), ids=lambda path: path.stem)
def test_pictures_are_true_to_the_seams(path: Path, finish: Finish):
    block = planned(path).block
    picture = block_picture(block, 4.0, finish)
    assert max(picture.width_in, picture.height_in) == pytest.approx(4.0)
    drawn = areas_of(picture, len(block.patches))
    true = [Polygon(block.patch_ring(n), block.patch_holes(n)) for n in range(len(block.patches))]
    scale = sum(a.area for a in drawn) / sum(a.area for a in true)
    for one, other in zip(drawn, true, strict=True):
        assert one.area == pytest.approx(other.area * scale, rel=1e-9)
    # Together they are the block, and nothing lies over anything else.
    whole = shapely.union_all(drawn)
    assert whole.area == pytest.approx(sum(a.area for a in drawn), rel=1e-9)
    pen = max(ink.pen.value.width_pt for ink in picture.inks if isinstance(ink, Stroke)) / 72
    page = box(0, 0, picture.width_in, picture.height_in)
    assert page.buffer(1e-9).contains(whole.buffer(pen / 2 - 1e-9))  # pens are round at corners


@pytest.mark.parametrize("path", designs(), ids=lambda path: path.stem)
def test_greys_give_as_much_light_as_the_colours(path: Path):
    block = planned(path).block
    colours, greys = (
        [ink.colour for ink in block_picture(block, 4.0, finish).inks if isinstance(ink, Area)]
        for finish in (Finish.COLOUR, Finish.GREY)
    )
    known = {fabric.name: fabric.colour for fabric in block.fabrics}
    for patch, colour, grey in zip(block.patches, colours, greys, strict=False):
        if known.get(patch.fabric or ""):
            assert colour == known[patch.fabric or ""]
            assert grey[1:3] == grey[3:5] == grey[5:7]
            assert luminance(grey) == pytest.approx(luminance(colour), abs=0.0045)  # half the widest step of 256
        else:
            assert colour in TINTS


def test_a_value_alone_has_a_grey_and_what_is_not_known_stays_white():
    block = exact_block([*HALVES, ((0, 3), (3, 3))])
    fabrics = (Fabric("night", value=Value.DARK), Fabric("day", value=Value.LIGHT), Fabric("some"))
    patches = tuple(replace(p, fabric=f.name) for p, f in zip(block.patches, fabrics, strict=True))
    picture = block_picture(replace(block, patches=patches, fabrics=fabrics), 2.0, Finish.GREY)
    dark, light, unknown = (ink.colour for ink in picture.inks if isinstance(ink, Area))
    assert luminance(dark) < 0.06 < 0.4 < luminance(light) < 1  # L* 25 and 75
    assert unknown.upper() == "#FFFFFF"


def test_a_seam_between_greys_that_read_alike_does_not_part_them():
    block = planned(DESIGNS / "spinnaker.seams").block
    inks = block_picture(block, 4.0, Finish.GREY).inks
    lines = [ink for ink in inks if isinstance(ink, Stroke) and not ink.closed]
    grounds = [ink.colour for ink in inks if isinstance(ink, Area)]
    inner = [edge for edge in block.edges if edge.seam >= 0]
    for line, edge in zip(lines, inner, strict=True):
        low, high = sorted(luminance(grounds[side]) for side in (edge.left, edge.right))
        assert low - 0.0045 <= luminance(line.colour) <= high + 0.0045


def test_a_page_to_colour_in_has_lines_alone():
    picture = block_picture(planned(DESIGNS / "compass-star.seams").block, 7.0, Finish.BLANK)
    assert {ink.colour.upper() for ink in picture.inks if isinstance(ink, Area)} == {"#FFFFFF"}
    assert {ink.colour for ink in picture.inks if isinstance(ink, Stroke)} == {INK}


@pytest.mark.parametrize("finish", Finish, ids=lambda finish: finish.value)
@pytest.mark.parametrize("side", [SMALL, 5.0])
def test_words_stand_in_their_patches_and_can_be_read(side: float, finish: Finish):
    block = planned(DESIGNS / "mooring-star.seams").block
    names = [patch.fabric or "" for patch in block.patches]
    picture = block_picture(block, side, finish, names=names)
    areas = areas_of(picture, len(block.patches))
    grounds = [ink.colour for ink in picture.inks if isinstance(ink, Area)]
    words = [ink for ink in picture.inks if isinstance(ink, Words)]
    for one in words:
        (patch,) = (n for n, area in enumerate(areas) if area.contains(Polygon(words_box(one))))
        assert one.text == names[patch]
        assert one.size_pt >= min(NAME_SIZES_PT)
        assert ratio(one.colour, grounds[patch]) >= 4.5  # WCAG 2.2, success criterion 1.4.3
    assert (len(words) < len(names)) if side == SMALL else words


@pytest.mark.parametrize("direction", [0, 30, 90, 135])
@pytest.mark.parametrize("stripes", [True, False], ids=["stripes", "one way"])
def test_stripes_run_in_their_direction_and_keep_to_their_patch(direction: float, stripes: bool):
    block = striped(exact_block([((0, 6), (6, 0))]), direction, stripes=stripes)
    picture = block_picture(block, 3.0, Finish.COLOUR)
    (cloth,) = areas_of(picture, 1)
    inks = [ink for ink in picture.inks if isinstance(ink, Area) and ink.colour not in ("#4f8196", "#f4f1ea")]
    shades = [Polygon(ink.rings[0]) for ink in inks]
    assert shades
    for shade in shades:
        assert cloth.buffer(1e-9).contains(shade)
    if stripes:
        # Turned back by the direction, a stripe is a level band.
        middle = max(shades, key=lambda shade: shade.area)
        left, top, right, bottom = shapely.affinity.rotate(middle, -direction, origin=(0, 0)).bounds
        assert bottom - top == pytest.approx(0.04, abs=1e-6)  # the share of a stripe in a tenth of an inch
        assert right - left > 1
    assert block_picture(block, 3.0, Finish.BLANK) == block_picture(
        striped(exact_block([((0, 6), (6, 0))]), 77, stripes=stripes), 3.0, Finish.BLANK
    )


def test_words_of_pictures_can_be_read_on_their_ground():
    # WCAG 2.2, success criterion 1.4.3: 4.5 to 1.
    assert min(ratio(CHALK, colour) for colour in (INK, QUIET)) >= 4.5
    assert all(ratio(tint, on(tint)) >= 4.5 for tint in TINTS)


# -- the sheet, the calls and the command ----------------------------------------------------------------------


@pytest.mark.parametrize("path", designs(), ids=lambda path: path.stem)
def test_every_fabric_has_a_swatch_with_its_name_and_how_it_reads(path: Path):
    cloths = seamwright.fabrics(planned(path))
    picture = fabrics_sheet([cloths])
    said = " ".join(ink.text for ink in picture.inks if isinstance(ink, Words))
    for wear in cloths.worn.wear:
        assert wear.fabric.name in said
        if wear.value is not None:
            assert wear.value.value in said
    for ink in picture.inks:
        if isinstance(ink, Words):
            assert ink.size_pt >= 8
            left, top, right, bottom = Polygon(words_box(ink)).bounds
            assert min(left, top) > 0.3
            assert right < picture.width_in - 0.3
            assert bottom < picture.height_in


def test_points_that_vanish_are_ringed_in_both_pictures():
    cloths = seamwright.fabrics(planned(DESIGNS / "spinnaker.seams"))
    rings = [ink for ink in fabrics_sheet([cloths]).inks if isinstance(ink, Stroke) and len(ink.points) > 20]
    assert len(rings) == 2 * 2 * len({lost.at for lost in cloths.lost}) > 0


@pytest.mark.parametrize(("share", "told"), [(0.314, "31 %"), (1.0, "100 %"), (0.0099, "under 1 %"), (0.01, "1 %")])
def test_shares_are_told_in_whole_per_cent(share: float, told: str):
    assert share_words(share) == told


@pytest.fixture
def _elsewhere(tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    monkeypatch.chdir(tmp_path)
    text = (DESIGNS / "spinnaker.seams").read_text()
    Path("sail.seams").write_text(text + "\ncolourway storm fog becomes ink\n")
    Path("bare.seams").write_text("seamwright block 1\nname bare\nsize 6 in\nseam 0, 3 to 6, 3\n")
    Path("bad.seams").write_text("no drawing")


@pytest.mark.usefixtures("_elsewhere")
def test_the_command_tells_the_verdict_first_and_a_row_for_each_fabric(capsys: pytest.CaptureFixture[str]):
    assert main(["fabrics", "sail.seams"]) == 0
    first, *lines = capsys.readouterr().out.splitlines()
    assert first.startswith("sail.seams: spinnaker, 10 x 10 in. 3 points vanish, in ")
    assert any(line.split()[:4] == ["chalk", "C", "light,", "warm"] for line in lines)
    assert any("Light, medium and dark are all there" in line for line in lines)
    assert any("fog and chalk 1.19 to 1 (they read alike)" in line for line in lines)
    # Dark allowance under light patches, within sections and across joins.
    assert any("Trim the dark allowance a thread narrower" in line for line in lines)
    assert any("Dark allowance would show through light patches" in line for line in lines)
    assert len(lines) < 18
    assert main(["fabrics", "bare.seams"]) == 0
    assert "No patch has a fabric" in capsys.readouterr().out


@pytest.mark.usefixtures("_elsewhere")
def test_the_command_speaks_json_for_each_colourway(capsys: pytest.CaptureFixture[str]):
    assert main(["fabrics", "sail.seams", "bad.seams", "--colourway", "all", "--json"]) == 2
    own, storm, bad = json.loads(capsys.readouterr().out)
    assert [own["block"]["colourway"], storm["block"]["colourway"]] == [None, "storm"]
    assert (len(own["vanishing"]), len(storm["vanishing"])) == (3, 0)
    assert own["neighbours"][0]["fabrics"] == ["fog", "chalk"]
    assert own["neighbours"][0]["alike"] is True
    assert sum(fabric["share"] for fabric in own["fabrics"]) == pytest.approx(1)
    names = {name for fabric in own["fabrics"] for name in fabric["patches"]}
    assert {name for lost in own["vanishing"] for name in [*lost["patches"], *lost["beside"]]} <= names
    assert own["values"] == {"light": True, "medium": True, "dark": True}
    assert "error" in bad


@pytest.mark.usefixtures("_elsewhere")
def test_the_command_writes_one_picture_with_a_row_for_each_colourway(capsys: pytest.CaptureFixture[str]):
    heights = []
    for ways in ("own", "all"):
        assert main(["fabrics", "sail.seams", "--colourway", ways, "-o", f"{ways}.svg"]) == 0
        text = Path(f"{ways}.svg").read_text()
        heights.append(float(text.partition('height="')[2].partition("in")[0]))
    assert heights[1] > 1.8 * heights[0]
    assert main(["fabrics", "sail.seams", "-o", "sail.png"]) == 0
    assert Path("sail.png").read_bytes().startswith(b"\x89PNG")
    first = Path("own.svg").read_bytes()
    assert (
        main(["fabrics", "sail.seams", "--colourway", "own", "-o", "own.svg"]) == 0
    )  # our own, from the same drawing
    assert Path("own.svg").read_bytes() == first
    capsys.readouterr()
    assert main(["fabrics", "sail.seams", "bad.seams", "-o", "both.svg"]) == 2
    assert "both.svg was not written" in capsys.readouterr().err
    assert not Path("both.svg").exists()


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (["sail.seams", "-o", ""], "where should the picture go?"),
        (["sail.seams", "-o", "sail.pdf"], "Let its name end in .svg or .png"),
        (["sail.seams", "-o", "sail.seams"], "Let its name end in"),
        ([], "which drawing?"),
        (["nothing.seams"], "nothing.seams"),
        (["sail.seams", "--colourway", "dusk"], "no colourway is called 'dusk'"),
    ],
)
@pytest.mark.usefixtures("_elsewhere")
def test_a_slip_is_told_in_a_sentence(words: list[str], told: str, capsys: pytest.CaptureFixture[str]):
    assert main(["fabrics", *words]) == 2
    assert told in capsys.readouterr().err


def test_fabrics_that_hue_alone_parts_are_told(capsys: pytest.CaptureFixture[str]):
    # Looked at: the spray of the tide chart stands out from its sand in colour, and is lost in greys.
    assert main(["fabrics", str(DESIGNS / "tide-chart.seams")]) == 0
    told = capsys.readouterr().out
    assert "No point vanishes." in told
    assert "Told apart by hue and not by value: sand and spray." in told


@pytest.mark.usefixtures("_elsewhere")
def test_a_block_that_is_stuck_wears_fabrics_too(capsys: pytest.CaptureFixture[str]):
    assert main(["fabrics", str(DESIGNS / "breakwater.seams")]) == 0
    assert "stone" in capsys.readouterr().out


@pytest.mark.parametrize("direction_deg", [0.0, 30.0, 45.0, 90.0, 135.0, 153.4])
@pytest.mark.parametrize("striped", [True, False])
def test_no_stripe_is_thinner_than_a_file_can_hold(direction_deg: float, striped: bool) -> None:
    """A stripe that ended in a corner left a spot of no size there, and its booklet was refused."""
    fabric = Fabric("awning", direction_deg=direction_deg, striped=striped)
    for k in range(60):
        side = 0.5 + k / 40
        for ring in (((0.0, 0.0), (side, 0.0), (side, side)), ((0.0, side), (side / 2, 0.0), (side, side))):
            for ink in printed_on(fabric, [ring], "#d8b27a", 4.0):
                assert isinstance(ink, Area)
                shape = Polygon(ink.rings[0], ink.rings[1:])
                assert 2 * shape.area > 0.0009 * shape.length
