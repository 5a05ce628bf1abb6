"""The text form: what a person may type, what it means, how faults are told, and that writing reads back."""

from __future__ import annotations

import math
import random
import re
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from seamwright.block.make import make_block
from seamwright.block.model import Block
from seamwright.drawing.read import read_drawing
from seamwright.drawing.textform import GRAMMAR, read_seams, write_seams
from seamwright.errors import DrawingError, Fault
from seamwright.fabric.model import Colourway, Fabric, Value
from seamwright.geometry import canonical_ring, signed_area
from support.random_blocks import full_chords, large_cut_block, mixed_blocks

HEAD = "seamwright block 1\n"
SQUARE = HEAD + "size 8 in\n"
ONE_SEAM = SQUARE + "seam 0, 0 to 8, 8\n"


def read(text: str):
    return read_seams(text, name="from its file", file="harbour.seams")


def segments(text: str):
    return [(line.start, line.end) for line in read(text).lines]


def faults(text: str) -> tuple[Fault, ...]:
    with pytest.raises(DrawingError) as caught:
        read(text)
    assert caught.value.drawing == "harbour.seams"
    assert all(fault.what and fault.mend and fault.line and fault.column for fault in caught.value.faults)
    return caught.value.faults


# -- what may be typed -------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "line",
    [
        "seam 0, 0 to 2 1/2, 8",
        "seam from 0, 0 to 2 1/2, 8",
        "seam 0,0 to 2.5,8",
        "seam (0, 0) to (2½, 8)",
        "seam 0 0 to 2-1/2 8",
        "  SEAM\t0, 0 TO 2 1/2 in, 20.32 cm  # the mast",
        "seam 0, 0 to 2 4/8, 8#",
        'seam 0", 0 to 2 1/2", 8"',
    ],
)
def test_one_seam_typed_in_many_ways_is_one_seam(line: str) -> None:
    assert segments(SQUARE + line) == [((0.0, 0.0), (2.5, 8.0))]


@pytest.mark.parametrize("end", ["\n", "\r\n", "\r"])
@pytest.mark.parametrize("mark", ["", "\ufeff"])
def test_line_ends_and_byte_order_marks_of_any_machine_are_read(end: str, mark: str) -> None:
    assert read(mark + ONE_SEAM.replace("\n", end)) == read(ONE_SEAM)


@pytest.mark.parametrize(
    ("facts", "at"),
    [
        ("size 8 in", (3.0, 6.0)),  # counts in inches
        ("size 20.32 cm", (3 / 2.54, 6 / 2.54)),  # counts in cm
        ("size 8 in\ngrid 16", (1.5, 3.0)),  # counts in half inches
        ("grid 16 x 16\nsize 8 in", (1.5, 3.0)),
        ("size 8 x 12 in\ngrid 8 x 12", (3.0, 6.0)),
        ("size 8 in\ngrid 8 x 12", (3.0, 6.0)),  # the height follows from the squares
        ("size 6 x 9 in\ngrid 8 x 8", (2.25, 6.75)),  # squares need not be square
        ("size 7 in\ngrid 9", (7 / 3, 14 / 3)),  # thirds as near as floats go
    ],
)
def test_points_are_counted_on_the_grid_or_in_the_unit_of_the_size(facts: str, at: tuple[float, float]) -> None:
    (line,) = read(f"{HEAD}{facts}\nseam 0, 0 to 3, 6").lines
    assert line.end == at


def test_the_outline_is_a_rectangle_unless_it_is_stated() -> None:
    assert read(HEAD + "size 8 x 6 in\nseam 0, 0 to 8, 6").outline == ((0, 0), (8, 0), (8, 6), (0, 6))
    hexagon = "size 8 in\noutline 2, 0 to 6, 0 to 8, 3 to 6, 6 to 2, 6 to 0, 3"
    for closing in ("", " to 2, 0"):
        drawing = read(f"{HEAD}{hexagon}{closing}\nseam 0, 3 to 8, 3")
        assert drawing.outline == ((2, 0), (6, 0), (8, 3), (6, 6), (2, 6), (0, 3))


def test_all_that_a_block_can_say_is_read() -> None:
    drawing = read(
        HEAD
        + """# a remark
name storm rose  # not 'calm rose'
size 8 in
seam 0, 0 to 4, 4 to 8, 0
fabric sky colour #A9C9DC value light cool code S stripes 45 width 42 in
fabric "storm blue" color navy warm direction 30 degrees width 110 cm
fabric plain
fabric short colour #1af
lay sky at 4, 1 and 1, 7
lay "storm blue" at 1, 4
option tolerance 1/8 in  # wide
option stretch
colourway night sky becomes plain and "storm blue" becomes sky
colourway dawn: sky becomes short
"""
    )
    assert drawing.name == "storm rose"
    assert [(line.start, line.end, line.source) for line in drawing.lines] == [
        ((0, 0), (4, 4), "line 5"),
        ((4, 4), (8, 0), "line 5"),
    ]
    assert drawing.fabrics == (
        Fabric("sky", "S", "#a9c9dc", Value.LIGHT, "cool", 45.0, 42.0, striped=True),
        # W3C CSS Color Module Level 3, section 4.3: navy is #000080
        Fabric("storm blue", "", "#000080", None, "warm", 30.0, 11000 / 254),
        Fabric("plain"),
        # section 4.2.1: #rgb doubles each figure
        Fabric("short", colour="#11aaff"),
    )
    assert [(s.at, s.fabric) for s in drawing.swatches] == [
        ((4, 1), "sky"),
        ((1, 7), "sky"),
        ((1, 4), "storm blue"),
    ]
    assert drawing.options == (("tolerance", "1/8 in"), ("stretch", ""))
    assert drawing.colourways == (
        Colourway("night", (("sky", "plain"), ("storm blue", "sky"))),
        Colourway("dawn", (("sky", "short"),)),
    )
    assert drawing.exact and drawing.physical


def test_the_name_of_the_file_is_the_name_of_a_block_without_one() -> None:
    assert read(ONE_SEAM).name == "from its file"


def test_each_line_of_the_printed_grammar_is_a_line_that_can_be_typed() -> None:
    lines = [
        line[2:40].strip() if line[39:40] == " " else line.strip()
        for line in GRAMMAR.splitlines()
        if line[:2] == "  "
    ]
    text = HEAD + "\n".join(line for line in lines if not line.startswith(("outline", "side"))) + "\nfabric ink\n"
    drawing = read(text)
    assert drawing.name == "storm rose" and len(drawing.curves) == 3 and drawing.colourways


# -- curves ------------------------------------------------------------------------------------------------------


def test_an_arc_keeps_to_its_circle_and_ends_where_it_says() -> None:
    (curve,) = read(SQUARE + "arc 0, 4 through 2.4, 3.2 to 4, 0").curves  # 3-4-5: all three 4 in from the corner
    assert curve.points[0] == (0, 4) and curve.points[-1] == (4, 0) and (2.4, 3.2) in curve.points
    radii = [math.hypot(*p) for p in curve.points]
    assert max(radii) - min(radii) < 1e-12
    middles = [((a + c) / 2, (b + d) / 2) for (a, b), (c, d) in zip(curve.points, curve.points[1:], strict=False)]
    assert all(4 - math.hypot(*m) <= 0.0005 for m in middles)  # a chord stays that near to its arc


@pytest.mark.parametrize(
    ("line", "inner", "middle"),
    [
        # The point at half of a Bezier curve: (a + 2 b + c) / 4, (a + 3 b + 3 c + d) / 8
        # (G. Farin, "Curves and Surfaces for CAGD", 5th ed., chapter 4)
        ("curve 0, 4 bending at 4, 0 to 8, 4", [(4, 0)], (4.0, 2.0)),
        ("curve 0, 4 bending at 2, 0 and 6, 0 to 8, 4", [(2, 0), (6, 0)], (4.0, 1.0)),
    ],
)
def test_a_bending_curve_passes_where_the_book_says(line: str, inner: list, middle: tuple[float, float]) -> None:
    (curve,) = read(SQUARE + line).curves
    assert curve.points[0] == (0, 4) and curve.points[-1] == (8, 4)
    assert not set(inner) & set(curve.points)
    assert min(math.dist(p, middle) for p in curve.points) < 1e-9 or len(curve.points) % 2 == 0
    assert min(y for _, y in curve.points) == pytest.approx(middle[1], abs=0.001)


def test_a_curve_that_is_straight_is_a_seam() -> None:
    drawing = read(SQUARE + "curve 0, 0 bending at 4, 4 to 8, 8")
    assert not drawing.curves and [(s.start, s.end) for s in drawing.lines] == [((0, 0), (8, 8))]


def test_a_curve_may_leave_the_block_only_with_the_point_that_pulls_it() -> None:
    read(SQUARE + "curve 0, 2 bending at 4, -2 to 8, 2")
    assert faults(SQUARE + "curve 0, 2 to 4, -2 to 8, 2")[0].code == "outside"


# -- faults ------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("line", "column", "words"),
    [
        ("seem 0, 0 to 8, 8", 1, "'seem' is no keyword. Perhaps 'seam' is meant"),
        ("color sky", 1, "no keyword"),
        ("seam", 5, "a point .* but the line ends. Write it as: seam 0, 0 to 8, 8"),
        ("seam 0, 0", 10, "no second point"),
        ("seam 0, 0 8, 8", 11, "the word 'to' should stand between"),
        ("seam 0, 0 to 8", 15, "second number"),
        ("seam 0, 0 to 8, 8 to", 21, "but the line ends"),
        ("seam 0, 0 to 8, 8, 8", 18, "the word 'to'"),
        ("seam 0, 0 to nan, 8", 14, "not 'nan'"),
        ("seam 0, 0 to 8, inf", 17, "not 'inf'"),
        ("seam 0, 0 to 8, 1/0", 17, "second number|how far down"),
        ("seam 0, 0 to 1e999, 8", 14, "outside the block"),
        ("seam (0, 0 to 8, 8", 12, "bracket is not closed"),
        ("seam 1, 1 to 1, 1", 14, "does not move"),
        ("seam 1, 1 to 3, 1 to 3, 1", 22, "does not move"),
        ("seam 0, 0 to 9, 8", 14, r"\(9, 8\) in lies outside the block. The block reaches from 0, 0 to 8, 8 in"),
        ("seam -1, 0 to 8, 8", 6, "outside"),
        ("seam 0, 0 to 8 1/8 in, 8", 14, "outside"),
        ("arc 0, 0 through 1, 1 to 2, 2", 18, "lie on one line"),
        ("arc 0, 0 to 2, 2", 10, "'through' should stand here"),
        ("curve 0, 0 to 8, 8", 19, "straight"),
        ("curve 0, 0 bending 8, 8", 24, "'to' should stand here"),
        ("grid 0", 6, "no number of squares"),
        ("grid 8.5", 6, "no number of squares"),
        ("grid 8 in", 6, "no number of squares"),
        ("grid 5000", 6, "1 to 1000"),
        ("size 9 in", 1, "second time, first in line 2"),
        ("outline 0, 0 to 8, 0", 21, "three corners"),
        ("outline 0, 0 to 8, 8 to 8, 0 to 0, 8", 9, r"crosses or touches itself at \(4, 4\)"),
        ("outline 0, 0 to 4, 4 to 8, 8", 9, "crosses or touches itself"),
        ("outline 0, 0 to 7, 0 to 7, 8", 9, "right side lies at 7 in, the size says 8 in"),
        ("side 0, 0 through 4, 1 to 8, 8", 6, r"from \(0, 0\) in to \(8, 8\) in joins no two corners"),
        ("side 0, 0 to 8, 0", 18, "straight"),
        ("side 0, 0 through 4, 0 to 8, 0", 19, "on one line"),
        ("side 0, 0 through 4, 4", 23, "'to' should stand here"),
        ("side 0, 0 bending at 4, 20 to 8, 0", 6, "crosses or touches itself"),
        ("name", 5, "name is missing"),
        ("name " + 200 * "n", 6, "200 characters"),
        ("fabric", 7, "name of the fabric"),
        ("fabric 3b", 8, "quotes round"),
        ("fabric ''", 8, "name of the fabric"),
        ("fabric sky colour", 18, "a colour should stand here"),
        ("fabric sky colour #12345", 19, "a colour should stand here"),
        ("fabric sky colour blurple", 19, "#a9c9dc"),
        ("fabric sky value pale", 18, "'pale' is no value. Use one of: light, medium, dark"),
        ("fabric sky value", 17, "a value is missing"),
        ("fabric sky valeu light", 12, "Perhaps 'value' is meant"),
        ("fabric sky warm cool", 17, "a second time"),
        ("fabric sky stripes 400", 23, "out of range"),
        ("fabric sky width 0", 18, "0 in wide"),
        ("lay sky at 1, 1", 5, "no fabric line says what 'sky' is.*fabric sky"),
        ("lay sky 1, 1", 9, "'at' should stand here"),
        ('fabric "sky', 8, "name of the fabric"),
        ("option", 7, "option is missing"),
        ("option tolerence 1/8 in", 8, "Perhaps 'tolerance' is meant"),
        ("option tolerance 1/8 furlong", 8, "option tolerance: .* unit 'furlong'"),
        ("colourway night sky becomes ink", 17, "no fabric line says what 'sky' is"),
        ("colourway night sky", 20, "'becomes' should stand here"),
        ("seam 0, 0 to 8\x00, 8", 15, "U\\+0000 cannot be read"),
        ("seam 0, 0 to 8\u200b, 8", 15, "U\\+200B"),
        ("name " + 100_001 * "x", 100_001, "100,006 characters"),
    ],
)
def test_a_fault_names_its_column_and_the_mend(line: str, column: int, words: str) -> None:
    first = next(fault for fault in faults(ONE_SEAM + line) if fault.line == 4)
    assert re.search(words, f"{first.what}. {first.mend}"), first.text
    assert (first.line, first.column) == (4, column), first.text
    assert len(first.text) < 300


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("", "the file is empty"),
        ("\n\n# only a remark\n", "the file is empty"),
        ("hello", "first line is 'hello'.*seamwright block 1"),
        ("seamwright block 2\nsize 8 in", "form 2"),
        ("seamwright block", "form \\?"),
        ("seamwright quilt 1", "a quilt, not of a block"),
        (HEAD, "finished size is missing"),
        (SQUARE, "no seam"),
        (HEAD + "size 1/2 in\nseam 0, 0 to 1, 1", "1/2|0.5 in is out of range"),
        (HEAD + "size 200 cm\nseam 0, 0 to 1, 1", "1 to 60 in"),
        (HEAD + "size 1e300 in\nseam 0, 0 to 1, 1", "out of range"),
        (HEAD + "size -8 in\nseam 0, 0 to 1, 1", "out of range"),
        (HEAD + "size 8 x 99 in\nseam 0, 0 to 1, 1", "99 in is out of range"),
        ("\ud800", "U\\+D800"),
        ("seamwright block 1\x0c", "U\\+000C"),
    ],
)
def test_a_file_that_says_too_little_is_told_so(text: str, words: str) -> None:
    assert re.search(words, faults(text)[0].text)


def test_all_faults_of_a_file_are_told_at_once_in_the_order_of_its_lines() -> None:
    text = (
        SQUARE + "seem 0, 0\nseam 1, 1 to 1, 1\nseam 0, 0 to 9, 9\nfabric sky\nfabric sky\nlay sea at 1, 1\nname\n"
    )
    found = faults(text)
    assert [f.line for f in found] == [3, 4, 5, 7, 8, 9]
    assert len({f.code for f in found}) == 6
    assert str(DrawingError("unreadable", found)).count("line ") >= 6


def test_a_thousand_faults_are_cut_short() -> None:
    found = None
    with pytest.raises(DrawingError) as caught:
        read(SQUARE + "seem\n" * 1000)
    found = caught.value.faults
    assert len(found) == 61 and found[-1].what == "940 more faults follow"


def test_too_many_pieces_and_too_long_a_text_are_refused() -> None:
    many = " to ".join(f"{x % 8}, {x // 8 % 8}" for x in range(4000))
    text = SQUARE + f"seam {many}\n" * 13
    assert "more than 50,000 pieces" in faults(text)[0].what
    with pytest.raises(DrawingError, match="at most 20 million"):
        read("x" * 20_000_001)


@given(
    st.lists(
        st.sampled_from(
            [
                "seam",
                "0",
                "8",
                ",",
                "to",
                "1/2",
                "fabric",
                "sky",
                "lay",
                "at",
                "#",
                '"',
                "\n",
                "grid",
                "size",
                "in",
                "nan",
                "(",
                ")",
                "x",
                "curve",
                "arc",
                "through",
                "bending",
                "outline",
                "side",
                "name",
                "option",
                "é",
                "\t",
                "1e9",
            ]
        ),
        max_size=40,
    )
)
@settings(derandomize=True, deadline=None, max_examples=500)
def test_any_text_is_a_drawing_or_faults_with_places(words: list[str]) -> None:
    try:
        read(SQUARE + " ".join(words))
    except DrawingError as error:
        assert all(f.line and f.column and f.mend for f in error.faults)


# -- writing -----------------------------------------------------------------------------------------------------


def written(block: Block) -> Block:
    """The block that its own text gives."""
    return make_block(read_seams(write_seams(block), name="?", file=""))


def bare(block: Block) -> Block:
    return replace(block, file="", notes=())


def patch_rings(block: Block):
    rings = [canonical_ring(block.patch_ring(n)) for n in range(len(block.patches))]
    fabrics = [patch.fabric or "" for patch in block.patches]
    return sorted(zip([tuple((round(x, 9), round(y, 9)) for x, y in ring) for ring in rings], fabrics, strict=True))


NAMES = ("sky", "storm blue", 'a "b" \\c', "Ürsel's", "3b", "#1b2a41")


def dressed(block: Block, seed: int) -> Block:
    """The block at an odd size, with fabrics, options and a name."""
    chance = random.Random(seed)
    scale = chance.uniform(0.7, 8.0) if block.width_in < 7 and seed % 2 else 1.0
    fabrics = tuple(
        Fabric(
            name,
            code="" if k % 2 else name[0] * (k + 1),
            colour=f"#0{k}3456" if k % 2 else None,
            value=[None, *Value][k % 4],
            warmth=("", "warm", "cool")[k % 3],
            direction_deg=(None, 45.0, 0.1)[k % 3],
            striped=k % 3 == 1,
            width_in=(None, 42.0)[k % 2],
        )
        for k, name in enumerate(NAMES)
    )
    patches = tuple(replace(p, fabric=chance.choice([None, *NAMES])) for p in block.patches)
    used = {p.fabric for p in patches}
    return replace(
        block,
        name=chance.choice(["kite", "storm rose", "a  b", 'q"', "#1", "x # y", "name"]),
        points=tuple((x * scale, y * scale) for x, y in block.points),
        width_in=block.width_in * scale,
        height_in=block.height_in * scale,
        patches=patches,
        fabrics=tuple(f for f in fabrics if f.name in used),
        options=(("tolerance", "1/32 in"), ("stretch", "")) if seed % 3 == 0 else (),
    )


def check_fixed_point(block: Block) -> None:
    first = written(block)
    assert write_seams(first) == write_seams(written(first))
    assert bare(written(first)) == bare(first)
    # The block read is the block written, point for point, whatever its numbers were.
    assert patch_rings(first) == patch_rings(block)
    assert len(first.seams) == len(block.seams)
    assert (first.name, first.options) == (block.name, block.options)
    assert set(first.fabrics) == set(block.fabrics)


@pytest.mark.parametrize("part", range(4))
def test_a_written_block_reads_back_to_itself(part: int) -> None:
    for seed, block in enumerate(mixed_blocks(part, 25)):
        check_fixed_point(dressed(block, 25 * part + seed))


@pytest.mark.long
@pytest.mark.parametrize("part", range(4, 44))
def test_a_thousand_written_blocks_read_back_to_themselves(part: int) -> None:
    for seed, block in enumerate(mixed_blocks(part, 25)):
        check_fixed_point(dressed(block, 25 * part + seed))


def test_large_blocks_read_back_to_themselves() -> None:
    for seed in range(3):
        check_fixed_point(dressed(large_cut_block(seed, 60), 2 * seed))
        check_fixed_point(dressed(full_chords(seed, 13, size=59), 2 * seed))


@pytest.mark.parametrize(
    "lines",
    [
        "arc 0, 4 through 2.83, 2.83 to 4, 0",
        "curve 2, 8 bending at 3, 6 and 5, 9 to 7, 0",
        "curve 0, 4 to 2, 3 to 4, 2.5 to 8, 2\nseam 2, 3 to 2, 8\nseam 4, 2.5 to 5, 0",
    ],
)
def test_curves_read_back_to_themselves(lines: str) -> None:
    block = make_block(read(SQUARE + lines))
    assert bare(written(block)) == bare(block)
    assert any("curve" in line for line in write_seams(block).splitlines())


ROUND_BLOCKS = {
    "a round top": """size 6 x 8 in
        outline 0, 3 to 6, 3 to 6, 8 to 0, 8
        side 0, 3 through 3, 0 to 6, 3
        seam 0, 3 to 6, 8""",
    "a disc in three": """size 6 in
        outline 0, 3 to 6, 3
        side 0, 3 through 3, 0 to 6, 3
        side 6, 3 through 3, 6 to 0, 3
        seam 0, 3 to 6, 3
        seam 3, 0 to 3, 3""",
    "a hollow side of the square": """size 6 in
        side 6, 0 bending at 3, 2 to 0, 0
        seam 0, 3 to 6, 3
        arc 0, 6 through 3, 4 to 6, 6""",
}


@pytest.mark.parametrize("name", sorted(ROUND_BLOCKS))
def test_curved_sides_read_back_to_themselves(name: str) -> None:
    block = make_block(read(HEAD + ROUND_BLOCKS[name]))
    assert any(len(side) > 2 for side in block.outline_sides())
    assert bare(written(block)) == bare(block)
    assert write_seams(written(block)) == write_seams(block)


def test_a_curved_side_takes_the_place_of_a_straight_one_whichever_way_it_is_written() -> None:
    top = "size 6 x 8 in\noutline 0, 3 to 6, 3 to 6, 8 to 0, 8\nseam 0, 5 to 6, 5\nside "
    one = read(HEAD + top + "0, 3 through 3, 0 to 6, 3")
    other = read(HEAD + top + "6, 3 through 3, 0 to 0, 3")
    assert [len(side) for side in one.sides] == [len(one.sides[0]), 2, 2, 2]
    assert signed_area(make_block(one).outline_ring()) == pytest.approx(
        signed_area(make_block(other).outline_ring())
    )
    # Half a disc of 3 in on a rectangle of 6 x 5.
    assert signed_area(make_block(one).outline_ring()) == pytest.approx(30 + math.pi * 9 / 2, abs=0.01)


def test_a_round_block_drawn_as_svg_keeps_its_edges_when_written(tmp_path) -> None:
    path = tmp_path / "buoy.svg"
    path.write_text(
        '<svg xmlns="http://www.w3.org/2000/svg" width="6in" height="6in" viewBox="0 0 6 6"><path fill="none" '
        'stroke="#000" stroke-width=".02" d="M3 0A3 3 0 0 1 3 6A3 3 0 0 1 3 0ZM3 0V6M0 3H6"/></svg>'
    )
    block = make_block(read_drawing(path))
    assert len(block.outline) == 4
    assert bare(replace(written(block), options=block.options)) == bare(block)


def test_colourways_and_the_fabrics_only_they_use_are_kept() -> None:
    text = ONE_SEAM + "fabric sky\nfabric ink\nfabric unused\nlay sky at 5, 2\ncolourway night sky becomes ink\n"
    block = make_block(read(text))
    assert [f.name for f in block.fabrics] == ["sky", "ink"]
    assert written(block).colourways == block.colourways == (Colourway("night", (("sky", "ink"),)),)


@pytest.mark.parametrize(
    ("lines", "fabrics", "words"),
    [
        ("lay sky at 4, 4", [None, None], "line 6: the point of sky lies on a seam, in no patch; move it into one"),
        ("lay sky at 8, 0", [None, None], "line 6: the point of sky lies on a seam, in no patch; move it into one"),
        (
            "lay sky at 7, 1\nlay sea at 6, 1",
            ["sky", None],
            "line 7: sea is laid where sky lies already; the first is used",
        ),
    ],
)
def test_a_fabric_that_cannot_lie_as_stated_is_told(lines: str, fabrics: list, words: str) -> None:
    block = make_block(read(f"{ONE_SEAM}fabric sky\nfabric sea\n{lines}"))
    assert sorted([p.fabric for p in block.patches], key=str, reverse=True) == fabrics
    assert [note.text for note in block.notes] == [words]


def test_a_written_block_is_one_a_person_would_have_typed() -> None:
    typed = "name kite\nsize 8 in\ngrid 16\nseam 0, 0 to 16, 16\nseam 16, 0 to 8, 8\nfabric sky value light\n"
    block = make_block(read(HEAD + typed + "lay sky at 4, 12\n"))
    *lines, laid = write_seams(block).splitlines()
    assert lines == [
        "seamwright block 1",
        "name kite",
        "size 8 in",
        "",
        "seam 0, 0 to 8, 8",
        "seam 8, 0 to 4, 4",
        "",
        "fabric sky value light",
    ]
    assert re.fullmatch(r"lay sky at \d\.\d, \d\.\d", laid)  # roomy patches need no more figures
