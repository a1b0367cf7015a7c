# SPDX-License-Identifier: Apache-2.0
"""The same PDF in a fraction of its size: small objects packed into compressed streams.

A tagged file has an object for every cell of every table, and the typesetter writes each as plain
text. Object streams (PDF 1.5 and later) hold many of them compressed. Nothing else is changed; no
word, tag, font or drawing of the file.
"""

import re
import zlib
from collections.abc import Iterator
from itertools import pairwise

IN_ONE = 400
"""Objects in one stream, few enough that a page is shown without unpacking the whole file."""
LEVEL = 6
_START = re.compile(rb"startxref\s+(\d+)\s+%%EOF\s*$")
_OBJECT = re.compile(rb"(\d+) (\d+) obj\s*")
_TRAILER = re.compile(rb"trailer\s*<<(.*?)>>\s*startxref", re.DOTALL)
_FREE, _PLAIN, _PACKED = 0, 1, 2
Entry = tuple[int, int, int]
"""Kind, place or number of the stream, and place in that stream."""
NOTHING: Entry = (_FREE, 0, 65535)
_ROW = 20
"""Bytes of a row of the table of places."""


def packed(pdf: bytes) -> bytes:
    """A PDF whose small objects are compressed.

    Parameters
    ----------
    pdf : bytes
        A file with one plain table of places, as the typesetter writes it.

    Returns
    -------
    bytes
        The same objects under the same numbers; the file itself where it has no such table.
    """
    found = _START.search(pdf[-64:])
    if found is None:
        return pdf
    start = int(found[1])
    places, trailer = _places(pdf, start), _TRAILER.search(pdf, start)
    if not places or trailer is None:
        return pdf
    out = bytearray(pdf[: min(places.values())])
    entries: dict[int, Entry] = {0: NOTHING}
    small: list[tuple[int, bytes]] = []
    for number, whole in _objects(pdf, places, start):
        body = whole[: whole.rindex(b"endobj")].rstrip()
        if body.endswith(b"endstream"):
            entries[number] = (_PLAIN, len(out), 0)
            out += whole
        else:
            small.append((number, _OBJECT.sub(b"", body, count=1)))
    following = max(places) + 1
    for few in (small[begin : begin + IN_ONE] for begin in range(0, len(small), IN_ONE)):
        entries[following] = (_PLAIN, len(out), 0)
        entries |= {number: (_PACKED, following, i) for i, (number, _) in enumerate(few)}
        out += _stream(following, *_together(few))
        following += 1
    entries[following] = (_PLAIN, start := len(out), 0)
    out += _stream(following, _table_words(following, trailer[1]), _table(entries, following))
    return bytes(out + b"startxref\n%d\n%%%%EOF\n" % start)


def _objects(pdf: bytes, places: dict[int, int], start: int) -> Iterator[tuple[int, bytes]]:
    """Each object with its number, in the order of the file."""
    ordered = sorted((place, number) for number, place in places.items())
    for (place, number), (end, _) in pairwise([*ordered, (start, 0)]):
        yield number, pdf[place:end]


def _places(pdf: bytes, start: int) -> dict[int, int]:
    """Place of each object by its number, from a plain table of one part; empty for any other."""
    head = re.compile(rb"xref\s+0 (\d+)\s*?\n").match(pdf, start)
    if head is None:
        return {}
    count = int(head[1])
    rows = pdf[head.end() : head.end() + count * _ROW]
    return {
        number: int(rows[number * _ROW : number * _ROW + 10])
        for number in range(1, count)
        if rows[number * _ROW + 17 : number * _ROW + 18] == b"n"
    }


def _together(objects: list[tuple[int, bytes]]) -> tuple[bytes, bytes]:
    """Words of the head of a stream of objects, and the stream."""
    at, index = 0, []
    for number, body in objects:
        index.append(b"%d %d" % (number, at))
        at += len(body) + 1
    first = b" ".join(index) + b"\n"
    words = b"/Type/ObjStm/N %d/First %d" % (len(objects), len(first))
    return words, first + b"\n".join(body for _, body in objects)


def _table_words(last: int, trailer: bytes) -> bytes:
    kept = re.sub(rb"/Size \d+", b"", trailer)
    return b"/Type/XRef/Size %d/W[1 4 2]%b" % (last + 1, kept)


def _table(entries: dict[int, Entry], last: int) -> bytes:
    rows = (entries.get(number, NOTHING) for number in range(last + 1))
    return b"".join(
        bytes([kind]) + place.to_bytes(4, "big") + second.to_bytes(2, "big")
        for kind, place, second in rows
    )


def _stream(number: int, words: bytes, content: bytes) -> bytes:
    small = zlib.compress(content, LEVEL)
    return b"%d 0 obj\n<<%b/Filter/FlateDecode/Length %d>>\nstream\n%b\nendstream\nendobj\n" % (
        number,
        words,
        len(small),
        small,
    )
