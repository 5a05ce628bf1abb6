"""The options that commands offer, in groups, each with its help.

Knows:  which options belong together, their one-line help.
Leaves: what an option's text means (optiontext), which command offers which group (parser).
Limits: argparse's values stay text here; one reader serves the command line and the text form of a drawing.
"""

from __future__ import annotations

TYPE_CHECKING = False
if TYPE_CHECKING:  # nothing is imported to show help
    from argparse import ArgumentParser
    from collections.abc import Iterable

SHARED_OPTIONS = (
    *("size", "stretch", "tolerance", "allowance", "units", "paper", "margins", "fit", "max-patches"),
    *("start", "priority", "fold-clear", "set-in", "steps", "seconds"),
    *("palette", "colourway", "rotary", "pre-pieced", "reversed"),
)
"""Long names of the options of every command on drawings, which a drawing's text form can hold too."""
PRINT_OPTIONS = (
    *("copies", "sets", "upright", "effort", "landscape", "stock", "unmirrored", "windows", "tints", "ink-saver"),
    *("trial-page", "enlarge", "footer"),
)
"""Long names of the options of prints, which a drawing's text form can hold too."""

CUT_OPTIONS = ("blocks", "spare", "cloth", "stack")
"""Long names of the options of cutting lists, which a drawing's text form can hold too."""
BOOK_OPTIONS = ("students", "level", "hours", "large-type", "left-handed")
"""Long names of the options of booklets, which a drawing's text form can hold too."""

ITS_ROWS = {
    "size": "sizes of its blocks stand in its block lines: block kite kite.svg size 8 in",
    "stretch": "sizes of its blocks stand in its block lines: block kite kite.svg size 8 in",
    "colourway": "colourways stand in its rows: row kite in dusk",
    "reversed": "its rows say which blocks are reversed: row kite reversed",
    "blocks": "how many blocks there are follows from its rows",
}
"""Options that say of a block what the file of a quilt says in another way."""

OPTION_NAMES = (*SHARED_OPTIONS, *PRINT_OPTIONS, *CUT_OPTIONS, *BOOK_OPTIONS)
"""All of them."""


def add_drawings(command: ArgumentParser, *, quilts: bool = True) -> None:
    """The drawings that a command takes, and the quilts made of them."""
    whole = "; or the .setting file of a quilt, for all of it" if quilts else ""
    command.add_argument_group("drawings").add_argument(
        "drawings",
        nargs="*",
        metavar="DRAWING[@SIZE]",
        help="SVG drawing or .seams text file; @8in behind its name is the finished width of this one" + whole,
    )


def add_many(command: ArgumentParser, what: str) -> None:
    """Options of many drawings; `what`: what a folder stands for, in lines that are not broken again."""
    many = command.add_argument_group("many drawings", what)
    many.add_argument(
        "--jobs",
        metavar="N",
        help="work on N drawings at a time, 1 to 256 (default: 1), each in a process of its own, so that one that "
        "falls over takes no other with it; what is told, and in which order, is the same for any N",
    )
    many.add_argument(
        "--limit",
        metavar="SECONDS",
        help="stop a drawing that takes longer than this, and go on with the next (default: 600)",
    )
    many.add_argument(
        "--lines",
        action="store_true",
        help="print the findings for programs as they come, in the order of the drawings: one JSON object a line, "
        "the same that --json gives of one drawing",
    )


def add_print(command: ArgumentParser) -> None:
    """Options of prints."""
    prints = command.add_argument_group("how it is printed (a .seams file can hold these too)")
    prints.add_argument(
        "--copies",
        metavar="N",
        help="print every foundation N times, 1 to 500 (default: 1), of a quilt for N quilts; templates of plain "
        "pieces are used again: copies that share sheets share them",
    )
    prints.add_argument(
        "--sets",
        metavar="HOW",
        help="packed (default): copies share sheets, so that the fewest are printed; apart: every copy is a set of "
        "sheets of its own, all sets alike, with a line for a name, to hand out in class",
    )
    prints.add_argument(
        "--upright",
        action="store_true",
        help="keep every print as it lies in the block, even if that takes more sheets",
    )
    prints.add_argument(
        "--effort",
        metavar="N",
        help="how often each print is tried on a sheet to find a way with fewer of them (default: 250)",
    )
    prints.add_argument(
        "--landscape",
        action="store_true",
        help="sheets lie on their long side; margins turn with the paper, and as printers turn it either way, both "
        "short sides keep the larger of top and bottom; sections are planned to fit upright sheets all the same",
    )
    prints.add_argument(
        "--stock",
        metavar="WHAT",
        help="paper (default) or freezer: freezer paper is ironed on, folded and used again, so what comes often "
        "is printed once for every 4 places; try one sheet first, and none in a laser printer unless its maker "
        "allows it",
    )
    prints.add_argument(
        "--unmirrored",
        action="store_true",
        help="front views of all sections, to cut by, to look at or to choose a motif with; not for sewing on",
    )
    prints.add_argument(
        "--windows",
        action="store_true",
        help="each patch as a frame to lay on fabric until the motif shows in it, in place of the foundations",
    )
    prints.add_argument(
        "--tints", action="store_true", help="tint each patch by the value of its fabric, at most 15 percent grey"
    )
    prints.add_argument(
        "--ink-saver",
        action="store_true",
        help="thinner lines that a copier still keeps, no tints, no bold words: about a fifth less ink",
    )
    prints.add_argument(
        "--trial-page",
        action="store_true",
        help="a first page with check squares and long lines only, to print and measure before the rest",
    )
    prints.add_argument(
        "--enlarge",
        metavar="TIMES",
        help="for the classroom wall, not to sew on: 3 or 300%% as large, in parts to glue",
    )
    prints.add_argument(
        "--footer", metavar="WORDS", help="your own words on every sheet: name, copying permission, edition, date"
    )


def add_shared(command: ArgumentParser, *, file: str = ".seams") -> None:
    """Options of plans, which every command on drawings has; `file`: the ending of what can hold them too."""
    shared = command.add_argument_group(f"options that a {file} file can hold too (the command line wins)")
    shared.add_argument(
        "--size", help="finished size: 8in is the width, 8x12in width and height (default: as drawn)"
    )
    shared.add_argument("--stretch", action="store_true", help="let --size change the shape of the drawing")
    shared.add_argument("--tolerance", metavar="LENGTH", help="largest gap or wobble tidied away (default: 1/16in)")
    shared.add_argument("--allowance", metavar="LENGTH", help="seam allowance (default: 1/4in, metric 0.75cm)")
    shared.add_argument("--units", metavar="UNITS", help="measures on paper and in words: inch (default) or metric")
    shared.add_argument(
        "--paper",
        metavar="NAME",
        help="letter (default), a4, legal, tabloid, a3, half-letter, executive, super-tabloid (13 x 19 in), a3+, "
        "a5, a2, a1, a0, iso-b5, iso-b4, jis-b5 or jis-b4; or any width x height, such as 20x30cm, 8x10in, or "
        "24x36in of a roll",
    )
    shared.add_argument(
        "--margins",
        metavar="LENGTH",
        help="what your printer leaves white: one length, or four for top, right, bottom, left of the upright "
        "paper, the top entering the printer first (default: 1/4in,1/4in,1/2in,1/4in)",
    )
    shared.add_argument(
        "--fit",
        metavar="WHAT",
        help="sheet (default): every section fits a sheet where any plan allows it, Letter and A4 alike if --paper "
        "is letter, so that a class with both has one set of letters; none: sections may print in parts to glue, "
        "also where that only saves a sheet",
    )
    shared.add_argument(
        "--max-patches",
        metavar="N",
        help="no section has more patches than this, even if that takes more sections; 1: plain pieces only "
        "(default: any number)",
    )
    shared.add_argument(
        "--start",
        metavar="PATCH,...",
        help="the patch that its section starts with, by the name it has without this option, such as A4; "
        "of several sections A4,B2 (names then follow the new order)",
    )
    shared.add_argument(
        "--priority",
        metavar="WHAT",
        help="fewest (default): fewest sections; repeats: fewest different prints first, so that a block of one "
        "unit comes out as one foundation printed often, even if that takes more sections",
    )
    shared.add_argument(
        "--fold-clear",
        action="store_true",
        help="only steps whose fold line runs clear of all that is sewn before, even if that takes more sections "
        "(without it such steps are preferred; only inside corners and curves make others)",
    )
    shared.add_argument(
        "--set-in",
        action="store_true",
        help="sew a stuck drawing as it is, with seams that turn at a point (set in) or are sewn in two goes "
        "(partial): as few as can be, each with where to start, stop and pivot",
    )
    shared.add_argument("--steps", metavar="N", help="how long to search for fewer sections (default: 2000000)")
    shared.add_argument("--seconds", metavar="N", help="end that search by the clock as well (default: never)")
    shared.add_argument(
        "--palette",
        metavar="FILE",
        help="recolour the block without touching its drawing: a text file of fabric lines (and colourways), "
        "matched by name, else by exact colour, as seamwright text-form shows; in a .seams file its path from it",
    )
    shared.add_argument(
        "--colourway",
        metavar="NAME",
        help="another set of fabrics that the drawing or the palette states; several parted by commas, or all: a "
        "plan of each, the drawing's own fabrics (own) first",
    )
    shared.add_argument(
        "--rotary",
        metavar="WHAT",
        help="never (default): every section of two patches or more is sewn on paper; auto: what a ruler and a "
        "rotary cutter do quicker is left off the paper, the largest units first, wherever this costs no more than "
        "one join each",
    )
    shared.add_argument(
        "--pre-pieced",
        metavar="PATCH+PATCH,...",
        help="neighbours that are sewn together beforehand and laid on as one piece, by the names they have "
        "without this option (and without --start), such as A2+A3,B1+B2; what is said of one place of a print "
        "holds for all its places",
    )
    shared.add_argument(
        "--reversed",
        action="store_true",
        help="the mirror image of the block, for a quilt in which it comes both ways: what is A in the block as "
        "drawn is Ar in it, and is printed reversed; --start and --pre-pieced keep the names of the block as drawn",
    )


def leave_out_of_help(command: ArgumentParser, names: Iterable[str]) -> None:
    """Says nothing of these options: they are read, so that whoever gives one is told what serves in its place."""
    from argparse import SUPPRESS

    hidden = {f"--{name}" for name in names}
    for action in command._actions:
        if hidden & {*action.option_strings}:
            action.help = SUPPRESS


def add_cut(command: ArgumentParser, *, file: str = ".seams") -> None:
    """Options of cutting lists; `file` as in `add_shared`."""
    cuts = command.add_argument_group(f"how it is cut (a {file} file can hold these too)")
    cuts.add_argument("--blocks", metavar="N", help="for so many blocks, 1 to 5000 (default: 1)")
    cuts.add_argument(
        "--spare",
        metavar="PERCENT",
        help="fabric to buy beyond what is cut, for shrinkage and mistakes (default: 10)",
    )
    cuts.add_argument(
        "--cloth",
        metavar="WHAT",
        help="bolt (default): strips across the width of the fabric; fat-quarters: pieces of 18 x 21 in "
        "(50 x 55 cm)",
    )
    cuts.add_argument(
        "--stack",
        action="store_true",
        help="list the pieces section by section, to be stacked and labelled, in place of fabric by fabric; a PDF "
        "then has a page of labels",
    )


def add_book(command: ArgumentParser) -> None:
    """Options of booklets."""
    book = command.add_argument_group("the booklet (a .seams file can hold these too)")
    book.add_argument("--students", metavar="N", help="a list of kits for a class of N, 1 to 500 (default: 1)")
    book.add_argument(
        "--level", metavar="WORDS", help="for whom it is, in your words (default: worked out from the plan)"
    )
    book.add_argument("--hours", metavar="N", help="how long one block takes (default: worked out from the plan)")
    book.add_argument("--large-type", action="store_true", help="all words a third larger")
    book.add_argument("--left-handed", action="store_true", help="pictures of hands and needle for the left hand")
