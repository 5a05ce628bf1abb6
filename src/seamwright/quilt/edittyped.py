"""What was typed into a field about a quilt, as its file may hold it, or the refusal of it.

Knows:  one line of words, names, fabrics, lengths and sizes with their unit.
Leaves: which line they go into (edit), the grammar (form).
Units:  as typed; without a unit inches, in a metric quilt centimetres.
Limits: every function raises OptionError, in words, for what cannot be used.
"""

from __future__ import annotations

from seamwright.errors import OptionError, SeamwrightError, fail
from seamwright.fabric.model import folded
from seamwright.quilt.formkept import Lines
from seamwright.quilt.formwrite import cloth_words
from seamwright.units import parse_sides, scan_amount

_LONGEST = 200


def one_line(words: str) -> str:
    """Words as they fit into a line."""
    told = " ".join(words.split())
    if not told or len(told) > _LONGEST or not told.isprintable():
        raise refused("this is no line of words", f"Use up to {_LONGEST} letters, figures and signs")
    return told


def name_of(name: str) -> str:
    """A name; there must be one."""
    if not name.strip():
        raise refused("the name is missing", "Give it one")
    return one_line(name)


def cloth_of(name: str, needed: str = "") -> str:
    """A fabric's name as the file writes it; "" for none where none is needed."""
    if name.strip():
        return cloth_words(one_line(name))
    if needed:
        raise refused(f"{needed} is of a fabric", "Name the fabric")
    return ""


def known_block(lines: Lines, name: str) -> str:
    """A block of the quilt by its name, as the file spells it."""
    source = lines.stated.sources.get(folded(" ".join(name.split())))
    if source is None:
        raise refused(f"no block of the quilt is called '{name[:60]}'", "Take it into the quilt first")
    return source.name


def _unit(lines: Lines) -> str:
    """What a bare number counts: the trade of metric countries writes centimetres."""
    return "cm" if lines.stated.options.get("units", "").strip().lower() == "metric" else "in"


def width_of(lines: Lines, text: str) -> str:
    """A length as typed, with its unit.

    Raises:
        OptionError: it is none.
    """
    words = one_line(text)
    amount = scan_amount(words)
    if amount is None or amount.end != len(words):
        raise refused(f"'{words}' is no length", "Write it as 2 1/2 in, or 6 cm")
    return words if amount.unit else f"{words} {_unit(lines)}"


def size_of(lines: Lines, text: str) -> str:
    """A finished size as typed, with its unit."""
    words = one_line(text)
    unit = _unit(lines)
    parse_sides(words, unit)
    return words if any(c.isalpha() and c not in "xX" for c in words) or '"' in words else f"{words} {unit}"


def wanted_size(lines: Lines, text: str) -> str:
    """A size to come near to: a bed's name, or as typed."""
    from seamwright.quilt.beds import SIZES

    words = one_line(text)
    return words.lower() if words.lower() in SIZES else size_of(lines, words)


def refused(what: str, mend: str) -> SeamwrightError:
    """The refusal of an edit."""
    return fail(OptionError, "quilt", what, mend)
