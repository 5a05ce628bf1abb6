"""Files for cutters and plotters: the same geometry as the print, in layers, at true size.

The DXF is audited and read by ezdxf; the SVG by an XML parser and the SVG standard's own rule for physical size;
the preview is measured in pixels.
"""

from __future__ import annotations

import json
import math
import re
from collections.abc import Iterable
from functools import cache
from io import BytesIO
from pathlib import Path
from xml.etree import ElementTree

import ezdxf
import numpy as np
import pytest
from ezdxf import recover
from PIL import Image
from shapely.geometry import Polygon

import seamwright
from seamwright.cli import main
from seamwright.errors import OptionError, ProofError
from seamwright.files.check import dxf_layers, measure, svg_layers
from seamwright.files.dxf import to_dxf_file
from seamwright.files.layers import drawings_of
from seamwright.files.make import machine_files
from seamwright.files.model import Layered, MachineFiles
from seamwright.files.svg import to_svg_file
from seamwright.foundation.model import Foundation
from seamwright.output import made_from
from seamwright.piecing.model import Plan

DESIGNS = Path(__file__).parents[1] / "designs"
MARK = "made by seamwright from [kite.svg]"
NAMES = ("kite.svg", "compass-star.seams", "lamp.seams", "reef.seams")
SVG = "{http://www.w3.org/2000/svg}"


@cache
def job(name: str) -> tuple[Plan, tuple[Foundation, ...]]:
    plan = seamwright.plan(seamwright.read_block(DESIGNS / name))
    return plan, seamwright.foundations(plan)


@cache
def files(name: str) -> tuple[MachineFiles, ...]:
    return machine_files([job(name)], lambda _: MARK)


def drawn(name: str) -> Layered:
    return drawings_of([job(name)])[0][0]


def largest(layers: dict[str, list[tuple[tuple[tuple[float, float], ...], bool]]], layer: str) -> Polygon:
    return max((Polygon(points) for points, closed in layers[layer] if closed), key=lambda p: p.area)


@pytest.mark.parametrize("name", NAMES)
def test_svg_and_dxf_hold_the_outlines_of_the_print(name: str) -> None:
    for one in files(name):
        for layers in (svg_layers(one.svg), dxf_layers(one.dxf)):
            for layer, ring in (("trim", one.foundation.trim_outline), ("stitch", one.foundation.stitch_outline)):
                wanted, found = Polygon(ring), largest(layers, layer)
                x, y = found.bounds[0] - wanted.bounds[0], found.bounds[1] - wanted.bounds[1]
                moved = Polygon([(a + x, b + y) for a, b in ring])
                # Only a shift lies between them: no scale, no turn, no mirror.
                assert moved.symmetric_difference(found).area < 1e-5 * wanted.length


@pytest.mark.parametrize("name", NAMES)
def test_both_files_hold_the_same_lines_layer_by_layer(name: str) -> None:
    for one in files(name):
        svg, dxf = svg_layers(one.svg), dxf_layers(one.dxf)
        for layer in ("stitch", "trim", "help", "check"):
            corners = [sorted(p for points, _ in layers.get(layer, ()) for p in points) for layers in (svg, dxf)]
            assert len(corners[0]) == len(corners[1])
            # Rounded coordinates may sort two near points either way, so each is held against the nearest.
            for point in corners[0]:
                assert min(math.dist(point, other) for other in corners[1]) * 25.4 < 0.001


@pytest.mark.parametrize("name", NAMES)
def test_no_corner_lies_a_hundredth_of_a_millimetre_off(name: str) -> None:
    assert max(one.largest_error_mm for one in files(name)) <= 0.01


@pytest.mark.parametrize("name", NAMES)
def test_a_general_library_finds_no_fault_in_the_dxf(name: str) -> None:
    for one in files(name):
        document, audit = recover.read(BytesIO(one.dxf))
        assert not audit.errors and not audit.fixes
        # DXF Reference, HEADER section: $INSUNITS 1 is inches, $MEASUREMENT 0 is English.
        assert (document.header["$INSUNITS"], document.header["$MEASUREMENT"]) == (1, 0)
        assert {"stitch", "trim", "text", "check"} <= {layer.dxf.name for layer in document.layers}
        assert {e.dxf.layer for e in document.modelspace()} <= {
            "stitch",
            "trim",
            "help",
            "fabric",
            "marks",
            "text",
            "check",
        }


def test_the_dxf_is_mirrored_as_the_print_and_its_words_are_not() -> None:
    one = files("kite.svg")[0]
    assert one.foundation.mirrored
    document = ezdxf.read(__import__("io").StringIO(one.dxf.decode("cp1252")))
    words = [e for e in document.modelspace().query("TEXT") if e.dxf.text.endswith("A1")]
    assert len(words) == 1 and words[0].dxf.get("text_generation_flag", 0) == 0
    # y runs up in DXF, so a ring that runs clockwise as seen has a negative area there.
    trim = next(e for e in document.modelspace().query("LWPOLYLINE") if e.dxf.layer == "trim")
    xs, ys = np.array([(p[0], p[1]) for p in trim.get_points()]).T
    assert np.sum(xs * np.roll(ys, -1) - ys * np.roll(xs, -1)) < 0
    outline = Polygon(next(p for p in one.foundation.patches if p.name == "A1").outline)
    x, y, _ = words[0].dxf.align_point if words[0].dxf.hasattr("align_point") else words[0].dxf.insert
    top = max(p[1] for p in trim.get_points())
    left = min(p[0] for p in trim.get_points())
    from shapely.geometry import Point

    assert outline.contains(Point(x - left, top - y))


def test_how_fabric_lies_is_on_a_layer_of_its_own_dotted_where_the_print_is() -> None:
    for one in files("kite.svg"):
        wanted = {line for patch in one.foundation.patches if patch.laid for line in patch.laid.legs}
        document, _ = recover.read(BytesIO(one.dxf))
        lines = [e for e in document.modelspace().query("LWPOLYLINE") if e.dxf.layer == "fabric"]
        dotted = [e for e in lines if e.dxf.linetype == "dotted"]
        assert len(dotted) >= len(wanted) > 0
        assert {len(list(e.get_points())) for e in dotted} == {2}
        # The shaft of the grain's arrow, its head, nothing else of the print.
        assert len(lines) > len(dotted)
        assert "fabric" in svg_layers(one.svg)


@pytest.mark.parametrize("name", NAMES)
def test_every_line_of_words_is_in_the_dxf(name: str) -> None:
    for (layered, _), one in zip(drawings_of([job(name)]), files(name), strict=True):
        document, _ = recover.read(BytesIO(one.dxf))
        said = sorted(e.dxf.text.removeprefix("%%u") for e in document.modelspace().query("TEXT"))
        wanted = sorted(ink.text for _, inks in layered.layers for ink in inks if hasattr(ink, "text"))
        assert said == wanted


@pytest.mark.parametrize("name", NAMES)
def test_layers_of_the_svg_are_named_and_its_size_is_physical(name: str) -> None:
    for one in files(name):
        root = ElementTree.fromstring(one.svg)
        # SVG 2, section 8.2: width and height in inches over a viewBox of as many units make a unit an inch.
        width, height = (float(re.fullmatch(r"([\d.]+)in", root.get(side, ""))[1]) for side in ("width", "height"))
        assert [float(n) for n in root.get("viewBox", "").split()] == [0, 0, width, height]
        named = [g.get("id") for g in root.findall(f"{SVG}g")]
        assert {"stitch", "trim", "text", "check"} <= set(named)
        labels = [g.get("{http://www.inkscape.org/namespaces/inkscape}label") for g in root.findall(f"{SVG}g")]
        assert labels == named


def test_a_cutter_follows_the_trim_line_in_one_go() -> None:
    for one in files("compass-star.seams"):
        for layers in (svg_layers(one.svg), dxf_layers(one.dxf)):
            assert [closed for _, closed in layers["trim"]] == [True]


def test_the_check_square_of_the_preview_measures_an_inch() -> None:
    for one in files("kite.svg"):
        picture = Image.open(BytesIO(one.png)).convert("L")
        across, down = picture.info.get("dpi") or Image.open(BytesIO(one.png)).info["dpi"]
        assert (round(across), round(down)) == (150, 150)
        (square,) = [Polygon(points) for points, _ in svg_layers(one.svg)["check"]]
        left, top, right, bottom = square.bounds
        row = np.asarray(picture)[round((top + bottom) / 2 * 150) + 20, :]
        dark = [x for x in range(len(row)) if row[x] < 160 and left - 0.05 < x / 150 < right + 0.05]
        assert dark[-1] - dark[0] == pytest.approx(150, abs=1.5)


def test_the_same_foundation_gives_the_same_bytes() -> None:
    again = machine_files([job("kite.svg")], lambda _: MARK)
    assert again == files("kite.svg")


def faulty(content: bytes, old: bytes, new: bytes) -> bytes:
    assert old in content
    return content.replace(old, new)


def moved_corner(one: Layered) -> Layered:
    """The same foundation with a corner of its trim line 0.1 mm aside, as the file must not be."""
    from dataclasses import replace

    first, *rest = one.foundation.trim_outline
    ring = ((first[0] + 0.1 / 25.4, first[1]), *rest)
    return replace(one, foundation=replace(one.foundation, trim_outline=ring))


def faults() -> Iterable[tuple[str, Layered, bytes, bytes]]:
    one = drawn("kite.svg")
    svg, dxf = to_svg_file(one, MARK), to_dxf_file(one, MARK)
    yield "a corner 0.1 mm off", moved_corner(one), svg, dxf
    width = re.search(rb'width="([\d.]+)in"', svg)
    assert width
    yield "no physical size", one, faulty(svg, width[0], b'width="' + width[1] + b'"'), dxf
    shrunk = b'width="%.6fin"' % (float(width[1]) * 0.999)
    yield "narrower by a thousandth", one, faulty(svg, width[0], shrunk), dxf
    yield "a layer of another name", one, faulty(svg, b'id="trim"', b'id="cut"'), dxf
    yield "no unit", one, svg, faulty(dxf, b"$INSUNITS\n 70\n1\n", b"$INSUNITS\n 70\n0\n")
    yield "millimetres", one, svg, faulty(dxf, b"$INSUNITS\n 70\n1\n", b"$INSUNITS\n 70\n4\n")


@pytest.mark.parametrize(("fault", "one", "svg", "dxf"), [pytest.param(*f, id=f[0]) for f in faults()])
def test_a_planted_fault_is_refused(fault: str, one: Layered, svg: bytes, dxf: bytes) -> None:
    with pytest.raises(ProofError):
        measure(one, svg, dxf)


def test_places_of_one_print_share_their_files_and_are_counted() -> None:
    plan, foundations = job("compass-star.seams")
    made = files("compass-star.seams")
    assert sum(one.times for one in made) == len(foundations) == len(plan.sections)
    assert len(made) < len(foundations)


def test_two_sizes_of_one_block_have_names_of_their_own() -> None:
    jobs = []
    for size in ("5in", "6in"):
        plan = seamwright.plan(seamwright.read_block(DESIGNS / "kite.svg", size=size))
        jobs.append((plan, seamwright.foundations(plan)))
    names = [one.name for one, _ in drawings_of(jobs)]
    assert names == ["kite-5-x-5-in-A", "kite-5-x-5-in-B", "kite-6-x-6-in-A", "kite-6-x-6-in-B"]


def test_the_command_writes_a_folder_of_files_and_says_what_they_are(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.chdir(tmp_path)
    Path("kite.svg").write_bytes((DESIGNS / "kite.svg").read_bytes())
    assert main(["foundations", "kite.svg", "--files", "out"]) == 0
    said = capsys.readouterr().out
    assert "kite-A" in said and "1 in square" in said and "maker's manual" in said
    assert sorted(p.name for p in Path("out").iterdir()) == [
        f"kite-{section}.{form}" for section in "AB" for form in ("dxf", "png", "svg")
    ]
    assert all(made_from(path.read_bytes()) == ("kite.svg",) for path in Path("out").iterdir())
    # A second time over our own files; never over those of somebody else.
    assert main(["foundations", "kite.svg", "--files", "out", "-o", "kite.pdf", "--json"]) == 0
    data = json.loads(capsys.readouterr().out)
    assert data["file"] == "kite.pdf"
    assert [one["dxf"] for one in data["files"]] == ["out/kite-A.dxf", "out/kite-B.dxf"]
    Path("out/kite-A.svg").write_text("<svg/>")
    before = Path("out/kite-B.dxf").stat().st_mtime_ns
    assert main(["foundations", "kite.svg", "--files", "out"]) == 2
    assert "--force" in capsys.readouterr().err
    assert Path("out/kite-B.dxf").stat().st_mtime_ns == before


def test_files_are_at_true_size_or_not_at_all(tmp_path: Path) -> None:
    plan, _ = job("kite.svg")
    with pytest.raises(OptionError, match="true size"):
        seamwright.write_files(tmp_path / "out", plan, enlarge="3")
    assert not (tmp_path / "out").exists()


def test_a_silly_folder_is_told(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (tmp_path / "file").write_text("x")
    drawing = str(DESIGNS / "kite.svg")
    assert main(["foundations", drawing, "--files", str(tmp_path / "file" / "out")]) == 2
    assert "is a file" in capsys.readouterr().err
    assert main(["foundations", drawing, "--files", ""]) == 2
    assert "folder" in capsys.readouterr().err
