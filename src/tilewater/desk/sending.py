# SPDX-License-Identifier: Apache-2.0
"""A file sent to the browser: its type, its name, and that it may do nothing but be seen."""

from fastapi import Response

from tilewater.desk.placing import slug_of

FRAMED = "default-src 'none'; style-src 'unsafe-inline'; img-src data:; frame-ancestors 'self'"
"""What a paper may do that stands in a page: nothing but be seen."""
TYPES = {".dxf": "image/vnd.dxf", ".svg": "image/svg+xml", ".pdf": "application/pdf"}
TEXT = "text/plain; charset=utf-8"


def ending_of(file: str) -> str:
    """The ending of the name of a file, with its point."""
    return file[file.rfind(".") :]


def sent(name: str, file: str, content: bytes | str, *, save: bool, media: str = "") -> Response:
    """A file as an answer, called after its job.

    Parameters
    ----------
    name : str
        Name of the job.
    file : str
        Name of the file.
    content : bytes or str
    save : bool
        Whether it is saved; else the browser shows it.
    media : str
        Its type; by its ending where none is given.
    """
    way = "attachment" if save else "inline"
    headers = {
        "content-disposition": f'{way}; filename="{slug_of(name) or "job"}-{file}"',
        "content-security-policy": FRAMED,
    }
    media = media or TYPES.get(ending_of(file), TEXT)
    return Response(content, media_type=media, headers=headers)
