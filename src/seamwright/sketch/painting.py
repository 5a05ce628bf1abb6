"""A patch painted in a block's text form: the points that lay fabrics.

Knows:  how points come and go in the lines that hold them.
Leaves: fabrics themselves (fabrics), which patches there are (whoever asks gives the patch's corners).
Units:  inches of the drawing come in; points are written as the text counts them.
Method: a patch is of the fabric that the first point in it names, so every other point in the patch goes. Of a line
        that serves several patches one point goes, and the rest of it stays as written.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import TYPE_CHECKING

from seamwright.drawing.facts import Facts
from seamwright.drawing.measured import Measured
from seamwright.drawing.textwrite import digits, neat, quoted
from seamwright.drawing.tokens import Place, Reading
from seamwright.errors import OptionError, SeamwrightError, fail
from seamwright.geometry import Ring
from seamwright.sketch.edits import Paint
from seamwright.sketch.written import LONGEST_IN_LINE, Span, Written
from seamwright.units import quoted as shown

if TYPE_CHECKING:
    from shapely.geometry import Polygon


def painted(text: str, facts: Facts, measured: Measured, edit: Paint) -> str:
    """The text with a patch of a fabric, or of none.

    Args:
        facts, measured: what the text states.

    Raises:
        OptionError: there is no such fabric, or what is given is no patch.
    """
    from shapely.geometry import Point

    if edit.fabric and edit.fabric not in facts.fabrics:
        raise no_fabric(edit.fabric)
    area = _area(edit)
    laid = [(fabric, place) for fabric, place, _ in facts.laid]
    inside = [(fabric, place) for fabric, place in laid if area.contains(Point(measured.point(place)))]
    kept = next((place for fabric, place in inside if fabric == edit.fabric), None)
    gone = [place for _, place in inside if place is not kept]
    written = Written(text)
    unlay(written, facts, gone)
    if edit.fabric and kept is None:
        from seamwright.ink.place import roomiest

        across, down = map(float, measured.square)
        ring, *holes = (tuple((x / across, y / down) for x, y in line) for line in (edit.ring, *edit.holes))
        x, y = neat(*roomiest(ring, holes))
        left = [(fabric, place) for fabric, place in laid if place not in gone]
        lay(written, facts, left, edit.fabric, f"{digits(x)}, {digits(y)}")
    return written.text()


def unlay(written: Written, facts: Facts, gone: Sequence[Place]) -> None:
    """Takes points out of the lines that lay fabrics; a line without any goes."""
    for number in dict.fromkeys(place.line for place in gone):
        here = [place for _, place, _ in facts.laid if place.line == number]
        spans = [_span(written.line(number), place) for place in here]
        written.keep(number, spans, [span for span, place in zip(spans, here, strict=True) if place not in gone])


def no_fabric(name: str) -> SeamwrightError:
    """The refusal of a fabric that the text does not state."""
    return fail(OptionError, "fabric", f"there is no fabric called {shown(name)}", "Add it first, or take another")


def _area(edit: Paint) -> Polygon:
    """The patch, if it is one."""
    from shapely.geometry import Polygon

    rings: tuple[Ring, ...] = (edit.ring, *edit.holes)
    if all(len(ring) >= 3 for ring in rings) and all(math.isfinite(c) for ring in rings for p in ring for c in p):
        area = Polygon(edit.ring, edit.holes)
        if area.is_valid and area.area > 0:
            return area
    mend = "Give the corners of one, going round it once"
    raise fail(OptionError, "option", "what is to be painted is no patch", mend)


def _span(line: str, place: Place) -> Span:
    """Where a point stands in its line, brackets included."""
    start, end = place.column - 1, place.y.end
    return (start, line.index(")", end) + 1) if line[start] == "(" else (start, end)


def lay(written: Written, facts: Facts, left: Sequence[tuple[str, Place]], fabric: str, figures: str) -> None:
    """One more point: in the last line that lays this fabric if there is room, else in a line of its own.

    Args:
        left: fabrics and points that are still laid.
    """
    new = f"lay {quoted(fabric)} at {figures}"
    number = max((place.line for name, place in left if name == fabric), default=None)
    if number is not None:
        end = Reading(written.line(number), number).end
        if end + len(figures) + len(" and ") <= LONGEST_IN_LINE:
            written.put(number, end, end, f" and {figures}")
        else:
            written.add(number, new)
        return
    if left:
        written.add(max(place.line for _, place in left), new)
        return
    after = last_fabric(facts)
    written.add(after, "")
    written.add(after, new)


def last_fabric(facts: Facts) -> int:
    """Number of the last line that states a fabric; there is one."""
    return max(line for what, line in facts.first_said.items() if what.startswith("fabric "))
