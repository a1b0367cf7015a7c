# SPDX-License-Identifier: Apache-2.0
"""Set a document as PDF: tagged, with an outline, its fonts in it, the same bytes each time.

The words go to the typesetter as data beside one fixed layout (`layout.typ`), never as markup.
Nothing is fetched and no font of the machine is used.
"""

import json
from collections.abc import Callable
from dataclasses import fields, is_dataclass
from functools import cache
from hashlib import sha256
from importlib import resources
from typing import Any

from tilewater.documents.paper.blocks import Document, Figure, Table, in_order
from tilewater.documents.paper.letters import in_typeface, shown
from tilewater.documents.paper.packed import packed
from tilewater.documents.paper.widths import layout_of

STANDARD = "ua-1"
"""Tagged so that it can be read aloud: PDF/UA-1."""


def press(document: Document) -> bytes:
    """A document as a PDF file.

    Parameters
    ----------
    document : Document
        Its pages as plain records.

    Returns
    -------
    bytes
        The file; the same document gives the same bytes.
    """
    from typst import compile as typeset

    figures = [block for block in in_order(document.blocks) if isinstance(block, Figure)]
    files = {_file_of(figure): in_typeface(figure.svg).encode() for figure in figures}
    data = _as_data(document)
    for block, data_of in zip(document.blocks, data["blocks"], strict=True):
        if isinstance(block, Table):
            data_of |= vars(layout_of(block, document.paper))
    files["data.json"] = json.dumps(data, ensure_ascii=False).encode()
    files["main.typ"] = _layout()
    typeset_files: Callable[..., bytes] = typeset  # its hints leave out files in memory
    pdf = typeset_files(
        files,
        format="pdf",
        font_paths=_font_folders(),
        ignore_system_fonts=True,
        pdf_standards=[STANDARD],
    )
    return packed(pdf)


@cache
def _layout() -> bytes:
    return (resources.files("tilewater.documents.paper") / "layout.typ").read_bytes()


def _font_folders() -> list[str]:
    return [str(resources.files("tilewater.documents") / "fonts")]


def _as_data(record: Any) -> Any:
    """A record and all that it holds as JSON has it, each record with its kind."""
    if isinstance(record, str):
        return shown(record)
    if isinstance(record, tuple):
        return [_as_data(each) for each in record]
    names = _members(record.__class__)
    if names is None:
        return record
    data = {name: _as_data(getattr(record, name)) for name in names}
    data["is"] = type(record).__name__
    if isinstance(record, Figure):
        data["svg"] = _file_of(record)
    return data


def _file_of(figure: Figure) -> str:
    """Name of the file beside the layout that holds a drawing."""
    return f"figure-{sha256(figure.svg.encode()).hexdigest()[:16]}.svg"


@cache
def _members(kind: Any) -> tuple[str, ...] | None:
    """Names of what a record holds; None for what is no record."""
    return tuple(field.name for field in fields(kind)) if is_dataclass(kind) else None
