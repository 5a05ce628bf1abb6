"""Many drawings as a few calls: checked or printed through any executor, each result as it comes.

Knows:  how drawings become jobs for an executor, and how finished PDFs become files.
Leaves: what is done with one drawing (archive.work), the order and what breaks (archive.through), where it runs.
Units:  seconds.

    import seamwright
    for done in seamwright.check_many(paths, size="8in", jobs=4):
        print(done.drawing, done.state.value)

Without an executor the work is done by processes of this computer that are ended where they hang or fall over; a
script that asks for that keeps its own first lines behind `if __name__ == "__main__":`, as for every use of
multiprocessing. With one it is done wherever that does it: `ThreadPoolExecutor`, `ProcessPoolExecutor`,
`dask.distributed.Client(...).get_executor(pure=False)`; there, drawings and palettes must be found under the same
paths. PDFs are written by whoever calls, so a cluster needs no folder in common for them.
"""

from __future__ import annotations

import errno
from collections.abc import Callable, Iterable, Iterator
from concurrent.futures import Executor, Future
from contextlib import ExitStack
from dataclasses import replace
from functools import partial
from os import PathLike
from pathlib import Path

from seamwright import outfiles
from seamwright.archive.already import Already
from seamwright.archive.model import Done, Job, Words
from seamwright.archive.through import in_turn
from seamwright.archive.work import CHECKING, PRINTING, do, failed, guarded, lost
from seamwright.asked import Text, split_size, texts_of
from seamwright.errors import LibraryError, OptionError, SeamwrightError, fail
from seamwright.output import make_folder, may_use_folder, write_ours

AHEAD_EACH, AHEAD = 16, 256
"""Drawings under way or waiting to be told: for each process of ours; with somebody else's executor."""
FULL = (errno.ENOSPC, errno.EDQUOT, errno.EROFS)
"""Where one file cannot be written for these reasons, none can."""

Drawing = str | PathLike[str]


def check_many(
    drawings: Iterable[Drawing],
    executor: Executor | None = None,
    *,
    jobs: int = 1,
    limit_s: float | None = None,
    ahead: int = 0,
    words: Words = Words.NONE,
    objects: bool = True,
    **options: Text,
) -> Iterator[Done]:
    """What comes of each drawing, in the order given, as soon as it and all before it are known.

    Whatever is wrong with a drawing is its own result, also that its process hung, fell over or ran out of memory.
    With an executor that holds where `limit_s` is given: then a process beside each of its threads or processes
    takes the harm. Without it a crash ends whoever does the work: this process, if that is one of its threads; a
    pool of processes breaks, and goes on as processes of ours; what a cluster does then is its own affair.

    Args:
        drawings: paths, each with a size behind it if wanted; taken as they are needed, so there may be any number.
        executor: where the work is done, kept and ended by whoever made it; None: by `jobs` processes.
        jobs: how many of those, 1 to 256.
        limit_s: longest time for one drawing; None: none.
        ahead: how many drawings may be under way or waiting to be told at a time; 0: 16 for each of our processes,
            256 with an executor. A cluster has use for a few for each of its threads.
        words, objects: whether results hold words for people and data for programs.
        options: as for `read_block`.

    Raises:
        OptionError: an option cannot be used.
        what the executor raises when it cannot be asked any more.
    """
    given = tuple(texts_of(options))
    questions = (Job(str(drawing), given, objects=objects, words=words) for drawing in drawings)
    return _through(questions, executor, jobs, limit_s, ahead, CHECKING)


def print_many(
    drawings: Iterable[Drawing | tuple[Drawing, str]],
    folder: Drawing,
    executor: Executor | None = None,
    *,
    jobs: int = 1,
    limit_s: float | None = None,
    ahead: int = 0,
    words: Words = Words.NONE,
    objects: bool = True,
    force: bool = False,
    **options: Text,
) -> Iterator[Done]:
    """Prints each drawing into a PDF of its own, the same that it would have by itself, and tells what came of it.

    A PDF is written when its result is given out, whole or not at all. One that is there already and was made in
    this folder of the same drawing, with the same options, is left as it is: a run that was stopped goes on when it
    is begun once more. A hidden file in the folder, `.seamwright-prints`, keeps what each was made of.

    Args:
        drawings: paths; or (path, name), where name is the PDF's within the folder, folders inside it included.
            Without a name it is the drawing's own, ending in .pdf.
        folder: made if it is not there.
        force: make all anew, and write over files that are not ours.
        others: as for `check_many`; options of prints are options too.

    Raises:
        OptionError, LibraryError: as `write_pdf`. FileError: the folder cannot be used, or its disk is full.
        what the executor raises when it cannot be asked any more.
    """
    out, given = Path(folder), tuple(texts_of(options))
    may_use_folder(out)
    already = Already(out)
    outfiles.cairo_is_here()
    asked = Job("", given, objects=objects, words=words)
    questions = _to_print(drawings, out, already, asked, force=force)
    return _written(_through(questions, executor, jobs, limit_s, ahead, PRINTING), out, already, asked, force=force)


def _through(
    questions: Iterable[Job | Future[Done]],
    executor: Executor | None,
    jobs: int,
    limit_s: float | None,
    ahead: int,
    modules: tuple[str, ...],
) -> Iterator[Done]:
    from seamwright.processes import MOST, Processes

    if not 1 <= jobs <= MOST or (limit_s is not None and not 0 < limit_s < float("inf")) or ahead < 0:
        what = f"jobs={jobs}, limit_s={limit_s}, ahead={ahead} cannot be used"
        raise fail(
            OptionError, "option", what, f"jobs goes from 1 to {MOST}, limit_s lies above 0, ahead not below"
        )

    def through() -> Iterator[Done]:
        with ExitStack() as stack:
            if executor is None:
                own = stack.enter_context(Processes(jobs, limit_s, modules))
                told = partial(lost, limit_s=limit_s)
                yield from in_turn(do, questions, own, ahead or AHEAD_EACH * jobs, told)
                return
            work: Callable[[Job], Done] = do if limit_s is None else guarded
            limited = (q if isinstance(q, Future) else replace(q, limit_s=limit_s) for q in questions)
            yield from in_turn(work, limited, executor, ahead or AHEAD, lost)

    return through()


def _to_print(
    drawings: Iterable[Drawing | tuple[Drawing, str]], out: Path, already: Already, asked: Job, *, force: bool
) -> Iterator[Job | Future[Done]]:
    """A job for each drawing, or its result, if it may not be written where it should."""
    taken: dict[str, str] = {}
    for each in drawings:
        drawing, name = (str(each[0]), each[1]) if isinstance(each, tuple) else (str(each), "")
        name = name or f"{Path(split_size(drawing)[0]).stem}.pdf"
        job = replace(asked, drawing=drawing, pdf=str(out / name), known="" if force else already.key_of(name))
        try:
            other = taken.setdefault(name.casefold(), drawing)
            if other != drawing:
                what = f"{other} is printed as {name} already"
                raise fail(OptionError, "option", what, "Rename one, or print them into two folders")
            _may_print(out / name, job, force=force)
        except LibraryError:
            raise
        except SeamwrightError as error:
            there: Future[Done] = Future()
            there.set_result(failed(job, error))
            yield there
        else:
            yield job


def _may_print(path: Path, job: Job, *, force: bool) -> None:
    drawing = split_size(job.drawing)[0]
    if path.parent.is_dir():
        outfiles.may_write_pdf(path, [drawing], force=force)
    else:
        may_use_folder(path.parent)


def _written(results: Iterator[Done], out: Path, already: Already, asked: Job, *, force: bool) -> Iterator[Done]:
    for done in results:
        if not done.pdf:
            yield done
            continue
        path = Path(done.file)
        try:
            make_folder(path.parent)
            write_ours(path, done.pdf, [split_size(done.drawing)[0]], force=force)
        except SeamwrightError as error:
            if getattr(error.__cause__, "errno", None) in FULL:
                raise
            yield failed(replace(asked, drawing=done.drawing, pdf=done.file), error)
            continue
        already.made(path.relative_to(out).as_posix(), done.key, done.pdf)
        yield replace(done, pdf=b"")
