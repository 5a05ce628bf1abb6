"""Pages of a booklet: everything is there, in order, legible, and parted only where it may be."""

from __future__ import annotations

import shutil
import subprocess
from io import BytesIO
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pypdf import PdfReader

from seamwright.api import lay_out as sheets_of
from seamwright.booklet.growing import grown
from seamwright.booklet.model import Break, Figure, Full, Heading, Item, Paragraph, Pictures, Points, Step, Table
from seamwright.booklet.pages import LARGE, full_room, lay_out
from seamwright.errors import ProofError
from seamwright.ink.model import Anchor, Area, Pen, Stroke, Words
from seamwright.ink.page import Page
from seamwright.paper import PAPERS, paper
from seamwright.sheet.naming import SHEETS
from seamwright.sheet.pdf import to_pdf
from seamwright.sheet.readback import read_back
from support.inked import faults, said
from support.prints import DESIGNS, planned
from support.readers import complaints

SENTENCE = "Fold the paper on the next line, trim the allowance to 1/4 in, flip and press; then count your pins."
FOOT = "harbour kite, plan 0badcafe. Copies for the evening class only"


def square(side_in: float, high_in: float = 0.0) -> Figure:
    high = high_in or side_in
    ring = ((0.0, 0.0), (side_in, 0.0), (side_in, high), (0.0, high))
    return Figure((Area((ring,), "#CFE0EA"), Stroke(Pen.RULE, ring, closed=True)), side_in, high, "a square")


def table(rows: int, columns: int = 4) -> Table:
    cells = tuple(tuple(f"r{row}c{column}" for column in range(columns)) for row in range(rows))
    return Table(tuple(f"head{n}" for n in range(columns)), cells, figures=(1,))


def steps(count: int, letter: str = "A") -> list[Item]:
    return [
        Step(square(3.1, 2.4), f"{letter}{n}", "sky", (SENTENCE, "Press."), letter) for n in range(1, count + 1)
    ]


def of_page(pages: tuple[Page, ...], words: str) -> int:
    """Number of the one page that says these words."""
    [number] = [n for n, page in enumerate(pages) if words in said(page)]
    return number


words_ = st.text(st.sampled_from("sea foam harbour-light mast 7⅞ in "), min_size=1, max_size=120)
cell = st.text(st.sampled_from("kelpA1,⅝ "), max_size=60)
items = st.one_of(
    st.builds(Heading, st.sampled_from(["Cutting", "Sewing the sections", "A" * 70]), st.integers(1, 3)),
    st.builds(Paragraph, words_.map(lambda t: (t + " ") * 8), st.booleans()),
    st.builds(Points, st.lists(words_, min_size=1, max_size=6).map(tuple), st.booleans(), st.booleans()),
    st.integers(1, 30).flatmap(
        lambda n: st.lists(st.tuples(cell, cell, cell), min_size=n, max_size=n).map(
            lambda rows: Table(("Fabric", "Cut", "For"), tuple(rows), (1,), ("#336699", None) * 15)
        )
    ),
    st.builds(
        Step,
        st.sampled_from([square(3.1, 2.7), square(1.5)]),
        st.just("A3"),
        words_,
        st.just((SENTENCE,)),
        st.just("A"),
    ),
    st.just(Pictures((square(1.4), square(2.0), square(3.0)), (SENTENCE, "", "chalk"))),
    st.just(Break()),
)


@settings(max_examples=40, deadline=None)
@given(
    st.lists(items, min_size=1, max_size=9),
    st.sampled_from(["letter", "a4", "half-letter", "a5", "legal", "a3"]),
    st.sampled_from([1.0, LARGE]),
)
def test_whatever_is_told_is_there_and_legible(story: list[Item], name: str, scale: float) -> None:
    pages = lay_out(tuple(story), paper(name), scale=scale, foot=FOOT)
    assert [fault for page in pages for fault in faults(page)] == []
    # Long words are parted between lines: without blanks they are whole again.
    there = "".join("".join(said(page).split()) for page in pages)
    for item in story:
        for text in _texts(item):
            for word in text.split():
                assert "".join(word.split())[:6] in there


def _texts(item: Item) -> list[str]:
    match item:
        case Heading(text) | Paragraph(text):
            return [text]
        case Points(texts):
            return [*texts]
        case Table(head, rows):
            return [*head, *(text for row in rows for text in row)]
        case Step(_, mark, title, texts):
            return [mark, title, *texts]
        case Pictures(_, captions):
            return [*captions]
    return []


def test_a_page_in_the_middle_of_a_section_repeats_its_letter() -> None:
    pages = lay_out((Heading("Sewing"), Heading("Section A", 2), *steps(7)), paper("letter"))
    assert len(pages) > 1
    assert all("Section A, continued" in said(page) for page in pages[1:])
    assert "continued" not in said(pages[0])


def test_no_step_is_parted() -> None:
    pages = lay_out((Heading("Sewing"), *steps(9)), paper("letter"))
    for page in pages:
        marks = [
            ink for ink in page.ink if isinstance(ink, Words) and ink.text.startswith("A") and len(ink.text) == 2
        ]
        figures = [ink for ink in page.ink if isinstance(ink, Area)]
        assert len(marks) == len(figures)


@pytest.mark.parametrize("rows", [2, 3, 20, 43, 44, 45, 46, 90])
def test_a_table_repeats_its_head_and_leaves_no_row_alone(rows: int) -> None:
    pages = lay_out((Paragraph(SENTENCE), table(rows)), paper("letter"))
    shown = [[n for n in range(rows) if f"r{n}c0" in said(page).split()] for page in pages]
    assert [n for page in shown for n in page] == [*range(rows)]
    assert all(len(page) >= 2 for page in shown)
    assert all("head3" in said(page) for page in pages)


@pytest.mark.parametrize("rows", range(36, 46))
def test_a_heading_goes_on_to_the_page_of_what_it_heads(rows: int) -> None:
    pages = lay_out((table(rows), Heading("Left over", 2), Paragraph(SENTENCE)), paper("letter"))
    assert of_page(pages, "Left over") == of_page(pages, "count your pins")


@pytest.mark.parametrize("count", range(5, 12))
def test_no_last_page_is_nearly_empty(count: int) -> None:
    story = [Heading("Sewing"), *steps(count), Break(), Heading("Colouring")]
    pages = lay_out(tuple(story), paper("letter"))
    for page in pages[:-1]:
        lowest = max(y for area in page.ink if isinstance(area, Area) for _, y in area.rings[0])
        assert lowest > 0.4 * page.height_pt


def test_a_chapter_begins_a_page_unless_the_one_before_left_room() -> None:
    long = (Heading("Cutting"), table(30), Heading("Sewing"), *steps(4))
    pages = lay_out(long, paper("letter"))
    assert of_page(pages, "Sewing") == of_page(pages, "Cutting") + 1
    short = lay_out((Heading("Fabric"), table(3), Heading("Kits"), table(3)), paper("letter"))
    assert len(short) == 1
    assert [mark.text for mark in short[0].bookmarks] == ["Fabric", "Kits"]


@pytest.mark.parametrize("name", ["letter", "a4", "half-letter", "a5"])
@pytest.mark.parametrize("scale", [1.0, LARGE])
def test_a_full_picture_has_a_page_of_its_own_and_fits_it(name: str, scale: float) -> None:
    room = full_room(paper(name), scale=scale)
    story = (Paragraph(SENTENCE), Full("A page to colour in", SENTENCE, square(*room)), Paragraph("Press."))
    pages = lay_out(story, paper(name), scale=scale, foot=FOOT)
    assert len(pages) == 3
    ys = [y for ink in pages[1].ink if isinstance(ink, Area) for ring in ink.rings for _, y in ring]
    foot = min(ink.at[1] for ink in pages[1].ink if isinstance(ink, Words) and ink.text.startswith("Page"))
    assert max(ys) < foot - 7 * scale


def test_large_type_is_a_third_larger_and_small_papers_set_pictures_above_words() -> None:
    plain, large = (lay_out((Paragraph(SENTENCE),), paper("letter"), scale=s) for s in (1.0, LARGE))
    sizes = [next(i.size_pt for i in page[0].ink if isinstance(i, Words)) for page in (plain, large)]
    assert sizes[1] == pytest.approx(sizes[0] * 4 / 3)
    [page] = lay_out(tuple(steps(1)), paper("half-letter"))
    [area] = [ink for ink in page.ink if isinstance(ink, Area)]
    mark = next(ink for ink in page.ink if isinstance(ink, Words) and ink.text == "A1")
    assert mark.at[1] > max(y for _, y in area.rings[0])


def test_words_in_a_picture_grow_as_far_as_lines_and_other_words_allow() -> None:
    free = Words("A1", (1.5, 1.0), 9.0, Anchor.MIDDLE)
    caption = (
        Words("the printed side", (1.5, 2.2), 7.0, Anchor.MIDDLE),
        Words("below", (1.5, 2.35), 7.0, Anchor.MIDDLE),
    )
    box = tuple((x, y) for x, y in ((0.1, 1.88), (0.28, 1.88), (0.28, 2.02), (0.1, 2.02)))
    tight = Words("B2", (0.19, 1.99), 9.0, Anchor.MIDDLE)
    figure = Figure((free, *caption, Stroke(Pen.RULE, box, closed=True), tight), 3.0, 2.5, "says")
    inks = grown(figure, LARGE).inks
    sizes = [ink.size_pt for ink in inks if isinstance(ink, Words)]
    assert sizes[0] == pytest.approx(12.0)
    assert 7.0 < sizes[1] == sizes[2]
    assert sizes[3] < 12.0
    assert grown(figure, 1.0) is figure


@pytest.mark.parametrize("one", PAPERS, ids=lambda p: p.name)
def test_there_is_room_for_notes_beside_the_words_on_any_paper(one) -> None:
    pages = lay_out((Paragraph(SENTENCE * 9),), one, foot=FOOT)
    right = max(_right(ink) for ink in pages[0].ink if isinstance(ink, Words))
    assert pages[0].width_pt - right >= min(0.12 * pages[0].width_pt, 72)
    assert list(faults(pages[0])) == []


def _right(line: Words) -> float:
    from seamwright.ink.lettering import words_box

    return max(x for x, _ in words_box(line, 1.0))


def test_pages_and_sheets_share_a_file_with_one_tree_of_bookmarks_and_labels() -> None:
    plan = planned(DESIGNS / "kite.svg")
    pages = lay_out((Heading("Sewing"), Heading("Section A", 2), *steps(4)), paper("letter"), foot=FOOT)
    leaves = (*pages, *sheets_of(plan))
    pdf = to_pdf(leaves, title="kite: booklet", made_from="made by seamwright from [kite.svg]")
    assert pdf == to_pdf(leaves, title="kite: booklet", made_from="made by seamwright from [kite.svg]")
    assert list(complaints(pdf)) == []
    measured = read_back(pdf, leaves)
    assert (measured.pages, measured.sheets) == (len(pages), len(leaves) - len(pages))
    reader = PdfReader(BytesIO(pdf))
    assert reader.page_labels == [*(str(n) for n in range(1, len(pages) + 1)), "sheet 1"]
    tree = reader.outline
    assert [one.title for one in tree if not isinstance(one, list)] == ["Sewing", SHEETS]
    assert tree[1][0].title == "Section A"
    assert reader.get_destination_page_number(tree[2]) == len(pages)
    assert tree[3][0].title.startswith("Sheet 1 of 1")


@pytest.mark.skipif(shutil.which("pdftotext") is None, reason="poppler is not here")
@pytest.mark.parametrize("words", ["Taking off", "F.2, P.4 and T.1", "To LV, Tr; Yes. W.3", "Table"])
@pytest.mark.parametrize("strong", [False, True])
def test_letters_set_close_together_stay_one_word_for_readers(words: str, strong: bool, tmp_path: Path) -> None:
    pages = lay_out((Paragraph(words, strong),), paper("letter"))
    path = tmp_path / "words.pdf"
    path.write_bytes(to_pdf(pages, title="t", made_from="m"))
    run = subprocess.run(["pdftotext", str(path), "-"], capture_output=True, text=True, check=True)
    assert words in run.stdout


@pytest.mark.parametrize("lost", ["words", "area", "line"])
def test_a_page_that_lacks_something_is_refused(lost: str) -> None:
    [page] = lay_out((Paragraph(SENTENCE), *steps(1)), paper("letter"))
    kinds = {"words": Words, "area": Area, "line": Stroke}
    gone = next(ink for ink in page.ink if isinstance(ink, kinds[lost]))
    less = Page(page.width_pt, page.height_pt, tuple(ink for ink in page.ink if ink is not gone))
    pdf = to_pdf([less], title="t", made_from="m")
    with pytest.raises(ProofError, match=r"page 1: .*(missing|not in its text)"):
        read_back(pdf, [page])
    with pytest.raises(ProofError, match=r"page 1: .*besides"):
        read_back(to_pdf([page], title="t", made_from="m"), [less])


@pytest.mark.parametrize("count", [40, 75, 130])
def test_what_is_held_together_and_too_long_for_a_page_loses_nothing(count: int) -> None:
    """Headings hold on to what follows: a run of them longer than a page is parted where it has to be."""
    heads = [f"Harbour {n}" for n in range(count)]
    pages = lay_out((*(Heading(text, 3) for text in heads), Paragraph(SENTENCE)), paper("letter"))
    told = [ink.text for page in pages for ink in page.ink if isinstance(ink, Words) and ink.text in heads]
    assert told == heads
    assert [fault for page in pages for fault in faults(page)] == []


def test_a_paragraph_without_words_takes_no_room() -> None:
    (page,) = lay_out((Heading("Cutting", 2), Paragraph("  "), Paragraph(SENTENCE)), paper("letter"))
    assert "Cutting" in said(page) and "flip and press" in said(page)
