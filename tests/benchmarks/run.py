"""Speed as ratios within one run: `python tests/benchmarks/run.py`.

Every figure is the median of several rounds, the thing measured and its floor in turn, so that a machine that
slows down slows both. Nothing here is a test: times on a shared machine say nothing alone, ratios do.
"""

from __future__ import annotations

import argparse
import contextlib
import io
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from dataclasses import dataclass, replace
from pathlib import Path

START = "from seamwright.cli import run; run()"
ROOT = Path(__file__).parent.parent.parent
sys.path.insert(0, str(ROOT / "tests"))


@dataclass(frozen=True)
class Figure:
    """One measured ratio and the most it should be."""

    what: str
    floor: str
    ratio: float
    at_most: float
    seconds: float


def main() -> None:
    print(f"{'what':44} {'against':46} {'ratio':>7} {'at most':>8} {'median':>9}")
    for measure in (start_up, check_one, ten_sheets, check_many, trims_proven):
        figure = measure()
        print(
            f"{figure.what:44} {figure.floor:46} {figure.ratio:7.2f} {figure.at_most:8.2f} "
            f"{figure.seconds * 1000:6.0f} ms",
            flush=True,
        )


def start_up() -> Figure:
    """`--help` against a script that builds a parser of the same commands and prints its help."""
    ratio, seconds = side_by_side(
        lambda: process("-c", START, "--help"),
        lambda: process("-c", same_parser()),
        rounds=15,
    )
    return Figure("seamwright --help", "the same parser alone", ratio, 1.3, seconds)


def check_one() -> Figure:
    """`check` of an 80-patch block of 12 in, against a Python that only imports two libraries."""
    from seamwright.drawing.textform import write_seams
    from seamwright.piecing.decide import decide
    from seamwright.piecing.seammap import SeamMap
    from support.random_blocks import large_cut_block

    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "large.seams"
        path.write_text(write_seams(large_cut_block(1, 80, size=12.0)), encoding="utf-8")
        # A drawing that is stuck would measure the search for its mends.
        assert decide(SeamMap(read(path))).stuck == ()
        ratio, seconds = side_by_side(
            lambda: process("-c", START, "check", str(path)),
            lambda: process("-c", "import shapely, networkx"),
            rounds=9,
        )
    return Figure("check, 80 patches", "import shapely, networkx", ratio, 1.5, seconds)


def ten_sheets() -> Figure:
    """A ten-sheet print file, from plan to measured bytes, against cairosvg's conversion of the same pages."""
    import cairosvg

    from seamwright.foundation.make import foundations
    from seamwright.ink.svg import to_svg
    from seamwright.options import PrintOptions
    from seamwright.piecing.plan import plan
    from seamwright.sheet.layout import lay_out
    from seamwright.sheet.pdf import to_pdf
    from seamwright.sheet.readback import read_back

    with tempfile.TemporaryDirectory() as folder:
        block = read(random_drawing(Path(folder), patches=40, seed=2))
    planned = plan(block)
    prints = foundations(planned)
    how = PrintOptions()
    while len(lay_out([(planned, prints)], paper="letter", printing=how)) < 10:
        how = replace(how, copies=how.copies + 1)

    def whole() -> None:
        sheets = lay_out([(planned, foundations(planned))], paper="letter", printing=how)[:10]
        read_back(to_pdf(sheets, title="ten sheets", made_from="benchmark"), sheets)

    ten = lay_out([(planned, prints)], paper="letter", printing=how)[:10]
    pages = [to_svg(s.ink, s.width_pt, s.height_pt, "pt") for s in ten]

    def floor() -> None:
        for page in pages:
            cairosvg.svg2pdf(bytestring=page.encode())

    ratio, seconds = side_by_side(whole, floor, rounds=5)
    return Figure("10 sheets, laid out, printed, read back", "cairosvg on the same pages", ratio, 2.5, seconds)


def check_many() -> Figure:
    """200 drawings of 20 patches in one `check`: each one against the start-up of that command."""
    from seamwright.cli import main as command

    with tempfile.TemporaryDirectory() as folder:
        paths = [str(random_drawing(Path(folder), patches=20, seed=100 + n)) for n in range(200)]

        def all_of_them() -> None:
            with contextlib.redirect_stdout(io.StringIO()):
                command(["check", *paths])

        ratio, seconds = side_by_side(all_of_them, lambda: process("-c", START, "check", paths[0]), rounds=3)
    return Figure("check, each of 200 drawings of 20 patches", "start-up of check", ratio / 200, 0.1, seconds / 200)


def trims_proven() -> Figure:
    """The proof of trim lines of all designs, against the making of their foundations."""
    from seamwright.claims.plans import printed_trims, trim_claim_of
    from seamwright.foundation.make import foundations
    from seamwright.proof.trimmed import check_trims
    from support.prints import designs, planned

    plans = [made for made in map(planned, designs()) if made.sections]
    prints = [foundations(made) for made in plans]

    def proof() -> None:
        for made, printed in zip(plans, prints, strict=True):
            check_trims(trim_claim_of(made, printed_trims(made, printed)))

    ratio, seconds = side_by_side(proof, lambda: [foundations(made) for made in plans], rounds=3)
    return Figure("trim lines of all designs proven", "their foundations made", ratio, 0.3, seconds)


def side_by_side(ours: Callable[[], object], floor: Callable[[], object], rounds: int) -> tuple[float, float]:
    """(median ratio, median seconds of ours), taken in turn after one warm-up of each."""
    ours()
    floor()
    times = [(timed(ours), timed(floor)) for _ in range(rounds)]
    return statistics.median(a / b for a, b in times), statistics.median(a for a, _ in times)


def timed(call: Callable[[], object]) -> float:
    begin = time.perf_counter()
    call()
    return time.perf_counter() - begin


def process(*words: str) -> None:
    subprocess.run([sys.executable, *words], check=False, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)


def same_parser() -> str:
    """Source of a script that builds the command line's own parser, option by option, and prints its help."""
    from seamwright.cli import build_parser

    parser = build_parser()
    lines = [
        "import argparse",
        f"p = argparse.ArgumentParser(prog='seamwright', description={parser.description!r})",
    ]
    for action in parser._actions:
        if isinstance(action, argparse._SubParsersAction):
            lines.append("s = p.add_subparsers()")
            for name, sub in action.choices.items():
                lines.append(f"c = s.add_parser({name!r}, description={sub.description!r}, epilog={sub.epilog!r})")
                lines += [
                    f"c.add_argument({', '.join(map(repr, a.option_strings or [a.dest]))}, help={a.help!r})"
                    for a in sub._actions
                    if not isinstance(a, argparse._HelpAction)
                ]
    return "\n".join([*lines, "p.print_help()"])


def random_drawing(folder: Path, patches: int, seed: int) -> Path:
    """A text drawing of a random block that can be sewn."""
    from seamwright.drawing.textform import write_seams
    from support.random_blocks import cut_block

    path = folder / f"random-{patches}-{seed}.seams"
    path.write_text(write_seams(cut_block(seed, patches)), encoding="utf-8")
    return path


def read(path: Path):
    from seamwright.block.make import make_block
    from seamwright.drawing.read import read_drawing

    return make_block(read_drawing(path))


if __name__ == "__main__":
    main()
