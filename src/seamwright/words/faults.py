"""What is wrong with a drawing, in sentences; nothing heavy is needed to say it."""

from __future__ import annotations

TYPE_CHECKING = False
if TYPE_CHECKING:  # errors need dataclasses, and the command line starts without them
    from seamwright.errors import SeamwrightError

FAULTS_TOLD = 6
"""More faults of one drawing are counted, not told: the first ones mended, most of the others often vanish."""


def fault_words(error: SeamwrightError, drawing: str = "") -> str:
    """An error for a person; several faults stand one to a line, for each is mended by itself."""
    where = [_line(f"{error.drawing or drawing}:")] if error.drawing or drawing else []
    told = [_line(fault.text) for fault in error.faults[:FAULTS_TOLD]]
    if len(error.faults) > FAULTS_TOLD:
        told.append(f"and {len(error.faults) - FAULTS_TOLD} more like these; check --json lists them all")
    return " ".join([*where, *told]) if len(told) == 1 else "\n  ".join([*(where or ["this is wrong:"]), *told])


def _line(text: str) -> str:
    # The name of a file may hold a line break.
    return text.replace("\n", "\\n")
