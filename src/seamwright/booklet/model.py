"""A booklet before it is laid out: a story of items.

Knows:  the values only. Whoever tells part of the booklet returns items; whoever lays out pages knows nothing of
        quilting.
Leaves: telling (title, steps, joins and the other chapters), laying out (pages), pages themselves (ink.page).
Units:  figures in inches from their top left corner, as shown on the page.
"""

from __future__ import annotations

from dataclasses import dataclass

from seamwright.ink.model import Ink


@dataclass(frozen=True, slots=True)
class Figure:
    """A picture made by the tool.

    Attributes:
        inks: inches, origin top left; type in points.
        width_in, height_in: of the picture as shown; it is never scaled while laying out.
        says: one sentence for whoever cannot see it.
        scale: how many times as large as usual its words are already.
    """

    inks: tuple[Ink, ...]
    width_in: float
    height_in: float
    says: str
    scale: float = 1.0


@dataclass(frozen=True, slots=True)
class Heading:
    """Kept with what follows.

    Level 0 is the title of the whole, level 1 a chapter: it begins a page unless all of it fits below another, and
    gets a bookmark; level 2 gets a bookmark below that of its chapter, level 3 none.

    Attributes:
        swatch: a colour "#rrggbb" shown before it, "" for none.
    """

    text: str
    level: int = 1
    swatch: str = ""


@dataclass(frozen=True, slots=True)
class Paragraph:
    """Words broken to the width of their column; `strong` for what must not be overlooked."""

    text: str
    strong: bool = False


@dataclass(frozen=True, slots=True)
class Points:
    """A list, one short sentence each; `numbered` from 1, else with a quiet mark; `boxes` to tick off."""

    texts: tuple[str, ...]
    numbered: bool = False
    boxes: bool = False


@dataclass(frozen=True, slots=True)
class Table:
    """A table with rules above and below only.

    Attributes:
        head: column titles; rows: cells as text.
        figures: numbers of the columns set flush right with aligned figures.
        swatches: for each row a colour "#rrggbb" shown before its first cell, or None; () for no swatches.
        caption: one line above it, "" for none.
    """

    head: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    figures: tuple[int, ...] = ()
    swatches: tuple[str | None, ...] = ()
    caption: str = ""


@dataclass(frozen=True, slots=True)
class Step:
    """One picture in the column of pictures, and its words in the column of words beside it; never parted.

    Attributes:
        mark: what stands large at the head of the words, such as "A3" or "A+B".
        title: a few words behind it. texts: at most two sentences each.
        section: letter repeated at the head of a page on which its steps go on; "" for none.
    """

    figure: Figure
    mark: str
    title: str
    texts: tuple[str, ...]
    section: str = ""


@dataclass(frozen=True, slots=True)
class Pictures:
    """Figures side by side, as many to a row as fit, each with a caption below."""

    figures: tuple[Figure, ...]
    captions: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Break:
    """What follows begins a new page."""


@dataclass(frozen=True, slots=True)
class Full:
    """A picture that fills the page below a heading and a line of words (a colouring page, labels to cut out).

    Attributes:
        title: bookmark and heading. text: one or two sentences. figure: at most as large as `pages.full_room` says.
    """

    title: str
    text: str
    figure: Figure


Item = Heading | Paragraph | Points | Table | Step | Pictures | Break | Full
Story = tuple[Item, ...]


PICTURE_IN = 3.1
"""Width of the column of pictures; the figure of a Step is no wider."""
PICTURE_HIGH_IN = 2.7
"""No figure of a Step is higher."""
