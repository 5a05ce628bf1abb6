"""What requests have in common: strict values, sizes, and refusals as data.

Knows:  the shape of a request's values and of an error.
Leaves: what each request asks (the routers beside this).
Units:  points are pairs of inches of the finished block, front view.
"""

from __future__ import annotations

from typing import Annotated, Any

from pydantic import BaseModel, ConfigDict, Field

from seamwright.errors import SeamwrightError, UnexpectedError
from seamwright.words.onpage import on_page

MOST_TEXT = 2_000_000

Text = Annotated[str, Field(max_length=MOST_TEXT)]
"""A whole text form or quilt file."""
Name = Annotated[str, Field(min_length=1, max_length=120)]
"""The name of a file in the folder, with its ending."""
Words = Annotated[str, Field(max_length=400)]
"""A name, a length or an option's value as typed."""
Options = Annotated[dict[Annotated[str, Field(max_length=40)], Words], Field(max_length=60)]
"""Options by their long names, as on the command line."""


class Request(BaseModel):
    """A request's body: nothing in it that is not asked for."""

    model_config = ConfigDict(extra="forbid", allow_inf_nan=False)


class OfDrawing(Request):
    """Asks about one drawing, as it stands on the page."""

    name: Name
    text: Text
    options: Options = {}


def error_object(error: SeamwrightError) -> dict[str, Any]:
    """A refusal as data: code, sentence, faults with their places."""
    faults = [
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
    return {"error": {"code": error.code, "text": " ".join(fault["text"] for fault in faults), "faults": faults}}


def status_of(error: SeamwrightError) -> int:
    """The HTTP status of a refusal."""
    return 500 if isinstance(error, UnexpectedError) or error.exit_code == 3 else 422
