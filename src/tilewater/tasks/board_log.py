# SPDX-License-Identifier: Apache-2.0
"""The log of the boards of a job folder: read for what is reported, added to at the structure."""

from collections.abc import Mapping
from datetime import UTC, date, datetime
from pathlib import Path
from typing import Any

from tilewater.basis.errors import BadInputFile, Fault
from tilewater.basis.trace import Given
from tilewater.basis.units import parse_quantity
from tilewater.basis.unknown import is_unknown
from tilewater.documents.scales import foot_of
from tilewater.job.board_log import (
    SETS,
    BoardChange,
    Boards,
    BoardSet,
    OutOfReach,
    append_change,
    change_row,
    height_of_stack,
    height_of_tape,
    read_board_changes,
)
from tilewater.job.file_names import lies_in
from tilewater.job.reading import Job, read_job
from tilewater.job.times import Zone, zone_of
from tilewater.job.writing import save_job
from tilewater.tasks.built_levels import as_it_stands
from tilewater.tasks.checking import Checked, checked
from tilewater.tasks.outside_files import read_outside_files
from tilewater.tasks.outside_inputs import OutsideFiles

FILE = "inputs.board_log.file"
SHOTS = "inputs.as_built.shots"
LOG = "boards-log.csv"
"""Name of the log of a job that has none yet."""


def board_changes(job: Checked | Job) -> tuple[BoardChange, ...]:
    """Changes of the boards that the log of a job holds.

    Parameters
    ----------
    job : Checked or Job
        A job as read.

    Returns
    -------
    tuple of BoardChange
        In the order of time; empty where the job names no log.

    Raises
    ------
    BadInputFile
        With every fault of the file, or what the job must know of its boards to read it.
    """
    if FILE not in _values(job):
        return ()
    job = _standing(job)
    values = _values(job)
    foot = foot_of(values.get("inputs.site.foot"))
    return read_board_changes(
        job.folder / str(values[FILE]), boards_of_job(job), zone_of_job(job), foot=foot
    )


def boards_of_job(job: Checked | Job) -> Boards:
    """Sets of boards of a job, and the heights that they are stacked from.

    Sills and rims are those that stand, by the shots of finished work where there are some.

    Raises
    ------
    BadInputFile
        If the sills and rims of the structures or the heights of the boards are not known.
    """
    values = _values(_standing(job))
    sets = {}
    for name, structure in (("inlet", "inlet"), ("outlet", "outlet"), ("head", "inlet")):
        here = f"inputs.structure.{structure}"
        needed = [f"{here}.sill_m", f"{here}.rim_m"]
        has_head = "inputs.buffer.head_boards_m" in values
        if any(key not in values for key in needed) or (name == "head" and not has_head):
            continue
        sill, rim = (float(values[key]) for key in needed)
        is_notched = values.get(f"{here}.crest_kind") == "v notch"
        depth = float(values.get(f"{here}.notch_depth_m", 0.0)) if is_notched else 0.0
        sets[name] = BoardSet(sill, rim, rim - sill, 0.0 if name == "head" else depth)
    heights = values.get("inputs.boards.heights_m", ())
    if not sets or not heights:
        message = (
            "the log of the boards needs sill and rim of the structures and boards.heights. "
            "Give them in job.toml."
        )
        raise BadInputFile(Fault("job.toml", None, "board_log", message))
    return Boards(sets, tuple(heights), float(values.get("inputs.boards.seal_gap_m", 0.0)))


def zone_of_job(job: Checked | Job) -> Zone | None:
    """Time zone of the site; None where the job does not say it."""
    zone = _values(job).get("inputs.monitor.time_zone")
    return None if zone is None else zone_of(str(zone))


def days_of_log(job: Checked | Job) -> list[date]:
    """Days on which boards were changed by the log of a job, by the clocks of the site."""
    zone = zone_of_job(job)
    times = (change.time_s for change in board_changes(job))
    local = (
        datetime.fromtimestamp(time, UTC) if zone is None else zone.local_of(time) for time in times
    )
    return [moment.date() for moment in local]


def board_log_file(job: Job) -> OutsideFiles:
    """What the log says, for a job that is checked."""
    found = OutsideFiles()
    name = _values(job).get(FILE)
    if name is None:
        return found
    try:
        changes = board_changes(job)
    except BadInputFile as error:
        found.faults.extend(error.faults)
        return found
    found.read.append(f"{name}: {len(changes)} changes of the boards")
    return found


def record_change(
    folder: Path | str,
    board_set: str,
    *,
    when: datetime,
    stack: str = "",
    rim_down: str = "",
    who: str = "",
    note: str = "",
) -> BoardChange:
    """Write a change of the boards into the log of a job, which is begun where it has none.

    Parameters
    ----------
    folder : Path or str
        The job folder.
    board_set : str
        "inlet", "outlet" or "head".
    when : datetime
        By the clocks of the site.
    stack, rim_down : str
        Height above the sill, or what the tape says from the rim down; one of them.
    who, note : str
        As they are to be kept.

    Returns
    -------
    BoardChange
        As it was written.

    Raises
    ------
    BadInputFile
        If the stack cannot be made of the boards of the job, or another stack of the set has this
        time already.
    """
    job = read_job(folder)
    stands = _standing(job)
    boards = boards_of_job(stands)
    name = SETS.get(board_set, "")
    if name not in boards.sets or bool(stack) == bool(rim_down):
        raise _refused("Choose a set of boards, and one of stack and inches down from the rim.")
    try:
        if stack:
            length = sum(parse_quantity(_with_unit(p), "size") for p in stack.split("+"))
            height = height_of_stack(length, boards.sets[name], boards)
        else:
            length = parse_quantity(_with_unit(rim_down), "size")
            height = height_of_tape(length, boards.sets[name], boards)
    except (OutOfReach, ValueError) as error:
        raise _refused(str(error)) from None
    for change in board_changes(stands):
        local = (zone_of_job(job) or zone_of("UTC")).local_of(change.time_s)
        if change.set == name and local == when.replace(second=0, microsecond=0):
            raise _refused(
                f"the {name} boards have a stack at {when:%Y-%m-%d %H:%M} already, line "
                f"{change.line} of the log. Give another time."
            )
    values = _values(job)
    file = str(values.get(FILE, LOG))
    if not lies_in(job.folder / file, job.folder):
        raise _refused(
            f"the log '{file}' lies outside the job folder and is not written. Put it into the "
            "job folder, and name it there."
        )
    append_change(job.folder / file, change_row(when, name, height, who, note))
    if FILE not in values:
        save_job(job, {"board_log.file": file})
    written = board_changes(read_job(folder))
    return max(written, key=lambda change: change.line)


def _with_unit(text: str) -> str:
    """A typed length; a plain number is inches, as boards are spoken of."""
    bare = text.strip().replace(".", "", 1).isdecimal()
    return f"{text.strip()} in" if bare else text.strip()


def _refused(message: str) -> BadInputFile:
    return BadInputFile(Fault(LOG, None, "", message))


def _standing(job: Checked | Job) -> Checked | Job:
    """A job with its structures as they stand; as it is where no finished work was shot."""
    if SHOTS not in _values(job):
        return job
    read = job if isinstance(job, Checked) else checked(job, read_outside_files(job))
    return as_it_stands(read)


def _values(job: Checked | Job) -> Mapping[str, Any]:
    givens: tuple[Given, ...] = job.inputs.givens if isinstance(job, Checked) else tuple(job.givens)
    return {given.key: given.value for given in givens if not is_unknown(given.value)}
