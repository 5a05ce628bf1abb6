"""Lengths and sizes as people write them, against the standards that define the units."""

from __future__ import annotations

import math
from fractions import Fraction

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from seamwright.errors import OptionError
from seamwright.options import Fit, PlanOptions, Priority, Size, Units
from seamwright.optiontext import OPTIONS, read_option, with_options
from seamwright.units import parse_length, parse_size, say_length, say_size, scan_amount


@pytest.mark.parametrize(
    ("text", "inches"),
    [
        # NIST SP 811 (2008), appendix B.8: 1 in = 25.4 mm, 1 ft = 304.8 mm, 1 yd = 914.4 mm, all exact
        ("25.4 mm", 1.0),
        ("2.54cm", 1.0),
        ("0.0254 m", 1.0),
        ("304.8mm", 12.0),
        ("1 ft", 12.0),
        ("914.4 mm", 36.0),
        ("1 yd", 36.0),
        ("203.2 mm", 8.0),
        ("20 cm", 1000 / 127),
        # ISO 32000-1:2008, 8.3.2.3: 72 units to the inch
        ("72 pt", 1.0),
        # W3C CSS Values and Units Level 3, section 6.2: 1 in = 96 px = 6 pc
        ("96px", 1.0),
        ("6 pc", 1.0),
        # ISO 216: A4 is 210 mm wide
        ("210mm", 1050 / 127),
    ],
)
def test_units_are_those_of_the_standards(text: str, inches: float) -> None:
    assert parse_length(text) == inches


@pytest.mark.parametrize(
    ("text", "inches"),
    [
        ("8in", 8.0),
        ("8 in", 8.0),
        ("8 inches", 8.0),
        ("1 inch", 1.0),
        ("8 1/2 in", 8.5),
        ('8 1/2"', 8.5),
        ("8-1/2 in", 8.5),
        ("8½", 8.5),
        ("8 ½ in", 8.5),
        ("8½″", 8.5),
        ("2 7/8", 2.875),
        ("2⅞in", 2.875),
        ("7/8in", 0.875),
        ("⅓", 1 / 3),
        ("8 1⁄2 in", 8.5),
        (".5 in", 0.5),
        ("8.", 8.0),
        ("  12 IN ", 12.0),
        ("1e-3 in", 0.001),
        ("-1/4 in", -0.25),
        ("−2 1/2", -2.5),
    ],
)
def test_a_length_is_read_as_quilters_write_it(text: str, inches: float) -> None:
    assert parse_length(text) == inches


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("", "missing"),
        ("nan", "no length"),
        ("inf in", "no length"),
        ("8 1/0 in", "no length"),
        ("8 furlongs", "'furlongs' is not known.*in, cm or mm"),
        ("20,5 cm", "decimal point"),
        ("8in in", "no length"),
        ("1/2/3", "no length"),
        ("1.2.3", "no length"),
        ("8 1/2 1/2", "no length"),
        ("1e999", "larger than any cloth"),
        ("9" * 500, "no length"),
        ("8\x00in", r"8\\x00in"),
        ("eight", "8 1/2 in"),
    ],
)
def test_what_is_no_length_is_told_with_the_mend(text: str, words: str) -> None:
    with pytest.raises(OptionError, match=words) as caught:
        parse_length(text)
    assert len(str(caught.value)) < 200


@pytest.mark.parametrize(
    ("text", "width", "height"),
    [
        ("8in", 8.0, None),
        ("8x12in", 8.0, 12.0),
        ("8 x 12", 8.0, 12.0),
        ("8in x 12in", 8.0, 12.0),
        ("8 1/2 x 11 in", 8.5, 11.0),
        ("8½×11″", 8.5, 11.0),
        ("20x30cm", 20 / 2.54, 30 / 2.54),
        ("25.4 cm x 12 in", 10.0, 12.0),
        ("6 by 9 in", 6.0, 9.0),
        ('8"x12"', 8.0, 12.0),
        ("8inx12in", 8.0, 12.0),
        ("20cmx30cm", 20 / 2.54, 30 / 2.54),
    ],
)
def test_a_size_is_a_width_or_both(text: str, width: float, height: float | None) -> None:
    assert parse_size(text) == Size(width, height)


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("0.5in", "1 to 60 in"),
        ("-8in", "1 to 60 in"),
        ("8mm", "1 to 60 in"),
        ("80", "1 to 60 in"),
        ("8x", "missing"),
        ("x8", "no length"),
        ("8x12x3", "no length"),
        ("8xnan", "no length"),
        ("8 12", "no length"),
    ],
)
def test_a_size_out_of_range_or_no_size_is_refused(text: str, words: str) -> None:
    with pytest.raises(OptionError, match=words):
        parse_size(text)


@pytest.mark.parametrize(
    ("inches", "inch_words", "metric_words"),
    [
        (0.0, "0 in", "0 cm"),
        (0.25, "1/4 in", "0.65 cm"),
        (2.875, "2 7/8 in", "7.3 cm"),
        (8.0, "8 in", "20.3 cm"),
        (1 / 32, "1/32 in", "0.8 mm"),
        (0.031, "1/32 in", "0.8 mm"),
        (10 / 3, "about 3 5/16 in", "8.45 cm"),
        (0.01, "under 1/32 in", "0.3 mm"),
        (0.001, "under 1/32 in", "under 0.1 mm"),
        (-0.5, "-1/2 in", "-1.25 cm"),
        (0.75 / 2.54, "about 5/16 in", "0.75 cm"),
    ],
)
def test_a_length_is_said_as_quilters_say_it(inches: float, inch_words: str, metric_words: str) -> None:
    assert say_length(inches) == inch_words
    assert say_length(inches, Units.METRIC) == metric_words


def test_fractions_can_be_real_glyphs() -> None:
    assert say_length(2.875, glyphs=True) == "2⅞ in"
    assert say_length(0.5, glyphs=True) == "½ in"
    assert say_length(5 / 16, glyphs=True) == "5/16 in"  # no such glyph in Unicode


@pytest.mark.parametrize(
    ("size", "words"),
    [
        ((8, 12), "8 x 12 in"),
        ((8.5, 11), "8 1/2 x 11 in"),
        ((8, 6.9282), "8 x about 6 15/16 in"),
        ((6.9282, 7.3), "about 6 15/16 x 7 5/16 in"),
    ],
)
def test_a_size_is_said_with_one_unit(size: tuple[float, float], words: str) -> None:
    assert say_size(*size) == words


# Whole thirty-seconds are floats without error, so == is a fair test.
@given(st.integers(0, 64 * 32))
@settings(derandomize=True, deadline=None)
def test_what_is_said_in_fractions_reads_back_to_the_same_length(thirty_seconds: int) -> None:
    inches = thirty_seconds / 32
    for glyphs in (False, True):
        assert parse_length(say_length(inches, glyphs=glyphs)) == inches


@given(st.floats(0.0, 60.0))
@settings(derandomize=True, deadline=None)
@example(59.99)
def test_what_is_said_is_never_further_off_than_it_claims(inches: float) -> None:
    said = say_length(inches)
    if said.startswith("under "):
        assert inches < parse_length(said.removeprefix("under "))
    else:
        limit = 1 / 32 if said.startswith("about ") else 0.002
        assert abs(parse_length(said.removeprefix("about ")) - inches) <= limit + 1e-12


@given(st.text(max_size=30))
@settings(derandomize=True, deadline=None, max_examples=400)
def test_any_text_is_a_finite_length_or_an_option_error(text: str) -> None:
    try:
        assert math.isfinite(parse_length(text))
    except OptionError as error:
        assert error.faults[0].mend


def test_thirds_are_as_near_as_floats_go() -> None:
    amount = scan_amount("2 1/3")
    assert amount is not None and amount.value == Fraction(7, 3)
    assert parse_length("2 1/3") == 7 / 3


def test_options_read_the_same_words_everywhere() -> None:
    pairs = [("tolerance", "1/8 in"), ("units", "Metric"), ("size", "20cm"), ("stretch", "yes"), ("steps", "1,000")]
    pairs += [("fit", "none"), ("max-patches", "12"), ("priority", "Repeats"), ("set-in", "yes"), ("start", "A3")]
    assert with_options(PlanOptions(), pairs) == PlanOptions(
        size=Size(20 / 2.54),
        stretch=True,
        tolerance_in=0.125,
        units=Units.METRIC,
        steps=1000,
        fit=Fit.NONE,
        max_patches=12,
        priority=Priority.REPEATS,
        set_in=True,
        start="A3",
    )


@pytest.mark.parametrize(
    ("name", "text", "words"),
    [
        ("tolerence", "1/8 in", "Perhaps 'tolerance' is meant"),
        ("frill", "red", "Use one of: size"),
        ("tolerance", "3 in", "out of range"),
        ("tolerance", "-1 mm", "out of range"),
        ("allowance", "wide", "option allowance: 'wide' is no length"),
        ("units", "furlongs", "inch, metric"),
        ("stretch", "maybe", "yes, no"),
        ("steps", "0", "whole number"),
        ("steps", "1.5", "whole number"),
        ("seconds", "nan", "above 0"),
        ("seconds", "-1", "above 0"),
        ("size", "80in", "1 to 60 in"),
    ],
)
def test_an_option_that_cannot_be_used_is_told_by_name(name: str, text: str, words: str) -> None:
    with pytest.raises(OptionError, match=words):
        read_option(name, text)


def test_every_option_sets_a_field_that_exists() -> None:
    assert {field for field, _ in OPTIONS.values()} == set(PlanOptions.__dataclass_fields__)
