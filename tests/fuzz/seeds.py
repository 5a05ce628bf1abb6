# ruff: noqa: E501
"""Small good inputs that a fuzzer begins with, and the words that it puts between: all our own.

Knows:  drawings and texts that use each feature of their form once; tokens of each form.
Leaves: the designs and drawings that lie in files (targets).
"""

from __future__ import annotations

_HEAD = b'<svg xmlns="http://www.w3.org/2000/svg" width="8in" height="8in" viewBox="0 0 8 8">'

DRAWINGS = (
    _HEAD
    + b'<rect width="8" height="8" fill="none" stroke="black"/><path d="M0 0L8 8M0 8L4 4" stroke="#000"/></svg>',
    _HEAD + b'<polygon points="0,0 8,0 8,8" fill="#a9c9dc"/><polygon points="0,0 8,8 0,8" fill="#e8b04b"/></svg>',
    _HEAD
    + b'<defs><g id="a"><path d="M0 0L4 4" stroke="#000"/></g></defs><use href="#a" x="4"/><use href="#b"/></svg>',
    _HEAD + b"<style>.k{fill:none;stroke:red}@media print{.k{stroke:none}}</style>"
    b'<circle class="k" cx="4" cy="4" r="3"/><ellipse rx="2" ry="1" cx="4" cy="4" style="stroke:var(--c,blue)"/></svg>',
    _HEAD + b'<clipPath id="c"><circle cx="4" cy="4" r="4"/></clipPath><g clip-path="url(#c)">'
    b'<path d="M0 4H8" stroke="#000" stroke-dasharray="1 1"/></g><text x="4" y="4" font-size=".5">sky, stripes 45</text></svg>',
    b'<?xml version="1.0" encoding="UTF-8"?><!DOCTYPE svg [<!ENTITY w "sky">]><svg width="20cm" height="20cm">'
    b'<g transform="translate(3 4) rotate(90)"><line x1="0" x2="50%" y1="1in" y2="2em" stroke="black"/></g>'
    b"<text>&w;<tspan dx='1'>b</tspan></text></svg>",
    _HEAD + b'<linearGradient id="g"><stop stop-color="red"/></linearGradient><symbol id="s" viewBox="0 0 2 2">'
    b'<rect width="2" height="2" fill="url(#g)"/></symbol><use href="#s" width="4" height="4"/></svg>',
    _HEAD.replace(b"svg xmlns", b'svg xmlns:inkscape="http://www.inkscape.org/namespaces/inkscape" xmlns')
    + b'<g inkscape:groupmode="layer" inkscape:label="seams"><path d="m0 0c1 1 2 1 3 0s2-1 3 0q1 1 2 0t1 1a1 2 30 0 1 1 1z"'
    b' stroke="#000"/></g><switch><g systemLanguage="de"/><g><path d="M0 0h8v8" stroke="red"/></g></switch></svg>',
)

PARTS = (
    (b"M0 0L8 8", b"M1 1h2v2H0V0zm1 1l2 2", b"M0 0C1 1 2 1 3 0S5 1 6 0Q7 1 8 0T8 8", b"M0 0A4 4 30 0 1 8 8a1 1 0 01.5.5Z"),
    (b"rotate(45 4 4)", b"matrix(1 0 0 1 2,3) scale(2)", b"skewX(30)skewY(-30)translate(1)"),
    (b"0,0 8,0 8,8", b"0 0-1.5-2e1.5"),
    (b"stroke:red;fill:none", b"--c:red;stroke:var(--c,blue)!important", b"font:italic 2em/1 serif;transform:rotate(30deg)"),
    (b"url(#a) red", b"rgb(10%, 20%, 30%)", b"hsl(120deg 50% 50% / .5)", b"#a9c9dc80", b"currentColor"),
    (b"8in", b"203.2mm", b"100%", b"576pt"),
    (b"0 0 8 8", b"xMidYMid meet", b"-4,-4,8,8"),
    (b"1.5in", b"50%", b"2em", b"auto"),
    (b".k > path:nth-child(2n+1), #a{stroke:red}", b"@import url(x.css);@media screen{*{fill:none}}", b"/* a */ a:not(.b){fill:#fff}"),
    (b"#a", b"file:///etc/passwd#a", b"http://127.0.0.1:9/x.svg#a", b"data:image/svg+xml,<svg/>"),
)  # fmt: skip

TEXTS = {
    "seams": (
        b"seamwright block 1\nsize 8 in\nseam 0, 0 to 8, 8\n",
        b'seamwright block 1\nname "two words"\nsize 20 cm x 30 cm\ngrid 4 x 6\nseam (0, 0) to (4, 6)\n'
        b"arc 0, 3 through 1, 2 to 2, 0\ncurve 4, 0 bending at 2, 1 and 3, 2 to 0, 6 # a remark\n",
        b"seamwright block 1\nsize 6 in\noutline 0, 0 to 6, 0 to 6, 6 to 0, 6\nside 0, 0 through 3, 0.5 to 6, 0\n"
        b"seam 3, 0 1/2 to 3, 6\nfabric sky colour #a9c9dc value light cool code S stripes 45 width 42 in\n"
        b"fabric waves direction -90\nlay sky at 2, 3 and 1, 5\nlay waves at 5 in, 5 in\noption tolerance 1/8 in\n"
        b"colourway night sky becomes waves and waves becomes sky\n",
        "seamwright block 1\nsize 8½ in\ngrid 8\nseam 0, ¼ to 8, 7 3/4\ncurve 0, 0 to 1, 0.2 to 2, 0\n".encode(),
        b"\xef\xbb\xbfSeamwright Block 1\r\nsize 8 in\r\nseam 0,0 to 8,8 to 0,8 to 0,0\r\n",
        b"seamwright block 1\nsize 8 in\n" + b"".join(b"seam 0, %d to 8, %d\n" % (k, 8 - k) for k in range(1, 8)),
    ),
    "palette": (
        b"seamwright palette 1\nfabric sky colour #a9c9dc\n",
        b'seamwright palette 1\nfabric "storm blue" value dark warm code B direction 30 width 1 m\ncolourway dusk sky becomes ink\n',
        b"seamwright quilt 1\nblock kite kite.svg\nfabric sky colour #fff\n",
    ),
    "setting": (
        b"seamwright quilt 1\nblock kite kite.svg\nrow kite\n",
        b"seamwright quilt 1\nname evening watch\nblock kite kite.svg size 8 in\nblock star star.seams\nset straight\n"
        b"row kite, kite 90, star reversed\nrow 2 kite, plain sea\nrow kite 90 in dusk, 2 star in dusk\nrepeat 4 x 5\n"
        b"sashing 1 1/2 in foam cornerstones brass outside\nborder 1 in foam\nborder 4 in ink mitred\n"
        b"border 3 in ink corners brass\nborder coping sea at least 1 in\nborder of kite corners star\nbinding ink 2 1/2 in\n"
        b"backing foam width 108 in over 4 in\nbatting over 4 in\nfabric sky colour #a9c9dc value light\n"
        b"colourway dusk sky becomes ink\noption rotary auto\n",
        b"seamwright quilt 1\nblock kite kite.svg\nset on point\nrow kite, kite\nrow kite\nrow kite, kite\ntriangles sea\n"
        b"binding none\nbacking none\nbatting none\nfit 60 x 80 in\n",
        b"seamwright quilt 1\nblock kite kite.svg size 20 cm\nrow kite 270 reversed\nrepeat 200 x 50\nfit twin\n",
    ),
}

VALUES = (
    *(
        "8in",
        "8 1/2 in",
        '2 7/8"',
        "20 cm",
        "203.2mm",
        "8x12in",
        "20cm x 30cm",
        "8½",
        "1/4in,1/4in,1/2in,1/4in",
        "a4",
    ),
    *(
        "iso-b5",
        "20x30cm",
        "10%",
        "2.5",
        "2 1/2 h",
        "300%",
        "kite.svg@6in",
        "1e300",
        "1/0",
        "nan",
        "inf",
        "-8in",
        "1e-17",
    ),
)

_SVG = (
    *(
        "<svg",
        "</svg>",
        "<g>",
        "</g>",
        "<path ",
        "<use ",
        "<rect ",
        "<style>",
        "</style>",
        "<defs>",
        "<symbol ",
        "<text>",
    ),
    *(
        "<clipPath ",
        "<linearGradient ",
        "<switch>",
        "<!DOCTYPE svg [",
        "<!ENTITY a ",
        "]>",
        "&a;",
        "<![CDATA[",
        "]]>",
    ),
    *(
        "<?xml version='1.0'?>",
        "<!--",
        "-->",
        ' d="',
        ' points="',
        ' transform="',
        ' viewBox="',
        ' style="',
        ' id="a"',
    ),
    *(
        ' href="#a"',
        ' xlink:href="',
        ' width="',
        ' fill="',
        ' stroke="',
        ' clip-path="url(#a)"',
        ' display="none"',
        "/>",
    ),
    *(
        '"',
        "M0 0",
        "L8 8",
        "C",
        "A1 1 0 01",
        "z",
        "1e999",
        "nan",
        "inf",
        "matrix(",
        "rotate(",
        "scale(0)",
        "skewX(90)",
    ),
    *(
        "url(#a)",
        "url(",
        "var(--c)",
        "@import",
        "@media",
        "{",
        "}",
        ":not(",
        ":has(",
        ":nth-child(",
        "!important",
        "in",
    ),
    *(
        "mm",
        "%",
        "em",
        "http://www.w3.org/2000/svg",
        "\\xef\\xbb\\xbf",
        "\\xff\\xfe",
        "\\x1f\\x8b",
        "file:///etc/passwd",
    ),
)
_WORDS = (
    *(
        "seamwright block 1\\x0a",
        "seamwright palette 1\\x0a",
        "seamwright quilt 1\\x0a",
        "name ",
        "size ",
        "grid ",
        "outline ",
    ),
    *(
        "side ",
        "seam ",
        "arc ",
        "curve ",
        "fabric ",
        "lay ",
        "option ",
        "colourway ",
        " to ",
        " through ",
        " bending at ",
    ),
    *(
        " and ",
        " becomes ",
        " at ",
        " colour #",
        " value ",
        " light",
        " dark",
        " warm",
        " code ",
        " stripes ",
        " direction ",
    ),
    *(
        " width ",
        "block ",
        "row ",
        "repeat ",
        "set on point",
        "set straight",
        "triangles ",
        "sashing ",
        " cornerstones ",
    ),
    *(
        " outside",
        "border ",
        " mitred",
        " corners ",
        "coping ",
        " at least ",
        "border of ",
        "binding ",
        "backing ",
        " over ",
    ),
    *(
        "batting ",
        "none",
        "fit ",
        "twin",
        "plain ",
        " reversed",
        " in ",
        " x ",
        " 90",
        " 1/2",
        "¼",
        " in",
        " cm",
        "0, 0",
        "8, 8",
    ),
    *(
        "1e300",
        "1e-300",
        "9999999999",
        "-",
        "#",
        "\\x0a",
        "\\x0d",
        "\\x09",
        "\\x00",
        "\\xe2\\x80\\xae",
        '\\"',
        "(",
        ")",
    ),
)


def dictionary() -> str:
    """All tokens as a dictionary of libFuzzer."""

    def entry(token: str) -> str:
        if "\\x" not in token and token != '\\"':
            token = token.replace("\\", "\\\\").replace('"', '\\"')
        return '"' + "".join(c if c.isascii() else "".join(f"\\x{b:02x}" for b in c.encode()) for c in token) + '"'

    return "".join(f"{entry(token)}\n" for token in dict.fromkeys((*_SVG, *_WORDS)))
