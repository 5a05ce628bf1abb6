"""A story of headings, paragraphs, lists and tables as data, for the page to show as it is.

Knows:  how each item is told.
Leaves: what is told (booklet), how it looks (page/files).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import asdict
from typing import Any

from seamwright.booklet.model import Heading, Item, Paragraph, Points, Table
from seamwright.words.onpage import on_page

_KINDS = {Heading: "heading", Paragraph: "paragraph", Points: "points", Table: "table"}


def story_object(story: Sequence[Item]) -> list[dict[str, Any]]:
    """The items that hold words, each with its kind; pictures are left to the pages that have them."""
    return [_in_words({"kind": _KINDS[type(item)], **asdict(item)}) for item in story if type(item) in _KINDS]


def _in_words(told: dict[str, Any]) -> dict[str, Any]:
    for name in ("text", "texts"):
        if name in told:
            told[name] = on_page(told[name]) if name == "text" else [on_page(text) for text in told[name]]
    return told
