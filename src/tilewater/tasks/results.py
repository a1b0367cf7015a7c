# SPDX-License-Identifier: Apache-2.0
"""Write what was designed: its record and its papers.

A list of checksums beside them says which files are the program's own. Only those are replaced or
taken away; a file of such a name that a person put there or edited is kept under another name.
"""

import json
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from pathlib import Path

from tilewater.basis.errors import BadInputFile, Fault, TilewaterError
from tilewater.chain.changes import Comparison, compare_results
from tilewater.chain.plain import Record
from tilewater.chain.since_issued import result_alone
from tilewater.job.checksums import (
    CHECKSUMS,
    checksum_text,
    digest_of,
    digest_of_file,
    read_checksums,
)
from tilewater.job.writing import write_in_one_step
from tilewater.tasks.designing import Outcome
from tilewater.tasks.records import RECORD, read_record, record_text

FOLDER = "results"
BEFORE = "design-before.json"

Papers = Mapping[str, Callable[[], bytes]]
"""Papers by the name of their file, each made when it is its turn."""


@dataclass
class Written:
    """What was written, and what was not.

    Attributes
    ----------
    folder : Path
    files : list of str
        Names of the files that stand there now and belong to this design.
    troubles : list of tuple
        Name and reason of each file that could not be written.
    kept : list of tuple
        Old and new name of each file that was not the program's own.
    removed : list of str
        Papers of an earlier design that were taken away.
    """

    folder: Path
    files: list[str] = field(default_factory=list)
    troubles: list[tuple[str, str]] = field(default_factory=list)
    kept: list[tuple[str, str]] = field(default_factory=list)
    removed: list[str] = field(default_factory=list)


def write_results(
    outcome: Outcome,
    out: Path | str | None = None,
    *,
    papers: Papers | None = None,
    tell: Callable[[str], None] = lambda _: None,
) -> Written:
    """Write the record of a design with its papers, and keep the record before it.

    Parameters
    ----------
    outcome : Outcome
        The design.
    out : Path, str or None
        Folder to write into; None for `results` in the job folder.
    papers : mapping of str to callable or None
        What to write beside the record.
    tell : callable
        Takes the name of each file before it is made.

    Returns
    -------
    Written
        Each file is whole or absent, never half; one that cannot be written hinders no other.

    Raises
    ------
    BadInputFile
        If nothing can be written into a folder that was named.
    """
    folder = outcome.job.folder / FOLDER if out is None else Path(out)
    written = Written(folder)
    hold_folder(out)
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        written.troubles.append((FOLDER, reason_of(error)))
        return written
    _Writer(written).run(outcome.record, papers or {}, tell)
    if out is not None and not written.files:
        raise _no_folder(folder, written.troubles[0][1])
    return written


def hold_folder(out: Path | str | None) -> None:
    """Hold a folder that was named to be one, before anything is computed into it.

    Raises
    ------
    BadInputFile
        If it is none and cannot be made.
    """
    if out is None:
        return
    try:
        Path(out).mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise _no_folder(Path(out), error) from None


class _Writer:
    """Writes into one folder, and knows which of its files are the program's own."""

    def __init__(self, written: Written) -> None:
        self.written = written
        self.folder = written.folder
        self.own = _listed(self.folder)

    def run(self, record: Record, papers: Papers, tell: Callable[[str], None]) -> None:
        """Write the record, then each paper, then the list; take old papers away."""
        is_same = self._is_as_before(record)
        old = set(self.own) - {RECORD, BEFORE}
        try:
            self._put(RECORD, lambda: self._record(record, is_same=is_same))
            for name, make in papers.items():
                tell(name)
                if self._put(name, make):
                    old.discard(name)
            self._clear(old, is_same=is_same)
        finally:
            self._list()

    def _clear(self, old: set[str], *, is_same: bool) -> None:
        """Take papers of an earlier design away; what a person edited is no longer ours."""
        for name in sorted(old):
            if not self._is_own(name):
                del self.own[name]
            elif not is_same:
                self._take_away(name)

    def _list(self) -> None:
        """Write down which files are the program's own."""
        try:
            write_in_one_step(self.folder / CHECKSUMS, checksum_text(self.own))
        except OSError as error:
            self.written.troubles.append((CHECKSUMS, reason_of(error)))

    def _record(self, record: Record, *, is_same: bool) -> bytes:
        """The record as it is written, once the one of an earlier design is kept."""
        if not is_same and self._is_own(RECORD):
            self._replace(BEFORE, (self.folder / RECORD).read_bytes())
        return record_text(record).encode("utf-8")

    def _put(self, name: str, make: Callable[[], bytes]) -> bool:
        """Whether a file stands there as it should."""
        try:
            self._replace(name, make())
        except (OSError, ImportError, TilewaterError) as error:
            self.written.troubles.append((name, reason_of(error)))
            return False
        self.written.files.append(name)
        return True

    def _replace(self, name: str, content: bytes) -> None:
        path = self.folder / name
        if not path.is_file() or path.read_bytes() != content:
            if path.is_file() and not self._is_own(name):
                self._keep(name)
            write_in_one_step(path, content)
        self.own[name] = digest_of(content)

    def _keep(self, name: str) -> None:
        """Give a file that is a person's another name."""
        path, number = self.folder / name, 1
        while (kept := path.with_name(f"{path.stem}.kept-{number}{path.suffix}")).exists():
            number += 1
        path.rename(kept)
        self.written.kept.append((name, kept.name))

    def _take_away(self, name: str) -> None:
        """Take a paper away that shows an earlier design."""
        try:
            (self.folder / name).unlink()
        except OSError as error:
            why = f"it shows an earlier design and cannot be taken away: {reason_of(error)}"
            self.written.troubles.append((name, why))
            return
        del self.own[name]
        self.written.removed.append(name)

    def _is_as_before(self, record: Record) -> bool:
        """Whether the result that stands there is this one, whatever was issued since."""
        try:
            before = json.loads((self.folder / RECORD).read_text(encoding="utf-8"))
        except (OSError, ValueError):
            return False
        now = json.loads(record_text(record))
        return isinstance(before, dict) and result_alone(before) == result_alone(now)

    def _is_own(self, name: str) -> bool:
        path = self.folder / name
        return name in self.own and path.is_file() and digest_of_file(path) == self.own[name]


def write_each(folder: Path, files: Mapping[str, Callable[[], str | bytes]]) -> Written:
    """Write files one by one, each whole or absent; a trouble with one leaves the others.

    Parameters
    ----------
    folder : Path
        Folder to write into; made when it is not there.
    files : mapping of str to callable
        Gives the content of each file; a name may lie in a folder of its own.

    Returns
    -------
    Written
        What was written, and why the rest was not.
    """
    written = Written(folder)
    for name, make in files.items():
        try:
            (folder / name).parent.mkdir(parents=True, exist_ok=True)
            write_whole(folder / name, make())
            written.files.append(name)
        except (OSError, ImportError, TilewaterError) as error:
            written.troubles.append((name, reason_of(error)))
    return written


def write_whole(path: Path, content: str | bytes) -> None:
    """Write a file that is whole or absent, never half."""
    write_in_one_step(path, content)


def reason_of(error: Exception | str) -> str:
    """Why a file could not be written, in words that end a sentence."""
    if isinstance(error, ImportError) and error.name:
        return f"{error.name} is not installed"
    if isinstance(error, OSError) and error.strerror:
        return error.strerror[0].lower() + error.strerror[1:]
    return str(error)


def _listed(folder: Path) -> dict[str, str]:
    try:
        return read_checksums((folder / CHECKSUMS).read_text(encoding="utf-8"))
    except (OSError, ValueError):
        return {}


def _no_folder(folder: Path, error: OSError | str) -> BadInputFile:
    message = (
        f"results cannot be written there: {reason_of(error)}. "
        "Name a folder with --out in which you may write."
    )
    if isinstance(error, FileExistsError | NotADirectoryError):
        message = (
            "it is a file or lies below one. Results are written into a folder. "
            "Name a folder with --out; it is made when it is not there."
        )
    return BadInputFile(Fault(str(folder), None, "", message))


def compare(before: Path | str, outcome: Outcome) -> Comparison:
    """Compare an earlier result with a design.

    Parameters
    ----------
    before : Path or str
        File of the earlier result.
    outcome : Outcome
        The design.
    """
    return compare_results(result_alone(read_record(before)), result_alone(outcome.record))
