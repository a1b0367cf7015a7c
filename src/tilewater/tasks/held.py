# SPDX-License-Identifier: Apache-2.0
"""A job folder held open: what if these edits stood, keep them, take them back.

The folder is read once. An edit is laid over the text that was read, by the same door as on the
command line, and answered twice: at once by the chain without days (`first`), and by all of it
(`refined`). Nothing is written before `keep`, and nothing is ever written over what another
program or another page wrote meanwhile.

One job may be asked by many threads at once. What was read is never changed, only replaced; the
lock is held while it is replaced and while a file is written, never while anything is computed.
"""

from collections import OrderedDict
from collections.abc import Callable, Mapping
from pathlib import Path
from threading import Lock

from tilewater.basis.errors import BadInputFile, Fault
from tilewater.job.edits import Edit
from tilewater.job.reading import Job
from tilewater.job.schema import JOB_FILE
from tilewater.job.writing import ChangedOnDisk, refuse_changed, replace_text, save_job
from tilewater.tasks.checking import Checked
from tilewater.tasks.held_answers import Answer, Computing
from tilewater.tasks.held_reading import Reading, read_folder
from tilewater.tasks.held_saving import (
    JobMoved,
    in_the_way,
    moved_files,
    moved_meanwhile,
    moved_on_disk,
)

__all__ = ["Answer", "HeldJob", "JobMoved"]

TEXTS = 200
"""Texts of the job file that are kept, to take back and to say what moved."""


class HeldJob:
    """A job folder held open.

    Parameters
    ----------
    folder : Path or str
        The job folder, or its `job.toml`. A job with faults is held too.
    within : Path or None
        Folder that no data file is read outside of; None where the job may name any.

    Raises
    ------
    BadInputFile
        If there is no job file that could be read as text.

    Notes
    -----
    Steps are whole texts of the job file. An edit that another program made becomes one step as
    soon as it is read again: it can be taken back like one that was made here, and what was taken
    back before it can no longer be done again. A change of a data file is no step.
    """

    def __init__(self, folder: Path | str, *, within: Path | None = None) -> None:
        path = Path(folder)
        self.folder = path.parent if path.name == JOB_FILE and not path.is_dir() else path
        self._lock = Lock()
        self._within = within
        self._reading = self._read()
        self._before: list[str] = []
        self._after: list[str] = []
        self._texts: OrderedDict[str, str] = OrderedDict()
        self._texts[self._reading.version] = self._reading.laid.text
        self._computing = Computing(self._reading)

    @property
    def version(self) -> str:
        """Digest of the job file and the data files that it names, as they were read."""
        return self._reading.version

    @property
    def text(self) -> str:
        """Text of the job file as it was read."""
        return self._reading.laid.text

    @property
    def job(self) -> Job | None:
        """The job as it was read; None while the job file has faults."""
        return self._reading.laid.job

    @property
    def checked(self) -> Checked | None:
        """The job with its data files as it was read; None while any of them is at fault."""
        return self._reading.laid.checked

    @property
    def faults(self) -> tuple[Fault, ...]:
        """Faults of the job file and its data files as they were read."""
        return self._reading.laid.faults

    @property
    def can_undo(self) -> bool:
        """Whether there is a step to take back."""
        return bool(self._before)

    @property
    def can_redo(self) -> bool:
        """Whether there is a step that was taken back."""
        return bool(self._after)

    def first(self, edits: Mapping[str, Edit] | None = None) -> Answer:
        """What the chain without days says if these edits stood, at once.

        Parameters
        ----------
        edits : mapping of str to Edit
            By path of the job file: `{"boards.inlet": "32 in"}`; None removes.

        Returns
        -------
        Answer
            Not refined; faults instead of a design where an edit cannot stand.
        """
        return self._computing.first(edits or {})

    def refined(
        self,
        edits: Mapping[str, Edit] | None = None,
        *,
        goes_on: Callable[[], bool] = lambda: True,
    ) -> Answer:
        """What the whole chain says if these edits stood, days and draws included.

        Parameters
        ----------
        edits : mapping of str to Edit
            As for `first`.
        goes_on : callable
            Asked between the steps; once it says no, nothing more is computed.

        Returns
        -------
        Answer
            Refined; the first answer where it was stopped.
        """
        return self._computing.refined(edits or {}, goes_on)

    def latest(self) -> Answer:
        """What is known of the job as it stands: its refined answer if there is one, else first."""
        return self._computing.latest()

    def changed_on_disk(self) -> bool:
        """Whether the job file or a data file that it names is no longer what was read."""
        return not self._reading.is_on_disk()

    def reread(self) -> None:
        """Read what is on disk now; an edit that was made outside becomes a step.

        Raises
        ------
        BadInputFile
            If the job file is gone or no text. What was held is held still.
        """
        with self._lock:
            self._take(self._read(self._reading), is_step=True)

    def keep(self, edits: Mapping[str, Edit], *, version: str) -> str:
        """Write edits to the job file.

        Parameters
        ----------
        edits : mapping of str to Edit
            As for `first`.
        version : str
            Of the job that the edits were made to.

        Returns
        -------
        str
            Version of the job as it now is.

        Raises
        ------
        JobMoved
            If that is no longer the version of the job, here or on disk. Nothing is written.
        BadInputFile
            If the job could not be read with these edits; of a job that had faults before, if one
            stands where an edit is. Nothing is written.
        """
        with self._lock:
            self._refuse_moved(version)
            held = self._reading.laid
            laid = self._reading.with_edits(edits)
            if wrong := in_the_way(held.faults, laid.faults, edits):
                raise BadInputFile(*wrong)
            if laid.text == held.text:
                return self.version
            try:
                if held.job is not None:
                    save_job(held.job, edits)
                else:
                    replace_text(self.folder, held.text, laid.text)
            except ChangedOnDisk as error:
                raise moved_on_disk(error) from None
            self._take(self._read(self._reading), is_step=True)
            return self.version

    def undo(self, *, version: str) -> str:
        """Put the text before the last step back on disk, byte for byte.

        Parameters
        ----------
        version : str
            Of the job as it is shown.

        Returns
        -------
        str
            Version of the job as it now is; the same where there was nothing to take back.

        Raises
        ------
        JobMoved
            If that is no longer the version of the job, here or on disk. Nothing is written.
        """
        return self._step(self._before, self._after, version)

    def redo(self, *, version: str) -> str:
        """Do again what was taken back last; see `undo`."""
        return self._step(self._after, self._before, version)

    def _step(self, out_of: list[str], onto: list[str], version: str) -> str:
        with self._lock:
            self._refuse_moved(version)
            if not out_of:
                return self.version
            held = self._reading.laid.text
            try:
                replace_text(self.folder, held, out_of[-1])
            except ChangedOnDisk as error:
                raise moved_on_disk(error) from None
            onto.append(held)
            out_of.pop()
            self._take(self._read(self._reading), is_step=False)
            return self.version

    def _read(self, before: Reading | None = None) -> Reading:
        return read_folder(self.folder, before, within=self._within)

    def _refuse_moved(self, version: str) -> None:
        reading = self._reading
        if version != reading.version:
            raise moved_meanwhile(self._texts.get(version), reading.laid.text)
        if reading.is_on_disk():
            return
        try:
            refuse_changed(self.folder, reading.laid.text)
        except ChangedOnDisk as error:
            raise moved_on_disk(error) from None
        raise moved_files(reading.stamps)

    def _take(self, reading: Reading, *, is_step: bool) -> None:
        held = self._reading.laid.text
        if is_step and reading.laid.text != held:
            self._before = [*self._before, held][-TEXTS:]
            self._after = []
        self._reading = reading
        self._texts[reading.version] = reading.laid.text
        while len(self._texts) > TEXTS:
            self._texts.popitem(last=False)
        self._computing = Computing(reading, self._computing)
