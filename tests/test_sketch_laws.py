"""Any edit of a drawing is done, or refused in words with a mend; what it does not touch stays as written."""

from __future__ import annotations

import math

import hypothesis.strategies as st
from hypothesis import given, settings

from seamwright.drawing.textform import read_seams
from seamwright.errors import OptionError
from seamwright.sketch.change import changed
from seamwright.sketch.edits import Copies, Draw, DrawArc, DrawLength, Edit, Erase, Move, Outline, Regrid, Resize
from seamwright.sketch.view import view_of

PIER = """seamwright block 1
name pier   # where it was drawn
size 8 in
grid 8
seam 0, 0 to 8, 8   # the long one
seam 4, 4 to 8, 0
arc 0, 8 through 1, 5 to 4, 4
"""

numbers = st.one_of(
    st.integers(-1, 9).map(float),
    st.floats(-1, 9),
    st.sampled_from([math.nan, math.inf, -math.inf, 1e300, -1e300, 1e-300, -0.0]),
)
points = st.one_of(st.sampled_from([(0.0, 0.0), (4.0, 4.0), (8.0, 8.0), (8.0, 0.0)]), st.tuples(numbers, numbers))
several = st.lists(points, max_size=5).map(tuple)
typed = st.one_of(
    st.sampled_from(["2 1/2", "-1", "", "1e300 in", "nan", "8 x", "9 in", "6 x 9 cm"]), st.text(max_size=8)
)
additions = st.one_of(
    st.builds(Draw, several),
    st.builds(DrawArc, points, points, points),
    st.builds(DrawLength, points, numbers, typed),
    st.builds(Copies, points, st.integers(-1, 9), st.just(()), st.booleans(), numbers),
)
edits = st.one_of(
    additions,
    st.builds(Move, points, points),
    st.builds(Erase, st.lists(several.filter(len), max_size=3).map(tuple)),
    st.builds(Outline, st.just(""), several),
    st.builds(Resize, typed),
    st.builds(Regrid, st.integers(-5, 2000), st.integers(-5, 2000)),
)


def done(text: str, edit: Edit) -> str | None:
    """The new text; None for a refusal, which must say what and the mend."""
    try:
        return changed(text, [edit])
    except OptionError as refusal:
        assert refusal.faults[0].what
        assert refusal.faults[0].mend
        return None


@settings(max_examples=150, deadline=None)
@given(st.lists(edits, min_size=1, max_size=4))
def test_any_edits_are_done_or_refused_in_words(wanted: list[Edit]) -> None:
    text = PIER
    for edit in wanted:
        text = done(text, edit) or text
        if view_of(text).strokes:
            read_seams(text, name="", file="")  # raises if the whole is no drawing any more


@settings(max_examples=80, deadline=None)
@given(additions)
def test_what_is_drawn_leaves_all_lines_as_they_were(edit: Edit) -> None:
    text = done(PIER, edit)
    if text is not None:
        assert text.startswith(PIER)
        assert len(text) > len(PIER)
