# SPDX-License-Identifier: Apache-2.0
"""Set a document as PDF: tagged, with an outline, its fonts in it, the same bytes each time.

The words go to the typesetter as data beside one fixed layout (`layout.typ`), never as markup.
Nothing is fetched and no font of the machine is used.
"""

import json
from collections.abc import Callable
from dataclasses import fields, is_dataclass
from functools import cache
from importlib import resources
from typing import Any

from tilewater.documents.paper.blocks import Document, Figure, Table
from tilewater.documents.paper.letters import in_typeface, shown
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

    figures = [block for block in document.blocks if isinstance(block, Figure)]
    files = {
        f"figure-{i}.svg": in_typeface(figure.svg).encode() for i, figure in enumerate(figures)
    }
    data = _as_data(document)
    for i, block in enumerate(b for b in data["blocks"] if b["is"] == "Figure"):
        block["svg"] = f"figure-{i}.svg"
    for block, data_of in zip(document.blocks, data["blocks"], strict=True):
        if isinstance(block, Table):
            data_of |= vars(layout_of(block, document.paper))
    files["data.json"] = json.dumps(data, ensure_ascii=False).encode()
    files["main.typ"] = _layout()
    typeset_files: Callable[..., bytes] = typeset  # its hints leave out files in memory
    return typeset_files(
        files,
        format="pdf",
        font_paths=_font_folders(),
        ignore_system_fonts=True,
        pdf_standards=[STANDARD],
    )


@cache
def _layout() -> bytes:
    return (resources.files("tilewater.documents.paper") / "layout.typ").read_bytes()


def _font_folders() -> list[str]:
    return [str(resources.files("tilewater.documents") / "fonts")]


def _as_data(record: Any) -> Any:
    """A record and all that it holds as JSON has it, each record with its kind."""
    if is_dataclass(record):
        data = {field.name: _as_data(getattr(record, field.name)) for field in fields(record)}
        return {"is": type(record).__name__, **data}
    if isinstance(record, tuple):
        return [_as_data(each) for each in record]
    return shown(record) if isinstance(record, str) else record
