"""The words of the command line: commands, options, help, and what is said about a slip.

Knows:  argparse, and how to turn its messages into sentences.
Leaves: what the commands do (cli), what an option's text means (optiontext).
Limits: only argparse is imported, so that help is there at once. Options stay text here; one reader serves the
        command line and the text form of a drawing.
"""

from __future__ import annotations

import argparse
import re

TYPE_CHECKING = False
if TYPE_CHECKING:  # typing itself is not imported: it is not needed to run
    from typing import Any, NoReturn

SHARED_OPTIONS = (
    *("size", "stretch", "tolerance", "allowance", "units", "paper", "margins", "fit", "max-patches"),
    *("start", "priority", "fold-clear", "set-in", "steps", "seconds"),
)
"""Long names of the options of every command on drawings, which a drawing's text form can hold too."""
PRINT_OPTIONS = (
    *("copies", "sets", "upright", "effort", "landscape", "stock", "unmirrored", "windows", "tints", "ink-saver"),
    *("trial-page", "enlarge", "footer"),
)
"""Long names of the options of prints, which a drawing's text form can hold too."""


class Slip(Exception):
    """A slip in the words of the command line, as a sentence or two."""


class Parser(argparse.ArgumentParser):
    """argparse, except that a slip is told in a sentence and the wall of usage stays away."""

    def __init__(self, **how: Any) -> None:
        super().__init__(**how)
        # "-1in" behind an option is its value, to be told what is wrong with it, and no option.
        self._negative_number_matcher = re.compile(r"-\.?\d")

    def error(self, message: str) -> NoReturn:
        """Raises a Slip instead of ending the program."""
        raise Slip(message)


def build_parser() -> Parser:
    """The parser of all commands, with their help."""
    parser = Parser(
        prog="seamwright",
        description="Turns the line drawing of a quilt block into foundation-paper-piecing templates\n"
        "that sew true.",
        epilog="""examples:
  seamwright check designs/kite.svg
  seamwright foundations designs/kite.svg -o kite.pdf
  seamwright foundations --help

Ends with 0: done; 1: the drawing cannot be sewn as asked; 2: a drawing, option, file or library is wrong or
missing; 3: our own proof failed and nothing was written; 130: stopped by you.""",
        formatter_class=argparse.RawDescriptionHelpFormatter,
        allow_abbrev=False,
    )
    parser.add_argument("--version", action="store_true", help="show the version and end")
    commands = parser.add_subparsers(title="commands", metavar="COMMAND", dest="command")
    _add_check(commands)
    _add_foundations(commands)
    text_form = commands.add_parser(
        "text-form",
        usage="seamwright text-form",
        help="show how a block is typed as a small text file",
        description="Shows how a block is typed as text, in a file whose name ends in .seams.",
        formatter_class=argparse.RawDescriptionHelpFormatter,
        allow_abbrev=False,
    )
    # Taken so that a drawing given by mistake can be told what to do with it.
    text_form.add_argument("drawings", nargs="*", help=argparse.SUPPRESS)
    return parser


def _add_check(commands: argparse._SubParsersAction[Parser]) -> None:
    command = commands.add_parser(
        "check",
        usage="seamwright check DRAWING[@SIZE] ... [options]",
        help="say whether drawings can be sewn, on how few foundations, in what order",
        description="Says whether a drawing can be sewn with straight full seams, on how few foundations, in what\n"
        "order, and how the parts are joined; curves may join sections. If it cannot, says which patches are\n"
        "stuck, where and why. Advice tells what asks for care before cutting: sharp points, narrow patches,\n"
        "many patches at a point, seams that nearly meet, dark fabric beside light.",
        epilog="""examples:
  seamwright check designs/kite.svg
  seamwright check designs/kite.svg --picture kite.png
  seamwright check --json --size 8in designs/kite.svg designs/reef.seams
  seamwright check designs/sea-urchin.svg --mend 1 -o mended.svg
  seamwright check designs/breakwater.seams --set-in
  seamwright check designs/kite.svg --rehearse steps

Ends with 1 if a drawing cannot be sewn with straight full seams only (with --set-in: nor with seams that turn),
with 2 if one cannot be read.""",
        formatter_class=argparse.RawDescriptionHelpFormatter,
        allow_abbrev=False,
    )
    _add_drawings(command)
    command.add_argument("--json", action="store_true", help="print the findings for programs: one JSON array")
    command.add_argument(
        "--picture",
        metavar="OUT",
        help="write a picture of the plan, .svg or .png: the block from the front, sections tinted, patches "
        "numbered, what is stuck and what asks for care marked (one drawing only)",
    )
    command.add_argument(
        "--mend",
        metavar="N",
        action="append",
        help="do the mend of this number, as check lists them, and write the drawing with -o; may be given once "
        "for each place that is stuck",
    )
    command.add_argument(
        "-o", "--output", metavar="OUT", help="the mended drawing to write, .svg or .seams (with --mend)"
    )
    command.add_argument(
        "--rehearse",
        metavar="FOLDER",
        help="sew the plan with simulated cloth, compare what shows with the drawing, and write a picture of every "
        "step, both sides, into a folder (one drawing only)",
    )
    command.add_argument(
        "--force", action="store_true", help="let --picture, --rehearse and -o write over files that are not ours"
    )
    _add_shared(command)


def _add_foundations(commands: argparse._SubParsersAction[Parser]) -> None:
    command = commands.add_parser(
        "foundations",
        usage="seamwright foundations DRAWING[@SIZE] ... -o OUT.pdf [options]",
        help="write a PDF of foundations at true size",
        description="Plans each drawing, proves the plan, and writes one PDF with its foundations at true size:\n"
        "mirrored, numbered, with seam allowance, match marks, check squares and a key; plain pieces are\n"
        "templates as seen from the front, with the ruler's size where a ruler cuts them, one for all that\n"
        "are equal. The file is read back and measured before it is handed over.",
        epilog="""examples:
  seamwright foundations designs/kite.svg -o kite.pdf
  seamwright foundations designs/kite.svg@6in designs/kite.svg@9in -o kites.pdf
  seamwright foundations designs/kite.svg -o class.pdf --copies 12 --sets apart --trial-page
  seamwright foundations designs/kite.svg -o a4.pdf --paper a4 --units metric

Print at 100 %, not "fit to page", and measure the check square before you sew.""",
        formatter_class=argparse.RawDescriptionHelpFormatter,
        allow_abbrev=False,
    )
    _add_drawings(command)
    command.add_argument("-o", "--output", metavar="OUT.pdf", help="the PDF to write")
    command.add_argument(
        "--files",
        metavar="FOLDER",
        help="write every foundation as a file of its own into a folder: SVG and DXF with named layers at true "
        "size, for cutters and plotters, and a PNG preview; with -o or in its place",
    )
    command.add_argument("--json", action="store_true", help="print what lies where on the sheets, for programs")
    command.add_argument("--force", action="store_true", help="write over a file that was made from something else")
    _add_print(command)
    _add_shared(command)


def _add_drawings(command: Parser) -> None:
    command.add_argument_group("drawings").add_argument(
        "drawings",
        nargs="*",
        metavar="DRAWING[@SIZE]",
        help="SVG drawing or .seams text file; @8in behind its name is the finished width of this one",
    )


def _add_print(command: Parser) -> None:
    prints = command.add_argument_group("how it is printed (a .seams file can hold these too)")
    prints.add_argument(
        "--copies",
        metavar="N",
        help="print every foundation N times, 1 to 500 (default: 1); templates of plain pieces are used again: "
        "copies that share sheets share them",
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


def _add_shared(command: Parser) -> None:
    shared = command.add_argument_group("options that a .seams file can hold too (the command line wins)")
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


def parse(words: list[str]) -> tuple[str, argparse.Namespace]:
    """The command's name and what is asked of it.

    Raises:
        Slip: the words make no command, in a sentence that says the mend.
        SystemExit: help or the version was shown.
    """
    parser = build_parser()
    commands = next(a.choices for a in parser._actions if isinstance(a, argparse._SubParsersAction))
    # --help and --version stand before a command; the first word that is no option names the command.
    name = next((word for word in words if not word.startswith("-")), None)
    before = words if name is None else words[: words.index(name)]
    for word in before:
        _without_command(parser, word)
    if name is None:
        raise Slip("what should be done? Say seamwright check DRAWING; seamwright --help shows all commands.")
    if name not in commands:
        raise Slip(_unknown(f"'{name}' is no command", name, list(commands)))
    command, rest = commands[name], words[len(before) + 1 :]
    # Behind "--" everything is a drawing, even a name that begins with a dash.
    end = rest.index("--") if "--" in rest else len(rest)
    rest, drawings = rest[:end], rest[end + 1 :]
    try:
        # Options may stand before, between and after the drawings.
        asked, strange = command.parse_known_intermixed_args(rest)
    except Slip as slip:
        raise Slip(_plainly(str(slip), name)) from None
    if strange:
        word = next((w for w in strange if w.startswith("-")), strange[0]).partition("=")[0]
        options = [o for action in command._actions for o in action.option_strings]
        raise Slip(_unknown(f"'{word}' is no option of seamwright {name}", word, options))
    asked.drawings = [*getattr(asked, "drawings", ()), *drawings]
    return name, asked


def _without_command(parser: Parser, word: str) -> None:
    if word in ("-h", "--help"):
        parser.print_help()
    elif word == "--version":
        from seamwright import __version__

        print(f"seamwright {__version__}")
    else:
        raise Slip(_unknown(f"'{word}' does not stand before a command", word, ["--help", "--version"]))
    raise SystemExit(0)


def _plainly(message: str, command: str) -> str:
    """argparse's message as a sentence."""
    if message.startswith("argument "):
        option, _, rest = message.removeprefix("argument ").partition(": ")
        option = option.split("/")[-1]
        if rest.startswith("expected"):
            return f"{option} needs a value behind it. seamwright {command} --help shows what it takes."
        if "ignored explicit argument" in rest:
            return f"{option} takes no value. Leave out what stands behind it."
    return f"{message}. seamwright {command} --help shows how the command is written."


def _unknown(what: str, word: str, known: list[str]) -> str:
    import difflib

    # A name cut short is told like a slip.
    longer = [k for k in known if len(word) > 3 and k.startswith(word.lower())]
    near = longer[:1] or difflib.get_close_matches(word.lower(), known, n=1, cutoff=0.7)
    in_full = [k for k in known if k.startswith("--") or not k.startswith("-")]
    return f"{what}. " + (f"Did you mean {near[0]}?" if near else f"Use one of: {', '.join(in_full)}.")
