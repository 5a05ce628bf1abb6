"""Turnings: no layout is missed and none comes twice; lines and shapes are those that are seen."""

from __future__ import annotations

import json
import math
from dataclasses import replace
from itertools import product
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import from_wkt
from shapely.geometry import Polygon

import seamwright
from seamwright.cli import main
from seamwright.errors import SeamwrightError
from seamwright.exploring import SHOWN, Repeat, Turnings
from seamwright.geometry import moved
from seamwright.ink.lettering import words_box
from seamwright.ink.model import Words
from seamwright.paper import paper
from seamwright.quilt.form import read_setting
from seamwright.quilt.lines import bend_deg, meet, moved_ends, runs_on, seam_ends
from seamwright.quilt.model import Cell, Turn
from seamwright.quilt.rules import RULES, layouts_by_rule
from seamwright.quilt.secondary import Weave
from seamwright.quilt.symmetry import ALL_TURNS, symmetries
from seamwright.quilt.turnings import Group, all_layouts, counted, group_of, kept_by, least_images, states_of
from seamwright.quilts import quilt_of

DESIGNS = Path(__file__).parents[1] / "designs"

# -- blocks as stamps: small squares of numbers, told apart by numpy alone -------------------------------------

STAMPS = {
    "of no symmetry": [[1, 2, 3], [4, 5, 6], [7, 8, 9]],
    "the same after half a turn": [[1, 2, 3], [4, 5, 4], [3, 2, 1]],
    "its own mirror image": [[1, 2, 1], [3, 4, 3], [5, 6, 5]],
    "its own mirror image in a diagonal": [[1, 2, 3], [2, 4, 5], [3, 5, 6]],
    "its own mirror image and the same after half a turn": [[1, 2, 1], [3, 4, 3], [1, 2, 1]],
    "the same after quarter turns": [[1, 2, 3], [3, 4, 2], [2, 3, 1]],
    "the same however it lies": [[1, 2, 1], [2, 3, 2], [1, 2, 1]],
}
STAMPS["the same after quarter turns"] = [
    [1, 2, 3, 1],
    [3, 4, 4, 2],
    [2, 4, 4, 3],
    [1, 3, 2, 1],
]


def laid(stamp: np.ndarray, turn: Turn) -> np.ndarray:
    """A stamp reversed first, then rotated clockwise."""
    return np.rot90(np.fliplr(stamp) if turn.reversed else stamp, -turn.quarters)


def own_turns(stamp: np.ndarray) -> frozenset[Turn]:
    return frozenset(
        turn for turn in ALL_TURNS if stamp.shape == laid(stamp, turn).shape and (laid(stamp, turn) == stamp).all()
    )


def stamps_of(*names: str) -> list[np.ndarray]:
    """Stamps of one size, no two with the same numbers."""
    return [np.kron(np.array(STAMPS[name]), np.ones((12 // len(STAMPS[name]),) * 2, int)) + 20 * k
            for k, name in enumerate(names)]  # fmt: skip


def group_for(
    stamps: list[np.ndarray], rows: int, columns: int, *, reversed_too: bool, square: bool = True
) -> Group:
    own = [own_turns(stamp) for stamp in stamps]
    return group_of(rows, columns, states_of(own, square=square, reversed_too=reversed_too), own, square=square)


def picture(group: Group, stamps: list[np.ndarray], layout: tuple[int, ...]) -> np.ndarray:
    cells = [laid(stamps[group.states[s].block], group.states[s].turn) for s in layout]
    return np.block([cells[r * group.columns : (r + 1) * group.columns] for r in range(group.rows)])


def seen_from_everywhere(whole: np.ndarray, cell: tuple[int, int], turns: list[Turn]) -> set[bytes]:
    """A repeating picture shifted by whole cells, and turned."""
    found = set()
    for turn in turns:
        turned = laid(whole, turn)
        high, wide = cell if turn.quarters % 2 == 0 else cell[::-1]
        for down, across in product(range(0, turned.shape[0], high), range(0, turned.shape[1], wide)):
            image = np.ascontiguousarray(np.roll(turned, (-down, -across), (0, 1)))
            found.add(bytes(image.shape[0]) + b"|" + image.tobytes())
    return found


def by_brute_force(group: Group, stamps: list[np.ndarray]) -> int:
    """How many different pictures there are, all drawn and compared."""
    turns = [turn for turn in ALL_TURNS if (group.quarter or turn.quarters % 2 == 0)]
    if not group.mirrored:
        turns = [turn for turn in turns if not turn.reversed]
    known: set[bytes] = set()
    count = 0
    for layout in product(range(len(group.states)), repeat=group.rows * group.columns):
        if len({group.states[s].block for s in layout}) == len(stamps):
            whole = picture(group, stamps, layout)
            if not seen_from_everywhere(whole, whole.shape, [Turn()]) & known:
                count += 1
                known |= seen_from_everywhere(whole, stamps[0].shape, turns)
    return count


# -- counts ----------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("reversed_too", [False, True])
@pytest.mark.parametrize("name", STAMPS)
def test_every_layout_of_one_block_is_there_and_none_twice(name: str, reversed_too: bool):
    stamps = stamps_of(name)
    group = group_for(stamps, 2, 2, reversed_too=reversed_too)
    assert len(all_layouts(group)) == counted(group) == by_brute_force(group, stamps)


@pytest.mark.parametrize("reversed_too", [False, True])
@pytest.mark.parametrize(
    "names",
    [
        ("the same however it lies", "of no symmetry"),
        ("its own mirror image", "the same after half a turn"),
        ("its own mirror image in a diagonal", "the same after quarter turns"),
        ("the same however it lies", "the same however it lies"),
    ],
)
def test_every_layout_of_two_blocks_is_there_and_none_twice(names: tuple[str, str], reversed_too: bool):
    stamps = stamps_of(*names)
    group = group_for(stamps, 2, 2, reversed_too=reversed_too)
    if len(group.states) <= 6:
        assert by_brute_force(group, stamps) == counted(group)
    layouts = all_layouts(group)
    assert len(layouts) == counted(group)
    assert all(group.uses_all(layout) for layout in layouts)


@pytest.mark.parametrize("reversed_too", [False, True])
def test_blocks_that_are_no_squares_take_half_turns_only(reversed_too: bool):
    stamps = [np.array([[1, 2, 3], [4, 5, 6]]), np.array([[21, 22, 21], [21, 22, 21]])]
    for some in (stamps[:1], stamps[1:], stamps):
        some = [stamp % 20 + 20 * k for k, stamp in enumerate(some)]
        group = group_for(some, 2, 2, reversed_too=reversed_too, square=False)
        assert not group.quarter
        assert group.order == (16 if group.mirrored else 8)
        assert len(all_layouts(group)) == counted(group) == by_brute_force(group, some)


# On-Line Encyclopedia of Integer Sequences, from memory: A255016, n x n toroidal arrays of two colours up to
# shifts, rotation and reflection; A179043, up to shifts alone.
@pytest.mark.parametrize(("side", "turned", "shifted"), [(1, 2, 2), (2, 6, 7), (3, 26, 64), (4, 805, 4156)])
def test_two_blocks_that_show_the_same_however_they_lie_are_two_colours(side: int, turned: int, shifted: int):
    group = group_for(stamps_of(*["the same however it lies"] * 2), side, side, reversed_too=True)
    assert group.order == 8 * side**2
    assert counted(group) + 2 == turned  # with the two of one colour
    shifts = replace(group, moves=tuple(move for move in group.moves if move.turn == Turn()))
    assert counted(shifts) + 2 == shifted
    if side < 4:
        assert len(all_layouts(group)) + 2 == turned


def test_two_tiles_parted_in_a_diagonal_make_ten_figures():
    # S. Truchet, "Memoire sur les combinaisons", 1704 (from memory): 64 ways to lay two tiles come to 10 figures.
    group = group_for(stamps_of("its own mirror image in a diagonal"), 1, 2, reversed_too=False)
    assert len(group.states) == 4
    unshifted = [move for move in group.moves if move.shift == (0, 0) and not move.turn.reversed]
    assert counted(replace(group, moves=tuple(unshifted))) == 10


def test_a_design_has_as_many_layouts_as_its_symmetry_leaves():
    kite = symmetries(seamwright.read_block(DESIGNS / "kite.svg"))
    star = symmetries(seamwright.read_block(DESIGNS / "compass-star.seams"))
    assert kite == {Turn()}
    assert star == {Turn(quarters) for quarters in range(4)}
    for own, reversed_too, order, expected in ((kite, False, 16, 23), (kite, True, 32, 154), (star, False, 16, 1)):
        group = group_of(2, 2, states_of([own], square=True, reversed_too=reversed_too), [own], square=True)
        assert (group.order, len(all_layouts(group))) == (order, expected)


def test_two_blocks_of_no_symmetry_both_reversed_too_are_listed_whole():
    group = group_for(stamps_of("of no symmetry", "of no symmetry"), 2, 2, reversed_too=True)
    assert len(group.states) == 16
    layouts = all_layouts(group)
    assert len(layouts) == counted(group) == 1840
    # As many layouts as images: each orbit is as large as the moves by those that keep it.
    assert sum(group.order // kept_by(group, layout) for layout in layouts) == 16**4 - 2 * 8**4


def test_more_than_can_be_listed_is_refused():
    with pytest.raises(ValueError, match="too many"):
        all_layouts(group_for(stamps_of("of no symmetry"), 4, 4, reversed_too=True))


# -- rules -----------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("names", "reversed_too", "square"),
    [
        (("of no symmetry",), False, True),
        (("of no symmetry",), True, True),
        (("its own mirror image in a diagonal",), False, True),
        (("the same however it lies", "of no symmetry"), False, True),
        (("of no symmetry",), True, False),
    ],
)
def test_layouts_by_rule_are_what_their_rule_says_and_none_comes_twice(
    names: tuple[str, ...], reversed_too: bool, square: bool
):
    stamps = stamps_of(*names)
    if not square:
        stamps = [stamp[:, :8] for stamp in stamps]
    group = group_for(stamps, 4, 4, reversed_too=reversed_too, square=square)
    found = layouts_by_rule(group, seed=1)
    assert len(set(least_images(group, list(found)))) == len(found)
    known: set[bytes] = set()
    turns = list(dict.fromkeys(move.turn for move in group.moves))
    for layout, rules in list(found.items())[:60]:
        images = seen_from_everywhere(picture(group, stamps, layout), stamps[0].shape, turns)
        assert not images & known
        known |= images
        whole, rule = picture(group, stamps, layout), rules[0]
        rows = [layout[k : k + 4] for k in range(0, 16, 4)]
        if rule == "rows":
            assert all(len(set(row)) == 1 for row in rows)
        elif rule == "columns":
            assert len(set(rows)) == 1
        elif rule == "four-patch":
            quarters = [rows[r][c : c + 2] + rows[r + 1][c : c + 2] for r in (0, 2) for c in (0, 2)]
            assert all(len(set(quarter)) == 1 for quarter in quarters)
        elif rule in ("pinwheel", "medallion"):
            assert (laid(whole, Turn(1 if square else 2)) == whole).all()
        elif rule == "mirror image":
            assert (np.fliplr(whole) == whole).all()
            assert (np.flipud(whole) == whole).all()
    made = {rule for rules in found.values() for rule in rules}
    lacking = set() if square else {"barn raising", "pinwheel"}
    lacking |= {"barn raising"} if len(names) > 1 else set()  # it is of one block
    lacking |= set() if group.mirrored else {"mirror image"}
    assert made == set(RULES) - lacking


def test_chance_is_the_same_for_one_seed_and_another_for_another():
    group = group_for(stamps_of("of no symmetry"), 4, 4, reversed_too=False)
    one, again, other = (layouts_by_rule(group, seed) for seed in (1, 1, 2))
    assert list(one.items()) == list(again.items())
    assert set(one) != set(other)
    assert [layout for layout, rules in one.items() if rules != ("random",)] == [
        layout for layout, rules in other.items() if rules != ("random",)
    ]


# -- lines and shapes ------------------------------------------------------------------------------------------

DIAGONAL = (
    "seamwright block 1\nsize 4 in\nseam 0, 0 to 4, 4\nfabric sea\nfabric foam\nlay sea at 1, 3\nlay foam at 3, 1\n"
)
ARC = "seamwright block 1\nsize 4 in\narc 2, 0 through 1.4142135623730951, 1.4142135623730951 to 0, 2\n"


def weave_of(path: Path, text: str, *, reversed_too: bool = False) -> Weave:
    path.write_text(text)
    block = seamwright.read_block(path)
    own = [symmetries(block)]
    return Weave(group_of(2, 2, states_of(own, square=True, reversed_too=reversed_too), own, square=True), [block])


def at(weave: Weave, *quarters: int) -> tuple[int, ...]:
    """The layout of a block that is rotated so in its four cells."""
    return tuple(next(k for k, s in enumerate(weave.group.states) if s.turn == Turn(q)) for q in quarters)


def test_a_diagonal_runs_on_across_corners_without_end(tmp_path: Path):
    weave = weave_of(tmp_path / "furrow.seams", DIAGONAL)
    made = weave.secondary(at(weave, 0, 0, 0, 0))
    assert (made.ends, made.running, made.longest_in) == (8, 8, math.inf)


def test_diagonals_that_turn_about_a_corner_make_a_square_on_point(tmp_path: Path):
    weave = weave_of(tmp_path / "furrow.seams", DIAGONAL)
    # Sea lies at the lower left: rotated so, its four corners come together, and so do those of foam, shifted.
    made = weave.secondary(at(weave, 3, 0, 2, 1))
    # Squares that touch in their points: their sides run on from one to the next.
    assert (made.ends, made.running, made.longest_in) == (8, 8, math.inf)
    assert (made.edge_patches, made.grown, made.shapes) == (8, 8, 2)


def test_diagonals_that_zigzag_meet_and_make_no_long_line(tmp_path: Path):
    weave = weave_of(tmp_path / "furrow.seams", DIAGONAL)
    made = weave.secondary(at(weave, 0, 1, 0, 1))
    assert (made.ends, made.running, made.meeting) == (8, 0, 8)
    assert made.longest_in == pytest.approx(4 * math.sqrt(2))


def test_quarter_circles_run_on_in_a_ring_by_their_tangents(tmp_path: Path):
    weave = weave_of(tmp_path / "ring.seams", ARC)
    ring = weave.secondary(at(weave, 2, 3, 1, 0))
    assert (ring.ends, ring.running) == (8, 8)
    assert ring.longest_in == pytest.approx(2 * math.pi * 2, rel=1e-3)
    wave = weave.secondary(at(weave, 0, 0, 0, 0))
    assert wave.running == 0  # they meet nothing: each block's ends lie at other places of the edge, or turn
    assert wave.longest_in == pytest.approx(math.pi, rel=1e-3)


def test_an_arc_leaves_its_block_by_its_tangent(tmp_path: Path):
    (tmp_path / "ring.seams").write_text(ARC)
    ends = seam_ends(seamwright.read_block(tmp_path / "ring.seams"))
    ways = sorted((round(end.at[0], 6), *end.way) for end in ends)
    # A quarter circle about the corner stands square on both sides.
    assert ways == [pytest.approx((0, -1, 0), abs=1e-3), pytest.approx((2, 0, -1), abs=1e-3)]


def test_a_seam_between_two_patches_of_one_fabric_is_no_line(tmp_path: Path):
    weave = weave_of(tmp_path / "plain.seams", DIAGONAL.replace("lay foam", "lay sea"))
    made = weave.secondary((0, 0, 0, 0))
    assert (made.ends, made.longest_in) == (0, 0.0)
    assert made.shapes == 0  # it is all one ground, which has no end


def test_lines_meet_and_run_on_within_what_a_needle_can_hold(tmp_path: Path):
    (tmp_path / "furrow.seams").write_text(DIAGONAL)
    end = next(e for e in seam_ends(seamwright.read_block(tmp_path / "furrow.seams")) if e.at[0] > 2)
    (other,) = moved_ends([replace(end, way=(-end.way[0], -end.way[1]))], (1.0, 0.0, 0.0, 1.0, 1 / 40, 0.0))
    assert meet(end, other)
    assert runs_on(end, other)
    (far,) = moved_ends([other], (1.0, 0.0, 0.0, 1.0, 1 / 32, 0.0))
    assert not meet(end, far)
    turn = math.radians(10)
    bent = replace(other, way=(math.cos(math.radians(225) + turn), math.sin(math.radians(225) + turn)))
    assert bend_deg(end, bent) == pytest.approx(10)
    assert meet(end, bent)
    assert not runs_on(end, bent)


@pytest.mark.parametrize("name", ["kite.svg", "lighthouse-beam.svg", "gull.svg", "spinnaker.seams", "pennant.svg"])
@settings(max_examples=8, deadline=None)
@given(data=st.data())
def test_what_blocks_make_together_is_the_same_from_wherever_it_is_seen(name: str, data: st.DataObject):
    block = seamwright.read_block(DESIGNS / name)
    own, square = [symmetries(block)], block.width_in == block.height_in
    states = states_of(own, square=square, reversed_too=True)
    side = data.draw(st.sampled_from([2, 3]))
    weave = Weave(group_of(side, side, states, own, square=square), [block])
    layout = tuple(data.draw(st.integers(0, len(states) - 1)) for _ in range(side**2))
    image = data.draw(st.sampled_from(weave.group.moves)).image(layout)
    one, other = weave.secondary(layout), weave.secondary(image)
    assert one.longest_in == pytest.approx(other.longest_in)
    assert replace(one, longest_in=0.0) == replace(other, longest_in=0.0)


def test_a_state_lies_in_its_cell_as_the_quilt_lays_it(tmp_path: Path):
    kite = str(DESIGNS / "kite.svg")
    found = seamwright.turnings(kite, reversed_too=True)
    for state in found.group.states:
        row = (Cell("kite", state.turn),)
        quilt = quilt_of(replace(found.base, rows=(row,)))
        (spot,), block = quilt.spots, found.blocks[0]
        look, place = quilt.looks[spot.look].block, state.turn.place(block.width_in, block.height_in)
        drawn = {(p.fabric, Polygon([moved(spot.place, q) for q in look.patch_ring(k)]).normalize().wkt)
                 for k, p in enumerate(look.patches)}  # fmt: skip
        for k, patch in enumerate(block.patches):
            expected = Polygon([moved(place, q) for q in block.patch_ring(k)])
            assert any(
                patch.fabric == fabric and from_wkt(ring).symmetric_difference(expected).area < 1e-6
                for fabric, ring in drawn
            )


def test_lines_of_blocks_that_differ_by_what_tidying_may_move_still_meet(tmp_path: Path):
    (tmp_path / "one.seams").write_text(
        "seamwright block 1\nsize 4 in\nseam 0, 2 to 4, 2\nfabric a\nlay a at 1, 1\n"
    )
    other = "seamwright block 1\nsize 4.05 in\nseam 0, 2.025 to 4.05, 2.025\nfabric b\nlay b at 1, 1\n"
    (tmp_path / "two.seams").write_text(other)
    found = seamwright.turnings(str(tmp_path / "one.seams"), str(tmp_path / "two.seams"))
    level = [t for t in found.every if all(cell.turn.quarters % 2 == 0 for row in t.rows for cell in row)]
    assert level
    assert all(t.found.secondary.running == t.found.secondary.ends == 8 for t in level)


# -- calls and command -----------------------------------------------------------------------------------------


@pytest.fixture(scope="module")
def kites() -> Turnings:
    return seamwright.turnings(str(DESIGNS / "kite.svg"))


def test_the_most_telling_layouts_come_first(kites: Turnings):
    points = [turning.found.points for turning in kites.every]
    assert points == sorted(points, reverse=True)
    assert [turning.number for turning in kites.every] == list(range(1, 24))
    first = kites.every[0]
    assert first.lines == ("row kite, kite 90", "row kite 270, kite 180")  # the pinwheel
    assert first.found.points == 100


def test_of_equal_layouts_four_stand_together_where_not_all_are_shown():
    found = seamwright.turnings(str(DESIGNS / "kite.svg"), reversed_too=True)
    points = [turning.found.points for turning in found.every]
    again = next(k for k in range(1, len(points)) if points[k] > points[k - 1])
    assert max(points[:again].count(one) for one in points) == 4
    assert again < SHOWN


def test_a_block_that_shows_the_same_however_it_lies_has_one_layout(capsys: pytest.CaptureFixture[str]):
    assert main(["turnings", str(DESIGNS / "compass-star.seams")]) == 0
    assert "There is 1 layout of 2 x 2 blocks: whichever way the block lies" in capsys.readouterr().out


@pytest.mark.parametrize(
    ("words", "slip"),
    [
        (["kite.svg", "lighthouse-beam.svg"], "Give both one size, such as: "),
        (["kite.svg", "kite.svg"], "is named twice"),
        (["kite.svg", "pennant.svg", "gull.svg"], "3 blocks are asked for. Name one block, or two"),
        (["kite.svg", "--grid", "3x3"], "neither 2x2"),
        (["kite.svg", "--show", "none"], "Give one, such as 12, or all"),
        (["kite.svg", "--seed", "-1"], "no whole number from 1"),
        (["kite.svg", "--reversed"], "--with-reversed lays its mirror image beside it"),
        (["kite.svg", "--write", "1"], "Add -o evening.setting"),
        (["kite.svg", "-o", "evening.setting"], "Add --write with its number"),
        (["kite.svg", "--write", "24", "-o", "evening.setting"], "they are numbered 1 to 23"),
        (["kite.svg", "-o", "kite.txt"], "Let its name end in .pdf, .svg or .png"),
        (["none.svg"], "there is no such file"),
    ],
)
def test_a_slip_is_told_with_its_mend(
    words: list[str], slip: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
):
    monkeypatch.chdir(tmp_path)
    asked = [str(DESIGNS / word) if word.endswith((".svg", ".seams")) else word for word in words]
    assert main(["turnings", *asked]) == 2
    assert slip in capsys.readouterr().err
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize("ending", [".pdf", ".svg", ".png"])
def test_the_same_sheet_comes_out_each_time(kites: Turnings, ending: str, tmp_path: Path):
    first, second = (tmp_path / f"{name}{ending}" for name in ("one", "two"))
    for path in (first, second):
        seamwright.write_turnings(path, kites, show=1)
    assert first.read_bytes() == second.read_bytes()


def test_the_lines_of_each_layout_stand_in_the_pdf_to_be_copied(kites: Turnings, tmp_path: Path):
    pypdf = pytest.importorskip("pypdf")
    seamwright.write_turnings(tmp_path / "kite.pdf", kites, show=7)
    (page,) = pypdf.PdfReader(tmp_path / "kite.pdf").pages
    text = page.extract_text()
    for turning in kites.every[:7]:
        assert all(line in text for line in turning.lines)
    assert "23 layouts of 2 x 2 blocks differ. The first 7 are shown" in text
    assert "16 moves in all" in text


@pytest.mark.parametrize(
    ("size", "repeat"), [("letter", Repeat.TWO), ("a4", Repeat.FOUR), ("half-letter", Repeat.FOUR)]
)
def test_no_words_of_a_page_are_small_or_on_others_or_beyond_the_margins(size: str, repeat: Repeat):
    from seamwright.picture.turnings import turnings_pages

    drawings = [f"{DESIGNS / name}@6in" for name in ("kite.svg", "lighthouse-beam.svg")]
    found = seamwright.turnings(*drawings, repeat=repeat)
    page_of = paper(size)
    for page in turnings_pages(found, found.every[:13], page_of):
        words = [ink for ink in page.ink if isinstance(ink, Words)]
        assert min(word.size_pt for word in words) >= 7
        boxes = []
        for word in words:
            xs, ys = zip(*words_box(word, 1.0), strict=True)
            boxes.append((min(xs), min(ys), max(xs), max(ys)))
        left, top, right, bottom = (
            min(box[0] for box in boxes),
            min(box[1] for box in boxes),
            max(box[2] for box in boxes),
            max(box[3] for box in boxes),
        )
        assert left >= 72 * page_of.margins.left
        assert top >= 72 * page_of.margins.top
        assert right <= page.width_pt - 72 * page_of.margins.right
        assert bottom <= page.height_pt - 72 * page_of.margins.bottom
        for k, one in enumerate(boxes):
            for other in boxes[k + 1 :]:
                apart = one[2] <= other[0] or other[2] <= one[0] or one[3] <= other[1] or other[3] <= one[1]
                assert apart, (words[k].text, one, other)


def test_a_layout_written_as_a_quilt_reads_back_and_can_be_laid(kites: Turnings, tmp_path: Path):
    out = tmp_path / "evening-watch.setting"
    seamwright.write_turning(out, kites, 2)
    back = read_setting(out)
    assert back.name == "evening watch"
    assert [[(c.source, c.turn) for c in row] for row in back.rows] == [
        [("kite", Turn(0)), ("kite", Turn(3))],
        [("kite", Turn(1)), ("kite", Turn(2))],
    ]
    assert len(back.cells) == len(back.cells[0]) == 4
    out.write_text(out.read_text() + "# worked on\n")
    with pytest.raises(SeamwrightError, match="you may have worked on it"):
        seamwright.write_turning(out, kites, 2)
    seamwright.write_turning(out, kites, 3, force=True)
    assert "worked on" not in out.read_text()


def test_a_quilt_in_centimetres_is_written_in_centimetres(tmp_path: Path):
    found = seamwright.turnings(str(DESIGNS / "kite.svg"), units="metric", size="20cm")
    seamwright.write_turning(tmp_path / "kite.setting", found, 1)
    text = (tmp_path / "kite.setting").read_text()
    # Common practice: binding strips of 6.5 cm, back and batting 10 cm larger on each side.
    assert {"binding 6.5 cm", "backing over 10 cm", "batting over 10 cm"} <= set(text.splitlines())
    assert "size 20cm" in text and "option units metric" in text


def test_lines_typed_from_the_sheet_make_the_quilt_that_is_written(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
):
    kite = str(DESIGNS / "kite.svg")
    assert main(["turnings", kite, "--with-reversed", "--json", "--show", "5"]) == 0
    told = json.loads(capsys.readouterr().out)
    assert told["count"] == 154
    assert told["group"]["order"] == 32
    assert len(told["layouts"]) == 5
    for layout in told["layouts"]:
        out = tmp_path / f"{layout['number']}.setting"
        words = ["turnings", kite, "--with-reversed", "--write", str(layout["number"]), "-o", str(out)]
        assert main(words) == 0
        typed = tmp_path / "typed.setting"
        typed.write_text("\n".join(["seamwright quilt 1", f'block kite "{kite}"', *layout["lines"]]) + "\n")
        cells = [[[(c.source, c.turn) for c in row] for row in read_setting(path).cells] for path in (out, typed)]
        assert cells[0] == cells[1]
        said = [[(c["rotated_deg"], c["reversed"]) for c in row] for row in layout["rows"]]
        assert [[(90 * t.quarters, t.reversed) for _, t in row[:2]] for row in cells[0][:2]] == said


def test_one_drawing_in_two_colourways_is_two_blocks(tmp_path: Path):
    text = DIAGONAL + "fabric ink colour #14213d\ncolourway night foam becomes ink\n"
    (tmp_path / "furrow.seams").write_text(text)
    found = seamwright.turnings(str(tmp_path / "furrow.seams"), colourway="own,night")
    assert found.ways == (("furrow", ""), ("furrow", "night"))
    assert found.group.blocks == 2
    out = tmp_path / "both.setting"
    seamwright.write_turning(out, found, 1)
    assert "furrow in night" in out.read_text() or "in night" in out.read_text()
    quilt = seamwright.read_quilt(out) if hasattr(seamwright, "read_quilt") else None
    assert quilt is None or {look.colourway for look in quilt.looks} == {"", "night"}


def test_a_palette_goes_into_the_quilt_that_is_written(tmp_path: Path):
    (tmp_path / "furrow.seams").write_text(DIAGONAL)
    (tmp_path / "dusk.palette").write_text("seamwright palette 1\nfabric sea colour #112233\n")
    found = seamwright.turnings(str(tmp_path / "furrow.seams"), palette=str(tmp_path / "dusk.palette"))
    assert {f.name: f.colour for f in found.blocks[0].fabrics}["sea"] == "#112233"
    seamwright.write_turning(tmp_path / "dusk.setting", found, 1)
    assert {f.name: f.colour for f in read_setting(tmp_path / "dusk.setting").fabrics} == {"sea": "#112233"}


def test_a_picture_too_tall_for_a_png_is_refused(tmp_path: Path):
    found = seamwright.turnings(str(DESIGNS / "kite.svg"), reversed_too=True)
    many = replace(found, every=found.every * 2)
    with pytest.raises(SeamwrightError, match="it has pages"):
        seamwright.write_turnings(tmp_path / "kite.png", many, show=None)
    assert len(found.every) > SHOWN
