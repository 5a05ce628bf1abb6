"""The words of the command line: commands, options, help, and what is said about a slip.

Knows:  argparse, and how to turn its messages into sentences.
Leaves: what the commands do (commands), options and their help (offered), what an option's text means (optiontext).
Limits: only argparse is imported, so that help is there at once. Options stay text here; one reader serves the
        command line and the text form of a drawing.
"""

from __future__ import annotations

import argparse
import re

from seamwright.offered import (
    ITS_ROWS,
    add_book,
    add_cut,
    add_drawings,
    add_many,
    add_print,
    add_shared,
    leave_out_of_help,
)

TYPE_CHECKING = False
if TYPE_CHECKING:  # typing itself is not imported: it is not needed to run
    from typing import Any, NoReturn


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
    _add_fabrics(commands)
    _add_cutting(commands)
    _add_booklet(commands)
    _add_quilt(commands)
    _add_turnings(commands)
    _add_draw(commands)
    text_form = commands.add_parser(
        "text-form",
        usage="seamwright text-form [block|quilt]",
        help="show how a block, or a quilt of blocks, is typed as a small text file",
        description="Shows how a block is typed as text, in a file whose name ends in .seams; with the word\n"
        "quilt: how a quilt of blocks is, in a file whose name ends in .setting.",
        formatter_class=argparse.RawDescriptionHelpFormatter,
        allow_abbrev=False,
    )
    # Taken so that a drawing given by mistake can be told what to do with it.
    text_form.add_argument("drawings", nargs="*", help=argparse.SUPPRESS)
    return parser


def _add_check(commands: argparse._SubParsersAction[Parser]) -> None:
    command = commands.add_parser(
        "check",
        usage="seamwright check DRAWING[@SIZE] ... [options]\n"
        "       seamwright check FOLDER ... [--jobs N] [options]",
        help="say whether drawings can be sewn, on how few foundations, in what order",
        description="Says whether a drawing can be sewn with straight full seams, on how few foundations, in what\n"
        "order, and how the parts are joined; curves may join sections. If it cannot, says which patches are\n"
        "stuck, where and why. Advice tells what asks for care before cutting: sharp points, narrow patches,\n"
        "many patches at a point, seams that nearly meet, dark fabric beside light, points that vanish.",
        epilog="""examples:
  seamwright check designs/kite.svg
  seamwright check designs/kite.svg --picture kite.png
  seamwright check --json --size 8in designs/kite.svg designs/reef.seams
  seamwright check designs/sea-urchin.svg --mend 1 -o mended.svg
  seamwright check designs/breakwater.seams --set-in
  seamwright check designs/kite.svg --rehearse steps
  seamwright check designs/evening-watch.setting
  seamwright check designs --jobs 4

Ends with 1 if a drawing cannot be sewn with straight full seams only (with --set-in: nor with seams that turn),
with 2 if one cannot be read.""",
        formatter_class=argparse.RawDescriptionHelpFormatter,
        allow_abbrev=False,
    )
    add_drawings(command)
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
    add_many(
        command,
        "A folder stands for all drawings in it and in its folders, each told shortly, with a summary at\n"
        "the end. Quilts, hidden files, pictures made here and what linked folders hold are left out.",
    )
    add_shared(command)


def _add_foundations(commands: argparse._SubParsersAction[Parser]) -> None:
    command = commands.add_parser(
        "foundations",
        usage="seamwright foundations DRAWING[@SIZE] ... -o OUT.pdf [options]\n"
        "       seamwright foundations FOLDER ... -o OUTFOLDER [--jobs N] [options]",
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
  seamwright foundations designs -o prints --jobs 4

Print at 100 %, not "fit to page", and measure the check square before you sew.""",
        formatter_class=argparse.RawDescriptionHelpFormatter,
        allow_abbrev=False,
    )
    add_drawings(command)
    command.add_argument(
        "-o",
        "--output",
        metavar="OUT.pdf",
        help="the PDF to write; with a folder of drawings: the folder for their PDFs, one for each, named like it",
    )
    command.add_argument(
        "--files",
        metavar="FOLDER",
        help="write every foundation as a file of its own into a folder: SVG and DXF with named layers at true "
        "size, for cutters and plotters, and a PNG preview; with -o or in its place",
    )
    command.add_argument("--json", action="store_true", help="print what lies where on the sheets, for programs")
    command.add_argument("--force", action="store_true", help="write over a file that was made from something else")
    add_many(
        command,
        "A folder stands for all drawings in it and in its folders, and with it -o names a folder: each has\n"
        "a PDF of its own there, the same that it would have by itself, in folders like theirs. So it is for\n"
        "drawings named one by one with an option of these. The same command, given once more, goes on\n"
        "where it was stopped: what it made of the same drawing, with the same options, by the same\n"
        'version, stays as it is (in --lines "unchanged": true); --force makes all anew.',
    )
    add_print(command)
    add_shared(command)


def _add_fabrics(commands: argparse._SubParsersAction[Parser]) -> None:
    command = commands.add_parser(
        "fabrics",
        usage="seamwright fabrics DRAWING[@SIZE] ... [-o OUT] [options]",
        help="say how the fabrics of a block read beside each other, and which points vanish",
        description="Says of each fabric how light or dark and how warm or cool it reads and how much of the\n"
        "block it is, which neighbours have the least contrast, whether light, medium and dark are there, and\n"
        "which sharp points vanish because fabrics beside them read alike. The picture shows the block in\n"
        "colour and, beside it, in greys that give as much light, with a swatch of each fabric.",
        epilog="""examples:
  seamwright fabrics designs/spinnaker.seams
  seamwright fabrics designs/spinnaker.seams -o spinnaker-fabrics.png
  seamwright fabrics designs/harbour-lights.seams --colourway all -o ways.svg

A block that cannot be sewn wears fabrics too; ends with 2 if a drawing cannot be read.""",
        formatter_class=argparse.RawDescriptionHelpFormatter,
        allow_abbrev=False,
    )
    add_drawings(command)
    command.add_argument(
        "-o",
        "--output",
        metavar="OUT",
        help="write a picture, .svg or .png: a row for each drawing and colourway, in colour and in greys",
    )
    command.add_argument("--json", action="store_true", help="print the facts for programs: one JSON array")
    command.add_argument("--force", action="store_true", help="let -o write over a file that is not ours")
    add_shared(command)


def _add_cutting(commands: argparse._SubParsersAction[Parser]) -> None:
    command = commands.add_parser(
        "cutting",
        usage="seamwright cutting DRAWING[@SIZE] ... [-o OUT] [options]\n"
        "       seamwright cutting QUILT.setting [-o OUT] [options]",
        help="say what to buy and how to cut it: strips, subcuts, pieces by name",
        description="Says of each fabric how much to buy, which strips to cut across its width and what to cut\n"
        "from them for so many blocks, every piece large enough for its patch on paper or by ruler; what is\n"
        "quicker cut and pieced without paper; and what is left over. Several drawings have one shopping list.\n"
        "A quilt is cut as a whole: strips are shared by all of its blocks, setting pieces, sashing, borders and\n"
        "binding, strips longer than the fabric is wide are joined, and back and batting are measured.",
        epilog="""examples:
  seamwright cutting designs/kite.svg
  seamwright cutting designs/kite.svg --blocks 12 -o kite.pdf
  seamwright cutting designs/kite.svg designs/reef.seams --blocks 6 --cloth fat-quarters
  seamwright cutting designs/kite.svg --blocks 12 --stack -o stacks.pdf
  seamwright cutting designs/kite.svg --blocks 12 -o kite.csv
  seamwright cutting designs/evening-watch.setting -o evening-watch.pdf

Blades hurt: draw them away from the body, and close them at once.""",
        formatter_class=argparse.RawDescriptionHelpFormatter,
        allow_abbrev=False,
    )
    add_drawings(command)
    command.add_argument(
        "-o", "--output", metavar="OUT", help="write the list: .pdf as pages, .csv as a table for spreadsheets"
    )
    command.add_argument("--json", action="store_true", help="print the list for programs")
    command.add_argument("--force", action="store_true", help="let -o write over a file that is not ours")
    add_cut(command)
    add_shared(command)


def _add_booklet(commands: argparse._SubParsersAction[Parser]) -> None:
    command = commands.add_parser(
        "booklet",
        usage="seamwright booklet DRAWING[@SIZE] ... -o OUT.pdf [options]",
        help="write the handout of a class: shop, cut and sew step by step, foundations at the end",
        description="Writes one PDF to hand out: the block in colour, level and time, what is needed, fabric and\n"
        "kits, cutting tables, every section step by step with a picture a step, joins with pictures, sizes to\n"
        "check, a page to colour in, and the foundations at true size. Every page is read back, every\n"
        "foundation measured, before the file is written. Colourways of one block are told together. Of a quilt\n"
        "it tells all: shopping and cutting, each block, how they are laid and sewn together, borders, binding.",
        epilog="""examples:
  seamwright booklet designs/kite.svg -o kite-class.pdf
  seamwright booklet designs/reef.seams -o reef.pdf --students 12 --footer "Harbour evening class"
  seamwright booklet designs/lighthouse-beam.svg -o beam.pdf --paper a4 --units metric
  seamwright booklet designs/kite.svg -o large.pdf --large-type --left-handed
  seamwright booklet designs/kite.svg -o kite.pdf --blocks 12 --cloth fat-quarters --level "first evening"
  seamwright booklet designs/evening-watch.setting -o evening-watch.pdf

Level and time are our own estimate unless you give yours.""",
        formatter_class=argparse.RawDescriptionHelpFormatter,
        allow_abbrev=False,
    )
    add_drawings(command)
    command.add_argument("-o", "--output", metavar="OUT.pdf", help="the PDF to write")
    command.add_argument("--json", action="store_true", help="print what is on which page, for programs")
    command.add_argument("--force", action="store_true", help="write over a file that was made from something else")
    add_book(command)
    add_cut(command)
    add_print(command)
    add_shared(command)


def _add_quilt(commands: argparse._SubParsersAction[Parser]) -> None:
    command = commands.add_parser(
        "quilt",
        usage="seamwright quilt QUILT.setting ... [-o OUT] [options]",
        help="say what a whole quilt comes to: size, blocks, prints, fabric, advice; and draw it",
        description="Says of a quilt how large it is, how many blocks lie in which turn, which foundations to\n"
        "print how often, what fabric to buy with binding, backing and batting, how light and dark lie in it,\n"
        "where seams of two blocks nearly meet, and how to press so that seams nest. The picture shows the quilt\n"
        "in colour and in greys, whole and at arm's length.",
        epilog="""examples:
  seamwright quilt designs/evening-watch.setting
  seamwright quilt designs/evening-watch.setting -o evening-watch.png
  seamwright quilt designs/evening-watch.setting --rotary auto --json
  seamwright foundations designs/evening-watch.setting -o foundations.pdf

seamwright text-form quilt shows how a quilt is typed. Ends with 1 if one of its blocks cannot be sewn, with 2 if
the quilt or a block cannot be read.""",
        formatter_class=argparse.RawDescriptionHelpFormatter,
        allow_abbrev=False,
    )
    command.add_argument_group("quilts").add_argument(
        "drawings", nargs="*", metavar="QUILT.setting", help="text file that says how blocks are set"
    )
    command.add_argument(
        "-o",
        "--output",
        metavar="OUT",
        help="write pictures of it: .svg or .png as one sheet, .pdf as pages (one quilt only)",
    )
    command.add_argument("--json", action="store_true", help="print the facts for programs")
    command.add_argument("--force", action="store_true", help="let -o write over a file that is not ours")
    add_cut(command, file=".setting")
    add_shared(command, file=".setting")
    leave_out_of_help(command, ITS_ROWS)


def _add_turnings(commands: argparse._SubParsersAction[Parser]) -> None:
    command = commands.add_parser(
        "turnings",
        usage="seamwright turnings DRAWING[@SIZE] [DRAWING] [-o OUT] [options]",
        help="show every repeating layout of one or two blocks that differs, to choose from",
        description="Finds all repeating layouts of 2 x 2 blocks, of one block or two, that differ once they are\n"
        "shifted, rotated and, where that may be, mirrored: each quilt once. Those come first whose seams run\n"
        "on from block to block, whose patches grow together, and which are regular. The sheet shows each in\n"
        "colour, 4 x 4 blocks of it, with its number and its lines for the file of a quilt.",
        epilog="""examples:
  seamwright turnings designs/kite.svg -o kite-turnings.pdf
  seamwright turnings designs/kite.svg --with-reversed --show all -o all.pdf
  seamwright turnings designs/kite.svg@6in designs/lighthouse-beam.svg@6in -o two.png
  seamwright turnings designs/kite.svg --grid 4x4 -o rules.pdf
  seamwright turnings designs/kite.svg --write 3 -o evening.setting

Numbers hold for the same drawings and options. A block that can be rotated unseen has fewer layouts.""",
        formatter_class=argparse.RawDescriptionHelpFormatter,
        allow_abbrev=False,
    )
    add_drawings(command, quilts=False)
    command.add_argument(
        "-o",
        "--output",
        metavar="OUT",
        help="write the sheet: .pdf as pages, .svg or .png as one picture; with --write: the quilt, .setting",
    )
    command.add_argument(
        "--with-reversed", action="store_true", help="blocks may be reversed too; these need reversed foundations"
    )
    command.add_argument("--show", metavar="N", help="how many layouts are shown, or all (default: 48)")
    command.add_argument(
        "--grid",
        metavar="GRID",
        help="2x2 (default): all layouts; 4x4: layouts of 16 blocks by rule: rows, columns, checkerboard, "
        "diagonals, four-patch, barn raising, pinwheel, medallion, mirror image, and some by chance",
    )
    command.add_argument("--seed", metavar="N", help="other layouts by chance for another number (default: 1)")
    command.add_argument("--write", metavar="N", help="write the layout of this number as a quilt file, with -o")
    command.add_argument("--json", action="store_true", help="print the layouts for programs")
    command.add_argument("--force", action="store_true", help="let -o write over a file that is not ours")
    add_shared(command)


def _add_draw(commands: argparse._SubParsersAction[Parser]) -> None:
    command = commands.add_parser(
        "draw",
        usage="seamwright draw [FOLDER] [--port N] [--no-open]",
        help="open the page: draw, check, colour, print and set blocks in the browser",
        description="Serves a page on this computer, to nobody else, and opens it in the browser: draw a block or\n"
        "drop one in, see at once whether it can be sewn, colour it, print it. Designs are files in FOLDER\n"
        "(default: this folder); every change is saved by itself. The first line printed is the page's address.",
        epilog="""examples:
  seamwright draw
  seamwright draw my-blocks --no-open

Ctrl-C ends it. The address holds a pass for this start: whoever has it may change the folder's designs.""",
        formatter_class=argparse.RawDescriptionHelpFormatter,
        allow_abbrev=False,
    )
    command.add_argument("folder", metavar="FOLDER", nargs="?", default=".", help="where the designs lie")
    command.add_argument(
        "--port", metavar="N", type=int, default=0, help="a fixed port (default: the folder's own, or any free one)"
    )
    command.add_argument("--no-open", action="store_true", help="print the address only")


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
        what = f"'{word}' is no option of seamwright {name}"
        elsewhere = [each for each, other in commands.items() if word in _options(other)]
        if elsewhere:
            raise Slip(f"{what}, but of seamwright {' and of seamwright '.join(elsewhere)}. Leave it out here.")
        raise Slip(_unknown(what, word, _options(command)))
    asked.drawings = [*getattr(asked, "drawings", ()), *drawings]
    return name, asked


def _options(command: Parser) -> list[str]:
    return [option for action in command._actions for option in action.option_strings]


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
