"""Pictures as PNG at a stated resolution, and the way in to cairo.

Knows:  how to ask for cairosvg, and what to say when the cairo library itself is missing.
Leaves: what is drawn (ink.svg), pages (sheet.pdf).
Units:  dots per inch.
"""

from __future__ import annotations

import os
import sys
from collections.abc import Mapping
from io import BytesIO
from typing import Any

from seamwright.errors import LibraryError, fail


def cairo() -> Any:
    """The module `cairosvg`, imported late: it takes 0.2 s and needs a library that pip does not bring.

    Raises:
        LibraryError: cairosvg or the cairo library is missing; the mend is the command that installs it here.
    """
    try:
        import cairosvg
    except (ImportError, OSError) as problem:  # a missing shared library shows as OSError
        raise fail(
            LibraryError,
            "library",
            "PDF and PNG files need the cairo drawing library, and it cannot be loaded here",
            f"{_how_to_install(sys.platform)}. Then try again; SVG and CSV files need no cairo",
        ) from problem
    return cairosvg


_COMMANDS = {
    "debian": "apt-get install libcairo2",
    "fedora": "dnf install cairo",
    "rhel": "dnf install cairo",
    "suse": "zypper install libcairo2",
    "arch": "pacman -S cairo",
    "alpine": "apk add cairo",
}
"""Common practice, by the names that systems give themselves in os-release(5); Debian's is tried in the tests."""


def _how_to_install(system: str) -> str:
    """What installs cairo on a system, named as `sys.platform` does."""
    if system == "darwin":
        library = "export DYLD_FALLBACK_LIBRARY_PATH=$(brew --prefix)/lib"
        return f"Install it: brew install cairo (and, if it is still not found, {library})"
    if system == "win32":
        return "Put libcairo-2.dll in a folder and set CAIROCFFI_DLL_DIRECTORIES to it"
    import platform

    try:
        told = platform.freedesktop_os_release()
    except OSError:
        told = {}
    names = [told.get("ID", ""), *told.get("ID_LIKE", "").split()]
    command = next((_COMMANDS[name] for name in names if name in _COMMANDS), "")
    if command:
        root = hasattr(os, "geteuid") and os.geteuid() == 0
        return f"Install it: {'' if root else 'sudo '}{command}"
    return f"Install it, as on Debian and Ubuntu: sudo {_COMMANDS['debian']}"


def to_png(svg: str, dpi: int = 200, text: Mapping[str, str] | None = None) -> bytes:
    """The picture on white paper, with its physical resolution and words about it inside the file.

    Args:
        svg: a document of physical size, as `ink.svg.to_svg` makes it.
        dpi: dots per inch, at least 1.
        text: keywords and words for the PNG's text chunks, such as {"Software": ...}.

    Raises:
        LibraryError: cairo is missing.
    """
    raw = cairo().svg2png(bytestring=svg.encode(), dpi=dpi, background_color="white")
    from PIL import Image, PngImagePlugin  # cairosvg brings Pillow

    picture = Image.open(BytesIO(raw)).convert("RGB")
    red, green, blue = picture.split()
    if red.tobytes() == green.tobytes() == blue.tobytes():
        picture = red  # one channel of grey: a third of the size
    chunks = PngImagePlugin.PngInfo()
    for key, words in (text or {}).items():
        chunks.add_itxt(key, words)
    out = BytesIO()
    picture.save(out, "PNG", dpi=(dpi, dpi), pnginfo=chunks, optimize=True)
    return out.getvalue()
