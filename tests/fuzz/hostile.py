"""Files made to hurt, each small in its idea and large in what it asks for: `python -m fuzz.hostile FORM`.

Knows:  what has made readers of such forms stumble, and what ours has to say of each.
Leaves: what no reader may do (watch).
Method: one process for all files of a form, with the bounds of the fuzzer; it says in JSON what came of each.
"""

from __future__ import annotations

import gzip
import json
import math
import random
import sys
import time
from collections.abc import Callable
from functools import partial
from pathlib import Path

HEAD = (
    '<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink"'
    ' width="8in" height="8in" viewBox="0 0 8 8">'
)
STROKE = 'fill="none" stroke="black"'
FRAME = f'<rect width="8" height="8" {STROKE}/>'
LINE = f'<path d="M0 0L8 8" {STROKE}/>'
READ = "read"
"""What comes of a file that is a drawing after all; else the code of its refusal."""


def _doc(body: str, before: str = "", head: str = HEAD) -> bytes:
    return f"{before}{head}{FRAME}{body}</svg>".encode()


def _path(data: str) -> bytes:
    return _doc(f'<path d="{data}" {STROKE}/>')


def _entities(declared: str, body: str) -> bytes:
    return _doc(body, f"<!DOCTYPE svg [{declared}]>")


def _chain(names: range, value: str = "&a{};", step: int = -1) -> str:
    return "".join(f'<!ENTITY a{k} "{value.format(k + step)}">' for k in names)


def _random_lines(count: int) -> str:
    rng = random.Random(8)
    return "".join(
        "M{:.3f} {:.3f}L{:.3f} {:.3f}".format(*(rng.uniform(0, 8) for _ in range(4))) for _ in range(count)
    )


def _tangle(corners: int) -> str:
    rng = random.Random(9)
    return " ".join(f"{rng.uniform(0, 8):.3f} {rng.uniform(0, 8):.3f}" for _ in range(corners))


def _ring(corners: int) -> str:
    turns = [math.tau * k / corners for k in range(corners)]
    return " ".join(
        f"{4 + 3.9 * (1 - 0.3 * (k % 2)) * math.cos(t):.5f} {4 + 3.9 * math.sin(t):.5f}"
        for k, t in enumerate(turns)
    )


LONG = '<!ENTITY a "' + "x" * 250 + '">'
XML: dict[str, tuple[str, Callable[[], bytes]]] = {
    "a hundred thousand groups within one another": ("too deep", lambda: _doc("<g>" * 100_000 + "</g>" * 100_000)),
    "an entity as words, a million times": (
        "entities",
        lambda: _entities(LONG, f"<text>{'&a;' * 4_000_000}</text>"),
    ),
    "an entity as an attribute": ("entities", lambda: _entities(LONG, f'<g id="{"&a;" * 4_000_000}"/>')),
    "the same in UTF-16": (
        "entities",
        lambda: _entities(LONG, f'<g id="{"&a;" * 1_500_000}"/>').decode().encode("utf-16"),
    ),
    "entities within entities": (
        "entities",
        lambda: _entities('<!ENTITY a0 "x">' + _chain(range(1, 99_999)), "&a99998;"),
    ),
    "entities that are said later": (
        "entities",
        lambda: _entities(_chain(range(99_999), step=1) + '<!ENTITY a99999 "x">', "<text>&a0;</text>"),
    ),
    "an entity within itself": (
        "not xml",
        lambda: _entities('<!ENTITY a "&b;"><!ENTITY b "&a;">', "<text>&a;</text>"),
    ),
    "entities that hold objects": ("too many", lambda: _entities(f'<!ENTITY a "{"<g/>" * 60}">', "&a;" * 100_000)),
    "parameter entities within one another": (
        READ,
        lambda: _entities(
            '<!ENTITY % a0 "<!ELEMENT x ANY>">'
            + "".join(f'<!ENTITY % a{k} "&#37;a{k - 1};">' for k in range(1, 50_000))
            + "%a49999;",
            LINE,
        ),
    ),
    "an entity of another file": (
        "entities",
        lambda: _entities('<!ENTITY a SYSTEM "file:///etc/passwd">', "<text>&a;</text>"),
    ),
    "a document type on the net": (
        READ,
        lambda: _doc(LINE, '<!DOCTYPE svg PUBLIC "x" "http://127.0.0.1:9/svg.dtd">'),
    ),
    "a long value for every object from the document type": (
        "entities",
        lambda: _entities(f'<!ATTLIST g a CDATA "{"x" * 500_000}">', "<g/>" * 200_000),
    ),
    "many values for every object from the document type": (
        "entities",
        lambda: _entities(
            f"<!ATTLIST g {' '.join(f'a{k} CDATA {chr(34)}x{chr(34)}' for k in range(2000))}>", "<g/>" * 99_999
        ),
    ),
    "quotation marks as entities": (READ, lambda: _entities(LONG, f"{LINE}<text>{'&quot;' * 400_000}</text>")),
    "a packed bomb": ("too large", lambda: gzip.compress(b"<svg>" + b" " * 200_000_000, 1)),
    "packed twice": ("not xml", lambda: gzip.compress(gzip.compress(_doc(LINE)))),
    "UTF-16 with its mark": (READ, lambda: _doc(LINE).decode().encode("utf-16")),
    "UTF-8 with a mark": (READ, lambda: b"\xef\xbb\xbf" + _doc(LINE)),
    "a zero among its letters": ("not xml", lambda: _doc("\0" + LINE)),
    "an attribute of many megabytes": (READ, lambda: _doc(f'{LINE}<g data-x="{"x" * 12_000_000}"/>')),
}
STYLE: dict[str, tuple[str, Callable[[], bytes]]] = {
    "style sheets, pictures and clones of other files": (
        READ,
        lambda: _doc(
            '<style>@import url("file:///etc/passwd");@import "http://127.0.0.1:9/a.css";'
            "path{fill:url(file:///etc/passwd#a)}@font-face{src:url(http://127.0.0.1:9/f.woff)}</style>"
            '<image href="file:///etc/passwd"/><image xlink:href="http://127.0.0.1:9/a.png"/>'
            '<image href="data:image/png;base64,AAAA"/><use href="file:///etc/passwd#a"/>'
            f'<use xlink:href="http://127.0.0.1:9/a.svg#a"/>{LINE}',
            '<?xml-stylesheet href="http://127.0.0.1:9/a.css"?>',
        ),
    ),
    "brackets within brackets": ("style", lambda: _doc("<style>a{fill:" + "(" * 200_000 + "}</style>" + LINE)),
    "rules within rules": (
        "style",
        lambda: _doc("<style>" + "@media all{" * 9000 + "}" * 9000 + "</style>" + LINE),
    ),
    "a style of blanks": (READ, lambda: _doc(f"<style>{' ' * 9_000_000}</style>{LINE}")),
    "declarations without end": ("too many", lambda: _doc(f"<style>.k{{{'fill:red;' * 900_000}}}</style>{LINE}")),
    "declarations of one object without end": (
        "too many",
        lambda: _doc(f'<path style="{"fill:(red);" * 900_000}" d="M0 0h1"/>{LINE}'),
    ),
    "a font within the file": (
        READ,
        lambda: _doc(f"<style>@font-face{{src:url(data:font/woff;base64,{'A' * 4_000_000})}}</style>{LINE}"),
    ),
    "many rules for every line": (
        "too many",
        lambda: _doc(f"<style>{'.k{fill:red}' * 9900}</style>" + '<path class="k" d="M0 0h1"/>' * 2000),
    ),
    "a selector of many ancestors": ("style", lambda: _doc(f"<style>{'g ' * 300}.k{{fill:red}}</style>{LINE}")),
    "a list of many selectors": (
        "too many",
        lambda: _doc(f"<style>{','.join(f'.k{n}' for n in range(99_000))}{{fill:red}}</style>{LINE}"),
    ),
    "variables of variables": (
        READ,
        lambda: _doc(
            '<g style="' + "".join(f"--a{k}:var(--a{k + 1})var(--a{k + 1});" for k in range(2000)) + f'">{LINE}</g>'
        ),
    ),
    "variables handed to every object": (
        "too many",
        lambda: _doc('<g style="' + "".join(f"--a{k}:red;" for k in range(5000)) + f'">{LINE * 20_000}</g>'),
    ),
    "a gradient of nothing for every line": (
        READ,
        lambda: _doc(
            f'<linearGradient id="g">{"<desc/>" * 30_000}</linearGradient>{FRAME}'
            + '<path d="M0 0h1" stroke="url(#g)"/>' * 5000
        ),
    ),
    "a font size of figures": (READ, lambda: _doc(f'{LINE}<g style="font: {"1" * 300_000}x"/>')),
    "a paint of blanks": (READ, lambda: _doc(f'<path d="M0 0h1" fill="url({" " * 900}x y"/>{LINE}')),
    "a clip path of blanks": (
        READ,
        lambda: _doc(f'<path d="M0 0L8 8" {STROKE} clip-path="url({" " * 200_000}x y"/>'),
    ),
    "a clip path that crosses itself": (
        "too many",
        lambda: _doc(f'<clipPath id="c"><path d="M{_tangle(3000)}z"/></clipPath><g clip-path="url(#c)">{LINE}</g>'),
    ),
    "clip paths within one another": (
        "too many",
        lambda: _doc(
            '<clipPath id="c"><rect width="4" height="4"/></clipPath>'
            + '<g clip-path="url(#c)" transform="translate(.001)">' * 190
            + f'<path d="M0 0h1" {STROKE}/>' * 4000
            + "</g>" * 190
        ),
    ),
    "a transform of a million turns": (
        "transform",
        lambda: _doc(f'<g transform="{"scale(1)" * 1_000_000}">{LINE}</g>'),
    ),
    "a matrix of a million numbers": (
        "transform",
        lambda: _doc(f'<g transform="matrix({"1 " * 1_000_000})">{LINE}</g>'),
    ),
    "a clone of itself": ("use loop", lambda: _doc('<g id="a"><use href="#a"/></g>')),
    "clones of one another": (
        "use loop",
        lambda: _doc('<g id="a"><use href="#b"/></g><g id="b"><use href="#a"/></g><use href="#a"/>'),
    ),
    "clones that multiply": (
        "too many",
        lambda: _doc(
            '<g id="u0"/>'
            + "".join(f'<g id="u{n + 1}">{f"<use href={chr(34)}#u{n}{chr(34)}/>" * 10}</g>' for n in range(20))
            + '<use href="#u20"/>'
        ),
    ),
    "clones of much text": (
        "too many",
        lambda: _doc(f'<text id="p">{"<tspan>a</tspan>" * 20_000}</text>' + '<use href="#p"/>' * 50_000),
    ),
    "clones of a long attribute": (
        "too many",
        lambda: _doc(f'<g id="p" systemLanguage="{"a," * 1_000_000}"/>' + '<use href="#p"/>' * 50_000),
    ),
}
PATHS: dict[str, tuple[str, Callable[[], bytes]]] = {
    "a million pieces": (
        "too many",
        lambda: _path("M0 0" + "".join(f"L{k % 80 / 10} {k % 7}" for k in range(1_000_000))),
    ),
    "a million points": (
        "too many",
        lambda: _doc(
            f'<polyline points="{" ".join(f"{k % 80 / 10} {k % 7}" for k in range(1_000_000))}" {STROKE}/>'
        ),
    ),
    "a million moves": ("too many", lambda: _path("M1 1" * 2_000_000)),
    "moves in many paths": ("too many", lambda: _doc(f'<path d="{"M1 1" * 1000}" {STROKE}/>' * 1000)),
    "moves in many clones": (
        "too many",
        lambda: _doc(f'<path id="p" d="{"M1 1" * 9000}" {STROKE}/>' + '<use href="#p"/>' * 50_000),
    ),
    "a million steps of no length": ("too many", lambda: _path("M1 1" + "h0" * 3_000_000)),
    "millions of blanks": (READ, lambda: _path("M0 0" + " " * 9_000_000 + "L8 8")),
    "millions of figures": ("number", lambda: _path("M0 0L1" + "1" * 9_000_000 + " 3")),
    "a length of figures": ("number", lambda: _doc(f'<line x1="{"1" * 300_000}!" {STROKE}/>')),
    "a length of blanks": ("number", lambda: _doc(f'<line x1="8{" " * 300_000}!" {STROKE}/>')),
    "places far out": ("number", lambda: _path("M0 0L1e30 1e30")),
    "a hundred miles": ("number", lambda: _path("M0 0L9e8 9e8")),
    "no number": ("path data", lambda: _path("M0 0L nan inf")),
    "a huge viewBox": ("number", lambda: _doc(LINE, head=HEAD.replace("0 0 8 8", "0 0 1e30 1e30"))),
    "a wide viewBox": (READ, lambda: _doc(LINE, head=HEAD.replace("0 0 8 8", "0 0 1e8 1e8"))),
    "an object a million times": ("too many", lambda: _doc("<g/>" * 1_000_000)),
    "lines across one another by the thousand": ("too many lines", lambda: _path(_random_lines(45_000))),
    "lines across one another by the hundred": ("too many lines", lambda: _path(_random_lines(400))),
    "one line again and again": ("too many lines", lambda: _path("M1 1L7 7" * 20_000)),
    "a ring of many corners": ("ink outlines", lambda: _doc(f'<path d="M{_ring(20_000)}z" fill="red"/>')),
    "a filled tangle": ("too many", lambda: _doc(f'<path d="M{_tangle(3000)}z" fill="red"/>')),
}


def _block(body: str) -> bytes:
    return f"seamwright block 1\nsize 8 in\n{body}".encode()


def _quilt(body: str) -> bytes:
    return f"seamwright quilt 1\nblock kite kite.svg\n{body}".encode()


TEXTS: dict[str, tuple[str, Callable[[], bytes]]] = {
    "a million seams": ("unreadable", lambda: _block("seam 0,0 to 8,8\n" * 1_100_000)),
    "a hundred thousand seams": ("unreadable", lambda: _block("seam 0,0 to 8,8\n" * 100_000)),
    "millions of empty lines": ("unreadable", lambda: _block("\n" * 15_000_000)),
    "millions of line ends of an old kind": ("unreadable", lambda: _block("\r" * 15_000_000)),
    "a line of many megabytes": ("unreadable", lambda: _block("seam 0,0" + " to 8,8" * 2_000_000)),
    "long lines": ("unreadable", lambda: _block(("seam 0,0" + " to 8,8 to 0,0" * 6000 + "\n") * 150)),
    "slips by the hundred thousand": ("unreadable", lambda: _block("saem 0,0 to 8,8\n" * 150_000)),
    "figures without end": ("unreadable", lambda: _block(("seam 0,0 to " + "1" * 90_000 + "..\n") * 50)),
    "points and figures": ("unreadable", lambda: _block(("seam 0,0 to " + "1." * 45_000 + "\n") * 20)),
    "blanks between figures": ("unreadable", lambda: _block(("seam 0,0 to 1" + " " * 90_000 + "x\n") * 50)),
    "open quotation marks": ("unreadable", lambda: _block(("name " + '"' + "\\\\" * 45_000 + "\n") * 20)),
    "unknown fabrics laid without end": (
        "unreadable",
        lambda: _block(
            "seam 0,0 to 8,8\n"
            + "".join(f"fabric sea{k}\n" for k in range(900))
            + "".join(f"lay sky{k} at 2,3\n" for k in range(10_000))
        ),
    ),
    "a thousand sides": (
        "unreadable",
        lambda: _block("outline 0,0 to 8,0 to 8,8 to 0,8\n" + "side 0,0 through 4,1 to 8,0\n" * 1000),
    ),
    "places beyond floats": ("unreadable", lambda: _block("seam 0,0 to 1e999,8\n")),
    "a zero among its letters": ("unreadable", lambda: _block("seam 0,0 to 8,8\0\n")),
    "letters that turn the line": ("unreadable", lambda: _block("name \u202eevil\nseam 0,0 to 8,8\n")),
    "UTF-16": ("encoding", lambda: _block("seam 0,0 to 8,8\n").decode().encode("utf-16")),
    "a quilt of a million rows": ("unreadable", lambda: _quilt("row kite\n" * 1_000_000)),
    "rows of blocks that nobody knows": (
        "unreadable",
        lambda: _quilt(("row " + ", ".join(f"kit{k}" for k in range(200)) + "\n") * 100),
    ),
    "a quilt of forty thousand blocks": ("unreadable", lambda: _quilt("row 200 kite\nrepeat 200 x 200\n")),
    "a palette without end": (
        "unreadable",
        lambda: b"seamwright palette 1\n" + b"".join(b"fabric f%d\n" % k for k in range(190_000)),
    ),
    "a palette that repeats itself": ("unreadable", lambda: b"seamwright palette 1\n" + b"fabric f\n" * 190_000),
}

FORMS = {"xml": XML, "style": STYLE, "paths": PATHS, "texts": TEXTS}


def read(form: str, name: str, data: bytes) -> object:
    """Read a file as a person's would be, up to the block where it is to be refused there."""
    from seamwright.block.make import make_block
    from seamwright.drawing.palette import palette_of
    from seamwright.drawing.read import read_bytes
    from seamwright.quilt.form import setting_of, stated_in

    if data.startswith(b"seamwright palette"):
        return palette_of(data, "x.palette")
    if data.startswith(b"seamwright quilt"):
        return setting_of(*_and_file(*stated_in(data, "x.setting")))
    drawing = read_bytes(data, Path("x.seams" if form == "texts" else "x.svg"))
    return make_block(drawing) if FORMS[form][name][0] == "too many lines" else drawing


def _and_file(stated: object, lines: int) -> tuple:  # type: ignore[type-arg]
    return stated, "x.setting", lines


def main(form: str) -> None:
    """Print, for each file of a form, what came of it, and what of it a reader may not do."""
    from fuzz.again import bound_memory
    from fuzz.watch import LONGEST_S, judged
    from seamwright.errors import SeamwrightError

    def kept(name: str, came: list[str], data: bytes) -> None:
        try:
            read(form, name, data)
            came.append(READ)
        except SeamwrightError as error:
            came.append(error.code)
            raise

    for data in (
        _path("M0 0L8 8"),
        _doc('<style>a{fill:red}</style><path d="M0 0h1v1z" fill="red"/>'),
        _block("seam 0,0 to 8,8"),
    ):
        judged(partial(kept, next(iter(FORMS[form])), []), data, 60)  # what is imported late is imported now
    bound_memory()
    said: dict[str, list[str]] = {}
    for name, (_, make) in FORMS[form].items():
        came: list[str] = []
        data = make()
        begun = time.process_time()
        finding = judged(partial(kept, name, came), data, 2 * LONGEST_S)  # a busy machine counts slowly
        spent = time.process_time() - begun
        said[name] = [came[0] if came else "", finding.told[-1500:] if finding else "", f"{spent:.2f} s"]
    print(json.dumps(said))


if __name__ == "__main__":
    main(sys.argv[1])
