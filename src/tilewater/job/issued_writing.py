# SPDX-License-Identifier: Apache-2.0
"""Issue a copy of a job: made beside its place, then put there whole in one step, read-only.

Whoever looks finds no copy or a whole one. A name is never used twice, also when two
people issue at once.
"""

import contextlib
import os
import re
import shutil
import stat
import unicodedata
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from tilewater.job.checksums import CHECKSUMS, checksum_text, digest_of
from tilewater.job.issued import BUILDING, ISSUED

LONGEST = 40
"""Letters of the status that go into the name of a copy."""

Contents = Callable[[str], Mapping[str, bytes]]
"""What goes into a copy, by name with forward slashes, once the name of the copy is known."""

_NUMBER = re.compile(rf"(?:{re.escape(BUILDING)})?(\d{{4}}-\d\d-\d\d)-(\d{{2,}})(?:-.*)?")
_READ_ONLY_FILE = stat.S_IRUSR | stat.S_IRGRP | stat.S_IROTH
_READ_ONLY_FOLDER = _READ_ONLY_FILE | stat.S_IXUSR | stat.S_IXGRP | stat.S_IXOTH


@dataclass(frozen=True)
class _Place:
    """Where a copy is made, and where it will stand."""

    building: Path
    final: Path


def issue_copy(job_folder: Path, day: date, status: str, contents: Contents) -> Path:
    """Issue a copy with all its files and their checksums.

    Parameters
    ----------
    job_folder : Path
        The job folder.
    day : date
        Date of the copy.
    status : str
        What kind of copy it is, in a few words.
    contents : callable
        Gives the files, once the name of the copy is known.

    Returns
    -------
    Path
        Folder of the copy, whole and read-only.

    Raises
    ------
    OSError
        If it cannot be written. Nothing of it is left.
    """
    with _building(job_folder / ISSUED, day, status) as place:
        files = dict(contents(place.final.name))
        digests = {name: digest_of(content) for name, content in files.items()}
        files[CHECKSUMS] = checksum_text(digests).encode("utf-8")
        for name, content in files.items():
            _write(place.building / name, content)
        _protect(place.building)
        place.building.rename(place.final)
    with contextlib.suppress(OSError):  # a protection against mistakes, where the disk knows it
        place.final.chmod(_READ_ONLY_FOLDER)
    return place.final


def name_part(status: str) -> str:
    """A status as part of a name: small letters without accents, hyphens between."""
    plain = unicodedata.normalize("NFKD", status).encode("ascii", "ignore").decode("ascii")
    return re.sub(r"[^a-z0-9]+", "-", plain.casefold())[:LONGEST].strip("-") or "copy"


@contextmanager
def _building(issued: Path, day: date, status: str) -> Iterator[_Place]:
    """A folder to make a copy in; whatever stops the work, nothing of it stays."""
    is_new = not issued.exists()
    issued.mkdir(exist_ok=True)
    building, number = _reserved(issued, day)
    try:
        yield _Place(building, issued / f"{day}-{number:02}-{name_part(status)}")
    except BaseException:
        _remove(building)
        if is_new:
            with contextlib.suppress(OSError):
                issued.rmdir()
        raise


def _reserved(issued: Path, day: date) -> tuple[Path, int]:
    """A new folder to make a copy in, and the number that is no one else's while it stands."""
    number = 1 + max(_numbers(issued, day), default=0)
    while True:
        building = issued / f"{BUILDING}{day}-{number:02}"
        try:
            building.mkdir()
        except FileExistsError:  # someone else issues just now
            number += 1
            continue
        if list(_numbers(issued, day)).count(number) == 1:
            return building, number
        building.rmdir()  # someone else has issued just now
        number += 1


def _numbers(issued: Path, day: date) -> Iterator[int]:
    """Numbers that copies of a day have, made or being made."""
    matches = (_NUMBER.fullmatch(path.name) for path in issued.iterdir())
    return (int(m[2]) for m in matches if m and m[1] == day.isoformat())


def _write(path: Path, content: bytes) -> None:
    path.parent.mkdir(parents=True, exist_ok=True)
    with path.open("xb") as file:
        file.write(content)
        file.flush()
        os.fsync(file.fileno())


def _protect(folder: Path) -> None:
    """Make the files read-only, and the folders below; a disk without rights is no hindrance."""
    with contextlib.suppress(OSError):
        for path in folder.rglob("*"):
            path.chmod(_READ_ONLY_FOLDER if path.is_dir() else _READ_ONLY_FILE)


def _remove(folder: Path) -> None:
    with contextlib.suppress(OSError):
        for path in (folder, *folder.rglob("*")):
            path.chmod(stat.S_IRWXU)
    shutil.rmtree(folder, ignore_errors=True)
