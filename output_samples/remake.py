"""Remakes everything in this folder from the designs: `python output_samples/remake.py`.

Pictures are made at two times the size they are shown at. What the tool no longer makes is taken away first, so
that the folder never holds a stale file.
"""

from __future__ import annotations

from contextlib import chdir
from io import BytesIO
from pathlib import Path

import seamwright
from seamwright.ink.png import to_png
from seamwright.ink.svg import to_svg
from seamwright.quiltbooks import write_quilt_booklet

HERE = Path(__file__).parent
DESIGNS = HERE.parent / "designs"

FOOTER = "Harbour Lights workshop. Copies for this class only. First edition."
# Name of the print file, design, options of the plan, of the print, sheets that are shown (None: all).
PRINTED = (
    ("kite", "kite.svg", {}, {}, None),
    ("compass-star", "compass-star.seams", {}, {}, None),
    ("lighthouse-beam", "lighthouse-beam.svg", {"paper": "a4", "units": "metric"}, {}, None),
    ("reef", "reef.seams", {}, {}, None),
    ("lamp", "lamp.seams", {}, {}, None),
    ("breakwater", "breakwater.seams", {"size": "6in", "set_in": True}, {}, None),
    ("kite-class", "kite.svg", {}, {"copies": 3, "sets": "apart", "trial_page": True, "footer": FOOTER}, (1, 2)),
    ("kite-in-parts", "kite.svg", {"size": "14in", "fit": "none"}, {}, None),
    ("kite-wall", "kite.svg", {}, {"enlarge": 2}, (1, 2)),
    ("whirlpool-tints", "whirlpool.seams", {}, {"tints": True, "landscape": True}, (1,)),
    ("kite-freezer", "kite.svg", {}, {"stock": "freezer", "ink_saver": True}, None),
    ("compass-star-front", "compass-star.seams", {}, {"unmirrored": True}, (1,)),
    ("reef-windows", "reef.seams", {}, {"windows": True}, (1,)),
    ("reef-templates", "reef.seams", {"max_patches": 1, "size": "8in"}, {}, (1,)),
)
CLASS = {"students": 12, "footer": FOOTER}
# Name of the booklet, design, options of the plan, of booklet, print and cutting list, pages that are shown.
BOOKLETS = (
    ("harbour-lights-booklet", "harbour-lights.seams", {}, CLASS, (1, 4, 5, 11, 15, 17)),
    ("harbour-lights-rotary-booklet", "harbour-lights.seams", {"rotary": "auto"}, CLASS, (1, 5, 8, 13)),
    ("lighthouse-beam-a4-booklet", "lighthouse-beam.svg", {"paper": "a4", "units": "metric"}, {}, (1, 4)),
)
# Name of the cutting list, design, options of the plan, of the list, endings.
CUT = (
    ("harbour-lights-cutting", "harbour-lights.seams", {}, {"blocks": 12}, (".csv", ".pdf")),
    ("harbour-lights-stacks", "harbour-lights.seams", {"rotary": "auto"}, {"blocks": 12, "stack": True}, (".pdf",)),
)
# Name of the picture of fabrics, design, palette, colourways.
WORN = (
    ("spinnaker-fabrics", "spinnaker.seams", None, None),
    ("compass-star-fabrics", "compass-star.seams", "dusk.palette", "all"),
)
# Quilts that have pictures and booklets of their own, and the pages of these that are shown; and those quilts that
# stand beside the first of them in the README.
QUILTS = {"evening-watch": (1, 4, 44), "kites-star": (1, 3)}
TOGETHER = ("kites-star", "kites-wheel", "kites-fleet", "kites-rings")
TURNED = ("kite.svg", "kites-star.setting")  # all layouts of a block on one sheet, in the fabrics of a quilt
FILES = "kite.svg"  # its foundations as files for machines
PICTURED = (
    *("compass-star.seams", "storm-rose.svg", "gull.svg", "lamp.seams", "whirlpool.seams"),
    *("breakwater.seams", "sea-urchin.svg"),
)
REHEARSED = {"kite.svg": (3, 11)}  # design -> numbers of the pictures of its rehearsal that are kept
SHEET_DPI = 110
PICTURE_DPI = 110


def main() -> None:
    """Prints, pictures, and the picture at the head of the README."""
    for old in HERE.iterdir():
        if old.suffix in {".pdf", ".png", ".svg", ".dxf", ".csv"} and not old.name.startswith("page-"):
            old.unlink()
    for stem, name, options, printing, shown in PRINTED:
        plan = seamwright.plan(seamwright.read_block(DESIGNS / name, **options))
        printed = seamwright.write_pdf(HERE / f"{stem}.pdf", plan, **printing)
        for sheet in printed.sheets:
            if shown is None or sheet.number in shown:
                (HERE / f"{stem}-sheet-{sheet.number}.png").write_bytes(to_png(page(sheet), SHEET_DPI))
        print(f"{stem}: {len(printed.sheets)} sheets")
    for stem, name, options, asked, shown in BOOKLETS:
        plan = seamwright.plan(seamwright.read_block(DESIGNS / name, **options))
        booked = seamwright.write_booklet(HERE / f"{stem}.pdf", plan, **asked)
        for number in shown:
            (HERE / f"{stem}-page-{number}.png").write_bytes(to_png(page(booked.pages[number - 1]), SHEET_DPI))
        print(f"{stem}: {len(booked.pages)} pages, {len(booked.printed.sheets)} sheets")
    for stem, name, options, asked, endings in CUT:
        plan = seamwright.plan(seamwright.read_block(DESIGNS / name, **options))
        for ending in endings:
            seamwright.write_cutting(HERE / f"{stem}{ending}", seamwright.cutting(plan, **asked))
        print(f"{stem}: cutting list")
    for stem, name, palette, colourways in WORN:
        asked = {"palette": DESIGNS / palette, "colourway": colourways} if palette else {}
        plans = [seamwright.plan(block) for block in seamwright.read_colourways(DESIGNS / name, **asked)]
        (HERE / f"{stem}.png").write_bytes(to_png(seamwright.fabrics_picture(*plans), PICTURE_DPI))
        print(f"{stem}: {len(plans)} rows")
    made = seamwright.write_files(HERE, seamwright.plan(seamwright.read_block(DESIGNS / FILES)))
    print(f"{FILES}: {len(made)} foundations as files")
    for name in PICTURED:
        plan = seamwright.plan(seamwright.read_block(DESIGNS / name))
        picture = to_png(seamwright.picture_of(plan, seamwright.mends(plan)), PICTURE_DPI)
        (HERE / f"{Path(name).stem}-plan.png").write_bytes(picture)
        print(f"{name}: picture")
    for name, kept in REHEARSED.items():
        pictures = seamwright.rehearsal_pictures(seamwright.plan(seamwright.read_block(DESIGNS / name)))
        for number in kept:
            file, svg = pictures[number - 1]
            (HERE / f"{Path(file).stem}.png").write_bytes(to_png(svg, PICTURE_DPI))
        print(f"{name}: rehearsal")
    for name, shown in QUILTS.items():
        quilt = seamwright.read_quilt(DESIGNS / f"{name}.setting")
        seamwright.write_quilt_picture(HERE / f"{name}.png", quilt)
        booked = write_quilt_booklet(HERE / f"{name}-booklet.pdf", quilt, **CLASS)
        for number in shown:
            (HERE / f"{name}-booklet-page-{number}.png").write_bytes(
                to_png(page(booked.pages[number - 1]), SHEET_DPI)
            )
        print(f"{name}: quilt, {len(booked.pages)} pages, {len(booked.printed.sheets)} sheets")
    with chdir(DESIGNS.parent):  # the sheet names the file as whoever goes on will
        found = seamwright.turnings(f"designs/{TURNED[0]}", palette=f"designs/{TURNED[1]}")
        seamwright.write_turnings(HERE / f"{Path(TURNED[0]).stem}-turnings.png", found)
    print(f"{TURNED[0]}: {len(found.every)} turnings")
    quilts_picture(next(iter(QUILTS)), TOGETHER)
    readme_picture("compass-star.seams")
    beside("booklet.png", [HERE / f"harbour-lights-booklet-page-{number}.png" for number in (1, BOOKLETS[0][4][3])])


def page(sheet) -> str:
    """A sheet, or a page of a booklet, as an SVG page."""
    return to_svg(sheet.ink, sheet.width_pt, sheet.height_pt, "pt", background="#ffffff")


def readme_picture(name: str) -> None:
    """A drawing's plan beside its first sheet, on one ground."""
    from PIL import Image, ImageOps

    plan = seamwright.plan(seamwright.read_block(DESIGNS / name))
    left = Image.open(BytesIO(to_png(seamwright.picture_of(plan), 120))).convert("RGB")
    sheet = Image.open(BytesIO(to_png(page(seamwright.lay_out(plan)[0]), 100))).convert("RGB")
    sheet = ImageOps.expand(sheet, 2, "#8A93A6")
    sheet = sheet.resize((round(sheet.width * left.height / sheet.height), left.height), Image.Resampling.LANCZOS)
    both = Image.new("RGB", (left.width + sheet.width + 60, left.height + 40), "#F7F5F0")
    both.paste(left, (0, 20))
    both.paste(sheet, (left.width + 40, 20))
    both.save(HERE / "readme.png", optimize=True)
    print("readme.png")


def quilts_picture(first: str, others: tuple[str, ...]) -> None:
    """A quilt in colour, and beside it two and two of one height, on one ground."""
    from PIL import Image

    from seamwright.picture.cloth import Finish
    from seamwright.picture.quilt import quilt_picture

    small, gap = 450, 30
    high = 2 * small + gap

    def shown(name: str, height: int) -> Image.Image:
        drawn = quilt_picture(seamwright.read_quilt(DESIGNS / f"{name}.setting"), 5.0, Finish.COLOUR)
        svg = to_svg(drawn.inks, drawn.width_in, drawn.height_in, background="#F7F5F0")
        picture = Image.open(BytesIO(to_png(svg, 2 * PICTURE_DPI))).convert("RGB")
        return picture.resize((round(picture.width * height / picture.height), height), Image.Resampling.LANCZOS)

    large, pairs = shown(first, high), [shown(name, small) for name in others]
    together = Image.new("RGB", (large.width + 2 * (small + gap) + 2 * gap, high + 2 * gap), "#F7F5F0")
    together.paste(large, (gap, gap))
    for count, one in enumerate(pairs):
        x = large.width + 2 * gap + count % 2 * (small + gap)
        together.paste(one, (x, gap + count // 2 * (small + gap)))
    together.quantize(128).save(HERE / "quilts.png", optimize=True)
    print("quilts.png")


def beside(name: str, pages: list[Path]) -> None:
    """Pages side by side, small, on one ground."""
    from PIL import Image, ImageOps

    shown = [ImageOps.expand(Image.open(one).convert("RGB"), 2, "#8A93A6") for one in pages]
    shown = [one.resize((one.width * 3 // 4, one.height * 3 // 4), Image.Resampling.LANCZOS) for one in shown]
    both = Image.new("RGB", (sum(one.width + 20 for one in shown) + 20, shown[0].height + 40), "#F7F5F0")
    for count, one in enumerate(shown):
        both.paste(one, (20 + count * (one.width + 20), 20))
    both.save(HERE / name, optimize=True)
    print(name)


if __name__ == "__main__":
    main()
