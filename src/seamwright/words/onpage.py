"""Sentences for the page: what names an option of the command line there names what to press here.

Knows:  how each option is called on the page, and in which part of the work it stands.
Leaves: the sentences (the modules that find the facts); the page's own words (page/files).
Method: whole phrases first, each as its sentence has it; then whatever option or command is left, by its name. So a
        new sentence is never shown with words of the command line; at worst it reads stiffly.
"""

from __future__ import annotations

import re

LABELS = {
    "set-in": ("Check", "Sew it as it is drawn"),
    "steps": ("Check", "Search longer"),
    "seconds": ("Check", "Search longer"),
    "tolerance": ("Check", "Tidy away up to"),
    "fit": ("Check", "Sections must fit a sheet"),
    "max-patches": ("Check", "Most patches in a section"),
    "start": ("Check", "Sections start with"),
    "priority": ("Check", "Most repeats first"),
    "fold-clear": ("Check", "Only folds that run clear"),
    "rotary": ("Check", "Cut by ruler where that is quicker"),
    "pre-pieced": ("Check", "Sewn together beforehand"),
    "size": ("Draw", "Finished size"),
    "stretch": ("Draw", "Finished size"),
    "palette": ("Colour", "Palette"),
    "colourway": ("Colour", "Colourway"),
    "units": ("Print", "Measures"),
    "allowance": ("Print", "Seam allowance"),
    "paper": ("Print", "Paper"),
    "margins": ("Print", "Margins"),
    "copies": ("Print", "Copies"),
    "sets": ("Print", "Sets to hand out"),
    "upright": ("Print", "Prints as they lie in the block"),
    "effort": ("Print", "Effort"),
    "landscape": ("Print", "Sheets on their long side"),
    "stock": ("Print", "Printed on"),
    "unmirrored": ("Print", "Front views"),
    "windows": ("Print", "Windows for motifs"),
    "tints": ("Print", "Tints"),
    "ink-saver": ("Print", "Save ink"),
    "trial-page": ("Print", "Trial page first"),
    "enlarge": ("Print", "Times as large"),
    "footer": ("Print", "Words at the foot"),
    "reversed": ("Check", "Mirror image of the block"),
    "students": ("Print", "Students"),
    "level": ("Print", "For whom"),
    "hours": ("Print", "Hours for one block"),
    "large-type": ("Print", "Large type"),
    "left-handed": ("Print", "Left-handed pictures"),
    "blocks": ("Cut", "Blocks"),
    "spare": ("Cut", "To spare"),
    "cloth": ("Cut", "Fabric comes"),
    "stack": ("Cut", "Stacks by section"),
}
"""Option -> (part of the work, words there)."""
COMMANDS = {
    "check": "Check",
    "foundations": "Print",
    "cutting": "Cut",
    "booklet": "Print",
    "fabrics": "Colour",
    "quilt": "Quilt",
    "turnings": "Quilt",
}

_PHRASES = (
    (r"(?:a )?larger --max-patches", 'a larger number at "Most patches in a section" in Check'),
    (r"leaving out --fold-clear", 'taking "Only folds that run clear" off in Check'),
    (r"--fit none", 'taking "Sections must fit a sheet" off in Check'),
    (r"more --(?:steps|seconds) may", '"Search longer" in Check may'),
    (r"--rotary auto leaves", '"Cut by ruler where that is quicker" in Check leaves'),
    (r"[Aa]dd --rotary never for", 'Take "Cut by ruler where that is quicker" off in Check for'),
    (r"\(--rotary auto\)", '("Cut by ruler where that is quicker" in Check)'),
    (r"; --set-in shows how", '; "Sew it as it is drawn" shows how'),
    (r"with seams that turn: add --set-in", 'with seams that turn: press "Sew it as it is drawn"'),
    (r"; seamwright check --picture shows where", "; the drawing shows where"),
    (r"with a smaller --tolerance, such as", 'with a smaller length at "Tidy away up to" in Check, such as'),
    (r"raise the tolerance with --tolerance (\S+?in|\S+?cm)\b", r'give \1 at "Tidy away up to" in Check'),
    (r"\bwith --size, such as --size (\S+)", r'at "Finished size" in Draw, such as \1'),
    (r"or --stretch to change its shape", "or type width and height to change its shape"),
    (r"\bsuch as size (.+) on the line of ", r"such as \1 as the finished size of "),
    (r"^line \d+ ends in the open", "A line ends in the open"),
    (r", or ask the command line", ""),
    (
        r"Fabric lines of the text form or of a palette state them",
        'Press "Change" beside a fabric, or choose a palette',
    ),
)


def on_page(text: str) -> str:
    """A sentence as the page shows it.

    >>> on_page("The search ended at its limit: more --steps may find fewer.")
    'The search ended at its limit: "Search longer" in Check may find fewer.'
    >>> on_page("Say which with --paper and --margins")
    'Say which with "Paper" in Print and "Margins" in Print'
    """
    for phrase, here in _PHRASES:
        text = re.sub(phrase, here, text)
    text = re.sub(r"\boption ([a-z][a-z-]*[a-z])(?=: )", _option, text)
    text = re.sub(r"--([a-z][a-z-]*[a-z])", _option, text)
    return re.sub(r"\bseamwright ([a-z]+)\b", _command, text)


def capital(words: str) -> str:
    """Words as a sentence begins."""
    return words[:1].upper() + words[1:]


def _option(found: re.Match[str]) -> str:
    part, label = LABELS.get(found[1], ("", found[1]))
    return f'"{label}"{f" in {part}" if part else ""}'


def _command(found: re.Match[str]) -> str:
    return COMMANDS.get(found[1], found[0])
