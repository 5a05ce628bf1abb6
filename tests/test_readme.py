"""The README's two commands do what they promise on a machine that has nothing."""

from __future__ import annotations

import re
import shutil
from pathlib import Path

import pytest

from support.bare import bare_root, run, this_release

ROOT = Path(__file__).parent.parent
README = ROOT / "README.md"


def command(name: str) -> str:
    """The shell command that follows the marker `<!-- command: NAME -->` in the README."""
    found = re.search(rf"<!-- command: {name} -->\s*```sh\n(.*?)```", README.read_text(encoding="utf-8"), re.DOTALL)
    assert found, f"the README has no command marked {name}"
    return found.group(1).strip()


def test_the_first_command_makes_the_print_file_the_readme_shows():
    text = command("first print")
    drawing = re.search(r"designs/\S+", text)
    assert drawing and (ROOT / drawing.group()).exists()
    assert "seamwright foundations" in text


def test_every_picture_the_readme_shows_exists_and_has_a_line_of_text():
    for words, path in re.findall(r"!\[([^\]]*)\]\(([^)]+)\)", README.read_text(encoding="utf-8")):
        assert (ROOT / path).exists(), path
        assert len(words) > 20, f"{path} needs a line that says what it shows"


def test_the_python_lines_of_the_readme_run(tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    (lines,) = re.findall(r"```python\n(.*?)```", README.read_text(encoding="utf-8"), re.DOTALL)
    assert len([line for line in lines.splitlines() if line.strip()]) <= 6
    shutil.copytree(ROOT / "designs", tmp_path / "designs")
    monkeypatch.chdir(tmp_path)
    exec(compile(lines, "README.md", "exec"), {})
    assert list(tmp_path.glob("*.pdf"))


@pytest.mark.long
def test_the_quilt_commands_of_the_readme_run_in_a_folder_that_holds_the_designs_alone(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
):
    from seamwright.cli import main

    (lines,) = re.findall(
        r"<!-- commands: quilt -->\s*```sh\n(.*?)```", README.read_text(encoding="utf-8"), re.DOTALL
    )
    shutil.copytree(ROOT / "designs", tmp_path / "designs")
    monkeypatch.chdir(tmp_path)
    for line in lines.strip().splitlines():
        name, *words = line.split()
        assert name == "seamwright"
        assert main(words) == 0, line
    written = re.findall(r"-o (\S+)", lines)
    assert written and all((tmp_path / name).exists() for name in written)


@pytest.mark.long
def test_both_commands_pass_in_a_bare_debian_root(tmp_path: Path):
    """The checkout alone goes in, no installed thing."""
    bare = bare_root(tmp_path / "bare", this_release())
    run(["git", "clone", "-q", str(ROOT), str(bare.root / "seamwright")])
    for name in ("first print", "tests"):
        bare.run(f"cd /seamwright && {command(name)}")
    made = list((bare.root / "seamwright").glob("*.pdf"))
    assert made and made[0].read_bytes().startswith(b"%PDF")
