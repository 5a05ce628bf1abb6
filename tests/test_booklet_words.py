"""What a beginner reads in a booklet: words before they are used, one name for one thing, nothing said twice."""

from __future__ import annotations

import re
from collections import Counter
from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest

from seamwright.api import plan, read_block, rehearse
from seamwright.booklet.afterwards import EDGE, afterwards_story
from seamwright.booklet.checks import checks_story
from seamwright.booklet.fabrics import fabrics_story, kits_story
from seamwright.booklet.howto import howto_story
from seamwright.booklet.joins import joins_story
from seamwright.booklet.make import MOST_LISTED, listed
from seamwright.booklet.model import Heading, Item, Paragraph, Pictures, Points, Step, Story, Table
from seamwright.booklet.needs import needs_story
from seamwright.booklet.saying import places_list
from seamwright.booklet.setting import drawn, wrapped
from seamwright.booklet.sizes import Sizes
from seamwright.booklet.steps import steps_story
from seamwright.booklet.tables import another_way_story, cutting_story
from seamwright.booklet.words import words_story
from seamwright.claims.sewing import sewing_of
from seamwright.cutting.model import Cutting
from seamwright.fabric.pieces import Shape
from seamwright.fabric.words import becomes
from seamwright.handouts import cutting
from seamwright.ink.model import Words
from seamwright.paper import paper
from seamwright.piecing.cloth import shadowed
from seamwright.piecing.model import Plan
from seamwright.rehearsal.model import Rehearsed

DESIGNS = Path(__file__).parent.parent / "designs"
BLOCKS = {
    "kite": ("kite.svg", {}),
    "harbour lights": ("harbour-lights.seams", {}),
    "harbour lights by ruler": ("harbour-lights.seams", {"rotary": "auto"}),
    "lighthouse beam": ("lighthouse-beam.svg", {"units": "metric", "paper": "a4"}),
}


OTHERS = {
    "lamp": ("lamp.seams", {}),
}
FOUR = "seamwright block 1\nname four\nsize 8 x 8 in\nseam 4, 0 to 4, 8\nseam 0, 4 to 8, 4\nseam 0, 4 to 4, 0\n"


@cache
def planned(name: str) -> Plan:
    if name == "four squares by ruler":
        with TemporaryDirectory() as folder:
            (drawing := Path(folder) / "four.seams").write_text(FOUR)
            return plan(read_block(drawing, rotary="auto"))
    file, options = {**BLOCKS, **OTHERS}[name]
    return plan(read_block(DESIGNS / file, **options))


@cache
def sewn(name: str) -> Rehearsed:
    return rehearse(planned(name))


@cache
def cut_of(name: str, blocks: int = 1) -> Cutting:
    return cutting(planned(name), blocks=blocks)


def sizes_of(plan: Plan) -> Sizes:
    return Sizes(plan, {section.name: section.trim for section in sewing_of(plan).sections})


def tables(story: Story) -> list[Table]:
    return [item for item in story if isinstance(item, Table)]


def words_of(item: Item) -> list[str]:
    """All words of an item."""
    if isinstance(item, Heading | Paragraph):
        return [item.text]
    if isinstance(item, Points):
        return list(item.texts)
    if isinstance(item, Table):
        return [item.caption, *item.head, *(cell for row in item.rows for cell in row)]
    if isinstance(item, Step):
        return [item.title, *item.texts]
    return list(item.captions) if isinstance(item, Pictures) else []


def told(name: str) -> Story:
    """The chapters of a booklet that have words of their own, in their order."""
    plan, rehearsed, cut = planned(name), sewn(name), cut_of(name)
    sizes = sizes_of(plan)
    sheets = 2 * any(section.kind != "plain" and section.method != "ruler" for section in plan.sections)
    pieces = {piece.patch: piece for piece in cut.pieces}
    return (
        *needs_story(paper("letter"), sheets, plan.options.seam_allowance_in, plan.options.units),
        *words_story(plan),
        *fabrics_story([cut]),
        *kits_story([cut], [cut], 1, sheets, 1),
        *cutting_story(cut),
        *howto_story(plan, rehearsed),
        *steps_story(plan, rehearsed),
        *joins_story(plan, rehearsed),
        *checks_story(plan, sizes),
        *afterwards_story(plan, sizes, pieces),
        *another_way_story(cut),
    )


@pytest.mark.parametrize("name", BLOCKS)
def test_kinds_of_names_are_explained_before_they_are_used(name: str):
    plan = planned(name)
    [table] = tables(words_story(plan))
    explained = " ".join(row[0] for row in table.rows)
    for kind, is_there in {
        "foundation": any(s.kind != "plain" and s.method != "ruler" for s in plan.sections),
        "plain piece": any(s.kind == "plain" for s in plan.sections),
        "without paper": any(s.method == "ruler" for s in plan.sections),
        "join": bool(plan.joins),
        ".2": any(s.place > 1 for s in plan.sections),
    }.items():
        assert (kind in explained) == is_there, kind


@pytest.mark.parametrize("name", BLOCKS)
def test_a_handout_speaks_of_no_options_and_ends_its_sentences(name: str):
    for item in told(name):
        for text in words_of(item):
            assert not re.search(r"--[a-z]", text), text
            assert "  " not in text
            if isinstance(item, Paragraph | Points):
                assert text.endswith(".") or (isinstance(item, Points) and item.boxes), text


def test_patches_of_all_places_are_said_once_with_their_number():
    plan = planned("harbour lights")
    assert places_list(plan, ["A6", "A.2-6", "A.3-6", "A.4-6"]) == "A6 (4 places)"
    assert places_list(plan, ["A6", "A.2-6", "B1"]) == "A6, A.2-6, B1"
    assert places_list(planned("kite"), ["A3", "B3"]) == "A3, B3"


@pytest.mark.parametrize(("name", "blocks"), [("kite", 1), ("harbour lights", 12), ("lighthouse beam", 12)])
def test_tables_say_each_piece_to_cut_once_and_in_full(name: str, blocks: int):
    cut = cut_of(name, blocks)
    parts: list[list[Table]] = []
    for item in cutting_story(cut):
        if isinstance(item, Heading):
            parts.append([])
        elif isinstance(item, Table):
            parts[-1].append(item)
    for fabric, (strips, *more) in zip(cut.fabrics, parts[1:], strict=True):
        assert sum(int(row[1]) for row in strips.rows if row[1]) == sum(row.cuts for row in fabric.rows)
        for table in more:
            assert [(int(row[1]), int(row[3])) for row in table.rows] == [(r.cuts, r.count) for r in fabric.rows]
        # Said again only where pieces of one size are spread over several lines of strips.
        sizes = Counter((frozenset(re.findall(r"[^ x]+", row[2])), row[-1]) for row in strips.rows)
        assert bool(more) == (max(sizes.values()) > 1)


def test_what_is_cut_down_is_cut_down_before_it_is_halved():
    said = becomes(Shape.HALF_SQUARE, 2, True, down=True)
    assert said == "square, cut down, cut once corner to corner"


def test_pieces_for_another_plan_stand_behind_all_that_this_plan_sews():
    cut = cut_of("harbour lights")
    assert any(unit.on_paper for unit in cut.units)
    assert not any("paper" in text for item in cutting_story(cut) for text in words_of(item))
    head, note, *_ = another_way_story(cut)
    assert isinstance(head, Heading)
    assert head.level == 1
    assert "cut nothing of this page beside them" in words_of(note)[0]
    assert another_way_story(cut_of("harbour lights by ruler")) == ()


def test_a_step_says_which_edge_is_laid_and_whose_dark_allowance_is_trimmed():
    plan = planned("harbour lights")
    steps = {item.mark: item for item in steps_story(plan, sewn("harbour lights")) if isinstance(item, Step)}
    section = plan.sections[0]
    # A2 is cut 4 x 2 1/4 in: its first number lies along the line.
    assert "its 4 in edge on the trimmed edge" in steps["A2"].texts[0]
    dark = dict(shadowed(plan.block, section))
    assert dark, "a dark fabric lies under a light one here"
    for number in range(2, len(section.patches) + 1):
        text = steps[section.patch_name(number)].texts[0]
        under = [section.patch_name(one) for one in dark.get(number, ())]
        assert ("a thread narrower" in text) == bool(under)
        assert all(name in text for name in under)
        assert " and A1 and " not in text


def test_geese_are_pressed_outwards_wherever_it_is_told():
    plan = planned("harbour lights by ruler")
    steps = {
        item.mark: item.texts[0]
        for item in steps_story(plan, sewn("harbour lights by ruler"))
        if isinstance(item, Step)
    }
    ways = [
        way for unit in cut_of("harbour lights by ruler").units if unit.kind == "flying geese" for way in unit.ways
    ]
    assert all("press" in way and "outwards" in way for way in ways)
    assert "outwards, away from C1" in steps["C2"]
    assert "outwards, away from C1" in steps["C3"]
    assert "to the darker fabric" in steps["B2"]


@pytest.mark.parametrize("name", BLOCKS)
def test_the_picture_of_the_first_patch_has_its_name(name: str):
    plan = planned(name)
    first = next(item for item in howto_story(plan, sewn(name)) if isinstance(item, Step))
    patch = re.search(r"fabric for (\S+)", first.texts[0])
    assert patch
    assert patch[1] in [ink.text for ink in first.figure.inks if isinstance(ink, Words)]


def test_a_block_without_paper_is_not_told_of_paper():
    story = told("four squares by ruler")
    rest = [
        text
        for item in story
        for text in words_of(item)
        if re.search(r"paper|foundation|printed line|sheet", re.sub(r"[Ww]ithout paper|no paper", "", text))
    ]
    assert rest == ["No foundations: a ruler cuts all of this block, and it is sewn without paper."][: len(rest)]
    assert not any("paper on top" in text for item in story for text in words_of(item))


def test_a_curve_is_not_asked_to_have_both_its_sides_on_top():
    plan = planned("lamp")
    curved = [
        item for item in joins_story(plan, sewn("lamp")) if isinstance(item, Step) and "curve" in str(item.texts)
    ]
    assert curved
    for item in curved:
        said = " ".join(item.texts)
        assert "the hollow side on top" in said
        assert "the paper on top" not in said


@pytest.mark.parametrize("name", BLOCKS)
def test_stopping_at_a_point_is_told_only_where_it_comes_up(name: str):
    plan, rehearsed = planned(name), sewn(name)
    stops = any(step.seam and step.seam.stops for section in rehearsed.sections for step in section.steps)
    said = any("stop dead" in text for item in howto_story(plan, rehearsed) for text in words_of(item))
    assert said == stops


@pytest.mark.parametrize("name", BLOCKS)
def test_parts_to_measure_are_called_by_their_join_and_the_block_is_listed_once(name: str):
    plan = planned(name)
    [table] = tables(checks_story(plan, sizes_of(plan)))
    parts = [row[0] for row in table.rows]
    assert len(set(parts)) == len(parts) == len(plan.prints()) + len(plan.joins)
    assert parts[-1] == "the whole block"
    assert all(row[-1] == "" for row in table.rows)


def test_sections_at_the_edge_keep_their_paper_in_one_row():
    plan, cut = planned("harbour lights"), cut_of("harbour lights")
    [table] = tables(afterwards_story(plan, sizes_of(plan), {piece.patch: piece for piece in cut.pieces}))
    assert table.rows[-1] == ("B, B.2, B.3, B.4", EDGE)
    assert [row for row in table.rows if row[1] == EDGE] == [table.rows[-1]]


def test_captions_of_large_type_are_all_of_one_size():
    plan, large = planned("kite"), 4 / 3
    story = (
        *howto_story(plan, sewn("kite"), scale=large),
        *steps_story(plan, sewn("kite"), scale=large),
        *joins_story(plan, sewn("kite"), scale=large),
    )
    captions = [
        ink.size_pt
        for item in story
        if isinstance(item, Step)
        for ink in drawn(item.figure, 0.0, 0.0, large)
        if isinstance(ink, Words) and " " in ink.text and not re.search(r"\d", ink.text)
    ]
    assert captions
    assert captions == pytest.approx([8.0 * large] * len(captions))


@pytest.mark.parametrize("width", range(40, 120, 4))
def test_a_figure_is_never_parted_from_its_fraction_or_its_unit(width: int):
    lines = wrapped("It measures about 8 11/16 in on its longest side, 3 1/2 in deep", 9.0, float(width))
    assert not any(re.fullmatch(r"\d+/\d+.*", line) or line.startswith("in ") for line in lines if width > 60)


def test_a_list_of_contents_is_seen_at_a_glance():
    chapters = [f"chapter {number}" for number in range(12)]
    found = [(title, str(n)) for n, title in enumerate([*chapters, *("red", *chapters), *("blue", *chapters)])]
    kept = [title for title, _ in listed(found, ["red", "blue"])]
    assert kept == [*chapters, "red", "blue"]
    assert listed(found[:MOST_LISTED], ["red", "blue"]) == found[:MOST_LISTED]
