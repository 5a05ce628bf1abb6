"""The pictures of the page about piecing: `python tests/support/piecing_pictures.py` makes them anew.

They are drawn from plans that the tool makes, so they change when it does; a test holds the files against this.
Each is a row of panels with letters; the page says what they show.
"""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

ROOT = Path(__file__).parent.parent.parent
sys.path.insert(0, str(ROOT / "tests"))

from seamwright import mending  # noqa: E402
from seamwright.block.make import make_block  # noqa: E402
from seamwright.block.model import Block  # noqa: E402
from seamwright.drawing.read import read_drawing  # noqa: E402
from seamwright.geometry import Point, Ring  # noqa: E402
from seamwright.ink.lettering import centred  # noqa: E402
from seamwright.ink.model import Area, Ink, Pen, Stroke, Words  # noqa: E402
from seamwright.ink.place import place_words  # noqa: E402
from seamwright.ink.svg import to_svg  # noqa: E402
from seamwright.options import Fit, PlanOptions  # noqa: E402
from seamwright.picture.marks import stuck_marks  # noqa: E402
from seamwright.picture.tints import CHALK, INK, QUIET, TINTS, section_tints  # noqa: E402
from seamwright.piecing.model import Plan  # noqa: E402
from seamwright.piecing.plan import plan  # noqa: E402
from seamwright.piecing.seammap import SeamMap  # noqa: E402
from support.exact import exact_block  # noqa: E402
from support.random_blocks import L_SHAPE, U_SHAPE, grid, spiral, star  # noqa: E402

FOLDER = ROOT / "src" / "seamwright" / "piecing" / "pictures"
PANEL_IN, GAP_IN, LETTER_IN = 1.9, 0.3, 0.28
STUCK, PALE, CUT = "#F6DADD", "#FFFFFF", "#1F6FB2"
"""Ground of a stuck patch, of one that is not sewn yet, and the colour of what is cut and reached."""
FREE = PlanOptions(fit=Fit.NONE)

PINWHEEL = [((0, 2), (4, 2)), ((4, 0), (4, 4)), ((2, 4), (6, 4)), ((2, 2), (2, 6))]
Y = [((3, 3), (0, 0)), ((3, 3), (6, 0)), ((3, 3), (3, 6))]
NEAR_Y = [((0, 1), (3, 3)), ((3, 3), (6, 4.8)), ((3, 3), (3, 6))]
ISLAND = [((2, 2), (4, 2)), ((4, 2), (4, 4)), ((4, 4), (2, 4)), ((2, 4), (2, 2))]
T_CUTS = [((2, 0), (2, 6)), ((2, 3), (6, 3)), ((4, 3), (4, 6)), ((0, 4), (2, 4)), ((2, 4.5), (4, 4.5))]


@dataclass(frozen=True, slots=True)
class Panel:
    """One small picture: inks in a square of PANEL_IN."""

    inks: tuple[Ink, ...]


def panel(
    block: Block,
    *,
    tints: Mapping[int, str],
    names: Sequence[str] = (),
    bold: Iterable[int] = (),
    colour: str = INK,
    dots: Iterable[int] = (),
    marks: Callable[[Callable[[Point], Point]], list[Ink]] | None = None,
) -> Panel:
    """A block with tinted patches, some edges bold in a colour, some points as dots, names where they fit."""
    scale = PANEL_IN / max(block.width_in, block.height_in)
    left, top = (PANEL_IN - block.width_in * scale) / 2, (PANEL_IN - block.height_in * scale) / 2

    def place(p: Point) -> Point:
        return (left + p[0] * scale, top + p[1] * scale)

    def ring(points: Sequence[Point]) -> Ring:
        return tuple(map(place, points))

    heavy = set(bold)
    areas = [(ring(block.patch_ring(n)), *map(ring, block.patch_holes(n))) for n in range(len(block.patches))]
    inks: list[Ink] = [Area(rings, tints.get(n, PALE)) for n, rings in enumerate(areas)]
    for number in sorted(range(len(block.edges)), key=lambda n: n in heavy):
        border = block.edges[number].seam < 0
        pen = Pen.BOLD if border or number in heavy else Pen.STITCH
        inks.append(Stroke(pen, ring(block.edge_points(number)), colour=colour if number in heavy else INK))
    inks += [Area((_dot(place(block.points[p])),), CUT) for p in dots]
    drawn = marks(place) if marks else []
    inks += drawn
    kept_clear = [ink.rings[0] for ink in drawn if isinstance(ink, Area)]
    for number, name in enumerate(names):
        outer, *holes = areas[number]
        words = place_words(outer, name, (9, 8, 7, 6, 5), holes=holes, obstacles=kept_clear, clearance_pt=1.0)
        if words is not None:
            inks.append(replace(words, colour=INK))
    return Panel(tuple(inks))


def planned(made: Plan, names: bool = True) -> Panel:
    """A plan: its sections tinted, joins bold; what is stuck marked."""
    tints = section_tints(made)
    colours = {patch: tints[s.name] for s in made.sections for patch in s.patches}
    colours |= {patch: STUCK for stuck in made.obstructions for patch in stuck.patches}
    section_of = {patch: s.name for s in made.sections for patch in s.patches}
    joins = [
        n
        for n, edge in enumerate(made.block.edges)
        if edge.seam >= 0 and section_of.get(edge.left) != section_of.get(edge.right)
    ]

    def marks(place: Callable[[Point], Point]) -> list[Ink]:
        return [ink for stuck in made.obstructions for ink in stuck_marks(made.block, stuck, place)]

    return panel(made.block, tints=colours, names=made.patch_names() if names else (), bold=joins, marks=marks)


def rounds(block: Block, count: int) -> list[Panel]:
    """Cutting round by round: reached points as dots, what is cut in its colour."""
    seams = SeamMap(block)
    reached = {p for p in range(len(block.points)) if seams.on_outline[p]}
    cut: set[int] = set()
    found = []
    for _ in range(count):
        found.append(panel(block, tints={}, bold=cut, colour=CUT, dots=sorted(reached)))
        fresh: set[int] = set()
        for seam in block.seams:
            places = [k for k, p in enumerate(seam.points) if p in reached]
            if len(places) > 1:
                cut.update(seam.edges[places[0] : places[-1]])
                fresh.update(seam.points[places[0] : places[-1] + 1])
        reached |= fresh
    return found


def mended(block: Block, *kinds: str) -> list[Panel]:
    """A stuck block, and the same after the first mend of each kind."""
    stuck = plan(block, FREE)
    first = {kind: next(mend for mend in mending.mends(stuck) if mend.kind == kind) for kind in kinds}
    return [planned(stuck), *(planned(plan(mending.apply_mends(block, [mend]), FREE)) for mend in first.values())]


def sewn(made: Plan, counts: Sequence[int]) -> list[Panel]:
    """The only section of a plan after so many steps; the line sewn last is bold."""
    (section,) = made.sections
    between = {frozenset((e.start, e.end)): n for n, e in enumerate(made.block.edges)}
    found = []
    for count in counts:
        done, step = section.patches[:count], section.steps[count - 1]
        tints = {patch: TINTS[k % len(TINTS)] for k, patch in enumerate(done)}
        names = [str(done.index(n) + 1) if n in done else "" for n in range(len(made.block.patches))]
        line = [between[frozenset(pair)] for pair in zip(step.stitch, step.stitch[1:], strict=False)]
        found.append(panel(made.block, tints=tints, names=names, bold=line, colour=CUT))
    return found


def strip(panels: Sequence[Panel]) -> str:
    """Panels in a row, each with its letter below, as an SVG document."""
    inks: list[Ink] = []
    for number, one in enumerate(panels):
        x = GAP_IN + number * (PANEL_IN + GAP_IN)
        inks += [_moved(ink, x, GAP_IN) for ink in one.inks]
        letter = "abcdefgh"[number]
        inks.append(centred(letter, (x + PANEL_IN / 2, GAP_IN + PANEL_IN + LETTER_IN), 9, bold=True, colour=QUIET))
    width = GAP_IN + len(panels) * (PANEL_IN + GAP_IN)
    return to_svg(inks, width, PANEL_IN + 2 * GAP_IN + LETTER_IN, title="", description="", background=CHALK)


def _moved(ink: Ink, x: float, y: float) -> Ink:
    def at(p: Point) -> Point:
        return (p[0] + x, p[1] + y)

    if isinstance(ink, Area):
        return replace(ink, rings=tuple(tuple(map(at, ring)) for ring in ink.rings))
    if isinstance(ink, Words):
        return replace(ink, at=at(ink.at))
    return replace(ink, points=tuple(map(at, ink.points)))


def _dot(at: Point) -> Ring:
    x, y = at
    return tuple(
        (x + 0.035 * a, y + 0.035 * b)
        for a, b in ((1, 0), (0.7, 0.7), (0, 1), (-0.7, 0.7), (-1, 0), (-0.7, -0.7), (0, -1), (0.7, -0.7))
    )


def design(name: str) -> Block:
    """A block that comes with the project."""
    return make_block(read_drawing(ROOT / "designs" / name))


def pictures() -> dict[str, str]:
    """Every picture by its file name."""
    return {
        "reached.svg": strip(rounds(exact_block(T_CUTS), 4)),
        "peeling.svg": strip(sewn(plan(spiral(4), FREE), (1, 2, 3, 5))),
        "stuck.svg": strip(
            [
                planned(plan(exact_block(lines)))
                for lines in (PINWHEEL, Y, [((0, 2), (3, 3)), ((3, 3), (6, 2))], ISLAND)
            ]
        ),
        "graph.svg": strip(
            [
                planned(plan(exact_block([*PINWHEEL, ((0, 3), (6, 3))]), FREE)),
                planned(plan(exact_block([((3, 3), e) for e in ((3, 0), (6, 2), (5, 6), (1, 6), (0, 2))]))),
                planned(
                    plan(
                        exact_block(
                            [((0, 3), (6, 3)), ((3, 3), (0, 6)), ((0, 0), (4.5, 4.5)), ((1.5, 4.5), (6, 4.5))]
                        ),
                        FREE,
                    )
                ),
            ]
        ),
        "runs.svg": strip(
            [
                planned(plan(exact_block([((0, 4), (2, 2))], U_SHAPE), FREE)),
                planned(
                    plan(
                        exact_block(
                            [((3, 4), (2, 0)), ((2.75, 3), (3, 3)), ((6, 2), (2.5, 2)), ((0, 5), (6, 1))], L_SHAPE
                        ),
                        FREE,
                    )
                ),
                planned(plan(exact_block([((0, 4), (2, 4)), ((4, 5), (6, 5))], U_SHAPE), FREE)),
                planned(plan(exact_block([((3, 3), (2, 6))], L_SHAPE), FREE)),
            ]
        ),
        "fewest.svg": strip(
            [
                planned(plan(grid(3, 3), FREE)),
                planned(plan(star(4), FREE)),
                planned(plan(design("compass-star.seams"), FREE), names=False),
            ]
        ),
        "mends.svg": strip(mended(exact_block(NEAR_Y), "move a point", "continue a seam")),
        "curves.svg": strip(
            [
                planned(plan(design("lamp.seams"), FREE)),
                planned(plan(exact_block(Y), replace(FREE, set_in=True))),
                planned(plan(exact_block(PINWHEEL), replace(FREE, set_in=True))),
            ]
        ),
    }


def main() -> None:
    """Writes the pictures; what is no longer made is taken away."""
    FOLDER.mkdir(exist_ok=True)
    made = pictures()
    for old in FOLDER.glob("*.svg"):
        if old.name not in made:
            old.unlink()
    for name, svg in made.items():
        (FOLDER / name).write_text(svg, encoding="utf-8")
        print(f"{name}: {len(svg) / 1000:.0f} kB")


if __name__ == "__main__":
    main()
