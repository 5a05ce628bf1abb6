"""What the project promises about itself: its top level, its layers, its style and its types."""

from __future__ import annotations

import doctest
import importlib
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parent.parent
TOP = {
    "MANIFEST.in",
    "README.md",
    "DEVELOPERS.md",
    "LICENSE",
    "pyproject.toml",
    "src",
    "designs",
    "tests",
    "output_samples",
}

CLOTH = ("seamwright.fabric", "seamwright.cutting")
LATER = (
    *("seamwright.proof", "seamwright.rehearsal", "seamwright.claims", "seamwright.sheet", "seamwright.booklet"),
    *("seamwright.words", "seamwright.report", "seamwright.api", "seamwright.handouts"),
)
"""What comes after a cutting list."""
COMMANDS = ("booklet", "check", "cutting", "fabrics", "foundations", "quilt", "text_form", "turnings")
PAGE_WORK = (
    "verdicttasks",
    "colourtasks",
    "steptasks",
    "cuttasks",
    "printtasks",
    "quiltwork",
    "quiltfiles",
    "quiltturnings",
    "bringing",
    "pictures",
)
"""Modules of the page whose functions run in its workers."""
SERVING = ("fastapi", "starlette", "uvicorn", "pydantic")


def test_the_top_level_holds_what_it_should_and_no_more():
    if not shutil.which("git") or not (ROOT / ".git").exists():
        pytest.skip("not a git checkout")
    listed = subprocess.run(["git", "ls-files"], cwd=ROOT, capture_output=True, text=True, check=False)
    if listed.returncode:
        pytest.skip("git will not answer here")
    tops = {line.split("/")[0] for line in listed.stdout.splitlines()}
    assert {top for top in tops if not top.startswith(".")} == TOP


@pytest.mark.parametrize(
    "words",
    [("ruff", "check", "."), ("ruff", "format", "--check", "."), ("mypy",)],
    ids=["lint", "format", "types"],
)
def test_the_code_passes(words: tuple[str, ...]):
    done = subprocess.run([sys.executable, "-m", *words], cwd=ROOT, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stdout + done.stderr


@pytest.mark.parametrize(
    ("module", "banned"),
    [
        # The checker must not be able to agree with the planner by sharing its code, nor with the rehearsal.
        (
            "seamwright.proof.checker",
            ("seamwright.piecing", "seamwright.block", "seamwright.rehearsal", "seamwright.mend", "networkx"),
        ),
        # Each stage knows the one before it, never the one after.
        ("seamwright.drawing.read", ("seamwright.block", "seamwright.piecing", "seamwright.foundation")),
        ("seamwright.block.make", ("seamwright.piecing", "seamwright.foundation", "seamwright.sheet")),
        (
            "seamwright.piecing.plan",
            (
                "seamwright.foundation",
                "seamwright.sheet",
                "seamwright.proof",
                "seamwright.rehearsal",
                "seamwright.mend",
                "seamwright.cutting",
                "seamwright.booklet",
            ),
        ),
        # A mend is written as a drawing and read back; all that judges plans proves it, and nothing prints it.
        ("seamwright.mend.find", ("seamwright.foundation", "seamwright.sheet", "seamwright.api", "cairosvg")),
        ("seamwright.mend.write", ("seamwright.proof", "seamwright.rehearsal", "seamwright.foundation")),
        # Sizes of paper are known to planning and printing alike, and know neither.
        ("seamwright.paper", ("seamwright.piecing", "seamwright.sheet", "seamwright.foundation")),
        (
            "seamwright.foundation.make",
            ("seamwright.sheet", "seamwright.files", "seamwright.proof", "seamwright.cli", "seamwright.api"),
        ),
        ("seamwright.sheet.pdf", ("seamwright.booklet", "seamwright.cutting.make", "seamwright.api")),
        ("seamwright.sheet.layout", ("seamwright.files", "seamwright.cli", "seamwright.api", "cairosvg", "pypdf")),
        # Files for machines hold one foundation: they know no sheets, and where they are measured no maker of them.
        ("seamwright.files.make", ("seamwright.sheet", "seamwright.api", "pypdf", "cairosvg")),
        ("seamwright.files.check", ("seamwright.files.dxf", "seamwright.files.svg", "seamwright.sheet")),
        # What a page draws, and what of it covers what, is found without knowing what should be there.
        (
            "seamwright.sheet.operators",
            ("seamwright.foundation", "seamwright.sheet.desk", "seamwright.sheet.layout"),
        ),
        ("seamwright.sheet.cover", ("seamwright.foundation", "seamwright.sheet.desk", "seamwright.sheet.layout")),
        # Reading back places nothing: sheets say where everything should lie.
        (
            "seamwright.sheet.readback",
            ("seamwright.sheet.desk", "seamwright.sheet.layout", "seamwright.sheet.pack"),
        ),
        # The rehearsal finds every stitch line for itself: it must not be able to ask the planner.
        (
            "seamwright.rehearsal.rehearse",
            (*("seamwright.piecing", "seamwright.block", "seamwright.proof"), *CLOTH, "seamwright.foundation"),
        ),
        ("seamwright.rehearsal.pictures", ("seamwright.piecing", "seamwright.block", "cairosvg")),
        # Trim lines are proven from coordinates alone.
        ("seamwright.proof.trimmed", ("seamwright.piecing", "seamwright.block", "seamwright.foundation")),
        # What a ruler cuts and what a cutting list holds are proven from bare sizes.
        ("seamwright.proof.ruled", (*CLOTH, "seamwright.piecing", "seamwright.block", "shapely")),
        ("seamwright.proof.cut", (*CLOTH, "seamwright.piecing", "seamwright.block", "shapely")),
        # A laid quilt is proven from coordinates alone, and whoever lays it neither proves nor shows it.
        ("seamwright.proof.quilt", ("seamwright.quilt", "seamwright.piecing", "seamwright.block", "networkx")),
        ("seamwright.quilt.borders", ("seamwright.proof", "seamwright.picture", "seamwright.api", "shapely")),
        ("seamwright.quilt.coping", ("seamwright.quilt.layout", "seamwright.quilt.looks", "shapely")),
        # What a quilt is, how its borders go round it and how its seams nest is known without what tells of it.
        ("seamwright.quilt.model", ("seamwright.api", "seamwright.piecing", "shapely", "numpy")),
        ("seamwright.quilt.borders", ("seamwright.quilt.layout", "seamwright.booklet", "seamwright.words")),
        ("seamwright.quilt.pressing", ("seamwright.booklet", "seamwright.words", "seamwright.report")),
        ("seamwright.words.quilts", ("seamwright.report", "seamwright.sheet.layout")),
        ("seamwright.report.quilts", ("seamwright.words", "seamwright.sheet.layout")),
        # Sizes and shapes of units are geometry; the search for strips counts, and knows neither fabric nor block.
        ("seamwright.fabric.units", ("seamwright.block", "seamwright.piecing", "seamwright.cutting", "shapely")),
        ("seamwright.cutting.strips", ("seamwright.block", "seamwright.piecing", "seamwright.fabric", "shapely")),
        # Pieces know what the paper shows, not the paper; nobody who cuts proves, tells or prints.
        ("seamwright.cutting.pieces", (*LATER, "seamwright.foundation.make")),
        ("seamwright.cutting.make", LATER),
        # Pages are laid out without knowing of quilting, chapters are told without knowing of pages.
        (
            "seamwright.booklet.pages",
            (*CLOTH, "seamwright.block", "seamwright.piecing", "seamwright.rehearsal", "seamwright.sheet"),
        ),
        ("seamwright.booklet.steps", ("seamwright.booklet.pages", "seamwright.booklet.setting", "seamwright.api")),
        ("seamwright.booklet.howto", ("seamwright.booklet.pages", "seamwright.booklet.setting", "seamwright.api")),
        # A plan is told, to people and to programs, without what prints it.
        ("seamwright.words.checks", ("seamwright.report", "seamwright.foundation", "seamwright.sheet", "shapely")),
        ("seamwright.report.checks", ("seamwright.words", "seamwright.foundation", "seamwright.sheet", "shapely")),
        # Commands load what they do when they are called.
        *(
            (f"seamwright.commands.{name}", ("seamwright.api", "seamwright.options", "shapely"))
            for name in COMMANDS
        ),
        # How fabrics read beside each other is known without knowing of any block, and a block in its fabrics
        # is drawn without knowing how it is sewn.
        ("seamwright.fabric.contrast", ("seamwright.block", "seamwright.piecing", "shapely", "numpy")),
        ("seamwright.picture.cloth", ("seamwright.piecing", "seamwright.foundation", "seamwright.sheet")),
        # Layouts are listed, and what blocks make together is found, without knowing what is drawn or said of it.
        (
            "seamwright.quilt.rules",
            ("seamwright.picture", "seamwright.words", "seamwright.quilt.layout", "seamwright.api"),
        ),
        ("seamwright.quilt.secondary", ("seamwright.picture", "seamwright.words", "seamwright.api", "shapely")),
        # The page asks the same calls as the commands; whatever runs in a worker knows nothing of the server, and
        # changes to a drawing or a quilt know nothing of the page.
        (", ".join(f"seamwright.page.{name}" for name in PAGE_WORK), SERVING),
        ("seamwright.sketch.change, seamwright.sketch.view", ("seamwright.page", "seamwright.api", *SERVING)),
        ("seamwright.quilt.edit, seamwright.quilt.editview", ("seamwright.page", "seamwright.api", *SERVING)),
        # What is a drawing, and in which order answers come, is known without doing any of the work.
        ("seamwright.archive.found, seamwright.archive.through", ("seamwright.api", "pebble", "shapely")),
        ("seamwright.many", ("seamwright.api", "seamwright.commands", "pebble", "cairosvg", "shapely")),
        # Writing an SVG needs no cairo library.
        ("seamwright.ink.svg", ("cairosvg", "cairocffi", "pypdf")),
    ],
)
def test_a_layer_does_not_reach_for(module: str, banned: tuple[str, ...]):
    code = f"import sys, {module}; print(*sys.modules, sep='\\n')"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    loaded = done.stdout.splitlines()
    for name in banned:
        assert not [m for m in loaded if m == name or m.startswith(name + ".")], f"{module} imports {name}"


def test_examples_in_docstrings_hold():
    failed = []
    for path in sorted((ROOT / "src").rglob("*.py")):
        if ">>>" in path.read_text(encoding="utf-8"):
            name = ".".join(path.relative_to(ROOT / "src").with_suffix("").parts)
            found = doctest.testmod(importlib.import_module(name), optionflags=doctest.NORMALIZE_WHITESPACE)
            assert found.attempted, name
            failed += [name] * found.failed
    assert not failed
