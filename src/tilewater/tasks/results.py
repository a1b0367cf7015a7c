# SPDX-License-Identifier: Apache-2.0
"""Write the last result of a job, keep the one before it, and read results to compare."""

import json
import os
from pathlib import Path

from tilewater.basis.errors import BadInputFile, Fault
from tilewater.chain.changes import Comparison, compare_results
from tilewater.chain.plain import Record
from tilewater.tasks.designing import Outcome

FOLDER = "results"
LAST = "last.json"
PREVIOUS = "previous.json"


def record_text(record: Record) -> str:
    """A result record as JSON text; what is not known is null."""
    return json.dumps(record, indent=1, ensure_ascii=False, allow_nan=False) + "\n"


def write_results(outcome: Outcome, out: Path | str | None = None) -> Path:
    """Write the record of a design and keep the one before it.

    Parameters
    ----------
    outcome : Outcome
        The design.
    out : Path, str or None
        Folder to write into; None for `results` in the job folder.

    Returns
    -------
    Path
        The file written. It is whole or absent, never half; a record that differs from the last
        one moves that one to `previous.json`.

    Raises
    ------
    BadInputFile
        If a folder that was named cannot be written to.
    OSError
        If the folder of the job cannot be; the design is none the worse for it.
    """
    if out is None:
        return _write_into(outcome.job.folder / FOLDER, outcome)
    folder = Path(out)
    try:
        return _write_into(folder, outcome)
    except (FileExistsError, NotADirectoryError):
        message = (
            "it is a file or lies below one. Results are written into a folder. "
            "Name a folder with --out; it is made when it is not there."
        )
        raise BadInputFile(Fault(str(folder), None, "", message)) from None
    except OSError as error:
        message = (
            f"results cannot be written there: {(error.strerror or str(error)).lower()}. "
            "Name a folder with --out in which you may write."
        )
        raise BadInputFile(Fault(str(folder), None, "", message)) from None


def _write_into(folder: Path, outcome: Outcome) -> Path:
    folder.mkdir(parents=True, exist_ok=True)
    last, text = folder / LAST, record_text(outcome.record)
    if last.exists():
        before = last.read_text(encoding="utf-8")
        if before == text:
            return last
        write_whole(folder / PREVIOUS, before)
    write_whole(last, text)
    return last


def write_whole(path: Path, text: str) -> None:
    """Write a file that is whole or absent, never half."""
    half = path.with_name(f"{path.name}.half")
    half.write_text(text, encoding="utf-8")
    os.replace(half, path)  # noqa: PTH105 - said as what it is: atomic on every system


def read_record(path: Path | str) -> Record:
    """Read a result record that `design --json` or `write_results` wrote.

    Raises
    ------
    BadInputFile
        If it cannot be read or is no result record.
    """
    path = Path(path)
    try:
        record = json.loads(path.read_text(encoding="utf-8"))
    except OSError:
        raise _not_a_result(path, "it cannot be read") from None
    except ValueError:
        raise _not_a_result(path, "it is not JSON") from None
    if not isinstance(record, dict) or "verdict" not in record:
        raise _not_a_result(path, "it is no result of a design")
    return record


def _not_a_result(path: Path, what: str) -> BadInputFile:
    message = f"{what}. Name a file written by tilewater design --json, such as results/last.json."
    return BadInputFile(Fault(path.name, None, "", message))


def compare(before: Path | str, outcome: Outcome) -> Comparison:
    """Compare an earlier result with a design.

    Parameters
    ----------
    before : Path or str
        File of the earlier result.
    outcome : Outcome
        The design.
    """
    return compare_results(read_record(before), outcome.record)
