"""The README's two commands do what they promise on a machine that has nothing."""

from __future__ import annotations

import os
import re
import shutil
import subprocess
from pathlib import Path

import pytest

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
    """Needs root, debootstrap and a reachable Debian archive; the checkout alone goes in, no installed thing."""
    if os.geteuid() or not shutil.which("debootstrap"):
        pytest.skip("needs root and debootstrap")
    bare = tmp_path / "bare"
    release = re.search(r"VERSION_CODENAME=(\w+)", Path("/etc/os-release").read_text())
    assert release
    run(["debootstrap", "--variant=minbase", "--include=ca-certificates", release.group(1), str(bare)])
    shutil.copy("/etc/resolv.conf", bare / "etc/resolv.conf")
    shutil.copy("/etc/hosts", bare / "etc/hosts")
    # A machine behind its own certificate authority hands that on; it is no part of the project.
    shutil.copy("/etc/ssl/certs/ca-certificates.crt", bare / "etc/ssl/certs/ca-certificates.crt")
    run(["git", "clone", "-q", str(ROOT), str(bare / "seamwright")])
    for name in ("first print", "tests"):
        # In a mount namespace of its own, what is mounted goes when the command ends.
        # A root without /dev/pts has no terminals, as no machine that anyone works at.
        inside = f"mount -t proc proc /proc; mount -t devpts devpts /dev/pts; cd /seamwright && {command(name)}"
        run(["unshare", "--mount", "chroot", str(bare), "sh", "-c", inside])
    made = list((bare / "seamwright").glob("*.pdf"))
    assert made and made[0].read_bytes().startswith(b"%PDF")


def run(words: list[str]) -> None:
    keep = {"PATH": os.environ["PATH"], "HOME": "/root", "LANG": "C.UTF-8"}
    if "PIP_CERT" in os.environ:
        keep["PIP_CERT"] = "/etc/ssl/certs/ca-certificates.crt"
    done = subprocess.run(words, env=keep, capture_output=True, text=True, check=False)
    assert done.returncode == 0, f"{' '.join(words)}\n{done.stdout[-4000:]}\n{done.stderr[-4000:]}"
