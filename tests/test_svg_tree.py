"""Groups, layers, clones, nested pictures, switches, hiding, clip paths and words of SVG drawings."""

from __future__ import annotations

import math

import pytest

from seamwright.drawing import svg_tree
from seamwright.errors import DrawingError
from support.svg_text import STROKE, read, said, segments

LINE = f'<path id="p" d="M0 0L1 0" {STROKE}/>'


def test_transforms_of_nested_groups_multiply_from_the_outside_in() -> None:
    drawing = read(
        f'<g transform="translate(3 4)"><g transform="rotate(90)"><g transform="scale(2)">{LINE}</g></g></g>'
    )
    assert segments(drawing) == [((3, 4), (3, 6))]


@pytest.mark.parametrize(
    ("body", "expected"),
    [
        # SVG 1.1, section 5.6: use = a group with its transform, then translate(x, y)
        (f'<defs>{LINE}</defs><use xlink:href="#p" x="2" y="3"/>', [((2, 3), (3, 3))]),
        (f'<defs>{LINE}</defs><use href="#p" x="2" y="3"/>', [((2, 3), (3, 3))]),
        (f'<defs>{LINE}</defs><use href="#p" transform="scale(2)" x="1"/>', [((2, 0), (4, 0))]),
        (f'{LINE}<use href="#p" y="5"/>', [((0, 0), (1, 0)), ((0, 5), (1, 5))]),
        (f'<defs><g id="g" transform="translate(1 1)">{LINE}</g></defs><use href="#g"/>', [((1, 1), (2, 1))]),
        # a use of a use
        (
            f'<defs>{LINE}<use id="u" href="#p" x="1"/></defs><use href="#u" x="1" y="1"/>',
            [((2, 1), (3, 1))],
        ),
        # a symbol is drawn only where it is used, fitted into the use's width and height
        (
            f'<symbol id="s" viewBox="0 0 2 2">{LINE}</symbol><use href="#s" x="1" y="1" width="4" height="4"/>',
            [((1, 1), (3, 1))],
        ),
        (
            f'<symbol id="s" viewBox="0 0 2 2" preserveAspectRatio="xMinYMin">{LINE}</symbol>'
            '<use href="#s" x="1" y="1" width="8" height="4"/>',
            [((1, 1), (3, 1))],
        ),
        (f'<symbol id="s" viewBox="0 0 2 2">{LINE}</symbol>', []),
        # a nested svg has its own place and viewBox, SVG 1.1, section 7.9
        (f'<svg x="2" y="1" width="4" height="4" viewBox="0 0 2 2">{LINE}</svg>', [((2, 1), (4, 1))]),
        (f'<svg x="2" y="1">{LINE}</svg>', [((2, 1), (3, 1))]),
        (
            f'<defs><svg id="v" width="1" height="1" viewBox="0 0 1 1">{LINE}</svg></defs>'
            '<use href="#v" width="3" height="3"/>',
            [((0, 0), (3, 0))],
        ),
        # a percentage inside is of the nested viewport
        (f'<svg width="4" height="4" viewBox="0 0 8 8"><line x2="50%" y2="0" {STROKE}/></svg>', [((0, 0), (2, 0))]),
        # anchors are groups
        (f'<a href="http://example.invalid/">{LINE}</a>', [((0, 0), (1, 0))]),
    ],
)
def test_clones_symbols_and_nested_pictures_stand_where_the_standard_puts_them(
    body: str, expected: list[tuple[tuple[float, float], tuple[float, float]]]
) -> None:
    assert segments(read(body)) == expected


def test_a_clone_takes_its_style_from_where_it_is_used_but_matches_rules_where_it_stands() -> None:
    # SVG 1.1, section 5.6
    body = (
        '<defs><rect id="r" width="2" height="2"/></defs>'
        '<g fill="red"><use href="#r"/></g><use href="#r" x="3" fill="#0000ff"/>'
    )
    assert [fill.fabric for fill in read(body).fills] == ["#ff0000", "#0000ff"]


@pytest.mark.parametrize("container", ["defs", "symbol", "marker", "mask", "pattern", "clipPath", "metadata"])
def test_what_only_others_refer_to_is_not_drawn(container: str) -> None:
    assert segments(read(f'<{container} id="x">{LINE}</{container}>{LINE}')) == [((0, 0), (1, 0))]


@pytest.mark.parametrize(
    "body",
    [
        '<g id="a"><use href="#a"/></g>',
        '<use id="a" href="#a"/>',
        '<g id="a"><use href="#b"/></g><g id="b"><use href="#a"/></g>',
        '<symbol id="a"><use href="#a"/></symbol><use href="#a"/>',
        '<defs><g id="a"><use href="#b"/></g><g id="b"><use href="#a"/></g></defs><use href="#a"/>',
    ],
)
def test_a_clone_of_itself_is_refused(body: str) -> None:
    with pytest.raises(DrawingError, match="shows itself") as caught:
        read(body)
    assert caught.value.code == "use loop"


def test_clones_that_multiply_are_stopped_early(monkeypatch: pytest.MonkeyPatch) -> None:
    # The limit itself is met where drawings are refused by the command; here it is how they are counted.
    monkeypatch.setattr(svg_tree, "MAX_VISITS", 3_000)
    body = f'<defs><g id="l0">{LINE}</g>'
    for level in range(1, 11):
        body += f'<g id="l{level}">' + f'<use href="#l{level - 1}"/>' * 10 + "</g>"
    with pytest.raises(DrawingError, match="more than 3,000"):
        read(body + '</defs><use href="#l10"/>')
    seen = segments(read(body + '</defs><use href="#l2"/>'))
    assert seen == [((0, 0), (1, 0))] * 100


def test_clones_of_other_files_and_of_nothing_are_left_out_and_said_so() -> None:
    drawing = read(f'{LINE}<use href="other.svg#a"/><use href="#nowhere"/><use/>')
    assert len(drawing.lines) == 1
    assert "another file" in said(drawing)
    assert "not there" in said(drawing)


def test_a_switch_shows_its_first_child_whose_conditions_hold() -> None:
    # SVG 1.1, section 5.8
    other = f'<path d="M5 5L6 6" {STROKE}/>'
    foreign = f'<foreignObject requiredExtensions="http://example.invalid/x">{other}</foreignObject>'
    assert segments(read(f"<switch>{foreign}<g>{LINE}</g></switch>")) == [((0, 0), (1, 0))]
    assert segments(read(f'<switch><g systemLanguage="de">{other}</g>{LINE}</switch>')) == [((0, 0), (1, 0))]
    assert segments(read(f'<switch><g systemLanguage="fr, en-GB">{other}</g>{LINE}</switch>')) == [((5, 5), (6, 6))]
    assert segments(read(f'<g requiredExtensions="http://example.invalid/x">{other}</g>{LINE}')) == [
        ((0, 0), (1, 0))
    ]


def test_hidden_layers_are_left_out_and_said_so() -> None:
    hidden = f'<g inkscape:groupmode="layer" inkscape:label="old" style="display:none">{LINE}</g>'
    shown = f'<g inkscape:groupmode="layer" inkscape:label="seams"><g id="part">{LINE}</g></g>'
    drawing = read(hidden + shown)
    assert [line.layer for line in drawing.lines] == ["seams"]
    assert "1 hidden layer ignored" in said(drawing)


def test_without_layers_the_nearest_named_group_counts_as_one() -> None:
    drawing = read(f'<g id="layer1"><g>{LINE}</g></g>')
    assert drawing.lines[0].layer == "layer1"
    assert drawing.lines[0].source == "path 'p'"


def test_pictures_guides_and_foreign_objects_are_left_out_and_said_so() -> None:
    drawing = read(
        f'{LINE}<image href="file:///etc/passwd" width="9" height="9"/><foreignObject width="9" height="9"/>'
        '<n:namedview xmlns:n="http://sodipodi.sourceforge.net/DTD/sodipodi-0.dtd"><n:guide/><n:guide/></n:namedview>'
    )
    assert len(drawing.lines) == 1
    for words in ("1 picture", "1 embedded object", "2 guide lines"):
        assert words in said(drawing)


def test_a_default_fill_on_an_open_line_makes_no_patch() -> None:
    drawing = read('<polyline points="0,0 4,0 4,3" stroke="black"/>')
    assert segments(drawing) == [((0, 0), (4, 0)), ((4, 0), (4, 3))]
    assert drawing.fills == ()


def test_a_fill_that_was_meant_closes_itself() -> None:
    drawing = read('<polyline points="0,0 4,0 4,3" fill="red"/>')
    assert len(drawing.lines) == 3
    assert {line.shape for line in drawing.lines} == {0}


def test_borders_of_each_filled_shape_carry_their_own_number() -> None:
    drawing = read(
        '<path d="M0 0H2V2H0ZM3 0H5V2H3Z" fill="red"/><rect y="4" width="2" height="2" fill="red" stroke="black"/>'
        f'<rect y="8" width="1" height="1" {STROKE}/>'
    )
    assert [line.shape for line in drawing.lines] == [0] * 4 + [1] * 4 + [2] * 4 + [None] * 4


def test_a_clip_path_cuts_what_lies_outside() -> None:
    clip = '<clipPath id="c"><rect width="4" height="4"/></clipPath>'
    drawing = read(
        f'{clip}<g clip-path="url(#c)"><path d="M-3 1H9M0 0H4" {STROKE}/>'
        f'<path d="M7 7L8 8" {STROKE}/><rect x="2" y="2" width="9" height="9" fill="red"/></g>'
    )
    found = segments(drawing, 1)
    assert found[:2] == [((0, 1), (4, 1)), ((0, 0), (4, 0))]
    assert sorted(found[2:]) == sorted([((2, 2), (4, 2)), ((4, 2), (4, 4)), ((2, 4), (4, 4)), ((2, 2), (2, 4))])
    assert "clip path" in said(drawing)


def test_a_clip_path_of_the_page_changes_nothing() -> None:
    clip = '<clipPath id="c"><rect width="10" height="10"/></clipPath>'
    body = f'<path d="M0 0H10V10H0ZM0 3L10 4" {STROKE}/>'
    assert read(f'{clip}<g clip-path="url(#c)">{body}</g>').lines == read(f"{clip}<g>{body}</g>").lines


@pytest.mark.parametrize(
    ("text", "words", "middle"),
    [
        ('<text x="3" y="4" font-size="1">sky</text>', "sky", (3 + 0.55 * 1.5, 3.65)),
        ('<text x="3" y="4" font-size="1" text-anchor="middle">sky</text>', "sky", (3, 3.65)),
        ('<text x="3" y="4" font-size="1" text-anchor="end">sky</text>', "sky", (3 - 0.55 * 1.5, 3.65)),
        (
            '<text x="3" y="4" font-size="1" text-anchor="middle" dominant-baseline="middle">sky</text>',
            "sky",
            (3, 4),
        ),
        ('<text transform="translate(3 4)" style="font:1px serif;text-anchor:middle">sky</text>', "sky", (3, 3.65)),
        ('<text text-anchor="middle" font-size="1"><tspan x="3" y="4">sky</tspan></text>', "sky", (3, 3.65)),
        (
            '<text text-anchor="middle" font-size="1"><tspan x="3" y="4">sea</tspan>'
            '<tspan x="3" y="6">blue</tspan></text>',
            "sea blue",
            (3, 4 + 2 * 4 / 7 - 0.35),
        ),
        (
            '<text text-anchor="middle" font-size="1"><tspan x="3" y="4">sea</tspan>'
            '<tspan x="3" dy="1">fog</tspan></text>',
            "sea fog",
            (3, 4.5 - 0.35),
        ),
        (
            '<text font-size="1"><tspan x="3" y="4">1</tspan><tspan x="3" y="5">5</tspan></text>',
            "15",
            (3.275, 4.15),
        ),
        (
            '<text font-size="1"><tspan class="TextPosition" x="3" y="4">deep </tspan>'
            '<tspan class="TextPosition" x="3" y="5">foa</tspan>'
            '<tspan class="TextPosition" x="3" y="6">m</tspan></text>',
            "deep foam",
            (3.9, 4.275),
        ),
        (
            '<text font-size="1"><tspan x="3" y="4">f</tspan><tspan x="3.5" y="4">o</tspan>'
            '<tspan x="4" y="4">g</tspan></text>',
            "fog",
            (3.8, 3.65),
        ),
        ('<text x="3" y="4" font-size="1">f<tspan dx="-0.05">o</tspan>g</text>', "fog", (3.8, 3.65)),
        ('<text x="3" y="4" font-size="1">\n  deep\n  sea </text>', "deep sea", (3 + 0.55 * 4, 3.65)),
        ('<text x="1 2 3" y="4" font-size="1">sky</text>', "sky", (1 + 0.55 * 1.5, 3.65)),
        (
            '<g font-size="2"><text x="3" y="4" font-size="50%" text-anchor="middle">sky</text></g>',
            "sky",
            (3, 3.65),
        ),
    ],
)
def test_words_stand_about_where_they_are_seen(text: str, words: str, middle: tuple[float, float]) -> None:
    drawing = read(text)
    assert [label.text for label in drawing.labels] == [words]
    assert math.dist(drawing.labels[0].at, middle) < 0.15


def test_the_box_that_an_office_program_draws_round_a_text_is_no_patch() -> None:
    box = '<path d="M1 1H3V2H1Z" fill="#729fcf" stroke="black"/><text x="1.2" y="1.8" font-size=".5">sky</text>'
    drawing = read(f'<g class="TextShape"><g>{box}</g></g><g class="com.sun.star.drawing.CustomShape">{box}</g>')
    assert len(drawing.fills) == 1
    assert len(drawing.labels) == 2
    assert "1 box round a text ignored" in said(drawing)


def test_hidden_and_empty_words_are_no_labels() -> None:
    drawing = read(
        '<text x="1" y="1"> </text><text x="1" y="1" display="none">a</text><text x="1" y="1" opacity="0">b</text>'
        '<text x="1" y="1" visibility="hidden">c</text><defs><text x="1" y="1">d</text></defs><title>e</title>'
    )
    assert drawing.labels == ()


def test_a_paragraph_in_a_shape_stands_at_the_middle_of_the_shape() -> None:
    drawing = read(
        '<flowRoot><flowRegion><rect x="2" y="2" width="4" height="2"/></flowRegion>'
        "<flowPara>deep</flowPara><flowPara>sea</flowPara></flowRoot>"
    )
    assert drawing.labels[0].text == "deep sea"
    assert drawing.labels[0].at == pytest.approx((4, 3))


def test_a_document_without_the_svg_namespace_is_read_all_the_same() -> None:
    from seamwright.drawing.svg import read_svg

    drawing = read_svg(
        b'<svg width="8in" height="8in"><path d="M0 0L96 0" stroke="black"/></svg>', name="x", file=""
    )
    assert segments(drawing) == [((0, 0), (1, 0))]


def test_a_document_with_a_prefix_is_read_all_the_same() -> None:
    from seamwright.drawing.svg import read_svg

    line = '<s:path d="M0 0L96 0" stroke="black"/>'
    text = f'<s:svg xmlns:s="http://www.w3.org/2000/svg" width="8in" height="8in">{line}</s:svg>'.encode()
    assert segments(read_svg(text, name="x", file="")) == [((0, 0), (1, 0))]
