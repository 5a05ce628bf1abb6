"""A bar that shows how far a long command is; quiet wherever nobody is watching."""

from __future__ import annotations

import os
import sys
import time
from typing import Any

SHOWN_AFTER_S = 1.0
SHOWN_EVERY_S = 0.2
USUAL_COLUMNS, USUAL_ROWS = 79, 24


class Progress:
    """A bar on standard error, if that is a terminal and the work takes more than a second.

    Args:
        total: how many steps there will be.
        unit: what a step is called.
    """

    def __init__(self, total: int, unit: str) -> None:
        self._total, self._unit = total, unit
        self._begun = self._shown = False
        self._bar: Any = None
        self._timer: Any = None
        self._words = ""
        self._told = 0.0

    def __enter__(self) -> Progress:
        if sys.stderr is not None and sys.stderr.isatty():
            import threading

            from tqdm import tqdm

            self._bar = tqdm(
                total=self._total,
                unit=self._unit,
                delay=SHOWN_AFTER_S,
                leave=False,
                file=sys.stderr,
                ascii=True,
                ncols=_columns(),
                nrows=_columns() and USUAL_ROWS,
            )
            # The bar is drawn when something is counted; one long step must show too.
            self._timer = threading.Timer(SHOWN_AFTER_S, self._show)
            self._timer.daemon = True
            self._timer.start()
        return self

    def __exit__(self, *_: object) -> None:
        if self._bar is not None:
            self._timer.cancel()
            self.clear()
            self._bar.close()

    def doing(self, words: str) -> None:
        """Names the step that begins, which ends the one before."""
        if self._bar is not None:
            self._words = words
            self._bar.set_description_str(words, refresh=self._shown)
            if self._begun:
                self._bar.update()
            self._begun = True

    def looked_at(self, count: int) -> None:
        """Tells how far a search is, and how to end it."""
        if self._shown and time.monotonic() > self._told + SHOWN_EVERY_S:
            self._told = time.monotonic()
            # A narrow screen shows the beginning only.
            words = f"Ctrl-C takes the best so far of {count:,} ways tried; {self._words}"
            self._bar.set_description_str(words, refresh=True)

    def clear(self) -> None:
        """Takes the bar off the screen, so that something can be printed."""
        if self._bar is not None and self._shown:
            self._bar.clear()

    def _show(self) -> None:
        self._shown = True
        self._bar.refresh()


def _columns() -> int | None:
    """The usual width for a terminal that says it has none, on which no bar would be seen; else None: its own."""
    try:
        return None if os.get_terminal_size(sys.stderr.fileno()).columns else USUAL_COLUMNS
    except (OSError, ValueError):
        return None
