"""What is fuzzed: every form of text that a person may hand to us.

Knows:  for each reader how bytes are given to it, what must hold of what it reads, and good inputs to begin with.
Leaves: what no reader may do (watch), the fuzzer (run), documents built by choices (built).
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import partial
from pathlib import Path
from xml.sax.saxutils import escape, quoteattr

from fuzz.built import document
from seamwright.api import plan
from seamwright.asked import split_size, usable_options
from seamwright.block.make import make_block
from seamwright.drawing.model import Drawing
from seamwright.drawing.palette import palette_of, write_palette
from seamwright.drawing.read import read_bytes
from seamwright.drawing.textwrite import write_seams
from seamwright.options import PlanOptions
from seamwright.optiontext import ALL_OPTIONS, read_option
from seamwright.paper import paper
from seamwright.quilt.form import setting_of, stated_in
from seamwright.quilt.formwrite import write_setting
from seamwright.units import parse_length, parse_sides, parse_size, say_length

ROOT = Path(__file__).parents[2]
STEPS = 3000
"""Of the search for fewest sections: enough to find any plan, and a check is done soon."""


@dataclass(frozen=True, slots=True)
class Target:
    """One reader.

    Attributes:
        read: reads bytes, and asserts what must hold of what it reads.
        seeds: good inputs to begin with.
        longest: bytes of an input at the most.
        share: of an hour of fuzzing.
        quick: inputs of the quick suite; with its seeds a reader takes two seconds of the processor.
    """

    read: Callable[[bytes], object]
    seeds: Callable[[], list[bytes]]
    longest: int
    share: float
    quick: int


# -- reading ---------------------------------------------------------------------------------------------------


def _drawing(data: bytes, name: str) -> Drawing:
    drawing = read_bytes(data, Path(name))
    points = [p for line in drawing.lines for p in (line.start, line.end)]
    points += [p for curve in drawing.curves for p in curve.points]
    points += [p for ring in (drawing.outline, drawing.artboard) if ring for p in ring]
    points += [label.at for label in drawing.labels]
    assert all(math.isfinite(c) for p in points for c in p), "a point is no point"
    return drawing


def _read_svg(data: bytes) -> None:
    _drawing(data, "x.svg")


def _read_built(data: bytes) -> None:
    _drawing(document(data), "x.svg")


def _read_part(data: bytes) -> None:
    _drawing(_with_part(data), "x.svg")


_HEAD = '<svg xmlns="http://www.w3.org/2000/svg" width="8in" height="8in" viewBox="0 0 8 8">'
_PARTS = (
    _HEAD + '<path d={} stroke="black"/></svg>',
    _HEAD + '<g transform={}><path d="M0 0L8 8" stroke="black"/></g></svg>',
    _HEAD + '<polyline points={} stroke="black"/></svg>',
    _HEAD + '<path style={} d="M0 0L8 8" stroke="black"/></svg>',
    _HEAD + '<path fill={0} stroke={0} d="M0 0L8 8L8 0"/></svg>',
    '<svg width={} height="8in" viewBox="0 0 8 8"><path d="M0 0L8 8" stroke="black"/></svg>',
    '<svg width="8in" height="8in" viewBox={0} preserveAspectRatio={0}><path d="M0 0L8 8" stroke="black"/></svg>',
    _HEAD + '<rect x={0} width={0} height={0} rx={0} stroke="black"/><text x={0} font-size={0}>a</text></svg>',
    _HEAD + "<style>{}</style>" + '<g class="k" id="a"><path d="M0 0L8 8" stroke="black"/></g></svg>',
    _HEAD + '<use href={0} xlink:href={0} xmlns:xlink="http://www.w3.org/1999/xlink"/><g id="a"/></svg>',
)


def _with_part(data: bytes) -> bytes:
    """A document in which one value is written as the bytes say; the first byte says which."""
    if not data:
        return b""
    text = data[1:].decode("utf-8", errors="replace")
    text = "".join(c for c in text if c >= " " and c not in "\ufffe\uffff")
    form = _PARTS[data[0] % len(_PARTS)]
    return form.format(escape(text) if "<style>{}" in form else quoteattr(text)).encode()


def _read_seams(data: bytes) -> None:
    _drawing(data, "x.seams")


def _read_palette(data: bytes) -> None:
    text = write_palette(palette_of(data, "x.palette"))
    if text.count("\n") > 1:  # a quilt's file need not name any fabric
        assert write_palette(palette_of(text.encode(), "x.palette")) == text


def _read_setting(data: bytes) -> None:
    def read(given: bytes) -> str:
        stated, lines = stated_in(given, "x.setting")
        return write_setting(setting_of(stated, "x.setting", lines))

    text = read(data)
    assert read(text.encode()) == text


def _read_options(data: bytes) -> None:
    """Every option's text, and what else stands on a command line; the first line names the option."""
    text = data.decode("utf-8", errors="surrogateescape")  # as Python hands over what is no UTF-8
    name, _, value = text.partition("\n")
    _each(
        partial(read_option, name, value),
        partial(usable_options, [(name, value), ("paper", value), ("margins", name)]),
        partial(split_size, value),
        partial(parse_size, value),
        partial(parse_sides, value),
        partial(paper, value),
        lambda: say_length(parse_length(value)),
    )


def _each(*calls: Callable[[], object]) -> None:
    """All of them, even if one refuses; the last refusal is passed on."""
    from seamwright.errors import SeamwrightError

    refused: SeamwrightError | None = None
    for call in calls:
        try:
            call()
        except SeamwrightError as error:
            str(error).encode()
            refused = error
    if refused is not None:
        raise refused


def _make_block(data: bytes) -> None:
    """A drawing built by choices, made a block; one that succeeds is written and comes back as many patches."""
    block = make_block(_drawing(document(data), "x.svg"))
    back = make_block(_drawing(write_seams(block).encode(), "x.seams"))
    assert len(back.patches) == len(block.patches), "written as text it is another block"


def _make_plan(data: bytes) -> None:
    """A text form, made a block and planned; the checker judges every plan."""
    block = make_block(_drawing(data, "x.seams"), PlanOptions(set_in=data[:1] == b"\n"))
    plan(block, steps=str(STEPS))


# -- good inputs to begin with ---------------------------------------------------------------------------------


def _files(*patterns: str, longest: int) -> list[bytes]:
    paths = sorted(path for pattern in patterns for path in ROOT.glob(pattern))
    return [data for path in paths if len(data := path.read_bytes()) <= longest]


def _svg_seeds() -> list[bytes]:
    from fuzz import seeds

    return _files("designs/*.svg", "tests/drawings/**/*.svg", longest=6000) + list(seeds.DRAWINGS)


def _built_seeds() -> list[bytes]:
    import random

    rng = random.Random(8)
    return [bytes(rng.randrange(256) for _ in range(length)) for length in (4, 16, 40, 80, 160) * 6]


def _part_seeds() -> list[bytes]:
    from fuzz import seeds

    return [bytes([number]) + value for number, values in enumerate(seeds.PARTS) for value in values]


def _text_seeds(pattern: str) -> list[bytes]:
    from fuzz import seeds

    return _files(pattern, longest=6000) + list(seeds.TEXTS[pattern.rpartition(".")[2]])


def _option_seeds() -> list[bytes]:
    from fuzz import seeds

    def pairs() -> Iterator[str]:
        for name in ALL_OPTIONS:
            yield f"{name}\nyes"
        for value in seeds.VALUES:
            yield f"size\n{value}"
            yield f"margins\n{value}"

    return [pair.encode() for pair in pairs()]


TARGETS: dict[str, Target] = {
    "svg": Target(_read_svg, _svg_seeds, 8000, 0.2, 400),
    "built": Target(_read_built, _built_seeds, 400, 0.2, 400),
    "parts": Target(_read_part, _part_seeds, 300, 0.15, 1000),
    "seams": Target(_read_seams, partial(_text_seeds, "designs/*.seams"), 4000, 0.1, 400),
    "setting": Target(_read_setting, partial(_text_seeds, "designs/*.setting"), 4000, 0.1, 400),
    "palette": Target(_read_palette, partial(_text_seeds, "designs/*.palette"), 2000, 0.05, 800),
    "options": Target(_read_options, _option_seeds, 200, 0.05, 2500),
    "block": Target(_make_block, _built_seeds, 300, 0.1, 60),
    "plan": Target(_make_plan, partial(_text_seeds, "designs/*.seams"), 1500, 0.05, 120),
}
