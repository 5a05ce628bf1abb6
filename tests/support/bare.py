"""A bare Debian root: a machine that has nothing but what is put there."""

from __future__ import annotations

import os
import re
import shutil
import subprocess
from dataclasses import dataclass
from pathlib import Path

import pytest


def this_release() -> str:
    """The Debian release that this machine has."""
    release = re.search(r"VERSION_CODENAME=(\w+)", Path("/etc/os-release").read_text())
    assert release
    return release[1]


@dataclass(frozen=True)
class Bare:
    """A root made by debootstrap."""

    root: Path

    def run(self, command: str) -> str:
        """What a shell command says inside; it must succeed."""
        # In a mount namespace of its own, what is mounted goes when the command ends.
        # A root without /dev/pts has no terminals, as no machine that anyone works at.
        inside = f"mount -t proc proc /proc; mount -t devpts devpts /dev/pts; {command}"
        return run(["unshare", "--mount", "chroot", str(self.root), "sh", "-c", inside])


def bare_root(root: Path, release: str, *packages: str) -> Bare:
    """A root of a release with packages; needs root, debootstrap and a reachable Debian archive, else skips."""
    if os.geteuid() or not shutil.which("debootstrap"):
        pytest.skip("needs root and debootstrap")
    run(
        [
            "debootstrap",
            "--variant=minbase",
            f"--include={','.join(('ca-certificates', *packages))}",
            release,
            str(root),
        ]
    )
    shutil.copy("/etc/resolv.conf", root / "etc/resolv.conf")
    shutil.copy("/etc/hosts", root / "etc/hosts")
    # A machine behind its own certificate authority hands that on; it is no part of the project.
    shutil.copy("/etc/ssl/certs/ca-certificates.crt", root / "etc/ssl/certs/ca-certificates.crt")
    return Bare(root)


def run(words: list[str], cwd: Path | None = None) -> str:
    """What a command says; it must succeed."""
    keep = {"PATH": os.environ["PATH"], "HOME": "/root", "LANG": "C.UTF-8"}
    if "PIP_CERT" in os.environ:
        keep["PIP_CERT"] = "/etc/ssl/certs/ca-certificates.crt"
    done = subprocess.run(words, env=keep, cwd=cwd, capture_output=True, text=True, check=False)
    assert done.returncode == 0, f"{' '.join(words)}\n{done.stdout[-4000:]}\n{done.stderr[-4000:]}"
    return done.stdout
