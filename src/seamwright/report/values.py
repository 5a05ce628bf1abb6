"""What every report writes alike: numbers, places, notes, options, which plan it is.

Knows:  how far numbers are rounded, how options are written so that they read back.
Leaves: which facts a report holds (the other modules here).
Units:  those of the fields that they go into.
Method: numbers are rounded far below what a needle can follow (1e-9 in, 1e-6 pt), so that the last digits of a
        machine's arithmetic do not show.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from enum import Enum
from typing import Any

from seamwright.geometry import Point, canonical_ring
from seamwright.notes import Note
from seamwright.options import AnyOptions, Size
from seamwright.optiontext import ALL_OPTIONS
from seamwright.paper import Margins
from seamwright.piecing.model import Plan
from seamwright.units import parse_length

Json = dict[str, Any]


def note_object(note: Note) -> Json:
    """One note."""
    return {
        "code": note.code,
        "text": note.text,
        "count": note.count,
        "largest_in": None if note.largest_in is None else rounded(note.largest_in),
        "places_in": rounded_points(note.places_in),
    }


def plan_object(plan: Plan) -> Json:
    """Which plan it is: its id, and its options as far as they are not the defaults."""
    return {"id": plan.id, "options": options_as_text(plan.options)}


def rounded(value: float, digits: int = 9) -> float:
    """A number for programs, without the noise of arithmetic."""
    return round(float(value), digits) + 0.0  # + 0.0: no minus zero


def rounded_point(point: Point, digits: int = 9) -> list[float]:
    """A place for programs."""
    return [rounded(point[0], digits), rounded(point[1], digits)]


def rounded_points(points: Iterable[Point], digits: int = 9) -> list[list[float]]:
    """Places for programs."""
    return [rounded_point(point, digits) for point in points]


def ring(points: Sequence[Point], digits: int = 9) -> list[list[float]]:
    """Places round something, from the topmost then leftmost corner."""
    return rounded_points(canonical_ring(points), digits)


def options_as_text(options: AnyOptions) -> dict[str, str]:
    """The options that are not at their default, by long name, as the command line takes them.

    >>> from seamwright.options import PlanOptions, Units
    >>> options_as_text(PlanOptions(size=Size(8.0, 12.0), tolerance_in=0.125, units=Units.METRIC))
    {'size': '8x12in', 'tolerance': '0.125in', 'units': 'metric'}
    """

    def text(name: str, value: object) -> str:
        if isinstance(value, Size):
            return _lengths("x", value.width_in, *([] if value.height_in is None else [value.height_in]))
        if isinstance(value, Enum):
            return str(value.value)
        if isinstance(value, Margins):
            sides = (value.top, value.right, value.bottom, value.left)
            return ",".join(_lengths("", side) for side in sides)
        if isinstance(value, bool):
            return "yes" if value else "no"
        if isinstance(value, float):
            return _lengths("", value) if name.endswith("_in") else _shortest(value)
        return str(value)

    names = {field: name for name, (field, _) in ALL_OPTIONS.items()}
    return {names[field]: text(field, value) for field, value in options.changed().items()}


def _lengths(between: str, *inches: float) -> str:
    """Lengths in inches, or in centimetres where those are shorter, as 1cm is; they read back the same."""
    metric = [f"{length * 2.54:.9g}" for length in inches]
    same = all(parse_length(f"{text}cm") == length for text, length in zip(metric, inches, strict=True))
    told = [between.join(_shortest(length) for length in inches) + "in"]
    return min(told + [between.join(metric) + "cm"] * same, key=len)


def _shortest(value: float) -> str:
    return repr(int(value)) if value == int(value) else repr(float(value))
