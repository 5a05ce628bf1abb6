"""The cascade of styles, as the CSS and SVG standards state it, seen through what is drawn."""

from __future__ import annotations

import pytest

from seamwright.drawing.svg_colour import parse_colour
from support.svg_text import read, said

SHAPE = '<g id="outer" class="layer"><rect id="r" class="a b" x="1" y="1" width="4" height="3" {0}/></g>'


def fabric(sheet: str, attributes: str = "", head: str = "<style>{0}</style>") -> str | None:
    """The fill that the rectangle ends up with."""
    drawing = read(head.format(sheet) + SHAPE.format(attributes))
    return drawing.fills[0].fabric if drawing.fills else None


@pytest.mark.parametrize(
    ("sheet", "attributes", "expected"),
    [
        # SVG 1.1, section 11.3: the initial fill is black
        ("", "", "#000000"),
        ("", 'fill="red"', "#ff0000"),
        # SVG 1.1, section 6.4: presentation attributes come before every author rule
        ("*{fill:lime}", 'fill="red"', "#00ff00"),
        ("rect{fill:blue}", 'fill="red"', "#0000ff"),
        # CSS Cascading 3, section 6: style attribute over rules, importance over all
        ("#r{fill:blue}", 'style="fill:red"', "#ff0000"),
        ("rect{fill:blue!important}", 'style="fill:red"', "#0000ff"),
        ("rect{fill:blue!important}", 'style="fill:red !important"', "#ff0000"),
        # Selectors 3, section 9: id over class over element; later over earlier
        ("#r{fill:red}.a{fill:blue}rect{fill:lime}", "", "#ff0000"),
        (".a{fill:red}rect{fill:blue}", "", "#ff0000"),
        (".a{fill:red}.b{fill:blue}", "", "#0000ff"),
        (".b{fill:blue}.a{fill:red}", "", "#ff0000"),
        (".a.b{fill:red}.b{fill:blue}", "", "#ff0000"),
        # combinators, attributes, structure
        ("g rect{fill:red}", "", "#ff0000"),
        ("#outer > rect{fill:red}", "", "#ff0000"),
        ("svg > rect{fill:red}", "", "#000000"),
        ("rect[width='4']{fill:red}", "", "#ff0000"),
        ("g:first-of-type rect:nth-child(1){fill:red}", "", "#ff0000"),
        ("circle, .layer .b{fill:red}", "", "#ff0000"),
        # inheritance: a rule on the group loses against any on the rectangle itself
        ("#outer{fill:red}", "", "#ff0000"),
        ("#outer{fill:red!important}", 'fill="blue"', "#0000ff"),
        ("#outer{fill:red}rect{fill:inherit}", "", "#ff0000"),
        ("#outer{fill:red}rect{fill:initial}", "", "#000000"),
        ("#outer{color:teal}rect{fill:currentColor}", "", "#008080"),
        # CSS: what is not understood is dropped, the rest holds
        ("rect{fill:red;;bogus:1;fill}", "", "#ff0000"),
        ("rect:unknown(3){fill:red}", "", "#000000"),
        ("rect{fill:blue}.a{fill:no colour}", "", "#0000ff"),
        ("", 'fill="red" style="fill:no-such(1)"', "#ff0000"),
        # CSS Custom Properties 1, section 3; CSS Color 5, section 2
        ("g{--cloth:teal}.a{fill:var(--cloth)}", "", "#008080"),
        ("g{--cloth:var(--a, teal)}.a{fill:var(--cloth)}", "", "#008080"),
        (".a{fill:var(--none, rgb(255, 0, 0))}", "", "#ff0000"),
        ("g{fill:blue}.a{fill:var(--none)}", "", "#0000ff"),
        (".a{--x:var(--x);fill:var(--x)}", "", "#000000"),
        (".a{--x:var(--y)var(--y);--y:var(--x)var(--x);fill:var(--x)}", "", "#000000"),
        ("", 'style="fill:light-dark(rgb(255, 0, 0), var(--d, #121212))"', "#ff0000"),
        ("/* rect{fill:red} */ rect{fill:/**/blue}", "", "#0000ff"),
        ("@media print{rect{fill:red}}", "", "#000000"),
        ("@media screen{rect{fill:red}}", "", "#ff0000"),
        ("<![CDATA[rect{fill:red}]]>", "", "#ff0000"),
    ],
)
def test_the_cascade_decides_as_the_standards_say(sheet: str, attributes: str, expected: str) -> None:
    assert fabric(sheet, attributes) == expected


def test_a_style_sheet_may_stand_after_what_it_styles() -> None:
    assert read(SHAPE.format("") + "<style>.a{fill:red}</style>").fills[0].fabric == "#ff0000"
    assert read(SHAPE.format("") + "<defs><style>.a{fill:red}</style></defs>").fills[0].fabric == "#ff0000"


def test_a_sheet_of_another_file_is_left_out_and_said_so() -> None:
    drawing = read('<style>@import url("http://example.invalid/x.css"); rect{fill:red}</style>' + SHAPE.format(""))
    assert drawing.fills[0].fabric == "#ff0000"
    assert "style sheet of another file" in said(drawing)


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        # CSS Color 4: named colours, hex, rgb(), hsl(); alpha apart
        ("rebeccapurple", ("#663399", 1.0)),
        ("#ABC", ("#aabbcc", 1.0)),
        ("#7fB3d5", ("#7fb3d5", 1.0)),
        ("rgb(207,226,243)", ("#cfe2f3", 1.0)),
        ("rgb(100%,0%,0%)", ("#ff0000", 1.0)),
        ("rgb(999, -5, 0)", ("#ff0000", 1.0)),
        ("rgba(0,0,255,.5)", ("#0000ff", 0.5)),
        ("hsl(120,100%,25%)", ("#008000", 1.0)),
        ("hsl(120 100% 25% / 50%)", ("#008000", 0.5)),
        ("transparent", ("#000000", 0.0)),
        ("#ff0000 icc-color(press, 0.1, 0.2)", ("#ff0000", 1.0)),
        ("windowtext", ("#000000", 1.0)),
        ("light-dark(#fff, #000)", ("#ffffff", 1.0)),
        ("no colour", None),
        ("", None),
    ],
)
def test_a_colour_is_what_its_standard_says(text: str, expected: tuple[str, float] | None) -> None:
    assert parse_colour(text) == expected


@pytest.mark.parametrize(
    ("attributes", "lines", "fills"),
    [
        ('fill="none" stroke="black"', 4, 0),
        ('fill="none"', 0, 0),
        ('fill="red"', 4, 1),
        ('fill="red" fill-opacity="0"', 0, 0),
        ('fill="red" opacity="0"', 0, 0),
        ('fill="rgba(0,0,0,0)" stroke="none"', 0, 0),
        ('fill="transparent" stroke="#00f"', 4, 0),
        ('fill="none" stroke="black" stroke-opacity="0"', 0, 0),
        ('fill="none" stroke="black" stroke-width="0"', 0, 0),
        ('fill="none" stroke="rgb(0%,0%,0%)"', 4, 0),
        ('fill="none" stroke="url(#nothing) green"', 4, 0),
        ('fill="none" stroke="url(#nothing)"', 0, 0),
        ('fill="red" display="none"', 0, 0),
        ('fill="red" visibility="hidden"', 0, 0),
        ('fill="red" visibility="collapse"', 0, 0),
        ('fill="bogus" stroke="black"', 4, 1),  # no paint, so the initial black holds
    ],
)
def test_only_what_is_painted_is_drawn(attributes: str, lines: int, fills: int) -> None:
    drawing = read(SHAPE.format(attributes))
    assert (len(drawing.lines), len(drawing.fills)) == (lines, fills)


def test_a_child_may_show_in_a_group_that_is_invisible_but_not_in_one_that_is_not_displayed() -> None:
    # SVG 1.1, section 11.5: visibility is inherited and may be set back, display takes the whole group
    child = '<path d="M1 1L2 2" stroke="black" visibility="visible" display="inline"/>'
    assert len(read(f'<g visibility="hidden">{child}</g>').lines) == 1
    assert len(read(f'<g display="none">{child}</g>').lines) == 0


def test_gradients_and_patterns_are_fabrics_too() -> None:
    swatch = '<linearGradient id="s"><stop stop-color="#7fb3d5"/></linearGradient>'
    link = '<linearGradient id="t" href="#s"/>'
    stops = '<stop style="stop-color:teal;stop-opacity:1"/><stop stop-color="red"/>'
    styled = f'<radialGradient id="u">{stops}</radialGradient>'
    dots = '<pattern id="dots" width="1" height="1"><circle r="0.2"/></pattern>'
    for name, expected in [("s", "#7fb3d5"), ("t", "#7fb3d5"), ("u", "#008080"), ("dots", "pattern dots")]:
        drawing = read(f"<defs>{swatch}{link}{styled}{dots}</defs>" + SHAPE.format(f'fill="url(#{name})"'))
        assert drawing.fills[0].fabric == expected
        assert len(drawing.lines) == 4
    assert drawing.fabrics[0].colour is None


def test_a_gradient_that_refers_to_itself_is_no_paint() -> None:
    assert fabric("", 'fill="url(#s)"', '<linearGradient id="s" href="#s"/>{0}') is None


def test_fabrics_are_named_once_each_in_order_of_appearance() -> None:
    drawing = read(
        '<rect width="2" height="2" fill="teal"/><rect x="2" width="2" height="2" fill="#F00"/>'
        '<rect x="4" width="2" height="2" fill="#008080"/>'
    )
    assert [fabric.name for fabric in drawing.fabrics] == ["#008080", "#ff0000"]
    assert [fill.fabric for fill in drawing.fills] == ["#008080", "#ff0000", "#008080"]
