# SPDX-License-Identifier: Apache-2.0
"""The jobs of the folder that the desk was opened on: found by name, held open, never outside it.

A name in an address is looked up among the folders that are there. It is never joined to a path,
so no name leads outside. A job folder or a job file that is a link to somewhere else is no job of
this folder, and a data file that lies outside is not read.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from threading import Lock

from tilewater.basis.errors import BadInputFile, Fault
from tilewater.job.file_names import lies_in
from tilewater.job.issued import ISSUED
from tilewater.job.schema import JOB_FILE
from tilewater.tasks.held import HeldJob
from tilewater.tasks.results import FOLDER

WRITTEN = (FOLDER, ISSUED)
"""Folders of a job in which the desk writes."""


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
        self._opening: dict[str, Lock] = {}
        self._lock = Lock()

    @property
    def is_one_job(self) -> bool:
        """Whether the desk was opened on a job folder itself."""
        return has_job_file(self.root)

    def places(self) -> Iterator[Place]:
        """Job folders that are there now, by name."""
        if self.is_one_job:
            yield Place(self.root.name, self.root)
            return
        for folder in self._folders():
            if is_speakable(folder.name) and self._is_inside(folder) and has_job_file(folder):
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
            If its job file cannot be read as text, or what is written beside it would land
            outside the folder.
        """
        place = self.place(name)
        self._refuse_ways_out(place.folder)
        with self._lock:
            opening = self._opening.setdefault(name, Lock())
        with opening:  # a job that is slow to read keeps nobody from the others
            if name not in self._held:
                self._held[name] = HeldJob(place.folder, within=self.root)
            return self._held[name]

    def _refuse_ways_out(self, folder: Path) -> None:
        for inner in WRITTEN:
            path = folder / inner
            if path.is_symlink() and not lies_in(path, self.root):
                message = (
                    "it is a link that leads out of the folder of the desk, and would be written "
                    "to. Put a folder in its place, or open the desk on the folder above."
                )
                raise BadInputFile(Fault(inner, None, "", message))

    def _folders(self) -> list[Path]:
        try:
            return sorted(self.root.iterdir(), key=lambda path: path.name.lower())
        except OSError:  # it was taken away while the desk is open
            return []

    def _is_inside(self, folder: Path) -> bool:
        """Whether a folder lies in the root itself, and not behind a link."""
        try:
            is_own = folder.is_dir() and not folder.is_symlink()
            return is_own and folder.resolve().parent == self.root
        except OSError:
            return False


def has_job_file(folder: Path) -> bool:
    """Whether a job file lies in the folder itself, and not behind a link."""
    file = folder / JOB_FILE
    try:
        return file.is_file() and not file.is_symlink()
    except OSError:
        return False


def is_speakable(name: str) -> bool:
    """Whether a name of a folder can stand in a page and in an address of its own."""
    return name.isprintable() and not name.endswith(".json")
