# SPDX-License-Identifier: Apache-2.0
"""Issued copies of a job: what was given to others with a name under it, and whether it still is.

A copy is a folder `issued/2026-11-16-01-review-copy` that is never altered afterwards. Reading
it compares every file with the checksums written when it was issued. Each copy names the one
before it with the checksum of its list, so that a list that was written anew is found out as long
as a later copy is sound. This module reads; `issued_writing` writes.
"""

import os
import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from datetime import date
from itertools import pairwise
from pathlib import Path
from typing import Any

from tilewater.basis.findings import Finding
from tilewater.job.checksums import CHECKSUMS, digest_of_file, read_checksums
from tilewater.job.file_names import is_file, lies_in
from tilewater.job.toml_text import tables_of

ISSUED = "issued"
SLIP = "issue.toml"
INPUTS = "inputs"
RESULTS = "results"
BUILDING = ".building-"
"""How the name of a folder begins in which a copy is being made."""
SHOWN = 5
"""Files of a copy that are named in one finding."""

_NAME = re.compile(r"(\d{4}-\d\d-\d\d)-(\d{2,})-.+")
_LEFT_BY_SYSTEMS = re.compile(r"\.DS_Store|Thumbs\.db|desktop\.ini|\._.*", re.IGNORECASE)


@dataclass(frozen=True)
class IssuedCopy:
    """One issued copy, as it is found.

    Attributes
    ----------
    folder : Path
    date : str
    number : int
        Among the copies of that day.
    status, by, note, verdict, program : str
        What was written on it; "" where that cannot be read any more.
    before, before_checksums : str
        The copy before it, and the digest of its list of checksums.
    outside : mapping of str to str
        Where files that lay outside the job folder are kept in the copy.
    faults : tuple of str
        What is no longer as it was issued, a sentence each.
    altered : frozenset of str
        Names of the files that are altered, missing or too many.
    """

    folder: Path
    date: str
    number: int
    status: str = ""
    by: str = ""
    note: str = ""
    verdict: str = ""
    program: str = ""
    before: str = ""
    before_checksums: str = ""
    outside: Mapping[str, str] = field(default_factory=dict)
    faults: tuple[str, ...] = ()
    altered: frozenset[str] = frozenset()

    @property
    def name(self) -> str:
        """Name of its folder."""
        return self.folder.name

    @property
    def is_sound(self) -> bool:
        """Whether every file is as it was issued."""
        return not self.faults


def issued_copies(job_folder: Path) -> tuple[IssuedCopy, ...]:
    """Every issued copy of a job, the oldest first, each compared with its checksums.

    Parameters
    ----------
    job_folder : Path
        The job folder.

    Returns
    -------
    tuple of IssuedCopy
        As found; nothing is changed.
    """
    copies = sorted(
        (copy for folder in _folders(job_folder / ISSUED) if (copy := _copy(folder)) is not None),
        key=lambda copy: (copy.date, copy.number),
    )
    return _linked(copies)


def issued_findings(job_folder: Path, copies: tuple[IssuedCopy, ...]) -> tuple[Finding, ...]:
    """What the engineer must know about the issued copies of a job.

    Parameters
    ----------
    job_folder : Path
        The job folder.
    copies : tuple of IssuedCopy
        Its copies as found.

    Returns
    -------
    tuple of Finding
        One for each copy that is not as it was issued, and for what an interrupted issue left.
    """
    return (
        *(_finding(copy) for copy in copies if copy.faults),
        *_gone(copies),
        *_unreadable(job_folder / ISSUED),
        *(_left(folder) for folder in _folders(job_folder / ISSUED, hidden=True)),
    )


def place_of(copy: IssuedCopy, name: str) -> Path:
    """Where a copy keeps a file that its job file names."""
    place = copy.folder / (copy.outside.get(name) or f"{INPUTS}/{Path(name).as_posix()}")
    return place if lies_in(place, copy.folder) else copy.folder / INPUTS / Path(name).name


def _folders(issued: Path, *, hidden: bool = False) -> list[Path]:
    """Folders of copies, or those in which a copy was being made."""
    try:
        entries = sorted(issued.iterdir()) if issued.is_dir() else []
    except OSError:
        return []
    return [path for path in entries if path.name.startswith(BUILDING) == hidden and _is_own(path)]


def _is_own(path: Path) -> bool:
    """Whether a folder lies here; a link to one is no copy."""
    return path.is_dir() and not path.is_symlink()


def _copy(folder: Path) -> IssuedCopy | None:
    match = _NAME.fullmatch(folder.name)
    if match is None or not _is_date(match[1]):
        return None
    copy = IssuedCopy(folder, match[1], int(match[2]))
    try:
        return _with_slip(replace(copy, **_compared(folder)))
    except OSError as error:
        why = (error.strerror or str(error)).lower()
        return replace(copy, **_not_verified(f"it cannot be read: {why}"))


def _is_date(text: str) -> bool:
    try:
        date.fromisoformat(text)
    except ValueError:
        return False
    return True


def _with_slip(copy: IssuedCopy) -> IssuedCopy:
    if not is_file(copy.folder / SLIP):
        return copy
    try:
        slip = tables_of((copy.folder / SLIP).read_text(encoding="utf-8"))
    except ValueError:
        return copy  # the checksums have told of it
    outside = slip.get("outside")
    kept = outside if isinstance(outside, dict) else {}

    def said(word: str) -> str:
        return str(slip.get(word, ""))

    return replace(
        copy,
        status=said("status"),
        by=said("by"),
        note=said("note"),
        verdict=said("verdict"),
        program=said("program"),
        before=said("before"),
        before_checksums=said("before_checksums"),
        outside={str(name): str(place) for name, place in kept.items()},
    )


def _compared(folder: Path) -> dict[str, Any]:
    """Faults of a copy and the names of the files that are at fault."""
    if not is_file(folder / CHECKSUMS):
        return _not_verified(f"{CHECKSUMS} is missing, so none of its files can be verified")
    try:
        written = read_checksums((folder / CHECKSUMS).read_text(encoding="utf-8"))
    except UnicodeDecodeError:
        return _not_verified(f"{CHECKSUMS} is not as it was issued")
    except ValueError as error:
        return _not_verified(f"{CHECKSUMS} is not as it was issued: line {error} cannot be read")
    there = dict(_files(folder))
    missing = [name for name in written if name not in there]
    extra = [name for name in there if name not in written and not _is_expected(name)]
    altered = [name for name in written if name in there and written[name] != there[name]]
    faults = [
        f"{_listed(names)} {one if len(names) == 1 else more}"
        for names, one, more in (
            (altered, "is not as it was issued", "are not as they were issued"),
            (missing, "is missing", "are missing"),
            (extra, "was added", "were added"),
        )
        if names
    ]
    return {"faults": tuple(faults), "altered": frozenset((*altered, *missing, *extra))}


def _not_verified(fault: str) -> dict[str, Any]:
    return {"faults": (fault,), "altered": frozenset({CHECKSUMS})}


def _is_expected(name: str) -> bool:
    """Whether a file that is not listed stands in every copy, or was left by the system."""
    return name == CHECKSUMS or _LEFT_BY_SYSTEMS.fullmatch(name.rpartition("/")[2]) is not None


def _files(folder: Path) -> Iterator[tuple[str, str]]:
    """Names of the files of a copy with their digests; a link is no file of the copy."""
    for above, folders, names in os.walk(folder):
        links = [name for name in folders if (Path(above) / name).is_symlink()]
        for name in sorted((*names, *links)):
            path = Path(above) / name
            is_own = path.is_file() and not path.is_symlink()
            digest = digest_of_file(path) if is_own else "a link, or no file"
            yield path.relative_to(folder).as_posix(), digest


def _linked(copies: list[IssuedCopy]) -> tuple[IssuedCopy, ...]:
    """The copies, each list of checksums compared with what the copy after it says of it."""
    found = list(copies)
    for place, (copy, after) in enumerate(pairwise(copies)):
        is_known = (
            after.before == copy.name and SLIP not in after.altered and after.before_checksums
        )
        if is_known and _digest(copy.folder / CHECKSUMS) not in ("", after.before_checksums):
            fault = f"{CHECKSUMS} is not the one that {after.name} was issued after"
            altered = copy.altered | {CHECKSUMS}
            found[place] = replace(copy, faults=(*copy.faults, fault), altered=altered)
    return tuple(found)


def _digest(path: Path) -> str:
    try:
        return digest_of_file(path)
    except OSError:
        return ""


def _listed(names: list[str]) -> str:
    shown = names if len(names) <= SHOWN else names[: SHOWN - 1]
    rest = len(names) - len(shown)
    return ", ".join(shown) + (f" and {rest} more" if rest else "")


def _finding(copy: IssuedCopy) -> Finding:
    return Finding(
        "issued-copy-altered",
        "caution",
        f"{ISSUED}/{copy.name}",
        f"{'; '.join(copy.faults)}. An issued copy stays as it was signed. Put it back from a "
        "backup; to change the design, edit the job and issue a new copy.",
    )


def _gone(copies: tuple[IssuedCopy, ...]) -> Iterator[Finding]:
    names = {copy.name for copy in copies}
    for copy in copies:
        if copy.before and copy.before not in names:
            yield Finding(
                "issued-copy-gone",
                "caution",
                f"{ISSUED}/{copy.before}",
                f"{copy.name} was issued after it, and it is no longer there. Put it back from a "
                "backup, or keep in writing why it was taken away.",
            )


def _unreadable(issued: Path) -> Iterator[Finding]:
    try:
        if issued.is_dir():
            next(issued.iterdir(), None)
            return
        what = "it is no folder, so no copy can be kept there" if issued.exists() else ""
    except OSError as error:
        what = f"it cannot be read: {(error.strerror or str(error)).lower()}"
    if what:
        message = f"{what}. Issued copies stand in a folder of that name. Move it away."
        yield Finding("issued-not-readable", "caution", ISSUED, message)


def _left(folder: Path) -> Finding:
    message = (
        "an issue was interrupted and left it; it is no issued copy. Delete it, unless "
        "a copy is being issued just now."
    )
    return Finding("issue-interrupted", "note", f"{ISSUED}/{folder.name}", message)
