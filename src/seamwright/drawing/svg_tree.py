"""The walk through an SVG tree: what is painted where, in inches, and what was left out.

Knows:  groups, layers, transforms, nested svg, symbol, use, switch, hiding, clip paths.
Leaves: the page, shapes, styles, paint and text, each in its own module; what shows of what is painted (visible).
Units:  inches, x right, y down, (0, 0) the page's top left corner.
Method: a stack instead of recursion; every element entered counts, also through `<use>`, so that references that
        multiply stop early.
Source: SVG 1.1 (second edition), chapters 5 (structure, use, symbol, switch) and 7 (viewports); SVG 2, section 8.2.
Limits: MAX_VISITS elements, MAX_READ signs in them, svg_paths.MOST_PIECES pieces, nesting of svg_xml.MAX_DEPTH,
        coordinates up to FARTHEST_IN.
        Clip paths in user units are applied; masks and clip paths in shares of a bounding box are not.
"""

from __future__ import annotations

import math
import re
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from typing import Any
from xml.etree.ElementTree import Element

from seamwright.drawing.model import Label
from seamwright.drawing.painted import Painted
from seamwright.drawing.pieces import MOST_POINTS, Run, place, too_many_points
from seamwright.drawing.svg_page import Page, read_page
from seamwright.drawing.svg_paint import Paints, opacity
from seamwright.drawing.svg_paths import MOST_PIECES, Trace, too_many_pieces
from seamwright.drawing.svg_shapes import SHAPES, Lengths, bare_moves, shape_traces
from seamwright.drawing.svg_style import Sheet
from seamwright.drawing.svg_text import TextReader, flow_label, font_size
from seamwright.drawing.svg_transform import fit_viewbox, parse_transform, parse_viewbox, stretch, times
from seamwright.drawing.svg_units import length
from seamwright.drawing.svg_xml import (
    INKSCAPE,
    MAX_DEPTH,
    SODIPODI,
    Names,
    href_of,
    tag_of,
    unreadable,
)
from seamwright.geometry import Affine

MAX_VISITS = 300_000
MAX_READ = 30_000_000
"""Signs of attributes and words, each counted as often as clones show it."""
ENTERED = 20
"""Signs that take as long as an element does besides."""
MAX_CLIPPING = 6_000_000
"""Corners of clip paths, each counted for every object that it clips."""
CUT = 10
"""Corners that take as long as a cut does besides."""
FARTHEST_IN = 4000.0

_CONTAINERS = frozenset(("svg", "g", "a", "switch", "symbol"))
_NEVER_DRAWN = (
    frozenset(
        ("defs", "marker", "mask", "pattern", "clipPath", "linearGradient", "radialGradient", "filter", "font")
    )
    | frozenset(("style", "title", "desc", "metadata", "script", "view", "cursor"))
    | frozenset(("animate", "animateMotion", "animateTransform", "set"))
)


CLIP_URL = re.compile(r"url\(\s*+['\"]?+\s*+#([^'\")]*+)['\"]?+\s*+\)\s*+\Z")


@dataclass(frozen=True, slots=True)
class Seen:
    """An element that is drawn, for those who want to change it where it stands.

    Attributes:
        element: a shape or a text.
        outer, inner: user units of what it stands in, and its own, to inches.
        lengths: reads its attributes.
        cloned: it is shown by a `<use>`, so that a change may show elsewhere too.
        painted: what a shape paints; None for a text.
        label: what a text says and where; None for a shape.
    """

    element: Element
    outer: Affine
    inner: Affine
    lengths: Lengths
    cloned: bool
    painted: Painted | None = None
    label: Label | None = None


@dataclass(slots=True)
class Found:
    """What the walk collects."""

    painted: list[Painted] = field(default_factory=list)
    seen: list[Seen] = field(default_factory=list)
    labels: list[Label] = field(default_factory=list)
    ignored: dict[str, int] = field(default_factory=dict)

    def ignore(self, what: str) -> None:
        """Count something left out."""
        self.ignored[what] = self.ignored.get(what, 0) + 1


@dataclass(frozen=True, slots=True)
class _Place:
    """What an element inherits from where it stands."""

    affine: Affine
    style: Mapping[str, str]
    width: float
    height: float
    font_size: float = 16.0
    layer: str = ""
    opacity: float = 1.0
    depth: int = 0
    uses: tuple[str, ...] = ()
    own_layer: bool = False
    text_frame: bool = False
    clips: tuple[object, ...] = ()


class _Walk:
    """One walk through one document."""

    def __init__(self, root: Element) -> None:
        self.names = Names(root)
        self.sheet = Sheet(root)
        self.ids: dict[str, Element] = {}
        for element in root.iter():
            name = element.get("id")
            if name:
                self.ids.setdefault(name, element)
        self.paints = Paints(self.ids, self.sheet)
        self.found = Found()
        self.page = read_page(root)
        self._root = root
        self._visits = 0
        self._segments = 0
        self._read = 0
        self._points = 0
        self._clipping = 0
        self._regions: dict[tuple[str, Affine], object] = {}

    def run(self) -> None:
        """Collect all that is painted, in painting order."""
        page = self.page
        stack: list[tuple[Element, _Place, bool]] = [
            (self._root, _Place(page.affine, {}, page.width, page.height), False)
        ]
        while stack:
            element, here, used = stack.pop()
            self._visits += 1
            if self._visits > MAX_VISITS:
                raise unreadable(
                    "too many",
                    f"the drawing shows more than {MAX_VISITS:,} objects once its clones (<use>) are followed",
                    "Save only the block's lines; unlink clones that repeat other clones",
                )
            if here.depth > MAX_DEPTH:
                raise unreadable(
                    "too deep",
                    f"objects are nested more than {MAX_DEPTH} deep once clones (<use>) are followed",
                    "Ungroup the drawing in its editor and save it again",
                )
            self._spend(element)
            children = self._enter(element, here, used)
            stack.extend(reversed(children))

    def _enter(self, element: Element, here: _Place, used: bool) -> list[tuple[Element, _Place, bool]]:
        """Take in one element; returns what to enter next, in painting order."""
        tag = tag_of(element)
        if not tag:
            self._foreign(element)
            return []
        if tag in _NEVER_DRAWN or (tag == "symbol" and not used) or not _holds(element):
            return []
        style = self.sheet.inherit(here.style, element)
        if style.get("display", "inline").lower() == "none":
            if element.get(f"{{{INKSCAPE}}}groupmode") == "layer":
                self.found.ignore("hidden layer")
            elif tag in SHAPES or tag in _CONTAINERS or tag in ("use", "text"):
                self.found.ignore("hidden object")
            return []
        where = self.names.of(element)
        inside = replace(
            here,
            style=style,
            depth=here.depth + 1,
            opacity=here.opacity * opacity(style.get("opacity")),
            font_size=font_size(self.sheet.declared(element).get("font-size"), here.font_size, where),
        )
        transform = style.get("transform") or element.get("transform")
        if transform and element is not self._root:
            inside = replace(inside, affine=times(here.affine, parse_transform(transform, where)))
        if "clip-path" in style:
            inside = self._clip(inside, where)
        painted, labels = len(self.found.painted), len(self.found.labels)
        if tag in SHAPES and here.text_frame:
            self._frame(style, here)
        elif tag in SHAPES:
            self._shape(element, inside, where)
        elif tag == "use":
            return self._use(element, inside, where)
        elif tag in _CONTAINERS:
            return self._container(element, tag, inside, where)
        elif tag in ("text", "flowRoot"):
            self._text(element, tag, inside, where)
        elif tag == "image":
            self.found.ignore("picture")
        elif tag == "foreignObject":
            self.found.ignore("foreign object")
        for item in self.found.painted[painted:]:
            self._see(element, here, inside, where, painted=item)
        for label in self.found.labels[labels:]:
            self._see(element, here, inside, where, label=label)
        return []

    def _see(self, element: Element, here: _Place, inside: _Place, where: str, **what: Any) -> None:
        lengths = self._lengths(element, inside, where)
        self.found.seen.append(Seen(element, here.affine, inside.affine, lengths, bool(here.uses), **what))

    def _foreign(self, element: Element) -> None:
        tag = element.tag
        if isinstance(tag, str) and tag.startswith(f"{{{SODIPODI}}}namedview"):
            for part in element:
                if isinstance(part.tag, str) and part.tag.endswith("}guide"):
                    self.found.ignore("guide")

    def _container(
        self, element: Element, tag: str, inside: _Place, where: str
    ) -> list[tuple[Element, _Place, bool]]:
        if tag in ("svg", "symbol") and element is not self._root:
            inside = self._viewport(element, inside, where, None)
        elif tag == "g":
            inside = _layered(element, inside)
        children = list(element)
        if tag == "switch":
            # The first child whose conditions hold and that this reader can draw.
            children = [c for c in children if tag_of(c) not in ("", "foreignObject", "style") and _holds(c)][:1]
        return [(child, inside, False) for child in children]

    def _viewport(self, element: Element, inside: _Place, where: str, user: Lengths | None) -> _Place:
        """A nested `<svg>`, or a `<symbol>` that is used: its own place, size and viewBox."""
        lengths = self._lengths(element, inside, where)
        width, height = lengths.size("width", inside.width), lengths.size("height", inside.height)
        if user is not None:
            width, height = user.size("width", width), user.size("height", height)
        affine = inside.affine
        if tag_of(element) == "svg":
            affine = times(affine, (1.0, 0.0, 0.0, 1.0, lengths.get("x"), lengths.get("y")))
        box_text = (element.get("viewBox") or "").strip()
        if box_text and width > 0 and height > 0:
            box = parse_viewbox(box_text, where)
            affine = times(affine, fit_viewbox(box, width, height, element.get("preserveAspectRatio") or "", where))
            width, height = box[2], box[3]
        return replace(inside, affine=affine, width=width, height=height)

    def _use(self, element: Element, inside: _Place, where: str) -> list[tuple[Element, _Place, bool]]:
        href = href_of(element)
        if not href.startswith("#"):
            if href:
                self.found.ignore("clone of another file")
            return []
        name = href[1:]
        target = self.ids.get(name)
        if target is None:
            self.found.ignore("clone of nothing")
            return []
        if name in inside.uses:
            raise unreadable(
                "use loop",
                f"{where}: the clone (<use>) shows itself, so it never ends",
                "Unlink the clone in its editor",
            )
        lengths = self._lengths(element, inside, where)
        moved_by = (1.0, 0.0, 0.0, 1.0, lengths.get("x"), lengths.get("y"))
        place_ = replace(inside, affine=times(inside.affine, moved_by), uses=(*inside.uses, name))
        if tag_of(target) in ("svg", "symbol"):
            return self._used_viewport(target, place_, lengths)
        return [(target, place_, True)]

    def _used_viewport(self, target: Element, here: _Place, user: Lengths) -> list[tuple[Element, _Place, bool]]:
        """A symbol or svg under a use: the use's width and height go before its own."""
        style = self.sheet.inherit(here.style, target)
        if style.get("display", "inline").lower() == "none":
            return []
        where = self.names.of(target)
        inside = replace(
            here, style=style, depth=here.depth + 1, opacity=here.opacity * opacity(style.get("opacity"))
        )
        transform = style.get("transform") or target.get("transform")
        if transform:
            inside = replace(inside, affine=times(inside.affine, parse_transform(transform, where)))
        inside = self._viewport(target, inside, where, user)
        return [(child, inside, False) for child in target]

    def _lengths(self, element: Element, here: _Place, where: str) -> Lengths:
        return Lengths(element, here.style, where, here.width, here.height, here.font_size)

    def _frame(self, style: Mapping[str, str], here: _Place) -> None:
        """The box that an office program draws round a text: no patch."""
        if self.paints.fill(style, here.opacity) or self.paints.stroke(style, here.opacity):
            self.found.ignore("text frame")

    def _shape(self, element: Element, here: _Place, where: str) -> None:
        style = here.style
        if style.get("visibility", "visible").lower() != "visible":
            self.found.ignore("hidden object")
            return
        fill, stroke = self.paints.fill(style, here.opacity), self.paints.stroke(style, here.opacity)
        lengths = self._lengths(element, here, where)
        width = length(
            style.get("stroke-width", "1"),
            f"{where}, stroke-width",
            percent_of=math.hypot(here.width, here.height) / math.sqrt(2),
            font_size=here.font_size,
        )
        if width <= 0:
            stroke = None
        if fill is None and stroke is None:
            return
        runs: list[Run] = []
        for trace in self._traces(element, lengths):
            run = place(trace, here.affine)
            if run is not None:
                self._check_extent(run, where)
                runs.append(run)
        if stroke is not None and "fill" not in style and not any(run.closed for run in runs):
            # An open stroked line whose fill nobody set: the black fill is the format's default, not a patch.
            fill = None
        tag = tag_of(element)
        if tag == "line":
            fill = None
        if not runs or (fill is None and stroke is None):
            return
        item: Painted | None = Painted(
            tuple(runs),
            where,
            here.layer,
            fill=fill.name if fill else None,
            colour=fill.colour if fill else None,
            opaque=fill.opaque if fill else True,
            evenodd=style.get("fill-rule", "nonzero").lower() == "evenodd",
            stroked=stroke is not None,
            stroke=stroke.colour if stroke else None,
            stroke_in=width * stretch(here.affine) if stroke else 0.0,
            round=tag in ("circle", "ellipse"),
        )
        for region in here.clips:
            if item is not None:
                item = self._clipped(item, region)
        if item is not None:
            self.found.painted.append(item)

    def _clipped(self, item: Painted, region: object) -> Painted | None:
        """The part of a shape that its clip path leaves."""
        from seamwright.drawing.clip import clipped, corners_of

        self._clipping += corners_of(region) + CUT  # type: ignore[arg-type]
        if self._clipping > MAX_CLIPPING:
            raise unreadable(
                "too many",
                "the drawing cuts too many objects with clip paths of too many corners",
                "Release the clip paths in its editor, or save only the block's lines",
            )
        left = clipped(item, region)  # type: ignore[arg-type]
        if left is None:
            self.found.ignore("clipped object")
        return left

    def _clip(self, inside: _Place, where: str) -> _Place:
        """The place with the clip path that its style names, if any."""
        found = CLIP_URL.match(inside.style.get("clip-path", "none"))
        if not found:
            return inside
        element = self.ids.get(found[1].rstrip())
        if element is None or tag_of(element) != "clipPath":
            return inside
        if element.get("clipPathUnits") == "objectBoundingBox":
            self.found.ignore("clip path")
            return inside
        key = (found[1].rstrip(), inside.affine)
        if key not in self._regions:
            self._regions[key] = self._region(element, inside, where)
        region = self._regions[key]
        return inside if region in inside.clips else replace(inside, clips=(*inside.clips, region))

    def _region(self, element: Element, inside: _Place, where: str) -> object:
        """The region of a clip path in inches."""
        from seamwright.drawing.clip import clip_region

        affine = times(inside.affine, parse_transform(element.get("transform") or "", where))
        shapes: list[tuple[tuple[Run, ...], bool]] = []
        for child in element:
            here = replace(inside, affine=affine, style=self.sheet.inherit(inside.style, child))
            if tag_of(child) == "use":
                target = self.ids.get(href_of(child).removeprefix("#"))
                lengths = self._lengths(child, here, where)
                own = parse_transform(child.get("transform") or "", where)
                here = replace(
                    here, affine=times(times(affine, own), (1.0, 0.0, 0.0, 1.0, lengths.get("x"), lengths.get("y")))
                )
                if target is None:
                    continue
                child = target
            if tag_of(child) not in SHAPES or here.style.get("display", "inline") == "none":
                continue
            name = self.names.of(child)
            turn = parse_transform(here.style.get("transform") or child.get("transform") or "", name)
            self._spend(child)
            traces = self._traces(child, self._lengths(child, here, name))
            runs = [place(trace, times(here.affine, turn)) for trace in traces]
            kept = tuple(run for run in runs if run is not None)
            for run in kept:
                self._check_extent(run, name)
            shapes.append((kept, here.style.get("clip-rule", "nonzero").lower() == "evenodd"))
        return clip_region(shapes)

    def _spend(self, *elements: Element) -> None:
        """Count what is read of elements each time that one is looked at."""
        for element in elements:
            self._read += ENTERED + len(element) + sum(map(len, element.attrib.values())) + len(element.text or "")
        if self._read > MAX_READ:
            raise unreadable(
                "too many",
                "the drawing's clones (<use>) repeat too much",
                "Save only the block's lines; unlink clones that repeat other clones",
            )

    def _traces(self, element: Element, lengths: Lengths) -> list[Trace]:
        """What a shape draws, counted."""
        traces = shape_traces(element, lengths)
        self._segments += sum(len(trace.steps) for trace in traces) + bare_moves(element, traces)
        if self._segments > MOST_PIECES:
            raise too_many_pieces()
        return traces

    def _check_extent(self, run: Run, where: str) -> None:
        for piece in run.pieces:
            self._points += len(piece)
            for x, y in piece:
                if not (abs(x) <= FARTHEST_IN and abs(y) <= FARTHEST_IN):
                    raise unreadable(
                        "number",
                        f"{where}: it reaches more than {FARTHEST_IN:,.0f} in away from the page's corner",
                        "Draw the block on the page, or set the page's size and units",
                    )
        if self._points > MOST_POINTS:
            raise too_many_points()

    def _text(self, element: Element, tag: str, here: _Place, where: str) -> None:
        lengths = self._lengths(element, here, where)
        parts = [part for part in element.iter() if part is not element]
        self._read += 4 * ENTERED * len(parts)  # each is set like a text of its own
        self._spend(*parts)
        if tag == "flowRoot":
            label = flow_label(element, lengths, here.affine, self._traces)
        else:
            label = TextReader(self.sheet, lengths, here.affine).label(element, here.style)
        if label is not None and opacity(here.style.get("opacity")) > 0:
            self.found.labels.append(label)


def _layered(element: Element, inside: _Place) -> _Place:
    """The place inside a group: the nearest real layer's name, else the nearest group's id."""
    if (element.get("class") or "").endswith("TextShape"):
        inside = replace(inside, text_frame=True)
    if element.get(f"{{{INKSCAPE}}}groupmode") == "layer":
        name = element.get(f"{{{INKSCAPE}}}label") or element.get("id") or ""
        return replace(inside, layer=name, own_layer=True)
    if not inside.own_layer and element.get("id"):
        return replace(inside, layer=element.get("id") or "")
    return inside


def _holds(element: Element) -> bool:
    """Whether the element's conditions (SVG 1.1, section 5.8) hold: plain SVG, any English reader."""
    if (element.get("requiredExtensions") or "").strip():
        return False
    languages = element.get("systemLanguage")
    if languages is None:
        return True
    return any(part.strip().lower().split("-")[0] == "en" for part in languages.split(","))


def walk(root: Element) -> tuple[Page, Found, bool]:
    """All that a document paints.

    Returns:
        The page; what was found; whether a style sheet of another file was left out.

    Raises:
        DrawingError: something in it cannot be read, or a limit is passed.
    """
    job = _Walk(root)
    job.run()
    return job.page, job.found, job.sheet.imports
