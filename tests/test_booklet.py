"""The booklet: whatever the JSON of check, cutting and foundations names stands in the words of its pages.

Figures are looked for as quilters write them: sizes and lengths, counts, amounts. Places of corners are shown by
the pictures and the sheets, which other tests measure; they are not looked for as words.
"""

from __future__ import annotations

import json
import re
import shutil
import subprocess
import unicodedata
from collections import Counter
from collections.abc import Iterable, Iterator
from functools import cache
from pathlib import Path

import pytest
from pypdf import PdfReader

from seamwright.api import plan, read_block, read_colourways, rehearse
from seamwright.booklet.effort import LEVELS, effort_of
from seamwright.booklet.make import to_read
from seamwright.booklet.model import Step
from seamwright.booklet.saying import places_list
from seamwright.booklet.steps import steps_story
from seamwright.cli import main
from seamwright.errors import FileError, OptionError
from seamwright.fabric.words import NO_FABRIC
from seamwright.handouts import cutting, write_booklet
from seamwright.options import BookOptions, Units
from seamwright.optiontext import with_options
from seamwright.paper import paper
from seamwright.piecing.model import Plan
from seamwright.report.books import booklet_object, chapters
from seamwright.report.checks import check_object
from seamwright.report.cuts import cutting_object
from seamwright.report.prints import foundations_object
from seamwright.results import Booked
from seamwright.sheet.naming import SHEETS
from seamwright.units import say_bought, say_count, say_length, say_once, say_size
from seamwright.words.books import booklet_words
from support.inked import faults
from support.readers import complaints

DESIGNS = Path(__file__).parent.parent / "designs"
JOBS = {
    "kite for a class": ("kite.svg", {"students": "12", "blocks": "2"}),
    "pennant, metric": ("pennant.svg", {"paper": "a4", "units": "metric", "blocks": "6"}),
}
LONG = {
    "lighthouse beam, metric": ("lighthouse-beam.svg", {"paper": "a4", "units": "metric", "blocks": "6"}),
    "compass star": ("compass-star.seams", {}),
    "pennant from fat quarters, stacked": ("pennant.svg", {"cloth": "fat-quarters", "stack": "yes", "blocks": "3"}),
    "gull, with curves": ("gull.svg", {}),
    "reef, large type": ("reef.seams", {"large_type": "yes"}),
    "storm rose": ("storm-rose.svg", {"blocks": "30"}),
    "breakwater, set in": ("breakwater.seams", {"set_in": "yes"}),
    "spinnaker by ruler": ("spinnaker.seams", {"rotary": "auto", "paper": "a4"}),
    "tide chart on small paper": ("tide-chart.seams", {"paper": "a5", "left_handed": "yes"}),
}
ALL = [
    *(pytest.param(name, id=name) for name in JOBS),
    *(pytest.param(name, id=name, marks=pytest.mark.long) for name in LONG),
]


FLAG = """seamwright block 1
name flag
size 4 x 4 in
seam 0, 2 to 4, 2
fabric sand colour #ede3c8 value light
fabric kelp colour #3d7f5f value dark
fabric mist colour #e3ebe9 value light
lay sand at 2, 1
lay kelp at 2, 3
colourway fog sand becomes mist
"""


class Made:
    """A booklet, and what it was made from."""

    def __init__(self, name: str, folder: Path) -> None:
        file, options = {**JOBS, **LONG}[name]
        self.plan: Plan = plan(read_block(DESIGNS / file, **options))
        self.path = folder / "booklet.pdf"
        self.booked: Booked = write_booklet(self.path, self.plan)
        self.units = self.plan.options.units
        read = PdfReader(self.path)
        pages = [page.extract_text() for page in read.pages]
        self.text = _flat(" ".join(pages))
        self.told = _flat(" ".join(pages[: len(self.booked.pages)]))


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory):
    return cache(lambda name: Made(name, tmp_path_factory.mktemp("booklet")))


def _flat(text: str) -> str:
    return " ".join(text.split())


def _is_said(needle: str, text: str) -> bool:
    """Whether words stand in a text, as words: no figure runs on into them."""
    return _often(needle, text) > 0


def _often(needle: str, text: str) -> int:
    """How often it stands there."""
    if "+" in needle:  # names of joins may be parted at the end of a line, behind a plus sign
        needle, text = _squeezed(needle), re.sub(r"\+ ", "+", text)
    between = r"(?: \(\w{1,4}\))?[a-z, ]* "
    found = between.join(
        " .{0,70}?".join(re.escape(_flat(part)) for part in cell.split("\f"))
        for cell in needle.replace("\t\f", "\f").split("\t")
    )
    return len(re.findall(rf"(?<![\w/.+]){found}(?![\w/+])", text))


def missing(told: Iterable[str], text: str) -> list[str]:
    """What is not in a text; rows and sentences have to stand there as often as they are told."""
    return [
        needle
        for needle, times_told in Counter(told).items()
        if _often(needle, text) < (times_told if "\t" in needle or needle.count(" ") > 5 else 1)
    ]


def _squeezed(text: str) -> str:
    """Without blanks, fraction glyphs as figures: lines break where they like."""
    return "".join(unicodedata.normalize("NFKD", text).replace("⁄", "/").split())


def _length(inches: float, units: Units) -> str:
    return say_length(inches, units)


def _told_name(patch: str) -> str:
    """A patch in a second place is told by its print: A.2-3 is A3 of A.2, as the chapter of words explains."""
    return re.sub(r"\.\d+-(\d+)", r"\1", patch)


def needles(made: Made) -> Iterator[str]:
    """Everything that the JSON of the three commands names, as it is written."""
    units = made.units
    check = check_object("d", made.plan)
    yield check["block"]["name"]
    sides = [check["block"][side] for side in ("width_in", "height_in")]
    yield f"Finished {say_size(*sides, units)}"
    allowances = 2 * made.plan.options.seam_allowance_in
    yield f"Unfinished {say_size(*(side + allowances for side in sides), units)}"
    yield check["plan"]["id"]
    yield f"Points to match {check['points_to_match']}"
    for section in check["sections"]:
        yield section["name"]
    for number, join in enumerate(check["joins"], start=1):
        yield f"Join {number}"
        # What the last one makes is called the whole block.
        yield join["makes"] if number < len(check["joins"]) else "The whole block"
    for patch in check["patches"]:
        yield _told_name(patch["name"])
        if patch["fabric"]:
            yield patch["fabric"]
    found = cutting_object(made.booked.cuttings[0])
    yield from _cut_needles(found, made)
    for sheet in foundations_object(made.booked.printed)["sheets"]:
        yield f"Sheet {sheet['number']} of {len(made.booked.printed.sheets)}"
        for one in sheet["foundations"]:
            yield one["print"] + "r" * one["reversed"]


def row(*cells: str | None) -> str:
    """Cells of a table side by side; a code or a word of value or warmth may stand between them.

    Before a cell that begins with a form feed some more words may stand, such as what a piece becomes.
    """
    return "\t".join(cell for cell in cells if cell)


def _strip_needles(strip: dict, made: Made) -> Iterator[str]:
    """A strip with the first of its subcuts, the others, and what is cut from the rest."""
    units = made.units
    wide = f"{say_count(strip['count'], 'strip')}, {_length(strip['width_in'], units)} wide"
    for sub in strip["subcuts"]:
        size = say_size(sub["length_in"], sub["height_in"], units)
        yield row(wide, str(sub["count"]), size, f"\f{places_list(made.plan, sub['patches'])}")
        wide = ""
    for inner in strip["rest"]:
        yield from _strip_needles(inner, made)


def _is_spread(strips: list[dict]) -> bool:
    """Whether pieces of one kind come from several lines of strips: only then are they listed once more."""
    lines = [sub for strip in strips for sub in _subcuts(strip)]
    kinds = {(*sorted((sub["length_in"], sub["height_in"])), sub["shape"], *sub["patches"]) for sub in lines}
    return len(kinds) < len(lines)


def _subcuts(strip: dict) -> Iterator[dict]:
    yield from strip["subcuts"]
    for inner in strip["rest"]:
        yield from _subcuts(inner)


def _cut_needles(found: dict, made: Made) -> Iterator[str]:
    units = made.units

    def size(one: dict) -> str:
        return say_size(one["width_in"], one["height_in"], units)

    widths = {fabric["width_in"] for fabric in found["fabrics"] if fabric["cloth"] == "bolt"}
    if len(widths) == 1:
        yield f"Fabric counts as {_length(*widths, units)} wide, its selvedges left out."
    for fabric in found["fabrics"]:
        if fabric["name"]:
            yield fabric["name"]
        if fabric["value"]:
            yield fabric["value"]
        # Side by side, as in their tables: a figure alone stands in many places.
        quarters, bought = fabric["fat_quarters"], say_bought(fabric["bought_in"], units)
        ways = [bought, say_count(quarters, "fat quarter")] if quarters else [bought]
        yield row(
            fabric["name"] or NO_FABRIC, fabric["value"], *(ways if fabric["cloth"] == "bolt" else ways[::-1])
        )
        takes, width = _length(fabric["length_in"], units), _length(fabric["width_in"], units)
        if fabric["cloth"] == "bolt":
            yield f"across the fabric, {width} usable; with a straight edge they take {takes} of its length"
        else:
            yield f"of each fat quarter, {width} usable; together {takes} wide"
        for piece in fabric["pieces"]:
            yield _told_name(piece["patch"])
            yield size(piece)
        if made.booked.cuttings[0].options.stack:
            for piece in fabric["pieces"]:
                yield row(piece["patch"], fabric["name"] or NO_FABRIC, size(piece))
        elif _is_spread(fabric["strips"]):
            for cut in fabric["cuts"]:
                named = places_list(made.plan, cut["patches"])
                yield row(size(cut), str(cut["count"]), f"\f{cut['pieces']} {named}")
        for strip in fabric["strips"]:
            yield from _strip_needles(strip, made)
        for quarter in fabric["quarters"]:
            each = quarter["strips"][0]
            yield row(
                say_count(quarter["count"], "fat quarter"),
                f"{say_count(each['count'], 'strip')} of line {each['line']}",
            )
        if fabric["left_over"]:
            left = say_once([say_size(one["width_in"], one["length_in"], units) for one in fabric["left_over"]])
            yield f"Left over of what is bought, with all of the spare: {'; '.join(left)}."
    for unit in found["rotary"]:
        # One piece alone is no unit to be sewn: the tables of its fabric tell of it.
        if len(unit["patches"]) == unit["count"] // found["blocks"]:
            continue
        yield unit["kind"].capitalize()
        yield from map(_told_name, unit["patches"])
        yield f"{size(unit)} finished"
        yield f"measure {say_size(unit['unfinished_width_in'], unit['unfinished_height_in'], units)}"
        for cut in unit["cut"]:
            yield row(cut["fabric"] or NO_FABRIC, str(cut["count"]), size(cut))
        yield from unit["ways"]


@pytest.mark.parametrize("name", ALL)
def test_all_that_the_json_names_is_in_the_words_of_the_file(name: str, made) -> None:
    one = made(name)
    assert missing(needles(one), one.text) == []


@pytest.mark.parametrize("name", JOBS)
def test_no_line_of_the_cutting_tables_can_go_unnoticed(name: str, made) -> None:
    """Whatever line with a figure is taken out of these chapters, the check above finds something missing."""
    one = made(name)
    pages = [page.extract_text().splitlines() for page in PdfReader(one.path).pages]
    lines = [line for page in pages for line in page]
    begin, end = lines.index("Fabric"), lines.index("How to sew on paper")
    whole = _flat(" ".join(lines[begin:end]))
    asked = [needle for needle in needles(one) if needle not in missing([needle], whole)]
    told = re.compile(r"\d.*( in|cm|yd|rectangle|triangle|strip|quarter)")
    kits = range(*(lines.index(head) for head in ("Kits for a class of 12", "Cutting"))) if "class" in name else ()
    others = re.compile(r"For \d|what shops|shops sell|.*\bPage \d|(are )?for \d")
    missed = [
        line
        for number, line in enumerate(lines[begin:end], start=begin)
        if told.search(line)
        and not others.match(line)
        and number not in kits  # another test looks at those
        and not missing(asked, _flat(" ".join(lines[begin:number] + lines[number + 1 : end])))
    ]
    assert missed == []


@pytest.mark.skipif(shutil.which("pdftotext") is None, reason="poppler is not here")
@pytest.mark.parametrize("name", ALL)
def test_a_second_reader_finds_the_same_words(name: str, made) -> None:
    one = made(name)
    run = subprocess.run(["pdftotext", "-raw", str(one.path), "-"], capture_output=True, text=True, check=True)
    text = _flat(run.stdout)
    assert missing(needles(one), text) == []


@pytest.mark.parametrize("name", ALL)
def test_every_step_of_the_rehearsal_has_a_picture_and_a_sentence(name: str, made) -> None:
    one = made(name)
    rehearsed = rehearse(one.plan)
    steps = {item.mark: item for item in steps_story(one.plan, rehearsed) if isinstance(item, Step)}
    once = {places[0].name for places in one.plan.prints()}
    for section in rehearsed.sections:
        planned = next(s for s in one.plan.sections if s.name == section.name)
        if section.name not in once or planned.kind == "plain" or planned.method == "ruler":
            continue
        for step in section.steps:
            told = steps[step.patch]
            assert told.figure.inks
            assert any("." in text for text in told.texts)
            assert _is_said(step.patch, one.told)
            for text in told.texts:
                assert _squeezed(text) in _squeezed(one.told)


@pytest.mark.parametrize("name", ALL)
def test_no_words_lie_over_others_run_off_the_paper_or_are_too_small(name: str, made) -> None:
    one = made(name)
    assert [fault for page in one.booked.pages for fault in faults(page)] == []


def test_readers_find_nothing_to_complain_of(made) -> None:
    assert list(complaints(made("kite for a class").path.read_bytes())) == []


def test_contents_name_the_page_on_which_a_chapter_begins(made) -> None:
    one = made("kite for a class")
    pages = [_flat(page.extract_text()) for page in PdfReader(one.path).pages]
    for chapter in chapters(one.booked)[1:-1]:
        assert _is_said(f"{chapter['title']} {chapter['page']}", pages[1])
        assert chapter["title"] in pages[chapter["page"] - 1]
    assert "Foundations to print sheets" in pages[1]


def test_a_class_has_kits_for_each_and_for_all(made) -> None:
    one = made("kite for a class")
    assert "Kits for a class of 12" in one.told
    each = one.booked.cuttings[0]
    whole = cutting(one.plan, blocks=24)
    for cut, together in zip(each.fabrics, whole.fabrics, strict=True):
        row = (
            rf"{cut.fabric.name} (\(\w+\) )?([\w, ]+ )?{say_bought(cut.bought_in)} {say_bought(together.bought_in)}"
        )
        assert re.search(row, one.told), row
    assert "Foundations, sets 2 24" in one.told


def test_options_of_the_booklet_are_told(tmp_path: Path) -> None:
    footer, drawing = "Quay school, copies allowed", tmp_path / "flag.seams"
    drawing.write_text(FLAG)
    block = read_block(drawing, level="first evening", hours="3.5", footer=footer)
    write_booklet(tmp_path / "flag.pdf", plan(block))
    text = _flat(PdfReader(tmp_path / "flag.pdf").pages[0].extract_text())
    for words in ("first evening", "about 3 1/2 hours", footer):
        assert words in text
    assert "estimated" not in text


def test_two_sizes_of_one_block_are_told_apart(tmp_path: Path) -> None:
    drawing = tmp_path / "flag.seams"
    drawing.write_text(FLAG)
    booked = write_booklet(tmp_path / "two.pdf", *(plan(read_block(drawing, size=size)) for size in ("6in", "9in")))
    titles = [chapter["title"] for chapter in chapters(booked)]
    names = [title for title in titles if title.startswith("flag")]
    assert [name.split(" x ")[0] for name in names] == ["flag 6", "flag 9"]
    assert all(any(line.startswith(f"  {name}: ") for line in booklet_words(booked)) for name in names)


def test_letters_that_the_type_lacks_are_told_wherever_they_stand(tmp_path: Path) -> None:
    text = FLAG.replace("flag", "flag \u6e2f").replace("sand", "sand\u3042")
    (tmp_path / "flag.seams").write_text(text, encoding="utf-8")
    booked = write_booklet(tmp_path / "flag.pdf", plan(read_block(tmp_path / "flag.seams")), level="easy \u6e2e")
    told = [
        "the type has no \u6e2f \u3042 of the names: each prints as a box",
        "the type has no \u6e2e of the level: each prints as a box",
    ]
    assert [note["text"] for note in booklet_object(booked)["notes"]] == told
    lines = booklet_words(booked)
    assert all(f"  Note: {one}." in lines for one in told)


@pytest.mark.parametrize("said", ["2.5", "2 1/2", "2½", "2 1/2 h", "2.5h", "2½ hours"])
def test_hours_are_read_as_they_are_written(said: str) -> None:
    assert with_options(BookOptions(), [("hours", said)]) == BookOptions(hours=2.5)


@pytest.mark.parametrize("said", ["", "0", "-1", "1001", "1e99", "2 in", "two", "2 1/0", "2-3"])
def test_what_is_no_time_is_refused_with_an_example(said: str) -> None:
    with pytest.raises(OptionError, match=r"is no time. Give hours, such as 2.5 or 2 1/2"):
        with_options(BookOptions(), [("hours", said)])


def test_several_blocks_and_colourways_share_a_booklet(tmp_path: Path) -> None:
    drawing = tmp_path / "flag.seams"
    drawing.write_text(FLAG)
    flags = [plan(block) for block in read_colourways(drawing, colourway="all")]
    drawing.with_name("pier.seams").write_text(FLAG.replace("flag", "pier"))
    pier = plan(read_block(tmp_path / "pier.seams"))
    booked = write_booklet(tmp_path / "two.pdf", *flags, pier)
    titles = [chapter["title"] for chapter in chapters(booked)]
    assert [title for title in titles if title in ("flag", "flag in fog", "pier")] == ["flag", "pier"]
    assert titles.count("Fabric") == titles.count("Sewing the sections") == 2
    cut = [title for title in titles if title.startswith("Cutting")]
    assert cut == ["Cutting: flag", *(f"Cutting: {one.block.title}" for one in flags[1:]), "Cutting"]
    assert titles.count("Before you begin") == titles.count("What you need") == 1
    first, *rest = (_flat(page.extract_text()) for page in PdfReader(tmp_path / "two.pdf").pages)
    assert "own fabrics" in first
    assert "fog" in first
    assert any("mist" in page and "flag in fog" in page for page in rest)
    assert [one.block.title for one in booked.printed.plans] == ["flag", "flag in fog", "pier"]


def test_a_block_all_cut_by_ruler_has_a_booklet_without_sheets(tmp_path: Path) -> None:
    drawing = tmp_path / "wall.seams"
    drawing.write_text("seamwright block 1\nname wall\nsize 4 x 4 in\nseam 2, 0 to 2, 4\nseam 0, 2 to 4, 2\n")
    booked = write_booklet(tmp_path / "wall.pdf", plan(read_block(drawing, rotary="auto")))
    assert booked.printed.sheets == ()
    text = _flat(" ".join(page.extract_text() for page in PdfReader(tmp_path / "wall.pdf").pages))
    assert "sewn without paper" in text
    assert SHEETS not in text
    assert booklet_object(booked)["first_sheet_page"] is None
    assert "to read, letter" in booklet_words(booked)[0]


@pytest.mark.parametrize(
    ("name", "units", "pages"),
    [("a1", Units.INCH, "letter"), ("tabloid", Units.INCH, "letter"), ("a3", Units.METRIC, "a4")]
    + [(name, Units.INCH, name) for name in ("letter", "a4", "legal", "half-letter")],
)
def test_pages_can_be_held_in_a_hand_while_sewing(name: str, units: Units, pages: str) -> None:
    assert to_read(paper(name), units) == paper(pages)


def test_the_level_rises_with_what_a_block_asks_for() -> None:
    easy = effort_of(plan(read_block(DESIGNS / "pennant.svg")), BookOptions())
    hard = effort_of(plan(read_block(DESIGNS / "compass-star.seams")), BookOptions())
    assert LEVELS.index(easy.level) < LEVELS.index(hard.level)
    assert easy.hours < hard.hours


def test_what_needs_no_paper_is_no_first_block_on_paper(tmp_path: Path) -> None:
    (tmp_path / "four.seams").write_text("seamwright block 1\nsize 4 in\nseam 2, 0 to 2, 4\nseam 0, 2 to 4, 2\n")
    levels = {
        rotary: effort_of(plan(read_block(tmp_path / "four.seams", rotary=rotary)), BookOptions()).level
        for rotary in ("never", "auto")
    }
    assert ("paper" in levels["never"], "paper" in levels["auto"]) == (True, False)


@pytest.mark.parametrize("option", ["enlarge", "unmirrored", "windows"])
def test_a_booklet_holds_foundations_to_sew_on_only(option: str, tmp_path: Path) -> None:
    with pytest.raises(OptionError, match=f"--{option}"):
        write_booklet(
            tmp_path / "kite.pdf",
            plan(read_block(DESIGNS / "kite.svg")),
            **{option: "2" if option == "enlarge" else "yes"},
        )
    assert list(tmp_path.iterdir()) == []


def test_the_command_writes_the_same_booklet_each_time_and_says_what_is_where(tmp_path: Path, capsys) -> None:
    out, drawing = tmp_path / "flag.pdf", tmp_path / "flag.seams"
    drawing.write_text(FLAG)
    assert main(["booklet", str(drawing), "-o", str(out), "--json"]) == 0
    told = json.loads(capsys.readouterr().out)
    assert told["pages"] == len(PdfReader(out).pages)
    assert told["first_sheet_page"] == told["pages"] - len(told["sheets"]) + 1
    sewing = next(chapter for chapter in told["chapters"] if chapter["title"] == "Sewing the sections")
    assert [section["title"] for section in sewing["sections"]] == ["Section A"]
    assert told["cutting"]["fabrics"]
    assert {"page": 1, "shows": "flag in its fabrics, from the front"} in told["pictures"]
    steps = [picture for picture in told["pictures"] if picture["shows"].startswith("Step ")]
    assert len(steps) == 2
    before = out.read_bytes()
    assert main(["booklet", str(drawing), "-o", str(out)]) == 0
    assert "pages to read, then 1 sheet of foundations" in capsys.readouterr().out
    assert out.read_bytes() == before


def test_a_stuck_drawing_makes_no_booklet(tmp_path: Path, capsys) -> None:
    out = tmp_path / "stuck.pdf"
    assert main(["booklet", str(DESIGNS / "breakwater.seams"), "-o", str(out)]) == 1
    assert "no booklet was made" in capsys.readouterr().err
    assert not out.exists()


def test_it_is_not_written_over_what_is_not_ours(tmp_path: Path, capsys) -> None:
    out = tmp_path / "mine.pdf"
    out.write_bytes(b"%PDF-1.4 mine")
    assert main(["booklet", str(DESIGNS / "kite.svg"), "-o", str(out)]) == 2
    assert out.read_bytes() == b"%PDF-1.4 mine"
    with pytest.raises(FileError):
        write_booklet(out, plan(read_block(DESIGNS / "kite.svg")))
    assert main(["booklet", str(DESIGNS / "kite.svg")]) == 2
    assert "where should the booklet go?" in capsys.readouterr().err
