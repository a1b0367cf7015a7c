# SPDX-License-Identifier: Apache-2.0
"""The files that a job was read from, each with its digest, and where they differ from a copy.

A digest is taken when a job is read, so that an issued copy can be held to hold what was read.
"""

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import zip_longest
from pathlib import Path

from tilewater.chain.since_issued import TypedChange, compare_typed
from tilewater.job.checksums import digest_of, digest_of_file
from tilewater.job.issued import INPUTS, IssuedCopy, place_of
from tilewater.job.reading import Job
from tilewater.job.schema import JOB_FILE
from tilewater.job.typed import is_decision, named_files, typed_values

OUTSIDE = f"{INPUTS}/outside"
"""Where an issued copy keeps files that lay outside the job folder."""
LONGEST = 120
"""Letters of a line of a data file that are shown."""


@dataclass(frozen=True)
class InputFile:
    """A file that a job was read from.

    Attributes
    ----------
    key : str
        Where the job file names it; "" for the job file itself.
    title : str
    name : str
        As it is named, seen from the job folder.
    path : Path
    digest : str
        SHA-256 when it was read; "" where it could not be read.
    """

    key: str
    title: str
    name: str
    path: Path
    digest: str


def input_files(job: Job) -> tuple[InputFile, ...]:
    """The job file and every data file that it names, with their digests as of now.

    Parameters
    ----------
    job : Job
        The job as read.

    Returns
    -------
    tuple of InputFile
        The job file first, its digest that of the text as read.
    """
    digest = digest_of(job.text.encode("utf-8"))
    own = InputFile("", "Job file", JOB_FILE, job.folder / JOB_FILE, digest)
    return (
        own,
        *(
            InputFile(file.key, file.title, file.name, path, _digest(path))
            for file in named_files(job.text)
            for path in (job.folder / file.name,)
        ),
    )


def places_in_copy(files: tuple[InputFile, ...]) -> dict[str, str]:
    """Where an issued copy keeps the files of a job.

    Parameters
    ----------
    files : tuple of InputFile
        The files that the job was read from.

    Returns
    -------
    dict
        Place in the copy by the name that the job file gives; a file from outside the job folder
        gets a place of its own.
    """
    names = [file.name for file in files]
    places = {name: _inside(name) for name in names if _is_inside(name)}
    for name in names:
        if name not in places:
            places[name] = _free(Path(name).name, set(places.values()))
    return places


def outside_files(files: tuple[InputFile, ...]) -> dict[str, str]:
    """Files that lie outside the job folder, with their place in an issued copy."""
    places = places_in_copy(files)
    return {name: place for name, place in places.items() if not _is_inside(name)}


def changes_since(
    copy: IssuedCopy, files: tuple[InputFile, ...]
) -> tuple[tuple[TypedChange, ...], tuple[TypedChange, ...]]:
    """What differs between the files of an issued copy and those of now.

    Parameters
    ----------
    copy : IssuedCopy
        A copy whose inputs are as they were issued.
    files : tuple of InputFile
        The files that the job was read from.

    Returns
    -------
    tuple
        Changes of inputs, data files last; changes of decisions.

    Raises
    ------
    OSError
        If a file of either cannot be read.
    ValueError
        If a job file of either is not TOML.
    """
    before = _text(place_of(copy, JOB_FILE))
    after = _text(files[0].path)
    typed = compare_typed(typed_values(before), typed_values(after))
    inputs = tuple(change for change in typed if not is_decision(change.key))
    names = {file.key: file.name for file in named_files(before)}
    contents = (
        change
        for file in files[1:]
        if file.key in names
        for change in _content_change(place_of(copy, names[file.key]), file)
    )
    return (*inputs, *contents), tuple(change for change in typed if is_decision(change.key))


def _is_inside(name: str) -> bool:
    path = Path(name)
    return not path.is_absolute() and ".." not in path.parts


def _inside(name: str) -> str:
    return f"{INPUTS}/{Path(name).as_posix()}"


def _free(name: str, taken: set[str]) -> str:
    """A place for a file from outside that no other file has."""
    number = 1
    while (place := f"{OUTSIDE}/{name if number == 1 else f'{number}-{name}'}") in taken:
        number += 1
    return place


def _text(path: Path) -> str:
    return path.read_bytes().decode("utf-8")


def _digest(path: Path) -> str:
    try:
        return digest_of_file(path)
    except OSError:
        return ""


def _content_change(issued: Path, file: InputFile) -> Iterator[TypedChange]:
    """The first line in which a data file differs from its copy, and how many lines do."""
    old, new = issued.read_bytes(), file.path.read_bytes()
    if old == new:
        return
    before, after = _lines(old), _lines(new)
    pairs = enumerate(zip_longest(before, after), start=1)
    line, (was, now) = next((p for p in pairs if p[1][0] != p[1][1]), (1, ("", "")))
    added = (Counter(after) - Counter(before)).total()
    gone = (Counter(before) - Counter(after)).total()
    told = [
        f"{count} {'line' if count == 1 else 'lines'} {word}"
        for count, word in ((added, "new"), (gone, "gone"))
        if count
    ]
    what = ", ".join(told) or "its lines in another order, or with other ends"
    yield TypedChange(file.key, f"{file.title}: {what}", _shown(was), _shown(now), file.name, line)


def _lines(content: bytes) -> list[str]:
    return content.decode("utf-8", errors="replace").splitlines()


def _shown(line: str | None) -> str | None:
    if line is None or len(line) <= LONGEST:
        return line
    return f"{line[: LONGEST - 3]}..."
