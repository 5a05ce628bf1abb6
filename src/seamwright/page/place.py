"""What every part of the page's server shares: one folder, one pass, the workers.

Knows:  the value only.
Leaves: who gets in (guard), files in the folder (folder), work that takes long (workers).
"""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from seamwright.page.workers import Workers


@dataclass(frozen=True, slots=True)
class Place:
    """One run of the page's server.

    Attributes:
        folder: where the designs lie; nothing outside of it is read or written.
        password: whoever asks has to show it; made anew at each start.
        workers: processes that do what takes long, and that can be stopped.
    """

    folder: Path
    password: str
    workers: Workers
