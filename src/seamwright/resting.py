"""Work that makes very many values and no cycles of them, with Python's search for cycles at rest meanwhile.

Knows:  nothing but the collector.
Why:    the collector looks through all values again and again while a search makes millions; planning a block of
        300 patches took three times as long, and of all that only a few thousand small values were in cycles.
Limits: what is in a cycle stays until the work is done.
"""

from __future__ import annotations

import gc
from collections.abc import Iterator
from contextlib import contextmanager


@contextmanager
def resting() -> Iterator[None]:
    """The collector rests inside; where it rests already, it goes on resting behind. A decorator, too."""
    if not gc.isenabled():
        yield
        return
    gc.disable()
    try:
        yield
    finally:
        gc.enable()
