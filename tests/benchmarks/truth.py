"""How true the paper is: `python tests/benchmarks/truth.py [DESIGN...]`, the largest errors of each design in mm.

Check squares, long lines and fitted stitch lines as four engines show them at 600 dots to the inch, corners among
the file's own operators; then the size of each file, and what reading it back costs beside drawing it.
"""

from __future__ import annotations

import argparse
import shutil
import statistics
import sys
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent.parent))


def main() -> None:
    """Prints the table."""
    from seamwright.api import lay_out
    from seamwright.sheet.pdf import to_pdf
    from seamwright.sheet.readback import read_back
    from support.measure import DPI, ENGINES, PROGRAMS, Errors, Page, corner_error_mm, errors_of
    from support.prints import designs, planned

    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("designs", nargs="*", help="file names; all if none are given")
    wanted = parser.parse_args().designs
    engines = [name for name in ENGINES if name not in PROGRAMS or shutil.which(PROGRAMS[name])]
    print(
        f"{'design':24} {'sheets':>6} {'kB':>5} {'engine':12} {'squares':>8} {'lines':>8} {'stitches':>9}  measured"
    )
    worst = {name: Errors() for name in engines}
    corners, ratios = 0.0, []
    for path in designs():
        plan = planned(path)
        if not plan.sections or (wanted and path.name not in wanted):
            continue
        sheets = lay_out(plan)
        started = time.perf_counter()
        pdf = to_pdf(sheets, title=path.stem, made_from="benchmark")
        drawn = time.perf_counter()
        read_back(pdf, sheets)
        ratios.append((time.perf_counter() - drawn) / (drawn - started))
        corners = max(corners, *(corner_error_mm(pdf, n, sheet, plan)[0] for n, sheet in enumerate(sheets)))
        for name in engines:
            errors = Errors()
            for n, sheet in enumerate(sheets):
                errors |= errors_of(Page(ENGINES[name](pdf, n, DPI), sheet), plan)
            worst[name] |= errors
            print(f"{path.name:24} {len(sheets):6} {len(pdf) / 1000:5.0f} {_row(name, errors)}", flush=True)
    for name in engines:
        print(f"{'all designs':37} {_row(name, worst[name])}")
    print(f"corners among the operators: {corners:.4f} mm at most")
    print(f"reading back takes {statistics.median(ratios):.2f} of the time of drawing the pages (median)")


def _row(name: str, errors: object) -> str:
    from support.measure import Errors

    assert isinstance(errors, Errors)
    found = (errors.squares[0], errors.lines[0], errors.stitches[0])
    return f"{name:12} {found[0]:8.4f} {found[1]:8.4f} {found[2]:9.4f}  {errors.measured} of {errors.lines_in_all}"


if __name__ == "__main__":
    main()
