# SPDX-License-Identifier: Apache-2.0
"""Which files a verb left and where, in one short block; what could not be written, and why."""

from collections.abc import Iterable, Iterator
from pathlib import Path

from tilewater.tasks.results import FOLDER, Written


def written_lines(written: Written) -> Iterator[str]:
    """Lines that name the files, those kept for a person, and what is missing with its reason."""
    if written.files:
        yield f"Written to {written.folder}:"
        yield f"  {', '.join(_together(written.files))}"
    if written.removed:
        removed = ", ".join(_together(written.removed))
        yield f"Taken away, since they show an earlier design: {removed}"
    for name, kept in written.kept:
        yield f"Kept: {name} was not written by this program, or edited since. It is now {kept}."
    for names, reason in _by_reason(written.troubles):
        yield f"Not written: {', '.join(names)}: {reason}.{_advice(names)}"


def _together(names: Iterable[str]) -> Iterator[str]:
    """Files of one name in a row, with their endings: `plan.svg .dxf`."""
    endings: dict[str, list[str]] = {}
    for name in names:
        path = Path(name)
        endings.setdefault(path.stem, []).append(path.suffix)
    return (f"{stem}{' '.join(found)}" for stem, found in endings.items())


def _by_reason(troubles: Iterable[tuple[str, str]]) -> Iterator[tuple[list[str], str]]:
    names: dict[str, list[str]] = {}
    for name, reason in troubles:
        names.setdefault(reason, []).append(name)
    return ((found, reason) for reason, found in names.items())


def _advice(names: list[str]) -> str:
    return " Name a folder with --out." if names == [FOLDER] else ""
