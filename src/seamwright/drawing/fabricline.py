"""A fabric line: `fabric sky colour #a9c9dc value light cool code S stripes 45 width 42 in`.

Knows:  the parts of such a line; blocks, quilts and palettes share it, and words in a patch of an SVG drawing,
        which say the same without the keyword and with a comma behind the name: `sky, stripes 45`.
Leaves: which fabrics there are already.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from seamwright.drawing.faults import LineFault
from seamwright.drawing.tokens import Reading
from seamwright.errors import Fault
from seamwright.fabric.model import Fabric, Value

LONGEST_NAME = 120


def read_fabric(reading: Reading) -> Fabric:
    """A fabric line after its keyword; the form is shared with palettes.

    Raises:
        LineFault: a part is not known, stands twice or has no such value.
    """
    at = reading.peek()
    name = reading.name("name of the fabric", "fabric sky colour #a9c9dc value light")
    if at is not None and len(name) > LONGEST_NAME:
        raise reading.fault_at(
            at.start, "name", f"the name is {len(name)} characters long", f"Use at most {LONGEST_NAME}"
        )
    return Fabric(name, **_parts(reading))


def fabric_in_words(text: str) -> tuple[Fabric, Fault | None]:
    """The fabric that words in a patch name, and what cannot be read of the rest; then all of it is the name.

    >>> [fabric_in_words(text)[0].name for text in ("storm blue, stripes 45", "sky, wet", "sky, stripes 45, wet")]
    ['storm blue', 'sky, wet', 'sky, stripes 45, wet']
    """
    name, _, rest = text.partition(",")
    name = name.strip()
    if not name or not rest.strip():
        return Fabric(text), None
    try:
        # Commas between the parts are as good as spaces.
        return Fabric(name, **_parts(Reading(rest.replace(",", " "), 1))), None
    except LineFault as found:
        # A name may hold a comma: only what begins like a fabric line was meant to be one.
        meant = rest.split()[0].lower() in _FABRIC_PARTS
        return Fabric(text), found.fault if meant else None


def _parts(reading: Reading) -> dict[str, Any]:
    """All that is said behind the name, by the field of a fabric that it sets."""
    said: dict[str, Any] = {}
    while not reading.done():
        token = reading.peek()
        assert token is not None
        part = reading.keyword(_FABRIC_PARTS, "part of a fabric line")
        attribute, read = _FABRIC_PARTS[part]
        if attribute in said:
            raise reading.fault_at(token.start, "twice", f"'{part}' says this a second time", "Keep one of the two")
        said[attribute] = read(reading, part)
        if part == "stripes":
            said["striped"] = True
    return said


def _read_colour(reading: Reading, _: str) -> str:
    token = reading.peek()
    if token is not None and token.kind == "colour":
        reading.skip_any()
        figures = token.text[1:].lower()
        return "#" + (figures if len(figures) == 6 else "".join(2 * c for c in figures))
    if token is not None and token.kind == "word":
        # The colour words of the web, W3C CSS Color Module Level 3, section 4.3; read late: few files use them.
        from tinycss2.color3 import parse_color

        colour = parse_color(token.text)
        if colour is not None and not isinstance(colour, str) and colour.alpha == 1:
            reading.skip_any()
            return "#" + "".join(f"{round(255 * part):02x}" for part in colour[:3])
    raise reading.fault(
        "colour", "a colour should stand here", "Write it as #a9c9dc, or as a colour word such as navy"
    )


def _read_value(reading: Reading, _: str) -> Value:
    return Value(reading.keyword([v.value for v in Value], "value"))


def _read_angle(reading: Reading, _: str) -> float:
    amount = reading.amount("an angle in degrees", "stripes 45")
    reading.skip("degrees", "°")
    if amount.unit or not -360 <= amount.value <= 360:
        raise reading.fault(
            "number", "the angle is out of range", "Give degrees clockwise from straight across, 0 to 180"
        )
    return float(amount.value)


def _read_width(reading: Reading, _: str) -> float:
    token = reading.peek()
    inches = reading.amount("the width of the fabric", "width 42 in").inches()
    if not 1 <= inches <= 200:
        assert token is not None
        raise reading.fault_at(
            token.start, "number", f"a fabric is not {inches:g} in wide", "Give 1 in to 200 in, or cm"
        )
    return inches


_FABRIC_PARTS: dict[str, tuple[str, Callable[[Reading, str], Any]]] = {
    "colour": ("colour", _read_colour),
    "color": ("colour", _read_colour),
    "value": ("value", _read_value),
    "warm": ("warmth", lambda _, word: word),
    "cool": ("warmth", lambda _, word: word),
    "code": ("code", lambda reading, _: reading.name("code", "code S")),
    "stripes": ("direction_deg", _read_angle),
    "direction": ("direction_deg", _read_angle),
    "width": ("width_in", _read_width),
}
