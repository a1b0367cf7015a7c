# SPDX-License-Identifier: Apache-2.0
"""The day on which works that stand are looked at: the one asked for, else today.

Where a job's own dated readings lie after today, the latest of them is taken in its place: a look
from before its readings would know nothing of them.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from fnmatch import fnmatchcase

from tilewater.basis.errors import BadInputFile, Fault
from tilewater.tasks.checking import Checked

BUILT = ("hold.*.at", "sieve_test.*.day", "chips_placed.*.day", "as_built.taken_on")
"""Where the days of looks at works being built stand in a job."""
READ = ("observed.*.date", "tracer.*.date", "monitor.to")
"""Where the days of readings of a bed that runs stand in a job."""


@dataclass(frozen=True)
class LookDay:
    """The day of a look.

    Attributes
    ----------
    day : date
    why : str
        How it was come by, as a sentence.
    is_ahead : bool
        Whether the job's own readings were followed past today.
    """

    day: date
    why: str
    is_ahead: bool = False


def look_day(typed: str, today: date, readings: Iterable[date], sample: str) -> LookDay:
    """The day of a look and how it was come by.

    Parameters
    ----------
    typed : str
        What was asked for; "" for nothing.
    today : date
    readings : iterable of date
        Days of the job's own readings.
    sample : str
        A day, to show how one is written.

    Returns
    -------
    LookDay

    Raises
    ------
    BadInputFile
        If what was asked for is no day.
    """
    if typed:
        try:
            return LookDay(date.fromisoformat(typed), "The day that was asked for.")
        except ValueError:
            message = f"'{typed}' is no day. Write year-month-day, like {sample}."
            raise BadInputFile(Fault("look", None, "on", message)) from None
    latest = max(readings, default=today)
    if latest > today:
        why = (
            f"No day was asked for. The job's latest reading, of {latest}, lies after today, "
            f"{today}: {latest} is the day of the look."
        )
        return LookDay(latest, why, is_ahead=True)
    return LookDay(today, "No day was asked for: today.")


def days_in(job: Checked, places: tuple[str, ...]) -> list[date]:
    """Days that a job states at some places, like `hold.*.at`."""
    return [
        date.fromisoformat(given.value[:10])
        for given in job.inputs.givens
        if isinstance(given.value, str)
        and any(fnmatchcase(given.key, f"inputs.{place}") for place in places)
    ]
