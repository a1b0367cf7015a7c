# SPDX-License-Identifier: Apache-2.0
"""Read a job folder: every fault at once, with line, what is allowed and what to do.

`read_job` gives a `Job`: the validated tables, and the inputs, overrules and assumptions that the
chain is started with. Unknown keys are kept and reported, never an error.
"""

import re
import tomllib
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from difflib import get_close_matches
from pathlib import Path
from typing import Any

from pydantic import ValidationError
from pydantic_core import ErrorDetails

from tilewater.basis.errors import BadInputFile, Fault, NewerFile
from tilewater.basis.findings import Finding
from tilewater.basis.trace import Assumption, Given, Overrule
from tilewater.basis.units import Foot, did_you_mean
from tilewater.basis.unknown import Unknown, is_unknown
from tilewater.chain.inputs import JobInputs
from tilewater.criteria.standards import Confirmation
from tilewater.job.fields import Setting
from tilewater.job.givens import Document, givens, judgements
from tilewater.job.lines import key_lines, nearest_line
from tilewater.job.practices import stood_in_for, with_stand_ins
from tilewater.job.schema import FORMAT, JOB_FILE, JobFile, member_at
from tilewater.job.sense import findings_of_sense
from tilewater.job.tables import Member, Table
from tilewater.job.toml_text import MOST_BYTES, tables_of

Migration = Callable[[dict[str, Any]], dict[str, Any]]

_HEADER = re.compile(r"\s*\[([^\[\]]+)\]")
_KEY = re.compile(r"\s*([A-Za-z0-9_.-]+)\s*=")

MIGRATIONS: dict[int, Migration] = {}
"""Steps from one format of the job file to the next, by the format they start from."""


@dataclass(frozen=True)
class Job:
    """A job folder as read.

    Attributes
    ----------
    folder : Path
    name : str
        Name of the folder.
    text : str
        The job file as it was on disk.
    file : JobFile
        Its tables, values in SI.
    givens, overrules, assumptions
        What a `Trace` is started with.
    confirmations : tuple of Confirmation
    notes : tuple of Finding
        Unknown keys, judgements that are not applied, values that make no sense together.
    """

    folder: Path
    name: str
    text: str = field(repr=False)
    file: JobFile = field(repr=False)
    givens: tuple[Given, ...] = field(repr=False)
    overrules: tuple[Overrule, ...]
    assumptions: tuple[Assumption, ...]
    confirmations: tuple[Confirmation, ...]
    notes: tuple[Finding, ...]

    @property
    def inputs(self) -> JobInputs:
        """The job as the chain takes it."""
        return JobInputs(
            self.name, self.givens, self.overrules, self.assumptions, self.confirmations
        )


def read_job(folder: Path | str) -> Job:
    """Read a job folder, given as the folder or as its `job.toml`.

    Parameters
    ----------
    folder : Path or str
        The job folder.

    Returns
    -------
    Job
        The job as read.

    Raises
    ------
    BadInputFile
        With every fault found in the job file, each with its line.
    NewerFile
        If a later version of the program wrote it.
    """
    path = Path(folder)
    if path.name == JOB_FILE and not path.is_dir():
        path = path.parent
    elif path.is_file():
        message = f"it is no job folder. Name the folder that holds {JOB_FILE}: {path.parent}."
        raise BadInputFile(Fault(path.name, None, "", message))
    return job_of_text(read_text(path / JOB_FILE), path)


def read_text(path: Path) -> str:
    """Text of a job file, line ends and all."""
    try:
        if path.stat().st_size > MOST_BYTES:
            message = f"it is larger than {MOST_BYTES:,} bytes, which is no job file."
            raise BadInputFile(Fault(path.name, None, "", message))
        return path.read_bytes().decode("utf-8")
    except (FileNotFoundError, NotADirectoryError):
        message = (
            f"there is no {path.name} in {path.parent}. "
            "Name a job folder, or make one with tilewater start."
        )
        raise BadInputFile(Fault(path.name, None, "", message)) from None
    except OSError as error:
        why = error.strerror or str(error)
        message = f"it cannot be read: {why.lower()}. It must be a file that you may read."
        raise BadInputFile(Fault(path.name, None, "", message)) from None
    except UnicodeDecodeError as error:
        line = error.object.count(b"\n", 0, error.start) + 1
        message = "a letter is not in UTF-8. Save the file as UTF-8."
        raise BadInputFile(Fault(path.name, line, "", message)) from None


def job_of_text(text: str, folder: Path, *, within: Path | None = None) -> Job:
    """The job that a text of a job file in a folder stands for.

    Parameters
    ----------
    text : str
        Text of the job file.
    folder : Path
        The job folder.
    within : Path or None
        Folder that no data file is read outside of; None where the engineer may name any.

    Returns
    -------
    Job

    Raises
    ------
    BadInputFile
        With every fault of the text.
    """
    document = _document(text, folder, within)
    file, faults = _validated(document)
    judged = judgements(document)
    faults += judged.faults
    if file is None or faults:
        raise BadInputFile(*sorted(faults, key=lambda fault: fault.line or 0))
    return Job(
        folder=folder,
        name=folder.resolve().name,
        text=text,
        file=file,
        givens=givens(file, document, left_out=stood_in_for(document.data)),
        overrules=judged.overrules,
        assumptions=judged.assumptions,
        confirmations=_confirmations(file, document),
        notes=(
            *_unknown_keys(file, document),
            *_unsure_foot(file),
            *judged.notes,
            *findings_of_sense(file, document),
        ),
    )


def migrated(
    data: dict[str, Any],
    *,
    to: int = FORMAT,
    steps: Mapping[int, Migration] = MIGRATIONS,
) -> dict[str, Any]:
    """Data of a job file in the present format, brought there step by step."""
    for step in range(data["format"], to):
        data = {**steps[step](data), "format": step + 1}
    return data


def _document(text: str, folder: Path, within: Path | None) -> Document:
    try:
        data = tables_of(text)
    except tomllib.TOMLDecodeError as error:
        raise BadInputFile(_not_toml(str(error), text)) from None
    _check_format(data)
    data = migrated(data)
    site = data.get("site")
    foot = site.get("foot") if isinstance(site, dict) else None
    is_survey = isinstance(foot, str) and foot.strip().casefold() == "us survey foot"
    foot_read: Foot = "us survey foot" if is_survey else "international foot"
    setting = Setting(folder, foot_read, within)
    return Document(data, key_lines(text.removeprefix("\ufeff")), setting)


def _not_toml(error: str, text: str) -> Fault:
    match = re.search(r" \(at (?:line (\d+), column (\d+)|end of document)\)$", error)
    what = error if match is None else error[: match.start()]
    last = len(text.splitlines())
    line = last if match is None or match[1] is None else int(match[1])
    if (twice := _stands_twice(what, text.splitlines()[:line])) is not None:
        return twice
    message = (
        f"it cannot be read as TOML: {what[0].lower()}{what[1:]}. "
        "Look for a missing quote, bracket or equals sign on this line or just above."
    )
    return Fault(JOB_FILE, line, "", message)


def _stands_twice(what: str, lines: list[str]) -> Fault | None:
    """The fault of a key or a table that stands twice, the second time on the last of the lines."""
    if (table := re.fullmatch(r"Cannot declare \((.+?),?\) twice", what)) is not None:
        name = ".".join(part.strip(" '\"") for part in table[1].split(","))
        message = f"[{name}] stands twice. Keep one, with the lines of both below it."
        return Fault(JOB_FILE, len(lines), name, message)
    if what != "Cannot overwrite a value":
        return None
    above = next((m for line in lines[::-1] if (m := _HEADER.match(line))), None)
    keys = [m[1] for line in lines if (m := _KEY.match(line))]
    if not keys:
        return None
    place = f"in [{above[1].strip()}]" if above else "above the first table"
    return Fault(JOB_FILE, len(lines), keys[-1], f"{keys[-1]} stands twice {place}. Keep one.")


def _check_format(data: Mapping[str, Any]) -> None:
    written = data.get("format")
    if isinstance(written, int) and not isinstance(written, bool) and written > FORMAT:
        message = (
            f"it was written in format {written}; this version reads up to format {FORMAT}. "
            "Nothing was changed. Update the program to open it."
        )
        raise NewerFile(Fault(JOB_FILE, None, "format", message))
    if isinstance(written, bool) or not isinstance(written, int) or written < 1:
        message = f"format is missing. Write format = {FORMAT} on the first line."
        if written is not None:
            message = f"format is '{written}'. Write format = {FORMAT} on the first line."
        raise BadInputFile(Fault(JOB_FILE, 1, "format", message))


def _validated(document: Document) -> tuple[JobFile | None, tuple[Fault, ...]]:
    try:
        data = with_stand_ins(document.data)
        return JobFile.model_validate(data, context=document.setting), ()
    except ValidationError as error:
        return None, tuple(_fault(details, document) for details in error.errors())


def _fault(details: ErrorDetails, document: Document) -> Fault:
    path = tuple(str(key) for key in details["loc"] if key != "[key]")
    where, member = ".".join(path), member_at(path)
    raw = document.at(path)
    if details["type"] == "missing" and member is not None:
        return document.fault(path, _missing(where, member, _misspelled(document, path)))
    if details["type"] == "job":
        return document.fault(path, f"{where}: {details['msg']}")
    if isinstance(raw, list):
        return document.fault(
            path,
            f"{where} is written as a list. Give each a table with a name, like [{where}.low-1].",
        )
    return document.fault(
        path, f"{where} is '{raw}', not a table. Write [{where}] on a line of its own."
    )


def _misspelled(document: Document, path: tuple[str, ...]) -> str:
    """` Line 52 has '...'.` for a key beside it that is nearly the missing one, or nothing."""
    beside = document.at(path[:-1])
    known = () if path[:-1] else [member.key for member in JobFile.members()]
    above = member_at(path[:-1]) if path[:-1] else None
    if above is not None and above.table is not None:
        known = [member.key for member in above.model.members()]
    strange = [key for key in beside if key not in known] if isinstance(beside, Mapping) else []
    near = get_close_matches(path[-1], strange, n=1, cutoff=0.6)
    if not near:
        return ""
    return f" Line {nearest_line(document.lines, (*path[:-1], near[0]))} has '{near[0]}'."


def _missing(where: str, member: Member, near: str) -> str:
    if member.ask is not None:
        return (
            f"{where} is missing: {_lower(member.ask.title)}.{near} "
            f'Write {member.key} = {member.ask.sample}, or {member.key} = "unknown".'
        )
    keys = ", ".join(m.key for m in member.model.members() if m.is_required())
    return (
        f"the table [{where}] is missing: {_lower(member.model.about()).rstrip('.')}.{near} "
        f'Write [{where}] with {keys}; what is not known may be "unknown".'
    )


def _lower(words: str) -> str:
    return words if words[1:2].isupper() else words[0].lower() + words[1:]


def _confirmations(file: JobFile, document: Document) -> tuple[Confirmation, ...]:
    """Confirmations with every part known; an open one confirms nothing."""
    found = []
    for name, entry in file.confirm.items():
        words = (entry.row, entry.by, entry.date, entry.edition)
        if any(is_unknown(word) for word in words) or isinstance(entry.limit, Unknown):
            continue
        row, by, date, edition = map(str, words)
        origin = document.origin(("confirm", name, "row"))
        found.append(Confirmation(row, by, date, edition, entry.limit, origin))
    return tuple(found)


def _unknown_keys(
    table: Table, document: Document, above: tuple[str, ...] = ()
) -> tuple[Finding, ...]:
    members = list(type(table).members())
    found = [
        _unknown_key((*above, key), [m.key for m in members], document)
        for key in table.model_extra or {}
    ]
    for member in members:
        inside = getattr(table, member.attribute)
        if member.is_named:
            for name, named in inside.items():
                found += _unknown_keys(named, document, (*above, member.key, name))
        elif member.table is not None:
            found += _unknown_keys(inside, document, (*above, member.key))
    return tuple(found)


def _unknown_key(path: tuple[str, ...], known: list[str], document: Document) -> Finding:
    where, key = ".".join(path[:-1]), path[-1]
    place = f"[{where}] has no '{key}'" if where else f"there is no table or key '{key}'"
    at = document.fault(path, f"{place}. It is kept and not used.{did_you_mean(key, known)}")
    return Finding("unknown-key", "note", at.where, str(at))


def _unsure_foot(file: JobFile) -> tuple[Finding, ...]:
    if not is_unknown(file.site.foot):
        return ()
    message = (
        "The foot of the grid is not known; elevations are read as international feet. "
        "In US survey feet each would be 2 parts in a million higher, 0.002 ft at 1,000 ft."
    )
    return (Finding("foot-unknown", "caution", "site.foot", message),)
