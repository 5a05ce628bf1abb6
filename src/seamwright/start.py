"""The command `seamwright` begins and ends here.

Knows:  that it may be told to end from its first moment on.
Leaves: the command line (cli), how it ends (stopping).
Limits: nothing is imported before somebody listens; what Python itself loads before this is out of our hands.
"""

import sys

TYPE_CHECKING = False
if TYPE_CHECKING:  # typing itself is not imported: it is not needed to run
    from typing import NoReturn

STOPPED = 130
"""Exit code of whatever was stopped."""
SAYS = "stopped; no file was left half-written"


def run() -> "NoReturn":
    """Entry point of the command."""
    code = STOPPED
    try:
        from seamwright import stopping

        stopping.listen()
        from seamwright.cli import main

        code = main()
        stopping.ended(code)
    except KeyboardInterrupt:  # before anybody listened
        print(f"seamwright: {SAYS}", file=sys.stderr)
    sys.exit(code)
