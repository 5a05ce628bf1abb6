"""Styles of SVG elements: presentation attributes, style sheets, style attributes, inheritance.

Knows:  the cascade for the few properties that say what is drawn and how large.
Leaves: what the values mean (svg_paint, svg_units).
Method: tinycss2 parses, cssselect2 matches; everything is cached, as drawings repeat one style a thousand times.
Source: CSS Cascading Level 3, section 6 (importance, then style attribute, specificity, order); SVG 1.1 (second
        edition), section 6.4: presentation attributes come before all other author rules, with specificity 0.
Limits: @import is never followed; @media rules hold for "all" and "screen".
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from typing import Any
from xml.etree.ElementTree import Element

from seamwright.drawing.svg_colour import is_paint
from seamwright.drawing.svg_xml import tag_of, unreadable
from seamwright.errors import SeamwrightError

INHERITED = (
    frozenset(f"fill{end}" for end in ("", "-opacity", "-rule"))
    | frozenset(f"stroke{end}" for end in ("", "-opacity", "-width"))
    | frozenset(("visibility", "color", "font-size", "text-anchor", "clip-rule"))
)
GEOMETRY = frozenset(("x", "y", "width", "height", "cx", "cy", "r", "rx", "ry", "transform"))
"""SVG 2 lets a style set these; as attributes they are read where they are used."""
_OWN = frozenset(
    ("display", "opacity", "dominant-baseline", "alignment-baseline", "stop-color", "stop-opacity", "clip-path")
)
_ATTRIBUTES = INHERITED | _OWN
_READ = _ATTRIBUTES | GEOMETRY

Declared = dict[str, tuple[str, bool]]
"""Property -> (value, important)."""

_PAINTS = frozenset(("fill", "stroke", "color", "stop-color"))
_VARIABLE = re.compile(r"var\(\s*(--[^\s,()]+)\s*(?:,((?:[^()]|\([^()]*\))*))?\)")
MOST_RULES, MOST_TESTS, MOST_PASSED_ON = 20_000, 4_000_000, 6_000_000
FITTING = 5
"""Rules tried and found not to hold that take as long as one that holds."""
_MOST_VARIABLES, _LONGEST_VALUE = 20, 1000
LONGEST_STYLE = 1_000_000
"""Signs of style sheets, addresses left out; a style attribute may have a tenth of it."""
_ADDRESS = re.compile(r"url\([^()]*+\)")
_SIMPLE = re.compile(r"[^\"'(){}\[\]\\/!@]*\Z")
_FONT_SIZE = re.compile(
    r"(?:^|\s)((?:\d++(?:\.\d++)?|\.\d++)(?:px|pt|pc|mm|cm|in|em|rem|%)?)(?:\s|/|$)", re.IGNORECASE
)


class Sheet:
    """What a document's styles declare for each element."""

    def __init__(self, root: Element) -> None:
        self._attribute_cache: dict[str, Declared] = {}
        self._cache: dict[Element, dict[str, str]] = {}
        self.imports = False
        self._passed_on = 0
        self._rules: dict[Element, list[Declared]] = {}
        texts = [
            "".join(element.itertext())
            for element in root.iter()
            if tag_of(element) == "style"
            and (element.get("type") or "text/css").strip().lower() == "text/css"
            and _media_holds(element.get("media") or "")
        ]
        if any(text.strip() for text in texts):
            try:
                self._match(root, texts)
            except RecursionError:
                raise _too_nested() from None

    def _match(self, root: Element, texts: list[str]) -> None:
        """Fill `_rules`: for each element the declarations that match it, weakest first."""
        import cssselect2
        import tinycss2

        matcher = cssselect2.Matcher()

        def add(rules: list[Any]) -> None:
            for rule in rules:
                if rule.type == "at-rule":
                    keyword = rule.lower_at_keyword
                    self.imports |= keyword == "import"
                    if keyword == "media" and rule.content and _media_holds(tinycss2.serialize(rule.prelude)):
                        add(tinycss2.parse_rule_list(rule.content, skip_comments=True, skip_whitespace=True))
                elif rule.type == "qualified-rule":
                    declared = _declarations(rule.content)
                    try:
                        selectors = cssselect2.compile_selector_list(rule.prelude) if declared else ()
                    except cssselect2.SelectorError:
                        continue  # CSS drops a rule whose selector it does not know
                    except (SyntaxError, MemoryError):
                        raise _too_nested() from None  # a selector becomes a piece of Python
                    for selector in selectors:
                        if selector.pseudo_element is None:
                            matcher.add_selector(selector, declared)

        if sum(map(_length_read, texts)) > LONGEST_STYLE:
            raise _too_many_rules()
        if sum(text.count("{") + text.count(",") // 2 for text in texts) > MOST_RULES:
            raise _too_many_rules()
        for text in texts:
            add(tinycss2.parse_stylesheet(text, skip_comments=True, skip_whitespace=True))
        # Rules about the neighbours or the inside of an object look at many others for each.
        count = sum(1 for _ in root.iter())
        wide = sum(text.count(word) for text in texts for word in (":has(", ":nth-", "-of-type", "~"))
        general = (
            wide * count // 8 + len(matcher.other_selectors) + sum(map(len, matcher.namespace_selectors.values()))
        )
        named = matcher.lower_local_name_selectors
        tests = 0
        for wrapper in cssselect2.ElementWrapper.from_xml_root(root).iter_subtree():
            # Rules of one class or id are looked up; all others are tried on each element.
            tests += general + len(named.get(wrapper.local_name.lower(), ())) + len(wrapper.classes)
            if tests > MOST_TESTS:
                raise _too_many_rules()
            found = matcher.match(wrapper)
            tests += FITTING * len(found)
            if found:
                self._rules[wrapper.etree_element] = [payload for _, _, _, payload in found]

    def declared(self, element: Element) -> dict[str, str]:
        """Property -> value as the cascade decides it for this element alone, before inheritance."""
        known = self._cache.get(element)
        if known is not None:
            return known
        values = {
            name: value.strip()
            for name, value in element.attrib.items()
            if name in _ATTRIBUTES and _valid(name, value)
        }
        layers = list(self._rules.get(element, ()))
        style = element.get("style")
        if style:
            inline = self._attribute_cache.get(style)
            if inline is None:
                inline = self._attribute_cache[style] = _inline(style)
            layers.append(inline)
        for important in (False, True):
            for layer in layers:
                values.update((name, value) for name, (value, strong) in layer.items() if strong is important)
        self._cache[element] = values
        return values

    def inherit(self, parent: Mapping[str, str], element: Element) -> dict[str, str]:
        """All properties of an element, given its parent's (for what `<use>` shows: the use element's)."""
        declared = self.declared(element)
        values = {name: value for name, value in parent.items() if _inherits(name)}
        self._passed_on += len(values)
        if self._passed_on > MOST_PASSED_ON:
            raise _too_many_rules()
        variables = {name: value for name, value in (*values.items(), *declared.items()) if name.startswith("--")}
        for name, value in declared.items():
            if "var(" in value:
                value = _filled_in(value, variables)
                if not _valid(name, value):
                    value = "unset"
            word = value.lower()
            if word == "inherit" or (word == "unset" and _inherits(name)):
                if name in parent:
                    values[name] = parent[name]
                else:
                    values.pop(name, None)
            elif word in ("initial", "unset", "revert"):
                values.pop(name, None)
            else:
                values[name] = value
        return values


def _length_read(text: str) -> int:
    """Signs that are looked at one by one: an address, such as a font within the file, is taken as a whole."""
    return len(text) if len(text) <= LONGEST_STYLE // 10 else len(_ADDRESS.sub("", text))


def _inherits(name: str) -> bool:
    return name in INHERITED or name.startswith("--")


def _valid(name: str, value: str) -> bool:
    """Whether CSS takes the value; one that it does not take is dropped, and an earlier one holds."""
    return name not in _PAINTS or "var(" in value or is_paint(value)


def _filled_in(value: str, variables: Mapping[str, str]) -> str:
    """The value with its variables filled in (CSS Custom Properties Level 1, section 3); "" if one is missing."""
    for _ in range(_MOST_VARIABLES):
        found = _VARIABLE.search(value)
        if not found:
            return value.strip()
        value = value[: found.start()] + (variables.get(found[1]) or found[2] or "") + value[found.end() :]
        if len(value) > _LONGEST_VALUE:
            break
    return ""


def _media_holds(query: str) -> bool:
    words = [part.strip().lower() for part in query.split(",")]
    return not query.strip() or any(word in ("all", "screen") for word in words)


def _inline(style: str) -> Declared:
    """The declarations of a style attribute."""
    if _SIMPLE.match(style):
        # No quotes, brackets or comments: splitting is the same as parsing and a hundred times quicker.
        pairs = (part.partition(":") for part in style.split(";"))
        return _kept((name.strip().lower(), value.strip(), False) for name, colon, value in pairs if colon)
    if _length_read(style) > LONGEST_STYLE // 10:
        raise _too_many_rules()
    import tinycss2

    try:
        return _declarations(tinycss2.parse_component_value_list(style))
    except RecursionError:
        raise _too_nested() from None


def _too_many_rules() -> SeamwrightError:
    return unreadable(
        "too many",
        "the drawing's style sheet has too many rules for so many objects",
        "Save only the block's lines, with plain styles",
    )


def _too_nested() -> SeamwrightError:
    return unreadable(
        "style", "a style has brackets nested too deep to be read", "Save the drawing again as plain SVG"
    )


def _declarations(content: Any) -> Declared:
    import tinycss2

    parsed = tinycss2.parse_declaration_list(content, skip_comments=True, skip_whitespace=True)
    return _kept(
        (item.lower_name, tinycss2.serialize(item.value).strip(), item.important)
        for item in parsed
        if item.type == "declaration"
    )


def _kept(items: Iterable[tuple[str, str, bool]]) -> Declared:
    """The declarations of properties that this reader looks at; a later one beats an earlier one."""
    declared: Declared = {}
    for name, value, important in items:
        if name == "font":
            size = _FONT_SIZE.search(value) if len(value) <= _LONGEST_VALUE else None
            if not size:
                continue
            name, value = "font-size", size[1]
        if not (name in _READ or name.startswith("--")) or not value or not _valid(name, value):
            continue
        if important or not declared.get(name, ("", False))[1]:
            declared[name] = (value, important)
    return declared
