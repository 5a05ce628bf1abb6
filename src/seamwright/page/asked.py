"""What requests have in common: strict values, sizes, and refusals as data.

Knows:  the shape of a request's values and of an error.
Leaves: what each request asks (the routers beside this).
Units:  points are pairs of inches of the finished block, front view.
Limits: JSON knows no numbers that are none (RFC 8259, 6); Python's reader takes them, and figures too large for it
        as infinite. Both are refused here, wherever they stand, before anything counts with them; and so is half a
        pair of surrogates, which no file can hold.
"""

from __future__ import annotations

import base64
import binascii
import json
import math
import re
from collections.abc import Sequence
from http import HTTPStatus
from pathlib import Path
from typing import Annotated, Any, NoReturn

from fastapi import Request as HttpRequest
from pydantic import BaseModel, ConfigDict, Field

from seamwright.errors import FileError, OptionError, SeamwrightError, UnexpectedError, fail

MOST_TEXT = 2_000_000
_ANEW = "Load this page anew: it may be older than the program; if it comes back, please report it"
_MEND = "Load the page again; if it comes back, please report it"

Text = Annotated[str, Field(max_length=MOST_TEXT)]
"""A whole text form or quilt file."""
Name = Annotated[str, Field(min_length=1, max_length=255, pattern=r"^[^/\\]*$")]
"""The name of a file in the folder, with its ending: whatever a file system takes."""
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

    def values(self, folder: Path) -> tuple[str, str, tuple[tuple[str, str], ...]]:
        """What a task is asked with: the path where the text is kept, or would be, the text, and options."""
        return str(folder / self.name), self.text, tuple(self.options.items())


class FaultOf(BaseModel):
    """One thing wrong: `what` is wrong and where, the `mend`, both as `text`; its place in inches or in a text."""

    code: str
    text: str
    what: str
    mend: str
    at_in: tuple[float, float] | None
    line: int | None
    column: int | None


class Refusal(BaseModel):
    """Why something was not done: a stable word for programs, and sentences for people."""

    code: str
    text: str
    faults: list[FaultOf]


class Refused(BaseModel):
    """An answer that is a refusal."""

    error: Refusal


def in_bytes(data: str, what: str) -> bytes:
    """What came in base 64.

    Args:
        what: came so, such as "the file".

    Raises:
        FileError: it did not arrive whole.
    """
    try:
        return base64.b64decode(data, validate=True)
    except (binascii.Error, ValueError):
        raise fail(FileError, "file", f"{what} did not arrive whole", "Try again") from None


async def plain_numbers(request: HttpRequest) -> None:
    """Refuses a body that is no JSON, or has numbers or letters in it that are none."""
    body = await request.body()
    if not body:
        return
    try:
        # Only its reading matters: what is asked is read once more, with its shape.
        json.loads(body, parse_constant=_no_number, parse_float=_finite)
        if re.search(rb"\\u[dD][89a-fA-F]", body):
            json.dumps(json.loads(body), ensure_ascii=False).encode()
    except (ValueError, RecursionError) as problem:
        what = f"this cannot be read as JSON ({str(problem)[:120] or type(problem).__name__})"
        raise fail(OptionError, "request", what, _MEND) from None


def _no_number(name: str) -> NoReturn:
    raise ValueError(f"{name} is no number")


def _finite(figures: str) -> float:
    number = float(figures)
    if not math.isfinite(number):
        raise ValueError(f"{figures[:20]} is too large")
    return number


def not_as_described(wrong: Sequence[Any]) -> SeamwrightError:
    """The refusal of a request whose values are not of the kind that is asked for (pydantic's list of errors)."""
    told = "; ".join(f"{'.'.join(str(at) for at in each['loc'])[:200]}: {each['msg'][:300]}" for each in wrong[:20])
    return fail(OptionError, "request", f"this page and the program do not go together ({told})", _ANEW)


def no_answer(status: int) -> SeamwrightError:
    """The refusal of what nothing here answers to: no such path, no such way to ask."""
    known = {400: "this cannot be read as JSON", 404: "nothing lies at this address"}
    what = known.get(status, f"this is not answered here ({HTTPStatus(status).phrase.lower()})")
    return fail(OptionError, "request", what, _MEND)


def status_of(error: SeamwrightError) -> int:
    """The HTTP status of a refusal."""
    return 500 if isinstance(error, UnexpectedError) or error.exit_code == 3 else 422
