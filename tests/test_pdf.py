"""The print file: what it tells readers, that it can be searched, that it is the same every time."""

from __future__ import annotations

import os
import subprocess
import sys
from dataclasses import replace
from functools import cache
from io import BytesIO
from pathlib import Path

import pymupdf
import pypdfium2
import pytest
from pypdf import PdfReader
from pypdf.generic import NullObject

from seamwright.api import lay_out as lay_out_plan
from seamwright.errors import LibraryError
from seamwright.geometry import moved
from seamwright.ink import png
from seamwright.ink.model import Anchor, Area, Pen, Stroke, Words
from seamwright.ink.png import to_png
from seamwright.ink.svg import to_svg
from seamwright.options import PrintOptions, Sets
from seamwright.output import made_from
from seamwright.sheet.layout import lay_out
from seamwright.sheet.model import Sheet
from seamwright.sheet.pdf import to_pdf
from seamwright.sheet.readback import read_back
from support.by_hand import fan, foundations_by_hand, plan_by_hand, strips
from support.prints import DESIGNS, planned
from support.readers import complaints

MADE_FROM = "made by seamwright from [fan.svg]"


@cache
def sheets(paper: str = "letter") -> tuple[Sheet, ...]:
    jobs = []
    for block in (fan(6, 6, "beacon fan"), strips(5, 4, 4, "tide")):
        plan = plan_by_hand(block, [range(len(block.patches))])
        jobs.append((plan, foundations_by_hand(plan)))
    return lay_out(jobs, paper=paper)


@cache
def pdf(paper: str = "letter") -> bytes:
    return to_pdf(sheets(paper), title="beacon fan: foundations", made_from=MADE_FROM)


def reader() -> PdfReader:
    return PdfReader(BytesIO(pdf()), strict=True)


def page_of(*inks, width: float = 300.0, height: float = 200.0) -> Sheet:
    return Sheet(1, 1, "scrap", width, height, (), (), (), inks, "Sheet 1 of 1")


def test_the_print_dialog_is_told_not_to_scale() -> None:
    # ISO 32000-1, 12.2, table 150
    hints = reader().trailer["/Root"]["/ViewerPreferences"]
    assert hints["/PrintScaling"] == "/None"
    assert hints["/PickTrayByPDFSize"] is not None and bool(hints["/PickTrayByPDFSize"])
    assert bool(hints["/DisplayDocTitle"])


def test_title_origin_and_language_are_in_the_file() -> None:
    root, info = reader().trailer["/Root"], reader().metadata
    assert info is not None
    assert info.title == "beacon fan: foundations"
    assert info.subject == MADE_FROM
    assert set(info) == {"/Title", "/Subject", "/Creator"}
    assert root["/Lang"] == "en-GB"
    assert made_from(pdf()) == ("fan.svg",)


def test_bookmarks_lead_to_sheets_and_below_them_to_sections() -> None:
    found, outline = reader(), reader().outline
    tops = [(item.title, found.get_destination_page_number(item)) for item in outline if not isinstance(item, list)]
    assert tops == [(sheet.title, sheet.number - 1) for sheet in sheets()]
    below = [item.title for entry in outline if isinstance(entry, list) for item in entry]
    assert sorted(below) == ["beacon fan: Section A", "tide: Section A"]


def test_a_bookmark_of_a_section_leads_to_its_place_on_the_page() -> None:
    found, placed = reader(), {p.foundation.block: p for p in sheets()[0].placed}
    entries = [item for entry in found.outline if isinstance(entry, list) for item in entry]
    for entry in entries:
        if found.get_destination_page_number(entry) == 0:
            print_ = placed[entry.title.split(":")[0]]
            xs, ys = zip(*(moved(print_.affine, p) for p in print_.foundation.trim_outline), strict=True)
            assert (entry["/Left"], entry["/Top"]) == pytest.approx((min(xs), 792 - min(ys)), abs=1)
            # ISO 32000-1, 12.3.2.2: null keeps the zoom that the reader has.
            assert entry["/Zoom"] == NullObject()


def test_sets_apart_have_a_bookmark_and_page_labels_of_their_own() -> None:
    plan = plan_by_hand(fan(6, 6), [range(8)])
    apart = lay_out([(plan, foundations_by_hand(plan))], printing=PrintOptions(copies=3, sets=Sets.APART))
    file = PdfReader(BytesIO(to_pdf(apart, title="fan", made_from=MADE_FROM)))
    tops = [item for item in file.outline if not isinstance(item, list)]
    assert [item.title for item in tops] == ["Set 1 of 3", "Set 2 of 3", "Set 3 of 3"]
    # Closed (ISO 32000-1, table 153: a negative count), so that thirty sets are thirty lines.
    assert all(item.node["/Count"] < 0 for item in tops)
    below = [entry for entry in file.outline if isinstance(entry, list)]
    assert len(below) == 3 and all(len(entry) >= 2 for entry in below)
    assert file.page_labels == [f"set {s.in_set.set} sheet {s.in_set.sheet}" for s in apart if s.in_set]


def test_pages_are_labelled_by_their_sheet() -> None:
    assert reader().page_labels == [str(sheet.number) for sheet in sheets()]


@pytest.mark.parametrize(
    ("paper", "width", "height"),
    [
        # ANSI/ASME Y14.1 size A; ISO 216: 210 x 297 mm; 72 points to 25.4 mm (ISO 32000-1, 8.3.2.3)
        pytest.param("letter", 612.0, 792.0, id="letter"),
        pytest.param("a4", 210 * 72 / 25.4, 297 * 72 / 25.4, id="A4"),
    ],
)
def test_page_sizes_hold_for_three_readers(paper: str, width: float, height: float) -> None:
    data = pdf(paper)
    box = PdfReader(BytesIO(data)).pages[0].mediabox
    assert (float(box.width), float(box.height)) == pytest.approx((width, height), abs=1e-4)
    assert pypdfium2.PdfDocument(data)[0].get_size() == pytest.approx((width, height), abs=1e-3)
    bound = pymupdf.open(stream=data).load_page(0).rect
    assert (bound.width, bound.height) == pytest.approx((width, height), abs=1e-3)


def test_the_same_sheets_give_the_same_bytes() -> None:
    assert to_pdf(sheets(), title="beacon fan: foundations", made_from=MADE_FROM) == pdf()


def test_bytes_do_not_hang_on_hash_seeds_fonts_clock_place_or_load(tmp_path: Path) -> None:
    """Several processes at once, each in surroundings of its own; a machine without any fonts among them."""
    code = """
import hashlib, sys
from pathlib import Path
from seamwright import api, picturing
plan = api.plan(api.read_block(sys.argv[1]))
picturing.write_picture("out.png", plan)
api.write_pdf("out.pdf", plan, copies="2", sets="apart", footer="edition 2")
print([hashlib.sha256(Path(name).read_bytes()).hexdigest() for name in ("out.png", "out.pdf")])
"""
    empty = tmp_path / "fonts.conf"
    empty.write_text('<?xml version="1.0"?><!DOCTYPE fontconfig SYSTEM "fonts.dtd"><fontconfig></fontconfig>')
    surroundings = (
        {"PYTHONHASHSEED": "1", "TZ": "Pacific/Auckland", "LC_ALL": "C"},
        {"PYTHONHASHSEED": "2", "FONTCONFIG_FILE": str(empty), "SOURCE_DATE_EPOCH": "0"},
    )
    runs = []
    for number, extra in enumerate(surroundings):
        (tmp_path / str(number)).mkdir()
        runs.append(
            subprocess.Popen(
                [sys.executable, "-c", code, str(DESIGNS / "pennant.svg")],
                env={**os.environ, **extra},
                cwd=tmp_path / str(number),
                stdout=subprocess.PIPE,
                text=True,
            )
        )
    answers = [run.communicate()[0] for run in runs]
    assert [run.returncode for run in runs] == [0, 0]
    assert answers[0] == answers[1]


def test_all_words_are_found_by_searching_in_three_readers() -> None:
    texts = {
        "pypdf": "\n".join(page.extract_text() for page in reader().pages),
        "pdfium": "\n".join(page.get_textpage().get_text_range() for page in pypdfium2.PdfDocument(pdf())),
        "MuPDF": "\n".join(page.get_text() for page in pymupdf.open(stream=pdf())),
    }
    wanted = {m.text for sheet in sheets() for m in sheet.ink if isinstance(m, Words)}
    for name, text in texts.items():
        flat = " ".join(text.split())
        missing = [words for words in wanted if " ".join(words.split()) not in flat]
        assert not missing, name


@pytest.mark.parametrize("angle", [0.0, 30.0, 90.0, 180.0, 270.0])
def test_a_search_marks_words_where_they_are_seen(angle: float) -> None:
    words = Words("Foundation 7", (150.0, 100.0), 12.0, Anchor.MIDDLE, angle, bold=True)
    [found] = pymupdf.open(stream=to_pdf([page_of(words)], title="t", made_from="m"))[0].search_for("Foundation 7")[
        :1
    ]
    middle = ((found.x0 + found.x1) / 2, (found.y0 + found.y1) / 2)
    assert middle == pytest.approx((150.0, 100.0), abs=6.0)


def test_fractions_are_found_as_they_are_typed() -> None:
    data = to_pdf([page_of(Words("kite, 6½ x 2⅞ in", (20, 50), 10.0))], title="t", made_from="m")
    assert "kite, 6 1/2 x 2 7/8 in" in PdfReader(BytesIO(data)).pages[0].extract_text()


def test_a_name_in_letters_that_the_type_lacks_is_still_found() -> None:
    data = to_pdf([page_of(Words("海 Möwe Чайка", (20, 50), 10.0))], title="t", made_from="m")
    assert "海 Möwe Чайка" in PdfReader(BytesIO(data)).pages[0].extract_text()


def test_more_letters_than_one_font_holds_are_all_shown() -> None:
    letters = "".join(chr(c) for c in range(0x21, 0x250) if chr(c).isprintable())
    lines = [Words(letters[k : k + 40], (10, 10 + k / 4), 6.0) for k in range(0, len(letters), 40)]
    text = PdfReader(BytesIO(to_pdf([page_of(*lines)], title="t", made_from="m"))).pages[0].extract_text()
    assert all(c in text for c in letters if c.isalpha())


def test_text_shows_the_same_outlines_as_the_svg() -> None:
    inks = (
        Words("Sheet 69, 2⅞ in", (20, 60), 18.0, underline=True),
        Words("AVAST To", (150, 150), 24.0, Anchor.MIDDLE, 30.0, bold=True),
    )
    from PIL import Image

    svg = Image.open(BytesIO(to_png(to_svg(inks, 300, 200, "pt"), 144))).convert("L")
    page = pymupdf.open(stream=to_pdf([page_of(*inks)], title="t", made_from="m"))[0].get_pixmap(dpi=144)
    seen = Image.frombytes("RGB", (page.width, page.height), page.samples).convert("L")
    assert seen.size == svg.size
    # Two engines smooth edges differently: what differs must be thin.
    wrong = sum(abs(a - b) > 140 for a, b in zip(svg.tobytes(), seen.tobytes(), strict=True))
    dark = sum(a < 128 for a in svg.tobytes())
    assert dark > 2000
    assert wrong < 0.03 * dark


def test_a_file_of_ten_sheets_with_sixty_labels_each_stays_small() -> None:
    labels = [Words(f"A{n} sea foam", (20 + 90 * (n % 6), 30 + 60 * (n // 6)), 12.0) for n in range(60)]
    lines = [Stroke(Pen.STITCH, ((10, 10 + n * 9.7), (600, 20 + n * 9.1))) for n in range(60)]
    pages = [replace(page_of(*labels, *lines, width=612.0, height=792.0), number=n) for n in range(1, 11)]
    assert len(to_pdf(pages, title="t", made_from="m")) < 300_000


def test_readers_open_the_file_without_a_complaint() -> None:
    assert not list(complaints(pdf()))


def test_readers_do_complain_of_a_broken_file() -> None:
    heard = " ".join(complaints(pdf().replace(b"/Contents", b"/Contints").replace(b"endobj", b"endobi", 9)))
    assert any(name in heard for name in ("qpdf", "MuPDF", "pypdf"))


WAYS = [
    {"copies": "3", "sets": "apart", "footer": "Harbour guild, copy freely"},
    {"unmirrored": True, "tints": True},
    {"windows": True},
    {"enlarge": "2"},
    {"trial_page": True, "landscape": True},
    {"ink_saver": True, "stock": "freezer"},
]


@pytest.mark.long
@pytest.mark.parametrize("name", ["lamp.seams", "gull.svg"])
@pytest.mark.parametrize("printing", WAYS, ids=["-".join(way) for way in WAYS])
def test_files_printed_in_all_ways_are_read_back_open_without_a_complaint_and_stay_small(name, printing) -> None:
    sheets = lay_out_plan(planned(DESIGNS / name), **printing)
    data = to_pdf(sheets, title=name, made_from=MADE_FROM)
    assert read_back(data, sheets).sheets == len(sheets)
    assert not list(complaints(data))
    # A tenth of what a file of ten sheets may have, to a sheet, and what every file has.
    assert len(data) < 30_000 + 30_000 * len(sheets)


def test_a_file_without_sheets_is_no_file() -> None:
    with pytest.raises(ValueError, match="no sheets"):
        to_pdf([], title="t", made_from="m")


# -- SVG and PNG ----------------------------------------------------------------------------------------------


def test_an_svg_unit_is_a_unit_of_paper_and_pens_are_points() -> None:
    svg = to_svg([Stroke(Pen.TRIM, ((1, 1), (2, 1)))], 8.5, 11, "in")
    assert 'width="8.5in"' in svg and 'height="11in"' in svg and 'viewBox="0 0 8.5 11"' in svg
    # 0.6 pt and dashes of 7 and 3 pt in inches
    assert 'stroke-width="0.008333"' in svg and 'stroke-dasharray="0.097222 0.041667"' in svg
    assert 'fill="none"' in svg


def test_numbers_in_svg_are_fixed_and_words_cannot_break_it() -> None:
    import xml.etree.ElementTree as ET

    inks = [Stroke(Pen.STITCH, ((1e-9, -1e-9), (1 / 3, 2e5))), Words("a < b & c\x07", (1, 1), 8)]
    svg = to_svg(inks, 4, 4, title='"<kite>\x00', description="]]>")
    assert "M0,0L0.333333,200000" in svg
    assert ET.fromstring(svg)[0].text == '"<kite>'


@pytest.mark.parametrize("bad", [float("nan"), float("inf")])
def test_no_svg_is_made_of_numbers_that_are_none(bad: float) -> None:
    with pytest.raises(ValueError, match="coordinate"):
        to_svg([Stroke(Pen.STITCH, ((0, 0), (bad, 1)))], 4, 4)


def test_areas_cover_what_is_drawn_before_and_not_after() -> None:
    black, white = "#000000", "#ffffff"
    square = ((0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0))
    from PIL import Image

    for inks, colour in (
        ([Stroke(Pen.BOLD, ((0, 0.5), (1, 0.5))), Area((square,), white)], 255),
        ([Area((square,), white), Stroke(Pen.BOLD, ((0, 0.5), (1, 0.5)), colour=black)], 0),
    ):
        picture = Image.open(BytesIO(to_png(to_svg(inks, 1, 1), 72)))
        assert picture.convert("L").getpixel((36, 36)) == pytest.approx(colour, abs=50)


def test_a_sharp_tip_is_drawn_without_a_spike() -> None:
    from PIL import Image

    tip = ((1.0, 1.0), (3.0, 1.1), (1.0, 1.2))
    picture = Image.open(BytesIO(to_png(to_svg([Stroke(Pen.STITCH, tip, closed=True)], 4, 2), 300))).convert("L")
    dark = [x for x in range(picture.width) for y in range(picture.height) if picture.getpixel((x, y)) < 128]
    # The tip of half a stitch line, 0.45 pt, and a pixel.
    assert max(dark) <= 3.0 * 300 + 0.45 / 72 * 300 + 1


def test_a_png_knows_its_resolution_and_its_origin() -> None:
    from PIL import Image

    picture = Image.open(BytesIO(to_png(to_svg([Words("kite", (0.2, 0.5), 12)], 2, 1), 300, {"Source": MADE_FROM})))
    assert picture.size == (600, 300)
    # pHYs holds whole pixels to the metre (PNG specification, 11.3.5.3): 300 to the inch are 11811.
    assert picture.info["dpi"] == pytest.approx((300, 300), abs=0.01)
    assert picture.info["Source"] == MADE_FROM
    assert picture.getpixel((599, 299)) == 255


def test_a_missing_cairo_is_said_with_the_mend_for_each_system(monkeypatch: pytest.MonkeyPatch) -> None:
    import builtins

    real = builtins.__import__

    def fail_on_cairo(name, *rest, **more):
        if name == "cairosvg":
            raise OSError('no library called "cairo-2" was found')
        return real(name, *rest, **more)

    monkeypatch.delitem(sys.modules, "cairosvg", raising=False)
    monkeypatch.setattr(builtins, "__import__", fail_on_cairo)
    with pytest.raises(LibraryError, match=r"cairo.*cannot be loaded here\..*nstall.*try again") as caught:
        png.cairo()
    assert caught.value.exit_code == 2
