# SPDX-License-Identifier: Apache-2.0
"""A data file that was sent: put into the job folder and named in the job file, or not kept at all.

It is written under a name that nothing has, and read there with the job as every data file is. Only
when the whole job can be read with it is the job file changed, and only then does it take the place
of a file that the reader gave up. Where it cannot be read, it is taken away again.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from tilewater.basis.errors import BadInputFile, Fault
from tilewater.desk.placing import file_name_of, free_name
from tilewater.job.edits import Edit, edited
from tilewater.job.fields import Ask
from tilewater.job.reading import job_of_text
from tilewater.job.schema import JOB_FILE, member_at
from tilewater.tasks.held import HeldJob

MOST_BYTES = 32 * 1024 * 1024
"""Largest data file that is taken: thirty years of readings each quarter of an hour are 30 MB."""


@dataclass(frozen=True)
class Kind:
    """A sort of data file.

    Attributes
    ----------
    slug : str
        Its name in an address.
    key : str
        Where the job file names it.
    beside : tuple of str
        What else of the job file says how it is read.
    fixed : tuple of (str, str)
        What the job file says where such a file is there.
    note : str
        What one should know of what stands beside.
    called : str
        What it is called where that of the job file would be that of another sort too.
    is_later : bool
        Whether it is of the years in which the practice runs: no design reads it.
    """

    slug: str
    key: str
    beside: tuple[str, ...] = ()
    fixed: tuple[tuple[str, str], ...] = ()
    note: str = ""
    called: str = ""
    is_later: bool = False

    @property
    def title(self) -> str:
        """What it is called."""
        return self.called or self.ask.title

    @property
    def ask(self) -> Ask:
        """What the job file asks for."""
        return ask_at(self.key)


def _logger(name: str, place: str, called: str, *, beside: tuple[str, ...] = ()) -> Kind:
    fields = ("measures", "unit", "time_zone", "clock", "date_order", "value_column", *beside)
    return Kind(
        f"logger-{name}",
        f"logger.{name}.file",
        tuple(f"logger.{name}.{field}" for field in fields),
        ((f"logger.{name}.place", place),),
        "Leave a box empty where the file itself says it. What it does not say is asked.",
        called,
        is_later=True,
    )


KINDS = (
    Kind(
        "shots",
        "survey.shots",
        (
            "survey.columns.point",
            "survey.columns.north",
            "survey.columns.east",
            "survey.columns.height",
            "survey.columns.note",
            "survey.columns.fix",
            "site.foot",
            "site.vertical_datum",
        ),
        note="Which column holds what: its heading, or its number counted from 1.",
    ),
    Kind(
        "as-built",
        "as_built.shots",
        (
            "as_built.columns.point",
            "as_built.columns.north",
            "as_built.columns.east",
            "as_built.columns.height",
            "as_built.columns.note",
            "as_built.columns.fix",
            "as_built.columns.rms",
            "as_built.columns.station",
            "as_built.columns.offset",
            "as_built.instrument",
        ),
        note="A book of a level or a laser has station and offset in place of north and east.",
        is_later=True,
    ),
    Kind("borings", "borings.file"),
    Kind("nitrate", "nitrate.samples"),
    Kind("stage", "ditch.series", ("ditch.gauge_zero",), (("ditch.stage", "series"),)),
    Kind("flow", "drainage.record"),
    Kind(
        "weather",
        "weather.file",
        ("weather.kind", "weather.units", "weather.station", "weather.latitude"),
    ),
    Kind("prices", "estimate.prices"),
    _logger("inlet", "inlet", "Logger of the inlet", beside=("zero", "barometer")),
    _logger("outlet", "outlet", "Logger of the outlet", beside=("zero", "barometer")),
    _logger("bypass", "bypass", "Logger of the bypass", beside=("zero", "barometer")),
    _logger("air", "field", "Logger of the air pressure"),
    _logger("rain", "field", "Rain gauge", beside=("counts",)),
    Kind(
        "laboratory",
        "lab.file",
        (
            "lab.species",
            "lab.time_zone",
            "lab.date_order",
            "lab.detection",
            "lab.columns.place",
            "lab.columns.result",
            "lab.places.inlet",
            "lab.places.outlet",
            "lab.places.bypass",
            "lab.places.blank",
        ),
        note="What the laboratory calls the places, as it stands in its file.",
        is_later=True,
    ),
)


def ask_at(path: str) -> Ask:
    """What the job file asks for at a path that it has."""
    member = member_at(tuple(path.split(".")))
    if member is None or member.ask is None:
        raise KeyError(path)
    return member.ask


def taken_in(
    held: HeldJob,
    kind: Kind,
    content: bytes,
    *,
    sent_as: str,
    beside: Mapping[str, Edit],
    version: str,
    replaces: bool,
) -> str:
    """Put a data file into the job folder and name it in the job file.

    Parameters
    ----------
    held : HeldJob
        The job.
    kind : Kind
        What it is.
    content : bytes
        The file.
    sent_as : str
        Name under which it was sent.
    beside : mapping of str to Edit
        What else of the job file is to say, by path.
    version : str
        Of the job as it was shown.
    replaces : bool
        Whether it takes the place of a file of the same name; else it gets a number.

    Returns
    -------
    str
        Its name in the job folder.

    Raises
    ------
    JobMoved
        If that is no longer the version of the job. Nothing is written.
    BadInputFile
        If the job cannot be read with it. Nothing is kept.
    """
    name = file_name_of(sent_as, kind.slug)
    fresh = free_name(held.folder, name)
    path = held.folder / fresh
    edits = {kind.key: fresh, **dict(kind.fixed), **beside}
    with path.open("xb") as file:
        file.write(content)
    try:
        if kind.is_later:
            _refuse_later(held, kind, edits)
        held.keep(edits, version=version)
    except BaseException:
        path.unlink(missing_ok=True)
        raise
    if replaces and fresh != name:
        return _in_place(held, kind, path, held.folder / name)
    return fresh


def _refuse_later(held: HeldJob, kind: Kind, edits: Mapping[str, Edit]) -> None:
    """Refuse a file of the later years that cannot be read; no reading of the job opens it."""
    try:
        job = job_of_text(edited(held.text, edits), held.folder)
    except ValueError:  # keeping it says so
        return
    table = kind.key.rpartition(".")[0]
    if table == "as_built":
        from tilewater.tasks.built_survey import as_built_files

        faults = tuple(as_built_files(job).faults)
    else:
        from tilewater.tasks.measuring_inputs import faults_of_table

        faults = faults_of_table(job, table)
    if faults:
        raise BadInputFile(*faults)


def _in_place(held: HeldJob, kind: Kind, fresh: Path, old: Path) -> str:
    """Put a file that was read in the place of one that was given up."""
    if old.is_symlink() or not old.is_file():
        return fresh.name
    fresh.replace(old)
    held.reread()
    try:
        held.keep({kind.key: old.name}, version=held.version)
    except BadInputFile:  # another page was quicker: the job names the file as it was sent
        old.replace(fresh)
        return fresh.name
    return old.name


def faults_told(error: BadInputFile, name: str) -> tuple[Fault, ...]:
    """Faults of a file that was sent first, then those that the job has besides."""
    own = tuple(fault for fault in error.faults if fault.file not in ("", JOB_FILE))
    return (*own, *(fault for fault in error.faults if fault not in own))
