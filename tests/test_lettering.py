"""Words as outlines, against the type they were taken from and against cairo's rendering."""

from __future__ import annotations

import io
import math
import re
import subprocess
import sys
import unicodedata
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from svgelements import Path as SvgPath

from seamwright.ink import lettering
from seamwright.ink.lettering import (
    CAP_HEIGHT,
    centred,
    drawable,
    looks_turned,
    path_data,
    width_pt,
    words_box,
)
from seamwright.ink.make_glyphs import CHARACTERS, FACES
from seamwright.ink.model import Anchor, Words

FONTS = Path("/usr/share/fonts/truetype/dejavu")

# Advance widths in units of 1/2048 of the type size: the hmtx tables of DejaVu Sans Condensed and DejaVu Sans
# Condensed Bold, version 2.37 (Debian package fonts-dejavu-extra), read with fontTools.
ADVANCES = {
    False: {
        "A": 1260,
        "B": 1264,
        "M": 1590,
        "0": 1172,
        "6": 1172,
        "9": 1172,
        "i": 512,
        " ": 585,
        "½": 1786,
        "″": 688,
    },
    True: {
        "A": 1426,
        "B": 1404,
        "M": 1834,
        "0": 1282,
        "6": 1282,
        "9": 1282,
        "i": 631,
        " ": 641,
        "½": 1908,
        "″": 823,
    },
}


@pytest.mark.parametrize(("bold", "character"), [(b, c) for b, row in ADVANCES.items() for c in row])
def test_a_character_is_as_wide_as_the_font_says(bold: bool, character: str) -> None:
    assert width_pt(character, 2048, bold) == ADVANCES[bold][character]
    assert width_pt(character, 12, bold) == pytest.approx(ADVANCES[bold][character] * 12 / 2048)


@pytest.mark.parametrize("face", FACES)
def test_every_glyph_has_the_advance_and_the_bounds_of_the_font(face: str) -> None:
    fonts = pytest.importorskip("fontTools.ttLib")
    pens = pytest.importorskip("fontTools.pens.boundsPen")
    if not (FONTS / FACES[face]).exists():
        pytest.skip("the font is not installed")
    font = fonts.TTFont(FONTS / FACES[face])
    glyphs, names = font.getGlyphSet(), font.getBestCmap()
    for character in CHARACTERS:
        glyph = glyphs[names[ord(character)]]
        assert width_pt(character, 2048, face == "bold") == glyph.width, character
        pen = pens.BoundsPen(glyphs)
        glyph.draw(pen)
        drawn = path_data(character, 2048, face == "bold")
        if pen.bounds is None:
            assert drawn == ""
            continue
        x0, y0, x1, y1 = SvgPath(drawn).bbox()
        assert (x0, -y1, x1, -y0) == pytest.approx(pen.bounds, abs=0.51), character


def test_pairs_are_kerned_as_in_the_font() -> None:
    # kern table of DejaVu Sans Condensed 2.37: A V -131 (read with fontTools).
    assert width_pt("AV", 2048) == width_pt("A", 2048) + width_pt("V", 2048) - 131


def test_cairo_draws_a_capital_as_high_as_we_say() -> None:
    cairosvg = pytest.importorskip("cairosvg")
    image = pytest.importorskip("PIL.Image")
    svg = (
        '<svg xmlns="http://www.w3.org/2000/svg" width="900px" height="900px" viewBox="0 0 900 900">'
        f'<path transform="translate(50 850)" d="{path_data("H", 1000)}"/></svg>'
    )
    png = cairosvg.svg2png(bytestring=svg.encode(), background_color="white")
    with image.open(io.BytesIO(png)) as picture:
        left, top, right, bottom = picture.convert("L").point(lambda v: 255 if v < 128 else 0).getbbox()
    assert bottom == 850
    assert bottom - top == pytest.approx(1000 * CAP_HEIGHT, abs=1)
    assert right - left < width_pt("H", 1000)


@settings(derandomize=True, deadline=None)
@given(
    text=st.text(alphabet=CHARACTERS, min_size=1, max_size=12),
    size=st.sampled_from((7.0, 8.0, 12.0, 18.0)),
    bold=st.booleans(),
    underline=st.booleans(),
)
def test_outlines_stay_in_their_box(text: str, size: float, bold: bool, underline: bool) -> None:
    data = path_data(text, size, bold, underline)
    if not data:
        return
    x0, y0, x1, y1 = SvgPath(data).bbox()
    box = words_box(Words(text, (0.0, 0.0), size, bold=bold, underline=underline), 1)
    # Round letters overshoot their lines by up to 2 % of the size, and some marks lean out of their advance.
    assert y0 >= box[0][1] - 0.021 * size
    assert y1 <= box[2][1] + 0.021 * size
    assert x0 >= box[0][0] - 0.2 * size
    assert x1 <= box[1][0] + 0.2 * size


@pytest.mark.parametrize("text", ["A3", "12", "Section B", "2 7/8", "¾", "kite"])
def test_figures_and_letters_stay_within_their_width(text: str) -> None:
    x0, _, x1, _ = SvgPath(path_data(text, 12, bold=True)).bbox()
    assert x0 >= -0.01
    assert x1 <= width_pt(text, 12, bold=True) + 0.01


@settings(derandomize=True, deadline=None)
@given(
    angle=st.floats(-180, 180),
    size=st.floats(5, 40),
    x=st.floats(-100, 100),
    y=st.floats(-100, 100),
    anchor=st.sampled_from(Anchor),
)
def test_a_box_is_a_rectangle_turned_with_its_words(
    angle: float, size: float, x: float, y: float, anchor: Anchor
) -> None:
    a, b, c, d = words_box(Words("kelp 12", (x, y), size, anchor, angle), 72)
    assert math.dist(a, b) * 72 == pytest.approx(width_pt("kelp 12", size), abs=1e-6)
    assert math.dist(a, c) == pytest.approx(math.dist(b, d), abs=1e-9)
    assert math.dist(a, b) == pytest.approx(math.dist(c, d), abs=1e-9)
    turned = math.degrees(math.atan2(b[1] - a[1], b[0] - a[0]))
    assert math.cos(math.radians(turned - angle)) == pytest.approx(1)


@pytest.mark.parametrize("angle", [0, 30, -90, 180])
def test_centred_words_have_their_capitals_about_the_point(angle: float) -> None:
    words = centred("H", (3.0, 4.0), 12, angle_deg=angle)
    corners = words_box(words)
    assert sum(x for x, _ in corners) / 4 == pytest.approx(3)
    assert sum(y for _, y in corners) / 4 == pytest.approx(4)


def test_a_descender_and_an_underline_deepen_the_box() -> None:
    depth = {text: words_box(Words(text, (0, 0), 12), 1)[2][1] for text in ("A", "g")}
    assert depth["A"] == 0
    assert depth["g"] > 2
    assert words_box(Words("6", (0, 0), 12, underline=True), 1)[2][1] > 1.5


def test_an_underline_runs_under_the_figures_only() -> None:
    plain, underlined = path_data("A6", 12, bold=True), path_data("A6", 12, bold=True, underline=True)
    assert underlined.startswith(plain)
    x0, y0, x1, _ = SvgPath(underlined[len(plain) :]).bbox()
    assert y0 > 1
    assert x0 == pytest.approx(width_pt("A", 12, bold=True), abs=0.01)
    assert x1 == pytest.approx(width_pt("A6", 12, bold=True), abs=0.01)


def test_an_underline_does_not_die_on_a_copier() -> None:
    thickness = (lettering.UNDERLINE_BOTTOM - lettering.UNDERLINE_TOP) * 7
    assert thickness >= 0.49


def test_figures_that_read_as_others_upside_down_are_known() -> None:
    turned = {"0": "0", "1": "1", "6": "9", "8": "8", "9": "6"}
    for number in range(1, 2000):
        text = str(number)
        upside_down = "".join(turned.get(figure, "?") for figure in reversed(text))
        other = "?" not in upside_down and not upside_down.startswith("0") and upside_down != text
        assert looks_turned(text) == other, text
        assert looks_turned(f"A{text}") == other
    assert not looks_turned("A")


@pytest.mark.parametrize(
    ("given_text", "drawn"),
    [
        ("sea foam", "sea foam"),
        ("sea\tfoam\n", "sea foam "),
        ("bell\x07\x00", "bell"),
        ("zero\u200bwidth\u200d", "zerowidth"),
        ("a\u0301", "á"),  # composed
        ("\u1ed9", "o"),  # o with a circumflex and a dot below: not in the table, the letter is
        ("\ufb01n", "fn"),  # a ligature falls back to its first letter
        ("n\u00a0m", "n\u00a0m"),
        ("\u3000", " "),
        ("½ 3⅛ ⅞", "½ 3⅛ ⅞"),
        ("6′ 3″", "6′ 3″"),
    ],
)
def test_odd_characters_are_drawn_as_well_as_can_be(given_text: str, drawn: str) -> None:
    assert drawable(given_text) == drawn


@pytest.mark.parametrize("character", ["海", "Ж", "\U0001f9f5", "\ud800"])
def test_a_character_without_a_glyph_is_an_open_box(character: str) -> None:
    data = path_data(character, 12)
    if unicodedata.category(character) == "Cs":
        assert data == ""
        return
    assert data.count("M") == 2
    assert width_pt(character, 12) > 4


def test_all_of_latin_1_can_be_drawn() -> None:
    for code in (*range(0x20, 0x7F), *range(0xA0, 0x100)):
        character = chr(code)
        if character != "\u00ad":
            assert drawable(character) == character


@settings(derandomize=True, deadline=None, max_examples=300)
@given(text=st.text(max_size=20), size=st.floats(1, 100), bold=st.booleans())
def test_any_text_becomes_short_clean_path_data(text: str, size: float, bold: bool) -> None:
    data = path_data(text, size, bold, underline=True)
    assert re.fullmatch(r"[MLQZ0-9 .\-]*", data)
    assert not re.search(r"\.\d{3}|-0(?![.\d])", data)
    assert width_pt(text, size, bold) >= 0


def test_lettering_needs_no_font_and_no_heavy_library() -> None:
    heavy = ("fontTools", "shapely", "numpy", "cairosvg", "PIL")
    code = (
        "import sys; from seamwright.ink.lettering import path_data; path_data('A', 9); "
        f"print([name for name in {heavy} if name in sys.modules])"
    )
    out = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert out.stdout.strip() == "[]"


def test_the_licence_of_the_type_stands_beside_it() -> None:
    licence = Path(lettering.__file__).with_name("LICENSE-glyphs.txt").read_text(encoding="utf-8")
    assert "Permission is hereby granted, free of charge" in licence
    assert "The above copyright and trademark notices and this permission notice shall" in licence
