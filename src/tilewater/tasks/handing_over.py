# SPDX-License-Identifier: Apache-2.0
"""Hand a job over to its next owner or engineer: one archive in open forms, with a letter.

Everything of the job folder goes in as it lies there. Beside it come every input as a plain table,
the meaning of each key, and a page that tells how to read all of it without this program.
"""

import csv
import io
from collections.abc import Iterator, Mapping
from datetime import date
from importlib.metadata import version
from pathlib import Path

import numpy as np

from tilewater.basis.errors import BadInputFile
from tilewater.basis.trace import Given
from tilewater.basis.unknown import Unknown
from tilewater.chain.locate import STATED
from tilewater.documents.handing.letter import Handed, letter_pdf
from tilewater.job.checksums import CHECKSUMS
from tilewater.job.pages import job_schema_text
from tilewater.tasks.archive import archive_of
from tilewater.tasks.checking import Checked, check_job
from tilewater.tasks.data_package import data_package
from tilewater.tasks.packed_files import FolderFiles, files_of_folder
from tilewater.tasks.results import FOLDER
from tilewater.tasks.ticket import ticket_of

ARCHIVE = "hand-over.zip"
JOB = "job"
"""Folder of the archive that holds the job folder."""
PEOPLE = (
    ("Owner of the land", "inputs.people.owner"),
    ("Who farms it", "inputs.people.tenant"),
    ("Prepared by", "inputs.job.prepared_by"),
    ("County", "inputs.job.county"),
)
DUTIES = (
    "Set the boards by the schedule in the operation and maintenance plan, and write each change "
    "into the log of the boards with its date.",
    "After every large storm and twice a year: look at the outlet, the bank, the lids, the cover "
    "and the ground around; clear what blocks the water.",
    "When the water smells of rotten eggs, or passes by on ordinary days, look for the cause "
    "before the boards are moved.",
    "Keep to what the contracts with those who paid ask of the owner; they run with the land only "
    "if they say so.",
    "Before chips are replaced or boards are changed for good, ask an engineer.",
)
CONTENTS = {
    "job/job.toml": "what was measured and decided, with its units and comments",
    "job/results": "computed from it; can be made again by the program",
    "job/issued": "frozen copies of what was signed",
    "job/survey": "survey",
    "job/loggers": "files of loggers and laboratory, as received",
    "data-package.zip": "what was measured since it runs, as plain tables",
    "reading/inputs.csv": "every input: key, title, value, unit, line of the job file",
    "reading/job.schema.json": "what each key of job.toml means",
    "reading/README.txt": "how to read all of this without the program",
    "letter.pdf": "this letter",
    CHECKSUMS: "SHA-256 of every file",
}


def hand_over(folder: Path | str, *, day: date | None = None) -> bytes:
    """The archive of a job for who takes it over.

    Parameters
    ----------
    folder : Path or str
        The job folder, or its `job.toml`.
    day : date or None
        Date of the letter; None leaves a blank for it.

    Returns
    -------
    bytes
        A zip file; the same folder and day give the same bytes.

    Raises
    ------
    BadInputFile
        With every fault of the job, or where the folder is too large.
    """
    job = check_job(folder)
    own = files_of_folder(job.folder)
    files = {f"{JOB}/{n}": c for n, c in own.files.items() if n != f"{FOLDER}/{ARCHIVE}"}
    files["reading/inputs.csv"] = _inputs_table(job).encode("utf-8")
    files["reading/job.schema.json"] = job_schema_text().encode("utf-8")
    left_out = [*own.left_out, *_outside(job, own)]
    try:
        if job.trace.names("inputs.logger") or job.value("inputs.lab.file") is not None:
            files["data-package.zip"] = data_package(job)
    except BadInputFile as error:
        left_out.append(f"The package of data: {error.faults[0]}")
    files["reading/README.txt"] = _readme(job, left_out).encode("utf-8")
    files["letter.pdf"] = letter_pdf(_handed(job, files, tuple(left_out), day))
    return archive_of(files)


def _outside(job: Checked, own: FolderFiles) -> Iterator[str]:
    """Files that the job names and that are not in its folder."""
    for source in job.sources:
        name = Path(source.name).as_posix()
        if name not in own.files:
            yield f"{name}: the job names it, but it lies outside its folder or is a link."


def _handed(
    job: Checked, files: Mapping[str, bytes], left_out: tuple[str, ...], day: date | None
) -> Handed:
    known = [(word, job.value(key)) for word, key in PEOPLE]
    is_there = {name for name in CONTENTS if _has(files, name)} | {"letter.pdf", CHECKSUMS}
    ticket = ticket_of(job, job.trace)
    return Handed(
        job.title,
        tuple((word, str(value)) for word, value in known if isinstance(value, str)),
        "" if day is None else day.isoformat(),
        tuple((name, what) for name, what in CONTENTS.items() if name in is_there),
        tuple(
            (copy.name, "as it was issued" if copy.is_sound else "; ".join(copy.faults))
            for copy in job.issued
        ),
        tuple(
            (given.title, given.value.measure or "ask who knows the place")
            for given in job.unknown
            if isinstance(given.value, Unknown) and not (given.key == STATED and ticket.is_given)
        ),
        DUTIES,
        left_out,
        ticket.words,
    )


def _has(files: Mapping[str, bytes], name: str) -> bool:
    return name in files or any(file.startswith(f"{name}/") for file in files)


def _inputs_table(job: Checked) -> str:
    held = io.StringIO()
    writer = csv.writer(held, lineterminator="\n")
    writer.writerow(("key", "title", "value", "unit", "as typed", "file", "line", "source"))
    for given in job.inputs.givens:
        origin = given.origin
        row = (
            given.key,
            given.title,
            _shown(given),
            given.unit,
            origin.text,
            origin.file,
            "" if origin.line is None else origin.line,
            origin.source,
        )
        writer.writerow([_harmless(cell) for cell in row])
    return held.getvalue()


def _shown(given: Given) -> str:
    if isinstance(given.value, Unknown):
        return "unknown"
    if isinstance(given.value, np.ndarray):
        return f"{given.value.size} values, see {given.origin.file}"
    return str(given.value)


def _harmless(cell: object) -> object:
    """A text that no spreadsheet takes for a formula; a number stays one."""
    if not isinstance(cell, str) or cell[:1] not in ("=", "+", "-", "@", "\t"):
        return cell
    try:
        float(cell)
    except ValueError:
        return f"'{cell}"
    return cell


def _readme(job: Checked, left_out: list[str]) -> str:
    lines = [
        f"{job.title}: how to read these files",
        "",
        f"Written by Tilewater {version('tilewater')} (Apache-2.0). Nothing here needs it.",
        "",
        "job/job.toml",
        "  Text in UTF-8, TOML 1.0: [tables], key = value, # comments. Each quantity is a text",
        "  with its unit. 'ft' in a coordinate or elevation is the foot that [site] foot names.",
        "  reading/job.schema.json tells what each key means; reading/inputs.csv has every value",
        "  in SI: m, m2, m3, m3/s, m/s, s, degC, kg, mg/L as N, USD; no program is needed for it.",
        "job/*.csv and files that job.toml names",
        "  Tables with commas or as the instrument wrote them; job.toml tells what they are.",
        "job/results",
        "  Results: .json is text, SI, the unit in each name; .csv are tables; .pdf is paper;",
        "  .svg and .dxf are drawings in open forms. All can be thrown away and computed again.",
        "job/issued",
        "  Each copy holds its inputs, results and papers with checksums of its own.",
        "data-package.zip",
        "  What was measured while the practice ran, with a README of its own.",
        "checksums.txt",
        "  SHA-256 of each file: sha256sum -c checksums.txt, or any program for SHA-256.",
        "",
        "Where a number comes from: results name the key of each number; its equation, source and",
        "inputs stand in the report of the issued copy. Sources are named in full there.",
        "",
    ]
    if left_out:
        lines += ["Not in here", "", *(f"  {why}" for why in left_out), ""]
    return "\n".join(lines)
