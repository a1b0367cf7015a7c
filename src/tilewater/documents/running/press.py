# SPDX-License-Identifier: Apache-2.0
"""Set a page with a layout of its own as PDF: tagged, its fonts in it, the same bytes each time."""

import json
from collections.abc import Callable
from importlib import resources
from typing import Any

from tilewater.documents.paper.packed import packed

STANDARD = "ua-1"
"""Tagged so that it can be read aloud: PDF/UA-1."""


def press_with(layout: str, data: dict[str, Any]) -> bytes:
    """A page as a PDF file.

    Parameters
    ----------
    layout : str
        Name of the layout that lies beside this module.
    data : dict
        Its words and sizes; nothing in them is read as markup.
    """
    from typst import compile as typeset

    files = {
        "data.json": json.dumps(data, ensure_ascii=False).encode(),
        "main.typ": (resources.files("tilewater.documents.running") / layout).read_bytes(),
    }
    typeset_files: Callable[..., bytes] = typeset  # its hints leave out files in memory
    pdf = typeset_files(
        files,
        format="pdf",
        font_paths=[str(resources.files("tilewater.documents") / "fonts")],
        ignore_system_fonts=True,
        pdf_standards=[STANDARD],
    )
    return packed(pdf)
