# SPDX-License-Identifier: Apache-2.0
"""Names of data files in a job file: which can be one, and where the file then lies.

A job file may come from anybody. A name that a system takes for a device or for another machine
is no data file anywhere. Whether a file may lie outside the job folder is for the door to say:
`within` is the folder that nothing is read outside of, every link on the way followed.
"""

import re
from pathlib import Path

LONGEST_NAME = 240
DEVICES = re.compile(
    r"(con|prn|aux|nul|conin\$|conout\$|(com|lpt)[0-9¹²³])\s*(\..*)?", re.IGNORECASE
)
"""What some systems take for a device, with any ending and in any folder."""


def strange_name(name: str) -> str:
    """Why a name cannot be that of a data file, and what to do; "" where it can."""
    parts = re.split(r"[/\\]", name)
    if not name.isprintable():
        return "holds a letter that cannot be printed. Give the file a plain name."
    if max(map(len, parts)) > LONGEST_NAME or len(name) > 4 * LONGEST_NAME:
        return f"is longer than any file's name. At most {LONGEST_NAME} letters are taken."
    if name.startswith(("//", "\\\\")):
        return "names another machine. Copy the file into the job folder."
    if any(DEVICES.fullmatch(part.strip()) for part in parts):
        return "is what some systems call a device. Give the file another name."
    return ""


def lies_in(path: Path, folder: Path) -> bool:
    """Whether a path lies in a folder, every link on the way followed."""
    try:
        return path.resolve().is_relative_to(folder.resolve())
    except (OSError, RuntimeError, ValueError):  # links in a ring, a name too long
        return False


def is_file(path: Path) -> bool:
    """Whether there is a plain file, whatever the name."""
    try:
        return path.is_file()
    except (OSError, ValueError):
        return False


def may_name(folder: Path, name: str, within: Path | None) -> bool:
    """Whether a job file may name such a data file, whether it is there or not."""
    return not strange_name(name) and (within is None or lies_in(folder / name, within))


def may_read(folder: Path, name: str, within: Path | None) -> bool:
    """Whether a name is that of a plain file, and of one that may be read."""
    return may_name(folder, name, within) and is_file(folder / name)
