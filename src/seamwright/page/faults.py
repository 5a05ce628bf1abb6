"""Refusals as data, in the page's words: for the server's answers and for whatever its workers find.

Knows:  the shape of a refusal.
Leaves: how a request is refused (asked), the words of the page (words.onpage).
"""

from __future__ import annotations

from typing import Any

from seamwright.errors import SeamwrightError
from seamwright.words.onpage import on_page


def error_object(error: SeamwrightError) -> dict[str, Any]:
    """A refusal as data: code, sentence, faults with their places."""
    faults: list[dict[str, Any]] = [
        {
            "code": f.code,
            "text": on_page(f.text),
            "what": on_page(f.what),
            "mend": on_page(f.mend),
            "at_in": f.at_in,
            "line": f.line,
            "column": f.column,
        }
        for f in error.faults
    ]
    return {
        "error": {"code": error.code, "text": " ".join(on_page(f.text) for f in error.faults), "faults": faults}
    }
