"""The page's own files: none lies about that nothing uses, and no rule is for what is never made."""

from __future__ import annotations

import re
from pathlib import Path

import seamwright

PAGE = Path(seamwright.__file__).parent / "page"
FILES = PAGE / "files"


def test_every_module_and_every_style_sheet_is_asked_for():
    page = (FILES / "index.html").read_text()
    asked = set(re.findall(r'(?:href|src)="([\w-]+\.(?:css|js))"', page))
    for module in FILES.glob("*.js"):
        asked |= set(re.findall(r'(?:from|import\() ?"\./([\w-]+\.js)"', module.read_text()))
    assert {path.name for path in FILES.iterdir()} == asked | {"index.html"}


def test_every_class_and_id_that_a_rule_names_is_made_somewhere():
    made = " ".join(path.read_text() for path in [*FILES.glob("*.js"), *FILES.glob("*.html")])
    made += " ".join(path.read_text() for path in PAGE.glob("*.py"))  # some kinds come from the server
    made += (PAGE.parent / "words" / "fabrics.py").read_text()
    words = set(re.findall(r"[\w-]+", made))
    idle = []
    for sheet in sorted(FILES.glob("*.css")):
        rules = re.sub(r"/\*.*?\*/", "", sheet.read_text(), flags=re.DOTALL)
        for selector in re.findall(r"([^{}]+)\{", rules):
            idle += [
                f"{sheet.name}: {name}"
                for name in re.findall(r"[.#]([a-zA-Z][\w-]*)", selector)
                if name not in words
            ]
    assert not idle
