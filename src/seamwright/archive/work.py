"""What is done with one drawing of many; whatever goes wrong with it is its own result.

Knows:  checking and printing one drawing, in each colourway asked for, and how a failure of any kind is told.
Leaves: every stage (api, mending), the words and the data (words, report), writing files, the order (through).
Units:  seconds.
Method: functions of a module from a plain value to a plain value: any executor can call them, on any computer that
        finds the drawing under its path.
Limits: a process that is itself a daemon may start none, and so can hold no work to a limit.
"""

from __future__ import annotations

import threading
from collections.abc import Callable
from concurrent.futures import BrokenExecutor
from typing import TYPE_CHECKING

from seamwright.archive.model import Done, Job, State, Words
from seamwright.errors import DrawingError, OptionError, SeamwrightError, fail, trace, unexpected
from seamwright.results import Outcome

if TYPE_CHECKING:  # whoever has processes of its own needs none of ours
    from seamwright.processes import Processes

TOO_LONG, ENDED, MEMORY = "too long", "ended", "memory"
"""Codes of what was stopped or lost, not wrong."""
CHECKING = (
    *("api", "block.make", "piecing.plan", "claims.plans", "proof.checker", "mending", "mend.find"),
    *("dressing", "archive.work", "report.checks", "words.checks", "words.faults"),
)
PRINTING = (
    *CHECKING,
    *(
        "archive.already",
        "claims.sewing",
        "foundation.make",
        "proof.trimmed",
        "rehearsal.rehearse",
        "cutting.pieces",
    ),
    *("sheet.layout", "sheet.pdf", "sheet.readback", "report.prints", "words.prints"),
)
"""What a check, and a print, need: loaded before the first drawing, so that it is in nobody's time."""
_mine = threading.local()


def do(job: Job) -> Done:
    """What comes of one drawing; never raises what a drawing may cause."""
    try:
        return _printed(job) if job.pdf else _checked(job)
    except Exception as problem:
        return failed(job, problem)


def guarded(job: Job, work: Callable[[Job], Done] = do) -> Done:
    """As `do`, held to the job's limit by a process beside this one, which may hang or fall over as it likes.

    Args:
        work: what is done there, a function of a module.
    """
    try:
        return _guard(job).submit(work, job).result()
    except BrokenExecutor:
        try:
            return _guard(job, anew=True).submit(work, job).result()
        except Exception as problem:
            return lost(job, problem)
    except AssertionError:  # the standard library's word for a daemon that starts a process
        what = "whoever works on it may start no process, so it cannot be held to a limit"
        mend = "Let workers be no daemons (dask: distributed.worker.daemon: false), or give no limit"
        return failed(job, fail(OptionError, "option", what, mend))
    except Exception as problem:
        return lost(job, problem)


def failed(job: Job, problem: Exception) -> Done:
    """The result of a drawing that came to nothing, for a reason that we found."""
    from seamwright.report.checks import check_object
    from seamwright.words.faults import fault_words

    trace(problem)
    error = problem if isinstance(problem, SeamwrightError) else unexpected(problem)
    return Done(
        job.drawing,
        _state(error.exit_code, error),
        error.exit_code,
        (check_object(job.drawing, None, error),) if job.objects else (),
        complaints=(fault_words(error, job.drawing),),
    )


def lost(job: Job, problem: BaseException, limit_s: float | None = None) -> Done:
    """The result of a drawing whose worker gave no answer.

    Args:
        problem: what the executor says.
        limit_s: the limit it kept; None: the job's own.
    """
    if isinstance(problem, TimeoutError):
        what = f"this took longer than {limit_s or job.limit_s or 0:g} seconds and was stopped"
        mend = "Give it more time with --limit, or make the drawing simpler"
        return failed(job, fail(DrawingError, TOO_LONG, what, mend))
    said = " ".join(str(problem).split())[:200]
    what = f"the process that worked on it ended before it was done ({type(problem).__name__}: {said})"
    mend = "It may have needed more memory than there is: try it by itself, and if it ends again, please report it"
    return failed(job, fail(DrawingError, ENDED, what, mend))


def _checked(job: Job) -> Done:
    from seamwright.mending import with_mends
    from seamwright.report.checks import check_object
    from seamwright.words.checks import check_words, stuck_lines
    from seamwright.words.faults import fault_words

    outcomes = _outcomes(job)
    if job.objects or job.words is Words.FULL:
        outcomes = [with_mends(outcome) for outcome in outcomes]
    words: list[str] = []
    complaints: list[str] = []
    for one in outcomes:
        if one.error is not None:
            trace(one.error)
            complaints.append(fault_words(one.error, job.drawing))
        elif one.plan is not None and job.words is Words.FULL:
            words += check_words(job.drawing, one.plan, one.mends)
        elif one.plan is not None and job.words is Words.SHORT:
            words += [check_words(job.drawing, one.plan)[0], *stuck_lines(one.plan)]
    worst = max(outcomes, key=lambda one: (one.exit_code, one.plan is None or not one.plan.sections))
    curved = worst.exit_code == 1 and worst.plan is not None and bool(worst.plan.sections)
    return Done(
        job.drawing,
        State.CURVED if curved else _state(worst.exit_code, worst.error),
        worst.exit_code,
        tuple(check_object(o.drawing, o.plan, o.error, o.mends) for o in outcomes) if job.objects else (),
        tuple(words),
        tuple(complaints),
    )


def _printed(job: Job) -> Done:
    from seamwright.api import pdf_of
    from seamwright.archive.already import print_key
    from seamwright.report.prints import foundations_object
    from seamwright.words.prints import block_words, made_words

    key = print_key(job.drawing, job.given)
    if key == job.known:
        objects = ({"drawing": job.drawing, "file": job.pdf, "unchanged": True},) if job.objects else ()
        there = (f"{job.pdf}: there already, unchanged.",) if job.words is not Words.NONE else ()
        return Done(job.drawing, State.DONE, 0, objects, there, file=job.pdf, key=key, unchanged=True)
    outcomes = _outcomes(job)
    wrong = next((one.error for one in outcomes if one.error is not None), None)
    if wrong is not None:
        raise wrong
    pdf, printed = pdf_of(*(one.plan for one in outcomes if one.plan is not None), file=job.pdf)
    words: tuple[str, ...] = ()
    if job.words is not Words.NONE:
        words = (f"{job.pdf}: {made_words(printed)}.", *(f"  {line}" for line in block_words(printed)))
    objects = (foundations_object(printed),) if job.objects else ()
    return Done(job.drawing, State.DONE, 0, objects, words, file=job.pdf, pdf=pdf, key=key)


def _outcomes(job: Job) -> list[Outcome]:
    from seamwright.api import outcome
    from seamwright.dressing import each_way

    return [outcome(job.drawing, given) for given in each_way(job.drawing, job.given)]


def _state(exit_code: int, error: SeamwrightError | None) -> State:
    if error is not None and error.code in (TOO_LONG, ENDED, MEMORY):
        return State.ENDED
    return (State.DONE, State.STUCK, State.UNREAD, State.FAULT)[exit_code]


def _guard(job: Job, *, anew: bool = False) -> Processes:
    """The process beside this thread."""
    from seamwright.processes import Processes

    pool: Processes | None = getattr(_mine, "pool", None)
    if pool is None or pool.limit_s != job.limit_s or anew:
        if pool is not None:
            pool.shutdown()
        pool = _mine.pool = Processes(1, job.limit_s, PRINTING if job.pdf else CHECKING)
    return pool
