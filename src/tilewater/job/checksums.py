# SPDX-License-Identifier: Apache-2.0
"""SHA-256 of files, in lists that `sha256sum -c checksums.txt` reads as well.

One line is one file: its digest in hexadecimal, two blanks, its name with forward slashes. A name
with a backslash or a line end is written escaped, with a backslash before the digest, as that
program does.
"""

import hashlib
import re
from collections.abc import Mapping
from pathlib import Path

CHECKSUMS = "checksums.txt"

_LINE = re.compile(r"(\\?)([0-9a-f]{64}) [ *](.+)")
_ESCAPES = (("\\", "\\\\"), ("\n", "\\n"), ("\r", "\\r"))
_PLAIN = {escaped: plain for plain, escaped in _ESCAPES}


def digest_of(content: bytes) -> str:
    """SHA-256 of a content, in hexadecimal."""
    return hashlib.sha256(content).hexdigest()


def digest_of_file(path: Path) -> str:
    """SHA-256 of a file, in hexadecimal."""
    with path.open("rb") as file:
        return hashlib.file_digest(file, "sha256").hexdigest()


def checksum_text(digests: Mapping[str, str]) -> str:
    """A list of digests as text, in the order of the names."""
    return "".join(_line(name, digest) for name, digest in sorted(digests.items()))


def read_checksums(text: str) -> dict[str, str]:
    """Digests of a list by name.

    Raises
    ------
    ValueError
        With the number of the first line that is none of such a list.
    """
    found = {}
    for number, line in enumerate(text.split("\n"), start=1):
        if not line.strip():
            continue
        match = _LINE.fullmatch(line.rstrip("\r"))
        if match is None:
            raise ValueError(number)
        found[_unescaped(match[3]) if match[1] else match[3]] = match[2]
    return found


def _line(name: str, digest: str) -> str:
    escaped = name
    for plain, written in _ESCAPES:
        escaped = escaped.replace(plain, written)
    return f"{'' if escaped == name else chr(92)}{digest}  {escaped}\n"


def _unescaped(name: str) -> str:
    return re.sub(r"\\[\\nr]", lambda match: _PLAIN[match[0]], name)
