# SPDX-License-Identifier: Apache-2.0
"""The files of a job folder for an archive: plain files of the folder alone, within a bound.

No link is followed, to a file or to a folder, and nothing outside the folder is read, whatever a
job file names. What is left out is told.
"""

import os
import stat
from collections.abc import Collection, Iterator
from dataclasses import dataclass
from pathlib import Path

from tilewater.basis.errors import BadInputFile, Fault
from tilewater.job.file_names import strange_name

MOST_BYTES = 512 * 1024 * 1024
MOST_FILES = 20_000
DEEPEST = 12
"""Folders below each other that are looked into."""


@dataclass(frozen=True)
class FolderFiles:
    """Files by name with forward slashes, and what was left out, a sentence each."""

    files: dict[str, bytes]
    left_out: tuple[str, ...]


def files_of_folder(folder: Path, *, only: Collection[str] | None = None) -> FolderFiles:
    """Files of a folder and of the folders in it.

    Parameters
    ----------
    folder : Path
        The folder.
    only : collection of str or None
        Names that are wanted, with forward slashes; None for all.

    Returns
    -------
    FolderFiles
        Contents, and what was left out.

    Raises
    ------
    BadInputFile
        If there are more files or bytes than an archive takes.
    """
    left_out: list[str] = []
    files: dict[str, bytes] = {}
    total = 0
    for path, name in _plain_files(folder, left_out, 0):
        if only is not None and name not in only:
            continue
        total += path.stat(follow_symlinks=False).st_size
        if total > MOST_BYTES or len(files) >= MOST_FILES:
            message = (
                f"the job folder holds more than {MOST_BYTES // 2**20} MB or {MOST_FILES:,} files. "
                "Move what does not belong to the job elsewhere."
            )
            raise BadInputFile(Fault(folder.name, None, "", message))
        files[name] = _content(path)
    for name in sorted(set(only or ()) - set(files)):
        left_out.append(f"{name}: it lies outside the job folder or is a link.")
    return FolderFiles(files, tuple(dict.fromkeys(left_out)))


def _plain_files(folder: Path, left_out: list[str], depth: int) -> Iterator[tuple[Path, str]]:
    """Plain files with their names seen from the folder, in the order of their names."""
    with os.scandir(folder) as found:
        entries = sorted(found, key=lambda entry: entry.name)
    for entry in entries:
        name = entry.name
        if name.startswith(".") or name.endswith("~"):
            continue
        if entry.is_symlink() or strange_name(name) or "\\" in name or ":" in name:
            shown = name.encode("ascii", "backslashreplace").decode()
            left_out.append(
                f"{shown}: it is a link, or its name cannot be that of a file anywhere."
            )
        elif entry.is_dir(follow_symlinks=False):
            if depth >= DEEPEST:
                left_out.append(f"{name}: it is more than {DEEPEST} folders deep.")
                continue
            for path, below in _plain_files(Path(entry.path), left_out, depth + 1):
                yield path, f"{name}/{below}"
        elif entry.is_file(follow_symlinks=False):
            yield Path(entry.path), name


def _content(path: Path) -> bytes:
    """Content of a plain file, opened in such a way that no link is followed that came since."""
    no_link = getattr(os, "O_NOFOLLOW", 0) | getattr(os, "O_BINARY", 0)
    descriptor = os.open(path, os.O_RDONLY | no_link)
    with os.fdopen(descriptor, "rb") as file:
        if not stat.S_ISREG(os.fstat(file.fileno()).st_mode):
            raise BadInputFile(Fault(path.name, None, "", "it is no plain file. Take it out."))
        return file.read(MOST_BYTES + 1)
