"""Pictures of a rehearsal, and the command that makes them."""

from __future__ import annotations

import json
import shutil
from pathlib import Path
from xml.etree import ElementTree

import pytest
from shapely.geometry import Polygon, box

from seamwright import api, picturing
from seamwright.claims.sewing import sewing_of
from seamwright.cli import main
from seamwright.errors import StuckError
from seamwright.ink.lettering import words_box
from seamwright.ink.model import Area, Pen, Stroke, Words
from seamwright.options import Units
from seamwright.picture.named import patch_colours
from seamwright.picture.tints import INK, SIGNAL, on
from seamwright.rehearsal.captions import CAUTIONS, cut_size
from seamwright.rehearsal.model import SewnStep
from seamwright.rehearsal.pictures import (
    HEIGHT_IN,
    LEFT,
    RIGHT,
    SMALL_PT,
    WIDTH_IN,
    RehearsalPicture,
    draw_rehearsal,
    file_stem,
    is_step_picture,
)
from seamwright.rehearsal.view import Panel
from support.prints import DESIGNS, planned

NAMES = ["kite.svg", "gull.svg", "lamp.seams", "mooring-star.seams"]


def pictures_of(name: str) -> tuple[RehearsalPicture, ...]:
    plan = planned(DESIGNS / name)
    return draw_rehearsal(plan.block.name, sewing_of(plan), api.rehearse(plan), patch_colours(plan))


DRAWN = {name: pictures_of(name) for name in NAMES}
every_picture = pytest.mark.parametrize(
    "picture", [p for drawn in DRAWN.values() for p in drawn], ids=lambda picture: picture.name
)


# -- what is on them -------------------------------------------------------------------------------------------


def test_there_is_one_for_each_step_one_for_each_section_trimmed_and_one_of_the_block():
    assert [picture.name for picture in DRAWN["kite.svg"]] == [
        "kite-01-A1", "kite-02-A2", "kite-03-A3", "kite-04-A4", "kite-05-A-trimmed",
        "kite-06-B1", "kite-07-B2", "kite-08-B3", "kite-09-B4", "kite-10-B-trimmed", "kite-11-joined",
    ]  # fmt: skip


@pytest.mark.parametrize("name", NAMES)
def test_names_sort_in_sewing_order(name: str):
    names = [picture.name for picture in DRAWN[name]]
    assert sorted(names) == names


@every_picture
def test_nothing_runs_off_the_page_and_no_type_is_tiny(picture: RehearsalPicture):
    page = box(0.15, 0.15, WIDTH_IN - 0.15, HEIGHT_IN - 0.1)
    for ink in picture.inks:
        if isinstance(ink, Words):
            assert ink.size_pt >= SMALL_PT
            assert page.contains(Polygon(words_box(ink))), ink.text
        else:
            points = ink.points if isinstance(ink, Stroke) else [p for ring in ink.rings for p in ring]
            assert all(page.contains(box(x, y, x, y)) for x, y in points)


@every_picture
def test_no_words_lie_on_other_words(picture: RehearsalPicture):
    boxes = [(ink, Polygon(words_box(ink))) for ink in picture.inks if isinstance(ink, Words)]
    for i, (one, area) in enumerate(boxes):
        for other, beside in boxes[i + 1 :]:
            assert not area.intersects(beside), f"{one.text} on {other.text}"


@every_picture
def test_words_and_drawing_keep_apart(picture: RehearsalPicture):
    """Titles, legends and captions stand above or below both panels."""
    drawn = [ink for ink in picture.inks if isinstance(ink, (Stroke, Area))]
    points = [p for ink in drawn for p in (ink.points if isinstance(ink, Stroke) else ink.rings[0])]
    top, bottom = min(y for _, y in points), max(y for _, y in points)
    for ink in picture.inks:
        if isinstance(ink, Words) and len(ink.text) > 8:
            low, high = words_box(ink)[0][1], words_box(ink)[2][1]
            assert high < top or low > bottom, ink.text


@pytest.mark.parametrize("name", NAMES)
def test_the_line_just_stitched_is_the_only_bold_one_and_nothing_is_in_the_signal_colour(name: str):
    for picture in DRAWN[name]:
        assert all(ink.colour != SIGNAL for ink in picture.inks)
        bold = [ink for ink in picture.inks if isinstance(ink, Stroke) and (ink.pen, ink.colour) == (Pen.BOLD, INK)]
        is_later_step = ": step " in picture.title and ": step 1 " not in picture.title
        assert len(bold) == is_later_step or picture.title.endswith("joined")


def luminance(colour: str) -> float:
    """Relative luminance as WCAG 2.2 defines it."""
    channels = [int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5)]
    linear = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in channels]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


@pytest.mark.parametrize("step", range(0, 256, 5))
def test_words_on_any_colour_have_the_contrast_of_wcag(step: int):
    # WCAG 2.2, success criterion 1.4.3: at least 4.5 to 1.
    for ground in (f"#{step:02x}{step:02x}{step:02x}", f"#{step:02x}4080", f"#40{step:02x}40", f"#f0{step:02x}20"):
        high, low = sorted((luminance(ground), luminance(on(ground))), reverse=True)
        assert (high + 0.05) / (low + 0.05) >= 4.5


def test_a_long_name_is_cut_to_its_page():
    plan = planned(DESIGNS / "kite.svg")
    name = "the block that we all made in the long week of rain at the harbour, " * 4
    for picture in draw_rehearsal(name, sewing_of(plan), api.rehearse(plan), patch_colours(plan)):
        title = next(ink for ink in picture.inks if isinstance(ink, Words) and ink.bold and ink.size_pt > 13)
        assert title.text.startswith("the block that we all made in the long week ")
        assert max(x for x, _ in words_box(title)) < WIDTH_IN - 0.4
        assert len(picture.name) < 100


def test_the_printed_side_is_the_mirror_image_of_the_front():
    """Every patch's fabric that is seen from the front lies mirrored on the other panel's side of the page."""
    (trimmed,) = [p for p in DRAWN["kite.svg"] if p.name == "kite-05-A-trimmed"]
    names = {}
    for ink in trimmed.inks:
        if isinstance(ink, Words) and ink.text in ("A1", "A3", "A4"):
            names.setdefault(ink.text, []).append(ink.at)
    for (left_x, left_y), (right_x, right_y) in names.values():
        assert left_y == pytest.approx(right_y, abs=0.15)
        assert LEFT[0] - left_x == pytest.approx(right_x - RIGHT[0], abs=0.15)


def test_cautions_stand_on_the_first_picture_and_on_no_other():
    first, *others = (" ".join(i.text for i in p.inks if isinstance(i, Words)) for p in DRAWN["kite.svg"])
    assert CAUTIONS[:30] in first
    assert not any(CAUTIONS[:30] in words for words in others)


@pytest.mark.parametrize(
    ("width", "height", "units", "said"),
    [
        (3.0, 1.75, Units.INCH, "3 x 1 3/4 in"),
        (3.0 + 1e-9, 1.7501, Units.INCH, "3 x 1 7/8 in"),  # rounding alone adds nothing; a hair more does
        (5.4497, 2.9749, Units.INCH, "5 1/2 x 3 in"),
        (5 / 2.54, 3.01 / 2.54, Units.METRIC, "5 x 3.5 cm"),
    ],
)
def test_pieces_are_cut_up_to_the_next_mark_of_the_ruler(width: float, height: float, units: Units, said: str):
    step = SewnStep("A1", 1, width, height, box(0, 0, 1, 1), None, None, None, ())
    assert cut_size(step, units) == said


def test_patches_of_one_fabric_have_one_colour_and_neighbours_without_fabric_differ():
    gull = planned(DESIGNS / "gull.svg")
    colours = patch_colours(gull)
    of_fabric: dict[str | None, set[str]] = {}
    for patch, name in zip(gull.block.patches, gull.patch_names(), strict=True):
        of_fabric.setdefault(patch.fabric, set()).add(colours[name])
    assert all(len(found) == 1 for fabric, found in of_fabric.items() if fabric)
    kite = planned(DESIGNS / "pennant.svg")
    bare = [p for p, patch in enumerate(kite.block.patches) if patch.fabric is None]
    names, tints = kite.patch_names(), patch_colours(kite)
    for edge in kite.block.edges:
        if edge.left in bare and edge.right in bare:
            assert tints[names[edge.left]] != tints[names[edge.right]]


@pytest.mark.parametrize(
    ("block", "stem"),
    [("kite", "kite"), ("Kite & tail", "Kite-tail"), ("../..", "block"), ("étoile 2", "étoile-2")],
)
def test_file_names_come_from_any_block_name(block: str, stem: str):
    assert file_stem(block) == stem
    assert is_step_picture(f"{stem}-01-A1.svg", block)
    assert not is_step_picture(f"{stem}.svg", block)
    assert not is_step_picture(f"{stem}-notes.svg", block)


# -- the calls and the command ---------------------------------------------------------------------------------


def test_the_call_for_pages_gives_names_and_whole_documents():
    plan = api.plan(api.read_block(DESIGNS / "kite.svg"))
    pictures = picturing.rehearsal_pictures(plan)
    assert [name for name, _ in pictures][:2] == ["kite-01-A1.svg", "kite-02-A2.svg"]
    for _, svg in pictures:
        root = ElementTree.fromstring(svg.encode())
        assert root.get("width") == f"{WIDTH_IN:g}in"
    assert pictures == picturing.rehearsal_pictures(plan)


def test_what_is_stuck_is_not_rehearsed():
    plan = api.plan(api.read_block(DESIGNS / "sea-urchin.svg"))
    with pytest.raises(StuckError):
        api.rehearse(plan)
    with pytest.raises(StuckError):
        api.foundations(plan)


def run(capsys: pytest.CaptureFixture[str], *words: str | Path) -> tuple[int, str, str]:
    code = main([str(word) for word in words])
    out, err = capsys.readouterr()
    return code, out, err


def test_check_rehearses_and_writes_a_picture_a_step_into_a_new_folder(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
):
    folder = tmp_path / "new" / "steps"
    code, out, _ = run(capsys, "check", DESIGNS / "kite.svg", "--rehearse", folder)
    assert code == 0
    assert len(list(folder.iterdir())) == 11
    assert "Rehearsed: 8 steps and 1 join sewn. What shows is what was drawn" in out
    assert f"{folder}, from kite-01-A1.svg to kite-11-joined.svg" in out
    assert out.count("Irons burn") == 1
    written = {path.name: path.read_bytes() for path in folder.iterdir()}
    assert all(b"made by seamwright from [kite.svg]" in content for content in written.values())
    # Once more: the same names, the same bytes, no complaint.
    assert run(capsys, "check", DESIGNS / "kite.svg", "--rehearse", folder)[0] == 0
    assert {path.name: path.read_bytes() for path in folder.iterdir()} == written


def test_json_tells_of_a_rehearsal_only_where_it_was_asked_for(tmp_path: Path, capsys: pytest.CaptureFixture[str]):
    _, out, _ = run(capsys, "check", "--json", DESIGNS / "kite.svg")
    assert "rehearsed" not in json.loads(out)[0]
    _, out, _ = run(capsys, "check", "--json", DESIGNS / "kite.svg", "--rehearse", tmp_path)
    rehearsed = json.loads(out)[0]["rehearsed"]
    assert rehearsed["steps"] == 8
    assert 0 <= rehearsed["largest_difference"] < 1e-6
    assert rehearsed["folder"] == str(tmp_path)
    assert sorted(rehearsed["pictures"]) == rehearsed["pictures"] == sorted(p.name for p in tmp_path.iterdir())


RING = """seamwright block 1
size 6 in
seam 2, 0 to 2, 4
seam 0, 4 to 4, 4
seam 4, 6 to 4, 2
seam 6, 2 to 2, 2
"""


@pytest.fixture
def ring_of_strips(tmp_path: Path) -> Path:
    """Four strips round a centre: stuck, unless one seam is sewn in two goes."""
    path = tmp_path / "ring.seams"
    path.write_text(RING)
    return path


def test_a_stuck_drawing_is_told_and_no_folder_is_made(
    ring_of_strips: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
):
    code, out, _ = run(capsys, "check", ring_of_strips, "--rehearse", tmp_path / "steps")
    assert code == 1
    assert "Not rehearsed" in out
    assert not (tmp_path / "steps").exists()
    _, out, _ = run(capsys, "check", "--json", ring_of_strips, "--rehearse", tmp_path / "steps")
    assert json.loads(out)[0]["rehearsed"] is None


def test_a_stuck_drawing_is_rehearsed_with_a_partial_seam(
    ring_of_strips: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
):
    code, out, _ = run(capsys, "check", ring_of_strips, "--set-in", "--rehearse", tmp_path / "steps")
    assert code == 0
    assert "Rehearsed: " in out
    assert "in two goes" in sorted((tmp_path / "steps").iterdir())[-1].read_text()


def test_a_file_of_someone_else_stops_all_before_anything_is_written(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
):
    (tmp_path / "kite-03-A3.svg").write_text("my own notes")
    code, _, err = run(capsys, "check", DESIGNS / "kite.svg", "--rehearse", tmp_path)
    assert code == 2
    assert "was not made by seamwright" in err
    assert [p.name for p in tmp_path.iterdir()] == ["kite-03-A3.svg"]
    assert (tmp_path / "kite-03-A3.svg").read_text() == "my own notes"
    assert run(capsys, "check", DESIGNS / "kite.svg", "--rehearse", tmp_path, "--force")[0] == 0


def test_pictures_of_an_earlier_plan_are_told_of_and_left(tmp_path: Path, capsys: pytest.CaptureFixture[str]):
    shutil.copy(DESIGNS / "kite.svg", tmp_path / "kite.svg")
    run(capsys, "check", tmp_path / "kite.svg", "--rehearse", tmp_path / "steps")
    (tmp_path / "steps" / "kite-11-joined.svg").rename(tmp_path / "steps" / "kite-14-joined.svg")
    _, out, _ = run(capsys, "check", tmp_path / "kite.svg", "--rehearse", tmp_path / "steps")
    assert "Left there from an earlier plan: kite-14-joined.svg." in out
    assert (tmp_path / "steps" / "kite-14-joined.svg").exists()


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("--rehearse", ""), "Give the name of a folder"),
        (("--rehearse", "steps", "gull"), "Rehearse them one at a time"),
        (("--rehearse", "steps", "--mend", "1", "-o", "x.svg"), "Mend first, then rehearse"),
    ],
)
def test_a_slip_is_told_in_a_sentence(
    words: tuple[str, ...], said: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
):
    given = [str(DESIGNS / "gull.svg") if w == "gull" else str(tmp_path / w) if w == "steps" else w for w in words]
    code, _, err = run(capsys, "check", DESIGNS / "kite.svg", *given)
    assert code == 2
    assert said in err
    assert not (tmp_path / "steps").exists()


def test_a_folder_that_is_a_file_is_refused(tmp_path: Path, capsys: pytest.CaptureFixture[str]):
    (tmp_path / "steps").write_text("")
    code, _, err = run(capsys, "check", DESIGNS / "kite.svg", "--rehearse", tmp_path / "steps" / "more")
    assert code == 2
    assert "is a file" in err


def test_metric_words_tell_centimetres(tmp_path: Path, capsys: pytest.CaptureFixture[str]):
    code, _, _ = run(capsys, "check", DESIGNS / "kite.svg", "--units", "metric", "--rehearse", tmp_path)
    assert code == 0
    captions = (tmp_path / "kite-02-A2.svg").read_text()
    assert "trim to 0.75 cm beyond it" in captions
    assert " in." not in captions


def test_slivers_that_overlays_leave_are_not_drawn() -> None:
    """One of them, thinner than a file holds, had a whole booklet refused."""
    panel = Panel.around((0, 0, 6, 6), (2.0, 2.0), 3.0, mirrored=False)
    sliver, patch = box(0, 0, 6, 1e-9), box(0, 2, 6, 5)
    inks = panel.filled(sliver.union(patch), "#d8b27a")
    assert [type(ink) for ink in inks] == [Area, Stroke]
