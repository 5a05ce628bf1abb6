"""Drawings made to take for ever are refused in one sentence, by counting and not by the clock."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest

from seamwright.block.make import make_block
from seamwright.block.steps import MOST_STEPS, Steps
from seamwright.drawing.model import Line
from seamwright.drawing.svg import read_svg
from seamwright.errors import DrawingError
from support.svg_text import STROKE, svg

FRAME = f'<rect width="8" height="8" {STROKE}/>'


def made(body: str) -> None:
    make_block(read_svg(svg(body).encode(), name="endless", file="endless.svg"))


def test_lines_piled_on_one_another_are_refused_before_their_pairs_fill_the_memory() -> None:
    pile = "".join(f'<path d="M1 {1 + n * 1e-7:.8f}L3 4" {STROKE}/>' for n in range(3000))
    with pytest.raises(DrawingError, match="too many lines and crossings beside each other"):
        made(FRAME + pile)


def test_steps_past_the_limit_are_refused_and_those_before_are_not() -> None:
    steps = Steps("kite.svg")
    steps.take(MOST_STEPS)
    with pytest.raises(DrawingError, match=r"kite\.svg"):
        steps.take(1)


def test_shapes_piled_on_one_another_are_refused() -> None:
    pile = "".join(f'<rect x="{n * 1e-4:.4f}" width="4" height="8" fill="#{n % 4096:03x}"/>' for n in range(4000))
    with pytest.raises(DrawingError, match="borders of filled shapes lie over"):
        made(FRAME + pile)


@pytest.mark.parametrize(
    "sheet",
    [
        "a{fill:" + "(" * 5000 + "}",
        ":not(" * 3000 + "a" + ")" * 3000 + "{fill:red}",
        "@media all{" * 3000 + "a{fill:red}" + "}" * 3000,
    ],
    ids=["value", "selector", "media"],
)
def test_a_style_sheet_nested_without_end_is_refused(sheet: str) -> None:
    with pytest.raises(DrawingError, match="nested too deep"):
        made(f"<style>{sheet}</style>{FRAME}")


def test_a_style_nested_without_end_is_refused() -> None:
    with pytest.raises(DrawingError, match="nested too deep"):
        made(f'<g style="fill:{"(" * 50_000}"/>{FRAME}')


def test_rules_tried_on_every_object_are_counted() -> None:
    rules = "".join(f"*{{stroke:#{n:03d}}}" for n in range(900))
    with pytest.raises(DrawingError, match="too many rules"):
        made(f"<style>{rules}</style>{FRAME}" + "<g/>" * 5000)


def test_rules_that_look_at_all_neighbours_are_counted_as_many() -> None:
    rules = "".join(f"g:nth-child({n}n) path{{fill:red}}" for n in range(1, 100))
    with pytest.raises(DrawingError, match="too many rules"):
        made(f"<style>{rules}</style>{FRAME}" + "<g/>" * 2000)


def test_a_style_sheet_of_endless_rules_is_refused() -> None:
    with pytest.raises(DrawingError, match="too many rules"):
        made("<style>" + "a{fill:red}" * 21_000 + f"</style>{FRAME}")


def test_an_endless_paint_is_none_and_an_endless_chain_of_gradients_has_no_colour() -> None:
    chain = "".join(f'<linearGradient id="g{n}" href="#g{n + 1}"/>' for n in range(2000))
    line = '<path d="M1 1L3 4" stroke="black"/>'
    drawing = read_svg(
        svg(f'{chain}{FRAME}{line}<path fill="rgb({" " * 5000}x" stroke="url(#g0)" d="M1 2L3 5"/>').encode(),
        name="endless",
        file="endless.svg",
    )
    assert sum(item.end == (3.0, 4.0) for item in drawing.lines) == 1
    assert not any(item.end == (3.0, 5.0) for item in drawing.lines)


def test_lines_of_a_thousand_looks_are_read_one_look_at_a_time() -> None:
    lines = "".join(f'<path d="M{n / 500} 1v.5" fill="none" stroke="#{n:03x}"/>' for n in range(3000))
    assert len(read_svg(svg(FRAME + lines).encode(), name="looks", file="looks.svg").lines) == 3004


def test_cuts_by_clip_paths_of_many_corners_are_counted() -> None:
    corners = " ".join(f"{n / 250} {n % 2}" for n in range(2000))
    clip = f'<clipPath id="c"><polygon points="0 8 {corners} 8 8"/></clipPath>'
    line = f'<path clip-path="url(#c)" d="M1 5h1" {STROKE}/>'
    with pytest.raises(DrawingError, match="clip paths of too many corners"):
        made(clip + FRAME + line * 4000)


def test_a_long_chain_of_short_pieces_is_walked_once_and_is_no_dashed_line(monkeypatch: pytest.MonkeyPatch) -> None:
    from seamwright.drawing import dashes

    walks = 0
    walk = dashes._run_end

    def counted(*words):
        nonlocal walks
        walks += 1
        return walk(*words)

    monkeypatch.setattr(dashes, "_run_end", counted)
    points = [(k / 1000, k / 1000) for k in range(3001)]
    chain = [Line(a, b) for a, b in pairwise(points)]
    out, notes = dashes.join_dashes(chain)
    assert (len(out), notes, walks) == (3000, [], 0)


def test_dashes_round_a_circle_are_no_line() -> None:
    from seamwright.drawing.dashes import join_dashes

    turns = [math.tau * k / 400 for k in range(400)]
    points = [(3 * math.cos(t), 3 * math.sin(t)) for t in turns]
    dashes = [Line(a, b) for a, b in zip(points[::2], points[1::2], strict=True)]
    out, _ = join_dashes(dashes)
    assert max(math.dist(line.start, line.end) for line in out) < 0.8
