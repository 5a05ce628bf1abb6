"""The command line: asks, calls the one function that does the job, tells, and answers with a number.

Knows:  which command calls what, which exit code, how to tell a person what went wrong.
Leaves: the words asked (parser, offered), what a command does (commands), the work (api).
Limits: nothing heavy is imported until a command runs, so that help is there at once.

Exit codes: 0 done; 1 the drawing cannot be sewn as asked; 2 input, option, file or missing library; 3 our own
proof or read-back failed; 130 interrupted. Ctrl-C while a plan is searched for ends that search only: the best plan
found is told, and what was asked for is done with it, unless more drawings wait; these make it 130.
"""

from __future__ import annotations

import sys
from importlib import import_module

from seamwright.commands.telling import complain, tell
from seamwright.parser import Slip, build_parser, parse
from seamwright.start import SAYS, STOPPED, run

TYPE_CHECKING = False
if TYPE_CHECKING:  # typing itself is not imported: it is not needed to run
    from collections.abc import Sequence

__all__ = ["build_parser", "main", "run"]


def main(argv: Sequence[str] | None = None) -> int:
    """Runs one command and returns its exit code; never raises, never shows a traceback unasked."""
    for stream in (sys.stdout, sys.stderr):
        # A terminal that lacks a letter shows its code instead of stopping us.
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(errors="backslashreplace")
    try:
        name, asked = parse(list(sys.argv[1:] if argv is None else argv))
        module = name.replace("-", "_")
        command = getattr(import_module(f"seamwright.commands.{module}"), module)
        return int(command(asked))
    except Slip as slip:
        complain(str(slip))
        return 2
    except KeyboardInterrupt:
        complain(SAYS)
        return STOPPED
    except SystemExit as left:  # help or version were shown
        return left.code if isinstance(left.code, int) else 2
    except Exception as problem:
        return tell(problem)
