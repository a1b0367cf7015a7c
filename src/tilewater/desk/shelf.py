# SPDX-License-Identifier: Apache-2.0
"""The jobs of the folder that the desk was opened on: found by name, held open, never outside it.

A name in an address is looked up among the folders that are there. It is never joined to a path,
so no name leads outside.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from threading import Lock

from tilewater.job.schema import JOB_FILE
from tilewater.tasks.held import HeldJob


class NoSuchJob(Exception):
    """No job of that name lies in the folder."""


@dataclass(frozen=True)
class Place:
    """Where a job lies: its name in an address and its folder."""

    name: str
    folder: Path


class Shelf:
    """Jobs of a folder.

    Parameters
    ----------
    root : Path
        A folder of job folders, or one job folder.
    """

    def __init__(self, root: Path) -> None:
        self.root = root.resolve()
        self._held: dict[str, HeldJob] = {}
        self._lock = Lock()

    @property
    def is_one_job(self) -> bool:
        """Whether the desk was opened on a job folder itself."""
        return (self.root / JOB_FILE).is_file()

    def places(self) -> Iterator[Place]:
        """Job folders that are there now, by name."""
        if self.is_one_job:
            yield Place(self.root.name, self.root)
            return
        for folder in sorted(self.root.iterdir(), key=lambda path: path.name.lower()):
            if self._is_inside(folder) and (folder / JOB_FILE).is_file():
                yield Place(folder.name, folder)

    def place(self, name: str) -> Place:
        """The job folder of a name.

        Raises
        ------
        NoSuchJob
            If there is none.
        """
        found = next((place for place in self.places() if place.name == name), None)
        if found is None:
            raise NoSuchJob(name)
        return found

    def held(self, name: str) -> HeldJob:
        """The job of a name, held open from now on.

        Raises
        ------
        NoSuchJob
            If there is none.
        BadInputFile
            If its job file cannot be read as text.
        """
        place = self.place(name)
        with self._lock:
            if name not in self._held:
                self._held[name] = HeldJob(place.folder)
            return self._held[name]

    def _is_inside(self, folder: Path) -> bool:
        """Whether a folder lies in the root itself, and not behind a link."""
        if not folder.is_dir() or folder.is_symlink():
            return False
        return folder.resolve().parent == self.root
