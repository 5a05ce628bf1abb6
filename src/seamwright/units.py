"""Lengths as quilters write and read them.

Knows:  "8 1/2 in", 2 7/8", "20 cm" as inches; inches as "2 7/8 in" or "7.3 cm"; sizes such as "8x12in";
        places as "(2 1/2, 3)"; several things in one breath.
Leaves: what a length is for, and whether it is sensible there (only sizes of blocks have bounds here).
Units:  inside everything is inches. An inch is 25.4 mm exactly (NIST SP 811, appendix B), a point 1/72 in
        (ISO 32000-1, 8.3.2.3), a pixel 1/96 in and a pica 12 points (W3C CSS Values and Units Level 3).
Method: numbers are read as exact fractions and become floats once, at the end: 1/3 of 8 in is as near as floats go.
Limits: a decimal point, never a comma; no feet-and-inches.
"""

from __future__ import annotations

import math
import re
import unicodedata
from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from seamwright.errors import OptionError, SeamwrightError, fail
from seamwright.options import Size, Units

_MM = Fraction(10, 254)
UNIT_IN: dict[str, Fraction] = {
    "in": Fraction(1),
    "mm": _MM,
    "cm": 10 * _MM,
    "m": 1000 * _MM,
    "ft": Fraction(12),
    "yd": Fraction(36),
    "pt": Fraction(1, 72),
    "pc": Fraction(1, 6),
    "px": Fraction(1, 96),
}
"""Size in inches of each unit, exact."""

SMALLEST_BLOCK_IN, LARGEST_BLOCK_IN = 1.0, 60.0
"""Finished sizes outside these are taken for slips of the pen or of the unit."""

LONGEST_NUMBER = 60
"""Characters. A float needs at most 24; anything far longer is no measure."""

_SPELLINGS = {
    '"': "in", "″": "in", "”": "in", "''": "in", "inch": "in", "inches": "in", "cms": "cm", "mms": "mm",
    "yard": "yd", "yards": "yd", "foot": "ft", "feet": "ft",
}  # fmt: skip
_GLYPHS = "¼½¾⅐⅑⅒⅓⅔⅕⅖⅗⅘⅙⅚⅛⅜⅝⅞"
_UNIT = "|".join(sorted([*UNIT_IN, *_SPELLINGS], key=len, reverse=True))
_AMOUNT = re.compile(
    rf"""(?P<sign>[-+−]?)
    (?: (?P<whole>\d++) (?:[ \t\u00a0\u2009\u202f]++|-) (?P<top>\d++) [/⁄] (?P<bottom>\d++)   # 8 1/2, 8-1/2
      | (?P<top1>\d++) [/⁄] (?P<bottom1>\d++)                        # 7/8
      | (?P<whole2>\d*+) [ \t\u00a0\u2009\u202f]*+ (?P<glyph>[{_GLYPHS}])         # 8½, 8 ½, ½
      | (?P<decimal>(?:\d++\.?+\d*+|\.\d++)(?:[eE][-+]?\d{{1,3}})?)    # 8, 8.5, .5, 1e-17
    )(?![\d.])""",
    re.VERBOSE,
)
_UNIT_AFTER = re.compile(
    rf"[ \t\u00a0\u2009\u202f]*(?P<unit>{_UNIT})(?:(?<![A-Za-z])|(?![A-Za-z])|(?=x[ \t]*[\d.{_GLYPHS}]))",
    re.IGNORECASE,
)
"""A word for a unit ends where its letters end, or at the x of 20cmx30cm."""


@dataclass(frozen=True, slots=True)
class Amount:
    """A number as written, with its unit if it has one.

    Attributes:
        value: the number, exact.
        unit: a key of UNIT_IN, or "" for none written.
        end: index in the text just behind it.
    """

    value: Fraction
    unit: str
    end: int

    def exact(self, default_unit: str) -> Fraction:
        """The amount in inches; a bare number counts pieces of that unit."""
        return self.value * UNIT_IN[self.unit or default_unit]

    def inches(self, default_in: Fraction = UNIT_IN["in"]) -> float:
        """The amount in inches, without a unit counted in pieces of `default_in`; infinite if beyond floats."""
        try:
            return float(self.value * (UNIT_IN[self.unit] if self.unit else default_in))
        except OverflowError:
            return math.inf if self.value > 0 else -math.inf


def scan_amount(text: str, start: int = 0) -> Amount | None:
    """The number (and unit) that begins at `start`, or None if none begins there.

    >>> scan_amount('8 1/2", 3')
    Amount(value=Fraction(17, 2), unit='in', end=6)
    """
    found = _AMOUNT.match(text, start)
    if found is None or found.end() - start > LONGEST_NUMBER:
        return None
    bottom = found["bottom"] or found["bottom1"]
    if bottom is not None and int(bottom) == 0:
        return None
    if found["glyph"]:
        # NFKD parts a fraction glyph into figures: 7⁄8.
        top, _, under = unicodedata.normalize("NFKD", found["glyph"]).partition("⁄")
        value = int(found["whole2"] or 0) + Fraction(int(top), int(under))
    elif found["decimal"]:
        value = Fraction(found["decimal"])
    else:
        value = int(found["whole"] or 0) + Fraction(int(found["top"] or found["top1"]), int(bottom))
    if found["sign"] in ("-", "−"):
        value = -value
    after = _UNIT_AFTER.match(text, found.end())
    if after is None:
        return Amount(value, "", found.end())
    unit = after["unit"].lower()
    return Amount(value, _SPELLINGS.get(unit, unit), after.end())


def parse_length(text: str, default_unit: str = "in") -> float:
    """Inches in a length as people write it: `8in`, `8 1/2 in`, `2 7/8"`, `8½`, `20 cm`, `203.2mm`.

    Args:
        default_unit: unit of a bare number, a key of UNIT_IN.

    Raises:
        OptionError: it is no length, in words that say what is and how to mend it.

    >>> parse_length("8 1/2 in"), parse_length("20.32 cm")
    (8.5, 8.0)
    """
    body = text.strip()
    amount = scan_amount(body)
    if amount is None or amount.end != len(body):
        raise _no_length(body, amount)
    return _floated(amount.exact(default_unit))


def parse_size(text: str, default_unit: str = "in") -> Size:
    """A finished size: `8in` is the width, `8x12in`, `8 1/2 x 11 in`, `20cm x 30cm` width and height.

    Raises:
        OptionError: it is no size, or a side is under 1 in or over 60 in.
    """
    width, height = (None if side is None else _floated(side) for side in parse_sides(text, default_unit))
    assert width is not None
    body = text.strip()
    return Size(_block_side(width, body), None if height is None else _block_side(height, body))


def parse_sides(text: str, default_unit: str = "in") -> tuple[Fraction, Fraction | None]:
    """Exact inches of one length, or of two with an x between: `8in`, `8x12in`, `20cm x 30cm`; of any size.

    Raises:
        OptionError: it is neither.
    """
    body = text.strip()
    first = scan_amount(body)
    if first is None:
        raise _no_length(body, None)
    cross = re.compile(r"\s*(?:[x×*]|by\b)\s*", re.IGNORECASE).match(body, first.end)
    if cross is None:
        if first.end != len(body):
            raise _no_length(body, first)
        return first.exact(default_unit), None
    second = scan_amount(body, cross.end())
    if second is None or second.end != len(body):
        rest = None if second is None else replace(second, end=second.end - cross.end())
        raise _no_length(body[cross.end() :], rest)
    # "8x12in": one unit written at the end holds for both.
    return first.exact(second.unit or default_unit), second.exact(first.unit or default_unit)


def say_length(inches: float, units: Units = Units.INCH, *, finest: int = 16, glyphs: bool = False) -> str:
    """A length as a quilter writes it.

    Args:
        inches: the length.
        units: INCH: fractions down to 1/32 where they hold to 0.002 in, else "about" the nearest 1/`finest`.
            METRIC: cm to the half millimetre a ruler shows; under 1 mm in mm.
        finest: a power of two, denominator of "about" lengths.
        glyphs: write ½ ¼ ⅞ where the type has such a glyph.

    >>> say_length(2.875), say_length(2.875, Units.METRIC), say_length(10 / 3)
    ('2 7/8 in', '7.3 cm', 'about 3 5/16 in')
    """
    if inches < 0:
        return "-" + say_length(-inches, units, finest=finest, glyphs=glyphs)
    if units is Units.METRIC:
        return _say_metric(inches * 2.54)
    thirty_seconds = round(inches * 32)
    if abs(inches - thirty_seconds / 32) <= 0.002 and (thirty_seconds or inches < 1e-9):
        return f"{say_fraction(Fraction(thirty_seconds, 32), glyphs=glyphs)} in"
    nearest = Fraction(round(inches * finest), finest)
    if not nearest:
        return f"under {say_fraction(Fraction(1, finest if inches > 1 / 32 else 32), glyphs=glyphs)} in"
    return f"about {say_fraction(nearest, glyphs=glyphs)} in"


def say_size(
    width_in: float, height_in: float, units: Units = Units.INCH, *, finest: int = 16, glyphs: bool = False
) -> str:
    """Width and height with one unit word: "8 x 12 in"; other arguments as of `say_length`."""
    width, height = (say_length(side, units, finest=finest, glyphs=glyphs) for side in (width_in, height_in))
    stem, _, unit = width.rpartition(" ")
    # Two "about" in a row read badly; a unit that differs (cm, mm) stays with its number.
    same = height.endswith(" " + unit)
    height = height.removeprefix("about ") if width.startswith("about ") else height
    return f"{stem} x {height}" if same else f"{width} x {height}"


def say_bought(inches: float, units: Units = Units.INCH, *, glyphs: bool = False) -> str:
    """A length of fabric as shops sell it, rounded up: eighths of a yard, or tens of centimetres.

    >>> say_bought(40.5), say_bought(30, Units.METRIC), say_bought(45, Units.METRIC)
    ('1 1/8 yd', '80 cm', '1.2 m')
    """
    if units is Units.METRIC:
        tens = math.ceil(inches * 2.54 / 10 - 1e-6)
        return f"{10 * tens} cm" if tens < 10 else f"{tens / 10:g} m"
    return f"{say_fraction(Fraction(math.ceil(inches / 4.5 - 1e-6), 8), glyphs=glyphs)} yd"


def say_point(point: tuple[float, float], units: Units = Units.INCH) -> str:
    """A place as lengths across, then down, without their unit.

    >>> say_point((2.5, 3))
    '(2 1/2, 3)'
    """
    across, down = (say_length(c, units).removeprefix("about ").removesuffix(f" {units.sign}") for c in point)
    return f"({across}, {down})"


def say_list(words: Sequence[str], last: str = "and", *, most: int | None = None) -> str:
    """One or more things in one breath, `last` before the last of them; beyond `most` the first ones "and 7 more".

    >>> say_list(["a"]), say_list(["a", "b"]), say_list(["a", "b", "c"], "or")
    ('a', 'a and b', 'a, b or c')
    """
    if most is not None and len(words) > most:
        words = [*words[: most - 1], f"{len(words) - most + 1} more"]
    return words[0] if len(words) == 1 else f"{', '.join(words[:-1])} {last} {words[-1]}"


def say_once(words: Sequence[str]) -> list[str]:
    """Each thing once, those that come again as several: of many only the first few are in `words`.

    >>> say_once(["40 x 4 in", "5 x 3 in", "5 x 3 in"])
    ['40 x 4 in', 'several of 5 x 3 in']
    """
    return [f"several of {word}" if words.count(word) > 1 else word for word in dict.fromkeys(words)]


def say_count(number: int, word: str, several: str = "") -> str:
    """So many of something; `several` where its plural is no word with an s.

    >>> say_count(1, "strip"), say_count(12, "strip"), say_count(2, "patch")
    ('1 strip', '12 strips', '2 patches')
    """
    return f"{number} {word if number == 1 else several or word + ('es' if word.endswith(('ch', 'sh')) else 's')}"


def say_fraction(value: Fraction, *, glyphs: bool = False) -> str:
    """A number with its fraction in lowest terms: "2 7/8", or "2⅞" with glyphs."""
    whole, rest = divmod(value, 1)
    if not rest:
        return str(whole)
    part = f"{rest.numerator}/{rest.denominator}"
    if glyphs:
        glyph = next((g for g in _GLYPHS if unicodedata.normalize("NFKD", g) == part.replace("/", "⁄")), None)
        if glyph:
            return f"{whole or ''}{glyph}"
    return f"{whole} {part}" if whole else part


def with_glyphs(text: str) -> str:
    """Words with each fraction written as one sign, where the type has it.

    >>> with_glyphs("squares 3 7/8 in, sewn 1/4 in from the line, 1 5/16 in")
    'squares 3⅞ in, sewn ¼ in from the line, 1 5/16 in'
    """

    def said(found: re.Match[str]) -> str:
        whole, over, under = found.groups()
        # What is in no lowest terms is no length of ours.
        known = int(under) and math.gcd(int(over), int(under)) == 1
        return say_fraction(int(whole or 0) + Fraction(int(over), int(under)), glyphs=True) if known else found[0]

    return re.sub(r"\b(?:(\d+) )?(\d+)/(\d+)\b", said, text)


def _say_metric(cm: float) -> str:
    if cm < 1e-9:
        return "0 cm"
    if cm < 0.0975:
        tenths = round(cm * 100)
        return f"{tenths / 10:g} mm" if tenths else "under 0.1 mm"
    return f"{round(cm * 20) / 20:.2f}".rstrip("0").rstrip(".") + " cm"


def _floated(inches: Fraction) -> float:
    """Finite inches; an exponent of three figures may be too much for a float."""
    try:
        return float(inches)
    except OverflowError:
        what = "the length is larger than any cloth"
        raise fail(OptionError, "option", what, "Give a length such as 8 1/2 in") from None


def _block_side(inches: float, text: str) -> float:
    if not SMALLEST_BLOCK_IN <= inches <= LARGEST_BLOCK_IN:
        raise fail(
            OptionError,
            "option",
            f"{quoted(text)} is {inches:.6g} in; a block is {SMALLEST_BLOCK_IN:g} to {LARGEST_BLOCK_IN:g} in",
            "Check the number and its unit",
        )
    return inches


def _no_length(text: str, amount: Amount | None) -> SeamwrightError:
    what = f"{quoted(text)} is no length"
    if not text:
        what = "a length is missing"
    elif re.search(r"\d,\d", text):
        return fail(OptionError, "option", what, "Write a decimal point, not a comma: 20.5 cm")
    elif amount is not None and not amount.unit and text[amount.end :].strip().isalpha():
        unit = text[amount.end :].strip()
        return fail(OptionError, "option", f"{what}: the unit {quoted(unit)} is not known", "Use in, cm or mm")
    return fail(OptionError, "option", what, "Write it as 8 1/2 in, 8.5in, 20 cm or 203.2 mm")


def quoted(text: str) -> str:
    """The text in quotes, cut short if long, control characters made visible."""
    clean = text if text.isprintable() else text.encode("unicode_escape").decode("ascii")
    return f"'{clean[:40]}...'" if len(clean) > 40 else f"'{clean}'"
