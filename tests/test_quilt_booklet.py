"""The booklet of a whole quilt: what its pages say against the quilt, its diagram against where blocks lie."""

from __future__ import annotations

import json
import math
import re
import shutil
from collections import Counter
from dataclasses import replace
from pathlib import Path
from typing import Any

import pypdfium2
import pytest

import seamwright
from seamwright.booklet.model import Figure, Heading, Paragraph, Pictures, Points, Step, Story, Table
from seamwright.booklet.quiltborders import borders_story
from seamwright.booklet.quiltfinish import finish_story
from seamwright.booklet.quiltfront import values_story
from seamwright.booklet.quiltlaying import laying_figures
from seamwright.booklet.quiltmake import parted
from seamwright.booklet.quiltrows import rows_of
from seamwright.booklet.quiltsetting import laying_story, rows_story
from seamwright.cli import main
from seamwright.geometry import bounds
from seamwright.ink.lettering import words_box
from seamwright.ink.model import Area, Words
from seamwright.quilt.model import Quilt, Role
from seamwright.quilt.pressing import Press, Way
from seamwright.quiltfacts import QuiltFacts, facts_of
from seamwright.units import Units, say_bought, say_size

DESIGNS = Path(__file__).parent.parent / "designs"
STRAIGHT = """seamwright quilt 1
name small watch
block kite kite.svg size 6 in
row kite, kite 90 reversed, plain foam
row plain foam, kite 180, kite 270
row kite reversed, plain foam, kite
sashing 1 in foam cornerstones brass
border 1 1/2 in ink corners brass
border 3 in foam mitred
binding ink
fabric foam colour white
fabric ink colour #14213d
"""
ON_POINT = """seamwright quilt 1
name point
block kite kite.svg size 6 in
set on point
row 3 kite
row kite 90, kite 180
row 3 kite
row 2 kite
row 3 kite
triangles foam
border coping foam at least 1 in
border of kite corners plain ink
"""


def laid(folder: Path, text: str) -> Quilt:
    shutil.copy(DESIGNS / "kite.svg", folder)
    path = folder / "quilt.setting"
    path.write_text(text)
    return seamwright.read_quilt(path)


@pytest.fixture(scope="module")
def straight(tmp_path_factory: pytest.TempPathFactory) -> QuiltFacts:
    return facts_of(laid(tmp_path_factory.mktemp("straight"), STRAIGHT))


@pytest.fixture(scope="module")
def on_point(tmp_path_factory: pytest.TempPathFactory) -> QuiltFacts:
    return facts_of(laid(tmp_path_factory.mktemp("point"), ON_POINT))


@pytest.fixture(params=["straight", "on_point"])
def facts(request: pytest.FixtureRequest) -> QuiltFacts:
    found = request.getfixturevalue(request.param)
    assert isinstance(found, QuiltFacts)
    return found


def said(story: Story) -> str:
    """All words of a story but those in figures."""
    texts: list[str] = []
    for item in story:
        if isinstance(item, Heading | Paragraph):
            texts.append(item.text)
        elif isinstance(item, Points):
            texts += item.texts
        elif isinstance(item, Table):
            texts += [item.caption, *item.head, *(cell for row in item.rows for cell in row)]
        elif isinstance(item, Pictures):
            texts += item.captions
        elif isinstance(item, Step):
            texts += [item.mark, item.title, *item.texts]
    return "\n".join(texts)


# -- the diagram -----------------------------------------------------------------------------------------------


def arrows(figure: Figure) -> list[tuple[float, float, float]]:
    """(x, y of the point, degrees clockwise from straight up) of each arrow, by the shape of its head alone."""
    found = []
    for ink in figure.inks:
        if isinstance(ink, Area) and len(ink.rings[0]) == 3:
            tip, one, two = ink.rings[0]
            back = ((one[0] + two[0]) / 2, (one[1] + two[1]) / 2)
            turn = math.degrees(math.atan2(tip[0] - back[0], -(tip[1] - back[1]))) % 360
            found.append((tip[0], tip[1], turn))
    return found


def test_every_arrow_points_to_the_top_of_its_block(facts: QuiltFacts) -> None:
    """Worked out anew from how a block lies: upright, a quarter turn further for each, 45 degrees more on point."""
    quilt = facts.quilt
    (figure,) = laying_figures(quilt, (6.5, 8.0))
    askew = 45 if quilt.setting.set.value == "on point" else 0
    due = Counter((90 * spot.quarters + askew * (spot.part == "centre")) % 360 for spot in quilt.spots)
    assert Counter(round(turn) for *_, turn in arrows(figure)) == due


def test_a_straight_row_of_turns_is_drawn_as_it_lies(straight: QuiltFacts) -> None:
    (figure,) = laying_figures(straight.quilt, (6.5, 8.0))
    by_place = sorted((round(y, 1), x, round(turn)) for x, y, turn in arrows(figure))
    rows = sorted({row for row, *_ in by_place})
    # kite, kite 90 reversed | kite 180, kite 270 | kite reversed, kite
    assert sorted(turn for *_, turn in by_place) == [0, 0, 0, 90, 180, 270]
    assert len(rows) >= 3


def test_a_large_quilt_is_drawn_in_parts_with_every_block_once(on_point: QuiltFacts) -> None:
    quilt = on_point.quilt
    figures = laying_figures(quilt, (1.9, 2.4))
    assert len(figures) > 1
    centre = sum(spot.part == "centre" for spot in quilt.spots)
    numbers = [ink for figure in figures for ink in figure.inks if isinstance(ink, Words) and not ink.bold]
    assert len(numbers) >= centre
    assert all(figure.width_in <= 1.9 + 1e-6 and figure.height_in <= 2.4 + 1e-6 for figure in figures)


def test_parts_of_a_straight_quilt_end_between_blocks(straight: QuiltFacts) -> None:
    figures = laying_figures(straight.quilt, (1.9, 1.9))
    places = [entry for row in rows_of(straight.quilt) for entry in row]
    said = [ink for figure in figures for ink in figure.inks if isinstance(ink, Words) and not ink.bold]
    assert len(figures) == 4 and len(said) == len(places) == 9
    assert sum(len(arrows(figure)) for figure in figures) == len(straight.quilt.spots)


@pytest.mark.parametrize("room", [(6.5, 8.0), (6.0, 3.4), (4.0, 4.0)])
def test_no_words_of_the_diagram_lie_on_others_or_are_tiny(facts: QuiltFacts, room: tuple[float, float]) -> None:
    for figure in laying_figures(facts.quilt, room):
        boxes = []
        for ink in figure.inks:
            if isinstance(ink, Words):
                assert ink.size_pt >= 7
                boxes.append(bounds(words_box(ink)))
        for number, one in enumerate(boxes):
            assert one[0] >= 0 and one[2] <= figure.width_in and one[1] >= 0 and one[3] <= figure.height_in
            for other in boxes[:number]:
                assert one[2] <= other[0] or other[2] <= one[0] or one[3] <= other[1] or other[3] <= one[1]


# -- rows, borders, finishing ----------------------------------------------------------------------------------


def test_rows_hold_every_block_of_the_centre_once(facts: QuiltFacts) -> None:
    quilt = facts.quilt
    spots = [entry.spot for row in rows_of(quilt) for entry in row if entry.spot is not None]
    assert sorted(map(id, spots)) == sorted(id(spot) for spot in quilt.spots if spot.part == "centre")


def test_diagonal_rows_are_as_a_quilter_counts_them(on_point: QuiltFacts) -> None:
    """Three across and three down on point are thirteen blocks, in diagonals of 1, 3, 5, 3 and 1."""
    rows = rows_of(on_point.quilt)
    assert [sum(entry.spot is not None for entry in row) for row in rows] == [1, 3, 5, 3, 1]
    ends = [sum(entry.cloth is not None for entry in row) for row in rows]
    # A side triangle at both ends, but for the longest row, which ends in two corners.
    assert ends == [2, 2, 0, 2, 2]
    assert sum(ends) == sum(cloth.role is Role.SIDE_TRIANGLE for cloth in on_point.quilt.cloths)


def test_rows_are_told_in_words_that_count_up(facts: QuiltFacts) -> None:
    story = laying_story(facts, (6.5, 9.0), 1.0)
    (table,) = (item for item in story if isinstance(item, Table))
    rows = rows_of(facts.quilt)
    told = [number for cell, _ in table.rows for number in numbers_in(cell)]
    assert sorted(told) == list(range(1, len(rows) + 1))
    times = Counter(spot.look for spot in facts.quilt.spots)
    for number, look in enumerate(facts.quilt.looks):
        assert f"{number + 1}: {look.name}, {times[number]} block" in said(story)


def numbers_in(cell: str) -> list[int]:
    """1, 3 to 5 as 1, 3, 4, 5."""
    found: list[int] = []
    for part in cell.split(", "):
        first, _, last = part.partition(" to ")
        found += range(int(first), int(last or first) + 1)
    return found


def test_sizes_grow_from_the_centre_to_the_quilt(facts: QuiltFacts) -> None:
    """By hand: three blocks of 6 in with two sashes of 1 in are 20 in; on point 3 x 6 x 1.414 in."""
    words = said((*rows_story(facts), *borders_story(facts)))
    quilt = facts.quilt
    if quilt.setting.sashing:
        assert "the centre\n20½ x 20½ in" in words
        assert "With this border: 23½ x 23½ in unfinished." in words
        assert "With this border: 29½ x 29½ in unfinished." in words
        assert (quilt.width_in, quilt.height_in) == (29, 29)
    else:
        assert 3 * 6 * math.sqrt(2) == pytest.approx(25.456, abs=1e-3)
        assert "the centre\nabout 25 15/16 x 25 15/16 in" in words
    grown = say_size(quilt.width_in + 0.5, quilt.height_in + 0.5, Units.INCH, glyphs=True)
    assert words.rstrip().endswith(f"With this border: {grown} unfinished.")
    assert f"The top measures {grown} unfinished" in said(finish_story(facts))


def test_binding_and_back_are_told_as_they_are_cut(straight: QuiltFacts) -> None:
    """Common practice: an edge of 116 in, and 12 in more; a joint takes 2 1/2 in of a strip of 40 in."""
    words = said(finish_story(straight))
    assert "128 in are needed" in words
    assert "4 strips of ink, 2½ in wide as cut" in words
    assert "Joined they are 152½ in long" in words  # 4 x 40 - 3 x 2 1/2
    assert "measures 37 x 37 in, 4 in beyond the top on each side" in words
    assert "one panel" in words


def test_borders_are_told_by_their_kind(facts: QuiltFacts) -> None:
    words = said(borders_story(facts))
    if facts.quilt.setting.sashing:
        assert "4 corner squares of brass" in words and "45 degrees" in words
    else:
        # Strips at top and bottom are as long as the quilt is wide once it has been trimmed at its sides.
        assert words.index("true it up to a width of") < words.index("sew on top and bottom")
        assert "Plain squares of ink lie in its corners" in words


def test_each_way_of_pressing_says_which_blocks_are_pressed_so(straight: QuiltFacts) -> None:
    """Row 1 of the quilt holds two blocks, row 2 two and row 3 two; what lies between them is not counted."""
    joins = (Press(1, "A+B", "A"),)
    ways = (Way(0, joins, (0, 2)), Way(0, joins, (4,)))
    words = said(rows_story(replace(straight, nesting=replace(straight.nesting, ways=ways))))
    numbered = [n for n, row in enumerate(rows_of(straight.quilt), 1) for entry in row if entry.spot]
    assert numbered == [1, 1, 2, 2, 3, 3]
    assert "in row 1: block 1; row 2: block 1\n" in words and "in row 3: block 1\n" in words


def test_a_single_block_has_no_rows_to_sew(tmp_path: Path) -> None:
    text = "seamwright quilt 1\nname one\nblock kite kite.svg size 6 in\nrow kite\nborder 2 in ink\n"
    words = said(rows_story(facts_of(laid(tmp_path, text))))
    assert "One block is the whole centre" in words and "rows two by two" not in words


def test_mitred_borders_that_follow_each_other_are_told_as_one(straight: QuiltFacts, tmp_path: Path) -> None:
    text = STRAIGHT.replace("border 3 in foam mitred", "border 3 in foam mitred\nborder 1 in ink mitred")
    words = said(borders_story(replace(straight, quilt=laid(tmp_path, text))))
    assert words.count("fold the quilt in half along the diagonal") == 1
    assert "It is sewn to the strips of border 3 first" in words
    assert "strips of borders 2 and 3 of each side together first" in words


def test_greys_are_shown_where_enough_is_known_of_the_fabrics(straight: QuiltFacts) -> None:
    def shown(known: float) -> bool:
        advice = replace(straight.advice, balance=replace(straight.advice.balance, known=known))
        return any(isinstance(item, Pictures) for item in values_story(replace(straight, advice=advice)))

    assert shown(0.9) and not shown(0.2)


# -- blocks told once --------------------------------------------------------------------------------------------


def test_a_reversed_block_is_told_as_the_mirror_image_of_its_own(straight: QuiltFacts) -> None:
    full, mirrors = parted(straight.plans)
    assert [[plan.block.title for plan in plans] for plans in full] == [["kite"]]
    (mirror,) = mirrors
    assert (mirror.plan.block.title, mirror.of.block.title) == ("kite reversed", "kite")


def test_a_block_that_is_only_there_reversed_is_told_in_full(straight: QuiltFacts) -> None:
    reversed_ = [plan for plan in straight.plans if plan.options.reversed]
    full, mirrors = parted(reversed_)
    assert [plan.block.title for plans in full for plan in plans] == ["kite reversed"] and not mirrors


# -- the file ----------------------------------------------------------------------------------------------------


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> tuple[dict[str, Any], str]:
    """(What is said to programs, all words of the file as another reader finds them)."""
    folder = tmp_path_factory.mktemp("book")
    laid(folder, STRAIGHT)
    with pytest.MonkeyPatch.context() as patch:
        patch.chdir(folder)
        booked = seamwright.write_quilt_booklet("quilt.pdf", seamwright.read_quilt("quilt.setting"))
        from seamwright.report.quiltbooks import quilt_booklet_object
        from seamwright.words.quiltbooks import quilt_booklet_words

        assert booked.printed.file == "quilt.pdf"
        assert "small watch: 29 x 29 in, 6 blocks." in "\n".join(quilt_booklet_words(booked))
        document = pypdfium2.PdfDocument(folder / "quilt.pdf")
        text = "\n".join(page.get_textpage().get_text_range() for page in document)
        assert len(document) == len(booked.pages) + len(booked.printed.sheets)
        return json.loads(json.dumps(quilt_booklet_object(booked))), " ".join(text.split())


def test_every_figure_of_the_quilt_is_in_its_booklet(made: tuple[dict[str, Any], str]) -> None:
    data, text = made
    quilt = data["quilt"]
    assert say_size(quilt["width_in"], quilt["height_in"]) in text
    for look in quilt["looks"]:
        count = sum(block["count"] for block in quilt["blocks"] if quilt["looks"][block["look"]] is look)
        assert f"{look['name']}, {count} block" in text
        assert look["plan"]["id"] in text
    for print_ in quilt["foundations"]:
        if print_["kind"] == "foundation":
            name = print_["print"] + "r" * print_["reversed"]
            served = "; ".join(quilt["looks"][look]["name"] for look in print_["looks"])
            assert f"{name} {served} {print_['count']}" in text
    for fabric in quilt["fabrics"]:
        yards = say_bought(36 * fabric["yards"])
        name = fabric["name"] or "no fabric named"
        assert re.search(rf"{re.escape(name)}\b[^.]{{0,40}}?{yards}", text), (name, yards)
    for extra in quilt["extras"]:
        if extra.get("yards"):
            assert say_bought(36 * extra["yards"]) in text, extra
        if extra["for"] == "binding":
            assert f"{extra['strips']} strips" in text and f"{extra['needed_in']:g} in are needed" in text


def test_the_chapters_of_a_quilt_stand_in_the_order_of_the_work(made: tuple[dict[str, Any], str]) -> None:
    data, text = made
    titles = [chapter["title"] for chapter in data["chapters"]]
    order = ["small watch", "Before you begin", "What you need", "Fabric", "Light and dark", "How many foundations"]
    order += ["Cutting", "kite", "kite reversed: the mirror image", "Laying out the quilt", "Sewing the rows"]
    order += ["Borders", "Finishing the quilt", "For a class", "A page to colour the quilt in"]
    assert [title for title in titles if title in order] == order
    assert titles.count("Cutting") == 1 and titles.count("Fabric") == 1
    pages = [chapter["page"] for chapter in data["chapters"]]
    assert pages == sorted(pages)
    for title in order[1:]:
        assert title in text


def test_every_picture_has_its_sentence(made: tuple[dict[str, Any], str]) -> None:
    data, _ = made
    shows = [picture["shows"] for picture in data["pictures"]]
    assert all(shows) and any("whole quilt in its fabrics" in each for each in shows)
    assert any("arrow to its top" in each for each in shows)


def test_the_command_refuses_a_quilt_beside_a_drawing(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    laid(tmp_path, ON_POINT)
    words = [str(tmp_path / "quilt.setting"), str(tmp_path / "kite.svg")]
    assert main(["booklet", *words, "-o", str(tmp_path / "out.pdf")]) == 2
    assert "Take a quilt by itself" in capsys.readouterr().err
    assert not (tmp_path / "out.pdf").exists()


@pytest.mark.long
@pytest.mark.parametrize("name", sorted(path.name for path in DESIGNS.glob("*.setting")))
@pytest.mark.parametrize("more", [(), ("--paper", "a4", "--units", "metric", "--large-type", "--students", "9")])
def test_booklets_of_all_quilts_are_written_and_read_back(
    tmp_path: Path, name: str, more: tuple[str, ...], capsys: pytest.CaptureFixture[str]
) -> None:
    out = tmp_path / "out.pdf"
    assert main(["booklet", str(DESIGNS / name), "-o", str(out), "--json", *more]) == 0
    told = json.loads(capsys.readouterr().out)
    assert told["pages"] == len(pypdfium2.PdfDocument(out))
