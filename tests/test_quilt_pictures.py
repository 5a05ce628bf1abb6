"""Pictures of whole quilts: measured in dots by what did not draw them.

Places are worked out here with bare coordinates, areas with shapely, light with the formula of WCAG 2.2; dots come
from cairosvg, of pages from pdfium.
"""

from __future__ import annotations

import io
import math
import re
import shutil
import subprocess
from dataclasses import replace
from pathlib import Path

import numpy as np
import numpy.typing as npt
import pypdfium2
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from PIL import Image
from shapely.geometry import LineString, MultiLineString, Polygon, box
from shapely.ops import unary_union

from seamwright import quiltpictures, quilts
from seamwright.drawing.textform import write_seams
from seamwright.errors import FileError, OptionError
from seamwright.fabric.model import Fabric
from seamwright.geometry import signed_area
from seamwright.ink.model import Area, Pen, Stroke
from seamwright.ink.png import to_png
from seamwright.ink.svg import to_svg
from seamwright.ink.window import seen_through
from seamwright.picture.cloth import Finish
from seamwright.picture.joints import joints
from seamwright.picture.quilt import quilt_picture, quilt_repeated
from seamwright.picture.quiltsheet import ARM_IN, arms_length
from seamwright.picture.quiltview import QuiltView, shown_box
from seamwright.quilt.model import Quilt
from seamwright.quiltpictures import quilt_svg
from seamwright.words.quiltpictures import greys_words
from support.random_blocks import cut_block, large_cut_block

Dots = npt.NDArray[np.int64]
DPI = 150
TURNS = [(quarters, mirrored) for mirrored in (False, True) for quarters in range(4)]


def colour(number: int) -> str:
    """Colours that differ by more than any blur of two neighbours hides."""
    return f"#{40 + number * 53 % 200:02x}{40 + number * 97 % 200:02x}{40 + number * 151 % 200:02x}"


def lopsided(folder: Path, patches: int = 7, size: float = 6.0) -> Path:
    """A block that no turn maps onto itself: every patch is of its own fabric."""
    block = cut_block(3, patches)
    fabrics = tuple(Fabric(f"cloth {n}", colour=colour(n)) for n in range(len(block.patches)))
    worn = tuple(replace(patch, fabric=fabrics[n].name) for n, patch in enumerate(block.patches))
    path = folder / "lopsided.seams"
    path.write_text(write_seams(replace(block, patches=worn, fabrics=fabrics)), encoding="utf-8")
    return path


def plain_block(folder: Path, shade: str, stripes: str = "") -> None:
    """A block of one fabric called sea, with one seam near its left side."""
    fabric = f"fabric sea colour {shade} {stripes}".rstrip()
    lines = ("seamwright block 1", "name calm", "size 6 in", "grid 12", "seam 1, 0 to 1, 12", fabric)
    text = "\n".join([*lines, "lay sea at 1/2, 6 and 6, 6"])
    (folder / "calm.seams").write_text(f"{text}\n", encoding="utf-8")


def quilt(folder: Path, *lines: str) -> Quilt:
    path = folder / "watch.setting"
    path.write_text("\n".join(["seamwright quilt 1", "name watch", *lines]) + "\n", encoding="utf-8")
    return quilts.read_quilt(path)


def all_turns(folder: Path) -> Quilt:
    lopsided(folder)
    rows = [
        "row " + ", ".join(f"chart {90 * q}{' reversed' * mirrored}" for q, mirrored in TURNS[k : k + 4])
        for k in (0, 4)
    ]
    return quilt(folder, "block chart lopsided.seams size 6 in", *rows, "binding none")


def dots_of(svg: str, dpi: int = DPI) -> Dots:
    return np.asarray(Image.open(io.BytesIO(to_png(svg, dpi))).convert("RGB"), dtype=np.int64)


def both_forms(made: Quilt, longest: float, finish: Finish = Finish.COLOUR) -> list[Dots]:
    """The picture as ink, as pages and booklets have it, and with each block written once, as files have it."""
    picture = quilt_picture(made, longest, finish)
    repeated, view = quilt_repeated(made, longest, finish)
    return [
        dots_of(to_svg(picture.inks, picture.width_in, picture.height_in)),
        dots_of(to_svg((), view.width, view.height, repeated=repeated)),
    ]


def rgb(text: str) -> tuple[int, ...]:
    return tuple(int(text[k : k + 2], 16) for k in (1, 3, 5))


def laid(made: Quilt, number: int) -> list[tuple[Polygon, str]]:
    """The patches of one of the eight cells of `all_turns`, by bare coordinates, and their colours."""
    original = next(look.block for look in made.looks if not look.reversed)
    side = original.width_in
    quarters, mirrored = TURNS[number]
    found = []
    for n, patch in enumerate(original.patches):
        points = original.patch_ring(n)
        if mirrored:
            points = tuple((side - x, y) for x, y in points)
        for _ in range(quarters):  # clockwise as seen: what was at the top comes to lie at the right
            points = tuple((side - y, x) for x, y in points)
        ring = Polygon([(x + number % 4 * side, y + number // 4 * side) for x, y in points])
        worn = next(fabric for fabric in original.fabrics if fabric.name == patch.fabric)
        assert worn.colour is not None
        found.append((ring, worn.colour))
    return found


def test_blocks_lie_in_all_eight_turns_where_they_should(tmp_path: Path):
    made = all_turns(tmp_path)
    view = QuiltView.of(made, 6.0)
    for dots in both_forms(made, 6.0):
        for number in range(8):
            for ring, worn in laid(made, number):
                inside = ring.buffer(-0.05 * math.sqrt(ring.area)).representative_point()
                (x, y), *_ = view.line([(inside.x, inside.y)])
                assert tuple(dots[int(y * DPI), int(x * DPI)]) == rgb(worn), TURNS[number]


def test_each_colour_covers_the_area_of_its_patches(tmp_path: Path):
    made = all_turns(tmp_path)
    view = QuiltView.of(made, 6.0)
    rings: dict[str, list[Polygon]] = {}
    for number in range(8):
        for ring, worn in laid(made, number):
            rings.setdefault(worn, []).append(Polygon(view.line(list(ring.exterior.coords))))
    half = Pen.RULE.value.width_pt / 72 / 2 + 1.5 / DPI  # of a seam, and a dot that holds some of two colours
    for dots in both_forms(made, 6.0):
        for worn, some in rings.items():
            counted = (dots == rgb(worn)).all(axis=2).sum() / DPI**2
            assert sum(ring.buffer(-half).area for ring in some) <= counted <= sum(ring.area for ring in some)


def test_both_forms_of_a_picture_show_the_same(tmp_path: Path):
    made = quilt(
        tmp_path,
        f"block chart {lopsided(tmp_path).name} size 6 in",
        "set on point",
        "row chart, chart 90, chart",
        "row chart 180, chart reversed",
        "row chart, chart 90, chart",
        "triangles sea",
        "sashing 1 in foam cornerstones ink",
        "border 2 in sea mitred",
        "binding ink",
        "fabric sea colour #2c6e8f stripes 30",
        "fabric foam colour #eef3f4",
        "fabric ink colour #14213d",
    )
    one, two = both_forms(made, 6.0)
    assert one.shape == two.shape
    # Cairo blurs the edges of lines a little otherwise in long paths than in short ones.
    apart = np.abs(one - two).max(axis=2)
    assert apart.mean() < 1.5 and (apart > 60).mean() < 0.01


@pytest.mark.parametrize("shade", ["#2c6e8f", "#c9a24b", "#eef3f4", "#14213d", "#d97b66"])
def test_greys_give_as_much_light_as_colours(tmp_path: Path, shade: str):
    plain_block(tmp_path, shade)
    made = quilt(tmp_path, "block calm calm.seams size 6 in", "row calm", "binding none")
    found = []
    for finish in (Finish.COLOUR, Finish.GREY):
        dots = both_forms(made, 2.0, finish)[1]
        found.append(dots[dots.shape[0] // 2, dots.shape[1] // 2])
    assert tuple(found[0]) == rgb(shade)
    assert len(set(found[1].tolist())) == 1
    # One of 256 greys: half a step of it, at the slope of the transfer function, is the most it may be off.
    assert light(found[1]) == pytest.approx(light(found[0]), abs=0.005)


def light(dot: npt.NDArray[np.int64]) -> float:
    """Relative luminance: WCAG 2.2, "relative luminance"."""
    parts = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in dot / 255]
    return float(np.dot(parts, (0.2126, 0.7152, 0.0722)))


@pytest.mark.parametrize(("shade", "darker"), [("#eef3f4", True), ("#c9a24b", True), ("#14213d", False)])
def test_the_seam_between_blocks_of_one_fabric_is_seen(tmp_path: Path, shade: str, darker: bool):
    plain_block(tmp_path, shade)
    made = quilt(tmp_path, "block calm calm.seams size 6 in", "row calm, calm", "row calm, calm", "binding none")
    for dots in both_forms(made, 4.0):
        middle, quarter = dots.shape[1] // 2, dots.shape[0] // 3
        for across in (dots[quarter, middle - 3 : middle + 4], dots[middle - 3 : middle + 4, quarter]):
            values = [light(dot) for dot in across]
            extreme = min(values) if darker else max(values)
            assert (extreme < 0.7 * values[0]) if darker else (extreme > 1.5 * values[0])


def test_many_small_patches_do_not_turn_into_a_mesh_of_lines(tmp_path: Path):
    block = large_cut_block(1, 80, size=8.0)
    foam = Fabric("foam", colour="#eef3f4")
    worn = replace(block, patches=tuple(replace(p, fabric="foam") for p in block.patches), fabrics=(foam,))
    (tmp_path / "large.seams").write_text(write_seams(worn), encoding="utf-8")
    many = quilt(tmp_path, "block large large.seams size 8 in", "row large", "repeat 8 x 8", "binding none")
    few = quilt(tmp_path, "block large large.seams size 8 in", "row large", "binding none")
    # As small as four hundred of them on a page of Letter.
    small, large = both_forms(many, 8 * 6.5 / 20)[1], both_forms(few, 6.5)[1]
    assert np.abs(small[5:-5, 5:-5].mean(axis=(0, 1)) - rgb("#eef3f4")).max() < 16
    assert large[5:-5, 5:-5].min() < 60  # drawn large, its seams are lines of ink


def test_stripes_turn_with_their_block(tmp_path: Path):
    plain_block(tmp_path, "#2c6e8f", "stripes 0")
    made = quilt(tmp_path, "block calm calm.seams size 6 in", "row calm, calm 90", "binding none")
    for dots in both_forms(made, 6.0):
        half = dots.shape[1] // 2
        # A seam lies half an inch from one side of each.
        level, upright = dots[60:-60, 60 : half - 60, 0], dots[60:-60, half + 60 : -60, 0]
        assert level.std(axis=1).max() == 0 < level.std(axis=0).min()
        assert upright.std(axis=0).max() == 0 < upright.std(axis=1).min()


def test_the_binding_lies_outside_of_the_finished_edge(tmp_path: Path):
    plain_block(tmp_path, "#2c6e8f")
    lines = ("block calm calm.seams size 6 in", "row calm", "binding brass", "fabric brass colour #c9a24b")
    made = quilt(tmp_path, *lines)
    # As wide as the seam allowance of 1/4 in along which it is sewn on (common practice).
    assert shown_box(made) == (-0.25, -0.25, 6.25, 6.25)
    for dots in both_forms(made, 6.5):
        view = QuiltView.of(made, 6.5)
        for at, worn in (((3.0, -0.12), "#c9a24b"), ((6.12, 3.0), "#c9a24b"), ((3.0, 0.12), "#2c6e8f")):
            (x, y), *_ = view.line([at])
            assert tuple(dots[int(y * DPI), int(x * DPI)]) == rgb(worn)


def test_arms_length_shows_24_in_round_a_place_where_blocks_meet(tmp_path: Path):
    plain_block(tmp_path, "#2c6e8f")
    made = quilt(tmp_path, "block calm calm.seams size 6 in", "row calm", "repeat 9 x 11")
    part = arms_length(made)
    assert part is not None
    left, top, right, bottom = part
    assert (right - left, bottom - top) == pytest.approx((ARM_IN, ARM_IN))
    assert [(left + right) / 2 % 6, (top + bottom) / 2 % 6] == pytest.approx([0, 0])
    metric = replace(made, setting=replace(made.setting, options=(("units", "metric"),)))
    shown = arms_length(metric)
    assert shown is not None and (shown[2] - shown[0]) * 2.54 == pytest.approx(60)


def test_a_small_quilt_is_shown_once(tmp_path: Path):
    plain_block(tmp_path, "#2c6e8f")
    made = quilt(tmp_path, "block calm calm.seams size 6 in", "row calm", "repeat 3 x 3")
    assert arms_length(made) is None


def test_a_part_shows_what_the_whole_shows_there(tmp_path: Path):
    made = all_turns(tmp_path)
    part = (4.0, 2.0, 20.0, 10.0)
    picture = quilt_picture(made, 6.0, Finish.COLOUR, part)
    repeated, view = quilt_repeated(made, 6.0, Finish.COLOUR, part=part)
    for svg in (
        to_svg(picture.inks, picture.width_in, picture.height_in),
        to_svg((), view.width, view.height, repeated=repeated),
    ):
        assert probed_part(made, dots_of(svg), view, part) > 20


def probed_part(made: Quilt, dots: Dots, view: QuiltView, part: tuple[float, float, float, float]) -> int:
    """How many patches, or parts of them, have their colour where a window shows them."""
    probed = 0
    for number in range(8):
        for ring, worn in laid(made, number):
            seen = ring.intersection(box(*part)).buffer(-0.2)
            if not seen.is_empty:
                inside = seen.representative_point()
                (x, y), *_ = view.line([(inside.x, inside.y)])
                assert tuple(dots[int(y * DPI), int(x * DPI)]) == rgb(worn)
                probed += 1
    return probed


def test_each_block_is_written_once_however_often_it_comes(tmp_path: Path):
    lopsided(tmp_path)
    counts = []
    for repeat in ("4 x 4", "16 x 16"):
        made = quilt(tmp_path, "block chart lopsided.seams size 6 in", "row chart, chart 90", f"repeat {repeat}")
        counts.append(len(re.findall("<path", quilt_svg(made))))
    # Seams between blocks may take a colour more or less.
    assert counts[1] == pytest.approx(counts[0], rel=0.1)


def test_files_are_the_same_byte_for_byte_and_pages_are_read_back(tmp_path: Path):
    made = all_turns(tmp_path)
    for ending in ("svg", "png", "pdf"):
        path = tmp_path / f"watch.{ending}"
        quiltpictures.write_quilt_picture(path, made)
        first = path.read_bytes()
        quiltpictures.write_quilt_picture(path, made)
        assert path.read_bytes() == first
    pages = pypdfium2.PdfDocument(tmp_path / "watch.pdf")
    assert len(pages) == 2  # colour and greys; 24 x 12 in is seen at once
    assert "24 x 12 in finished" in pages[0].get_textpage().get_text_range()


def test_pages_show_the_blocks_where_they_lie(tmp_path: Path):
    made = all_turns(tmp_path)
    quiltpictures.write_quilt_picture(tmp_path / "watch.pdf", made)
    page = pypdfium2.PdfDocument(tmp_path / "watch.pdf")[0]
    dots = np.asarray(page.render(scale=DPI / 72).to_pil().convert("RGB"), dtype=np.int64)
    # The picture is found by its colours; all lies within it in proportion.
    inked = np.argwhere((dots.max(axis=2) - dots.min(axis=2)) > 30)
    (top, left), (_, right) = inked.min(axis=0), inked.max(axis=0)
    scale = (right - left) / made.width_in
    for number in range(8):
        for ring, worn in laid(made, number):
            inside = ring.buffer(-0.05 * math.sqrt(ring.area)).representative_point()
            found = dots[int(top + inside.y * scale), int(left + inside.x * scale)]
            assert np.abs(found - rgb(worn)).max() <= 2


def test_nothing_is_written_over_what_a_quilt_is_made_from(tmp_path: Path):
    made = all_turns(tmp_path)
    (tmp_path / "foreign.svg").write_text("<svg/>", encoding="utf-8")
    with pytest.raises(FileError):
        quiltpictures.write_quilt_picture(tmp_path / "foreign.svg", made)
    quiltpictures.write_quilt_picture(tmp_path / "foreign.svg", made, force=True)
    with pytest.raises(OptionError, match=r"\.pdf, \.svg or \.png"):
        quiltpictures.write_quilt_picture(tmp_path / "watch.setting", made, force=True)


def test_edges_that_are_parted_differently_meet_in_lines_drawn_once():
    square = [(0.0, 0.0), (4.0, 0.0), (4.0, 4.0), (0.0, 4.0)]
    small = [(4.0, 0.0), (6.0, 0.0), (6.0, 1.5), (4.0, 1.5)]
    tall = [(4.0, 1.5), (6.0, 1.5), (6.0, 4.0), (4.0, 4.0)]
    rims = [
        (ring[k], ring[(k + 1) % 4], number) for number, ring in enumerate((square, small, tall)) for k in range(4)
    ]
    ends, left, right = joints(np.array([[a, b] for a, b, _ in rims]), [number for *_, number in rims])
    drawn = MultiLineString([tuple(map(tuple, line)) for line in ends.tolist()])
    union = unary_union([LineString([a, b]) for a, b, _ in rims])
    assert drawn.length == pytest.approx(union.length)
    assert union.difference(drawn.buffer(1e-6)).length == 0
    meeting = {frozenset(pair) for pair in zip(left.tolist(), right.tolist(), strict=True)}
    assert {frozenset((0, 1)), frozenset((0, 2)), frozenset((1, 2))} <= meeting


points = st.tuples(st.integers(-8, 24), st.integers(-8, 24))


@settings(max_examples=60)
@given(st.lists(points, min_size=3, max_size=7))
def test_what_is_seen_through_a_window_is_the_part_inside_it(ring: list[tuple[int, int]]):
    window = (0.0, 0.0, 16.0, 16.0)
    shape, line = Polygon(ring), LineString([*ring, ring[0]])
    if shape.is_valid and shape.area > 0:
        seen = [mark for mark in seen_through([Area((tuple(ring),), "#000000")], window) if isinstance(mark, Area)]
        area = sum(abs(signed_area(part)) for mark in seen for part in mark.rings)
        assert area == pytest.approx(shape.intersection(box(*window)).area)
    if line.length > 0:
        strokes = seen_through([Stroke(Pen.RULE, tuple(ring), closed=True)], window)
        length = sum(
            LineString([*mark.points, *mark.points[: mark.closed]]).length
            for mark in strokes
            if isinstance(mark, Stroke)
        )
        sides = zip(ring, [*ring[1:], ring[0]], strict=True)
        inside = [LineString(side).intersection(box(*window)).length for side in sides if side[0] != side[1]]
        assert length == pytest.approx(sum(inside))


@pytest.mark.long
@pytest.mark.skipif(shutil.which("chromium") is None, reason="no browser here")
def test_a_browser_shows_what_cairo_shows(tmp_path: Path):
    made = all_turns(tmp_path)
    quiltpictures.write_quilt_picture(tmp_path / "watch.svg", made)
    ours = dots_of((tmp_path / "watch.svg").read_text(encoding="utf-8"), 96)
    shot = tmp_path / "shot.png"
    size = f"--window-size={ours.shape[1]},{ours.shape[0]}"
    flags = ["--headless", "--no-sandbox", "--disable-gpu", "--hide-scrollbars", f"--user-data-dir={tmp_path}/b"]
    command = ["chromium", *flags, size, f"--screenshot={shot}", (tmp_path / "watch.svg").as_uri()]
    subprocess.run(command, check=True, capture_output=True, timeout=120)
    theirs = np.asarray(Image.open(shot).convert("RGB"), dtype=np.int64)[: ours.shape[0], : ours.shape[1]]
    apart = np.abs(ours - theirs).max(axis=2)
    assert apart.mean() < 4
    assert (apart > 60).mean() < 0.01


def test_bars_of_light_say_how_much_of_the_quilt_they_show() -> None:
    assert greys_words(1.0) == "How much of it is how light, by area"
    assert greys_words(0.42).endswith("by area, of the 42 % that are known")
