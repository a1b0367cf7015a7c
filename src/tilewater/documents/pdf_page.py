# SPDX-License-Identifier: Apache-2.0
"""A sheet as a page of PDF, at its own size: lines, filled shapes and text, nothing else.

It takes the SVG text of a `Sheet` and refuses what it has no way to draw, so that nothing is left
out in silence. Text is set in Helvetica, which every reader of PDF has; the same sheet gives the
same bytes.
"""

import re
import zlib
from collections.abc import Iterator
from xml.etree import ElementTree

from tilewater.basis.errors import OutOfDomain
from tilewater.documents.sheet import INCH

SPACE = "{http://www.w3.org/2000/svg}"
POINT = 72.0 / INCH
"""Points of PDF in a pixel of the sheet."""
CURVE = 0.5523
"""Handle of the curve that stands for a quarter of a circle."""
SILENT = frozenset({"title", "desc", "defs"})
HELVETICA = (
    278, 278, 355, 556, 556, 889, 667, 191, 333, 333, 389, 584, 278, 333, 278, 278,
    556, 556, 556, 556, 556, 556, 556, 556, 556, 556, 278, 278, 584, 584, 584, 556,
    1015, 667, 667, 722, 722, 667, 611, 778, 722, 278, 500, 667, 556, 833, 722, 778,
    667, 778, 722, 667, 611, 722, 667, 944, 667, 667, 611, 278, 278, 278, 469, 556,
    333, 556, 556, 500, 556, 556, 278, 556, 556, 222, 222, 500, 222, 833, 556, 556,
    556, 556, 333, 500, 278, 556, 500, 722, 500, 500, 500, 334, 260, 334, 584,
)  # fmt: skip
"""Widths of the letters from the blank to the tilde, in thousandths of their size."""
BOLD = 1.06
"""Bold letters are about this much wider."""
OTHER = 556
"""Width of any other letter."""


def pdf_page(svg: str) -> bytes:
    """A sheet as a PDF of one page.

    Parameters
    ----------
    svg : str
        Text of `Sheet.svg`. [-]

    Returns
    -------
    bytes
        The file. [-]

    Raises
    ------
    OutOfDomain
        If the sheet holds what a page of lines, plain fills and text cannot show.
    """
    root = ElementTree.fromstring(svg)
    width, height = (float(n) for n in root.attrib["viewBox"].split()[2:])
    title = root.findtext(f"{SPACE}title") or ""
    content = "\n".join((f"{POINT:.6f} 0 0 {-POINT:.6f} 0 {height * POINT:.3f} cm", *_drawn(root)))
    return _file(width * POINT, height * POINT, content.encode("cp1252", "replace"), title)


def _drawn(parent: ElementTree.Element) -> Iterator[str]:
    for element in parent:
        tag = element.tag.removeprefix(SPACE)
        if tag in SILENT:
            continue
        if tag == "g":
            yield from _drawn(element)
        elif tag == "text":
            yield from _text(element)
        else:
            yield from _shape(tag, element)


def _shape(tag: str, element: ElementTree.Element) -> Iterator[str]:
    if tag == "path":
        outline = _path(element.attrib["d"])
    elif tag == "rect":
        size = f"{element.attrib['width']} {element.attrib['height']}"
        outline = f"{element.get('x', '0')} {element.get('y', '0')} {size} re"
    elif tag == "ellipse":
        outline = _ellipse(*(float(element.attrib[name]) for name in ("cx", "cy", "rx", "ry")))
    else:
        raise OutOfDomain(f"The sheet holds a '{tag}'. A page draws lines and text. Use a path.")
    fill, stroke = element.get("fill", "none"), element.get("stroke", "none")
    if fill == "none" and stroke == "none":
        return
    yield "q"
    if fill != "none":
        yield f"{_colour(fill, element)} rg"
    if stroke != "none":
        dash = " ".join(element.get("stroke-dasharray", "").split())
        yield f"{_colour(stroke, element)} RG {element.get('stroke-width', '1')} w [{dash}] 0 d 1 j"
    paint = {(True, True): "B", (True, False): "f", (False, True): "S"}
    yield f"{outline} {paint[fill != 'none', stroke != 'none']} Q"


def _path(d: str) -> str:
    """Operators of a path of straight lines."""
    letters = set(re.findall(r"[A-Za-z]", d))
    if letters - set("MLZ"):
        raise OutOfDomain(f"A path has '{''.join(sorted(letters))}'. Only M, L and Z are drawn.")
    numbers = re.findall(r"([MLZ])([^MLZ]*)", d)
    marks = {"M": "m", "L": "l", "Z": "h"}
    return " ".join(f"{place.strip()} {marks[letter]}".strip() for letter, place in numbers)


def _ellipse(x: float, y: float, across: float, up: float) -> str:
    a, b = across * CURVE, up * CURVE
    arcs = (
        (x + across, y + b, x + a, y + up, x, y + up),
        (x - a, y + up, x - across, y + b, x - across, y),
        (x - across, y - b, x - a, y - up, x, y - up),
        (x + a, y - up, x + across, y - b, x + across, y),
    )
    curves = " ".join(" ".join(f"{n:.2f}" for n in arc) + " c" for arc in arcs)
    return f"{x + across:.2f} {y:.2f} m {curves} h"


def _colour(word: str, element: ElementTree.Element) -> str:
    """Shares of red, green and blue, mixed with white where a line is faint."""
    if not re.fullmatch(r"#[0-9a-fA-F]{6}", word):
        raise OutOfDomain(
            f"The sheet paints with '{word}'. A page takes plain colours. Use #rrggbb."
        )
    solid = float(element.get("opacity", "1"))
    shares = (int(word[i : i + 2], 16) / 255 for i in (1, 3, 5))
    return " ".join(f"{1 - solid * (1 - share):.3f}" for share in shares)


def _text(element: ElementTree.Element) -> Iterator[str]:
    words = "".join(element.itertext())
    size = float(element.get("font-size", "10.5"))
    is_bold = element.get("font-weight") == "600"
    wide = _width(words, size) * (BOLD if is_bold else 1.0)
    anchor = {"start": 0.0, "middle": 0.5, "end": 1.0}[element.get("text-anchor", "start")]
    x, y = float(element.attrib["x"]) - anchor * wide, float(element.attrib["y"])
    shown = re.sub(r"([\\()])", r"\\\1", words)
    begin = f"BT /{'B' if is_bold else 'R'} {size:g} Tf 1 0 0 -1 {x:.2f} {y:.2f} Tm"
    if element.get("stroke"):
        halo = f"{_colour(element.attrib['stroke'], element)} RG"
        yield f"q {halo} {element.get('stroke-width', '1')} w 1 j {begin} 1 Tr ({shown}) Tj ET Q"
    yield f"q {_colour(element.get('fill', '#000000'), element)} rg {begin} ({shown}) Tj ET Q"


def _width(words: str, size: float) -> float:
    places = (ord(letter) - 32 for letter in words)
    known = len(HELVETICA)
    return size / 1000 * sum(HELVETICA[p] if 0 <= p < known else OTHER for p in places)


def _file(width: float, height: float, content: bytes, title: str) -> bytes:
    packed = zlib.compress(content, 9)
    font = "<< /Type /Font /Subtype /Type1 /BaseFont /{} /Encoding /WinAnsiEncoding >>"
    called = title.encode("utf-16-be").hex()
    objects = (
        b"<< /Type /Catalog /Pages 2 0 R >>",
        b"<< /Type /Pages /Kids [3 0 R] /Count 1 >>",
        f"<< /Type /Page /Parent 2 0 R /MediaBox [0 0 {width:.2f} {height:.2f}] /Contents 4 0 R "
        "/Resources << /Font << /R 5 0 R /B 6 0 R >> >> >>".encode(),
        f"<< /Length {len(packed)} /Filter /FlateDecode >>\nstream\n".encode()
        + packed
        + b"\nendstream",
        font.format("Helvetica").encode(),
        font.format("Helvetica-Bold").encode(),
        f"<< /Title <feff{called}> /Producer (Tilewater) >>".encode(),
    )
    file = b"%PDF-1.4\n%\xe2\xe3\xcf\xd3\n"
    starts = []
    for number, each in enumerate(objects, start=1):
        starts.append(len(file))
        file += f"{number} 0 obj\n".encode() + each + b"\nendobj\n"
    table = "".join(f"{start:010d} 00000 n \n" for start in starts)
    count = len(objects) + 1
    trailer = (
        f"trailer\n<< /Size {count} /Root 1 0 R /Info 7 0 R >>\nstartxref\n{len(file)}\n%%EOF\n"
    )
    return file + f"xref\n0 {count}\n0000000000 65535 f \n{table}{trailer}".encode()
