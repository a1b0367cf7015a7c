# SPDX-License-Identifier: Apache-2.0
"""One archive of many files, with their checksums: the same files give the same bytes.

Nothing in it carries a date or a right of the machine that made it. Names go in with forward
slashes and never lead out of the folder that it is opened in.
"""

import io
from collections.abc import Mapping
from pathlib import PurePosixPath
from zipfile import ZIP_DEFLATED, ZipFile, ZipInfo

from tilewater.basis.errors import OutOfDomain
from tilewater.job.checksums import CHECKSUMS, checksum_text, digest_of

EPOCH = (1980, 1, 1, 0, 0, 0)
"""The first time that an archive can hold; all files have it."""
PLAIN_FILE = 0o644 << 16
MADE_ON = 3
"""System whose rights are meant, whatever the machine."""


def archive_of(files: Mapping[str, bytes]) -> bytes:
    """An archive of files and of their checksums.

    Parameters
    ----------
    files : mapping of str to bytes
        By name with forward slashes.

    Returns
    -------
    bytes
        A zip file, `checksums.txt` in it.

    Raises
    ------
    OutOfDomain
        If a name leads out of the archive.
    """
    for name in files:
        _require_inside(name)
    digests = {name: digest_of(content) for name, content in files.items()}
    whole = {**files, CHECKSUMS: checksum_text(digests).encode("utf-8")}
    held = io.BytesIO()
    with ZipFile(held, "w", ZIP_DEFLATED) as archive:
        for name in sorted(whole):
            info = ZipInfo(name, EPOCH)
            info.compress_type = ZIP_DEFLATED
            info.external_attr = PLAIN_FILE
            info.create_system = MADE_ON
            archive.writestr(info, whole[name])
    return held.getvalue()


def _require_inside(name: str) -> None:
    path = PurePosixPath(name)
    is_strange = "\\" in name or not name.isprintable() or name.strip("/") != name
    if is_strange or not path.parts or ".." in path.parts or ":" in path.parts[0]:
        raise OutOfDomain(
            f"'{name}' is no name in an archive. It stays in the folder that the archive is opened "
            "in, with forward slashes. Rename the file."
        )
