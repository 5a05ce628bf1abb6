"""Sets to hand out, blocks side by side, counts, the designer's words and the page to try a printer with."""

from __future__ import annotations

import math
import re
from collections import Counter
from dataclasses import replace
from functools import cache
from io import BytesIO
from itertools import combinations
from pathlib import Path

import pytest
from pypdf import PdfReader
from shapely.geometry import LinearRing, LineString, Polygon, box

from seamwright import api, mending
from seamwright.errors import OptionError
from seamwright.geometry import moved
from seamwright.ink.lettering import lacking, words_box
from seamwright.ink.model import Stroke, Words
from seamwright.options import PrintOptions, Sets
from seamwright.optiontext import LONGEST_FOOTER, read_option
from seamwright.paper import paper
from seamwright.piecing.model import Plan
from seamwright.report.prints import foundations_object
from seamwright.sheet import layout, often
from seamwright.sheet.desk import Desk
from seamwright.sheet.furnish import Wanted
from seamwright.sheet.furniture import Item
from seamwright.sheet.gauges import RULES
from seamwright.sheet.model import InSet, Sheet
from seamwright.sheet.naming import block_names, times_of, times_words
from seamwright.sheet.pdf import to_pdf
from seamwright.sheet.readback import read_back
from seamwright.words.prints import foundations_words

DESIGNS = Path(__file__).parents[1] / "designs"
FOOTER = (
    "Sea Kite, designed by the Harbour Workshop, second edition, March 2027. You may copy these sheets for your "
    "own class; please do not sell them."
)
ALL = sorted(path.name for path in DESIGNS.iterdir())
IN = 72.0


@cache
def planned(name: str, size: str = "") -> Plan:
    """A design's plan, with seams that turn if it needs them."""
    sized = {"size": size} if size else {}
    found = api.plan(api.read_block(DESIGNS / name, **sized))
    return found if found.sections else api.plan(api.read_block(DESIGNS / name, set_in=True, **sized))


@cache
def laid(*what: str, **printing: str) -> tuple[Sheet, ...]:
    """Designs, each with a size behind it if wanted, on sheets."""
    return api.lay_out(*(planned(*one.split("@")) for one in what), **printing)


def words_of(sheet: Sheet) -> list[str]:
    return [mark.text for mark in sheet.ink if isinstance(mark, Words)]


def one_line(sheet: Sheet) -> str:
    return " ".join(words_of(sheet))


# -- sets apart ----------------------------------------------------------------------------------------------------


@cache
def a_class() -> tuple[Sheet, ...]:
    """Three sets of a block that takes more than one sheet."""
    return laid("pennant.svg@9in", copies="3", sets="apart", footer=FOOTER)


def test_sets_are_alike_but_for_their_number() -> None:
    sheets = a_class()
    each = sheets[0].in_set.sheets
    assert each > 1
    assert len(sheets) == 3 * each
    for sheet in sheets:
        first = sheets[sheet.in_set.sheet - 1]
        assert [replace(p, copy=1) for p in sheet.placed] == list(first.placed)
        here, there = f"Set {sheet.in_set.set} of 3", "Set 1 of 3"
        told = [replace(m, text=m.text.replace(here, there)) if isinstance(m, Words) else m for m in sheet.ink]
        assert tuple(told) == first.ink
        assert sum(here in text for text in words_of(sheet)) == 1


def test_no_sheet_holds_parts_of_two_sets_and_none_is_called_like_another() -> None:
    sheets = a_class()
    assert all({p.copy for p in sheet.placed} == {sheet.in_set.set} for sheet in sheets)
    of = sheets[0].in_set.sheets
    assert [s.in_set for s in sheets] == [InSet(c, 3, n, of) for c in (1, 2, 3) for n in range(1, of + 1)]
    assert [s.number for s in sheets] == list(range(1, len(sheets) + 1))
    for sheet in sheets:
        called = f"Set {sheet.in_set.set} of 3, sheet {sheet.in_set.sheet} of {of}"
        assert sheet.title.startswith(f"{called}: ")
        assert any(text.startswith(called) for text in words_of(sheet))


def test_every_sheet_of_a_set_has_a_line_on_which_a_name_can_be_written() -> None:
    for sheet in a_class():
        [name] = [m for m in sheet.ink if isinstance(m, Words) and m.text == "Name"]
        rules = [
            m.points
            for m in sheet.ink
            if isinstance(m, Stroke) and len(m.points) == 2 and m.points[0][1] == m.points[1][1] == name.at[1]
        ]
        [(a, b)] = rules
        # common practice for forms filled in by hand: 3 in for a name, a line's height of at least 1/4 in
        assert b[0] - a[0] >= 3 * IN
        above = box(a[0], a[1] - IN / 4, b[0], a[1] - 0.5)
        assert not [m for m in sheet.ink if isinstance(m, Words) and Polygon(words_box(m, 1.0)).intersects(above)]


@pytest.mark.parametrize("sets", list(Sets))
def test_every_print_comes_as_often_as_asked(sets: Sets) -> None:
    sheets = laid("pennant.svg@9in", copies="3", sets=sets.value)
    found = Counter((p.foundation.section, p.copy) for sheet in sheets for p in sheet.placed)
    sections = planned("pennant.svg", "9in").sections
    # A template serves all copies that share sheets.
    once = {s.name for s in sections if s.kind == "plain" and sets is Sets.PACKED}
    assert found == Counter(
        (s.name, copy) for s in sections for copy in (1, 2, 3) if copy == 1 or s.name not in once
    )


def test_a_reader_finds_sets_by_bookmark_and_page_label() -> None:
    sheets = a_class()
    read = PdfReader(BytesIO(to_pdf(sheets, title="pennant", made_from="")), strict=True)
    of = sheets[0].in_set.sheets
    assert read.page_labels == [f"set {c} sheet {n}" for c in (1, 2, 3) for n in range(1, of + 1)]
    tops = [one for one in read.outline if not isinstance(one, list)]
    assert [one.title for one in tops] == [f"Set {c} of 3" for c in (1, 2, 3)]
    assert [read.get_destination_page_number(one) for one in tops] == [0, of, 2 * of]
    below = [one for one in read.outline if isinstance(one, list)]
    assert [one.title for group in below for one in group if not isinstance(one, list)] == [s.title for s in sheets]
    assert "Plain piece A" in [
        one.title for group in below for inner in group if isinstance(inner, list) for one in inner
    ]


# -- blocks side by side -------------------------------------------------------------------------------------------


def test_two_sizes_of_one_block_are_told_apart_wherever_they_share_a_sheet() -> None:
    sheets = laid("anchor-flukes.svg@4in", "anchor-flukes.svg@5in")
    shared = [s for s in sheets if len({p.block for p in s.placed}) > 1]
    assert shared
    for sheet in sheets:
        blocks = {p.block for p in sheet.placed}
        assert blocks <= {"anchor-flukes 4 x 4 in", "anchor-flukes 5 x 5 in"}
        assert all(block in sheet.title for block in blocks)
        head = next(text for text in words_of(sheet) if text.startswith("Sheet "))
        assert all(block in head for block in blocks)
        for placed in sheet.placed:
            # On the print, or beside it within the paper that is cut out roughly.
            trim = Polygon([moved(placed.affine, p) for p in placed.foundation.trim_outline])
            size = placed.block.removeprefix("anchor-flukes ")
            near = [
                m.text
                for m in sheet.ink
                if isinstance(m, Words) and trim.buffer(9.0 + 1.0).covers(Polygon(words_box(m, 1.0)))
            ]
            assert any(size in text for text in near), (sheet.number, placed.foundation.label)


def test_blocks_are_called_by_as_much_as_tells_them_apart() -> None:
    kite, small, star = planned("kite.svg"), planned("kite.svg", "4in"), planned("compass-star.seams")
    assert block_names([kite]) == ("kite",)
    assert block_names([kite, star]) == ("kite", "compass star")
    assert block_names([kite, small, star]) == ("kite 6 x 6 in", "kite 4 x 4 in", "compass star")
    assert block_names([kite, kite]) == ("kite", "kite")
    other = replace(kite, id="0badcafe")
    assert block_names([kite, other]) == (f"kite 6 x 6 in, plan {kite.id}", "kite 6 x 6 in, plan 0badcafe")


# -- counts --------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("labels", "said"),
    [
        ("A B C", ""),
        ("A A A A", "A, 4 times"),
        ("B A B A", "A and B, 2 times each"),
        ("A A B C C C", "A, 2 times; C, 3 times; B, once"),
        ("A Ar A Ar B", "A and Ar, 2 times each; B, once"),
    ],
)
def test_how_often_prints_come_is_said_shortly(labels: str, said: str) -> None:
    assert times_words(labels.split()) == said


def test_the_key_says_how_often_a_print_comes_and_copies_on_shared_sheets_are_counted_in() -> None:
    # A star of eight points from two prints: four places each.
    [sheet, *_] = laid("compass-star.seams@5in")
    assert "A and B, 4 times each" in one_line(sheet)
    prints = api.foundations(planned("compass-star.seams", "5in"))
    assert times_of(prints, PrintOptions(copies=3)) == "3 copies: A and B, 12 times each"
    assert times_of(prints, PrintOptions(copies=3, sets=Sets.APART)) == "A and B, 4 times each"


def test_a_reversed_print_is_the_mirror_image_of_the_other() -> None:
    # Turned over, three middles go round the other way, as far apart as before.
    prints = {f.label: f for f in api.foundations(planned("beacon.seams", "5in"))}
    one, other = ([Polygon(p.outline).centroid for p in prints[label].patches[:3]] for label in ("A", "Ar"))
    assert (prints["A"].reversed, prints["Ar"].reversed) == (False, True)
    apart = [[p.distance(q) for p, q in combinations(middles, 2)] for middles in (one, other)]
    assert apart[0] == pytest.approx(apart[1], abs=1e-9)
    turns = [LinearRing([(p.x, p.y) for p in middles]).is_ccw for middles in (one, other)]
    assert turns[0] != turns[1]


def test_programs_are_told_sets_prints_and_what_was_measured(tmp_path: Path) -> None:
    star = planned("compass-star.seams", "5in")
    told = foundations_object(
        api.write_pdf(tmp_path / "star.pdf", star, copies="2", sets="apart", trial_page="yes")
    )
    sheets = told["sheets"]
    each = (len(sheets) - 1) // 2
    assert [s["set"] for s in sheets] == [None, *[1] * each, *[2] * each]
    assert [s["sheet_of_set"] for s in sheets] == [None, *list(range(1, each + 1)) * 2]
    assert all(f["copy"] == s["set"] for s in sheets for f in s["foundations"])
    assert [(p["label"], p["times"], p["times_in_file"]) for p in told["prints"]] == [("A", 4, 8), ("B", 4, 8)]
    assert told["prints"][0]["sections"] == ["A", "A.2", "A.3", "A.4"]
    assert 0 <= told["measured"]["lines_error_mm"] <= 0.01


def test_what_was_printed_is_told_on_one_screen(tmp_path: Path) -> None:
    plans = [planned("kite.svg"), planned("kite.svg", "4in")]
    told = foundations_words(api.write_pdf(tmp_path / "a.pdf", *plans, copies="2", sets="apart", trial_page="yes"))
    assert len(told) <= 24
    assert re.fullmatch(r".*: \d+ sheets, letter: 2 sets of \d sheets, .*; a trial page first\.", told[0])
    # A note says which drawing it is about; what holds for two is said once.
    assert sum("kite 6 x 6 in and kite 4 x 4 in: 2 points sharper" in line for line in told) == 1
    assert told[-1].startswith("  Next: print sheet 1 alone")


@pytest.mark.parametrize(
    ("printing", "facts", "last"),
    [
        ({}, "2 foundations", "before you sew"),
        ({"unmirrored": True}, "front views, not for sewing on", "before you cut"),
        ({"windows": True}, "8 windows", "before you cut"),
        ({"enlarge": 2}, "enlarged 2 times, for the wall, not for sewing", "they are not enlarged"),
    ],
)
def test_the_screen_says_what_the_prints_are_for(tmp_path: Path, printing, facts: str, last: str) -> None:
    told = foundations_words(api.write_pdf(tmp_path / "a.pdf", planned("kite.svg"), effort=1, **printing))
    assert facts in told[1] and told[-1].endswith(f"{last}.")
    assert ("before you sew" in told[-1]) is (not printing)


@pytest.mark.parametrize(
    ("printing", "words"),
    [
        ({"windows": True, "unmirrored": True}, "--unmirrored changes nothing"),
        ({"tints": True, "windows": True}, "windows have no tints"),
        ({"tints": True, "ink_saver": True}, "--ink-saver leaves them out"),
    ],
)
def test_an_option_that_another_leaves_without_effect_is_told(tmp_path: Path, printing, words: str) -> None:
    usual = api.write_pdf(tmp_path / "a.pdf", planned("kite.svg"), effort=1)
    printed = replace(usual, printing=replace(usual.printing, **printing))
    assert sum(words in line for line in foundations_words(printed)) == 1
    assert [n["code"] for n in foundations_object(printed)["notes"]] == ["options"]


def test_quotation_marks_round_a_footer_in_a_file_are_not_printed() -> None:
    assert read_option("footer", '"My class, 2026"') == ("footer", "My class, 2026")
    assert read_option("footer", "“Reef”")[1] == "Reef"
    assert read_option("footer", '"Reef" and "Tide"') == ("footer", '"Reef" and "Tide"')


def test_a_stuck_drawing_says_how_many_mends_a_check_shows(capsys: pytest.CaptureFixture[str]) -> None:
    from seamwright.cli import main

    drawing = str(DESIGNS / "breakwater.seams")
    assert main(["foundations", drawing, "-o", "nothing.pdf"]) == 1
    told = capsys.readouterr().err
    count = int(re.search(rf"seamwright check {re.escape(drawing)} shows (\d+) mends?, each tried", told)[1])
    assert count == len(mending.mends(api.plan(api.read_block(drawing))))


# -- the designer's words ------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("what", "options"),
    [
        (("pennant.svg@9in",), {"copies": "3", "sets": "apart"}),
        (("kite.svg",), {"trial_page": "yes"}),
        (("compass-star.seams@5in",), {}),
        pytest.param(("kite.svg@16in",), {}, marks=pytest.mark.long),
    ],
    ids=["sets", "trial page", "crowded", "large"],
)
def test_the_designers_words_stand_whole_on_every_sheet(what: tuple[str, ...], options: dict[str, str]) -> None:
    for sheet in laid(*what, footer=FOOTER, **options):
        assert FOOTER.replace(" ", "") in one_line(sheet).replace(" ", ""), sheet.number
        assert all(m.size_pt >= 7.0 for m in sheet.ink if isinstance(m, Words))


def test_no_date_stands_on_a_sheet_unless_the_user_writes_one() -> None:
    assert not [text for text in words_of(laid("kite.svg")[0]) if re.search(r"\b20\d\d\b", text)]


def test_words_too_long_for_every_sheet_are_refused_with_the_mend() -> None:
    assert read_option("footer", "x" * LONGEST_FOOTER)[1] == "x" * LONGEST_FOOTER
    with pytest.raises(OptionError, match=r"301 characters long\. Keep to 300: name, copying permission"):
        read_option("footer", "x" * (LONGEST_FOOTER + 1))


def test_a_drawing_in_text_form_may_hold_the_designers_words(tmp_path: Path) -> None:
    drawing = tmp_path / "kite.seams"
    drawing.write_text(
        "seamwright block 1\nsize 4 in\nseam 0, 0 to 4, 4\noption footer Harbour Workshop, 2nd edition\n"
    )
    [sheet] = api.lay_out(api.plan(api.read_block(drawing)))
    assert "Harbour Workshop, 2nd edition" in words_of(sheet)


def test_characters_that_the_type_lacks_are_told(tmp_path: Path) -> None:
    assert lacking("Sea Kite © é") == ("", "")
    assert lacking("\N{HIRAGANA LETTER A}\N{HIRAGANA LETTER A} Kite") == ("\N{HIRAGANA LETTER A}", "")
    printed = api.write_pdf(tmp_path / "kite.pdf", planned("kite.svg"), footer="\N{HIRAGANA LETTER A} Kite")
    told = "\n".join(foundations_words(printed))
    assert "the type has no \N{HIRAGANA LETTER A} of the footer: each prints as a box" in told


# -- the page to try a printer with --------------------------------------------------------------------------------


@pytest.mark.parametrize("options", [{}, {"copies": "2", "sets": "apart"}, {"paper": "a4", "landscape": "yes"}])
def test_the_trial_page_is_sheet_1_and_measures_true(options: dict[str, str]) -> None:
    size = {"paper": options["paper"]} if "paper" in options else {}
    plan = api.plan(api.read_block(DESIGNS / "kite.svg", **size))
    printing = {name: value for name, value in options.items() if name != "paper"}
    sheets = api.lay_out(plan, trial_page="yes", footer=FOOTER, **printing)
    trial, *rest = sheets
    assert (trial.number, trial.placed, trial.in_set) == (1, (), None)
    assert rest and all(sheet.placed for sheet in rest)
    assert [sheet.number for sheet in sheets] == list(range(1, len(sheets) + 1))
    assert trial.title == f"Sheet 1 of {len(sheets)}: trial page"
    said = one_line(trial)
    assert "Print this page alone" in said
    assert f"print sheet{'s' * (len(sheets) > 2)} 2" in said
    assert len(trial.check_squares_pt) == len(trial.check_lines_pt) == 2
    pdf = to_pdf(sheets, title="kite", made_from="")
    assert read_back(pdf, sheets).sheets == len(sheets)
    labels = PdfReader(BytesIO(pdf)).page_labels
    assert labels[0] == "1"
    _nothing_overlaps(trial)


# -- furniture -----------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("rule", RULES, ids=["6 in", "4 in"])
@pytest.mark.parametrize("percent", [97, 94])
def test_a_line_says_what_a_ruler_reads_on_a_shrunken_sheet(rule, percent: int) -> None:
    # An inch is 25.4 mm exactly; quilters' rulers are marked in sixteenths, metric ones in millimetres.
    inches = round(rule.inches * percent / 100 * 16) / 16
    whole, sixteenths = divmod(round(inches * 16), 16)
    down = math.gcd(sixteenths, 16)
    read = f"{whole} {sixteenths // down}/{16 // down} in"
    line_cm, ends_cm = rule.cm * percent / 100, rule.inches * 2.54 * percent / 100
    assert f"{read} and {line_cm:g} cm" in rule.words
    assert f"{read} ({ends_cm:.2f} cm)" in rule.ends_words
    # What is read tells the scale: the next mark of the ruler is another scale.
    assert abs(inches / rule.inches - percent / 100) < 0.5 / 16 / rule.inches + 1e-9
    assert abs(inches - rule.inches) >= 1 / 8 - 1e-9


@pytest.mark.parametrize(
    "what", ["kite.svg", "compass-star.seams@5in", *(pytest.param(n, marks=pytest.mark.long) for n in ALL)]
)
def test_every_long_line_says_or_its_sheet_says_what_it_reads_on_a_shrunken_sheet(what: str) -> None:
    for sheet in laid(what):
        said = one_line(sheet)
        alone = said.count(RULES[0].words) + said.count(f"From tick to tick {RULES[0].ends_words}")
        assert alone == 2 or f"stand for a long line that finds no room: {RULES[0].ends_words}" in said


OPTIONS: dict[str, dict[str, str]] = {
    "plain": {},
    "packed": {"copies": "3"},
    "apart": {"copies": "2", "sets": "apart", "footer": FOOTER, "trial_page": "yes"},
    "landscape": {"landscape": "yes", "footer": FOOTER},
}


@pytest.mark.parametrize("options", OPTIONS.values(), ids=OPTIONS)
@pytest.mark.parametrize(
    "what", ["kite.svg", *(pytest.param(n, marks=pytest.mark.long) for n in ALL if n != "kite.svg")]
)
def test_nothing_overlaps_and_all_lies_where_printers_print(what: str, options: dict[str, str]) -> None:
    for sheet in laid(what, **options):
        _nothing_overlaps(sheet)


def _nothing_overlaps(sheet: Sheet) -> None:
    """Words keep off words, furniture off prints and its own lines off words, and all inside the printable part."""
    page = paper(sheet.paper)
    m = (page.lying() if sheet.width_pt > sheet.height_pt else page).margins
    frame = box(m.left * IN, m.top * IN, sheet.width_pt - m.right * IN, sheet.height_pt - m.bottom * IN).buffer(0.5)
    words = [
        (m.text, Polygon(words_box(m, 1.0)).buffer(-0.3)) for m in sheet.ink if isinstance(m, Words) and m.text
    ]
    assert not [(a, b) for (a, p), (b, q) in combinations(words, 2) if p.intersects(q)], sheet.number
    assert all(frame.covers(spot) for _, spot in words)
    trims = [
        Polygon([moved(p.affine, q) for q in p.foundation.trim_outline]) for p in sheet.placed if p.tile is None
    ]
    assert not [1 for a, b in combinations(trims, 2) if a.distance(b) < 17.9], sheet.number
    own = sum(len(p.foundation.ink) for p in sheet.placed if p.tile is None)
    if any(p.tile for p in sheet.placed) or any(trim.contains(box(*_five_cm(sheet))) for trim in trims):
        return
    for mark in sheet.ink[own:]:
        if isinstance(mark, Words):
            assert all(trim.distance(Polygon(words_box(mark, 1.0))) > 1.0 for trim in trims), mark.text
        elif isinstance(mark, Stroke):
            line = LineString([*mark.points, *mark.points[: mark.closed]])
            assert frame.covers(line)
            on_edge = any(trim.exterior.distance(line) < 0.01 for trim in trims)
            assert on_edge or all(trim.distance(line) >= 8.9 for trim in trims)
            crossed = [text for text, spot in words if spot.intersects(line)]
            assert not crossed, crossed


def _five_cm(sheet: Sheet) -> tuple[float, float, float, float]:
    x, y, side = sheet.check_squares_pt[1]
    return (x, y, x + side, y + side)


KNOWN = {
    ("sea-urchin.svg@5in", 1): (pytest.mark.xfail(reason="a line for a name, 3 in long, finds no room there"),)
}


def squares_and_lines_only(monkeypatch: pytest.MonkeyPatch, *plans: Plan, **printing: str) -> int:
    """How many sheets the same prints take without any words."""
    nothing = Item(1.0, 1.0, ())
    with monkeypatch.context() as patch:
        patch.setattr(Desk, "wants", lambda *_, **__: Wanted((nothing,), (nothing,), ()))
        return len(api.lay_out(*plans, **printing))


@pytest.mark.parametrize(
    ("what", "options"),
    [
        ("kite.svg", {"copies": "4"}),
        ("compass-star.seams@5in", {}),
        *(
            pytest.param(
                name + size, options, marks=(pytest.mark.long, *KNOWN.get((name + size, len(options)), ()))
            )
            for name in ALL
            for size in ("", "@5in", "@14in")
            for options in ({}, {"sets": "apart"})
        ),
    ],
)
def test_words_and_keys_never_cost_a_sheet(
    what: str, options: dict[str, str], monkeypatch: pytest.MonkeyPatch
) -> None:
    plan = planned(*what.split("@"))
    bare = squares_and_lines_only(monkeypatch, plan, **options)
    assert len(laid(what, **options)) <= bare


def test_sheets_of_a_set_are_laid_out_once(monkeypatch: pytest.MonkeyPatch) -> None:
    asked = []
    real = often.pack
    monkeypatch.setattr(
        often, "pack", lambda rings, *rest, **how: asked.append(len(rings)) or real(rings, *rest, **how)
    )
    plan = planned("kite.svg")
    sheets = layout.lay_out([(plan, api.foundations(plan))], printing=PrintOptions(copies=40, sets=Sets.APART))
    assert len(sheets) == 40
    assert set(asked) == {len(plan.sections)}
