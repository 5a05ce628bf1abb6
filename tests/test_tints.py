"""Tints are told apart in grey and by colour-blind eyes, and words on them can be read."""

from dataclasses import replace
from itertools import combinations

import pytest

from seamwright.fabric.model import Fabric
from seamwright.picture.tints import CHALK, CHANGE, INK, QUIET, SIGNAL, TINTS, colours_of

# G. M. Machado, M. M. Oliveira, L. A. F. Fernandes, "A Physiologically-based Model for Simulation of Color
# Vision Deficiency", IEEE TVCG 15(6), 2009, table for severity 1.0 (values from memory, rows sum to 1).
DEFICIENCIES = {
    "none": ((1, 0, 0), (0, 1, 0), (0, 0, 1)),
    "protan": (
        (0.152286, 1.052583, -0.204868),
        (0.114503, 0.786281, 0.099216),
        (-0.003882, -0.048116, 1.051998),
    ),
    "deutan": (
        (0.367322, 0.860646, -0.227968),
        (0.280085, 0.672501, 0.047413),
        (-0.011820, 0.042940, 0.968881),
    ),
    "tritan": (
        (1.255528, -0.076749, -0.178779),
        (-0.078411, 0.930809, 0.147602),
        (0.004733, 0.691367, 0.303900),
    ),
}


def linear(colour: str) -> tuple[float, ...]:
    """Linear light of an sRGB colour: IEC 61966-2-1."""
    parts = [int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5)]
    return tuple(c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in parts)


def luminance(colour: str) -> float:
    """WCAG 2 relative luminance."""
    return sum(w * c for w, c in zip((0.2126, 0.7152, 0.0722), linear(colour), strict=True))


def contrast(a: str, b: str) -> float:
    """WCAG 2 contrast ratio."""
    light, dark = sorted((luminance(a), luminance(b)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


def lightness(y: float) -> float:
    """CIE 1976 L* of relative luminance (CIE 15:2004)."""
    return 116 * y ** (1 / 3) - 16 if y > 216 / 24389 else y * 24389 / 27


def seen(colour: str, kind: str) -> tuple[float, float, float]:
    """(L*, a*, b*) as seen with a deficiency; XYZ by the sRGB matrix, D65 white (IEC 61966-2-1, CIE 15:2004)."""
    rgb = [max(0.0, sum(m * c for m, c in zip(row, linear(colour), strict=True))) for row in DEFICIENCIES[kind]]
    matrix = ((0.4124, 0.3576, 0.1805), (0.2126, 0.7152, 0.0722), (0.0193, 0.1192, 0.9505))
    x, y, z = (sum(m * c for m, c in zip(row, rgb, strict=True)) for row in matrix)
    fx, fy, fz = ((lightness(v / w) + 16) / 116 for v, w in ((x, 0.9505), (y, 1.0), (z, 1.089)))
    return (116 * fy - 16, 500 * (fx - fy), 200 * (fy - fz))


def test_wcag_gives_its_own_values():
    # WCAG 2.2, definition of contrast ratio: black on white is 21:1.
    assert contrast("#000000", "#ffffff") == pytest.approx(21)


@pytest.mark.parametrize("pair", list(combinations(TINTS, 2)), ids=" ".join)
def test_two_tints_differ_in_grey(pair: tuple[str, str]):
    assert abs(lightness(luminance(pair[0])) - lightness(luminance(pair[1]))) >= 3


@pytest.mark.parametrize("kind", DEFICIENCIES)
@pytest.mark.parametrize("pair", list(combinations(TINTS, 2)), ids=" ".join)
def test_two_tints_differ_for_colour_blind_eyes(pair: tuple[str, str], kind: str):
    # A CIELAB distance near 10 is several just noticeable differences (common practice: about 2.3 is one).
    a, b = (seen(c, kind) for c in pair)
    assert sum((u - v) ** 2 for u, v in zip(a, b, strict=True)) ** 0.5 >= 9.5


def test_a_colour_given_to_one_fabric_leaves_the_tints_of_the_others():
    bare = [Fabric(f"cloth {k}") for k in range(6)]
    before = colours_of(bare)
    assert len(set(before.values())) == 6
    for k, one in enumerate(bare):
        after = colours_of([*bare[:k], replace(one, colour="#123456"), *bare[k + 1 :]])
        assert after == before | {one.name: "#123456"}
    # A seventh takes a tint that is free, and where none is begins again.
    assert colours_of([replace(bare[0], colour="#123456"), *bare[1:], Fabric("one more")])["one more"] == TINTS[0]
    assert colours_of([*bare, Fabric("one more")])["one more"] == TINTS[0]


@pytest.mark.parametrize("ground", [CHALK, *TINTS])
def test_words_on_every_ground_reach_the_contrast_of_text(ground: str):
    assert contrast(INK, ground) >= 4.5


def test_quiet_words_and_the_signal_reach_the_contrast_of_text_on_chalk():
    assert contrast(QUIET, CHALK) >= 4.5
    assert contrast(SIGNAL, CHALK) >= 4.5


@pytest.mark.parametrize("kind", DEFICIENCIES)
def test_what_a_mend_draws_anew_is_told_from_ink_and_from_the_signal(kind: str):
    assert contrast(CHANGE, CHALK) >= 4.5
    for other in (INK, SIGNAL):
        a, b = seen(CHANGE, kind), seen(other, kind)
        assert sum((u - v) ** 2 for u, v in zip(a, b, strict=True)) ** 0.5 >= 20
