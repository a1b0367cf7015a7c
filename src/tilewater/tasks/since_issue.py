# SPDX-License-Identifier: Apache-2.0
"""What changed since the last issued copy of a job, read from the copy itself."""

from tilewater.chain.plain import Record
from tilewater.chain.since_issued import SinceIssued, compare_with_issued
from tilewater.job.checksums import CHECKSUMS
from tilewater.job.input_files import changes_since
from tilewater.job.issued import INPUTS, RESULTS, SLIP, IssuedCopy
from tilewater.tasks.checking import Checked
from tilewater.tasks.records import RECORD, read_record


def last_issued(copies: tuple[IssuedCopy, ...]) -> IssuedCopy | None:
    """The last copy whose inputs, record and words are as they were issued.

    Parameters
    ----------
    copies : tuple of IssuedCopy
        As found, the oldest first.

    Returns
    -------
    IssuedCopy or None
        None where there is none that changes could be counted from.
    """
    return next((copy for copy in reversed(copies) if _can_be_counted_from(copy)), None)


def since_issued(job: Checked, record: Record) -> SinceIssued | None:
    """What changed since the last issued copy.

    Parameters
    ----------
    job : Checked
        The job as read.
    record : dict
        Its result.

    Returns
    -------
    SinceIssued or None
        None where no copy was issued that changes could be counted from.
    """
    copy = last_issued(job.issued)
    if copy is None:
        return None
    try:
        inputs, decisions = changes_since(copy, job.sources)
        before = read_record(copy.folder / RESULTS / RECORD)
    except (OSError, ValueError):  # taken away or edited since it was read
        return None
    return SinceIssued(
        copy=copy.name,
        status=copy.status,
        by=copy.by,
        date=copy.date,
        inputs=inputs,
        decisions=decisions,
        results=compare_with_issued(before, record),
    )


def issued_record(copies: tuple[IssuedCopy, ...]) -> list[Record]:
    """The issued copies of a job as JSON has them, the oldest first."""
    return [
        {
            "name": copy.name,
            "date": copy.date,
            "status": copy.status,
            "by": copy.by,
            "verdict": copy.verdict,
            "is_as_issued": copy.is_sound,
            "faults": list(copy.faults),
        }
        for copy in copies
    ]


def _can_be_counted_from(copy: IssuedCopy) -> bool:
    needed = (f"{INPUTS}/", f"{RESULTS}/{RECORD}", SLIP, CHECKSUMS)
    return not any(name.startswith(needed) for name in copy.altered)
