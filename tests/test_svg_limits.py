"""Bad and hostile files: one clear sentence each, nothing outside the file touched, limits kept."""

from __future__ import annotations

import gzip
import os
import pickle
import random
import socket
import sys
from pathlib import Path

import pytest

from seamwright.drawing.read import read_drawing
from seamwright.drawing.svg import read_svg
from seamwright.errors import DrawingError, FileError, SeamwrightError
from support.svg_text import STROKE, read, segments, svg

LINE = f'<path d="M0 0L8 8" {STROKE}/>'
HEAD = '<svg xmlns="http://www.w3.org/2000/svg" width="8in" height="8in" viewBox="0 0 8 8">'


def refused(data: bytes | str, tmp_path: Path, name: str = "bad.svg") -> SeamwrightError:
    path = tmp_path / name
    path.write_bytes(data.encode() if isinstance(data, str) else data)
    with pytest.raises(SeamwrightError) as caught:
        read_drawing(path)
    error = caught.value
    assert error.exit_code == 2
    assert error.drawing == str(path)
    text = str(error)
    assert text.startswith(str(path))
    assert text.endswith(".")
    assert "Traceback" not in text
    assert all(fault.what and fault.mend for fault in error.faults)
    assert str(pickle.loads(pickle.dumps(error))) == text
    return error


@pytest.mark.parametrize(
    ("data", "code"),
    [
        (b"", "empty"),
        (b"  \n\t ", "empty"),
        (b"\xef\xbb\xbf", "empty"),
        (b"\0" * 50, "empty"),
        (b"hello", "not xml"),
        (b"<svg", "not xml"),
        (b"<svg><g></svg>", "not xml"),
        (b"<svg>&nope;</svg>", "not xml"),
        (b"<html><body/></html>", "not svg"),
        (b"<?xml version='1.0'?><drawing/>", "not svg"),
        (b"<svg xmlns='http://example.invalid/other'/>", "not svg"),
        (b"%PDF-1.7 ...", "not svg"),
        (b"\x89PNG\r\n\x1a\n...", "not svg"),
        (b"\xff\xd8\xff\xe0....", "not svg"),
        (b"PK\x03\x04....", "not svg"),
        (b"\x1f\x8bnot really gzip", "unreadable"),
        (bytes(range(256)), "not xml"),
        (b"<?xml version='1.0' encoding='klingon'?><svg/>", "not xml"),
        (b"<svg>\xff\xfe</svg>", "not xml"),
        (b"<svg a='1' a='2'/>", "not xml"),
    ],
)
def test_what_is_no_drawing_is_said_to_be_none(data: bytes, code: str, tmp_path: Path) -> None:
    assert refused(data, tmp_path).code == code


def test_a_fault_of_form_names_its_line(tmp_path: Path) -> None:
    error = refused("<svg>\n<g>\n</h></svg>", tmp_path)
    assert error.faults[0].line == 3


@pytest.mark.parametrize(
    "dtd",
    [
        '<!ENTITY x SYSTEM "file:///etc/passwd">',
        '<!ENTITY x SYSTEM "http://127.0.0.1:9/x">',
        '<!ENTITY x PUBLIC "a" "file:///etc/passwd">',
    ],
)
def test_external_entities_are_refused(dtd: str, tmp_path: Path) -> None:
    error = refused(f"<!DOCTYPE svg [{dtd}]>{HEAD}<text>&x;</text>{LINE}</svg>", tmp_path)
    assert error.code == "entities"


def test_entities_that_multiply_are_stopped(tmp_path: Path) -> None:
    entities = '<!ENTITY a0 "lol">' + "".join(
        f'<!ENTITY a{k} "{"".join(f"&a{k - 1};" for _ in range(10))}">' for k in range(1, 12)
    )
    error = refused(f"<!DOCTYPE svg [{entities}]>{HEAD}<text>&a11;</text>{LINE}</svg>", tmp_path)
    assert error.code == "entities"


def test_one_long_entity_many_times_is_stopped(tmp_path: Path) -> None:
    entity = f'<!ENTITY a "{"x" * 100_000}">'
    error = refused(f"<!DOCTYPE svg [{entity}]>{HEAD}<text>{'&a;' * 20_000}</text></svg>", tmp_path)
    assert error.code == "entities"


def test_entities_that_only_name_things_are_read() -> None:
    # Some drawing programs declare their namespaces so.
    text = (
        '<!DOCTYPE svg PUBLIC "-//W3C//DTD SVG 1.1//EN" "http://www.w3.org/Graphics/SVG/1.1/DTD/svg11.dtd" ['
        '<!ENTITY ns_svg "http://www.w3.org/2000/svg"><!ENTITY st0 "fill:none;stroke:#000000">]>'
        '<svg xmlns="&ns_svg;" width="8in" height="8in" viewBox="0 0 8 8"><path style="&st0;" d="M0 0L8 8"/></svg>'
    )
    assert segments(read_svg(text.encode(), name="x", file="")) == [((0, 0), (8, 8))]


def test_a_document_type_that_names_a_file_on_the_net_opens_nothing(monkeypatch: pytest.MonkeyPatch) -> None:
    opened: list[str] = []

    def hook(event: str, args: tuple[object, ...]) -> None:
        if watching and event in ("open", "socket.connect", "socket.getaddrinfo", "urllib.Request"):
            opened.append(f"{event} {args}")

    watching = False
    sys.addaudithook(hook)  # cannot be taken off again: `watching` ends it
    text = (
        '<?xml version="1.0"?><?xml-stylesheet href="http://example.invalid/a.css"?>'
        '<!DOCTYPE svg PUBLIC "x" "http://example.invalid/svg.dtd">'
        '<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink"'
        ' width="8in" height="8in">'
        '<style>@import url("file:///etc/passwd"); path{stroke:black}</style>'
        '<image xlink:href="file:///etc/passwd"/><use xlink:href="file:///etc/passwd#a"/>'
        '<xi:include xmlns:xi="http://www.w3.org/2001/XInclude" href="file:///etc/passwd"/>'
        '<path d="M0 0L96 96" fill="url(file:///etc/passwd#a)"/></svg>'
    )
    read_svg(text.encode(), name="warm", file="")  # imports happen here
    watching = True
    try:
        drawing = read_svg(text.encode(), name="x", file="")
    finally:
        watching = False
    assert opened == []
    assert len(drawing.lines) == 1
    assert socket  # only named so that the events above are known to exist


def test_more_than_twenty_megabytes_are_refused(tmp_path: Path) -> None:
    assert refused(b"<svg>" + b" " * 20_000_001, tmp_path).code == "too large"


def test_a_packed_drawing_is_read_and_a_packed_bomb_refused(tmp_path: Path) -> None:
    path = tmp_path / "kite.svgz"
    path.write_bytes(gzip.compress(svg(LINE).encode()))
    assert segments(read_drawing(path)) == [((0, 0), (8, 8))]
    assert refused(gzip.compress(b"<svg>" + b" " * 200_000_000), tmp_path).code == "too large"
    assert refused(gzip.compress(svg(LINE).encode())[:-20], tmp_path).code == "unreadable"


def test_deep_nesting_is_refused_and_two_hundred_deep_is_read(tmp_path: Path) -> None:
    for deep in (201, 100_000):
        assert refused(HEAD + "<g>" * deep + "</g>" * deep + "</svg>", tmp_path).code == "too deep"
    assert len(read("<g>" * 198 + LINE + "</g>" * 198).lines) == 1


def test_nesting_by_clones_is_refused_too() -> None:
    body = f'<defs><g id="l0">{LINE}</g>' + "".join(
        f'<g id="l{k}"><use href="#l{k - 1}"/></g>' for k in range(1, 400)
    )
    with pytest.raises(DrawingError, match="deep"):
        read(f'{body}</defs><use href="#l399"/>')


def test_fifty_thousand_pieces_are_read_and_one_more_refused() -> None:
    d = "M0 0" + "".join(f"L{k % 7} {k % 5 + (k % 2) / 2}" for k in range(1, 50_001))
    assert len(read(f'<path d="{d}" {STROKE}/>').lines) == 50_000
    with pytest.raises(DrawingError, match="more than 50,000 line pieces"):
        read(f'<path d="{d}L1 1" {STROKE}/>')


def test_too_many_elements_are_refused(tmp_path: Path) -> None:
    assert refused(HEAD + "<g/>" * 400_001 + "</svg>", tmp_path).code == "too many"


def test_curves_too_large_to_flatten_are_refused() -> None:
    d = "M0 0" + "C0 900 900 900 900 0" * 20_000
    with pytest.raises(DrawingError, match="500,000 points"):
        read(f'<path d="{d}" {STROKE}/>')


def test_fills_that_cross_without_end_are_refused() -> None:
    rng = random.Random(1)
    tangle = " ".join(f"{rng.uniform(0, 8):.2f},{rng.uniform(0, 8):.2f}" for _ in range(1000))
    with pytest.raises(DrawingError, match="cross more than 100,000 times"):
        read(f'<path d="M{tangle}Z" fill="red"/>')


def test_a_deep_stack_is_read_in_reasonable_time() -> None:
    stack = "".join(
        f'<rect x="{k / 100}" y="{k / 100}" width="{8 - k / 50}" height="{8 - k / 50}" fill="#0{k % 9}0"/>'
        for k in range(300)
    )
    assert len(read(stack).lines) == 1200


@pytest.mark.parametrize("value", ["nan", "NaN", "inf", "-Infinity", "1e999", "1e300", "1e10", "0x10", "1..2", "٣"])
@pytest.mark.parametrize("place", ["x1", "path", "points", "matrix", "viewBox", "width"])
def test_numbers_that_cannot_be_meant_are_refused_everywhere(value: str, place: str) -> None:
    body = {
        "x1": f'<line x1="{value}" x2="1" y2="1" {STROKE}/>',
        "path": f'<path d="M0 0L{value} 3" {STROKE}/>',
        "points": f'<polygon points="0,0 {value},1" {STROKE}/>',
        "matrix": f'<g transform="matrix(1 0 0 1 {value} 0 9)">{LINE}</g>',
    }.get(place, LINE)
    attributes = {
        "viewBox": f'width="8in" height="8in" viewBox="0 0 {value} 8 9"',
        "width": f'width="{value}" height="8in"',
    }.get(place, 'width="8in" height="8in" viewBox="0 0 8 8"')
    with pytest.raises(DrawingError):
        read(body, attributes)


def test_a_drawing_of_nothing_is_read_as_nothing() -> None:
    # Whether that is a block is for the block to say.
    drawing = read("")
    assert drawing.lines == ()
    assert drawing.artboard is not None


def test_files_that_cannot_be_opened_are_named(tmp_path: Path) -> None:
    (tmp_path / "folder.svg").mkdir()
    fifo = tmp_path / "pipe.svg"
    os.mkfifo(fifo)
    for path, words in [
        (tmp_path / "nowhere.svg", "no such file"),
        (tmp_path / "folder.svg", "is a folder"),
        (fifo, "no ordinary file"),
        (Path("/dev/null"), "no ordinary file"),
        (tmp_path / ("x" * 300 + ".svg"), "cannot be read"),
        (tmp_path / "a\0b.svg", "cannot be used"),
    ]:
        with pytest.raises(FileError, match=words) as caught:
            read_drawing(path)
        assert caught.value.drawing == str(path)


@pytest.mark.skipif(os.geteuid() == 0, reason="root may read everything")
def test_a_file_that_may_not_be_read_is_said_to_be_so(tmp_path: Path) -> None:
    path = tmp_path / "shut.svg"
    path.write_text(svg(LINE))
    path.chmod(0)
    with pytest.raises(FileError, match="may not be read"):
        read_drawing(path)


def test_text_forms_are_told_by_their_first_line(tmp_path: Path) -> None:
    good = "seamwright block 1\nname kite\nsize 8 in\nseam 0, 0 to 8, 8\n"
    named_oddly = tmp_path / "kite.txt"
    named_oddly.write_text("\ufeff" + good, encoding="utf-8")
    assert read_drawing(named_oddly).exact
    assert refused(good.encode("utf-16"), tmp_path, "kite.seams").code == "encoding"
    latin = refused("seamwright block 1\nname fjör\u00e5d\n".encode("latin-1"), tmp_path, "kite.seams")
    assert (latin.faults[0].line, latin.faults[0].column) == (2, 8)
    assert refused("seamwright quilt 1\n", tmp_path, "quilt.setting").code == "quilt file"
    assert refused("seamwright quilt 1\n", tmp_path, "quilt.svg").code == "quilt file"


def test_an_svg_named_as_a_text_form_is_read_as_what_it_is(tmp_path: Path) -> None:
    path = tmp_path / "kite.seams"
    path.write_text(svg(LINE))
    assert len(read_drawing(path).lines) == 1


@pytest.mark.parametrize("encoding", ["utf-8", "utf-16", "iso-8859-1", "windows-1252"])
def test_declared_encodings_are_read(encoding: str) -> None:
    text = f'<?xml version="1.0" encoding="{encoding}"?>' + svg(f'{LINE}<text x="1" y="1">fj\u00f6rd</text>')
    drawing = read_svg(text.encode(encoding), name="x", file="")
    assert drawing.labels[0].text == "fj\u00f6rd"


def test_reading_twice_gives_the_same(tmp_path: Path) -> None:
    path = Path(__file__).parent / "drawings" / "h__svgwrite_polygons.svg"
    assert read_drawing(path) == read_drawing(path)
