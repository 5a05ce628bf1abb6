"""Each step of the tool against the least that must happen there, measured in turn.

Knows:  what is run, what its floor is, the most the ratio should be. The page says why (README.md beside this).
Leaves: how rounds are taken (measuring), the page's server (page), whole quilts (quilt), what is run (stages).
"""

from __future__ import annotations

import contextlib
import io
import tempfile
from collections.abc import Callable
from pathlib import Path

from many import beside, two_jobs
from measuring import Figure, process, side_by_side
from stages import Bench

from seamwright.block.model import Block

START = "from seamwright.cli import run; run()"


def start_up(small: bool) -> Figure:
    """`--help` against a script that builds a parser of the same commands and prints its help."""
    parser = same_parser()
    ratio, seconds = side_by_side(
        lambda: process("-c", START, "--help"), lambda: process("-c", parser), rounds=1 if small else 15
    )
    return Figure("seamwright --help", "the same parser alone", ratio, 1.3, seconds)


def check_one(small: bool) -> Figure:
    """`check` of an 80-patch block of 12 in, against a Python that only imports two libraries."""
    from support.random_blocks import large_cut_block

    with tempfile.TemporaryDirectory() as folder:
        path = written(Path(folder), large_cut_block(1, 10 if small else 80, size=12.0))
        ratio, seconds = side_by_side(
            lambda: process("-c", START, "check", str(path)),
            lambda: process("-c", "import shapely, networkx"),
            rounds=1 if small else 9,
        )
    return Figure("check, 80 patches", "import shapely, networkx", ratio, 1.5, seconds)


def check_many(small: bool) -> Figure:
    """Many drawings of 20 patches in one `check`: each one against the start-up of that command."""
    from seamwright.cli import main as command
    from support.random_blocks import cut_block

    count = 2 if small else 100
    with tempfile.TemporaryDirectory() as folder:
        paths = [str(written(Path(folder), cut_block(100 + n, 20), f"random-{n}")) for n in range(count)]

        def all_of_them() -> None:
            with contextlib.redirect_stdout(io.StringIO()):
                assert command(["check", *paths]) == 0  # a stuck one would measure the search for its mends

        ratio, seconds = side_by_side(
            all_of_them, lambda: process("-c", START, "check", paths[0]), rounds=1 if small else 3
        )
    what = "check, each of many drawings of 20 patches"
    return Figure(what, "start-up of check", ratio / count, 0.1, seconds / count)


def reading(small: bool) -> Figure:
    """The reader of SVG against a plain reading of the same XML."""
    from defusedxml import ElementTree

    bench = Bench(10 if small else 400)

    def floor() -> None:
        for element in ElementTree.fromstring(bench.source).iter():
            for name in ("x1", "y1", "x2", "y2"):
                float(element.get(name, "0"))

    ratio, seconds = side_by_side(bench.stage("reading"), floor, rounds=1 if small else 15)
    return Figure(f"reading an SVG, {bench.patches} patches", "its XML parsed, its numbers read", ratio, 0, seconds)


def tidying(small: bool) -> Figure:
    """Tidying against GEOS, which nodes and closes the same lines but mends nothing."""
    from shapely import MultiLineString, node, polygonize

    bench = Bench(10 if small else 400).through("reading")
    lines = MultiLineString([(line.start, line.end) for line in bench.drawing.lines])
    ratio, seconds = side_by_side(
        bench.stage("tidying"), lambda: polygonize(list(node(lines).geoms)), rounds=1 if small else 9
    )
    return Figure(f"tidying, {bench.patches} patches", "GEOS nodes and closes the lines", ratio, 0, seconds)


def planning(small: bool) -> Figure:
    """A whole plan, fewest sections proven, against GEOS closing the rings of the same edges."""
    from shapely import LineString, polygonize

    bench = Bench(10 if small else 400).through("tidying")
    block = bench.block
    edges = [LineString([block.points[e.start], block.points[e.end]]) for e in block.edges]
    ratio, seconds = side_by_side(bench.stage("planning"), lambda: polygonize(edges), rounds=1 if small else 5)
    return Figure(f"planning, {bench.patches} patches", "GEOS closes the same edges", ratio, 0, seconds)


def proving(small: bool) -> Figure:
    """The checker against the least proof there is: that patches fill the block."""
    from shapely import Polygon, union_all

    bench = Bench(10 if small else 400).through("planning")
    rings = [bench.block.patch_ring(number) for number in range(len(bench.block.patches))]

    def floor() -> None:
        _ = union_all([Polygon(ring) for ring in rings]).area

    ratio, seconds = side_by_side(bench.stage("proof of the plan"), floor, rounds=1 if small else 9)
    return Figure(f"proof of the plan, {bench.patches} patches", "union of the patches", ratio, 0, seconds)


def drawing(small: bool) -> Figure:
    """Foundations against the outlines alone: each section grown by the allowance."""
    bench = Bench(10 if small else 100).through("planning")
    outlines = shapes_of(bench)

    def floor() -> None:
        for outline in outlines:
            outline.buffer(0.25, join_style="mitre")

    ratio, seconds = side_by_side(bench.stage("foundations"), floor, rounds=1 if small else 5)
    return Figure(f"foundations, {bench.patches} patches", "their outlines grown by GEOS", ratio, 0, seconds)


def trims_proven(small: bool) -> Figure:
    """The proof of trim lines against the making of the foundations."""
    bench = Bench(10 if small else 100).through("foundations")
    ratio, seconds = side_by_side(
        bench.stage("proof of trim lines"), bench.stage("foundations"), rounds=1 if small else 5
    )
    return Figure(f"proof of trim lines, {bench.patches} patches", "the foundations made", ratio, 0.3, seconds)


def rehearsing(small: bool) -> Figure:
    """The sewing with cloth against one cut of a piece of cloth for each patch."""
    from shapely import Polygon, box

    bench = Bench(10 if small else 100).through("foundations")
    rings = [Polygon(bench.block.patch_ring(number)) for number in range(len(bench.block.patches))]

    def floor() -> None:
        for ring in rings:
            x0, y0, x1, y1 = ring.bounds
            box(x0 - 1, y0 - 1, x1 + 1, y1 + 1).intersection(ring.buffer(0.25))

    ratio, seconds = side_by_side(bench.stage("rehearsal"), floor, rounds=1 if small else 5)
    return Figure(f"rehearsal, {bench.patches} patches", "each piece grown and cut once", ratio, 0, seconds)


def nesting(small: bool) -> Figure:
    """The layout of sheets against every print turned to each of its angles once, with its air."""
    from shapely import Polygon
    from shapely.affinity import rotate

    from seamwright.sheet.nest import angles

    bench = Bench(10 if small else 100).through("foundations")
    rings = [tuple((72 * x, 72 * y) for x, y in one.trim_outline) for one in bench.prints]

    def floor() -> None:
        for ring in rings:
            for angle in angles(ring):
                rotate(Polygon(ring), angle).buffer(9, join_style="mitre")

    ratio, seconds = side_by_side(bench.stage("layout"), floor, rounds=1 if small else 3)
    what = f"nesting on sheets, {len(bench.prints)} prints"
    return Figure(what, "each print turned to its angles, grown", ratio, 0, seconds)


def printing(small: bool) -> Figure:
    """Sheets from layout to measured bytes, against cairosvg's conversion of the same pages."""
    import cairosvg

    from seamwright.foundation.make import foundations
    from seamwright.ink.svg import to_svg
    from seamwright.sheet.layout import lay_out
    from seamwright.sheet.pdf import to_pdf
    from seamwright.sheet.readback import read_back
    from support.prints import designs, planned

    jobs, pages = [], []
    for made in map(planned, designs()):
        if len(pages) >= (1 if small else 10):
            break
        if made.sections:
            jobs.append((made, foundations(made)))
            pages += [to_svg(s.ink, s.width_pt, s.height_pt, "pt") for s in lay_out(jobs[-1:])]

    def whole() -> None:
        sheets = [sheet for job in jobs for sheet in lay_out([job])]
        read_back(to_pdf(sheets, title="sheets", made_from="benchmark"), sheets)

    def floor() -> None:
        for page in pages:
            cairosvg.svg2pdf(bytestring=page.encode())

    ratio, seconds = side_by_side(whole, floor, rounds=1 if small else 5)
    what = f"{len(pages)} sheets laid out, printed, read back"
    return Figure(what, "cairosvg on the same pages", ratio, 2.5, seconds)


def verdict(small: bool) -> Figure:
    """A verdict through the page's server against the plain call."""
    from page import verdict_figure

    return verdict_figure(1, warm=1) if small else verdict_figure(40)


def quilt_picture(small: bool) -> Figure:
    """The picture and the counts of a quilt against the same bytes written by hand."""
    from quilt import pictures

    return pictures(2 if small else 20, rounds=1 if small else 9)


FIGURES: dict[str, Callable[[bool], Figure]] = {
    "start-up": start_up,
    "check": check_one,
    "many": check_many,
    "folder": beside,
    "jobs": two_jobs,
    "reading": reading,
    "tidying": tidying,
    "planning": planning,
    "proof": proving,
    "foundations": drawing,
    "trims": trims_proven,
    "rehearsal": rehearsing,
    "nesting": nesting,
    "printing": printing,
    "verdict": verdict,
    "quilt": quilt_picture,
}
"""Short names of the figures; each is told whether it is only to be tried, on little."""


def shapes_of(bench: Bench) -> list:
    """The outline of each section as a polygon of shapely."""
    from shapely import Polygon, union_all

    block = bench.block
    rings = [Polygon(block.patch_ring(number)) for number in range(len(block.patches))]
    return [union_all([rings[n] for n in section.patches]) for section in bench.plan.sections]


def written(folder: Path, block: Block, name: str = "random") -> Path:
    """A block as a text drawing."""
    from seamwright.drawing.textwrite import write_seams

    path = folder / f"{name}.seams"
    path.write_text(write_seams(block), encoding="utf-8")
    return path


def same_parser() -> str:
    """Source of a script that builds the command line's own parser, option by option, and prints its help."""
    import argparse

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
