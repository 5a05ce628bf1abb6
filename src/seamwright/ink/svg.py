"""Ink as an SVG picture or page at true physical size.

Knows:  pens, areas, words as outlines, the physical size of the page.
Leaves: what is drawn and where (foundation, sheet, picture), PDF and PNG (sheet.pdf, ink.png).
Units:  coordinates in `unit`; pens and type in points, brought into `unit` here and nowhere else.
Method: width, height and viewBox are written by one function in one unit, so that a unit of the drawing is a
        unit of the paper whatever reads it. Strokes of one pen become one path as long as nothing is covered.
Limits: words show in the bundled type only; the type's outlines cannot be selected as text in the SVG.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterable, Iterator, Sequence
from itertools import chain, groupby, pairwise
from typing import Any

import svgwrite

from seamwright.geometry import Affine, Point
from seamwright.ink.lettering import anchor_shift_pt, path_data
from seamwright.ink.model import Anchor, Area, Ink, Pen, Repeated, Segments, Stroke, Words

PT_PER_UNIT = {"in": 72.0, "pt": 1.0}
"""ISO 32000-1, 8.3.2.3: a point is 1/72 in."""
CORNER_RAD = math.radians(15)
"""A dashed ring that turns by less at a point runs on through it as a curve does."""
Line = tuple[Sequence[Point], bool]
"""Points, and whether the last is joined to the first."""
_IDLE_ZEROS = re.compile(r"0+(?=[LMZ,])")
"""Behind the point, and only there: every number is written with its digits after the point."""
_MINUS_ZERO = re.compile(r"-0(?![\d.])")
DIGITS = {"in": 6, "pt": 4}
"""Digits after the point: rounds by less than 0.00002 mm, well inside cairo's own grid of 1/256 pt."""


def to_svg(
    inks: Iterable[Ink],
    width: float,
    height: float,
    unit: str = "in",
    *,
    title: str = "",
    description: str = "",
    background: str | None = None,
    repeated: Sequence[Repeated] = (),
) -> str:
    """An SVG document of physical size `width` x `height`, origin top left, y down.

    Args:
        inks: drawn in order, later over earlier; coordinates in `unit`.
        width, height: size of the page, in `unit`.
        unit: "in" or "pt".
        title, description: plain words for readers that show or search them.
        background: colour under everything; None leaves the page clear.
        repeated: drawn in order before `inks`, each written once and used wherever it lies.

    Raises:
        ValueError: a size or coordinate is not finite, or the unit is unknown.
    """
    form, page = _page(width, height, unit, title, description)
    if background is not None:
        page.add(page.rect((0, 0), (form.number(width), form.number(height)), fill=background))
    for number, one in enumerate(repeated, start=1):
        _draw_repeated(page, form, one, f"r{number}")
    _draw(page, page, form, inks)
    return _document(page)


def to_layered_svg(
    layers: Iterable[tuple[str, Iterable[Ink]]],
    width: float,
    height: float,
    unit: str = "in",
    *,
    title: str = "",
    description: str = "",
) -> str:
    """An SVG document whose ink lies in named layers, as vector editors show them; else as `to_svg`.

    Closed lines stay one closed path each, dashed or not, so that a machine follows them in one go.

    Args:
        layers: (name, ink), the lowest first.
    """
    from svgwrite.extensions import Inkscape  # the one way to name layers that editors have in common

    form, page = _page(width, height, unit, title, description)
    form.whole = True
    editor = Inkscape(page)
    for name, inks in layers:
        layer = page.add(editor.layer(label=name, id=name))
        _draw(page, layer, form, inks)
    return _document(page)


def _page(width: float, height: float, unit: str, title: str, description: str) -> tuple[_Form, Any]:
    """An empty page of physical size."""
    if unit not in PT_PER_UNIT:
        raise ValueError(f'unit is "{unit}"; give "in" or "pt"')
    form = _Form(unit)
    across, down = form.number(width), form.number(height)
    page = svgwrite.Drawing(size=(f"{across}{unit}", f"{down}{unit}"), viewBox=f"0 0 {across} {down}", debug=False)
    if title or description:
        page.set_desc(title=_clean(title) or None, desc=_clean(description) or None)
    return form, page


def _draw(page: Any, group: Any, form: _Form, inks: Iterable[Ink]) -> None:
    """Adds ink to a group of the page."""
    for colour, batch in _batches(inks):
        if isinstance(batch, Area):
            # Even-odd lets rings after the first be holes whatever their direction.
            path = form.lines([(ring, True) for ring in batch.rings])
            group.add(_path(page, path, fill=colour, fill_rule="evenodd"))
            continue
        strokes: dict[Pen, list[Stroke]] = {}
        for ink in batch:
            if isinstance(ink, Stroke):
                strokes.setdefault(ink.pen, []).append(ink)
        for pen in Pen if strokes else ():
            if pen in strokes:
                lines = [line for stroke in strokes[pen] for line in form.drawn(stroke)]
                group.add(_path(page, form.lines(lines), **form.pen(pen, colour)))
        for words in (ink for ink in batch if isinstance(ink, Words)):
            outline = path_data(words.text, words.size_pt, words.bold, words.underline)
            if outline:
                group.add(_path(page, outline, fill=colour, transform=form.place(words)))


def _draw_repeated(page: Any, form: _Form, one: Repeated, name: str) -> None:
    """Adds what comes again and again."""
    if one.inks and one.places:
        group = page.g(id=name)
        _draw(page, group, form, [ink for ink in one.inks if not isinstance(ink, Segments)])
        for ink in one.inks:
            if isinstance(ink, Segments):
                group.add(_path(page, form.segments(ink), **form.pen(ink.pen, ink.colour)))
        page.defs.add(group)
        shown = page
        if one.window is not None:
            left, top, right, bottom = map(form.number, one.window)
            clip = page.clipPath(id=f"{name}w")
            clip.add(_path(page, f"M{left},{top}H{right}V{bottom}H{left}Z"))
            page.defs.add(clip)
            shown = page.add(page.g(clip_path=f"url(#{name}w)"))
        for place in one.places:
            shown.add(page.use(f"#{name}", transform=form.matrix(place)))


def _document(page: Any) -> str:
    return f'<?xml version="1.0" encoding="utf-8"?>\n{page.tostring()}\n'


def _batches(inks: Iterable[Ink]) -> Iterator[tuple[str, Area | list[Ink]]]:
    """Areas one by one; between them runs of strokes and words of one colour, whose order cannot be seen."""
    for (is_area, colour), run in groupby(inks, key=lambda ink: (isinstance(ink, Area), ink.colour)):
        if is_area:
            for ink in run:
                assert isinstance(ink, Area)
                yield colour, ink
        else:
            yield colour, list(run)


def _path(page: Any, data: str, **attributes: str) -> Any:
    """A path element; svgwrite's own checks are off, so only strings may be passed."""
    return page.path(d=data, **attributes)


def sides(ring: Sequence[Point]) -> list[list[Point]]:
    """A ring parted at its corners; the many short pieces of a curve stay one side, or dashes would never show."""
    corners = [
        i
        for i, (before, point, after) in enumerate(
            zip((*ring[-1:], *ring[:-1]), ring, (*ring[1:], *ring[:1]), strict=True)
        )
        if _turn(before, point, after) > CORNER_RAD
    ] or [0]
    points = list(ring)
    return [
        [*points[a:b], points[b]] if a < b else [*points[a:], *points[: b + 1]]
        for a, b in zip(corners, corners[1:] + corners[:1], strict=True)
    ]


def halves(side: Sequence[Point]) -> tuple[list[Point], list[Point]]:
    """A side from its start, and from its end, to the middle of its length."""
    rest = math.fsum(math.dist(a, b) for a, b in pairwise(side)) / 2
    for i, (a, b) in enumerate(pairwise(side)):
        length = math.dist(a, b)
        if rest <= length or i == len(side) - 2:
            share = rest / length if length else 0.0
            middle = (a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1]))
            return [*side[: i + 1], middle], [*reversed(side[i + 1 :]), middle]
        rest -= length
    raise ValueError("a side of one point")


def _turn(before: Point, point: Point, after: Point) -> float:
    """How far a line turns at a point, radians from 0 to pi."""
    ux, uy, vx, vy = point[0] - before[0], point[1] - before[1], after[0] - point[0], after[1] - point[1]
    return abs(math.atan2(ux * vy - uy * vx, ux * vx + uy * vy))


class _Form:
    """Numbers, pens and outlines written in one unit.

    Attributes:
        whole: closed lines are never parted for their dashes.
    """

    def __init__(self, unit: str) -> None:
        self._digits, self._pt = DIGITS[unit], PT_PER_UNIT[unit]
        self.whole = False
        self._forms: dict[tuple[int, bool], str] = {}

    def number(self, value: float) -> str:
        """Fixed digits, never an exponent, no idle zeros: the same everywhere."""
        if not math.isfinite(value):
            raise ValueError(f"a coordinate is {value}")
        text = f"{value:.{self._digits}f}".rstrip("0").rstrip(".")
        return "0" if text == "-0" else text

    def point(self, point: Point) -> str:
        return f"{self.number(point[0])},{self.number(point[1])}"

    def lines(self, lines: Sequence[Line]) -> str:
        """Path data of lines through points, each with whether it is closed: as `point` has them, all at once."""
        wanted = "".join([self._form_of(len(points), closed) for points, closed in lines])
        return self._filled(wanted, tuple(chain.from_iterable(chain.from_iterable([line[0] for line in lines]))))

    def segments(self, ink: Segments) -> str:
        """Path data of many straight lines."""
        return self._filled(self._form_of(2, False) * len(ink.ends), tuple(ink.ends.ravel().tolist()))

    def _filled(self, form: str, numbers: tuple[float, ...]) -> str:
        text = form % numbers
        if "n" in text:  # of nan or inf
            for number in numbers:
                self.number(number)
        text = _IDLE_ZEROS.sub("", f"{text}Z")
        for behind in ",LMZ":
            text = text.replace(f".{behind}", behind)
        text = text[:-1]
        return _MINUS_ZERO.sub("0", text) if "-0" in text else text

    def _form_of(self, points: int, closed: bool) -> str:
        found = self._forms.get((points, closed))
        if found is None:
            one = f"%.{self._digits}f,%.{self._digits}f"
            found = self._forms[points, closed] = "M" + "L".join([one] * points) + "Z" * closed
        return found

    def drawn(self, stroke: Stroke) -> Iterable[Line]:
        """What is drawn of a stroke: its line, or what its dashes lie on."""
        if not stroke.closed or self.whole or not stroke.pen.value.dashes_pt:
            return ((stroke.points, stroke.closed),)
        # Dashes run from both corners to the middle of each side: every corner is drawn, none falls in a gap.
        return [(half, False) for side in sides(stroke.points) for half in halves(side)]

    def pen(self, pen: Pen, colour: str) -> dict[str, str]:
        # Round joins: a mitred join would run far past the tip of a sharp patch.
        style = {
            "fill": "none",
            "stroke": colour,
            "stroke_width": self.number(pen.value.width_pt / self._pt),
            "stroke_linejoin": "round",
        }
        if pen.value.dashes_pt:
            # A string: a list would be written with brackets, and the line then comes out solid.
            style["stroke_dasharray"] = " ".join(self.number(d / self._pt) for d in pen.value.dashes_pt)
        return style

    def matrix(self, place: Affine) -> str:
        """The transform of an affine; parts of directions are written finer than places are."""
        a, b, c, d, e, f = place
        parts = [f"{part:.9f}".rstrip("0").rstrip(".") for part in (a, b, c, d)]
        return f"matrix({','.join('0' if part == '-0' else part for part in parts)},{self.point((e, f))})"

    def place(self, words: Words) -> str:
        """The transform that takes the outlines to their place, angle and unit."""
        parts = [f"translate({self.point(words.at)})"]
        if words.angle_deg % 360:
            parts.append(f"rotate({words.angle_deg % 360:.4f})")
        if self._pt != 1:
            parts.append(f"scale({1 / self._pt:.9f})")
        if words.anchor is not Anchor.START:
            parts.append(f"translate({-anchor_shift_pt(words):.4f},0)")
        return " ".join(parts)


def _clean(text: str) -> str:
    """Control characters are not allowed in XML 1.0, section 2.2."""
    return "".join(c for c in text if c >= " " or c in "\t\n")
