"""What is installed is whole, and says what it lacks: wheels, machines without fonts or the cairo library."""

from __future__ import annotations

import json
import os
import platform
import re
import subprocess
import sys
import tomllib
import zipfile
from collections.abc import Sequence
from fnmatch import fnmatch
from pathlib import Path

import pytest

from seamwright.cli import main
from seamwright.ink import png
from support.bare import bare_root, run, this_release
from support.faults import FILES, FOLDERS, PEN, PENS, RING, WRITERS, held, lay_out_desk

ROOT = Path(__file__).parent.parent
NEEDS_CAIRO = [out for out in WRITERS if out.endswith((".png", ".pdf")) or out == "files"]
QUICK = ("picture.svg", "strips.csv", "first.setting")
NO_CAIRO = r"PDF and PNG files need the cairo drawing library, and it cannot be loaded here\. "
SAYS = (("check", "pen.seams", "--json"), ("fabrics", "pen.seams"), ("cutting", "pen.seams"), ("text-form",))


@pytest.fixture
def desk(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Drawings in a folder, to which we go."""
    lay_out_desk(tmp_path)
    monkeypatch.chdir(tmp_path)
    return tmp_path


# -- without the cairo library -----------------------------------------------------------------------------------


@pytest.mark.parametrize("out", NEEDS_CAIRO)
def test_what_needs_cairo_says_how_to_install_it_before_any_work(
    desk: Path, out: str, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    before = held(desk)
    monkeypatch.setitem(sys.modules, "cairosvg", None)
    monkeypatch.setattr("seamwright.piecing.plan.plan", None)
    assert main([*WRITERS[out], out]) == 2
    (said,) = capsys.readouterr().err.splitlines()
    assert re.fullmatch(f"seamwright: {NO_CAIRO}.*nstall.*", said)
    assert held(desk) == before


@pytest.mark.parametrize(
    "out",
    [pytest.param(o, marks=[] if o in QUICK else [pytest.mark.long]) for o in WRITERS if o not in NEEDS_CAIRO],
)
def test_what_needs_no_cairo_is_the_same_without_it(
    desk: Path, out: str, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    assert main([*WRITERS[out], out]) == 0
    with_it = held(desk)
    monkeypatch.setitem(sys.modules, "cairosvg", None)
    assert main([*WRITERS[out], out]) == 0
    assert held(desk) == with_it
    assert capsys.readouterr().err == ""


@pytest.mark.parametrize(
    ("system", "told", "command"),
    [
        ("linux", {"ID": "debian"}, "Install it: apt-get install libcairo2"),
        ("linux", {"ID": "ubuntu", "ID_LIKE": "debian"}, "Install it: apt-get install libcairo2"),
        ("linux", {"ID": "rocky", "ID_LIKE": "rhel centos fedora"}, "Install it: dnf install cairo"),
        ("linux", {"ID": "opensuse-leap", "ID_LIKE": "suse opensuse"}, "Install it: zypper install libcairo2"),
        ("linux", {"ID": "nobody"}, "Install it, as on Debian and Ubuntu: sudo apt-get install libcairo2"),
        ("freebsd14", None, "Install it, as on Debian and Ubuntu: sudo apt-get install libcairo2"),
        ("darwin", None, "Install it: brew install cairo (and, if it is still not found, export DYLD_"),
        ("win32", None, "Put libcairo-2.dll in a folder and set CAIROCFFI_DLL_DIRECTORIES to it"),
    ],
)
@pytest.mark.parametrize("user", [0, 1000])
def test_each_system_is_told_its_own_command(
    system: str, told: dict[str, str] | None, command: str, user: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    """What os-release(5) says of itself on these systems; commands as is common practice there."""

    def release() -> dict[str, str]:
        if told is None:
            raise OSError("no os-release here")
        return told

    monkeypatch.setattr(platform, "freedesktop_os_release", release)
    monkeypatch.setattr(os, "geteuid", lambda: user)
    wanted = command if user == 0 else re.sub("Install it: (apt|dnf|zypper)", r"Install it: sudo \1", command)
    assert png._how_to_install(system).startswith(wanted)


@pytest.mark.long
def test_the_page_says_what_to_install(desk: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The page's workers are processes of their own: cairo is missing there."""
    from support.asking import asking

    (desk / "fake").mkdir()
    (desk / "fake" / "cairocffi.py").write_text("raise OSError('no library called \"cairo-2\" was found')")
    monkeypatch.syspath_prepend(str(desk / "fake"))  # processes that are begun look where we look
    with asking(desk) as asked:
        for kind in ("pdf", "cutter", "booklet", "picture"):
            answer = asked.post("/api/print/file", {"name": "pen.seams", "text": PEN, "kind": kind})
            assert 400 <= answer.status_code < 500, (kind, answer.text)
            assert re.match(NO_CAIRO, answer.json()["error"]["text"])
        verdict = asked.post("/api/verdict", {"name": "pen.seams", "text": PEN})
        assert verdict.json()["state"] == "can"


# -- without fonts -----------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "outs",
    [("sheets.pdf", "quilt.pdf"), pytest.param(tuple(NEEDS_CAIRO), marks=pytest.mark.long)],
    ids=["some", "all"],
)
def test_a_machine_without_fonts_writes_the_same_bytes(desk: Path, outs: Sequence[str]) -> None:
    """fontconfig, which the drawing library asks for letters, is given a list of fonts that is empty."""
    for out in outs:
        assert main([*WRITERS[out], out]) == 0
    there = held(desk)
    (desk / "fonts.conf").write_text("<?xml version='1.0'?><fontconfig></fontconfig>")
    words = [[*WRITERS[out], out] for out in outs]
    code = f"from seamwright.cli import main; print([main(words) for words in {words!r}])"
    for out in outs:
        (desk / out).unlink() if (desk / out).is_file() else None
    bare = {**os.environ, "FONTCONFIG_FILE": str(desk / "fonts.conf")}
    done = subprocess.run([sys.executable, "-c", code], env=bare, capture_output=True, text=True, check=False)
    assert done.stdout.splitlines()[-1] == str([0] * len(outs)), done.stderr
    assert {name: content for name, content in held(desk).items() if name != "fonts.conf"} == there


# -- what is installed -------------------------------------------------------------------------------------------


def test_every_file_of_the_package_is_named_for_the_wheel() -> None:
    package = ROOT / "src" / "seamwright"
    data = tomllib.loads((ROOT / "pyproject.toml").read_text())["tool"]["setuptools"]["package-data"]["seamwright"]
    plain = [
        path.relative_to(package).as_posix()
        for path in package.rglob("*")
        if path.is_file()
        and path.suffix != ".py"
        and not re.search(r"/(\.|__pycache__)", str(path.relative_to(ROOT)))
    ]
    assert len(plain) > 50
    for name in plain:
        assert any(fnmatch(name, pattern) or fnmatch(name, pattern.removeprefix("**/")) for pattern in data), name


@pytest.fixture(scope="session")
def built(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, Path]:
    """The wheel and the sdist of what is checked in, built as anyone builds them, and unpacked."""
    home = tmp_path_factory.mktemp("built")
    run(["git", "clone", "-q", str(ROOT), str(home / "source")])
    run([sys.executable, "-m", "venv", str(home / "venv")])
    python = str(home / "venv/bin/python")
    run([python, "-m", "pip", "install", "-q", "build"])
    run([python, "-m", "build", "-o", str(home / "dist"), str(home / "source")])
    (wheel,), (sdist,) = (home / "dist").glob("*.whl"), (home / "dist").glob("*.tar.gz")
    run(["tar", "xzf", str(sdist), "-C", str(home)])
    (unpacked,) = home.glob("seamwright-*")
    run([python, "-m", "build", "--wheel", "-o", str(home / "again"), str(unpacked)])
    (again,) = (home / "again").glob("*.whl")
    assert contents(again) == contents(wheel), "the sdist builds the same wheel"
    assert (unpacked / "designs/kite.svg").is_file(), "the first command of the README prints it"
    return wheel, unpacked


def contents(wheel: Path) -> dict[str, bytes]:
    """What a wheel holds, by name."""
    with zipfile.ZipFile(wheel) as file:
        return {name: file.read(name) for name in file.namelist()}


@pytest.mark.long
def test_the_wheel_holds_all_of_the_package_and_says_what_it_is(built: tuple[Path, Path]) -> None:
    wheel, sdist = built
    inside = contents(wheel)
    package = sdist / "src"
    there = {p.relative_to(package).as_posix() for p in (package / "seamwright").rglob("*") if p.is_file()}
    assert {name for name in inside if name.startswith("seamwright/")} == there
    told = next(content.decode() for name, content in inside.items() if name.endswith("METADATA"))
    head, _, readme = told.partition("\n\n")
    assert "License-Expression: MIT AND Bitstream-Vera" in head
    assert "License-File: LICENSE\n" in head and "License-File: src/seamwright/ink/LICENSE-glyphs.txt\n" in head
    assert "Requires-Python: >=3.11" in head and "Description-Content-Type: text/markdown" in head
    assert "URL" not in head and "Author" not in head
    assert readme.strip() == (ROOT / "README.md").read_text(encoding="utf-8").strip()
    licences = [name for name in inside if "/licenses/" in name]
    assert len(licences) == 2


@pytest.mark.long
def test_a_fresh_environment_from_the_wheel_alone_runs_every_command(
    built: tuple[Path, Path], tmp_path: Path
) -> None:
    """No extra, no checkout beside it, warnings are errors; first what the README begins with."""
    wheel, sdist = built
    run([sys.executable, "-m", "venv", str(tmp_path / "venv")])
    run([str(tmp_path / "venv/bin/pip"), "install", "-q", str(wheel)])
    desk = tmp_path / "desk"
    desk.mkdir()
    lay_out_desk(desk)
    readme = (ROOT / "README.md").read_text(encoding="utf-8")
    first = re.search(r"\.venv/bin/(seamwright foundations designs/kite\.svg -o kite\.pdf)", readme)
    assert first
    command = str(tmp_path / "venv/bin/seamwright")
    run([command, *first[1].split()[1:-2], "-o", str(desk / "kite.pdf")], cwd=sdist)
    for words in [*([*w, out] for out, w in WRITERS.items()), *SAYS]:
        run([str(tmp_path / "venv/bin/python"), "-W", "error", "-m", "seamwright", *words], cwd=desk)
    assert set(held(desk)) > {"kite.pdf", *FILES, *FOLDERS}


@pytest.mark.long
@pytest.mark.parametrize("release", ["this", "trixie", "sid"])
def test_a_bare_root_without_cairo_and_without_fonts(
    built: tuple[Path, Path], tmp_path: Path, release: str
) -> None:
    """Debian's releases bring a Python each: 3.11, 3.13 and what is newest."""
    wheel, _ = built
    name = this_release() if release == "this" else release
    bare = bare_root(tmp_path / "bare", name, "python3", "python3-venv")
    work = bare.root / "w"
    work.mkdir()
    (work / wheel.name).write_bytes(wheel.read_bytes())
    for file, text in (("pen.seams", PEN), ("pen.setting", PENS), ("ring.seams", RING.read_text())):
        (work / file).write_text(text)
    commands = [[*words, out] for out, words in WRITERS.items()] + [list(words) for words in SAYS]
    (work / "commands.json").write_text(json.dumps(commands))
    (work / "all.py").write_text(INSIDE)
    bare.run(f"cd /w && python3 -m venv v && v/bin/pip install -q {wheel.name}")
    assert not list((bare.root / "usr/share").glob("fonts/*")), "no fonts yet"
    bare.run("cd /w && python3 all.py without")
    for words, (code, complained) in zip(commands, json.loads((work / "without.json").read_text()), strict=True):
        if words[-1] in NEEDS_CAIRO:
            assert code == 2
            assert re.fullmatch(f"seamwright: {NO_CAIRO}Install it: apt-get install libcairo2\\. .*\n", complained)
        else:
            assert (code, complained) == (0, "")
    stale = "-o Acquire::Check-Valid-Until=false"  # an archive may be a copy of some weeks ago
    bare.run(f"apt-get {stale} update && apt-get install -y --no-install-recommends libcairo2")  # the very mend
    bare.run("cd /w && python3 all.py fonts")
    bare.run("rm -rf /usr/share/fonts /var/cache/fontconfig; cd /w && python3 all.py bare")
    for kind in ("fonts", "bare"):
        assert all(told == [0, ""] for told in json.loads((work / f"{kind}.json").read_text()))
    assert held(work / "fonts") == held(work / "bare")
    without = held(work / "without")
    assert {name: content for name, content in held(work / "bare").items() if name in without} == without


INSIDE = """
import json, os, shutil, subprocess, sys
os.mkdir(sys.argv[1])
for name in ("pen.seams", "pen.setting", "ring.seams"):
    shutil.copy(name, sys.argv[1])
told = []
for words in json.load(open("commands.json")):
    command = ["/w/v/bin/python", "-W", "error", "-m", "seamwright", *words]
    done = subprocess.run(command, cwd=sys.argv[1], capture_output=True, text=True)
    told.append([done.returncode, done.stderr])
json.dump(told, open(sys.argv[1] + ".json", "w"))
"""
