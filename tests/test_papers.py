"""Papers of any size: their names, their margins, sheets on their long side, freezer paper, and less ink."""

from __future__ import annotations

import re
from collections import Counter
from fractions import Fraction
from functools import cache
from io import BytesIO
from itertools import combinations
from pathlib import Path
from typing import Any

import pymupdf
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pypdf import PdfReader
from shapely.geometry import Polygon

import seamwright
from seamwright.asked import agreed
from seamwright.block.model import Block
from seamwright.cli import main
from seamwright.errors import OptionError
from seamwright.foundation.make import foundations
from seamwright.ink.lettering import words_box
from seamwright.ink.model import Area, Pen, Stroke, Words
from seamwright.ink.saver import THIN, saved
from seamwright.options import PlanOptions, PrintOptions, Stock
from seamwright.optiontext import OPTIONS, PRINT_OPTIONS, read_option, with_options
from seamwright.paper import PAPERS, Margins, Paper, paper, papers_for
from seamwright.piecing.fit import Fit as Fitting
from seamwright.piecing.model import Plan
from seamwright.piecing.plan import plan
from seamwright.printnotes import print_notes
from seamwright.report.values import options_as_text
from seamwright.sheet import stock
from seamwright.sheet.gauges import RULES, Rule, long_line
from seamwright.sheet.layout import lay_out
from seamwright.sheet.model import Sheet
from seamwright.sheet.pdf import to_pdf
from seamwright.sheet.readback import read_back
from support.by_hand import fan, strips
from support.exact import exact_block

SIZES_MM = [
    # ISO 216, the A and B series
    ("a0", 841, 1189),
    ("a1", 594, 841),
    ("a2", 420, 594),
    ("a3", 297, 420),
    ("a4", 210, 297),
    ("a5", 148, 210),
    ("iso-b4", 250, 353),
    ("iso-b5", 176, 250),
    # JIS P 0138, its own B series
    ("jis-b4", 257, 364),
    ("jis-b5", 182, 257),
    # common practice: what makers of photo printers call A3+
    ("a3+", 329, 483),
    # ANSI/ASME Y14.1, sizes A and B
    ("letter", 8.5 * 25.4, 11 * 25.4),
    ("tabloid", 11 * 25.4, 17 * 25.4),
    # common practice in North America
    ("legal", 8.5 * 25.4, 14 * 25.4),
    ("half-letter", 5.5 * 25.4, 8.5 * 25.4),
    ("executive", 7.25 * 25.4, 10.5 * 25.4),
    ("super-tabloid", 13 * 25.4, 19 * 25.4),
]


@pytest.mark.parametrize(("name", "width", "height"), SIZES_MM, ids=[name for name, *_ in SIZES_MM])
def test_papers_have_the_sides_of_their_standard(name: str, width: float, height: float) -> None:
    found = paper(name)
    assert (found.width_in * 25.4, found.height_in * 25.4) == pytest.approx((width, height), abs=1e-9)
    assert found.width_in < found.height_in


def test_every_paper_is_held_against_a_standard() -> None:
    assert sorted(page.name for page in PAPERS) == sorted(name for name, *_ in SIZES_MM)


def test_a_general_pdf_library_knows_the_same_sizes() -> None:
    # MuPDF's own table, whole points
    known = pymupdf.paper_sizes()
    names = {"iso-b4": "b4", "iso-b5": "b5", "half-letter": "invoice", "tabloid": "ledger"}
    compared = [page for page in PAPERS if names.get(page.name, page.name) in known]
    assert len(compared) == 13
    for page in compared:
        assert (page.width_pt, page.height_pt) == pytest.approx(known[names.get(page.name, page.name)], abs=0.6)


@pytest.mark.parametrize(
    ("texts", "name"),
    [
        (("20x30cm", "200x300mm", "20 cm x 30 cm", "20 × 30 CM", "0.2 x 0.3 m", "20cm x 300mm"), "20x30cm"),
        (("8x10in", "8 x 10", '8"x10"', "8 in by 10 in", "203.2x254mm"), "8x10in"),
        (("12in x 18in", "1 x 1 1/2 ft", "30.48x45.72cm"), "12x18in"),
        (("letter", "LETTER", "US letter", "8.5x11in", "8 1/2 x 11", "215.9 x 279.4 mm"), "letter"),
        (("a4", "A4", "210x297mm", "21 x 29.7 cm"), "a4"),
        (("13x19", "13x19in", "super tabloid", "Super-Tabloid", "330.2x482.6mm"), "super-tabloid"),
        (("329x483mm", "A3+"), "a3+"),
        (("half letter", "half_letter", "5 1/2 x 8 1/2 in", "statement"), "half-letter"),
        (("tabloid", "ledger", "11x17"), "tabloid"),
        (("JIS B5", "182x257mm"), "jis-b5"),
        (("11x8.5in", "11 x 8 1/2"), "11x8.5in"),  # as given: wider than high, so not the paper called letter
        (("24x36in", "2 x 3 ft", "60.96x91.44cm"), "24x36in"),  # a stretch of a roll
    ],
)
def test_a_paper_is_one_however_it_is_written(texts: tuple[str, ...], name: str) -> None:
    assert {paper(text).name for text in texts} == {name}
    assert len({paper(text) for text in texts}) == 1


sides = st.one_of(
    st.integers(180_000, 1_000_000).map(lambda n: f"{n / 1000}mm"),
    st.integers(1800, 10_000).map(lambda n: f"{n / 100}cm"),
    st.integers(7 * 64, 40 * 64).map(lambda n: f"{n // 64} {n % 64 + 1}/64 in" if n % 64 < 63 else f"{n // 64}in"),
)


@settings(derandomize=True, deadline=None, max_examples=80)
@given(width=sides, height=sides)
def test_a_papers_own_name_reads_back_to_it(width: str, height: str) -> None:
    found = paper(f"{width} x {height}")
    assert paper(found.name) == found
    asked = [seamwright.units.parse_length(side) for side in (width, height)]
    # A thousandth of a millimetre is the finest that a name tells where a side is short in no unit.
    assert found.sides_in == pytest.approx(asked, abs=0.0005 / 25.4)


NO_PAPERS = [
    ("", "a length is missing.*20x30cm"),
    ("x10in", "no length.*20x30cm"),
    ("8x", "missing"),
    ("8x10x12in", "no length"),
    ("8x10furlong", "'furlong' is not known"),
    ("24in", "one side only.*24x36in.*roll"),
    ("0x10in", "no paper to print on"),
    ("-8x10in", "no paper to print on: 5 1/2 x 7 in is the least"),
    ("4x6in", "5 1/2 x 7 in is the least"),
    ("210x297", "60 in by 200 in the most.*inches, if none is given"),
    ("1e999x1e999in", "no paper to print on"),
    ("24x400in", "the most"),
    ("20,5x30cm", "no length|no paper"),
    ("nanx10in", "no paper that is known.*letter, a4.*20x30cm"),
    ("b5", "two papers: iso-b5 is 176 x 250 mm and jis-b5 is 182 x 257 mm. Give iso-b5 or jis-b5"),
    ("B4", "two papers: iso-b4 is 250 x 353 mm"),
    ("a4 landscape", "give --paper a4 --landscape"),
    ("letter-portrait", "give --paper letter alone"),
    ("tabliod", "Did you mean 'tabloid'"),
    ("roll", "Give one of letter, a4, .* or a size"),
    ("a4\x07", r"a4\\x07"),
    ("9" * 300 + "x8in", r"\.\.\.' is no length"),
]


@pytest.mark.parametrize(("text", "words"), NO_PAPERS, ids=[repr(text)[:20] for text, _ in NO_PAPERS])
def test_what_is_no_paper_is_told_with_the_mend(text: str, words: str) -> None:
    with pytest.raises(OptionError, match=words) as caught:
        paper(text)
    assert len(str(caught.value)) < 400
    assert str(caught.value).isprintable()


def test_one_paper_is_one_plan_and_is_named_in_it_in_one_way() -> None:
    block = strips(4, 4, 3)
    pairs = [[("paper", text)] for text in ("20x30cm", "200x300mm")]
    one, two = (plan(block, with_options(PlanOptions(), given)) for given in pairs)
    assert one.id == two.id != plan(block).id
    assert options_as_text(one.options) == {"paper": "20x30cm"}
    assert plan(block, with_options(PlanOptions(), [("paper", "8.5x11in")])).id == plan(block).id


# -- margins --------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("text", "margins"),
    [
        ("1/2in", Margins(0.5, 0.5, 0.5, 0.5)),
        ("5mm, 5mm, 12.7mm, 5mm", Margins(5 / 25.4, 5 / 25.4, 0.5, 5 / 25.4)),
        ("0", Margins(0, 0, 0, 0)),
        ("1/4in,1/4in,1/2in,1/4in", None),  # those of home printers are the default, so the plan is the same
    ],
)
def test_margins_are_one_length_or_four(text: str, margins: Margins | None) -> None:
    assert read_option("margins", text) == ("margins", margins)
    options = with_options(PlanOptions(), [("margins", text)])
    # What is written for programs reads back to the same margins.
    assert with_options(PlanOptions(), options_as_text(options).items()) == options


@pytest.mark.parametrize(
    ("page", "text", "words"),
    [
        ("letter", "3in", "leave 2 1/2 x 5 in of Letter paper. Leave 4 1/2 x 6 in"),
        ("a5", "3in", "leave nothing of A5 paper"),
        ("letter", "1in,2in", "2 lengths.*one for all sides.*four"),
        ("letter", "-1/4in", "out of range"),
        ("letter", "9in", "out of range. Give 0 in to 3 in"),
        ("letter", "wide", "'wide' is no length"),
        ("letter", "1,,2,3", "a length is missing"),
    ],
)
def test_margins_that_leave_nothing_are_refused_in_words(page: str, text: str, words: str) -> None:
    with pytest.raises(OptionError, match=f"^option margins: .*{words}"):
        with_options(PlanOptions(), [("paper", page), ("margins", text)])


def reach(sheet: Sheet) -> tuple[float, float, float, float]:
    """How far anything drawn reaches: left, top, right, bottom."""
    points = []
    for mark in sheet.ink:
        if isinstance(mark, Stroke):
            half = mark.pen.value.width_pt / 2
            points += [(x + d, y + d) for x, y in mark.points for d in (-half, half)]
        elif isinstance(mark, Area):
            points += [p for ring in mark.rings for p in ring]
        else:
            points += words_box(mark, 1.0)
    xs, ys = zip(*points, strict=True)
    return min(xs), min(ys), max(xs), max(ys)


@cache
def small(page: str = "letter") -> Plan:
    return plan(fan(3, 4, "beacon fan"), PlanOptions(paper=page))


@pytest.mark.parametrize(
    ("page", "margins", "landscape"),
    [
        ("a5", Margins(0.5, 0.5, 0.5, 0.5), False),
        ("letter", Margins(0.1, 0.2, 1.0, 0.3), True),
        ("20x30cm", Margins(0.25, 0.25, 0.5, 0.25), True),
        ("30x20cm", Margins(0.9, 0.0, 0.3, 0.6), True),
    ],
)
def test_nothing_is_drawn_where_the_printer_does_not_reach(page: str, margins: Margins, landscape: bool) -> None:
    check_margins(page, margins, landscape)


lengths = st.integers(0, 16).map(lambda n: n / 16)


@pytest.mark.long
@settings(derandomize=True, deadline=None, max_examples=40)
@given(
    page=st.sampled_from(["a5", "letter", "20x30cm", "30x20cm", "super-tabloid"]),
    margins=st.tuples(lengths, lengths, lengths, lengths).map(lambda m: Margins(*m)),
    landscape=st.booleans(),
)
def test_whatever_the_margins_nothing_is_drawn_in_them(page: str, margins: Margins, landscape: bool) -> None:
    try:
        check_margins(page, margins, landscape)
    except OptionError:
        return  # they leave too little, which is told


def check_margins(page: str, margins: Margins, landscape: bool) -> None:
    jobs, there = [(small(), foundations(small()))], paper(page, margins)
    lies = landscape and there.width_in < there.height_in
    for sheet in lay_out(jobs, paper=there, printing=PrintOptions(effort=1, landscape=landscape)):
        left, top, right, bottom = reach(sheet)
        slack = 0.7  # half a pen: outlines may run along the very edge of what prints
        m = margins
        # On the long side either short edge may leave the printer last, and either long one may be at the top.
        ends, long = max(m.top, m.bottom), max(m.left, m.right)
        free = (ends, long, ends, long) if lies else (m.left, m.top, m.right, m.bottom)
        assert left >= 72 * free[0] - slack
        assert top >= 72 * free[1] - slack
        assert right <= sheet.width_pt - 72 * free[2] + slack
        assert bottom <= sheet.height_pt - 72 * free[3] + slack


def test_the_foot_says_margins_in_words() -> None:
    made = plan(fan(4, 4), PlanOptions(margins=Margins(0.5, 0.25, 0.5, 0.25)))
    words = " ".join(m.text for m in lay_out([(made, foundations(made))])[0].ink if isinstance(m, Words))
    assert "margins 1/2 in top, 1/4 in right, 1/2 in bottom, 1/4 in left" in words


# -- the page -------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("text", "landscape", "width_mm", "height_mm"),
    [
        ("a5", False, 148, 210),
        ("20x30cm", False, 200, 300),
        ("20x30cm", True, 300, 200),
        ("30x20cm", False, 300, 200),
        ("30x20cm", True, 300, 200),  # lies on its long side as it is given
        ("letter", True, 279.4, 215.9),
        ("13x19in", False, 330.2, 482.6),
    ],
)
def test_the_page_is_exactly_as_large_as_the_paper(
    text: str, landscape: bool, width_mm: float, height_mm: float
) -> None:
    made = small()
    sheets = lay_out([(made, foundations(made))], paper=text, printing=PrintOptions(landscape=landscape))
    pdf = to_pdf(sheets, title="t", made_from="m")
    read_back(pdf, sheets)
    for page in PdfReader(BytesIO(pdf)).pages:
        # ISO 32000-1, 8.3.2.3: 72 units to the inch; /Rotate, if it is there at all, turns nothing
        assert [float(v) for v in page.mediabox] == pytest.approx(
            [0, 0, width_mm * 72 / 25.4, height_mm * 72 / 25.4], abs=0.001
        )
        assert page.rotation == 0


def test_a_sheet_too_narrow_for_a_line_of_six_inches_has_one_of_four() -> None:
    made = small("a5")
    (sheet, *_) = lay_out([(made, foundations(made))], paper="a5")
    found = {a[0] == b[0]: max(abs(b[0] - a[0]), abs(b[1] - a[1])) / 72 for a, b in sheet.check_lines_pt}
    assert found == {True: pytest.approx(6), False: pytest.approx(4)}  # down, across
    words = " ".join(m.text for m in sheet.ink if isinstance(m, Words))
    # 97 % and 94 % of 4 in are 3.88 and 3.76 in, of 10.16 cm 9.86 and 9.55 cm
    assert re.search(r"3 7/8 in (and 9\.7|\(9\.86) cm.*3 3/4 in (and 9\.4|\(9\.55) cm", words)


def test_margins_turn_with_the_paper_and_are_safe_whichever_way_it_is_turned() -> None:
    lying = paper("letter", Margins(top=0.1, right=0.2, bottom=0.5, left=0.3)).lying()
    assert lying == Paper("letter", 11.0, 8.5, Margins(top=0.3, right=0.5, bottom=0.3, left=0.5))
    assert lying.lying() == lying


# -- freezer paper --------------------------------------------------------------------------------------------


@cache
def stars(use: Stock) -> tuple[Sheet, ...]:
    made = plan(fan(5, 6, "beacon fan"))
    return lay_out([(made, foundations(made))], printing=PrintOptions(stock=use))


def test_freezer_paper_is_mirrored_like_any_other_and_says_how_it_is_sewn() -> None:
    words = " ".join(m.text for sheet in stars(Stock.FREEZER) for m in sheet.ink if isinstance(m, Words))
    for said in ("dull side", "dry iron", "beside the fold, not through it", "laser printer", "Makers' manuals"):
        assert said in words
    assert "A copied sheet stretches" in words
    placed = [p.foundation for sheet in stars(Stock.FREEZER) for p in sheet.placed]
    assert all(one.mirrored for one in placed if one.kind == "foundation")
    plain = " ".join(m.text for sheet in stars(Stock.PAPER) for m in sheet.ink if isinstance(m, Words))
    assert "freezer" not in plain.lower()


def test_one_print_of_freezer_paper_serves_several_places() -> None:
    made = plan(seamwright.read_block("designs/compass-star.seams"))
    every = foundations(made)
    kept = stock.needed(every, Stock.FREEZER)
    places = Counter(one.label for one in every)
    assert max(places.values()) > 1
    assert Counter(one.label for one in kept) == {label: -(-count // stock.USES) for label, count in places.items()}
    assert stock.needed(every, Stock.PAPER) == every, "what is sewn on is printed for every place"
    assert {one.sections for one in stock.needed(every, Stock.PAPER)} == {(one.section,) for one in every}
    said = " ".join(stock.on_screen([made], PrintOptions(stock=Stock.FREEZER)))
    assert "A and B, 4 times each" in said
    # The key shows all places that the prints of a sheet serve.
    assert stock.served(every, kept) == tuple(one.section for one in every)


@pytest.mark.parametrize("other", [{"unmirrored": True}, {"windows": True}, {"enlarge": 2.0}])
def test_what_is_not_sewn_on_is_not_told_how_to_sew_by_it(other: dict[str, Any]) -> None:
    said = stock.on_screen([small()], PrintOptions(stock=Stock.FREEZER, **other))
    assert said == (stock.NOT_SEWN, stock.CARE)
    prints = foundations(small(), PrintOptions(**other))
    assert stock.on_sheet(prints, PrintOptions(stock=Stock.FREEZER, **other)) == (stock.CARE,)


# -- ink saver ------------------------------------------------------------------------------------------------


def test_thin_pens_are_thinner_keep_their_pattern_and_their_order() -> None:
    # Sheets for the classroom wall have pens of their own, which give way to these; so have pictures of quilts,
    # which are no sheets to sew on.
    others = {pen for pen in Pen if pen.name.startswith("WALL")} | {Pen.FINE_SEAM, Pen.FINEST_SEAM}
    assert set(THIN) | set(THIN.values()) == set(Pen) - others
    for pen, thin in THIN.items():
        assert 0.5 <= thin.value.width_pt <= pen.value.width_pt  # look: no line under 0.5 pt
        assert bool(pen.value.dashes_pt) == bool(thin.value.dashes_pt)
        on = [sum(p.value.dashes_pt[::2]) / sum(p.value.dashes_pt) if p.value.dashes_pt else 1 for p in (pen, thin)]
        assert on[1] * thin.value.width_pt < on[0] * pen.value.width_pt
    by_weight = sorted(THIN, key=lambda pen: pen.value.width_pt)
    assert by_weight == sorted(THIN, key=lambda pen: (THIN[pen].value.width_pt, pen.value.width_pt))
    assert Pen.THIN_STITCH.value.width_pt > Pen.THIN_RULE.value.width_pt
    assert len({(pen.value.width_pt, pen.value.dashes_pt) for pen in Pen}) == len(Pen)


@cache
def pair() -> tuple[Sheet, Sheet]:
    """The first sheet of a block, with all ink and with less."""
    made = plan(fan(6, 6, "fan"), PlanOptions(max_patches=2))
    jobs = [(made, foundations(made))]
    full, thin = (lay_out(jobs, printing=PrintOptions(effort=1, ink_saver=less))[0] for less in (False, True))
    return full, thin


def test_ink_saver_leaves_out_tints_and_bold_and_nothing_else() -> None:
    full, thin = pair()
    assert any(isinstance(m, Words) and m.bold for m in full.ink)
    assert not any(isinstance(m, Words) and m.bold for m in thin.ink)
    assert [m.text for m in thin.ink if isinstance(m, Words)] == [m.text for m in full.ink if isinstance(m, Words)]
    assert [m.points for m in thin.ink if isinstance(m, Stroke)] == [
        m.points for m in full.ink if isinstance(m, Stroke)
    ]
    assert all(m.pen in THIN.values() for m in thin.ink if isinstance(m, Stroke))
    assert all(m.colour == "#000000" for m in thin.ink if isinstance(m, Area))
    assert saved(thin.ink) == thin.ink
    read_back(to_pdf([thin], title="t", made_from="m"), [thin])


def test_the_key_still_tells_which_sections_are_on_the_sheet() -> None:
    full, thin = pair()
    shown = {p.foundation.section for p in full.placed}
    names = {section.name for section in plan(fan(6, 6, "fan"), PlanOptions(max_patches=2)).sections}
    assert shown < names, "or the key tells nothing"
    underlined = {m.text for m in thin.ink if isinstance(m, Words) and m.underline and m.text in names}
    assert underlined == shown


def test_bold_words_on_a_tint_are_underlined_without_it() -> None:
    tint = Area((((0.0, 0.0), (50.0, 0.0), (50.0, 50.0), (0.0, 50.0)),), "#dcdcdc")
    mark = Area((((0.0, 0.0), (5.0, 0.0), (5.0, 5.0)),), "#000000")
    on, off = Words("A", (20.0, 20.0), 12.0, bold=True), Words("B", (90.0, 20.0), 12.0, bold=True)
    quiet = Words("C", (30.0, 40.0), 12.0)
    assert [(m.text, m.bold, m.underline) for m in saved([tint, mark, on, off, quiet]) if isinstance(m, Words)] == [
        ("A", False, True),
        ("B", False, False),
        ("C", False, False),
    ]
    assert [m for m in saved([tint, mark]) if isinstance(m, Area)] == [mark]


# -- one form for the command line and the drawing --------------------------------------------------------------


PRINT_TEXTS = {
    "copies": "2",
    "sets": "apart",
    "upright": "",
    "effort": "20",
    "landscape": "yes",
    "stock": "freezer",
    "unmirrored": "no",
    "windows": "no",
    "tints": "yes",
    "ink-saver": "",
    "trial-page": "yes",
    "enlarge": "150%",
    "footer": "Harbour class, autumn: copy it freely",
}


def test_every_print_option_can_stand_in_a_drawing(tmp_path: Path) -> None:
    assert set(PRINT_TEXTS) == set(PRINT_OPTIONS)
    lines = [f"option {name} {text}".rstrip() for name, text in PRINT_TEXTS.items()]
    paper_lines = ["option paper 20 x 30 cm", "option margins 1/4in, 1/4in, 3/4in, 1/4in"]
    text = "\n".join(["seamwright block 1", "size 4 in", "seam 0, 0 to 4, 4", *lines, *paper_lines])
    file = tmp_path / "tide.seams"
    file.write_text(text)
    made = seamwright.plan(seamwright.read_block(file))
    assert options_as_text(made.options) == {"paper": "20x30cm", "margins": "0.25in,0.25in,0.75in,0.25in"}
    asked = agreed(PrintOptions, [made], {})
    assert asked == with_options(PrintOptions(), PRINT_TEXTS.items())
    # What is written for programs reads back to the same options.
    assert with_options(PrintOptions(), options_as_text(asked).items()) == asked
    # The command line wins over the drawing.
    assert agreed(PrintOptions, [made], {"landscape": False}).landscape is False


def test_help_names_every_paper_and_every_option(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["foundations", "--help"]) == 0
    shown = capsys.readouterr().out
    told = re.sub(r"-\s+", "-", " ".join(shown.split()))
    papers = told[told.index("--paper NAME") : told.index("--margins LENGTH")]
    assert all(re.search(rf"(^|\W){re.escape(page.name)}(\W|$)", papers) for page in PAPERS)
    assert all(f"--{name} " in shown or f"--{name}\n" in shown for name in OPTIONS | PRINT_OPTIONS)


@pytest.mark.parametrize("page", ["a5", "half-letter", "iso-b5", "20x30cm"])
def test_what_just_fits_a_narrow_paper_is_laid_whole_on_it(page: str) -> None:
    def block(size: Fraction) -> Block:
        return exact_block([], ((0, 0), (6 * size, 0), (6 * size, 3 * size), (0, 3 * size)))

    low, high = Fraction(1, 10), Fraction(4)
    while high - low > Fraction(1, 64):
        middle = (low + high) / 2
        fits = Fitting(block(middle), papers_for(page), 0.25).fits([0])
        low, high = (middle, high) if fits else (low, middle)
    made = plan(block(low), PlanOptions(paper=page))
    for sheet in lay_out([(made, foundations(made))], paper=page, printing=PrintOptions(effort=1)):
        assert not any(placed.tile for placed in sheet.placed)


def test_what_only_a_lying_sheet_prints_in_parts_is_told(tmp_path: Path) -> None:
    lines = ["seamwright block 1", "name tide", "size 7 x 8 in", "seam 0, 3 to 7, 3", "seam 0, 5 to 7, 5"]
    (tmp_path / "tide.seams").write_text("\n".join(lines))
    made = seamwright.plan(seamwright.read_block(tmp_path / "tide.seams"))
    (note,) = [
        note
        for note in print_notes(seamwright.write_pdf(tmp_path / "lying.pdf", made, landscape=True, effort=1))
        if note.code == "landscape"
    ]
    assert note.text == "A prints in parts because sheets lie on their long side; without --landscape not"
    upright = seamwright.write_pdf(tmp_path / "upright.pdf", made, effort=1)
    assert print_notes(upright) == ()
    assert not any(placed.tile for sheet in upright.sheets for placed in sheet.placed)


@pytest.mark.parametrize(
    ("other", "words"),
    [
        (PlanOptions(paper="a4"), r"different papers \(letter, a4\).*--paper"),
        (PlanOptions(margins=Margins(0.5, 0.5, 0.5, 0.5)), "different margins.*--margins"),
    ],
)
def test_drawings_that_ask_for_different_paper_do_not_share_a_file(other: PlanOptions, words: str) -> None:
    with pytest.raises(OptionError, match=words):
        seamwright.lay_out(plan(fan(3, 4)), plan(fan(3, 4), other))


@pytest.mark.parametrize("rule", RULES, ids=[f"{rule.inches} in" for rule in RULES])
@pytest.mark.parametrize("upright", [False, True])
def test_the_words_along_a_long_line_do_not_run_into_each_other(rule: Rule, upright: bool) -> None:
    boxes = [Polygon(words_box(m, 1.0)) for m in long_line(rule, upright=upright).ink if isinstance(m, Words)]
    assert len(boxes) == 3
    for one, two in combinations(boxes, 2):
        assert one.distance(two) > 2.0


@pytest.mark.parametrize("rule", RULES, ids=[f"{rule.inches} in" for rule in RULES])
def test_a_long_line_says_what_it_reads_on_a_shrunken_sheet(rule: Rule) -> None:
    for words, lengths in (
        (rule.words, (rule.inches, rule.cm)),
        (rule.ends_words, (rule.inches, rule.inches * 2.54)),
    ):
        told = [
            (Fraction(whole or 0) + Fraction(part), float(cm))
            for whole, part, cm in re.findall(r"(?:(\d+) )?(\d+/\d+|\d+) in (?:and |\()([\d.]+) cm", words)
        ]
        assert len(told) == 3
        for (inches, cm), share in zip(told, (1, 0.97, 0.94), strict=True):
            # To the nearest sixteenth of an inch, and to the tenth of a millimetre.
            assert float(inches) == pytest.approx(lengths[0] * share, abs=1 / 32)
            assert cm == pytest.approx(lengths[1] * share, abs=0.0051)
