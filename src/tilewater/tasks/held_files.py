# SPDX-License-Identifier: Apache-2.0
"""The data files of a held job: read once, and read again only where an edit bears on how.

What a reader of a file asked of the job is written down beside what it found. As long as all that
comes out the same, and the file is one that was read with the job, what it found stands.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from pathlib import Path
from threading import Lock
from typing import Any

from tilewater.basis.trace import Given
from tilewater.job.reading import Job
from tilewater.tasks.outside_files import READERS, far_file, read_one
from tilewater.tasks.outside_inputs import OutsideFiles, TypedInputs

KEPT = 4
"""Readings of one file that are kept, for edits that change how it is read."""

Question = tuple[str, str]


@dataclass(frozen=True)
class Listening(TypedInputs):
    """Inputs that write down what was asked of them, and what was said."""

    asked: dict[Question, Any] = field(default_factory=dict)

    def value(self, key: str) -> Any:
        """Value of an input; the asking is kept."""
        return self._heard("value", key, super().value(key))

    def given(self, key: str) -> Given | None:
        """An input as it was typed; the asking is kept, line and all."""
        found = super().given(key)
        self._heard("given", key, found)
        return found

    def known(self, start: str) -> dict[str, Given]:
        """Known inputs whose keys begin so; the asking is kept."""
        found = super().known(start)
        self._heard("known", start, _values(found))
        return found

    def _heard(self, how: str, key: str, said: Any) -> Any:
        self.asked[how, key] = said
        return said


@dataclass(frozen=True)
class Part:
    """What a file says, and what its reader asked of the job."""

    asked: Mapping[Question, Any]
    found: OutsideFiles

    def stands_for(self, inputs: TypedInputs) -> bool:
        """Whether the reader would hear the same again."""
        return all(_say(inputs, how, key) == said for (how, key), said in self.asked.items())


def _say(inputs: TypedInputs, how: str, key: str) -> Any:
    said = getattr(inputs, how)(key)
    return _values(said) if how == "known" else said


def _values(found: Mapping[str, Given]) -> dict[str, Any]:
    """What is known without the lines on which it stands; no reader of a group asks for those."""
    return {key: given.value for key, given in found.items()}


class FileMemory:
    """Data files of one state of a job folder, each read once for all edits that leave it alone.

    A file that only an edit names is read each time, since nobody watches it.

    Parameters
    ----------
    watched : frozenset of Path
        Files that were read with the job.
    """

    def __init__(self, watched: frozenset[Path]) -> None:
        self._watched = watched
        self._parts: dict[tuple[str, Path], tuple[Part, ...]] = {}
        self._lock = Lock()

    def take_over(self, before: "FileMemory", is_same: Callable[[Path], bool]) -> None:
        """Keep what an earlier memory knows of the files that did not move since."""
        with before._lock:
            known = dict(before._parts)
        with self._lock:
            self._parts |= {
                (key, path): parts
                for (key, path), parts in known.items()
                if path in self._watched and is_same(path)
            }

    def read(self, job: Job) -> OutsideFiles:
        """What the data files that a job names say."""
        inputs = TypedInputs({given.key: given for given in job.givens})
        found = OutsideFiles()
        for key, _ in READERS:
            name = inputs.value(key)
            if name is not None:
                found.add(self._part(key, job.folder / str(name), inputs))
                found.findings.extend(far_file(job.folder, str(name)))
        return found

    def _part(self, key: str, path: Path, inputs: TypedInputs) -> OutsideFiles:
        kept = self._parts.get((key, path), ())
        for part in kept:
            if part.stands_for(inputs):
                return part.found
        heard, found = Listening(inputs.by_key), OutsideFiles()
        read_one(found, dict(READERS)[key], path, heard)
        if path in self._watched:
            with self._lock:
                newest = (Part(heard.asked, found), *self._parts.get((key, path), ()))
                self._parts[key, path] = newest[:KEPT]
        return found
